"""Days with a pot as strangers text them: opened by its dish and list alone, and told of as the record can have it."""

from __future__ import annotations

import pytest

from tests.conversation.chat import Chat, Said

GOULASH = "new batch goulash: 900 g beef shin raw, 500 g onion, 700 g water"


def last(chat: Chat, *texts: str) -> Said:
    """What the last of the messages brings about."""
    return [chat.say(text) for text in texts][-1]


@pytest.mark.parametrize(
    ("text", "name", "raw_g"),
    (
        ("och its a cottage pie the night: 480 lamb mince, 900 potatoes, 200 carrots", "cottage pie", 1580),
        ("gonna do a moussaka 2nite: 500 lamb mince, 600 aubergine, 300 potatoes", "moussaka", 1400),
        ("supper's a sausage casserole: 450 sausages, 300 carrots, 250 onion", "sausage casserole", 1000),
        ("chicken pie: 600 chicken, 300 leeks, 150 milk", "chicken pie", 1050),
        ("stir fry 4 tn and tmrw: 400g firm tofu, 350g bok choy, 250g carrot", "stir fry", 1000),
        (
            "So it is pie. Apple pie, and in it: apples, peeled and cored, 1 kg; white flour 300 g; butter 200 g",
            "pie",
            1500,
        ),
        ("we will eat paneer curry tonight: paneer 400, tomato 500, onion 250, cream 100", "paneer curry", 1250),
        ("gumbo: flour 5oz, canola oil 5 oz by weight", "gumbo", 283.5),
        ("curry 4 tonight chicken thigh 600, onion 200, coconut milk 400", "curry", 1200),
    ),
)
def test_a_dish_and_its_list_open_a_pot(chat: Chat, text: str, name: str, raw_g: float) -> None:
    said = chat.say(text)
    opened = said.one("batch_opened")
    assert name in opened["name"]
    assert opened["raw_g"] == pytest.approx(raw_g, abs=1.0)
    assert not said.all("weigh_in")
    assert not said.all("weigh_in_open")


@pytest.mark.parametrize(
    "text",
    (
        "thinking of doing a lasagne on sunday: 500 beef mince, 250 lasagne sheets, 400 passata",
        "gonna do a moussaka tomorrow: 500 lamb mince, 600 aubergine, 300 potatoes",
        "might do a fish pie: 400 cod, 700 potatoes, 150 milk",
        "my sister is making a beef stew: 800 beef, 300 carrots, 400 stock",
        "the lasagne needs 500 beef mince, 250 lasagne sheets, 400 passata",
        "stir fry: chicken breast 150 raw, carrots 80, noodles 100 cooked",
        "pho night but just me. beef eye of round raw 130g, rice noodles cooked 220, beef stock 400 g",
    ),
)
def test_plans_recipes_and_plates_open_none(chat: Chat, text: str) -> None:
    assert not chat.say(text).all("batch_opened")


def test_a_pot_is_begun_without_a_weight_and_filled_line_by_line(chat: Chat) -> None:
    opened = chat.say("pot of soup on. whats in it:").one("batch_opened")
    assert opened["name"] == "soup"
    filled = last(chat, "potato 500", "leek 350", "next the chickpeas, 240 g canned")
    assert filled.one("batch_changed")["raw_g"] == pytest.approx(1090)
    assert last(chat, "soup weighs 980 now").one("batch_cooked")["cooked_g"] == 980


def test_more_than_anybody_eats_of_a_raw_pot_is_its_cooked_weight(chat: Chat) -> None:
    said = last(chat, GOULASH, "Now it is cooked and the goulash is 1750 g, I took off the pot already.")
    assert said.one("batch_cooked")["cooked_g"] == 1750
    assert not said.all("weigh_in_open")


