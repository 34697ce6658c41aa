"""The contents of an export: the person's rows, with times in UTC and local time, and a picture of each week."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta

from bot.conversation import hiding
from bot.conversation.days import weeks
from bot.conversation.exchange import Exchange
from bot.language.asked import Sheet
from bot.reports.export import Everything
from bot.reports.series import Picture
from bot.reports.tables import NUTRIENTS, TABLES, Column, Table
from bot.store.books import Books
from bot.store.ownership.export_rows import Row, copies

SHARED = {
    "weigh_ins": "",
    "measures": "",
    "labels": "energy",
    "targets": "",
    "day_kinds": "",
    "body_weights": "body_weight",
}
"""The tables that a client's coach may have, with the part of the consent that each belongs to, if to one."""
NOT_SHARED = frozenset({"undone"})
OF_PROTEIN = frozenset({"protein_g"})
OF_ENERGY = frozenset({column.name for column in NUTRIENTS} | {"kcal_low", "kcal_high", "salt_g"}) - OF_PROTEIN
"""The columns that are left out with energy: whoever has the others can work it out."""
SHARED_HEADING = "What {} has on record in Tarebook and shares with you."

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


def shared(books: Books, called: str) -> Everything:
    """What a client shares with the coach who reads these books: the client's rows, without what is withheld."""
    rows = copies(books)
    layout = [table for each in TABLES if (table := _left_of(each, books.withheld)) is not None]
    return Everything(
        at=books.at,
        person={"name": called},
        tables={
            table.name: [_told(row, table.columns, books) for row in rows[table.name] if not row.get("undone")]
            for table in layout
        },
        pictures={},
        layout=layout,
        heading=SHARED_HEADING.format(called),
    )


def _left_of(table: Table, withheld: frozenset[str]) -> Table | None:
    """The table as a coach gets it, or None when nothing of it is shared."""
    if table.name not in SHARED or SHARED[table.name] in withheld:
        return None
    spared = {*NOT_SHARED, *(OF_ENERGY if "energy" in withheld else ()), *(OF_PROTEIN if "protein" in withheld else ())}
    kept = tuple(column for column in table.columns if column.name not in spared)
    told_of = {column.name for column in kept}
    if table.name == "targets" and told_of.isdisjoint({*OF_ENERGY, *OF_PROTEIN}):
        return None
    return replace(table, columns=kept)


def weeks_in(packed: Everything) -> list[date]:
    """The last day of each week with anything on record."""
    days: set[date] = {row["day"] for name in ("weigh_ins", "body_weights") for row in packed.tables.get(name, ())}
    return sorted({day + timedelta(days=6 - day.weekday()) for day in days})


def picture_of(sunday: date, books: Books) -> tuple[str, Picture] | None:
    """(name, figures) of the picture of a week; None when there is nothing to show."""
    ex = Exchange(books)
    weeks.show(Sheet(span="week", day=sunday), ex)
    picture = ex.picture
    if picture is not None and "energy" in books.withheld:
        picture = hiding.picture_without_energy(picture)
    return None if picture is None else (f"week-{sunday.isoformat()}", picture)


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
