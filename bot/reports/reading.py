"""Reading an export back: every value is checked against the tables' columns before anything is done with it."""

from __future__ import annotations

import io
import math
import re
import zipfile
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Any, Final

import msgspec

from bot.reports.export import FORMAT, JSON_NAME, VERSION
from bot.reports.tables import PERSON, TABLES, Column, Table

LARGEST: Final = 200_000_000
"""Bytes of an export's tables that are read: a lifetime of weigh-ins fits many times."""
_LONGEST_TEXT: Final = 20_000
_MOST: Final = 1e9
_YEARS: Final = range(1970, 3000)

Row = dict[str, Any]


class Unreadable(Exception):
    """The file is no export, or not a whole one; the text is a sentence that says why."""


@dataclass(frozen=True, slots=True)
class Restored:
    """What an export holds of the person, and the rows of the tables that are put on record again."""

    person: Row
    tables: Mapping[str, Sequence[Row]]


def read(content: bytes) -> Restored:
    """What is in an export: the ZIP file, or the JSON file out of it. Raises Unreadable."""
    try:
        found = msgspec.json.decode(_json_in(content))
    except (msgspec.DecodeError, RecursionError, UnicodeDecodeError):
        raise Unreadable("This file is not a Tarebook export: it can't be read as JSON.") from None
    if not isinstance(found, dict) or found.get("format") != FORMAT:
        raise Unreadable("This file is not a Tarebook export.")
    if found.get("version") != VERSION:
        raise Unreadable(f"This export has version {found.get('version')!r}; I know version {VERSION}.")
    person = _row("person", PERSON, found.get("person"))
    tables = {table.name: _rows(table, found.get(table.name)) for table in TABLES if table.restored}
    _check_chains(tables["weigh_in_versions"])
    _check_batches(tables)
    return Restored(person, tables)


def _json_in(content: bytes) -> bytes:
    if not content.startswith(b"PK"):
        return content
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive, archive.open(JSON_NAME) as file:
            # The size that stands in the archive is whatever its maker has written there.
            found = file.read(LARGEST + 1)
    except (zipfile.BadZipFile, KeyError, OSError, EOFError, RuntimeError, NotImplementedError, ValueError):
        raise Unreadable(f"This archive can't be read, or has no {JSON_NAME} in it.") from None
    if len(found) > LARGEST:
        raise Unreadable("This export is too large to be read.")
    return found


def _rows(table: Table, found: Any) -> list[Row]:
    if found is None and table.since_later:
        return []
    if not isinstance(found, list):
        raise Unreadable(f"This export has no {table.name}.")
    return [_row(f"{table.name}, row {number}", table.columns, row) for number, row in enumerate(found, start=1)]


def _row(where: str, columns: Iterable[Column], found: Any) -> Row:
    if not isinstance(found, dict):
        raise Unreadable(f"In {where} an object is expected.")
    return {column.name: _value(where, column, found.get(column.name)) for column in columns if column.kind != "local"}


def _value(where: str, column: Column, found: Any) -> Any:
    if found is None and column.optional:
        return None
    value = _of_kind(column, found)
    if value is None or (column.among and value not in column.among):
        raise Unreadable(f"In {where}, {column.name} is {str(found)[:40]!r}, and can't be: {column.what}.")
    return value


def _of_kind(column: Column, found: Any) -> Any:
    """The value as the column holds it, or None when it can't be that."""
    match column.kind:
        case "text":
            return found if isinstance(found, str) and len(found) <= _LONGEST_TEXT else None
        case "yes_no":
            return found if isinstance(found, bool) else None
        case "whole":
            return found if isinstance(found, int) and not isinstance(found, bool) and 0 <= found < _MOST else None
        case "amount":
            number = isinstance(found, (int, float)) and not isinstance(found, bool)
            return float(found) if number and math.isfinite(found) and 0 <= found < _MOST else None
        case "day":
            return _day(found)
        case _:
            return _moment(found)


def _day(found: Any) -> date | None:
    try:
        day = date.fromisoformat(found)
    except (ValueError, TypeError):
        return None
    return day if day.year in _YEARS else None


def _moment(found: Any) -> datetime | None:
    try:
        moment = datetime.fromisoformat(found)
    except (ValueError, TypeError):
        return None
    return moment.astimezone(UTC) if moment.tzinfo is not None and moment.year in _YEARS else None


def _check_chains(versions: Sequence[Row]) -> None:
    """Every weigh-in begins by being recorded, once."""
    begun: set[int] = set()
    for row in versions:
        first = row["number"] not in begun
        if (row["kind"] == "recorded") != first or row["number"] < 1:
            raise Unreadable(f"The versions of weigh-in {row['number']} are not in order.")
        begun.add(row["number"])


def _check_batches(tables: Mapping[str, Sequence[Row]]) -> None:
    """What refers to a batch refers to one that is there, and no number is given twice."""
    numbers = [row["number"] for row in tables["batches"]]
    if len(set(numbers)) != len(numbers) or 0 in numbers:
        raise Unreadable("Two batches of this export have the same number.")
    known = {None, *numbers}
    for name in ("weigh_in_versions", "batch_ingredients", "batch_events"):
        if any(row["batch"] not in known for row in tables[name]):
            raise Unreadable(f"In {name} a batch is named that is not in this export.")
    _check_batch_events(tables)


_NUMBERS = re.compile(r"\d{1,9}(,\d{1,9})*")
_FILLED = re.compile(r"\d{1,9}=(\d{1,9}(\.\d+)?)?(,\d{1,9}=(\d{1,9}(\.\d+)?)?)*")
_WEIGHTS = ("cooked", "weighed", "drained", "poured", "refuse", "reduced", "closed")


def _check_batch_events(tables: Mapping[str, Sequence[Row]]) -> None:
    """Every event has what its kind needs, and names ingredients that are there."""
    lines = {(row["batch"], row["position"]) for row in tables["batch_ingredients"]}
    for row in tables["batch_events"]:
        kind, batch = row["kind"], row["batch"]
        fits = all((batch, row[name]) in lines for name in ("line", "entry") if row[name] is not None)
        if kind in _WEIGHTS:
            fits = fits and row["grams"] is not None
        elif kind in ("added", "corrected", "removed"):
            needed = {"added": ("entry",), "removed": ("line",)}.get(kind, ("line", "entry"))
            fits = fits and all(row[name] is not None for name in needed)
        elif kind == "counted":
            fits = bool(row["pieces"]) and bool(row["why"])
        if not fits or not _are_boxes(row):
            raise Unreadable(f"In batch_events, an event of batch {batch} is incomplete: {kind}.")
    for row in tables["weigh_in_versions"]:
        if row["boxes"] is not None and not _NUMBERS.fullmatch(row["boxes"]):
            raise Unreadable(f"The boxes of weigh-in {row['number']} can't be read.")


def _are_boxes(row: Row) -> bool:
    boxes = row["boxes"]
    if row["kind"] not in ("boxed", "repacked"):
        return boxes is None or bool(_NUMBERS.fullmatch(boxes))
    if boxes is None:
        return row["kind"] == "boxed" and row["grams"] is not None and row["count"] is not None
    return bool(_FILLED.fullmatch(boxes))
