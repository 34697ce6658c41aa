"""Pots from the first onion to the last box, told in unlike voices."""

from __future__ import annotations

import pytest

from tests.conversation.chat import Chat

SOUP = ("starting a pot of lentil soup: 300 g dry red lentils",)
CHILLI = (
    "new batch chilli: 450 g raw 10% beef mince, 300 g canned kidney beans, 200 g onion, 100 g double cream",
    "the dutch oven weighs 2200 g empty",
)
ROTI = ("new batch roti: 500 g atta, 300 g water", "roti cooked 700 g")
COOKED = (
    "new batch dal: 400 g dry red lentils, 1400 g water",
    "dal cooked 1600 g",
    "new batch rice: 400 g dry basmati rice, 800 g water",
    "rice cooked 1000 g",
    *ROTI,
    "that makes 20 rotis",
    "350 g dal",
)
STEW = ("new batch stew: 1000 g raw beef chuck, 500 g carrots, 400 g potatoes", "stew cooked 1500 g")
BOXES = (*STEW, "stew into 5 boxes")


@pytest.mark.parametrize(
    ("text", "name", "raw_g"),
    (
        (
            "new batch and it's beef chili so eight ounces of raw onion then two pounds raw ground beef eighty twenty",
            "beef chili",
            1134,
        ),
        ("tonight its bolognese, got 600 g raw 10% beef mince browning", "bolognese", 600),
        ("meal prep: new batch, name it porky. 1.2 kg raw pork shoulder and 100 g ketchup", "porky", 1300),
        ("batch called pea soup that's 500 g frozen peas, 200 g onion, 900 g water", "pea soup", 1600),
        ("batch named smoky beans it's got 400 g dry pinto beans and 100 g raw bacon in it", "smoky beans", 500),
        (
            "chicken casserole for dinner, in the oven now. 900 g raw chicken thighs, 300 g carrots, 250 g potatoes",
            "chicken casserole",
            1450,
        ),
        ("beef curry tonight, pot's going. 1.1 kg raw chuck steak", "beef curry", 1100),
        ("sausage casserole the night, pot's on. 700 g raw pork sausages", "sausage casserole", 700),
    ),
)
def test_a_pot_is_opened_under_its_dish(chat: Chat, text: str, name: str, raw_g: float) -> None:
    opened = chat.say(text).one("batch_opened")
    assert opened["name"] == name
    assert opened["raw_g"] == pytest.approx(raw_g, abs=1)


@pytest.mark.parametrize(
    ("text", "raw_g"),
    (
        ("butter 30 g as well, and thyme", 330),
        ("n 200 g celery, bay leaf too", 500),
        ("onion 150 g, salt, pepper", 450),
        ("tipped a further 100 g lentils in to thicken it", 400),
        ("the soup was on the thin side so I've thrown in another 150 g red lentils", 450),
        ("have put in 120 g more of lentils to make it thicker", 420),
        ("a hundred grams more lentils went in", 400),
    ),
)
def test_a_pot_is_filled_line_by_line(chat: Chat, text: str, raw_g: float) -> None:
    chat.given(*SOUP)
    said = chat.say(text)
    assert said.one("batch_changed")["raw_g"] == raw_g
    assert not said.all("weigh_in")


@pytest.mark.parametrize(
    ("text", "raw_g"),
    (
        ("I made a mistake for the chilli, the mince makes 520 g", 1120),
        ("the cream had turned so I binned it, chilli's got none in it", 950),
        ("finally the cream was not good, the chilli is without", 950),
        ("the beans in the chilli were only 250 g", 1000),
    ),
)
def test_what_went_in_is_put_right(chat: Chat, text: str, raw_g: float) -> None:
    chat.given(*CHILLI)
    assert chat.say(text).one("batch_changed")["raw_g"] == raw_g


