"""Frames for what the writer wants kept: what one of their own measures weighs, and a vessel's weight put right."""

from __future__ import annotations

from bot.language.chunks import Chunk
from bot.language.fact_meanings import SaveHabit, SaveMeasure, SaveTare
from bot.language.food_slots import own_measure
from bot.language.frames.spans import outside, spans
from bot.language.intents import templated
from bot.language.intents.keep import LEAST_BARE_G
from bot.language.meanings import Meaning, NotMine
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.recalling import named_by
from bot.language.scene import Scene
from bot.language.told import Amount
from bot.language.usual import VesselHolds

KEPT = (SaveMeasure, SaveTare, VesselHolds, SaveHabit)
MOST_CHUNKS = 30
LEAST_VESSEL_G = 20.0
MOST_TIMES = 2.5
"""A vessel's weight is put right by at most so many times; with food in it it weighs more."""


def told_to_keep(scene: Scene) -> list[Meaning] | None:
    """'please store: my mug holds 260 ml', 'the pot weighs 980 g, remember that': what is told without the request."""
    message = scene.message
    if not scene.cue("says_to_keep", "keeps_in_mind") or len(message.chunks) > MOST_CHUNKS:
        return None
    if message.asks or message.when.future or scene.cue("condition", "do_not"):
        return None
    rest = _trimmed(outside(message, spans(message, "says_to_keep", "keeps_in_mind")))
    if not rest.chunks or not rest.contiguous:
        return None
    told = templated(rest)
    return told if told is not None and all(isinstance(each, KEPT) for each in told) else None


def _trimmed(message: Message) -> Message:
    """A stretch without the signs and the words for joining at either end."""
    start, end = 0, len(message.chunks)
    while start < end and _only_joins(message.chunks[start]):
        start += 1
    while end > start and _only_joins(message.chunks[end - 1]):
        end -= 1
    return message.part(start, end)


def _only_joins(chunk: Chunk) -> bool:
    return chunk.kind in ("sign", "newline") or chunk.text.lower() in pack()["beside_keeping"]


def measure_kept(scene: Scene) -> list[Meaning] | None:
    """'one scoop from my whey is 30 g', 'my rye weighs 38 g per slice', 'save this: my ladle holds 145 g of soup'."""
    message = scene.message
    if message.asks or message.when.future or message.of("moment", "hash", "energy", "macro", "price", "tare"):
        return None
    kept = scene.cue("keeps_in_mind")
    if not (kept or scene.cue("measure_is")) or len(message.chunks) > MOST_CHUNKS or scene.cue("condition", "do_not"):
        return None
    if scene.cue("i_ate", "was_eaten"):
        return None
    weights = [c for c in scene.amounts if c.amount is not None and _is_weight(c.amount)]
    others = [c for c in scene.amounts if c not in weights]
    names = [c for c in message.of("food", "batch") if not _describes_measure(message, c)]
    if len(weights) != 1 or len(names) != 1 or len(others) > 1:
        return None
    weight, measure = weights[0].amount, _measure(message, others, names[0])
    if weight is None or weight.doubt is not None or measure is None:
        return None
    if not (kept or (_says_what_it_is(message) and _speaks_of_ones_own(message))):
        return None
    if message.has_any(message.words.people | message.words.pronouns - pack()["things_too"].words):
        return [NotMine(why="others")]  # 'my sister's ladle holds 200 g'
    name = named_by(message, names[0])
    return None if name.unknown else [SaveMeasure(name=name, measure=measure.unit, count=measure.value, amount=weight)]


def _describes_measure(message: Message, food: Chunk) -> bool:
    """Whether a food only says which measure it is: 'my cereal bowl'."""
    line = message.line
    return food.end < len(line.tokens) and any(True for _ in own_measure(line, food.end, food.end + 1))


def _is_weight(amount: Amount) -> bool:
    return amount.kind == "mass" or (amount.kind == "bare" and amount.value > LEAST_BARE_G)


def _measure(message: Message, others: list[Chunk], name: Chunk) -> Amount | None:
    """The measure that is spoken of: 'one scoop', 'my ladle', 'per slice'; None for several or none."""
    if others:
        told = others[0].amount
        named = told is not None and told.kind in ("measure", "count", "volume") and told.unit
        return told if named and told is not None and told.unit not in pack()["box"] else None
    line, found = message.line, dict[str, Amount]()
    for chunk in message.of("word"):
        for amount, _ in own_measure(line, chunk.start, chunk.start + 1):
            if isinstance(amount, Amount) and chunk.start not in range(name.start, name.end):
                found[amount.unit] = amount
    return next(iter(found.values())) if len(found) == 1 else None


def _says_what_it_is(message: Message) -> bool:
    """Whether the weight stands behind a verb in the present: what was weighed once is told as past."""
    return bool(pack()["measure_is"].found(message.wording)) and not pack()["was_weighed"].found(message.wording)


def _speaks_of_ones_own(message: Message) -> bool:
    """Whether it is a measure or a food of the writer's own, or each of many."""
    return bool(pack()["ones_own"].found(message.wording))


def vessel_put_right(scene: Scene) -> list[Meaning] | None:
    """'I had the green pot wrong, it weighs 998 g', 'the rice pot is 988 actually, I misread'."""
    message = scene.message
    vessels = {c.tare.name: c for c in message.of("tare") if c.tare is not None}
    weights = [c.amount for c in scene.amounts if c.amount is not None and _is_weight(c.amount)]
    if len(vessels) != 1 or len(weights) != 1 or len(scene.amounts) != 1 or message.asks or message.when.future:
        return None
    if (
        scene.foods
        or scene.named
        or not scene.cue("was_wrong", "vessel_was_wrong", "opens_fix", "should_have_told", "told_before")
    ):
        return None
    (name, chunk), weight = next(iter(vessels.items())), weights[0]
    known = chunk.tare.grams if chunk.tare is not None else None
    grams = weight.grams if weight.grams is not None else weight.value
    if weight.doubt is not None or grams < LEAST_VESSEL_G or known is None or not _alike(grams, known):
        return None
    return [SaveTare(name=name, amount=weight)] if _is_vessels_weight(message, chunk) else None


def _alike(grams: float, known: float) -> bool:
    return known / MOST_TIMES <= grams <= known * MOST_TIMES


def _is_vessels_weight(message: Message, vessel: Chunk) -> bool:
    """Whether nothing is weighed in the vessel or without it: 'in the rice pot', '988 g with the rice pot'."""
    before = message.line.plain[max(0, vessel.start - 2) : vessel.start]
    return not any(word in pack()["weighed_with"] for word in before)
