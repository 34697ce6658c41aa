"""The page for a consultation: one page that everything fits on, and nothing on it that is withheld."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta

import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.text import Text

from bot.app import Tarebook, open_tarebook
from bot.channels.converse import CHANNEL
from bot.reports.page import Page, drawn, pdf
from bot.reports.series import DayFigures, Picture
from tests.talk import Talk

AT = datetime(2026, 3, 9, 8, tzinfo=UTC)
FIRST = date(2026, 2, 9)
LONG = "overnight oats with grated apple and toasted hazelnuts"


def words(page: Page) -> str:
    """All that is drawn."""
    return "\n".join(text.get_text() for text in drawn(page).findobj(Text))


def full(name: str = "Ana", foods: int = 5) -> Page:
    days = tuple(
        DayFigures(
            day=FIRST + timedelta(days=n), kcal=2000.0 + n, give_or_take=150.0, target_kcal=1900.0, protein_g=90.0 + n,
            target_protein_g=100.0, weight=71.0 + n / 50, mean_weight=71.0 + n / 60,
        )
        for n in range(28)
    )  # fmt: skip
    facts = [(f"Fact number {n}", "2,134 kcal; target 1,900 kcal") for n in range(7)]
    facts.append(("Most often", ", ".join(f"{LONG} ({n})" for n in range(foods))))
    return Page(
        title=name,
        subtitle=f"9 February to 8 March 2026; made on 9 March for {name} with {name}'s consent",
        made_at=AT,
        facts=facts,
        picture=Picture(title="", days=days),
        columns=["Week", "Days", "Energy a day", "Protein a day", "Body weight"],
        weeks=[["16 February to 22 February", "7", "at least 2,134 kcal", "102 g", "159.8 lb (72.5 kg)"]] * 4,
        notes=[f"•  {LONG} makes a day uncertain by about 110 kcal; weigh it instead of filling a cup or spoon."] * 2,
        footer="Means over logged days. " * 12,
    )


@pytest.mark.parametrize("name", ("Ana", "Maximiliane Alexandra of Hohenberg-South", "$x^$ & ${\\frac"))
def test_everything_fits_on_one_page_and_nothing_overlaps(name: str) -> None:
    page = full(name)
    figure = drawn(page)
    canvas = FigureCanvasAgg(figure)
    canvas.draw()
    shown = [text for text in figure.texts if text.get_text()]
    boxes = [text.get_window_extent() for text in shown]
    tight = [axes.get_tightbbox(canvas.get_renderer()) for axes in figure.axes]
    panels = [box for box in tight if box is not None]
    whole = figure.bbox
    for text, box in zip(shown, boxes, strict=True):
        assert box.x0 >= 0, text.get_text()
        assert box.x1 <= whole.x1 * 0.97, text.get_text()
        assert box.y0 >= 0, text.get_text()
        assert box.y1 <= whole.y1, text.get_text()
        assert sum(box.padded(-1).overlaps(other) for other in (*boxes, *panels)) == 1, text.get_text()
    assert re.findall(rb"/Count (\d+)", pdf(page)) == [b"1"]


@pytest.fixture
def tarebook() -> Iterator[Tarebook]:
    with open_tarebook("sqlite://") as opened:
        talk = Talk(opened)
        code = re.search(r"/start ([\w-]{22})", str(talk.say("invite Ana", "2026-02-08T08:00", "Ines")))
        assert code is not None
        for text in (f"/start {code[1]}", "yes", "target 1900 kcal protein 100", "region metric"):
            talk.say(text, "2026-02-08T09:00", "Ana")
        for n in range(28):
            at = f"{FIRST + timedelta(days=n)}T12:00"
            for text in ("600 g cooked rice", "300 g raw chicken breast", "150 g red wine", "I weigh 71.4 kg"):
                talk.say(text, at, "Ana")
        yield opened


def page_now(tarebook: Tarebook) -> Page | None:
    ines, ana = (tarebook.person(CHANNEL, name) for name in ("Ines", "Ana"))
    assert ines is not None
    assert ana is not None
    return tarebook.page_of(ines.id, ana.id, AT, AT)


def test_the_figures_are_those_of_the_records(tarebook: Tarebook) -> None:
    page = page_now(tarebook)
    assert page is not None
    said = words(page)
    # 600 g of rice at 130, 300 g of chicken at 120, 150 g of wine at 85 kcal per 100 g (the table's rows).
    assert "1,268 kcal; target 1,900 kcal" in said
    assert "28 of 28" in said
    assert "71.4 kg, mean of the last 7" in said
    assert "Alcohol a week" in said


@pytest.mark.parametrize(
    ("hidden", "gone", "kept"),
    (
        ("hide my calories from Ines", ("kcal", "Alcohol", "Fat, ", "give or take;"), ("Protein a day", "71.4 kg")),
        ("hide my protein from Ines", ("kcal", "Protein", "Fat, "), ("white rice", "71.4 kg")),
        ("hide my weight from Ines", ("71.4", "Body weight, kg"), ("Protein a day", "1,268 kcal")),
    ),
)
def test_nothing_withheld_is_on_it(
    tarebook: Tarebook, hidden: str, gone: tuple[str, ...], kept: tuple[str, ...]
) -> None:
    Talk(tarebook).say(hidden, "2026-03-09T07:00", "Ana")
    page = page_now(tarebook)
    assert page is not None
    said = words(page)
    assert "Not shared" in said
    for each in gone:
        assert each not in said
    for each in kept:
        assert each in said
    assert pdf(page).startswith(b"%PDF-")


def test_days_without_a_record_are_counted_and_nothing_empty_stands_there(tarebook: Tarebook) -> None:
    Talk(tarebook).say("hide my weight from Ines", "2026-03-09T07:00", "Ana")
    for day in (3, 4):
        Talk(tarebook).say(f"clear {day} March", "2026-03-09T07:00", "Ana")
        Talk(tarebook).say("yes", "2026-03-09T07:00", "Ana")
    page = page_now(tarebook)
    assert page is not None
    assert ("Days logged", "26 of 28") in page.facts
    assert page.notes[0] == "•  2 days have nothing on record."
    assert page.columns == ["Week", "Days", "Energy a day", "Protein a day"]


def test_there_is_none_after_the_end(tarebook: Tarebook) -> None:
    Talk(tarebook).say("end coaching with Ines", "2026-03-09T07:00", "Ana")
    assert page_now(tarebook) is None
