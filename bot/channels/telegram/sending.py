"""Sends the outbox to Telegram, each chat in order, within the server's rate limits."""

from __future__ import annotations

import asyncio
import contextlib
import logging
import random
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Literal, TypeVar

import telegram
from telegram.error import BadRequest, ChatMigrated, Forbidden, InvalidToken, NetworkError, RetryAfter, TelegramError

from bot.app import Step, Tarebook
from bot.channels.telegram import CHANNEL
from bot.channels.telegram.client import Client, DatabaseThread, pause, retry_after
from bot.channels.telegram.day_message import NOT_MODIFIED, DayMessages
from bot.channels.telegram.intake import moved
from bot.channels.telegram.monitor import Monitor
from bot.channels.telegram.rate_limits import RateLimits
from bot.channels.telegram.reading import id_of, ref_of
from bot.channels.telegram.rendering import MAX_CAPTION, MAX_TEXT, keyboard, parts, units
from bot.kinds import OutboxKind
from bot.reports import picture, series
from bot.store import kitchens, people
from bot.store.delivery import outbox
from bot.store.delivery.outbox import OutboxRow
from bot.store.engine import Connection
from bot.store.errors import StoreError, StoreUnavailable

logger = logging.getLogger(__name__)

R = TypeVar("R")

Leads = Callable[[Connection], bool]
"""Whether this process leads, and will for long enough to send what is taken in this transaction."""

_Marker = Literal["another", "us"]
"""Who may have marked rows as being sent without sending them: another leader, or our own commit that got no answer."""

LANES = 24
"""How many rows are being sent at the same time."""

LOOKS = 0.5
"""Seconds between two looks at the outbox without being woken: another process may have put something there."""

TRIES = 3000
"""How often sending is tried, later tries a minute apart: for two days, which outlasts an outage."""

TRIES_AFTER_MISTAKES = 5
"""How many unexpected errors sending a row may raise before the row is given up."""

AGAIN_AFTER_CRASH = frozenset(OutboxKind) - {OutboxKind.LETTER, OutboxKind.NOTICE, OutboxKind.REMINDER}
"""Sent again when it is not known whether they arrived; a notification is better missed than sent twice."""

_NO_TEXT = "there is no text in the message"
_GONE = ("chat not found", "user not found", "user is deactivated", "peer_id_invalid", "chat_write_forbidden")


