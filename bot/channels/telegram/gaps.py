"""Silences that were long enough to lose messages, and telling the people whose messages they may have been."""

from __future__ import annotations

import logging
from datetime import datetime, timedelta

from bot.channels.telegram import CHANNEL, words
from bot.store import outbox, people, pulse
from bot.store.engine import Connection

logger = logging.getLogger(__name__)

KEPT_BY_SERVER = timedelta(hours=24)
"""How long the server keeps what it could not deliver (core.telegram.org/bots/api#getting-updates)."""

RECENTLY = timedelta(days=14)
"""Only people who spoke within this time before the silence are told of it."""


def in_touch(conn: Connection, now: datetime) -> int:
    """Notes that the server was heard from, and after too long a silence tells the people concerned.

    Returns how many people that were.
    """
    before = pulse.beat(conn, CHANNEL, now)
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
        outbox.put(conn, CHANNEL, key, words.out_of_touch(since, until), person_id=person_id, kind="notice")
    logger.warning("out of touch from %s to %s: %d people are told", before, now, len(told))
    return len(told)
