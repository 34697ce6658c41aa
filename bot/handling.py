"""One inbox row: from what it holds to its turn, with all that follows from it, in one transaction."""

from __future__ import annotations

from datetime import datetime
from typing import assert_never
from zoneinfo import ZoneInfo

from sqlalchemy import Connection

from bot import batch_events, events
from bot.conversation.days import live
from bot.conversation.kitchen import rooms
from bot.conversation.respond import respond
from bot.kinds import OutboxKind, OutboxState, QuestionState
from bot.messages import (
    Acted,
    Edited,
    Group,
    Incoming,
    Notification,
    Pressed,
    Reply,
    Requested,
    RequestTo,
    Said,
    Turn,
)
from bot.schedule.arranging import MOVING, MOVING_ALL, arrange
from bot.store import kitchens, people, questions
from bot.store.books import Books
from bot.store.delivery import day_messages, inbox, outbox
from bot.store.delivery.inbox import Act, Edit, Erased, InboxRow, NewRow, NoWords, Press, Request, Say
from bot.store.people import Person
from domain.quantities import Region

ON_RECORD = (
    events.WeighInEvent,
    events.WeighInOpen,
    events.WeighInRemoved,
    batch_events.BatchOpened,
    batch_events.BatchCooked,
    batch_events.BatchChanged,
    batch_events.BatchClosed,
    batch_events.BatchUndone,
)
"""Events after which the buttons under an earlier reply are no longer about the last thing on record."""
DEFAULT_REGION = Region.US
DEFAULT_ZONE = ZoneInfo("UTC")


def region_of(locale: str) -> Region:
    """Whose measures a locale (`en_GB.UTF-8`) or a language tag (`en-GB`) points to.

    English without a country, and no language at all, give the default; every other language is metric.
    """
    tag = locale.split(".")[0].split("@")[0].replace("_", "-")
    language, _, country = tag.partition("-")
    regions = {"US": Region.US, "GB": Region.UK}
    if country:
        return regions.get(country.rpartition("-")[2].upper(), Region.METRIC)
    return DEFAULT_REGION if language.lower() in ("", "en", "c", "posix") else Region.METRIC


def welcome(conn: Connection, channel: str, key: str, name: str, at: datetime, language: str = "") -> Person:
    """A new person with the default settings, whose scheduled notifications begin after the moment `at`.

    `language` is their client's language tag, which the default region follows.
    """
    person = people.add(conn, channel, key, name, region_of(language), DEFAULT_ZONE)
    arrange_for(conn, person.id, at)
    return person


def person_of(conn: Connection, row: InboxRow) -> Person:
    """Who sent the message; a new person when nobody is known under their key."""
    key = row.person_key
    return people.find(conn, row.channel, key) or welcome(conn, row.channel, key, key, row.said_at)


def day_line(conn: Connection, channel: str, key: str, at: datetime) -> str:
    """How the person's day stands, in one line; empty for somebody unknown."""
    person = people.find(conn, channel, key)
    return "" if person is None else live.line(Books(conn=conn, person=person, inbound_id=0, at=at))


def arrange_for(conn: Connection, person_id: int, at: datetime) -> None:
    """Schedules the person's notifications anew, from their settings as they are now."""
    person = people.by_id(conn, person_id)
    if person is not None:
        arrange(Books(conn=conn, person=person, inbound_id=0, at=at))


def handled(conn: Connection, row: InboxRow, shown: bool, link_prefix: str = "", edits: bool = False) -> Turn:
    """What a claimed row brings about, all in the caller's transaction.

    `link_prefix` precedes a code to make a link into the bot. With `shown` the caller shows the replies itself; with
    `edits` messages of the channel can be edited, pinned and reacted to.
    """
    person = people.hold_kitchen(conn, person_of(conn, row))
    turn = _turn(conn, row, person, link_prefix)
    if turn.farewell:
        _say_farewell(conn, row, turn, shown)
        return turn
    _arrange(conn, row, person, turn)
    if edits and turn.reacts and row.message_ref is not None:
        _react(conn, row, person, turn)
    else:
        post(conn, row, person, turn, shown)
    if edits and turn.day is not None:
        wanted = day_messages.DayMessage(person.id, turn.day.day, turn.day.text, turn.day.pin)
        day_messages.put(conn, row.channel, row.person_key, wanted)
    _take_buttons_away(conn, row, person, any(isinstance(event, ON_RECORD) for event in turn.events))
    _pass_on(conn, row, turn, shown)
    return turn


