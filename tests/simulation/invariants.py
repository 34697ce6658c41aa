"""What must hold after each commit, after each message that arrives, and in the end."""

from __future__ import annotations

import re
import sqlite3
from collections import Counter
from collections.abc import Callable, Sequence
from contextlib import closing
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

from tests.telegram.loopback import BOT_ID

from .network import Effect, Server
from .people import Client, Coach, Stranger

_STANDING = """
    SELECT a.key, w.number, w.as_weighed_g, w.kind,
           EXISTS (SELECT 1 FROM weigh_in l WHERE l.replaces = w.id) AS replaced
    FROM weigh_in w JOIN address a ON a.person_id = w.person_id ORDER BY a.key, w.number, w.id
"""
_OUT_OF_ORDER = """
    SELECT later.person_key, later.id FROM inbound later WHERE later.state = 'done' AND EXISTS (
        SELECT 1 FROM inbound earlier WHERE earlier.person_key = later.person_key
        AND earlier.state = 'waiting' AND earlier.id < later.id)
"""
_TOLD_CLIENT = """
    SELECT max(o.id) FROM outbox o JOIN inbound i ON o.inbound_id = i.id
    WHERE o.place = :client AND i.person_key = :client AND i.body LIKE :words
"""


class Violation(AssertionError):
    """A promise that was broken."""


