"""Labels, measures, tares, habits: kept, used, never taken for a weigh-in; a label that can't be true is doubted."""

import pytest

from .chat import Chat
from .conftest import Meet


@pytest.mark.parametrize(
    ("text", "name", "grams"),
    (
        ("the blue pot weighs 1432 g", "blue pot", 1432),
        ("tare blue bowl 412 g", "blue bowl", 412),
        ("my glass dish weighs 1.2 kg", "glass dish", 1200),
        ("the blue bowl is 412 g empty", "blue bowl", 412),
        ("tare: big pan 980", "big pan", 980),
    ),
)
def test_a_vessels_weight_is_a_tare_and_no_weigh_in(chat: Chat, text: str, name: str, grams: float) -> None:
    said = chat.say(text)
    assert [event["type"] for event in said.records] == ["tare_saved"]
    assert (said.records[0]["name"], said.records[0]["grams"]) == (name, grams)
    assert chat.day()["kcal"] == 0


def test_a_tare_said_again_is_the_newer_weight(chat: Chat) -> None:
    chat.given("tare blue bowl 412 g", "tare blue bowl 400 g")
    assert chat.say("cooked rice 600 in the blue bowl").recorded()["as_weighed_g"] == 200
    assert chat.say("tares").one("listing")["count"] == 1


@pytest.mark.parametrize("weight", ("0 g", "-5 g", "30 kg"))
def test_an_impossible_tare_is_refused(chat: Chat, weight: str) -> None:
    chat.say(f"tare blue bowl {weight}").refused()


@pytest.mark.parametrize(
    ("text", "measure", "grams"),
    (
        ("my ladle of soup is 140 g", "ladle", 140),
        ("one scoop of whey = 31 g", "scoop", 31),
        ("my scoop of whey weighs 31 g", "scoop", 31),
        ("2 scoops of whey = 62 g", "scoop", 31),
        ("my bowl of oatmeal is 250 g", "bowl", 250),
    ),
)
def test_ones_own_measure_is_kept_and_is_no_weigh_in(chat: Chat, text: str, measure: str, grams: float) -> None:
    said = chat.say(text)
    assert [event["type"] for event in said.records] == ["measure_saved"]
    assert (said.records[0]["measure"], said.records[0]["grams"]) == (measure, grams)
    assert chat.day()["kcal"] == 0


def test_ones_own_measure_counts_from_then_on(chat: Chat) -> None:
    chat.given("one scoop of whey = 31 g")
    recorded = chat.say("2 scoops whey").recorded()
    assert (recorded["as_weighed_g"], recorded["evidence"]) == (62, "own_measure")


def test_ones_own_measure_of_a_batch_counts_too(chat: Chat) -> None:
    chat.given("batch soup: 500 g raw carrot, 1000 g water", "batch 1 cooked 1400 g", "my ladle of soup is 140 g")
    recorded = chat.say("2 ladles from batch 1").recorded()
    assert (recorded["batch"], recorded["as_weighed_g"], recorded["evidence"]) == (1, 280, "own_measure")


def test_ones_own_measure_of_an_unknown_food_counts_as_a_weight_only(chat: Chat) -> None:
    chat.given("my ladle of zorblax is 140 g")
    said = chat.say("2 ladles of zorblax")
    if not said.records:
        said = chat.press("weight only")
    recorded = said.recorded()
    assert (recorded["as_weighed_g"], recorded["evidence"]) == (280, "own_measure")


def test_measures_and_tares_are_each_persons_own(chat: Chat, meet: Meet) -> None:
    chat.given("one scoop of whey = 31 g", "tare blue bowl 412 g")
    other = meet()
    other.say("2 scoops whey").asked()
    other.say("cooked rice 632 in the blue bowl").asked("blue bowl")


