"""The form of replies in Telegram: texts split at its limits, and buttons that hold only a reference."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence

from telegram import InlineKeyboardButton, InlineKeyboardMarkup

MAX_TEXT = 4096
"""In UTF-16 code units, in which Telegram counts (core.telegram.org/bots/api#sendmessage, #messageentity)."""

MAX_CAPTION = 1024
"""In the same units, under a picture (core.telegram.org/bots/api#sendphoto)."""

_IN_A_ROW = 24
"""How many letters the buttons of one row may have together, so that each can be read and hit with a thumb."""

_ACTION = "do:"
"""What the data of an action's button begins with; a question's reference has no colon."""

_BREAKS = (re.compile(r"\n\n+"), re.compile(r"\n"), re.compile(r"(?<=[.!?;])\s"), re.compile(r"\s"))


def parts(text: str, limit: int = MAX_TEXT) -> list[str]:
    """The text in parts of at most `limit` units, broken between paragraphs, lines, sentences or words if possible.

    No part is blank; an empty list for a text that is.
    """
    return [part for part in _parts(_sendable(text), limit) if _visible(part)]


def units(text: str) -> int:
    """The length of a text in UTF-16 code units."""
    return len(text.encode("utf-16-le", "surrogatepass")) // 2


def keyboard(
    choices: Sequence[str], question_ref: str | None, actions: Sequence[tuple[str, str]] = ()
) -> InlineKeyboardMarkup | None:
    """A button for each choice of a question, then one for each action; None without any.

    A choice's button says only which question and which choice, an action's only what it does (`does_of`).
    """
    asked = choices if question_ref is not None else ()
    of_question = [InlineKeyboardButton(choice, callback_data=f"{question_ref}.{n}") for n, choice in enumerate(asked)]
    of_actions = [InlineKeyboardButton(words, callback_data=f"{_ACTION}{does}") for words, does in actions]
    rows = [*_in_rows(of_question), *_in_rows(of_actions)]
    return InlineKeyboardMarkup(rows) if rows else None


def does_of(data: str) -> str | None:
    """What an action's button does, from what it holds; None for any other button."""
    return data.removeprefix(_ACTION) if data.startswith(_ACTION) else None


def _in_rows(buttons: Sequence[InlineKeyboardButton]) -> list[list[InlineKeyboardButton]]:
    rows: list[list[InlineKeyboardButton]] = []
    for button in buttons:
        if rows and sum(len(other.text) for other in rows[-1]) + len(button.text) <= _IN_A_ROW:
            rows[-1].append(button)
        else:
            rows.append([button])
    return rows


def _parts(text: str, limit: int) -> Iterator[str]:
    while units(text) > limit:
        room = _prefix(text, limit)
        end = _break(room)
        yield text[:end].rstrip()
        text = text[end:].lstrip("\n ")
    yield text


def _prefix(text: str, limit: int) -> str:
    """The longest beginning of the text that is not over the limit and does not cut a letter from its marks."""
    end = min(len(text), limit)
    while units(text[:end]) > limit:
        end -= max(1, (units(text[:end]) - limit) // 2)
    whole = end
    while whole > end // 2 and whole < len(text) and _goes_on(text[whole - 1], text[whole]):
        whole -= 1
    return text[: whole if whole > end // 2 else end]


def _goes_on(letter: str, following: str) -> bool:
    """Whether the second letter is drawn together with the first: a combining mark, a joiner, a skin tone."""
    joined = "\u200d" in (letter, following) or "\U0001f3fb" <= following <= "\U0001f3ff"
    return joined or unicodedata.category(following) in ("Mn", "Me", "Mc")


def _break(room: str) -> int:
    for pattern in _BREAKS:
        ends = [found.end() for found in pattern.finditer(room)]
        # A break in the first half would make many short messages out of one long one.
        if ends and ends[-1] > len(room) // 2:
            return ends[-1]
    return len(room)


def _sendable(text: str) -> str:
    return text.replace("\0", "\ufffd").encode("utf-16", "surrogatepass").decode("utf-16", "replace")


def _visible(text: str) -> bool:
    return any(not letter.isspace() and unicodedata.category(letter) not in ("Cf", "Cc") for letter in text)
