"""What a coach sends is carried out in a turn of the client's own; what comes of it is reported back."""

from __future__ import annotations

from bot import people_events
from bot.conversation.coaching.agreements import NO_CLIENTS, client_of, matching
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Refuse
from bot.conversation.questions.stored import decode_meaning
from bot.kinds import Relayed, Why
from bot.language.guided import LabelFrom, MeasureFrom, Share, TargetFrom, Tell
from bot.language.meanings import Meaning
from bot.store import coaching, people, remarks
from bot.store.books import Books
from bot.store.coaching import Coaching
from bot.store.delivery import inbox
from bot.store.delivery.inbox import Request

WHAT = {TargetFrom: "the target", LabelFrom: "the label", MeasureFrom: "the measure"}


def receivers(meaning: Share | Tell, ex: Exchange) -> list[Coaching] | Ask | Refuse:
    """The client or the group that was named, or all clients."""
    group = _group(meaning.client, ex)
    if group:
        return group
    if meaning.client:
        which = client_of(meaning, ex)
        return [which] if isinstance(which, Coaching) else which
    return coaching.clients(ex.books) or Refuse(NO_CLIENTS, Why.NO_SUCH_CLIENT)


def _group(name: str, ex: Exchange) -> list[Coaching]:
    """The clients in the coach's group of that name; none when a client has the name."""
    mine = coaching.clients(ex.books)
    said = name.casefold().strip()
    if not said or matching(name, mine, lambda each: each.called):
        return []
    wanted = said.removeprefix("group ").removesuffix(" group")
    members = {each.client_id for each in remarks.mine(ex.books) if (each.kind, each.text) == ("group", wanted)}
    return [each for each in mine if each.client_id in members]


def pass_on(what: Relayed, which: Coaching, meaning: Meaning, ex: Exchange) -> None:
    """Has a meaning handled in a turn of the client's own; tells the coach when the client can't be reached."""
    if people.reached(ex.books.conn, which.client_id, "") is None:
        ex.say(f"{which.called} can't be reached at present, so this will not arrive.")
        return
    ex.send(which.client_id, meaning)
    ex.note(people_events.PassedOn(what=what, to=which.called))


def coached_by(coach_id: int, ex: Exchange, answering: bool = False) -> Coaching | None:
    """The coaching of this person by that coach, or None when it has ended.

    With `answering`, the client is told that it has ended; what a former coach sent is ignored without a word.
    """
    which = coaching.coach(ex.books, coach_id)
    if which is None and answering:
        ex.say("That came from someone who is no longer your coach, so nothing was changed.")
    return which


def relayed_by(books: Books, inbound_id: int) -> Meaning | None:
    """The meaning that an inbox row carries which another person's message caused; None for the person's own message."""
    row = inbox.get(books.conn, inbound_id)
    return decode_meaning(row.content.what) if row is not None and isinstance(row.content, Request) else None


def taken_back(inbound_id: int, ex: Exchange) -> None:
    """Tells the coach, unless the coaching has ended, that the client has undone what came from them."""
    meaning = relayed_by(ex.books, inbound_id)
    if not isinstance(meaning, (TargetFrom, LabelFrom, MeasureFrom)):
        return
    which = coaching.coach(ex.books, meaning.coach)
    if which is not None:
        ex.tell(which.coach_id, f"{which.called} objected and removed {WHAT[type(meaning)]} that came from you.")
        ex.say(f"{which.coach} is told.")
