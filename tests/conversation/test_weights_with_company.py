"""Weights told with something beside them: another food's loss, refuse, a use, a rough hour, each of several."""

import pytest

from .chat import Chat


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("cooked trout fillet, 131 g, and the dog got nothing", [131]),
        ("boiled carrots 140 g, boiled green peas 55 g, potato not", [140, 55]),
        ("cold cooked haddock 160 g. The milk went down the sink", [160]),
        ("the jar of honey was at 412 before I sweetened the porridge and at 394 after", [18]),
        ("this morning around 7, 45 g cashews", [45]),
        ("yesterday about 8 I had 30 g walnuts", [30]),
        ("at 9 at night I had 40 g walnuts", [40]),
        ("two slices of pumpernickel at 38 each", [76]),
        ("breakfast was 2 boiled eggs and 60 g rye bread", [100, 60]),
        ("dinner: it was 2 boiled eggs and 60 g rye bread", [100, 60]),
    ),
)
def test_what_was_eaten_is_recorded(chat: Chat, said: str, grams: list[float]) -> None:
    found = chat.say(said)
    assert [each["as_weighed_g"] for each in found.records] == grams, found
    assert "question" not in found.kinds, found


@pytest.mark.parametrize(
    ("said", "edible"),
    (
        ("peeled the orange and it came to 131 g, it was 180 with the peel on", 131),
        ("banana 118 without the skin, 182 with it on", 118),
        ("leg of lamb, roasted, my piece was 280 with the bone, and the bone by itself is 70", 210),
    ),
)
def test_refuse_is_taken_off(chat: Chat, said: str, edible: float) -> None:
    assert chat.say(said).recorded()["edible_g"] == pytest.approx(edible)


@pytest.mark.parametrize(
    "said", ("salmon 150 g, the fish went in the bin", "120 g cooked chicken, chicken went down the sink")
)
def test_the_loss_of_the_food_itself_still_counts(chat: Chat, said: str) -> None:
    assert not chat.say(said).records


def test_no_vessel_weighs_more_than_with_food(chat: Chat) -> None:
    chat.say("tare 480, gross 455, cooked lentils").refused("above zero")


@pytest.mark.parametrize(
    ("recorded", "said", "grams"),
    (
        ("2 eggs", "It was three eggs.", 150),
        ("60 g rye bread", "it was 72 g of rye bread", 72),
        ("150 g plain yogurt", "That was 170 g plain yogurt really", 170),
    ),
)
def test_it_was_puts_the_last_one_right(chat: Chat, recorded: str, said: str, grams: float) -> None:
    chat.say(recorded)
    assert chat.say(said).changed()["as_weighed_g"] == grams


def test_it_was_tells_of_another_food(chat: Chat) -> None:
    chat.say("30 g almonds")
    assert chat.say("it was 45 g of walnuts").recorded()["food"] == "walnuts"


def test_people_are_no_pieces(chat: Chat) -> None:
    found = chat.say("both kids 150 each of the rice")
    assert not found.records, found
