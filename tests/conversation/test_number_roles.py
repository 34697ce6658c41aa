"""The roles of numbers: counts beside weights, waste, vessels and repairs, in any order and any voice."""

from __future__ import annotations

import pytest

from .chat import Chat


def told(chat: Chat, text: str) -> list[tuple[str, float]]:
    """What a message puts on record: each food with the grams eaten, to the gram."""
    return [(e["food"], round(e["edible_g"])) for e in chat.say(text).events if e["type"] == "weigh_in"]


@pytest.mark.parametrize(
    ("text", "recorded"),
    (
        ("had sausages, pork ones, two, 112 g", [("pork sausage", 112)]),
        ("31 g of oatcakes, that's 3 of them", [("oatcake", 31)]),
        ("a pair of oatcakes that come to 26 g", [("oatcake", 26)]),
        ("a brace of crumpets, all told 108 g", [("crumpet", 108)]),
        ("dates : 4, they weigh 8 g the piece", [("medjool date", 32)]),
        ("i ate meatballs six, each is of 25 g", [("meatballs", 150)]),
        ("Almonds; I counted 15 of them and that was 18 g", [("almonds", 18)]),
        ("walnuts, 6 of them, on the bus", [("walnuts", 24)]),
        ("so it was scrambled eggs, three of them, they came out at 160 grams", [("egg", 160)]),
        ("hot dogs, 2, weigh 90g. buns for em, 2 hot dog buns, 86g", [("hot dog", 90), ("hamburger bun", 86)]),
        ("rye bread I eat 2 slices, with it cheddar 30 g", [("rye bread", 64), ("cheddar cheese", 30)]),
        ("Rye toast the day, slices three, butter on it 14 g", [("toasted rye bread", 72), ("butter", 14)]),
        ("I finished every last one of the 180 g strawberries", [("strawberries", 180)]),
        ("160 g of roast potatoes on my plate and not one of them left", [("roast potatoes with fat", 160)]),
    ),
)
def test_a_count_beside_a_weight_takes_nothing_off_it(chat: Chat, text: str, recorded: list[tuple[str, float]]) -> None:
    assert told(chat, text) == recorded


def test_milk_in_each_of_several_mugs_is_multiplied(chat: Chat) -> None:
    for text, grams in (
        ("two mugs of tea, 15 g whole milk in each one", 30),
        ("6 coffees today with 12 g of whole milk in each", 72),
    ):
        milk = [e for e in chat.say(text).all("weigh_in") if e["food"] == "whole milk"]
        assert [e["as_weighed_g"] for e in milk] == [grams]


def test_pieces_for_somebody_else_are_asked_about(chat: Chat) -> None:
    answer = chat.say("crumpets 110 g, 1 for my brother")
    assert not [e for e in answer.events if e["type"] == "weigh_in"]
    assert [e for e in answer.events if e["type"] == "question"]


@pytest.mark.parametrize(
    ("text", "food", "grams"),
    (
        ("My pear weighed 178 g before I bit it, core and stalk weighed 19 g when I was done", "pear", 159),
        ("banana 190 with its jacket on, the skin in the bin was 68", "banana", 122),
        ("I started on a 320 g mango and what I had to bin, skin and stone, came to 110 g", "mango", 210),
        ("I skinned and ate a kiwi, 88 g it was before, and the skin came to 12 g", "kiwi", 76),
        ("ma orange wis 230 gram afore ah peeled it an the peel's 62", "orange", 168),
        ("pork chop off the barbecue 310 g with the bone, bone afterwards 74 g", "pork chop", 236),
        ("roast lamb shank 480 g bones and all and there was 170 g of bone on the plate after", "lamb shank", 310),
        ("cooked mussels in their shells 450 g, empty shells in the bin 290 g", "mussel", 160),
    ),
)
def test_what_was_left_of_a_food_comes_off_its_weight(chat: Chat, text: str, food: str, grams: float) -> None:
    entry = chat.say(text).recorded()
    assert food in entry["food"]
    assert entry["edible_g"] == pytest.approx(grams)


@pytest.mark.parametrize(
    "text",
    (
        "my wife ate two chops, 240 g, bones after 88 g",
        "I will peel a 230 g orange, the peel is 62 g",
        "is a mango of 320 g with a stone of 40 g much?",
        "bones 88 g",
    ),
)
def test_leavings_of_what_the_writer_did_not_eat_record_nothing(chat: Chat, text: str) -> None:
    assert not chat.say(text).all("weigh_in")


def test_meat_off_the_grill_is_cooked(chat: Chat) -> None:
    entry = chat.say("two lamb chops off the grill, 240 g bone and all, bones after were 88 g").recorded()
    assert (entry["state"], entry["edible_g"]) == ("cooked", 152)


def test_an_egg_weighed_with_the_shell_off_keeps_its_weight(chat: Chat) -> None:
    assert told(chat, "toast 34 g, then a boiled egg, shell off, 52g")[-1] == ("egg", 52)


def test_boxes_of_so_much_apiece_hold_that_each(chat: Chat) -> None:
    chat.say("new batch dal: 300 g red lentils, 900 g water")
    chat.say("dal is cooked, 1100 g")
    boxed = chat.say("There's dal put away in the freezer now, in 2 boxes of 280g apiece").all("batch_boxed")
    assert [(e["boxes"], e["box_g"]) for e in boxed] == [(2, 280)]


