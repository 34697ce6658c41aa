"""Invitations: 128 random bits, kept as a hash, good once and not for ever."""

import hashlib
import secrets
from datetime import datetime

from sqlalchemy import Connection, bindparam, insert, select, update

from bot.store.schema import invite

_NEW = insert(invite)
_GOOD = (
    (invite.c.code_hash == bindparam("of_hash"))
    & (invite.c.purpose == bindparam("of_purpose"))
    & invite.c.used_at.is_(None)
    & (invite.c.expires_at > bindparam("now"))
)
_IS_GOOD = select(invite.c.id).where(_GOOD)
_TAKE = update(invite).where(_GOOD).values(used_at=bindparam("now"), used_by=bindparam("taker")).returning(invite.c.id)


def new(conn: Connection, purpose: str, made_at: datetime, expires_at: datetime) -> str:
    """The code of a new invitation: 22 letters that can't be guessed. It can't be read from the database again."""
    code = secrets.token_urlsafe(16)
    row = {"code_hash": _hash(code), "purpose": purpose, "made_at": made_at, "expires_at": expires_at}
    conn.execute(_NEW, row)
    return code


def good(conn: Connection, code: str, purpose: str, now: datetime) -> bool:
    """Whether the code belongs to an invitation for that purpose which is neither used nor expired."""
    return conn.execute(_IS_GOOD, {"of_hash": _hash(code), "of_purpose": purpose, "now": now}).scalar() is not None


def take(conn: Connection, code: str, purpose: str, now: datetime, person_id: int) -> bool:
    """Uses the invitation up for the person; False when it is not good."""
    values = {"of_hash": _hash(code), "of_purpose": purpose, "now": now, "taker": person_id}
    return conn.execute(_TAKE, values).scalar() is not None


def _hash(code: str) -> str:
    # A plain hash will do: nobody can try 2^128 codes.
    return hashlib.sha256(code.encode("utf-8", "surrogatepass")).hexdigest()
