"""Readings of a scale while a vessel is filled or emptied: running totals, and a jar before and after."""

from __future__ import annotations

from itertools import pairwise

from bot.language.chunks import Chunk
from bot.language.number_words import number_words
from bot.language.told import Amount
from bot.language.weighed import Said, grams_of, less, text_of, weighs

STATED_G = 0.5
"""How near a number is to a weight on record that it repeats."""
SMALL_STEP_G = 10.0
"""Below this the next number on a scale may as well be a weight by itself: it is asked about."""
LEAST_FILLED = 2
"""Foods behind an empty vessel from which on growing numbers are totals, whatever parts them."""


def filled_step_by_step(said: Said) -> list[Chunk] | None:
    """'bowl 310 oats 390 yog 590', 'empty bowl is 310, with the yogurt it's 500 and with the berries 575'."""
    telling = [c for c in said.chunks if weighs(c) or c.kind in ("food", "batch") or said.vessel(c)]
    vessel = next((n for n, c in enumerate(telling) if said.vessel(c)), None)
    if vessel is None or not any(c.kind == "food" for c in telling):
        return None
    rest = telling[vessel + 1 :]
    while rest and said.vessel(rest[0]):
        rest = rest[1:]
    if not rest or not weighs(rest[0]) or any(not said.vessel(c) for c in telling[:vessel]):
        return None
    empty, steps = rest[0], _steps([c for c in rest[1:] if not said.vessel(c)])
    totals = [empty, *steps]
    if len(steps) < LEAST_FILLED or any(grams_of(b) - grams_of(a) < SMALL_STEP_G for a, b in pairwise(totals)):
        return None
    first = said.chunks[said.chunks.index(empty) + 1 :][0].start
    dropped = [c for c in said.chunks if c.start < first and c.kind != "moment"]
    dropped += [c for weight in steps for c in said.before("up_to", weight)]
    return said.but(dropped, {b.start: less(b, a) for a, b in pairwise(totals)})


def _steps(telling: list[Chunk]) -> list[Chunk]:
    """The weight after each food; empty if a food or a weight is left over."""
    found: list[Chunk] = []
    named = False
    for chunk in telling:
        if chunk.kind in ("food", "batch"):
            named = True
        elif not named:
            return []
        else:
            found.append(chunk)
            named = False
    return [] if named else found


def filled_up_to(said: Said) -> list[Chunk] | None:
    """'bowl zeroed: oats 55, milk to 240, blueberries to 297': 'to 240' adds the difference to 240."""
    upto = [c for c in said.weights if said.behind("up_to", c.start)]
    if not upto or any(c.kind == "batch" for c in said.chunks):
        return None
    cumulative = said.anywhere("untared", said.chunks)
    if (said.weights[:1] == upto[:1] or len(upto) < len(said.weights) - 1) and cumulative:
        upto = said.weights
    if said.weights[:1] == upto[:1] and not cumulative:
        return None
    if any(grams_of(a) >= grams_of(b) for a, b in pairwise(said.weights)):
        return None
    foods = [c for c in said.chunks if c.kind == "food"]
    if len(foods) != len(said.weights) or any(f.start > w.start for f, w in zip(foods, said.weights, strict=True)):
        return None
    changed: dict[int, Amount] = {}
    shown = 0.0
    for weight in said.weights:
        if weight in upto:
            grams = grams_of(weight) - shown
            text = f"{text_of(weight)} less {shown:g}" if shown else text_of(weight)
            changed[weight.start] = Amount(kind="mass", value=grams, unit="g", grams=grams, text=text)
            shown = grams_of(weight)
        else:
            shown += grams_of(weight)
    words = [c for weight in upto for c in said.before("up_to", weight)]
    first = next(c for c in said.chunks if c.kind in ("food", "state"))
    dropped = [c for c in said.chunks if c.start < first.start and c.kind != "moment"]
    return said.but([*words, *dropped], changed)


