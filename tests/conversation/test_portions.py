"""Portions: on the raw basis, never more than is left, waiting for the cooked weight; boxes, and how a batch ends."""

import pytest

from .chat import Chat

DATABASES = ("sqlite", "postgresql")

RICE_DRY_KCAL = 3.65  # kcal per gram, USDA SR28, 20044


def rice(chat: Chat) -> None:
    """Batch 1: 500 g of dry rice, 1400 g cooked."""
    chat.given("batch pilaf: 500 g dry rice", "batch 1 cooked 1400 g")


def test_a_portion_counts_on_the_raw_basis(chat: Chat) -> None:
    chat.given("batch: 1250 g raw chicken breast", "batch 1 cooked 905 g")
    said = chat.say("took 220 g from batch 1")
    recorded = said.recorded()
    assert (recorded["food"], recorded["batch"], recorded["state"]) == ("chicken breast", 1, "cooked")
    assert (recorded["as_weighed_g"], recorded["edible_g"], recorded["basis"]) == (220, 220, "raw")
    assert recorded["basis_g"] == pytest.approx(303.87, abs=0.001)  # 220 × 1250 / 905
    first, second, *_ = said.text.splitlines()
    assert "220 g" in first
    assert "304 g" in first
    assert "685 g" in second


def test_a_portion_of_several_ingredients_is_a_share_of_each(chat: Chat) -> None:
    chat.given("batch mix: 500 g dry rice, 100 g butter", "batch 1 cooked 1500 g")
    recorded = chat.say("took 300 g from batch 1").recorded()
    assert recorded["basis_g"] == pytest.approx(300 * 600 / 1500)
    # a fifth of 500 g dry rice (365 kcal, SR28 20044) and 100 g butter (717 kcal, SR28 01001)
    assert recorded["kcal"] == pytest.approx((5 * 365 + 717) / 5, abs=0.05)


def test_portions_wait_for_the_cooked_weight_which_completes_them(chat: Chat) -> None:
    chat.given("batch pilaf: 500 g dry rice")
    chat.say("took 200 g from batch 1").asked("cooked weight")
    chat.say("took 300 g from batch 1 yesterday").asked("cooked weight")
    assert chat.day()["waiting"] == 2
    said = chat.say("1400 g")
    assert said.one("batch_cooked")["cooked_g"] == 1400
    assert {event["as_weighed_g"]: event["day"] for event in said.all("weigh_in")} == {
        200: "2026-03-02",
        300: "2026-03-01",
    }
    assert chat.day()["waiting"] == 0
    assert "900 g" in chat.left(1)


def test_the_cooked_weight_said_in_full_completes_the_waiting_portions_too(chat: Chat) -> None:
    chat.given("batch pilaf: 500 g dry rice")
    chat.say("took 200 g from batch 1").asked()
    assert chat.say("batch 1 cooked 1400 g").one("weigh_in")["as_weighed_g"] == 200


def test_a_cooked_weight_of_another_batch_completes_nothing(chat: Chat) -> None:
    chat.given("batch pilaf: 500 g dry rice", "batch congee: 500 g dry rice")
    chat.say("took 200 g from batch 1").asked()
    assert not chat.say("batch 2 cooked 1400 g").all("weigh_in")
    assert chat.day()["waiting"] == 1


def test_a_waiting_portion_that_turns_out_too_large_is_asked_about(chat: Chat) -> None:
    chat.given("batch pilaf: 500 g dry rice")
    chat.say("took 2000 g from batch 1").asked()
    said = chat.say("batch 1 cooked 1400 g")
    assert said.one("batch_cooked")
    assert not said.all("weigh_in")
    assert "1,400 g" in said.text
    assert said.all("question")


def test_more_than_is_left_asks_before_recording(chat: Chat) -> None:
    rice(chat)
    asked = chat.say("took 1406 g from batch 1")
    asked.asked("1,400 g")
    said = chat.press("yes")
    assert said.one("weigh_in")["as_weighed_g"] == 1406
    assert said.one("batch_closed")["left_g"] == 0


def test_all_that_is_left_is_one_of_the_answers(chat: Chat) -> None:
    rice(chat)
    chat.say("took 2000 g from batch 1").asked()
    assert chat.press("all of it").one("weigh_in")["as_weighed_g"] == 1400


