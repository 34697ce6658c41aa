"""Everything of one person's as a file: tables for a spreadsheet, the same as JSON, and pictures of the weeks."""

from __future__ import annotations

import csv
import io
import logging
import zipfile
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, Final

import msgspec

from bot.reports import picture
from bot.reports.series import Picture
from bot.reports.tables import PERSON, TABLES, Column, Table

logger = logging.getLogger(__name__)

FORMAT: Final = "tarebook export"
VERSION: Final = 1
JSON_NAME: Final = "tarebook.json"
READ_ME: Final = "README.txt"

HEADING: Final = "Everything that Tarebook has recorded about you."

Row = Mapping[str, Any]

# What a spreadsheet takes for the beginning of a formula (owasp.org/www-community/attacks/CSV_Injection).
_FORMULA: Final = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


@dataclass(frozen=True, slots=True)
class File:
    """A file's name and content."""

    name: str
    content: bytes


@dataclass(frozen=True, slots=True)
class Everything:
    """What goes into the file: the rows of each table by its name, and the pictures by theirs.

    `layout` says which tables with which columns, `heading` what the file is.
    """

    at: datetime
    person: Row
    tables: Mapping[str, Sequence[Row]]
    pictures: Mapping[str, Picture]
    layout: Sequence[Table] = TABLES
    heading: str = HEADING


def zipped(everything: Everything) -> bytes:
    """The file, a ZIP archive. A picture that can't be drawn is left out."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(READ_ME, read_me(everything.layout, everything.heading))
        archive.writestr(JSON_NAME, as_json(everything))
        for table in everything.layout:
            archive.writestr(f"{table.name}.csv", as_csv(table, everything.tables[table.name]))
        for name, figures in everything.pictures.items():
            try:
                # A PNG is compressed already.
                archive.writestr(f"pictures/{name}.png", picture.png(figures), zipfile.ZIP_STORED)
            except Exception as error:
                logger.error("a picture of an export can't be drawn: %s", type(error).__name__)
    return buffer.getvalue()


def as_csv(table: Table, rows: Iterable[Row]) -> bytes:
    """The table after RFC 4180, in UTF-8 with the mark that spreadsheets tell it by.

    A text that a spreadsheet would take for a formula has an apostrophe before it.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([column.name for column in table.columns])
    for row in rows:
        writer.writerow([_cell(row[column.name]) for column in table.columns])
    return out.getvalue().encode("utf-8-sig", "replace")


def as_json(everything: Everything) -> bytes:
    """The same tables with the same columns, and what is said of the person."""
    content: dict[str, Any] = {
        "format": FORMAT,
        "version": VERSION,
        "exported_at_utc": _plain(everything.at),
        "person": _of_columns([column for column in PERSON if column.name in everything.person], everything.person),
    }
    for table in everything.layout:
        content[table.name] = [_of_columns(table.columns, row) for row in everything.tables[table.name]]
    return msgspec.json.format(msgspec.json.encode(content), indent=1)


def read_me(layout: Sequence[Table] = TABLES, heading: str = HEADING) -> str:
    """What the files are and what stands in their columns."""
    whole = ", and can be read back" if layout is TABLES else ""
    lines = [
        heading,
        "",
        f"{JSON_NAME} holds all of it, for programs{whole}. The .csv files hold the same, for a",
        "spreadsheet: UTF-8, commas between cells, one table a file. An apostrophe before a text keeps a spreadsheet",
        "from taking it for a formula. Empty means unknown, or none. The pictures show the weeks.",
    ]
    for table in layout:
        lines += [
            "",
            f"{table.name}.csv: {table.what}",
            *(f"  {column.name}: {column.what}" for column in table.columns),
        ]
    return "\r\n".join([*lines, ""])


def _of_columns(columns: Sequence[Column], row: Row) -> dict[str, Any]:
    return {column.name: _plain(row[column.name]) for column in columns}


def _plain(value: Any) -> Any:
    """A moment as ISO 8601, with its offset when it is UTC's; on somebody's clock as a spreadsheet reads it."""
    if isinstance(value, datetime):
        return value.isoformat(sep=" ", timespec="seconds") if value.tzinfo is None else value.isoformat()
    if isinstance(value, date):
        return value.isoformat()
    return value


def _cell(value: Any) -> Any:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f"'{value}" if value.startswith(_FORMULA) else value
    return _plain(value)
