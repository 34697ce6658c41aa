"""Channels that deliver over a network: what arrived unread, where replies go, invitations."""

from typing import Literal

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"

WHOLE = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
MOMENT = sa.DateTime(timezone=True)


def _id() -> sa.Column[int]:
    return sa.Column("id", WHOLE, primary_key=True)


def _to(name: str, target: str, nullable: bool = False) -> sa.Column[int]:
    return sa.Column(name, WHOLE, sa.ForeignKey(f"{target}.id"), nullable=nullable)


def _text(name: str, nullable: bool = False) -> sa.Column[str]:
    return sa.Column(name, sa.Text, nullable=nullable)


def _partial_index(name: str, table: str, columns: list[str], where: str) -> None:
    op.create_index(name, table, columns, sqlite_where=sa.text(where), postgresql_where=sa.text(where))


def upgrade() -> None:
    """Makes the new tables, and gives each row of the outbox its place."""
    op.create_table(
        "arrival",
        _id(),
        _text("channel"),
        _text("update_key"),
        _text("body"),
        sa.Column("came_at", MOMENT, nullable=False),
        _text("state"),
        _text("error", nullable=True),
        sa.UniqueConstraint("channel", "update_key"),
        sa.CheckConstraint("state IN ('waiting', 'read', 'unreadable')", name="state"),
    )
    _partial_index("ix_arrival_waiting", "arrival", ["channel"], "state = 'waiting'")
    op.create_table("pulse", sa.Column("channel", sa.Text, primary_key=True), sa.Column("at", MOMENT, nullable=False))
    op.create_table(
        "invite",
        _id(),
        _text("code_hash"),
        _text("purpose"),
        sa.Column("made_at", MOMENT, nullable=False),
        sa.Column("expires_at", MOMENT, nullable=False),
        sa.Column("used_at", MOMENT, nullable=True),
        _to("used_by", "person", nullable=True),
        sa.UniqueConstraint("code_hash"),
    )
    recreate: Literal["always", "never"] = "always" if op.get_context().dialect.name == "sqlite" else "never"
    with op.batch_alter_table("address", recreate=recreate) as address:
        address.add_column(sa.Column("blocked_at", MOMENT, nullable=True))
    _outbox()


def _outbox() -> None:
    # Made anew and filled from the old one: SQLite can't let go of a NOT NULL.
    op.drop_index("ix_outbox_unsent", "outbox")
    op.drop_index("ix_outbox_inbound_id", "outbox")
    op.rename_table("outbox", "outbox_before")
    if op.get_context().dialect.name == "postgresql":
        # Constraints, and the sequence of the ids, keep their names when their table gets another.
        op.execute("ALTER TABLE outbox_before DROP CONSTRAINT pk_outbox, DROP CONSTRAINT ck_outbox_state")
        op.execute(
            "ALTER TABLE outbox_before DROP CONSTRAINT fk_outbox_person_id, DROP CONSTRAINT fk_outbox_inbound_id"
        )
        op.execute("ALTER SEQUENCE outbox_id_seq RENAME TO outbox_before_id_seq")
    op.create_table(
        "outbox",
        _id(),
        _text("channel"),
        _text("place"),
        _to("person_id", "person", nullable=True),
        _to("inbound_id", "inbound", nullable=True),
        _text("kind"),
        _text("text"),
        _text("choices"),
        _text("question_ref", nullable=True),
        _text("about_ref", nullable=True),
        _text("state"),
        sa.Column("tries", sa.Integer, nullable=False),
        sa.Column("parts_sent", sa.Integer, nullable=False),
        sa.Column("not_before", MOMENT, nullable=True),
        sa.Column("sent_at", MOMENT, nullable=True),
        _text("remote_ref", nullable=True),
        _text("error", nullable=True),
        sa.CheckConstraint("state IN ('pending', 'sending', 'sent', 'dead')", name="state"),
    )
    op.execute(
        "INSERT INTO outbox (id, channel, place, person_id, inbound_id, kind, text, choices, question_ref, state,"
        " tries, parts_sent, not_before, sent_at, remote_ref, error)"
        " SELECT o.id, a.channel, a.key, o.person_id, o.inbound_id, o.kind, o.text, o.choices, o.question_ref,"
        " o.state, o.tries, 0, o.not_before, o.sent_at, o.remote_ref, o.error"
        " FROM outbox_before o JOIN address a ON a.person_id = o.person_id ORDER BY o.id"
    )
    op.drop_table("outbox_before")
    if op.get_context().dialect.name == "postgresql":
        op.execute("SELECT setval('outbox_id_seq', greatest(1, (SELECT max(id) FROM outbox)))")
    op.create_index("ix_outbox_inbound_id", "outbox", ["inbound_id"])
    op.create_index("ix_outbox_person_id", "outbox", ["person_id"])
    _partial_index("ix_outbox_unsent", "outbox", ["channel", "place"], "state IN ('pending', 'sending')")
    _partial_index("ix_outbox_remote_ref", "outbox", ["channel", "remote_ref"], "remote_ref IS NOT NULL")
