"""Puts the pieces together: a message is stored, then handled in one transaction, then its replies can be sent."""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from sqlalchemy import Connection
from sqlalchemy.exc import SQLAlchemyError

from bot import handling
from bot.conversation.privacy import exporting, importing
from bot.handling import DEFAULT_REGION, DEFAULT_ZONE
from bot.logs import where
from bot.messages import Reply, Turn
from bot.reports import export, files
from bot.reports.export import Everything, File
from bot.schedule import sweeping, tidying
from bot.store import inbox, nobody, outbox, people
from bot.store.books import Books
from bot.store.engine import Store, open_store
from bot.store.errors import StoreUnavailable, store_error
from bot.store.inbox import Delivery
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

Step = Callable[[Connection], object]
"""What somebody does in the transaction that messages are handled in."""


def no_step(_conn: Connection) -> None:
    """Nothing is done."""


class Tarebook:
    """The program on one database, for any number of channels.

    Every method raises StoreError when the database can't be read or written.
    """

    def __init__(self, store: Store) -> None:
        self.store = store
        self.doors: dict[str, str] = {}
        """By channel: what stands before an invitation's code to make a link into the bot."""
        self.broken = 0
        """How often handling a message has broken since the program started."""

    def receive(self, delivery: Delivery) -> int | None:
        """Stores what came in; once this returns, the channel may be told that it was received.

        Returns the inbox row's id, or None when the same update was stored before.
        """
        with self.transaction() as conn:
            return inbox.receive(conn, delivery)

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
                turn = self._claimed(conn, inbound_id, answered_at_once)
        except StoreUnavailable:
            raise
        except Exception as error:
            return self._failed(inbound_id, error, answered_at_once)
        self._sweep_out(turn)
        return turn

    def handle_waiting(
        self, channel: str, at_most: int, before: Step = no_step, after: Step = no_step
    ) -> list[Turn | None]:
        """What `handle` gives for the oldest message of some people, with one commit for all of them.

        What is done `before` and `after` goes into the same transaction; its exceptions are the caller's, and then
        nothing is kept. When a message breaks, all of them are handled by themselves, so that this one has failed and
        the others have not, and so are the steps, which are then done a second time. So it is also where several
        processes share the database: there whoever holds one person's kitchen must not wait for another's.
        """
        if not self.store.shared:
            try:
                with self.transaction() as conn:
                    before(conn)
                    waiting = inbox.waiting(conn, channel, at_most)
                    # What has broken before shall not take others with it again.
                    together = [inbound for inbound in waiting if not inbound.tries]
                    door = self.doors.get(channel, "")
                    turns = [handling.handled(conn, inbound, False, door) for inbound in together]
                    inbox.done(conn, *(inbound.id for inbound in together))
                    after(conn)
            except StoreUnavailable:
                raise
            except Exception:
                logger.info("messages are handled by themselves, since they could not be handled together")
            else:
                for turn in turns:
                    self._sweep_out(turn)
                return [*turns, *(self.handle(inbound.id) for inbound in waiting if inbound.tries)]
        with self.transaction() as conn:
            before(conn)
        apart = [self.handle(inbound_id) for inbound_id in self.waiting(channel, at_most)]
        with self.transaction() as conn:
            after(conn)
        return apart

    def answer(self, delivery: Delivery) -> Turn | None:
        """Stores and handles a message in one transaction, for a door that says nothing before it has the answer.

        The same as `receive` and then `settle(answered_at_once=True)`: a message that can't be handled is stored by
        itself all the same, tried again and set aside. None when the same update was stored before.
        """
        try:
            with self.transaction() as conn:
                inbound = inbox.take_in_hand(conn, delivery)
                door = self.doors.get(delivery.channel, "")
                turn = None if inbound is None else handling.handled(conn, inbound, True, door)
        except StoreUnavailable:
            raise
        except Exception:
            logger.info("a message is handled by itself, since it could not be handled at once")
        else:
            if turn is not None:
                self._sweep_out(turn)
                return turn
        kept = self.receive(delivery)
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

    def waiting(self, channel: str, at_most: int = _MANY) -> list[int]:
        """The ids of what is to be handled next, at most one for each person of the channel, oldest first."""
        with self.transaction() as conn:
            return [inbound.id for inbound in inbox.waiting(conn, channel, at_most)]

    def errands(self, channel: str) -> list[tuple[str, int]]:
        """(whose key, inbox row) of what others have caused to be done next in somebody's books."""
        with self.transaction() as conn:
            found = inbox.waiting(conn, channel, _MANY)
            return [(inbound.person_key, inbound.id) for inbound in found if inbound.kind == "errand"]

    def key_of(self, channel: str, person_id: int) -> str | None:
        """The key under which the person is reached in the channel, or None."""
        with self.transaction() as conn:
            found = people.reached(conn, person_id, channel)
            return found[1] if found is not None and found[0] == channel else None

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
            handling.arrange_for(conn, person.id, at or datetime.now(UTC))
            return person

    def person(self, channel: str, person_key: str) -> Person | None:
        """The person under this key, or None when they have never spoken nor been set up."""
        with self.transaction() as conn:
            return people.find(conn, channel, person_key)

    def knows_message(self, channel: str, person_key: str, message_ref: str) -> bool:
        """Whether this person has sent a message under this reference, so that it can be edited."""
        with self.transaction() as conn:
            return inbox.find_message(conn, channel, person_key, message_ref) is not None

    def unsent(self, channel: str, place: str) -> list[Outgoing]:
        """What has not been sent yet to a place in the channel, in order."""
        with self.transaction() as conn:
            return outbox.to_place(conn, channel, place)

    def sent(self, outgoing: Iterable[Outgoing]) -> None:
        """Notes that the person has been shown these; until then they may be shown again."""
        with self.transaction() as conn:
            outbox.sent(conn, [(text, datetime.now(UTC), None) for text in outgoing])

    def file_of(self, outgoing: Outgoing) -> File:
        """The file that goes with a text, made of what is on record now. LookupError when there is none to make."""
        if outgoing.person_id is None or outgoing.document is None:
            raise LookupError(f"no file goes with outbox row {outgoing.id}")
        wanted = files.decode(outgoing.document)
        return File(wanted.name, export.zipped(self.everything_of(outgoing.person_id, wanted.at)))

    def everything_of(self, person_id: int, at: datetime) -> Everything:
        """All that is on record of a person, pictures included. LookupError when there is no such person."""
        with self.transaction() as conn:
            packed = exporting.everything(_books(conn, person_id, at))
        # A week at a time, so that nobody's message waits long for the database.
        pictures = {}
        for sunday in exporting.weeks_in(packed):
            with self.transaction() as conn:
                found = exporting.picture_of(sunday, _books(conn, person_id, at))
            if found is not None:
                pictures[found[0]] = found[1]
        return replace(packed, pictures=pictures)

    def bring_back(self, person: Person, content: bytes, at: datetime) -> dict[str, int]:
        """Puts an export into the person's records. Returns how many rows were new, by their table.

        Raises `bot.reports.reading.Unreadable`, and records nothing, when it is none.
        """
        with self.transaction() as conn:
            channel, key = people.reached(conn, person.id, "") or (nobody.CHANNEL, nobody.CHANNEL)
            inbound_id = inbox.receive(
                conn, Delivery(channel, f"import:{at.isoformat()}", key, "other", {"answer": ""}, None, at)
            )
            if inbound_id is None:
                raise StoreUnavailable("Another import began at this very moment.")
            inbox.done(conn, inbound_id)
            people.hold_kitchen(conn, person)
            added = importing.unpack(content, Books(conn=conn, person=person, inbound_id=inbound_id, at=at))
            handling.arrange_for(conn, person.id, at)
        return added

    def take_due(self, channel: str, now: datetime) -> int | None:
        """Puts a slice of what is due unasked into the outbox. Returns how many texts, or None when nothing is due."""
        try:
            taken = sweeping.take(self.store, channel, now)
        except SQLAlchemyError as error:
            raise store_error(error) from error
        return None if taken is None else len(taken)

    def tidy(self, now: datetime) -> None:
        """Lets go of what is kept for a time only and whose time is over."""
        try:
            tidying.tidy(self.store, now)
        except SQLAlchemyError as error:
            raise store_error(error) from error

    def _sweep_out(self, turn: Turn | None) -> None:
        """Sees to it that of somebody who has been erased nothing is left in the database's files either."""
        if turn is not None and turn.farewell and not self.store.sweep_out():
            logger.warning("what was erased stays in the database's file until no other program uses it")

    def _claimed(self, conn: Connection, inbound_id: int, answered_at_once: bool) -> Turn | None:
        """What a stored message brings about; None when it is not to be handled now."""
        inbound = inbox.claim(conn, inbound_id)
        if inbound is None:
            return None
        turn = handling.handled(conn, inbound, answered_at_once, self.doors.get(inbound.channel, ""))
        inbox.done(conn, inbound_id)
        return turn

    def _failed(self, inbound_id: int, error: Exception, answered_at_once: bool) -> Turn | None:
        self.broken += 1
        what = where(error.__cause__ or error)
        logger.error("message %d could not be handled: %s", inbound_id, what)
        with self.transaction() as conn:
            if inbox.failed(conn, inbound_id, what) < TRIES:
                return None
            inbox.set_aside(conn, inbound_id)
            inbound = inbox.get(conn, inbound_id)
            if inbound is None:
                return None
            turn = Turn((Reply(APOLOGY),))
            handling.post(conn, inbound, handling.person_of(conn, inbound), turn, answered_at_once)
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


def _books(conn: Connection, person_id: int, at: datetime) -> Books:
    person = people.by_id(conn, person_id)
    if person is None:
        raise LookupError(f"there is no person {person_id}")
    return Books(conn=conn, person=person, inbound_id=0, at=at)
