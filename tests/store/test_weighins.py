"""Weigh-ins: a chain of rows each, the person's own numbers, nobody else's records."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from sqlalchemy import select
from sqlalchemy.exc import IntegrityError

from bot.store import batches, journal, people, weighins
from bot.store.schema import weigh_in as table
from domain.foods import State
from domain.nutrients import Nutrients
from domain.quantities import Region
from domain.weighins import Evidence, WeighIn

from .records import MONDAY, Message, beef, eaten, record, share_kitchen, statements

TODAY = MONDAY.date()
TOO_LARGE = 2**63


def test_everything_comes_back_as_it_was(message: Message) -> None:
    everything = Nutrients(1.1, 2.2, 3.3, 4.4, 5.5, 6.6, 7.7, 8.8, 9.9)
    apple = WeighIn("apple", State.RAW, 212.3, 191.07, 190.01, State.AS_SOLD, Evidence.REFUSE_TABLE, everything)
    eaten_at = MONDAY - timedelta(hours=5, microseconds=1)
    with message() as books:
        added = weighins.add(books, apple, eaten_at, date(2026, 3, 1), "breakfast", b"\x00\xff")
    with message() as books:
        assert weighins.get(books, 1) == added
        assert added.weigh_in == apple
        assert (added.eaten_at, added.day, added.meal, added.said) == (
            eaten_at,
            date(2026, 3, 1),
            "breakfast",
            b"\x00\xff",
        )


def test_the_moment_comes_back_in_utc_whatever_zone_it_was_told_in(message: Message) -> None:
    with message() as books:
        weighins.add(books, eaten(), books.local, books.today, None, b"")
    with message() as books:
        stored = weighins.latest(books)
        assert stored is not None
        assert stored.eaten_at.utcoffset() == timedelta(0)
        assert stored.eaten_at == MONDAY + timedelta(minutes=1)


def test_a_weight_alone_has_no_nutrients(message: Message) -> None:
    with message() as books:
        record(books, eaten(nutrients=None))
        stored = weighins.get(books, 1)
        assert stored is not None
        assert stored.weigh_in.nutrients is None


def test_numbers_are_each_persons_own_and_are_given_once(message: Message) -> None:
    with message("mira") as books:
        assert [record(books, eaten()).number for _ in range(3)] == [1, 2, 3]
    with message("joao") as books:
        assert record(books, eaten()).number == 1
    with message("mira") as books:
        last = weighins.get(books, 3)
        assert last is not None
        weighins.remove(books, last)
        assert record(books, eaten()).number == 4


def test_a_change_keeps_the_number_and_the_old_row(message: Message) -> None:
    with message() as books:
        old = record(books, eaten(grams=200))
    with message() as books:
        new = weighins.change(books, old, eaten(grams=280), old.eaten_at, old.day, "lunch", b"fixed")
        assert (new.number, new.person_id) == (old.number, old.person_id)
        assert weighins.get(books, old.number) == new
        assert weighins.version(books, old.row_id) == old
        assert weighins.replaced_by(books, new.row_id) == old
        assert weighins.on_day(books, TODAY) == [new]
        assert weighins.count(books) == 1


def test_a_removed_weigh_in_is_found_nowhere(message: Message) -> None:
    with message() as books:
        gone = record(books, eaten("rice"))
        first_message = books.inbound_id
    with message() as books:
        weighins.remove(books, gone)
        assert weighins.get(books, gone.number) is None
        assert weighins.latest(books) is None
        assert weighins.latest_of_food(books, "rice", TODAY) is None
        assert weighins.on_day(books, TODAY) == []
        assert weighins.from_message(books, first_message) == []
        assert weighins.count(books) == 0


def test_a_version_is_replaced_only_once(message: Message) -> None:
    with message() as books:
        old = record(books, eaten(grams=200))
        weighins.change(books, old, eaten(grams=210), old.eaten_at, old.day, None, b"")
    with pytest.raises(IntegrityError), message() as books:
        weighins.change(books, old, eaten(grams=220), old.eaten_at, old.day, None, b"")
    with message() as books:
        assert [stored.weigh_in.edible_g for stored in weighins.on_day(books, TODAY)] == [210]


def test_nothing_of_a_message_that_fails_stays(message: Message) -> None:
    with pytest.raises(ZeroDivisionError), message() as books:
        _ = record(books, eaten()).number / 0
    with message() as books:
        assert weighins.count(books) == 0
        assert journal.last(books) == []


def test_another_persons_number_is_never_found(message: Message) -> None:
    with message("mira") as books:
        mine = record(books, eaten("rice"))
        record(books, eaten("rice"))
        miras_message = books.inbound_id
    with message("joao") as books:
        assert weighins.get(books, 1) is None
        assert weighins.get(books, 2) is None
        assert weighins.latest(books) is None
        assert weighins.latest_of_food(books, "rice", TODAY) is None
        assert weighins.between(books, date.min, date.max) == []
        assert weighins.count(books) == 0
        record(books, eaten("bread"))
        assert weighins.from_message(books, miras_message) == []
        for touch in (
            lambda: weighins.change(books, mine, eaten(), mine.eaten_at, mine.day, None, b""),
            lambda: weighins.remove(books, mine),
            lambda: weighins.version(books, mine.row_id),
        ):
            with pytest.raises(PermissionError):
                touch()


def test_a_portion_of_the_same_kitchen_can_be_recounted(message: Message) -> None:
    share_kitchen(message, "mira", "joao")
    with message("mira") as books:
        number = batches.open_batch(books, "chilli", [beef()])
    with message("joao") as books:
        his = record(books, eaten("chilli", 220, batch=number))
    with message("mira") as books:
        (portion,) = weighins.portions(books, number)
        assert portion == his
        recounted = replace(portion.weigh_in, basis_g=303.867)
        weighins.change(books, portion, recounted, portion.eaten_at, portion.day, portion.meal, portion.said)
        assert weighins.count(books) == 0
    with message("joao") as books:
        stored = weighins.get(books, his.number)
        assert stored is not None
        assert stored.weigh_in == recounted
        assert stored.person_id == books.person.id


def test_days_come_in_the_order_eaten(message: Message) -> None:
    tuesday = TODAY + timedelta(days=1)
    with message() as books:
        for minutes, day in ((30, TODAY), (10, TODAY), (20, tuesday), (10, TODAY)):
            weighins.add(books, eaten(), MONDAY + timedelta(minutes=minutes), day, None, b"")
        assert [stored.number for stored in weighins.on_day(books, TODAY)] == [2, 4, 1]
        assert [stored.number for stored in weighins.on_day(books, tuesday)] == [3]
        assert [stored.number for stored in weighins.between(books, TODAY, tuesday)] == [2, 4, 3, 1]


def test_the_latest_is_the_one_with_the_highest_number(message: Message) -> None:
    with message() as books:
        rice, cheese, more_rice = (record(books, eaten(food)) for food in ("rice", "cheddar", "rice"))
    with message() as books:
        assert weighins.latest(books) == more_rice
        assert weighins.latest_of_food(books, "cheddar", TODAY) == cheese
        assert weighins.latest_of_food(books, "rice", TODAY) == more_rice
        assert weighins.latest_of_food(books, "rice", TODAY + timedelta(days=1)) is None
        weighins.remove(books, more_rice)
        assert weighins.latest(books) == cheese
        changed = weighins.change(books, rice, eaten("rice", 1), rice.eaten_at, rice.day, None, b"")
        assert weighins.latest(books) == cheese
        assert weighins.latest_of_food(books, "rice", TODAY) == changed


def test_what_a_message_caused_follows_later_changes(message: Message) -> None:
    with message() as books:
        rice, cheese = record(books, eaten("rice")), record(books, eaten("cheddar"))
        first = books.inbound_id
    with message() as books:
        bread = record(books, eaten("bread"))
        changed = weighins.change(books, rice, eaten("rice", 1), rice.eaten_at, rice.day, None, b"")
        second = books.inbound_id
    with message() as books:
        assert weighins.from_message(books, first) == [changed, cheese]
        assert weighins.from_message(books, second) == [changed, bread]


@pytest.mark.parametrize("number", (0, -1, TOO_LARGE, -TOO_LARGE - 1, 10**40))
def test_numbers_that_nobody_has_are_not_found(message: Message, number: int) -> None:
    with message() as books:
        record(books, eaten())
        assert weighins.get(books, number) is None
        assert weighins.portions(books, number) == []


def test_a_portion_of_a_batch_that_is_not_there_is_not_kept(message: Message) -> None:
    with message("joao") as books:
        batches.open_batch(books, "chilli", [beef()])
    with pytest.raises(LookupError), message("mira") as books:
        record(books, eaten(batch=1))
    with message("mira") as books:
        assert weighins.count(books) == 0


def test_weighing_in_takes_two_statements_however_long_the_history(message: Message) -> None:
    counts = []
    for _ in range(2):
        with message() as books, statements(books) as seen:
            record(books, eaten())
            counts.append(len(seen))
        with message() as books:
            for _ in range(50):
                record(books, eaten())
    assert counts == [2, 2]


def test_rows_are_only_ever_added(message: Message) -> None:
    with message() as books, statements(books) as seen:
        number = batches.open_batch(books, "chilli", [beef()])
        first = record(books, eaten(batch=number))
        second = record(books, eaten())
    with message() as books, statements(books) as seen_later:
        changed = weighins.change(books, first, eaten(grams=5, batch=number), first.eaten_at, first.day, None, b"")
        weighins.remove(books, second)
        weighins.remove(books, changed)
    with message() as books, statements(books) as seen_last:
        for _ in range(2):
            journal.undo(books, journal.last(books))
    written = [each for each in seen + seen_later + seen_last if not each.startswith("SELECT")]
    touching = [each for each in written if "INTO weigh_in " in each]
    # Two recorded, one changed, two removed; the undo of those three; the undo of the first two.
    assert len(touching) == 2 + 3 + 3 + 2
    assert not [each for each in written if each.startswith(("UPDATE weigh_in", "DELETE"))]


def test_the_record_tells_the_whole_story(message: Message) -> None:
    with message() as books:
        record(books, eaten(grams=200))
    with message() as books:
        (stored,) = weighins.on_day(books, TODAY)
        weighins.change(books, stored, eaten(grams=280), stored.eaten_at, stored.day, None, b"")
    with message() as books:
        (stored,) = weighins.on_day(books, TODAY)
        weighins.remove(books, stored)
    with message() as books:
        journal.undo(books, journal.last(books))
        story = books.conn.execute(
            select(table.c.kind, table.c.edible_g, table.c.replaces, table.c.inbound_id).order_by(table.c.id)
        ).all()
    assert [(kind, grams) for kind, grams, *_ in story] == [
        ("recorded", 200),
        ("changed", 280),
        ("removed", 280),
        ("restored", 280),
    ]
    assert len({replaces for *_, replaces, _ in story}) == 4
    assert len({inbound_id for *_, inbound_id in story}) == 4


def test_a_person_is_found_under_their_own_address_only(message: Message) -> None:
    with message("mira") as books:
        conn = books.conn
        assert people.find(conn, "test", "mira") == books.person
        assert people.find(conn, "elsewhere", "mira") is None
        assert people.find(conn, "test", "joao") is None
        assert people.by_id(conn, books.person.id) == books.person
        assert people.by_id(conn, books.person.id + 1) is None
        moved = people.update(conn, books.person.id, region=Region.UK, role="coach")
        assert moved == replace(books.person, region=Region.UK, role="coach")
        assert people.find(conn, "test", "mira") == moved


def test_today_is_the_persons_own(message: Message) -> None:
    just_before_midnight_in_lisbon = MONDAY.replace(month=7, hour=22, minute=59)
    with message(at=just_before_midnight_in_lisbon) as books:
        assert books.today == date(2026, 7, 2)
    with message(at=just_before_midnight_in_lisbon + timedelta(minutes=1)) as books:
        # Lisbon keeps UTC+1 in July (IANA time zone database, Europe/Lisbon).
        assert books.today == date(2026, 7, 3)
