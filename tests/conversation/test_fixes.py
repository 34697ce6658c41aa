"""Putting it right: undo, change, delete, the same again. The old row is superseded and never erased."""

import pytest

from .chat import Chat
from .conftest import Meet

# kcal per gram, USDA SR28: 20045 white rice boiled, 01009 cheddar, 01001 butter
RICE_KCAL, CHEDDAR_KCAL, BUTTER_KCAL = 1.30, 4.04, 7.17


def test_undo_takes_back_all_that_the_last_message_recorded(chat: Chat) -> None:
    chat.given("180 g cooked rice", "30 g cheddar, 20 g butter")
    said = chat.say("undo")
    assert {event["id"] for event in said.all("weigh_in_removed")} == {2, 3}
    assert len(said.records) == 2
    assert "cheddar" in said.text
    assert chat.day()["kcal"] == pytest.approx(180 * RICE_KCAL)


def test_undo_goes_one_message_further_back_each_time_and_never_redoes(chat: Chat) -> None:
    chat.given("10 g cheddar", "20 g cheddar", "30 g cheddar")
    assert [chat.say("undo").one("weigh_in_removed")["id"] for _ in range(3)] == [3, 2, 1]
    chat.say("undo").nothing("nothing to undo")
    assert chat.day()["kcal"] == 0


def test_undo_of_a_change_restores_the_old_values(chat: Chat) -> None:
    chat.given("180 g cooked rice", "change last to 280 g")
    restored = chat.say("undo").changed()
    assert (restored["was"], restored["as_weighed_g"], restored["food"]) == (1, 180, "white rice")
    assert chat.day()["kcal"] == pytest.approx(180 * RICE_KCAL)


def test_undo_of_a_chain_of_changes_goes_back_through_each(chat: Chat) -> None:
    chat.given("180 g cooked rice", "change last to 200 g", "#1 was 220 g", "make that raw")
    assert chat.say("undo").changed()["state"] == "cooked"
    assert chat.say("undo").changed()["as_weighed_g"] == 200
    assert chat.say("undo").changed()["as_weighed_g"] == 180
    assert chat.say("undo").one("weigh_in_removed")["id"] == 1
    chat.say("undo").nothing()


def test_undo_of_a_deletion_brings_it_back(chat: Chat) -> None:
    chat.given("180 g cooked rice", "30 g cheddar", "delete #1")
    back = chat.say("undo")
    assert [(event["id"], event["as_weighed_g"]) for event in back.records] == [(1, 180)]
    assert chat.day()["kcal"] == pytest.approx(180 * RICE_KCAL + 30 * CHEDDAR_KCAL)


def test_after_an_undo_what_is_said_next_is_the_first_to_be_undone(chat: Chat) -> None:
    chat.given("10 g cheddar", "20 g cheddar")
    chat.say("undo")
    chat.given("30 g cheddar")
    assert chat.say("undo").one("weigh_in_removed")["id"] == 3
    assert chat.say("undo").one("weigh_in_removed")["id"] == 1


@pytest.mark.parametrize("text", ("undo", "Undo!", "/undo", "undo that", "undo please", "take that back", "UNDO"))
def test_undo_is_understood_however_it_is_said(chat: Chat, text: str) -> None:
    chat.given("30 g cheddar")
    assert chat.say(text).one("weigh_in_removed")["id"] == 1


@pytest.mark.parametrize(
    ("record", "back"),
    (
        ("tare blue bowl 412 g", "cooked rice 632 in the blue bowl"),
        ("my scoop of whey is 31 g", "2 scoops whey"),
        ("label zorblax: serving 40 g, 161 kcal, protein 3, fat 5, carbs 26", "80 g zorblax"),
        ("I weigh 82 kg", ""),
        ("target 2100 kcal protein 150", ""),
    ),
)
def test_whatever_was_kept_is_taken_back_too(chat: Chat, record: str, back: str) -> None:
    chat.given(record)
    said = chat.say("undo")
    assert "back" in said.text.lower()
    if back:
        assert not chat.say(back).records


def test_a_cooking_cannot_be_undone_while_portions_hang_on_it(chat: Chat) -> None:
    chat.given("batch pilaf: 1000 g dry rice", "batch 1 cooked 2500 g", "took 500 g from batch 1")
    chat.say("batch 1 cooked 2800 g").asked()
    chat.say("yes").one("batch_cooked")
    chat.say("undo").refused("#1")
    assert "2,300 g" in chat.left(1)
    assert chat.say("delete #1").one("weigh_in_removed")


