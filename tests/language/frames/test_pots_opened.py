"""A pot that comes to be, in anybody's words, and what only sounds like one."""

from __future__ import annotations

import pytest

from tests.language.conftest import Hear

OPENED = (
    ("sambhar on gas now: toor dal 200 g dry, carrot 350 g, water 1100 g", "sambhar", 1650),
    ("broth pot going: split peas dry 500 g, carrots 200 g, water 2.5 kg", "broth", 3200),
    ("slow cooker on wi' lamb shoulder 1100 raw, potatoes 600, carrots 300, call it lamb stew", "lamb stew", 2000),
    ("bean chilli in the big pot. kidney beans 480 drained, onion 220, cabbage 300 g", "bean chilli", 1000),
    ("rajma in the cooker: kidney beans dry 350 g, onion 200, tomato 250, water 1200", "rajma", 2000),
    ("ok so sambar. toor dal 250 dry, carrot 150, tomato 120, water 1.5 kg. that's the pot", "sambar", 2020),
    ("I am cooking now borscht in large pot, inside go beetroot 600 g, cabbage 400 g, carrots 200 g", "borscht", 1200),
    ("Just got the ragu started, 800 g lamb mince raw and 150 g celery in so far", "ragu", 950),
    (
        "big tray of roast veg in the oven, own batch: 500 g courgette, 400 g carrots, 300 g red onion",
        "roast veg",
        1200,
    ),
    ("cookin up a curry, name = fish curry, cod 700 raw, coconut milk 400 tinned, spinach 200", "fish curry", 1300),
    ("goulash on the go now - 1 kg stewing beef raw, 500 onions, 300 carrots", "goulash", 1800),
    ("Today's pot is minestrone: white beans dry 300, courgette 250, celery 120, water 1800", "minestrone", 2470),
    ("setting up a batch of overnight oats, 400 g oats, 800 g milk, 40 g chia seeds", "overnight oats", 1240),
    ("batch cook. turkey bolognese. turkey mince raw 1000, passata 700, onion 200", "turkey bolognese", 1900),
    ("Rice for the week: 500 g dry basmati in the rice cooker with 750 g water", "rice", 1250),
    ("Chucked a brisket in the smoker, call it brisket, 3.2 kg raw", "brisket", 3200),
    ("Soup time, so it is. Big pot, 600 g of potatoes and 350 of leek, 40 butter", "soup", 990),
    ("new one - turkey chilli. 900g turkey mince 2% raw / 480g black beans tinned / 200g onion", "turkey chilli", 1580),
    ("today I prepare pilaf, big pan. rice dry 500 g, carrot 400 g, oil 80 g", "pilaf", 980),
    ("I have put the rajma to boil, kidney beans 300 g dry, onion 150, tomato 200, keep as rajma", "rajma", 650),
    ("bread dough for the week: 1 kg strong white flour, 650 g water, 20 g salt, call it loaf", "loaf", 1670),
    (
        "starting off another dal in the small cooker, red lentils 250 dry and water 1 kg, this one is moong",
        "moong",
        1250,
    ),
    ("paella on the fire with 400 rice dry, 500 cod raw, 300 chicken thigh raw, water 1200", "paella", 2400),
    ("batch of overnight chia: 120 g chia, 900 g oat milk, 60 g maple syrup, it's called chia pots", "chia pots", 1080),
    ("plus bulgur, 600 g dry, just that in the pot, its own batch", "bulgur", 600),
    ("kimchi stew on hob kimchi 400 pork belly raw 500 tofu 300 water 800", "kimchi stew", 2000),
    ("risotto going: arborio rice dry 350 g, onion 120 g", "risotto", 470),
    ("och it's stovies the day: potatoes 1kg, onion 300, corned beef 340", "stovies", 1640),
    ("pot roast in the dutch oven: chuck 1800 raw, carrot 500", "pot roast", 2300),
    ("I make cutlets: 500 g pork mince raw", "cutlets", 500),
    ("prep: name it gyro. chicken thigh raw 1500 g, olive oil 20, oregano 6, lemon juice 40 g", "gyro", 1566),
)


@pytest.mark.parametrize(("text", "name", "raw_g"), OPENED)
def test_a_pot_is_opened_with_what_goes_in(heard: Hear, text: str, name: str, raw_g: float) -> None:
    said = heard(text, region="UK")
    opened = said.one("batch_opened")
    assert (opened["name"], opened["raw_g"]) == (name, pytest.approx(raw_g))
    assert not {"weigh_in", "weigh_in_open"} & set(said.kinds), said


