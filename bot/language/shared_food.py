"""One food of which several people had some: whatever is said of the others, the writer's part counts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from bot.language.chunks import Chunk, Kind
from bot.language.company import heads, sharers
from bot.language.frames.by_clause import parts_of
from bot.language.frames.of_it import talked_of
from bot.language.frames.serving import Serving, seen
from bot.language.frames.stretch import as_mass, grams_of
from bot.language.frames.takers import Dealt, Quantity, dealt_out
from bot.language.message import Message, once
from bot.language.pack import pack, plain
from bot.language.scene import Scene
from bot.language.told import Amount, is_share
from bot.language.wholes import is_product

MOST_CHUNKS = 40
MOST_COUNTED = 20
"""A bare number from here on is a weight."""
SPAN = 5
"""Words between 'my half' and its weight."""
OF_SEVERAL = (
    "of_us", "halving", "split_alike", "between_them", "in_thirds", "in_quarters", "shared_it", "shared_out",
    "made_for_all", "went_to_me", "i_had", "my_piece",
)  # fmt: skip
"""Concepts of which one, or somebody's name, says that not all of it need be the writer's."""
NOT_OF_IT: tuple[Kind, ...] = ("hash", "energy", "macro", "price", "tare")
ENDS = frozenset({",", ";", ".", "(", ")", "\n"})
"""Signs that no part of a sentence reaches across."""


@once
def without_the_others(message: Message) -> Message:
    """The message reduced to what the writer had of its only food; unchanged where that is not said.

    '420 g pasta, he had 260 and I had the rest', '600 g potatoes for us four, a quarter mine', 'a pear, halved'.
    """
    scene = Scene(message)
    if len(message.chunks) > MOST_CHUNKS or message.asks or not scene.foods or not scene.amounts or scene.named:
        return message
    foods = {c.target for c in scene.foods if plain(c.text.lower()) not in pack()["of_the_dish"]}
    told = seen(scene.message)
    if len(foods) != 1 or message.of(*NOT_OF_IT) or told.boxes or told.spoken_of is not None:
        return message
    if not (told.person is not None or told.cue(*OF_SEVERAL, "out_of_that")):
        return message
    if told.unreal or told.cue("not_yet_had", "meant_for") or told.lost or _is_beside_the_batch(message):
        return message
    found = _Shared(told).mine
    return message if found is None else _only(message, *found)


def _is_beside_the_batch(message: Message) -> bool:
    """Whether a weight is of the batch that was spoken of last: 'I had 320 of that with 95 g spaghetti'."""
    of = pack()["of_the_batch"]
    weighed = (c for c in message.of("amount") if any(True for _ in of.ends(message.line.plain, c.end)))
    return any(weighed) and bool(talked_of(message))


def _only(message: Message, chunk: Chunk, amount: Amount) -> Message:
    """The message with one amount, which is the writer's, and nothing of anybody else."""
    near = [c for c in message.chunks if c.start in _clause(message, chunk)]
    refuse = [c for c in near if _is_refuse(message, c)]
    beside = [c for c in near if refuse and plain(c.text.lower()) in pack()["around_refuse"]]
    foods = [c for c in message.of("food") if plain(c.text.lower()) not in pack()["of_the_dish"]]
    refuse += _in_its_tin(message, chunk)
    nearest = {c.target: c for c in sorted(foods, key=lambda c: abs(c.start - chunk.start), reverse=True)}
    kept = [*nearest.values(), *message.of("state", "moment", "size"), *refuse, *beside]
    chunks = sorted([*kept, chunk._replace(amount=amount)], key=lambda c: c.start)
    return Message(message.whole, tuple(chunks), message.line, message.offset)


def _in_its_tin(message: Message, weight: Chunk) -> list[Chunk]:
    """'tin of' between a weight and its food, which say how it was sold."""
    at = message.index(weight)
    behind = message.chunks[at + 1 : at + 3]
    sold = len(behind) > 1 and message.line.lemmas[behind[0].start] in message.words.vessels
    return list(behind) if sold and all(c.kind == "word" for c in behind) else []


def _clause(message: Message, chunk: Chunk) -> range:
    """The tokens from the last to the next sign around an amount."""
    start, end = chunk.start, chunk.end
    while start > message.chunks[0].start and message.tokens[start - 1].text not in ENDS:
        start -= 1
    while end < message.chunks[-1].end and message.tokens[end].text not in ENDS:
        end += 1
    return range(start, end)


