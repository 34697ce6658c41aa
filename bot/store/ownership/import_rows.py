"""Importing a person's exported rows: what is on record already is neither recorded again nor changed.

Rows are known by what they say. A weigh-in or a batch keeps its number where that is free, and gets the next one where
it is not. The rows are as `export_rows` gives them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterable, Mapping, Sequence
from typing import Any

from sqlalchemy import Table, func, insert, select, update

from bot.store import facts, schema
from bot.store.books import Books
from bot.store.ownership.export_rows import FACTS, Row
from bot.store.schema import NUTRIENTS

_weigh_in, _batch, _item, _event = schema.weigh_in, schema.batch, schema.batch_ingredient, schema.batch_event

_SAYS = (
    "food",
    "state",
    "as_weighed_g",
    "edible_g",
    "basis_g",
    "basis",
    "evidence",
    "boxes",
    "pieces",
    *NUTRIENTS,
    "eaten_at",
    "open_about",
    "kcal_low",
    "kcal_high",
    "day",
    "meal",
)
# Of the rows that have these in common the newest counts.
_KEYS: Mapping[str, tuple[str, ...]] = {
    "tares": ("name",),
    "measures": ("food", "measure"),
    "labels": ("food",),
    "habits": ("food",),
    "targets": ("valid_from", "valid_until", "days"),
    "day_kinds": ("day",),
    "body_weights": ("day",),
    "reminders": ("what",),
    "settings": ("name",),
    "memory": ("what", "word"),
}


def put_back(books: Books, rows: Mapping[str, Sequence[Row]]) -> dict[str, int]:
    """Imports the rows, caused by the message of these books. Returns how many were new, by their table."""
    newest_before = books.conn.execute(select(func.coalesce(func.max(_weigh_in.c.id), 0))).scalar_one()
    batch_ids, new_batches = _batches(books, rows["batches"], rows["batch_ingredients"])
    versions = _versions(books, rows["weigh_in_versions"], batch_ids)
    events = [event for event in rows["batch_events"] if event["batch"] in new_batches]
    for event in events:
        _put_event(books, event, batch_ids[event["batch"]], versions, newest_before)
    added = {
        "weigh_ins": len({row["number"] for row, at in zip(rows["weigh_in_versions"], versions, strict=True) if at}),
        "batches": len(new_batches),
    }
    for name, table in FACTS.items():
        added[name] = _facts(books, name, table, rows[name])
    for row in rows["told_once"]:
        facts.first_time(books, row["key"])
    return added


def _mark(books: Books, undone: bool) -> Row:
    return {"inbound_id": books.inbound_id, "undone_by": books.inbound_id if undone else None}


def _batches(books: Books, batches: Sequence[Row], items: Sequence[Row]) -> tuple[dict[int, int], set[int]]:
    """(the row of each batch by its number in the copy, the numbers of those that are new)."""
    of_batch: dict[int, list[Row]] = {batch["number"]: [] for batch in batches}
    for item in items:
        of_batch[item["batch"]].append(item)
    there = _known_batches(books)
    taken = set(books.conn.execute(_numbers(books)).scalars())
    ids, new = {}, set()
    for batch in batches:
        number = batch["number"]
        key = (batch["opened_at"], *(item["raw_g"] for item in of_batch[number]))
        if there.get(key):
            ids[number] = there[key].pop(0)
            continue
        given = number if number not in taken else max(taken) + 1
        taken.add(given)
        ids[number] = _put_batch(books, batch, given, of_batch[number])
        new.add(number)
    most = max(taken, default=0)
    kitchen = schema.kitchen
    more = update(kitchen).where(kitchen.c.id == books.person.kitchen_id, kitchen.c.batches < most)
    books.conn.execute(more.values(batches=most))
    return ids, new


def _numbers(books: Books) -> Any:
    return select(_batch.c.number).where(_batch.c.kitchen_id == books.person.kitchen_id)


def _known_batches(books: Books) -> dict[Hashable, list[int]]:
    """The kitchen's batches by when they were opened and what went in; their names may have changed."""
    heads = select(_batch.c.id, _batch.c.opened_at).where(_batch.c.kitchen_id == books.person.kitchen_id)
    found: dict[Hashable, list[int]] = {}
    for batch_id, opened_at in books.conn.execute(heads.order_by(_batch.c.number)).all():
        weights = select(_item.c.raw_g).where(_item.c.batch_id == batch_id).order_by(_item.c.position)
        found.setdefault((opened_at, *books.conn.execute(weights).scalars()), []).append(batch_id)
    return found


