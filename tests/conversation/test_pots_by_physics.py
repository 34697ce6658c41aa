"""Pots that amounts and weights alone tell: what goes in is more than one eats, what is in is gross less empty."""

from __future__ import annotations

import pytest

from tests.conversation.chat import Chat, Said

LENTILS = "lentil soup: 300 g dry brown lentils, 200 g carrots, 1500 g water"


SPLIT_PEAS = (
    "Hob's busy. Split peas, dry, 240 g; leeks 130 g; rapeseed oil 12 g; garlic 5 g; ginger 6 g; cumin seeds 3 g; "
    "turmeric 2 g; paprika 4 g; celery 60 g; bay leaf 1 g; and 1150 g of water."
)
MOLE = "gran doing her mole verde, me on the scale. 1.2 kg raw chicken thighs, 300 g tomatillos, 40 g oil"
PEPPERPOT = "Husband has me on pepperpot duty. raw beef chuck 900 g, thyme 4 g, water 800 g, salt 10 g"


@pytest.mark.parametrize(
    ("text", "name", "raw_g"),
    (
        (SPLIT_PEAS, "split peas", 1613),
        ("onto the flame with it: 280 g green lentils dry. 70 g celery. 1 litre water. 12 g salt", "lentils", 1363.7),
        (MOLE, "verde", 1540),
        ("pressure cooker stuffed w/ pinto beans dry 1 lb, water 1400 g, salt 9 g, onion 140 g", "pinto beans", 2002.6),
        ("Weighed each thing first. 650 g raw salmon, 480 g raw potatoes, 180 g cream, 25 g butter", "salmon", 1335),
        (PEPPERPOT, "pepperpot", 1714),
        ("a roast for me n whoever is home: 1100g raw turkey thighs boneless, 18g rapeseed oil", "turkey", 1118),
    ),
)
def test_more_than_one_person_eats_is_a_pot(chat: Chat, text: str, name: str, raw_g: float) -> None:
    said = chat.say(text)
    opened = said.one("batch_opened")
    assert name.split()[-1].rstrip("s") in opened["name"]
    assert opened["raw_g"] == pytest.approx(raw_g, abs=5)
    assert not said.all("weigh_in")
    assert not said.all("weigh_in_open")


@pytest.mark.parametrize(
    "text",
    (
        "dry oats 55 g, water 240 g, cinnamon 2 g, pear 90 g",
        "cod 210 g raw, green beans 150 g, olive oil 9 g",
        "honeydew 880 g, feta 70 g, mint 4 g",
        "dry pasta 140 g, passata 150 g, parmesan 20 g",
        "I had 320 g cooked rice, 260 g cooked beef, 180 g broccoli",
    ),
)
def test_what_one_person_eats_is_no_pot(chat: Chat, text: str) -> None:
    said = chat.say(text)
    assert not said.all("batch_opened")
    assert said.all("weigh_in") or said.all("weigh_in_open")


@pytest.mark.parametrize(
    "text",
    (
        "whole thing sits at 2.9 kg, empty it was 1.2",
        "took it off the heat: 2900 gross, 1200 tare",
        "2.9 kg soup incl the handi (1.2)",
        "soup's ready, and the lot with its kettle 2900, kettle alone 1200",
        "1700 left once it had cooked",
    ),
)
def test_of_two_weights_of_a_pot_on_the_stove_the_smaller_is_its_vessel(chat: Chat, text: str) -> None:
    chat.say(LENTILS)
    said = chat.say(text)
    assert said.one("batch_cooked")["cooked_g"] == pytest.approx(1700)
    assert not said.all("question")


def test_a_vessel_included_is_taken_off_by_its_saved_weight(chat: Chat) -> None:
    chat.say(LENTILS)
    chat.say("big pot empty 1.2 kg")
    assert chat.say("Soup's ready, 2.95 kg pot included").one("batch_cooked")["cooked_g"] == pytest.approx(1750)


@pytest.mark.parametrize("text", ("soup, 400 for me", "had 300 g salad at work", "will it be 1700?", "apple 150"))
def test_other_weights_are_no_cooked_weight(chat: Chat, text: str) -> None:
    chat.say(LENTILS)
    assert not chat.say(text).all("batch_cooked")


CHILLI = ("chilli: 900 g beef mince 5% raw, 400 g canned tomatoes, 300 g onion", "chilli 1400 cooked")
DUMPLINGS = (
    "dumplings: 300 g flour, 150 g water, 350 g minced pork raw, 200 g cabbage",
    "dumplings 1000 boiled",
    "makes 40 dumplings",
)
DRUMSTICKS = ("tray: 1.2 kg chicken drumsticks raw, 600 g sweet potato raw, olive oil 20 g", "1300 cooked")


def last(chat: Chat, *texts: str) -> Said:
    """What the last of the messages brings about."""
    return [chat.say(text) for text in texts][-1]


