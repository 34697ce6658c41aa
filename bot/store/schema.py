"""The tables.

One MetaData for SQLite and PostgreSQL. Migrations lead here step by step; a test proves that both ways arrive at the
same tables. `REVISION` is the newest migration's name: a change of the tables is a migration and a new `REVISION`.
"""

from datetime import UTC, datetime
from typing import Any

from sqlalchemy import (
    BigInteger,
    Boolean,
    CheckConstraint,
    Column,
    Date,
    DateTime,
    Dialect,
    Double,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    Table,
    Text,
    UniqueConstraint,
    text,
)
from sqlalchemy.types import TypeDecorator

REVISION = "0004"

MAX_INTEGER = 2**63 - 1
"""The largest whole number either database holds; a person can type a larger one."""


class Moment(TypeDecorator[datetime]):
    """An aware datetime; kept and given back in UTC."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """The same moment in UTC. ValueError without a time zone."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError("a moment without a time zone cannot be kept")
        return value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """The moment in UTC, aware."""
        if value is None:
            return None
        # SQLite has no time zones: what was written in UTC comes back without one.
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


class Words(TypeDecorator[str]):
    """Text that somebody typed, less what a database refuses: NUL and unpaired surrogates become U+FFFD."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: str | None, dialect: Dialect) -> str | None:
        """The text as both databases take it."""
        if value is None:
            return None
        if "\0" in value:
            value = value.replace("\0", "\ufffd")
        if not value.isascii() and any("\ud800" <= letter <= "\udfff" for letter in value):
            value = "".join("\ufffd" if "\ud800" <= letter <= "\udfff" else letter for letter in value)
        return value


# SQLite counts up by itself only for a column declared INTEGER, which there holds 64 bits.
Whole = BigInteger().with_variant(Integer, "sqlite")

metadata = MetaData(
    naming_convention={
        "pk": "pk_%(table_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "ck": "ck_%(table_name)s_%(constraint_name)s",
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    }
)


def _id() -> Column[int]:
    return Column("id", Whole, primary_key=True)


def _to(name: str, target: str, nullable: bool = False) -> Column[int]:
    return Column(name, Whole, ForeignKey(f"{target}.id"), nullable=nullable)


def _words(name: str, nullable: bool = False) -> Column[str]:
    return Column(name, Words, nullable=nullable)


def _amount(name: str, nullable: bool = False) -> Column[float]:
    return Column(name, Double, nullable=nullable)


def _one_of(column: str, *values: str) -> CheckConstraint:
    return CheckConstraint(f"{column} IN ({', '.join(repr(value) for value in values)})", name=column)


def _partial(name: str, *columns: str, where: str, unique: bool = False) -> Index:
    return Index(name, *columns, unique=unique, sqlite_where=text(where), postgresql_where=text(where))


NUTRIENTS = (
    "kcal",
    "protein_g",
    "fat_g",
    "carbohydrate_g",
    "fibre_g",
    "sugars_g",
    "saturated_fat_g",
    "sodium_mg",
    "alcohol_g",
)
"""The columns of a nutrient vector, in the order of the fields of `domain.nutrients.Nutrients`."""


def _nutrients(always: tuple[str, ...] = ()) -> list[Column[float]]:
    return [_amount(name, nullable=name not in always) for name in NUTRIENTS]


kitchen = Table(
    "kitchen",
    metadata,
    _id(),
    # The number the newest batch got; numbers are given once, also when the batch is undone.
    Column("batches", Whole, nullable=False),
)

person = Table(
    "person",
    metadata,
    _id(),
    _words("name"),
    Column("region", Text, nullable=False),
    Column("timezone", Text, nullable=False),
    Column("role", Text, nullable=False),
    _to("kitchen_id", "kitchen"),
    # The hour at which the person's day starts; what is eaten before it stands on the day before.
    Column("day_starts", Integer, nullable=False, server_default="0"),
)

address = Table(
    "address",
    metadata,
    Column("channel", Text, primary_key=True),
    Column("key", Words, primary_key=True),
    _to("person_id", "person"),
    # Since when nothing can be delivered there: the person has blocked the bot, or is gone.
    Column("blocked_at", Moment),
    Index(None, "person_id"),
)

# What a channel delivered, as it came and not yet read: kept first, so that nothing that can't be read is lost.
arrival = Table(
    "arrival",
    metadata,
    _id(),
    Column("channel", Text, nullable=False),
    _words("update_key"),
    Column("body", Text, nullable=False),
    Column("came_at", Moment, nullable=False),
    Column("state", Text, nullable=False),
    _words("error", nullable=True),
    _one_of("state", "waiting", "read", "unreadable"),
    UniqueConstraint("channel", "update_key"),
    _partial("ix_arrival_waiting", "channel", where="state = 'waiting'"),
)

inbound = Table(
    "inbound",
    metadata,
    _id(),
    Column("channel", Text, nullable=False),
    _words("update_key"),
    _words("person_key"),
    Column("kind", Text, nullable=False),
    Column("body", Text, nullable=False),
    _words("message_ref", nullable=True),
    Column("said_at", Moment, nullable=False),
    Column("state", Text, nullable=False),
    Column("tries", Integer, nullable=False),
    _words("error", nullable=True),
    _one_of("state", "waiting", "done", "set_aside"),
    UniqueConstraint("channel", "update_key"),
    _partial("ix_inbound_waiting", "channel", "person_key", where="state = 'waiting'"),
    Index(None, "channel", "person_key", "message_ref"),
)

outbox = Table(
    "outbox",
    metadata,
    _id(),
    Column("channel", Text, nullable=False),
    # Where in the channel it goes: a person's key, or a group's.
    _words("place"),
    _to("person_id", "person", nullable=True),
    _to("inbound_id", "inbound", nullable=True),
    Column("kind", Text, nullable=False),
    _words("text"),
    Column("choices", Text, nullable=False),
    Column("question_ref", Text),
    # The channel's reference of the message that this answers or alters.
    _words("about_ref", nullable=True),
    Column("state", Text, nullable=False),
    Column("tries", Integer, nullable=False),
    # How many parts of a text that is too long for one message have been sent.
    Column("parts_sent", Integer, nullable=False),
    Column("not_before", Moment),
    Column("sent_at", Moment),
    _words("remote_ref", nullable=True),
    _words("error", nullable=True),
    # The figures of the picture that goes with the text, as JSON; drawn when it is sent.
    _words("picture", nullable=True),
    _one_of("state", "pending", "sending", "sent", "dead"),
    Index(None, "inbound_id"),
    Index(None, "person_id"),
    _partial("ix_outbox_unsent", "channel", "place", where="state IN ('pending', 'sending')"),
    _partial("ix_outbox_remote_ref", "channel", "remote_ref", where="remote_ref IS NOT NULL"),
)

# When the channel was last known to be in touch; a long silence is told to the people whose messages it may have lost.
pulse = Table(
    "pulse",
    metadata,
    Column("channel", Text, primary_key=True),
    Column("at", Moment, nullable=False),
)

# Which of several processes does for the channel what only one may do, and until when unless it says so again.
watch = Table(
    "watch",
    metadata,
    Column("channel", Text, primary_key=True),
    Column("holder", Text, nullable=False),
    Column("runs_out", Moment, nullable=False),
)

invite = Table(
    "invite",
    metadata,
    _id(),
    Column("code_hash", Text, nullable=False),
    Column("purpose", Text, nullable=False),
    Column("made_at", Moment, nullable=False),
    Column("expires_at", Moment, nullable=False),
    Column("used_at", Moment),
    _to("used_by", "person", nullable=True),
    UniqueConstraint("code_hash"),
)

batch = Table(
    "batch",
    metadata,
    _id(),
    _to("kitchen_id", "kitchen"),
    Column("number", Whole, nullable=False),
    _words("name"),
    Column("opened_at", Moment, nullable=False),
    # Follows from the batch's events; kept here so that finding the open ones stays quick as batches pile up.
    Column("closed", Boolean, nullable=False),
    _to("inbound_id", "inbound"),
    _to("undone_by", "inbound", nullable=True),
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
    _words("food"),
    Column("state", Text, nullable=False),
    _words("food_group"),
    _words("method"),
    _amount("raw_g"),
    *_nutrients(always=NUTRIENTS[:4]),
)

batch_event = Table(
    "batch_event",
    metadata,
    _id(),
    _to("batch_id", "batch"),
    Column("kind", Text, nullable=False),
    _amount("grams", nullable=True),
    Column("count", Whole),
    _words("why", nullable=True),
    # For boxes: the newest weigh-in row there was, so that the boxes taken from these are told from earlier ones.
    Column("after_row", Whole),
    _to("person_id", "person"),
    _to("inbound_id", "inbound"),
    Column("at", Moment, nullable=False),
    _to("undone_by", "inbound", nullable=True),
    _one_of("kind", "cooked", "drained", "boxed", "reduced", "closed", "reopened"),
    Index(None, "batch_id"),
)

weigh_in = Table(
    "weigh_in",
    metadata,
    _id(),
    _to("person_id", "person"),
    Column("number", Whole, nullable=False),
    Column("kind", Text, nullable=False),
    _to("replaces", "weigh_in", nullable=True),
    _words("food"),
    Column("state", Text, nullable=False),
    _to("batch_id", "batch", nullable=True),
    _amount("as_weighed_g"),
    _amount("edible_g"),
    _amount("basis_g"),
    Column("basis", Text, nullable=False),
    Column("evidence", Text, nullable=False),
    *_nutrients(),
    Column("eaten_at", Moment, nullable=False),
    Column("day", Date, nullable=False),
    Column("meal", Text),
    Column("said", LargeBinary, nullable=False),
    _to("inbound_id", "inbound"),
    _one_of("kind", "recorded", "changed", "removed", "restored"),
    CheckConstraint("(kind = 'recorded') = (replaces IS NULL)", name="first_row"),
    CheckConstraint("number >= 1", name="number"),
    UniqueConstraint("replaces"),
    _partial("uq_weigh_in_first_row", "person_id", "number", where="replaces IS NULL", unique=True),
    Index(None, "person_id", "number"),
    Index(None, "person_id", "day"),
    Index(None, "inbound_id"),
    _partial("ix_weigh_in_batch_id", "batch_id", where="batch_id IS NOT NULL"),
)


def _fact(name: str, *columns: Column[Any], of: str = "person") -> Table:
    """A table of things a person (or a kitchen) has told: the newest row of a kind that is not undone counts."""
    owner = f"{of}_id"
    return Table(
        name,
        metadata,
        _id(),
        _to(owner, of),
        *columns,
        _to("inbound_id", "inbound"),
        Column("at", Moment, nullable=False),
        _to("undone_by", "inbound", nullable=True),
        Index(None, owner),
    )


tare = _fact("tare", _words("name"), _amount("grams"), of="kitchen")
own_measure = _fact("own_measure", _words("food"), _words("measure"), _amount("grams"))
label = _fact(
    "label",
    _words("food"),
    _amount("serving_g"),
    _amount("kcal"),
    _amount("protein_g"),
    _amount("fat_g"),
    _amount("carbohydrate_g"),
    _amount("fibre_g", nullable=True),
    _words("measure", nullable=True),
    _amount("measure_count"),
    _amount("alcohol_g", nullable=True),
    _amount("polyols_g", nullable=True),
)
habit = _fact("habit", _words("food"), Column("state", Text, nullable=False))
target = _fact(
    "target",
    Column("valid_from", Date, nullable=False),
    _amount("kcal", nullable=True),
    _amount("protein_g", nullable=True),
    _amount("fat_g", nullable=True),
    _amount("carbohydrate_g", nullable=True),
)
body_weight = _fact("body_weight", Column("day", Date, nullable=False), _amount("kg"))
reminder = _fact("reminder", _words("what"), Column("time", Text))
setting = _fact("setting", _words("name"), _words("value"))

# What comes unasked: one row for each kind of it and person, with the moment it is due next.
schedule = Table(
    "schedule",
    metadata,
    _id(),
    _to("person_id", "person"),
    Column("kind", Text, nullable=False),
    # HH:MM on the person's own clock, and the days of the week (0 is Monday) on which it comes.
    Column("time", Text, nullable=False),
    Column("weekdays", Text, nullable=False),
    # Empty: it is off.
    Column("next_due", Moment),
    # The day on the person's calendar that next_due is for.
    Column("next_date", Date),
    UniqueConstraint("person_id", "kind"),
    _partial("ix_schedule_due", "next_due", where="next_due IS NOT NULL"),
)

# What became of each of its days; the unique key lets no day come twice.
unasked = Table(
    "unasked",
    metadata,
    _id(),
    _to("schedule_id", "schedule"),
    _to("person_id", "person"),
    Column("local_date", Date, nullable=False),
    Column("state", Text, nullable=False),
    Column("at", Moment, nullable=False),
    _one_of("state", "sent", "unneeded", "late", "quiet", "enough", "unreachable", "failed"),
    UniqueConstraint("schedule_id", "local_date"),
    Index(None, "person_id", "local_date"),
)

first_time = Table(
    "first_time",
    metadata,
    Column("person_id", Whole, ForeignKey("person.id"), primary_key=True),
    Column("key", Words, primary_key=True),
    _to("inbound_id", "inbound"),
)

question = Table(
    "question",
    metadata,
    _id(),
    _to("person_id", "person"),
    Column("ref", Text, nullable=False),
    Column("about", Text, nullable=False),
    _words("text"),
    Column("choices", Text, nullable=False),
    Column("subject", LargeBinary, nullable=False),
    _to("inbound_id", "inbound"),
    Column("asked_at", Moment, nullable=False),
    Column("state", Text, nullable=False),
    _one_of("state", "waiting", "answered", "dropped"),
    UniqueConstraint("ref"),
    _partial("ix_question_waiting", "person_id", where="state = 'waiting'"),
    Index(None, "inbound_id"),
)

journal = Table(
    "journal",
    metadata,
    _id(),
    _to("person_id", "person"),
    _to("inbound_id", "inbound"),
    Column("kind", Text, nullable=False),
    Column("ref", Whole, nullable=False),
    _to("undone_by", "inbound", nullable=True),
    _partial("ix_journal_standing", "person_id", "inbound_id", where="undone_by IS NULL"),
)