@pytest.mark.parametrize(
    ("text", "cooked_g"),
    (
        ("Finished the chilli, the scale reads 3100 sat in the dutch oven", 900),
        ("chilli's off the heat, 3100 with the dutch oven under it", 900),
        ("chilli finished cooking, dutch oven and all 3150 g", 950),
    ),
)
def test_a_pot_is_weighed_in_its_vessel(chat: Chat, text: str, cooked_g: float) -> None:
    chat.given(*CHILLI)
    assert chat.say(text).one("batch_cooked")["cooked_g"] == cooked_g


def test_fat_is_skimmed_off_with_a_spoon(chat: Chat) -> None:
    chat.given(*CHILLI)
    assert chat.say("skimmed 30 g fat off the top of the chilli with a spoon").one("batch_drained")


@pytest.mark.parametrize(
    ("text", "portions"),
    (
        ("from my pots: 220 g dal and 150 g rice", {1: [220], 2: [150]}),
        ("out of my batches I packed 220 g dal n 150 g rice n ate it at my desk", {1: [220], 2: [150]}),
        ("packed from the dal: 195 g. from the rice: 260 g. eaten between lectures", {1: [195], 2: [260]}),
        ("I helped myself to the dal twice, 200 g and then 120 g", {1: [200, 120]}),
        ("went to the dal two times today: 200 g first, later 150 g", {1: [200, 150]}),
        ("finally sat down and ate half of what's left of the rice", {2: [500]}),
        ("quietly finished what was left of the rice", {2: [1000]}),
    ),
)
def test_portions_of_pots(chat: Chat, text: str, portions: dict[int, list[float]]) -> None:
    chat.given(*COOKED)
    eaten = chat.say(text).all("weigh_in")
    found = {n: [e["as_weighed_g"] for e in eaten if e["batch"] == n] for n in {e["batch"] for e in eaten}}
    assert found == portions


@pytest.mark.parametrize(
    ("text", "gone"),
    (
        ("Jamie just swiped 280g of the dal lol", [280]),
        ("Raj's plate was 3 rotis with 250 g of the dal", [105, 250]),
        ("Priya's bowl was 260 g of the dal and 2 rotis", [260, 70]),
        ("Raj had 4 rotis off me and cleared the last of the rice", [140]),
        ("Dan's plate was rotis, 4 of them, with 320g of the dal", [140, 320]),
    ),
)
def test_what_others_took_is_on_nobodys_day(chat: Chat, text: str, gone: list[float]) -> None:
    chat.given(*COOKED)
    said = chat.say(text)
    assert [event["grams"] for event in said.all("batch_reduced")] == gone
    assert not said.all("weigh_in") + said.all("weigh_in_changed")


@pytest.mark.parametrize(
    "text",
    (
        "had 150 g of the dal, and sad to say the last of it went in the bin",
        "ate 150 g of dal then binned the remainder",
    ),
)
def test_a_portion_and_the_rest_thrown_out(chat: Chat, text: str) -> None:
    chat.given(*COOKED)
    said = chat.say(text)
    assert said.one("weigh_in")["as_weighed_g"] == 150
    assert said.one("batch_closed")


@pytest.mark.parametrize(
    ("text", "boxes", "box_g"),
    (
        ("split what's left of the rice in 4 equal tubs, one per workday", 4, 250),
        ("we divided the rice into 5 same size containers for everybody's lunches", 5, 200),
        ("froze the rest of the dal as 5 equal portions", 5, 250),
    ),
)
def test_pots_are_put_into_boxes(chat: Chat, text: str, boxes: int, box_g: float) -> None:
    chat.given(*COOKED)
    boxed = chat.say(text).one("batch_boxed")
    assert (boxed["boxes"], boxed["box_g"]) == (boxes, box_g)


