"""Coaches who cover for another, a coach's templates; what was withheld with energy stays withheld."""

import sqlalchemy as sa
from alembic import op

revision = "0012"
down_revision = "0011"

WHOLE = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
MOMENT = sa.DateTime(timezone=True)


def _to(name: str, target: str, nullable: bool = False) -> sa.Column[int]:
    return sa.Column(name, WHOLE, sa.ForeignKey(f"{target}.id"), nullable=nullable)


def upgrade() -> None:
    """Adds the tables and columns.

    Energy used to be withheld with all sums, also that of protein, which can be shared alone from now on.
    """
    with op.batch_alter_table("coaching") as coaching:
        coaching.add_column(sa.Column("until", MOMENT))
        coaching.add_column(sa.Column("covers_id", WHOLE, nullable=True))
        coaching.create_foreign_key("fk_coaching_covers_id", "person", ["covers_id"], ["id"])
    op.create_table(
        "cover_request",
        sa.Column("id", WHOLE, primary_key=True),
        _to("invite_id", "invite"),
        _to("coach_id", "person"),
        _to("client_id", "person"),
        _to("colleague_id", "person", nullable=True),
        sa.Column("last_day", sa.Date, nullable=False),
    )
    op.create_index("ix_cover_request_invite_id", "cover_request", ["invite_id"])
    op.create_table(
        "template",
        sa.Column("id", WHOLE, primary_key=True),
        _to("coach_id", "person"),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("text", sa.Text, nullable=False),
        sa.Column("at", MOMENT, nullable=False),
        sa.UniqueConstraint("coach_id", "name", name="uq_template_coach_id_name"),
    )
    op.execute(
        "UPDATE setting SET value = value || ' protein'"
        " WHERE name LIKE 'withheld from %' AND value LIKE '%energy%' AND value NOT LIKE '%protein%'"
    )
