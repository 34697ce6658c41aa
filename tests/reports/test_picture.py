"""What is drawn is what is on record."""

import subprocess
import sys
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from typing import Any

import pytest

from bot.reports import picture, series
from bot.reports.series import DayFigures, Picture

from .a_week import FILE, week

FIRST = date(2026, 3, 2)
WEEK = Picture(
    title="2 to 8 March",
    days=tuple(
        DayFigures(
            day=FIRST + timedelta(days=n),
            kcal=None if n == 3 else 1800.0 + 50 * n,
            give_or_take=20.0 + n,
            at_least=n == 5,
            target_kcal=2000.0 if n > 1 else None,
            protein_g=None if n == 3 else 90.0 + n,
            weight=None if n in (1, 3) else 82.0 - 0.1 * n,
            mean_weight=None if n in (1, 3) else 82.1 - 0.1 * n,
            least_weight=None if n in (1, 3) else 81.4 - 0.1 * n,
            most_weight=None if n in (1, 3) else 82.6 - 0.1 * n,
        )
        for n in range(7)
    ),
)


def axes() -> Any:
    """The panels. Their stubs do not say which kind of patch bars are."""
    return picture.drawn(WEEK).axes


def test_bars_stand_for_the_days_that_have_a_record() -> None:
    energy, protein, _ = axes()
    bars = [(round(bar.get_x() + bar.get_width() / 2), bar.get_height()) for bar in energy.patches]
    assert bars == [(n, day.kcal) for n, day in enumerate(WEEK.days) if day.kcal is not None]
    bars = [(round(bar.get_x() + bar.get_width() / 2), bar.get_height()) for bar in protein.patches]
    assert bars == [(n, day.protein_g) for n, day in enumerate(WEEK.days) if day.protein_g is not None]


def test_whiskers_are_the_give_or_take() -> None:
    energy = axes()[0]
    (whiskers,) = [c for c in energy.collections if hasattr(c, "get_segments")]
    spans = [(bottom, top) for (_, bottom), (_, top) in whiskers.get_segments()]
    known = [(day.kcal, day.give_or_take) for day in WEEK.days if day.kcal is not None]
    assert spans == [pytest.approx((kcal - by, kcal + by)) for kcal, by in known]


def test_the_target_is_drawn_on_its_days_only() -> None:
    energy = axes()[0]
    (dashes,) = [line for line in energy.lines if line.get_linestyle() == "--"]
    assert (tuple(dashes.get_xdata()), tuple(dashes.get_ydata())) == ((1.5, 6.5), (2000.0, 2000.0))


def test_a_target_that_changes_is_drawn_in_steps() -> None:
    days = tuple(
        replace(day, target_kcal=target)
        for day, target in zip(WEEK.days, (2000, 2000, None, 1800, 1800, 1900, 1900), strict=True)
    )
    energy: Any = picture.drawn(replace(WEEK, days=days)).axes[0]
    steps = [(*line.get_xdata(), line.get_ydata()[0]) for line in energy.lines if line.get_linestyle() == "--"]
    assert steps == [(-0.5, 1.5, 2000), (2.5, 4.5, 1800), (4.5, 6.5, 1900)]


def test_the_heads_explain_the_marks_that_are_there() -> None:
    heads = [panel.get_title(loc="left") for panel in axes()]
    assert heads[0] == "Energy, kcal; whiskers: give or take; hatched: at least; dashed: target"
    assert heads[2] == "Body weight, kg; line and band: mean and range of the last seven"
    whole = replace(WEEK, days=tuple(replace(day, at_least=False, target_kcal=None) for day in WEEK.days))
    panels: Any = picture.drawn(whole).axes
    assert panels[0].get_title(loc="left") == "Energy, kcal; whiskers: give or take"


def test_nothing_is_cut_off() -> None:
    figure = picture.drawn(WEEK)
    figure.draw_without_rendering()
    for panel in figure.axes:
        box = panel.get_tightbbox()
        assert box is not None
        assert figure.bbox.x0 <= box.x0 < box.x1 <= figure.bbox.x1
        assert figure.bbox.y0 <= box.y0 < box.y1 <= figure.bbox.y1


def test_body_weight_and_its_mean() -> None:
    values, means = axes()[2].lines
    days = [n for n in range(7) if n not in (1, 3)]
    assert list(values.get_xdata()) == list(means.get_xdata()) == days
    assert list(values.get_ydata()) == [WEEK.days[n].weight for n in days]
    assert list(means.get_ydata()) == [WEEK.days[n].mean_weight for n in days]


def test_the_band_is_the_range_of_the_last_seven() -> None:
    (band,) = axes()[2].collections
    (outline,) = band.get_paths()
    known = [day for day in WEEK.days if day.least_weight is not None]
    assert outline.vertices[:, 1].min() == min(day.least_weight or 0 for day in known)
    assert outline.vertices[:, 1].max() == max(day.most_weight or 0 for day in known)


def test_an_incomplete_day_is_marked_otherwise_than_by_colour() -> None:
    energy = axes()[0]
    assert [bar.get_hatch() or "" for bar in energy.patches] == ["", "", "", "", "//", ""]
    assert "≥2,050" in {text.get_text() for text in energy.texts}


def test_without_a_body_weight_there_are_two_panels() -> None:
    assert len(picture.drawn(Picture(title="", days=WEEK.days[3:4])).axes) == 2


def test_it_is_a_png_as_wide_as_a_phone_shows() -> None:
    png = picture.png(WEEK)
    assert png.startswith(b"\x89PNG")
    assert int.from_bytes(png[16:20]) == 1080


def test_bars_differ_in_lightness_not_only_in_hue() -> None:
    def grey(colour: str) -> float:
        red, green, blue = (int(colour[n : n + 2], 16) for n in (1, 3, 5))
        return 0.299 * red + 0.587 * green + 0.114 * blue  # ITU-R BT.601

    shades = sorted(grey(colour) for colour in (picture.INK, picture.BAR, picture.PROTEIN, picture.PAPER))
    assert all(later - earlier > 30 for earlier, later in pairwise(shades))


def test_figures_are_kept_whole() -> None:
    assert series.decode(series.encode(WEEK)) == WEEK


def test_the_running_mean_is_that_of_the_last_seven() -> None:
    weights = {FIRST + timedelta(days=n): 80.0 + n for n in range(10)}
    trends = series.running_trends(weights)
    assert trends[FIRST].mean == 80
    last = trends[FIRST + timedelta(days=9)]
    assert (last.mean, last.least, last.most) == (86, 83, 89)


def test_matplotlib_is_imported_for_drawing_only() -> None:
    code = "import sys, bot.app, bot.channels.converse, bot.reports.picture; sys.exit('matplotlib' in sys.modules)"
    subprocess.run([sys.executable, "-c", code], check=True)


def test_the_picture_of_the_readme_is_up_to_date() -> None:
    assert series.encode(week()).encode() in FILE.read_bytes(), "to draw it: python -m tests.reports.a_week"
