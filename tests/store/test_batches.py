"""Batches of a kitchen, filled from what happened to them."""

from dataclasses import replace

import pytest

from bot.store import batches, journal, weighins
from bot.store.books import Books
from domain.batch_steps import Draw, Ingredient, Place
from domain.foods import State
from domain.nutrients import Nutrients
from domain.weighins import Evidence, WeighIn

from .records import Message, beef, eaten, record, share_kitchen, statements

BEANS = Ingredient("kidney beans", State.AS_SOLD, 400.0, Nutrients(436.0, 28.0, 2.0, 72.0, 26.0), "pulses", "canned")


def test_a_batch_comes_back_as_it_was_opened(message: Message) -> None:
    with message() as books:
        number = batches.open_batch(books, "chilli", [beef(), BEANS])
    with message() as books:
        batch = batches.get(books, number)
        assert batch is not None
        assert (batch.number, batch.name, batch.ingredients) == (1, "chilli", (beef(), BEANS))
        assert (batch.cooked_g, batch.fat_off_g, batch.taken_g, batch.reduced_g) == (None, 0, 0, 0)
        assert (batch.boxes, batch.closed) == ((), False)
        assert batches.open_batches(books) == [batch]


def test_numbers_are_the_kitchens_and_are_given_once(message: Message) -> None:
    with message("mira") as books:
        assert [batches.open_batch(books, name, [beef()]) for name in ("chilli", "ragu")] == [1, 2]
    with message("joao") as books:
        assert batches.open_batch(books, "soup", [BEANS]) == 1
        assert [batch.name for batch in batches.open_batches(books)] == ["soup"]
        assert batches.get(books, 2) is None
    share_kitchen(message, "mira", "joao")
    with message("joao") as books:
        assert batches.open_batch(books, "stew", [beef()]) == 3
        assert [batch.name for batch in batches.open_batches(books)] == ["chilli", "ragu", "stew"]


def test_the_latest_cooked_weight_counts_and_what_left_adds_up(message: Message) -> None:
    with message() as books:
        number = batches.open_batch(books, "chilli", [beef()])
        batches.cook(books, number, 950)
        batches.cook(books, number, 905)
        batches.drain(books, number, 60.5)
        batches.drain(books, number, 20)
        batches.reduce(books, number, Draw(100), "given away")
        batches.reduce(books, number, Draw(50), "the dog")
        batch = batches.get(books, number)
        assert batch is not None
        assert (batch.cooked_g, batch.fat_off_g, batch.reduced_g) == (905, 80.5, 150)


def test_taken_is_what_stands_on_anybodys_day(message: Message) -> None:
    share_kitchen(message, "mira", "joao")
    with message("mira") as books:
        number = batches.open_batch(books, "chilli", [beef()])
        other = batches.open_batch(books, "ragu", [beef()])
        batches.cook(books, number, 905)
        kept, lowered = record(books, eaten(grams=220, batch=number)), record(books, eaten(grams=100, batch=number))
        record(books, eaten(grams=999, batch=other))
        record(books, eaten(grams=999))
    with message("joao") as books:
        gone, moved = record(books, eaten(grams=50, batch=number)), record(books, eaten(grams=30, batch=number))
        weighins.remove(books, gone)
        weighins.change(books, moved, eaten(grams=30), moved.eaten_at, moved.day, None, b"")
    with message("mira") as books:
        weighins.change(books, lowered, eaten(grams=80, batch=number), lowered.eaten_at, lowered.day, None, b"")
        batch = batches.get(books, number)
        assert batch is not None
        assert batch.taken_g == 300
        assert batch.left_g == 605
        assert [portion.weigh_in.edible_g for portion in weighins.portions(books, number)] == [220, 80]
        assert kept in weighins.portions(books, number)


def boxed(grams: float, *numbers: int, evidence: Evidence = Evidence.BOXED) -> WeighIn:
    return replace(eaten(grams=grams, batch=1, evidence=evidence), boxes=numbers)


def weights(books: Books) -> dict[int, float]:
    batch = batches.get(books, 1)
    assert batch is not None
    return {box.number: box.grams for box in batch.boxes}


