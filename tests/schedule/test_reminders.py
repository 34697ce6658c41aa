"""What comes unasked, when, and for which reason."""

import pytest


def texts(replies):
    return [reply["text"] for reply in replies]


def test_nothing_since_noon_is_a_reason(talk):
    talk.say("150 g banana", "2026-03-02T08:00")
    (reply,) = talk.advance("2026-03-02T20:30")
    assert reply["to"] == "me"
    assert "Nothing is on record since noon." in reply["text"]


def test_a_day_with_an_evening_needs_no_reminder(talk):
    talk.say("150 g banana", "2026-03-02T18:00")
    assert talk.advance("2026-03-02T23:59") == []


def test_waiting_questions_are_a_reason_and_can_be_answered_there(talk):
    talk.say("150 g banana", "2026-03-02T18:00")
    talk.say("200 g chocolate rice", "2026-03-02T18:10")
    (reply,) = talk.advance("2026-03-02T20:30")
    assert "Still open:" in reply["text"]
    assert reply["choices"]
    answer = talk.step(press=1)
    assert [event["type"] for event in answer["events"]] in (["weigh_in"], ["weigh_in_open", "question"])


def test_a_usual_meal_that_is_missing_is_a_reason(talk):
    for day in range(2, 8):
        talk.say("300 g cooked pasta for lunch", f"2026-03-0{day}T13:00")
        talk.say("200 g apple for dinner", f"2026-03-0{day}T19:00")
    talk.advance("2026-03-08T12:00")
    talk.say("200 g apple for dinner", "2026-03-08T19:30")
    came = texts(talk.advance("2026-03-08T20:30"))
    assert any("You usually have lunch" in text for text in came)
    assert not any("You usually have dinner" in text for text in came)


def test_the_first_line_carries_no_figures(talk):
    talk.say("150 g banana", "2026-03-02T08:00")
    talk.say("new batch: 1000 g raw chicken breast", "2026-03-02T08:10")
    talk.say("batch 1 cooked 720 g", "2026-03-02T08:20")
    talk.say("remind me to cook on wednesday at 11", "2026-03-02T08:30")
    came = texts(talk.advance("2026-03-09T12:00"))
    assert len(came) > 4
    for text in came:
        assert not any(sign.isdigit() for sign in text.splitlines()[0])


def test_the_local_time_counts(talk):
    talk.step(person="ana", timezone="America/New_York")
    talk.say("150 g banana", "2026-03-02T13:00", "ana")
    assert talk.advance("2026-03-03T01:29") == []
    assert len(talk.advance("2026-03-03T01:30")) == 1


@pytest.mark.parametrize(
    ("since", "until", "days"),
    (
        # New York: 02:30 does not exist on 8 March 2026, and 01:30 comes twice on 1 November (tz database)
        ("2026-03-05T04:00", "2026-03-10T12:00", 6),
        ("2026-10-30T03:00", "2026-11-04T12:00", 6),
    ),
)
@pytest.mark.parametrize("clock", ("1:30", "2:30"))
def test_one_reminder_a_day_through_a_clock_change_at_that_very_time(talk, since, until, days, clock):
    talk.step(person="ana", timezone="America/New_York")
    talk.say(f"remind me at {clock}", since, "ana")
    talk.say("weekly summary off", who="ana")
    assert len(talk.advance(until)) == days


def test_travel_neither_doubles_nor_drops_the_evening(talk):
    talk.step(person="ana", timezone="Europe/Lisbon")
    talk.say("150 g banana", "2026-03-02T08:00", "ana")
    assert len(talk.advance("2026-03-02T20:30")) == 1
    talk.say("I'm in New York now", "2026-03-02T21:00", "ana")
    assert talk.advance("2026-03-03T12:00") == []
    assert len(talk.advance("2026-03-04T01:30")) == 1


