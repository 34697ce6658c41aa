"""What was not eaten, or not by the writer, is asked about and never recorded unseen; what was eaten is recorded."""

import pytest

from tests.conversation.chat import Event, Said

from .conftest import Hear


def recorded(said: Said) -> list[Event]:
    return [*said.all("weigh_in"), *said.all("weigh_in_open")]


@pytest.mark.parametrize(
    "said",
    (
        "Whether 80 g of dry bulgur is more than 250 kcal I should like to know; I had none.",
        "The bairn got 60 g of blueberries",
        "My landlady baked 120 g of gingerbread",
        "The waiter sent 250 g of cooked rice for everybody but me",
        "One must never take more than 25 g of butter, says my brother the dentist.",
        "I have not, despite what the box looks like, touched the 70 g of dates",
        "150 ml coconut milk went to the curry of my sister, not to me",
        "the carton says 125 g plain yogurt but it was empty when I opened it",
        "I have yet to eat the 140 g boiled lentils",
        "90 g of walnuts are in the cupboard",
        "150 g cooked rice, which my neighbour ate",
        "my uncle fried and ate 200 g of mackerel",
        "110 g brie on the board and I had none",
    ),
)
def test_what_may_not_have_been_eaten_is_asked_about_or_left_off(heard: Hear, said: str) -> None:
    assert not recorded(heard(said))


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("if you must know, 180 g cooked rice", 180),
        ("I still haven't had my lunch apart from 85 g hummus", 85),
        ("my husband had gone to bed when I ate 40 g cheddar", 40),
        ("pear 150 g, from the tree that my neighbour planted", 150),
        ("hummus 60 g, don't ask me who finished the carrots", 60),
        ("the kids left 70 g of cooked rice and it went down the wrong way, but I ate it", 70),
        ("the scale says 85 g strawberries", 85),
        ("boiled potatoes 200 g, and I could not care less", 200),
        ("banana 118 g for lunch", 118),
    ),
)
def test_what_was_eaten_is_recorded_whatever_stands_beside_it(heard: Hear, said: str, grams: float) -> None:
    assert [e["as_weighed_g"] for e in heard(said).all("weigh_in")] == pytest.approx([grams])


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("My trainer demolished 250 g cooked rice. Me? 140 g cooked rice.", 140),
        ("Our guest drank 300 g whole milk, I drank 150 g whole milk.", 150),
    ),
)
def test_of_two_that_ate_the_same_only_the_writer_is_recorded(heard: Hear, said: str, grams: float) -> None:
    assert [e["as_weighed_g"] for e in heard(said).all("weigh_in")] == pytest.approx([grams])


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("Bought figs at the market and had 90 g of strawberries on the tram", 90),
        ("cherries, 140 g, which is what my sister left me", 140),
        ("cooked rice 180 g, like when i was a boy", 180),
        ("What with the rain and the phone, 85 g hummus", 85),
        ("did not touch the bread, only the ham, 70 g", 70),
        ("at lunch I'd hummus, what were left over, 90 g", 90),
    ),
)
def test_a_word_for_a_shop_a_habit_or_a_report_speaks_of_its_own_clause(heard: Hear, said: str, grams: float) -> None:
    assert [e["as_weighed_g"] for e in heard(said).all("weigh_in")] == pytest.approx([grams])


@pytest.mark.parametrize(
    "said",
    (
        "when i was a boy I had 200 g of porridge every day",
        "I wish I had 90 g of dark chocolate",
        "if only I had 40 g of cheddar",
        "bought 500 g strawberries, which were 3 euros",
    ),
)
def test_a_wish_a_habit_and_a_price_of_the_same_clause_still_record_nothing(heard: Hear, said: str) -> None:
    assert not recorded(heard(said))


@pytest.mark.parametrize(("answer", "grams"), (("yes", [60.0]), ("no", [])))
def test_the_question_is_answered_with_yes_or_no(heard: Hear, answer: str, grams: list[float]) -> None:
    said = "I have yet to eat the 60 g of blueberries"
    assert "Did you eat the 60 g blueberries?" in heard(said).text
    assert [e["as_weighed_g"] for e in heard(said, answer).all("weigh_in")] == grams


def test_a_part_behind_a_weight_leaves_no_stretch_without_words(heard: Hear) -> None:
    said = heard("raw cod fillet 220 g, skin 18 g but apple with core 154 g")
    assert [event["as_weighed_g"] for event in said.all("weigh_in")] == [pytest.approx(220), pytest.approx(154)]
