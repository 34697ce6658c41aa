"""Undo: all that a message changed, message by message, never the undo itself."""

from dataclasses import replace
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from bot.store import batches, facts, journal, weighins
from bot.store.books import Books
from bot.store.engine import open_store
from domain.foods import State
from domain.weighins import Evidence

from .records import MONDAY, Message, beef, eaten, messages_to, record, share_kitchen

TODAY = MONDAY.date()


def undo_last(books: Books) -> list[journal.Undone]:
    return journal.undo(books, journal.last(books))


def test_undo_takes_back_all_that_the_last_message_recorded(message: Message) -> None:
    with message() as books:
        kept = record(books, eaten("rice"))
    with message() as books:
        record(books, eaten("cheddar"))
        record(books, eaten("bread"))
        facts.save_tare(books, "blue bowl", 132)
    with message() as books:
        entries = journal.last(books)
        assert [entry.kind for entry in entries] == ["tare", "weigh_in", "weigh_in"]
        undone = journal.undo(books, entries)
        assert [each.before and each.before.weigh_in.food for each in undone] == [None, "bread", "cheddar"]
        assert [each.now for each in undone] == [None, None, None]
        assert [each.name for each in undone] == ["blue bowl", None, None]
        assert weighins.on_day(books, TODAY) == [kept]
        assert facts.tares(books) == {}


def test_undo_again_goes_one_further_back_and_never_redoes(message: Message) -> None:
    for food in ("rice", "cheddar"):
        with message() as books:
            record(books, eaten(food))
    left = []
    for _ in range(3):
        with message() as books:
            undo_last(books)
            left.append([stored.weigh_in.food for stored in weighins.on_day(books, TODAY)])
    assert left == [["rice"], [], []]


def test_undoing_a_change_restores_the_old_values(message: Message) -> None:
    with message() as books:
        old = record(books, eaten(grams=200))
    with message() as books:
        new = weighins.change(books, old, eaten("bread", 280), MONDAY, TODAY, "lunch", b"new")
    with message() as books:
        (entry,) = journal.last(books)
        assert journal.details(books, entry) == journal.Details(now=new, before=old)
        (undone,) = journal.undo(books, [entry])
        assert undone.kind == "weigh_in_changed"
        assert undone.before == new
        assert undone.now == weighins.get(books, old.number)
        assert undone.now is not None
        assert undone.now == replace(old, row_id=undone.now.row_id, inbound_id=books.inbound_id)


def test_undoing_a_removal_restores_the_weigh_in(message: Message) -> None:
    with message() as books:
        old = record(books, eaten())
    with message() as books:
        weighins.remove(books, old)
    with message() as books:
        (entry,) = journal.last(books)
        assert journal.details(books, entry) == journal.Details(now=None, before=old)
        (undone,) = journal.undo(books, [entry])
        assert (undone.kind, undone.before) == ("weigh_in_removed", None)
        assert undone.now == weighins.get(books, old.number)
        assert undone.now is not None
        assert undone.now.weigh_in == old.weigh_in
    with message() as books:
        (undone,) = undo_last(books)
        assert (undone.kind, undone.now) == ("weigh_in", None)
        assert weighins.count(books) == 0


def test_batches_and_what_happened_to_them_are_undone(message: Message) -> None:
    with message() as books:
        batches.open_batch(books, "chilli", [beef()])
    with message() as books:
        batches.cook(books, 1, 950)
    with message() as books:
        batches.cook(books, 1, 905)
    with message() as books:
        batches.close(books, 1, 3, "finished")
    with message() as books:
        (entry,) = journal.last(books)
        assert journal.details(books, entry) == journal.Details(batch=1, event="closed", grams=3)
        (undone,) = journal.undo(books, [entry])
        assert (undone.kind, undone.batch, undone.name) == ("batch_event", 1, "closed")
        assert [batch.cooked_g for batch in batches.open_batches(books)] == [905]
    with message() as books:
        undo_last(books)
        assert [batch.cooked_g for batch in batches.open_batches(books)] == [950]
    with message() as books:
        undo_last(books)
        assert [batch.cooked_g for batch in batches.open_batches(books)] == [None]
    with message() as books:
        (entry,) = journal.last(books)
        assert journal.details(books, entry) == journal.Details(batch=1, name="chilli")
        (undone,) = journal.undo(books, [entry])
        assert (undone.kind, undone.batch, undone.name) == ("batch_opened", 1, "chilli")
        assert batches.get(books, 1) is None
        assert batches.open_batches(books) == []
        assert batches.open_batch(books, "ragu", [beef()]) == 2


