"""What coaches and clients ask and tell about each other, read by roles; the wordings are this project's own."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from bot.language.asked import Listing, Remaining
from bot.language.guided import (
    ClientFigures,
    ClientSheet,
    EndCoaching,
    Guided,
    HowIs,
    Invite,
    Pause,
    Resume,
    Roster,
    TargetFor,
    WhoSees,
)
from bot.language.meanings import Meaning
from bot.language.surroundings import Surroundings
from bot.language.understand import understand

COACH = Surroundings(
    now=datetime(2026, 3, 4, 12, tzinfo=UTC), clients=("Nadia", "Otis", "Olive"), clients_before=("Priya",), guides=True
)
CLIENT = Surroundings(now=COACH.now, coaches=("Cy",))


@pytest.mark.parametrize(
    ("said", "meant"),
    (
        ("and another, for Wren", Invite(called="Wren")),
        ("Wren needs one as well", Invite(called="Wren")),
        (
            "Nadia eighteen hundred calories, 95 g protein",
            TargetFor(client="Nadia", kcal=1800, protein_g=95),
        ),
        ("Otis: 95 g of protein daily, please", TargetFor(client="Otis", protein_g=95, days="0123456")),
        ("bring Otis back", Resume(client="Otis")),
        ("Nadia has had enough of this, remove her from my list", EndCoaching(whom="Nadia")),
        ("is Priya eating well", HowIs(client="Priya")),
    ),
)
def test_what_a_coach_tells_of_clients_stands_wherever_the_name_does(said: str, meant: Meaning) -> None:
    assert understand(said, COACH) == [meant]


@pytest.mark.parametrize(
    ("said", "clients", "of", "nutrients"),
    (
        ("which way is Nadia going, lost or gained", ("Nadia",), "body_weight", ()),
        ("what's Otis meant to be eating", ("Otis",), "target", ()),
        ("which ones went short on protein yesterday", (), "nutrients", ("protein_g",)),
        ("protein for all of them today", (), "nutrients", ("protein_g",)),
        ("has Otis stayed under twenty six hundred today", ("Otis",), "nutrients", ()),
        ("compare Nadia and Otis", ("Nadia", "Otis"), "nutrients", ()),
        ("when did Otis last log", ("Otis",), "days", ()),
    ),
)
def test_figures_are_asked_by_whom_and_what(
    said: str, clients: tuple[str, ...], of: str, nutrients: tuple[str, ...]
) -> None:
    (meant,) = understand(said, COACH)
    assert isinstance(meant, ClientFigures), meant
    assert (meant.clients, meant.of, meant.nutrients) == (clients, of, nutrients)


def test_a_pronoun_is_the_client_spoken_of_last() -> None:
    around = replace(COACH, said_before=lambda: ("and Otis?", "Nadia's week"))
    (meant,) = understand("has he put any weight on", around)
    assert isinstance(meant, ClientFigures)
    assert meant.clients == ("Otis",)
    around = replace(COACH, said_before=lambda: ("what did Priya eat", "Otis weight?"))
    assert understand("then her protein for the week", around) == [HowIs(client="Priya")], "she is no client any more"


def test_who_asks_of_all_clients() -> None:
    assert understand("did everyone log", COACH) == [Roster(of="logged")]
    assert understand("who did I put on hold", COACH) == [Roster(of="paused")]
    assert understand("Nadia lunch?", COACH) == [ClientSheet(client="Nadia", span="day")]


@pytest.mark.parametrize(
    "said",
    (
        "250 g cooked rice", "a tablespoon of olive oil, not weighed", "what did I eat yesterday",
        "90 g oats with everyone here",
        "how many calories in an apple", "mango 300, does anybody eat the stone? no",
    ),
)  # fmt: skip
def test_what_is_the_coachs_own_stays_so(said: str) -> None:
    assert not any(isinstance(meaning, Guided) for meaning in understand(said, COACH))


@pytest.mark.parametrize("said", ("wait who reads this", "what gets passed on to Cy", "who else can look at this"))
def test_a_client_asks_who_sees_what(said: str) -> None:
    assert understand(said, CLIENT) == [WhoSees()]


@pytest.mark.parametrize("said", ("what am i supposed to hit every day", "has Cy set anything for me"))
def test_a_client_asks_for_their_target(said: str) -> None:
    assert understand(said, CLIENT) == [Listing(of="target")]


def test_a_client_is_no_coach() -> None:
    assert understand("is Wren a client here too, and what does she weigh?", CLIENT) == [HowIs(client="Wren")]
    assert understand("Cy gave me 1650, how many of those calories do i still have", CLIENT) == [
        Remaining(nutrient="kcal", of=1650)
    ]
    assert understand("I take my permission back, Cy may not see my food any longer", CLIENT) == [
        EndCoaching(whom="Cy")
    ]


def test_a_coach_pauses_a_client() -> None:
    assert understand("put Otis on hold till Friday", COACH) == [Pause(client="Otis", until=date(2026, 3, 6))]


@pytest.mark.parametrize(
    "said",
    (
        "a new lady starts with me today, Wren. Could I have something I can text her so she gets in?",
        "need to get Wren signed up with me, what do I send her?",
        "Wren is joining me from today, how does she link up with me?",
    ),
)
@pytest.mark.parametrize("around", (COACH, Surroundings(now=COACH.now)))
def test_somebody_who_comes_to_be_guided_is_invited(said: str, around: Surroundings) -> None:
    assert understand(said, around) == [Invite(called="Wren")]


@pytest.mark.parametrize(
    ("said", "called"),
    (
        ("morning! new woman starting with me, Orla. can you give me something to send her so she can join up", "Orla"),
        ("How do I get Winnie hooked up with me? Send me whatever she has to type", "Winnie"),
        ("one more client to add, jaz", "Jaz"),
        ("hey I need a join code for a guy named Teo", "Teo"),
    ),
)
def test_the_name_of_whoever_is_invited_is_no_verb(said: str, called: str) -> None:
    assert understand(said, Surroundings(now=COACH.now, guides=True)) == [Invite(called=called)]