def test_undo_goes_back_through_a_batch_once_its_portions_are_gone(chat: Chat) -> None:
    chat.given("batch pilaf: 500 g dry rice", "batch 1 cooked 1400 g", "took 200 g from batch 1")
    assert chat.say("undo").one("weigh_in_removed")["id"] == 1
    chat.say("undo")
    assert "not weighed cooked" in chat.say("batches").text
    chat.say("undo")
    assert chat.say("batches").one("listing")["count"] == 0
    chat.say("undo").nothing("nothing to undo")


def test_undo_of_a_portion_that_waited_takes_back_its_cooked_weight_too(chat: Chat) -> None:
    chat.given("batch pilaf: 500 g dry rice")
    chat.say("took 200 g from batch 1").asked()
    chat.say("1400 g").one("weigh_in")
    assert chat.say("undo").one("weigh_in_open")["id"] == 1
    assert "not weighed cooked" in chat.say("batches").text


def test_undo_of_poured_off_fat_gives_the_portions_their_energy_back(chat: Chat) -> None:
    chat.given("batch: 1000 g raw ground beef 80/20", "batch 1 cooked 650 g", "took 200 g from batch 1")
    before = chat.day()["kcal"]
    chat.given("poured off 120 g of fat from batch 1")
    assert chat.day()["kcal"] < before - 300  # 120 g × 9 kcal × 200/650
    chat.say("undo")
    assert chat.day()["kcal"] == pytest.approx(before)


@pytest.mark.parametrize(
    "text", ("split batch 1 into 4 boxes", "finished batch 1", "gave 300 g of batch 1 to my neighbour")
)
def test_undo_takes_back_what_happened_to_a_batch(chat: Chat, text: str) -> None:
    chat.given("batch pilaf: 500 g dry rice", "batch 1 cooked 1400 g", text)
    chat.say("undo")
    assert "1,400 g of 1,400 g" in chat.left(1)
    chat.say("a box from batch 1").asked()


def test_change_last_changes_only_what_is_said(chat: Chat) -> None:
    chat.given("180 g cooked rice for lunch yesterday")
    changed = chat.say("change last to 280 g").changed()
    assert (changed["was"], changed["as_weighed_g"], changed["kcal"]) == (1, 280, pytest.approx(280 * RICE_KCAL))
    assert (changed["state"], changed["day"], changed["meal"]) == ("cooked", "2026-03-01", "lunch")


@pytest.mark.parametrize(
    "text", ("#1 was 280 g", "change #1 to 280 g", "#1 is 280 g", "make #1 280 g", "change #1 to 280")
)
def test_a_weigh_in_is_changed_by_its_number(chat: Chat, text: str) -> None:
    chat.given("180 g cooked rice", "30 g cheddar")
    changed = chat.say(text).changed()
    assert (changed["was"], changed["food"], changed["as_weighed_g"]) == (1, "white rice", 280)


def test_numbers_are_each_persons_own_from_one(chat: Chat, meet: Meet) -> None:
    other = meet()
    chat.given("180 g cooked rice")
    other.given("30 g cheddar", "20 g butter")
    assert chat.say("30 g cheddar").recorded()["id"] == 2
    assert other.say("delete #1").one("weigh_in_removed")["id"] == 1
    chat.say("delete #3").refused("#3")
    assert chat.day()["kcal"] == pytest.approx(180 * RICE_KCAL + 30 * CHEDDAR_KCAL)


@pytest.mark.parametrize("text", ("delete #2", "delete last", "remove #2", "delete the last one"))
def test_delete_takes_one_off_the_record(chat: Chat, text: str) -> None:
    chat.given("180 g cooked rice", "30 g cheddar")
    said = chat.say(text)
    assert said.one("weigh_in_removed")["id"] == 2
    assert chat.day()["kcal"] == pytest.approx(180 * RICE_KCAL)


def test_what_is_deleted_cannot_be_deleted_again(chat: Chat) -> None:
    chat.given("180 g cooked rice", "30 g cheddar", "delete #2")
    chat.say("delete #2").refused("#2")


@pytest.mark.parametrize(
    "text", ("delete #12", "#12 was 280 g", "change #12 to 200 g", f"delete #{2**63}", f"#{'9' * 40} was 2 g")
)
def test_a_number_that_does_not_exist_is_refused(chat: Chat, text: str) -> None:
    chat.given("180 g cooked rice")
    chat.say(text).refused()
    assert chat.day()["kcal"] == pytest.approx(180 * RICE_KCAL)


