"""Parts of boxes, what is loose, what others left over: what is on the day, and what the batch holds then."""

from __future__ import annotations

import pytest

from .chat import Chat, Door
from .test_kitchens import invited


@pytest.fixture
def stew(chat: Chat) -> Chat:
    """Batch 1: 2,800 g of stew, 2,000 g of it in five boxes."""
    chat.given("new batch stew: 2000 g raw ground beef 80/20, 1000 g water", "batch 1 cooked 2800 g")
    chat.given("5 boxes of 400 g from batch 1")
    return chat


def test_half_a_box_leaves_its_other_half_loose(stew: Chat) -> None:
    recorded = stew.say("I only managed half the stew box").recorded()
    assert (recorded["edible_g"], recorded["evidence"]) == (200, "weighed")
    assert recorded["basis_g"] == pytest.approx(200 * 3000 / 2800, abs=0.01)
    assert "2,600 g of 2,800 g, 4 of 5 boxes" in stew.left(1)


def test_the_other_half_that_somebody_had_is_gone_too(stew: Chat) -> None:
    said = stew.say("half a stew box, gave the rest to Priya")
    assert said.one("weigh_in")["edible_g"] == 200
    assert said.one("batch_reduced")["grams"] == 200
    assert "2,400 g of 2,800 g, 4 of 5 boxes" in stew.left(1)


def test_the_other_half_of_one_who_logs_too_stays_for_them(door: Door) -> None:
    jo, sam = Chat(door, "jo"), Chat(door, "sam")
    invited(jo, sam)
    jo.given("new batch stew: 2000 g raw ground beef 80/20, 1000 g water", "batch 1 cooked 2800 g")
    jo.given("split batch 1 into 7 boxes")
    said = jo.say("stew box, Sam and I are halving it, half for me")
    assert said.one("weigh_in")["edible_g"] == 200
    assert not said.all("batch_reduced")
    assert sam.say("200 g of the stew, the other half").recorded()["edible_g"] == 200
    assert "2,400 g" in jo.left(1)


def test_what_one_who_logs_too_had_is_left_to_them(door: Door) -> None:
    jo, sam = Chat(door, "jo"), Chat(door, "sam")
    invited(jo, sam)
    jo.given("new batch stew: 2000 g raw ground beef 80/20, 1000 g water", "batch 1 cooked 2800 g")
    assert not jo.say("Sam had 300 g of the stew").records
    assert jo.say("my friend Uli had 300 g of the stew").one("batch_reduced")["grams"] == 300


def test_what_is_loose_is_all_that_is_in_no_box(stew: Chat) -> None:
    assert stew.say("the loose stew is my dinner").recorded()["edible_g"] == 800
    assert "2,000 g of 2,800 g, 5 of 5 boxes" in stew.left(1)


def test_a_small_number_may_count_boxes(stew: Chat) -> None:
    stew.say("labelled the 2 stew boxes").asked("boxes or grams")
    assert stew.press("2 boxes").one("weigh_in")["edible_g"] == 800


def test_what_others_left_over_is_eaten_once(chat: Chat) -> None:
    chat.given("new batch lasagne: 800 g raw ground beef 80/20, 200 g dry pasta", "batch 1 cooked 1200 g")
    chat.given("my daughter had 300 g of the lasagne")
    said = chat.say("finished the 60 g of lasagne that my daughter left on her plate")
    recorded = said.one("weigh_in")
    assert (recorded["edible_g"], recorded["batch"]) == (60, 1)
    assert recorded["basis_g"] == pytest.approx(50)  # 60 × 1000 / 1200
    assert "900 g" in chat.left(1)


def test_what_nobody_had_been_given_comes_out_of_the_batch(chat: Chat) -> None:
    chat.given("new batch lasagne: 800 g raw ground beef 80/20, 200 g dry pasta", "batch 1 cooked 1200 g")
    said = chat.say("finished the 60 g of lasagne that my daughter left on her plate")
    assert said.recorded()["edible_g"] == 60
    assert "1,140 g" in chat.left(1)


def test_it_may_be_the_food_recorded_last(stew: Chat) -> None:
    stew.given("340 g cheese pizza")
    said = stew.say("dan had 100 g of it")
    said.asked("of what")
    assert stew.press("batch 1 stew").one("batch_reduced")["grams"] == 100


def test_more_than_is_left_cannot_be_given(stew: Chat) -> None:
    said = stew.say("gave my mum 4 kg of the stew")
    assert "refused" in said.kinds
    assert not said.records


def test_an_empty_freezer_is_answered_with_what_is_elsewhere(stew: Chat) -> None:
    said = stew.say("what's in the freezer?")
    assert "5 boxes of 400 g" in said.text
