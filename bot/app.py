"""Puts the pieces together: a message is stored, then handled in one transaction, then its replies can be sent."""

from __future__ import annotations

import logging
import os
import traceback
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy import Connection
from sqlalchemy.exc import SQLAlchemyError

from bot.conversation import respond
from bot.messages import Incoming, Reply, Turn
from bot.schedule import sweeping
from bot.schedule.arranging import MOVING, arrange
from bot.store import inbox, outbox, people, questions
from bot.store.books import Books
from bot.store.engine import Store, open_store
from bot.store.errors import StoreUnavailable, store_error
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

PRIVATE = "That is between you and me: please say it in our private chat. Here I look after batches and tares."

SHARED_EVENTS = frozenset(
    {
        "batch_opened",
        "batch_cooked",
        "batch_drained",
        "batch_boxed",
        "batch_reduced",
        "batch_closed",
        "tare_saved",
        "help",
        "not_understood",
        "refused",
    }
)
"""What may come of a message in a group: the kitchen's matters, and nothing of anybody's own records."""

_SHARED_LISTINGS = frozenset({"batches", "tares"})

_MANY = 10_000
_HOME = str(Path(__file__).parents[1]) + os.sep
_OURS = tuple(f"{_HOME}{package}{os.sep}" for package in ("bot", "domain"))

DEFAULT_REGION = Region.US
DEFAULT_ZONE = ZoneInfo("UTC")


