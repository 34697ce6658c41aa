"""A sent message that is edited is judged as if sent so at its own time; only differences change."""

import pytest

from .chat import Chat
from .conftest import Meet

DATABASES = ("sqlite", "postgresql")

RICE_KCAL, CHEDDAR_KCAL = 1.30, 4.04  # kcal per gram, USDA SR28: 20045 white rice boiled, 01009 cheddar


def test_only_what_differs_changes(chat: Chat) -> None:
    chat.say("180 g cooked rice, 30 g cheddar", ref=1)
    changed = chat.edit(1, "200 g cooked rice, 30 g cheddar").changed()
    assert (changed["was"], changed["food"], changed["as_weighed_g"]) == (1, "white rice", 200)
    assert chat.day()["kcal"] == pytest.approx(200 * RICE_KCAL + 30 * CHEDDAR_KCAL)


def test_an_edit_that_changes_nothing_changes_nothing(chat: Chat) -> None:
    chat.say("180 g cooked rice", ref=1)
    chat.edit(1, "180g cooked rice!").nothing()
    assert chat.day()["kcal"] == pytest.approx(180 * RICE_KCAL)


def test_items_that_are_gone_are_removed_and_new_ones_added(chat: Chat) -> None:
    chat.say("180 g cooked rice, 30 g cheddar", ref=1)
    said = chat.edit(1, "180 g cooked rice, 20 g butter, 40 g almonds")
    assert said.one("weigh_in_removed")["id"] == 2
    assert {event["food"]: event["as_weighed_g"] for event in said.all("weigh_in")} == {"butter": 20, "almonds": 40}
    assert not said.all("weigh_in_changed")


def test_an_item_that_is_taken_out_is_removed(chat: Chat) -> None:
    chat.say("180 g cooked rice, 30 g cheddar", ref=1)
    said = chat.edit(1, "180 g cooked rice")
    assert [(event["type"], event["id"]) for event in said.records] == [("weigh_in_removed", 2)]


def test_another_food_for_one_food_is_one_change(chat: Chat) -> None:
    chat.say("180 g cooked rice", ref=1)
    changed = chat.edit(1, "180 g cooked pasta").changed()
    assert (changed["was"], changed["food"]) == (1, "pasta")


def test_the_order_of_items_does_not_matter(chat: Chat) -> None:
    chat.say("180 g cooked rice, 30 g cheddar", ref=1)
    changed = chat.edit(1, "35 g cheddar, 180 g cooked rice").changed()
    assert (changed["was"], changed["as_weighed_g"]) == (2, 35)


def test_it_is_judged_at_the_time_it_was_sent(chat: Chat) -> None:
    chat.say("180 g cooked rice", at="2026-03-02T20:00:00+00:00", ref=1)
    changed = chat.edit(1, "180 g cooked rice yesterday", at="2026-03-04T09:00:00+00:00").changed()
    assert changed["day"] == "2026-03-01"
    moved = chat.edit(1, "190 g cooked rice", at="2026-03-04T09:05:00+00:00").changed()
    assert (moved["day"], moved["as_weighed_g"]) == ("2026-03-02", 190)


def test_a_clock_time_in_an_edit_is_the_latest_before_it_was_sent(chat: Chat) -> None:
    chat.say("180 g cooked rice", at="2026-03-02T20:00:00+00:00", ref=1)
    changed = chat.edit(1, "170 g cooked rice at 21:00", at="2026-03-03T09:00:00+00:00").changed()
    assert changed["day"] == "2026-03-01"


def test_an_unclear_edit_leaves_the_old_record(chat: Chat) -> None:
    chat.say("180 g cooked rice", ref=1)
    said = chat.edit(1, "180 g zorblax")
    assert not said.records
    assert "question" in said.kinds
    assert chat.day()["kcal"] == pytest.approx(180 * RICE_KCAL)


