"""Which food was meant: the longest name, a spelling within reach of one; several or none are asked about."""

import pytest

from .conftest import Hear


@pytest.mark.parametrize(
    ("said", "food"),
    (
        ("30 g peanut butter", "peanut butter"),
        ("30 g butter", "butter"),
        ("200 g canned coconut milk", "coconut milk"),
        ("10 g rice vinegar", "rice vinegar"),
        ("200 g sweet potato raw", "sweet potato"),
        ("200 g baked sweet potato", "sweet potato"),
        ("20 g rice cakes", "rice cake"),
        ("180 g brown rice cooked", "brown rice"),
        ("180 g rice cooked", "white rice"),
        ("40 g cream cheese", "cream cheese"),
        ("slices rye bread 93 g", "rye bread"),
        ("8 g soft serve", "soft serve ice cream"),
        ("200 g chicken breast cooked", "chicken breast"),
        ("200 g cooked breast of chicken", "chicken breast"),
        ("30 g CHEDDAR", "cheddar"),
        ("30 g Cheddar Cheese", "cheddar"),
        ("100 g courgette raw", "zucchini"),
        ("100 g aubergine cooked", "eggplant"),
        ("50 g rocket", "arugula"),
        ("100 g tinned chickpeas", "chickpea"),
        ("100 g garbanzo beans canned", "chickpea"),
        ("20 g blueberries, fresh", "blueberries"),
    ),
)
def test_the_longest_name_and_what_else_it_is_called(heard: Hear, said: str, food: str) -> None:
    assert food in heard(said).recorded()["food"]


@pytest.mark.parametrize(
    ("said", "food"),
    (
        ("chiken brest 200 g cooked", "chicken breast"),
        ("200 g chicken breats cooked", "chicken breast"),
        ("200 g brocoli raw", "broccoli"),
        ("200 g brocolli raw", "broccoli"),
        ("200 g pottatoes boiled", "potato"),
        ("200 g potatos boiled", "potato"),
        ("30 g chedar", "cheddar cheese"),
        ("30 g cheddr", "cheddar cheese"),
        ("30 g peanutt butter", "peanut butter"),
        ("120 g strawberrys", "strawberries"),
        ("120 g avacado", "avocado"),
        ("20 g almods", "almonds"),
        ("150 g salmonn farmed raw", "salmon"),
        ("200 g spagetti cooked", "pasta"),
        ("200 g spinnach raw", "spinach"),
        ("60 g mozarella", "mozzarella"),
        ("40 g parmezan", "parmesan"),
        ("100 g tomatoe raw", "tomato"),
        ("100 g cucmber", "cucumber"),
        ("100 g zuchini raw", "zucchini"),
        ("100 g bannana", "banana"),
        ("165 g baked salmn", "salmon"),
        ("221 g sweet potatoe baked", "sweet potato"),
        ("200 g sweet spud baked", "sweet potato"),
        ("212 g chx breast grilled", "chicken breast"),
        ("120 g yoghourt", "plain yogurt"),
        ("2 g cinammon", "cinnamon"),
        ("30 g lettus", "lettuce"),
        ("180 g cooked white rce", "white rice"),
        ("20 g sunfolwer seeds", "sunflower seeds"),
        ("180 g cooked apsta", "pasta"),
        ("60 g hamm", "ham"),
        ("100 g pieapple", "pineapple"),
        ("60 g bluebs", "blueberries"),
        ("50 g quinoaa cooked", "quinoa"),
    ),
)
def test_a_spelling_within_reach_of_one_food_is_taken_and_echoed(heard: Hear, said: str, food: str) -> None:
    answer = heard(said)
    assert food in answer.recorded()["food"]
    assert answer.recorded()["food"] in answer.text


@pytest.mark.parametrize(
    ("typed", "foods"),
    (
        ("pomato", ("potato", "tomato")),
        ("pearch", ("peach", "perch")),
        ("peech", ("peach", "perch")),
        ("peacn", ("peach", "pecan")),
        ("pasto", ("pasta", "pesto")),
        ("manko", ("mango", "panko")),
        ("rahini", ("rapini", "tahini")),
        ("loyster", ("lobster", "oyster")),
        ("scallot", ("scallop", "shallot")),
        ("saldines", ("saltines", "sardines")),
        ("minkfish", ("milkfish", "monkfish")),
        ("tamali", ("tamale", "tamari")),
    ),
)
def test_a_spelling_within_reach_of_several_foods_is_asked_about(
    heard: Hear, typed: str, foods: tuple[str, str]
) -> None:
    """Each is one letter away from two foods (counting a swap of two neighbouring letters as one)."""
    asked = heard(f"100 g {typed}")
    asked.asked()
    assert typed in asked.text
    assert len(asked.choices) >= 2, foods


@pytest.mark.parametrize("said", ("200 g zorblax", "200 g smoked zebra", "30 g sdkjfhskdjfh"))
def test_an_unknown_food_is_neither_invented_nor_dropped(heard: Hear, said: str) -> None:
    asked = heard(said)
    asked.asked()
    assert "weight only" in asked.choices
    assert "type its label" in asked.choices
    assert said.split()[-1] in asked.text


def test_an_unknown_food_that_ends_in_a_known_word_is_offered_what_that_word_means(heard: Hear) -> None:
    asked = heard("150 g of quxfrob stew")
    asked.asked()
    assert "weight only" in asked.choices
    assert "beef stew" in asked.choices
    assert "quxfrob" in asked.text


def test_an_unknown_food_can_be_kept_as_a_weight_only(heard: Hear) -> None:
    recorded = heard("200 g zorblax", "weight only").recorded()
    assert (recorded["food"], recorded["as_weighed_g"], recorded["kcal"]) == ("zorblax", 200, None)


def test_a_weight_without_figures_makes_the_day_at_least(heard: Hear) -> None:
    answer = heard("200 g zorblax", "weight only", "180 g cooked rice")
    assert "at least" in answer.text.lower()


@pytest.mark.parametrize(
    "said", ("200 g chocolate rice cooked", "200 g cooked squid rice", "30 g vegan cheddar", "100 g lowfat honey")
)
def test_a_word_that_may_matter_is_asked_about(heard: Hear, said: str) -> None:
    heard(said).asked()


@pytest.mark.parametrize("said", ("200 g mince raw", "200 g ground beef raw", "100 g tuna"))
def test_kinds_that_differ_are_asked_about_when_none_is_the_plain_one(heard: Hear, said: str) -> None:
    asked = heard(said)
    asked.asked()
    assert len(asked.choices) >= 2


@pytest.mark.parametrize(
    ("said", "food"), (("200 g milk", "whole milk"), ("60 g bread", "white bread"), ("150 g yogurt", "plain yogurt"))
)
def test_the_plain_kind_is_taken_and_named(heard: Hear, said: str, food: str) -> None:
    answer = heard(said)
    assert answer.recorded()["food"] == food
    assert food in answer.text


def test_a_food_of_ones_own_comes_before_the_table(heard: Hear) -> None:
    label = "label cheddar: serving 30 g, 90 kcal, protein 8, fat 6, carbs 1"
    recorded = heard(label, "60 g cheddar").recorded()
    assert recorded["food"] == "cheddar"
    assert recorded["kcal"] == pytest.approx(180, abs=0.01)


@pytest.mark.parametrize("said", ("120 g pumpkin sees", "120 g white ice cooked", "120 g almon", "20 g ale seeds"))
def test_a_slip_that_could_be_several_foods_or_another_word_is_asked_about(heard: Hear, said: str) -> None:
    assert heard(said).asked()["about"] == "food"
