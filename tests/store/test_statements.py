"""Prepared statements give what SQLAlchemy's own execution gives, values and errors alike."""

from datetime import UTC, date, datetime
from typing import Any

import pytest
from sqlalchemy import bindparam, func, insert, select, union_all, update
from sqlalchemy.exc import IntegrityError

from bot.store.delivery import inbox
from bot.store.delivery.inbox import NewRow, Say
from bot.store.engine import Store
from bot.store.schema import inbound, weigh_in
from bot.store.statements import Prepared, Statement

from .records import Message, eaten, record

SAID_AT = datetime(2026, 3, 2, 7, 30, 0, 5, tzinfo=UTC)
OF_ID = inbound.c.id == bindparam("of_id")


def stored(store: Store, key: str = "u1") -> int:
    with store.transaction() as conn:
        new = inbox.receive(conn, NewRow("test", key, "mira", Say(text="180 g rice"), None, SAID_AT))
        assert new is not None
        return new


@pytest.mark.parametrize(
    ("statement", "values"),
    (
        (select(inbound.c.id, inbound.c.said_at, inbound.c.body).where(OF_ID), {"of_id": 1}),
        (select(inbound.c.said_at, inbound.c.id == 1, inbound.c.message_ref.is_(None)), {}),
        (select(inbound.c.kind, inbound.c.said_at == bindparam("at", type_=inbound.c.said_at.type)), {"at": SAID_AT}),
        (select(inbound.c.kind).where(inbound.c.state == "waiting", OF_ID), {"of_id": 2}),
        (union_all(select(inbound.c.said_at), select(func.max(inbound.c.said_at))), {}),
    ),
    ids=["row", "kinds of values", "a moment", "no row", "union"],
)
def test_it_gives_what_sqlalchemy_gives(store: Store, statement: Statement, values: dict[str, Any]) -> None:
    stored(store)
    with store.transaction() as conn:
        expected: list[tuple[Any, ...]] = [tuple(row) for row in conn.execute(statement, values)]
        prepared = Prepared(statement)
        for _ in range(2):
            assert [tuple(row) for row in prepared.all(conn, values)] == expected


def test_days_and_figures_come_back_as_they_were(message: Message) -> None:
    with message() as books:
        record(books, eaten())
        found = Prepared(select(weigh_in.c.day, weigh_in.c.eaten_at, weigh_in.c.as_weighed_g, weigh_in.c.said))
        day, eaten_at, grams, said = found.one(books.conn, {})
        assert day == books.today
        assert type(day) is date
        assert eaten_at == books.at
        assert grams == eaten().as_weighed_g
        assert said == b"{}"


def test_a_statement_is_ready_for_different_columns(store: Store) -> None:
    new = stored(store)
    change = Prepared(update(inbound).where(OF_ID))
    look = Prepared(select(inbound.c.state, inbound.c.error).where(OF_ID))
    with store.transaction() as conn:
        assert change.all(conn, {"of_id": new, "error": "broke"}) == []
        assert tuple(look.one(conn, {"of_id": new})) == ("waiting", "broke")
        change.all(conn, {"of_id": new, "state": "done"})
        assert tuple(look.one(conn, {"of_id": new})) == ("done", "broke")


def test_what_the_database_refuses_is_sqlalchemys_error(store: Store) -> None:
    new = stored(store)
    again = Prepared(insert(inbound).returning(inbound.c.id))
    with store.transaction() as conn:
        (row,) = conn.execute(select(inbound).where(inbound.c.id == new)).mappings()
    with pytest.raises(IntegrityError), store.transaction() as conn:
        again.scalar(conn, {name: value for name, value in row.items() if name != "id"})


def test_a_value_that_is_not_given_is_never_taken_for_none(store: Store) -> None:
    with store.transaction() as conn, pytest.raises(Exception, match="value is required"):
        Prepared(select(inbound.c.id).where(OF_ID)).all(conn, {})