def _is_refuse(message: Message, chunk: Chunk) -> bool:
    """Whether a chunk says what cannot be eaten of it: 'the seed' of 'with the seed', 'without peel'."""
    if chunk.kind == "part":
        return True
    if chunk.kind == "whole":
        return any(message.line.lemmas[n] in message.words.parts for n in range(chunk.start, chunk.end))
    return chunk.kind == "word" and message.line.lemmas[chunk.start] in message.words.parts


@dataclass(frozen=True)
class _Shared:
    """The quantities of one food, and whose they are."""

    told: Serving

    @cached_property
    def company(self) -> int | None:
        """How many people shared it alike, the writer among them; None if that is not said."""
        return sharers(self.told)

    @cached_property
    def heads(self) -> list[Chunk]:
        """Numbers of people that it was for: 'us four', 'the five of us', 'we three'."""
        return heads(self.told)

    @cached_property
    def numbers(self) -> list[Chunk]:
        """What may be somebody's: weights, numbers of pieces and shares."""
        people = {id(c) for c in self.heads}
        halves = {n for s, e in self.told.places("in_halves") for n in range(s, e)}
        told = [c for c in self.told.numbers if id(c) not in people and c.start not in halves]
        return [c for c in told if not self._got_some(c)]

    def _got_some(self, chunk: Chunk) -> bool:
        """'most of it went to the forty': whether a number stands for those who got some."""
        told, bare = self.told, chunk.amount is not None and chunk.amount.kind == "bare"
        return bare and told.word(chunk.start - 1) in pack()["the"] and told.word(chunk.start - 2) in pack()["for_whom"]

    @cached_property
    def weights(self) -> list[Chunk]:
        """Masses, and bare numbers too large to count anything."""
        return [c for c in self.told.weights if c in self.numbers]

    @cached_property
    def mine(self) -> tuple[Chunk, Amount] | None:
        """The chunk to put the writer's amount at, and that amount; None if it is not said how much that was."""
        said = self._reckoned() or self._of_my_half() or self._alike() or self._of_a_whole() or self._of_a_list()
        chunk, amount = said or self._by_clause() or (None, None)
        if chunk is None or amount is None:
            return None
        pieces = amount.kind == "bare" and chunk not in self.weights  # 'eggs: 2 for me, 1 for Bea'
        return chunk, replace(amount, kind="count") if pieces else amount

    def _by_clause(self) -> tuple[Chunk, Amount] | None:
        """'it was 350 g, from it my daughter took 150', 'Priya brought 90 g, I ate 35': by who eats in each clause."""
        parts = parts_of(self.told, self.numbers)
        whole = None if parts is None or parts.whole is None else parts.whole.chunk
        if parts is None or len(parts.mine) > 1 or (whole is None and not (parts.told_of_me and parts.theirs)):
            return None
        if whole is None or whole.amount is None:
            only = parts.mine[0].chunk
            return (only, only.amount) if only is not None and only.amount and not is_share(only.amount) else None
        if parts.mine and (told := parts.mine[0].chunk) is not None:
            part = self._part(whole, told.amount)
            return None if part is None else (told, part)
        gone = [self._part(whole, q.chunk.amount if q.chunk is not None else None) for q in parts.theirs]
        if any(g is None for g in gone) or not (gone or parts.all_mine):
            return None
        left = _size_of(whole.amount) - sum(_size_of(g) for g in gone if g is not None)
        return (whole, _less(whole.amount, left)) if left > 0 else None

    def _reckoned(self) -> tuple[Chunk, Amount] | None:
        """'it was 96 g, and I ate my half': a product that the numbers alone have led to."""
        only = self.numbers[0] if len(self.numbers) == 1 else None
        if only is None or only.amount is None or only.amount.text == only.text or not self.told.mine:
            return None
        return (only, only.amount) if only in self.weights and not _gave_to_them(self.told) else None

    def _of_my_half(self) -> tuple[Chunk, Amount] | None:
        """'divided one banana, my half 56 g': the weight of the share itself."""
        told = self.told
        if len(self.weights) != 1 or any(not _is_part_or_one(c) for c in self.numbers if c not in self.weights):
            return None
        weight = self.weights[0]
        own = [
            (s, e)
            for s, e in told.places("my_piece")
            if self._together(e, weight.start) or self._together(weight.end, s)
        ]
        if not own or weight.amount is None or self._is_whole(weight):
            return None
        return weight, as_mass(weight.amount)

    def _together(self, start: int, end: int) -> bool:
        """Whether nothing parts two places of one clause but what is no part of it ('my half, no peel, 56 g')."""
        without = {n for c in self.told.message.of("whole", "part", "state") for n in range(c.start, c.end)}
        beside = [pack()["came_out_at"], *([pack()["around_refuse"]] if without else ())]
        without.update(n for n in range(start, end) if any(self.told.word(n) in words for words in beside))
        said = [n for n in range(start, end) if n not in without and self.told.message.tokens[n].text != ","]
        parted = end - start > 1 and len(said) < end - start and said
        ends = any(self.told.message.tokens[n].text in ENDS for n in said)
        return 0 <= end - start <= SPAN and not parted and not ends

    def _is_whole(self, chunk: Chunk) -> bool:
        near = range(chunk.start - SPAN, chunk.end + SPAN)
        return any(s in near and e - 1 in near for s, e in self.told.places("the_whole_one", "whole_weight"))

    def _alike(self) -> tuple[Chunk, Amount] | None:
        """'me and my brother went halves', 'we three split it evenly': the same part for each."""
        if self.company is None or len(self.weights) != 1:
            return None
        if any(not _is_part_or_one(c) for c in self.numbers if c not in self.weights):
            return None
        shares = [c.amount.value for c in self.numbers if c.amount is not None and is_share(c.amount)]
        weight = self.weights[0]
        reckoned = weight.amount is None or weight.amount.text != weight.text
        if weight.amount is None or reckoned or any(abs(s - 1 / self.company) > 0.01 for s in shares):
            return None
        return weight, _product(1 / self.company, weight.amount)

    def _of_a_whole(self) -> tuple[Chunk, Amount] | None:
        """A part of a whole that is told too, whether it is the writer's or what the others left."""
        for whole in self._wholes:
            rest = [c for c in self.numbers if c is not whole]
            shared = dealt_out(self.told, rest)
            found = self._left_of(whole, shared) if shared else None
            if found is not None:
                return found
        return None

    @cached_property
    def _wholes(self) -> list[Chunk]:
        """What may be the whole: the largest weight or number of pieces, where something is said to be a part of it."""
        plain_ones = [c for c in self.numbers if c.amount is not None and not is_share(c.amount) and c.amount.value > 1]
        pool = self.weights or plain_ones
        largest = max(pool, key=_size, default=None)
        if largest is None or is_product(self.told.message.line, largest) or self._is_what_was_left(largest):
            return []
        others = [c for c in self.numbers if c is not largest]
        told = self.told
        parts = told.cue("of_it", "part_of_it", "a_rest", "whole_weight", "of_us", "the_other_part") or bool(self.heads)
        of = any(told.word(largest.start - k) in pack()["of_a_share"] for k in (1, 2))
        served = told.cue("made_for_all")
        shares = any(c.amount is not None and is_share(c.amount) for c in others)
        return [largest] if parts or of or served or shares else []

    def _is_what_was_left(self, weight: Chunk) -> bool:
        """'… so I ended up with 110 g': whether a weight is told as what came of it for the writer."""
        told = self.told
        so = max((end for _, end in told.places("so_much") if end <= weight.start), default=None)
        between = [] if so is None else [told.word(n) for n in range(so, weight.start)]
        return bool(between) and pack()["was_left_with"].found(between)

    def _left_of(self, whole: Chunk, shared: Sequence[Dealt]) -> tuple[Chunk, Amount] | None:
        """What the writer had of the whole, and the chunk that says it."""
        assert whole.amount is not None
        if any(t.whose not in ("mine", "theirs") for _, t in shared):
            return None
        mine = [q for q, t in shared if t.whose == "mine"]
        theirs = [q for q, t in shared if t.whose == "theirs"]
        if len(mine) > 1:
            return None
        if mine and (told := mine[0].chunk) is not None:
            part = self._part(whole, told.amount)
            share = told.amount is not None and is_share(told.amount)
            if share and weighs_the_share(self.told.message, told, whole):
                return whole, as_mass(whole.amount)
            return None if part is None else (whole if share else told, part)
        gone = [self._part(whole, q.chunk.amount if q.chunk is not None else None) for q in theirs]
        if not gone or any(g is None for g in gone):
            return None
        if not mine and not self._is_of_it(whole, theirs):
            return None
        left = _size_of(whole.amount) - sum(_size_of(g) for g in gone if g is not None)
        return (whole, _less(whole.amount, left)) if left > 0 else None

    def _part(self, whole: Chunk, amount: Amount | None) -> Amount | None:
        """A part of the whole as an amount: a weight, a number of pieces or a share of it."""
        assert whole.amount is not None
        if amount is None or amount.doubt is not None:
            return None
        if is_share(amount):
            return _product(amount.value, whole.amount)
        weighed = whole in self.weights
        if weighed:
            if amount.kind != "mass" and not (amount.kind == "bare" and amount.value >= MOST_COUNTED):
                return None
            fitting = (as_mass(amount, whole.amount), as_mass(amount))  # 'rice 1 kg, I took 180 of that'
            return next((mass for mass in fitting if grams_of(mass) <= grams_of(whole.amount)), None)
        return amount if amount.kind in ("bare", "count") and amount.value <= whole.amount.value else None

    def _is_of_it(self, whole: Chunk, theirs: Sequence[Quantity]) -> bool:
        """Whether what others had is said to be a part of what was weighed: 'but the baby got 60 g of it'."""
        told = self.told
        for quantity in theirs:
            behind = [told.word(n) for n in range(quantity.end, quantity.end + 3)]
            before = [told.word(n) for n in range(max(quantity.start - 2, 0), quantity.start)]
            of = pack()["part_of_it"].end(behind, 0) is not None or pack()["of_it"].found(before)
            own = told.word(quantity.end) in pack()["my_own"]
            if (quantity.start < whole.start and not own) or not (of or own):
                return False
        return True

    def _of_a_list(self) -> tuple[Chunk, Amount] | None:
        """'Tim 210 g, the kids 90 g each and I 145 g': the writer's weight among those of others."""
        shared = dealt_out(self.told, self.numbers)
        if not shared or len(shared) < 2 or any(t.whose not in ("mine", "theirs") for _, t in shared):
            return None
        mine = [q.chunk for q, t in shared if t.whose == "mine"]
        if len(mine) != 1 or mine[0] is None or mine[0].amount is None or is_share(mine[0].amount):
            return None
        if any(q.chunk is None for q, _ in shared):
            return None
        opened = shared[0][1]
        if opened.whose == "mine" and opened.start == opened.end:
            return None  # nobody is said to have had it
        unit = next((c.amount for c in self.weights if c.amount is not None and c.amount.kind == "mass"), None)
        weighed = mine[0] in self.weights
        return mine[0], as_mass(mine[0].amount, unit) if weighed else mine[0].amount


