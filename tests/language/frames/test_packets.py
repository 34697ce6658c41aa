"""A packet's figures told in any order."""

import pytest


@pytest.mark.parametrize(
    ("text", "food", "serving", "kcal"),
    (
        ("1 scoop of my protein mix is 32 g, 120 kcal, 24 g protein, 1.5 g fat, 3 g carbs", "protein mix", 32, 375),
        ("whey label: scoop is 30 g, 118 kcal, 24 protein, 1.5 fat, 2 carb, call it my whey", "my whey", 30, 393.3),
        ("the wrap's label says one wrap is forty five grams and it's a hundred and twenty calories four grams protein "
         "three fat and nineteen carbs", "wrap", 45, 266.7),
        ("I've a muesli now, it says on the pack per 100 g 450 kcal, protein 10, fat 18, carbs 60", "muesli", 100, 450),
    ),
)  # fmt: skip
def test_a_packets_figures_are_kept_and_not_eaten(heard, text, food, serving, kcal):
    said = heard(text)
    saved = said.one("label_saved")
    assert (saved["food"].lower(), saved["serving_g"]) == (food, serving)
    assert saved["kcal"] == pytest.approx(kcal, abs=0.1)
    assert not said.all("weigh_in")


def test_a_scoop_of_it_is_then_known(heard):
    said = heard(
        "protein powder: 1 scoop is 32 g, 120 kcal, 24 g protein, 1.5 g fat, 3 g carbs",
        "2 scoops of the protein powder",
    )
    assert said.one("weigh_in")["as_weighed_g"] == pytest.approx(64)


@pytest.mark.parametrize(
    "text", ("had 45 g granola, 190 kcal, fat 6, carbs 25, protein 9", "target: 2100 kcal, 150 protein, 70 fat per day")
)
def test_what_was_eaten_or_is_aimed_at_is_no_packet(heard, text):
    assert not heard(text).all("label_saved")
