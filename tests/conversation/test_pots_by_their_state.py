"""Pots, pieces and boxes that the state of the kitchen tells apart where the wording does not."""

from __future__ import annotations

import pytest

from tests.conversation.chat import Chat, Said

BUNS = "I start a dough for cinnamon buns: 500 g whole milk, 150 g butter, 900 g wheat flour, 120 g sugar"
ROLLS = "making pastry for sausage rolls, 400 g flour 200 g butter 80 g water"
CURRY = "Chicken curry: 1.2 kg raw chicken thigh fillets (skinless), 350 g onion, 250 g tomato"
DAL = "dal: 250 g dry red lentils, 150 g tomato, 20 g ghee, 1000 g water"
COOKED_DAL = (DAL, "dal 1310 cooked", "dal 350 for dinner")
BOXED_DAL = (DAL, "dal 1310 cooked", "dal: 5 boxes of 250 g")
ROLLS_DONE = (ROLLS, "sausage rolls came out at 600 g")


def last(chat: Chat, *texts: str) -> Said:
    """What the last of the messages brings about."""
    return [chat.say(text) for text in texts][-1]


@pytest.mark.parametrize(
    ("text", "name"),
    (
        (BUNS, "cinnamon buns"),
        (ROLLS, "sausage rolls"),
        ("mix for pancakes: 300 g flour, 600 g milk, 4 eggs 220 g", "pancakes"),
        ("Meatballs today. 300 g beef mince raw, 200 g pork mince raw, onion 110 g, breadcrumbs 60 g", "meatballs"),
        ("scones this afternoon! 450 g self raising flour, 110 g butter, 280 ml milk, 50 g sugar", "scones"),
    ),
)
def test_a_heading_or_a_part_names_the_pot(chat: Chat, text: str, name: str) -> None:
    assert chat.say(text).one("batch_opened")["name"] == name


@pytest.mark.parametrize(
    "text",
    (
        "Sandwich today. 60 g bread, 30 g ham, 10 g butter",
        "Pizza for the boys tomorrow. 500 g flour, 300 g water, 10 g salt",
        "shopping. 500 g flour, 200 g butter, 6 eggs",
        "Smoothie! 300 g milk, 150 g banana, 100 g berries",
    ),
)
def test_a_heading_of_what_is_eaten_planned_or_bought_opens_nothing(chat: Chat, text: str) -> None:
    assert not chat.say(text).all("batch_opened")


@pytest.mark.parametrize("which", ("And a third pot, ", "second pan, "))
def test_another_pot_is_none_of_those_on_the_stove(chat: Chat, which: str) -> None:
    said = last(chat, CURRY, which + DAL)
    assert said.one("batch_opened")["name"] == "dal"
    assert not said.all("batch_changed")


def test_a_weighed_food_in_the_name_of_the_pot_goes_in(chat: Chat) -> None:
    said = last(chat, BUNS, "and filling in the buns, 75 g butter, 10 g cinnamon")
    assert said.one("batch_changed")["raw_g"] == 1670 + 85


@pytest.mark.parametrize(
    "text", ("makes 18", "there are 18", "it became 18", "18 of them", "we ended up with 18", "that's 18")
)
def test_a_bare_number_counts_the_pieces_of_a_pot_just_weighed(chat: Chat, text: str) -> None:
    assert last(chat, *ROLLS_DONE, text).one("batch_pieces")["pieces"] == 18


@pytest.mark.parametrize("text", ("had 18 of them", "are there 18?", "I want to make 18", "18 minutes to go"))
def test_no_other_number_counts_pieces(chat: Chat, text: str) -> None:
    assert not last(chat, *ROLLS_DONE, text).all("batch_pieces")


def test_a_weight_and_a_count_in_two_sentences(chat: Chat) -> None:
    said = last(
        chat,
        "Meatballs today. 300 g beef mince raw, 200 g pork mince raw, onion 110 g, breadcrumbs 60 g",
        "Meatballs fried: 560 g. There are 28.",
    )
    assert said.one("batch_cooked")["cooked_g"] == 560
    assert said.one("batch_pieces")["pieces"] == 28


def test_pieces_that_go_to_somebody_are_not_the_writers(chat: Chat) -> None:
    said = last(chat, *ROLLS_DONE, "makes 12", "six of the rolls go to the altos")
    assert said.one("batch_reduced")["grams"] == pytest.approx(300)
    assert not said.all("weigh_in")


@pytest.mark.parametrize(
    ("text", "grams"),
    (("my husband took 2 to work", 500), ("gave one to my mom", 250), ("threw one out, it leaked", 250)),
)
def test_a_bare_number_counts_the_boxes_just_filled(chat: Chat, text: str, grams: float) -> None:
    assert last(chat, *BOXED_DAL, text).one("batch_reduced")["grams"] == grams


@pytest.mark.parametrize(
    "text", ("my sister took one look at it", "my husband took 2 biscuits to work", "Sam might take 2")
)
def test_no_other_number_counts_boxes(chat: Chat, text: str) -> None:
    assert not last(chat, *BOXED_DAL, text).all("batch_reduced")


@pytest.mark.parametrize("goal", ("for work", "for baon", "for the week"))
def test_boxes_of_a_weight_are_filled_for_something(chat: Chat, goal: str) -> None:
    said = last(chat, DAL, "dal 1310 cooked", f"4 boxes of 200 g from the dal, {goal}")
    boxed = said.one("batch_boxed")
    assert (boxed["boxes"], boxed["box_g"]) == (4, 200)


def test_a_vessel_without_a_unit_has_that_of_the_pot(chat: Chat) -> None:
    said = last(
        chat,
        "starting a pot of gumbo two pounds of raw chicken thigh one pound of smoked pork sausage "
        "twelve ounces of onion and four pounds of water",
        "gumbo is done the whole pot is eleven point one pounds and the pot weighs four point one empty",
    )
    assert said.one("batch_cooked")["cooked_g"] == pytest.approx(7 * 453.59237, abs=0.01)


def test_a_second_weight_hardly_under_the_first_is_no_vessel(chat: Chat) -> None:
    said = last(chat, DAL, "dal 2lb 14oz out the pot, shit no 2lb 12oz")
    assert said.one("batch_cooked")["cooked_g"] == pytest.approx(44 * 28.349523125)


@pytest.mark.parametrize(
    ("text", "grams"), (("dal was 380", 380), ("the dal was 300 g", 300), ("then I put 50 g of the dal back", 300))
)
def test_a_portion_just_recorded_is_put_right(chat: Chat, text: str, grams: float) -> None:
    said = last(chat, *COOKED_DAL, text)
    assert said.one("weigh_in_changed")["edible_g"] == pytest.approx(grams)
    assert not said.all("weigh_in")


@pytest.mark.parametrize("text", ("I'm back, 200 g dal", "had 200 g of the dal"))
def test_another_portion_is_another_portion(chat: Chat, text: str) -> None:
    assert last(chat, *COOKED_DAL, text).all("weigh_in")


def test_the_first_word_of_a_name_heads_it_before_a_link(chat: Chat) -> None:
    said = last(
        chat,
        "frijoles de olla going on. 900 g dry pinto beans, 3600 g water, 170 g lard, 280 g onion",
        "frijoles 4150 without the pot",
        "200 g frijoles, 50 g queso fresco",
    )
    assert [each["batch"] for each in said.all("weigh_in")] == [1, None]
