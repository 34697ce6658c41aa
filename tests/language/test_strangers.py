"""Who is nobody here, what a question leaves out, and days that are dated, in wordings of this project's own."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from bot.language.asked import Listing, Sheet
from bot.language.guided import (
    ClientFigures,
    ClientHistory,
    ClientSheet,
    HowIs,
    Pause,
    PrivateNote,
    PrivateNotes,
    TargetFor,
    Tell,
)
from bot.language.meanings import Meaning
from bot.language.surroundings import Surroundings
from bot.language.told import Item
from bot.language.understand import understand

MONDAY = datetime(2026, 3, 9, 12, tzinfo=UTC)
TODAY = MONDAY.date()
COACH = Surroundings(now=MONDAY, clients=("Nadia", "Otis"), guides=True)
CLIENT = Surroundings(now=MONDAY, coaches=("Cy",))


@pytest.mark.parametrize(
    ("said", "name"),
    (
        ("joost needs at least 90 g protein a day", "Joost"),
        ("no more nudges to Joost", "Joost"),
        ("put Joost on 2100", "Joost"),
        ("Gerda ought to get 1700 kcal", "Gerda"),
        ("nudge Olek at 7 pm about dinner", "Olek"),
        ("any news of Brenda?", "Brenda"),
        ("Olek is off sick until Friday", "Olek"),
    ),
)
def test_what_is_said_of_nobody_here_falls_on_nobody(said: str, name: str) -> None:
    assert understand(said, COACH) == [HowIs(client=name)]


@pytest.mark.parametrize(
    ("said", "name"),
    (
        ("is Nadia losing too? She has the same coach", "Nadia"),
        ("how much protein does otto eat", "Otto"),
        ("what did Nadia have today, i bet i beat her", "Nadia"),
        ("is Nadia heavier than me?", "Nadia"),
    ),
)
def test_a_client_asks_of_another_and_records_nothing(said: str, name: str) -> None:
    assert understand(said, CLIENT) == [HowIs(client=name)]


@pytest.mark.parametrize(
    "said", ("is Quorn high in protein?", "how much protein does labneh have", "does Anna's granola have sugar")
)
def test_a_food_with_a_capital_is_no_person(said: str) -> None:
    assert not any(isinstance(meant, HowIs) for around in (COACH, CLIENT) for meant in understand(said, around))


def test_one_s_own_commands_stay_one_s_own() -> None:
    for said in ("I need at least 90 g protein a day", "no more nudges to me", "target 2000 kcal for now"):
        assert not any(isinstance(meant, HowIs) for meant in understand(said, COACH))


def test_a_coach_is_no_food() -> None:
    found = understand("split a pizza with Cy, 200 g of it was mine", CLIENT)
    assert not any(isinstance(meant, Item) and meant.name and meant.name.text.lower() == "cy" for meant in found)


def after(*earlier: str) -> Surroundings:
    return replace(COACH, said_before=lambda: earlier)


@pytest.mark.parametrize(
    ("earlier", "said", "meant"),
    (
        (("what did Nadia eat yesterday?",), "and Otis?", ClientSheet(client="Otis", span="day", back=1)),
        (
            ("and Otis?", "what did Nadia eat yesterday?"),
            "and protein?",
            ClientFigures(clients=("Otis",), nutrients=("protein_g",), first=date(2026, 3, 8), last=date(2026, 3, 8)),
        ),
        (
            ("what did Nadia eat yesterday?",),
            "what about Friday",
            ClientHistory(client="Nadia", first=date(2026, 3, 6), last=date(2026, 3, 6)),
        ),
        (
            ("read me Nadia's targets back",),
            "and Otis's?",
            ClientFigures(clients=("Otis",), of="target", first=TODAY, last=TODAY),
        ),
    ),
)
def test_a_question_carries_over_what_it_leaves_out(earlier: tuple[str, ...], said: str, meant: Meaning) -> None:
    assert understand(said, after(*earlier)) == [meant]


def test_what_was_no_question_carries_nothing_over() -> None:
    assert understand("and Otis?", after("200 g skyr")) == [HowIs(client="Otis")]
    (item,) = understand("and 200 g skyr", after("what did Nadia eat yesterday?"))
    assert isinstance(item, Item)


@pytest.mark.parametrize(
    ("said", "meant"),
    (
        ("for nadia let's say 2300 and 140 protein", [TargetFor(client="Nadia", kcal=2300, protein_g=140)]),
        (
            "Otis: 2100 on gym days, 1800 otherwise",
            [TargetFor(client="Otis", kcal=2100, days="training"), TargetFor(client="Otis", kcal=1800, days="rest")],
        ),
        (
            "2300 for Otis and 1700 for Nadia please",
            [TargetFor(client="Otis", kcal=2300), TargetFor(client="Nadia", kcal=1700)],
        ),
        ("bump Otis up to 3000 a day, protein same as before", [TargetFor(client="Otis", kcal=3000)]),
        ("protein for Otis down to 130, calories as they are", [TargetFor(client="Otis", protein_g=130)]),
        ("stop pinging Nadia about dinner", [Pause(client="Nadia")]),
        ("remind Nadia to log lunch", [Tell(client="Nadia", text="log lunch")]),
        ("note on Nadia: new job, eats late", [PrivateNote(client="Nadia", text="new job, eats late")]),
        ("what was it i had noted about Nadia?", [PrivateNotes(client="Nadia")]),
        (
            "is Nadia still getting pinged at night?",
            [ClientFigures(clients=("Nadia",), of="reminders", first=TODAY, last=TODAY)],
        ),
    ),
)
def test_what_a_coach_wishes_is_done_as_it_is_told(said: str, meant: list[Meaning]) -> None:
    assert understand(said, COACH) == meant


@pytest.mark.parametrize(
    "said",
    (
        "eh what number coach give me ah?",
        "confirm my current targets",
        "what did she put me on",
        "what am i meant to be eating each day again",
    ),
)
def test_a_client_s_targets_are_read_back(said: str) -> None:
    assert understand(said, CLIENT) == [Listing(of="target")]


@pytest.mark.parametrize(
    ("said", "day"),
    (
        ("what did I eat on Monday the 2nd", date(2026, 3, 2)),
        ("what did I eat on wednesday last week", date(2026, 3, 4)),
        ("what did I eat on Friday of last week", date(2026, 3, 6)),
        ("what did I eat on Saturday the 28th", date(2026, 2, 28)),
        ("what did I eat on wednesday", date(2026, 3, 4)),
    ),
)
def test_a_weekday_is_dated_by_what_stands_behind_it(said: str, day: date) -> None:
    assert understand(said, CLIENT) == [Sheet(span="day", day=day)]
