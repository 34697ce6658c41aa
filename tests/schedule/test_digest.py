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
        assert code is not None
        talk.say(f"/start {code[1]}", "2026-03-01T12:05", name)
        talk.say("yes", "2026-03-01T12:06", name)
    talk.say("reminder off", "2026-03-01T12:10", "Ana")
    talk.say("reminder off", "2026-03-01T12:10", "Ben")
    return talk


def digests(replies):
    return [reply["text"] for reply in replies if reply["to"] == "Ines" and "since the last digest" in reply["text"]]


ENOUGH = "1150 g cooked white rice"


def eats(talk, days, said=ENOUGH, who="Ana"):
    for day in days:
        talk.say(said, f"2026-03-{day:02d}T15:00", who)


def test_it_comes_on_the_coachs_clock(guided):
    guided.say("target 1500", "2026-03-01T12:20", "Ana")
    eats(guided, range(1, 5), "1600 g cooked white rice")
    assert digests(guided.advance("2026-03-05T07:29")) != []
    assert digests(guided.advance("2026-03-06T07:29")) == []


def test_it_comes_at_the_weekend_too_when_something_is_new(guided):
    eats(guided, range(1, 11))
    eats(guided, range(1, 5), who="Ben")
    assert "Ben" in "".join(digests(guided.advance("2026-03-07T08:00")))
    assert digests(guided.advance("2026-03-09T06:00")) == []


def test_questions_that_were_asked_after_a_digest_are_in_the_next_one(guided):
    guided.say("target 1500", "2026-03-01T12:20", "Ana")
    guided.say("target 1500", "2026-03-01T12:20", "Ben")
    eats(guided, range(1, 5))
    assert "Ben" in "".join(digests(guided.advance("2026-03-04T08:00")))
    for n, thing in enumerate(("zorblax", "quibbit", "flomper")):
        guided.say(f"100 g {thing}", f"2026-03-04T16:{n:02d}", "Ana")
    (text,) = digests(guided.advance("2026-03-05T08:00"))
    assert "Ana's waiting questions" in text
    assert digests(guided.advance("2026-03-05T23:00")) == []


def test_only_what_has_come_up_and_nothing_when_nothing_has(guided):
    for name in ("Ana", "Ben"):
        guided.say("target 1500", "2026-03-01T12:20", name)
    eats(guided, range(1, 3), who="Ben")
    eats(guided, range(1, 9))
    assert digests(guided.advance("2026-03-04T23:00")) == []
    (came,) = digests(guided.advance("2026-03-05T08:00"))
    assert "how it goes for Ben: nothing is on record since Monday 2 March" in came
    assert "Ana" not in came
    assert not any(sign.isdigit() for sign in came.splitlines()[0])
    (later,) = digests(guided.advance("2026-03-09T08:00"))
    assert "how it goes for Ben" in later
    assert "Ana" not in later
    eats(guided, range(9, 32))
    assert [text for text in digests(guided.advance("2026-03-31T23:00")) if "Ben" in text] == []


def test_it_has_ten_lines_at_most_and_two_things_to_talk_about(talk):
    talk.step(person="Ines", timezone="UTC", role="coach")
    for n in range(12):
        name = f"C{chr(65 + n)}x"
        talk.step(person=name, timezone="UTC")
        said = talk.say(f"invite {name}", "2026-03-01T12:00", "Ines")["replies"][0]["text"]
        code = re.search(r"/start ([\w-]{22})", said)
        assert code is not None
        talk.say(f"/start {code[1]}", "2026-03-01T12:05", name)
        talk.say("yes", "2026-03-01T12:06", name)
        talk.say(ENOUGH, "2026-03-01T15:00", name)
    (text,) = digests(talk.advance("2026-03-04T08:00"))
    assert len(text.splitlines()) == 10
    assert text.count("To talk about:") == 2
    assert "And 5 more" in text


def test_it_can_be_weekly_at_another_time_or_off(guided):
    guided.say("digest on Mondays at 8", "2026-03-01T13:00", "Ines")
    eats(guided, [1])
    assert digests(guided.advance("2026-03-09T07:59")) == []
    assert len(digests(guided.advance("2026-03-09T08:00"))) == 1
    guided.say("digest off", "2026-03-09T09:00", "Ines")
    eats(guided, [9])
    assert digests(guided.advance("2026-03-17T23:00")) == []


def test_whoever_has_ended_it_is_not_in_it(guided):
    guided.say("321 g raw banana", "2026-03-01T15:00", "Ana")
    guided.say("end coaching with Ines", "2026-03-01T16:00", "Ana")
    (text,) = digests(guided.advance("2026-03-04T08:00"))
    assert "Ana" not in text
    guided.say("end coaching with Ines", "2026-03-04T16:00", "Ben")
    assert digests(guided.advance("2026-03-20T08:00")) == []


def test_it_counts_among_the_three_of_a_day(guided):
    eats(guided, [1])
    guided.say("200 g raw banana", "2026-03-04T00:30", "Ines")
    for what, clock in (("lunch", "5:00"), ("breakfast", "5:30"), ("morning", "6:00")):
        guided.say(f"{what} reminder at {clock}", "2026-03-04T00:40", "Ines")
    guided.say("100 g zorblax", "2026-03-04T00:50", "Ines")
    came = [r["text"] for r in guided.advance("2026-03-04T08:00") if r["to"] == "Ines"]
    assert len(came) == 3
    assert digests([{"to": "Ines", "text": text} for text in came]) == []