def test_boxes_are_numbered_on_and_taken_by_number(message: Message) -> None:
    with message() as books:
        batches.open_batch(books, "chilli", [beef()])
        batches.cook(books, 1, 1000)
        assert batches.box(books, 1, [280, 310.5], Place.FREEZER) == (1, 2)
        assert batches.box(books, 1, [None, None]) == (3, 4)
        assert weights(books) == {1: 280, 2: 310.5, 3: 204.75, 4: 204.75}
        record(books, boxed(310.5, 2))
        assert weights(books) == {1: 280, 3: 204.75, 4: 204.75}
        batches.reduce(books, 1, Draw(484.75, (1, 3), whole=True), "given away")
        batch = batches.get(books, 1)
        assert batch is not None
        assert (batch.left_g, batch.loose_g, batch.boxes_packed) == (204.75, 0, 4)
        assert batches.box(books, 1, [200], anew=True) == (5,)
        assert weights(books) == {5: 200}


def test_a_change_of_a_box_gives_the_old_one_back(message: Message) -> None:
    with message() as books:
        batches.open_batch(books, "chilli", [beef()])
        batches.cook(books, 1, 1000)
        batches.box(books, 1, [280, 310])
    with message() as books:
        taken = record(books, boxed(310, 2))
    with message() as books:
        taken = weighins.change(books, taken, boxed(280, 1), taken.eaten_at, taken.day, None, b"")
        assert weighins.get(books, taken.number) == taken
        assert weights(books) == {2: 310}
    with message() as books:
        opened = boxed(100, 2, evidence=Evidence.WEIGHED)
        weighins.change(books, taken, opened, taken.eaten_at, taken.day, None, b"")
        batch = batches.get(books, 1)
        assert batch is not None
        assert (weights(books), batch.loose_g) == ({1: 280}, 620)
    for expected in ({2: 310}, {1: 280}, {1: 280, 2: 310}):
        with message() as books:
            journal.undo(books, journal.last(books))
            assert weights(books) == expected


def test_boxes_that_are_undone_leave_their_numbers_alone(message: Message) -> None:
    with message() as books:
        batches.open_batch(books, "chilli", [beef()])
        batches.cook(books, 1, 1000)
    with message() as books:
        batches.box(books, 1, [100, 100])
    with message() as books:
        journal.undo(books, journal.last(books))
        assert batches.box(books, 1, [250]) == (3,)


def test_boxes_move_with_the_moment(message: Message) -> None:
    with message() as books:
        batches.open_batch(books, "chilli", [beef()])
        batches.cook(books, 1, 1000)
        cooked_at = books.at
        batches.box(books, 1, [280, 310])
    with message() as books:
        batches.move(books, 1, [2], Place.FREEZER)
        batches.move(books, 1, None, Place.FREEZER)
        batch = batches.get(books, 1)
        assert batch is not None
        assert [(box.place, box.since) for box in batch.boxes] == [
            (Place.FRIDGE, cooked_at),
            (Place.FREEZER, books.at),
        ]
        assert (batch.pot.loose_place, batch.pot.loose_since, batch.pot.cooked_at) == (
            Place.FREEZER,
            books.at,
            cooked_at,
        )


def test_ingredients_are_added_corrected_and_removed(message: Message) -> None:
    unknown = replace(BEANS, food="asafoetida", raw_g=1.0, nutrients=None)
    with message() as books:
        batches.open_batch(books, "chilli", [beef()])
    with message() as books:
        assert batches.add(books, 1, [BEANS, unknown]) == (1, 2)
    with message() as books:
        batches.correct(books, 1, 0, beef(1200))
    with message() as books:
        batches.remove(books, 1, 1)
        batch = batches.get(books, 1)
        assert batch is not None
        assert batch.lines == {0: beef(1200), 2: unknown}
        assert batch.unknown == {2: unknown}
    for expected in (
        {0: beef(1200), 1: BEANS, 2: unknown},
        {0: beef(), 1: BEANS, 2: unknown},
        {0: beef()},
    ):
        with message() as books:
            journal.undo(books, journal.last(books))
            batch = batches.get(books, 1)
            assert batch is not None
            assert batch.lines == expected
            assert batches.open_batches(books) == [batch]


def test_a_portion_stands_between_what_was_before_and_what_was_after(message: Message) -> None:
    with message() as books:
        batches.open_batch(books, "chilli", [beef(1000)])
        batches.cook(books, 1, 800)
        early = record(books, eaten(grams=200, batch=1))
        batches.add(books, 1, [BEANS])
        late = record(books, eaten(grams=200, batch=1))
        batches.weigh(books, 1, 700)
    with message() as books:
        # A change keeps its place.
        weighins.change(books, early, eaten(grams=400, batch=1), early.eaten_at, early.day, None, b"")
        batch = batches.get(books, 1)
        assert batch is not None
        first, second = (batch.portion((books.person.id, each.number)) for each in (early, late))
        assert first is not None
        assert second is not None
        assert (first[0], first[1].basis_g) == (400, 500)
        # Half the beef is left, and all of the beans: 900 g raw in 800 g.
        assert (second[0], second[1].basis_g) == (200, 225)
        assert batch.left_g == 700


