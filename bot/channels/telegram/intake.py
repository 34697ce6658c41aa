"""From an update that was delivered to a row of the inbox: stored first, read afterwards."""

from __future__ import annotations

import hashlib
import json
import logging
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import TypedDict

from bot import access
from bot.access import Policy, Speaker
from bot.app import Handled, Step, Taken, Tarebook, no_step
from bot.channels.telegram import CHANNEL
from bot.channels.telegram.reading import BlockChange, Me, Message, Moved, Removed, Tap, read
from bot.channels.telegram.rendering import does_of
from bot.kinds import OutboxKind
from bot.store import kitchens, people
from bot.store.delivery import inbox, outbox, updates
from bot.store.delivery.inbox import Act, Content, Edit, NewRow, NoWords, Press, Say
from bot.store.delivery.updates import StoredUpdate
from bot.store.engine import Connection
from bot.store.errors import StoreUnavailable

logger = logging.getLogger(__name__)

UNREADABLE = "Your last message reached me in a form that I can't read. It is kept; please type it again."

READ_AT_MOST = 120
"""How many updates one round reads. More than a request for updates brings (100), so that no queue of them builds up in
which somebody waits behind a flood."""

PEOPLE_AT_MOST = 96
"""Of how many people the oldest row is looked at, to choose those who are handled."""

BUDGET_S = 0.02
"""Seconds after which a round begins no further row, so that the next one can be fair to those who came meanwhile."""

_BUTTON = re.compile(r"([\w-]{22})\.(\d)")
_KINDS = {
    "photo": "photos",
    "voice": "voice messages",
    "video_note": "video messages",
    "video": "videos",
    "audio": "audio files",
    "animation": "GIFs",
    "document": "files",
    "sticker": "stickers",
    "location": "locations",
    "venue": "locations",
    "contact": "contacts",
    "poll": "polls",
}


@dataclass(frozen=True, slots=True)
class Reader:
    """Reads updates for this bot, from those whom the policy lets in."""

    me: Me
    policy: Policy


def keep(tarebook: Tarebook, bot_id: str, bodies: Sequence[str], now: datetime) -> int:
    """Stores updates as they came; once this returns they may be confirmed. Returns how many were new."""
    with tarebook.transaction() as conn:
        return updates.store(conn, CHANNEL, [(_key(bot_id, body), body) for body in bodies], now)


class ReadAndTake:
    """Reads stored updates in the order of arrival, and takes the oldest row of some people, fairly.

    Whoever was handled least recently comes first, so that nobody waits for a flood of another's messages.
    """

    def __init__(self, reader: Reader, at_most: int) -> None:
        self._reader = reader
        self._at_most = at_most
        self._rounds = 0
        self._handled_in: dict[str, int] = {}
        """The round in which a person whose messages wait was last handled, by their key."""
        self.read = 0
        """How many updates were read in this round."""
        self.at: StoredUpdate | None = None
        """The update that is being read."""

    def __call__(self, conn: Connection) -> Taken:
        """Raises whatever reading an update leads to that makes no sense; then `at` is that one."""
        self.at = None
        waiting = updates.next_waiting(conn, CHANNEL, READ_AT_MOST)
        updates.read(conn, waiting)
        for self.at in waiting:
            _take_in(conn, self.at, self._reader)
        self.read, self.at = len(waiting), None
        rows = inbox.waiting(conn, CHANNEL, PEOPLE_AT_MOST)
        self._handled_in = {row.person_key: self._handled_in.get(row.person_key, 0) for row in rows}
        return Taken(sorted(rows, key=lambda row: self._handled_in[row.person_key])[: self._at_most])

    def note(self, handled: Sequence[Handled]) -> None:
        """Ends a round in which these were handled."""
        self._rounds += 1
        for each in handled:
            self._handled_in[each.row.person_key] = self._rounds


@dataclass(frozen=True, slots=True)
class Round:
    """How many updates were read and are unreadable, how many rows were handled, and how often handling one broke.

    `followed` says whether the step that was to be done after it was done.
    """

    read: int
    unreadable: int
    followed: bool
    handled: int = 0
    broken: int = 0


