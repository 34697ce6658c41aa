"""Coaches and their clients, rooms of kitchens, and who invites whom."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"

WHOLE = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
MOMENT = sa.DateTime(timezone=True)


def _to(name: str, target: str, nullable: bool = False) -> sa.Column[int]:
    return sa.Column(name, WHOLE, sa.ForeignKey(f"{target}.id"), nullable=nullable)


def upgrade() -> None:
    """Makes the tables, and gives invitations their sender."""
    op.create_table(
        "room",
        sa.Column("channel", sa.Text, primary_key=True),
        sa.Column("place", sa.Text, primary_key=True),
        _to("kitchen_id", "kitchen"),
    )
    op.create_index(None, "room", ["kitchen_id"])
    op.create_table(
        "coaching",
        sa.Column("id", WHOLE, primary_key=True),
        _to("coach_id", "person"),
        _to("client_id", "person"),
        sa.Column("called", sa.Text, nullable=False),
        sa.Column("agreed_at", MOMENT, nullable=False),
        sa.Column("ended_at", MOMENT),
        _to("ended_by", "person", nullable=True),
    )
    where = sa.text("ended_at IS NULL")
    pair = ["coach_id", "client_id"]
    op.create_index("uq_coaching_standing", "coaching", pair, unique=True, sqlite_where=where, postgresql_where=where)
    op.create_index(None, "coaching", ["client_id"])
    with op.batch_alter_table("invite") as invite:
        invite.add_column(sa.Column("made_by", WHOLE, nullable=True))
        invite.add_column(sa.Column("called", sa.Text, nullable=True))
        invite.create_foreign_key(None, "person", ["made_by"], ["id"])
