"""The Bot API as its public description has it: which methods there are, what they take, what they refuse.

Source: core.telegram.org/bots/api (Bot API 10.1), the sections named beside each rule. Only the methods that a bot for
text messages needs.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

_EVERY_SEND = (
    "business_connection_id message_thread_id direct_messages_topic_id disable_notification protect_content "
    "allow_paid_broadcast message_effect_id suggested_post_parameters reply_parameters reply_markup"
)
_WHICH_MESSAGE = "business_connection_id chat_id message_id inline_message_id reply_markup"

# method: (required parameters, optional parameters)
METHODS: dict[str, tuple[str, str]] = {
    "getMe": ("", ""),
    "getUpdates": ("", "offset limit timeout allowed_updates"),
    "setWebhook": (
        "url",
        "certificate ip_address max_connections allowed_updates drop_pending_updates secret_token",
    ),
    "deleteWebhook": ("", "drop_pending_updates"),
    "setMyCommands": ("commands", "scope language_code"),
    "sendMessage": ("chat_id text", f"parse_mode entities link_preview_options {_EVERY_SEND}"),
    "sendPhoto": (
        "chat_id photo",
        f"caption parse_mode caption_entities show_caption_above_media has_spoiler {_EVERY_SEND}",
    ),
    "sendDocument": (
        "chat_id document",
        f"thumbnail caption parse_mode caption_entities disable_content_type_detection {_EVERY_SEND}",
    ),
    "editMessageText": ("text", f"parse_mode entities link_preview_options {_WHICH_MESSAGE}"),
    "editMessageReplyMarkup": ("", _WHICH_MESSAGE),
    "pinChatMessage": ("chat_id message_id", "business_connection_id disable_notification"),
    "unpinChatMessage": ("chat_id", "business_connection_id message_id"),
    "setMessageReaction": ("chat_id message_id", "reaction is_big"),
    "answerCallbackQuery": ("callback_query_id", "text show_alert url cache_time"),
}

_TEXTS = frozenset(
    {"text", "caption", "photo", "parse_mode", "url", "secret_token", "callback_query_id", "language_code"}
)


class Refused(Exception):
    """An answer with `ok` false."""

    def __init__(self, code: int, description: str, **parameters: float) -> None:
        super().__init__(description)
        self.code = code
        self.description = description
        self.parameters = parameters


def parameters(method: str, given: dict[str, str], files: Mapping[str, bytes] = MappingProxyType({})) -> dict[str, Any]:
    """The parameters of a call, checked against the description. AssertionError when a bot should not send that."""
    required, optional = METHODS[method]
    known = {*required.split(), *optional.split()}
    named = {*given, *files}
    assert named <= known, f"{method} has no {sorted(named - known)}"
    assert set(required.split()) <= named, f"{method} needs {required}"
    found: dict[str, Any] = {name: value if name in _TEXTS else json.loads(value) for name, value in given.items()}
    found |= files
    for name, value in found.items():
        if name in _CHECKS:
            _CHECKS[name](value)
    return found


def units(text: str) -> int:
    return len(text.encode("utf-16-le", "surrogatepass")) // 2


def _photo(png: bytes) -> None:
    # #sendphoto: at most 10 MB; width and height at most 10,000 together, and at most 20 times one another.
    assert len(png) <= 10_000_000
    # A PNG's signature, and the width and height that its first chunk begins with (w3.org/TR/png, 5.2 and 11.2.1).
    assert png[:8] == b"\x89PNG\r\n\x1a\n"
    width, height = int.from_bytes(png[16:20], "big"), int.from_bytes(png[20:24], "big")
    assert 0 < width + height <= 10_000
    assert max(width, height) <= 20 * min(width, height)


def _document(content: bytes) -> None:
    assert 0 < len(content) <= 50_000_000  # #senddocument


def _caption(caption: str) -> None:
    assert units(caption) <= 1024  # #sendphoto


def _reply_markup(markup: dict[str, Any]) -> None:
    # #inlinekeyboardmarkup, #inlinekeyboardbutton: callback_data is 1-64 bytes; exactly one optional field.
    assert set(markup) == {"inline_keyboard"}
    for row in markup["inline_keyboard"]:
        assert row, "a row without buttons"
        for button in row:
            assert set(button) == {"text", "callback_data"}
            assert button["text"].strip()
            assert 1 <= len(button["callback_data"].encode()) <= 64


def _commands(commands: list[dict[str, str]]) -> None:
    # #setmycommands: at most 100. #botcommand: 1-32 of a-z, 0-9 and _; description 1-256.
    assert 1 <= len(commands) <= 100
    for command in commands:
        assert re.fullmatch(r"[a-z0-9_]{1,32}", command["command"])
        assert 1 <= len(command["description"]) <= 256


def _scope(scope: dict[str, Any]) -> None:
    # #botcommandscope
    assert scope["type"] in (
        "default",
        "all_private_chats",
        "all_group_chats",
        "all_chat_administrators",
        "chat",
        "chat_administrators",
        "chat_member",
    )


def _timeout(timeout: int) -> None:
    assert 0 <= timeout <= 50  # what the server allows (tdlib/telegram-bot-api, Client.h)


def _limit(limit: int) -> None:
    assert 1 <= limit <= 100  # #getupdates


def _secret_token(secret: str) -> None:
    assert re.fullmatch(r"[A-Za-z0-9_-]{1,256}", secret)  # #setwebhook


def _language_code(code: str) -> None:
    assert re.fullmatch(r"[a-z]{2}", code)  # #setmycommands: a two-letter ISO 639-1 code


def _reply_parameters(reply: dict[str, Any]) -> None:
    assert isinstance(reply["message_id"], int)  # #replyparameters


def _reaction(reaction: list[dict[str, str]]) -> None:
    # #setmessagereaction: a bot can set one; #reactiontypeemoji: one of a list, of which these are some.
    assert len(reaction) == 1
    assert set(reaction[0]) == {"type", "emoji"}
    assert reaction[0]["type"] == "emoji"
    assert reaction[0]["emoji"] in "\u2764\U0001f44d\U0001f44e\U0001f525\U0001f389\U0001f44c\u270d"


_CHECKS: dict[str, Callable[[Any], object]] = {
    "photo": _photo,
    "document": _document,
    "caption": _caption,
    "reply_markup": _reply_markup,
    "commands": _commands,
    "scope": _scope,
    "timeout": _timeout,
    "limit": _limit,
    "secret_token": _secret_token,
    "language_code": _language_code,
    "reply_parameters": _reply_parameters,
    "reaction": _reaction,
}