class Sender:
    """Takes rows from the front of the outbox and sends them while this process leads."""

    def __init__(
        self, tarebook: Tarebook, client: Client, database: DatabaseThread, monitor: Monitor, leads: Leads
    ) -> None:
        self.wake = asyncio.Event()
        self._leads = leads
        self._marked_by: _Marker | None = None
        self._sends = False
        self._taking = asyncio.Lock()
        self._tarebook = tarebook
        self._client = client
        self._database = database
        self._monitor = monitor
        self._limits = RateLimits()
        self._days = DayMessages(tarebook, client, database)
        self._in_hand: dict[asyncio.Task[_Outcome], int] = {}
        self._mistakes: Counter[int] = Counter()
        """Unexpected errors raised by sending a row since start-up, by the row's id."""
        self._outcomes: list[_Outcome] = []
        """Outcomes that are not recorded yet."""

    async def run(self, stop: asyncio.Event) -> None:
        """Sends until `stop`; then finishes what is being sent and leaves the rest in the outbox."""
        self._marked_by = "another"
        self._sends = True
        while not stop.is_set():
            self.wake.clear()
            try:
                await self.along(self._by_itself)
                self._monitor.database_works("sending")
            except StoreUnavailable as error:
                self._monitor.database_failed("sending", error.reason)
                logger.warning("%s What is to be sent waits", error)
                await asyncio.sleep(1)
            await _set_within(self.wake, LOOKS)
        # Rows that are being taken at this moment are still sent.
        async with self._taking:
            self._sends = False
        if self._in_hand:
            await asyncio.wait(self._in_hand, timeout=20)
        # Unrecorded outcomes would be sent again after the next start.
        with contextlib.suppress(StoreUnavailable):
            await self.along(self._by_itself)

    async def along(self, work: Callable[[SendStep], tuple[R, bool]]) -> R:
        """Does the work in the database's thread, and in its transaction records outcomes and takes rows for sending.

        The work is given the step that does so: `record` is for the beginning of its transaction, so that who replies
        to what has just been sent is understood, and the step itself for the end. Beside its result the work returns
        whether both were done.
        """
        async with self._taking:
            in_hand = frozenset(self._in_hand.values())
            limit = LANES - len(in_hand) if self._sends else 0
            step = SendStep(self._leads, tuple(self._outcomes), in_hand, limit, self._marked_by)
            try:
                result, done = await self._database(work, step)
            except StoreError:
                # A commit that got no answer may have succeeded.
                self._marked_by = self._marked_by or "us"
                raise
            if done:
                self._go_on_from(step)
            return result

    def _by_itself(self, step: SendStep) -> tuple[None, bool]:
        with self._tarebook.transaction() as conn:
            step.record(conn)
            step(conn)
        return None, True

    def _go_on_from(self, step: SendStep) -> None:
        """Counts the outcomes that are recorded, and sends the rows that were taken."""
        del self._outcomes[: len(step.outcomes)]
        for outcome in step.outcomes:
            outcome.count(self._monitor)
        if step.looked:
            self._marked_by = None
        for row in step.taken:
            task = asyncio.create_task(self._deliver(row))
            self._in_hand[task] = row.id
            task.add_done_callback(self._done)

    def _done(self, task: asyncio.Task[_Outcome]) -> None:
        del self._in_hand[task]
        if not task.cancelled():
            self._outcomes.append(task.result())
        self.wake.set()

    async def _deliver(self, row: OutboxRow) -> _Outcome:
        """Sends the row. Returns what has become of it, also when that went wrong."""
        try:
            remote_ref = await self._send(row)
        except TelegramError as error:
            return _Outcome(row, datetime.now(UTC), error=error)
        except Exception as error:
            self._mistakes[row.id] += 1
            logger.exception("outbox row %d can't be sent", row.id)
            return _Outcome(row, datetime.now(UTC), error=error, mistakes=self._mistakes[row.id])
        self._mistakes.pop(row.id, None)
        return _Outcome(row, datetime.now(UTC), remote_ref)

    def _in_transaction(self, work: Step) -> None:
        with self._tarebook.transaction() as conn:
            work(conn)

    async def _send(self, row: OutboxRow) -> str | None:
        """Sends the row. Returns how Telegram names the (last) message, if it is one."""
        await self._limits.acquire(row.place)
        if row.kind is OutboxKind.TAP:
            await self._client.answer_callback_query(
                row.about_ref or "", text=row.text or None, show_alert=bool(row.text) or None
            )
            return None
        if row.kind is OutboxKind.MARK:
            await self._mark(row)
            return None
        if row.kind is OutboxKind.DAY:
            await self._days.send(row)
            return None
        if row.kind is OutboxKind.REACT:
            return await self._react(row)
        if row.place.startswith("-"):
            await self._limits.acquire_in_group(row.place)
        if row.document is not None:
            return await self._document(row)
        if row.picture is not None:
            return await self._picture(row, row.picture)
        return await self._text(row)

    async def _picture(self, row: OutboxRow, figures: str) -> str:
        """The picture with the text under it; a text that is too long for that follows by itself."""
        try:
            png = await asyncio.to_thread(_drawn, figures)
        except Exception as error:
            # The words say the same as the picture, so they go out without it.
            logger.error("outbox row %d: its picture can't be drawn: %s", row.id, type(error).__name__)
            return await self._text(row)
        if units(row.text) > MAX_CAPTION:
            await self._client.send_picture(int(row.place), png, "", None)
            await self._database(self._in_transaction, lambda conn: outbox.picture_sent(conn, row.id))
            return await self._text(row)
        message_id = await self._client.send_picture(
            int(row.place), png, row.text, keyboard(row.choices, row.question_ref, row.actions)
        )
        return ref_of(row.place, message_id)

    async def _document(self, row: OutboxRow) -> str:
        """The file with the text under it; made in a thread, because it takes long."""
        file = await asyncio.to_thread(self._tarebook.file_of, row)
        message_id = await self._client.send_file(int(row.place), file.name, file.content, row.text)
        return ref_of(row.place, message_id)

    async def _text(self, row: OutboxRow) -> str:
        texts = parts(row.text)
        if not texts:
            raise BadRequest("the text is blank")
        ref = ""
        answers = None
        if row.about_ref is not None and row.parts_sent == 0:
            answers = int(row.about_ref.rpartition(":")[2])
        # When all parts were sent and only the record is missing, the last is sent again: it alone has the buttons.
        for number in range(min(row.parts_sent, len(texts) - 1), len(texts)):
            last = number == len(texts) - 1
            buttons = keyboard(row.choices, row.question_ref, row.actions) if last else None
            message_id = await self._client.send_text(int(row.place), texts[number], buttons, answers)
            ref = ref_of(row.place, message_id)
            answers = None
            if not last:
                await self._database(self._in_transaction, _part_sent(row.id, number + 1))
        return ref

    async def _react(self, row: OutboxRow) -> str | None:
        """A reaction to the message; its text where the server does not take it."""
        chat_id, message_id = id_of(row.about_ref or "")
        try:
            await self._client.react(chat_id, message_id)
        except BadRequest:
            return await self._text(row)
        return None

    async def _mark(self, row: OutboxRow) -> None:
        chat_id, message_id = id_of(row.about_ref or "")
        text = row.text if row.text and units(row.text) <= MAX_TEXT else None
        try:
            await self._client.replace(chat_id, message_id, text)
        except BadRequest as error:
            said = str(error).lower()
            if _NO_TEXT in said:
                await self._client.replace(chat_id, message_id, None)
            elif NOT_MODIFIED not in said:
                raise


