"""Whose watch it is, of several processes on one database."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    """Makes the table of watches."""
    op.create_table(
        "watch",
        sa.Column("channel", sa.Text, primary_key=True),
        sa.Column("holder", sa.Text, nullable=False),
        sa.Column("runs_out", sa.DateTime(timezone=True), nullable=False),
    )
