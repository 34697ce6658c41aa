"""What is put right in the same breath: the right amount or food stands behind the wrong one."""

import pytest

from .chat import Chat


@pytest.mark.parametrize(
    ("said", "foods"),
    (
        ("36g cheddar.. wait my note says 34g", {"cheddar cheese": 34}),
        ("cheddar 65g, nooo 56g my bad", {"cheddar cheese": 56}),
        ("95 g hummus, my eyes!! 59 g", {"hummus": 59}),
        ("hummus for lunch, 80 g. Retract. 70 g.", {"hummus": 70}),
        ("150 g blueberries *blackberries", {"blackberries": 150}),
        ("30 g hummus... ugh no, guacamole I mean", {"guacamole": 30}),
        ("lunch: 100 g carrots raw, 50 g feta, sorry, the carrots were 120", {"carrot": 120, "feta": 50}),
        ("I'd 40 g feta, hang about it was 50", {"feta": 50}),
    ),
)
def test_what_is_put_right_in_the_same_breath(chat: Chat, said: str, foods: dict[str, float]) -> None:
    records = chat.say(said).records
    assert {event["food"]: event["as_weighed_g"] for event in records} == foods


@pytest.mark.parametrize(
    ("said", "foods"),
    (
        ("95 g hummus, 59 g feta", {"hummus": 95, "feta": 59}),
        ("40 g feta, sorry I'm late, it was 50 g hummus as well", {"feta": 40, "hummus": 50}),
    ),
)
def test_a_second_food_puts_nothing_right(chat: Chat, said: str, foods: dict[str, float]) -> None:
    records = chat.say(said).records
    assert {event["food"]: event["as_weighed_g"] for event in records} == foods


def test_a_number_alone_puts_right_what_stands_before_it_and_nothing_on_record(chat: Chat) -> None:
    chat.say("2 dates")
    assert not chat.say("almonds at 2 g apiece: 5. Correction, 6.").all("weigh_in_changed")