def test_make_that_cooked_changes_the_state(chat: Chat) -> None:
    chat.given("180 g dry rice")
    changed = chat.say("make that cooked").changed()
    assert (changed["state"], changed["as_weighed_g"], changed["kcal"]) == (
        "cooked",
        180,
        pytest.approx(180 * RICE_KCAL),
    )


def test_not_this_but_that_changes_the_last_when_it_fits(chat: Chat) -> None:
    chat.given("200 g cooked rice")
    assert chat.say("not 200 g, 250 g").changed()["as_weighed_g"] == 250
    assert chat.say("it was 260").changed()["as_weighed_g"] == 260


def test_not_this_but_that_asks_when_it_does_not_fit(chat: Chat) -> None:
    chat.given("30 g cheddar", "200 g cooked rice")
    chat.say("not 111 g, 250 g").asked()
    assert chat.day()["kcal"] == pytest.approx(200 * RICE_KCAL + 30 * CHEDDAR_KCAL)


def test_a_fix_that_names_a_food_means_its_latest_weigh_in_today(chat: Chat) -> None:
    chat.given("30 g cheddar yesterday", "40 g cheddar", "200 g cooked rice")
    changed = chat.say("the cheddar was 35 g").changed()
    assert (changed["was"], changed["as_weighed_g"], changed["day"]) == (2, 35, "2026-03-02")


def test_a_change_to_zero_is_refused_and_delete_is_offered(chat: Chat) -> None:
    chat.given("200 g cooked rice")
    chat.say("change last to 0 g").refused("delete #1")
    assert chat.day()["kcal"] == pytest.approx(200 * RICE_KCAL)


@pytest.mark.parametrize("weight", ("6 kg", "-5 g", "9999999 g"))
def test_a_change_to_an_impossible_weight_is_refused(chat: Chat, weight: str) -> None:
    chat.given("200 g cooked rice")
    chat.say(f"change last to {weight}").refused()
    assert chat.day()["kcal"] == pytest.approx(200 * RICE_KCAL)


@pytest.mark.parametrize("weight", ("0 g", "6 kg", "-5 g"))
def test_an_impossible_weight_is_refused_also_when_there_is_nothing_to_change(chat: Chat, weight: str) -> None:
    said = chat.say(f"change last to {weight}")
    assert not said.records
    assert "question" not in said.kinds


def test_a_change_to_another_food_keeps_the_amount(chat: Chat) -> None:
    chat.given("30 g cheddar")
    changed = chat.say("change last to butter").changed()
    assert (changed["food"], changed["as_weighed_g"], changed["kcal"]) == (
        "butter",
        30,
        pytest.approx(30 * BUTTER_KCAL),
    )


def test_a_changed_day_moves_the_weigh_in(chat: Chat) -> None:
    chat.given("30 g cheddar")
    changed = chat.say("change #1 to yesterday").changed()
    assert (changed["day"], changed["as_weighed_g"]) == ("2026-03-01", 30)
    assert chat.day()["kcal"] == 0


def test_the_same_again_repeats_food_state_batch_and_amount(chat: Chat) -> None:
    chat.given("batch pilaf: 500 g dry rice", "batch 1 cooked 1400 g", "took 200 g from batch 1")
    again = chat.say("same again").recorded()
    assert (again["id"], again["batch"], again["as_weighed_g"]) == (2, 1, 200)
    assert "1,000 g" in chat.left(1)


def test_another_amount_of_that(chat: Chat) -> None:
    chat.given("180 g cooked rice")
    again = chat.say("another 50 g of that").recorded()
    assert (again["food"], again["state"], again["as_weighed_g"]) == ("white rice", "cooked", 50)


def test_the_same_again_is_of_today(chat: Chat) -> None:
    chat.given("180 g cooked rice for lunch yesterday")
    again = chat.say("same again").recorded()
    assert (again["day"], again["meal"]) == ("2026-03-02", None)


@pytest.mark.parametrize("text", ("same again", "another 50 g of that"))
def test_the_same_again_asks_when_nothing_is_on_record(chat: Chat, text: str) -> None:
    chat.say(text).asked()


@pytest.mark.parametrize("text", ("undo", "delete last"))
def test_nothing_left_is_said_so(chat: Chat, text: str) -> None:
    chat.say(text).nothing("nothing")


def test_nobody_can_undo_or_change_what_somebody_else_recorded(chat: Chat, meet: Meet) -> None:
    chat.given("180 g cooked rice")
    other = meet()
    other.say("undo").nothing()
    other.say("delete #1").refused()
    assert chat.day()["kcal"] == pytest.approx(180 * RICE_KCAL)