class Observer:
    """Looks at the database from outside the simulation, whenever something was committed."""

    def __init__(
        self,
        file: Path,
        clients: Sequence[Client],
        coach: Coach | None,
        stranger: Stranger,
        wall_time: Callable[[], datetime],
    ) -> None:
        self.checks = 0
        self._clients = clients
        self._coach = coach
        self._stranger = stranger
        self._version = -1
        self._told_coach = 0
        self._reminded = 0
        self._reminders: set[tuple[int, str, date]] = set()
        self._wall_time = wall_time
        self._connection = sqlite3.connect(file, isolation_level=None, check_same_thread=False)

    def close(self) -> None:
        self._connection.close()

    def after_commit(self) -> None:
        """Raises Violation when what is stored now breaks a promise."""
        (version,) = self._one("PRAGMA data_version")
        if version == self._version:
            return
        self._version = version
        self.checks += 1
        self._weigh_ins()
        self._order()
        self._schedule()
        self._consent()

    def stored(self, update: dict[str, Any]) -> None:
        """A server has been told that it may forget the update."""
        key = f"{BOT_ID}:{update['update_id']}"
        if not self._one("SELECT count(*) FROM arrival WHERE update_key = ? OR update_key LIKE ?", key, f"{key}~%")[0]:
            raise Violation(f"lost: update {key} was confirmed and is not stored")

    def state_of(self, row_id: int) -> str | None:
        """The state of an outbox row."""
        found = self._connection.execute("SELECT state FROM outbox WHERE id = ?", (row_id,)).fetchone()
        return found[0] if found else None

    def unfinished(self, overdue: timedelta) -> str:
        """What still waits, or is due for so long; empty when nothing is."""
        (arrived,) = self._one("SELECT count(*) FROM arrival WHERE state = 'waiting'")
        (unhandled,) = self._one("SELECT count(*) FROM inbound WHERE state = 'waiting'")
        (unsent,) = self._one("SELECT count(*) FROM outbox WHERE state IN ('pending', 'sending')")
        before = f"{self._wall_time() - overdue:%Y-%m-%d %H:%M:%S}"
        (due,) = self._one("SELECT count(*) FROM schedule WHERE next_due < ?", before)
        waiting = {"overdue": due, "to be read": arrived, "to be handled": unhandled, "to be sent": unsent}
        return ", ".join(f"{number} {what}" for what, number in waiting.items() if number)

    def at_the_end(self, server: Server, effects: Sequence[Effect]) -> None:
        """Raises Violation unless everything is on record once, and everybody has been answered in order."""
        if self._one("PRAGMA integrity_check") != ("ok",):
            raise Violation("the database is damaged")
        aside = self._one("SELECT count(*), max(error) FROM inbound WHERE state = 'set_aside'")
        if aside[0]:
            raise Violation(f"{aside[0]} messages were set aside: {aside[1]}")
        for client in self._clients:
            grams = [grams for _, grams in self._current(client)]
            if grams != client.standing():
                raise Violation(f"{client.name} has {grams} on record instead of {client.standing()}")
            self._all_handled(client)
            _answered(client, effects)
        for message_id in self._stranger.messages:
            answers = [sent for sent in server.sent[self._stranger.id] if sent.replies_to == message_id]
            if not answers:
                raise Violation(f"the stranger's message {message_id} has no answer")
        refusals = self._one("SELECT count(*) FROM outbox WHERE place = ?", str(self._stranger.id))[0]
        if refusals != len(self._stranger.messages) and self._stranger.id not in server.renumbered:
            raise Violation(f"{len(self._stranger.messages)} messages of a stranger led to {refusals} answers")
        dead = self._connection.execute("SELECT kind, error FROM outbox WHERE state = 'dead' AND kind = 'reply'")
        if (given_up := dead.fetchone()) is not None:
            raise Violation(f"a reply was given up: {given_up}")

    def _all_handled(self, client: Client) -> None:
        for message_id in client.messages:
            ref = f"{client.id}:{message_id}"
            rows = self._connection.execute(
                "SELECT count(*) FROM inbound WHERE message_ref = ? AND kind = 'say' AND state = 'done'", (ref,)
            ).fetchone()[0]
            if rows != 1:
                raise Violation(f"message {ref} was handled {rows} times")

    def _weigh_ins(self) -> None:
        rows = self._connection.execute(_STANDING).fetchall()
        for client in self._clients:
            mine = [row for row in rows if row[0] == client.key]
            firsts: dict[int, float] = {}
            for _, number, grams, _, _ in mine:
                firsts.setdefault(number, grams)
            said = [weighed.first for weighed in client.said]
            # Handled one by one in the order in which they were said, they are the first so many of those.
            if [firsts[number] for number in sorted(firsts)] != said[: len(firsts)]:
                raise Violation(f"{client.name} said {said} and has {firsts}: lost, doubled or out of order")
            current = Counter(number for _, number, _, kind, replaced in mine if not replaced)
            if any(times > 1 for times in current.values()):
                raise Violation(f"{client.name}: a weigh-in stands twice: {current}")

    def _current(self, client: Client) -> list[tuple[int, int]]:
        rows = self._connection.execute(_STANDING).fetchall()
        return [
            (number, grams)
            for key, number, grams, kind, replaced in rows
            if key == client.key and not replaced and kind != "removed"
        ]

    def _order(self) -> None:
        found = self._connection.execute(_OUT_OF_ORDER).fetchone()
        if found is not None:
            raise Violation(f"out of order: inbox row {found[1]} of {found[0]} was handled before an earlier one")
        total, different = self._one("SELECT count(*), count(DISTINCT update_key) FROM arrival")
        if total != different:
            raise Violation("an update is stored twice")

    def _schedule(self) -> None:
        rows = self._connection.execute(
            "SELECT id, person_id, text FROM outbox WHERE kind = 'reminder' AND id > ? ORDER BY id", (self._reminded,)
        ).fetchall()
        for row_id, person_id, text in rows:
            self._reminded = row_id
            # Nobody here snoozes, so that each kind comes once on a day; its first line tells the kind.
            which = (person_id, text.partition("\n")[0], self._wall_time().date())
            if which in self._reminders:
                raise Violation(f"fired twice on one day: {which}")
            self._reminders.add(which)

    def _consent(self) -> None:
        if self._coach is None:
            return
        rows = self._connection.execute(
            "SELECT id, text FROM outbox WHERE place = ? AND id > ? ORDER BY id", (self._coach.key, self._told_coach)
        ).fetchall()
        for row_id, text in rows:
            self._told_coach = row_id
            if not re.search(r"\d kcal|\d g\b", text):
                continue
            # Rows are numbered in the order in which messages were handled, also within one transaction.
            yes, end = self._told_client('%"yes"%'), self._told_client('%"end coaching"%')
            if yes is None or row_id < yes or (end is not None and row_id > end):
                raise Violation(f"the coach is told figures without the client's consent: {text}")

    def _told_client(self, words: str) -> int | None:
        """The last outbox row with which the client was answered to these words."""
        assert self._coach is not None
        values = {"client": self._coach.client.key, "words": words}
        found: int | None = self._connection.execute(_TOLD_CLIENT, values).fetchone()[0]
        return found

    def _one(self, query: str, *values: object) -> Any:
        with closing(self._connection.execute(query, values)) as cursor:
            return cursor.fetchone()


