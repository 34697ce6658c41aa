"""A group as a kitchen's room: its batches are everybody's there, what somebody eats is their own."""

from __future__ import annotations

import re
import time

import pytest
from sqlalchemy import select

from bot.channels.telegram import CHANNEL
from bot.conversation.kitchen.rooms import NO_ROOM, NOT_INSIDE, PRIVATE
from bot.store import kitchens
from bot.store.schema import outbox

from .conftest import Run, Start
from .crowd import Human
from .loopback import USERNAME, Loopback, Sent
from .test_talking import weights

GROUP = -1001
OWN_FIGURES = ("kcal", "protein", "#", "Today", "counts as 3")


@pytest.fixture
def noor(server: Loopback) -> Human:
    return Human(server, 1003, "Noor")


class Room:
    """The group, and what the bot says in it."""

    def __init__(self, server: Loopback) -> None:
        self.server = server
        self.heard = 0

    def hears(self) -> Sent:
        sent = self.server.sent[GROUP]
        self.server.until(lambda: len(sent) > self.heard)
        self.heard += 1
        return sent[self.heard - 1]

    def asks(self, who: Human, text: str, reply_to: Sent | None = None) -> Sent:
        """Says something to the bot in the group, and gives the answer there."""
        who.says(text if text.startswith("/") else f"@{USERNAME} {text}", chat_id=GROUP, reply_to=reply_to)
        return self.hears()


@pytest.fixture
def room(server: Loopback) -> Room:
    return Room(server)


def invited(host: Human, guest: Human) -> None:
    """The guest comes into the host's kitchen."""
    code = re.search(r"/start [\w-]{22}", host.asks(f"invite {guest.name} to my kitchen").text)
    assert code is not None
    said = guest.asks(code[0])
    if "yes, share it" in dict(said.buttons):
        guest.presses(said, "yes, share it")
        said = guest.hears()[0]
    assert f"You share the kitchen with {host.name}" in said.text
    assert guest.name in host.hears()[0].text


def opened(room: Room, host: Human) -> None:
    """The group is the room of the host's kitchen."""
    question = room.asks(host, f"/kitchen@{USERNAME} here")
    assert "Everybody here" in question.text
    host.presses(question, "yes, here")
    assert "room now" in room.hears().text


def test_a_portion_is_the_eaters_own_and_the_room_reads_of_the_batch_alone(
    bot: Run, server: Loopback, mira: Human, joao: Human, room: Room
) -> None:
    mira.asks("hello")
    joao.asks("hello")
    invited(mira, joao)
    opened(room, mira)
    assert "everybody there sees" in joao.hears()[0].text
    room.asks(mira, "new batch chilli: 1000 g raw chicken breast")
    room.asks(joao, "batch 1 cooked 700 g")
    answer = room.asks(joao, "took 220 g from batch 1")
    assert answer.text == "220 g from batch 1 (chilli); 480 g left."
    receipt = joao.hears()[0]
    assert all(word in receipt.text for word in OWN_FIGURES[:3])
    assert weights(bot, joao) == [220]
    assert weights(bot, mira) == []
    assert all(word not in sent.text for sent in server.sent[GROUP] for word in OWN_FIGURES)
    assert len(server.sent[mira.id]) == mira.heard, "what happens in the room is not told once more"


def test_a_question_in_the_room_is_answered_there_by_whoever_was_asked(
    bot: Run, server: Loopback, mira: Human, joao: Human, room: Room
) -> None:
    mira.asks("200 g rice")
    joao.asks("hello")
    invited(mira, joao)
    opened(room, mira)
    room.asks(mira, "new batch chilli: 1000 g raw chicken breast")
    waits = room.asks(mira, "took 300 g from batch 1")
    assert "cooked weight" in waits.text
    assert (
        room.asks(mira, "700 g").text
        == "Batch 1 (chilli) weighs 700 g cooked.\n300 g from batch 1 (chilli); 400 g left."
    )
    assert "300 g" in mira.hears()[0].text
    over = room.asks(mira, "took 450 g from batch 1")
    joao.hears()
    press = joao.presses(over, "yes, 450 g")
    assert "somebody else" in (server.until(lambda: server.answered.get(press)) or "")
    mira.presses(over, "400 g, all of it")
    assert "finished" in room.hears().text
    # The question that waits in private is nobody's business here.
    assert room.asks(mira, "dry").text == PRIVATE
    assert all("rice" not in sent.text for sent in server.sent[GROUP])
    assert weights(bot, mira) == [300, 400]


def test_what_is_cooked_elsewhere_is_announced_in_the_room(
    bot: Run, server: Loopback, mira: Human, joao: Human, room: Room
) -> None:
    mira.asks("hello")
    joao.asks("hello")
    invited(mira, joao)
    opened(room, mira)
    joao.hears()
    joao.asks("new batch soup: 1000 g raw carrots")
    assert room.hears().text == "João: Batch 1 (soup) is open, 1,000 g went in."
    joao.asks("batch 1 cooked 900 g")
    assert "900 g cooked" in room.hears().text
    joao.asks("took 200 g from batch 1")
    joao.asks("threw out batch 1")
    assert "thrown out" in room.hears().text
    assert len(server.sent[mira.id]) == mira.heard


