"""Facts that a person has told: tares, own measures, labels, habits, targets, body weights, reminders, settings,
remembered answers.

Each is a row when it is told; of the rows for one thing the newest that is not undone counts. Tares are the kitchen's,
the rest is the person's own.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import Select, Table, bindparam, func, insert, select, update

from bot.store import schema
from bot.store.books import Books, record_change
from bot.store.statements import insert_if_new
from domain.foods import State
from domain.labels import Label


@dataclass(frozen=True, slots=True)
class Target:
    """What the person aims at for a day, in kcal and grams; None where nothing is set."""

    kcal: float | None = None
    protein_g: float | None = None
    fat_g: float | None = None
    carbohydrate_g: float | None = None


def _newest(table: Table, owner: str, keys: Iterable[str], values: Iterable[str]) -> Select[*tuple[Any, ...]]:
    mine = table.c[owner] == bindparam("owner")
    key = [table.c[name] for name in keys]
    newest = select(func.max(table.c.id)).where(mine, table.c.undone_by.is_(None)).group_by(*key)
    return select(*key, *(table.c[name] for name in values)).where(table.c.id.in_(newest)).order_by(table.c.id)


# In the order of the fields of Label.
_LABEL_FIELDS = (
    "serving_g",
    "kcal",
    "protein_g",
    "fat_g",
    "carbohydrate_g",
    "fibre_g",
    "measure",
    "measure_count",
    "alcohol_g",
    "polyols_g",
)
_TARES = _newest(schema.tare, "kitchen_id", ["name"], ["grams"])
_MEASURES = _newest(schema.own_measure, "person_id", ["food", "measure"], ["grams"])
_LABELS = _newest(schema.label, "person_id", ["food"], _LABEL_FIELDS)
_HABITS = _newest(schema.habit, "person_id", ["food"], ["state"])
_REMINDERS = _newest(schema.reminder, "person_id", ["what"], ["time"])
_SETTINGS = _newest(schema.setting, "person_id", ["name"], ["value"])
_MEMORY = _newest(schema.memory, "person_id", ["what", "word"], ["value"])
_BODY_WEIGHTS = (
    _newest(schema.body_weight, "person_id", ["day"], ["kg"])
    .where(schema.body_weight.c.day >= bindparam("first_day"), schema.body_weight.c.day <= bindparam("last_day"))
    .order_by(None)
    .order_by(schema.body_weight.c.day)
)
_TARGET = (
    select(schema.target.c.kcal, schema.target.c.protein_g, schema.target.c.fat_g, schema.target.c.carbohydrate_g)
    .where(
        schema.target.c.person_id == bindparam("owner"),
        schema.target.c.undone_by.is_(None),
        schema.target.c.valid_from <= bindparam("on_day"),
    )
    .order_by(schema.target.c.valid_from.desc(), schema.target.c.id.desc())
    .limit(1)
)
_TARGET_ROW = _TARGET.with_only_columns(schema.target.c.id, schema.target.c.inbound_id)
_COMING = (
    select(
        schema.target.c.valid_from,
        schema.target.c.kcal,
        schema.target.c.protein_g,
        schema.target.c.fat_g,
        schema.target.c.carbohydrate_g,
    )
    .where(
        schema.target.c.person_id == bindparam("owner"),
        schema.target.c.undone_by.is_(None),
        schema.target.c.valid_from > bindparam("after_day"),
    )
    .order_by(schema.target.c.valid_from, schema.target.c.id)
)
# By what the journal calls them.
_TABLES = {
    "tare": schema.tare,
    "measure": schema.own_measure,
    "label": schema.label,
    "habit": schema.habit,
    "target": schema.target,
    "body_weight": schema.body_weight,
    "reminder": schema.reminder,
    "setting": schema.setting,
    "memory": schema.memory,
}
_NAME_COLUMNS = {
    "tare": "name",
    "measure": "food",
    "label": "food",
    "habit": "food",
    "reminder": "what",
    "setting": "name",
    "memory": "word",
}
_ADD = {kind: insert(table).returning(table.c.id) for kind, table in _TABLES.items()}
_UNDO = {kind: update(table).where(table.c.id == bindparam("of_row")) for kind, table in _TABLES.items()}
_NAMES = {
    kind: select(_TABLES[kind].c[column]).where(_TABLES[kind].c.id == bindparam("of_row"))
    for kind, column in _NAME_COLUMNS.items()
}
_FIRST_TIME = insert_if_new(schema.first_time, schema.first_time.c.person_id)


def tares(books: Books) -> dict[str, float]:
    """Grams of each of the kitchen's vessels, by name."""
    return {row[0]: row[1] for row in books.conn.execute(_TARES, {"owner": books.person.kitchen_id})}


def save_tare(books: Books, name: str, grams: float) -> None:
    """Keeps what a vessel of the kitchen weighs."""
    _save(books, "tare", kitchen_id=books.person.kitchen_id, name=name, grams=grams)


def measures(books: Books) -> dict[tuple[str, str], float]:
    """Grams of each of the person's own measures, by food and measure."""
    return {(food, measure): grams for food, measure, grams in _mine(books, _MEASURES)}


