"""One page about some weeks of one person, to print for a consultation: figures, charts, a table of the weeks.

An A4 page in portrait, drawn by matplotlib like the pictures and in their look; what is withheld from its reader is not
in it at all.
"""

from __future__ import annotations

import io
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Final

from bot.reports import picture
from bot.reports.series import Picture

if TYPE_CHECKING:
    from matplotlib.figure import Figure

A4_IN: Final = (8.27, 11.69)
MARGIN: Final = 0.07
"""The margin at the left and the right, as a share of the page's width."""
VALUES_AT: Final = 0.36
"""Where the figures stand, as a share of the page's width."""
LINE_IN: Final = 0.20
"""The height of a line of text, and of the gap between two parts."""
ROW_IN: Final = 0.23
PANEL_IN: Final = 1.32
WRAPS: Final = {"value": 68, "note": 100, "subtitle": 94, "footer": 132}
"""Letters that fit on a line."""
WIDTHS: Final = (0.3, 0.1)
"""The widths of a table's first columns; the others share the rest."""


@dataclass(frozen=True, slots=True)
class Page:
    """What stands on the page: figures by what they are, the weeks as a table, remarks; `picture` holds the days."""

    title: str
    subtitle: str
    made_at: datetime
    facts: Sequence[tuple[str, str]]
    picture: Picture
    columns: Sequence[str]
    weeks: Sequence[Sequence[str]]
    notes: Sequence[str]
    footer: str


def pdf(page: Page) -> bytes:
    """The page as a PDF of one page, its fonts embedded."""
    import matplotlib

    buffer = io.BytesIO()
    metadata = {"Title": f"{page.title}, {page.subtitle}", "Creator": "Tarebook", "CreationDate": page.made_at}
    with matplotlib.rc_context({"pdf.fonttype": 42}):
        drawn(page).savefig(buffer, format="pdf", facecolor="white", metadata=metadata)
    return buffer.getvalue()


def drawn(page: Page) -> Figure:
    """The page as a figure; notes for which there is no room are left out."""
    from matplotlib.backends.backend_pdf import FigureCanvasPdf
    from matplotlib.figure import Figure

    figure = Figure(figsize=A4_IN)
    FigureCanvasPdf(figure)
    _write(figure, MARGIN, 0.96, page.title, size=19, bold=True)
    subtitle = _wrapped(page.subtitle, "subtitle")
    _lines(figure, subtitle, 0.93, 10)
    top = _facts(figure, page.facts, 0.93 - _inches(LINE_IN) * (len(subtitle) + 0.7))
    top = _panels(figure, page.picture, top)
    top = _table(figure, page, top)
    footer = _wrapped(page.footer, "footer")
    foot = 0.03 + len(footer) * _inches(LINE_IN * 0.7)
    for note in page.notes:
        lines = _wrapped(note, "note")
        if top - len(lines) * _inches(LINE_IN) < foot:
            break
        _lines(figure, lines, top, 9.5)
        top -= len(lines) * _inches(LINE_IN)
    _lines(figure, footer, foot, 7.5)
    return figure


def _write(figure: Figure, x: float, y: float, text: str, *, size: float, bold: bool = False) -> None:
    """Writes words that are somebody's as they are: a dollar sign begins no formula."""
    weight = "bold" if bold else "normal"
    figure.text(x, y, text, color=picture.INK, fontsize=size, fontweight=weight, va="top", parse_math=False)


def _lines(figure: Figure, lines: Sequence[str], top: float, size: float) -> None:
    for n, line in enumerate(lines):
        _write(figure, MARGIN, top - n * _inches(LINE_IN) * size / 10, line, size=size)


def _wrapped(text: str, kind: str) -> list[str]:
    return textwrap.wrap(text, WRAPS[kind], subsequent_indent="   " if kind == "note" else "")


def _inches(high: float) -> float:
    """A height in inches as a share of the page's."""
    return high / A4_IN[1]


def _facts(figure: Figure, facts: Sequence[tuple[str, str]], top: float) -> float:
    for name, value in facts:
        _write(figure, MARGIN, top, name, size=10)
        for line in _wrapped(value, "value"):
            _write(figure, VALUES_AT, top, line, size=10)
            top -= _inches(LINE_IN)
    return top - _inches(LINE_IN)


def _panels(figure: Figure, shown: Picture, top: float) -> float:
    panels = picture.panels_of(shown)
    left, high, head = MARGIN + 0.04, _inches(PANEL_IN), _inches(0.27)
    for n, draw in enumerate(panels):
        top -= high + head
        axes = figure.add_axes((left, top, 1 - MARGIN - left, high))
        draw(axes)
        picture.plain(axes)
        picture.name_days(axes, shown.days)
        if n < len(panels) - 1:
            axes.set_xticklabels([])
    return top - _inches(0.4 + LINE_IN)


def _table(figure: Figure, page: Page, top: float) -> float:
    from matplotlib.lines import Line2D

    wide = 1 - 2 * MARGIN
    others = len(page.columns) - len(WIDTHS)
    starts = [0.0, WIDTHS[0], *(sum(WIDTHS) + n * (1 - sum(WIDTHS)) / others for n in range(others))]
    for n, row in enumerate((page.columns, *page.weeks)):
        for start, text in zip(starts, row, strict=True):
            _write(figure, MARGIN + start * wide, top, text, size=9.5, bold=n == 0)
        top -= _inches(ROW_IN)
        rule = top + _inches(ROW_IN) * 0.2
        figure.add_artist(Line2D([MARGIN, 1 - MARGIN], [rule, rule], color=picture.RULE, linewidth=0.7))
    return top - _inches(LINE_IN)