def test_off_weekdays_and_another_time(talk):
    talk.say("150 g banana", "2026-03-02T08:00")
    talk.say("remind me at 21:15 on weekdays")
    assert talk.advance("2026-03-02T21:14") == []
    assert len(talk.advance("2026-03-02T21:15")) == 1
    talk.say("100 g apple", "2026-03-06T08:00")
    assert len(talk.advance("2026-03-06T23:00")) == 4
    talk.say("weekly summary off")
    assert talk.advance("2026-03-08T23:00") == []
    talk.say("reminder off", "2026-03-09T08:00")
    assert talk.advance("2026-03-12T23:00") == []


def test_undo_brings_the_old_time_back(talk):
    talk.say("150 g banana", "2026-03-02T08:00")
    talk.say("remind me at 21:15")
    talk.say("undo")
    assert len(talk.advance("2026-03-02T20:30")) == 1


def test_snooze_comes_again_and_at_most_twice(talk):
    talk.say("150 g banana", "2026-03-02T08:00")
    talk.advance("2026-03-02T20:30")
    talk.say("snooze", "2026-03-02T20:31")
    assert len(talk.advance("2026-03-02T21:31")) == 1
    talk.say("remind me in 30 minutes", "2026-03-02T21:32")
    assert len(talk.advance("2026-03-02T22:02")) == 1
    answer = talk.say("snooze", "2026-03-02T22:03")
    assert answer["events"][0]["type"] == "refused"
    assert talk.advance("2026-03-03T12:00") == []


def test_quiet_hours(talk):
    talk.say("150 g banana", "2026-03-02T08:00")
    talk.say("quiet hours 20:00 to 8:00")
    assert talk.advance("2026-03-02T23:59") == []
    talk.say("quiet hours off", "2026-03-03T08:00")
    assert len(talk.advance("2026-03-03T23:59")) == 1


def test_never_more_than_three_a_day(talk):
    talk.say("150 g banana", "2026-03-02T08:00")
    for what in ("lunch reminder at 9:00", "breakfast reminder at 10:00", "morning reminder at 11:00"):
        talk.say(what)
    talk.advance("2026-03-03T00:00")
    assert len(talk.advance("2026-03-03T23:59")) == 3


def test_who_stopped_is_left_alone(talk):
    talk.say("150 g banana", "2026-03-02T08:00")
    came = talk.advance("2026-04-02T23:00")
    assert 5 <= len(came) <= 9


def test_who_never_began_is_left_alone(talk):
    talk.say("hello", "2026-03-02T08:00")
    assert len(talk.advance("2026-05-02T23:00")) == 7


def test_the_week_comes_on_its_day_with_a_picture(talk):
    talk.say("150 g banana", "2026-03-02T08:00")
    talk.say("150 g banana", "2026-03-06T15:00")
    talk.say("weekly summary on fridays at 18:00")
    talk.advance("2026-03-06T17:59")
    (reply,) = talk.advance("2026-03-06T18:00")
    assert reply["image"]
    assert reply["text"].startswith("Your week.")


def test_leftovers_are_asked_about_once_on_the_fourth_day(talk):
    talk.say("reminder off", "2026-03-02T08:00")
    talk.say("weekly summary off")
    talk.say("new batch: 1000 g raw chicken breast")
    talk.say("batch 1 cooked 720 g")
    assert talk.advance("2026-03-06T16:59") == []
    # USDA FSIS: cooked leftovers keep 3 to 4 days
    (reply,) = talk.advance("2026-03-06T17:00")
    assert "Still good?" in reply["text"]
    assert talk.advance("2026-03-20T17:00") == []


def test_a_finished_batch_is_not_asked_about(talk):
    talk.say("reminder off", "2026-03-02T08:00")
    talk.say("weekly summary off")
    talk.say("new batch: 1000 g raw chicken breast")
    talk.say("batch 1 cooked 720 g")
    talk.say("threw out batch 1")
    assert talk.advance("2026-03-20T17:00") == []
