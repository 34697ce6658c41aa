"""Invitations: codes of 128 random bits, stored as a hash, valid for one person and for a limited time."""

import hashlib
import secrets
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection, bindparam, insert, or_, select, update

from bot.store.schema import invite

ACCESS = "access"
"""The purpose of an invitation that only lets somebody speak with the bot."""
COACH = "coach"
"""The purpose of an invitation to be coached by whoever made it."""
KITCHEN = "kitchen"
"""The purpose of an invitation to share the kitchen of whoever made it."""

COVER = "cover"
"""The purpose of an invitation to cover clients of whoever made it."""


@dataclass(frozen=True, slots=True)
class Invitation:
    """What a code stands for: its purpose, who made it (None: the operator), and what they call the one invited."""

    id: int
    purpose: str
    made_by: int | None
    called: str | None


_NEW = insert(invite)
_ID = select(invite.c.id).where(invite.c.code_hash == bindparam("of_hash"))
_GOOD = (invite.c.code_hash == bindparam("of_hash")) & (invite.c.expires_at > bindparam("now"))
_FREE = _GOOD & invite.c.used_at.is_(None)
_FIELDS = (invite.c.id, invite.c.purpose, invite.c.made_by, invite.c.called)
_LETS_IN = select(invite.c.id).where(_FREE, or_(invite.c.purpose == ACCESS, invite.c.made_by.is_not(None)))
_OWN = select(*_FIELDS).where(_FREE, invite.c.made_by == bindparam("taker"))
_TAKE = (
    update(invite)
    .where(_GOOD, or_(invite.c.used_at.is_(None), invite.c.used_by == bindparam("taker")))
    .values(used_at=bindparam("now"), used_by=bindparam("taker"))
    .returning(*_FIELDS)
)
_TAKEN = select(*_FIELDS).where(
    invite.c.id == bindparam("of_id"),
    invite.c.expires_at > bindparam("now"),
    or_(invite.c.used_by == bindparam("taker"), invite.c.made_by == bindparam("taker")),
)
_SPEND = (
    update(invite)
    .where(invite.c.id == bindparam("of_id"))
    .values(used_at=bindparam("now"), expires_at=bindparam("now"))
)


def new(
    conn: Connection,
    purpose: str,
    made_at: datetime,
    expires_at: datetime,
    made_by: int | None = None,
    called: str | None = None,
) -> str:
    """The code of a new invitation: 22 random characters. It can't be recovered from its row."""
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


def id_of(conn: Connection, code: str) -> int:
    """The id of the invitation with that code."""
    found: int = conn.execute(_ID, {"of_hash": _hash(code)}).scalar_one()
    return found


def lets_in(conn: Connection, code: str, now: datetime) -> bool:
    """Whether the code belongs to a free invitation by the operator or by somebody who is in already."""
    return conn.execute(_LETS_IN, {"of_hash": _hash(code), "now": now}).scalar() is not None


def take(conn: Connection, code: str, now: datetime, person_id: int) -> Invitation | None:
    """The invitation, which from now on is this person's alone; None when it is not good, or somebody else's.

    Taking one's own again gives it again until it expires. One that the person made themself stays free.
    """
    values = {"of_hash": _hash(code), "now": now, "taker": person_id}
    own = conn.execute(_OWN, values).one_or_none()
    row = own or conn.execute(_TAKE, values).one_or_none()
    return None if row is None else Invitation(*row)


def taken(conn: Connection, invite_id: int, now: datetime, person_id: int) -> Invitation | None:
    """The invitation if this person has taken it, or made it, and it has not expired."""
    row = conn.execute(_TAKEN, {"of_id": invite_id, "now": now, "taker": person_id}).one_or_none()
    return None if row is None else Invitation(*row)


def spend(conn: Connection, invite_id: int, now: datetime) -> None:
    """Invalidates the invitation, which has been answered at that moment."""
    conn.execute(_SPEND, {"of_id": invite_id, "now": now})


def _hash(code: str) -> str:
    # A plain hash is enough: 2^128 codes can't be tried.
    return hashlib.sha256(code.encode("utf-8", "surrogatepass")).hexdigest()
