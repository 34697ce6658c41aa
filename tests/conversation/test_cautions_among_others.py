"""A standing caution is the person's own: the coach's target waits for their yes, and no group reads of it."""

from pathlib import Path

from .chat import Door
from .conftest import Meet


def coached(meet: Meet) -> tuple:  # type: ignore[type-arg]
    ines, ana = meet(role="coach", name="Ines"), meet(name="Ana")
    code = ines.say("invite Ana").text
    word = next(w for w in code.split() if w.isupper() and len(w) >= 6)
    ana.say(word.strip(".,"))
    ana.say("yes")
    return ines, ana


def test_a_coachs_target_waits_for_the_yes_of_somebody_with_a_standing_caution(meet: Meet) -> None:
    ines, ana = coached(meet)
    ana.say("I'm pregnant")
    ana.say("yes")
    sent = ines.say("target for Ana 2100 kcal")
    assert "pregnan" not in sent.text
    assert "health" not in sent.text
    assert "No target" in ana.say("target").text
    ines.say("target for Ana 2100 kcal")
    ana.say("yes, keep it")
    assert "2,100 kcal" in ana.say("target").text


def test_below_800_kcal_the_coach_is_refused(meet: Meet) -> None:
    ines, ana = coached(meet)
    assert ines.say("target for Ana 700 kcal").kinds == ["caution", "refused"]
    assert "No target" in ana.say("target").text


def test_salt_and_training_days_reach_the_client(meet: Meet) -> None:
    ines, ana = coached(meet)
    ines.say("target for Ana 2300 kcal, salt 5 g on training days")
    assert "On training days: 2,300 kcal, salt 5 g." in ana.say("target").text