def take_turn(tarebook: Tarebook, take: ReadAndTake, before: Step = no_step, after: Step = no_step) -> Round:
    """Does the step `before`, reads some stored updates, handles the oldest row of some people, does the step `after`.

    In one transaction where possible.
    """

    def all_taken(conn: Connection) -> Taken:
        before(conn)
        return take(conn)

    broken = tarebook.broken
    try:
        turns = tarebook.handle(all_taken, after, budget_s=BUDGET_S)
    except StoreUnavailable:
        raise
    except Exception as error:
        if take.at is None:
            raise
        # Nothing of the others was kept either; the next time they are read without it.
        update, take.at = take.at, None
        return Round(1, _set_aside(tarebook, update, type(error).__name__), followed=False)
    take.note(turns)
    handled = sum(each.turn is not None for each in turns)
    return Round(take.read, 0, followed=True, handled=handled, broken=tarebook.broken - broken)


def _set_aside(tarebook: Tarebook, update: StoredUpdate, error: str) -> bool:
    """Sets aside an update that makes no sense, so that it does not hold up those behind it."""
    # Its text stays out of the log.
    logger.error("update %d can't be read: %s", update.id, error)
    with tarebook.transaction() as conn:
        if not updates.unreadable(conn, update.id, error):
            return False
        _tell_sender(conn, update)
        return True


def _tell_sender(conn: Connection, update: StoredUpdate) -> None:
    """Tells whoever sent an unreadable message, as far as the sender can be read."""
    try:
        message = json.loads(update.body)["message"]
        chat_id, chat_kind = int(message["chat"]["id"]), message["chat"]["type"]
    except (ValueError, OverflowError, TypeError, KeyError, RecursionError):
        return
    person = people.find(conn, CHANNEL, str(chat_id))
    if chat_kind == "private" and person is not None:
        outbox.put(conn, CHANNEL, str(chat_id), UNREADABLE, person_id=person.id)


def _key(bot_id: str, body: str) -> str:
    try:
        return f"{bot_id}:{int(json.loads(body)['update_id'])}"
    except (ValueError, OverflowError, TypeError, KeyError, RecursionError):
        return f"{bot_id}:{_digest(body)}"


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def _take_in(conn: Connection, stored: StoredUpdate, reader: Reader) -> None:
    update = read(json.loads(stored.body), reader.me)
    match update:
        case Message():
            _message(conn, update, reader, stored.came_at)
        case Tap():
            _tap(conn, update, reader, stored.came_at)
        case BlockChange():
            people.set_blocked(conn, CHANNEL, str(update.user_id), stored.came_at if update.blocked else None)
            if update.blocked:
                outbox.give_up_on(conn, CHANNEL, str(update.user_id), "blocked")
        case Moved():
            moved(conn, update.place, update.new_place)
        case Removed():
            removed(conn, update.place)


def moved(conn: Connection, place: str, new_place: str) -> None:
    """Records that a group has become another chat."""
    outbox.redirect(conn, CHANNEL, place, new_place)
    kitchens.move_room(conn, CHANNEL, place, new_place)


def removed(conn: Connection, place: str) -> None:
    """Records that nothing can be sent to a group any more."""
    outbox.give_up_on(conn, CHANNEL, place, "removed")
    kitchens.remove_room(conn, CHANNEL, place)


def _message(conn: Connection, message: Message, reader: Reader, now: datetime) -> None:
    if not message.addressed:
        return
    key = str(message.user_id)
    group = message.place if message.shared else None
    speaker = Speaker(CHANNEL, key, message.user_name, message.code, group, message.language)
    refusal = access.refusal(conn, reader.policy, speaker, now)
    if refusal is not None:
        if refusal and message.edited_at is None:
            outbox.put(conn, CHANNEL, message.place, refusal, about_ref=message.ref)
        return
    if message.text is None:
        update_key = f"{reader.me.id}:m:{message.ref}" if message.album is None else _album_key(message, reader)
        content = NoWords(answer=_no_words(message.kind), **_where(message))
        inbox.receive(conn, NewRow(CHANNEL, update_key, key, content, None, message.at))
        return
    if message.edited_at is not None:
        _edit(conn, message, message.text, reader)
    else:
        invite = access.invitation(conn, speaker, now)
        said = Say(text=message.text, welcomes=not message.shared, invite=invite, **_where(message))
        _receive(conn, message, f"{reader.me.id}:m:{message.ref}", said)
    if message.album is not None:
        _album_is_answered(conn, message, reader)


