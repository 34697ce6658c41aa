"""One message in which the day stands: edited, pinned, sent anew when it is gone, one for each day."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from bot.channels.telegram import CHANNEL
from bot.store.delivery import day_messages

from .conftest import Run, Start
from .crowd import Human
from .loopback import Loopback, Sent
from .test_talking import weights

DATABASES = ("sqlite", "postgresql")

BUTTER, JAM = "12 g butter", "20 g jam"
LIVE = "So far "
"""What only the day's message says."""


@pytest.fixture
def mira(server: Loopback, bot: Run) -> Human:
    """Has been asked what newcomers are asked, and has weighed nothing today."""
    person = Human(server, 1001, "Mira")
    person.asks("5 g honey")
    person.asks("no reminder")
    person.asks("delete last")
    return person


def lives(server: Loopback, person: Human) -> list[Sent]:
    """The messages in which a day stands or stood, in the order sent."""
    with server.lock:
        return [each for each in server.sent[person.id] if LIVE in each.text or "nothing on record." in each.text]


def live(server: Loopback, person: Human, says: str, count: int = 1) -> Sent:
    """The newest of `count` such messages, once it says that."""
    return server.until(
        lambda: next((each for each in lives(server, person)[count - 1 :] if says in each.text), None)  # type: ignore[return-value]
    )


def says(server: Loopback, person: Human, text: str, at: float | None = None) -> None:
    """Says something and waits until it is handled and everything is sent."""
    before = len(server.calls)
    person.says(text, at=at)
    server.until(lambda: len(server.calls) > before and server.idle)


def test_it_is_edited_after_each_weigh_in_and_makes_no_sound(bot: Run, server: Loopback, mira: Human) -> None:
    mira.asks("day message on")
    says(server, mira, BUTTER)
    first = live(server, mira, "butter, 12 g")
    assert first.silent
    says(server, mira, JAM)
    assert live(server, mira, "jam, 20 g") is first
    # 12 g of butter at 717, 20 g of jam at 278 kcal per 100 g (SR28, 01001 and 19297).
    assert ": 142 kcal." in first.text.splitlines()[0]
    assert server.pinned[mira.id] == []
    says(server, mira, "today")
    says(server, mira, "hello")
    assert first.edited == 1
    assert len(lives(server, mira)) == 1


def test_without_asking_for_it_there_is_none(bot: Run, server: Loopback, mira: Human) -> None:
    says(server, mira, BUTTER)
    mira.asks("today")
    assert lives(server, mira) == []


def test_undo_fixes_and_targets_show_in_it(bot: Run, server: Loopback, mira: Human) -> None:
    mira.asks("day message on")
    for text, shown in (
        (BUTTER, "86 kcal."),
        ("change last to 20 g", "143 kcal."),
        ("target 2000 kcal", "143 kcal, 1,857 kcal left."),
        ("undo", "143 kcal."),
        ("delete last", "nothing on record."),
        ("undo", "143 kcal."),
        ("200 g rice", "#3 rice, 200 g"),
    ):
        says(server, mira, text)
        live(server, mira, shown)
    assert len(lives(server, mira)) == 1


def test_a_tap_on_undo_shows_in_it(bot: Run, server: Loopback, mira: Human) -> None:
    mira.asks("day message on")
    mira.says(BUTTER)
    live(server, mira, "butter")
    # The day's own message and the receipt come in either order.
    server.until(lambda: any("Undo" in dict(sent.buttons) for sent in server.sent[mira.id]))
    mira.presses(next(sent for sent in server.sent[mira.id] if "Undo" in dict(sent.buttons)), "Undo")
    live(server, mira, "nothing on record.")


@pytest.mark.parametrize("error", ("message to edit not found", "message can't be edited"))
def test_when_it_is_gone_or_too_old_it_is_sent_anew(bot: Run, server: Loopback, mira: Human, error: str) -> None:
    mira.asks("pin my day")
    says(server, mira, BUTTER)
    first = live(server, mira, "butter")
    server.until(lambda: server.pinned[mira.id] == [first.message_id])
    with server.lock:
        if "found" in error:
            server.sent[mira.id].remove(first)
            server.pinned[mira.id].clear()
        else:
            first.fixed = True
    says(server, mira, JAM)
    if "found" not in error:
        live(server, mira, "jam", count=2)
    second = live(server, mira, "jam", count=1 if "found" in error else 2)
    assert second is not first
    server.until(lambda: server.pinned[mira.id] == [second.message_id])
    says(server, mira, "3 g salt")
    live(server, mira, "salt", count=1 if "found" in error else 2)
    assert second.edited == 1


def test_the_next_day_gets_a_message_of_its_own(bot: Run, server: Loopback, mira: Human) -> None:
    now = datetime.now(UTC)
    yesterday = (now - timedelta(days=1)).timestamp()
    mira.says("pin my day", at=yesterday)
    says(server, mira, BUTTER, at=yesterday)
    old = live(server, mira, "butter")
    server.until(lambda: server.pinned[mira.id] == [old.message_id])
    says(server, mira, JAM)
    new = live(server, mira, "jam", count=2)
    server.until(lambda: server.pinned[mira.id] == [new.message_id])
    assert "butter" in old.text
    assert "butter" not in new.text
    assert f"{now:%A}" in new.text
    # What comes late belongs to the old day and does not bring its message back.
    says(server, mira, "3 g salt", at=yesterday)
    mira.asks("hello")
    assert len(lives(server, mira)) == 2
    assert "salt" not in new.text


