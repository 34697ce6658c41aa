"""One message, or one sentence of it, with the questions that the topics ask of its chunks."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache, wraps
from itertools import pairwise
from typing import TypeVar, cast

from bot.language.chunks import Chunk, Kind, Line
from bot.language.described import described
from bot.language.lexicon import Lexicon
from bot.language.misheard import with_misheard_foods
from bot.language.moments import together
from bot.language.names import Vocabulary, vocabulary
from bot.language.pack import Wording, pack, plain
from bot.language.scanner import scan
from bot.language.short_words import with_full_words
from bot.language.shorthand import with_shorthand
from bot.language.spoken import (
    with_heard_numbers,
    with_percentages,
    with_short_and,
    with_spoken_leanness,
    with_spoken_signs,
    with_words_drawn_out,
)
from bot.language.surroundings import Surroundings
from bot.language.text import Token, normalise, singular, tokenise
from bot.language.things import with_things
from bot.language.told import Amount, BatchRef, When

Answer = TypeVar("Answer")
MOST_DESCRIBED = 4
"""Descriptions of a message that are put in front of their foods."""
SENTENCE_END = frozenset(".!?;")
POLITE = frozenset(
    {"!", ",", ".", "?", "actually", "again", "ah", "bot", "can", "could", "entry", "hey", "hmm", "i"}
    | {"just", "like", "message", "no", "now", "oh", "ok", "oops", "please", "pls", "sorry", "thanks", "to"}
    | {"ups", "wait", "whoops", "would", "you"}
)
"""Words around a command that change nothing about it."""


@lru_cache(maxsize=1024)
def _of_several_words(phrases: tuple[str, ...]) -> list[tuple[str, str]]:
    """Those of the phrases that are no single word: the first word, and all of it between spaces."""
    return [(phrase.split(" ", 1)[0], f" {phrase} ") for phrase in phrases if " " in phrase]


def once(find: Callable[[Message], Answer]) -> Callable[[Message], Answer]:
    """The function, called once for the same chunks of a message however many readers ask."""

    @wraps(find)
    def asked(message: Message) -> Answer:
        answers = message.answers
        if find not in answers:
            answers[find] = find(message)
        return cast(Answer, answers[find])

    return asked


@dataclass(frozen=True)
class Message:
    """Chunks with their surroundings. Words are compared lower case; `lemmas` are their singulars."""

    whole: str
    """The normalised text of the whole message that this is, or is a part of."""
    chunks: tuple[Chunk, ...]
    line: Line
    """All tokens of the whole message, with the leaf parsers."""
    offset: int = 0
    """Which chunk of the whole message the first one is."""

    @property
    def around(self) -> Surroundings:
        """What the person has."""
        return self.line.around

    @property
    def vocabulary(self) -> Vocabulary:
        """The food names that the person can mean."""
        return self.line.vocabulary

    @property
    def tokens(self) -> Sequence[Token]:
        """The tokens of the whole message."""
        return self.line.tokens

    @cached_property
    def answers(self) -> dict[object, object]:
        """What is known of its chunks, by the function that found it out (`once`)."""
        # The message is kept beside them because the chunks' identities are the key.
        return self.line.answers.setdefault(tuple(map(id, self.chunks)), (self, {}))[1]

    @property
    def contiguous(self) -> bool:
        """Whether nothing between its first and its last token was taken out."""
        return all(a.end == b.start for a, b in pairwise(self.chunks))

    @cached_property
    def text(self) -> str:
        """What was typed from the first chunk to the last."""
        if not self.chunks:
            return ""
        return self.whole[self.tokens[self.chunks[0].start].start : self.tokens[self.chunks[-1].end - 1].end]

    @property
    def words(self) -> Lexicon:
        """The word lists."""
        return self.line.words

    @cached_property
    def said(self) -> list[str]:
        """All words and signs, lower case, in order; what is only polite left out."""
        return [t.text for c in self.chunks if c.field != "polite" for t in self.tokens[c.start : c.end]]

    @cached_property
    def wording(self) -> Wording:
        """The words said, normalised as concepts expect them."""
        said, whole = Wording(map(plain, self.said)), self.line.plain
        return whole if said == whole else said

    @cached_property
    def bare(self) -> list[str]:
        """The words said without politeness."""
        return [w for w in self.said if w not in POLITE]

    @property
    def plain(self) -> str:
        """The bare words as one line, for comparing with whole phrases."""
        return " ".join(self.bare)

    def has(self, *words: str) -> bool:
        """Whether any of the words (or phrases of several words) was said."""
        said = self._said_once
        if not said.isdisjoint(words):
            return True
        return any(first in said and phrase in self._line for first, phrase in _of_several_words(words))

    def has_any(self, words: Iterable[str]) -> bool:
        """Whether any of the words was said, in its singular or as typed."""
        return not self._wordset.isdisjoint(words)

    @cached_property
    def _line(self) -> str:
        return f" {' '.join(self.said)} "

    @cached_property
    def _said_once(self) -> frozenset[str]:
        return frozenset(self.said)

    @cached_property
    def _wordset(self) -> set[str]:
        return set(self.said) | {singular(w) for w in self.said}

    @cached_property
    def _kinds(self) -> frozenset[Kind]:
        return frozenset([c.kind for c in self.chunks])

    def of(self, *kinds: Kind) -> list[Chunk]:
        """The chunks of these kinds, in order."""
        return [] if self._kinds.isdisjoint(kinds) else [c for c in self.chunks if c.kind in kinds]

    def index(self, chunk: Chunk) -> int:
        """Which of the chunks this one is."""
        return self.chunks.index(chunk)

    def stands_alone(self, chunk: Chunk) -> bool:
        """Whether a chunk has white space on both sides."""
        return self.tokens[chunk.start].spaced and chunk.end < len(self.tokens) and self.tokens[chunk.end].spaced

    def word_before(self, chunk: Chunk) -> str:
        """The token before a chunk; empty at the beginning."""
        return self.tokens[chunk.start - 1].text if chunk.start else ""

    @property
    def amounts(self) -> list[Amount]:
        """All amounts told."""
        return [c.amount for c in self.of("amount") if c.amount is not None]

    @property
    def weights(self) -> list[Amount]:
        """Masses and bare numbers."""
        return [a for a in self.amounts if a.kind in ("mass", "bare")]

    @property
    def batch(self) -> BatchRef | None:
        """The first batch that is named for certain."""
        refs = [c for c in self.of("batch") if c.batch is not None and c.batch.sure and c.field != "bare"]
        bare = [c for c in self.of("batch") if c.field == "bare"]
        found = refs or bare
        return found[0].batch if found else None

    @cached_property
    def when(self) -> When:
        """The time that its expressions of time say together."""
        moments = [c.moment for c in self.of("moment") if c.moment is not None]
        return together(moments, self.around)

    @cached_property
    def asks(self) -> bool:
        """Whether it is a question."""
        said = [w for w in self.said if w not in pack()["before_question"]]
        if not said or self.orders:
            return False
        if not self.of("amount") and pack()["asks_behind"].found(self.wording):
            return True
        statements = ("begins_statement", "should_have_told")
        if "?" not in said and any(pack()[name].end([plain(word) for word in said], 0) for name in statements):
            return False
        if said[0] == "what" and said[1:2] in (["i"], ["we"]) and "?" not in said:
            return False
        if said[0] == "which" and said[1:2] in (["was"], ["were"], ["is"]) and "?" not in said:
            return False
        if self.chunks and self.chunks[0].kind in ("amount", "food") and "?" not in said:
            return False  # 'can of beans'
        exclaims = said[0] in ("what", "how") and said[1:2] in (["a"], ["an"])
        return "?" in said or (said[0] in self.words.asking and not exclaims)

    @cached_property
    def orders(self) -> bool:
        """'can you log …', 'would you kindly split …': a request, whatever its form."""
        said = [
            w
            for w in self.said
            if w not in ("please", "pls", "also", "just", "kindly", ",", "hey", "hi", "ok", "bot", "and")
        ]
        words = pack()
        if said[:1] and said[0] in ("can", "could", "would", "will") and "".join(said[1:2]) in words["who_is_asked"]:
            return "".join(said[2:3]) not in words["asked_to_say"]
        return (
            said[:1] in (["can"], ["could"], ["may"])
            and said[1:2] == ["i"]
            and said[2:3] in (["log"], ["add"], ["record"], ["note"], ["report"])
        )

    def part(self, start: int, end: int) -> Message:
        """The message cut down to chunks start…end."""
        if start == 0 and end >= len(self.chunks):
            return self
        return Message(self.whole, self.chunks[start:end], self.line, self.offset + start)

    def without(self, dropped: Iterable[Chunk]) -> Message:
        """The message without some chunks."""
        gone = {id(c) for c in dropped}
        if not gone:
            return self
        kept = tuple(c for c in self.chunks if id(c) not in gone)
        return Message(self.whole, kept, self.line, self.offset)

    def between(self, start: int, end: int) -> Message | None:
        """The part that is exactly tokens start…end; None where a chunk reaches across either."""
        inside = [i for i, c in enumerate(self.chunks) if start <= c.start and c.end <= end]
        if not inside or self.chunks[inside[0]].start != start or self.chunks[inside[-1]].end != end:
            return None
        return self.part(inside[0], inside[-1] + 1)

    def phrase(self, chunks: Sequence[Chunk]) -> str:
        """What was typed from the first to the last of the chunks, in lower case."""
        if not chunks:
            return ""
        parts = [(" " if t.spaced else "") + t.text for t in self.tokens[chunks[0].start : chunks[-1].end]]
        return "".join(parts).strip()

    def sentences(self) -> list[Message]:
        """The message cut at line ends and full stops."""
        cuts: list[Message] = []
        start = 0
        for i, chunk in enumerate(self.chunks):
            if chunk.kind == "newline" or (
                chunk.kind == "sign" and chunk.text in SENTENCE_END and self._ends_here(chunk)
            ):
                end = i + 1 if chunk.text == "?" else i
                if end > start:
                    cuts.append(self.part(start, end))
                start = i + 1
        if start < len(self.chunks):
            cuts.append(self.part(start, len(self.chunks)))
        return cuts

    def _ends_here(self, chunk: Chunk) -> bool:
        return chunk.end >= len(self.tokens) or self.tokens[chunk.end].spaced or self.tokens[chunk.end].kind != "word"


def read(text: str, around: Surroundings) -> Message:
    """The text as a message: normalised, each description in front of its food, cut into tokens, chunks found."""
    line = _line(text, around)
    for _ in range(MOST_DESCRIBED):
        better = described(line)
        if better is None:
            break
        line = _line(better, around)
    return Message(line.whole, tuple(scan(line)), line)


def _line(text: str, around: Surroundings) -> Line:
    """The tokens of a text, each word in full."""
    typed = normalise(text)
    written = with_shorthand(with_words_drawn_out(tokenise(typed)), around)
    spoken = with_percentages(with_spoken_signs(written))
    tokens = with_heard_numbers(with_short_and(with_spoken_leanness(spoken)))
    line = Line(tokens, around, vocabulary(around.labels, around.words, around.region), typed)
    for rewritten in (with_full_words, with_misheard_foods, with_things):
        renamed = rewritten(line)
        if renamed is not line.tokens:
            line = Line(renamed, around, line.vocabulary, typed)
    return line
