"""Answers to a question about a kind in people's own words."""

import pytest

from tests.conversation.chat import Chat, open_door


@pytest.fixture
def cook():
    with open_door() as door:
        yield Chat(door, "cook")


@pytest.mark.parametrize(
    ("told", "answer", "kind"),
    (
        ("180 g greek yogurt", "eight ounces, plain nonfat", "greek yogurt nonfat"),
        ("180 g greek yogurt", "the lowfat sort, love", "greek yogurt lowfat"),
        ("180 g greek yogurt", "ordinary", "greek yogurt nonfat"),
        ("150 g chips", "oh, the potato ones out of a bag", "potato chips"),
        ("300 g beans", "kidney, from a tin", "kidney beans"),
    ),
)
def test_the_kind_is_found_among_other_words(cook, told, answer, kind):
    cook.say(told)
    said = cook.say(answer)
    named = {event["food"] for event in said.events if event["type"].startswith("weigh_in")}
    assert named == {kind}


@pytest.mark.parametrize("answer", ("200 g nonfat milk", "from the shop on the corner", "which kinds are there?"))
def test_what_names_no_kind_or_another_food_answers_nothing(cook, answer):
    cook.say("180 g greek yogurt")
    said = cook.say(answer)
    assert "greek yogurt" not in {event.get("food") for event in said.records}


def test_a_weigh_in_may_be_left_at_its_weight(cook):
    cook.say("180 g greek yogurt")
    cook.say("just leave it at the weight, dear")
    assert "180 g" in cook.say("what did I eat today?").text
    assert not cook.say("nonfat").records