def test_a_label_is_kept_by_100_g(chat: Chat) -> None:
    said = chat.say("label oat bar: serving 40 g, 161 kcal, protein 3, fat 5, carbs 26, fibre 2")
    saved = said.one("label_saved")
    assert (saved["food"], saved["serving_g"]) == ("oat bar", 40)
    assert (saved["kcal"], saved["protein_g"], saved["fat_g"]) == (402.5, 7.5, 12.5)
    assert (saved["carbohydrate_g"], saved["fibre_g"]) == (65, 5)
    recorded = chat.say("60 g oat bar").recorded()
    assert (recorded["food"], recorded["kcal"]) == ("oat bar", pytest.approx(241.5))


@pytest.mark.parametrize("serving", ("serving 1 scoop (31 g)", "serving 31 g (1 scoop)"))
def test_the_labels_own_measure_is_kept_with_its_grams(chat: Chat, serving: str) -> None:
    chat.given(f"label shake: {serving}, 120 kcal, protein 24, fat 1.5, carbs 3")
    recorded = chat.say("2 scoops shake").recorded()
    assert (recorded["as_weighed_g"], recorded["evidence"]) == (62, "label_measure")
    assert recorded["kcal"] == pytest.approx(240)


def test_servings_count_by_the_label(chat: Chat) -> None:
    chat.given("label oat bar: serving 40 g, 161 kcal, protein 3, fat 5, carbs 26")
    recorded = chat.say("2 servings of oat bar").recorded()
    assert (recorded["as_weighed_g"], recorded["evidence"]) == (80, "label_measure")


@pytest.mark.parametrize(
    "text",
    (
        # 40 g hold 360 kcal at the most: fat has 9 kcal/g (21 CFR 101.9(c)(1)(i))
        "label oat bar: serving 40 g, 900 kcal, protein 3, fat 5, carbs 26",
        # 4 × 3 + 9 × 5 + 4 × 26 = 161 kcal (same place), not 60
        "label oat bar: serving 40 g, 60 kcal, protein 3, fat 5, carbs 26",
        # 70 g of macronutrients in 40 g
        "label oat bar: serving 40 g, 360 kcal, protein 30, fat 10, carbs 30",
    ),
)
def test_a_label_that_cannot_be_true_is_asked_about_before_it_is_saved(chat: Chat, text: str) -> None:
    chat.say(text).asked("as typed")
    assert chat.say("foods").one("listing")["count"] == 0


def test_the_doubted_label_is_kept_after_a_yes_and_dropped_after_a_no(chat: Chat) -> None:
    doubtful = "label oat bar: serving 40 g, 900 kcal, protein 3, fat 5, carbs 26"
    chat.say(doubtful).asked()
    chat.say("no").nothing()
    assert chat.say("foods").one("listing")["count"] == 0
    chat.say(doubtful).asked()
    assert chat.say("yes").one("label_saved")["kcal"] == 2250


def test_a_label_without_a_serving_asks_for_it(chat: Chat) -> None:
    chat.say("label oat bar: 161 kcal, protein 3, fat 5, carbs 26").asked("one serving")
    assert chat.say("40 g").one("label_saved")["serving_g"] == 40


def test_a_label_without_figures_asks_for_them(chat: Chat) -> None:
    chat.say("label oat bar: serving 40 g").asked()


@pytest.mark.parametrize(
    ("text", "food", "state"),
    (
        ("I always weigh rice dry", "white rice", "raw"),
        ("I always weigh pasta cooked", "pasta", "cooked"),
        ("always count my oatmeal dry", "oat", "raw"),
    ),
)
def test_a_habit_said_outright_is_kept(chat: Chat, text: str, food: str, state: str) -> None:
    said = chat.say(text)
    assert not said.records
    saved = said.one("habit_saved")
    assert food in saved["food"]
    assert saved["state"] == state


def test_what_is_kept_is_listed(chat: Chat) -> None:
    chat.given("tare blue bowl 412 g", "label oat bar: serving 40 g, 161 kcal, protein 3, fat 5, carbs 26")
    for of in ("tares", "foods"):
        listed = chat.say(of)
        assert listed.one("listing") == {"type": "listing", "of": of, "count": 1}
    assert "412 g" in chat.say("tares").text
