"""Inserts a history directly into the tables; a million weigh-ins as messages would take hours."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta

from sqlalchemy import Connection, Table, func, insert, select

from bot.store import schema

FOODS = ("rice", "banana", "oats", "chicken breast", "olive oil", "egg", "milk", "apple", "pasta", "yogurt")
AT_ONCE = 20_000

Row = dict[str, object]


def weigh_in(person_id: int, number: int, inbound_id: int, last: date, days_ago: int, place: int) -> Row:
    """A weigh-in of a person, by days before the last one and position within the day."""
    day = last - timedelta(days=days_ago)
    return {
        "person_id": person_id,
        "number": number,
        "kind": "recorded",
        "replaces": None,
        "food": FOODS[place],
        "state": "raw",
        "batch_id": None,
        "as_weighed_g": 100.0 + place,
        "edible_g": 100.0 + place,
        "basis_g": 100.0 + place,
        "basis": "raw",
        "evidence": "weighed",
        **dict.fromkeys(schema.NUTRIENTS, 12.5),
        "eaten_at": datetime(day.year, day.month, day.day, 8 + place, tzinfo=UTC),
        "day": day,
        "meal": "lunch",
        "said": b"{}",
        "inbound_id": inbound_id,
    }


def fill(conn: Connection, channel: str, people: int, weigh_ins: int, batches: int, last: date) -> None:
    """So many people (their keys and ids count from 1), each with so many weigh-ins and closed batches.

    With each weigh-in come the message that it was, the answer to it, and the line of the journal.
    """
    ids = range(1, people + 1)
    _put(conn, schema.kitchen, ({"id": n, "batches": batches} for n in ids))
    who = {"region": "metric", "timezone": "UTC", "role": "client"}
    _put(conn, schema.person, ({"id": n, "name": f"person {n}", "kitchen_id": n, **who} for n in ids))
    _put(conn, schema.address, ({"channel": channel, "key": f"{n}", "person_id": n} for n in ids))
    all_of_them = [(n, 1 + (n - 1) // weigh_ins) for n in range(1, people * weigh_ins + 1)]
    _put(conn, schema.inbound, (_inbound(n, channel, person) for n, person in all_of_them))
    _put(conn, schema.weigh_in, _weigh_ins(people, weigh_ins, last))
    _put(conn, schema.outbox, (_answer(n, channel, person) for n, person in all_of_them))
    _put(conn, schema.journal, (_line(n, person) for n, person in all_of_them))
    _put(conn, schema.batch, _batches(people, batches, weigh_ins, last))
    _put(conn, schema.batch_ingredient, _ingredients(people * batches))
    if conn.dialect.name == "postgresql":
        for table in (schema.kitchen, schema.person, schema.inbound, schema.weigh_in, schema.outbox, schema.journal):
            newest = select(func.max(table.c.id)).scalar_subquery()
            conn.execute(select(func.setval(func.pg_get_serial_sequence(table.name, "id"), newest)))
    conn.exec_driver_sql("ANALYZE")


def _put(conn: Connection, table: Table, rows: Iterator[Row]) -> None:
    chunk: list[Row] = []
    for row in rows:
        chunk.append(row)
        if len(chunk) == AT_ONCE:
            conn.execute(insert(table), chunk)
            chunk = []
    if chunk:
        conn.execute(insert(table), chunk)


def _weigh_ins(people: int, each: int, last: date) -> Iterator[Row]:
    a_day = len(FOODS)
    for person in range(1, people + 1):
        for n in range(each):
            # Everything is long over, so that nobody's day is longer than another's.
            days_ago = 2 + (each - 1 - n) // a_day
            yield weigh_in(person, n + 1, (person - 1) * each + n + 1, last, days_ago, n % a_day)


def _inbound(n: int, channel: str, person: int) -> Row:
    return {
        "id": n,
        "channel": channel,
        "update_key": f"long ago:{n}",
        "person_key": f"{person}",
        "kind": "say",
        "body": json.dumps({"text": "118 g of something that was on the scale"}),
        "message_ref": f"{person}:long ago:{n}",
        "said_at": datetime(2026, 1, 1, 12, tzinfo=UTC),
        "state": "done",
        "tries": 0,
    }


def _answer(n: int, channel: str, person: int) -> Row:
    return {
        "channel": channel,
        "place": f"{person}",
        "person_id": person,
        "inbound_id": n,
        "kind": "reply",
        "text": f"#{n} banana, 118 g: 105 kcal, protein 1 g, fat 0 g, carbs 27 g\nToday: 1,234 kcal.",
        "choices": "[]",
        "state": "sent",
        "tries": 1,
        "parts_sent": 0,
        "sent_at": datetime(2026, 1, 1, 12, tzinfo=UTC),
        "remote_ref": f"{person}:answer:{n}",
    }


def _line(n: int, person: int) -> Row:
    return {"person_id": person, "inbound_id": n, "kind": "weigh_in", "ref": n}


def _batches(people: int, each: int, weigh_ins: int, last: date) -> Iterator[Row]:
    opened = datetime(last.year, last.month, last.day, tzinfo=UTC) - timedelta(days=30)
    for person in range(1, people + 1):
        for number in range(1, each + 1):
            yield {
                "id": (person - 1) * each + number,
                "kitchen_id": person,
                "number": number,
                "name": f"stew {number}",
                "opened_at": opened,
                "closed": True,
                "inbound_id": (person - 1) * weigh_ins + 1,
            }


def _ingredients(batches: int) -> Iterator[Row]:
    for batch in range(1, batches + 1):
        for position, food in enumerate(("beef mince", "carrot")):
            yield {
                "batch_id": batch,
                "position": position,
                "food": food,
                "state": "raw",
                "food_group": "other",
                "method": "",
                "raw_g": 500.0,
                "added": False,
                **dict.fromkeys(schema.NUTRIENTS, 12.5),
            }
