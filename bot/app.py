"""Puts the pieces together: a message is stored, then handled in one transaction, then its replies can be sent."""

from __future__ import annotations

import logging
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from math import inf
from zoneinfo import ZoneInfo

from sqlalchemy import Connection
from sqlalchemy.exc import SQLAlchemyError

from bot import handling
from bot.conversation.coaching import consultation
from bot.conversation.privacy import exporting, importing
from bot.handling import DEFAULT_REGION, DEFAULT_ZONE
from bot.logs import where
from bot.messages import Reply, Turn
from bot.reports import export, files
from bot.reports.export import Everything, File
from bot.reports.page import Page, pdf
from bot.schedule import sweeping
from bot.store import coaching, people
from bot.store.books import Books
from bot.store.delivery import inbox, outbox
from bot.store.delivery.inbox import InboxRow, NewRow, NoWords
from bot.store.delivery.outbox import OutboxRow
from bot.store.engine import Store, open_store
from bot.store.errors import StoreUnavailable, store_error
from bot.store.ownership import retention
from bot.store.people import PLACEHOLDER_CHANNEL, Person
from domain.quantities import Region

logger = logging.getLogger(__name__)

TRIES = 3
"""How often handling a row is tried before it is set aside."""

APOLOGY = (
    "Sorry, something here broke on that message. It is kept, and nothing in it was recorded. "
    "Please say it again in other words."
)

ALONE_TAKES = 10
"""How much more of a budget of time rows get that are handled one by one: each waits for its own commit."""

_MANY = 10_000

Step = Callable[[Connection], object]
"""What a caller does in the transaction in which rows are handled."""


@dataclass(frozen=True, slots=True)
class Taken:
    """Rows to be handled; `claimed` says that no other transaction can have them, and that this one locks no others."""

    rows: Sequence[InboxRow]
    claimed: bool = False


Take = Callable[[Connection], Taken]
"""Which rows are handled; it may store them in the same transaction."""


@dataclass(frozen=True, slots=True)
class Handled:
    """What handling a row brought about.

    `turn` is None when there was nothing to do for this process: the row is done, another process has it, or an
    earlier row of the same person still waits.
    """

    row: InboxRow
    turn: Turn | None


def no_step(_conn: Connection) -> None:
    """Nothing is done."""


def oldest(channel: str, at_most: int = _MANY) -> Take:
    """The oldest waiting row of each person in the channel, of at most so many people."""
    return lambda conn: Taken(inbox.waiting(conn, channel, at_most))


def arriving(new: NewRow) -> Take:
    """A new row; no row when it was stored before, or has to wait behind another row of the person's."""

    def take(conn: Connection) -> Taken:
        row = inbox.receive_and_claim(conn, new)
        return Taken([] if row is None else [row], claimed=True)

    return take


