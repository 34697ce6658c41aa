"""The weight of one piece and how many there were, in every order; the stated weight beats the table's."""

import pytest

from .conftest import Hear


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("6 wheat crackers, they're 3 g each", 18),
        ("6 saltines, 4 g apiece", 24),
        ("saltines 4 g apiece, had 6", 24),
        ("2 bananas at 90 g a piece", 180),
        ("12 g per shortbread biscuit, had 3", 36),
        ("shortbread, 12 g each, 3 of them", 36),
        ("3 shortbread biscuits each 14 g", 42),
        ("each shortbread is 14 g and I had 3", 42),
        ("each shortbread weighs 14 g, I ate 3", 42),
        ("4 meatballs, each weighing 30 g", 120),
        ("2 slices of white bread at 38 g a slice", 76),
        ("2 slices of white bread, 38 g per slice", 76),
        ("2 eggs, each 55 g", 110),
        ("two 12 g shortbreads", 24),
        ("3 shortbreads - 14g ea", 42),
        ("had 3 rice cakes that are 8 g each", 24),
        ("3 rice cakes they were 8 g a piece", 24),
        ("2 pieces of baklava, 40 g a piece", 80),
        ("2 pieces of baklava, 80 g total", 80),
        ("3 rice cakes, 24 g", 24),
    ),
)
def test_the_stated_weight_of_one_counts(heard: Hear, said: str, grams: float) -> None:
    recorded = heard(said).recorded()
    assert recorded["as_weighed_g"] == grams
    assert recorded["evidence"] == "weighed"


@pytest.mark.parametrize(
    ("said", "millilitres"),
    (("2 beers, 330 ml each", 660), ("2 cans of lager of 440 ml", 880), ("4 x 330 ml beers", 1320)),
)
def test_so_do_millilitres_of_one(heard: Hear, said: str, millilitres: float) -> None:
    # SR28 14003: 12 fl oz of beer weigh 356 g.
    assert heard(said).recorded()["as_weighed_g"] == pytest.approx(millilitres * 356 / (12 * 29.5735), rel=0.01)


# SR28 18228: a saltine weighs 3 g; 18192: a shortbread 11.8 g.
@pytest.mark.parametrize(
    ("said", "grams"), (("six saltines of 3 g", 18), ("six saltines at 18 g", 18), ("3 shortbreads @ 12 g", 36))
)
def test_of_and_at_mean_one_or_all_whichever_is_near_the_usual_piece(heard: Hear, said: str, grams: float) -> None:
    assert heard(said).recorded()["as_weighed_g"] == grams


@pytest.mark.parametrize("said", ("4 meatballs at 40 g", "2 slices of quiche at 140 g"))
def test_near_neither_it_is_asked(heard: Hear, said: str) -> None:
    heard(said).asked()


def test_a_weight_for_each_cup_leaves_the_cups_alone(heard: Hear) -> None:
    records = heard("8 cups of tea with 30 ml milk each", region="UK").records
    assert [round(event["as_weighed_g"]) for event in records] == [2003, 248]


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("half a scone, the whole scone being 74 grams", 37),
        ("ate half of my daughter's blueberry muffin, the whole one was 96 g", 48),
        ("half a banana, the whole banana was 112 g peeled", 56),
        ("ate a third of the cheese pizza, the whole thing weighed 300 g", 100),
        ("3/4 of a banana, whole one 120 g", 90),
        ("half a 96 g blueberry muffin", 48),
        ("a third of a 300 g cheese pizza", 100),
        ("had half a tin of baked beans, the tin is 415 g", 207.5),
        ("400 g cheese pizza, half was mine", 200),
        ("100 g bar of milk chocolate, had a quarter", 25),
        ("200 g block of 70% dark chocolate, a quarter of it was mine", 50),
        ("garlic bread 280 g altogether, 60 g of it mine", 60),
        ("half an avocado, 68 g", 68),
        ("half a bar of milk chocolate, 50 g", 50),
    ),
)
def test_a_share_of_a_whole_that_was_weighed(heard: Hear, said: str, grams: float) -> None:
    assert heard(said).recorded()["as_weighed_g"] == pytest.approx(grams)


def test_a_share_of_another_food_is_no_share_of_what_was_weighed(heard: Hear) -> None:
    records = heard("250 g plain yogurt, half a banana 60 g").records
    assert [event["as_weighed_g"] for event in records] == [250, 60]


def test_what_was_for_others_is_taken_off(heard: Hear) -> None:
    assert heard("300 g cooked rice, 120 g of it for my son").recorded()["as_weighed_g"] == 180
