"""Questions about the figures of several days: means of a logged day, and days on which a target was met."""

import pytest

from .chat import Chat
from .conftest import Meet

OIL_KCAL = 884
"""Energy of 100 g olive oil: USDA SR28 04053."""


@pytest.fixture
def week(chat: Chat) -> Chat:
    """Two logged days of the last seven: 2,210 and 442 kcal, with a target of 1,900 kcal and 20 g protein."""
    chat.say("target 1900 kcal protein 20", at="2026-03-03T08:00:00+00:00")
    chat.say("130 g olive oil", at="2026-03-03T12:00:00+00:00")
    chat.say("120 g olive oil", at="2026-03-03T18:00:00+00:00")
    chat.say("50 g olive oil", at="2026-03-04T12:00:00+00:00")
    return chat


AT = "2026-03-04T20:00:00+00:00"


@pytest.mark.parametrize("said", (
    "average calories this week?", "what have my calories averaged the last 7 days",
    "avg kcal", "calories per day on average this month?",
))  # fmt: skip
def test_energy_of_a_week_is_a_mean_over_the_logged_days(week: Chat, said: str) -> None:
    text = week.say(said, at=AT).nothing()
    assert text.startswith(f"On average, a logged day has {OIL_KCAL * 3 / 2:,.0f} kcal (target 1,900 kcal)")
    assert "2 of " in text
    assert "logged" in text


def test_the_food_told_last_is_not_what_this_week_means(week: Chat) -> None:
    week.say("567 g raw spinach", at="2026-03-04T19:00:00+00:00")
    text = week.say("how much protein this week", at=AT).nothing("a logged day has protein")
    assert "spinach" not in text.lower()


@pytest.mark.parametrize(("said", "told"), (
    ("how many days was I over my calories", "stayed within the energy target (1,900 kcal) on 1 of 2 logged days"),
    ("how many days did I hit my protein this week", "reached the protein target (20 g) on 0 of 2 logged days"),
    ("on which days did I make my protein?", "reached the protein target (20 g) on 0 of 2 logged days"),
))  # fmt: skip
def test_days_on_target_are_counted(week: Chat, said: str, told: str) -> None:
    text = week.say(said, at=AT).nothing(told)
    assert "yesterday" in text


def test_on_track_this_week_compares_the_means_with_the_target(week: Chat) -> None:
    week.say("am I on track this week?", at=AT).nothing("1,326 kcal (target 1,900 kcal)", "protein 0 g (target 20 g)")


def test_without_a_target_it_says_what_cannot_be_told(chat: Chat) -> None:
    chat.say("100 g olive oil")
    chat.say("am I on track this week").nothing("No target is set", f"{OIL_KCAL} kcal")
    chat.say("how many days did I reach my fibre").nothing("No target for fibre is set", "fibre 0 g")


@pytest.mark.parametrize("said", ("how much protein yesterday", "calories yesterday?", "how much fat last night"))
def test_a_day_without_records_has_no_zero(chat: Chat, said: str) -> None:
    chat.say(said).nothing("on record for yesterday")
    assert "0 g" not in chat.say(said).text


def test_a_week_without_records_says_so(chat: Chat) -> None:
    chat.say("average protein last week").nothing("Nothing is on record for 23 February to 1 March")


def test_hidden_energy_stays_hidden(meet: Meet) -> None:
    chat = meet()
    chat.say("no calories please")
    chat.say("100 g olive oil")
    assert "884" not in chat.say("average calories this week").text


@pytest.mark.parametrize("said", (
    "trying to eat more protein this week", "60 g oats a day", "what's my daily protein target",
    "how much protein should I eat a day?",
))  # fmt: skip
def test_what_asks_for_no_figures_of_days_gets_none(week: Chat, said: str) -> None:
    assert "On average" not in week.say(said, at=AT).text
