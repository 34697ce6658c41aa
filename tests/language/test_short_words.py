"""Words in odd shapes: consonants only, cut short, one letter for a meal, a cook's bare verb beside a food."""

import pytest


@pytest.mark.parametrize(
    ("text", "food", "state", "grams"),
    (
        ("crrts stmd 80", "carrot", "cooked", 80),
        ("ptto bkd 210", "potato", "cooked", 210),
        ("ptts bld 180", "potato", "cooked", 180),
        ("slmn grld 140", "farmed atlantic salmon", "cooked", 140),
        ("trky brst rstd 120", "turkey breast", "cooked", 120),
        ("spnch stmd 60", "spinach", "cooked", 60),
        ("egg scrmbld 95g", "egg", "cooked", 95),
        ("cott chz 90", "cottage cheese", "as_sold", 90),
        ("2 sl white bread 66g", "white bread", "as_sold", 66),
        ("cabbage boil 120g", "cabbage", "cooked", 120),
        ("bake sweet potato 160 g no skin", "sweet potato", "cooked", 160),
        ("spinach blanch 70g", "spinach", "cooked", 70),
        ("tilapia pan fry 120g", "tilapia", "cooked", 120),
        ("brinjal fry 90g", "eggplant", "cooked", 90),
        ("quinoa uncook 45 g", "quinoa", "raw", 45),
        ("potato steam one 150g", "potato", "cooked", 150),
    ),
)
def test_an_odd_word_is_the_one_that_fits_its_place(heard, text, food, state, grams):
    told = heard(text).one("weigh_in")
    assert (told["food"], told["state"]) == (food, state)
    assert told["as_weighed_g"] == pytest.approx(grams)


@pytest.mark.parametrize(
    ("text", "meals"),
    (
        ("B: oats dry 40", ["breakfast"]),
        ("brk: oats dry 40", ["breakfast"]),
        ("L - quinoa ckd 150", ["lunch"]),
        ("lun: tofu firm 130", ["lunch"]),
        ("snk: almonds 20", ["snack"]),
        ("D: cod baked 150 + peas boiled 80", ["dinner", "dinner"]),
    ),
)
def test_what_begins_a_meals_name_heads_its_list(heard, text, meals):
    assert [told["meal"] for told in heard(text).all("weigh_in")] == meals


def test_a_day_may_stand_before_the_meal(heard):
    told = heard("yest din: cod baked 150", at="2026-03-10T09:00:00Z").one("weigh_in")
    assert (told["meal"], told["day"]) == ("dinner", "2026-03-09")


@pytest.mark.parametrize(
    "text",
    (
        "bttr 10 g",  # butter, batter or bitter
        "seafood boil 300 g",
        "tuna bake 240 g",
        "will steam sea bass 110 g tomorrow",
        "steam the broccoli 90 g for dinner tomorrow",
        "I boil rice every sunday, 200 g",
        "kth had 2 slices of bread",
    ),
)
def test_what_may_be_several_or_was_not_eaten_is_not_recorded_for_certain(heard, text):
    assert not heard(text).all("weigh_in")


def test_a_name_of_the_persons_own_stays_as_it_is(heard):
    assert heard("new batch stmd: 500 g chicken breast raw").one("batch_opened")["name"] == "stmd"


def test_a_dish_that_is_called_by_a_verb_stays_a_dish(heard):
    assert heard("beef stew 200 g").one("weigh_in")["food"] == "beef stew"


def test_no_bowl_is_anybodys_weight(heard):
    said = heard("For your files, and I will want this later on: the blue pan weighs 1 lb 3 oz with nothing in it.")
    assert said.one("tare_saved")["grams"] == pytest.approx(538.64, abs=0.01)
    assert not said.all("caution")


@pytest.mark.parametrize(
    ("text", "food", "grams"),
    (
        ("6 oz avocado flesh", "avocado", 170.1),
        ("extra firm tofu brick was 14 oz, crushed half of it", "extra firm tofu", 198.45),
        ("honey bear weighed 10.8 oz before and 10.3 oz after", "honey", 14.17),
        ("mango complete with skin and stone 300 g", "mango", 213),
        ("walnuts 30g eh no 20g", "walnuts", 20),
        ("almonds 50 g, no, hang about while I find my specs, 15 g of almonds", "almonds", 15),
        ("2 oranges, each one with 120 g", "orange", 240),
        ("cashews 30 g, the roasted", "dry roasted cashews", 30),
        ("three rashers of bacon, and after frying they weighed an ounce and a quarter all told", "bacon", 35.44),
    ),
)
def test_what_is_said_beside_a_weight_changes_nothing(heard, text, food, grams):
    told = heard(text).one("weigh_in")
    assert told["food"] == food
    assert told["edible_g"] == pytest.approx(grams, abs=0.01)


@pytest.mark.parametrize("text", ("milk half fat 200 ml", "two hundred mil of semi skimmed milk"))
def test_half_fat_is_no_half_and_a_mil_no_mile(heard, text):
    told = heard(text).one("weigh_in")
    assert (told["evidence"], told["as_weighed_g"]) == ("density", pytest.approx(206, abs=1))