def _arrange(conn: Connection, row: InboxRow, person: Person, turn: Turn) -> None:
    """Schedules notifications anew where the turn changed what they depend on: the person's, or all the kitchen's."""
    if any(isinstance(event, MOVING) for event in turn.events):
        arrange_for(conn, person.id, row.said_at)
    if any(isinstance(event, MOVING_ALL) for event in turn.events):
        now = people.by_id(conn, person.id) or person
        for member in kitchens.members(conn, now.kitchen_id):
            if member.id != person.id:
                arrange_for(conn, member.id, row.said_at)


def _turn(conn: Connection, row: InboxRow, person: Person, link_prefix: str) -> Turn:
    content, at = row.content, row.said_at
    match content:
        case NoWords():
            return Turn((Reply(content.answer),))
        case Erased():
            return Turn(())
        case Request():
            incoming: Incoming = Requested(content.what)
        case Press():
            incoming = Pressed(content.ref, content.choice)
        case Act():
            incoming = Acted(content.does)
        case Edit():
            first = inbox.find_message(conn, row.channel, row.person_key, content.edits)
            incoming = Edited(content.text, first.id if first else None)
            # "this morning" in a corrected message still means the morning of the day on which it was sent.
            at = first.said_at if first else at
        case Say():
            incoming = Said(content.text, content.welcomes, content.invite, link_prefix)
        case _:
            assert_never(content)
    books = Books(conn=conn, person=person, inbound_id=row.id, at=at, refers_to=_referred(conn, row, person))
    if isinstance(content, Press) and content.message is not None:
        _mark_pressed(books, row, content, content.message)
    if isinstance(content, Act) and content.message is not None:
        _mark_acted(books, row, content.message)
    if content.shared and content.place is not None:
        return _shared_turn(books, incoming, Group(row.channel, content.place))
    return respond(books, incoming)


def _shared_turn(books: Books, incoming: Incoming, group: Group) -> Turn:
    """The turn, unless it would show a group something of the person's own."""
    with books.conn.begin_nested() as savepoint:
        turn = respond(books, incoming, group)
        if rooms.may_be_shown(turn):
            return turn
        savepoint.rollback()
    return Turn((Reply(rooms.PRIVATE),))


def _referred(conn: Connection, row: InboxRow, person: Person) -> int | None:
    """The inbox row of the message that this one replies to, or that caused the reply which it replies to."""
    ref = row.content.refers
    if ref is None:
        return None
    sent = outbox.by_remote_ref(conn, row.channel, ref)
    if sent is not None:
        return sent.inbound_id if sent.person_id == person.id else None
    said = inbox.find_message(conn, row.channel, row.person_key, ref)
    return said.id if said else None


def _mark_pressed(books: Books, row: InboxRow, press: Press, message: str) -> None:
    """Has the buttons replaced by the choice; only removed when the question was settled before."""
    found = questions.by_ref(books, press.ref)
    if found is None:
        return
    question, state = found
    sent = outbox.by_remote_ref(books.conn, row.channel, message)
    if sent is not None and not outbox.without_buttons(books.conn, sent):
        return
    chosen = state is QuestionState.WAITING and 0 <= press.choice < len(question.choices)
    shown = press.shown or (sent.text if sent is not None and not sent.parts_sent else "")
    text = f"{shown}\n\nChosen: {question.choices[press.choice]}" if chosen and shown else ""
    _mark(books.conn, row, books.person, _place(row), message, text)


def _mark_acted(books: Books, row: InboxRow, message: str) -> None:
    """Has the buttons removed under which one was pressed, and those of a question that stands above them."""
    sent = outbox.by_remote_ref(books.conn, row.channel, message)
    if sent is None or outbox.without_buttons(books.conn, sent):
        _mark(books.conn, row, books.person, _place(row), message)


def _mark(conn: Connection, row: InboxRow, person: Person, place: str, message: str, text: str = "") -> None:
    """Has the buttons of a message taken away, and its text replaced if there is one."""
    outbox.put(
        conn, row.channel, place, text, person_id=person.id, inbound_id=row.id, about_ref=message, kind=OutboxKind.MARK
    )