def test_the_answer_to_an_unclear_edit_changes_the_old_record(chat: Chat) -> None:
    chat.say("30 g cheddar", ref=1)
    chat.edit(1, "150 g pasta").asked_state()
    said = chat.press("cooked")
    changed = said.one("weigh_in_changed")
    assert (changed["was"], changed["food"], changed["as_weighed_g"]) == (1, "pasta", 150)
    assert not said.all("weigh_in")


def test_an_edit_that_is_not_understood_leaves_the_old_record(chat: Chat) -> None:
    chat.say("180 g cooked rice", ref=1)
    assert not chat.edit(1, "qwe rty uio").records
    assert chat.day()["kcal"] == pytest.approx(180 * RICE_KCAL)


@pytest.mark.parametrize(
    "text", ("9 kg cooked rice", "0 g cooked rice", "-5 g cooked rice", "180 g cooked rice on 2026-04-01")
)
def test_an_impossible_edit_is_refused_and_the_old_record_stands(chat: Chat, text: str) -> None:
    chat.say("180 g cooked rice", ref=1)
    chat.edit(1, text).refused()
    assert chat.day()["kcal"] == pytest.approx(180 * RICE_KCAL)


def test_an_edit_that_says_it_was_not_eaten_takes_it_off(chat: Chat) -> None:
    chat.say("180 g cooked rice", ref=1)
    assert chat.edit(1, "I did not eat the 180 g cooked rice").one("weigh_in_removed")["id"] == 1
    assert chat.day()["kcal"] == 0


def test_an_edit_of_a_message_that_recorded_nothing_is_taken_as_said(chat: Chat) -> None:
    chat.say("180 g cooked rcie zzz", ref=1)
    assert chat.edit(1, "180 g cooked rice").one("weigh_in")["as_weighed_g"] == 180


def test_an_edit_settles_the_question_that_the_first_wording_raised(chat: Chat) -> None:
    chat.say("180 g rice", ref=1).asked()
    assert chat.edit(1, "180 g cooked rice").one("weigh_in")["as_weighed_g"] == 180
    assert chat.day()["waiting"] == 0


def test_an_edit_of_a_cooked_weight_corrects_it(chat: Chat) -> None:
    chat.given("batch pilaf: 500 g dry rice")
    chat.say("batch 1 cooked 1300 g", ref=1)
    chat.given("took 200 g from batch 1")
    said = chat.edit(1, "batch 1 cooked 1400 g")
    assert said.one("batch_cooked")["cooked_g"] == 1400
    assert said.one("weigh_in_changed")["basis_g"] == pytest.approx(200 * 500 / 1400, abs=0.006)


def test_an_edit_can_be_undone(chat: Chat) -> None:
    chat.say("180 g cooked rice, 30 g cheddar", ref=1)
    chat.edit(1, "200 g cooked rice")
    chat.say("undo")
    assert chat.day()["kcal"] == pytest.approx(180 * RICE_KCAL + 30 * CHEDDAR_KCAL)


def test_an_edit_after_an_undo_records_anew(chat: Chat) -> None:
    chat.say("180 g cooked rice", ref=1)
    chat.say("undo")
    chat.edit(1, "200 g cooked rice")
    assert chat.day()["kcal"] in (0, pytest.approx(200 * RICE_KCAL))


def test_only_ones_own_messages_can_be_edited(chat: Chat, meet: Meet) -> None:
    chat.say("180 g cooked rice", ref=77)
    other = meet()
    other.say("hello")
    assert "77" in other.door.error(edit=77, say="200 g cooked rice", who=other.who)
    assert chat.day()["kcal"] == pytest.approx(180 * RICE_KCAL)


def test_another_day_in_an_edit_moves_the_record(chat: Chat) -> None:
    chat.say("180 g cooked rice", ref=1)
    changed = chat.edit(1, "180 g cooked rice for dinner yesterday").changed()
    assert (changed["day"], changed["meal"]) == ("2026-03-01", "dinner")
    assert chat.day()["kcal"] == 0
