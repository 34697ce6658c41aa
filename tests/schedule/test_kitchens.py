"""“Still good?” for what a kitchen has cooked comes to everybody who shares it, each at their own time, once."""

import re

import pytest

GOOD = "Still good?"


def invited(talk, host, guest, at=None):
    (reply,) = talk.say("share my kitchen", at, who=host)["replies"]
    code = re.search(r"/start ([\w-]{22})", reply["text"])
    assert code is not None
    talk.say(f"code {code[1]}", at, who=guest)
    talk.say("yes", at, who=guest)


def asked(talk, to):
    """Whom 'still good?' comes to until then, in order."""
    return [reply["to"] for reply in talk.advance(to) if GOOD in reply["text"]]


@pytest.fixture
def people(talk):
    """Ana in London, Bo in New York, Cy in Tokyo: 17:00 there is 17:00, 22:00 and 8:00 UTC."""
    for who, zone in (("ana", "Europe/London"), ("bo", "America/New_York"), ("cy", "Asia/Tokyo")):
        talk.step(person=who, timezone=zone)
        talk.say("reminder off", "2026-03-02T09:00", who=who)
        talk.say("weekly summary off", who=who)
    return talk


def cooked(talk, at="2026-03-02T12:00"):
    talk.say("new batch: 1000 g raw chicken breast", at, who="ana")
    talk.say("batch 1 cooked 720 g", who="ana")


def test_everybody_is_asked_at_their_own_time_and_once(people):
    invited(people, "ana", "bo")
    invited(people, "ana", "cy")
    cooked(people)
    assert asked(people, "2026-03-06T07:59") == []
    assert asked(people, "2026-03-06T08:00") == ["cy"]
    assert asked(people, "2026-03-06T17:00") == ["ana"]
    assert asked(people, "2026-03-06T22:00") == ["bo"]
    assert asked(people, "2026-03-20T22:00") == []


def test_who_comes_in_later_is_asked_as_well_and_about_what_they_brought(people):
    cooked(people)
    people.say("new batch soup: 1000 g raw carrots", "2026-03-03T12:00", who="bo")
    people.say("batch 1 cooked 900 g", who="bo")
    invited(people, "ana", "bo", "2026-03-04T12:00")
    assert asked(people, "2026-03-06T23:00") == ["ana", "bo"]
    assert asked(people, "2026-03-07T23:00") == ["ana", "bo"]
    assert asked(people, "2026-03-20T23:00") == []


def test_nobody_is_asked_about_what_somebody_has_finished_or_left_behind(people):
    invited(people, "ana", "bo")
    cooked(people)
    people.say("threw out batch 1", "2026-03-05T12:00", who="bo")
    assert asked(people, "2026-03-20T23:00") == []
    people.say("new batch: 1000 g raw chicken breast", "2026-03-21T12:00", who="ana")
    people.say("batch 2 cooked 720 g", who="ana")
    people.say("leave the kitchen", "2026-03-22T12:00", who="bo")
    people.say("yes", who="bo")
    assert asked(people, "2026-04-20T23:00") == ["ana"]


def test_coming_in_again_does_not_ask_a_second_time(people):
    invited(people, "ana", "bo")
    cooked(people)
    assert asked(people, "2026-03-06T23:00") == ["ana", "bo"]
    people.say("leave the kitchen", "2026-03-06T23:10", who="bo")
    people.say("yes", who="bo")
    invited(people, "ana", "bo", "2026-03-06T23:20")
    assert asked(people, "2026-03-20T23:00") == []
