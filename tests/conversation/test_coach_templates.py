"""A coach's templates: saved, changed, listed, sent, deleted, seen by that coach alone."""

from __future__ import annotations

import json
from datetime import UTC, datetime

import pytest

from bot.app import open_tarebook
from bot.channels.converse import CHANNEL, Converse
from bot.reports import export

from .chat import Chat, Door
from .test_coaching import guides, person, told

WORDS = "Please try 30 g more protein at breakfast: eggs or skyr."


@pytest.fixture
def ines(door: Door) -> Chat:
    coach = person(door, "Ines")
    for name in ("Amy", "Ben", "Cem"):
        guides(coach, person(door, name), name)
    assert WORDS in coach.say(f"save template protein: {WORDS}").text
    return coach


@pytest.mark.parametrize(
    ("words", "to"),
    (
        ("send protein to Amy", ("Amy",)),
        ("send the protein template to Amy and Cem", ("Amy", "Cem")),
        ("send template protein to everyone", ("Amy", "Ben", "Cem")),
        ("send protein to group runners", ("Ben",)),
    ),
)
def test_its_words_go_to_whom_they_are_sent(ines: Chat, words: str, to: tuple[str, ...]) -> None:
    ines.say("put Ben in group runners")
    said = ines.say(words)
    assert {who for who, _ in said.others} == set(to)
    for who in to:
        assert told(said, who).startswith(f"Ines, your coach: {WORDS}")
    assert not said.all("weigh_in")


def test_it_is_listed_changed_and_deleted(ines: Chat) -> None:
    ines.say("template monday mail: A good week to you!")
    listed = ines.say("my templates").text
    assert "Your templates (2):" in listed
    assert "monday mail: A good week to you!" in listed
    assert "changed" in ines.say("change template protein: Skyr at breakfast").text
    assert ines.say("show template protein").text == "protein: Skyr at breakfast"
    assert "deleted" in ines.say("delete template protein").text
    ines.say("send protein to Amy").refused("no template called protein. Yours: monday mail")
    assert "deleted" in ines.say("delete the monday mail template").text
    assert "no templates" in ines.say("templates").text


def test_nobody_else_has_it(door: Door, ines: Chat) -> None:
    omar = person(door, "Omar")
    guides(omar, person(door, "Dan"), "Dan")
    assert "no templates" in omar.say("templates").text
    said = omar.say("send protein to Dan")
    assert said.others == ()
    assert "Yours: none" in said.text


def test_it_is_exported_and_erased_with_the_coach() -> None:
    with open_tarebook("sqlite://") as tarebook:
        converse = Converse(tarebook)

        def say(words: str) -> None:
            converse.step(1, json.dumps({"say": words, "who": "Ines"}).encode())

        say(f"save template protein: {WORDS}")
        coach = tarebook.person(CHANNEL, "Ines")
        assert coach is not None
        packed = tarebook.everything_of(coach.id, datetime(2026, 3, 3, tzinfo=UTC))
        assert [(row["name"], row["text"]) for row in packed.tables["templates"]] == [("protein", WORDS)]
        assert WORDS.encode() in export.as_json(packed)
        for words in ("/privacy", "yes, erase everything", "yes, erase it all"):
            say(words)
        with tarebook.transaction() as conn:
            assert conn.exec_driver_sql("SELECT count(*) FROM template").scalar() == 0
