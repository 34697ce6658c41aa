"""What limits a person's target, whoever sets it: standing cautions, the clinical floors, medical supervision.

The figures and their sources stand in `domain.targets`.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Final

from bot.conversation import saying
from bot.conversation.settings.about_self import PREFIX, SETTINGS
from bot.store import facts
from bot.store.books import Books
from domain import targets
from domain.targets import Sex

LOW: Final = (
    "That is below what is usual without medical care. Please talk to your doctor or dietitian before you keep to it."
)
STANDING: Final = (
    "You asked me to remember something about your health, and a number that I compute can't allow for it. "
    "Please keep only to a target that your doctor or dietitian gave you."
)
SUPERVISED: Final = (
    f"Below {saying.kcal(targets.SUPERVISED_KCAL)} a day belongs under a doctor's supervision, so I set no such target. "
    "Please talk to a doctor or dietitian."
)


def standing(books: Books) -> list[str]:
    """What is remembered of a person that limits their targets: kinds of `AboutSelf`, or `clinician`."""
    return standing_in(facts.settings(books), books.today)


def standing_in(kept: Mapping[str, str], today: date) -> list[str]:
    """The same from the person's settings, on a day of theirs."""
    found = [name.removeprefix(PREFIX) for name in SETTINGS if _stands(kept.get(name), today)]
    born = kept.get("born")
    young = born is not None and today.year - int(born) < targets.ADULT_YEARS
    return [*found, "minor"] if young and "minor" not in found else found


def _stands(value: str | None, today: date) -> bool:
    """Whether a remembered caution holds: not taken back, and its last day, where it has one, not over."""
    if value is None or value == "no":
        return False
    return value == "yes" or today < date.fromisoformat(value)


def sex_of(books: Books) -> Sex | None:
    """The form of the equation that was told, or None."""
    told = facts.settings(books).get("sex")
    return None if told is None else Sex(told)


def low(kcal: float | None, books: Books) -> str | None:
    """The caution about a target below the person's floor; None at or above it."""
    if kcal is None or kcal >= targets.floor_kcal(sex_of(books)):
        return None
    return f"{saying.kcal(kcal)} a day: {LOW}"


def caution(kcal: float | None, books: Books) -> str | None:
    """The caution that a target needs a second yes after; None where nothing limits it."""
    return STANDING if standing(books) else low(kcal, books)