class Tarebook:
    """The program on one database, for any number of channels.

    Every method raises StoreError when the database can't be read or written.
    """

    def __init__(self, store: Store) -> None:
        self.store = store
        self.broken = 0
        """How often handling a message has broken since the program started."""

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
        `choice` (from 0) for `press`, `answer` for `other` (something that has no words). It may also hold `place`
        (where the answer goes, when not to the person), `shared` (others read along there), `answers` (the message
        that the answer hangs on), `refers` (the message that this one replies to), and for a press `message` and
        `shown` (where the buttons are, and the text over them). Returns the inbox row's id, or None when the same
        update was stored before.
        """
        with self.transaction() as conn:
            return inbox.receive(conn, channel, update_key, person_key, kind, body, message_ref, said_at)

    def handle(self, inbound_id: int, *, answered_at_once: bool = False) -> Turn | None:
        """Handles one stored message: records, replies and 'done' are committed together or not at all.

        Returns what it brought about. Returns None when it is not to be handled now (done before, or another process
        has it, or the same person sent something earlier that still waits), or when it failed and is to be tried
        again; after the third failure the message is set aside and the answer is an apology. The replies wait in the
        outbox, unless the caller takes them from the answer itself (`answered_at_once`). Raises StoreUnavailable,
        without counting that as a failure, when the database can't be used.
        """
        try:
            with self.transaction() as conn:
                return _handled(conn, inbound_id, answered_at_once)
        except StoreUnavailable:
            raise
        except Exception as error:
            return self._failed(inbound_id, error, answered_at_once)

    def answer(
        self,
        channel: str,
        update_key: str,
        person_key: str,
        kind: str,
        body: Mapping[str, object],
        message_ref: str | None,
        said_at: datetime,
    ) -> Turn | None:
        """Stores and handles a message in one transaction, for a door that says nothing before it has the answer.

        The same as `receive` and then `settle(answered_at_once=True)`: a message that can't be handled is stored by
        itself all the same, tried again and set aside. None when the same update was stored before.
        """
        try:
            with self.transaction() as conn:
                inbound_id = inbox.receive(conn, channel, update_key, person_key, kind, body, message_ref, said_at)
                return None if inbound_id is None else _handled(conn, inbound_id, True)
        except StoreUnavailable:
            raise
        except Exception:
            logger.info("a message is handled by itself, since it could not be handled at once")
        kept = self.receive(channel, update_key, person_key, kind, body, message_ref, said_at)
        return None if kept is None else self.settle(kept, answered_at_once=True)

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
        while left := self.waiting(channel):
            for inbound_id in left:
                self.settle(inbound_id, answered_at_once=answered_at_once)
            handled += len(left)
        return handled

    def waiting(self, channel: str) -> list[int]:
        """The ids of what is to be handled next, at most one for each person of the channel."""
        with self.transaction() as conn:
            return [inbound.id for inbound in inbox.waiting(conn, _MANY) if inbound.channel == channel]

    def set_up(
        self,
        channel: str,
        person_key: str,
        region: Region = DEFAULT_REGION,
        timezone: ZoneInfo = DEFAULT_ZONE,
        role: str = "client",
        at: datetime | None = None,
    ) -> Person:
        """The person under this key, added when new, with the region, time zone and role given.

        What comes unasked begins after the moment `at`, which is now unless given.
        """
        with self.transaction() as conn:
            person = people.find(conn, channel, person_key)
            if person is None:
                person = people.add(conn, channel, person_key, person_key, region, timezone, role)
            else:
                person = people.update(conn, person.id, region=region, timezone=timezone, role=role)
            _arrange(conn, person.id, at or datetime.now(UTC))
            return person

    def person(self, channel: str, person_key: str) -> Person | None:
        """The person under this key, or None when they have never spoken nor been set up."""
        with self.transaction() as conn:
            return people.find(conn, channel, person_key)

    def knows_message(self, channel: str, person_key: str, message_ref: str) -> bool:
        """Whether this person has sent a message under this reference, so that it can be edited."""
        with self.transaction() as conn:
            return inbox.find_message(conn, channel, person_key, message_ref) is not None

    def unsent(self, channel: str, person: Person) -> list[Outgoing]:
        """What this person has not been sent yet in the channel, in order."""
        with self.transaction() as conn:
            return outbox.to_person(conn, channel, person.id)

    def sent(self, outgoing: Iterable[Outgoing]) -> None:
        """Notes that the person has been shown these; until then they may be shown again."""
        with self.transaction() as conn:
            for text in outgoing:
                outbox.sent(conn, text.id, datetime.now(UTC))

    def take_due(self, channel: str, now: datetime) -> int | None:
        """Puts a slice of what is due unasked into the outbox. Returns how many texts, or None when nothing is due."""
        try:
            taken = sweeping.take(self.store, channel, now)
        except SQLAlchemyError as error:
            raise store_error(error) from error
        return None if taken is None else len(taken)

    def _failed(self, inbound_id: int, error: Exception, answered_at_once: bool) -> Turn | None:
        self.broken += 1
        what = _where(error.__cause__ or error)
        logger.error("message %d could not be handled: %s", inbound_id, what)
        with self.transaction() as conn:
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
    def transaction(self) -> Iterator[Connection]:
        """A transaction of the store's, for what a channel keeps itself; its errors are the store's as well."""
        try:
            with self.store.transaction() as conn:
                yield conn
        except SQLAlchemyError as error:
            raise store_error(error) from error


@contextmanager
def open_tarebook(url: str) -> Iterator[Tarebook]:
    """The program on the database at a URL, which is let go of in the end. Raises StoreError as `open_store`."""
    store = open_store(url)
    try:
        yield Tarebook(store)
    finally:
        store.close()


def welcome(conn: Connection, channel: str, key: str, name: str, at: datetime) -> Person:
    """A new person with the usual settings, who hears from us unasked from the moment `at` on."""
    person = people.add(conn, channel, key, name, DEFAULT_REGION, DEFAULT_ZONE)
    _arrange(conn, person.id, at)
    return person


def _person(conn: Connection, inbound: Inbound) -> Person:
    key = inbound.person_key
    return people.find(conn, inbound.channel, key) or welcome(conn, inbound.channel, key, key, inbound.said_at)


def _arrange(conn: Connection, person_id: int, at: datetime) -> None:
    """Sets when the person is next to hear from us unasked; their zone may have changed a moment ago."""
    person = people.by_id(conn, person_id)
    if person is not None:
        arrange(Books(conn=conn, person=person, inbound_id=0, at=at))


def _handled(conn: Connection, inbound_id: int, answered_at_once: bool) -> Turn | None:
    """What one message brings about, all in the caller's transaction; None when it is not to be handled now."""
    inbound = inbox.claim(conn, inbound_id)
    if inbound is None:
        return None
    person = _person(conn, inbound)
    people.hold_kitchen(conn, person)
    turn = _turn(conn, inbound, person)
    if any(event["type"] in MOVING for event in turn.events):
        _arrange(conn, person.id, inbound.said_at)
    _post(conn, inbound, person, turn, answered_at_once)
    inbox.done(conn, inbound_id)
    return turn