@pytest.mark.parametrize(
    "text",
    (
        "20 rotis came out of it, all one size",
        "I got 20 rotis from the roti batch, each the same",
        "counted them: 20 rotis",
        "20 rotis in the batch of roti",
    ),
)
def test_pieces_are_counted_not_eaten(chat: Chat, text: str) -> None:
    chat.given(*ROTI)
    said = chat.say(text)
    assert said.one("batch_pieces")["pieces"] == 20
    assert not said.all("weigh_in")


@pytest.mark.parametrize(
    "text",
    (
        "boxed the stew in 5 equal ones and ate one right away with 150 g cooked white rice",
        "5 equal boxes of stew done, scoffed one with 150 g cooked white rice",
    ),
)
def test_a_box_eaten_as_soon_as_it_was_filled(chat: Chat, text: str) -> None:
    chat.given(*STEW)
    said = chat.say(text)
    assert said.one("batch_boxed")["box_g"] == 300
    assert [event["as_weighed_g"] for event in said.all("weigh_in")] == [300, 150]


def test_one_is_a_box_right_after_they_were_filled(chat: Chat) -> None:
    chat.given(*BOXES)
    eaten = chat.say("ate one now with 70 g sourdough bread").all("weigh_in")
    assert [event["batch"] for event in eaten] == [1, None]


@pytest.mark.parametrize(
    ("text", "mine", "theirs"),
    (
        ("last stew box but the cat got 80 g of it", 220, [80]),
        ("box of stew for lunch, I gave 50 g of it to the dog", 250, [50]),
        ("two boxes of stew gone today, one was me and one was Sue", 300, [300]),
    ),
)
def test_boxes_shared(chat: Chat, text: str, mine: float, theirs: list[float]) -> None:
    chat.given(*BOXES)
    said = chat.say(text)
    assert said.one("weigh_in")["as_weighed_g"] == mine
    assert [event["grams"] for event in said.all("batch_reduced")] == theirs


def test_both_boxes_are_two(chat: Chat) -> None:
    chat.given(*BOXES)
    assert chat.say("mum took both stew boxes home w her").one("batch_reduced")["grams"] == 600


@pytest.mark.parametrize("text", ("making the stew again, this time with 700 g beef", "stew again but 700 g beef"))
def test_only_what_is_told_changes_when_cooked_again(chat: Chat, text: str) -> None:
    chat.given(*BOXES)
    assert chat.say(text).one("batch_opened")["raw_g"] == 1600


@pytest.mark.parametrize(
    ("given", "text"),
    (
        ((), "my sister's making a new batch of chili, 2 kg beef"),
        ((), "dad is making lasagne tonight, 1 kg raw mince"),
        ((), "for dinner tomorrow chicken casserole, 900 g raw thighs and 300 g carrots"),
        (SOUP, "should I put another 200 g lentils in the soup?"),
        (SOUP, "tomorrow I'll throw in another 200 g carrots"),
        (CHILLI, "I want the chilli without cream next time"),
        (CHILLI, "is there cream in the chilli?"),
        (COOKED, "half of what's left of the rice is for Raj tomorrow"),
        (COOKED, "so the dal what have I got remaining"),
        (COOKED, "I want to split the rice in 5 tubs, how much each"),
        (COOKED, "Tim says he wants half of the dal"),
        (BOXES, "all the stew boxes stay in the fridge for now"),
    ),
)
def test_nothing_is_put_on_record(chat: Chat, given: tuple[str, ...], text: str) -> None:
    chat.given(*given)
    said = chat.say(text)
    assert not said.records
    assert not said.all("weigh_in_open")


@pytest.mark.parametrize(
    ("text", "grams"),
    (("pasta sauce 130 g, from the jar", 130), ("honey 15 g from jar", 15), ("ate one banana 110 g", 110)),
)
def test_another_food_is_no_box(chat: Chat, text: str, grams: float) -> None:
    chat.given(*BOXES)
    eaten = chat.say(text).one("weigh_in")
    assert (eaten["as_weighed_g"], eaten["batch"]) == (grams, None)


