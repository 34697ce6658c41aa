"""What a new pot is called: a name that is given to it, or the dish named before its ingredients."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.belongings import is_dish
from bot.language.chunks import Chunk
from bot.language.frames.pot_naming import named_by_verb
from bot.language.frames.spans import Span, is_one, spans
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.text import singular
from domain.reference.words import is_real_word

MOST_NAME_WORDS = 4
MOST_BETWEEN = 3
"""Tokens between 'batch' and a word that says that it is a new one; letters of a word inside a foreign name."""
SENTENCE_ENDS = frozenset({".", "!", ";"})
STOPS = frozenset({",", ".", ":", ";", "!", "-", "(", ")", "="})


def given_name(message: Message) -> tuple[str, list[Span]]:
    """The name that is given explicitly ('call it taco meat'), and its tokens."""
    by_verb = named_by_verb(message)
    if by_verb is not None:
        return said_as_name(message, by_verb[0]), [by_verb[1]]
    for cue in spans(message, "call_it"):
        chunks = [c for c in message.chunks if c.start >= cue.end]
        while chunks and (chunks[0].text in (":", "=", '"') or chunks[0].text.lower() in pack()["article"]):
            chunks = chunks[1:]
        words: list[Chunk] = []
        for chunk in chunks[:MOST_NAME_WORDS]:
            if chunk.kind in ("amount", "newline", "tare", "state") or chunk.text in STOPS:
                break
            if words and plain(chunk.text.lower()) in pack()["ends_pot_name"]:
                break
            words.append(chunk)
        words = without_its_first_food(words, chunks[len(words) : len(words) + 1])
        if any(plain(word.text.lower()) not in pack()["beside_pot"] for word in words):
            return said_as_name(message, words), [Span(cue.start, words[-1].end)]
    return "", []


def without_its_first_food(words: list[Chunk], behind: Sequence[Chunk]) -> list[Chunk]:
    """The name without the food that a state follows: 'it's called lamb stew lamb shoulder raw 1.5 kg …'."""
    led = bool(behind) and behind[0].kind == "state" and len(words) > 1 and words[-1].kind == "food"
    return words[:-1] if led else words


def name_of_batch(message: Message) -> tuple[str, list[Span]]:
    """The dish of 'another pumpkin soup batch' or 'a roti batch please, new one', and the tokens that announce it."""
    for chunk in message.of("batch"):
        if chunk.field != "bare":
            continue
        behind = [
            s for s in spans(message, "one_more", "once_again") if chunk.end <= s.start <= chunk.end + MOST_BETWEEN
        ]
        before = [s for s in spans(message, "one_more") if 0 < chunk.start - s.end <= MOST_NAME_WORDS]
        first = before[-1].end if before else chunk.start - 1
        words = [c for c in message.chunks if first <= c.start and c.end <= chunk.start]
        if not (before or behind) or not words or any(not _may_name(c) for c in words):
            continue
        last = behind[0].end if behind and not before else chunk.end
        return said_as_name(message, words), [Span(before[-1].start if before else words[0].start, last)]
    return "", []


def _may_name(chunk: Chunk) -> bool:
    """Whether it can be a word of a dish's name, unlike punctuation, an article and words of announcing."""
    announces = plain(chunk.text.lower()) in pack()["opening"]
    return chunk.kind in ("food", "word", "batch") and chunk.text not in STOPS and not (_beside(chunk) or announces)


def name_in(head: Message) -> str:
    """The dish named before the ingredients; empty if there is none.

    Words of no list are a name where no dish or food is named and their sentence says nothing else: 'sambhar on now'
    is one, 'okay for real this time. taco meat' and 'ayo prep day actually happened' name none by them.
    """
    segments: list[list[Chunk]] = [[]]
    for chunk in head.chunks:
        if chunk.text in STOPS or chunk.kind == "newline" or (segments[-1] and segments[-1][-1].end != chunk.start):
            segments.append([])
        if chunk.text not in STOPS:
            segments[-1].append(chunk)
    names = [words for segment in segments if (words := _dish_in(head, segment))]
    told = next((words for words in names if _tells(head, words)), None)
    words = told or next((words for words in names if _alone(head, words)), [])
    return said_as_name(head, words)


def first_food(head: Message, name: str) -> str:
    """The food named right before the weights, apart from the dish: 'a chicken curry, thighs first: 820 g raw'."""
    chunks = list(head.chunks)
    while chunks and chunks[-1].text in STOPS:
        chunks.pop()
    at = max((n for n, c in enumerate(chunks) if c.text in STOPS), default=-1)
    words = [c.text.lower() for c in chunks[at + 1 :] if c.kind in ("food", "word")]
    said = " ".join(w for w in words if w not in pack()["beside_pot"])
    if at < 0 or not said or said in name:
        return ""
    likely = (said, *(f"{word} {said}" for word in name.split()))
    return next((each for each in likely if head.vocabulary.resolve(each.split(), each).foods), "")


