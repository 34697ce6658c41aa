"""A client stops sharing in their own words, is asked where it is not certain, and takes it back."""

from __future__ import annotations

import pytest

from .chat import Chat, Door
from .test_coaching import guides, person

EVENING = "2026-03-08T20:00:00+00:00"


@pytest.fixture
def ines(door: Door) -> Chat:
    return person(door, "Ines", timezone="UTC")


@pytest.fixture
def ana(door: Door, ines: Chat) -> Chat:
    client = person(door, "Ana", timezone="UTC")
    guides(ines, client, "Ana")
    client.say("200 g cooked rice", at=EVENING)
    return client


def sees(coach: Chat) -> str:
    return coach.say("Ana's day", at=EVENING).text


def test_sharing_stops_at_once_and_begins_again_on_a_yes(ines: Chat, ana: Chat) -> None:
    assert "coaching_ended" in ana.say("dont let Ines watch my meals any more", at=EVENING).kinds
    assert "rice" not in sees(ines)
    assert "can't see" in ana.say("so can she still look at my food?", at=EVENING).text
    asked = ana.say("fine, let Ines back in", at=EVENING)
    assert "coaching_agreed" not in asked.kinds
    assert "rice" not in sees(ines)
    assert "coaching_agreed" in ana.say("yes", at=EVENING).kinds
    assert "rice" in sees(ines)


def test_a_request_of_its_own_gives_no_consent(ines: Chat, ana: Chat) -> None:
    ana.say("stop sharing my stuff with Ines", at=EVENING)
    ana.say("share with Ines again", at=EVENING)
    said = ana.say("confirm my current targets", at=EVENING)
    assert "coaching_agreed" not in said.kinds
    assert "rice" not in sees(ines)
    assert "coaching_agreed" not in ana.say("no", at=EVENING).kinds
    assert "rice" not in sees(ines)


def test_what_is_not_certain_is_asked(ines: Chat, ana: Chat) -> None:
    asked = ana.say("i feel uneasy with my coach watching my meals", at=EVENING)
    assert "question" in asked.kinds
    ana.say("yes, stop sharing all", at=EVENING)
    assert "rice" not in sees(ines)


def test_a_doubt_that_is_dropped_changes_nothing(ines: Chat, ana: Chat) -> None:
    ana.say("i feel uneasy with my coach watching my meals", at=EVENING)
    assert "sees" in ana.say("no, change nothing", at=EVENING).text
    assert "rice" in sees(ines)


def test_all_parts_come_back_together(ines: Chat, ana: Chat) -> None:
    ana.say("hide my weight from Ines", at=EVENING)
    ana.say("I'd rather Ines didn't see my calories", at=EVENING)
    assert "kcal" not in sees(ines)
    ana.say("she may see everything again", at=EVENING)
    assert "kcal" in sees(ines)
    assert "no body weight" not in ana.say("who sees my data?", at=EVENING).text


def test_whoever_was_let_go_by_the_coach_cannot_take_it_back_alone(ines: Chat, ana: Chat) -> None:
    ines.say("end coaching with Ana", at=EVENING)
    said = ana.say("share with Ines again", at=EVENING)
    assert "refused" in said.kinds
    assert "invitation" in said.text


def test_a_client_learns_nothing_of_another(ines: Chat, ana: Chat) -> None:
    said = ana.say("how heavy is Bettina? She has the same coach", at=EVENING)
    assert not {"weigh_in", "weigh_in_open", "body_weight"} & set(said.kinds)
    assert "only see your own records" in said.text


def test_a_command_for_a_stranger_changes_nothing_of_the_coach(ines: Chat, ana: Chat) -> None:
    for text in ("joost needs at least 90 g protein a day", "no more nudges to Joost", "put Joost on 2100"):
        said = ines.say(text, at=EVENING)
        assert not {"target_set", "reminder_set", "weigh_in", "weigh_in_open"} & set(said.kinds)
        assert "no client called Joost" in said.text


def test_reminders_of_a_client_are_told_by_their_pause(ines: Chat, ana: Chat) -> None:
    assert "no pause" in ines.say("is Ana still getting reminded at night?", at=EVENING).text
    ines.say("pause Ana until 2026-03-12", at=EVENING)
    assert "rest until" in ines.say("are Ana's reminders off now?", at=EVENING).text