def test_a_number_heard_as_a_verb_goes_into_the_pot(chat: Chat) -> None:
    chat.given("startin a pot of red beans one pound of dry red beans going in")
    said = chat.say("ate ounces of smoked sausage in there too pork and beef")
    assert said.one("batch_changed")["raw_g"] == pytest.approx(680.4, abs=1)


def test_an_ingredient_whose_word_is_in_the_dishs_name_is_put_right(chat: Chat) -> None:
    chat.given("new batch beef stew: 700 g raw beef chuck, 200 g carrots", "stew cooked 800 g", "stew 330 g")
    said = chat.say("the beef in the stew was 780 not 700")
    assert said.one("batch_changed")["raw_g"] == 980
    assert said.one("weigh_in_changed")["as_weighed_g"] == 330


def test_the_beans_from_the_pot_are_the_batchs(chat: Chat) -> None:
    chat.given("new batch red beans: 500 g dry kidney beans, 1500 g water", "red beans cooked 1900 g")
    assert chat.say("250 g beans from the pot").recorded()["batch"] == 1


@pytest.mark.parametrize(
    ("text", "grams"),
    (
        ("Tim's share from the pot of dal was a third", 533),
        ("my mother got the half of the dal that remains", 625),
        ("Dan's had 400 g of the dal off me", 400),
    ),
)
def test_somebodys_share_of_a_pot(chat: Chat, text: str, grams: float) -> None:
    chat.given(*COOKED)
    assert chat.say(text).one("batch_reduced")["grams"] == pytest.approx(grams, abs=1)


@pytest.mark.parametrize(
    ("text", "boxes", "box_g"),
    (
        ("There's dal put away in the freezer now, in 2 boxes of 280g apiece", 2, 280),
        ("for the other three quarters of rice, it's in 4 boxes, all equal", 4, 250),
    ),
)
def test_boxes_told_as_what_is_there(chat: Chat, text: str, boxes: int, box_g: float) -> None:
    chat.given(*COOKED)
    boxed = chat.say(text).one("batch_boxed")
    assert (boxed["boxes"], boxed["box_g"]) == (boxes, box_g)


@pytest.mark.parametrize(
    ("text", "fat_g"),
    (
        ("skimmed fat off the chilli by pouring it out, 26 g", 26),
        ("took 35 g of grease off the chilli with a spoon", 35),
    ),
)
def test_fat_leaves_the_pot_in_any_words(chat: Chat, text: str, fat_g: float) -> None:
    chat.given(*CHILLI)
    assert chat.say(text).one("batch_drained")["fat_g"] == fat_g


def test_a_cake_told_in_slices_is_not_eaten_whole(chat: Chat) -> None:
    said = chat.say("For the birthday we had chocolate cake, 900 grams in 12 slices, and I one slice of it")
    assert said.one("weigh_in")["as_weighed_g"] == 75
    assert chat.say("Then I took a second slice of the cake, now it is enough").recorded()["as_weighed_g"] == 75


@pytest.mark.parametrize(
    "text", ("Morag came in and had 200 g of the dal, poor soul.", "harry just nicked 200 g of the dal fs")
)
def test_who_came_in_and_had_some(chat: Chat, text: str) -> None:
    chat.given(*COOKED)
    said = chat.say(text)
    assert said.one("batch_reduced")["grams"] == 200
    assert not said.all("weigh_in") + said.all("weigh_in_changed")


def test_boxes_for_work_are_filled_not_given_away(chat: Chat) -> None:
    chat.given(*COOKED)
    assert chat.say("rest of the dal into 2 boxes for work").one("batch_boxed")["box_g"] == 625


def test_a_word_about_whether_it_was_liked_changes_nothing(chat: Chat) -> None:
    chat.given(*COOKED)
    said = chat.say("My neighbour Frances was given some dal by me, 200 grams in a jar. I do not know if she liked it.")
    assert said.one("batch_reduced")["grams"] == 200