def _dish_in(head: Message, segment: Sequence[Chunk]) -> list[Chunk]:
    """The words of a name in a stretch without punctuation; none if it names nothing that is cooked."""
    if any(c.text.lower() in head.words.negations for c in segment):
        return []
    words = list(segment)
    while words and _beside(words[0]):
        words = words[1:]
    words = _whole_of_part(head, words)
    said_to_be = [n for n, c in enumerate(words) if n > 1 and plain(c.text.lower()) in pack()["article"]]
    if said_to_be and plain(words[said_to_be[0] - 1].text.lower()) in pack()["being"]:
        words = words[said_to_be[0] + 1 :]  # 'number two is a chicken tray bake'
    end = next((n for n, c in enumerate(words) if n and plain(c.text.lower()) in pack()["ends_pot_name"]), len(words))
    words = words[:end]
    owned = max((n for n, c in enumerate(words) if plain(c.text.lower()) in pack()["article"]), default=-1)
    if owned >= 0:  # 'getting my pinto stew' is of a stew, 'stovies the day' of stovies
        words = words[owned + 1 :] if _tells(head, words[owned + 1 :]) else words[:owned]
    while words and (_beside(words[-1]) or _is_for_then(head, words[-1])):
        words = words[:-1]
    said = [plain(word) for word in said_as_name(head, words).split()]
    plated = pack()["plated"].found(said) and not pack()["dish"].found(said[-1:])
    fits = 0 < len(said) <= MOST_NAME_WORDS and not plated
    return words if fits and (_tells(head, words) or any(_of_no_list(head, c) for c in words)) else []


def _is_for_then(head: Message, chunk: Chunk) -> bool:
    """Whether a number only says 'for': 'curry 4 tonight'."""
    return chunk.amount is not None and pack()["time_of_batch"].end(head.line.plain, chunk.end) is not None


def _whole_of_part(head: Message, words: list[Chunk]) -> list[Chunk]:
    """The dish that a part is for: the buns of a 'dough for cinnamon buns'; else the words themselves."""
    for n, chunk in enumerate(words):
        if n and plain(chunk.text.lower()) in pack()["for_pot"]:
            part = pack()["part_of_a_dish"].found([plain(c.text.lower()) for c in words[n - 1 : n]])
            return words[n + 1 :] if part and _tells(head, words[n + 1 :]) else words
    return words


def _tells(head: Message, words: Sequence[Chunk]) -> bool:
    """Whether a food or a dish is among the words."""
    said = [plain(word) for word in said_as_name(head, words).split()]
    return any(c.kind in ("food", "batch") for c in words) or pack()["dish"].found(said)


def _alone(head: Message, words: Sequence[Chunk]) -> bool:
    """Whether the sentence of a name says nothing else but that a pot begins."""
    sentence = [words[0]]
    chunks = head.chunks
    at = chunks.index(words[0])
    for step in (-1, 1):
        n = at + step
        while 0 <= n < len(chunks) and chunks[n].text not in SENTENCE_ENDS and chunks[n].kind != "newline":
            sentence.append(chunks[n])
            n += step
    rest = [c for c in sentence if c not in words and c.text not in STOPS]
    return all(_beside(c) or plain(c.text.lower()) in pack()["ends_pot_name"] for c in rest)


def _beside(chunk: Chunk) -> bool:
    if chunk.amount is not None:
        return is_one(chunk.amount)
    return chunk.kind in ("word", "noise", "moment", "size") and plain(chunk.text.lower()) in pack()["beside_pot"]


def _of_no_list(message: Message, chunk: Chunk) -> bool:
    return chunk.kind == "word" and chunk.text.isalpha() and not message.words.knows(chunk.text.lower())


def said_as_name(message: Message, chunks: Sequence[Chunk]) -> str:
    """The text of the chunks as one name, as typed, in lower case."""
    return " ".join(message.phrase([c]).removesuffix("'s") for c in chunks).strip(" \"'.")


def unheard_name(message: Message) -> str:
    """The dish before the first weight by words that no list and no English dictionary has: 'on sambar duty. …'.

    Of several such stretches the longest is taken; a name for a person would be written with a capital letter.
    """
    first = next((n for n, c in enumerate(message.chunks) if c.amount is not None and not is_one(c.amount)), 0)
    head, runs = message.chunks[:first], list[list[Chunk]]([[]])
    for n, chunk in enumerate(head):
        between = bool(runs[-1]) and len(chunk.text) <= MOST_BETWEEN and _is_unheard(message, head[n + 1 : n + 2])
        if between or _is_unheard(message, [chunk]):
            runs[-1].append(chunk)
        elif runs[-1]:
            runs.append([])
    longest = max(reversed(runs), key=len)
    return said_as_name(message, longest) if len(longest) <= MOST_NAME_WORDS else ""


def _is_unheard(message: Message, chunks: Sequence[Chunk]) -> bool:
    """Whether it is a word that no list and no dictionary has, or a dish of the table."""
    if not chunks or not chunks[0].text.isalpha():
        return False
    word = chunks[0].text.lower()
    if chunks[0].kind == "food":
        return is_named_dish(message, word.split())
    if not _of_no_list(message, chunks[0]) or len(word) <= MOST_BETWEEN or singular(word) in message.words.people:
        return False
    capital = message.tokens[chunks[0].start].raw[:1].isupper()
    return not (capital or is_real_word(word))


def is_named_dish(message: Message, said: Sequence[str]) -> bool:
    """Whether words of a name are a dish of the table: 'sinigang', 'gumbo'."""
    resolve = message.vocabulary.resolve
    named = [*(food for word in said for food in resolve([word], word).foods), *resolve(said, " ".join(said)).foods]
    return any(is_dish(food) for food in named)
