"""Invitations: 128 random bits, kept as a hash, good once and not for ever."""

import hashlib
import secrets
from dataclasses import dataclass
from datetime import UTC, datetime

from sqlalchemy import Connection, bindparam, insert, or_, select, update

from bot.store.schema import invite


@dataclass(frozen=True, slots=True)
class Invitation:
    """What an invitation is for, who made it (None: the operator), and what they call whom they invite."""

    purpose: str
    made_by: int | None
    called: str | None


_NEW = insert(invite)
_GOOD = (
    (invite.c.code_hash == bindparam("of_hash"))
    & (invite.c.purpose == bindparam("of_purpose"))
    & invite.c.used_at.is_(None)
    & (invite.c.expires_at > bindparam("now"))
)
_IS_GOOD = select(invite.c.id).where(_GOOD)
_TAKE = update(invite).where(_GOOD).values(used_at=bindparam("now"), used_by=bindparam("taker")).returning(invite.c.id)
# Whoever came in by a code may still say yes to what it offers.
_OFFERED = (
    (invite.c.code_hash == bindparam("of_hash"))
    & (invite.c.expires_at > bindparam("now"))
    & or_(invite.c.used_at.is_(None), invite.c.used_by == bindparam("taker"))
)
_OFFER = select(invite.c.purpose, invite.c.made_by, invite.c.called).where(_OFFERED)
_LONG_AGO = datetime(1970, 1, 1, tzinfo=UTC)
_SPEND = (
    update(invite)
    .where(_OFFERED)
    .values(used_at=bindparam("now"), used_by=bindparam("taker"), expires_at=_LONG_AGO)
    .returning(invite.c.id)
)


def new(
    conn: Connection,
    purpose: str,
    made_at: datetime,
    expires_at: datetime,
    made_by: int | None = None,
    called: str | None = None,
) -> str:
    """The code of a new invitation: 22 letters that can't be guessed. It can't be read from the database again."""
    code = secrets.token_urlsafe(16)
    row = {
        "code_hash": _hash(code),
        "purpose": purpose,
        "made_by": made_by,
        "called": called,
        "made_at": made_at,
        "expires_at": expires_at,
    }
    conn.execute(_NEW, row)
    return code


def good(conn: Connection, code: str, purpose: str, now: datetime) -> bool:
    """Whether the code belongs to an invitation for that purpose which is neither used nor expired."""
    return conn.execute(_IS_GOOD, {"of_hash": _hash(code), "of_purpose": purpose, "now": now}).scalar() is not None


def take(conn: Connection, code: str, purpose: str, now: datetime, person_id: int) -> bool:
    """Uses the invitation up for the person; False when it is not good."""
    values = {"of_hash": _hash(code), "of_purpose": purpose, "now": now, "taker": person_id}
    return conn.execute(_TAKE, values).scalar() is not None


def offered(conn: Connection, code: str, now: datetime, person_id: int) -> Invitation | None:
    """What the code offers the person: when nobody has used it, or they themselves have, to come in; else None."""
    row = conn.execute(_OFFER, {"of_hash": _hash(code), "now": now, "taker": person_id}).one_or_none()
    return None if row is None else Invitation(*row)


def spend(conn: Connection, code: str, now: datetime, person_id: int) -> bool:
    """Uses up what the code offers the person, for good; False when it offers them nothing any more."""
    return conn.execute(_SPEND, {"of_hash": _hash(code), "now": now, "taker": person_id}).scalar() is not None


def _hash(code: str) -> str:
    # A plain hash will do: nobody can try 2^128 codes.
    return hashlib.sha256(code.encode("utf-8", "surrogatepass")).hexdigest()
