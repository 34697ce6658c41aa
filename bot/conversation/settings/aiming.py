"""Keeping a target, saying what it comes to and when it holds, and of which kind a day is."""

from __future__ import annotations

from datetime import date, timedelta

from msgspec import UNSET

from bot import fact_events
from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Refuse
from bot.language.fact_meanings import DayKind, SetTarget, TargetTold
from bot.store import aims, facts
from bot.store.aims import FIGURES
from domain.targets import Target

WORDS = {
    "protein_g": "protein", "fat_g": "fat", "carbohydrate_g": "carbs", "fibre_g": "fibre", "sugars_g": "sugars",
    "saturated_fat_g": "saturates", "salt_g": "salt", "alcohol_g": "alcohol",
}  # fmt: skip
"""What each figure of a target in grams is called."""
WEEKDAYS = ("Mondays", "Tuesdays", "Wednesdays", "Thursdays", "Fridays", "Saturdays", "Sundays")
HIDDEN = "its figures are hidden"
"""What is said in place of a target's figures to somebody who wants no energy shown."""
KIND_AHEAD = timedelta(days=366)


def figures_of(told: TargetTold) -> Target:
    """The figures that were told."""
    return Target(**{name: getattr(told, name) for name in FIGURES})


def target_line(target: Target) -> str:
    """'2,100 kcal, protein 160 g, salt 5 g'."""
    parts = [saying.kcal(target.kcal)] if target.kcal is not None else []
    parts.extend(
        f"{word} {value:.3g} g" for name, word in WORDS.items() if (value := getattr(target, name)) is not None
    )
    return ", ".join(parts) or "none"


def days_said(days: str) -> str:
    """'training days', 'weekdays', 'Mondays and Thursdays'."""
    if days in aims.KINDS:
        return f"{days} days"
    if days == "01234":
        return "weekdays"
    return "weekends" if days == "56" else saying.listed([WEEKDAYS[int(digit)] for digit in days])


def target_lines(ex: Exchange) -> list[str]:
    """A line for today's target, for each later one with its first day, and for those of some days only."""
    today = ex.books.today
    standing = facts.target(ex.books, today)
    if ex.hides_energy:
        return [] if standing is None else [f"You have a target; {HIDDEN}. To see them, say: show energy again"]
    lines = [] if standing is None else [f"Your target: {target_line(standing)}."]
    coming = facts.coming_targets(ex.books, today)
    lines.extend(f"From {saying.day(first, today)} on: {target_line(each)}." for first, each in coming.items())
    return [*lines, *_of_some_days(today, "", ex)]


def save(told: SetTarget, ex: Exchange) -> None:
    """Saves the target from its first day on; figures that are not given stay as they are."""
    today = ex.books.today
    first = today if told.day is None else max(told.day, today)
    facts.save_target(ex.books, figures_of(told), first, told.until, told.days)
    new = aims.of_days(ex.books, first, told.days)
    more = {name: value for name in FIGURES[4:] if (value := getattr(new, name)) is not None}
    ex.note(
        fact_events.TargetSet(
            kcal=new.kcal,
            protein_g=new.protein_g,
            fat_g=new.fat_g,
            carbohydrate_g=new.carbohydrate_g,
            **more,
            from_=UNSET if first == today else first,
            until=told.until or UNSET,
            days=told.days or UNSET,
        )
    )
    on = f" on {days_said(told.days)}" if told.days else ""
    until = f" until {saying.day(told.until, today)}" if told.until is not None else ""
    begins = f"from {saying.day(first, today)} on" if told.until is None else f"from {saying.day(first, today)}{until}"
    ex.say(
        f"Target{on} {begins}: {target_line(new)}. {_meanwhile(first, told.days, ex)}",
        hidden=f"Your target{on} is set {begins}; {HIDDEN}.",
    )
    following = next(iter(facts.coming_targets(ex.books, first).items()), None)
    if following is not None and not told.days:
        ex.say(f"From {saying.day(following[0], today)} on: {target_line(following[1])}, as set before.")
    if not told.days:
        for line in _of_some_days(first, ", as set before", ex):
            ex.say(line)
    elif told.days in aims.KINDS:
        ex.say(f"Say “{told.days} day” or “today is a {told.days} day” on such a day.")


def _of_some_days(day: date, after: str, ex: Exchange) -> list[str]:
    some = aims.of_some_days(ex.books, day)
    return [f"On {days_said(days)}: {target_line(each)}{after}." for days, each in some.items()]


def _meanwhile(first: date, days: str, ex: Exchange) -> str:
    """Which target applies before the first day, or on the other days."""
    if days:
        other = aims.of_days(ex.books, first, "")
        return "On other days none is set." if other == Target() else f"On other days it is {target_line(other)}."
    if first == ex.books.today:
        return "Earlier days keep theirs."
    until = facts.target(ex.books, first - timedelta(days=1))
    return "Until then none is set." if until is None else f"Until then it is {target_line(until)}."


def day_kind(meaning: DayKind, ex: Exchange) -> Refuse | None:
    """Keeps of which kind a day is, and says which target it has."""
    today = ex.books.today
    day = meaning.day or today
    if abs(day - today) > KIND_AHEAD:
        return Refuse("I can note the kind of a day up to a year back or ahead.")
    facts.save_day_kind(ex.books, day, meaning.kind)
    ex.note(fact_events.DayKindSaved(day=day, kind=meaning.kind))
    found = facts.target(ex.books, day)
    aim = f" Target: {target_line(found)}." if found is not None else ""
    ex.say(f"{saying.first_up(saying.day(day, today))} counts as a {meaning.kind} day.{aim}")
    if meaning.kind not in aims.of_some_days(ex.books, day):
        ex.say(f"You have no target for such days yet. For example: target 2500 kcal on {meaning.kind} days")
    return None
