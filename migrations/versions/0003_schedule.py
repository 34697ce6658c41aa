"""What is due when, what was said unasked, pictures with messages, the hour at which a person's day starts."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"

WHOLE = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
MOMENT = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Makes the tables of the schedule, and gives messages a picture."""
    op.create_table(
        "schedule",
        sa.Column("id", WHOLE, primary_key=True),
        sa.Column("person_id", WHOLE, sa.ForeignKey("person.id"), nullable=False),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("time", sa.Text, nullable=False),
        sa.Column("weekdays", sa.Text, nullable=False),
        sa.Column("next_due", MOMENT, nullable=True),
        sa.Column("next_date", sa.Date, nullable=True),
        sa.UniqueConstraint("person_id", "kind"),
    )
    op.create_index(
        "ix_schedule_due",
        "schedule",
        ["next_due"],
        sqlite_where=sa.text("next_due IS NOT NULL"),
        postgresql_where=sa.text("next_due IS NOT NULL"),
    )
    op.create_table(
        "unasked",
        sa.Column("id", WHOLE, primary_key=True),
        sa.Column("schedule_id", WHOLE, sa.ForeignKey("schedule.id"), nullable=False),
        sa.Column("person_id", WHOLE, sa.ForeignKey("person.id"), nullable=False),
        sa.Column("local_date", sa.Date, nullable=False),
        sa.Column("state", sa.Text, nullable=False),
        sa.Column("at", MOMENT, nullable=False),
        sa.UniqueConstraint("schedule_id", "local_date"),
        sa.CheckConstraint(
            "state IN ('sent', 'unneeded', 'late', 'quiet', 'enough', 'unreachable', 'failed')", name="state"
        ),
    )
    op.create_index("ix_unasked_person_id_local_date", "unasked", ["person_id", "local_date"])
    op.add_column("outbox", sa.Column("picture", sa.Text, nullable=True))
    op.add_column("person", sa.Column("day_starts", sa.Integer, nullable=False, server_default="0"))
