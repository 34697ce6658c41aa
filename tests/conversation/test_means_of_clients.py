"""Means that a coach reads divide by the days that have figures, as the client's own week does."""

from .chat import Chat, Door
from .test_coaching import guides, person

RICE, OIL = "200 g rice", "100 g olive oil"
OIL_KCAL = 884
"""100 g of olive oil, FoodData Central SR Legacy 171413."""


def test_a_day_with_open_weigh_ins_only_divides_no_mean(door: Door) -> None:
    coach, client = person(door, "Ines"), person(door, "Ana")
    guides(coach, client, "Ana")
    client.say(RICE, "2026-03-02T12:00+00:00")
    client.say(OIL, "2026-03-03T12:00+00:00")
    own = client.say("/week", "2026-03-04T09:00+00:00").text
    assert f"On average, a day with figures has {OIL_KCAL} kcal" in own
    roster = coach.say("roster", "2026-03-04T10:00:00+00:00").one("roster")["clients"][0]
    assert (roster["days"], round(roster["kcal"])) == (1, OIL_KCAL)
    assert f"{OIL_KCAL} kcal, protein 0 g a day over 1 day" in coach.say("how is Ana?").text
    weeks = coach.say("compare Ana's week with last week").text
    assert f"2 days logged (1 of them with open weigh-ins only), {OIL_KCAL} kcal" in weeks


def test_open_weigh_ins_alone_make_no_mean(door: Door) -> None:
    coach, client = person(door, "Ines"), person(door, "Ana")
    guides(coach, client, "Ana")
    client.say(RICE, "2026-03-02T12:00+00:00")
    coach.say("hello", "2026-03-03T12:00+00:00")
    assert "open weigh-ins only in the seven days before" in coach.say("how is Ana?").text
    assert "1 day logged, with open weigh-ins only" in coach.say("compare Ana's week with last week").text
    assert coach.say("roster").one("roster")["clients"][0]["days"] == 0


def test_a_week_that_is_over_counts_them_as_logged(chat: Chat) -> None:
    chat.say(RICE)
    assert "1 of 7 days logged, with open weigh-ins only" in chat.say("/week").text
