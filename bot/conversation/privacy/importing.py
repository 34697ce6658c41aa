"""Importing an export: validation, restoring the rows, and reporting what was new."""

from __future__ import annotations

from zoneinfo import ZoneInfo

import msgspec

from bot.conversation import saying
from bot.language.told import Item
from bot.reports.reading import Restored, Unreadable, read
from bot.reports.tables import TABLES
from bot.store import facts, people, weighins
from bot.store.books import Books
from bot.store.ownership import import_rows
from bot.store.ownership.export_rows import Rows
from domain.quantities import Region

WORDS = {
    "weigh_ins": ("weigh-in", "weigh-ins"),
    "batches": ("batch", "batches"),
    "tares": ("vessel", "vessels"),
    "measures": ("measure", "measures"),
    "labels": ("label", "labels"),
    "habits": ("habit", "habits"),
    "targets": ("target", "targets"),
    "body_weights": ("body weight", "body weights"),
    "reminders": ("reminder", "reminders"),
    "settings": ("setting", "settings"),
    "memory": ("remembered answer", "remembered answers"),
}


def unpack(content: bytes, books: Books) -> dict[str, int]:
    """Puts an export back into the person's records. Returns how many rows were new, by their table.

    Raises Unreadable, before anything is recorded, when it is none.
    """
    restored = read(content)
    person, rows = restored.person, _rows(restored)
    region, zone = _place(person["region"], person["timezone"])
    for version in rows["weigh_in_versions"]:
        _check_said(version["said"])
    if not weighins.count(books) and not facts.settings(books):
        people.update(
            books.conn, books.person.id, region=region, timezone=zone, day_starts=min(person["day_starts"], 12)
        )
    return import_rows.put_back(books, rows)


def told(added: dict[str, int]) -> str:
    """The text about what was new."""
    new = [f"{count:,} {WORDS[name][count != 1]}" for name, count in added.items() if count]
    return f"Imported: {saying.listed(new)}." if new else "All of it is on record already; nothing was changed."


def _rows(restored: Restored) -> Rows:
    """The rows with the store's names for columns."""
    moments = {column.name for table in TABLES for column in table.columns if column.kind == "moment"}
    return {
        name: [
            {(key.removesuffix("_utc") if key in moments else key): value for key, value in row.items()}
            for row in found
        ]
        for name, found in restored.tables.items()
    }


def _place(region: str, timezone: str) -> tuple[Region, ZoneInfo]:
    try:
        return Region(region), ZoneInfo(timezone)
    except (ValueError, OSError, KeyError):
        raise Unreadable(f"This export names a region or time zone that I don't know: {region}, {timezone}.") from None


def _check_said(said: str) -> None:
    try:
        msgspec.json.decode(said, type=Item)
    except (msgspec.DecodeError, RecursionError):
        raise Unreadable("This export holds a weigh-in whose words can't be read.") from None
