"""The message in which a person's day stands."""

import sqlalchemy as sa
from alembic import op

revision = "0013"
down_revision = "0012"

WHOLE = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade() -> None:
    """Adds the table; nobody has such a message before they ask for it."""
    op.create_table(
        "day_message",
        sa.Column("person_id", WHOLE, sa.ForeignKey("person.id"), primary_key=True),
        sa.Column("day", sa.Date, nullable=False),
        sa.Column("text", sa.Text, nullable=False),
        sa.Column("pin", sa.Boolean, nullable=False),
        sa.Column("message_ref", sa.Text),
        sa.Column("pinned_ref", sa.Text),
    )
