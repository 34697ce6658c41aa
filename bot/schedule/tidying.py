"""What is kept for a time only, and whose time is over: words, and updates that have been read."""

from __future__ import annotations

import time
from datetime import datetime

from bot.store import arrivals, wiping
from bot.store.engine import Store

AT_ONCE = 500
"""Rows of a kind in one transaction, so that nobody's message waits long for it."""
BREATH_S = 0.002


def tidy(store: Store, now: datetime) -> None:
    """Wipes and deletes all whose time is over at the moment `now`; what is there already stays as it is."""
    with store.transaction() as conn:
        arrivals.forget(conn, now)
    while True:
        with store.transaction() as conn:
            if not wiping.old(conn, now, AT_ONCE):
                return
        time.sleep(BREATH_S)
