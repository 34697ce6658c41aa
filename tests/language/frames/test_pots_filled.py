"""What goes into a pot, was told wrong, or never went in."""

from __future__ import annotations

import pytest

from tests.language.conftest import Hear

STEW = "stew: 1200 g raw beef chuck, 700 g potatoes, 180 g carrots"
RAGU = "ragu going: 800 g lamb mince raw, 400 g passata"


@pytest.mark.parametrize(
    ("text", "food", "grams"),
    (
        ("barley 90g tae the stew", "pearl barley", 90),
        ("wheeched 40 g of butter intae the stew", "butter", 40),
        ("for the stew: swede 150 g", "rutabaga", 150),
        ("celery 60 g in the stew too", "celery", 60),
        ("popped another 80 g celery in with the stew", "celery", 80),
        ("And in with it now 150 grams of swede, if you please", "rutabaga", 150),
        ("I forgot to say I also put 250 g of parsnips into that stew", "parsnip", 250),
        ("oh and I never told you about the 90 g of pearl barley in the stew", "pearl barley", 90),
        ("my sister found the peas, 150 g frozen into the stew just now", "green peas", 150),
        ("in went the onion, 210 g", "onion", 210),
        ("Now I have put also garlic 15 g inside the stew", "garlic", 15),
        ("60 g butter, melted, over into the stew at the end", "butter", 60),
        ("the stew's had another 200 g of passata", "passata", 200),
        ("stew has taken another 100 g of milk", "whole milk", 100),
        ("thinned the stew out wi 150 water", "water", 150),
        ("last thing into my stew, 25 g of butter", "butter", 25),
        ("oh, swede 250 g, I forgot to tell, it was in the stew, my mother would laugh", "rutabaga", 250),
        ("finished the stew off with 30 g butter", "butter", 30),
        ("it was dry so 200 water in", "water", 200),
    ),
)
def test_what_goes_into_a_pot_on_the_stove(heard: Hear, text: str, food: str, grams: float) -> None:
    changed = heard(STEW, text, region="UK").one("batch_changed")
    assert {"food": food, "raw_g": grams} in [{k: i[k] for k in ("food", "raw_g")} for i in changed["ingredients"]]
    assert changed["raw_g"] == pytest.approx(2080 + grams)


def test_a_word_of_the_name_beside_the_pot(heard: Hear) -> None:
    said = heard("tadka dal going: red lentils 300 g dry, water 1400 g", "tadka for the dal is 25 g ghee, 8 g garlic")
    assert said.one("batch_changed")["raw_g"] == pytest.approx(1733)


@pytest.mark.parametrize(
    "text",
    (
        "popped 150 g raw spinach into the stew, it's for tomorrow",
        "I put into the stew that's left 150 grams of spinach",
        "into the stew: 150 g spinach",
        "stirred 150 g spinach through the stew after weighing",
    ),
)
def test_what_goes_into_a_pot_that_is_cooked(heard: Hear, text: str) -> None:
    said = heard(STEW, "stew done 1900", "300 g of the stew", text)
    assert said.one("batch_changed")["raw_g"] == pytest.approx(2230)


def test_the_weight_of_a_pot_that_something_went_into(heard: Hear) -> None:
    said = heard(STEW, "stew done 1900", "150 g spinach into the stew", "with the spinach in, stew weighs 1980 now")
    assert said.one("batch_cooked")["cooked_g"] == pytest.approx(1980)


@pytest.mark.parametrize(
    "text",
    (
        "will put 100 g peas in the stew tomorrow",
        "should I put 100 g cream in the stew?",
        "didn't put the 60 g of celery in the stew",
        "180 g rice cooked and 200 g chicken breast roasted for lunch",
        "my brother had 200 g ice cream",
        "two ounces of cheddar on my bowl just logging the cheese for me that's not in the pot",
    ),
)
def test_what_goes_into_no_pot(heard: Hear, text: str) -> None:
    assert not heard(STEW, text).all("batch_changed")


@pytest.mark.parametrize(
    "text",
    (
        "dipped 50 g bread in the stew",
        "my bowl of stew 310 g with 10 g butter in it",
        "had stew again tonight, 320 g with 60 g bread",
        "250 g stew on 200 g cooked pasta",
        "20 g parmesan over my stew",
        "20 g parmesan on top of my stew",
    ),
)
def test_what_is_eaten_with_a_pot_goes_into_none(heard: Hear, text: str) -> None:
    assert not heard(STEW, "stew done 1900", text).all("batch_changed")


@pytest.mark.parametrize(
    ("text", "food", "grams"),
    (
        ("for the stew it was 650 potatoes not 700", "potato", 650),
        ("I mistold you the potatoes for the stew, 750 it should be", "potato", 750),
        ("The carrots I told you were 180, well they were 210", "carrot", 210),
        ("carrots I said 180, I'd put one back on the board, they were 210", "carrot", 210),
        ("misread the scale, stew has 800 g potatoes not 700", "potato", 800),
        ("when I said 700 of potatoes for the stew it was really 640", "potato", 640),
        ("the potatoes that went in the stew were 650 g, I had the bowl on", "potato", 650),
        ("wrong carrots in the stew, 120 is right", "carrot", 120),
        ("change the stew: carrots 200", "carrot", 200),
        ("I made a mess up there. the carrots in the stew were 350 not 180, saw the packet", "carrot", 350),
        ("potatoes were 500 g in the stew, sack is lighter than I thought", "potato", 500),
        ("make the potatoes 640 in the stew", "potato", 640),
        ("the potatoes weren't 700 they were 640", "potato", 640),
        ("I have told the potatoes wrong, is 640 gram for the stew", "potato", 640),
        ("beef in stew = 1250 (not 1200)", "beef chuck roast", 1250),
    ),
)
def test_what_was_told_wrong(heard: Hear, text: str, food: str, grams: float) -> None:
    changed = heard(STEW, text).one("batch_changed")
    assert [i["raw_g"] for i in changed["ingredients"] if i["food"] == food] == [grams]
    assert len(changed["ingredients"]) == 3


@pytest.mark.parametrize(
    "text",
    (
        "scrap the carrots from the stew, they went to the rabbit",
        "actually the carrots never made it into the stew",
        "no carrots in the stew, I lied",
        "forget the carrots, they're still on the counter",
        "I left the carrots out in the end",
        "scratch the carrots in the stew, didn't use them",
        "the carrots aren't in the stew in the end",
        "didn't put the 180 g of carrots in the stew",
    ),
)
def test_what_never_went_in(heard: Hear, text: str) -> None:
    changed = heard(STEW, text).one("batch_changed")
    assert [i["food"] for i in changed["ingredients"]] == ["beef chuck roast", "potato"]


def test_a_correction_of_what_was_eaten_is_none_of_the_pot(heard: Hear) -> None:
    said = heard(STEW, "stew done 1900", "carrots 80 g raw", "carrots 90 actually, not 80")
    assert not said.all("batch_changed")
