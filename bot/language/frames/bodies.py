"""The frame for a person's own weight, told in any word order and among other words."""

from __future__ import annotations

from bot.language.bodies import BODY_UNITS, Body, body
from bot.language.chunks import Chunk
from bot.language.fact_meanings import BodyWeight
from bot.language.frames.eaters import Eaters
from bot.language.frames.serving import seen
from bot.language.frames.stretch import cut_at
from bot.language.meanings import Meaning, NotMine
from bot.language.narrated import is_creature
from bot.language.pack import pack, plain
from bot.language.scene import Scene
from bot.language.text import singular
from domain import quantities
from domain.bodyweight import LEAST_KG, MOST_KG

MOST_CHUNKS = 40


def on_the_scales(scene: Scene) -> list[Meaning] | None:
    """'stood on the scales and they said 68.2 kilos, so there', 'I weigh 162 and a half now, pounds', '85.7 kg me'."""
    message = scene.message
    if message.asks or message.when.future or scene.named or message.of("hash", "tare", "energy", "macro", "part"):
        return None
    if message.has_any(message.words.vessels - message.words.loose_units) or scene.cue("others_bodies"):
        return None
    found = _only_body(scene)
    if found is None:
        return None
    told, start, end = found
    if told.kg is None or not LEAST_KG <= told.kg <= MOST_KG or any(is_weighed(scene, food) for food in scene.foods):
        return None
    only_when = not scene.foods and _says_only_when(scene)
    if not (scene.cue("on_the_scales", "weighed_as_a_person", "weight_aim") or only_when) or scene.cue("lifting"):
        return None
    sentence = next((Scene(part) for part in message.sentences() if part.chunks[-1].end > start), scene)
    if sentence.cue("weight_aim"):
        return [NotMine(why="body_change")]
    if sentence.cue("weight_change_sure", "condition"):
        return None
    if is_of_another(scene, start):
        return None
    if any(_weighs(c) and not start <= c.start < end for c in message.chunks):
        return None
    return [BodyWeight(value=told.value, unit=told.unit, kg=told.kg, when=message.when)]


def weighed_together(scene: Scene) -> list[Meaning] | None:
    """'me 61.2 kg, Dan 84 kg', "Dad is 95 kilos, I'm 81.2": of several people's weights the writer's, or of none."""
    message = scene.message
    foods = [c for c in scene.foods if not is_creature(message, c.start, alone=True)]
    if message.asks or message.when.future or scene.named or foods or len(message.chunks) > MOST_CHUNKS:
        return None
    if message.of("hash", "tare", "energy", "macro", "part", "price", "batch") or scene.cue("condition", "weight_aim"):
        return None
    others, named, weights = False, False, 0
    mine: list[Body] = []
    for part in cut_at(message, pack()["between_eaters"]):
        told = seen(part)
        bodies = _all_bodies(told.scene)
        if not bodies:
            continue
        kg, weights = bodies[0][0].kg, weights + 1
        myself = any(told.word(n) in pack()["weighed_myself"] for n in told.at)
        if kg is not None and kg > MOST_KG and not (myself or _says_weigh(told)) and len(bodies) == 1:
            others = True  # 'the truck weighs 35 tonnes'
            continue
        if len(bodies) > 1 or kg is None or not LEAST_KG <= kg <= MOST_KG or told.cue("weight_change", "lifting"):
            return None
        if myself:
            mine.append(bodies[0][0])
        elif told.person is not None and told.word(told.person[0]) not in pack()["things_too"]:
            others = True  # but 'them scales' are those
        elif _is_name(told):
            named = True
        else:
            return None
    beside = others or named or _speaks_of_another(scene)
    if len(mine) > 1 or (mine and not beside):
        return None
    if not mine:
        # 'I stood on the scales and they said 68.2 kilos' is for the frames that read scales
        theirs = (others or weights > 1) and not scene.cue("weighed_myself", "my_body")
        return [NotMine(why="others")] if theirs else None
    told_one = mine[0]
    return [BodyWeight(value=told_one.value, unit=told_one.unit, kg=told_one.kg, when=message.when)]


def _says_weigh(told: Eaters) -> bool:
    """Whether a stretch begins with the writer's weighing: 'weigh 1800 lb' is a slip, and nobody else's."""
    return pack()["i_weigh"].end(told.message.line.plain, told.at[0]) is not None


def _is_name(told: Eaters) -> bool:
    """Whether a stretch begins with an unknown word right before a weight: 'Dan 84 kg'."""
    first = told.at[0]
    alone = any(c.start == first + 1 for c in told.scene.amounts)
    return alone and told.message.tokens[first].kind == "word" and not told.is_known(first)


