"""A pot from its announcement to its cooked weight: named in any way, filled, put right, weighed with its vessel."""

from __future__ import annotations

import pytest

from tests.language.conftest import Hear

BROTH = "new batch barley broth: 400 g carrots raw, 200 g pearl barley dry, 300 g leeks raw, 1500 g water"


@pytest.mark.parametrize(
    ("text", "name", "raw_g"),
    (
        (
            "I am about my cooking: a batch that I shall call winterpot, of swede 400 g and lamb shoulder raw 650 g",
            "winterpot",
            1050,
        ),
        ("we open a batch by the name of friday hash: potatoes 900 g, corned beef 300 g", "friday hash", 1200),
        ("fresh pot here, gumbo it's called. okra 250 g, chicken thigh raw 700 g, onion 150 g", "gumbo", 1100),
        (
            "into the oven go 1.1 kilos of raw pork shoulder, this tray's batch is going to be carnitas",
            "carnitas",
            1100,
        ),
        (
            "leek project!! new batch, its name's white soup: leeks 600 g, potatoes raw 500 g, milk 300 g",
            "white soup",
            1400,
        ),
        ("Opening a third batch, goulash. Beef chuck, raw, 820 g, to get her going", "goulash", 820),
        (
            "Starting a batch, bean stew. Pork mince 5% fat, raw: 1.5 lb. White beans, canned and drained: 15 oz",
            "bean stew",
            1105.6,
        ),
        ("in goes 1.3 kilos of raw pork belly, this pot's gonna be menudo", "menudo", 1300),
        ("a kilo of potatoes peeled raw, 300g leeks, 200g double cream. That's the gratin", "gratin", 1500),
        (
            "can you start a batch for me, it'll be called oat balls, 800 g turkey mince raw, 80 g oats",
            "oat balls",
            880,
        ),
        ("chapati batch again: whole wheat flour 300g, water 180g", "chapati", 480),
        ("batch: paneer masala / paneer 450 / tomatoes canned 400 / onion 160", "paneer masala", 1010),
        (
            "other pan on the hob = leek gratin, keep it as its own batch: leeks 600g, double cream 200g, cheddar 80g",
            "leek gratin",
            880,
        ),
        (
            "putting the hotpot on now, that's tomorrow sorted: 800g diced lamb shoulder, 700 potatoes, 250 carrots",
            "hotpot",
            1750,
        ),
        (
            "This evening's caponata. aubergine 480, celery 200, tomatoes 500, olive oil 40 - everything raw",
            "caponata",
            1220,
        ),
    ),
)
def test_an_announced_pot_has_its_name_and_all_that_goes_in(heard: Hear, text: str, name: str, raw_g: float) -> None:
    said = heard(text)
    opened = said.one("batch_opened")
    assert (opened["name"], opened["raw_g"]) == (name, pytest.approx(raw_g, abs=0.5))
    assert "weigh_in" not in said.kinds


@pytest.mark.parametrize(
    "text",
    (
        "two eggs and 60 g toast. that's breakfast",
        "my daughter just called, she had 200 g salmon",
        "on nights this week so this will be messy",
        "tomorrow I shall open a batch that I shall call winterpot: swede 400 g, lamb shoulder raw 650 g",
        "what would a batch called winterpot have, swede 400 g and lamb shoulder raw 650 g?",
        "my sister opened a batch called winterpot: swede 400 g, lamb shoulder raw 650 g",
    ),
)
def test_what_is_called_or_will_be_opens_nothing(heard: Hear, text: str) -> None:
    assert "batch_opened" not in heard(text).kinds


@pytest.mark.parametrize(
    ("text", "grams"),
    (
        ("the barley broth is off the stove, 2105", 2105),
        ("barley broth, off the heat at last. minus its pot it comes to 2.1 kg", 2100),
        ("all of the barley broth together makes 2080", 2080),
        ("big pan and the barley broth in it 3900, big pan by itself 1780", 2120),
        ("barley broth: 2110 g carrots, barley and leeks after cooking", 2110),
    ),
)
def test_the_weight_of_a_raw_pot_is_of_all_of_it(heard: Hear, text: str, grams: float) -> None:
    said = heard(BROTH, text)
    assert said.one("batch_cooked")["cooked_g"] == pytest.approx(grams)
    assert not {"weigh_in", "batch_reduced", "question"} & set(said.kinds)


def test_pieces_counted_with_their_weight_are_all_of_a_raw_batch(heard: Hear) -> None:
    said = heard(
        "new batch scones: 500 g plain flour, 120 g butter, 280 g milk",
        "all the scones together 840g cooled, and there are 14 of them",
    )
    assert said.one("batch_pieces")["pieces"] == 14
    assert said.one("batch_cooked")["cooked_g"] == pytest.approx(840)


