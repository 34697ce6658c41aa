"""The tables.

One MetaData for SQLite and PostgreSQL. A test compares a database created from it with a migrated one. `REVISION` is
the newest migration's number: every change of the tables needs a migration and a new `REVISION`.
"""

from typing import Any

from sqlalchemy import (
    Boolean,
    CheckConstraint,
    Column,
    Date,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    Table,
    Text,
    UniqueConstraint,
    text,
)

from bot.kinds import BATCH_EVENTS, InboxState, OutboxState, UpdateState, VersionKind
from bot.store.columns import NUTRIENTS as NUTRIENTS
from bot.store.columns import (
    Moment,
    Whole,
    Words,
    amount,
    one_of,
    own_id,
    partial_index,
    refers_to,
    words,
)
from bot.store.columns import metadata as metadata
from bot.store.schema_people import address as address
from bot.store.schema_people import coaching as coaching
from bot.store.schema_people import cover_request as cover_request
from bot.store.schema_people import day_message as day_message
from bot.store.schema_people import invite as invite
from bot.store.schema_people import kitchen as kitchen
from bot.store.schema_people import person as person
from bot.store.schema_people import remark as remark
from bot.store.schema_people import room as room
from bot.store.schema_people import template as template

REVISION = "0014"

MAX_INTEGER = 2**63 - 1
"""The largest whole number either database holds; a person can type a larger one."""


def _nutrients() -> list[Column[float]]:
    return [amount(name, nullable=True) for name in NUTRIENTS]


# Updates as a server delivered them, not yet read: stored first, so that no unreadable one is lost.
arrival = Table(
    "arrival",
    metadata,
    own_id(),
    Column("channel", Text, nullable=False),
    words("update_key"),
    Column("body", Text, nullable=False),
    Column("came_at", Moment, nullable=False),
    Column("state", Text, nullable=False),
    words("error", nullable=True),
    one_of("state", *(state.value for state in UpdateState)),
    UniqueConstraint("channel", "update_key"),
    partial_index("ix_arrival_waiting", "channel", where="state = 'waiting'"),
)

inbound = Table(
    "inbound",
    metadata,
    own_id(),
    Column("channel", Text, nullable=False),
    words("update_key"),
    words("person_key"),
    Column("kind", Text, nullable=False),
    Column("body", Text, nullable=False),
    words("message_ref", nullable=True),
    Column("said_at", Moment, nullable=False),
    Column("state", Text, nullable=False),
    Column("tries", Integer, nullable=False),
    words("error", nullable=True),
    one_of("state", *(state.value for state in InboxState)),
    UniqueConstraint("channel", "update_key"),
    partial_index("ix_inbound_waiting", "channel", "person_key", where="state = 'waiting'"),
    Index(None, "channel", "person_key", "message_ref"),
)

outbox = Table(
    "outbox",
    metadata,
    own_id(),
    Column("channel", Text, nullable=False),
    # Where in the channel it goes: a person's key, or a group's.
    words("place"),
    refers_to("person_id", "person", nullable=True),
    refers_to("inbound_id", "inbound", nullable=True),
    Column("kind", Text, nullable=False),
    words("text"),
    Column("choices", Text, nullable=False),
    Column("question_ref", Text),
    # The channel's reference of the message that this answers or alters.
    words("about_ref", nullable=True),
    Column("state", Text, nullable=False),
    Column("tries", Integer, nullable=False),
    # How many parts of a text that is too long for one message have been sent.
    Column("parts_sent", Integer, nullable=False),
    Column("not_before", Moment),
    Column("sent_at", Moment),
    words("remote_ref", nullable=True),
    words("error", nullable=True),
    # The figures of the picture that goes with the text, as JSON; drawn when it is sent.
    words("picture", nullable=True),
    # Which file goes with the text, as JSON; made when it is sent.
    Column("document", Text),
    # Buttons that ask nothing, as JSON: what each says and what it does.
    Column("actions", Text),
    # Whether buttons stand under it.
    Column("buttons", Boolean),
    one_of("state", *(state.value for state in OutboxState)),
    Index(None, "inbound_id"),
    Index(None, "person_id"),
    partial_index("ix_outbox_buttons", "person_id", where="buttons"),
    partial_index("ix_outbox_unsent", "channel", "place", where="state IN ('pending', 'sending')"),
    partial_index("ix_outbox_remote_ref", "channel", "remote_ref", where="remote_ref IS NOT NULL"),
    # What became of a row is recorded under its number later, and must not be taken for another row's.
    sqlite_autoincrement=True,
)

# When the channel last heard from its server; after a long outage the people whose messages may be lost are told.
heartbeat = Table(
    "pulse",
    metadata,
    Column("channel", Text, primary_key=True),
    Column("at", Moment, nullable=False),
)

