"""The first tables."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

WHOLE = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
MOMENT = sa.DateTime(timezone=True)


def _id() -> sa.Column[int]:
    return sa.Column("id", WHOLE, primary_key=True)


def _to(name: str, target: str, nullable: bool = False) -> sa.Column[int]:
    return sa.Column(name, WHOLE, sa.ForeignKey(f"{target}.id"), nullable=nullable)


def _text(name: str, nullable: bool = False) -> sa.Column[str]:
    return sa.Column(name, sa.Text, nullable=nullable)


def _amount(name: str, nullable: bool = False) -> sa.Column[float]:
    return sa.Column(name, sa.Double, nullable=nullable)


def _partial_index(name: str, table: str, columns: list[str], where: str, unique: bool = False) -> None:
    op.create_index(name, table, columns, unique=unique, sqlite_where=sa.text(where), postgresql_where=sa.text(where))


def upgrade() -> None:
    """Makes all tables."""
    _people_and_messages()
    _batches()
    _weigh_ins()
    _facts()
    _questions_and_journal()


def _people_and_messages() -> None:
    op.create_table(
        "kitchen",
        _id(),
        sa.Column("batches", WHOLE, nullable=False),
    )
    op.create_table(
        "person",
        _id(),
        _text("name"),
        _text("region"),
        _text("timezone"),
        _text("role"),
        _to("kitchen_id", "kitchen"),
    )
    op.create_table(
        "address",
        sa.Column("channel", sa.Text, primary_key=True),
        sa.Column("key", sa.Text, primary_key=True),
        _to("person_id", "person"),
    )
    op.create_index("ix_address_person_id", "address", ["person_id"])
    op.create_table(
        "inbound",
        _id(),
        _text("channel"),
        _text("update_key"),
        _text("person_key"),
        _text("kind"),
        _text("body"),
        _text("message_ref", nullable=True),
        sa.Column("said_at", MOMENT, nullable=False),
        _text("state"),
        sa.Column("tries", sa.Integer, nullable=False),
        _text("error", nullable=True),
        sa.UniqueConstraint("channel", "update_key"),
        sa.CheckConstraint("state IN ('waiting', 'done', 'set_aside')", name="state"),
    )
    op.create_index("ix_inbound_channel_person_key_message_ref", "inbound", ["channel", "person_key", "message_ref"])
    _partial_index("ix_inbound_waiting", "inbound", ["channel", "person_key"], "state = 'waiting'")
    op.create_table(
        "outbox",
        _id(),
        _to("person_id", "person"),
        _to("inbound_id", "inbound", nullable=True),
        _text("kind"),
        _text("text"),
        _text("choices"),
        _text("question_ref", nullable=True),
        _text("state"),
        sa.Column("tries", sa.Integer, nullable=False),
        sa.Column("not_before", MOMENT, nullable=True),
        sa.Column("sent_at", MOMENT, nullable=True),
        _text("remote_ref", nullable=True),
        _text("error", nullable=True),
        sa.CheckConstraint("state IN ('pending', 'sending', 'sent', 'dead')", name="state"),
    )
    op.create_index("ix_outbox_inbound_id", "outbox", ["inbound_id"])
    _partial_index("ix_outbox_unsent", "outbox", ["state"], "state IN ('pending', 'sending')")


def _batches() -> None:
    op.create_table(
        "batch",
        _id(),
        _to("kitchen_id", "kitchen"),
        sa.Column("number", WHOLE, nullable=False),
        _text("name"),
        sa.Column("opened_at", MOMENT, nullable=False),
        sa.Column("closed", sa.Boolean, nullable=False),
        _to("inbound_id", "inbound"),
        _to("undone_by", "inbound", nullable=True),
        sa.UniqueConstraint("kitchen_id", "number"),
    )
    op.create_index(
        "ix_batch_open",
        "batch",
        ["kitchen_id"],
        sqlite_where=sa.text("closed = 0 AND undone_by IS NULL"),
        postgresql_where=sa.text("NOT closed AND undone_by IS NULL"),
    )
    op.create_table(
        "batch_ingredient",
        sa.Column("batch_id", WHOLE, sa.ForeignKey("batch.id"), primary_key=True),
        sa.Column("position", sa.Integer, primary_key=True),
        _text("food"),
        _text("state"),
        _text("food_group"),
        _text("method"),
        _amount("raw_g"),
        _amount("kcal"),
        _amount("protein_g"),
        _amount("fat_g"),
        _amount("carbohydrate_g"),
        _amount("fibre_g", nullable=True),
        _amount("sugars_g", nullable=True),
        _amount("saturated_fat_g", nullable=True),
        _amount("sodium_mg", nullable=True),
        _amount("alcohol_g", nullable=True),
    )
    op.create_table(
        "batch_event",
        _id(),
        _to("batch_id", "batch"),
        _text("kind"),
        _amount("grams", nullable=True),
        sa.Column("count", WHOLE, nullable=True),
        _text("why", nullable=True),
        sa.Column("after_row", WHOLE, nullable=True),
        _to("person_id", "person"),
        _to("inbound_id", "inbound"),
        sa.Column("at", MOMENT, nullable=False),
        _to("undone_by", "inbound", nullable=True),
        sa.CheckConstraint("kind IN ('cooked', 'drained', 'boxed', 'reduced', 'closed', 'reopened')", name="kind"),
    )
    op.create_index("ix_batch_event_batch_id", "batch_event", ["batch_id"])


def _weigh_ins() -> None:
    op.create_table(
        "weigh_in",
        _id(),
        _to("person_id", "person"),
        sa.Column("number", WHOLE, nullable=False),
        _text("kind"),
        _to("replaces", "weigh_in", nullable=True),
        _text("food"),
        _text("state"),
        _to("batch_id", "batch", nullable=True),
        _amount("as_weighed_g"),
        _amount("edible_g"),
        _amount("basis_g"),
        _text("basis"),
        _text("evidence"),
        _amount("kcal", nullable=True),
        _amount("protein_g", nullable=True),
        _amount("fat_g", nullable=True),
        _amount("carbohydrate_g", nullable=True),
        _amount("fibre_g", nullable=True),
        _amount("sugars_g", nullable=True),
        _amount("saturated_fat_g", nullable=True),
        _amount("sodium_mg", nullable=True),
        _amount("alcohol_g", nullable=True),
        sa.Column("eaten_at", MOMENT, nullable=False),
        sa.Column("day", sa.Date, nullable=False),
        _text("meal", nullable=True),
        sa.Column("said", sa.LargeBinary, nullable=False),
        _to("inbound_id", "inbound"),
        sa.CheckConstraint("kind IN ('recorded', 'changed', 'removed', 'restored')", name="kind"),
        sa.CheckConstraint("(kind = 'recorded') = (replaces IS NULL)", name="first_row"),
        sa.CheckConstraint("number >= 1", name="number"),
        sa.UniqueConstraint("replaces"),
    )
    _partial_index("ix_weigh_in_batch_id", "weigh_in", ["batch_id"], "batch_id IS NOT NULL")
    op.create_index("ix_weigh_in_inbound_id", "weigh_in", ["inbound_id"])
    op.create_index("ix_weigh_in_person_id_day", "weigh_in", ["person_id", "day"])
    op.create_index("ix_weigh_in_person_id_number", "weigh_in", ["person_id", "number"])
    _partial_index("uq_weigh_in_first_row", "weigh_in", ["person_id", "number"], "replaces IS NULL", unique=True)


def _facts() -> None:
    op.create_table(
        "tare",
        _id(),
        _to("kitchen_id", "kitchen"),
        _text("name"),
        _amount("grams"),
        _to("inbound_id", "inbound"),
        sa.Column("at", MOMENT, nullable=False),
        _to("undone_by", "inbound", nullable=True),
    )
    op.create_index("ix_tare_kitchen_id", "tare", ["kitchen_id"])
    op.create_table(
        "own_measure",
        _id(),
        _to("person_id", "person"),
        _text("food"),
        _text("measure"),
        _amount("grams"),
        _to("inbound_id", "inbound"),
        sa.Column("at", MOMENT, nullable=False),
        _to("undone_by", "inbound", nullable=True),
    )
    op.create_index("ix_own_measure_person_id", "own_measure", ["person_id"])
    op.create_table(
        "label",
        _id(),
        _to("person_id", "person"),
        _text("food"),
        _amount("serving_g"),
        _amount("kcal"),
        _amount("protein_g"),
        _amount("fat_g"),
        _amount("carbohydrate_g"),
        _amount("fibre_g", nullable=True),
        _text("measure", nullable=True),
        _amount("measure_count"),
        _amount("alcohol_g", nullable=True),
        _amount("polyols_g", nullable=True),
        _to("inbound_id", "inbound"),
        sa.Column("at", MOMENT, nullable=False),
        _to("undone_by", "inbound", nullable=True),
    )
    op.create_index("ix_label_person_id", "label", ["person_id"])
    op.create_table(
        "habit",
        _id(),
        _to("person_id", "person"),
        _text("food"),
        _text("state"),
        _to("inbound_id", "inbound"),
        sa.Column("at", MOMENT, nullable=False),
        _to("undone_by", "inbound", nullable=True),
    )
    op.create_index("ix_habit_person_id", "habit", ["person_id"])
    op.create_table(
        "target",
        _id(),
        _to("person_id", "person"),
        sa.Column("valid_from", sa.Date, nullable=False),
        _amount("kcal", nullable=True),
        _amount("protein_g", nullable=True),
        _amount("fat_g", nullable=True),
        _amount("carbohydrate_g", nullable=True),
        _to("inbound_id", "inbound"),
        sa.Column("at", MOMENT, nullable=False),
        _to("undone_by", "inbound", nullable=True),
    )
    op.create_index("ix_target_person_id", "target", ["person_id"])
    op.create_table(
        "body_weight",
        _id(),
        _to("person_id", "person"),
        sa.Column("day", sa.Date, nullable=False),
        _amount("kg"),
        _to("inbound_id", "inbound"),
        sa.Column("at", MOMENT, nullable=False),
        _to("undone_by", "inbound", nullable=True),
    )
    op.create_index("ix_body_weight_person_id", "body_weight", ["person_id"])
    op.create_table(
        "reminder",
        _id(),
        _to("person_id", "person"),
        _text("what"),
        _text("time", nullable=True),
        _to("inbound_id", "inbound"),
        sa.Column("at", MOMENT, nullable=False),
        _to("undone_by", "inbound", nullable=True),
    )
    op.create_index("ix_reminder_person_id", "reminder", ["person_id"])
    op.create_table(
        "setting",
        _id(),
        _to("person_id", "person"),
        _text("name"),
        _text("value"),
        _to("inbound_id", "inbound"),
        sa.Column("at", MOMENT, nullable=False),
        _to("undone_by", "inbound", nullable=True),
    )
    op.create_index("ix_setting_person_id", "setting", ["person_id"])
    op.create_table(
        "first_time",
        sa.Column("person_id", WHOLE, sa.ForeignKey("person.id"), primary_key=True),
        sa.Column("key", sa.Text, primary_key=True),
        _to("inbound_id", "inbound"),
    )


def _questions_and_journal() -> None:
    op.create_table(
        "question",
        _id(),
        _to("person_id", "person"),
        _text("ref"),
        _text("about"),
        _text("text"),
        _text("choices"),
        sa.Column("subject", sa.LargeBinary, nullable=False),
        _to("inbound_id", "inbound"),
        sa.Column("asked_at", MOMENT, nullable=False),
        _text("state"),
        sa.UniqueConstraint("ref"),
        sa.CheckConstraint("state IN ('waiting', 'answered', 'dropped')", name="state"),
    )
    op.create_index("ix_question_inbound_id", "question", ["inbound_id"])
    _partial_index("ix_question_waiting", "question", ["person_id"], "state = 'waiting'")
    op.create_table(
        "journal",
        _id(),
        _to("person_id", "person"),
        _to("inbound_id", "inbound"),
        _text("kind"),
        sa.Column("ref", WHOLE, nullable=False),
        _to("undone_by", "inbound", nullable=True),
    )
    _partial_index("ix_journal_standing", "journal", ["person_id", "inbound_id"], "undone_by IS NULL")