class Tarebook:
    """The program on one database, for any number of channels.

    Every method raises StoreError when the database can't be read or written.
    """

    def __init__(self, store: Store) -> None:
        self.store = store
        self.link_prefixes: dict[str, str] = {}
        """By channel: what precedes an invitation's code to make a link into the bot."""
        self.editing: set[str] = set()
        """The channels whose messages can be edited, pinned and reacted to."""
        self.broken = 0
        """How often handling a row has broken since the program started."""

    def receive(self, new: NewRow) -> int | None:
        """Stores what came in; once this returns, the channel may be told that it was received.

        Returns the inbox row's id, or None when the same update was stored before.
        """
        with self.transaction() as conn:
            return inbox.receive(conn, new)

    def handle(self, take: Take, after: Step = no_step, *, shown: bool = False, budget_s: float = inf) -> list[Handled]:
        """Handles rows: for each, its records, its replies and 'done' are committed together or not at all.

        All rows that `take` gives are handled in one transaction with `take` and `after`, so that they share one
        commit. When that breaks, or when several processes share the database, each row is handled in a transaction of
        its own, and `take` and `after` are too: a row that breaks does not affect the others, and whoever locks one
        person's kitchen does not wait for another's. A row that has broken TRIES times is set aside, and its answer is
        an apology.

        After `budget_s` seconds no further row is begun; those that are left go on waiting.

        Replies wait in the outbox; with `shown` the caller shows them itself, and they count as sent. Exceptions of
        `take` and `after` are the caller's. Raises StoreUnavailable, without counting that as a failure, when the
        database can't be used.
        """
        began = time.monotonic()
        try:
            with self.transaction() as conn:
                together, alone = self._split(take(conn))
                handled = [
                    Handled(row, self._turn(conn, row, shown))
                    for number, row in enumerate(together)
                    if number == 0 or time.monotonic() - began < budget_s
                ]
                inbox.done(conn, *(each.row.id for each in handled))
                if not alone:
                    after(conn)
        except StoreUnavailable:
            raise
        except Exception:
            logger.info("rows are handled one by one, since they could not be handled together")
            with self.transaction() as conn:
                handled, alone = [], take(conn).rows
            if not alone:
                with self.transaction() as conn:
                    after(conn)
        for each in handled:
            self._vacuum_after(each.turn)
        if alone:
            for row in alone:
                if not handled or time.monotonic() - began < ALONE_TAKES * budget_s:
                    handled.append(Handled(row, self._handle_alone(row, shown)))
            with self.transaction() as conn:
                after(conn)
        return handled

    def catch_up(self, channel: str, *, shown: bool = False) -> list[Turn]:
        """Handles every row of the channel that waits, and returns what that brought about."""
        turns: list[Turn] = []
        while found := [each.turn for each in self.handle(oldest(channel), shown=shown) if each.turn is not None]:
            turns += found
        return turns

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

        Scheduled notifications begin after the moment `at`, which is now unless given.
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

    def unsent(self, channel: str, place: str) -> list[OutboxRow]:
        """What has not been sent yet to a place in the channel, in order."""
        with self.transaction() as conn:
            return outbox.to_place(conn, channel, place)

    def sent(self, rows: Iterable[OutboxRow]) -> None:
        """Marks rows as shown to the person; until then they may be shown again."""
        with self.transaction() as conn:
            outbox.sent(conn, [(row, datetime.now(UTC), None) for row in rows])

    def file_of(self, row: OutboxRow) -> File:
        """The file that goes with a text, made of what is on record now. LookupError when there is none to make."""
        if row.person_id is None or row.document is None:
            raise LookupError(f"no file goes with outbox row {row.id}")
        wanted = files.decode(row.document)
        if wanted.client_id is not None:
            return self._file_of_client(row.person_id, wanted.client_id, wanted)
        return File(wanted.name, export.zipped(self.everything_of(row.person_id, wanted.at)))

    def page_of(self, coach_id: int, client_id: int, at: datetime, now: datetime) -> Page | None:
        """The page about a client for their coach as of `at`; None when the client's consent does not stand now."""
        with self.transaction() as conn:
            books = coaching.books_of_client(_books(conn, coach_id, now), client_id)
            which = None if books is None else coaching.coach(books, coach_id)
            if books is None or which is None:
                return None
            return consultation.page(replace(books, at=at), which.called, which.coach)

    def shared_of(self, coach_id: int, client_id: int, at: datetime, now: datetime) -> Everything | None:
        """What a client shares with their coach as tables; None when the client's consent to it does not stand now."""
        with self.transaction() as conn:
            books = _exportable(_books(conn, coach_id, now), client_id)
            which = None if books is None else coaching.coach(books, coach_id)
            if books is None or which is None:
                return None
            packed = exporting.shared(replace(books, at=at), which.called)
        pictures = {}
        for sunday in exporting.weeks_in(packed):
            with self.transaction() as conn:
                books = _exportable(_books(conn, coach_id, now), client_id)
                found = None if books is None else exporting.picture_of(sunday, replace(books, at=at))
            if found is not None:
                pictures[found[0]] = found[1]
        return replace(packed, pictures=pictures)

    def _file_of_client(self, coach_id: int, client_id: int, wanted: files.Export) -> File:
        """The file about a client under the consent of this moment; without it a file that says so."""
        now = datetime.now(UTC)
        if wanted.form == "page":
            page = self.page_of(coach_id, client_id, wanted.at, now)
            return _WITHDRAWN if page is None else File(wanted.name, pdf(page))
        shared = self.shared_of(coach_id, client_id, wanted.at, now)
        return _WITHDRAWN if shared is None else File(wanted.name, export.zipped(shared))

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
        """Imports an export into the person's records. Returns how many rows were new, by their table.

        Raises `bot.reports.reading.Unreadable`, and records nothing, when it is not an export.
        """
        with self.transaction() as conn:
            channel, key = people.reached(conn, person.id, "") or (PLACEHOLDER_CHANNEL, PLACEHOLDER_CHANNEL)
            new = NewRow(channel, f"import:{at.isoformat()}", key, NoWords(answer=""), None, at)
            row_id = inbox.receive(conn, new)
            if row_id is None:
                raise StoreUnavailable("another import began at this very moment")
            inbox.done(conn, row_id)
            people.hold_kitchen(conn, person)
            added = importing.unpack(content, Books(conn=conn, person=person, inbound_id=row_id, at=at))
            handling.arrange_for(conn, person.id, at)
        return added

    def take_due(self, channel: str, now: datetime) -> int | None:
        """Puts a slice of the scheduled notifications that are due into the outbox.

        Returns how many, or None when nothing is due.
        """
        try:
            taken = sweeping.take(self.store, channel, now)
        except SQLAlchemyError as error:
            raise store_error(error) from error
        return None if taken is None else len(taken)

    def apply_retention(self, now: datetime) -> None:
        """Deletes updates and erases words whose retention period is over."""
        try:
            retention.apply(self.store, now)
        except SQLAlchemyError as error:
            raise store_error(error) from error

    @contextmanager
    def transaction(self) -> Iterator[Connection]:
        """A transaction of the store's; its errors are raised as StoreError."""
        try:
            with self.store.transaction() as conn:
                yield conn
        except SQLAlchemyError as error:
            raise store_error(error) from error

    def _split(self, taken: Taken) -> tuple[Sequence[InboxRow], Sequence[InboxRow]]:
        """(the rows to handle in this transaction, those to handle each in one of its own)."""
        if self.store.shared and not taken.claimed:
            return [], taken.rows
        # A row that has broken before must not break others again.
        return [row for row in taken.rows if not row.tries], [row for row in taken.rows if row.tries]

    def _turn(self, conn: Connection, row: InboxRow, shown: bool) -> Turn:
        link_prefix, edits = self.link_prefixes.get(row.channel, ""), row.channel in self.editing
        return handling.handled(conn, row, shown, link_prefix, edits)

    def _handle_alone(self, row: InboxRow, shown: bool) -> Turn | None:
        """Handles a row in transactions of its own until it is done or set aside; None as in `Handled`."""
        for _ in range(TRIES):
            try:
                with self.transaction() as conn:
                    claimed = inbox.claim(conn, row.id)
                    if claimed is None:
                        return None
                    turn: Turn | None = self._turn(conn, claimed, shown)
                    inbox.done(conn, row.id)
            except StoreUnavailable:
                raise
            except Exception as error:
                turn = self._failed(row, error, shown)
                if turn is None:
                    continue
            self._vacuum_after(turn)
            return turn
        return None

    def _failed(self, row: InboxRow, error: Exception, shown: bool) -> Turn | None:
        """Counts a failure; the last one sets the row aside and gives the apology."""
        self.broken += 1
        what = where(error.__cause__ or error)
        logger.error("inbox row %d could not be handled: %s", row.id, what)
        with self.transaction() as conn:
            if inbox.failed(conn, row.id, what) < TRIES:
                return None
            inbox.set_aside(conn, row.id)
            turn = Turn((Reply(APOLOGY),))
            handling.post(conn, row, handling.person_of(conn, row), turn, shown)
            return turn

    def _vacuum_after(self, turn: Turn | None) -> None:
        """Removes what was deleted of an erased person from the database's files too."""
        if turn is not None and turn.farewell and not self.store.vacuum():
            logger.warning("what was erased stays in the database's file until no other program uses it")


@contextmanager
def open_tarebook(url: str) -> Iterator[Tarebook]:
    """The program on the database at a URL, closed on leaving. Raises StoreError as `open_store`."""
    store = open_store(url)
    try:
        yield Tarebook(store)
    finally:
        store.close()


_WITHDRAWN = File("not-shared.txt", b"This is not shared with you any more.\n")


def _exportable(coachs: Books, client_id: int) -> Books | None:
    """The client's books if the coach may have a file of them."""
    books = coaching.books_of_client(coachs, client_id)
    return None if books is None or "export" in books.withheld else books


def _books(conn: Connection, person_id: int, at: datetime) -> Books:
    person = people.by_id(conn, person_id)
    if person is None:
        raise LookupError(f"there is no person {person_id}")
    return Books(conn=conn, person=person, inbound_id=0, at=at)