def _edit(conn: Connection, message: Message, text: str, reader: Reader) -> None:
    before = inbox.latest_version(conn, CHANNEL, str(message.user_id), message.ref)
    # Telegram also reports an edit when something else about the message has changed.
    if before is not None and isinstance(before.content, (Say, Edit)) and before.content.text == text:
        return
    assert message.edited_at is not None
    # The date counts in seconds, and two edits may fall into one.
    which = f"{message.edited_at.timestamp():.0f}:{_digest(text)[:16]}"
    edit = Edit(text=text, edits=message.ref, **_where(message))
    _receive(conn, message, f"{reader.me.id}:e:{message.ref}:{which}", edit)


def _receive(conn: Connection, message: Message, update_key: str, content: Content) -> None:
    inbox.receive(conn, NewRow(CHANNEL, update_key, str(message.user_id), content, message.ref, message.at))


class _Where(TypedDict, total=False):
    shared: bool
    place: str
    answers: str
    refers: str | None


def _where(message: Message) -> _Where:
    found: _Where = {"refers": message.refers}
    if message.shared:
        found |= {"shared": True, "place": message.place, "answers": message.ref}
    return found


def _no_words(kind: str) -> str:
    """The answer to a message without words, by the kind of thing it holds."""
    what = _KINDS.get(kind, "messages of that kind")
    return f"I can't read {what}. Please type what the scale says, for example: 180 g cooked rice"


def _album_is_answered(conn: Connection, message: Message, reader: Reader) -> None:
    """Keeps the other pictures of an album from being answered one by one: its caption says what it is about."""
    new = NewRow(CHANNEL, _album_key(message, reader), str(message.user_id), NoWords(answer=""), None, message.at)
    row = inbox.receive(conn, new)
    if row is not None:
        inbox.done(conn, row)


def _album_key(message: Message, reader: Reader) -> str:
    return f"{reader.me.id}:a:{message.place}:{message.album}"


def _press(conn: Connection, tap: Tap, reader: Reader) -> tuple[Press | Act, str | None]:
    """What was pressed, and why it may not be pressed; None when it may."""
    key = str(tap.user_id)
    does = does_of(tap.data)
    if does is not None:
        # Others could press it in a group, where there is no such button.
        refusal = access.NO_LONGER if tap.shared else access.action_refusal(conn, reader.policy, CHANNEL, key)
        return Act(does=does, message=tap.message, tap=tap.id, place=tap.place), refusal
    found = _BUTTON.fullmatch(tap.data)
    ref, choice = (found[1], int(found[2])) if found is not None else ("", 0)
    refusal = access.press_refusal(conn, reader.policy, CHANNEL, key, ref or None)
    press = Press(
        ref=ref, choice=choice, message=tap.message, shown=tap.shown, tap=tap.id, place=tap.place, shared=tap.shared
    )
    return press, refusal


def _tap(conn: Connection, tap: Tap, reader: Reader, now: datetime) -> None:
    """Stores the press, which is answered when it is handled; one that is refused is answered at once."""
    key = str(tap.user_id)
    press, refusal = _press(conn, tap, reader)
    if refusal is not None:
        outbox.put(conn, CHANNEL, f"tap:{key}", refusal, about_ref=tap.id, kind=OutboxKind.TAP)
        return
    inbox.receive(conn, NewRow(CHANNEL, f"{reader.me.id}:t:{tap.id}", key, press, None, now.astimezone(UTC)))
