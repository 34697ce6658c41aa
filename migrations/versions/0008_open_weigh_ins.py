"""Weigh-ins that stand while their figures wait, which question was shown last, and remembered answers."""

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"

WHOLE = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade() -> None:
    """Adds the columns and the table; questions that wait can still be answered."""
    op.add_column("weigh_in", sa.Column("open_about", sa.Text))
    op.add_column("weigh_in", sa.Column("kcal_low", sa.Double))
    op.add_column("weigh_in", sa.Column("kcal_high", sa.Double))
    op.add_column("question", sa.Column("shown_by", WHOLE))
    op.add_column("question", sa.Column("skipped", sa.Boolean))
    # What was asked last can be answered in bare words, as before.
    op.execute(
        "UPDATE question SET shown_by = inbound_id WHERE id IN ("
        " SELECT min(q.id) FROM question q JOIN ("
        "  SELECT person_id, max(inbound_id) AS newest FROM question WHERE state = 'waiting' GROUP BY person_id"
        " ) n ON n.person_id = q.person_id AND n.newest = q.inbound_id WHERE q.state = 'waiting' GROUP BY q.person_id)"
    )
    op.create_table(
        "memory",
        sa.Column("id", WHOLE, primary_key=True),
        sa.Column("person_id", WHOLE, sa.ForeignKey("person.id"), nullable=False),
        sa.Column("what", sa.Text, nullable=False),
        sa.Column("word", sa.Text, nullable=False),
        sa.Column("value", sa.Text),
        sa.Column("inbound_id", WHOLE, sa.ForeignKey("inbound.id"), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("undone_by", WHOLE, sa.ForeignKey("inbound.id")),
    )
    op.create_index("ix_memory_person_id", "memory", ["person_id"])