def test_pieces_and_refuse_come_back_as_told(message: Message) -> None:
    with message() as books:
        batches.open_batch(books, "rotis", [beef(1000)])
        batches.cook(books, 1, 700)
        batches.take_refuse_out(books, 1, 60, line=0)
        batches.drain(books, 1, 25, fat=False)
        batches.count_out(books, 1, 8, "roti")
        record(books, replace(eaten(grams=160, batch=1, evidence=Evidence.COUNTED), pieces=2.0))
        batches.reduce(books, 1, Draw(80, pieces=1, whole=True), "given away")
        batch = batches.get(books, 1)
        assert batch is not None
        assert (batch.raw_g, batch.cooked_g, batch.pot.poured_g, batch.fat_off_g) == (940, 640, 25, 0)
        assert (batch.pot.piece, batch.piece_g, batch.pieces_left) == ("roti", 80, 5)
    with message() as books:
        # The pieces weigh what the pot weighs.
        batches.cook(books, 1, 800)
        batch = batches.get(books, 1)
        assert batch is not None
        assert (batch.piece_g, batch.taken_g, batch.pieces_left) == (100, 200, 5)


def test_a_batch_is_renamed_and_has_its_name_again(message: Message) -> None:
    with message() as books:
        batches.open_batch(books, "mince", [beef()])
    for name in ("chilli", "turkey chilli"):
        with message() as books:
            batches.rename(books, 1, name)
    found = []
    for _ in range(3):
        with message() as books:
            found.append([batch.name for batch in batches.open_batches(books)])
            journal.undo(books, journal.last(books))
    assert found == [["turkey chilli"], ["chilli"], ["mince"]]


def test_closed_batches_are_found_by_number_only(message: Message) -> None:
    with message() as books:
        for name in ("chilli", "ragu"):
            batches.open_batch(books, name, [beef()])
        batches.close(books, 1, 12, "finished")
        assert [batch.number for batch in batches.open_batches(books)] == [2]
        closed = batches.get(books, 1)
        assert closed is not None
        assert closed.closed
        batches.reopen(books, 1)
        assert [batch.number for batch in batches.open_batches(books)] == [1, 2]


def test_a_batch_stays_closed_when_something_else_is_undone(message: Message) -> None:
    with message() as books:
        batches.open_batch(books, "chilli", [beef()])
        batches.close(books, 1, 12, "finished")
    with message() as books:
        batches.cook(books, 1, 905)
    with message() as books:
        batches.reopen(books, 1)
    open_numbers = []
    for _ in range(3):
        with message() as books:
            open_numbers.append([batch.number for batch in batches.open_batches(books)])
            journal.undo(books, journal.last(books))
    # Open again; the reopening undone; the cooking undone as well.
    assert open_numbers == [[1], [], []]


@pytest.mark.parametrize("number", (0, -1, 2, 2**63, 10**40))
def test_a_batch_that_is_not_there(message: Message, number: int) -> None:
    with message() as books:
        batches.open_batch(books, "chilli", [beef()])
        assert batches.get(books, number) is None
        with pytest.raises(LookupError):
            batches.cook(books, number, 100)


def test_open_batches_take_four_statements_however_much_happened(message: Message) -> None:
    counts = []
    with message() as books:
        batches.open_batch(books, "chilli", [beef(), BEANS])
    for _ in range(2):
        with message() as books, statements(books) as seen:
            batches.open_batches(books)
            counts.append(len(seen))
        with message() as books:
            for _ in range(5):
                number = batches.open_batch(books, "ragu", [beef(), BEANS])
                batches.cook(books, number, 1400)
                for _ in range(5):
                    record(books, eaten(batch=number))
    assert counts == [4, 4]


def test_without_open_batches_one_statement_is_enough(message: Message) -> None:
    with message() as books:
        batches.open_batch(books, "chilli", [beef()])
        batches.close(books, 1, 0, "finished")
    with message() as books, statements(books) as seen:
        assert batches.open_batches(books) == []
        assert len(seen) == 1
