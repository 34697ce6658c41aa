"""A dish told when it is already cooked, with its vessel; tins among the ingredients."""

from __future__ import annotations

import pytest

from tests.language.conftest import Hear

# NIST Handbook 44, appendix C: exact
OUNCE_G = 28.349523125
LASAGNA = (
    "baked a lasagna in the glass dish, dish is 2 lb 3 oz. noodles 9 oz dry, ricotta 15 oz, 1 lb ground beef 80/20, "
    "24 oz jar marinara, 8 oz mozzarella"
)


@pytest.mark.parametrize(
    ("text", "name", "raw_g"),
    (
        (LASAGNA, "lasagna", (9 + 15 + 16 + 24 + 8) * OUNCE_G),
        ("cooked a beef stew. 800 g beef chuck raw, 400 g potatoes, 200 g carrots", "beef stew", 1400),
        ("we cooked a lamb curry: 700 g lamb shoulder raw, 300 g yogurt, 200 g onions", "lamb curry", 1200),
        ("whipped up a fish pie, 500 g cod raw, 600 g potatoes raw, 200 g milk", "fish pie", 1300),
        ("baked my mac and cheese: 400 g macaroni dry, 300 g cheddar, 500 g milk", "mac and cheese", 1200),
        ("threw together a chili. 2 lb ground beef 80/20 raw, 15 oz can kidney beans", "chili", 47 * OUNCE_G),
    ),
)
def test_a_dish_told_in_the_past(heard: Hear, text: str, name: str, raw_g: float) -> None:
    said = heard(text)
    opened = said.one("batch_opened")
    assert (opened["name"], opened["raw_g"]) == (name, pytest.approx(raw_g, abs=0.05))
    assert not said.all("weigh_in")


@pytest.mark.parametrize(
    ("text", "vessel", "grams"),
    (
        (LASAGNA, "glass dish", 35 * OUNCE_G),
        ("made a curry in the big pot (pot is 1450 g): 600 g chicken thighs raw, 400 g coconut milk", "big pot", 1450),
        ("baked a pasta bake. dish weighs 980. 500 g penne dry, 400 g passata, 250 g cheddar", "dish", 980),
        ("cooked a stew, the pot is 4 lb 2. 2 lb beef chuck raw, 1 lb carrots", "pot", 66 * OUNCE_G),
        ("the roasting tin is 1.2 kg. roast potatoes: 900 g potatoes raw, 40 g goose fat", "roasting tin", 1200),
    ),
)  # fmt: skip
def test_its_vessel_is_kept(heard: Hear, text: str, vessel: str, grams: float) -> None:
    said = heard(text)
    saved = said.one("tare_saved")
    assert (saved["name"], saved["grams"]) == (vessel, pytest.approx(grams, abs=0.01))
    assert said.one("batch_opened")["raw_g"] > 500


def test_the_vessel_told_before_is_taken_off(heard: Hear) -> None:
    said = heard(LASAGNA, "out of the oven: 5 lb 6 oz with the dish")
    assert said.one("batch_cooked")["cooked_g"] == pytest.approx((86 - 35) * OUNCE_G, abs=0.01)


@pytest.mark.parametrize(
    "text",
    (
        "I had a baked potato 300 g with 50 g cheddar",
        "baked potatoes 400 g, baked beans 200 g, cheddar 50 g",
        "should I have baked a lasagna with 1 lb beef?",
    ),
)
def test_what_opens_no_batch(heard: Hear, text: str) -> None:
    assert "batch_opened" not in heard(text).kinds


@pytest.mark.parametrize(
    "text",
    (
        "two 15 oz cans kidney beans drained",
        "a 400 g tin of kidney beans, drained",
        "15 oz can of kidney beans",
        "kidney beans 2 x 400 g tins drained",
        "2 cans of kidney beans drained 500 g",
    ),
)
def test_a_tin_holds_what_is_canned(heard: Hear, text: str) -> None:
    said = heard(f"chili: 2 lb ground beef 80/20 raw, {text}, 300 g onions raw")
    assert "(canned)" in said.text
    assert "kidney beans (dry)" not in said.text


@pytest.mark.parametrize(
    ("text", "raw_g"),
    (
        ("chicken thighs, bone in, 520g raw on the tray with bones. roasting them", 312),  # less the bones
        ("900 g chicken drumsticks raw, roasting them now", 900),
        ("pork shoulder 1.8 kg raw, slow cooking it", 1800),
        ("raw salmon fillets 640 g, baking them", 640),
        ("potatoes 1.2 kg raw, roasting the lot", 1200),
    ),
)
def test_what_is_being_cooked_is_not_yet_eaten(heard: Hear, text: str, raw_g: float) -> None:
    said = heard(text)
    assert said.one("batch_opened")["raw_g"] == raw_g
    assert not said.all("weigh_in")


@pytest.mark.parametrize("text", ("180 g raw salmon, baking it for lunch", "ate 400 g chicken after roasting it"))
def test_a_plate_being_cooked_is_no_batch(heard: Hear, text: str) -> None:
    assert "batch_opened" not in heard(text).kinds
