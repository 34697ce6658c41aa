"""The amount that a fragment tells, of all its numbers: repeated, agreeing, left over, raw beside cooked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.chunks import Chunk
from bot.language.fragments import MOST_COUNTED, Fragment
from bot.language.lexicon import lexicon
from bot.language.pack import pack, plain
from bot.language.text import singular
from bot.language.told import Amount
from bot.language.waste import grams_of
from bot.language.word_lists import word_lists
from domain import reference
from domain.foods import SIZES, State

MOST_BEFORE_PIECE = 3
"""Words behind a number among which is the one for the pieces."""
WORDS = word_lists("telling")
LIKE_A_PIECE = 2.0
"""How much heavier or lighter than the usual piece one may be."""
AGREE = 0.02
"""Two masses of one food that differ by no more are one (rule 12)."""


def told_amounts(
    fragment: Fragment, run: Sequence[Chunk], peeled: bool, others: float | None
) -> tuple[Amount | None, Amount | None, bool, float | None]:
    """(amount, other measure, whether two masses disagree, cooked grams beside raw ones)."""
    times = _times(fragment)
    told = [_repeated(c.amount, times) for c in fragment.amounts if c.amount is not None]
    pair = _raw_and_cooked(fragment, told)
    if pair is not None and not peeled and others is None:
        return pair[0], None, False, grams_of(pair[1])
    masses = [a for a in told if a.kind == "mass"]
    rest = [a for a in told if a.kind != "mass"]
    if not masses:
        rest.sort(key=lambda a: a.kind == "measure")
        if len(rest) == 2 and rest[1].value == rest[0].value and rest[1].unit in SIZES and not rest[0].unit:
            return rest[1], None, False, None  # '1 banana, a small one'
        bare = [a for a in rest if a.kind == "bare"]
        if len(bare) > 1 and (others is not None or peeled):
            return bare[0], None, False, None
        if len(rest) > 1 and rest[0].kind in ("volume", "measure", "count") and bare and bare[0].value > 12:
            grams = replace(bare[0], kind="mass", unit="g", grams=bare[0].value)
            return grams, rest[0], False, None
        if len(rest) == len(bare) == 2 and bare[1].value > MOST_COUNTED and _counts_food(fragment, bare[0], run):
            # 'two onions (310 peeled)'
            return replace(bare[1], kind="mass", unit="g", grams=bare[1].value), bare[0], False, None
        volumes = [a for a in rest if a.kind == "volume"]
        if len(rest) == 2 and len(volumes) == 1 and any(a.value == 1 and a.kind in ("count", "bare") for a in rest):
            return volumes[0], None, False, None  # 'a beer, 330 ml can'
        first = rest[0] if rest else None
        if first is not None and len(rest) > 2:
            first = _with_leftovers(first, rest[2:])
        return first, (rest[1] if len(rest) > 1 else None), len(bare) > 1 and first is not None, None
    if len(masses) == 1 and rest and _each(fragment, rest[0], masses[0]):
        each = masses[0].grams or 0.0
        doubted = replace(
            masses[0], doubt="each", other=each * rest[0].value, text=f"{rest[0].text} of {masses[0].text}"
        )
        return doubted, None, False, None
    left = [
        a
        for a in rest
        if a.kind == "bare"
        and a.value != 1
        and not _share_again(fragment, a, run)
        and not _weighed_share(fragment, a, masses[0])
        and not _said_again(a, masses[0])
        and not _counts_food(fragment, a, run)
        and not _fits_pieces(a, masses[0], run)
    ]
    mass = _with_leftovers(masses[0], left) if left and others is None and not peeled else masses[0]
    if len(masses) == 1 or others is not None:
        return mass, (rest[0] if rest else None), False, None
    if peeled:
        return mass, None, False, None
    agree = all(abs(grams_of(m) - grams_of(masses[0])) <= AGREE * grams_of(masses[0]) for m in masses[1:])
    return mass, None, not agree, None


def _raw_and_cooked(fragment: Fragment, told: Sequence[Amount]) -> tuple[Amount, Amount] | None:
    """The raw and the cooked weight of one food: 'rice 60 dry = 165 ckd', '60 g raw, 165 g cooked'."""
    weights = [a for a in told if a.kind == "mass" or (a.kind == "bare" and a.value > MOST_COUNTED)]
    states = [c.state for c in fragment.of("state")]
    if len(weights) != 2 or len(told) != 2 or State.RAW not in states or State.COOKED not in states:
        return None
    first, second = (a if a.kind == "mass" else replace(a, kind="mass", unit="g", grams=a.value) for a in weights)
    return (first, second) if states.index(State.RAW) < states.index(State.COOKED) else (second, first)


def _counts_food(fragment: Fragment, amount: Amount, run: Sequence[Chunk]) -> bool:
    """Whether a bare number says how many pieces were weighed: '1 banana 118 g', 'banana, 1, 118 g' or its weight."""
    if amount.value > MOST_COUNTED or not run:
        return False
    at = next(c for c in fragment.amounts if c.amount is amount or (c.amount and c.amount.text == amount.text))
    if at.start >= run[-1].end:
        return at.start == run[-1].end and amount.value % 1 == 0 and _in_pieces(fragment, at, run[-1])
    between = [c for c in fragment.chunks if at.end <= c.start < run[0].start]
    return at.start < run[0].start and all(c.kind in ("state", "size", "whole", "word") for c in between)


def _fits_pieces(amount: Amount, mass: Amount, run: Sequence[Chunk]) -> bool:
    """Whether a number, wherever it stands, can only be how many pieces weigh so much: 'sausages, pork ones, 2, 112 g'.

    A small whole number beside the weight of what comes in pieces is their count; a larger one is if the pieces have
    the usual weight.
    """
    if amount.value % 1 or amount.value < 1 or mass.grams is None or not run:
        return False
    target = run[-1].target
    kinds = reference.load().kinds.get(target.removeprefix("kinds:"))
    food = reference.load().foods.get((kinds.default or kinds.kinds[0]) if kinds is not None else target)
    if food is None:
        return False
    if amount.value <= MOST_COUNTED and food.countable:
        return True
    piece = food.piece(food.counted_row())
    return piece is not None and 1 / LIKE_A_PIECE <= mass.grams / (amount.value * piece) <= LIKE_A_PIECE


def _said_again(amount: Amount, mass: Amount) -> bool:
    """Whether a number only repeats the weight, or the share that led to it ('half of 250 g, so half only')."""
    return amount.value == mass.value or (amount.value < 1 and mass.text.lower().startswith(amount.text.lower()))


def _share_again(fragment: Fragment, amount: Amount, run: Sequence[Chunk]) -> bool:
    """Whether a share behind the weight only repeats the one before the food: 'half an avocado, 70 g that half'."""
    first = fragment.amounts[0]
    leads = bool(run) and first.start < run[0].start and first.amount is not None
    return leads and first.amount is not None and amount.value < 1 and first.amount.value == amount.value


def _weighed_share(fragment: Fragment, share: Amount, mass: Amount) -> bool:
    """Whether a weight is that of the share beside it: 'papaya half, with skin 520 g', '200 g, the other half'."""
    at = {id(c.amount): c.start for c in fragment.amounts}
    said = [plain(c.text.lower()) for c in fragment.chunks]
    if pack()["the_other_part"].found(said):
        return 0 < share.value < 1
    return 0 < share.value < 1 and id(share) in at and at[id(share)] < at.get(id(mass), 0)


def _in_pieces(fragment: Fragment, at: Chunk, named: Chunk) -> bool:
    """Whether the number behind a food counts it: 'rice cakes 3, 27 g', 'toast 2 white slices 56 g'."""
    words = [w for c in fragment.chunks if at.end <= c.start for w in c.text.lower().split()][:MOST_BEFORE_PIECE]
    plural = singular(named.text.lower().split()[-1]) != named.text.lower().split()[-1]
    return plural or any(singular(w) in lexicon().piece_nouns for w in words)


def _with_leftovers(amount: Amount, left: Sequence[Amount]) -> Amount:
    """The amount in doubt for numbers beside it that have no part in it."""
    return replace(amount, doubt="unclear", text=", ".join((amount.text, *(a.text for a in left))))


def _each(fragment: Fragment, measure: Amount, mass: Amount) -> bool:
    """'2 portions of 180 g': whether a mass right behind several of a measure is the weight of each is not said."""
    amounts = [c.amount for c in fragment.amounts]
    several = measure.kind in ("measure", "count") and measure.value > 1 and measure.unit != "box"
    of = fragment.amounts[0].text.lower().endswith(" of")
    return several and of and amounts[:2] == [measure, mass] and fragment.amounts[0].end == fragment.amounts[1].start


def _times(fragment: Fragment) -> int:
    """How many times the amounts were weighed out: 'twice' is 2."""
    words = {c.text.lower() for c in fragment.chunks}
    if any(word in pack()["twice_to_be_sure"] for word in words):
        return 1
    return 2 if "twice" in words else 3 if "thrice" in words else 1


def _repeated(amount: Amount, times: int) -> Amount:
    """A mass so many times; any other amount as it is."""
    if amount.kind != "mass" or amount.grams is None or amount.doubt or times == 1:
        return amount
    return replace(
        amount, value=times * amount.grams, unit="g", grams=times * amount.grams, text=f"{times} x {amount.text}"
    )
