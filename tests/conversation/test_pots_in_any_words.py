"""A pot that is opened, filled, cooked and eaten from in wordings of many people, and what only looks like it."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from tests.conversation.chat import Chat, Said

COOK = "bulk chilli: 800 g beef mince 5% raw, 400 g canned tomatoes, 480 g kidney beans canned"
SOUP = "lentil soup: 400 g red lentils dry, 300 g carrots, 1800 g water"
LOAF = "banana loaf: 330 g banana raw, 225 g plain flour, 120 g butter, 140 g white sugar, 104 g egg raw"
OATS = "flapjacks: 300 g dry oats, 200 g butter, 150 g golden syrup, 100 g white sugar"


def last(chat: Chat, *texts: str) -> Said:
    """What the last of the messages brings about."""
    return [chat.say(text) for text in texts][-1]


@pytest.mark.parametrize(
    ("text", "name", "raw_g"),
    (
        (
            "right im getting my pinto stew off the ground. 500 g pinto beans dry, thats all for the pot",
            "pinto stew",
            500,
        ),
        ("Starting my lentils. 700 g red lentils dry, its for the pot nobody eats them raw", "lentils", 700),
        (
            "Brownies for the school fair: 250 g butter, 200 g dark chocolate, 300 g white sugar, 120 g plain flour",
            "brownies",
            870,
        ),
        ("scones for the church sale - 450 g plain flour, 100 g butter, 280 g milk", "scones", 830),
        ("prep #1: chicken breast raw 1.5 kg, olive oil 30 g", "chicken breast", 1530),
        (
            "OK for real this time. chicken chili pot: 900 g chicken thigh raw, 480 g black beans canned, 250 g onion",
            "chicken chili",
            1630,
        ),
        (
            "lol finally prep sunday. 2 kg chicken thigh raw, 700 g dry white rice, 400 g broccoli raw, one big tray",
            "chicken thigh",
            3100,
        ),
    ),
)
def test_a_pot_is_opened(chat: Chat, text: str, name: str, raw_g: float) -> None:
    said = chat.say(text)
    opened = said.one("batch_opened")
    assert name in opened["name"]
    assert opened["raw_g"] == pytest.approx(raw_g)
    assert not said.all("weigh_in")


def test_a_recipe_with_its_cooked_weight(chat: Chat) -> None:
    said = chat.say(
        "made a shepherds pie, 600 g lamb mince raw, 800 g potatoes, 150 g peas, came out 1380 without the dish"
    )
    assert said.one("batch_opened")["raw_g"] == 1550
    assert said.one("batch_cooked")["cooked_g"] == 1380


def test_a_recipe_with_its_pieces_and_their_weight(chat: Chat) -> None:
    said = chat.say("egg muffins: 500 g eggs raw, 100 g spinach, 60 g feta, makes 12, 590 g the lot baked")
    assert said.one("batch_opened")["raw_g"] == 660
    assert said.one("batch_cooked")["cooked_g"] == 590
    assert said.one("batch_pieces")["pieces"] == 12


@pytest.mark.parametrize(
    "text",
    (
        "cooking did not happen. cereal instead, 60 g cornflakes and 200 g milk",
        "roommate has the pan so a sandwich it is, 90 g white bread 40 g ham",
        "brownies at the bake sale, bought one, 80 g",
        "Chicken curry recipe for the weekend: 900 g chicken thigh, 400 g coconut milk",
        "for the sale table my sister made scones: 450 g flour, 100 g butter",
    ),
)
def test_no_pot_is_opened(chat: Chat, text: str) -> None:
    assert not chat.say(text).all("batch_opened")


@pytest.mark.parametrize(
    ("text", "raw_g"),
    (
        ("in the chilli also goes 170 g bacon raw and an onion 200 g", 2050),
        ("the chilli has swallowed 200 g red wine as well", 1880),
        ("then to my chilli i throw 60 g chorizo", 1740),
        ("chilli also wants 300 g carrots, in they go", 1980),
        ("mixed in some garlic, 12 g", 1692),
        ("150 g onion", 1830),
        ("500 g water", 2180),
        ("chilli powder 15 g, cumin 6 g", 1701),
    ),
)
def test_a_pot_is_filled(chat: Chat, text: str, raw_g: float) -> None:
    said = last(chat, COOK, text)
    assert said.one("batch_changed")["raw_g"] == pytest.approx(raw_g)
    assert not said.all("weigh_in")


@pytest.mark.parametrize(
    ("opened", "text", "grams", "pieces"),
    (
        (SOUP, "soup finish 2180 g no kaldero", 2180, None),
        (SOUP, "soup cook already 2180 g without kaldero", 2180, None),
        (
            SOUP,
            "The soup is done. It came to two thousand one hundred and eighty grams in the pot less the pot.",
            2180,
            None,
        ),
        (SOUP, "soup's off the stove, kadai subtracted, 2180", 2180, None),
        (SOUP, "it weighs 2180 g now without the pot", 2180, None),
        (LOAF, "loaf's out, 838g, cuts into 12 slices", 838, 12),
        (LOAF, "loaf out, 838 g, thats 12 slices", 838, 12),
        (OATS, "flapjacks weigh 735 baked, tin tared off, and it cuts into 15", 735, 15),
        (OATS, "theyre out!! 20 flapjacks, all together 1 lb 9 oz without the tray", 708.7, 20),
    ),
)
def test_a_pot_is_weighed(chat: Chat, opened: str, text: str, grams: float, pieces: int | None) -> None:
    said = last(chat, opened, text)
    assert said.one("batch_cooked")["cooked_g"] == pytest.approx(grams, abs=1)
    assert [e["pieces"] for e in said.all("batch_pieces")] == ([] if pieces is None else [pieces])
    assert not {"weigh_in", "weigh_in_open", "question", "not_understood"} & set(said.kinds), said


def test_the_pot_just_worked_on_is_the_pot(chat: Chat) -> None:
    chat.say("turkey chilli: 900 g turkey mince raw, 400 g canned tomatoes", at="2026-03-02T09:00:00+00:00")
    chat.say(COOK, at="2026-03-02T17:00:00+00:00")
    chat.say("150 g onion into it", at="2026-03-02T17:10:00+00:00")
    said = chat.say("the pot is cooked, 1500 g", at="2026-03-02T18:30:00+00:00")
    assert said.one("batch_cooked")["batch"] == 2


def test_it_is_the_pot_that_the_open_question_is_about(chat: Chat) -> None:
    last(chat, COOK, "chilli done 1400 g", "turkey chilli: 900 g turkey mince raw, 400 g canned tomatoes")
    last(chat, "turkey chilli done 1000 g", "300 g of the chilli", "180 g cooked white rice")
    said = chat.say("took 300 of it")
    assert not [e for e in said.all("weigh_in") if e["batch"] is None], said


def test_it_is_the_pot_beside_which_something_else_was_told(chat: Chat) -> None:
    last(chat, COOK, "chilli done 1400 g", "180 g cooked white rice")
    assert chat.say("took 300 of it").one("weigh_in")["batch"] == 1


def test_what_is_taken_is_taken_from_the_pot_just_weighed(chat: Chat) -> None:
    last(chat, "hazelnuts", COOK, "chilli done 1400 g")
    assert chat.say("took 320").one("weigh_in")["batch"] == 1


@pytest.mark.parametrize(
    ("before", "text", "grams"),
    (
        ((COOK, "chilli done 1400 g"), "chilli again, nicked 260 g of it", 260),
        ((COOK, "chilli done 1400 g"), "leftover chilli, 305g", 305),
        ((COOK, "chilli done 1400 g", "300 g chilli"), "my leftover chilli 305", 305),
        ((LOAF, "loaf out, 840 g, thats 12 slices"), "and another slice of the loaf for the bump", 70),
        ((LOAF, "loaf out, 840 g, thats 12 slices"), "the loaf again, 2 slices this time", 140),
    ),
)
def test_a_portion_of_it_again(chat: Chat, before: Sequence[str], text: str, grams: float) -> None:
    said = last(chat, *before, text)
    eaten = said.one("weigh_in")
    assert (eaten["batch"], eaten["edible_g"]) == (1, pytest.approx(grams))
    assert not {"batch_opened", "question"} & set(said.kinds), said


@pytest.mark.parametrize(
    ("text", "grams"),
    (
        ("apple 190 with core", 171),
        ("toast 40", 40),
        ("orange 160 g peeled", 160),
        ("cereal bar 35 g", 35),
        ("coffee with 30 ml milk", 31),
        ("Six saltine crackers, which came to eighteen grams.", 18),
        ("2 digestives 30 g", 30),
        ("croissant 60", 60),
    ),
)
def test_what_no_pot_takes_is_eaten(chat: Chat, text: str, grams: float) -> None:
    said = last(chat, COOK, text)
    assert grams in [pytest.approx(e["edible_g"], abs=1) for e in said.events if e["type"].startswith("weigh_in")], said
    assert not {"batch_changed", "batch_pieces"} & set(said.kinds)


def test_a_meal_hours_after_the_last_ingredient_is_eaten(chat: Chat) -> None:
    chat.say(COOK, at="2026-03-02T09:00:00+00:00")
    said = chat.say("plus cheddar 30 g", at="2026-03-02T13:00:00+00:00")
    assert not said.all("batch_changed")


def test_a_portion_is_put_right_not_the_cooked_weight(chat: Chat) -> None:
    last(chat, COOK, "chilli done 1400 g", "300 g chilli")
    said = chat.say("no, the chilli was 350")
    assert said.one("weigh_in_changed")["edible_g"] == 350


def test_a_cooked_weight_is_put_right_where_it_only_fits_that(chat: Chat) -> None:
    last(chat, COOK, "chilli done 1400 g", "300 g chilli")
    said = chat.say("no, the chilli was 1450")
    assert not said.all("weigh_in_changed")


def test_a_portion_that_waits_for_the_cooked_weight_is_put_right(chat: Chat) -> None:
    last(chat, COOK, "300 g chilli")
    said = chat.say("no, the chilli was 350")
    assert said.one("weigh_in_open")["as_weighed_g"] == 350
    assert not said.all("batch_cooked")
    assert chat.say("1400 g").one("batch_cooked")["cooked_g"] == 1400


@pytest.mark.parametrize(
    ("text", "in_it"),
    (
        ("apple 190 with core", False),
        ("toast 40", False),
        ("plus a banana 118 g peeled", False),
        ("croissant 60", False),
        ("apple juice 200 g", False),
        ("onion 150", True),
        ("and garlic 12 g", True),
        ("plus 400 g canned tomatoes", True),
        ("cheddar 80 g", True),
        ("lime 40 g", True),
        ("250 g chicken stock", True),
    ),
)
def test_a_pot_told_line_by_line_takes_ingredients_alone(chat: Chat, text: str, in_it: bool) -> None:
    said = last(chat, "starting a chilli", "800 g beef mince 5% raw", text)
    assert bool(said.all("batch_changed")) is in_it, said
    assert bool(said.all("weigh_in")) is not in_it, said


def test_what_needs_cooking_goes_in_after_something_was_eaten(chat: Chat) -> None:
    last(chat, "starting a chilli", "800 g beef mince 5% raw", "toast 40")
    assert chat.say("onion 150").one("batch_changed")["raw_g"] == 950


def test_fruit_goes_into_a_sweet_pot(chat: Chat) -> None:
    last(chat, "starting a crumble", "200 g plain flour", "100 g butter")
    assert chat.say("800 g apple peeled").one("batch_changed")["raw_g"] == 1100


@pytest.mark.parametrize("text", ("the pot is cooked", "chilli's ready!", "chilli is done now"))
def test_a_pot_that_is_done_is_asked_for_its_weight(chat: Chat, text: str) -> None:
    last(chat, COOK, text).asked("what does batch 1 (chilli) weigh")
    assert chat.say("1400").one("batch_cooked")["cooked_g"] == 1400


@pytest.mark.parametrize("text", ("chilli is not ready yet", "is the chilli done?", "chilli will be ready at 6"))
def test_a_pot_that_is_not_done_is_not_weighed(chat: Chat, text: str) -> None:
    assert not last(chat, COOK, text).records
