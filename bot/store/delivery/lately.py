"""What a person said last, so that a pronoun can be understood."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import bindparam, select

from bot.store.books import Books
from bot.store.delivery import inbox
from bot.store.schema import inbound

MOST = 6
"""So many messages are looked back on."""
_LATELY = (
    select(inbound.c.id)
    .where(
        inbound.c.channel == bindparam("of_channel"),
        inbound.c.person_key == bindparam("of_key"),
        inbound.c.id < bindparam("before"),
        inbound.c.kind == "say",
    )
    .order_by(inbound.c.id.desc())
    .limit(MOST)
)


def lately_said(books: Books) -> Sequence[str]:
    """The texts of the person's latest messages before the one that is handled, the newest first."""
    row = inbox.get(books.conn, books.inbound_id)
    if row is None:
        return ()
    values = {"of_channel": row.channel, "of_key": row.person_key, "before": row.id}
    before = [inbox.get(books.conn, found) for found in books.conn.execute(_LATELY, values).scalars().all()]
    return [each.content.text for each in before if each is not None and isinstance(each.content, inbox.Say)]