def test_after_a_restart_the_same_message_is_edited(start: Start, server: Loopback) -> None:
    mira = Human(server, 1001, "Mira")
    run = start()
    for text in (BUTTER, "no reminder", "pin my day", JAM):
        says(server, mira, text)
    first = live(server, mira, "jam")
    server.until(lambda: server.pinned[mira.id] == [first.message_id])
    run.stop()
    mira.says("3 g salt")
    again = start()
    assert live(server, mira, "salt") is first
    says(server, mira, "day message off")
    server.until(lambda: server.pinned[mira.id] == [])
    person = again.tarebook.person(CHANNEL, str(mira.id))
    assert person is not None

    def kept() -> bool:
        with again.tarebook.transaction() as conn:
            return day_messages.of(conn, person.id) is not None

    server.until(lambda: not kept())
    says(server, mira, "44 g jam")
    mira.asks("hello")
    assert "44 g" not in first.text
    assert len(lives(server, mira)) == 1


@pytest.mark.parametrize("method", ("sendMessage", "editMessageText", "pinChatMessage"))
@pytest.mark.parametrize("status", (0, 429, 500))
def test_trouble_with_the_server_loses_nothing(
    bot: Run, server: Loopback, mira: Human, method: str, status: int
) -> None:
    says(server, mira, "pin my day")
    mira.asks("hello")
    more = {"retry_after": 1} if status == 429 else {}
    if method != "sendMessage":
        server.fail(method, 2, status, **more)
        says(server, mira, BUTTER)
    else:
        says(server, mira, BUTTER)
        server.fail(method, 1, status, **more)
    says(server, mira, JAM)
    message = live(server, mira, "jam")
    assert "butter" in message.text
    server.until(lambda: server.pinned[mira.id] == [message.message_id])
    assert len(lives(server, mira)) == 1
    assert weights(bot, mira) == [12, 20]


def test_of_many_changes_at_once_the_last_is_shown(bot: Run, server: Loopback, mira: Human) -> None:
    mira.asks("day message on")
    for n in range(12):
        mira.says(f"{10 + n} g jam")
    message = live(server, mira, "jam, 21 g")
    assert sum("jam" in line for line in message.text.splitlines()) == 12
    assert len(lives(server, mira)) == 1


def test_receipts_shrink_to_one_line_beside_it(bot: Run, server: Loopback, mira: Human) -> None:
    full = mira.asks(BUTTER)
    assert "Today: 86 kcal." in full.text
    mira.asks("short replies")
    # Without the day's message the total stands in the line.
    assert mira.asks(JAM).text.splitlines() == ["#3 jam, 20 g: 56 kcal. Today: 142 kcal."]
    says(server, mira, "day message on")
    live(server, mira, "jam")
    server.until(lambda: any("Your day stands" in each.text for each in server.sent[mira.id]))
    mira.heard = len(server.sent[mira.id])
    short = mira.asks("10 g jam")
    assert short.text == "#4 jam, 10 g: 28 kcal"
    assert [text for text, _ in short.buttons] == ["Undo", "Change"]
    assert mira.asks("15 g jam, 5 g butter").text == "#5 jam 15 g, #6 butter 5 g: 78 kcal"
    # A question is asked in full, and only the total is left out.
    asked = mira.asks("200 g rice").text
    assert "cooked or dry" in asked
    assert "Today" not in asked


def test_a_reaction_says_that_a_weigh_in_is_on_record(bot: Run, server: Loopback, mira: Human) -> None:
    for text in ("day message on", "just react"):
        mira.asks(text)
    message_id = mira.says(BUTTER)
    server.until(lambda: (mira.id, message_id) in server.reactions)
    live(server, mira, "butter")
    assert weights(bot, mira) == [12]
    mira.heard = len(server.sent[mira.id])
    assert "cooked or dry" in mira.asks("200 g rice").text
    assert "taken back" in mira.asks("undo").text
    server.fail("setMessageReaction", 1, 400)
    assert mira.asks(JAM).text.startswith("#4 jam, 20 g")
    mira.asks("full replies")
    assert "Today:" in mira.asks(JAM).text


def test_hidden_energy_stays_hidden_in_it(bot: Run, server: Loopback, mira: Human) -> None:
    mira.asks("day message on")
    says(server, mira, BUTTER)
    message = live(server, mira, "86 kcal")
    says(server, mira, "no calories please")
    server.until(lambda: "kcal" not in message.text)
    says(server, mira, "180 g zorblax")
    server.until(lambda: "zorblax, 180 g" in message.text)
    assert "2 weigh-ins, 192 g" in message.text
    assert "kcal" not in message.text


def test_erasing_a_person_erases_it(bot: Run, server: Loopback, mira: Human) -> None:
    mira.asks("pin my day")
    says(server, mira, BUTTER)
    live(server, mira, "butter")
    person = bot.tarebook.person(CHANNEL, str(mira.id))
    assert person is not None
    for text in ("erase everything", "yes, erase it all"):
        says(server, mira, text)
    server.until(lambda: bot.tarebook.person(CHANNEL, str(mira.id)) is None)
    with bot.tarebook.transaction() as conn:
        assert day_messages.of(conn, person.id) is None