def test_a_word_for_several_kinds_means_the_one_that_is_on_record(chat: Chat) -> None:
    chat.given("12 fl oz apple juice", "apple 196 g with core")
    assert chat.say("no, the juice was 300 g").changed()["food"] == "apple juice"
    chat.given("200 g orange juice")
    said = chat.say("delete the juice")
    assert "apple juice" in said.refused("orange juice")


@pytest.mark.parametrize(
    "text", ("change", "change it", "change last", "change #1", "edit the butter", "change the amount")
)
def test_a_change_without_an_amount_asks_for_it(chat: Chat, text: str) -> None:
    chat.given("12 g butter")
    chat.say(text).asked("How many grams")
    changed = chat.say("15").changed()
    assert (changed["was"], changed["as_weighed_g"]) == (1, 15)


def test_the_new_amount_of_what_was_counted_is_a_count(chat: Chat) -> None:
    chat.given("3 eggs")
    chat.say("change").asked("How many was it?")
    changed = chat.say("2").changed()
    assert (changed["as_weighed_g"], changed["evidence"]) == (100, "counted")  # US eggs are large: 50 g (USDA SR28)


def test_a_new_amount_is_only_asked_for_until_the_next_message(chat: Chat) -> None:
    chat.given("12 g butter")
    chat.say("change").asked()
    chat.given("20 g jam")
    chat.say("15").asked("of what?")


@pytest.mark.parametrize("text", ("that was all", "that's all for today", "nothing else today", "I'm done for today"))
def test_a_day_that_is_called_complete_is_not_reminded_of(chat: Chat, text: str) -> None:
    chat.say("180 g cooked rice", at="2026-03-02T08:00:00+00:00")
    said = chat.say(text)
    assert said.records == [{"type": "setting_changed", "name": "day_done", "value": "2026-03-02"}]
    assert not chat.door.step(advance_to="2026-03-02T21:00:00+00:00").text
    chat.say("180 g cooked rice", at="2026-03-03T08:00:00+00:00")
    assert "“that was all”" in chat.door.step(advance_to="2026-03-03T21:00:00+00:00").text


@pytest.mark.parametrize(("text", "gone"), (
    ("delete #1 and #1", {1}),
    ("remove #2 #2 #2", {2}),
    ("delete 1-3 2-3", {1, 2, 3}),
    ("delete cheddar and cheddar", {2}),
))  # fmt: skip
def test_a_weigh_in_named_twice_is_removed_once(chat: Chat, text: str, gone: set[int]) -> None:
    chat.given("10 g butter", "20 g cheddar", "30 g butter")
    removed = chat.say(text)
    numbers = [event["id"] for event in removed.all("weigh_in_removed")]
    assert len(numbers) == len(set(numbers))
    assert set(numbers) <= gone
    assert chat.say("40 g cheddar").recorded()["as_weighed_g"] == 40


@pytest.mark.parametrize(
    "text",
    (
        "delete #1, 200 g pear",
        "delete that, 200 g pear",
        "remove #1. had 200 g pear",
        "undo, 200 g pear",
        "scratch that; 200 g pear",
        "delete #1 then 200 g pear",
        "delete last\n200 g pear",
    ),
)
def test_what_is_told_after_a_fix_is_recorded(chat: Chat, text: str) -> None:
    chat.given("100 g banana")
    said = chat.say(text)
    assert [event["id"] for event in said.all("weigh_in_removed")] == [1]
    assert [(event["food"], event["as_weighed_g"]) for event in said.all("weigh_in")] == [("pear", 200)]


@pytest.mark.parametrize("text", ("delete #1, #2", "delete the banana, the pear was 210 g", "delete #1, it was 200 g"))
def test_what_only_explains_a_fix_is_no_new_weigh_in(chat: Chat, text: str) -> None:
    chat.given("100 g banana", "200 g pear")
    assert not chat.say(text).all("weigh_in")


@pytest.mark.parametrize(("command", "kind"), (
    ("undo", "fact_undone"), ("today", "sheet"), ("help", "help"), ("batches", "listing"), ("export", "exported"),
))  # fmt: skip
def test_a_label_named_like_a_command_leaves_the_command_alone(chat: Chat, command: str, kind: str) -> None:
    chat.say(f"label {command}: serving 30 g, 120 kcal, protein 3, fat 2, carbs 20")
    said = chat.say(f"{command}!")
    assert "How much" not in said.text
    assert kind in said.kinds
