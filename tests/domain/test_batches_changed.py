"""A batch is changed as a pot can be: what is added leaves earlier portions alone, what was wrong recounts them."""

from math import isclose

import pytest

from domain.batch_steps import (
    Added,
    Boxed,
    Corrected,
    CountedOut,
    Draw,
    Ingredient,
    Moved,
    Place,
    Poured,
    Reduced,
    RefuseOut,
    Removed,
    Step,
    Taken,
    Weighed,
)
from domain.batches import Batch, EmptyBatch, MoreFatThanWentIn, TakenAlready
from domain.draws import (
    NoSuchBox,
    NotLoose,
    Of,
    WhichBox,
    WholeOrLeft,
    by_boxes,
    by_pieces,
    by_weight,
    equal_boxes,
    fill_boxes,
    from_box,
    pick_boxes,
    share_g,
)
from domain.errors import DomainError
from domain.foods import State
from domain.nutrients import Nutrients
from domain.recipes import factor_for, scaled

MINE = (1, 1)


def food(name: str, raw_g: float, kcal: float | None, fat_g: float = 0.0) -> Ingredient:
    """`kcal` and `fat_g` are those of all of it."""
    nutrients = None if kcal is None else Nutrients(kcal, 0, fat_g, 0, fibre_g=1)
    return Ingredient(name, State.RAW, raw_g, nutrients, "", "")


def curry(*more: Step) -> Batch:
    """500 g of pumpkin (200 kcal) and 100 g of coconut cream (600 kcal, 40 g of fat), cooked to 400 g."""
    parts = [food("pumpkin", 500, 200), food("coconut cream", 100, 600, 40)]
    return Batch.opened(1, "curry", parts, 400).then(*more)


def counted(batch: Batch) -> tuple[float, float]:
    """(raw basis in grams, kcal) of the portion."""
    found = batch.portion(MINE)
    assert found is not None
    return found[1].basis_g, found[1].nutrients.kcal


EATEN = Taken(MINE, Draw(100))


def test_an_addition_leaves_earlier_portions_alone() -> None:
    before = curry(EATEN)
    after = before.then(Added(2, food("peas", 150, 120)))
    assert counted(before) == counted(after) == (150, 200)
    # What was left of the old (450 g raw, 600 kcal) and the peas, in 450 g.
    assert after.left_g == 450
    assert isclose(after.share(90).basis_g, 120)
    assert isclose(after.share(90).nutrients.kcal, 144)
    assert (after.raw_g, after.cooked_g) == (750, 550)


def test_an_addition_that_was_cooked_and_weighed_counts_in_what_it_weighs() -> None:
    batch = curry(EATEN, Added(2, food("stock", 400, 20)), Weighed(500, anew=True))
    assert counted(batch) == (150, 200)
    assert batch.left_g == 500
    assert isclose(batch.share(250).nutrients.kcal, 310)
    assert isclose(batch.pot.evaporated_g, 200 + 200)


@pytest.mark.parametrize(
    ("step", "basis_g", "kcal"),
    (
        (Corrected(0, food("pumpkin", 600, 240)), 175, 210),
        (Corrected(0, food("sweet potato", 500, 430)), 150, 257.5),
        (Removed(1), 125, 50),
        (Weighed(300), 200, 800 / 3),
        (Poured(20), 150, 155),
        (RefuseOut(100), 200, 800 / 3),
        (RefuseOut(100, line=0), 500 / 3, 760 / 3),
    ),
)
def test_what_was_wrong_recounts_what_was_taken(step: Step, basis_g: float, kcal: float) -> None:
    batch = curry(EATEN, step)
    assert counted(batch) == pytest.approx((basis_g, kcal))


def test_a_line_that_was_added_late_is_corrected_where_it_went_in() -> None:
    batch = curry(EATEN, Added(2, food("peas", 150, 120)), Corrected(2, food("peas", 50, 40)))
    assert counted(batch) == (150, 200)
    assert batch.left_g == 350
    assert batch.then(Removed(2)).left_g == 300


def test_fat_poured_off_after_an_addition_is_of_what_there_is_now() -> None:
    batch = curry(EATEN, Added(2, food("bacon", 100, 400, 40)), Poured(30))
    assert counted(batch) == (150, 200)
    assert batch.left_g == 370
    assert isclose(batch.share(370).nutrients.kcal, 600 + 400 - 270)


