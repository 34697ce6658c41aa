"""The tables of an export: their columns, their contents and units. `docs/export.md` says the same."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, Literal

from bot.kinds import BATCH_EVENTS, Remembered
from domain.foods import State
from domain.weighins import Evidence

Kind = Literal["text", "whole", "amount", "moment", "local", "day", "yes_no"]
"""A text, a whole number, a measured amount, a moment in UTC, the same on the person's clock, a day, true or false."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column. `optional` where it may be empty, `among` the only texts that may stand in it."""

    name: str
    kind: Kind
    what: str
    optional: bool = False
    among: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Table:
    """One table. `restored` says whether it is put on record again when an export is read back."""

    name: str
    what: str
    columns: tuple[Column, ...]
    restored: bool = False
    since_later: bool = False
    """Whether exports of earlier versions lack it."""


def _text(name: str, what: str, optional: bool = False, among: tuple[str, ...] = ()) -> Column:
    return Column(name, "text", what, optional, among)


def _amount(name: str, what: str, optional: bool = False) -> Column:
    return Column(name, "amount", what, optional)


STATES = tuple(state.value for state in State)
UNDONE = Column("undone", "yes_no", "whether it was taken back with undo")
TOLD = Column("at_utc", "moment", "when it was recorded")
NUTRIENTS = (
    _amount("kcal", "energy, kcal", optional=True),
    _amount("protein_g", "protein, g", optional=True),
    _amount("fat_g", "fat, g", optional=True),
    _amount("carbohydrate_g", "carbohydrate, g", optional=True),
    _amount("fibre_g", "fibre, g", optional=True),
    _amount("sugars_g", "sugars, g", optional=True),
    _amount("saturated_fat_g", "saturated fat, g", optional=True),
    _amount("sodium_mg", "sodium, mg", optional=True),
    _amount("alcohol_g", "alcohol, g", optional=True),
)
_WEIGH_IN = (
    Column("number", "whole", "the weigh-in's number, as in #12"),
    Column("eaten_at_utc", "moment", "when it was eaten"),
    Column("eaten_at_local", "local", "the same on your clock"),
    Column("day", "day", "the day it counts for"),
    _text("meal", "breakfast, lunch, dinner or snack, if stated", optional=True),
    _text("food", "the food, or the batch it was taken from"),
    _text("state", "the state it was weighed in", among=STATES),
    Column("batch", "whole", "the number of the batch it was taken from", optional=True),
    _amount("as_weighed_g", "the net weight as stated, g"),
    _amount("edible_g", "without core, peel, bone or shell, g"),
    _amount("basis_g", "the weight that the figures are computed on, g"),
    _text("basis", "the state that the figures are for", among=STATES),
    _text("evidence", "how the amount was obtained", among=tuple(evidence.value for evidence in Evidence)),
    _text("boxes", "the numbers of the batch's boxes taken, as in 2,3", optional=True),
    _amount("pieces", "how many of the batch's pieces were taken", optional=True),
    *NUTRIENTS,
    _text("open_about", "the kind of the open question that leaves it without figures", optional=True),
    _amount("kcal_low", "the lowest energy that a possible answer gives, kcal", optional=True),
    _amount("kcal_high", "the highest energy that a possible answer gives, kcal", optional=True),
)

