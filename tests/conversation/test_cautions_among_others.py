"""A standing caution is the person's own: the coach's target waits for their yes and the coach is not told why."""

import pytest

from .chat import Chat, Door
from .test_coaching import guides, person


@pytest.fixture
def ines(door: Door) -> Chat:
    return person(door, "Ines")


@pytest.fixture
def ana(door: Door, ines: Chat) -> Chat:
    client = person(door, "Ana")
    guides(ines, client, "Ana")
    return client


def test_a_coachs_target_waits_for_the_yes_of_somebody_with_a_standing_caution(ines: Chat, ana: Chat) -> None:
    ana.say("I'm pregnant")
    ana.say("yes")
    sent = ines.say("target for Ana 2100 kcal")
    assert "pregnan" not in sent.text
    assert "health" not in sent.text
    assert "No target" in ana.say("target").text
    ana.say("yes, keep it")
    assert "2,100 kcal" in ana.say("target").text


def test_below_800_kcal_the_coach_is_refused(ines: Chat, ana: Chat) -> None:
    assert ines.say("target for Ana 700 kcal").kinds == ["caution", "refused"]
    assert "No target" in ana.say("target").text


def test_salt_and_training_days_reach_the_client(ines: Chat, ana: Chat) -> None:
    ines.say("target for Ana 2300 kcal, salt 5 g on training days")
    assert "On training days: 2,300 kcal, salt 5 g." in ana.say("target").text