@dataclass(frozen=True, slots=True)
class _Outcome:
    """What has become of a row that was to be sent, and when: the reference under which it went, or an error."""

    row: OutboxRow
    at: datetime
    remote_ref: str | None = None
    error: Exception | None = None
    mistakes: int = 0
    """How many unexpected errors sending it has raised, including this one; 0 for an error of the server."""

    def count(self, monitor: Monitor) -> None:
        """Counts it, once it is recorded."""
        if self.error is None:
            monitor.sent(self.row.kind)
        else:
            monitor.unsent(self.row.kind, type(self.error).__name__)


class SendStep:
    """Records outcomes and takes rows to be sent, in the caller's transaction.

    An outcome that could not be recorded is recorded the next time; until then nothing else is sent to that place.
    """

    def __init__(
        self,
        leads: Leads,
        outcomes: Sequence[_Outcome],
        in_hand: frozenset[int],
        limit: int,
        marked_by: _Marker | None,
    ) -> None:
        self._leads = leads
        self.outcomes = outcomes
        self._in_hand = in_hand
        self._limit = limit
        self._marked_by = marked_by
        self.taken: list[OutboxRow] = []
        self.looked = False
        """Whether it got as far as the outbox: then every row marked as being sent is really being sent."""

    def record(self, conn: Connection) -> None:
        """Records the outcomes; may be called a second time."""
        _note(conn, self.outcomes)

    def __call__(self, conn: Connection) -> None:
        """Takes rows; may be called a second time when the first transaction was rolled back."""
        self.taken, self.looked = [], False
        if self._limit <= 0 or not self._leads(conn):
            return
        if self._marked_by is not None:
            _clear_up(conn, self._in_hand, self._marked_by)
        self.looked = True
        front = outbox.front(conn, CHANNEL, self._limit, datetime.now(UTC))
        ours = outbox.sending(conn, [row.id for row in front])
        self.taken = [row for row in front if row.id in ours]