@pytest.mark.parametrize(
    "text",
    (
        "what does that leave of the chilli?",
        "any left?",
        "how much is left in the pot",
        "how far down is the chilli",
        "what have we got left of the chilli",
    ),
)
def test_what_is_left_is_told(chat: Chat, text: str) -> None:
    said = last(chat, *CHILLI, "300 of the chilli", text)
    assert said.one("answer")["about"] == "left"
    assert "1,100 g" in said.text


@pytest.mark.parametrize(
    ("text", "portions"),
    (
        ("From the chilli 350 g, then 150 g more", (350, 150)),
        ("a plate of chilli, the plate is tared: 420", (420,)),
        ("chilli again for dinner. 320 g out of batch 1", (320,)),
        ("I took leftovers to work for my lunch: 250 g of the chilli", (250,)),
    ),
)
def test_portions_are_what_was_weighed(chat: Chat, text: str, portions: tuple[float, ...]) -> None:
    said = last(chat, *CHILLI, text)
    assert [event["as_weighed_g"] for event in said.records] == list(portions)
    assert all(event["batch"] == 1 for event in said.records)


@pytest.mark.parametrize(
    ("text", "gone"),
    (
        ("Bo and Jem had 250 each of the chilli", 500),
        ("my folks took 400 g outta that pot", 400),
        ("next door's poorly so I took her round 180 g of the chilli", 180),
    ),
)
def test_what_others_had_leaves_the_pot_alone(chat: Chat, text: str, gone: float) -> None:
    said = last(chat, *CHILLI, text)
    assert said.one("batch_reduced")["grams"] == gone
    assert not said.all("weigh_in")


@pytest.mark.parametrize(
    "text",
    ("skimmed 30 g off the top of the chilli", "tipped 30 g of fat off the top", "Drained some fat off it, 30 g"),
)
def test_what_was_poured_off_is_nobodys_portion(chat: Chat, text: str) -> None:
    said = last(chat, *CHILLI, text)
    assert said.one("batch_drained")["batch"] == 1
    assert not said.all("weigh_in")


def test_fat_and_weight_told_in_one_message_are_both_kept(chat: Chat) -> None:
    said = last(chat, DRUMSTICKS[0], "Tray out, drained 70 g fat off it, food on it comes to 1290")
    assert said.one("batch_drained")["batch"] == 1
    assert said.one("batch_cooked")["cooked_g"] == 1290


@pytest.mark.parametrize("text", ("drumsticks and sweet potato, 330 g for me", "leftover drumsticks, sweet potato 330"))
def test_one_weight_for_what_is_in_a_pot_is_of_the_pot(chat: Chat, text: str) -> None:
    said = last(chat, *DRUMSTICKS, text)
    assert [(event["batch"], event["as_weighed_g"]) for event in said.records] == [(1, 330)]


def test_a_vessel_filled_with_a_pot_too_is_read_by_its_totals(chat: Chat) -> None:
    said = last(chat, *CHILLI, "bowl 310, boiled rice 470, chilli 620")
    assert [event["as_weighed_g"] for event in said.records] == [160, 150]


def test_a_saved_vessel_in_any_wording_is_taken_off(chat: Chat) -> None:
    said = last(chat, *CHILLI, "blue bowl weighs 312 g", "blue bowl loaded with chilli 655")
    assert said.recorded()["as_weighed_g"] == 343


@pytest.mark.parametrize(
    ("text", "boxes", "each"),
    (("froze 2 lots of 300", 2, 300), ("the lot split into 250 g tubs", 5, 250), ("boxed 4, 350 in each", 4, 350)),
)
def test_boxes_by_their_weight(chat: Chat, text: str, boxes: int, each: float) -> None:
    said = last(chat, *CHILLI, text)
    boxed = said.one("batch_boxed")
    assert (boxed["boxes"], boxed["box_g"]) == (boxes, each)
    assert not said.all("weigh_in")


@pytest.mark.parametrize("text", ("put 2 in the freezer", "stuck 2 in the freezer", "2 go in the freezer"))
def test_boxes_just_filled_are_moved(chat: Chat, text: str) -> None:
    said = last(chat, *CHILLI, "the rest into 4 boxes", text)
    assert said.one("batch_moved")["boxes"] == 2


def test_boxes_are_divided_between_places(chat: Chat) -> None:
    said = last(chat, *CHILLI, "split whats left of the chilli into 3 tubs, 2 fridge 1 freezer")
    assert said.one("batch_boxed")["boxes"] == 3
    assert said.one("batch_moved")["boxes"] == 1


@pytest.mark.parametrize("text", ("the 3 dumplings that were left", "ate the last 3 dumplings"))
def test_pieces_that_were_left_are_eaten(chat: Chat, text: str) -> None:
    said = last(chat, *DUMPLINGS, "housemates had 37 of the dumplings", text)
    assert said.one("weigh_in")["as_weighed_g"] == pytest.approx(75)