def _speaks_of_another(scene: Scene) -> bool:
    """Whether somebody else is spoken of beside the writer's own weight: 'the nurse weighed me'."""
    return seen(scene.message).person is not None


def _only_body(scene: Scene) -> tuple[Body, int, int] | None:
    """The only weight that can be a person's, as (value, first token, end); with a unit that stands apart from it."""
    bodies = _all_bodies(scene)
    if len(bodies) != 1:
        return None
    told, start, end = bodies[0]
    if told.unit is None:
        units = loose_units(scene)
        if len(units) != 1:
            return None
        told = Body(told.value, units[0], quantities.grams(told.value, units[0]) / 1000)
    return told, start, end


def _all_bodies(scene: Scene) -> list[tuple[Body, int, int]]:
    """The weights that can be a person's, as (value, first token, end)."""
    bodies: list[tuple[Body, int, int]] = []
    for chunk in scene.amounts:
        if not bodies or chunk.start >= bodies[-1][2]:  # '11 st 5 and a half' is one weight
            bodies.extend(_bodies(scene, chunk.start))
    return bodies


def loose_units(scene: Scene) -> list[str]:
    """The units of body weight that stand by themselves: '188 flat this morning (lbs)', 'one eighty even. Pounds.'"""
    read = scene.message.line.amounts.unit
    units = [read(c.start) for c in scene.message.of("word")]
    return [unit[1] for unit in units if unit is not None and unit[1] in BODY_UNITS]


def is_weighed(scene: Scene, food: Chunk) -> bool:
    """Whether a food may be what weighs so much: not the coffee of 'before coffee'."""
    line = scene.message.line
    before = [line.plain[n] for n in range(max(food.start - 3, 0), food.start)]
    return not any(word in pack()["around_a_meal"] for word in before)


def is_of_another(scene: Scene, at: int) -> bool:
    """Whether the sentence of the weight names somebody else last before it: 'my father weighed 102 kg'."""
    before, named, oneself = _subjects(scene, at)
    if not named or pack()["reading_for_me"].found(before):
        return False
    return not oneself or (oneself[-1] < named[-1] and named[-1] > 0)


def is_of_oneself(scene: Scene, at: int) -> bool:
    """Whether it names the writer last: 'the nurse had me on her scales, and I weigh ten stone four'."""
    _, named, oneself = _subjects(scene, at)
    return bool(oneself) and (not named or oneself[-1] > named[-1])


def _subjects(scene: Scene, at: int) -> tuple[list[str], list[int], list[int]]:
    """The words of the sentence before a token, and where among them others and where the writer are named."""
    sentence = next((s for s in scene.message.sentences() if s.chunks[0].start <= at < s.chunks[-1].end), scene.message)
    before = [plain(t.text) for t in sentence.tokens[sentence.chunks[0].start : at]]
    people = sentence.words.people | sentence.words.pronouns - pack()["things_too"].words
    named = [n for n, w in enumerate(before) if singular(w) in people]
    return before, named, [n for n in range(len(before)) if pack()["of_oneself"].ends(before, n)]


def _says_only_when(scene: Scene) -> bool:
    """'before the shower 91.6kg', 'after the gym, 74.2 kg': nothing but when a weight was read that no food has."""
    words, said = scene.message.words, scene.said
    told = [c for c in scene.amounts if c.amount is not None and c.amount.kind == "mass"]
    numbers = {w for c in told for t in scene.message.tokens[c.start : c.end] for w in (t.text,)}
    if len(told) != 1 or told[0].amount is None or (told[0].amount.grams or 0.0) < LEAST_KG * 1000:
        return False
    rest, n = [], 0
    while n < len(said):
        end = pack()["around_then"].end(said, n)
        # the noun behind it is a time or a place, whatever it is
        n = end + 1 if end is not None else n + 1
        if end is None:
            rest.append(said[n - 1])
    return all(w in numbers or not w.isalpha() or words.knows(w) for w in rest)


def _weighs(chunk: Chunk) -> bool:
    return chunk.amount is not None and chunk.amount.kind in ("mass", "bare", "volume")


def _bodies(scene: Scene, at: int) -> list[tuple[Body, int, int]]:
    """The weight at a token as (value, first token, end), if it can be a person's; else empty."""
    last = scene.message.chunks[-1].end
    found = [(value, end) for value, end in body(scene.message.line, at, last) if isinstance(value, Body)]
    return [(value, at, end) for value, end in found[-1:]]
