"""Boxes that the writer carried off and ate, plates told right after a batch, and what was cut into pieces."""

from __future__ import annotations

import pytest

from tests.conversation.chat import Said
from tests.language.conftest import Hear

DAL = ("dal: 500 g red lentils dry, 30 g ghee, 1500 g water", "dal is done, 1800 g")
BOXED = (*DAL, "boxed the dal into 6 tubs")  # 300 g each


def eaten(said: Said) -> list[float]:
    return [round(e["as_weighed_g"], 2) for e in said.all("weigh_in")]


def gone(said: Said) -> list[float]:
    return [round(e["grams"], 2) for e in said.all("batch_reduced")]


@pytest.mark.parametrize(
    ("text", "grams", "lost"),
    (
        ("took a box to work, just had it", 300, []),
        ("took a dal box to work and had it at my desk", 300, []),
        ("brought a tub to the office, ate it there", 300, []),
        ("and the box on sunday i ate it myself", 300, []),
        ("carried a tub into work and scoffed it", 300, []),
        ("another box today, left about 60g of it though", 240, []),
        ("box of dal, left 50g of it", 250, []),
        ("ate a dal tub, left 80 g of it", 220, []),
        ("had a tub of dal but couldnt finish, 70 g left over", 230, []),
        ("ate half a tub of dal, the other half went in the bin", 150, [150]),
        ("half a box of dal, binned the rest of it", 150, [150]),
        ("had a third of a dal box, the rest got thrown out", 100, [200]),
    ),
)
def test_a_box_that_the_writer_ate(heard: Hear, text: str, grams: float, lost: list[float]) -> None:
    said = heard(*BOXED, text)
    assert eaten(said) == [grams]
    assert gone(said) == lost


def test_a_box_with_something_beside_it(heard: Hear) -> None:
    assert eaten(heard(*BOXED, "one of the dal tubs, with a 60g naan")) == [300, 60]


@pytest.mark.parametrize(
    "text",
    (
        "took a box to work for Dave, he had it",
        "gave a box to mum, she ate it",
        "took a box to the potluck",
        "will take a box to work and eat it there",
        "if I take a box to work, do I log it?",
    ),
)
def test_a_box_that_somebody_else_ate(heard: Hear, text: str) -> None:
    assert not heard(*BOXED, text).all("weigh_in")


@pytest.mark.parametrize(
    ("text", "mine", "theirs"),
    (
        ("dished up 380g for me, 180 for ellie", [380], [180]),
        ("dished up 380 for me and 180 for my wife", [380], [180]),
        ("served 350 to me, 200 to dad", [350], [200]),
        ("plated 400g mine, 250g hers", [400], [250]),
        ("380 for me, 180 for ellie", [380], [180]),
        ("250 for my son, 320 for me", [320], [250]),
        ("kid had 150g of it", [], [150]),
        ("320 of that", [320], []),
        ("had 320 g of that", [320], []),
        ("i had 290 of it", [290], []),
    ),
)
def test_plates_right_after_the_batch(heard: Hear, text: str, mine: list[float], theirs: list[float]) -> None:
    said = heard(*DAL, text)
    assert (eaten(said), gone(said)) == (mine, theirs)


@pytest.mark.parametrize(
    "text", ("dishing up 380g for me and 180 for ellie later", "should I dish up 380 for me, 180 for ellie?")
)
def test_plates_that_are_only_planned(heard: Hear, text: str) -> None:
    said = heard(*DAL, text)
    assert (eaten(said), gone(said)) == ([], [])


@pytest.mark.parametrize(
    ("text", "grams"),
    (
        ("the kids had a quarter of the pot between them", 450),
        ("tim had a third of the pot", 600),
        ("my brother ate half the batch", 900),
        ("gave the neighbours a quarter of the pot", 450),
        ("hubby took a fifth of the pot to work", 360),
    ),
)
def test_a_share_of_the_pot_is_of_all_of_it(heard: Hear, text: str, grams: float) -> None:
    said = heard(*DAL, "had 300 g of the dal", text)
    assert gone(said) == [grams]
    assert "question" not in said.kinds


@pytest.mark.parametrize(
    ("text", "grams"),
    (
        ("cut it in 6, i had one piece", [300]),
        ("cut it into 8 and had 2 slices", [450]),
        ("sliced it into twelve. ate one", [150]),
        ("cut the dal into 6, I had a piece", [300]),
        ("divided it into 9, i ate 2 squares", [400]),
    ),
)
def test_pieces_of_the_batch_spoken_of(heard: Hear, text: str, grams: list[float]) -> None:
    assert eaten(heard(*DAL, text)) == grams


@pytest.mark.parametrize(
    ("text", "grams"),
    (
        ("birthday chocolate cake 900 g cut into 12, I had one slice", 75),
        ("apple pie 800g cut in 8 and i ate 1", 100),
        ("lemon cheesecake 1.2 kg sliced into 10, had two slices", 240),
        ("mums carrot cake 960 g, cut it into 8. had a slice", 120),
        ("pepperoni pizza 640 g cut into 8, I ate 3 slices", 240),
    ),
)
def test_a_whole_that_is_cut_up(heard: Hear, text: str, grams: float) -> None:
    assert eaten(heard(text)) == [grams]


def test_one_more_slice_of_what_was_cut_up(heard: Hear) -> None:
    said = heard("birthday chocolate cake 900 g cut into 12, I had one slice", "one more slice of the cake for me")
    assert eaten(said) == [75]


@pytest.mark.parametrize("text", ("cut it in 6, tim had one piece", "cut it into 6, i'll have one piece later"))
def test_pieces_that_the_writer_did_not_have(heard: Hear, text: str) -> None:
    assert not heard(*DAL, text).all("weigh_in")


@pytest.mark.parametrize(
    ("text", "grams"),
    (
        ("roast chicken breast: 145 g meat for me, 210 g for tim, 90 g each for the kids", 145),
        ("roast chicken breast: 145 g for me, 210 g for tim", 145),
        ("cooked white rice: 200 g for my son, 180 g for me", 180),
        ("grilled salmon: 130 g mine, 160 g for dad", 130),
        ("cheddar: 40 g for me, 60 g for my wife", 40),
    ),
)
def test_a_dish_that_heads_the_plates(heard: Hear, text: str, grams: float) -> None:
    assert eaten(heard(text)) == [grams]


def test_plates_that_are_all_somebody_elses(heard: Hear) -> None:
    assert not heard("cheddar: 40 g for tim, 60 g for my wife").all("weigh_in")
