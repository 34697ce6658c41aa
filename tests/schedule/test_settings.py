"""Zones, day starts, quiet hours."""

import pytest


def changed(answer):
    return [(e["name"], e["value"]) for e in answer["events"] if e["type"] == "setting_changed"]


@pytest.mark.parametrize(
    ("said", "zone"),
    (
        ("timezone Europe/Lisbon", "Europe/Lisbon"),
        ("timezone lisbon", "Europe/Lisbon"),
        ("I'm in New York now", "America/New_York"),
        ("I am in Tokyo", "Asia/Tokyo"),
        ("I just landed in Lisbon", "Europe/Lisbon"),
        ("we've moved to Berlin", "Europe/Berlin"),
    ),
)
def test_zones_by_name_and_city(talk, said, zone):
    assert changed(talk.say(said)) == [("timezone", zone)]


def test_a_clock_says_which_zone(talk):
    # at 12:00 UTC it is 17:45 in Nepal and nowhere else
    assert changed(talk.say("it's 17:46 here", "2026-03-02T12:00")) == [("timezone", "Asia/Kathmandu")]


def test_a_clock_that_several_places_show_is_asked_about(talk):
    answer = talk.say("it's 13:02 here", "2026-03-02T12:00")
    assert answer["events"][0]["type"] == "question"
    assert changed(talk.step(press=1, at="2026-03-02T12:01+00:00")) == [("timezone", "Europe/Berlin")]


@pytest.mark.parametrize(
    "said", ("it's 17:46 here", "the time here is 5:46 pm", "here it is 17:46", "my clock says 17:46")
)
def test_clocks_as_people_tell_them(talk, said):
    assert changed(talk.say(said, "2026-03-02T12:00")) == [("timezone", "Asia/Kathmandu")]


def test_a_winter_clock_like_utc_may_be_one_that_changes(talk):
    answer = talk.say("it's 12:01 here", "2026-03-02T12:00")
    assert answer["replies"][0]["choices"] == ["London", "Lisbon", "UTC"]
    assert changed(talk.say("london")) == [("timezone", "Europe/London")]
    assert "already" in talk.say("it's 12:05 here", "2026-03-02T12:05")["replies"][0]["text"]


def test_undo_puts_the_old_zone_back(talk):
    talk.step(person="me", timezone="Europe/Lisbon")
    talk.say("timezone Tokyo", "2026-03-02T12:00")
    talk.say("undo")
    assert talk.say("100 g banana", "2026-03-02T20:00")["events"][0]["day"] == "2026-03-02"


def test_a_kitchen_is_no_zone(talk):
    assert changed(talk.say("I'm in the kitchen")) == []


def test_a_day_that_starts_at_four(talk):
    talk.say("my day starts at 4", "2026-03-02T12:00")
    assert talk.say("100 g banana", "2026-03-03T02:00")["events"][0]["day"] == "2026-03-02"
    assert talk.say("100 g banana", "2026-03-03T03:59")["events"][0]["day"] == "2026-03-02"
    assert talk.say("100 g banana", "2026-03-03T04:00")["events"][0]["day"] == "2026-03-03"
    assert talk.say("100 g banana yesterday", "2026-03-04T01:00")["events"][0]["day"] == "2026-03-02"
    assert talk.say("100 g banana at 1:30", "2026-03-04T10:00")["events"][0]["day"] == "2026-03-03"
    assert talk.say("today", "2026-03-04T02:00")["events"][0]["day"] == "2026-03-03"
    assert talk.say("undo", "2026-03-04T10:01")["events"][0]["type"] == "weigh_in_removed"


@pytest.mark.parametrize("said", ("reminders", "/reminders"))
def test_what_comes_unasked_is_listed(talk, said):
    answer = talk.say(said)
    assert "Evening reminder: 20:30, every day" in answer["replies"][0]["text"]
    assert "Weekly summary: 19:00, on Sunday" in answer["replies"][0]["text"]
    talk.say("reminder off")
    assert "Evening reminder: off" in talk.say(said)["replies"][0]["text"]


def test_nobody_is_asked_where_the_welcome_is_done_with(talk):
    answer = talk.say("/start")
    assert [event["type"] for event in answer["events"]] == ["help", "caution"]
    assert "at 20:30" in answer["replies"][0]["text"]


@pytest.mark.parametrize(
    ("said", "time"),
    (
        ("2", "20:30"), ("21:15", "21:15"), ("at 20:15 please", "20:15"), ("7pm", "19:00"), ("9", "21:00"),
        ("at 9", "21:00"), ("half past eight", "20:30"), ("9 am", "09:00"), ("22", "22:00"), ("off", None),
        ("none", None), ("no", None), ("no reminder", None), ("remind me at 18:00", "18:00"),
    ),
)  # fmt: skip
def test_the_question_for_a_time_takes_any(talk, said, time):
    assert talk.say("remind me")["events"][0]["about"] == "reminder_time"
    assert talk.say(said)["events"] == [{"type": "reminder_set", "what": "evening", "time": time}]
    # it waits no longer, also when the time was told in a message of its own
    assert talk.say("19:00")["events"] == []


def test_a_question_about_a_setting_holds_up_nothing(talk):
    talk.say("remind me", "2026-03-02T18:00")
    talk.say("200 g rice")
    assert talk.say("20")["events"][0]["type"] == "question"
    talk.say("never mind")
    assert "Still open" not in talk.say("#1 cooked")["replies"][0]["text"]
    event = talk.say("today")["events"][0]
    assert (event["type"], event["waiting"]) == ("sheet", 0)
    assert talk.advance("2026-03-02T23:00") == []


def test_a_reminder_inside_the_quiet_hours_is_pointed_out(talk):
    assert changed(talk.say("quiet hours 10pm to 7am")) == [("quiet", "22:00-07:00")]
    assert "quiet hours" in talk.say("remind me at 22:30")["replies"][0]["text"]
