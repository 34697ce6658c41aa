"""One stored message: from the inbox's row to its turn, with all that follows from it, in one transaction."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy import Connection

from bot.conversation.kitchen import rooms
from bot.conversation.respond import respond
from bot.kinds import QuestionState
from bot.messages import Errand, Group, Incoming, Letter, Reply, Turn
from bot.schedule.arranging import MOVING, MOVING_ALL, arrange
from bot.store import inbox, kitchens, outbox, people, questions
from bot.store.books import Books
from bot.store.inbox import Delivery, Inbound
from bot.store.people import Person
from domain.quantities import Region

DEFAULT_REGION = Region.US
DEFAULT_ZONE = ZoneInfo("UTC")


def welcome(conn: Connection, channel: str, key: str, name: str, at: datetime) -> Person:
    """A new person with the usual settings, who hears from us unasked from the moment `at` on."""
    person = people.add(conn, channel, key, name, DEFAULT_REGION, DEFAULT_ZONE)
    arrange_for(conn, person.id, at)
    return person


def person_of(conn: Connection, inbound: Inbound) -> Person:
    """Who sent the message; a new person when nobody is known under their key."""
    key = inbound.person_key
    return people.find(conn, inbound.channel, key) or welcome(conn, inbound.channel, key, key, inbound.said_at)


def arrange_for(conn: Connection, person_id: int, at: datetime) -> None:
    """Sets when the person is next to hear from us unasked; their zone may have changed a moment ago."""
    person = people.by_id(conn, person_id)
    if person is not None:
        arrange(Books(conn=conn, person=person, inbound_id=0, at=at))


def handled(conn: Connection, inbound: Inbound, answered_at_once: bool, door: str = "") -> Turn:
    """What a message that is in hand brings about, all in the caller's transaction.

    `door` is what stands before a code to make a link into the bot.
    """
    person = person_of(conn, inbound)
    person = people.hold_kitchen(conn, person)
    turn = _turn(conn, inbound, person, door)
    if turn.farewell:
        _say_farewell(conn, inbound, turn, answered_at_once)
        return turn
    _arrange(conn, inbound, person, turn)
    post(conn, inbound, person, turn, answered_at_once)
    _pass_on(conn, inbound, turn, answered_at_once)
    return turn


def _arrange(conn: Connection, inbound: Inbound, person: Person, turn: Turn) -> None:
    """Sets anew when people hear from us, as far as the turn moved that: the person, or all of their kitchen."""
    if any(isinstance(event, MOVING) for event in turn.events):
        arrange_for(conn, person.id, inbound.said_at)
    if any(isinstance(event, MOVING_ALL) for event in turn.events):
        now = people.by_id(conn, person.id) or person
        for member in kitchens.members(conn, now.kitchen_id):
            if member.id != person.id:
                arrange_for(conn, member.id, inbound.said_at)


def _turn(conn: Connection, inbound: Inbound, person: Person, door: str) -> Turn:
    body: dict[str, Any] = inbound.body
    at = inbound.said_at
    match inbound.kind:
        case "other":
            return Turn((Reply(body["answer"]),))
        case "errand":
            incoming = Incoming("errand", errand=body["what"])
        case "press":
            incoming = Incoming("press", question_ref=body["ref"], choice=body["choice"])
        case "edit":
            first = inbox.find_message(conn, inbound.channel, inbound.person_key, body["edits"])
            incoming = Incoming("edit", body["text"], edits_inbound=first.id if first else None)
            # "this morning" in a corrected message still means the morning of the day on which it was sent.
            at = first.said_at if first else at
        case _:
            incoming = Incoming(
                "say", body["text"], welcomes=body.get("welcomes", False), invite=body.get("invite"), door=door
            )
    refers_to = _referred(conn, inbound, person)
    books = Books(conn=conn, person=person, inbound_id=inbound.id, at=at, refers_to=refers_to)
    if "message" in body:
        _mark_pressed(books, inbound, incoming)
    if body.get("shared"):
        return _shared_turn(books, replace(incoming, group=Group(inbound.channel, body["place"])))
    return respond(books, incoming)


def _shared_turn(books: Books, incoming: Incoming) -> Turn:
    """The turn, unless it would put something of the person's own before the others of a group."""
    with books.conn.begin_nested() as savepoint:
        turn = respond(books, incoming)
        if rooms.may_be_shown(turn):
            return turn
        savepoint.rollback()
    return Turn((Reply(rooms.PRIVATE),))


