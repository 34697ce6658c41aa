"""What one update says. Takes the raw update apart and decides nothing."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

import telegram
from telegram.constants import ChatMemberStatus, ChatType

_COMMAND = re.compile(r"/(\w{1,32})@(\w{1,64})\b")
_START = re.compile(r"/start(?:@\w+)?[ =]+([\w-]{1,64})\s*")


@dataclass(frozen=True, slots=True)
class Me:
    """The bot's own user id and user name."""

    id: int
    username: str


@dataclass(frozen=True, slots=True)
class Message:
    """Something that somebody sent or edited. `text` is None when it has no words; `kind` is then what it holds.

    `ref` names it within Telegram, `refers` the message that it replies to. `addressed` says whether it is meant for
    the bot: always in a private chat, when named or replied to in a group. `code` is what a deep link brought.
    """

    user_id: int
    user_name: str
    place: str
    shared: bool
    ref: str
    text: str | None
    kind: str
    at: datetime
    edited_at: datetime | None
    refers: str | None
    addressed: bool
    album: str | None
    code: str | None


@dataclass(frozen=True, slots=True)
class Tap:
    """A button that somebody pressed. `shown` is the text over the buttons, where Telegram still knows it."""

    id: str
    user_id: int
    data: str
    place: str | None
    shared: bool
    message: str | None
    shown: str


@dataclass(frozen=True, slots=True)
class Standing:
    """Somebody blocked the bot, or let it in again."""

    user_id: int
    blocked: bool


@dataclass(frozen=True, slots=True)
class Moved:
    """A group that became another chat."""

    place: str
    new_place: str


@dataclass(frozen=True, slots=True)
class Removed:
    """The bot is in that group no more."""

    place: str


Update = Message | Tap | Standing | Moved | Removed


def read(raw: Mapping[str, Any], me: Me) -> Update | None:
    """What the update says, or None when it is nothing that the bot has to do with.

    Raises whatever the library does when it can't make sense of the update.
    """
    update = telegram.Update.de_json(dict(raw), None)
    if update.message is not None:
        return _moved(update.message) or _message(update.message, me, None)
    if update.edited_message is not None:
        message = update.edited_message
        return _message(message, me, message.edit_date or message.date)
    if update.callback_query is not None:
        return _tap(update.callback_query)
    if update.my_chat_member is not None:
        return _standing(update.my_chat_member)
    return None


def ref_of(chat_id: int | str, message_id: int) -> str:
    """How a message is named in the records: a message id alone is unique only inside its chat."""
    return f"{chat_id}:{message_id}"


def _message(message: telegram.Message, me: Me, edited_at: datetime | None) -> Message | None:
    user = message.from_user
    if user is None or user.is_bot:
        return None
    text = message.text if message.text is not None else message.caption
    kind = "text" if text is not None else _kind(message)
    if kind is None or (text is None and edited_at is not None):
        return None
    shared = message.chat.type != ChatType.PRIVATE
    replied = message.reply_to_message
    to_me = replied is not None and replied.from_user is not None and replied.from_user.id == me.id
    found = None if text is None else _START.fullmatch(text)
    words, named = ("", False) if text is None else _without_my_name(text, me)
    return Message(
        user_id=user.id,
        user_name=user.full_name,
        place=str(message.chat.id),
        shared=shared,
        ref=ref_of(message.chat.id, message.message_id),
        text=None if text is None else "/start" if found else words,
        kind=kind,
        at=message.date.astimezone(UTC),
        edited_at=edited_at,
        refers=None if replied is None else ref_of(message.chat.id, replied.message_id),
        addressed=not shared or to_me or named,
        album=message.media_group_id,
        code=found[1] if found and not shared else None,
    )


def _kind(message: telegram.Message) -> str | None:
    """What the message holds instead of words; None for a note of Telegram's own."""
    if message.effective_attachment is None:
        return None
    names = (name for name in message.__slots__ if not name.startswith("_"))
    held = (name for name in names if getattr(message, name) is message.effective_attachment)
    return next(held, "something")


def _without_my_name(text: str, me: Me) -> tuple[str, bool]:
    """(the text less the bot's name, whether it was there)."""
    command = _COMMAND.match(text)
    if command is not None:
        named = command[2].casefold() == me.username.casefold()
        return (f"/{command[1]}{text[command.end() :]}", True) if named else (text, False)
    name = re.compile(rf"\s*@{re.escape(me.username)}\b[,:]?\s*", re.IGNORECASE)
    words, times = name.subn(" ", text)
    return (words.strip(), True) if times else (text, False)


def _moved(message: telegram.Message) -> Moved | None:
    if message.migrate_to_chat_id is None:
        return None
    return Moved(str(message.chat.id), str(message.migrate_to_chat_id))


def _tap(query: telegram.CallbackQuery) -> Tap:
    message = query.message
    return Tap(
        id=query.id,
        user_id=query.from_user.id,
        data=query.data or "",
        place=None if message is None else str(message.chat.id),
        shared=message is not None and message.chat.type != ChatType.PRIVATE,
        message=None if message is None else ref_of(message.chat.id, message.message_id),
        shown=(message.text or "") if isinstance(message, telegram.Message) else "",
    )


def _standing(change: telegram.ChatMemberUpdated) -> Standing | Removed | None:
    if change.chat.type != ChatType.PRIVATE:
        gone = change.new_chat_member.status in (ChatMemberStatus.LEFT, ChatMemberStatus.BANNED)
        return Removed(str(change.chat.id)) if gone else None
    return Standing(change.from_user.id, change.new_chat_member.status == ChatMemberStatus.BANNED)
