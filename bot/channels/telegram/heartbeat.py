"""The heartbeat: when the server was last heard from, and telling people of outages that lost their messages."""

from __future__ import annotations

import logging
from datetime import datetime, timedelta

from bot.channels.telegram import CHANNEL
from bot.kinds import OutboxKind
from bot.store import people
from bot.store.delivery import lease, outbox
from bot.store.engine import Connection

logger = logging.getLogger(__name__)

KEPT_BY_SERVER = timedelta(hours=24)
"""How long the server keeps what it could not deliver (core.telegram.org/bots/api#getting-updates)."""

RECENTLY = timedelta(days=14)
"""Only people who wrote within this time before the outage are told of it."""


def beat(conn: Connection, now: datetime) -> int:
    """Records that the server was heard from, and after too long an outage tells the people concerned.

    Returns how many people are told.
    """
    before = lease.beat(conn, CHANNEL, now)
    if before is None or now - before <= KEPT_BY_SERVER:
        return 0
    told = people.heard_since(conn, CHANNEL, before - RECENTLY)
    for key, person_id in told:
        person = people.by_id(conn, person_id)
        if person is None:
            continue
        since, until = (
            moment.astimezone(person.timezone).strftime("%A %H:%M") for moment in (before, now - KEPT_BY_SERVER)
        )
        outbox.put(conn, CHANNEL, key, _notice(since, until), person_id=person_id, kind=OutboxKind.NOTICE)
    logger.warning("no contact with the server from %s to %s: %d people are told", before, now, len(told))
    return len(told)


def _notice(since: str, until: str) -> str:
    """The notice after an outage in which messages were lost; both moments on the person's own clock."""
    return (
        f"I was out of touch for over a day, since {since}. What you sent before {until} may not have reached me: "
        "please check your sheet and send what is missing again."
    )
