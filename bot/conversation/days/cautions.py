"""Cautions and what is said about keeping food: calm, said once, and referring to doctors and food authorities."""

from __future__ import annotations

from datetime import timedelta

from bot import events
from bot.conversation.exchange import Exchange
from bot.kinds import CautionKind
from bot.store import cooking, days, facts
from bot.store.books import Books
from bot.store.cooking import Cooked
from domain.cautions import FRIDGE_DAYS, past_fridge_days, several_very_low_days

MEDICAL = "This is not medical advice. Under 18, pregnant, on insulin, or with an eating disorder now or before: please ask your doctor or dietitian first."
KEEPING = (
    "Cooked leftovers, soups and stews keep 3 to 4 days in the fridge, 2 to 6 months in the freezer (USDA FSIS). "
    "Cool them within two hours, reheat to 74 °C (165 °F). When in doubt, ask your local food authority."
)
STORAGE = "Leftovers keep 3 to 4 days in the fridge (USDA FSIS); cool them within two hours. When in doubt, ask your local food authority."
WEEK = timedelta(days=6)
VERY_LOW = (
    "Several days of this week stayed under 800 kcal. If that is all you ate, please talk to your doctor or dietitian; "
    "if something was not written down, you can still tell me."
)


def still_good(batches: list[Cooked]) -> str:
    """The question about cooked food that has been in the fridge for more than three days."""
    names = ", ".join(f"batch {b.number} ({b.name})" for b in batches)
    return (
        f"{names}: cooked more than {FRIDGE_DAYS} days ago. Still good? Cooked food keeps 3 to 4 days in the "
        "fridge (USDA FSIS; other countries say 2), longer in the freezer. Say, for example: "
        f"threw out batch {batches[0].number}"
    )


def old_batches(books: Books) -> list[Cooked]:
    """The open batches that have been kept longer than leftovers keep."""
    zone = books.person.timezone
    found = cooking.cooked_and_open(books)
    return [b for b in found if past_fridge_days(b.at.astimezone(zone).date(), books.today)]


def on_day_sheet(ex: Exchange) -> None:
    """Adds today's cautions to the sheet, each of them once."""
    fresh = [b for b in old_batches(ex.books) if facts.first_time(ex.books, f"still good {b.id}")]
    if fresh:
        ex.note(events.Cautioned(kind=CautionKind.STILL_GOOD))
        ex.say(still_good(fresh))
    today = ex.books.today
    kcal = {day: row.kcal for day, row in days.by_day(ex.books, today - WEEK, today - timedelta(days=1)).items()}
    if several_very_low_days(kcal, today) and facts.first_time(ex.books, f"very low {today:%G-%V}"):
        ex.note(events.Cautioned(kind=CautionKind.VERY_LOW_DAYS))
        ex.say(VERY_LOW)