@pytest.mark.parametrize("grams", (1395, 1400, 1405))
def test_within_five_grams_of_the_rest_is_recorded_as_typed_and_closes_the_batch(chat: Chat, grams: int) -> None:
    rice(chat)
    said = chat.say(f"took {grams} g from batch 1")
    assert said.one("weigh_in")["as_weighed_g"] == grams
    closed = said.one("batch_closed")
    assert (closed["batch"], closed["how"]) == (1, "finished")
    assert closed["left_g"] == max(1400 - grams, 0)
    assert chat.say("batches").one("listing")["count"] == 0


def test_six_grams_left_keep_the_batch_open(chat: Chat) -> None:
    rice(chat)
    assert not chat.say("took 1394 g from batch 1").all("batch_closed")
    assert "6 g" in chat.left(1)


def test_a_change_of_a_portion_gives_its_grams_back_first(chat: Chat) -> None:
    rice(chat)
    chat.given("took 1000 g from batch 1")
    said = chat.say("change last to 1300 g")
    assert said.one("weigh_in_changed")["as_weighed_g"] == 1300
    assert "question" not in said.kinds
    assert "100 g" in chat.left(1)
    chat.say("change last to 1500 g").asked("1,400 g")


def test_an_edit_of_a_portion_gives_its_grams_back_first(chat: Chat) -> None:
    rice(chat)
    chat.say("took 1000 g from batch 1", ref=5)
    assert chat.edit(5, "took 1200 g from batch 1").one("weigh_in_changed")["basis_g"] == pytest.approx(
        1200 * 500 / 1400, abs=0.006
    )
    assert "200 g" in chat.left(1)


def test_a_closed_batch_opens_again_when_its_last_portion_is_taken_back(chat: Chat) -> None:
    rice(chat)
    chat.given("took 1000 g from batch 1", "took 400 g from batch 1")
    assert chat.events("batch_closed")
    chat.say("undo").one("weigh_in_removed")
    assert "400 g" in chat.left(1)
    assert chat.say("took 100 g from batch 1").recorded()["batch"] == 1


def test_a_closed_batch_opens_again_when_its_last_portion_shrinks(chat: Chat) -> None:
    rice(chat)
    chat.given("took 1400 g from batch 1")
    assert chat.say("change last to 400 g").one("weigh_in_changed")["as_weighed_g"] == 400
    assert "1,000 g" in chat.left(1)


@pytest.mark.parametrize("text", ("change last to 300 g", "delete last", "last was 100 g"))
def test_undoing_a_fix_leaves_a_finished_batch_finished(chat: Chat, text: str) -> None:
    rice(chat)
    chat.given("took 200 g from batch 1", "finished batch 1", text)
    assert "closed again" in chat.say("undo").text
    chat.say("took 100 g from batch 1").refused("closed")
    assert "open again" in chat.say("undo").text
    assert "1,200 g" in chat.left(1)


@pytest.mark.parametrize("text", ("finished the pilaf", "finished batch 1", "batch 1 is finished", "the pilaf is gone"))
def test_finishing_closes_without_a_portion_and_says_what_nobody_logged(chat: Chat, text: str) -> None:
    rice(chat)
    chat.given("took 200 g from batch 1")
    said = chat.say(text)
    assert [event["type"] for event in said.records] == ["batch_closed"]
    assert said.records[0] == {"type": "batch_closed", "batch": 1, "left_g": 1200, "how": "finished"}
    assert "1,200 g" in said.text
    chat.say("took 100 g from batch 1").refused("closed")


@pytest.mark.parametrize(
    "text",
    (
        "gave 300 g of batch 1 to my neighbour",
        "the dog ate 300 g of batch 1",
        "threw out 300 g of batch 1",
        "300 g of batch 1 for my son",
    ),
)
def test_what_leaves_a_batch_otherwise_stands_on_nobodys_day(chat: Chat, text: str) -> None:
    rice(chat)
    said = chat.say(text)
    assert [event["type"] for event in said.records] == ["batch_reduced"]
    assert (said.records[0]["batch"], said.records[0]["grams"]) == (1, 300)
    assert "1,100 g" in chat.left(1)
    assert chat.day()["kcal"] == 0


@pytest.mark.parametrize(
    "text",
    ("threw out the rest of batch 1", "gave the rest of the pilaf to the neighbours", "threw out 1400 g of batch 1"),
)
def test_all_that_is_left_going_is_one_closing(chat: Chat, text: str) -> None:
    rice(chat)
    said = chat.say(text)
    assert [event["type"] for event in said.records] == ["batch_closed"]
    assert said.records[0] == {"type": "batch_closed", "batch": 1, "left_g": 1400, "how": "discarded"}