# Which of several processes does for the channel what only one may do, and when its lease expires unless renewed.
lease = Table(
    "watch",
    metadata,
    Column("channel", Text, primary_key=True),
    Column("holder", Text, nullable=False),
    Column("runs_out", Moment, nullable=False),
)

batch = Table(
    "batch",
    metadata,
    own_id(),
    refers_to("kitchen_id", "kitchen"),
    Column("number", Whole, nullable=False),
    words("name"),
    Column("opened_at", Moment, nullable=False),
    # Follows from the batch's events; kept here so that finding the open ones stays quick as batches pile up.
    Column("closed", Boolean, nullable=False),
    refers_to("inbound_id", "inbound"),
    refers_to("undone_by", "inbound", nullable=True),
    UniqueConstraint("kitchen_id", "number"),
    Index(
        "ix_batch_open",
        "kitchen_id",
        sqlite_where=text("closed = 0 AND undone_by IS NULL"),
        postgresql_where=text("NOT closed AND undone_by IS NULL"),
    ),
)

batch_ingredient = Table(
    "batch_ingredient",
    metadata,
    Column("batch_id", Whole, ForeignKey("batch.id"), primary_key=True),
    Column("position", Integer, primary_key=True),
    words("food"),
    Column("state", Text, nullable=False),
    words("food_group"),
    words("method"),
    amount("raw_g"),
    # Empty in the first four columns: the figures are not known.
    *_nutrients(),
    # Whether it is not of the opening: then one of the batch's events says what it is for.
    Column("added", Boolean, nullable=False),
)

batch_event = Table(
    "batch_event",
    metadata,
    own_id(),
    refers_to("batch_id", "batch"),
    Column("kind", Text, nullable=False),
    amount("grams", nullable=True),
    Column("count", Whole),
    words("why", nullable=True),
    # The newest weigh-in row there was, so that portions taken before are told from later ones.
    Column("after_row", Whole),
    # The position of the ingredient that it is about, and of the one that holds the new values.
    Column("line", Whole),
    Column("entry", Whole),
    amount("pieces", nullable=True),
    # Numbers of boxes, such as "2,3"; for boxes being filled with their grams, "2=280.0,3=".
    Column("boxes", Text),
    Column("place", Text),
    # For another name: the one before.
    words("was", nullable=True),
    refers_to("person_id", "person"),
    refers_to("inbound_id", "inbound"),
    Column("at", Moment, nullable=False),
    refers_to("undone_by", "inbound", nullable=True),
    one_of("kind", *BATCH_EVENTS),
    Index(None, "batch_id"),
)

weigh_in = Table(
    "weigh_in",
    metadata,
    own_id(),
    refers_to("person_id", "person"),
    Column("number", Whole, nullable=False),
    Column("kind", Text, nullable=False),
    refers_to("replaces", "weigh_in", nullable=True),
    words("food"),
    Column("state", Text, nullable=False),
    refers_to("batch_id", "batch", nullable=True),
    amount("as_weighed_g"),
    amount("edible_g"),
    amount("basis_g"),
    Column("basis", Text, nullable=False),
    Column("evidence", Text, nullable=False),
    # For a portion that came in boxes or pieces: the numbers of its boxes, such as "2,3", and how many pieces.
    Column("boxes", Text),
    amount("pieces", nullable=True),
    *_nutrients(),
    # What is still asked about a weigh-in without figures, and between which figures (kcal) the possible answers lie.
    Column("open_about", Text),
    amount("kcal_low", nullable=True),
    amount("kcal_high", nullable=True),
    Column("eaten_at", Moment, nullable=False),
    Column("day", Date, nullable=False),
    Column("meal", Text),
    Column("said", LargeBinary, nullable=False),
    refers_to("inbound_id", "inbound"),
    one_of("kind", *(kind.value for kind in VersionKind)),
    CheckConstraint("(kind = 'recorded') = (replaces IS NULL)", name="first_row"),
    CheckConstraint("number >= 1", name="number"),
    UniqueConstraint("replaces"),
    partial_index("uq_weigh_in_first_row", "person_id", "number", where="replaces IS NULL", unique=True),
    Index(None, "person_id", "number"),
    Index(None, "person_id", "day"),
    Index(None, "inbound_id"),
    partial_index("ix_weigh_in_batch_id", "batch_id", where="batch_id IS NOT NULL"),
)


def _fact(name: str, *columns: Column[Any], of: str = "person") -> Table:
    """A table of things a person (or a kitchen) has told: the newest row of a kind that is not undone counts."""
    owner = f"{of}_id"
    return Table(
        name,
        metadata,
        own_id(),
        refers_to(owner, of),
        *columns,
        refers_to("inbound_id", "inbound"),
        Column("at", Moment, nullable=False),
        refers_to("undone_by", "inbound", nullable=True),
        Index(None, owner),
    )