TABLES: tuple[Table, ...] = (
    Table("weigh_ins", "What you ate, in the current version.", _WEIGH_IN),
    Table(
        "weigh_in_versions",
        "Every version of every weigh-in, in the order they were written, including what was changed or removed.",
        (
            _text("kind", "what this version did", among=("recorded", "changed", "removed", "restored")),
            *_WEIGH_IN,
            _text("said", "what was understood, as JSON; needed for later corrections"),
        ),
        restored=True,
    ),
    Table(
        "batches",
        "What your kitchen has cooked.",
        (
            Column("number", "whole", "the batch's number"),
            _text("name", "its name"),
            Column("opened_at_utc", "moment", "when it was opened"),
            Column("opened_at_local", "local", "the same on your clock"),
            Column("closed", "yes_no", "whether it is finished"),
            UNDONE,
        ),
        restored=True,
    ),
    Table(
        "batch_ingredients",
        "What went into each batch.",
        (
            Column("batch", "whole", "the batch's number"),
            Column("position", "whole", "its position in the list, from 0"),
            _text("food", "the food"),
            _text("state", "the state it was weighed in", among=STATES),
            _text("food_group", "the food group, for looking up published yields"),
            _text("method", "the cooking method, if known"),
            _amount("raw_g", "its weight before cooking, g"),
            *NUTRIENTS,
            Column("added", "yes_no", "whether a later event of the batch added it", optional=True),
        ),
        restored=True,
    ),
    Table(
        "batch_events",
        "What happened to each batch, in order.",
        (
            Column("batch", "whole", "the batch's number"),
            Column("at_utc", "moment", "when it was recorded"),
            Column("at_local", "local", "the same on your clock"),
            _text("kind", "what happened", among=BATCH_EVENTS),
            _amount(
                "grams", "cooked weight, what was poured off, one box, what left or what was left, g", optional=True
            ),
            Column("count", "whole", "how many boxes", optional=True),
            _text("why", "why it left, how the batch ended, what its pieces are called, its new name", optional=True),
            Column("after_versions", "whole", "how many weigh-in versions preceded it", optional=True),
            Column("line", "whole", "the position of the ingredient that it is about", optional=True),
            Column("entry", "whole", "the position of the ingredient that holds the new values", optional=True),
            _amount("pieces", "how many pieces", optional=True),
            _text(
                "boxes",
                "the numbers of boxes, as in 2,3; with grams if they were filled, as in 2=280.0",
                optional=True,
            ),
            _text("place", "fridge or freezer", optional=True, among=("fridge", "freezer")),
            _text("was", "the name before", optional=True),
            UNDONE,
        ),
        restored=True,
    ),
    Table(
        "tares",
        "What the vessels of your kitchen weigh.",
        (_text("name", "the vessel"), _amount("grams", "its empty weight, g"), TOLD, UNDONE),
        restored=True,
    ),
    Table(
        "measures",
        "Your own cups, spoons, scoops and pieces.",
        (
            _text("food", "the food"),
            _text("measure", "the measure"),
            _amount("grams", "what one of it weighs, g"),
            TOLD,
            UNDONE,
        ),
        restored=True,
    ),
    Table(
        "labels",
        "The labels that you entered; figures are for one serving.",
        (
            _text("food", "the food"),
            _amount("serving_g", "one serving, g"),
            _amount("kcal", "energy, kcal"),
            _amount("protein_g", "protein, g"),
            _amount("fat_g", "fat, g"),
            _amount("carbohydrate_g", "carbohydrate, g"),
            _amount("fibre_g", "fibre, g", optional=True),
            _text("measure", "the measure that the label names", optional=True),
            _amount("measure_count", "how many of it make one serving"),
            _amount("alcohol_g", "alcohol, g", optional=True),
            _amount("polyols_g", "polyols, g", optional=True),
            _amount("sugars_g", "sugars, g", optional=True),
            _amount("saturated_fat_g", "saturated fat, g", optional=True),
            _amount("salt_g", "salt, g", optional=True),
            TOLD,
            UNDONE,
        ),
        restored=True,
    ),
    Table(
        "habits",
        "The state in which you weigh a food unless you say otherwise.",
        (_text("food", "the food"), _text("state", "the state", among=STATES), TOLD, UNDONE),
        restored=True,
    ),
    Table(
        "targets",
        "What you aim at for a day.",
        (
            Column("valid_from", "day", "the first day it applies to"),
            _amount("kcal", "energy, kcal", optional=True),
            _amount("protein_g", "protein, g", optional=True),
            _amount("fat_g", "fat, g", optional=True),
            _amount("carbohydrate_g", "carbohydrate, g", optional=True),
            _amount("fibre_g", "fibre, g", optional=True),
            _amount("sugars_g", "sugars, g", optional=True),
            _amount("saturated_fat_g", "saturated fat, g", optional=True),
            _amount("salt_g", "salt, g", optional=True),
            _amount("alcohol_g", "alcohol, g", optional=True),
            Column("valid_until", "day", "the last day it applies to, if any", optional=True),
            _text(
                "days", "training, rest, or days of the week as digits, 0 is Monday; empty: every day", optional=True
            ),
            TOLD,
            UNDONE,
        ),
        restored=True,
    ),
    Table(
        "day_kinds",
        "Which days you trained or rested, for targets that differ.",
        (
            Column("day", "day", "the day"),
            _text("kind", "what it was", among=("training", "rest")),
            TOLD,
            UNDONE,
        ),
        restored=True,
        since_later=True,
    ),
    Table(
        "body_weights",
        "Your own weight.",
        (Column("day", "day", "the day"), _amount("kg", "body weight, kg"), TOLD, UNDONE),
        restored=True,
    ),
    Table(
        "reminders",
        "When you wanted to be reminded.",
        (
            _text("what", "what it reminds you of"),
            _text("time", "HH:MM on your clock; empty if it is off", optional=True),
            TOLD,
            UNDONE,
        ),
        restored=True,
    ),
    Table(
        "settings",
        "Your settings; a name with “before” holds the previous value.",
        (_text("name", "the setting"), _text("value", "its value"), TOLD, UNDONE),
        restored=True,
    ),
    Table(
        "memory",
        "Answers that are remembered for the next time.",
        (
            _text("what", "what the answer is about", among=tuple(what.value for what in Remembered)),
            _text("word", "the word that it is remembered for"),
            _text("value", "the answer; empty if it was forgotten", optional=True),
            TOLD,
            UNDONE,
        ),
        restored=True,
        since_later=True,
    ),
    Table(
        "told_once",
        "Notices that are given only once and have been given.",
        (_text("key", "which notice"),),
        restored=True,
    ),
    Table(
        "unasked",
        "What happened to each day's reminders.",
        (
            _text("kind", "the reminder"),
            Column("local_date", "day", "the day on your calendar"),
            _text("state", "what happened to it"),
            Column("at_utc", "moment", "when that was"),
        ),
    ),
    Table(
        "messages",
        "Your messages, for as long as their text is kept.",
        (
            Column("said_at_utc", "moment", "when you said it"),
            Column("said_at_local", "local", "the same on your clock"),
            _text("channel", "where"),
            _text("kind", "say, edit, or press for a button"),
            _text("text", "the words"),
            Column("choice", "whole", "for a button: which one, from 1", optional=True),
        ),
    ),
    Table(
        "questions",
        "What you were asked.",
        (
            Column("asked_at_utc", "moment", "when"),
            _text("about", "about what"),
            _text("state", "waiting, answered or dropped"),
        ),
    ),
    Table(
        "templates",
        "Texts that you saved as a coach to send again.",
        (
            _text("name", "the template's name"),
            _text("text", "its words"),
            Column("at_utc", "moment", "when you saved it"),
        ),
        since_later=True,
    ),
    Table(
        "sharing",
        "Who can see your data now.",
        (_text("who", "coach: sees your records; kitchen: shares batches and vessels"), _text("name", "their name")),
    ),
)
PERSON = (
    _text("name", "what you are called"),
    _text("region", "whose cups and pints you measure with"),
    _text("timezone", "the name of your time zone"),
    Column("day_starts", "whole", "the hour at which your day starts"),
)
"""What an export says of the person."""

TYPES: dict[Kind, Callable[[Any], bool]] = {
    "text": lambda value: isinstance(value, str),
    "whole": lambda value: isinstance(value, int) and not isinstance(value, bool),
    "amount": lambda value: isinstance(value, float),
    "moment": lambda value: isinstance(value, datetime),
    "local": lambda value: isinstance(value, datetime),
    "day": lambda value: isinstance(value, date),
    "yes_no": lambda value: isinstance(value, bool),
}
