"""What was eaten of what was there: of what was got ready, of what another took a bite of, of what was read twice."""

import pytest

from tests.conversation.chat import Event, Said

from .conftest import Hear


def recorded(said: Said) -> list[Event]:
    return [*said.all("weigh_in"), *said.all("weigh_in_open")]


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("picked 400 g of plums, ate 150", 150),
        ("bought 300 g of radishes for 1.20, ate 90g on the bus", 90),
        ("poured 300 g buttermilk, drank 220", 220),
        ("weighed 140 g rocket, only managed 60", 60),
        ("the dog pinched 30 g of my 150 g raw haddock", 120),
        ("had trout, baked, 190 g, but the cat got 25 of that", 165),
        ("cut 70g off the 350 g block of gouda", 70),
        ("wedge of gouda now 280, was 350", 70),
        ("85 g hummus at 20 past 9", 85),
        ("65g gouda at 25 to 4", 65),
    ),
)
def test_what_was_eaten_of_it_is_recorded(heard: Hear, said: str, grams: float) -> None:
    assert [round(each["edible_g"]) for each in recorded(heard(said))] == [grams]


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("210 g cooked pasta for me, my wife had 160", [210]),
        ("had 200 g cooked white rice and ate 90 g raw cod", [200, 90]),
        ("the kids had eaten the crisps so I had an apple, 150 g", [150]),
        ("as always, 60 g dry oats", [60]),
    ),
)
def test_what_only_looks_like_a_part_is_left_as_it_is(heard: Hear, said: str, grams: list[float]) -> None:
    assert [round(each["as_weighed_g"]) for each in recorded(heard(said))] == grams


@pytest.mark.parametrize(
    "said",
    (
        "three summers ago i was eating 450 g of cooked pasta a night",
        "in 1998 i weighed 80g of almonds",
        "i used to be able to eat 380g of cooked rice",
        "my aunt always put 60 g of butter in",
        "pretend i ate 210 g of broccoli",
        "the lad at table two is eating 300 g of pierogi",
        "need: bin bags, 2 kg spuds, 400 g butter",
        "theyve eaten my toast. the 55g one. gone",
    ),
)
def test_what_is_told_of_other_days_or_people_is_never_recorded_unasked(heard: Hear, said: str) -> None:
    assert not recorded(heard(said))