def _answered(client: Client, effects: Sequence[Effect]) -> None:
    """The first copy of each reply, in the order of the messages, with what it must say."""
    seen: dict[int, str] = {}
    for effect in effects:
        if effect.chat_id == client.id and effect.row.kind == "reply" and effect.row.id not in seen:
            seen[effect.row.id] = effect.text
    texts = list(seen.values())
    if list(seen) != sorted(seen):
        raise Violation(f"{client.name} got replies out of order: {list(seen)}")
    rest = iter(texts)
    for number, awaited in enumerate(client.awaited):
        if not any(awaited.met_by(text) for text in rest):
            raise Violation(f"{client.name}: no reply to message {number} says {awaited}: {texts}")


class Sends:
    """What must hold of everything that arrives at people."""

    def __init__(self, observer: Observer, clock_kept_since: Callable[[float], bool]) -> None:
        self._observer = observer
        self._clock_kept_since = clock_kept_since
        self._before: dict[int, list[Effect]] = {}
        self._quiet: dict[int, tuple[Any, float, float]] = {}

    def put_off(self, chat_id: int, host: Any, at: float, seconds: float) -> None:
        """The server wants no message for that chat from now on for so many seconds."""
        self._quiet[chat_id] = (host, at, at + seconds)

    def asked(self, chat_id: int, host: Any, at: float) -> None:
        """Raises Violation when a process does not wait for as long as it was told to."""
        told, since, until = self._quiet.get(chat_id, (None, 0.0, 0.0))
        if told is host and at < until and host.untroubled_since(since) and self._clock_kept_since(since):
            raise Violation(f"chat {chat_id} was to be left alone for {until - at:.1f} s more")

    def arrived(self, effect: Effect) -> None:
        """Raises Violation when it has arrived before without an excuse.

        A reply may arrive twice when nobody can know that it has arrived: its answer was lost, or whoever sent it died
        or was cut off from the database, or lost its lease without a fault of its own, before that was noted. Then a
        reminder does not arrive twice, unless its answer was lost.
        """
        row = effect.row
        earlier = [each for each in self._before.get(row.id, []) if each.text == effect.text]
        self._before.setdefault(row.id, []).append(effect)
        for each in earlier:
            if not self._knows(each) or not effect.host.steady:
                continue
            if not each.over:
                raise Violation(f"sent twice: outbox row {row.id}, which another process is sending")
            if each.answered:
                raise Violation(f"sent twice: outbox row {row.id}, whose first copy was answered")
        steady = all(each.host.steady for each in (*earlier, effect))
        # Not told that it failed: whoever sent it has died, or was told that it arrived.
        told = any(each.answered or not each.over for each in earlier)
        if row.kind == "reminder" and told and steady and self._clock_kept_since(earlier[0].at):
            raise Violation(f"a reminder was sent twice: outbox row {row.id}")
        if all(map(self._knows, earlier)) and effect.host.steady and self._observer.state_of(row.id) == "sent":
            raise Violation(f"sent again although it is marked as sent: outbox row {row.id}")

    def _knows(self, effect: Effect) -> bool:
        """Whether the process that sent it was able to note it, and knew that it was its task."""
        host = effect.host
        return bool(host.alive and host.untroubled_since(effect.at) and self._clock_kept_since(effect.at))