def totals_from_zero(said: Said) -> list[Chunk] | None:
    """'plate zeroed: salmon 5.3 oz, then 8.1 with potatoes, then 10.4 after broccoli': each total less the one before.

    Numbers without 'then' may each be of a scale set to zero again.
    """
    zeroed = [c for c in said.chunks if c.kind != "food" and said.says("zeroed", c.start)]
    told = [c for c in said.chunks if c.kind == "amount"]
    if len(zeroed) != 1 or len(told) < LEAST_FILLED or any(c.kind in ("batch", "tare") for c in said.chunks[1:]):
        return None
    grams = _in_the_first_unit(told)
    if not grams or any(a >= b for a, b in pairwise(grams)):
        return None
    later = [
        max((n for n, c in enumerate(said.chunks) if c.start < w.start and said.says("then_shows", c.start)), default=0)
        for w in told[1:]
    ]
    cuts = [0, *later, len(said.chunks)]
    steps = [said.chunks[a:b] for a, b in pairwise(cuts)]
    if any(sum(c.kind == "amount" for c in s) != 1 or all(c.kind != "food" for c in s) for s in steps):
        return None
    changed = {told[0].start: _mass(grams[0], text_of(told[0]), told[0])}
    changed |= {
        c.start: _mass(b - a, f"{text_of(c)} less {text_of(was)}", told[0])
        for (was, c), (a, b) in zip(pairwise(told), pairwise(grams), strict=True)
    }
    first = next(c for c in said.chunks if c.kind in ("food", "state", "amount"))
    dropped = [c for c in said.chunks if c.start < first.start and c.kind != "moment"]
    dropped += [
        c
        for n, w in zip(later, told[1:], strict=True)
        for c in said.chunks[n:]
        if c.start < w.start and c.kind == "word"
    ]
    dropped += [c for w in told for c in said.chunks if w.end <= c.start < (said.says("with_added", w.end) or w.end)]
    return said.but(dropped, changed)


def _in_the_first_unit(told: list[Chunk]) -> list[float]:
    """The grams of some readings, bare numbers in the unit of the first; empty where one is no reading."""
    first = told[0].amount
    if first is None or first.kind not in ("mass", "bare"):
        return []
    factor = first.grams / first.value if first.kind == "mass" and first.grams and first.value else 1.0
    found = []
    for chunk in told:
        amount = chunk.amount
        if amount is None or amount.doubt or amount.kind not in ("mass", "bare"):
            return []
        found.append(amount.grams if amount.grams is not None else amount.value * factor)
    return found


def _mass(grams: float, text: str, like: Chunk) -> Amount:
    """The mass in the unit of the reading that it is like."""
    told = like.amount
    if told is None or told.kind != "mass" or not told.grams:
        return Amount(kind="mass", value=grams, unit="g", grams=grams, text=text)
    return Amount(kind="mass", value=grams * told.value / told.grams, unit=told.unit, grams=grams, text=text)


def used_up(said: Said) -> list[Chunk] | None:
    """'pb jar 611 -> 583', 'the jar of honey was 412 and after I'd helped myself it was 398': the difference."""
    for first, second in pairwise(said.weights):
        if grams_of(first) <= grams_of(second) or said.plans(said.chunks):
            continue
        at, until = said.chunks.index(first), said.chunks.index(second)
        between = said.chunks[at + 1 : until]
        if any(c.kind in ("food", "batch") or weighs(c) for c in between) or not said.anywhere("now_shows", between):
            continue
        start = at
        while start and _of_the_vessel(said, said.chunks[start - 1]):
            start -= 1
        beside = [*said.chunks[start:at], *between]
        vessels = [c for c in beside if said.vessel(c) or _one_vessel(said, c)]
        foods = [c for c in said.chunks[start:at] if c.kind == "food"]
        plainly = len(said.weights) == 2 and len(foods) == 1 and all(said.says("now_shows", c.start) for c in between)
        if any(abs(each.grams - grams_of(first)) < STATED_G for each in said.line.around.recorded()):
            plainly = False  # what is on record becomes the second weight
        if not (vessels or plainly) or len(foods) > 1:
            continue
        behind = [said.chunks[i + 1] for i in map(said.chunks.index, vessels) if i + 1 < len(said.chunks)]
        of = [c for c in behind if c.text.lower() in number_words().of]
        beside += [c for c in said.chunks if c.start == second.end and said.says("now_shows", c.start)]
        kept = [c for c in beside if c.kind in ("moment", "food", "state") and c not in vessels]
        words = [c for c in beside if c not in kept]
        return said.but([second, *words, *of], {first.start: less(first, second)})
    return None


def _of_the_vessel(said: Said, chunk: Chunk) -> bool:
    """Whether a chunk before the first weight may belong to what was on the scale."""
    return _one_vessel(said, chunk) or (chunk.kind != "amount" and chunk.text not in (",", ";", "+"))


def _one_vessel(said: Said, chunk: Chunk) -> bool:
    """'jar of': an amount only in form."""
    amount = chunk.amount
    return (
        amount is not None and amount.kind == "measure" and amount.value == 1 and amount.unit in said.line.words.vessels
    )
