"""Buttons under texts that ask nothing, and which sent texts have buttons that still stand."""

import sqlalchemy as sa
from alembic import op

revision = "0011"
down_revision = "0010"


def upgrade() -> None:
    """Adds the columns and an index; what was sent before is not followed up."""
    op.add_column("outbox", sa.Column("actions", sa.Text))
    op.add_column("outbox", sa.Column("buttons", sa.Boolean))
    where = sa.text("buttons")
    op.create_index("ix_outbox_buttons", "outbox", ["person_id"], sqlite_where=where, postgresql_where=where)