def _put_batch(books: Books, batch: Row, number: int, items: Iterable[Row]) -> int:
    values = {
        "kitchen_id": books.person.kitchen_id,
        "number": number,
        **{name: batch[name] for name in ("name", "opened_at", "closed")},
        **_mark(books, batch["undone"]),
    }
    batch_id: int = books.conn.execute(insert(_batch).returning(_batch.c.id), values).scalar_one()
    names = ("food", "state", "food_group", "method", "raw_g", *NUTRIENTS)
    rows = [
        {"batch_id": batch_id, "position": position, "added": bool(item["added"])}
        | {name: item[name] for name in names}
        for position, item in enumerate(items)
    ]
    if rows:
        books.conn.execute(insert(_item), rows)
    return batch_id


def _put_event(books: Books, event: Row, batch_id: int, versions: Sequence[int | None], newest_before: int) -> None:
    after = event["after_versions"]
    if after is not None:
        after = max((at for at in versions[:after] if at), default=newest_before)
    names = ("kind", "grams", "count", "why", "line", "entry", "pieces", "boxes", "place", "was", "at")
    values = {"batch_id": batch_id, "person_id": books.person.id, "after_row": after}
    books.conn.execute(insert(_event), values | {name: event[name] for name in names} | _mark(books, event["undone"]))


def _versions(books: Books, versions: Sequence[Row], batch_ids: Mapping[int, int]) -> list[int | None]:
    """The new row of each version; None where the weigh-in was on record already."""
    mine = select(_weigh_in).where(_weigh_in.c.person_id == books.person.id)
    firsts = books.conn.execute(mine.where(_weigh_in.c.replaces.is_(None))).mappings().all()
    there = Counter(_says(row) for row in firsts)
    taken = {row["number"] for row in firsts}
    # What becomes of a weigh-in is decided by its first version.
    given: dict[int, int | None] = {}
    newest: dict[int, int] = {}
    rows: list[int | None] = []
    for version in versions:
        number = version["number"]
        if version["kind"] == "recorded":
            given[number] = _number(version, there, taken)
        new_number = given[number]
        if new_number is None:
            rows.append(None)
            continue
        batch = version["batch"]
        values = {
            "person_id": books.person.id,
            "number": new_number,
            "kind": version["kind"],
            "replaces": newest.get(number),
            "batch_id": None if batch is None else batch_ids[batch],
            "said": version["said"].encode(),
            "inbound_id": books.inbound_id,
            **{name: version[name] for name in _SAYS},
        }
        newest[number] = books.conn.execute(insert(_weigh_in).returning(_weigh_in.c.id), values).scalar_one()
        rows.append(newest[number])
    return rows


def _number(first: Row, there: Counter[Hashable], taken: set[int]) -> int | None:
    """The number that a weigh-in gets; None when it is on record already."""
    says = _says(first)
    if there[says]:
        there[says] -= 1
        return None
    number: int = first["number"] if first["number"] not in taken else max(taken) + 1
    taken.add(number)
    return number


def _says(row: Mapping[Any, Any]) -> Hashable:
    return tuple(row[name] for name in _SAYS)


def _facts(books: Books, name: str, table: Table, rows: Sequence[Row]) -> int:
    """Imports facts, unless they are on record or were superseded since."""
    owner = "kitchen_id" if "kitchen_id" in table.c else "person_id"
    owner_id = books.person.kitchen_id if owner == "kitchen_id" else books.person.id
    told = [c.name for c in table.c if c.name not in ("id", owner, "inbound_id", "undone_by")]
    found = books.conn.execute(select(table).where(table.c[owner] == owner_id)).mappings().all()
    there = Counter(tuple(row[column] for column in told) for row in found)
    since: dict[Hashable, Any] = {}
    for known in found:
        key = tuple(known[column] for column in _KEYS[name])
        since[key] = max(since.get(key, known["at"]), known["at"])
    added = 0
    for row in rows:
        says = tuple(row[column] for column in told)
        key = tuple(row[column] for column in _KEYS[name])
        if there[says]:
            there[says] -= 1
        elif key not in since or since[key] < row["at"]:
            values = {owner: owner_id, **{column: row[column] for column in told}}
            books.conn.execute(insert(table), values | _mark(books, row["undone"]))
            added += 1
    return added
