"""Frames for the cooked weight of a batch and for what is poured off it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.batch_meanings import CookBatch, PourOff
from bot.language.chunks import Chunk
from bot.language.frames.spans import is_one
from bot.language.frames.stretch import as_mass
from bot.language.frames.vessel_in_it import vessel_in_it
from bot.language.frames.vessels import tares
from bot.language.intents.readings import has_ingredient, vessel_taken_off
from bot.language.meanings import Meaning
from bot.language.pack import pack, plain
from bot.language.scene import TELLING, Scene, ref_of
from bot.language.surroundings import KnownBatch, worked_on
from bot.language.told import Amount, TareRef
from domain.foods import State

LEAST_OF_RAW, MOST_OF_RAW = 0.2, 3.0
"""What a cooked batch weighs at least and at most for what went in, water that nobody told and its pot included."""
LEAST_ALONE, MOST_ALONE = 0.5, 1.3
"""What it weighs for what went in where no word says that it is cooked."""
MORE_THAN_A_MEAL_G = 900.0
"""What nobody takes from a pot at once."""
LEAST_POT_G = 500.0
"""What a weight by itself is at least to be that of the pot just filled."""
LEAST_ALIKE = 3
"""Letters with which the short form of a name begins as the name: 'lasag'."""
LEAST_VESSEL_G = 50.0
"""What food is cooked in weighs at least."""
MOST_UNWEIGHED = 10
"""Chunks of a message that only says that a pot is done."""
MOST_BETWEEN = 4
"""Tokens between what was poured off and its weight."""


def cooked(scene: Scene) -> list[Meaning] | None:
    """'soups done. 3615 on the scale w the big pan, big pan 980 empty', 'dal's ready, no pot, 2030 on the nose'.

    It may say what was poured off, too: 'keema done 730 g, drained 30 g fat off it though, the 730 is after'.
    """
    raw = _to_be_weighed(scene) if scene.named or _is_full(scene) or tares(scene) is None else []
    without = vessel_taken_off(scene.message)
    vessels = [c.tare for c in scene.message.of("tare") if c.tare is not None and not without]
    if not vessels and len(scene.masses) == 1 and (included := vessel_in_it(scene)) is not None:
        vessels = [included]
    if len(raw) != 1 or scene.asks or scene.cue("foreseen"):
        return None
    with_vessel = vessels or (len(scene.masses) > 1 and scene.cue("the_vessel"))
    said = (
        scene.cue("done", "weighing_now") or _is_out(scene) or _is_all_of_it(scene, raw[0]) or _is_cooked(scene, raw[0])
    )
    if not said and not (scene.named and (with_vessel or without)):
        return None
    if scene.cue("portioned", "i_ate") or scene.message.of("hash") or not _all_inside(scene, raw[0]):
        return None
    off = poured_weights(scene)
    if len(off) > 1 or (off and scene.cue("before_pouring")):
        return None
    weights = sorted(in_one_unit(_different(scene, off)), key=_grams, reverse=True)
    poured = [a for c in off if (a := c.amount) is not None]
    if not weights or len(weights) > 2 or not (vessels or _fits(weights[0], raw[0])):
        return None
    spent = {_grams(a) for a in (*weights, *_different(scene, off), *poured)}
    told = [c.amount for c in scene.message.chunks if c.kind in TELLING]
    told = [a for a in told if a is None or not is_one(a)]
    if any(a is None or a.kind not in ("mass", "bare") or _grams(a) not in spent for a in told):
        return None
    tare = vessels[0] if vessels else None
    if len(weights) > 1:
        net = _grams(weights[0]) - _grams(weights[1])
        if (tare is None and not scene.cue("the_vessel", "empty")) or _grams(weights[1]) < LEAST_VESSEL_G:
            return None
        if raw[0].raw_g is not None and net < LEAST_OF_RAW * raw[0].raw_g:
            return None  # '9lb 8oz out the pot, shit no 9lb 3oz': the second is in place of the first
        tare = TareRef(name=tare.name if tare is not None else "pot", grams=_grams(weights[1]))
    weighed = CookBatch(batch=ref_of(raw), amount=weights[0], tare=tare)
    return [*(PourOff(batch=ref_of(raw), amount=a, fat=not scene.cue("watery")) for a in poured), weighed]


def _is_full(scene: Scene) -> bool:
    """'it's done, reads 3.2 kg in the dutch oven': more than the vessel weighs empty, and said to be cooked."""
    empty = dict(scene.message.around.tares)
    vessels = [c.tare for c in scene.message.of("tare") if c.tare is not None]
    known = [grams for v in vessels if (grams := v.grams or empty.get(v.name or ""))]
    heaviest = max(map(_grams, scene.masses), default=0.0)
    return scene.cue("done") and len(known) == 1 and heaviest > known[0] + LEAST_POT_G / 2