def weighs_the_share(message: Message, share: Chunk, weight: Chunk) -> bool:
    """Whether a weight is that of the share itself and not of the whole that it is a share of.

    So is one behind the share ('I ate the half she left, 24 g'), unless the whole is said to weigh so much or the food
    is named behind the weight, and one that the share has been applied to ('half of a 180 g fillet').
    """
    if is_product(message.line, weight):
        return True
    said = message.line.plain
    between = said[share.end : weight.start]
    if share.end > weight.start or said[weight.start - 1] in pack()["of_a_share"] or share.end == weight.start:
        return False
    whole = any(pack()[name].found(between) for name in ("the_whole_one", "whole_weight"))
    return not whole and not any(c.start == weight.end for c in message.of("food", "state"))


def _gave_to_them(told: Serving) -> bool:
    """Whether the writer gave some of it to somebody."""
    return told.person is not None and told.cue("gave_away")


def _is_part_or_one(chunk: Chunk) -> bool:
    amount = chunk.amount
    return amount is not None and amount.kind in ("bare", "count") and (is_share(amount) or amount.value == 1)


def _size(chunk: Chunk) -> float:
    return _size_of(chunk.amount) if chunk.amount is not None else 0.0


def _size_of(amount: Amount) -> float:
    return amount.grams if amount.grams is not None else amount.value


def _product(share: float, whole: Amount) -> Amount:
    return _less(whole, share * _size_of(whole))


def _less(whole: Amount, size: float) -> Amount:
    """An amount of the same kind as the whole, smaller."""
    if whole.kind == "mass" or whole.value >= MOST_COUNTED:
        return Amount(
            kind="mass",
            value=size,
            unit="g",
            grams=size,
            text=whole.text if size == whole.grams else f"{size:g} g of {whole.text}",
        )
    return Amount(kind=whole.kind, value=size, unit=whole.unit, text=f"{size:g}")