@pytest.mark.parametrize(
    "text",
    ("oh and 30 g mustard went in half an hour ago", "forgot to mention, also mustard 30 g about twenty minutes ago"),
)
def test_an_ingredient_told_late_goes_in_whatever_the_time(chat: Chat, text: str) -> None:
    said = last(chat, CHILLI[0], text)
    assert said.one("batch_changed")["raw_g"] == 1630
    assert not said.all("weigh_in")


def test_a_heading_with_a_list_is_a_pot_of_its_own(chat: Chat) -> None:
    said = last(chat, "pulled pork: 1.8 kg pork shoulder raw, 500 g cider, 200 g onion", *DUMPLINGS[:1])
    assert said.one("batch_opened")["name"] == "dumplings"


def test_a_rest_thrown_out_in_any_order_is_not_eaten(chat: Chat) -> None:
    said = last(chat, *CHILLI, "rest of the chilli smells funny so i am throwing it all out")
    assert not said.all("weigh_in")
    assert said.one("batch_closed")["batch"] == 1


def test_more_parts_than_anybody_eats_are_grams_of_the_pot(chat: Chat) -> None:
    said = last(
        chat, "new batch: 1040 g raw chicken thighs skinless, 15 g olive oil", "790 cooked", "180 of the thighs"
    )
    assert [(event["batch"], event["as_weighed_g"]) for event in said.records] == [(1, 180)]


def test_a_weight_alone_is_of_the_pot_spoken_of(chat: Chat) -> None:
    said = last(chat, *CHILLI, "what I had was 410")
    assert [(event["batch"], event["as_weighed_g"]) for event in said.records] == [(1, 410)]


@pytest.mark.parametrize("text", ("two bits for me tea", "2 slabs for me"))
def test_pieces_by_whatever_word(chat: Chat, text: str) -> None:
    lasagne = "lasagne: 600 g beef mince 5% raw, 500 g passata, 250 g dry pasta, 600 g milk"
    said = last(chat, lasagne, "lasagne 1600 cooked", "cut it in 8", text)
    assert said.one("weigh_in")["as_weighed_g"] == pytest.approx(400)


def test_pieces_are_called_as_they_were_told(chat: Chat) -> None:
    batter = "Pancake batter: 250 g flour, 500 g milk, 165 g egg"
    said = last(chat, batter, "all cooked up that's 14 pancakes, 700 g the stack", "4 pancakes and 30 g maple syrup")
    assert said.all("weigh_in")[0]["as_weighed_g"] == pytest.approx(200)
    assert said.all("weigh_in")[0]["batch"] == 1


@pytest.mark.parametrize(
    "text", ("peanut butter 20 g, this jar has grams", "this jar has grams on it, peanut butter 20 g")
)
def test_a_jar_of_other_food_is_no_box_of_the_pot(chat: Chat, text: str) -> None:
    said = last(chat, *CHILLI, "the rest into 4 boxes", text)
    assert all(event["batch"] is None for event in said.records)


@pytest.mark.parametrize("text", ("oh the onions were 250, the scale moved, 250 g", "the onions, they were 250"))
def test_an_ingredient_that_was_another_weight_is_put_right(chat: Chat, text: str) -> None:
    said = last(chat, CHILLI[0], text)
    assert said.one("batch_changed")["raw_g"] == 1550


def test_words_for_when_are_no_vessel(chat: Chat) -> None:
    said = last(
        chat, "dough batch called roti: whole wheat flour 400, water 250", "all rotis together after tawa 572 g"
    )
    assert said.one("batch_cooked")["cooked_g"] == 572


def test_a_name_ends_before_the_first_raw_food(chat: Chat) -> None:
    said = chat.say("new one it's called lamb stew lamb shoulder raw boneless 1.5 kg, potatoes raw 900 g")
    opened = said.one("batch_opened")
    assert (opened["name"], opened["raw_g"]) == ("lamb stew", 2400)


@pytest.mark.parametrize(
    "text", ("melon 320 g, I cut the skin off before weighing", "yogurt 150 g, from the start of the pot")
)
def test_what_was_weighed_beside_a_cooked_pot_does_not_go_in(chat: Chat, text: str) -> None:
    assert not last(chat, *CHILLI, "300 of the chilli", text).all("batch_changed")


def test_a_vessel_that_was_taken_off_is_no_fat(chat: Chat) -> None:
    chat.say("new batch stew: 800 g raw beef stew meat, 500 g raw potatoes, 300 g carrots")
    chat.say("stew cooked 1400 g")
    assert chat.say("bowl of the stew into me, 380 g, bowl took off already").one("weigh_in")["as_weighed_g"] == 380


def test_boxes_that_go_into_the_freezer_are_not_eaten(chat: Chat) -> None:
    chat.say("new batch rajma: 500 g dry kidney beans, 300 g onion, 1000 g water")
    chat.say("rajma cooked 1800 g")
    chat.say("rajma into 5 boxes")
    said = chat.say("into the freezer go 3 of the rajma boxes")
    assert not said.all("weigh_in")
    assert said.one("batch_moved")["boxes"] == 3
