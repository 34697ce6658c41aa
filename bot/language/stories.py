"""Stories around a weigh-in: what tells of people, places and old days is no second item and asks nothing.

A stretch is dropped only beside a weigh-in that stands by itself, and only when it says nothing of what became of
the food.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from bot.language.chunks import Chunk
from bot.language.message import Message, once
from bot.language.pack import pack, plain
from bot.language.places import without_beside
from bot.language.text import singular
from domain import reference

BEARING = frozenset({"hash", "tare", "whole", "energy", "macro", "newline", "part"})
"""Kinds of chunk that bear on what was eaten; a stretch with one of them is no story."""
CUTS = frozenset({",", ";", ".", "!", "?", "(", ")", ":", "-", "+", "/", "\n"})
SHORT = 4
"""Words up to which a stretch may be an aside on the weigh-in beside it ('baked', 'without the skin')."""
PLAIN_LENGTH, LENGTH_EACH = 14, 7
"""Words that a message of weigh-ins alone may have, and for each of them more: with more words it tells a story."""


@once
def without_stories(message: Message) -> Message:
    """The sentences without the stretches that only tell a story; all of them where nothing else is told."""
    if message.asks or not any(_measured(c) for c in message.chunks):
        return message
    plain_of = without_beside(message, message.chunks)
    if len(plain_of) < len(message.chunks):
        kept = {id(c) for c in plain_of}
        message = message.without(c for c in message.chunks if id(c) not in kept)
    parts = stretches(message)
    spared = [c for stretch in parts for c in _spared(message, stretch)]
    if spared:
        message = message.without(spared)
        parts = stretches(message)
    told = _told(parts)
    if not told:
        return message
    words = sum(token.kind == "word" for token in message.tokens)
    standing = {id(stretch) for stretch in told}
    telling = _Telling(message, told, long=words > PLAIN_LENGTH + LENGTH_EACH * len(told))
    dropped: list[Chunk] = []
    awaits = False
    for n, stretch in enumerate(parts):
        behind = parts[n + 1] if n + 1 < len(parts) else []
        if (_stands(behind) or _parts_follow(message, behind)) and _is_heading(message, stretch, behind):
            dropped.extend(c for c in stretch if c.kind != "moment")
            continue
        beside = any(id(other) in standing for other in parts[max(0, n - 1) : n + 2])
        named = any(c.kind in ("food", "batch") for c in stretch)
        weighed_behind = any(_measured(c) for c in behind) and not _stands(behind)
        if id(stretch) in standing or (named and weighed_behind):
            story = False
        else:
            story = telling.is_story(stretch, awaits=awaits, beside=beside)
        if story:
            dropped.extend(c for c in stretch if c.kind != "moment")
        else:
            awaits = (awaits or named) and not any(_measured(c) or _weighed_bare([c]) for c in stretch)
    return message.without(dropped) if dropped else message


MOST_PIECES_SAID = 12
"""A bare number above this is a weight."""


def _spared(message: Message, stretch: Sequence[Chunk]) -> list[Chunk]:
    """The end of a stretch that only says 'don't tell the doctor', 'no judgement please'."""
    said = message.line.plain
    at = next((n for n, c in enumerate(stretch) if pack()["spare_me"].ends(said, c.start)), len(stretch))
    behind = list(stretch[at:])
    return [] if any(c.kind in ("amount", "food", "batch", "hash", "energy") for c in behind) else behind


def _told(stretches: Sequence[list[Chunk]]) -> list[list[Chunk]]:
    """The stretches in which weigh-ins stand; where none does, the one with an amount and the food nearest to it."""
    standing = [stretch for stretch in stretches if _stands(stretch)]
    if standing:
        return standing
    measured = [n for n, stretch in enumerate(stretches) if any(_measured(c) for c in stretch)]
    foods = [n for n, stretch in enumerate(stretches) if any(c.kind in ("food", "batch") for c in stretch)]
    if not measured or not foods:
        return []
    nearest = min(foods, key=lambda n: (abs(n - measured[0]), n))
    return [stretches[n] for n in sorted({*measured, nearest})]


def _stands(stretch: Sequence[Chunk]) -> bool:
    """Whether a weigh-in stands in the stretch by itself: a measured amount and a food or a batch."""
    return any(_measured(c) for c in stretch) and any(c.kind in ("food", "batch") for c in stretch)


