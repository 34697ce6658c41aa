"""Wiping words: the rows stay, so that all that hangs on them holds, and what was said in them is gone."""

import json
import re
from collections.abc import Collection

from sqlalchemy import Column, ColumnElement, Connection, Update, case, select, update

from bot.store.schema import address, inbound, outbox, question

SETTING = "keep_messages_days"
"""The setting with the days for which a person's words are kept."""

NO_WORDS = json.dumps({"text": ""})

_SAID: Update = update(inbound).values(body=NO_WORDS)
_TOLD: Update = update(outbox).values(text="", choices="[]", picture=None, document=None)
_ASKED: Update = update(question).values(text="", choices="[]", subject=b"")
_NOT_TO_BE_SENT = case((outbox.c.state == "pending", "dead"), else_=outbox.c.state)
_AT_ONCE = 1000


def said(conn: Connection, among: Collection[int], mentioned: re.Pattern[str]) -> None:
    """Wipes what these people said in which something is mentioned."""
    _wipe(conn, inbound.c.id, inbound.c.body, _said_by(among), mentioned, _SAID)


def told(conn: Connection, among: Collection[int], mentioned: re.Pattern[str]) -> None:
    """Wipes what these people were told and asked in which something is mentioned; such a question waits no longer."""
    outgoing = _TOLD.values(state=_NOT_TO_BE_SENT)
    _wipe(conn, outbox.c.id, outbox.c.text, outbox.c.person_id.in_(among), mentioned, outgoing)
    asked = _ASKED.values(state="dropped")
    _wipe(conn, question.c.id, question.c.text, question.c.person_id.in_(among), mentioned, asked)
    _wipe(conn, question.c.id, question.c.choices, question.c.person_id.in_(among), mentioned, asked)


def _wipe(
    conn: Connection,
    key: Column[int],
    words: Column[str],
    which: ColumnElement[bool],
    mentioned: re.Pattern[str],
    wipe: Update,
) -> None:
    rows = conn.execute(select(key, words).where(which, words != ""))
    found = [row_id for row_id, text in rows if mentioned.search(_plain(text))]
    for start in range(0, len(found), _AT_ONCE):
        conn.execute(wipe.where(key.in_(found[start : start + _AT_ONCE])))


def _said_by(people: Collection[int]) -> ColumnElement[bool]:
    """Whether a message of the inbox is one of these people's."""
    return (
        select(address.c.person_id)
        .where(
            address.c.person_id.in_(people),
            address.c.channel == inbound.c.channel,
            address.c.key == inbound.c.person_key,
        )
        .exists()
    )


def _plain(words: str) -> str:
    """The words of a text, or of the JSON that a message is kept as."""
    return json.dumps(json.loads(words), ensure_ascii=False) if words.startswith(("{", "[")) else words


USUAL_DAYS = 400
"""Days for which words are kept unless the person says otherwise: last year's day can still be looked up by them."""

DAYS = range(7, 3651)
"""What a person may choose: a week, so that a slip can be put right, up to ten years."""
