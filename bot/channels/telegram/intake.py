"""From an update that has arrived to a message that is to be handled: stored first, read afterwards."""

from __future__ import annotations

import hashlib
import json
import logging
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from bot.app import Step, Tarebook, no_step
from bot.channels.telegram import CHANNEL, words
from bot.channels.telegram.reading import Me, Message, Moved, Removed, Standing, Tap, read
from bot.conversation.kitchen import rooms
from bot.handling import welcome
from bot.settings import Access
from bot.store import arrivals, inbox, invites, kitchens, outbox, people, questions
from bot.store.arrivals import Arrival
from bot.store.engine import Connection
from bot.store.errors import StoreUnavailable
from bot.store.inbox import Delivery

logger = logging.getLogger(__name__)

_BUTTON = re.compile(r"([\w-]{22})\.(\d)")
_NAME_LENGTH = 64


@dataclass(frozen=True, slots=True)
class Door:
    """Which bot this is, and who may come in."""

    me: Me
    access: Access
    listed: frozenset[int]


def keep(tarebook: Tarebook, bot_id: str, bodies: Sequence[str], now: datetime) -> int:
    """Stores updates as they came; once this returns they may be confirmed. Returns how many were new."""
    with tarebook.transaction() as conn:
        return arrivals.store(conn, CHANNEL, [(_key(bot_id, body), body) for body in bodies], now)


class Reading:
    """Reads what was kept, in the order it came, in somebody's transaction."""

    def __init__(self, door: Door, at_most: int) -> None:
        self._door = door
        self._at_most = at_most
        self.read = 0
        """How many were read."""
        self.at: Arrival | None = None
        """What is being read."""

    def __call__(self, conn: Connection) -> None:
        """Raises whatever an update that makes no sense leads to; then `at` is that one."""
        self.at = None
        waiting = arrivals.next_waiting(conn, CHANNEL, self._at_most)
        arrivals.read(conn, waiting)
        for self.at in waiting:
            _take_in(conn, self.at, self._door)
        self.read, self.at = len(waiting), None


@dataclass(frozen=True, slots=True)
class Round:
    """How many updates were read and can't be, how many messages were handled, and how often handling one broke.

    `followed` says whether what was to be done after it was done.
    """

    read: int
    unreadable: int
    followed: bool
    handled: int = 0
    broken: int = 0


def take_turn(tarebook: Tarebook, door: Door, at_once: int, after: Step = no_step) -> Round:
    """Reads some of what was kept, handles as many people's oldest message, and does what comes after it.

    All with one commit where that can be. No more is read than can be handled: what waits would be looked through again
    in every turn.
    """
    reading = Reading(door, at_once)
    broken = tarebook.broken
    try:
        turns = tarebook.handle_waiting(CHANNEL, at_once, reading, after)
    except StoreUnavailable:
        raise
    except Exception as error:
        if reading.at is None:
            raise
        # Nothing of the others was kept either; the next time they are read without it.
        return Round(1, _set_aside(tarebook, reading.at, type(error).__name__), followed=False)
    handled = sum(turn is not None for turn in turns)
    return Round(reading.read, 0, followed=True, handled=handled, broken=tarebook.broken - broken)


def _set_aside(tarebook: Tarebook, arrival: Arrival, error: str) -> bool:
    """Sees to it that an update that makes no sense does not hold up those behind it."""
    # Its text stays out of the log.
    logger.error("update %d can't be read: %s", arrival.id, error)
    with tarebook.transaction() as conn:
        if not arrivals.unreadable(conn, arrival.id, error):
            return False
        _tell_sender(conn, arrival)
        return True


def _tell_sender(conn: Connection, arrival: Arrival) -> None:
    """Tells whoever sent a message that can't be read, as far as that much of it can be."""
    try:
        message = json.loads(arrival.body)["message"]
        chat_id, chat_kind = int(message["chat"]["id"]), message["chat"]["type"]
    except (ValueError, TypeError, KeyError, RecursionError):
        return
    person = people.find(conn, CHANNEL, str(chat_id))
    if chat_kind == "private" and person is not None:
        outbox.put(conn, CHANNEL, str(chat_id), words.UNREADABLE, person_id=person.id)


def _key(bot_id: str, body: str) -> str:
    try:
        return f"{bot_id}:{int(json.loads(body)['update_id'])}"
    except (ValueError, TypeError, KeyError, RecursionError):
        return f"{bot_id}:{_digest(body)}"


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def _take_in(conn: Connection, arrival: Arrival, door: Door) -> None:
    update = read(json.loads(arrival.body), door.me)
    match update:
        case Message():
            _message(conn, update, door, arrival.came_at)
        case Tap():
            _tap(conn, update, door, arrival.came_at)
        case Standing():
            people.set_blocked(conn, CHANNEL, str(update.user_id), arrival.came_at if update.blocked else None)
            if update.blocked:
                outbox.give_up_on(conn, CHANNEL, str(update.user_id), "blocked")
        case Moved():
            moved(conn, update.place, update.new_place)
        case Removed():
            removed(conn, update.place)


def moved(conn: Connection, place: str, new_place: str) -> None:
    """Notes that a group is another chat now."""
    outbox.redirect(conn, CHANNEL, place, new_place)
    kitchens.move_room(conn, CHANNEL, place, new_place)


def removed(conn: Connection, place: str) -> None:
    """Notes that nothing can be said in a group any more."""
    outbox.give_up_on(conn, CHANNEL, place, "removed")
    kitchens.remove_room(conn, CHANNEL, place)


