"""Frames for questions about the last weigh-in, a number for the day, one's own weight, and a food on record."""

from __future__ import annotations

from bot.language.asked import Eaten, Precision, Remaining, Trend, WhatIf
from bot.language.figures import Figures, figures, nutrient_at
from bot.language.frames.fix_scene import SOON, Fix
from bot.language.meanings import Meaning
from bot.language.nutrients_named import named_nutrients
from bot.language.recalling import named_by
from bot.language.scene import Scene
from bot.language.told import Amount, BatchRef, Item, Name
from domain.foods import State

LEAST_KCAL = 500.0
"""A bare number from this on that the day is compared with is its energy."""
KCAL = "kcal"


def _asks(scene: Scene) -> bool:
    return scene.message.asks or scene.cue("asking_form") or "?" in scene.said


def of_the_last(scene: Scene) -> list[Meaning] | None:
    """'how much fat is in that?', 'what's in one of those then', 'was that a lot?': figures of the last weigh-in."""
    message = scene.message
    if not scene.cue("the_last_told") or not (_asks(scene) or scene.cue("what_it_has")):
        return None
    if scene.foods or scene.named or message.of("hash", "energy", "price", "tare") or not _only_counts_one(scene):
        return None
    if not (_names_figures(scene) or scene.cue("what_it_has", "is_it_much")):
        return None
    if message.when.day is not None or message.when.meal is not None or scene.cue("still_there", "condition"):
        return None
    recorded = message.around.recorded()
    if not recorded or not Fix(scene, recorded).is_recent(recorded[-1], SOON):
        return None
    last = recorded[-1]
    amount = Amount(kind="mass", value=last.grams, unit="g", grams=last.grams, text=f"{last.grams:g} g")
    if last.batch is not None:
        return [WhatIf(items=(Item(text="", batch=BatchRef(number=last.batch), amount=amount),), text="")]
    if last.amount is None and last.kcal:
        item = Item(text="", name=Name(text=last.food, foods=(last.food,)), kcal=last.kcal)
    else:
        name = Name(text=last.word or last.food, foods=(last.food,))
        item = Item(text="", name=name, amount=amount, state=State(last.state))
    return [WhatIf(items=(item,), text="")]


def against_a_number(scene: Scene) -> list[Meaning] | None:
    """'does that put me over two thousand', 'what's left to hit 200 g protein today': the day against a number."""
    message = scene.message
    if scene.foods or scene.named or message.of("hash", "price", "tare") or not scene.cue("went_over", "still_left"):
        return None
    if not _asks(scene) or message.when.future or scene.cue("condition"):
        return None
    told = figure_said(scene)
    if told is not None:
        return [Remaining(nutrient=told[0], of=told[1])]
    bare = [c.amount for c in scene.amounts if c.amount is not None]
    if len(bare) == 1 and bare[0].kind == "bare" and bare[0].value >= LEAST_KCAL and not message.of("macro", "energy"):
        return [Remaining(nutrient=KCAL, of=bare[0].value)]
    return None


def room_for(scene: Scene) -> list[Meaning] | None:
    """'any room left for a biscuit?', 'have I space for pudding': what the day's energy leaves."""
    if not scene.cue("room_left") or not _asks(scene) or any(a.kind == "mass" for a in scene.masses):
        return None
    return [Remaining(nutrient=KCAL)] if not scene.cue("cold_places", "the_pot") else None


def of_ones_weight(scene: Scene) -> list[Meaning] | None:
    """'I gain or lose weight??', 'so did I lose anything this week', 'how heavy was I on sunday'."""
    message = scene.message
    if scene.foods or scene.named or message.of("amount", "hash", "energy", "macro", "price", "tare"):
        return None
    if not _asks(scene) or scene.cue("how_to", "target_word", "should_i", "condition"):
        return None
    return [Trend(of="body_weight")] if scene.cue("gain_or_lose", "how_heavy") else None


def of_a_food(scene: Scene) -> list[Meaning] | None:
    """'how many flapjacks did I have today', 'did I put the butter down': what is on record of a food."""
    message = scene.message
    if len(scene.foods) != 1 or message.of("amount", "hash", "energy", "macro", "price", "tare") or not _asks(scene):
        return None
    if not scene.cue("did_i_eat") or message.when.future or not message.around.recorded():
        return None
    if scene.cue("condition", "should_i", "is_it_right", "still_left") or message.has_any(message.words.people):
        return None
    return [Eaten(day=message.when.day, meal=message.when.meal, name=named_by(message, scene.foods[0]))]


def _only_counts_one(scene: Scene) -> bool:
    """Whether it has no amount but the 'one' of 'one of those'."""
    return all(c.amount is not None and c.amount.kind == "bare" and c.amount.value == 1 for c in scene.amounts)


def _names_figures(scene: Scene) -> bool:
    line = scene.message.line
    at = [n for c in scene.message.chunks for n in range(c.start, c.end)]
    return scene.cue("energy", "energy_kj", "figures_word") or any(nutrient_at(line, n, len(line.tokens)) for n in at)


def figure_said(scene: Scene) -> tuple[str, float] | None:
    """The only figure of a nutrient or of energy that is said: ('protein_g', 200.0)."""
    line, end = scene.message.line, scene.message.chunks[-1].end
    for chunk in scene.message.chunks:
        if chunk.kind not in ("amount", "macro", "energy"):
            continue
        for found, _ in figures(line, chunk.start, end):
            if isinstance(found, Figures) and not found.bare:
                told = {name: value for name, value in found.values.items() if value is not None}
                if len(told) == 1:
                    return next(iter(told.items()))
    return None


def how_exact(scene: Scene) -> list[Meaning] | None:
    """'what does give or take 110 mean?', 'how accurate was yesterday?', 'how sure are you of that total?'."""
    message = scene.message
    if not scene.cue("how_exact") and not (scene.cue("range_said") and scene.cue("asks_what")):
        return None
    if scene.foods or scene.named or message.of("macro", "hash", "price"):
        return None
    if any(nutrient != KCAL for nutrient in named_nutrients(message)):
        return None  # 'how far off my protein am I' asks for what is left
    return [Precision(day=message.when.day or message.around.today)]
