"""The frame for what the bathroom scales showed, told with or without a unit and beside remarks."""

from __future__ import annotations

from bot.language.bodies import BODY_UNITS, Body, body
from bot.language.chunks import Chunk
from bot.language.fact_meanings import BodyWeight
from bot.language.frames.bodies import is_of_another, is_of_oneself, is_weighed, loose_units
from bot.language.meanings import Meaning, NotMine
from bot.language.pack import pack
from bot.language.scene import Scene
from domain.bodyweight import LEAST_KG, MOST_KG
from domain.quantities import grams

MOST_CHUNKS = 30
MOST_BETWEEN = 2
"""Words between whose weight it is and 'weight'."""
SINCE_THE_LATEST = 0.03
"""Relative difference from the latest weight on record that a number without any word for weighing oneself may have."""


def stood_on_the_scales(scene: Scene) -> list[Meaning] | None:
    """'stepped on at 83.1', '83.4 on the scales, me not food', '10 st 3 on the bathroom scales, down a bit'."""
    message = scene.message
    if not scene.amounts or len(message.chunks) > MOST_CHUNKS:
        return None
    told_so = scene.cue("stood_on_scales", "me_not_food") or _in_stones(scene) or _my_weight(scene)
    if not told_so and not _like_the_latest(scene):
        return None
    if message.asks or message.when.future or scene.named or any(is_weighed(scene, food) for food in scene.foods):
        return None
    if message.of("hash", "tare", "energy", "macro", "part", "price", "batch"):
        return None
    if scene.cue("condition", "lifting", "weighed_things"):
        return None
    if message.has_any(message.words.vessels - message.words.loose_units):
        return None
    found = _persons(scene)
    if len(found) != 1 or (found[0][0].unit is None and loose_units(scene)):
        return None  # 'i weigh 158 and a half, pounds' has its unit elsewhere
    if scene.cue("weight_aim"):
        return [NotMine(why="body_change")]
    return _own(scene, found[0])


def _own(scene: Scene, found: tuple[Body, int, int]) -> list[Meaning] | None:
    """The weight, unless it is only planned, somebody else's or something else's, or another number stands beside."""
    message, (told, start, end) = scene.message, found
    if any(c.start < start and c.text.lower() in message.words.plans for c in message.chunks):
        return None
    mine = scene.cue("me_not_food") or is_of_oneself(scene, start)
    if not mine and scene.cue("others_bodies", "animals"):
        return [NotMine(why="others")]
    others = [c for c in scene.amounts if not start <= c.start < end]
    if any(not _is_a_change(scene, c) for c in others) or (not mine and is_of_another(scene, start)):
        return None
    if not mine and _is_of_a_thing(scene, start):
        return None
    return [BodyWeight(value=told.value, unit=told.unit, kg=told.kg, when=message.when)]


def _my_weight(scene: Scene) -> bool:
    """Whether a weight is called the writer's own or only 'weight': 'my fasting weight', 'off duty. weight 58.3'."""
    said = scene.message.line.plain[scene.message.chunks[0].start : scene.amounts[0].start]
    if any(word in pack()["other_weights"] for word in said):
        return False
    if said and said[-1] in pack()["weight_word"] and (len(said) == 1 or not said[-2].isalnum()):
        return True
    owners = [n for n, word in enumerate(said) if word in pack()["own_possessives"]]
    return any(word in pack()["weight_word"] for n in owners for word in said[n + 1 : n + MOST_BETWEEN + 2])


def _like_the_latest(scene: Scene) -> bool:
    """Whether it tells nothing but when, and a number that is about the writer's latest weight: '73.9 this morning'.

    With a unit of people's weights at the beginning it may go on in any words: '83.1 kg, coming down nicely'.
    """
    message = scene.message
    amount = scene.amounts[0].amount
    latest = message.around.body_kg()
    if latest is None:
        return False
    if amount is not None and amount.kind == "mass" and amount.grams is not None:
        first = message.chunks[:2]
        begins = first[0] is scene.amounts[0] and (len(first) == 1 or first[1].kind in ("sign", "newline"))
        return begins and not scene.foods and abs(amount.grams / 1000 - latest) <= SINCE_THE_LATEST * latest
    if (
        len(scene.amounts) != 1
        or amount is None
        or amount.kind != "bare"
        or any(w.shown for w in message.around.waiting)
    ):
        return False
    timed = bool(message.of("moment")) and amount.value % 1 != 0
    if scene.cue("other_weights") or not (timed or scene.cue("weighed_oneself")):
        return False
    if any(not message.words.knows(c.text.lower()) for c in message.of("word")) or scene.cue(
        "tells_of_eating", "i_ate"
    ):
        return False
    return any(abs(grams(amount.value, unit) / 1000 - latest) <= SINCE_THE_LATEST * latest for unit in BODY_UNITS)


def _in_stones(scene: Scene) -> bool:
    """Whether a weight is told in stones, as only people's are."""
    line = scene.message.line
    units = [line.amounts.unit(n) for c in scene.amounts[:1] for n in range(c.start, c.end)]
    return any(unit is not None and unit[1] == "st" for unit in units)


def _persons(scene: Scene) -> list[tuple[Body, int, int]]:
    """The weights that a person can have, each with the first token and the end."""
    found: list[tuple[Body, int, int]] = []
    last = scene.message.chunks[-1].end
    for chunk in scene.amounts:
        if found and chunk.start < found[-1][2]:
            continue
        read = [(value, end) for value, end in body(scene.message.line, chunk.start, last) if isinstance(value, Body)]
        if read and _can_be(read[-1][0]):
            found.append((read[-1][0], chunk.start, read[-1][1]))
    return found


def _can_be(told: Body) -> bool:
    """Whether it may be a person's weight; a bare number in kilograms or pounds."""
    if told.kg is not None:
        return LEAST_KG <= told.kg <= MOST_KG
    return LEAST_KG <= told.value <= MOST_KG * 1000 / grams(1, "lb")


def _is_a_change(scene: Scene, chunk: Chunk) -> bool:
    """Whether an amount stands in a clause that compares: '…, half a pound less than Friday'."""
    message = scene.message
    at = message.index(chunk)
    start = max((n for n, c in enumerate(message.chunks[:at]) if c.kind in ("sign", "newline")), default=-1) + 1
    end = next(
        (n for n, c in enumerate(message.chunks) if n > at and c.kind in ("sign", "newline")), len(message.chunks)
    )
    part = Scene(message.part(start, end))
    return start > 0 and part.cue("weight_change", "weight_change_sure", "was_before")


def _is_of_a_thing(scene: Scene, at: int) -> bool:
    """Whether something else is weighed: 'the parcel was 31 on the scales'; but 'the scales said 71.9'."""
    said = scene.message.line.plain
    first = scene.message.chunks[0].start
    if said[first] not in pack()["the_recorded"] and said[first] not in pack()["articles"]:
        return False
    subject = said[first + 1 : min(first + 3, at)]
    return not any(word in pack()["persons_scales"] for word in subject)
