"""Keeps the message in which a person's day stands: edits it, sends it anew where it is gone, and pins it."""

from __future__ import annotations

import logging

from telegram.error import BadRequest

from bot.app import Tarebook
from bot.channels.telegram.client import Client, DatabaseThread
from bot.channels.telegram.reading import id_of, ref_of
from bot.channels.telegram.rendering import MAX_TEXT, parts
from bot.store.delivery import day_messages
from bot.store.delivery.day_messages import LANE, DayMessage
from bot.store.delivery.outbox import OutboxRow

logger = logging.getLogger(__name__)

NOT_MODIFIED = "message is not modified"


class DayMessages:
    """Carries out what `bot.store.delivery.day_messages` has on record.

    Each step is recorded as soon as the server has confirmed it, so that a try after a failure or a restart goes on
    from there. Only a message of which the confirmation was lost is sent a second time.
    """

    def __init__(self, tarebook: Tarebook, client: Client, database: DatabaseThread) -> None:
        self._tarebook = tarebook
        self._client = client
        self._database = database

    async def send(self, row: OutboxRow) -> None:
        """Brings the person's message up to date. Raises TelegramError as the client does."""
        wanted = None if row.person_id is None else await self._database(self._wanted, row.person_id)
        if wanted is None:
            return
        if not wanted.text:
            await self._pin(wanted, None)
            await self._database(self._given_up, wanted.person_id)
            return
        (text, *_) = parts(wanted.text, MAX_TEXT)
        ref = wanted.message_ref
        if ref is None or not await self._edited(ref, text):
            chat_id = int(row.place.removeprefix(LANE))
            ref = ref_of(chat_id, await self._client.send_text(chat_id, text, None, None, silent=True))
            await self._database(self._sent, wanted, ref)
        await self._pin(wanted, ref if wanted.pin else None)

    async def _edited(self, ref: str, text: str) -> bool:
        """Whether the message says that now; False when it is gone or too old to be edited."""
        try:
            await self._client.rewrite(*id_of(ref), text)
        except BadRequest as error:
            return NOT_MODIFIED in str(error).lower()
        return True

    async def _pin(self, wanted: DayMessage, ref: str | None) -> None:
        """Pins that message instead of the one that is pinned."""
        if wanted.pinned_ref == ref:
            return
        if wanted.pinned_ref is not None:
            try:
                await self._client.unpin(*id_of(wanted.pinned_ref))
            except BadRequest as error:
                logger.info("a message can't be unpinned: %s", error)
        if ref is not None:
            try:
                await self._client.pin(*id_of(ref))
            except BadRequest as error:
                logger.info("a message can't be pinned: %s", error)
        await self._database(self._pinned, wanted.person_id, ref)

    def _wanted(self, person_id: int) -> DayMessage | None:
        with self._tarebook.transaction() as conn:
            return day_messages.of(conn, person_id)

    def _sent(self, wanted: DayMessage, ref: str) -> None:
        with self._tarebook.transaction() as conn:
            day_messages.sent(conn, wanted.person_id, wanted.day, ref)

    def _pinned(self, person_id: int, ref: str | None) -> None:
        with self._tarebook.transaction() as conn:
            day_messages.pinned(conn, person_id, ref)

    def _given_up(self, person_id: int) -> None:
        with self._tarebook.transaction() as conn:
            day_messages.given_up(conn, person_id)