def _turn(conn: Connection, inbound: Inbound, person: Person) -> Turn:
    body: dict[str, Any] = inbound.body
    at = inbound.said_at
    match inbound.kind:
        case "other":
            return Turn((Reply(body["answer"]),))
        case "press":
            incoming = Incoming("press", question_ref=body["ref"], choice=body["choice"])
        case "edit":
            first = inbox.find_message(conn, inbound.channel, inbound.person_key, body["edits"])
            incoming = Incoming("edit", body["text"], edits_inbound=first.id if first else None)
            # "this morning" in a corrected message still means the morning of the day on which it was sent.
            at = first.said_at if first else at
        case _:
            incoming = Incoming("say", body["text"])
    refers_to = _referred(conn, inbound, person)
    books = Books(conn=conn, person=person, inbound_id=inbound.id, at=at, refers_to=refers_to)
    if body.get("shared"):
        return _shared_turn(books, incoming)
    if "message" in body:
        _mark_pressed(books, inbound, incoming)
    return respond(books, incoming)


def _shared_turn(books: Books, incoming: Incoming) -> Turn:
    """The turn, unless it would put something of the person's own before the others of a group."""
    with books.conn.begin_nested() as savepoint:
        turn = respond(books, incoming)
        asks = any(reply.question_ref is not None for reply in turn.replies)
        if not asks and all(_may_be_shared(event) for event in turn.events):
            return turn
        savepoint.rollback()
    return Turn((Reply(PRIVATE),))


def _may_be_shared(event: Mapping[str, object]) -> bool:
    if event["type"] == "listing":
        return event["of"] in _SHARED_LISTINGS
    return event["type"] in SHARED_EVENTS


def _referred(conn: Connection, inbound: Inbound, person: Person) -> int | None:
    """The inbox row of the message that this one replies to, or that caused the reply which it replies to."""
    ref = inbound.body.get("refers")
    if ref is None:
        return None
    sent = outbox.by_remote_ref(conn, inbound.channel, ref)
    if sent is not None:
        return sent.inbound_id if sent.person_id == person.id else None
    said = inbox.find_message(conn, inbound.channel, inbound.person_key, ref)
    return said.id if said else None


def _mark_pressed(books: Books, inbound: Inbound, press: Incoming) -> None:
    """Has the buttons replaced by the choice; by nothing when the question was settled before."""
    found = questions.by_ref(books, press.question_ref or "")
    if found is None or press.choice is None:
        return
    question, state = found
    chosen = state == "waiting" and 0 <= press.choice < len(question.choices)
    text = f"{inbound.body['shown']}\n\nChosen: {question.choices[press.choice]}" if chosen else ""
    outbox.put(
        books.conn,
        inbound.channel,
        inbound.body.get("place", inbound.person_key),
        text,
        person_id=books.person.id,
        inbound_id=inbound.id,
        about_ref=inbound.body["message"],
        kind="mark",
    )


def _post(conn: Connection, inbound: Inbound, person: Person, turn: Turn, sent: bool) -> None:
    for reply in turn.replies:
        outbox.put(
            conn,
            inbound.channel,
            inbound.body.get("place", inbound.person_key),
            reply.text,
            person_id=person.id,
            inbound_id=inbound.id,
            choices=reply.choices,
            question_ref=reply.question_ref,
            about_ref=inbound.body.get("answers"),
            picture=reply.picture,
            sent_at=datetime.now(UTC) if sent else None,
        )


def _where(error: BaseException) -> str:
    """The error's kind and the way to it through this program, without its text: that may hold what was written."""
    frames = [frame for frame in traceback.extract_tb(error.__traceback__) if frame.filename.startswith(_OURS)]
    way = [f"{frame.filename.removeprefix(_HOME)}:{frame.lineno} {frame.name}" for frame in reversed(frames)]
    return f"{type(error).__name__} at {' < '.join(way[:4])}"