def _measured(chunk: Chunk) -> bool:
    return chunk.kind == "amount" and chunk.amount is not None and chunk.amount.kind in ("mass", "volume")


def _targets(chunk: Chunk) -> set[str]:
    """The foods that a chunk names, those of a generic word too."""
    if chunk.kind != "food":
        return set()
    kinds = reference.load().kinds.get(chunk.target.removeprefix("kinds:"))
    return {chunk.target} | ({kinds.default or "", *kinds.kinds} - {""} if kinds is not None else set())


def stretches(message: Message, opening: str = "clause_openers") -> list[list[Chunk]]:
    """The message cut at signs and at words that begin another clause, those of the concept `opening`."""
    opens = pack()[opening]
    cuts = CUTS if opening == "clause_openers" else CUTS - {":"}
    said = message.line.plain
    number, numbered = 0, []
    for chunk in message.chunks:
        if chunk.kind in ("sign", "newline") and chunk.text in cuts:
            number += 1
            continue
        if chunk.kind == "word" and opens.end(said, chunk.start):
            number += 1
        numbered.append((number, chunk))
    return [[chunk for _, chunk in group] for _, group in groupby(numbered, key=lambda pair: pair[0])]


class _Telling:
    """A message with the stretches in which weigh-ins stand; `long` when it has many more words than they need."""

    def __init__(self, message: Message, told: Sequence[Sequence[Chunk]], *, long: bool) -> None:
        self.message = message
        self.named = {target for stretch in told for c in stretch for target in _targets(c)}
        self.long = long

    def is_story(self, stretch: Sequence[Chunk], *, awaits: bool, beside: bool) -> bool:
        """Whether a stretch says nothing of what was eaten, by whom or how much of it.

        `awaits`: a food before it has no amount yet; `beside`: it stands next to a weigh-in.
        """
        words = pack()
        said = [plain(t.text) for c in stretch for t in self.message.tokens[c.start : c.end]]
        others = words["others_subjects"].found(said[:2])
        parts = self.message.words.parts
        bearing = any(c.kind in BEARING or singular(c.text.lower()) in parts for c in stretch)
        if any(_measured(c) for c in stretch):
            no_food = self.long and not (awaits or bearing or beside or words["referring"].found(said))
            return no_food or (others and words["somebody_had"].found(said))
        if any(c.kind == "price" for c in stretch):
            return self.long
        if bearing and not (self.long and len(said) > SHORT and all(c.kind != "tare" for c in stretch)):
            return False
        foods = [c for c in stretch if c.kind in ("food", "batch")]
        if foods:
            led = others and (words["was_then"].found(said[1:2]) or any(c.amount for c in stretch[1:2]))
            if (_counted(stretch) and beside and (led or not others)) or _weighed_bare(stretch):
                return False  # 'it was two …' and 'my two …' are the writer's
            return self._only_mentions(foods, said, others, beside)
        if self._bears(said, others) or (any(c.kind in ("state", "size") for c in stretch) and len(said) < SHORT):
            return False
        if any(c.kind == "amount" for c in stretch):
            return not (awaits and _in_pieces(stretch)) and self._no_weight(stretch, said, awaits)
        if self.long:
            return len(said) > 1 and not words["i_ate"].found(said)
        unknown = [c for c in stretch if c.kind == "word" and not self.message.words.knows(c.text.lower())]
        if any(w.endswith("%") or self.message.vocabulary.knows(w) for w in said):
            return False  # more of the food's name may come behind its amount ('…, the 5 % fat sort')
        return bool(unknown) and (len(said) > 1 or _is_sentence(self.message, stretch))

    def _no_weight(self, stretch: Sequence[Chunk], said: Sequence[str], awaits: bool) -> bool:
        """Whether the bare numbers of a stretch are no weight of what was named before."""
        words = pack()
        beside = [plain(c.text.lower()) for c in stretch if c.kind == "word"]
        if self.long:
            return not (awaits and words["weighing"].found(said)) and not words["for_somebody"].found(said)
        if any(singular(w) in self.message.words.people for w in beside):
            return False
        return any(w not in words["beside_numbers"] for w in beside) and not words["weighing"].found(said)

    def _bears(self, said: Sequence[str], others: bool) -> bool:
        """Whether a stretch says what became of the food; in a long message it has to refer to it."""
        words = pack()
        if not words["bearing"].found(said):
            return False
        if not self.long:
            return True
        refers = words["referring"].found(said)
        return refers and words["somebody_had"].found(said) if others else refers or len(said) <= SHORT

    def _only_mentions(self, foods: Sequence[Chunk], said: Sequence[str], others: bool, beside: bool) -> bool:
        """Whether foods without a measured amount are only spoken of."""
        words = pack()
        if words["i_ate"].found(said) or any(w in words["negation"] for w in said):
            return False
        if all(_targets(c) & self.named for c in foods):
            return True
        verbs = words["story_verbs"].found(said)
        if self.long and not beside:
            return verbs or not words["joining"].found(said[:1])
        return verbs and len(said) > SHORT and (self.long or others or words["story_verbs"].found(said[:2]))