def test_boxes_of_one_weight_are_put_away(chat: Chat) -> None:
    said = last(
        chat, GOULASH, "goulash cooked 1800", "I close goulash into boxes: 4 boxes of 300 g. The rest 220 g I eat now."
    )
    boxed = said.one("batch_boxed")
    assert (boxed["boxes"], boxed["box_g"]) == (4, 300)
    assert said.one("weigh_in")["as_weighed_g"] == 220
    assert last(chat, "1 cold box of goulash, warmed up and eaten").one("weigh_in")["as_weighed_g"] == 300


def test_equal_boxes_of_which_some_are_frozen(chat: Chat) -> None:
    said = last(chat, GOULASH, "goulash cooked 1800", "Goulash I have put in four boxes, same size, and two I froze.")
    assert said.one("batch_boxed")["boxes"] == 4
    assert said.one("batch_moved")["boxes"] == 2


def test_boxes_that_were_eaten_are_not_put_away(chat: Chat) -> None:
    said = last(chat, GOULASH, "goulash cooked 1800", "had 2 boxes of 300 g of the goulash")
    assert not said.all("batch_boxed")


@pytest.mark.parametrize(
    ("text", "grams"),
    (
        ("a small bit of the goulash for me, two ninety I think the scale said, yes 290 g", 290),
        ("2 helpings of goulash, 250 each", 500),
        ("portion 250", 250),
        ("ladled myself 340", 340),
        ("For me 280 of goulash. My husband had 400 g goulash, he is not in your book.", 280),
    ),
)
def test_one_portion_of_the_pot(chat: Chat, text: str, grams: float) -> None:
    weighed = last(chat, GOULASH, "goulash cooked 1800", text).all("weigh_in")
    assert [each["as_weighed_g"] for each in weighed] == [grams]


def test_two_meals_of_one_weight_stay_two(chat: Chat) -> None:
    said = last(chat, GOULASH, "goulash cooked 1800", "300 g goulash for lunch and 300 g goulash for dinner")
    assert len(said.all("weigh_in")) == 2


@pytest.mark.parametrize("text", ("weighed the goulash again, 1790 left", "theres 1790 g of goulash left"))
def test_what_is_still_there_was_not_eaten(chat: Chat, text: str) -> None:
    assert not last(chat, GOULASH, "goulash cooked 1800", text).all("weigh_in")


def test_a_vessel_that_is_not_known_is_asked_for(chat: Chat) -> None:
    said = last(chat, GOULASH, "goulash cooked 1800", "480, in the billy")
    assert not said.all("weigh_in")
    assert last(chat, "200").one("weigh_in")["as_weighed_g"] == 280


def test_what_went_into_a_cooked_pot_is_put_right_days_later(chat: Chat) -> None:
    last(chat, GOULASH, "goulash cooked 1800", "goulash 300")
    said = chat.say("went back n checked, beef in the goulash was only 850")
    assert said.one("batch_changed")["raw_g"] == pytest.approx(2050)
    assert said.one("weigh_in_changed")["basis_g"] == pytest.approx(300 * 2050 / 1800, abs=0.1)


def test_how_long_a_pot_lasts_is_no_plan(chat: Chat) -> None:
    said = chat.say("Stovies, big pan, should do me all week: 1200 g peeled potatoes, 300 g onions, 60 g butter")
    assert said.one("batch_opened")["raw_g"] == 1560
    assert chat.say("I should do 200 g rice tonight").records == []


def test_the_pieces_of_a_new_batch_are_no_ingredient(chat: Chat) -> None:
    said = chat.say("Making rotis: 360 g whole wheat flour, 220 g water, 12 g oil. 12 rotis from it.")
    assert (said.one("batch_opened")["raw_g"], said.one("batch_pieces")["pieces"]) == (592, 12)


def test_somebody_spoken_to_is_no_food_beside_a_unit(chat: Chat) -> None:
    chat.door.step(person="me", region="US")
    chat.say("my weight this morning is 206.4").asked()
    assert chat.say("pounds, honey").one("body_weight")["kg"] == pytest.approx(93.62, abs=0.01)
