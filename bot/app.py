"""Puts the pieces together: a message is stored, then handled in one transaction, then its replies can be sent."""

from __future__ import annotations

import logging
import traceback
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy import Connection
from sqlalchemy.exc import SQLAlchemyError

from bot.conversation import respond
from bot.messages import Incoming, Reply, Turn
from bot.store import inbox, outbox, people
from bot.store.books import Books
from bot.store.engine import Store, open_store
from bot.store.errors import StoreError
from bot.store.inbox import Inbound
from bot.store.outbox import Outgoing
from bot.store.people import Person
from domain.quantities import Region

logger = logging.getLogger(__name__)

TRIES = 3
"""How often a message is handled before it is set aside."""

APOLOGY = (
    "Sorry, something here broke on that message. It is kept, and nothing in it was recorded. "
    "Please say it again in other words."
)

_MANY = 10_000

DEFAULT_REGION = Region.US
DEFAULT_ZONE = ZoneInfo("UTC")


class Tarebook:
    """The program on one database, for any number of channels.

    Every method raises StoreError when the database can't be read or written.
    """

    def __init__(self, store: Store) -> None:
        self.store = store

    def receive(
        self,
        channel: str,
        update_key: str,
        person_key: str,
        kind: str,
        body: Mapping[str, object],
        message_ref: str | None,
        said_at: datetime,
    ) -> int | None:
        """Stores what came in; once this returns, the channel may be told that it was received.

        The body holds `text` for the kind `say`, `text` and `edits` (the message's reference) for `edit`, `ref` and
        `choice` (from 0) for `press`. Returns the inbox row's id, or None when the same update was stored before.
        """
        with self._transaction() as conn:
            return inbox.receive(conn, channel, update_key, person_key, kind, body, message_ref, said_at)

    def handle(self, inbound_id: int, *, answered_at_once: bool = False) -> Turn | None:
        """Handles one stored message: records, replies and 'done' are committed together or not at all.

        Returns what it brought about. Returns None when it is not to be handled now (done before, or the same person
        sent something earlier that still waits), or when it failed and is to be tried again; after the third failure
        the message is set aside and the answer is an apology. The replies wait in the outbox, unless the caller takes
        them from the answer itself (`answered_at_once`). Raises StoreError when the database can't be written.
        """
        try:
            with self._transaction() as conn:
                inbound = inbox.claim(conn, inbound_id)
                if inbound is None:
                    return None
                person = _person(conn, inbound)
                turn = _turn(conn, inbound, person)
                _post(conn, inbound, person, turn, answered_at_once)
                inbox.done(conn, inbound_id)
                return turn
        except Exception as error:
            return self._failed(inbound_id, error, answered_at_once)

    def settle(self, inbound_id: int, *, answered_at_once: bool = False) -> Turn | None:
        """Handles a message until it is done or set aside; None when it was so already."""
        for _ in range(TRIES):
            turn = self.handle(inbound_id, answered_at_once=answered_at_once)
            if turn is not None:
                return turn
        return None

    def catch_up(self, channel: str, *, answered_at_once: bool = False) -> int:
        """Handles what an earlier run of this channel stored and did not get to. Returns how many that were."""
        handled = 0
        while True:
            with self._transaction() as conn:
                left = [inbound.id for inbound in inbox.waiting(conn, _MANY) if inbound.channel == channel]
            if not left:
                return handled
            for inbound_id in left:
                self.settle(inbound_id, answered_at_once=answered_at_once)
            handled += len(left)

    def set_up(
        self,
        channel: str,
        person_key: str,
        region: Region = DEFAULT_REGION,
        timezone: ZoneInfo = DEFAULT_ZONE,
        role: str = "client",
    ) -> Person:
        """The person under this key, added when new, with the region, time zone and role given."""
        with self._transaction() as conn:
            person = people.find(conn, channel, person_key)
            if person is None:
                return people.add(conn, channel, person_key, person_key, region, timezone, role)
            return people.update(conn, person.id, region=region, timezone=timezone, role=role)

    def person(self, channel: str, person_key: str) -> Person | None:
        """The person under this key, or None when they have never spoken nor been set up."""
        with self._transaction() as conn:
            return people.find(conn, channel, person_key)

    def knows_message(self, channel: str, person_key: str, message_ref: str) -> bool:
        """Whether this person has sent a message under this reference, so that it can be edited."""
        with self._transaction() as conn:
            return inbox.find_message(conn, channel, person_key, message_ref) is not None

    def unsent(self, person: Person) -> list[Outgoing]:
        """What this person has not been sent yet, in order."""
        with self._transaction() as conn:
            return [outgoing for outgoing in outbox.pending(conn, _MANY) if outgoing.person_id == person.id]

    def sent(self, outgoing: Iterable[Outgoing]) -> None:
        """Notes that the person has been shown these; until then they may be shown again."""
        with self._transaction() as conn:
            for text in outgoing:
                outbox.sent(conn, text.id, datetime.now(UTC))

    def _failed(self, inbound_id: int, error: Exception, answered_at_once: bool) -> Turn | None:
        what = _where(error.__cause__ or error)
        logger.error("message %d could not be handled: %s", inbound_id, what)
        with self._transaction() as conn:
            if inbox.failed(conn, inbound_id, what) < TRIES:
                return None
            inbox.set_aside(conn, inbound_id)
            inbound = inbox.get(conn, inbound_id)
            if inbound is None:
                return None
            turn = Turn((Reply(APOLOGY),))
            _post(conn, inbound, _person(conn, inbound), turn, answered_at_once)
            return turn

    @contextmanager
    def _transaction(self) -> Iterator[Connection]:
        try:
            with self.store.transaction() as conn:
                yield conn
        except SQLAlchemyError as error:
            raise StoreError("The database can't be read or written just now.") from error


