"""An order and the weigh-ins beside it in one message, what was not finished, and what no meaning uses."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bot.language.accounting import NOTHING
from bot.language.fact_meanings import BodyWeight, SaveLabel, SaveTare, SetTarget
from bot.language.fix_meanings import Change
from bot.language.meanings import LeftOut
from bot.language.surroundings import Recorded
from bot.language.told import Item
from bot.language.understand import understand

from .test_pseudo_locale import AROUND

LABEL = "serving 30 g, 81 kcal, protein 2, fat 7, carbs 5"


def told(text: str) -> list[tuple[str, float | None]]:
    """The weigh-ins of a message: the word for each food, and its grams."""
    items = [meaning for meaning in understand(text, AROUND) if isinstance(meaning, Item)]
    return [(item.name.text if item.name else "", None if item.amount is None else item.amount.grams) for item in items]


def kept(text: str, kind: type) -> list[object]:
    return [meaning for meaning in understand(text, AROUND) if isinstance(meaning, kind)]


@pytest.mark.parametrize(
    ("text", "value", "weighed"),
    (
        ("change last to 150, 73 g bread", 150.0, [("bread", 73.0)]),
        ("#3 was 210 g, 96 g pretzels, 40 g olives", 210.0, [("pretzels", 96.0), ("olives", 40.0)]),
        ("had 40 g feta; #3 was 150 g", 150.0, [("feta", 40.0)]),
        ("88 g mango for the boys but #4 was 120, 90 g falafel", 120.0, [("falafel", 90.0)]),
    ),
)
def test_a_fix_does_not_swallow_the_weigh_ins_beside_it(
    text: str, value: float, weighed: list[tuple[str, float]]
) -> None:
    (fix,) = kept(text, Change)
    assert isinstance(fix, Change)
    assert fix.amount is not None
    assert (fix.amount.value, fix.name) == (value, None)
    assert told(text) == weighed


@pytest.mark.parametrize(
    "text",
    (
        f"label creamy dressing: {LABEL}\n112 g corn flakes",
        f"112 g corn flakes\nlabel creamy dressing: {LABEL}",
        f"112 g corn flakes, label creamy dressing: {LABEL}",
    ),
)
def test_a_label_holds_nothing_of_the_weigh_ins_around_it(text: str) -> None:
    (label,) = kept(text, SaveLabel)
    assert isinstance(label, SaveLabel)
    assert (label.food, label.serving_g, label.kcal) == ("creamy dressing", 30.0, 81.0)
    assert told(text) == [("corn flakes", 112.0)]


def test_the_figures_of_a_label_stay_with_it() -> None:
    (label,) = understand("label oat bar\n40 g serving\n161 kcal\n10 g sugar\n5 g fat\n3 g protein", AROUND)
    assert isinstance(label, SaveLabel)
    assert (label.serving_g, label.sugars_g, label.fat_g, label.protein_g) == (40.0, 10.0, 5.0, 3.0)


def test_a_target_and_a_tare_stand_beside_weigh_ins() -> None:
    assert [meaning.kcal for meaning in kept("target 2000 kcal, 120 g couscous", SetTarget)] == [2000.0]  # type: ignore[attr-defined]
    assert told("target 2000 kcal, 120 g couscous") == [("couscous", 120.0)]
    (tare,) = kept("tare red bowl 340 g, 120 g couscous", SaveTare)
    assert isinstance(tare, SaveTare)
    assert (tare.name, told("tare red bowl 340 g, 120 g couscous")) == ("red bowl", [("couscous", 120.0)])


def test_a_question_ends_with_its_sign() -> None:
    assert told("how much protein in 100 g tofu? had 140 g lentil soup") == [("lentil soup", 140.0)]
    assert told("how much protein in 100 g tofu and 40 g feta?") == []


def test_a_food_that_is_on_record_is_put_right_with_its_number() -> None:
    recorded = Recorded(number=3, food="mango", day=AROUND.today, grams=210.0, edible_g=210.0)
    around = replace(AROUND, recorded=lambda: (recorded,))
    (fix, *_) = understand("#3 was 210, 180 g mango", around)
    assert isinstance(fix, Change)


@pytest.mark.parametrize(
    ("text", "grams"),
    (
        ("112 g corn flakes, left half", 56.0),
        ("112 g cheddar, left a quarter", 84.0),
        ("I ate everything but 35 g of the 260 g risotto", 225.0),
        ("260 g risotto, ate all but 35 g", 225.0),
        ("180 g couscous cooked, did not finish it, left 40", 140.0),
    ),
)
def test_what_was_left_is_taken_off(text: str, grams: float) -> None:
    (item,) = understand(text, AROUND)
    assert isinstance(item, Item)
    assert item.amount is not None
    assert (item.amount.grams, item.amount.doubt) == (grams, None)


@pytest.mark.parametrize(
    "text", ("250 g soup didn't finish", "250 g soup, couldn't finish it", "I never finished my 250 g soup")
)
def test_what_was_not_finished_is_asked_about(text: str) -> None:
    (item,) = understand(text, AROUND)
    assert isinstance(item, Item)
    assert item.amount is not None
    assert (item.amount.grams, item.amount.doubt) == (250.0, "unclear")


def test_what_else_was_not_finished_is_no_doubt() -> None:
    assert [item.amount.doubt for item in kept("didn't finish work till 8. 180 g couscous cooked", Item)] == [None]  # type: ignore[attr-defined]


def test_the_same_weight_of_a_food_is_told_as_often_as_it_is_said() -> None:
    assert told("100 g tofu 100 g tofu 100 g tofu") == [("tofu", 100.0)] * 3
    assert told("1 banana 118g") == [("banana", 118.0)]


@pytest.mark.parametrize(
    ("text", "missing"),
    (
        ("i weigh 94 kg, the cow 612 kg", "612 kg"),
        ("my wife is 71.2 kg this morning and I weigh 88.9 kg", "71.2 kg"),
    ),
)
def test_what_no_meaning_uses_is_said_as_left_out(text: str, missing: str) -> None:
    meant = understand(text, AROUND)
    assert any(isinstance(each, BodyWeight) for each in meant)
    assert [each.texts for each in meant if isinstance(each, LeftOut)] == [(missing,)]


@pytest.mark.parametrize("text", ("im 9 stone 12 and a half", "had a boiled egg at 11", "9 st 12.5 this morning"))
def test_what_a_meaning_uses_in_another_form_is_not(text: str) -> None:
    meant = understand(text, AROUND)
    assert not any(isinstance(each, (LeftOut, *NOTHING)) for each in meant)


@pytest.mark.parametrize(
    "text",
    (
        "rucola 456 -42 roll -22 \npint weighed patty \nbatch 4 cooked 100000000000000000000000000000000000",
        "late caldo verde tbh ; 1000000000000000 oz  and half of -41 kcal dehydrated carrot",
        "fat free american cheese eight ( nashi , target half kcal ap 6,447f, half of -34 t egg omelette",
        "label green top milk: serving 7/3 g, half kcal, protein half, fat 673, carbs 3,648 and 218 g natural yogurt",
        "half of -3 kg", "all but 0 of the 0 g rice", "didn't finish", "label", "#", "2nite",
        "change last to 150, 73 g",
    ),
)  # fmt: skip
def test_nonsense_has_a_meaning(text: str) -> None:
    assert understand(text, AROUND)
