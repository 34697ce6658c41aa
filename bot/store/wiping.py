"""Wiping words: the rows stay, so that all that hangs on them holds, and what was said in them is gone."""

import json
import re
from collections.abc import Collection
from datetime import datetime, timedelta

from sqlalchemy import Column, ColumnElement, Connection, Update, case, func, select, update

from bot.store.schema import address, inbound, outbox, question, setting

SETTING = "keep_messages_days"
"""The setting with the days for which a person's words are kept."""

USUAL_DAYS = 400
"""Days for which words are kept unless the person says otherwise: over a year, so that last year's can be looked up."""

DAYS = range(7, 3651)
"""What a person may choose: from a week, so that a slip can be put right, up to ten years."""

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


def old(conn: Connection, now: datetime, at_most: int) -> int:
    """Wipes words whose time is over, of at most so many rows of each kind. Returns of how many.

    A person's own setting says how long that is, else `USUAL_DAYS`. What waits is left alone.
    """
    chosen: dict[int, list[int]] = {}
    for person_id, days in conn.execute(_CHOSEN):
        chosen.setdefault(int(days), []).append(person_id)
    wiped = 0
    for days, people in chosen.items():
        wiped += _outdated(conn, now - timedelta(days=days), at_most, _of(people))
    others = [person_id for people in chosen.values() for person_id in people]
    return wiped + _outdated(conn, now - timedelta(days=USUAL_DAYS), at_most, _of_all_but(others))


_newest = (
    select(func.max(setting.c.id))
    .where(setting.c.name == SETTING, setting.c.undone_by.is_(None))
    .group_by(setting.c.person_id)
)
_CHOSEN = select(setting.c.person_id, setting.c.value).where(setting.c.id.in_(_newest))
_Whose = tuple[ColumnElement[bool], ColumnElement[bool], ColumnElement[bool]]
"""Whose rows of the inbox, of the outbox and of the questions."""


def _of(people: Collection[int]) -> _Whose:
    return _said_by(people), outbox.c.person_id.in_(people), question.c.person_id.in_(people)


def _of_all_but(people: Collection[int]) -> _Whose:
    said, told, asked = _of(people)
    return ~said, outbox.c.person_id.is_(None) | ~told, ~asked


def _outdated(conn: Connection, before: datetime, at_most: int, whose: _Whose) -> int:
    said = (inbound.c.state != "waiting") & (inbound.c.body != NO_WORDS) & (inbound.c.said_at < before)
    # What was given up has no time of its own, and nobody will read it.
    over = (outbox.c.sent_at < before) | (outbox.c.state == "dead")
    told = outbox.c.state.in_(("sent", "dead")) & (outbox.c.text != "") & over
    asked = (question.c.state != "waiting") & (question.c.text != "") & (question.c.asked_at < before)
    wiped = 0
    for key, wipe, outdated, of_them in (
        (inbound.c.id, _SAID, said, whose[0]),
        (outbox.c.id, _TOLD, told, whose[1]),
        (question.c.id, _ASKED, asked, whose[2]),
    ):
        some = select(key).where(outdated, of_them).limit(at_most)
        wiped += conn.execute(wipe.where(key.in_(some))).rowcount
    return wiped
