"""Parses one update, and decides nothing."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

import msgspec
from telegram.constants import ChatMemberStatus, ChatType, MessageAttachmentType

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
    the bot: always in a private chat, when named or replied to in a group. `code` is what a deep link brought,
    `language` the tag of the language of the sender's client.
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
    language: str = ""


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
class BlockChange:
    """Somebody blocked or unblocked the bot."""

    user_id: int
    blocked: bool


@dataclass(frozen=True, slots=True)
class Moved:
    """A group that has become another chat."""

    place: str
    new_place: str


@dataclass(frozen=True, slots=True)
class Removed:
    """The bot is no longer in that group."""

    place: str


Update = Message | Tap | BlockChange | Moved | Removed


class _User(msgspec.Struct):
    id: int
    is_bot: bool
    first_name: str
    last_name: str = ""
    language_code: str = ""


class _Chat(msgspec.Struct):
    id: int
    type: str


class _Replied(msgspec.Struct):
    message_id: int
    sender: _User | None = msgspec.field(name="from", default=None)


class _Message(msgspec.Struct):
    message_id: int
    chat: _Chat
    date: int
    sender: _User | None = msgspec.field(name="from", default=None)
    edit_date: int | None = None
    text: str | None = None
    caption: str | None = None
    reply_to_message: _Replied | None = None
    media_group_id: str | None = None
    migrate_to_chat_id: int | None = None


class _Pressed(msgspec.Struct):
    """The message under which a button was pressed; of one that is too old only its place is shown."""

    message_id: int
    chat: _Chat
    text: str = ""


class _Query(msgspec.Struct):
    id: str
    sender: _User = msgspec.field(name="from")
    data: str = ""
    message: _Pressed | None = None


class _Member(msgspec.Struct):
    status: str


class _Change(msgspec.Struct):
    chat: _Chat
    sender: _User = msgspec.field(name="from")
    new_chat_member: _Member


class _Raw(msgspec.Struct):
    """core.telegram.org/bots/api#update, as far as it is asked for here.

    Building the library's own classes would take ten times as long as reading the message.
    """

    message: _Message | None = None
    edited_message: _Message | None = None
    callback_query: _Query | None = None
    my_chat_member: _Change | None = None


def read(raw: Mapping[str, Any], me: Me) -> Update | None:
    """What the update says, or None when it is nothing that the bot has to do with.

    Raises `msgspec.ValidationError`, or what a date that is none raises, when no sense can be made of it.
    """
    update = msgspec.convert(raw, _Raw)
    if update.message is not None:
        return _moved(update.message) or _message(update.message, raw["message"], me)
    if update.edited_message is not None:
        return _message(update.edited_message, raw["edited_message"], me, edited=True)
    if update.callback_query is not None:
        return _tap(update.callback_query)
    if update.my_chat_member is not None:
        return _block_change(update.my_chat_member)
    return None


def ref_of(chat_id: int | str, message_id: int) -> str:
    """How a message is named in the records: a message id alone is unique only inside its chat."""
    return f"{chat_id}:{message_id}"


def id_of(ref: str) -> tuple[int, int]:
    """(chat id, message id) of a message that is named so. ValueError when nothing is."""
    chat_id, _, message_id = ref.rpartition(":")
    return int(chat_id), int(message_id)


def _message(message: _Message, raw: Mapping[str, Any], me: Me, *, edited: bool = False) -> Message | None:
    user = message.sender
    if user is None or user.is_bot:
        return None
    text = message.text if message.text is not None else message.caption
    kind = "text" if text is not None else _kind(raw)
    if kind is None or (text is None and edited):
        return None
    shared = message.chat.type != ChatType.PRIVATE
    replied = message.reply_to_message
    to_me = replied is not None and replied.sender is not None and replied.sender.id == me.id
    found = None if text is None else _START.fullmatch(text)
    words, named = ("", False) if text is None else _without_my_name(text, me)
    return Message(
        user_id=user.id,
        user_name=f"{user.first_name} {user.last_name}".strip(),
        place=str(message.chat.id),
        shared=shared,
        ref=ref_of(message.chat.id, message.message_id),
        text=None if text is None else "/start" if found else words,
        kind=kind,
        at=_moment(message.date),
        edited_at=_moment(message.edit_date or message.date) if edited else None,
        refers=None if replied is None else ref_of(message.chat.id, replied.message_id),
        addressed=not shared or to_me or named,
        album=message.media_group_id,
        code=found[1] if found and not shared else None,
        language=user.language_code,
    )


def _moment(seconds: int) -> datetime:
    return datetime.fromtimestamp(seconds, UTC)


def _kind(raw: Mapping[str, Any]) -> str | None:
    """What the message holds instead of words; None for a service message of Telegram's."""
    return next((kind.value for kind in MessageAttachmentType if raw.get(kind)), None)


def _without_my_name(text: str, me: Me) -> tuple[str, bool]:
    """(the text less the bot's name, whether it was there)."""
    if me.username.casefold() not in text.casefold():
        return text, False
    command = _COMMAND.match(text)
    if command is not None:
        named = command[2].casefold() == me.username.casefold()
        return (f"/{command[1]}{text[command.end() :]}", True) if named else (text, False)
    name = re.compile(rf"\s*@{re.escape(me.username)}\b[,:]?\s*", re.IGNORECASE)
    words, times = name.subn(" ", text)
    return (words.strip(), True) if times else (text, False)


def _moved(message: _Message) -> Moved | None:
    if message.migrate_to_chat_id is None:
        return None
    return Moved(str(message.chat.id), str(message.migrate_to_chat_id))


def _tap(query: _Query) -> Tap:
    message = query.message
    return Tap(
        id=query.id,
        user_id=query.sender.id,
        data=query.data,
        place=None if message is None else str(message.chat.id),
        shared=message is not None and message.chat.type != ChatType.PRIVATE,
        message=None if message is None else ref_of(message.chat.id, message.message_id),
        shown="" if message is None else message.text,
    )


def _block_change(change: _Change) -> BlockChange | Removed | None:
    if change.chat.type != ChatType.PRIVATE:
        gone = change.new_chat_member.status in (ChatMemberStatus.LEFT, ChatMemberStatus.BANNED)
        return Removed(str(change.chat.id)) if gone else None
    return BlockChange(change.sender.id, change.new_chat_member.status == ChatMemberStatus.BANNED)