def _take_buttons_away(conn: Connection, row: InboxRow, person: Person, recorded: bool) -> None:
    """Takes away the buttons of questions that are settled or skipped, or that a newer one has passed over.

    Buttons that ask nothing go when others come, or when something else is put on record.
    """
    standing = outbox.with_buttons(conn, person.id)
    for number, each in enumerate(standing, start=1):
        newer = [later for later in standing[number:] if later.place == each.place]
        if each.question_ref is not None:
            stays = not any(later.question_ref for later in newer) and questions.is_open(conn, each.question_ref)
        else:
            stays = not newer and (each.inbound_id == row.id or not recorded)
        # What is just being sent loses its buttons after the person's next message.
        if stays or each.state is OutboxState.SENDING:
            continue
        outbox.without_buttons(conn, each)
        if each.remote_ref is not None:
            _mark(conn, row, person, each.place, each.remote_ref)


def post(conn: Connection, row: InboxRow, person: Person, turn: Turn, shown: bool) -> None:
    """Puts the replies into the outbox; as sent when the caller shows them itself.

    The channel's own answer to a press comes first, and is all there is when the turn says nothing new.
    """
    if _answer_tap(conn, row, turn) and turn.passing:
        return
    for reply in turn.replies:
        outbox.put(
            conn,
            row.channel,
            _place(row),
            reply.text,
            person_id=person.id,
            inbound_id=row.id,
            choices=reply.choices,
            question_ref=reply.question_ref,
            about_ref=row.content.answers,
            picture=reply.picture,
            document=reply.document,
            actions=tuple((action.words, action.does) for action in reply.actions),
            sent_at=row.said_at if shown else None,
        )


def _react(conn: Connection, row: InboxRow, person: Person, turn: Turn) -> None:
    """Has the person's message reacted to; the reply's text is for where that is not possible."""
    text = turn.replies[0].text
    outbox.put(
        conn,
        row.channel,
        _place(row),
        text,
        person_id=person.id,
        inbound_id=row.id,
        about_ref=row.message_ref,
        kind=OutboxKind.REACT,
    )


def _answer_tap(conn: Connection, row: InboxRow, turn: Turn) -> bool:
    """Answers a press in the way the channel wants it answered. Returns whether it does want that."""
    if not isinstance(row.content, (Press, Act)) or row.content.tap is None:
        return False
    notice = turn.replies[0].text if turn.passing else ""
    # A lane of its own: the client shows a progress bar until this is sent, so it does not queue behind texts.
    outbox.put(conn, row.channel, f"tap:{row.person_key}", notice, about_ref=row.content.tap, kind=OutboxKind.TAP)
    return True


def _place(row: InboxRow) -> str:
    return row.person_key if row.content.place is None else row.content.place


def _say_farewell(conn: Connection, row: InboxRow, turn: Turn, shown: bool) -> None:
    """Puts the last words to an erased person into the outbox, which keeps them only until they are sent."""
    _answer_tap(conn, row, turn)
    if isinstance(row.content, Press) and row.content.message is not None:
        outbox.put(conn, row.channel, _place(row), "", about_ref=row.content.message, kind=OutboxKind.MARK)
    if not shown:
        for reply in turn.replies:
            outbox.put(conn, row.channel, _place(row), reply.text, kind=OutboxKind.FAREWELL)


def _pass_on(conn: Connection, row: InboxRow, turn: Turn, shown: bool) -> None:
    """Puts notifications to others into the outbox, and requests into the inbox of those whom they concern."""
    for each in turn.group_notifications:
        outbox.put(conn, each.to.channel, each.to.place, each.reply.text, inbound_id=row.id, kind=OutboxKind.LETTER)
    everything: tuple[Notification | RequestTo, ...] = (*turn.notifications, *turn.requests)
    for number, item in enumerate(everything):
        found = people.reached(conn, item.to, row.channel)
        if found is None:
            continue
        channel, key = found
        if isinstance(item, Notification):
            outbox.put(
                conn,
                channel,
                key,
                item.reply.text,
                person_id=item.to,
                inbound_id=row.id,
                kind=OutboxKind.LETTER,
                picture=item.reply.picture,
                sent_at=row.said_at if shown else None,
            )
        else:
            update_key = f"errand:{row.id}:{number}"
            inbox.receive(conn, NewRow(channel, update_key, key, Request(what=item.what), None, row.said_at))
