"""Pots opened, filled, put right and weighed in words of many people, and sentences that only look like it."""

from __future__ import annotations

import pytest

from tests.conversation.chat import Chat, Said

CHOWDER = "new batch chowder: 600 g potatoes raw, 180 g onion, 40 g butter, 900 g milk"
NAAN = "new batch naan: 300 g plain flour, 150 g yogurt, 20 g ghee"
COOKED = (CHOWDER, "chowder is done, 1500 g without the pot", "had 300 g of the chowder")
STEW = "new batch stew: 700 g beef chuck raw, 300 g carrots, 200 g onion, 500 g water"


def last(chat: Chat, *texts: str) -> Said:
    """What the last of the messages brings about."""
    return [chat.say(text) for text in texts][-1]


@pytest.mark.parametrize(
    ("text", "name", "raw_g"),
    (
        (
            "starting up a fresh batch, minestrone it is. into the pot go carrots 250 g, courgette 300 g, "
            "tinned tomatoes 400 g",
            "minestrone",
            950,
        ),
        (
            "new batch please and its name is jollof. long grain rice uncooked 500 g, passata 450 g, onion 150 g",
            "jollof",
            1100,
        ),
        (
            "ok another pumpkin soup batch pumpkin nine hundred grams onion a hundred and fifty grams coconut milk "
            "four hundred grams",
            "pumpkin soup",
            1450,
        ),
        (
            "First batch of the day is going to be called goulash: 900g beef chuck raw, 500g onion, 30g paprika",
            "goulash",
            1430,
        ),
        (
            "new batch in the slow cooker, pot roast: 1400 g beef chuck raw, 400 g carrots, 300 g onion",
            "pot roast",
            2100,
        ),
        ("new batch - this one's just couscous, 300 g dry with 360 g water", "couscous", 660),
        ("got a batch of porridge bars on the go: honey 120 g, butter 150 g, oats 350 g dry", "porridge bars", 620),
        ("pork loin raw 900 g into the oven with 20 g olive oil, for the week's lunches", "pork loin", 920),
        ("a batch is on: name bolo, 700 g raw turkey mince, 400 g passata, 120 g carrots", "bolo", 1220),
        ("Let me open a new batch, tagine. Lamb shoulder, raw, 850 g", "tagine", 850),
    ),
)
def test_a_batch_is_called_what_its_writer_calls_it(chat: Chat, text: str, name: str, raw_g: float) -> None:
    opened = chat.say(text).one("batch_opened")
    assert opened["name"] == name
    assert opened["raw_g"] == pytest.approx(raw_g, abs=1)


def test_the_food_named_behind_the_dish_is_its_first_ingredient(chat: Chat) -> None:
    said = chat.say("making a chicken casserole tonight, thighs first: 700 g raw")
    assert said.one("batch_opened")["name"] == "chicken casserole"
    assert "700 g chicken thigh" in said.text
    assert chat.say("400 g tin of tomatoes").one("batch_changed")["raw_g"] == 1100


@pytest.mark.parametrize(
    ("text", "raw_g"),
    (
        ("chowder: sweetcorn, 200 g, that's in now", 1920),
        ("instead of that the chowder had 90 g of leek", 1810),
        ("cream base for the chowder as well: 60 g plain flour, 200 g single cream", 1980),
        ("mussels in brine, 2 jars, go into the chowder. each jar is 120 g", 1960),
        ("onion in there weighed 210, the 180 I gave you came off the wrong line", 1750),
        ("my butter figure for the chowder was off, 55 g", 1735),
        ("misread the scale, butter should say 45", 1725),
        ("so the chowder lost its butter, I used none in the end", 1680),
        ("garlic is 12 g, add it", 1732),
    ),
)
def test_a_raw_pot_takes_and_loses_what_is_said(chat: Chat, text: str, raw_g: float) -> None:
    said = last(chat, CHOWDER, text)
    assert said.one("batch_changed")["raw_g"] == pytest.approx(raw_g)
    assert not said.all("weigh_in")


def test_seasonings_go_in_to_taste(chat: Chat) -> None:
    said = last(chat, CHOWDER, "salt and pepper")
    assert "to taste" in said.text
    assert not said.records


