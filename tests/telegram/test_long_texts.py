"""Texts that are too long for one message."""

from __future__ import annotations

from bot.channels.telegram import CHANNEL
from bot.store.delivery import outbox

from .conftest import Run
from .crowd import Human
from .loopback import Loopback

LONG = "\n".join(f"{number}: a line of some length, so that it adds up" for number in range(1, 301))


def put(bot: Run, person: Human, text: str) -> None:
    with bot.tarebook.transaction() as conn:
        outbox.put(conn, CHANNEL, str(person.id), text, choices=("yes", "no"), question_ref="A" * 22)


def test_a_long_text_comes_in_parts_with_the_buttons_under_the_last(bot: Run, mira: Human) -> None:
    mira.asks("hello")
    put(bot, mira, LONG)
    found = mira.hears(4)
    assert "\n".join(part.text for part in found) == LONG
    assert [bool(part.buttons) for part in found] == [False, False, False, True]


def test_after_an_error_it_goes_on_with_the_part_that_is_missing(bot: Run, server: Loopback, mira: Human) -> None:
    mira.asks("hello")
    server.until(lambda: server.idle)
    with server.lock:
        calls = len([1 for method, _ in server.calls if method == "sendMessage"])
    server.fail("sendMessage", 0)
    put(bot, mira, LONG)
    server.until(lambda: len([1 for method, _ in server.calls if method == "sendMessage"]) > calls)
    server.fail("sendMessage", 2, 502)
    found = mira.hears(4)
    assert "\n".join(part.text for part in found) == LONG


def test_a_blank_text_is_given_up(bot: Run, server: Loopback, mira: Human) -> None:
    mira.asks("hello")
    put(bot, mira, "\u200b \n")
    assert "180 g" in mira.asks("180 g cooked rice").text
