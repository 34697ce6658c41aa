"""What coaches keep about their clients for themselves."""

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"

WHOLE = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade() -> None:
    """Adds the table."""
    op.create_table(
        "remark",
        sa.Column("id", WHOLE, primary_key=True),
        sa.Column("coach_id", WHOLE, sa.ForeignKey("person.id"), nullable=False),
        sa.Column("client_id", WHOLE, sa.ForeignKey("person.id"), nullable=False),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("text", sa.Text, nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("kind IN ('note', 'flag', 'group')", name="kind"),
    )
    op.create_index("ix_remark_coach_id_client_id", "remark", ["coach_id", "client_id"])
    op.create_index("ix_remark_client_id", "remark", ["client_id"])