@pytest.mark.parametrize(
    ("text", "recorded"),
    (
        (
            "My soup bowl is 410 g bare and 655 g with the boiled lentils in it, and I scraped it clean",
            [("lentils", 245)],
        ),
        ("lunchbox with cooked pasta was 640, empty it came to 390 later", [("pasta", 250)]),
        ("casserole with lid and cooked quinoa in it 1560. casserole alone 900, lid by itself 310", [("quinoa", 350)]),
        (
            "thali weighs 315 then cooked quinoa takes it to 470 then boiled lentils to 600",
            [("quinoa", 155), ("lentils", 130)],
        ),
        ("fruit salad in one bowl: bowl 290, banana 405, blueberries 460", [("banana", 115), ("blueberries", 55)]),
        (
            "cumulative: muesli to 60, whole milk makes 210, blueberries make 260",
            [("muesli", 60), ("whole milk", 150), ("blueberries", 50)],
        ),
        (
            "running total: dry oats 40, then whole milk brings it to 190, then honey 205",
            [("oats", 40), ("whole milk", 150), ("honey", 15)],
        ),
        ("60 g of muesli sitting in the zeroed bowl", [("muesli", 60)]),
        ("my plate is 600 g with the boiled lentils on, 430 without", [("lentils", 170)]),
        ("20 g of butter melted in the frying pan, then 2 eggs fried in it", [("butter", 20), ("egg", 100)]),
        ("bit of butter in the pan, 8g, and two fried eggs", [("butter", 8), ("egg", 100)]),
    ),
)
def test_vessels_and_running_totals(chat: Chat, text: str, recorded: list[tuple[str, float]]) -> None:
    assert told(chat, text) == recorded


@pytest.mark.parametrize(
    ("text", "grams"),
    (
        ("katori with boiled peas in it reads 236", 150),
        ("boiled peas in katori, gross 236 g", 150),
    ),
)
def test_a_saved_vessel_comes_off_the_reading(chat: Chat, text: str, grams: float) -> None:
    chat.say("the katori weighs 86 g")
    assert chat.say(text).recorded()["as_weighed_g"] == grams


def test_less_than_its_vessel_is_refused(chat: Chat) -> None:
    chat.say("the katori weighs 86 g")
    answer = chat.say("boiled peas in the katori: 80 g gross")
    assert answer.all("refused")
    assert not answer.all("weigh_in")


def test_a_saved_vessel_is_put_right(chat: Chat) -> None:
    chat.say("the green pot weighs 988 g")
    saved = chat.say("I had the green pot wrong, it weighs 998 g").all("tare_saved")
    assert [e["grams"] for e in saved] == [998]


@pytest.mark.parametrize(
    "text", ("raspberries in, so the display's at 290", "banana on, scale's showing 290", "yogurt to 290")
)
def test_a_reading_above_all_that_is_on_the_scale_is_a_total(chat: Chat, text: str) -> None:
    chat.say("50 g dry oats")
    chat.say("180 g whole milk")
    assert chat.say(text).recorded()["as_weighed_g"] == 60


@pytest.mark.parametrize(
    ("text", "recorded"),
    (
        (
            "two ounces of walnuts oh wait one ounce of walnuts plus four ounces of plain yogurt",
            [("walnuts", 28), ("plain yogurt", 113)],
        ),
        (
            "180 g cooked quinoa, hold on, misread it, 188 g, and 120 g boiled lentils",
            [("quinoa", 188), ("lentils", 120)],
        ),
        ("30 g cashews no scrap that 30 g almonds and 150 g plain yoghurt", [("almonds", 30), ("plain yogurt", 150)]),
        ("butter 15g, och no, 12g, on rye bread 60 g", [("butter", 12), ("rye bread", 60)]),
        ("cooked pasta, a bowlful, 265g... away, I've read that wrong, 256g", [("pasta", 256)]),
    ),
)
def test_one_item_of_several_is_put_right_in_the_same_breath(
    chat: Chat, text: str, recorded: list[tuple[str, float]]
) -> None:
    assert told(chat, text) == recorded


@pytest.mark.parametrize(
    ("text", "grams"),
    (
        ("For the birthday we had chocolate cake, 900 grams in 12 slices, and I one slice of it", 75),
        ("lasagne 1600 g in 8 squares, I had two of them", 400),
        ("quiche whole 640 g in 4 pieces, me 1 piece", 160),
    ),
)
def test_a_piece_of_a_whole_that_was_weighed(chat: Chat, text: str, grams: float) -> None:
    assert chat.say(text).all("weigh_in")[-1]["as_weighed_g"] == pytest.approx(grams)


@pytest.mark.parametrize(
    "text", ("want to cut a cake of 900 g in 12 slices", "we had a cake of 900 g in 12 slices, my sister one slice")
)
def test_pieces_nobody_or_somebody_else_ate_are_not_the_writers(chat: Chat, text: str) -> None:
    assert not chat.say(text).all("weigh_in")


@pytest.mark.parametrize(
    ("text", "grams"),
    (
        ("pork sausage grilled 2 @ 74 g", [148]),
        ("2 @ 74g grilled pork sausage", [148]),
        ("cheddar 40 g @ lunch", [40]),
        ("boiled yam 6 oz plus two fried eggs", [170, 100]),
        ("120 + 80 g potatoes boiled", [200]),
    ),
)
def test_so_many_at_a_weight_and_a_sum_of_numbers(chat: Chat, text: str, grams: list[int]) -> None:
    assert sorted(round(event["as_weighed_g"]) for event in chat.say(text).records) == sorted(grams)