@pytest.mark.parametrize(
    "text",
    (
        "barley broth is done. big pan and broth together 3740",
        "pan and all, the barley broth is 3740",
        "barley broth cooked: 3740 incl pot",
        "barley broth plus the dutch oven 3740",
        "pot and contents 3740, barley broth is ready",
    ),
)
def test_a_vessel_that_the_weight_includes_is_taken_off(heard: Hear, text: str) -> None:
    said = heard(BROTH, text)
    assert said.one("question")["about"] == "tare"
    assert heard(BROTH, text, "1650").one("batch_cooked")["cooked_g"] == pytest.approx(2090)


def test_a_vessel_that_was_told_is_taken_off_at_once(heard: Hear) -> None:
    said = heard("steel pot weighs 640 g empty", BROTH, "batch 1 is ready, 2735 g together with the steel pot")
    assert said.one("batch_cooked")["cooked_g"] == pytest.approx(2095)


@pytest.mark.parametrize(
    "text",
    (
        "feijoada done, comes to 1010 grams",
        "rissoles came out 880 g total and there's 22",
        "Split pea soup without the pot 2475",
        "the cawl with its pan is 5680, pan on its own is 1895",
    ),
)
def test_a_cooked_weight_of_no_pot_is_nobodys_meal(heard: Hear, text: str) -> None:
    assert not {"weigh_in", "weigh_in_open"} & set(heard(text).kinds)
    assert not {"weigh_in", "weigh_in_open", "batch_cooked"} & set(heard(BROTH, text).kinds)


@pytest.mark.parametrize("text", ("porridge done 320 g", "chicken breast roasted, came out at 165"))
def test_a_plate_that_is_done_is_a_meal(heard: Hear, text: str) -> None:
    assert {"weigh_in", "weigh_in_open"} & set(heard(text).kinds)


@pytest.mark.parametrize(
    ("text", "raw_g"),
    (
        ("Erratum: the barley broth holds 450 g of carrots", 2450),
        ("Carrots aboard the barley broth: true weight 380 g", 2380),
        ("the barley broth had 320 g of leeks in", 2420),
        ("An emendation: the barley broth contained 250 g of leeks where I had stated 300", 2350),
        ("Belay those leeks in the barley broth, the crate was empty, strike them out", 2100),
        ("an extra 50 g of leeks went into the barley broth", 2450),
    ),
)
def test_what_is_in_a_pot_is_put_right_by_the_record(heard: Hear, text: str, raw_g: float) -> None:
    assert heard(BROTH, text).one("batch_changed")["raw_g"] == pytest.approx(raw_g)


def test_another_ingredient_is_put_right_in_the_same_breath(heard: Hear) -> None:
    said = heard(BROTH, "Sorry the leeks were 280 in the barley broth", "and the carrots 420 g")
    assert said.one("batch_changed")["raw_g"] == pytest.approx(2400)


@pytest.mark.parametrize(
    "text",
    (
        "stretching the barley broth for tonight, so 240g frozen peas have gone in",
        "I have put two hundred and forty grams of frozen peas in the rest of the barley broth and warmed it through",
        "I bulked what was left of the barley broth out with 240 g frozen peas",
        "the barley broth got 240 g of frozen peas today when I heated it",
        "lobbed 240g frozen peas in the barley broth aswell",
        "stirred the leftover barley broth up with 240 g frozen peas",
    ),
)
def test_more_goes_into_what_is_left_of_a_pot(heard: Hear, text: str) -> None:
    said = heard(BROTH, "barley broth done 2100 g", "350 g barley broth", text)
    assert said.one("batch_changed")["ingredients"][-1]["food"] in ("frozen peas", "green peas")
    assert not {"weigh_in", "weigh_in_open"} & set(said.kinds)


@pytest.mark.parametrize(
    "text",
    (
        "300 g barley broth with 24 g frozen peas",
        "had the barley broth with 60 g bread, 320 g of it",
        "20 g cheddar over my barley broth",
    ),
)
def test_what_is_eaten_beside_a_portion_goes_into_no_pot(heard: Hear, text: str) -> None:
    assert "batch_changed" not in heard(BROTH, "barley broth done 2100 g", text).kinds


@pytest.mark.parametrize(
    "text",
    (
        "Log error: sunflower oil, 12 g, was in the barley broth from the off, portion I've eaten included",
        "Log omission: sunflower oil 12 g was in the barley broth before it was weighed, hence in the 350 g I had",
    ),
)
def test_what_was_in_it_from_the_start_counts_in_portions_too(heard: Hear, text: str) -> None:
    said = heard(BROTH, "barley broth done 2100 g", "350 g barley broth", text)
    assert said.one("batch_changed")["raw_g"] == pytest.approx(2412)
    assert "weigh_in_changed" in said.kinds
    assert "weigh_in" not in said.kinds
