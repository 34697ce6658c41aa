"""Targets for more nutrients, for some days, until a day; what kind a day is; the rest of a label's figures."""

import sqlalchemy as sa
from alembic import op

revision = "0010"
down_revision = "0009"

WHOLE = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade() -> None:
    """Adds the columns and the table; targets that stand hold on every day, and have no end."""
    for name in ("fibre_g", "sugars_g", "saturated_fat_g", "salt_g", "alcohol_g"):
        op.add_column("target", sa.Column(name, sa.Double))
    op.add_column("target", sa.Column("valid_until", sa.Date))
    op.add_column("target", sa.Column("days", sa.Text))
    for name in ("sugars_g", "saturated_fat_g", "salt_g"):
        op.add_column("label", sa.Column(name, sa.Double))
    op.create_table(
        "day_kind",
        sa.Column("id", WHOLE, primary_key=True),
        sa.Column("person_id", WHOLE, sa.ForeignKey("person.id"), nullable=False),
        sa.Column("day", sa.Date, nullable=False),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("inbound_id", WHOLE, sa.ForeignKey("inbound.id"), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("undone_by", WHOLE, sa.ForeignKey("inbound.id")),
    )
    op.create_index("ix_day_kind_person_id", "day_kind", ["person_id"])