def save_measure(books: Books, food: str, measure: str, grams: float) -> None:
    """Keeps what the person's own measure of a food weighs."""
    _save(books, "measure", person_id=books.person.id, food=food, measure=measure, grams=grams)


def labels(books: Books) -> dict[str, Label]:
    """The labels that the person has typed, by food."""
    return {food: Label(food, *figures) for food, *figures in _mine(books, _LABELS)}


def save_label(books: Books, label: Label) -> None:
    """Keeps a label under its food."""
    fields = {name: getattr(label, name) for name in _LABEL_FIELDS}
    _save(books, "label", person_id=books.person.id, food=label.food, **fields)


def habits(books: Books) -> dict[str, State]:
    """The state in which the person weighs a food unless they say otherwise, by food."""
    return {food: State(state) for food, state in _mine(books, _HABITS)}


def save_habit(books: Books, food: str, state: State) -> None:
    """Keeps the person's standing answer to 'raw or cooked?' for a food."""
    _save(books, "habit", person_id=books.person.id, food=food, state=state.value)


def target(books: Books, day: date) -> Target | None:
    """The target that held on that day, or None before the first."""
    values = {"owner": books.person.id, "on_day": day}
    row = books.conn.execute(_TARGET, values).one_or_none()
    return None if row is None else Target(*row)


def target_row(books: Books, day: date) -> tuple[int, int] | None:
    """(row, inbox row that caused it) of the target that held on that day, or None before the first."""
    row = books.conn.execute(_TARGET_ROW, {"owner": books.person.id, "on_day": day}).one_or_none()
    return None if row is None else (row[0], row[1])


def coming_targets(books: Books, after: date) -> dict[date, Target]:
    """The targets that begin to hold after that day, by their first day, in order."""
    rows = books.conn.execute(_COMING, {"owner": books.person.id, "after_day": after})
    return {first: Target(*figures) for first, *figures in rows}


def save_target(books: Books, new: Target, first: date) -> None:
    """Keeps a target, valid from the day `first` on."""
    _save(
        books,
        "target",
        person_id=books.person.id,
        valid_from=first,
        kcal=new.kcal,
        protein_g=new.protein_g,
        fat_g=new.fat_g,
        carbohydrate_g=new.carbohydrate_g,
    )


def body_weights(books: Books, first: date, last: date) -> list[tuple[date, float]]:
    """Body weights in kg by day, both ends included; of several on a day the one told last. None that are withheld."""
    if "body_weight" in books.withheld:
        return []
    values = {"owner": books.person.id, "first_day": first, "last_day": last}
    return [(day, kg) for day, kg in books.conn.execute(_BODY_WEIGHTS, values)]


def save_body_weight(books: Books, kg: float, day: date) -> None:
    """Keeps a body weight for a day."""
    _save(books, "body_weight", person_id=books.person.id, day=day, kg=kg)


def reminders(books: Books) -> dict[str, str | None]:
    """The local time (`HH:MM`) of each reminder, by what it is about; None for one that was turned off."""
    return {row[0]: row[1] for row in _mine(books, _REMINDERS)}


def save_reminder(books: Books, what: str, time: str | None) -> None:
    """Keeps a reminder's local time, or that it is off."""
    _save(books, "reminder", person_id=books.person.id, what=what, time=time)


def settings(books: Books) -> dict[str, str]:
    """What the person has set, by name."""
    return {row[0]: row[1] for row in _mine(books, _SETTINGS)}


def save_setting(books: Books, name: str, value: str) -> None:
    """Keeps a setting."""
    _save(books, "setting", person_id=books.person.id, name=name, value=value)


def memory(books: Books) -> dict[tuple[str, str], str]:
    """The remembered answers, by what they are about and the word, in the order they were told last."""
    return {(what, word): value for what, word, value in _mine(books, _MEMORY) if value is not None}


def save_memory(books: Books, what: str, word: str, value: str | None) -> None:
    """Keeps an answer; without a value it is forgotten."""
    _save(books, "memory", person_id=books.person.id, what=what, word=word, value=value)


def first_time(books: Books, key: str) -> bool:
    """True the first time it is called with this key for this person, False from then on."""
    values = {"person_id": books.person.id, "key": key, "inbound_id": books.inbound_id}
    return books.conn.execute(_FIRST_TIME[books.conn.dialect.name], values).scalar() is not None


def name_of(books: Books, kind: str, row_id: int) -> str | None:
    """What the fact in that row is about: its name or food; None for a target or a body weight."""
    statement = _NAMES.get(kind)
    if statement is None:
        return None
    name: str = books.conn.execute(statement, {"of_row": row_id}).scalar_one()
    return name


def undo(books: Books, kind: str, row_id: int) -> None:
    """Undoes the fact in that row, so that what was told before applies again."""
    books.conn.execute(_UNDO[kind], {"of_row": row_id, "undone_by": books.inbound_id})


def _mine(books: Books, statement: Select[*tuple[Any, ...]]) -> Iterable[Sequence[Any]]:
    return books.conn.execute(statement, {"owner": books.person.id})


def _save(books: Books, kind: str, **values: Any) -> None:
    row = {**values, "inbound_id": books.inbound_id, "at": books.at}
    record_change(books, kind, books.conn.execute(_ADD[kind], row).scalar_one())
