"""The rows of a person's records for an export, and nothing of anybody else's.

A row maps column names to values, with moments in UTC. Rows refer to each other by content, not by database ids: a
batch by its number in the kitchen, a version of a weigh-in by its position among the person's.
"""

from __future__ import annotations

import bisect
from collections.abc import Iterable, Mapping
from typing import Any

from sqlalchemy import BindParameter, Select, Table, bindparam, select

from bot.store import coaching, kitchens, schema
from bot.store.books import Books
from bot.store.delivery.inbox import Edit, Press, Say, decode

Row = dict[str, Any]
Rows = dict[str, list[Row]]

FACTS: Mapping[str, Table] = {
    "tares": schema.tare,
    "measures": schema.own_measure,
    "labels": schema.label,
    "habits": schema.habit,
    "targets": schema.target,
    "day_kinds": schema.day_kind,
    "body_weights": schema.body_weight,
    "reminders": schema.reminder,
    "settings": schema.setting,
    "memory": schema.memory,
}
"""The tables of facts, by their name in an export."""

_weigh_in, _batch, _item, _event = schema.weigh_in, schema.batch, schema.batch_ingredient, schema.batch_event
_OWNER: BindParameter[int] = bindparam("owner")
_KITCHEN: BindParameter[int] = bindparam("of_kitchen")
_VERSIONS = (
    select(_weigh_in, _batch.c.number.label("batch"))
    .outerjoin(_batch, (_batch.c.id == _weigh_in.c.batch_id) & (_batch.c.kitchen_id == _KITCHEN))
    .where(_weigh_in.c.person_id == _OWNER)
    .order_by(_weigh_in.c.id)
)
_BATCHES = select(_batch).where(_batch.c.kitchen_id == _KITCHEN).order_by(_batch.c.number)
_IN_KITCHEN = _batch.c.kitchen_id == _KITCHEN
_ITEMS = (
    select(_item, _batch.c.number.label("batch"))
    .join(_batch, _batch.c.id == _item.c.batch_id)
    .where(_IN_KITCHEN)
    .order_by(_batch.c.number, _item.c.position)
)
_EVENTS = (
    select(_event, _batch.c.number.label("batch"))
    .join(_batch, _batch.c.id == _event.c.batch_id)
    .where(_IN_KITCHEN)
    .order_by(_event.c.id)
)
_TOLD_ONCE = (
    select(schema.first_time.c.key).where(schema.first_time.c.person_id == _OWNER).order_by(schema.first_time.c.key)
)
_UNASKED = (
    select(schema.schedule.c.kind, schema.unasked.c.local_date, schema.unasked.c.state, schema.unasked.c.at)
    .join(schema.schedule, schema.schedule.c.id == schema.unasked.c.schedule_id)
    .where(schema.unasked.c.person_id == _OWNER)
    .order_by(schema.unasked.c.id)
)
_SAID = (
    select(schema.inbound.c.said_at, schema.inbound.c.channel, schema.inbound.c.kind, schema.inbound.c.body)
    .join(
        schema.address,
        (schema.address.c.channel == schema.inbound.c.channel) & (schema.address.c.key == schema.inbound.c.person_key),
    )
    .where(schema.address.c.person_id == _OWNER, schema.inbound.c.kind.in_(("say", "edit", "press")))
    .order_by(schema.inbound.c.id)
)
_QUESTIONS = (
    select(schema.question.c.asked_at, schema.question.c.about, schema.question.c.state)
    .where(schema.question.c.person_id == _OWNER)
    .order_by(schema.question.c.id)
)
_TEMPLATES = select(schema.template).where(schema.template.c.coach_id == _OWNER).order_by(schema.template.c.name)


def copies(books: Books) -> Rows:
    """Every row, the oldest first, by the name of its table in an export."""
    versions = _found(books, _VERSIONS)
    ids = [row["id"] for row in versions]
    return {
        "weigh_ins": [_version(row) for row in _standing(versions)],
        "weigh_in_versions": [_version(row) for row in versions],
        "batches": [_undone(row) for row in _found(books, _BATCHES)],
        "batch_ingredients": _found(books, _ITEMS),
        "batch_events": [_happened(row, ids) for row in _found(books, _EVENTS)],
        **{name: [_undone(row) for row in _facts(books, table)] for name, table in FACTS.items()},
        "told_once": _found(books, _TOLD_ONCE),
        "unasked": _found(books, _UNASKED),
        "messages": [_said(row) for row in _found(books, _SAID)],
        "questions": _found(books, _QUESTIONS),
        "templates": _found(books, _TEMPLATES),
        "sharing": _sharing(books),
    }


def _found(books: Books, statement: Select[*tuple[Any, ...]]) -> list[Row]:
    values = {"owner": books.person.id, "of_kitchen": books.person.kitchen_id}
    return [dict(row) for row in books.conn.execute(statement, values).mappings()]


def _facts(books: Books, table: Table) -> list[Row]:
    owner = table.c.kitchen_id == _KITCHEN if "kitchen_id" in table.c else table.c.person_id == _OWNER
    return _found(books, select(table).where(owner).order_by(table.c.id))


def _standing(versions: Iterable[Row]) -> list[Row]:
    """The weigh-ins as they stand, in the order of their numbers."""
    newest = {row["number"]: row for row in versions}
    return [newest[number] for number in sorted(newest) if newest[number]["kind"] != "removed"]


def _version(row: Row) -> Row:
    return row | {"said": row["said"].decode("utf-8", "replace")}


def _undone(row: Row) -> Row:
    return row | {"undone": row["undone_by"] is not None}


def _happened(row: Row, ids: list[int]) -> Row:
    after = row["after_row"]
    return _undone(row) | {"after_versions": None if after is None else bisect.bisect_right(ids, after)}


def _said(row: Row) -> Row:
    content = decode(row["kind"], row["body"])
    text = content.text if isinstance(content, (Say, Edit)) else ""
    choice = content.choice + 1 if isinstance(content, Press) else None
    return row | {"text": text, "choice": choice}


def _sharing(books: Books) -> list[Row]:
    rows = [{"who": "coach", "name": each.coach} for each in coaching.coaches(books)]
    return rows + [{"who": "kitchen", "name": each.name} for each in kitchens.others(books)]
