"""Portions of a pot as people tell them after a plan, of a pot among others, and off the scale."""

import pytest

from .chat import Chat


@pytest.fixture
def beans(chat: Chat) -> Chat:
    chat.say("new batch beans: 900 g dry pinto beans, 200 g onion")
    chat.say("batch 1 cooked 2500 g")
    return chat


@pytest.mark.parametrize(
    "said",
    (
        "I was going to make rice but my sister called and called and now it's late. so just 170 g from the pot",
        "we wanted to go out for pizza but it rained, so just 170 g of the beans",
        "170 g beans from the pot",
        "took 170",
    ),
)
def test_a_portion_of_the_only_pot(beans: Chat, said: str) -> None:
    eaten = beans.say(said).recorded()
    assert (eaten["batch"], eaten["as_weighed_g"]) == (1, 170)


def test_a_portion_is_from_the_pot_though_another_food_was_told_last(beans: Chat) -> None:
    beans.say("banana 118 g")
    assert beans.say("just 170 g from the pot").recorded()["batch"] == 1


def test_a_plan_that_stands_records_nothing(beans: Chat) -> None:
    assert not beans.say("I was going to have 170 g of the beans but only after the gym").records


def test_somebody_else_alone_leaves_the_pot_lighter(beans: Chat) -> None:
    said = beans.say("the neighbour came with her dish and I gave her 560 g of beans")
    assert [(e["type"], e["grams"]) for e in said.records] == [("batch_reduced", 560)]


def test_what_was_there_is_no_portion(beans: Chat) -> None:
    said = beans.say("there was 2400 g of the beans left, I had 300 of it and threw away what remained")
    assert [(e["type"], e.get("as_weighed_g")) for e in said.records] == [("weigh_in", 300), ("batch_closed", None)]


def test_more_than_is_left_is_asked_about_whoever_had_it(beans: Chat) -> None:
    beans.say("took 2300 from batch 1")
    said = beans.say("Tom had 300 of the beans")
    assert "batch_reduced" not in said.kinds


def test_the_rest_goes_to_the_freezer(beans: Chat) -> None:
    assert beans.say("rest of the beans went in the freezer").kinds == ["batch_moved"]


def test_of_two_pots_of_one_name_the_newer_is_told_apart(beans: Chat) -> None:
    beans.say("new batch beans: 800 g dry pinto beans")
    beans.say("batch 2 cooked 2000 g")
    assert beans.say("230 g of the new beans").recorded()["batch"] == 2
    assert beans.say("150 g of the old beans").recorded()["batch"] == 1
    given = beans.say("my friend took 400 g of the new beans home").one("batch_reduced")
    assert given["batch"] == 2


def test_another_slice_is_no_new_batch(chat: Chat) -> None:
    chat.say("new batch banana loaf: 330 g banana, 225 g self raising flour, 120 g butter")
    chat.say("loaf's out, 600 g, that's 12 slices")
    assert chat.say("another slice of the loaf").recorded()["as_weighed_g"] == pytest.approx(50)
    said = chat.say("mum's here, she had 2 slices and took 4 for my dad")
    assert [e["grams"] for e in said.all("batch_reduced")] == [pytest.approx(100), pytest.approx(200)]
    assert len(said.records) == 2


def test_crackers_are_no_pieces_of_the_soup(chat: Chat) -> None:
    chat.say("new batch soup: 700 g carrots, 300 g potatoes")
    chat.say("batch 1 cooked 900 g")
    assert chat.say("six saltine crackers, which came to eighteen grams").recorded()["batch"] is None


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("jar of peanut butter 412 before, 389 now", [23]),
        ("bowl 280, cooked quinoa 455, avocado 530, edamame 610, soy sauce 618", [175, 75, 80, 8]),
    ),
)
def test_readings_of_a_scale(chat: Chat, said: str, grams: list[float]) -> None:
    assert [e["as_weighed_g"] for e in chat.say(said).all("weigh_in")] == grams
