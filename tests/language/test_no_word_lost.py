"""No share, negation, other person or unknown word beside a food is lost in silence.

What is said of a weigh-in changes it, makes it a question, or is named in the reply as left out; in none of these
messages is the whole weight on record as the writer's. The check knows nothing of how the message was read.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import count

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.conversation.chat import Chat, Door, Said

some = settings(max_examples=60, deadline=None, derandomize=True)
FOODS = ("cooked rice", "cheddar", "boiled potatoes", "almonds", "roast chicken breast", "smoked salmon", "hummus")
REMARKS = (
    # shares and quantifiers
    "{w}, a third went to the dog", "{w}, left a quarter", "{w}, left a quarter of it", "{w}, two thirds eaten",
    "{w}, barely a third eaten", "{w}, threw half away", "{w} and half went to the kids",
    "{w}, most of it went to the dog",
    "{w}, left some of it", "{w}, Mia had most of it", "{w}, gave a third to the ducks", "{w} but only part of it",
    # negations
    "{w} but not the {f}", "{w}, didn't eat it", "{w}, left it on the plate", "{w}, never touched it",
    "not the {f}: {w}", "{w}, never ate it",
    # others
    "{w} for Mia", "{w}, that was Mia's", "{w}, all for the dog", "{w} for my sister", "my sister ate {w}",
    "between the four of us {w}",
    # unknown words beside a food
    "{n} g zorblat {f}", "{f} zorblat {n} g",
)  # fmt: skip


def taken_whole(grams: float, said: Said) -> bool:
    """Whether a weight is on record as it was told, as if nothing else had been said, and the reply names nothing."""
    whole = [e for e in said.events if e["type"] == "weigh_in" and e["edible_g"] == grams]
    return bool(whole) and "I left out" not in said.text


@pytest.fixture(scope="module")
def people(door: Door) -> Iterator[Chat]:
    """New people, one after the other."""
    return (Chat(door, f"remarker {number}") for number in count(1))


@st.composite
def remarked(draw: st.DrawFn) -> tuple[str, float]:
    """A weigh-in with a remark that takes all of it, or a part, off the writer; at times behind another weigh-in."""
    grams, food = draw(st.integers(101, 397)), draw(st.sampled_from(FOODS))
    if draw(st.booleans()):
        at = draw(st.integers(1, len(food) - 1))
        food = food[:at] + draw(st.sampled_from(("", food[at] * 2))) + food[at + 1 :]
    text = draw(st.sampled_from(REMARKS)).format(w=f"{grams} g {food}", n=grams, f=food)
    return draw(st.sampled_from(("", "45 g rye bread. ", "45 g rye bread\n"))) + text, float(grams)


@some
@given(told=remarked())
def test_what_is_said_of_a_weigh_in_is_accounted_for(people: Iterator[Chat], told: tuple[str, float]) -> None:
    text, grams = told
    said = next(people).say(text)
    assert not taken_whole(grams, said), (text, said.text)


@pytest.mark.parametrize(
    "text",
    (
        "180 g cooked rice, no cheddar", "180 g cooked rice for lunch", "180 g cooked rice after 40 minutes of rain",
        "180 g cooked rice, my sister would approve", "180 g cooked rice for me",
        "180 g cooked rice, gave the rest to Mia",
        "180 g cooked rice at Mia's", "half asleep, 180 g cooked rice", "the kids are in bed, 180 g cooked rice",
        "not proud of it but 180 g cooked rice", "180 g cooked rice, nobody else wanted any",
    ),
)  # fmt: skip
def test_chatter_around_a_weigh_in_is_not_listed_as_left_out(people: Iterator[Chat], text: str) -> None:
    said = next(people).say(text)
    assert said.recorded()["edible_g"] == 180.0
    assert "left out" not in re.sub("“40”", "", said.text)


@pytest.mark.parametrize(
    ("text", "food"),
    (
        ("I had toast, 66 g wholemeal", "whole wheat toast"),
        ("choc 20 g dark", "dark chocolate"),
        ("bread is rye 70 g", "rye bread"),
    ),
)
def test_a_kind_told_apart_from_its_food_counts(people: Iterator[Chat], text: str, food: str) -> None:
    assert food in next(people).say(text).recorded()["food"]


def test_the_check_finds_what_is_overlooked() -> None:
    whole = {"type": "weigh_in", "edible_g": 180.0}
    assert taken_whole(180.0, Said(text="#1 rice, 180 g", choices=(), events=(whole,)))
    assert not taken_whole(180.0, Said(text="#1 rice, 180 g. I left out “half”.", choices=(), events=(whole,)))
    assert not taken_whole(180.0, Said(text="#1 rice, 90 g", choices=(), events=({**whole, "edible_g": 90.0},)))
