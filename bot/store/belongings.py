"""What a person has that their words can refer to, read in one statement, because every message needs it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from sqlalchemy import (
    BindParameter,
    Float,
    Select,
    String,
    Table,
    bindparam,
    case,
    cast,
    exists,
    func,
    literal_column,
    null,
    or_,
    select,
    union_all,
)

from bot.store import schema
from bot.store.books import Books
from bot.store.coaching import stands
from bot.store.columns import Moment, is_just
from bot.store.statements import Prepared
from domain.foods import State


@dataclass(frozen=True, slots=True)
class OpenBatch:
    """An open batch by number and name, and whether its cooked weight is known."""

    number: int
    name: str
    cooked: bool


@dataclass(frozen=True, slots=True)
class Belongings:
    """The kitchen's open batches and vessels; the person's label names, habits and remembered answers; the names of
    those whom they guide and of those who guide them.
    """

    batches: tuple[OpenBatch, ...]
    tares: Mapping[str, float]
    labels: tuple[str, ...]
    habits: Mapping[str, State]
    waiting: bool
    """Whether any question waits for the person's answer."""
    clients: tuple[str, ...] = ()
    coaches: tuple[str, ...] = ()
    clients_before: tuple[str, ...] = ()
    """What the person called those whom they guide no longer."""
    coaches_before: tuple[str, ...] = ()
    """The names of those who guide the person no longer."""
    memory: Mapping[tuple[str, str], str] = field(default_factory=dict)
    """The remembered answers by what they are about and the word (`bot.kinds.Remembered`)."""
    settings: Mapping[str, str] = field(default_factory=dict)
    """The settings that decide how every reply looks (`SHOWING`)."""


_KITCHEN: BindParameter[int] = bindparam("of_kitchen")
_PERSON: BindParameter[int] = bindparam("of_person")
_NOW: BindParameter[datetime] = bindparam("now", type_=Moment())
_NOTHING = cast(null(), Float)
SHOWING = ("energy", "day_message", "receipts")
"""Settings: whether energy is shown, whether the day stands in one message, how short a receipt is."""
_MEMORY = "memory:"
"""Before the kind of a remembered answer."""


def _newest(table: Table, owner: Any, *keys: str) -> Select[*tuple[Any, ...]]:
    column = table.c["kitchen_id" if owner is _KITCHEN else "person_id"]
    of_one_thing = [table.c[key] for key in keys]
    return select(func.max(table.c.id)).where(column == owner, table.c.undone_by.is_(None)).group_by(*of_one_thing)


_cooked = exists().where(
    schema.batch_event.c.batch_id == schema.batch.c.id,
    schema.batch_event.c.kind == "cooked",
    schema.batch_event.c.undone_by.is_(None),
)
_ALL = Prepared(
    union_all(
        select(
            literal_column("'batch'", String).label("kind"),
            schema.batch.c.name.label("name"),
            cast(schema.batch.c.number, Float).label("number"),
            case((_cooked, literal_column("'cooked'", String)), else_=cast(null(), String)).label("word"),
        ).where(schema.batch.c.kitchen_id == _KITCHEN, ~schema.batch.c.closed, schema.batch.c.undone_by.is_(None)),
        select(literal_column("'tare'", String), schema.tare.c.name, schema.tare.c.grams, cast(null(), String)).where(
            schema.tare.c.id.in_(_newest(schema.tare, _KITCHEN, "name"))
        ),
        select(literal_column("'label'", String), schema.label.c.food, _NOTHING, cast(null(), String)).where(
            schema.label.c.id.in_(_newest(schema.label, _PERSON, "food"))
        ),
        select(literal_column("'habit'", String), schema.habit.c.food, _NOTHING, schema.habit.c.state).where(
            schema.habit.c.id.in_(_newest(schema.habit, _PERSON, "food"))
        ),
        select(
            literal_column("'question'", String), literal_column("''", String), _NOTHING, cast(null(), String)
        ).where(exists().where(schema.question.c.person_id == _PERSON, is_just(schema.question.c.state, "waiting"))),
        select(literal_column("'client'", String), schema.coaching.c.called, _NOTHING, cast(null(), String)).where(
            schema.coaching.c.coach_id == _PERSON, stands(_NOW)
        ),
        select(
            literal_column("'client_before'", String), schema.coaching.c.called, _NOTHING, cast(null(), String)
        ).where(schema.coaching.c.coach_id == _PERSON, schema.coaching.c.ended_at.is_not(None)),
        select(literal_column("'coach'", String), schema.person.c.name, _NOTHING, cast(null(), String))
        .join_from(schema.coaching, schema.person, schema.person.c.id == schema.coaching.c.coach_id)
        .where(schema.coaching.c.client_id == _PERSON, stands(_NOW)),
        select(literal_column("'coach_before'", String), schema.person.c.name, _NOTHING, cast(null(), String))
        .join_from(schema.coaching, schema.person, schema.person.c.id == schema.coaching.c.coach_id)
        .where(schema.coaching.c.client_id == _PERSON, schema.coaching.c.ended_at.is_not(None)),
        select(
            literal_column(f"'{_MEMORY}'", String) + schema.memory.c.what,
            schema.memory.c.word,
            _NOTHING,
            schema.memory.c.value,
        ).where(schema.memory.c.id.in_(_newest(schema.memory, _PERSON, "what", "word"))),
        select(literal_column("'setting'", String), schema.setting.c.name, _NOTHING, schema.setting.c.value).where(
            schema.setting.c.id.in_(
                _newest(schema.setting, _PERSON, "name").where(
                    or_(*(is_just(schema.setting.c.name, name) for name in SHOWING))
                )
            )
        ),
    )
)


def belongings(books: Books) -> Belongings:
    """The person's belongings, read in one statement."""
    owners = {"of_kitchen": books.person.kitchen_id, "of_person": books.person.id, "now": books.at}
    kinds = (
        "batch",
        "tare",
        "label",
        "habit",
        "question",
        "client",
        "client_before",
        "coach",
        "coach_before",
        "setting",
    )
    found: dict[str, list[tuple[str, float, str | None]]] = {kind: [] for kind in kinds}
    memory: dict[tuple[str, str], str] = {}
    for kind, name, number, word in _ALL.all(books.conn, owners):
        if kind in found:
            found[kind].append((name, number, word))
        elif word is not None:
            memory[kind.removeprefix(_MEMORY), name] = word
    now = {name for kind in ("client", "coach") for name, _, _ in found[kind]}
    batches = sorted(found["batch"], key=lambda row: row[1])
    return Belongings(
        batches=tuple(OpenBatch(int(number), name, word is not None) for name, number, word in batches),
        tares={name: grams for name, grams, _ in found["tare"]},
        labels=tuple(sorted(name for name, _, _ in found["label"])),
        habits={name: State(word) for name, _, word in found["habit"] if word},
        waiting=bool(found["question"]),
        clients=tuple(sorted(name for name, _, _ in found["client"])),
        coaches=tuple(sorted(name for name, _, _ in found["coach"])),
        clients_before=tuple(sorted({name for name, _, _ in found["client_before"]} - now)),
        coaches_before=tuple(sorted({name for name, _, _ in found["coach_before"]} - now)),
        memory=memory,
        settings={name: word for name, _, word in found["setting"] if word is not None},
    )
