"""Retention and erasure of words: the rows stay, because records refer to them, and the words in them are deleted."""

import json
import re
import time
from collections.abc import Collection
from datetime import datetime, timedelta

from sqlalchemy import Column, ColumnElement, Connection, Update, case, func, or_, select, update

from bot.store import covers
from bot.store.delivery import updates
from bot.store.delivery.inbox import ERASED_BODY
from bot.store.engine import Store
from bot.store.schema import address, inbound, outbox, question, setting

SETTING = "keep_messages_days"
"""The setting that holds a person's retention period in days."""

USUAL_DAYS = 400
"""The retention period unless the person sets another: over a year, so that last year's words can be looked up."""

DAYS = range(7, 3651)
"""What a person may choose: at least a week, so that a slip can be corrected, at most ten years."""

AT_ONCE = 500
"""Rows of a kind that one transaction erases, so that nobody's message waits long for it."""
PAUSE_S = 0.002
"""Seconds between two such transactions, in which others get the database."""

_SAID: Update = update(inbound).values(body=ERASED_BODY)
_TOLD: Update = update(outbox).values(text="", choices="[]", actions=None, picture=None, document=None)
_ASKED: Update = update(question).values(text="", choices="[]", subject=b"")
_NOT_TO_BE_SENT = case((outbox.c.state == "pending", "dead"), else_=outbox.c.state)
_IDS_AT_ONCE = 1000
_newest = (
    select(func.max(setting.c.id))
    .where(setting.c.name == SETTING, setting.c.undone_by.is_(None))
    .group_by(setting.c.person_id)
)
_CHOSEN = select(setting.c.person_id, setting.c.value).where(setting.c.id.in_(_newest))
_Whose = tuple[ColumnElement[bool], ColumnElement[bool], ColumnElement[bool]]
"""Whose rows of the inbox, of the outbox and of the questions."""


def apply(store: Store, now: datetime) -> None:
    """Deletes updates, what a cover has left, and words whose retention period is over, in short transactions."""
    with store.transaction() as conn:
        updates.forget(conn, now)
        covers.forget(conn, now)
    while True:
        with store.transaction() as conn:
            if not erase_outdated(conn, now, AT_ONCE):
                return
        time.sleep(PAUSE_S)


def erase_outdated(conn: Connection, now: datetime, at_most: int) -> int:
    """Erases words whose retention period is over, in at most so many rows of each kind. Returns in how many.

    What waits to be handled or sent is left alone.
    """
    chosen: dict[int, list[int]] = {}
    for person_id, days in conn.execute(_CHOSEN):
        chosen.setdefault(int(days), []).append(person_id)
    erased = 0
    for days, people in chosen.items():
        erased += _outdated(conn, now - timedelta(days=days), at_most, _of(people))
    others = [person_id for people in chosen.values() for person_id in people]
    return erased + _outdated(conn, now - timedelta(days=USUAL_DAYS), at_most, _of_all_but(others))


def erase_said(conn: Connection, among: Collection[int], mentioned: re.Pattern[str]) -> None:
    """Erases what these people said in which something is mentioned."""
    _erase(conn, inbound.c.id, inbound.c.body, _said_by(among), mentioned, _SAID)


def erase_told(
    conn: Connection, among: Collection[int], rooms: Collection[tuple[str, str]], mentioned: re.Pattern[str]
) -> None:
    """Erases what these people were told and asked in which something is mentioned; such a question is dropped.

    So it is with notifications to groups that their messages caused, or that went to one of the `rooms`: these are
    (channel, place).
    """
    caused = select(inbound.c.id).where(_said_by(among))
    to_group = outbox.c.person_id.is_(None) & or_(
        outbox.c.inbound_id.in_(caused),
        *((outbox.c.channel == channel) & (outbox.c.place == place) for channel, place in rooms),
    )
    outgoing = _TOLD.values(state=_NOT_TO_BE_SENT)
    _erase(conn, outbox.c.id, outbox.c.text, outbox.c.person_id.in_(among) | to_group, mentioned, outgoing)
    asked = _ASKED.values(state="dropped")
    _erase(conn, question.c.id, question.c.text, question.c.person_id.in_(among), mentioned, asked)
    _erase(conn, question.c.id, question.c.choices, question.c.person_id.in_(among), mentioned, asked)


def _erase(
    conn: Connection,
    key: Column[int],
    words: Column[str],
    which: ColumnElement[bool],
    mentioned: re.Pattern[str],
    erase: Update,
) -> None:
    rows = conn.execute(select(key, words).where(which, words != ""))
    found = [row_id for row_id, text in rows if mentioned.search(_plain(text))]
    for start in range(0, len(found), _IDS_AT_ONCE):
        conn.execute(erase.where(key.in_(found[start : start + _IDS_AT_ONCE])))


def _said_by(people: Collection[int]) -> ColumnElement[bool]:
    """Whether a row of the inbox is one of these people's."""
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
    """The words of a text, or of the JSON that an inbox row's content is stored as."""
    return json.dumps(json.loads(words), ensure_ascii=False) if words.startswith(("{", "[")) else words


def _of(people: Collection[int]) -> _Whose:
    return _said_by(people), outbox.c.person_id.in_(people), question.c.person_id.in_(people)


def _of_all_but(people: Collection[int]) -> _Whose:
    said, told, asked = _of(people)
    return ~said, outbox.c.person_id.is_(None) | ~told, ~asked


def _outdated(conn: Connection, before: datetime, at_most: int, whose: _Whose) -> int:
    said = (inbound.c.state != "waiting") & (inbound.c.body != ERASED_BODY) & (inbound.c.said_at < before)
    # What was given up was never sent, so it has no moment; nobody will read it.
    over = (outbox.c.sent_at < before) | (outbox.c.state == "dead")
    told = outbox.c.state.in_(("sent", "dead")) & (outbox.c.text != "") & over
    asked = (question.c.state != "waiting") & (question.c.text != "") & (question.c.asked_at < before)
    erased = 0
    for key, erase, outdated, of_them in (
        (inbound.c.id, _SAID, said, whose[0]),
        (outbox.c.id, _TOLD, told, whose[1]),
        (question.c.id, _ASKED, asked, whose[2]),
    ):
        some = select(key).where(outdated, of_them).limit(at_most)
        erased += conn.execute(erase.where(key.in_(some))).rowcount
    return erased
