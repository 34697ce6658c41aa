"""Frames for food of a pot put away by weight, or all of it: '2 lots of 300 frozen', 'the rest into 250 g tubs'."""

from __future__ import annotations

from bot.language.chunks import Chunk
from bot.language.frames.serving import FITS, Serving, seen
from bot.language.frames.stretch import as_mass, grams_of
from bot.language.intents.readings import has_ingredient
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.portion_meanings import BoxUp, MoveBoxes, Place
from bot.language.scene import Scene, ref_of
from bot.language.surroundings import KnownBatch
from bot.language.told import Amount

LEAST_BOX_G = 50.0
MOST_CHUNKS = 20


def boxed_by_weight(scene: Scene) -> list[Meaning] | None:
    """'froze 2 lots of 300', 'the rest split into 250 g tubs': boxes that fit into the pot's weight."""
    message = scene.message
    if not message.around.batches or not message.of("amount") or len(message.chunks) > MOST_CHUNKS:
        return None
    told = seen(message)
    divides = told.cue("dividing_up", "freezing_them")
    pot = _pot(told)
    if pot is None or not pot.left_g or pot.boxes or not (divides or told.boxes) or _eaten(told):
        return None
    weighed = [c for c in told.weights if c.amount is not None and grams_of(c.amount) >= LEAST_BOX_G]
    if len(weighed) != 1 or weighed[0].amount is None:
        return None
    amount = weighed[0].amount
    counts = [c for c in told.counts if c is not weighed[0] and c.amount is not None and c.amount.value > 1]
    if len(counts) > 1 or not told.spent(weighed[0], *counts):
        return None
    number, each = _shares(told, pot, amount, int(counts[0].amount.value) if counts and counts[0].amount else 0)
    if number < 1 or number * grams_of(each) > pot.left_g * FITS:
        return None
    place: Place | None = "freezer" if told.cue("freezing_them") else told.target
    return [BoxUp(batch=ref_of([pot]), boxes=number, each=each, place=place)]


def put_away_whole(scene: Scene) -> list[Meaning] | None:
    """'froze the rest': all that is left of the pot spoken of, which is in no boxes, went to the freezer."""
    told = seen(scene.message)
    pot = _pot(told)
    if pot is None or not pot.left_g or pot.boxes or told.numbers or _eaten(told):
        return None
    if not (told.cue("freezing_them") or told.target == "freezer") or not told.rest:
        return None
    return [MoveBoxes(batch=ref_of([pot]), which=None, to="freezer", when=told.when)]


def _shares(told: Serving, pot: KnownBatch, amount: Amount, counted: int) -> tuple[int, Amount]:
    """How many boxes and what each holds: as told, as a product, or as many as the pot fills ('into 250 g tubs')."""
    if amount.times is not None and not counted:
        grams = grams_of(amount) / amount.times
        return int(amount.times), Amount(kind="mass", value=grams, unit="g", grams=grams, text=f"{grams:g} g")
    each = as_mass(amount)
    if counted:
        return counted, each
    several = any(told.word(box.end - 1).endswith("s") for box in told.boxes)
    into = any(word in pack()["into_boxes"] for word in told.words)
    fits = int((pot.left_g or 0.0) // grams_of(each)) if several and into else 0
    return fits, each


def _pot(told: Serving) -> KnownBatch | None:
    """The one cooked pot that is named, else the one spoken of last or the only one that is open."""
    cooked = [b for b in told.message.around.batches if b.cooked]
    if told.scene.foods:
        cooked = [b for b in cooked if told.boxes and all(_is_in(told, food, b) for food in told.scene.foods)]
    if told.scene.named:
        named = [b for b in told.scene.batches if b.cooked]
        return named[0] if len(named) == 1 else None
    spoken = [b for b in cooked if b.spoken] or [b for b in cooked if b.focus] or cooked
    return spoken[0] if len(spoken) == 1 else None


def _is_in(told: Serving, food: Chunk, pot: KnownBatch) -> bool:
    """Whether a food is in the pot: the 'pork boxes' are of what a pork shoulder went into."""
    said = food.text.lower()
    name = told.message.vocabulary.resolve(said.split(), said)
    return has_ingredient(told.message, ref_of([pot]), name)


def _eaten(told: Serving) -> bool:
    """Whether it was eaten, was somebody's, or has not happened."""
    if told.unreal or told.mine or told.person is not None or told.when.meal is not None:
        return True
    return told.cue("i_ate", "eating_it", "gave_it", "condition", "came_to_grief") or bool(
        told.message.of("hash", "energy", "macro", "price", "tare")
    )
