"""Messages whose handling breaks: nothing half-recorded, nothing lost, nobody held up."""

from collections.abc import Callable, Iterator
from datetime import UTC, datetime

import pytest

from bot.app import APOLOGY, TRIES, Taken, Tarebook, oldest, open_tarebook
from bot.conversation.respond import respond
from bot.events import WeighInRecorded
from bot.messages import Incoming, Turn
from bot.store.books import Books
from bot.store.delivery import inbox, outbox
from bot.store.delivery.inbox import NewRow, Say
from bot.store.engine import Connection

NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)
RICE = "180 g cooked rice"
TOGETHER = 1
"""Rows are first handled together, which is not counted as a try."""


@pytest.fixture
def tarebook() -> Iterator[Tarebook]:
    with open_tarebook("sqlite://") as opened:
        yield opened


@pytest.fixture
def break_after() -> Iterator[Callable[[int], None]]:
    """Makes the next so many messages break after they were recorded and before their replies were put out."""
    left = 0

    def broken(books: Books, incoming: Incoming) -> Turn:
        nonlocal left
        turn = respond(books, incoming)
        if left:
            left -= 1
            raise RuntimeError(f"broke on {incoming}")
        return turn

    def times(number: int) -> None:
        nonlocal left
        left = number

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("bot.handling.respond", broken)
        yield times


def say(tarebook: Tarebook, text: str, key: str, who: str = "mira") -> int:
    inbound_id = tarebook.receive(NewRow("converse", key, who, Say(text=text), None, NOON))
    assert inbound_id is not None
    return inbound_id


def handle(tarebook: Tarebook, row_id: int, *, shown: bool = False) -> Turn | None:
    """What handling this one row brings about; None when it is not to be handled now."""

    def take(conn: Connection) -> Taken:
        claimed = inbox.claim(conn, row_id)
        return Taken([] if claimed is None else [claimed], claimed=True)

    return next((each.turn for each in tarebook.handle(take, shown=shown)), None)


def numbers(turn: Turn | None) -> list[object]:
    assert turn is not None
    return [event.id for event in turn.events if isinstance(event, WeighInRecorded)]


def test_the_same_update_is_stored_once(tarebook: Tarebook) -> None:
    say(tarebook, RICE, "1")
    assert tarebook.receive(NewRow("converse", "1", "mira", Say(text=RICE), None, NOON)) is None
    assert tarebook.receive(NewRow("console", "1", "mira", Say(text=RICE), None, NOON)) is not None


def test_a_message_is_handled_once(tarebook: Tarebook) -> None:
    inbound_id = say(tarebook, RICE, "1")
    assert numbers(handle(tarebook, inbound_id)) == [1]
    assert handle(tarebook, inbound_id) is None
    assert handle(tarebook, inbound_id + 1) is None


def test_a_failure_leaves_no_trace_and_is_tried_again(tarebook: Tarebook, break_after: Callable[[int], None]) -> None:
    inbound_id = say(tarebook, RICE, "1")
    break_after(1)
    assert numbers(handle(tarebook, inbound_id)) == [1], "the failure recorded something"


def test_after_three_failures_it_is_set_aside_with_one_apology(
    tarebook: Tarebook, break_after: Callable[[int], None]
) -> None:
    inbound_id = say(tarebook, RICE, "1")
    break_after(TOGETHER + TRIES)
    turn = handle(tarebook, inbound_id)
    assert turn is not None
    assert [reply.text for reply in turn.replies] == [APOLOGY]
    assert turn.events == ()
    person = tarebook.person("converse", "mira")
    assert person is not None
    assert [outgoing.text for outgoing in tarebook.unsent("converse", "mira")] == [APOLOGY]
    assert handle(tarebook, inbound_id) is None
    assert numbers(handle(tarebook, say(tarebook, RICE, "2"))) == [1]


def test_a_persons_messages_wait_for_their_turn_and_others_do_not(
    tarebook: Tarebook, break_after: Callable[[int], None]
) -> None:
    first = say(tarebook, RICE, "1")
    second = say(tarebook, "2 eggs", "2")
    other = say(tarebook, RICE, "3", who="ali")
    assert handle(tarebook, second) is None
    assert numbers(handle(tarebook, other)) == [1]
    assert numbers(handle(tarebook, first)) == [1]
    assert numbers(handle(tarebook, second)) == [2]


def test_what_goes_along_with_messages_counts_once_whether_or_not_one_breaks(
    tarebook: Tarebook, break_after: Callable[[int], None]
) -> None:
    def take(conn: Connection) -> Taken:
        outbox.put(conn, "converse", "before", "Good morning.")
        return oldest("converse")(conn)

    def after(conn: Connection) -> None:
        seen.append({place: len(outbox.to_place(conn, "converse", place)) for place in ("before", "mira", "ali")})

    for broken in (0, 1):
        seen: list[dict[str, int]] = []
        say(tarebook, RICE, f"mira {broken}")
        say(tarebook, RICE, f"ali {broken}", who="ali")
        break_after(broken)
        # The first breaks the two of them, and is handled when they are handled by themselves.
        assert [numbers(each.turn) for each in tarebook.handle(take, after)] == [[1 + broken]] * 2
        assert seen == [dict.fromkeys(("before", "mira", "ali"), 1 + broken)]


def test_what_was_left_is_caught_up_with_in_order(tarebook: Tarebook, break_after: Callable[[int], None]) -> None:
    for key, text in enumerate((RICE, "2 eggs", "180 g banana")):
        say(tarebook, text, str(key))
    say(tarebook, RICE, "other", who="ali")
    tarebook.receive(NewRow("console", "1", "me", Say(text=RICE), None, NOON))
    break_after(TOGETHER + TRIES)
    assert len(tarebook.catch_up("converse")) == 4
    assert len(tarebook.catch_up("converse")) == 0
    assert len(tarebook.catch_up("console")) == 1


def test_no_log_holds_what_was_said(
    tarebook: Tarebook, break_after: Callable[[int], None], caplog: pytest.LogCaptureFixture
) -> None:
    break_after(TOGETHER + TRIES)
    handle(tarebook, say(tarebook, RICE, "1"))
    assert len(caplog.records) == TRIES
    assert "RuntimeError" in caplog.text
    assert "bot/app.py" in caplog.text, "the way to the failure is named"
    assert "rice" not in caplog.text


def test_replies_wait_until_they_were_shown(tarebook: Tarebook) -> None:
    turn = handle(tarebook, say(tarebook, RICE, "1"))
    person = tarebook.person("converse", "mira")
    assert turn is not None
    assert person is not None
    unsent = tarebook.unsent("converse", "mira")
    assert [outgoing.text for outgoing in unsent] == [reply.text for reply in turn.replies]
    tarebook.sent(unsent)
    assert tarebook.unsent("converse", "mira") == []


def test_replies_taken_at_once_do_not_wait(tarebook: Tarebook) -> None:
    assert handle(tarebook, say(tarebook, RICE, "1"), shown=True) is not None
    person = tarebook.person("converse", "mira")
    assert person is not None
    assert tarebook.unsent("converse", "mira") == []