def test_no_more_fat_is_poured_off_than_went_in() -> None:
    curry().check_pour(40)
    with pytest.raises(MoreFatThanWentIn) as error:
        curry(Poured(30)).check_pour(11)
    assert error.value.fat_g == 10
    # What is not known may be all fat.
    curry(Added(2, food("dripping", 60, None)), Weighed(400)).check_pour(100)


def test_an_unknown_ingredient_has_its_weight_and_open_figures() -> None:
    batch = Batch.opened(1, "curry", [food("pumpkin", 500, 200), food("curry paste", 100, None)], 300)
    share = batch.share(150)
    assert (share.basis_g, share.nutrients.kcal, share.open_g) == (300, 100, 50)
    assert not share.complete
    assert share.nutrients.fibre_g is None
    assert share.most_kcal == pytest.approx(100 + 451)
    known = batch.then(Corrected(1, food("curry paste", 100, 150)))
    assert known.share(150).complete
    assert known.share(150).nutrients.kcal == 175
    assert share.nutrients.kcal <= known.share(150).nutrients.kcal <= share.most_kcal


def test_a_batch_keeps_an_ingredient() -> None:
    curry().check_removal([0])
    with pytest.raises(EmptyBatch):
        curry().check_removal([0, 1])


def test_bones_are_no_more_than_what_they_were_in() -> None:
    curry().check_refuse(99, line=1)
    for grams, line in ((100, 1), (0, None), (400, None)):
        with pytest.raises(DomainError):
            curry().check_refuse(grams, line)


def test_a_weight_told_after_the_bones_were_out_is_one_without_them() -> None:
    assert curry(RefuseOut(100), Weighed(310)).left_g == 310


def test_what_was_taken_is_not_put_right_away() -> None:
    batch = curry(Taken(MINE, Draw(350)))
    batch.check(Weighed(346))
    for step in (Weighed(300), RefuseOut(90)):
        with pytest.raises(TakenAlready):
            batch.check(step)


def test_a_portion_changed_stands_at_its_own_place() -> None:
    batch = curry(EATEN, Added(2, food("peas", 150, 120)))
    changed = batch.drawing(MINE, Draw(200))
    assert counted(changed) == (300, 400)
    assert changed.left_g == 350
    assert changed.share(350).nutrients.kcal == pytest.approx(400 + 120)
    assert batch.without(MINE).share(550).nutrients.kcal == pytest.approx(920)


def test_pieces_are_equal_and_their_weight_follows_the_pot() -> None:
    batch = curry(CountedOut(8, "slice"))
    assert (batch.pot.piece, batch.piece_g, batch.pieces_left) == ("slice", 50, 8)
    taken = batch.then(Taken(MINE, by_pieces(batch, 3)))
    assert (taken.pieces_left, taken.left_g) == (5, 250)
    right = taken.then(Weighed(480))
    assert (right.piece_g, right.taken_g, right.pieces_left) == (60, 180, 5)
    topped = taken.then(Added(2, food("cheese", 50, 200)))
    assert (topped.piece_g, topped.pieces_left, topped.taken_g) == (60, 5, 150)
    assert by_pieces(taken, None).grams == 250


def test_pieces_counted_before_it_is_weighed_wait_for_the_weight() -> None:
    batch = Batch.opened(1, "rotis", [food("flour", 300, 1000)]).then(CountedOut(12, "roti"))
    assert batch.piece_g is None
    assert batch.then(Weighed(480)).piece_g == 40


def test_shares_are_of_the_whole_or_of_what_is_left() -> None:
    batch = curry()
    assert share_g(batch, 0.25, None) == 100
    taken = curry(EATEN)
    assert share_g(taken, 0.25, Of.WHOLE) == 100
    assert share_g(taken, 0.5, Of.LEFT) == 150
    assert share_g(taken, 1, None) == 300
    with pytest.raises(WholeOrLeft) as error:
        share_g(taken, 0.5, None)
    assert (error.value.whole_g, error.value.left_g) == (200, 150)


def boxed(*grams: float | None, place: Place | None = None) -> Batch:
    return curry(Boxed(tuple(enumerate(grams, start=1)), place))