def _counted(stretch: Sequence[Chunk]) -> bool:
    """Whether pieces or measures are counted, or a food behind its number: 'a couple of rotis', '2 boiled eggs'."""
    for n, chunk in enumerate(stretch):
        amount = chunk.amount
        if amount is None:
            continue
        behind = next((c for c in stretch[n + 1 :] if c.kind not in ("state", "size")), None)
        few = amount.kind == "bare" and amount.value <= MOST_PIECES_SAID
        if amount.kind in ("count", "measure") or (few and behind is not None and behind.kind == "food"):
            return True
    return False


def _in_pieces(stretch: Sequence[Chunk]) -> bool:
    """Whether pieces are counted of what was named before: 'rye bread, I had 2 slices'."""
    return any(c.amount is not None and c.amount.kind == "count" and c.amount.unit for c in stretch)


def _weighed_bare(stretch: Sequence[Chunk]) -> bool:
    """Whether a stretch has a bare number that is too large for a count: 'bagel itself was 98'."""
    told = [c.amount for c in stretch if c.amount is not None]
    last = bool(stretch) and stretch[-1].kind == "amount" and stretch[0].kind == "food"
    return last and any(a.kind == "bare" and a.value > MOST_PIECES_SAID for a in told)


def _is_heading(message: Message, stretch: Sequence[Chunk], behind: Sequence[Chunk]) -> bool:
    """Whether a stretch only names the dish whose parts are listed behind its colon ('a salad before it: 60 g …')."""
    said = [token.text for c in stretch for token in message.tokens[c.start : c.end]]
    plans = message.words.shopping | message.words.plans
    dish = any(c.kind == "food" for c in stretch) and not any(c.kind in ("batch", "tare") for c in stretch)
    counted = any(c.amount is not None and c.amount.text.lower() not in ("a", "an") for c in stretch)
    words = [plain(token.text) for c in behind for token in message.tokens[c.start : c.end]]
    follow = _parts_follow(message, (*stretch, *behind)) or _says_which(stretch, behind)
    lists = follow or message.line.text(stretch[-1].end) == ":" or bool(pack()["which_was"].end(words, 0))
    return dish and not counted and lists and plans.isdisjoint(said)


def _parts_follow(message: Message, stretch: Sequence[Chunk]) -> bool:
    """Whether it is said that what a dish was made of comes next."""
    return pack()["parts_follow"].found([plain(t.text) for c in stretch for t in message.tokens[c.start : c.end]])


def _says_which(stretch: Sequence[Chunk], behind: Sequence[Chunk]) -> bool:
    """'toast, two slices of white bread at 62 g': the same bread, told with its kind and weight."""
    names = [next((c for c in part if c.kind == "food"), None) for part in (stretch, behind)]
    groups = {group for c in names if c is not None for group in _groups(c)}
    counted = any(c.amount is not None and c.amount.kind == "count" and c.amount.unit for c in behind[:1])
    return None not in names and groups == {"breads"} and counted


def _groups(food: Chunk) -> set[str]:
    table = reference.load().foods
    return {table[name].group for name in _targets(food) if name in table}


def _is_sentence(message: Message, stretch: Sequence[Chunk]) -> bool:
    """Whether a stretch is a sentence by itself ('Bliss.')."""
    before = message.tokens[stretch[0].start - 1].text if stretch[0].start else "."
    return before in ".!?\n" and message.line.text(stretch[-1].end) in (".", "!", "", "\n")