def _clear_up(conn: Connection, in_hand: frozenset[int], marked_by: _Marker) -> None:
    """Puts back, or gives up, rows that are marked as being sent although nobody is sending them."""
    left = [row for row in outbox.interrupted(conn, CHANNEL) if row.id not in in_hand]
    for row in left:
        if marked_by == "us" or row.kind in AGAIN_AFTER_CRASH:
            outbox.failed(conn, row.id, row.tries, "interrupted", datetime.now(UTC))
        else:
            outbox.dead(conn, row.id, "interrupted")
    if left:
        logger.info("%d rows were marked as being sent and nobody was sending them", len(left))


def _note(conn: Connection, outcomes: Sequence[_Outcome]) -> None:
    outbox.sent(conn, [(each.row, each.at, each.remote_ref) for each in outcomes if each.error is None])
    for each in outcomes:
        if each.error is not None:
            _note_failure(conn, each.row, each.error, each.at, each.mistakes)


def _note_failure(conn: Connection, row: OutboxRow, error: Exception, now: datetime, mistakes: int) -> None:
    """Records what becomes of a row that could not be sent: tried later, sent to another chat, or given up."""
    what = f"{type(error).__name__}: {error}"[:200]
    tries = row.tries + 1  # the row was read before this try was counted
    if isinstance(error, RetryAfter):
        outbox.failed(conn, row.id, tries, what, now + retry_after(error))
    elif isinstance(error, ChatMigrated):
        outbox.failed(conn, row.id, tries, what, now)
        moved(conn, row.place, str(error.new_chat_id))
    elif row.kind is not OutboxKind.TAP and _is_gone(error):
        logger.info("outbox row %d: nothing can be delivered there any more", row.id)
        outbox.dead(conn, row.id, what)
        outbox.give_up_on(conn, CHANNEL, row.place, what)
        people.set_blocked(conn, CHANNEL, row.place, now)
        kitchens.remove_room(conn, CHANNEL, row.place)
    elif isinstance(error, (BadRequest, Forbidden)) or tries >= TRIES:
        _give_up(conn, row, what)
    elif isinstance(error, (NetworkError, InvalidToken, telegram.error.Conflict)):
        outbox.failed(conn, row.id, tries, what, now + _later(row.tries))
    elif mistakes >= TRIES_AFTER_MISTAKES:
        # Without the error's text, which may contain what a person wrote.
        _give_up(conn, row, type(error).__name__)
    else:
        outbox.failed(conn, row.id, tries, type(error).__name__, now + _later(row.tries))


def _give_up(conn: Connection, row: OutboxRow, why: str) -> None:
    # An expired press can't be answered, which is usual after an outage.
    level = logging.INFO if row.kind in (OutboxKind.TAP, OutboxKind.MARK) else logging.ERROR
    logger.log(level, "outbox row %d (%s) is given up after %d tries: %s", row.id, row.kind, row.tries + 1, why)
    outbox.dead(conn, row.id, why)


def _drawn(figures: str) -> bytes:
    return picture.png(series.decode(figures))


def _is_gone(error: Exception) -> bool:
    said = str(error).lower()
    return isinstance(error, Forbidden) or (isinstance(error, BadRequest) and any(gone in said for gone in _GONE))


def _later(tries: int) -> timedelta:
    # Jitter, so that not everything is sent at once to a server that has just come back.
    return timedelta(seconds=pause(tries + 1) * random.uniform(0.75, 1.25))  # noqa: S311


def _part_sent(row_id: int, number: int) -> Step:
    return lambda conn: outbox.part_sent(conn, row_id, number)


async def _set_within(event: asyncio.Event, seconds: float) -> None:
    try:
        async with asyncio.timeout(seconds):
            await event.wait()
    except TimeoutError:
        return