@contextmanager
def open_tarebook(url: str) -> Iterator[Tarebook]:
    """The program on the database at a URL, which is let go of in the end. Raises StoreError as `open_store`."""
    store = open_store(url)
    try:
        yield Tarebook(store)
    finally:
        store.close()


def _person(conn: Connection, inbound: Inbound) -> Person:
    key = inbound.person_key
    found = people.find(conn, inbound.channel, key)
    return found or people.add(conn, inbound.channel, key, key, DEFAULT_REGION, DEFAULT_ZONE)


def _turn(conn: Connection, inbound: Inbound, person: Person) -> Turn:
    body: dict[str, Any] = inbound.body
    at = inbound.said_at
    match inbound.kind:
        case "press":
            incoming = Incoming("press", question_ref=body["ref"], choice=body["choice"])
        case "edit":
            first = inbox.find_message(conn, inbound.channel, inbound.person_key, body["edits"])
            incoming = Incoming("edit", body["text"], edits_inbound=first.id if first else None)
            # "this morning" in a corrected message still means the morning of the day on which it was sent.
            at = first.said_at if first else at
        case _:
            incoming = Incoming("say", body["text"])
    return respond(Books(conn=conn, person=person, inbound_id=inbound.id, at=at), incoming)


def _post(conn: Connection, inbound: Inbound, person: Person, turn: Turn, sent: bool) -> None:
    for reply in turn.replies:
        row = outbox.put(conn, person.id, inbound.id, reply.text, list(reply.choices), reply.question_ref)
        if sent:
            outbox.sent(conn, row, datetime.now(UTC))


def _where(error: BaseException) -> str:
    """The error's kind and the way to it, without its text: that may hold what the person wrote."""
    frames = traceback.extract_tb(error.__traceback__)[-4:]
    way = " < ".join(f"{frame.filename.rpartition('/')[2]}:{frame.lineno} {frame.name}" for frame in reversed(frames))
    return f"{type(error).__name__} at {way}"