def test_the_writers_part_of_a_portion_is_recorded_and_the_rest_leaves_the_batch(chat: Chat) -> None:
    rice(chat)
    said = chat.say("took 300 g from batch 1, 120 of it for my son")
    assert said.one("weigh_in")["edible_g"] == 180
    assert said.one("batch_reduced")["grams"] == 120
    assert "1,100 g" in chat.left(1)


def test_boxes_are_equal_parts_of_what_is_left(chat: Chat) -> None:
    rice(chat)
    chat.given("took 200 g from batch 1")
    said = chat.say("split batch 1 into 4 boxes")
    assert said.one("batch_boxed") == {"type": "batch_boxed", "batch": 1, "boxes": 4, "box_g": 300}
    assert "300 g" in said.text


def test_splitting_again_shares_out_all_boxes_also_those_from_before_an_addition(chat: Chat) -> None:
    chat.given("new batch stew: 900 g raw ground beef 80/20, 200 g onion", "batch 1 cooked 600 g")
    chat.given("split batch 1 into 2 boxes", "add 155 g onion to batch 1", "froze 2 boxes of 80 g from batch 1")
    assert chat.say("split batch 1 into 2 boxes").one("batch_boxed")["box_g"] == 377.5  # (600 g + 155 g) / 2


def test_a_box_is_one_of_them_and_two_boxes_are_one_weigh_in(chat: Chat) -> None:
    rice(chat)
    chat.given("split batch 1 into 4 boxes")
    one = chat.say("a box from batch 1").recorded()
    assert (one["as_weighed_g"], one["edible_g"], one["evidence"]) == (350, 350, "boxed")
    assert one["basis_g"] == pytest.approx(125)
    two = chat.say("2 boxes from batch 1").recorded()
    assert (two["as_weighed_g"], two["evidence"]) == (700, "boxed")
    assert two["kcal"] == pytest.approx(250 * RICE_DRY_KCAL, abs=0.01)
    assert "1 of 4" in chat.left(1)


def test_more_boxes_than_are_left_are_refused(chat: Chat) -> None:
    rice(chat)
    chat.given("split batch 1 into 2 boxes")
    chat.say("3 boxes from batch 1").refused("2 boxes")
    chat.given("a box from batch 1")
    assert chat.say("a box from batch 1").one("batch_closed")["how"] == "finished"
    chat.say("a box from batch 1").refused("closed")


def test_a_box_taken_back_can_be_taken_again(chat: Chat) -> None:
    rice(chat)
    chat.given("split batch 1 into 2 boxes", "a box from batch 1")
    chat.say("undo").one("weigh_in_removed")
    assert chat.say("2 boxes from batch 1").one("weigh_in")["as_weighed_g"] == 1400


def test_a_batch_that_is_in_no_boxes_asks_for_the_grams(chat: Chat) -> None:
    rice(chat)
    chat.say("a box from batch 1").asked("how many grams")


@pytest.mark.parametrize("boxes", ("0", "-2", "1000000", "99999999999999999999"))
def test_an_impossible_number_of_boxes_is_refused(chat: Chat, boxes: str) -> None:
    rice(chat)
    assert not chat.say(f"split batch 1 into {boxes} boxes").records


def test_splitting_waits_for_the_cooked_weight(chat: Chat) -> None:
    chat.given("batch pilaf: 500 g dry rice")
    chat.say("split batch 1 into 4 boxes").asked("cooked weight")
    assert chat.say("1400").one("batch_boxed")["box_g"] == 350


def test_a_portion_without_an_amount_asks_how_much(chat: Chat) -> None:
    rice(chat)
    chat.say("took some from batch 1").asked("how many grams")
    assert chat.say("250").recorded()["as_weighed_g"] == 250


def test_half_a_batch_is_half_of_all_of_it_and_asks_once_something_is_gone(chat: Chat) -> None:
    rice(chat)
    assert chat.say("took half of batch 1").recorded()["edible_g"] == 700
    asked = chat.say("took half of batch 1")
    asked.asked("left")
    assert [choice.split()[0] for choice in asked.choices] == ["700", "350"]
    assert chat.press("rest").recorded()["edible_g"] == 350


def test_a_portion_in_a_known_vessel_counts_without_it(chat: Chat) -> None:
    rice(chat)
    chat.given("tare blue bowl 412 g")
    assert chat.say("took 612 g from batch 1 in the blue bowl").recorded()["as_weighed_g"] == 200


def test_a_portion_after_the_batch_is_grams_without_a_unit(chat: Chat) -> None:
    rice(chat)
    assert chat.say("took 9 from batch 1").recorded()["as_weighed_g"] == 9
