"""Parts of a consent: what a client leaves out, and what a coach still gets to see without it."""

from __future__ import annotations

import pytest

from .chat import Chat, Door
from .test_coaching import eats, guides, person, told

EVENING = "2026-03-08T20:00:00+00:00"
SHEETS = (
    "roster", "how is Ana?", "Ana's day", "Ana's week", "Ana's month", "Ana's last 4 weeks", "Ana's Tuesday",
    "compare Ana's week with last week", "how much white rice does Ana eat?", "digest",
    "comment on Ana's #1: well done", "comment on Ana's lunch on Tuesday: well done",
)  # fmt: skip


@pytest.fixture
def ines(door: Door) -> Chat:
    return person(door, "Ines", timezone="UTC")


@pytest.fixture
def ana(door: Door, ines: Chat) -> Chat:
    client = person(door, "Ana", timezone="UTC")
    guides(ines, client, "Ana")
    client.say("target 2000 kcal protein 100")
    eats(client, range(2, 9), "300 g cooked rice for lunch", "200 g raw chicken breast", "I weigh 71.4 kg")
    return client


def seen(coach: Chat) -> str:
    return "\n".join(coach.say(text, at=EVENING).text for text in SHEETS)


def test_weeks_are_shown_without_energy(ines: Chat, ana: Chat) -> None:
    ana.say("hide my calories from Ines", at=EVENING)
    everything = seen(ines)
    assert "kcal" not in everything
    assert " fat " not in everything
    week = ines.say("Ana's week", at=EVENING).text
    for shown in ("7 of 7 days logged", "Monday: 2 on record, 500 g, protein", "of 100 g", "Body weight: 71.4 kg"):
        assert shown in week
    assert "protein" in ines.say("compare Ana's week with last week", at=EVENING).text
    assert "short" in ines.say("roster", at=EVENING).text
    assert "kcal" in ana.say("my week", at=EVENING).text


def test_protein_goes_with_the_energy_when_it_is_withheld_too(ines: Chat, ana: Chat) -> None:
    ana.say("hide my protein from Ines", at=EVENING)
    everything = seen(ines)
    assert "kcal" not in everything
    assert "protein" not in everything
    assert "Monday: 2 on record, 500 g" in everything
    assert "no energy or protein" in ana.say("who sees my data?", at=EVENING).text
    ana.say("Ines may see my calories again", at=EVENING)
    assert "kcal, protein" in ines.say("Ana's week", at=EVENING).text


def test_a_standing_caution_is_a_reason_once_the_client_shares_it_and_never_says_which(ines: Chat, ana: Chat) -> None:
    ana.say("I'm pregnant", at=EVENING)
    assert "Ines is not told" in ana.say("yes", at=EVENING).text
    assert "caution" not in seen(ines)
    shared = ana.say("Ines may know about my cautions", at=EVENING)
    assert "Ana shares with you whether a standing caution limits targets." in told(shared, "Ines")
    assert "knows whether a standing caution limits your targets" in ana.say("who sees my data?", at=EVENING).text
    ana.say("hide my calories from Ines", at=EVENING)
    assert "Ana: a standing caution limits targets; protein" in ines.say("roster", at=EVENING).text
    assert "standing caution" in ines.say("digest", at=EVENING).text
    assert not any("pregnan" in heard.text for heard in ines.heard)
    ana.say("hide my cautions from Ines", at=EVENING)
    assert "caution" not in seen(ines)


def test_a_standing_caution_is_news_for_two_weeks_and_known_afterwards(ines: Chat, ana: Chat) -> None:
    ana.say("I'm pregnant", at=EVENING)
    ana.say("yes", at=EVENING)
    ana.say("Ines may know about my cautions", at=EVENING)
    eats(ana, range(9, 30), "900 g cooked rice for lunch", "300 g raw chicken breast")
    later = "2026-03-29T20:00:00+00:00"
    assert "standing caution" not in ines.say("roster", at=later).text
    assert "a standing caution limits targets" in ines.say("how is Ana?", at=later).text


def test_what_was_given_to_a_coach_ends_with_the_coaching(ines: Chat, ana: Chat) -> None:
    for text in ("Ines may export my records", "Ines may know about my cautions", "hide my weight from Ines"):
        ana.say(text, at=EVENING)
    assert "can have a file of your records" in ana.say("who sees my data?", at=EVENING).text
    ana.say("end coaching with Ines", at=EVENING)
    guides(ines, ana, "Ana")
    now = ana.say("who sees my data?", at=EVENING).text
    assert "file of your records" not in now
    assert "caution" not in now
    assert "no body weight" in now
