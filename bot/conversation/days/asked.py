"""Questions about what is on record: the answer stands in the first line, and nothing is recorded."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from bot import events
from bot.conversation import saying
from bot.conversation.days import cautions
from bot.conversation.days.weeks import total_of
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Then
from bot.conversation.records.finding import LOOKED_BACK, of_day
from bot.kinds import Topic
from bot.language.asked import Eaten, Highest, Keeping, Remaining, TotalOf, WhoAte
from bot.language.batch_meanings import Left
from bot.language.fix_meanings import Which
from bot.language.recalling import asks_for
from bot.store import facts, weighins
from bot.store.weighins import StoredWeighIn
from domain.labels import SALT_PER_SODIUM
from domain.targets import Target

WORDS = {
    "kcal": "energy", "protein_g": "protein", "fat_g": "fat", "carbohydrate_g": "carbs", "fibre_g": "fibre",
    "sugars_g": "sugars", "saturated_fat_g": "saturated fat", "salt_g": "salt", "sodium_mg": "sodium",
    "alcohol_g": "alcohol", "polyols_g": "polyols",
}  # fmt: skip
FIELDS = {"salt_g": "sodium_mg"}
"""What a nutrient of the person's words is reckoned from where it is not kept itself."""
MOST_LISTED = 12
MOST_RANKED = 4


def remaining(meaning: Remaining, ex: Exchange) -> None:
    """Answers how much of a nutrient today's target, or the number that is named, leaves."""
    ex.note(events.Answered(about=Topic.NUTRIENT))
    today = ex.books.today
    word = WORDS[meaning.nutrient]
    had, unknown = sum_of(weighins.on_day(ex.books, today), meaning.nutrient)
    target = facts.target(ex.books, today)
    aim = meaning.of if meaning.of is not None else None if target is None else aim_of(target, meaning.nutrient)
    so_far = f"{unknown}{amount_said(meaning.nutrient, had)}"
    if aim is None:
        ex.say(f"No target for {word} is set. Today so far: {so_far}. To set one: {example_of(meaning.nutrient)}")
        return
    left = aim - had
    shown = amount_said(meaning.nutrient, abs(left))
    ex.say(f"{shown} {'left' if left >= 0 else 'over'}: {so_far} of {amount_said(meaning.nutrient, aim)} so far.")


def total_of_nutrient(meaning: TotalOf, ex: Exchange) -> None:
    """Answers how much of a nutrient a day or a meal holds."""
    ex.note(events.Answered(about=Topic.NUTRIENT))
    today = ex.books.today
    day = meaning.day or today
    stored = of_day(Which(day=day, meal=meaning.meal), ex)
    target = facts.target(ex.books, day) if meaning.meal is None else None
    aim = None if target is None else aim_of(target, meaning.nutrient)
    if not stored and (aim is None or day != today):
        ex.say(f"{f'No {meaning.meal}' if meaning.meal else 'Nothing'} is on record for {saying.day(day, today)}.")
        return
    had, unknown = sum_of(stored, meaning.nutrient)
    when = f"{saying.day(day, today)}, {meaning.meal}" if meaning.meal else saying.day(day, today)
    word = "" if meaning.nutrient == "kcal" else f" {WORDS[meaning.nutrient]}"
    of = f" of {amount_said(meaning.nutrient, aim)}" if aim is not None else ""
    ex.say(f"{saying.first_up(when)}: {unknown}{amount_said(meaning.nutrient, had)}{word}{of}.")


def highest(meaning: Highest, ex: Exchange) -> None:
    """Answers which meal, food or day holds the most of a nutrient, with the next ones."""
    ex.note(events.Answered(about=Topic.NUTRIENT))
    today = ex.books.today
    first, last = meaning.first or meaning.day or today, today if meaning.first else meaning.day or today
    when = saying.day(last, today) if first == last else saying.stretch(first, last)
    groups: dict[str, list[StoredWeighIn]] = {}
    for each in weighins.between(ex.books, first, last):
        name = {
            "meal": each.meal or "outside meals",
            "day": saying.day(each.day, today),
            "food": each.weigh_in.food,
        }[meaning.of]
        groups.setdefault(name, []).append(each)
    if not groups:
        ex.say(f"Nothing is on record for {when}.")
        return
    sums = {name: sum_of(stored, meaning.nutrient) for name, stored in groups.items()}
    ranked = sorted(sums, key=lambda name: sums[name][0], reverse=True)[:MOST_RANKED]
    told = [f"{name}, {sums[name][1]}{amount_said(meaning.nutrient, sums[name][0])}" for name in ranked]
    rest = f" Then: {saying.listed(told[1:])}." if told[1:] else ""
    ex.say(f"{saying.first_up(when)}, most {WORDS[meaning.nutrient]}: {told[0]}.{rest}")


