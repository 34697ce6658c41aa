"""Tables of benchmark results."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Table:
    """A title, column names, rows, and a note on how to read them."""

    title: str
    columns: Sequence[str]
    rows: Sequence[Sequence[str]]
    note: str = ""

    def text(self) -> str:
        """The table for a terminal: the first column to the left, figures to the right."""
        lines = [self.columns, *self.rows]
        widths = [max(len(line[place]) for line in lines) for place in range(len(self.columns))]
        shown = [
            "  ".join(
                cell.ljust(width) if place == 0 else cell.rjust(width)
                for place, (cell, width) in enumerate(zip(line, widths, strict=True))
            ).rstrip()
            for line in lines
        ]
        return "\n".join([self.title, *shown, *([self.note] if self.note else [])])