@pytest.mark.parametrize(
    ("text", "name", "raw_g"),
    (
        ("starting a pot of posole two pounds of pork shoulder raw goes in first", "posole", 907.18),
        (
            "alright doing a big dutch oven of beef stew today three pounds of stew meat raw two pounds of potatoes",
            "beef stew",
            2267.96,
        ),
        (
            "so I got the crock pot going with three pounds of pork shoulder raw we're calling this pulled pork",
            "pulled pork",
            1360.78,
        ),
        (
            "a skillet of ninety three percent lean ground turkey raw one pound call it turkey hash",
            "turkey hash",
            453.59,
        ),
        ("starting burgers two pounds of ground beef eighty twenty raw call it patty mix", "patty mix", 907.18),
    ),
)
def test_a_pot_that_is_dictated(heard: Hear, text: str, name: str, raw_g: float) -> None:
    opened = heard(text, region="US").one("batch_opened")
    assert (opened["name"], opened["raw_g"]) == (name, pytest.approx(raw_g, abs=0.1))


def test_dictated_leanness_belongs_to_the_meat(heard: Hear) -> None:
    lean = heard("starting chili one pound of ground beef ninety ten raw goes in first", region="US")
    assert lean.one("batch_opened")["ingredients"][0]["food"] == "ground beef 90/10"


def test_an_unknown_ingredient_stops_no_pot(heard: Hear) -> None:
    said = heard("gumbo going: okra 300 g, zzyzx paste 40 g, chicken thigh raw 800 g, water 1 kg")
    assert said.one("batch_opened")["raw_g"] == pytest.approx(2140)


@pytest.mark.parametrize(
    "text", ("starting a pot of leek soup", "new pot of soup", "got going on a stew in the slow cooker")
)
def test_a_pot_of_which_nothing_is_told_yet(heard: Hear, text: str) -> None:
    assert heard(text).one("batch_opened")["raw_g"] == 0


@pytest.mark.parametrize(
    "text",
    (
        "meal prep tonight, 2 kg chicken",
        "batch cooking tomorrow: chicken thighs 1500 g, rice 800 g",
        "tomorrow I'm putting on a pot of dal: 300 g lentils, 150 g onion",
        "starting tomorrow I'm cooking chili, 1 kg turkey mince",
        "on Thursday I might make a lamb casserole, 1 kg lamb shoulder raw",
        "chicken curry recipe: 800 g chicken, 400 g coconut milk, 200 g onion",
        "the recipe for the soup says 400 g lentils, 300 g carrots, 1.5 kg water",
        "bought for the pot: 1 kg beef, 700 g carrots",
        "how would I start a pot of chili with 800 g turkey mince?",
        "mum's making a stew, 1 kg lamb shoulder raw, 500 g carrots",
        "my neighbour put on a pot of soup, 500 g leeks in it, lovely",
        "Now I've put on my porridge as I have done every day, and the oats were 45 g dry, with water",
        "put the kettle on. porridge 40 g dry oats, 200 ml milk",
        "dinner. turkey mince 180 raw, sweet potato 220 baked, olive oil 8 g",
        "lunch: chicken breast 200 cooked, white rice 250 cooked, broccoli 150 steamed",
        "starting my day with 200 g nonfat greek yogurt and 80 g blueberries",
        "started with tomato soup, 250 g, then 180 g roasted chicken breast and 200 g boiled potatoes",
        "salad: lettuce 80, tomato 120, cucumber 100, feta 40",
        "curry on rice, 300 g chicken curry 200 g cooked rice",
        "smoothie on: 200 g milk, 120 banana, 30 whey",
        "cooking oil 10 g, chicken breast 180 raw",
        "slow cooker porridge: 50 g dry oats, 300 ml milk",
        "on the go: protein bar 60 g, latte 300 ml",
        "big cook day. blue pot weighs 2450 empty",
        "put on 2 kg this month",
        "sunday I'm making 2 kg of chicken curry again",
        "thinking of putting a stew on, 800 g lamb shoulder",
        "put on a jumper",
    ),
)
def test_what_only_sounds_like_a_pot(heard: Hear, text: str) -> None:
    assert not heard(text, region="UK").all("batch_opened")
