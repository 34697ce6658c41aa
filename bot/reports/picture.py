"""Draws a picture: energy against the target, protein, body weight. Matplotlib is imported only here, when drawing.

One look for all: ink on paper-white, one hue; what differs does so by shape and lightness as well, so that it reads in
grey and for those who see few colours. Sized for a phone held upright.
"""

from __future__ import annotations

import io
from functools import partial
from itertools import groupby
from typing import TYPE_CHECKING, Final

from bot.reports.series import DayFigures, Picture

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

INK: Final = "#22303c"
PAPER: Final = "#fcfbf7"
BAR: Final = "#6f9fb8"
PROTEIN: Final = "#b9c4ad"
RULE: Final = "#b9b4a6"
WIDTH_IN: Final = 6.0
DOTS_PER_INCH: Final = 180
EVERY_DAY_UP_TO: Final = 10
"""Days up to which each gets its name and its figure; more are named by date, once a week."""


def png(picture: Picture) -> bytes:
    """The picture as a PNG of 1,080 dots across."""
    buffer = io.BytesIO()
    drawn(picture).savefig(buffer, format="png", dpi=DOTS_PER_INCH, facecolor=PAPER)
    return buffer.getvalue()


def drawn(picture: Picture) -> Figure:
    """The figure itself: one panel each for energy, protein and body weight, without those that nothing is in."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    panels_drawn = panels_of(picture)
    heights = [_HEIGHTS_IN[draw.func] for draw in panels_drawn]
    figure = Figure(figsize=(WIDTH_IN, sum(heights) + 1.2), layout="constrained")
    FigureCanvasAgg(figure)
    figure.suptitle(picture.title, color=INK, fontsize=15, fontweight="bold", x=0.02, ha="left")
    panels = figure.subplots(len(heights), 1, sharex=True, height_ratios=heights, squeeze=False)[:, 0]
    for panel, draw in zip(panels, panels_drawn, strict=True):
        draw(panel)
        plain(panel)
    name_days(panels[-1], picture.days)
    return figure


def panels_of(picture: Picture) -> list[partial[None]]:
    """What draws each panel that something is in; energy and protein, empty, when nothing is in any."""
    weighed = any(day.weight is not None for day in picture.days)
    protein = any(day.protein_g is not None for day in picture.days)
    energy = any(day.kcal is not None for day in picture.days)
    nothing = not (weighed or protein or energy)
    panels = [partial(_energy, days=picture.days)] if energy or nothing else []
    panels += [partial(_protein, days=picture.days)] if protein or nothing else []
    return [*panels, partial(_weight, picture=picture)] if weighed else panels


def _energy(panel: Axes, days: tuple[DayFigures, ...]) -> None:
    known = [(n, day) for n, day in enumerate(days) if day.kcal is not None]
    panel.bar(
        [n for n, _ in known],
        [day.kcal or 0.0 for _, day in known],
        yerr=[day.give_or_take for _, day in known],
        color=BAR,
        edgecolor=INK,
        linewidth=[0.8] * len(known),
        hatch=["//" if day.at_least else "" for _, day in known],
        width=0.7,
        error_kw={"ecolor": INK, "elinewidth": 1.4, "capsize": 3},
        label="energy",
    )
    _steps(panel, [day.target_kcal for day in days])
    top = max([*((day.kcal or 0) + day.give_or_take for _, day in known), *(d.target_kcal or 0 for d in days), 100.0])
    panel.set_ylim(0, top * 1.08)
    panel.yaxis.set_major_formatter("{x:,.0f}")
    if len(days) <= EVERY_DAY_UP_TO:
        _name_bars(panel, [(n, f"{'≥' if day.at_least else ''}{day.kcal:,.0f}") for n, day in known], 0.04 * top)
    marks = ["whiskers: give or take"]
    marks += ["hatched: at least"] * any(day.at_least for _, day in known)
    marks += ["dashed: target"] * any(day.target_kcal is not None for day in days)
    _head(panel, f"Energy, kcal; {'; '.join(marks)}")


def _protein(panel: Axes, days: tuple[DayFigures, ...]) -> None:
    known = [(n, day.protein_g) for n, day in enumerate(days) if day.protein_g is not None]
    panel.bar([n for n, _ in known], [grams for _, grams in known], color=PROTEIN, edgecolor=INK, width=0.7)
    _steps(panel, [day.target_protein_g for day in days])
    top = max([*(grams for _, grams in known), *(day.target_protein_g or 0 for day in days), 10.0])
    panel.set_ylim(0, top * 1.12)
    if len(days) <= EVERY_DAY_UP_TO:
        _name_bars(panel, [(n, f"{grams:.0f}") for n, grams in known], 0.08 * top)
    panel.locator_params(axis="y", integer=True)
    _head(panel, "Protein, g")


def _weight(panel: Axes, picture: Picture) -> None:
    values = [(n, day.weight) for n, day in enumerate(picture.days) if day.weight is not None]
    means = [(n, day.mean_weight) for n, day in enumerate(picture.days) if day.mean_weight is not None]
    band = [
        (n, day.least_weight, day.most_weight)
        for n, day in enumerate(picture.days)
        if day.least_weight is not None and day.most_weight is not None
    ]
    if band:
        at, least, most = zip(*band, strict=True)
        panel.fill_between(at, least, most, color=RULE, alpha=0.45, linewidth=0)
    panel.plot(*zip(*values, strict=True), "o", color=PAPER, markeredgecolor=INK, markersize=6, label="weighed")
    if means:
        panel.plot(*zip(*means, strict=True), "-", color=INK, linewidth=2.2, label="mean of the last seven")
    shown = [value for _, value in (*values, *means)] + [end for _, *ends in band for end in ends]
    middle, half = (max(shown) + min(shown)) / 2, max((max(shown) - min(shown)) * 0.65, 0.6)
    panel.set_ylim(middle - half, middle + half)
    _head(panel, f"Body weight, {picture.weight_unit}; line and band: mean and range of the last seven")


_HEIGHTS_IN: Final = {_energy: 3.0, _protein: 1.5, _weight: 1.7}


def _name_bars(panel: Axes, texts: list[tuple[int, str]], height: float) -> None:
    """Figures at the foot of the bars, where no line crosses them."""
    plate = {"facecolor": PAPER, "edgecolor": "none", "pad": 1.8}
    for n, text in texts:
        panel.text(n, height, text, ha="center", va="bottom", fontsize=10, color=INK, bbox=plate)


def _steps(panel: Axes, targets: list[float | None]) -> None:
    """The target as a dashed line over the days that have it."""
    n = 0
    for target, days in groupby(targets):
        first, n = n, n + len(list(days))
        if target is not None:
            ends = [first - 0.5, n - 0.5]
            panel.plot(ends, [target, target], color=INK, linewidth=1.8, linestyle=(0, (4, 2)))


def _head(panel: Axes, text: str) -> None:
    panel.set_title(text, loc="left", fontsize=11, color=INK)


def plain(panel: Axes) -> None:
    """Gives a panel the common look."""
    panel.set_facecolor(PAPER)
    panel.tick_params(colors=INK, labelsize=10, length=0)
    panel.grid(axis="y", color=RULE, linewidth=0.6)
    panel.set_axisbelow(True)
    for side in ("top", "right", "left"):
        panel.spines[side].set_visible(False)
    panel.spines["bottom"].set_color(RULE)
    panel.locator_params(axis="y", nbins=5)


def name_days(panel: Axes, days: tuple[DayFigures, ...]) -> None:
    """Writes the days under a panel."""
    panel.set_xlim(-0.6, len(days) - 0.4)
    if len(days) <= EVERY_DAY_UP_TO:
        panel.set_xticks(range(len(days)), [f"{d.day:%a}\n{d.day.day} {d.day:%b}" for d in days])
        return
    weekly = [n for n, d in enumerate(days) if d.day.weekday() == 0]
    panel.set_xticks(weekly, [f"{days[n].day:%a}\n{days[n].day.day} {days[n].day:%b}" for n in weekly])