def test_stock_is_weighed_whichever_kind_it_is(chat: Chat) -> None:
    changed = last(chat, STEW, "stock 500 ml").one("batch_changed")
    # A litre of any stock weighs nearly what a litre of water does (from memory).
    assert changed["raw_g"] == pytest.approx(1700 + 500, rel=0.05)


@pytest.mark.parametrize(
    ("text", "cooked_g"),
    (
        ("chowder finished cooking, pot subtracted it came to 1505", 1505),
        ("Just weighed it, that chowder, pot taken off it's 1490 g", 1490),
        ("Took the pot's weight off, the finished chowder makes 1512g", 1512),
        ("Chowder off the heat. Pot plus soup 2650, bare pot 1150", 1500),
    ),
)
def test_a_weight_like_that_of_all_of_it_is_its_cooked_weight(chat: Chat, text: str, cooked_g: float) -> None:
    said = last(chat, CHOWDER, text)
    assert said.one("batch_cooked")["cooked_g"] == pytest.approx(cooked_g)
    assert not said.all("weigh_in")


@pytest.mark.parametrize(
    ("text", "pieces", "cooked_g"),
    (
        ("naans came out of the oven, eight, and the eight weigh 420 g", 8, 420),
        ("that's 6 naan baked, 415 g for the lot", 6, 415),
        ("naan are ready, total 7 nos. and all of them together 410 g", 7, 410),
    ),
)
def test_pieces_and_what_they_weigh_together(chat: Chat, text: str, pieces: int, cooked_g: float) -> None:
    said = last(chat, CHOWDER, NAAN, text)
    assert said.one("batch_pieces")["pieces"] == pieces
    assert said.one("batch_cooked")["cooked_g"] == cooked_g


@pytest.mark.parametrize(
    ("text", "raw_g"),
    (
        ("milk in the chowder was 700 g though I said 900, redo my bowl too", 1520),
        ("checked again and those potatoes of the chowder were 660 not 600, sort out what i ate", 1780),
        ("Never told you the chowder started with 60 g bacon raw, so my bowl had some of that", 1780),
        ("leeks 120 g were in the chowder all along, I left that out. the 300 g I had should count it", 1840),
    ),
)
def test_what_was_eaten_is_recounted_with_what_is_put_right(chat: Chat, text: str, raw_g: float) -> None:
    said = last(chat, *COOKED, text)
    assert said.one("batch_changed")["raw_g"] == pytest.approx(raw_g)
    assert said.one("weigh_in_changed")["edible_g"] == 300
    assert not said.all("weigh_in")


@pytest.mark.parametrize(
    "text",
    (
        "should I put 200 g sweetcorn in the chowder?",
        "tomorrow I'll add 200 g cod to the chowder",
        "did the chowder have 180 g onion in it",
        "my sister's chowder has 300 g bacon in it",
        "next time the chowder gets 200 g leeks",
        "the recipe says 700 g potatoes for the chowder",
        "if I'd used 50 g butter in the chowder it would be richer",
        "my friend put 300 g dumplings in her chowder",
        "bought 2 tins of beans 400 g each for the chowder tomorrow",
        "a new batch of laptops arrived at work, 500 of them",
        "my mum is doing a batch of scones: 450 g flour, 100 g butter",
        "planning a new batch of chilli on sunday: 800 g beef mince, 400 g kidney beans",
    ),
)
@pytest.mark.parametrize("before", ((CHOWDER,), COOKED))
def test_what_only_looks_like_it_puts_nothing_on_record(chat: Chat, text: str, before: tuple[str, ...]) -> None:
    assert not last(chat, *before, text).records


@pytest.mark.parametrize(
    ("text", "grams"),
    (
        ("butter 20 g on toast", 20),
        ("90 g cucumber as a side", 90),
        ("had 60 g of onion with my burger", 60),
        ("I forgot to tell you, yesterday I had 250 g of the chowder", 250),
    ),
)
def test_what_is_eaten_stays_out_of_the_pot(chat: Chat, text: str, grams: float) -> None:
    said = last(chat, *COOKED, text)
    assert said.all("weigh_in")[0]["edible_g"] == grams
    assert not said.all("batch_changed")