def test_nobody_undoes_what_another_did(message: Message) -> None:
    share_kitchen(message, "mira", "joao")
    with message("mira") as books:
        record(books, eaten())
        entries = journal.last(books)
    with message("joao") as books:
        assert journal.last(books) == []
        assert journal.undo(books, entries) == []
    with message("mira") as books:
        assert weighins.count(books) == 1
        assert journal.last(books) == entries


def test_an_entry_is_undone_once(message: Message) -> None:
    with message() as books:
        record(books, eaten())
        entries = journal.last(books)
    with message() as books:
        assert len(journal.undo(books, entries)) == 1
        assert journal.undo(books, entries) == []


def test_what_somebody_changed_since_is_left_alone(message: Message) -> None:
    share_kitchen(message, "mira", "joao")
    with message("mira") as books:
        batches.open_batch(books, "chilli", [beef()])
    with message("joao") as books:
        his = record(books, eaten("chilli", 220, batch=1))
    with message("mira") as books:
        recounted = replace(his.weigh_in, basis_g=300.0)
        his = weighins.change(books, his, recounted, his.eaten_at, his.day, None, b"")
    with message("joao") as books:
        fixed = replace(his.weigh_in, as_weighed_g=250.0, edible_g=250.0)
        his = weighins.change(books, his, fixed, his.eaten_at, his.day, None, b"")
    with message("mira") as books:
        (undone,) = undo_last(books)
        assert undone.now == undone.before == his
    with message("joao") as books:
        assert weighins.get(books, 1) == his
        weighins.remove(books, his)
    with message("mira") as books:
        assert journal.last(books)[0].kind == "batch_opened"


def test_an_undone_boxing_gives_way_to_the_one_before(message: Message) -> None:
    with message() as books:
        batches.open_batch(books, "chilli", [beef()])
        batches.box(books, 1, [200] * 5)
        record(books, eaten(grams=200, batch=1, evidence=Evidence.BOXED))
    with message() as books:
        before = batches.get(books, 1)
        batches.box(books, 1, [400] * 2, anew=True)
    with message() as books:
        undo_last(books)
        assert batches.get(books, 1) == before


def _snapshot(books: Books) -> Any:
    """All that a person sees of their records."""
    return (
        [(each.number, each.weigh_in, each.eaten_at, each.day, each.meal, each.said) for each in _all(books)],
        batches.open_batches(books),
        facts.tares(books),
        facts.habits(books),
        facts.settings(books),
    )


def _all(books: Books) -> list[weighins.StoredWeighIn]:
    return weighins.between(books, TODAY, TODAY)


def _act(books: Books, action: str, number: int) -> None:
    mine, open_ones = _all(books), batches.open_batches(books)
    one = mine[number % len(mine)] if mine else None
    batch = open_ones[number % len(open_ones)].number if open_ones else None
    if action == "add":
        record(books, eaten(grams=100.0 + number, batch=batch if number % 2 else None))
    elif action == "change" and one:
        changed = replace(one.weigh_in, edible_g=one.weigh_in.edible_g + 1, batch=batch)
        weighins.change(books, one, changed, one.eaten_at, one.day, "lunch", b"changed")
    elif action == "remove" and one:
        weighins.remove(books, one)
    elif action == "open":
        batches.open_batch(books, f"batch {number}", [beef(number + 1.0)])
    elif action == "close" and batch:
        batches.close(books, batch, float(number), "finished")
    elif action == "cook" and batch:
        batches.cook(books, batch, 500.0 + number)
    elif action == "box" and batch:
        batches.box(books, batch, [100.0 + number] * 4)
    elif action == "tare":
        facts.save_tare(books, f"bowl {number % 2}", float(number))
    elif action == "habit":
        facts.save_habit(books, "rice", State.RAW if number % 2 else State.COOKED)
    elif action == "setting":
        facts.save_setting(books, "units", str(number))


ACTIONS = st.sampled_from(("add", "change", "remove", "open", "close", "cook", "box", "tare", "habit", "setting"))
MESSAGES = st.lists(st.lists(st.tuples(ACTIONS, st.integers(0, 7)), min_size=1, max_size=4), max_size=8)


@settings(max_examples=60, deadline=None)
@given(MESSAGES)
def test_undo_leads_back_through_every_state_there_was(messages: list[list[tuple[str, int]]]) -> None:
    store = open_store("sqlite://")
    message = messages_to(store)
    before = []
    for actions in messages:
        with message() as books:
            snapshot = _snapshot(books)
            for action, number in actions:
                _act(books, action, number)
            if journal.last(books) and journal.last(books)[0].inbound_id == books.inbound_id:
                before.append(snapshot)
    for snapshot in reversed(before):
        with message() as books:
            assert undo_last(books)
            assert _snapshot(books) == snapshot
    with message() as books:
        assert journal.last(books) == []
    store.close()
