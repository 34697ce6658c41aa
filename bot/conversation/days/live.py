"""The message in which a person's day stands, and receipts that are short because it does."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from bot import events, fact_events
from bot.conversation import hiding, saying
from bot.conversation.days import sheets, weeks
from bot.conversation.exchange import Exchange
from bot.conversation.records import standing
from bot.messages import Day
from bot.store import facts, weighins
from bot.store.books import Books
from bot.store.delivery import day_messages
from bot.store.weighins import StoredWeighIn

SETTING = "day_message"
RECEIPTS = "receipts"
MOST_LINES = 30
"""Weigh-ins that it lists; of a longer day the newest."""
CHOSEN = (fact_events.SettingChanged, fact_events.FactUndone)
BESIDE = (events.WeighInRecorded, events.WeighInChanged)


def after(ex: Exchange) -> Day | None:
    """What the day's message is to say after this message; None for somebody who has none, or when nothing happened."""
    if not ex.events or ex.farewell or ex.books.foreign:
        return None
    wanted = ex.known.own.settings.get(SETTING)
    if any(isinstance(event, CHOSEN) for event in ex.events):
        wanted = facts.settings(ex.books).get(SETTING)
    books = ex.books
    if wanted not in ("on", "pinned"):
        # To be given up where there is one.
        return Day(books.today, "") if any(isinstance(event, CHOSEN) for event in ex.events) else None
    before = day_messages.of(books.conn, books.person.id)
    day, stored = books.today, weighins.on_day(books, books.today)
    # A day begins with its first weigh-in; until then the last one's message is kept up to date. A message that comes
    # late, or is edited, leads to no earlier day.
    if before is not None and (not stored or before.day > day):
        day, stored = before.day, weighins.on_day(books, before.day)
    elif not stored:
        return None
    return Day(day, "\n".join(_lines(day, stored, ex)), wanted == "pinned")


def _lines(day: date, stored: Sequence[StoredWeighIn], ex: Exchange) -> list[str]:
    name = f"{day:%A} {day.day} {day:%B}"
    if not stored:
        return [f"{name}: nothing on record."]
    hidden = facts.settings(ex.books).get(hiding.SETTING) == hiding.HIDDEN
    settled, unsettled = standing.parted(stored)
    nutrients = weeks.total_of(stored).nutrients
    if hidden:
        found = [f"{name}: {saying.counted(len(stored), 'weigh-in')}, {saying.grams(_weight(stored))}"]
    else:
        found = [sheets.so_far(name, day, ex.books) or name, f"So far {saying.macros(nutrients)}."]
    ordered = sorted(settled, key=lambda s: (s.eaten_at, s.number))
    if len(ordered) > MOST_LINES:
        found.append(f"… {len(ordered) - MOST_LINES} before")
    found += [_line(s, hidden) for s in ordered[-MOST_LINES:]]
    opened = [standing.line(s) for s in unsettled[-MOST_LINES:]]
    return found + ([each.partition(": ")[0] for each in opened] if hidden else opened)


def line(books: Books) -> str:
    """'Today: 412 kcal, 860 kcal left.', or by weight for somebody who wants no energy shown."""
    if hiding.hides(books):
        stored = weighins.on_day(books, books.today)
        return f"Today: {saying.counted(len(stored), 'weigh-in')}, {saying.grams(_weight(stored))}."
    return sheets.so_far("Today", books.today, books) or "Today: open weigh-ins only."


def _weight(stored: Sequence[StoredWeighIn]) -> float:
    return sum(s.weigh_in.edible_g for s in stored)


def _line(s: StoredWeighIn, hidden: bool) -> str:
    line = f"#{s.number} {s.weigh_in.food}, {saying.eaten(s.weigh_in)}"
    if hidden:
        return line
    return f"{line}: {saying.kcal(s.weigh_in.nutrients.kcal) if s.weigh_in.nutrients else 'no figures'}"


def receipts(ex: Exchange) -> str:
    """How the person wants a weigh-in answered: `full`, `short` or `reaction`."""
    return ex.known.own.settings.get(RECEIPTS, "full")


def holds_total(ex: Exchange) -> bool:
    """Whether the day's total need not end a reply, because it stands in the day's message."""
    return receipts(ex) != "full" and ex.known.own.settings.get(SETTING) in ("on", "pinned")


def short(receipt: Sequence[str], tail: str | None, ex: Exchange) -> str | None:
    """The receipt of weigh-ins in one line, which `tail` ends; None where it says more than that they are on record."""
    weighed = [event for event in ex.events if isinstance(event, BESIDE)]
    if not weighed or len(weighed) != len(ex.events) or len(receipt) != len(weighed) + (tail is not None):
        return None
    if len(weighed) == 1:
        line = receipt[0].rpartition(", protein ")[0] or receipt[0]
    else:
        line = ", ".join(f"#{each.id} {each.food} {saying.grams(each.edible_g)}" for each in weighed)
        if not ex.hides_energy and all(each.kcal is not None for each in weighed):
            line += f": {saying.kcal(sum(each.kcal or 0.0 for each in weighed))}"
    return line if tail is None else f"{line}. {tail}"
