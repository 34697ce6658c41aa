"""The day sheet, and the line that ends a reply after the totals changed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from bot import events
from bot.conversation import event_of, hiding, saying
from bot.conversation.days import cautions, weeks
from bot.conversation.exchange import Exchange
from bot.conversation.questions.stored import of_the_record
from bot.conversation.records import standing
from bot.kinds import Span, Topic
from bot.language.asked import Precision, Sheet
from bot.store import days, facts, questions, weighins
from bot.store.books import Books
from bot.store.weighins import StoredWeighIn
from domain.labels import SALT_PER_SODIUM
from domain.nutrients import Nutrients, Total
from domain.uncertainty import give_or_take
from domain.weighins import weighed_share

MEALS = ("breakfast", "lunch", "dinner", "snack")
MOST_LINES = 40
"""Weigh-ins that a day sheet lists; nobody reads more on a phone."""


def tail(ex: Exchange) -> str | None:
    """'Today: 412 kcal.' or 'Today: 412 kcal, 860 kcal left.'; None when no day's totals changed or nothing has figures."""
    if not ex.changed_days:
        return None
    day = max(ex.changed_days)
    return so_far(saying.first_up(saying.day(day, ex.books.today)), day, ex.books)


def so_far(name: str, day: date, books: Books) -> str | None:
    """'Monday: 412 kcal, 860 kcal left.' for a day that is called so; None when nothing on it has figures."""
    kcal, unknown, aim = days.so_far(books, day)
    if unknown and not kcal:
        return None
    total = f"{name}: {'at least ' if unknown else ''}{saying.kcal(kcal)}"
    if aim is None:
        return f"{total}."
    left = aim - kcal
    return f"{total}, {saying.kcal(left)} left." if left >= 0 else f"{total}, {saying.kcal(-left)} over the target."


def show(meaning: Sheet, ex: Exchange) -> None:
    """Shows the sheet that was asked for, with cautions on today's."""
    read(meaning, ex)
    if meaning.span == "day" and meaning.day == ex.books.today:
        cautions.on_day_sheet(ex)


def read(meaning: Sheet, ex: Exchange) -> None:
    """Shows a sheet without cautions, so that nothing is written."""
    if meaning.span == "day":
        _day(meaning.day, ex)
    else:
        weeks.show(meaning, ex)


def precision(meaning: Precision, ex: Exchange) -> None:
    """Says how far the day's energy may be off and what that comes from."""
    ex.note(events.Answered(about=Topic.PRECISION))
    stored = weighins.on_day(ex.books, meaning.day)
    name = saying.day(meaning.day, ex.books.today)
    if ex.hides_energy:
        ex.say(hiding.SAID)
        return
    if not stored:
        ex.say(f"Nothing is on record for {name}.")
        return
    off = give_or_take(s.weigh_in for s in stored)
    energy = f"{saying.at_least(stored)}{saying.kcal(weeks.total_of(stored).nutrients.kcal)}"
    ex.say(
        f"{saying.first_up(name)}: {energy}, give or take {saying.round_up(off.kcal):,.0f} kcal. "
        "On about 95 of 100 days the true energy is within that range."
    )
    ex.say(
        f"Amounts (scale, peel, cups, pieces): {saying.round_up(off.amounts_kcal):,.0f} kcal. Tables and labels, because "
        f"no two foods are alike: {saying.round_up(off.tables_kcal):,.0f} kcal. The two partly cancel out."
    )
    ex.say("Weighing reduces the first; cooking from weighed ingredients, instead of ready dishes, reduces the second.")


def _day(day: date, ex: Exchange) -> None:
    stored = weighins.on_day(ex.books, day)
    sums = weeks.total_of(stored)
    waiting = of_the_record(questions.waiting(ex.books))
    name = saying.day(day, ex.books.today)
    ex.note(event_of.sheet(Span.DAY, day, sums, len(waiting)))
    if not stored:
        ex.say(f"Nothing is on record for {name}.")
    else:
        settled, unsettled = standing.parted(stored)
        energy = f"{saying.at_least(stored)}{saying.kcal(sums.nutrients.kcal)}{saying.give_or_take(stored)}"
        ex.say(f"{saying.first_up(name)}: {energy}, {saying.macros(sums.nutrients)}{_fibre(sums)}.")
        _list(settled, ex)
        for line in standing.lines(unsettled, waiting):
            ex.say(line)
    _against_target(day, sums.nutrients, ex)
    share = weighed_share([s.weigh_in for s in stored])
    if share is not None:
        ex.say(f"Weighed: {share:.0%} of the energy.")
    if waiting:
        ex.say(saying.open_questions(len(waiting)))


def _fibre(sums: Total) -> str:
    fibre = sums.nutrients.fibre_g
    if fibre is None:
        return ""
    return f", fibre {'at least ' if 'fibre_g' in sums.incomplete else ''}{fibre:.0f} g"


def _list(stored: Sequence[StoredWeighIn], ex: Exchange) -> None:
    """Lists the weigh-ins in the order of the day, by meal where meals are known."""
    order = {meal: i for i, meal in enumerate(MEALS)}
    ordered = sorted(stored, key=lambda s: (order.get(s.meal or "", len(MEALS)), s.eaten_at, s.number))
    heading: str | None = None
    several = any(s.meal for s in ordered)
    for s in ordered[:MOST_LINES]:
        meal = (s.meal or "other").capitalize()
        if several and meal != heading:
            heading = meal
            ex.say(f"{meal}:")
        kcal = saying.kcal(s.weigh_in.nutrients.kcal) if s.weigh_in.nutrients else "no figures"
        batch = f" (batch {s.weigh_in.batch})" if s.weigh_in.batch is not None else ""
        ex.say(f"#{s.number} {s.weigh_in.food}{batch}, {saying.eaten(s.weigh_in)}: {kcal}")
    if len(ordered) > MOST_LINES:
        ex.say(f"… and {len(ordered) - MOST_LINES} more.")


FINE = frozenset({"saturates", "salt", "alcohol"})
"""What a tenth of a gram matters for."""


def _off(grams: float, word: str) -> str:
    return saying.grams(grams) if word in FINE else f"{grams:.0f} g"


def _against_target(day: date, eaten: Nutrients, ex: Exchange) -> None:
    target = facts.target(ex.books, day)
    if target is None:
        return
    salt_g = None if eaten.sodium_mg is None else eaten.sodium_mg * SALT_PER_SODIUM / 1000
    pairs = (
        ("protein", target.protein_g, eaten.protein_g),
        ("fat", target.fat_g, eaten.fat_g),
        ("carbs", target.carbohydrate_g, eaten.carbohydrate_g),
        ("fibre", target.fibre_g, eaten.fibre_g or 0.0),
        ("sugars", target.sugars_g, eaten.sugars_g or 0.0),
        ("saturates", target.saturated_fat_g, eaten.saturated_fat_g or 0.0),
        ("salt", target.salt_g, salt_g or 0.0),
        ("alcohol", target.alcohol_g, eaten.alcohol_g or 0.0),
    )
    parts = []
    if target.kcal is not None:
        left = target.kcal - eaten.kcal
        parts.append(f"{saying.kcal(abs(left))} {'left' if left >= 0 else 'over'} of {saying.kcal(target.kcal)}")
    parts.extend(
        f"{word} {_off(abs(goal - had), word)} {'left' if goal >= had else 'over'}"
        for word, goal, had in pairs
        if goal is not None
    )
    if parts:
        ex.say(f"Target: {', '.join(parts)}.")
