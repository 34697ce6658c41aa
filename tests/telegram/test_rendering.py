"""Texts in parts, and buttons."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.channels.telegram.rendering import MAX_TEXT, keyboard, parts

from .botapi import parameters
from .botapi import units as counted


def visible(text: str) -> str:
    return "".join(c for c in text if not c.isspace() and unicodedata.category(c) not in ("Cf", "Cc"))


@settings(max_examples=150, deadline=None)
@given(st.text(max_size=400), st.integers(8, 60))
def test_no_part_is_too_long_and_nothing_visible_is_lost(text: str, limit: int) -> None:
    found = parts(text, limit)
    assert all(0 < counted(part) <= limit for part in found)
    assert visible("".join(found)) == visible(text.replace("\0", "\ufffd"))


def test_parts_end_where_a_reader_would_pause() -> None:
    text = "\n".join(["One line."] * 1000)
    found = parts(text)
    assert "\n".join(found) == text
    assert len(found) == 3
    assert all(part.endswith("line.") for part in found)


def test_a_letter_outside_the_basic_plane_counts_as_two() -> None:
    # core.telegram.org/api/entities: lengths are in UTF-16 code units.
    text = "🥘" * 3000
    found = parts(text)
    assert "".join(found) == text
    assert [counted(part) for part in found] == [4096, 1904]


def test_a_family_is_not_torn_apart() -> None:
    family = "\U0001f469\u200d\U0001f469\u200d\U0001f467"
    assert all(len(part) % len(family) == 0 for part in parts(family * 1000))


@pytest.mark.parametrize("text", ("", " \n\t", "\u200b\u200d", "\u2060"))
def test_a_blank_text_has_no_parts(text: str) -> None:
    assert parts(text) == []


def test_buttons_are_as_the_api_takes_them() -> None:
    ref = "A" * 22
    choices = ("cooked", "dry", "as much as 24 letters ok", "4")
    found = keyboard(choices, ref)
    assert found is not None
    parameters("sendMessage", {"chat_id": "1", "text": "?", "reply_markup": found.to_json()})
    assert [[button.text for button in row] for row in found.inline_keyboard] == [
        ["cooked", "dry"],
        ["as much as 24 letters ok"],
        ["4"],
    ]
    assert keyboard((), ref) is None
    assert keyboard(choices, None) is None
    assert MAX_TEXT == 4096