def eaten(meaning: Eaten, ex: Exchange) -> None:
    """Answers what was eaten on a day, at a meal, or of a food; a generic word asks for all its kinds."""
    ex.note(events.Answered(about=Topic.EATEN))
    today = ex.books.today
    first, last = meaning.first or meaning.day or today, today if meaning.first else meaning.day or today
    stored = _asked_for(meaning, weighins.between(ex.books, first, last))
    if meaning.name is not None and meaning.day is None and not stored:
        stored = _asked_for(meaning, weighins.between(ex.books, today - LOOKED_BACK, today))
        stored = [each for each in stored if each.day == stored[-1].day]
        first = last = stored[-1].day if stored else today
    what = meaning.name.text if meaning.name is not None else meaning.meal or ""
    when = saying.day(last, today) if first == last else saying.stretch(first, last)
    if not stored:
        ex.say(f"No {what} is on record for {when}." if what else f"Nothing is on record for {when}.")
        return
    listed = saying.listed([_line(each, dated=first != last, today=today) for each in stored[:MOST_LISTED]])
    more = f" and {len(stored) - MOST_LISTED} more" if len(stored) > MOST_LISTED else ""
    heading = f"{when}, {meaning.meal}" if meaning.meal else when
    weight = sum(each.weigh_in.edible_g for each in stored) if meaning.name is not None and len(stored) > 1 else None
    weighed = f"{saying.grams(weight)}, " if weight is not None else ""
    energy = f"{saying.at_least(stored)}{saying.kcal(total_of(stored).nutrients.kcal)}"
    ex.say(f"{saying.first_up(heading)}: {listed}{more}. {saying.first_up(weighed + energy)} in all.")


def _asked_for(meaning: Eaten, stored: Sequence[StoredWeighIn]) -> list[StoredWeighIn]:
    """Those of the weigh-ins that are asked for."""
    name, meal = meaning.name, meaning.meal
    return [
        each
        for each in stored
        if (meal is None or each.meal == meal) and (name is None or asks_for(name, each.weigh_in.food))
    ]


def who_ate(meaning: WhoAte, ex: Exchange) -> Then:
    """Answers who had how much of a batch with the person's own part and what is left: all else is private."""
    ex.note(events.Answered(about=Topic.EATEN))
    ref = meaning.batch
    numbers = {ref.number} if ref.number is not None else set(ref.candidates)
    recent = weighins.between(ex.books, ex.books.today - LOOKED_BACK, ex.books.today)
    own = sum(each.weigh_in.edible_g for each in recent if each.weigh_in.batch in numbers)
    ex.say(f"{f'You had {saying.grams(own)} of it' if own else 'You had none of it'}. What others had stays private.")
    return Then((Left(batch=ref),))


def keeping(_: Keeping, ex: Exchange) -> None:
    """Answers how long food keeps, as the food safety service says."""
    ex.note(events.Answered(about=Topic.KEEPING))
    ex.say(cautions.KEEPING)


def _line(stored: StoredWeighIn, *, dated: bool, today: date) -> str:
    day = f" ({saying.day(stored.day, today)})" if dated else ""
    return f"#{stored.number} {stored.weigh_in.food} {saying.grams(stored.weigh_in.edible_g)}{day}"


def sum_of(stored: Sequence[StoredWeighIn], nutrient: str) -> tuple[float, str]:
    """How much of a nutrient the weigh-ins hold, and 'at least ' where some of it is not known."""
    sums = total_of(stored)
    field = FIELDS.get(nutrient, nutrient)
    value = getattr(sums.nutrients, field, None)
    known = value if value is not None else 0.0
    unknown = field in sums.incomplete or bool(saying.at_least(stored))
    if nutrient == "salt_g":
        known *= SALT_PER_SODIUM / 1000
    return known, "at least " if unknown or (value is None and stored) else ""


def aim_of(target: Target, nutrient: str) -> float | None:
    """What the target says of a nutrient; None where it says nothing."""
    return getattr(target, nutrient, None)


def amount_said(nutrient: str, value: float) -> str:
    """'1,240 kcal', '68 g', '2.4 g' of salt, in the unit that the nutrient is told in."""
    if nutrient == "kcal":
        return saying.kcal(value)
    if nutrient == "sodium_mg":
        return f"{value:.0f} mg"
    return f"{value:.1f} g" if nutrient in ("salt_g", "alcohol_g", "saturated_fat_g") else f"{value:.0f} g"


def example_of(nutrient: str) -> str:
    """What to type to set a target for a nutrient."""
    return "target 2000 kcal" if nutrient == "kcal" else "target 2000 kcal, protein 120 g"