def done_unweighed(scene: Scene) -> list[Meaning] | None:
    """'the pot is cooked', 'chilli's ready!': its weight is still to come."""
    message = scene.message
    raw = _to_be_weighed(scene)
    if len(raw) != 1 or not (scene.named or scene.cue("the_pot")) or len(message.chunks) > MOST_UNWEIGHED:
        return None
    if scene.asks or message.when.future or not (scene.cue("is_done") or _is_out(scene)):
        return None
    if scene.amounts or scene.foods or message.of("hash", "energy", "macro", "price", "part"):
        return None
    if scene.cue("portioned", "i_ate", "foreseen", "negation", "a_box") or message.has_any(message.words.negations):
        return None
    return [CookBatch(batch=ref_of(raw))]


def _to_be_weighed(scene: Scene) -> list[KnownBatch]:
    """The batches that can be weighed now: raw ones, and those with something added since they were weighed."""
    if not scene.batches:
        return [] if _names_another(scene) else list(scene.message.around.at_work)
    raw = [b for b in scene.batches if not b.cooked]
    return list(worked_on(raw)) or [b for b in scene.batches if b.stirred]


def _names_another(scene: Scene) -> bool:
    """'adobo done, 1010 g': whether it begins with a word of no list, which is the name of no pot that is open."""
    first = scene.message.chunks[0] if scene.message.chunks else None
    if first is None or first.kind != "word" or not first.text.isalpha():
        return False
    said, behind = first.text.lower(), pack()["done"].end(scene.message.line.plain, first.end)
    if behind is None or scene.message.words.knows(said):
        return False
    called = [word for b in scene.message.around.at_work for word in b.name.lower().split()]
    return not any(word[:LEAST_ALIKE] == said[:LEAST_ALIKE] for word in called)


def _is_all_of_it(scene: Scene, batch: KnownBatch) -> bool:
    """Whether a weight can only be that of the whole pot: of one named more than a meal, or alone right after it."""
    if len(scene.amounts) != 1 or len(scene.masses) != 1 or batch.raw_g is None or scene.cue("puts_in", "empty"):
        return False
    grams = _grams(scene.masses[0])
    if not LEAST_ALONE * batch.raw_g <= grams <= MOST_ALONE * batch.raw_g:
        return False
    if scene.named:
        sure = any(c.batch is not None and c.batch.sure for c in scene.message.of("batch"))
        return sure and grams >= MORE_THAN_A_MEAL_G and not scene.cue("pot_begins") and not scene.message.of("state")
    alone = all(c.kind in ("amount", "sign") for c in scene.message.chunks)
    return alone and batch.spoken and grams >= LEAST_POT_G


def _is_cooked(scene: Scene, batch: KnownBatch) -> bool:
    """'Meatballs fried: 690 g': how a raw batch was cooked, and a weight that can be all of it."""
    told = [a for a in scene.masses if not is_one(a)]
    if batch.cooked or not scene.named or batch.raw_g is None or len(told) != 1 or scene.message.when.meal:
        return False
    states = scene.message.of("state")
    cooked_so = bool(states) and all(c.state is State.COOKED for c in states)
    return cooked_so and LEAST_ALONE * batch.raw_g <= _grams(told[0]) <= MOST_ALONE * batch.raw_g


def _is_out(scene: Scene) -> bool:
    """Whether 'out' or 'off' stands right behind the batch's name and ends what is said of it: 'loaf out, 838 g'."""
    line = scene.message.line
    for _, _, end in scene.named:
        behind = line.plain[end : end + 2]
        if behind and behind[0] in pack()["out_now"] and (len(behind) == 1 or not behind[1].isalpha()):
            return True
    return False