def test_who_is_not_of_the_kitchen_learns_how_to_join_and_nothing_else(
    bot: Run, server: Loopback, mira: Human, joao: Human, room: Room
) -> None:
    mira.asks("hello")
    opened(room, mira)
    room.asks(mira, "new batch chilli: 1000 g raw chicken breast")
    for text in ("batches", "took 200 g from batch 1", "new batch: 500 g raw carrots", f"/kitchen@{USERNAME} here"):
        assert room.asks(joao, text).text == NOT_INSIDE, text
    assert joao.asks("batches").text.startswith("No batch is open")


def test_a_stranger_is_let_in_by_a_members_invitation(start: Start, server: Loopback, room: Room) -> None:
    run = start(access="open")
    mira, noor = Human(server, 1001, "Mira"), Human(server, 1003, "Noor")
    mira.asks("hello")
    opened(room, mira)
    run.stop()
    start(access="invite")
    assert room.asks(noor, "batches").text == NOT_INSIDE
    assert "invited people" in noor.asks("hello").text
    invited(mira, noor)
    assert "No batch is open" in room.asks(noor, "batches").text
    other = Human(server, 1004, "Ola")
    code = re.search(r"/start [\w-]{22}", mira.asks("share my kitchen").text)
    assert code is not None
    assert "Mira" in other.asks(code[0]).text
    late = Human(server, 1005, "Pia")
    assert "new one" in late.asks(code[0]).text


def test_a_shared_kitchen_is_shown_in_its_room_alone(
    bot: Run, server: Loopback, mira: Human, joao: Human, room: Room
) -> None:
    mira.asks("hello")
    joao.asks("new batch chilli: 1000 g raw chicken breast")
    invited(mira, joao)
    assert room.asks(joao, "batches").text == NO_ROOM
    opened(room, joao)
    assert "chilli" in room.asks(joao, "batches").text
    mira.hears()
    mira.asks("close the room")
    joao.hears()
    assert room.asks(joao, "batches").text == NO_ROOM


def test_the_room_goes_with_its_group_and_ends_with_it(
    bot: Run, server: Loopback, mira: Human, joao: Human, room: Room
) -> None:
    mira.asks("hello")
    opened(room, mira)
    person = bot.tarebook.person(CHANNEL, str(mira.id))
    assert person is not None

    def where() -> tuple[str, str] | None:
        with bot.tarebook.transaction() as conn:
            return kitchens.room_of(conn, person.kitchen_id)

    new = -100_500
    server.message_id(new)
    mira.sends(GROUP, migrate_to_chat_id=new)
    server.until(lambda: where() == (CHANNEL, str(new)))
    me = {"id": 4200001, "is_bot": True, "first_name": "Tarebook", "username": USERNAME}
    change = {
        "chat": {"id": new, "type": "supergroup", "title": "Kitchen"},
        "from": mira.user,
        "date": int(time.time()),
        "old_chat_member": {"user": me, "status": "member"},
        "new_chat_member": {"user": me, "status": "kicked", "until_date": 0},
    }
    server.deliver("my_chat_member", change, new)
    server.until(lambda: where() is None)


def test_an_edit_in_the_room_shows_the_batch_alone(bot: Run, server: Loopback, mira: Human, room: Room) -> None:
    mira.asks("new batch chilli: 1000 g raw chicken breast")
    mira.asks("batch 1 cooked 700 g")
    opened(room, mira)
    message = mira.says(f"@{USERNAME} took 220 g from batch 1", chat_id=GROUP)
    room.hears()
    mira.edits(message, f"@{USERNAME} took 200 g from batch 1")
    assert room.hears().text == "200 g from batch 1 (chilli); 500 g left."
    for text in ("undo", "change last to 100 g", "delete #1", "today", "invite Bo to my kitchen", "leave the kitchen"):
        assert room.asks(mira, text).text == PRIVATE, text
    assert weights(bot, mira) == [200]


def test_what_the_room_was_told_of_somebody_goes_with_them(
    bot: Run, server: Loopback, mira: Human, joao: Human, room: Room
) -> None:
    mira.asks("hello")
    joao.asks("hello")
    invited(mira, joao)
    opened(room, mira)
    joao.hears()
    # By Mira's own message, and by another's that names what she has made.
    mira.asks("new batch zanzibar stew: 1000 g raw chicken breast")
    assert "Mira: Batch 1 (zanzibar stew)" in room.hears().text
    joao.asks("batch 1 cooked 700 g")
    assert "zanzibar" in room.hears().text
    mira.presses(mira.asks("/privacy"), "yes, erase everything")
    mira.presses(mira.hears()[0], "yes, erase it all")
    assert "erased" in mira.hears()[0].text

    def left() -> list[str]:
        with bot.tarebook.transaction() as conn:
            texts = conn.execute(select(outbox.c.text)).scalars().all()
        return [text for text in texts if "Mira" in text or "zanzibar" in text]

    server.until(lambda: left() == [])
    assert "700 g" in joao.asks("batches").text
