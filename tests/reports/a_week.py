"""The week whose picture the README shows. `python -m tests.reports.a_week` draws it into docs/a_week.png.

The figures that are drawn are kept in the file, so that a test can tell whether the picture is up to date.
"""

from __future__ import annotations

import sys
from datetime import date, timedelta
from pathlib import Path

from sqlalchemy import select

from bot.app import open_tarebook
from bot.reports import picture, series
from bot.reports.series import Picture
from bot.store.schema import outbox
from tests.talk import Talk

FILE = Path(__file__).parents[2] / "docs" / "a_week.png"
MONDAY = date(2026, 10, 19)
BEFORE = ("region metric", "timezone UTC", "target 2100 kcal protein 120", "reminder off")
OATS, CHICKEN = "80 g dry oats, 300 g whole milk", "350 g cooked white rice, 220 g raw chicken breast"
EATEN = (
    (OATS, CHICKEN, "2 eggs, 90 g bread", "I weigh 82.4 kg"),
    (OATS, "180 g dry pasta, 60 g cheddar", "400 g greek yogurt nonfat", "I weigh 82.1 kg"),
    (OATS, "400 g boiled potatoes, 250 g salmon", "2 bananas"),
    (),
    ("90 g bread, 40 g cheddar", CHICKEN, "3 cups cooked rice", "I weigh 81.9 kg"),
    (OATS, "200 g zorblax", "500 g cooked white rice, 150 g raw chicken breast"),
    ("4 eggs, 120 g bread", "350 g salmon, 300 g boiled potatoes", "200 g greek yogurt nonfat", "I weigh 82.0 kg"),
)


def week() -> Picture:
    """The picture of the week, from its messages."""
    with open_tarebook("sqlite://") as tarebook:
        talk = Talk(tarebook)
        for text in BEFORE:
            talk.say(text, f"{MONDAY}T06:00")
        for n, texts in enumerate(EATEN):
            for hour, text in enumerate(texts):
                talk.say(text, f"{MONDAY + timedelta(days=n)}T{9 + 3 * hour:02d}:00")
        talk.say("week", f"{MONDAY + timedelta(days=6)}T21:00")
        with tarebook.transaction() as conn:
            figures = conn.execute(select(outbox.c.picture).order_by(outbox.c.id.desc()).limit(1)).scalar_one()
    return series.decode(figures)


if __name__ == "__main__":
    shown = week()
    description = {"Description": series.encode(shown)}
    picture.drawn(shown).savefig(FILE, dpi=picture.DOTS_PER_INCH, facecolor=picture.PAPER, metadata=description)
    sys.stdout.write(f"{FILE}\n")
