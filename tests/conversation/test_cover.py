"""Covering: a colleague sees a client only with all yeses, only until the last day, and no more than the coach."""

from __future__ import annotations

import pytest

from .chat import Chat, Door
from .test_coaching import code_of, guides, person, told

LAST = "2026-03-09T23:50:00+00:00"
OVER = "2026-03-10T00:10:00+00:00"
ABOUT_ANA = ("Ana's day", "Ana's week", "how is Ana?", "report for Ana", "target for Ana 2100 kcal", "tell Ana: hello")


@pytest.fixture
def ines(door: Door) -> Chat:
    return person(door, "Ines", timezone="UTC")


@pytest.fixture
def omar(door: Door) -> Chat:
    return person(door, "Omar", timezone="UTC")


@pytest.fixture
def ana(door: Door, ines: Chat) -> Chat:
    client = person(door, "Ana", timezone="UTC")
    guides(ines, client, "Ana")
    client.say("321 g banana")
    return client


def covers(ines: Chat, omar: Chat, *answers: tuple[Chat, str]) -> None:
    omar.say(f"/start {code_of(ines.say('Omar covers my clients until 9 March'))}")
    omar.say("yes")
    for client, answer in answers:
        client.say(answer)


def sees_nothing(coach: Chat, at: str | None = None) -> None:
    for text in ABOUT_ANA:
        said = coach.say(text, at=at)
        assert said.others == ()
        assert "321" not in said.text
        assert not said.records


def test_it_takes_the_colleagues_yes_and_the_clients(ines: Chat, omar: Chat, ana: Chat) -> None:
    code = code_of(ines.say("Omar covers Ana until 9 March"))
    sees_nothing(omar)
    offered = omar.say(f"/start {code}")
    assert "Ines asks you to cover one client until Monday 9 March." in offered.text
    assert "Ana" not in offered.text
    sees_nothing(omar)
    asked = told(omar.say("yes, I cover"), "Ana")
    assert "May Omar cover for Ines?" in asked
    assert "end coaching with Omar" in asked
    sees_nothing(omar)
    said = ana.say("yes")
    assert "you cover Ana for Ines until Monday 9 March" in told(said, "Omar")
    assert "Omar covers until Monday 9 March" in told(said, "Ines")
    assert "321 g" in omar.say("Ana's day").text
    assert "You cover Ana for Ines until Monday 9 March." in omar.say("roster").text
    assert "Omar covers for Ines until Monday 9 March, by your yes" in ana.say("who sees my data?").text


@pytest.mark.parametrize("who", ("colleague", "client"))
def test_a_no_of_either_is_told_and_shows_nothing(ines: Chat, omar: Chat, ana: Chat, who: str) -> None:
    omar.say(f"/start {code_of(ines.say('Omar covers Ana until 9 March'))}")
    if who == "colleague":
        assert "does not cover your clients" in told(omar.say("no"), "Ines")
    else:
        omar.say("yes")
        assert "Ana does not want to be covered by Omar." in told(ana.say("no"), "Ines")
    sees_nothing(omar)


def test_it_ends_by_itself_with_its_last_day(ines: Chat, omar: Chat, ana: Chat) -> None:
    covers(ines, omar, (ana, "yes"))
    assert "Ana" in omar.say("roster", at=LAST).text
    sees_nothing(omar, OVER)
    assert omar.say("roster", at=OVER).one("roster")["clients"] == []
    assert "Omar" not in ana.say("who sees my data?", at=OVER).text
    assert "Ana" in ines.say("roster", at=OVER).text
    omar.say(f"/start {code_of(ines.say('Omar covers Ana until 20 March', at=OVER))}", at=OVER)
    omar.say("yes", at=OVER)
    ana.say("yes", at=OVER)
    assert "Ana" in omar.say("roster", at=OVER).text


@pytest.mark.parametrize("who", ("coach", "client", "colleague", "the coaching itself"))
def test_each_of_the_three_ends_it_at_once(ines: Chat, omar: Chat, ana: Chat, who: str) -> None:
    covers(ines, omar, (ana, "yes"))
    said = {
        "coach": lambda: ines.say("end the cover"),
        "client": lambda: ana.say("end coaching with Omar"),
        "colleague": lambda: omar.say("end coaching with Ana"),
        "the coaching itself": lambda: ana.say("end coaching with Ines"),
    }[who]()
    assert {to for to, _ in said.others} >= {"coach": {"Omar", "Ana"}, "client": {"Omar"}}.get(who, set())
    sees_nothing(omar)


def test_the_colleague_gets_no_more_than_the_coach(ines: Chat, omar: Chat, ana: Chat) -> None:
    ana.say("hide my calories from Ines")
    covers(ines, omar, (ana, "yes"))
    assert "kcal" not in omar.say("Ana's week").text
    ana.say("Omar may export my data").refused("covers for Ines and sees what Ines sees")
    ana.say("hide my protein from Omar")
    assert "protein" not in omar.say("Ana's week").text
    assert "protein" in ines.say("Ana's week").text


def test_what_the_colleague_does_is_told_and_their_notes_stay_theirs(ines: Chat, omar: Chat, ana: Chat) -> None:
    covers(ines, omar, (ana, "yes"))
    assert "Omar, covering for Ines: hello" in told(omar.say("tell Ana: hello"), "Ana")
    omar.say("private note on Ana: likes lilac")
    assert "lilac" not in ines.say("my notes about Ana").text
    assert "lilac" in omar.say("my notes about Ana").text


@pytest.mark.parametrize("said", ("Omar covers for me", "Omar will cover Ana", "have Omar cover me until I'm back"))
def test_without_a_day_it_lasts_until_it_is_ended(ines: Chat, omar: Chat, ana: Chat, said: str) -> None:
    invited = ines.say(said)
    # 90 days after Monday 2 March 2026.
    assert "Omar can cover Ana until you end it, but no later than Sunday 31 May." in invited.text
    offered = omar.say(f"/start {code_of(invited)}")
    assert "until Sunday 31 May" in offered.text
    asked = omar.say("yes")
    assert "covers until Sunday 31 May" in told(asked, "Ana")
    ana.say("yes")
    assert "Ana" in omar.say("roster", at="2026-05-31T12:00:00+00:00").text
    sees_nothing(omar, "2026-06-01T00:10:00+00:00")


def test_without_a_day_it_ends_when_the_coach_says_so(ines: Chat, omar: Chat, ana: Chat) -> None:
    omar.say(f"/start {code_of(ines.say('Omar covers for me'))}")
    omar.say("yes")
    ana.say("yes")
    assert "321 g" in omar.say("Ana's day").text
    ines.say("Omar no longer covers for me")
    sees_nothing(omar)


def test_it_is_refused_beyond_the_longest(ines: Chat, ana: Chat) -> None:
    ines.say("Omar covers Ana until 2026-06-01").refused("at most 90 days")


def test_a_client_covers_for_nobody(ines: Chat, ana: Chat) -> None:
    ines.say("Ana covers for me").refused("Ana is your client")


def test_only_ones_own_clients_are_covered(ines: Chat, omar: Chat, ana: Chat) -> None:
    covers(ines, omar, (ana, "yes"))
    omar.say("Zoe covers my clients until 8 March").refused("no clients")
