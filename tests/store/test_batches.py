"""Batches of a kitchen, filled from what happened to them."""

import pytest

from bot.store import batches, journal, weighins
from bot.store.books import Books
from domain.batches import Boxes, Ingredient
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
        assert (batch.boxes, batch.closed) == (None, False)
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
        batches.reduce(books, number, 100, "given away")
        batches.reduce(books, number, 50, "the dog")
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


def test_boxes_taken_are_those_since_the_boxing(message: Message) -> None:
    def box(grams: float) -> WeighIn:
        return eaten(grams=grams, batch=1, evidence=Evidence.BOXED)

    def boxes(books: Books) -> Boxes | None:
        batch = batches.get(books, 1)
        return None if batch is None else batch.boxes

    with message() as books:
        batches.open_batch(books, "chilli", [beef()])
        batches.cook(books, 1, 1000)
        batches.box(books, 1, 5, 200)
        earlier = record(books, box(200))
        record(books, box(400))
        record(books, eaten(grams=10, batch=1))
        assert boxes(books) == Boxes(5, 200, 3)
    with message() as books:
        batches.box(books, 1, 3, 130)
        assert boxes(books) == Boxes(3, 130, 0)
        record(books, box(260))
        assert boxes(books) == Boxes(3, 130, 2)
        # A change of a box from before belongs to the boxes from before.
        changed = weighins.change(books, earlier, box(400), earlier.eaten_at, earlier.day, None, b"")
        assert boxes(books) == Boxes(3, 130, 2)
        weighins.remove(books, changed)
        assert boxes(books) == Boxes(3, 130, 2)


def test_an_earlier_weigh_in_that_turns_out_to_be_a_box_is_one(message: Message) -> None:
    with message() as books:
        rice = record(books, eaten())
        batches.open_batch(books, "chilli", [beef()])
        batches.box(books, 1, 5, 200)
        box = eaten(grams=200, batch=1, evidence=Evidence.BOXED)
        weighins.change(books, rice, box, rice.eaten_at, rice.day, None, b"")
        batch = batches.get(books, 1)
        assert batch is not None
        assert batch.boxes == Boxes(5, 200, 1)


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
