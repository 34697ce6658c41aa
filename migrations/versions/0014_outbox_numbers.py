"""Numbers of outbox rows that are never given again."""

import sqlalchemy as sa
from alembic import op

revision = "0014"
down_revision = "0013"

WHOLE = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
MOMENT = sa.DateTime(timezone=True)
INDEXES = {
    "ix_outbox_inbound_id": (["inbound_id"], None),
    "ix_outbox_person_id": (["person_id"], None),
    "ix_outbox_buttons": (["person_id"], "buttons"),
    "ix_outbox_unsent": (["channel", "place"], "state IN ('pending', 'sending')"),
    "ix_outbox_remote_ref": (["channel", "remote_ref"], "remote_ref IS NOT NULL"),
}


def upgrade() -> None:
    """Makes the table anew on SQLite, which gives the highest number again once its row is deleted.

    A server's sequences never do.
    """
    if op.get_context().dialect.name != "sqlite":
        return
    for name in INDEXES:
        op.drop_index(name, "outbox")
    op.rename_table("outbox", "outbox_before")
    made = op.create_table(
        "outbox",
        sa.Column("id", WHOLE, primary_key=True),
        sa.Column("channel", sa.Text, nullable=False),
        sa.Column("place", sa.Text, nullable=False),
        sa.Column("person_id", WHOLE, sa.ForeignKey("person.id", name="fk_outbox_person_id")),
        sa.Column("inbound_id", WHOLE, sa.ForeignKey("inbound.id", name="fk_outbox_inbound_id")),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("text", sa.Text, nullable=False),
        sa.Column("choices", sa.Text, nullable=False),
        sa.Column("question_ref", sa.Text),
        sa.Column("about_ref", sa.Text),
        sa.Column("state", sa.Text, nullable=False),
        sa.Column("tries", sa.Integer, nullable=False),
        sa.Column("parts_sent", sa.Integer, nullable=False),
        sa.Column("not_before", MOMENT),
        sa.Column("sent_at", MOMENT),
        sa.Column("remote_ref", sa.Text),
        sa.Column("error", sa.Text),
        sa.Column("picture", sa.Text),
        sa.Column("document", sa.Text),
        sa.Column("actions", sa.Text),
        sa.Column("buttons", sa.Boolean),
        sa.CheckConstraint("state IN ('pending', 'sending', 'sent', 'dead')", name="state"),
        sqlite_autoincrement=True,
    )
    columns = ", ".join(made.columns.keys())
    op.execute(f"INSERT INTO outbox ({columns}) SELECT {columns} FROM outbox_before ORDER BY id")  # noqa: S608 (ours)
    op.drop_table("outbox_before")
    for name, (on, where) in INDEXES.items():
        op.create_index(name, "outbox", on, sqlite_where=None if where is None else sa.text(where))
