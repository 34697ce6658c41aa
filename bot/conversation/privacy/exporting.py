"""The contents of an export: the person's rows, with times in UTC and local time, and a picture of each week."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from bot.conversation.days import weeks
from bot.conversation.exchange import Exchange
from bot.language.asked import Sheet
from bot.reports.export import Everything
from bot.reports.series import Picture
from bot.reports.tables import TABLES, Column
from bot.store.books import Books
from bot.store.ownership.export_rows import Row, copies

# Suffixes that the export adds to the store's names of times.
_UTC, _LOCAL = "_utc", "_local"


def everything(books: Books) -> Everything:
    """Everything on record of the person, without the pictures."""
    rows = copies(books)
    person = books.person
    return Everything(
        at=books.at,
        person={
            "name": person.name,
            "region": person.region.value,
            "timezone": person.timezone.key,
            "day_starts": person.day_starts,
        },
        tables={table.name: [_told(row, table.columns, books) for row in rows[table.name]] for table in TABLES},
        pictures={},
    )


def weeks_in(packed: Everything) -> list[date]:
    """The last day of each week with anything on record."""
    days: set[date] = {row["day"] for row in (*packed.tables["weigh_ins"], *packed.tables["body_weights"])}
    return sorted({day + timedelta(days=6 - day.weekday()) for day in days})


def picture_of(sunday: date, books: Books) -> tuple[str, Picture] | None:
    """(name, figures) of the picture of a week; None when there is nothing to show."""
    ex = Exchange(books)
    weeks.show(Sheet(span="week", day=sunday), ex)
    return None if ex.picture is None else (f"week-{sunday.isoformat()}", ex.picture)


def _told(row: Row, columns: Iterable[Column], books: Books) -> Row:
    told: Row = {}
    for column in columns:
        name = column.name
        if column.kind == "moment":
            told[name] = row[name.removesuffix(_UTC)]
        elif column.kind == "local":
            local = row[name.removesuffix(_LOCAL)].astimezone(books.person.timezone)
            told[name] = local.replace(tzinfo=None)
        else:
            told[name] = row[name]
    return told
