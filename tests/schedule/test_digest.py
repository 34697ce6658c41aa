"""The digest: on the coach's clock, only what has changed, nothing when nothing has."""

import re

import pytest


@pytest.fixture
def guided(talk):
    """Ines in Lisbon guides Ana in New York and Ben in London, since Sunday noon."""
    talk.step(person="Ines", timezone="Europe/Lisbon", role="coach")
    for name, zone in (("Ana", "America/New_York"), ("Ben", "Europe/London")):
        talk.step(person=name, timezone=zone)
        said = talk.say(f"invite {name}", "2026-03-01T12:00", "Ines")["replies"][0]["text"]
        code = re.search(r"/start ([\w-]{22})", said)
        assert code is not None
        talk.say(f"/start {code[1]}", "2026-03-01T12:05", name)
        talk.say("yes", "2026-03-01T12:06", name)
    talk.say("reminder off", "2026-03-01T12:10", "Ana")
    talk.say("reminder off", "2026-03-01T12:10", "Ben")
    return talk


def digests(replies):
    return [reply["text"] for reply in replies if reply["to"] == "Ines" and "since the last digest" in reply["text"]]


def test_it_comes_on_working_mornings_on_the_coachs_clock(guided):
    assert digests(guided.advance("2026-03-02T07:29")) == []
    (first,) = digests(guided.advance("2026-03-02T07:30"))
    assert "Ana: new on your roster." in first
    assert first.count("To talk about:") == 1
    assert not any(sign.isdigit() for sign in first.splitlines()[0])


def test_only_what_has_changed_and_nothing_when_nothing_has(guided):
    guided.advance("2026-03-02T08:00")
    guided.say("200 g raw banana", "2026-03-02T15:00", "Ana")
    (second,) = digests(guided.advance("2026-03-03T08:00"))
    assert "Ana: logged, 178 kcal" in second
    assert "Ben" not in second
    (third,) = digests(guided.advance("2026-03-04T08:00"))
    assert "Ana: nothing on record since Monday 2 March." in third
    assert digests(guided.advance("2026-03-08T23:00")) == []
    (fourth,) = digests(guided.advance("2026-03-09T08:00"))
    assert "Ana: silent for a week." in fourth
    assert digests(guided.advance("2026-03-31T23:00")) == []


def test_a_weekend_is_told_on_monday(guided):
    guided.say("200 g raw banana", "2026-03-05T12:00", "Ben")
    assert "Ben: 1 of 4 days" in digests(guided.advance("2026-03-06T08:00"))[-1]
    for day in (6, 7, 8):
        guided.say("200 g raw banana", f"2026-03-0{day}T12:00", "Ben")
    assert digests(guided.advance("2026-03-08T23:00")) == []
    (monday,) = digests(guided.advance("2026-03-09T08:00"))
    assert "Ben: 3 of 3 days logged, 178 kcal, protein 2 g a day" in monday


def test_it_can_be_weekly_at_another_time_or_off(guided):
    guided.say("weekly digest at 8", "2026-03-01T13:00", "Ines")
    assert len(digests(guided.advance("2026-03-02T08:00"))) == 1
    guided.say("200 g raw banana", "2026-03-02T12:00", "Ana")
    assert digests(guided.advance("2026-03-09T07:59")) == []
    assert len(digests(guided.advance("2026-03-09T08:00"))) == 1
    guided.say("digest off", "2026-03-09T09:00", "Ines")
    guided.say("200 g raw banana", "2026-03-09T12:00", "Ana")
    assert digests(guided.advance("2026-03-17T23:00")) == []


def test_whoever_has_ended_it_is_not_in_it(guided):
    guided.say("321 g raw banana", "2026-03-01T15:00", "Ana")
    guided.say("end coaching with Ines", "2026-03-01T16:00", "Ana")
    (text,) = digests(guided.advance("2026-03-02T08:00"))
    assert "Ana" not in text
    guided.say("end coaching with Ines", "2026-03-02T16:00", "Ben")
    assert digests(guided.advance("2026-03-20T08:00")) == []


def test_it_counts_among_the_three_of_a_day(guided):
    guided.say("200 g raw banana", "2026-03-02T00:30", "Ines")
    for what, clock in (("lunch", "5:00"), ("breakfast", "5:30"), ("morning", "6:00")):
        guided.say(f"remind me of {what} at {clock}", "2026-03-02T00:40", "Ines")
    guided.say("100 g zorblax", "2026-03-02T00:50", "Ines")
    came = [r["text"] for r in guided.advance("2026-03-02T08:00") if r["to"] == "Ines"]
    assert len(came) == 3
    assert digests([{"to": "Ines", "text": text} for text in came]) == []