def _all_inside(scene: Scene, batch: KnownBatch) -> bool:
    """Whether all foods named are ingredients without a weight of their own.

    'with the spinach in, dal weighs 1010 now', 'pot roast: 790 g brisket and shallots after cooking'
    """
    message = scene.message
    listed = len(scene.foods) > 1 and len(scene.masses) == 1 and scene.cue("done")
    for food in scene.foods:
        name = message.vocabulary.resolve([t.text for t in message.tokens[food.start : food.end]], food.text.lower())
        inside = has_ingredient(message, ref_of([batch]), name) or food.text.lower() in pack()["pourable"]
        weighed = any(c.end == food.start or c.start == food.end for c in scene.amounts)
        if not inside or (weighed and not listed and food.text.lower() not in pack()["pourable"]):
            return False
    return True


def poured_weights(scene: Scene) -> list[Chunk]:
    """The weights of what was poured off: 'drained 30 g fat', '30 g of fat came off', 'skimmed off 40 g'."""
    if not scene.cue("pouring", "lifts"):
        return []
    words = scene.message.line.plain
    found = [c for c in scene.message.of("macro") if c.field == "fat_g" and c.amount is not None]
    for chunk in scene.amounts:
        before = words[max(0, chunk.start - MOST_BETWEEN) : chunk.start]
        said = pack()["pouring"].found(before) and scene.cue("pourable")
        if said or pack()["pourable"].found(words[chunk.end : chunk.end + 2]):
            found.append(chunk)
    return found


def _different(scene: Scene, off: list[Chunk]) -> list[Amount]:
    """The weights other than those poured off, without duplicates."""
    found: list[Amount] = []
    for chunk in scene.amounts:
        amount = chunk.amount
        if amount is None or chunk in off or amount.kind not in ("mass", "bare"):
            continue
        if all(_grams(amount) != _grams(other) for other in found):
            found.append(amount)
    return found


def in_one_unit(weights: Sequence[Amount]) -> list[Amount]:
    """The weights; a small number without a unit has that of another: 'twelve pounds, the pot is four point one'."""
    told = next((a for a in weights if a.kind != "bare" and a.grams is not None), None)
    found: list[Amount] = []
    for amount in weights:
        last = next((a for a in found[::-1] if a.grams is not None), told)
        bare = amount.kind == "bare" and last is not None and amount.value < LEAST_VESSEL_G
        found.append(replace(as_mass(amount, last), text=amount.text) if bare else amount)
    return found


def poured_off(scene: Scene) -> list[Meaning] | None:
    """'poured off 25 g ghee', '35 g fat came off when I drained the keema'."""
    message = scene.message
    named = scene.batches or list(message.around.cooking)
    pours = scene.cue("pouring") or (scene.cue("lifts") and scene.cue("out_of_it"))
    if len(named) != 1 or scene.asks or not pours or not scene.cue("pourable"):
        return None
    if scene.cue("i_ate", "foreseen", "condition", "into_something") or message.when.meal:
        return None
    if scene.cue("portioned") and not scene.cue("lifts"):
        return None
    told = [c for c in message.chunks if c.kind in TELLING and not (c.amount is not None and is_one(c.amount))]
    if any(not is_poured(c) for c in scene.foods) or len(told) != 1:
        return None
    amount = told[0].amount
    if amount is None or amount.kind not in ("mass", "bare") or not poured_weights(scene):
        return None
    return [PourOff(batch=ref_of(named), amount=amount, fat=not scene.cue("watery"))]


def is_poured(food: Chunk) -> bool:
    """'fat', 'skimmed fat': what is poured off, with a word for pouring that may be read as part of its name."""
    said = [plain(word) for word in food.text.lower().split()]
    pourable = food.text.lower() in pack()["pourable"] or pack()["pourable"].found(said)
    return pourable or pack()["pouring"].found(said)


def _grams(amount: Amount) -> float:
    return amount.grams if amount.grams is not None else amount.value


def _fits(amount: Amount, batch: KnownBatch) -> bool:
    """Whether a weight is plausible as the batch's current weight."""
    return batch.raw_g is None or LEAST_OF_RAW * batch.raw_g <= _grams(amount) <= MOST_OF_RAW * batch.raw_g