def test_boxes_are_filled_from_what_is_loose() -> None:
    batch = boxed(120, 80)
    assert (batch.loose_g, batch.left_g) == (200, 400)
    assert fill_boxes(batch, [150, 53]) == (150, 50)
    for grams in ([150, 60], [250], [], [0.0]):
        with pytest.raises(DomainError):
            fill_boxes(batch, grams)
    assert equal_boxes(batch, 2) == 100
    for count in (0, 201):
        with pytest.raises(DomainError):
            equal_boxes(batch, count)


def test_equal_boxes_follow_the_weight_of_the_pot() -> None:
    batch = boxed(None, None)
    taken = batch.then(Taken(MINE, by_boxes(batch, [1])))
    right = taken.then(Weighed(360))
    assert [box.grams for box in right.boxes] == [180]
    assert (right.taken_g, right.loose_g) == (180, 0)


def test_grams_come_from_what_is_loose_else_it_is_asked() -> None:
    batch = boxed(150, 150)
    assert by_weight(batch, 104) == Draw(104)
    with pytest.raises(NotLoose) as error:
        by_weight(batch, 120)
    assert error.value.loose_g == 100
    opened = batch.then(Taken(MINE, from_box(batch, 2, 90)))
    assert ([box.number for box in opened.boxes], opened.loose_g) == ([1], 160)
    with pytest.raises(DomainError):
        from_box(batch, 1, 151)


def test_grams_taken_from_a_batch_that_is_all_in_boxes_open_one() -> None:
    batch = boxed(200, 200).then(Moved((1,), Place.FREEZER), Reduced(Draw(150)))
    assert [(box.number, box.place) for box in batch.boxes] == [(1, Place.FREEZER)]
    assert batch.loose_g == 50


def test_a_spoonful_out_of_a_box_leaves_the_box() -> None:
    batch = boxed(200, 200).then(Reduced(Draw(4)))
    assert [box.grams for box in batch.boxes] == [196, 200]


def test_which_box_is_asked_only_where_they_differ() -> None:
    alike = boxed(100, 100, 100).then(Moved((1,), Place.FREEZER))
    assert [box.number for box in pick_boxes(alike, 1)] == [2]
    assert [box.number for box in pick_boxes(alike, 1, Place.FREEZER)] == [1]
    assert [box.number for box in pick_boxes(alike, None)] == [2, 3, 1]
    with pytest.raises(NoSuchBox, match="1 box is left in the freezer"):
        pick_boxes(alike, 2, Place.FREEZER)
    unequal = boxed(140, 100)
    with pytest.raises(WhichBox) as error:
        pick_boxes(unequal, 1)
    assert [box.number for box in error.value.boxes] == [1, 2]
    assert [box.number for box in pick_boxes(unequal, 1, about_g=99)] == [2]
    with pytest.raises(NoSuchBox):
        by_boxes(alike, [4])


def test_a_box_holds_what_the_pot_held_when_it_was_filled() -> None:
    batch = boxed(100).then(Added(2, food("peas", 150, 120)))
    box = batch.then(Taken(MINE, by_boxes(batch, [1])))
    assert counted(box) == (150, 200)
    part = batch.then(Taken(MINE, from_box(batch, 1, 50)))
    assert counted(part) == (75, 100)
    # The other half of the box is in the pot again.
    assert part.loose_g == 500
    assert part.share(500).nutrients.kcal == pytest.approx(100 + 600 + 120)
    mixed = batch.then(Taken(MINE, Draw(500)))
    assert mixed.boxes == ()
    assert counted(mixed) == pytest.approx((500 / 550 * 750, 500 / 550 * 920))


def test_what_is_in_it_goes_down_as_it_is_eaten() -> None:
    assert curry().contents() == {0: 500, 1: 100}
    assert curry(EATEN, Added(2, food("peas", 150, 120))).contents() == {0: 375, 1: 75, 2: 150}


def test_a_recipe_is_cooked_again_in_other_amounts() -> None:
    parts = (*curry().ingredients, food("curry paste", 30, None))
    half = scaled(parts, 0.5)
    assert [part.raw_g for part in half] == [250, 50, 15]
    assert [part.nutrients and part.nutrients.kcal for part in half] == [100, 300, None]
    assert factor_for(parts[0], 750) == 1.5
    for wrong in (0, -1):
        with pytest.raises(DomainError):
            scaled(parts, wrong)
        with pytest.raises(DomainError):
            factor_for(parts[0], wrong)
