"""Batches that are changed, counted out and boxed like a pot, and portions in boxes and pieces."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"

WHOLE = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
KINDS = (
    "added",
    "corrected",
    "removed",
    "cooked",
    "weighed",
    "drained",
    "poured",
    "refuse",
    "counted",
    "boxed",
    "repacked",
    "moved",
    "reduced",
    "renamed",
    "closed",
    "reopened",
)


def upgrade() -> None:
    """Adds the columns; what was written before keeps its values, and its meaning."""
    with op.batch_alter_table("batch_ingredient") as ingredient:
        ingredient.add_column(sa.Column("added", sa.Boolean, nullable=False, server_default=sa.false()))
        for name in ("kcal", "protein_g", "fat_g", "carbohydrate_g"):
            ingredient.alter_column(name, existing_type=sa.Double(), nullable=True)
    with op.batch_alter_table("batch_ingredient") as ingredient:
        ingredient.alter_column("added", existing_type=sa.Boolean(), existing_nullable=False, server_default=None)
    with op.batch_alter_table("batch_event") as event:
        event.add_column(sa.Column("line", WHOLE))
        event.add_column(sa.Column("entry", WHOLE))
        event.add_column(sa.Column("pieces", sa.Double))
        event.add_column(sa.Column("boxes", sa.Text))
        event.add_column(sa.Column("place", sa.Text))
        event.add_column(sa.Column("was", sa.Text))
        event.drop_constraint(op.f("ck_batch_event_kind"), type_="check")
        event.create_check_constraint("kind", f"kind IN ({', '.join(repr(kind) for kind in KINDS)})")
    op.add_column("weigh_in", sa.Column("boxes", sa.Text))
    op.add_column("weigh_in", sa.Column("pieces", sa.Double))
