"""Facts that a person has told: tares, own measures, labels, habits, targets, body weights, reminders, settings,
remembered answers.

Each is a row when it is told; of the rows for one thing the newest that is not undone counts. Tares are the kitchen's,
the rest is the person's own.
"""

from collections.abc import Iterable, Sequence
from datetime import date, datetime
from typing import Any

from sqlalchemy import Select, Table, bindparam, func, insert, select, update

from bot.store import aims, schema
from bot.store.books import Books, record_change
from bot.store.statements import insert_if_new
from domain.foods import State
from domain.labels import Label
from domain.targets import Target


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
    "sugars_g",
    "saturated_fat_g",
    "salt_g",
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
# By what the journal calls them.
_TABLES = {
    "tare": schema.tare,
    "measure": schema.own_measure,
    "label": schema.label,
    "habit": schema.habit,
    "target": schema.target,
    "day_kind": schema.day_kind,
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
_SET_AT = select(func.max(schema.setting.c.at)).where(
    schema.setting.c.person_id == bindparam("owner"),
    schema.setting.c.name.in_(bindparam("names", expanding=True)),
    schema.setting.c.undone_by.is_(None),
)
_NOTED = select(schema.first_time.c.key).where(
    schema.first_time.c.person_id == bindparam("of_person"), schema.first_time.c.key == bindparam("of_key")
)
_FIRST_TIME = insert_if_new(schema.first_time, schema.first_time.c.person_id)


def tares(books: Books) -> dict[str, float]:
    """Grams of each of the kitchen's vessels, by name."""
    return {row[0]: row[1] for row in books.conn.execute(_TARES, {"owner": books.person.kitchen_id})}


def save_tare(books: Books, name: str, grams: float) -> None:
    """Keeps what a vessel of the kitchen weighs."""
    _save(books, "tare", kitchen_id=books.person.kitchen_id, name=name, grams=grams)


def measures(books: Books) -> dict[tuple[str, str], float]:
    """Grams of each of the person's own measures, by food and measure."""
    return {(food, measure): grams for food, measure, grams in _mine(books, _MEASURES) if grams > 0}


def save_measure(books: Books, food: str, measure: str, grams: float) -> None:
    """Keeps what the person's own measure of a food weighs."""
    _save(books, "measure", person_id=books.person.id, food=food, measure=measure, grams=grams)


def forget_measure(books: Books, food: str, measure: str) -> None:
    """Forgets the person's own measure of a food; a row that weighs nothing says so."""
    save_measure(books, food, measure, 0.0)


def labels(books: Books) -> dict[str, Label]:
    """The labels that the person has typed, by food."""
    return {food: Label(food, *figures) for food, *figures in _mine(books, _LABELS)}


def save_label(books: Books, label: Label) -> None:
    """Keeps a label under its food."""
    fields = {name: getattr(label, name) for name in _LABEL_FIELDS}
    _save(books, "label", person_id=books.person.id, food=label.food, **fields)


def habits(books: Books) -> dict[str, State]:
    """The state in which the person weighs a food unless they say otherwise, by food."""
    return {food: State(state) for food, state in _mine(books, _HABITS) if state}


def save_habit(books: Books, food: str, state: State) -> None:
    """Keeps the person's standing answer to 'raw or cooked?' for a food."""
    _save(books, "habit", person_id=books.person.id, food=food, state=state.value)


def forget_habit(books: Books, food: str) -> None:
    """Forgets in which state the person weighs a food; a row without a state says so."""
    _save(books, "habit", person_id=books.person.id, food=food, state="")


def target(books: Books, day: date) -> Target | None:
    """The target of that day, or None before the first."""
    return aims.by_day(books, (day,)).get(day)


def target_row(books: Books, day: date) -> tuple[int, int] | None:
    """(row, inbox row that caused it) of the target that counts first on that day, or None before the first."""
    held = aims.on(day, aims.kinds(books, day, day).get(day), aims.told(books))
    return (held[0].id, held[0].inbound_id) if held else None


def coming_targets(books: Books, after: date) -> dict[date, Target]:
    """What comes to count after that day, by its first day, in order; empty figures where nothing does any more."""
    return {first: found or Target() for first, found in aims.changes(books, after).items()}


def save_target(books: Books, new: Target, first: date, until: date | None = None, days: str = "") -> None:
    """Keeps a target from the day `first` on, up to `until` where given, for the days said (`bot.store.aims`)."""
    figures = {name: getattr(new, name) for name in aims.FIGURES}
    _save(books, "target", person_id=books.person.id, valid_from=first, valid_until=until, days=days or None, **figures)


def save_day_kind(books: Books, day: date, kind: str) -> None:
    """Keeps of which kind a day is."""
    _save(books, "day_kind", person_id=books.person.id, day=day, kind=kind)


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


def set_at(books: Books, names: Iterable[str]) -> datetime | None:
    """When any of these settings was set last; None when none is."""
    moment: datetime | None = books.conn.execute(_SET_AT, {"owner": books.person.id, "names": list(names)}).scalar()
    return moment


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


def was_first_time(books: Books, key: str) -> bool:
    """Whether `first_time` has been called with this key for this person."""
    return books.conn.execute(_NOTED, {"of_person": books.person.id, "of_key": key}).scalar() is not None


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


def _save(books: Books, kind: str, /, **values: Any) -> None:
    row = {**values, "inbound_id": books.inbound_id, "at": books.at}
    record_change(books, kind, books.conn.execute(_ADD[kind], row).scalar_one())
