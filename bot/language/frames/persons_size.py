"""Frames for weights that only a person can have, told without a word for weighing oneself or beside food."""

from __future__ import annotations

from bot.language.bodies import Body, body
from bot.language.chunks import Chunk
from bot.language.fact_meanings import BodyWeight
from bot.language.frames.bodies import on_the_scales
from bot.language.frames.scales import stood_on_the_scales
from bot.language.intents import templated
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.scene import Scene
from bot.language.text import singular
from domain.bodyweight import LEAST_KG, MOST_KG
from domain.reference.words import is_action

LEAST_BARE_KG = 35.0
"""The least weight that is a person's without any word that says so: sacks and cases weigh less."""
MOST_BEFORE = 8
"""Words before a weight that tell of nothing else."""
MOST_CUTS = 12


def weighed_alone(scene: Scene) -> list[Meaning] | None:
    """'91.3 kg after knock-off, boots off', '77 kilos, no shoes': the weight comes first and nothing has it."""
    message = scene.message
    if message.asks or message.when.future or scene.named or not scene.amounts or _tells_more(scene):
        return None
    found = persons_weights(scene)
    if len(found) != 1 or any(not found[0][1] <= c.start < found[0][2] for c in scene.amounts if _weighs(c)):
        return None
    told, start, end = found[0]
    if told.kg is None or told.kg < LEAST_BARE_KG or not _comes_first(scene, start) or not _ends_with(scene, end):
        return None
    if scene.cue("weight_aim", "weight_change_sure"):
        return None
    return [BodyWeight(value=told.value, unit=told.unit, kg=told.kg, when=message.when)]


def weighed_beside(message: Message) -> tuple[list[Meaning], Message] | None:
    """A person's own weight and what is told beside it: 'I was 64.9 kg this morning, and after that 150 g yoghurt'."""
    scene = Scene(message)
    if not message.of("food") or message.asks:
        return None
    found = persons_weights(scene)
    if len(found) != 1:
        return None
    _, start, end = found[0]
    cuts = [i for i, c in enumerate(message.chunks) if c.kind == "newline" or c.text.lower() in pack()["parts_told"]]
    for i in cuts[:MOST_CUTS]:
        left, right = message.part(0, i), message.part(i + 1, len(message.chunks))
        if not left.chunks or not right.chunks:
            continue
        first = left.chunks[0].start <= start and end <= left.chunks[-1].end
        own, rest = (left, right) if first else (right, left)
        if not rest.of("amount") or not rest.of("food", "batch") or own.of("food", "batch"):
            continue
        told = _own_weight(own)
        if told is not None:
            return told, rest
    return None


def persons_weights(scene: Scene) -> list[tuple[Body, int, int]]:
    """The weights with a unit that a person can have, each with the first token and the end."""
    found: list[tuple[Body, int, int]] = []
    if not scene.amounts:
        return found
    line, last = scene.message.line, scene.message.chunks[-1].end
    for chunk in scene.amounts:
        if found and chunk.start < found[-1][2]:
            continue
        read = [(value, end) for value, end in body(line, chunk.start, last) if isinstance(value, Body)]
        if read and read[-1][0].kg is not None and LEAST_KG <= read[-1][0].kg <= MOST_KG:
            found.append((read[-1][0], chunk.start, read[-1][1]))
    return found


def _own_weight(part: Message) -> list[Meaning] | None:
    """The body weight that a part of a message tells, if that is all it tells."""
    scene = Scene(part)
    for found in (templated(part), stood_on_the_scales(scene), on_the_scales(scene), weighed_alone(scene)):
        if found and all(isinstance(meaning, BodyWeight) for meaning in found):
            return list(found)
    return None


def _tells_more(scene: Scene) -> bool:
    """Whether it tells of other things that weigh so much, or of figures and numbers that are none of a person's."""
    message = scene.message
    if message.of("hash", "tare", "energy", "macro", "part", "price", "batch"):
        return True
    if message.has_any(message.words.vessels - message.words.loose_units) or message.has_any(message.words.shopping):
        return True
    return scene.cue("lifting", "weighed_things", "condition", "animals", "heavy_things")


def _comes_first(scene: Scene, start: int) -> bool:
    """Whether nothing but times, remarks and the writer stand before the weight."""
    message = scene.message
    people = message.words.people | message.words.pronouns
    before = [c for c in message.chunks if c.start < start]
    if len(before) > MOST_BEFORE or any(c.kind not in ("word", "sign", "moment", "newline") for c in before):
        return False
    words = [c.text.lower() for c in before if c.kind == "word"]
    last = message.line.plain[start - 1] if before else ""
    return (
        last not in pack()["articles"]
        and not any(singular(word) in people or word in pack()["more_people"] for word in words)
        and all(message.words.knows(word) or word in pack()["aside"] or is_action(word) for word in words)
        and not any(word in message.words.plans for word in words)
    )


def _ends_with(scene: Scene, end: int) -> bool:
    """Whether nothing is told to weigh so much: 'of' and a noun right behind the weight are its owner."""
    message = scene.message
    behind = next((c for c in message.chunks if c.start >= end), None)
    if behind is None or behind.kind in ("sign", "newline", "moment"):
        return True
    if behind.kind != "word" or behind.text.lower() in pack()["of_what"]:
        return False
    return message.words.knows(behind.text.lower()) or behind.text.lower() in pack()["aside"]


def _weighs(chunk: Chunk) -> bool:
    return chunk.amount is not None and chunk.amount.kind in ("mass", "bare", "volume")
