"""What a message is made of: chunks, each a stretch of tokens with one meaning, and the line they are read off."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cached_property
from typing import Any, Literal, NamedTuple, TypedDict, TypeVar, Unpack

from bot.language.amounts import AmountReader
from bot.language.lexicon import Lexicon, first_names, lexicon, with_names
from bot.language.moments import Moment, MomentReader
from bot.language.name_tables import lemmas_of
from bot.language.names import Vocabulary
from bot.language.pack import Wording, opening, pack, plain
from bot.language.surroundings import Surroundings
from bot.language.text import Token, singular
from bot.language.told import Amount, BatchRef, TareRef
from bot.language.word_lists import word_lists
from domain.foods import State

Read = TypeVar("Read")
WORDS = word_lists("telling")
ENDS = frozenset(",.!?;\n")
TELLING_SIGNS = "#%/+="
Kind = Literal[
    "amount", "food", "batch", "hash", "state", "whole", "part", "moment", "tare", "size",
    "noise", "price", "energy", "macro", "sign", "newline", "word",
]  # fmt: skip


class Chunk(NamedTuple):
    """One recognised stretch of tokens; only the fields of its kind are set."""

    kind: Kind
    start: int
    end: int
    text: str
    amount: Amount | None = None
    target: str = ""
    """For a food: the name it was found under ('kinds:milk' for a generic word)."""
    batch: BatchRef | None = None
    state: State | None = None
    method: str = ""
    whole: bool = False
    part: str = ""
    moment: Moment | None = None
    tare: TareRef | None = None
    number: int = 0
    field: str = ""


class Fields(TypedDict, total=False):
    """What a chunk may carry besides its place."""

    amount: Amount | None
    target: str
    batch: BatchRef | None
    state: State | None
    method: str
    whole: bool
    part: str
    moment: Moment | None
    tare: TareRef | None
    number: int
    field: str


def _weighed_empty(tokens: Sequence[Token], vocabulary: Vocabulary) -> Iterator[str]:
    """The words of no list for what is said to weigh so much empty: 'billy empty 640'."""
    for word, empty, number in zip(tokens, tokens[1:], tokens[2:], strict=False):
        told = empty.text in pack()["empty"] and (word.kind, number.kind) == ("word", "number")
        if told and not lexicon().knows(word.text) and not vocabulary.knows(word.text):
            yield word.text


def _spoken_to(tokens: Sequence[Token]) -> Iterator[str]:
    """What somebody is called in passing, at the beginning or the end: 'bro 2 scoops whey', '380 of the dal mate'."""
    concepts, last = pack(), len(tokens) - 1
    for i, token in enumerate(tokens):
        if token.text not in concepts["called_out_to"]:
            continue
        before, behind = tokens[i - 1].text if i else "", tokens[i + 1] if i < last else None
        begins = not before or before in ENDS or (before in concepts["greeting"])
        ends = behind is None or behind.text in ENDS
        led = any(before in concepts[of] for of in ("before_a_person", "to_whom", "for_whom", "belonging_to_others"))
        if (begins and (ends or (behind is not None and behind.kind == "number"))) or (ends and not led):
            yield token.text


class Line:
    """The tokens of a message with everything that their reading depends on."""

    def __init__(self, tokens: Sequence[Token], around: Surroundings, vocabulary: Vocabulary, whole: str) -> None:
        self.whole = whole
        self.tokens = tokens
        self.around = around
        self.vocabulary = vocabulary
        names = first_names((t.text for t in tokens if t.kind == "word"), (*around.clients, *around.coaches))
        called = frozenset(_spoken_to(tokens))
        self.words: Lexicon = with_names(names, called, frozenset(_weighed_empty(tokens, vocabulary)))
        self.lemmas = [singular(t.text) for t in tokens]
        self.plain = Wording(plain(t.text) for t in tokens)
        self._shortened = not self.words.abbreviations.keys().isdisjoint(self.lemmas)
        self.openings = [opening(word) for word in self.plain]
        # Several readers ask for the same place.
        self._names: dict[int, tuple[str, int] | None] = {}
        self.templated: dict[tuple[int, int], list[Any] | None] = {}
        """What stretches of tokens mean by a template, so that a message of one clause is not matched twice."""
        self.answers: dict[tuple[int, ...], tuple[object, dict[object, object]]] = {}
        """What is known of stretches of chunks, by the chunks' identities (`message.once`)."""
        self._places: dict[str, list[int]] = {}
        self._read: dict[tuple[object, int], Any] = {}
        self.amounts = AmountReader(tokens, self.words, around.region)
        self.text = self.amounts.numbers.text
        self.moments = MomentReader(self.amounts.numbers, self.words, around)
        self.batch_names = [(lemmas_of(b.name), b) for b in around.batches]
        self.batch_foods = {b.number: vocabulary.exact(lemmas) for lemmas, b in self.batch_names}
        self.tare_names = sorted(((lemmas_of(n), n, g) for n, g in around.tares), key=lambda t: -len(t[0]))

    @cached_property
    def plain_signs(self) -> list[bool]:
        """Which tokens are signs or line ends that say nothing by themselves."""
        return [token.kind in ("sign", "newline") and token.text not in TELLING_SIGNS for token in self.tokens]

    @cached_property
    def number_places(self) -> list[int]:
        """The tokens at which a number begins."""
        return [i for i in range(len(self.tokens)) if self.amounts.number(i) is not None]

    @cached_property
    def moment_places(self) -> list[int]:
        """The tokens at which an expression of time begins."""
        return [i for i in range(len(self.tokens)) if self.moments.read(i) is not None]

    def places(self, name: str, find: Callable[[Line], Iterable[int]]) -> Sequence[int]:
        """The tokens at which something of that name can begin, in order, found once: many clauses ask for them."""
        if name not in self._places:
            self._places[name] = sorted(find(self))
        return self._places[name]

    def once(self, reader: Callable[[Line, int], Read], i: int) -> Read:
        """What a reader finds at the i-th token, looked for once: many templates ask for the same place."""
        key = reader, i
        if key not in self._read:
            self._read[key] = reader(self, i)
        found: Read = self._read[key]
        return found

    def name(self, i: int) -> tuple[str, int] | None:
        """The longest food name that begins at the i-th token: (what it names, where it ends)."""
        if i not in self._names:
            owner = self._is_owner(i)
            self._names[i] = None if owner or self._is_state_of(i) else self._without_verb(i)
        return self._names[i]

    def _is_state_of(self, i: int) -> bool:
        """Whether a state stands before a longer name than it begins: 'boiled sweet potato' is no boiled sweet."""
        if self.text(i) not in self.words.states or self.vocabulary.exact(tuple(self.lemmas[i : i + 1])) is not None:
            return False
        if i + 1 >= len(self.lemmas):
            return False
        first, second = (self.vocabulary.at(self.lemmas, n, self._shortened) for n in (i, i + 1))
        return first is not None and second is not None and second[1] > first[1] > i + 1

    def _without_verb(self, i: int) -> tuple[str, int] | None:
        """The name without what was done: 'parmesan grated on that' is no grated parmesan, nor 'spread on' a spread."""
        found = self.vocabulary.at(self.lemmas, i, self._shortened)
        if (
            found is None
            or self.text(found[1]) not in WORDS["carrying"]
            or self.text(found[1] - 1) not in pack()["put_onto"]
        ):
            return found
        alone = found[1] - i == 1
        return None if alone else self.vocabulary.at(self.lemmas[: found[1] - 1], i, self._shortened)

    def _is_owner(self, i: int) -> bool:
        """Whether somebody's is said, and no food: "nan's" is no naan."""
        said = self.text(i)
        return said.endswith("'s") and said.removesuffix("'s") in self.words.people

    def said(self, start: int, end: int) -> str:
        """Tokens start…end as typed."""
        parts = [(" " if t.spaced and n else "") + t.raw for n, t in enumerate(self.tokens[start:end])]
        return "".join(parts)

    def typed(self, start: int, end: int) -> str:
        """Tokens start…end with everything between them, hyphens too."""
        return self.whole[self.tokens[start].start : self.tokens[end - 1].end] if start < end else ""

    def make(self, kind: Kind, start: int, end: int, **more: Unpack[Fields]) -> Chunk:
        """The chunk of that kind over tokens start…end."""
        end = min(end, len(self.tokens))
        return Chunk(kind, start, end, self.said(start, end), **more)