def _message(conn: Connection, message: Message, door: Door, now: datetime) -> None:
    if not message.addressed:
        return
    person_key = str(message.user_id)
    reachable = people.reachable(conn, CHANNEL, person_key)
    refusal = _refusal(conn, message, door, now, known=reachable is not None)
    if refusal is not None:
        if message.shared:
            refusal = rooms.NOT_INSIDE if kitchens.kitchen_of_room(conn, CHANNEL, message.place) is not None else ""
        if refusal and message.edited_at is None:
            outbox.put(conn, CHANNEL, message.place, refusal, about_ref=message.ref)
        return
    if reachable is False and not message.shared:
        people.set_blocked(conn, CHANNEL, person_key, None)
    if message.text is None:
        _without_words(conn, message, door)
        return
    body: dict[str, Any] = {"text": message.text, "welcomes": not message.shared, **_where(message)}
    kind, update_key = "say", f"{door.me.id}:m:{message.ref}"
    if message.edited_at is not None:
        before = inbox.latest_version(conn, CHANNEL, person_key, message.ref)
        # Telegram also reports an edit when something else about the message has changed.
        if before is not None and before.body["text"] == message.text:
            return
        body["edits"] = message.ref
        # The date counts in seconds, and two edits may fall into one.
        which = f"{message.edited_at.timestamp():.0f}:{_digest(message.text)[:16]}"
        kind, update_key = "edit", f"{door.me.id}:e:{message.ref}:{which}"
    elif message.code is not None:
        body["invite"] = _invitation(conn, message.code, person_key, now)
    inbox.receive(conn, Delivery(CHANNEL, update_key, person_key, kind, body, message.ref, message.at))
    if message.album is not None:
        _album_is_answered(conn, message, door)


def _invitation(conn: Connection, code: str, person_key: str, now: datetime) -> int:
    """The id of the invitation, which is the sender's from now on; 0 for a code that is no good.

    The code itself goes no further.
    """
    person = people.find(conn, CHANNEL, person_key)
    found = None if person is None else invites.take(conn, code, now, person.id)
    return 0 if found is None else found.id


def _where(message: Message) -> dict[str, Any]:
    body: dict[str, Any] = {}
    if message.shared:
        body |= {"shared": True, "place": message.place, "answers": message.ref}
    if message.refers is not None:
        body["refers"] = message.refers
    return body


def _without_words(conn: Connection, message: Message, door: Door) -> None:
    body = {"answer": words.no_words(message.kind), **_where(message)}
    update_key = f"{door.me.id}:m:{message.ref}" if message.album is None else _album_key(message, door)
    inbox.receive(conn, Delivery(CHANNEL, update_key, str(message.user_id), "other", body, None, message.at))


def _album_is_answered(conn: Connection, message: Message, door: Door) -> None:
    """Keeps the other pictures of an album from being answered one by one: its caption says what it is about."""
    row = inbox.receive(
        conn,
        Delivery(CHANNEL, _album_key(message, door), str(message.user_id), "other", {"answer": ""}, None, message.at),
    )
    if row is not None:
        inbox.done(conn, row)


def _album_key(message: Message, door: Door) -> str:
    return f"{door.me.id}:a:{message.place}:{message.album}"


def _refusal(conn: Connection, message: Message, door: Door, now: datetime, known: bool) -> str | None:
    """Why the sender may not speak here, or None when they may; who comes in for the first time becomes a person."""
    key = str(message.user_id)
    if door.access == "list" and message.user_id not in door.listed:
        return words.NOT_LISTED
    if known:
        return None
    if door.access == "invite":
        if message.code is None:
            return words.BY_INVITATION
        if not invites.lets_in(conn, message.code, now):
            return words.BAD_INVITATION
    welcome(conn, CHANNEL, key, message.user_name[:_NAME_LENGTH] or key, now)
    if message.shared:
        # Telegram lets nobody be written to who has not opened a chat of their own.
        people.set_blocked(conn, CHANNEL, key, now)
    return None


def _tap(conn: Connection, tap: Tap, door: Door, now: datetime) -> None:
    alert = _press(conn, tap, door, now)
    # A lane of its own: the client shows a progress bar until this is sent, so it does not queue behind texts.
    outbox.put(conn, CHANNEL, f"tap:{tap.user_id}", alert, about_ref=tap.id, kind="tap")


def _press(conn: Connection, tap: Tap, door: Door, now: datetime) -> str:
    """Keeps the press. Returns what the presser is told at once, empty when it is theirs to press."""
    found = _BUTTON.fullmatch(tap.data)
    owner = None if found is None else questions.owner(conn, found[1])
    if found is None or owner is None:
        return words.NO_LONGER
    key = str(tap.user_id)
    person = people.find(conn, CHANNEL, key)
    if person is None or person.id != owner:
        return words.NOT_YOURS
    if door.access == "list" and tap.user_id not in door.listed:
        return words.NOT_LISTED
    body: dict[str, Any] = {"ref": found[1], "choice": int(found[2])}
    if tap.message is not None:
        body |= {"message": tap.message, "shown": tap.shown, "place": tap.place, "shared": tap.shared}
    inbox.receive(conn, Delivery(CHANNEL, f"{door.me.id}:t:{tap.id}", key, "press", body, None, now.astimezone(UTC)))
    return ""
