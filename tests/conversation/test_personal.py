"""Body weight is a person's own; targets and settings."""

import pytest

from .chat import Chat
from .conftest import Meet

POUND_KG = 0.45359237  # NIST Handbook 44, appendix C: exact


@pytest.mark.parametrize(
    ("text", "region", "kg"),
    (
        ("I weigh 82.4 kg", "US", 82.4),
        ("my weight is 82.4 kg", "UK", 82.4),
        ("scale says 82.4 kg", "metric", 82.4),
        ("82.4 kg", "US", 82.4),
        ("82,4 kg this morning", "metric", 82.4),
        ("I weigh 82.4", "metric", 82.4),
        ("I weigh 180 lb", "US", 180 * POUND_KG),
        ("180 lbs", "US", 180 * POUND_KG),
        ("I weigh 11 st 6 lb", "UK", (11 * 14 + 6) * POUND_KG),
        ("11 stone 6", "UK", (11 * 14 + 6) * POUND_KG),
        ("weighed myself: 11 stone 6 pounds", "UK", (11 * 14 + 6) * POUND_KG),
        ("I'm 82.4 kg today", "US", 82.4),
    ),
)
def test_a_body_weight_is_kept_for_its_day(meet: Meet, text: str, region: str, kg: float) -> None:
    chat = meet(region=region)
    said = chat.say(text)
    assert [event["type"] for event in said.records] == ["body_weight"], said
    assert said.records[0]["kg"] == pytest.approx(kg, abs=0.006)
    assert said.records[0]["day"] == "2026-03-02"


def test_a_body_weight_of_yesterday_is_yesterdays(chat: Chat) -> None:
    assert chat.say("I weighed 82.4 kg yesterday").one("body_weight")["day"] == "2026-03-01"


def test_a_bare_number_asks_whether_it_is_a_body_weight(chat: Chat) -> None:
    chat.say("82.4").asked("body weight")


@pytest.mark.parametrize("region", ("US", "UK"))
def test_a_body_weight_without_a_unit_asks_where_units_differ(meet: Meet, region: str) -> None:
    chat = meet(region=region)
    chat.say("I weigh 82.4").asked()
    assert chat.say("kg").one("body_weight")["kg"] == 82.4


def test_pounds_are_one_of_the_answers(chat: Chat) -> None:
    chat.say("I weigh 180").asked("pounds")
    assert chat.press("pounds").one("body_weight")["kg"] == pytest.approx(180 * POUND_KG, abs=0.006)


@pytest.mark.parametrize(
    "text", ("I weigh 19 kg", "I weigh 301 kg", "I weigh 400 kg", "my weight is 5 kg", "I weigh 0 kg")
)
def test_a_body_weight_outside_20_to_300_kg_is_refused(chat: Chat, text: str) -> None:
    chat.say(text).refused()


@pytest.mark.parametrize(("text", "kg"), (("I weigh 20 kg", 20), ("I weigh 300 kg", 300)))
def test_the_limits_themselves_are_allowed(chat: Chat, text: str, kg: float) -> None:
    assert chat.say(text).one("body_weight")["kg"] == kg


@pytest.mark.parametrize(
    "text", ("lost 0.6 kg", "I lost 2 lb this week", "want to be 75 kg", "gained 1 kg", "my goal weight is 75 kg")
)
def test_a_change_or_an_aim_records_nothing(chat: Chat, text: str) -> None:
    chat.say(text).nothing()


def test_a_body_weight_is_no_weigh_in_and_moves_no_total(chat: Chat) -> None:
    chat.given("30 g cheddar", "I weigh 82.4 kg")
    assert chat.say("same again").recorded()["food"] == "cheddar cheese"


def test_a_mass_of_food_is_no_body_weight(chat: Chat) -> None:
    assert chat.say("2 kg raw potatoes").recorded()["food"] == "potato"


def test_no_word_is_said_about_the_number_itself(chat: Chat) -> None:
    first, second = chat.say("I weigh 92.4 kg").text, chat.say("I weigh 82.4 kg").text
    assert not any(
        word in (first + second).lower() for word in ("well done", "great", "good job", "lost", "overweight")
    )


def test_a_target_is_set_by_hand(chat: Chat) -> None:
    target = chat.say("target 2100 kcal protein 150").one("target_set")
    assert (target["kcal"], target["protein_g"], target["fat_g"]) == (2100, 150, None)


def test_a_very_low_target_is_kept_only_after_a_second_yes(chat: Chat) -> None:
    said = chat.say("target 1000 kcal")
    assert not said.records
    assert "question" in said.kinds
    assert "doctor" in said.text.lower() or "clinician" in said.text.lower() or "dietitian" in said.text.lower()
    assert chat.say("yes").one("target_set")["kcal"] == 1000


def test_a_reminder_is_set_and_turned_off(chat: Chat) -> None:
    assert chat.say("remind me at 20:30").one("reminder_set")["time"] == "20:30"
    assert chat.say("turn the reminder off").one("reminder_set")["time"] is None


def test_the_region_can_be_changed_in_words(chat: Chat) -> None:
    assert chat.say("region UK").one("setting_changed")["name"] == "region"
    # imperial pint 568.26125 mL (NIST Handbook 44), SR28 01077: 244 g to the US cup of 236.588 mL
    assert chat.say("1 pint whole milk").recorded()["as_weighed_g"] == pytest.approx(568.26 * 244 / 236.588, rel=0.04)


def test_the_time_zone_can_be_changed_in_words(chat: Chat) -> None:
    assert chat.say("timezone Pacific/Auckland").one("setting_changed")["value"] == "Pacific/Auckland"
    assert chat.say("30 g cheddar", at="2026-03-02T12:30:00+00:00").recorded()["day"] == "2026-03-03"