def _referred(conn: Connection, inbound: Inbound, person: Person) -> int | None:
    """The inbox row of the message that this one replies to, or that caused the reply which it replies to."""
    ref = inbound.body.get("refers")
    if ref is None:
        return None
    sent = outbox.by_remote_ref(conn, inbound.channel, ref)
    if sent is not None:
        return sent.inbound_id if sent.person_id == person.id else None
    said = inbox.find_message(conn, inbound.channel, inbound.person_key, ref)
    return said.id if said else None


def _mark_pressed(books: Books, inbound: Inbound, press: Incoming) -> None:
    """Has the buttons replaced by the choice; by nothing when the question was settled before."""
    found = questions.by_ref(books, press.question_ref or "")
    if found is None or press.choice is None:
        return
    question, state = found
    chosen = state is QuestionState.WAITING and 0 <= press.choice < len(question.choices)
    text = f"{inbound.body['shown']}\n\nChosen: {question.choices[press.choice]}" if chosen else ""
    outbox.put(
        books.conn,
        inbound.channel,
        inbound.body.get("place", inbound.person_key),
        text,
        person_id=books.person.id,
        inbound_id=inbound.id,
        about_ref=inbound.body["message"],
        kind="mark",
    )


def post(conn: Connection, inbound: Inbound, person: Person, turn: Turn, sent: bool) -> None:
    """Puts the replies into the outbox; as sent already when the caller shows them itself."""
    for reply in turn.replies:
        outbox.put(
            conn,
            inbound.channel,
            inbound.body.get("place", inbound.person_key),
            reply.text,
            person_id=person.id,
            inbound_id=inbound.id,
            choices=reply.choices,
            question_ref=reply.question_ref,
            about_ref=inbound.body.get("answers"),
            picture=reply.picture,
            document=reply.document,
            sent_at=inbound.said_at if sent else None,
        )


def _say_farewell(conn: Connection, inbound: Inbound, turn: Turn, said: bool) -> None:
    """Puts the last words to somebody who is gone into the outbox, which keeps them only until they are sent."""
    if not said:
        for reply in turn.replies:
            place = inbound.body.get("place", inbound.person_key)
            outbox.put(conn, inbound.channel, place, reply.text, kind="farewell")


def _pass_on(conn: Connection, inbound: Inbound, turn: Turn, sent: bool) -> None:
    """Puts what goes to others where it reaches them: letters and notices into the outbox, an errand into an inbox."""
    for notice in turn.notices:
        outbox.put(conn, notice.to.channel, notice.to.place, notice.reply.text, kind="letter")
    everything: tuple[Letter | Errand, ...] = (*turn.letters, *turn.errands)
    for number, item in enumerate(everything):
        found = people.reached(conn, item.to, inbound.channel)
        if found is None:
            continue
        channel, key = found
        if isinstance(item, Letter):
            reply, sent_at = item.reply, inbound.said_at if sent else None
            outbox.put(
                conn,
                channel,
                key,
                reply.text,
                person_id=item.to,
                inbound_id=inbound.id,
                kind="letter",
                picture=reply.picture,
                sent_at=sent_at,
            )
        else:
            update_key = f"errand:{inbound.id}:{number}"
            inbox.receive(
                conn, Delivery(channel, update_key, key, "errand", {"what": item.what}, None, inbound.said_at)
            )
