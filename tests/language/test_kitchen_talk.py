"""Words about the kitchen itself, and words that only have a kitchen in them."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from bot.language.kitchen import CloseRoom, InviteToKitchen, LeaveKitchen, OpenRoom, UseCode, WhoseKitchen
from bot.language.meanings import Meaning
from bot.language.surroundings import KnownBatch, Surroundings
from bot.language.understand import understand

AROUND = Surroundings(now=datetime(2026, 3, 2, 12, tzinfo=UTC))
CODE = "abcDEFghi_-123456789xy"


@pytest.mark.parametrize(
    ("text", "meant"),
    (
        ("invite Bo to my kitchen", InviteToKitchen(called="Bo")),
        ("Please add João Silva to our kitchen!", InviteToKitchen(called="João Silva")),
        ("can you let Mary-Ann into the kitchen?", InviteToKitchen(called="Mary-Ann")),
        ("share my kitchen", InviteToKitchen()),
        ("share our kitchen with my wife please", InviteToKitchen(called="my wife")),
        ("invite somebody to my kitchen", InviteToKitchen()),
        ("/kitchen invite Bo", InviteToKitchen(called="Bo")),
        ("/kitchen", WhoseKitchen(invites=True)),
        ("who is in my kitchen?", WhoseKitchen()),
        ("Who’s in our kitchen", WhoseKitchen()),
        ("leave the kitchen", LeaveKitchen()),
        ("I want to leave this kitchen.", LeaveKitchen()),
        ("/kitchen here", OpenRoom()),
        ("/kitchen not here", CloseRoom()),
        ("close the room", CloseRoom()),
        (f"/start {CODE}", UseCode(code=CODE)),
        (f"code {CODE}", UseCode(code=CODE)),
        (f"Code: {CODE}", UseCode(code=CODE)),
    ),
)
def test_a_message_about_the_kitchen(text: str, meant: Meaning) -> None:
    assert understand(text, AROUND) == [meant]


@pytest.mark.parametrize("code", (CODE, "HFpnMfQO34-HLDQ45-aBcD", "Lul3GM9FrqzJnq6YzWzNYw"))
def test_a_code_tells_of_no_pot(code: str) -> None:
    soup = KnownBatch(2, "rice soup", cooked=True, left_g=900, raw_g=800, spoken=True, focus=True)
    around = Surroundings(now=AROUND.now, batches=(KnownBatch(1, "lentils", cooked=True, left_g=900, raw_g=800), soup))
    assert understand(f"code {code}", around) == [UseCode(code=code)]


@pytest.mark.parametrize(
    "text",
    (
        "I left the kitchen",
        "don't leave the kitchen",
        "the kitchen scale says 200 g rice",
        "200 g rice, invite Bo to my kitchen",
        "invite 200 g rice to my kitchen",
        "we cooked in my kitchen, 300 g pasta cooked",
        "/start",
        "/start hello",
        f"code {CODE}x",
        "leave the kitchen " * 500,
    ),
)
def test_other_words_are_not_taken_for_it(text: str) -> None:
    kinds = {type(meaning) for meaning in understand(text, AROUND)}
    assert not kinds & {InviteToKitchen, LeaveKitchen, WhoseKitchen, OpenRoom, CloseRoom, UseCode}