tare = _fact("tare", words("name"), amount("grams"), of="kitchen")
own_measure = _fact("own_measure", words("food"), words("measure"), amount("grams"))
label = _fact(
    "label",
    words("food"),
    amount("serving_g"),
    amount("kcal"),
    amount("protein_g"),
    amount("fat_g"),
    amount("carbohydrate_g"),
    amount("fibre_g", nullable=True),
    words("measure", nullable=True),
    amount("measure_count"),
    amount("alcohol_g", nullable=True),
    amount("polyols_g", nullable=True),
    amount("sugars_g", nullable=True),
    amount("saturated_fat_g", nullable=True),
    amount("salt_g", nullable=True),
)
habit = _fact("habit", words("food"), Column("state", Text, nullable=False))
target = _fact(
    "target",
    Column("valid_from", Date, nullable=False),
    amount("kcal", nullable=True),
    amount("protein_g", nullable=True),
    amount("fat_g", nullable=True),
    amount("carbohydrate_g", nullable=True),
    amount("fibre_g", nullable=True),
    amount("sugars_g", nullable=True),
    amount("saturated_fat_g", nullable=True),
    amount("salt_g", nullable=True),
    amount("alcohol_g", nullable=True),
    # The last day; none: until another is told.
    Column("valid_until", Date),
    # training, rest, or days of the week as digits (0 is Monday); none: every day.
    Column("days", Text),
)
day_kind = _fact("day_kind", Column("day", Date, nullable=False), Column("kind", Text, nullable=False))
body_weight = _fact("body_weight", Column("day", Date, nullable=False), amount("kg"))
reminder = _fact("reminder", words("what"), Column("time", Text))
setting = _fact("setting", words("name"), words("value"))
# An answer that would be the same next time; without a value it is forgotten.
memory = _fact("memory", Column("what", Text, nullable=False), words("word"), words("value", nullable=True))

# What comes unasked: one row for each kind of it and person, with the moment it is due next.
schedule = Table(
    "schedule",
    metadata,
    own_id(),
    refers_to("person_id", "person"),
    Column("kind", Text, nullable=False),
    # HH:MM on the person's own clock, and the days of the week (0 is Monday) on which it comes.
    Column("time", Text, nullable=False),
    Column("weekdays", Text, nullable=False),
    # Empty: it is off.
    Column("next_due", Moment),
    # The day on the person's calendar that next_due is for.
    Column("next_date", Date),
    UniqueConstraint("person_id", "kind"),
    partial_index("ix_schedule_due", "next_due", where="next_due IS NOT NULL"),
)

# What became of each of its days; the unique key lets no day come twice.
unasked = Table(
    "unasked",
    metadata,
    own_id(),
    refers_to("schedule_id", "schedule"),
    refers_to("person_id", "person"),
    Column("local_date", Date, nullable=False),
    Column("state", Text, nullable=False),
    Column("at", Moment, nullable=False),
    one_of("state", "sent", "unneeded", "late", "quiet", "enough", "unreachable", "failed"),
    UniqueConstraint("schedule_id", "local_date"),
    Index(None, "person_id", "local_date"),
)

first_time = Table(
    "first_time",
    metadata,
    Column("person_id", Whole, ForeignKey("person.id"), primary_key=True),
    Column("key", Words, primary_key=True),
    refers_to("inbound_id", "inbound"),
)

question = Table(
    "question",
    metadata,
    own_id(),
    refers_to("person_id", "person"),
    Column("ref", Text, nullable=False),
    Column("about", Text, nullable=False),
    words("text"),
    Column("choices", Text, nullable=False),
    Column("subject", LargeBinary, nullable=False),
    refers_to("inbound_id", "inbound"),
    Column("asked_at", Moment, nullable=False),
    Column("state", Text, nullable=False),
    # The message of which the reply ended with this question, when that is the person's newest.
    Column("shown_by", Whole),
    # Whether the person did not want to answer now: it is neither shown nor counted, and can still be answered.
    Column("skipped", Boolean),
    one_of("state", "waiting", "answered", "dropped"),
    UniqueConstraint("ref"),
    partial_index("ix_question_waiting", "person_id", where="state = 'waiting'"),
    Index(None, "inbound_id"),
)

journal = Table(
    "journal",
    metadata,
    own_id(),
    refers_to("person_id", "person"),
    refers_to("inbound_id", "inbound"),
    Column("kind", Text, nullable=False),
    Column("ref", Whole, nullable=False),
    refers_to("undone_by", "inbound", nullable=True),
    partial_index("ix_journal_standing", "person_id", "inbound_id", where="undone_by IS NULL"),
)
