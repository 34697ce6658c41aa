"""Sharing a kitchen: members, invitations, joining, leaving, and the group that is its room."""

from __future__ import annotations

from datetime import timedelta

from bot import events, people_events
from bot.conversation import saying
from bot.conversation.batches.cooking import complete_waiting
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse, Then
from bot.conversation.questions.stored import decode
from bot.kinds import About, ListOf, Topic, Why
from bot.language.guided import Invite
from bot.language.kitchen import (
    AskInvitation,
    CloseRoom,
    GoOnWith,
    InviteToKitchen,
    JoinKitchen,
    LeaveKitchen,
    OpenRoom,
    WhoseKitchen,
)
from bot.language.meanings import Help
from bot.store import invites, kitchens, people, questions
from bot.store.invites import Invitation
from bot.store.kitchens import Brought, Member
from bot.store.people import Person

GOOD_FOR = timedelta(days=7)
MOST_NAMED = 8
"""Batches that are listed by name."""
SHARED = "You share batches and vessels. Everyone's day sheets, weigh-ins, body weights and targets stay private."
BAD_CODE = "That code is used, expired or mistyped, so nothing was changed. Please ask for a new one."
SAME = "That is the kitchen you are in already; the code is for somebody else."
LAPSED = "That invitation is no longer valid, so nothing was changed. Please ask for a new one."


def whose(meaning: WhoseKitchen, ex: Exchange) -> None:
    """Says who shares the kitchen; in a group, whether it is the kitchen's room."""
    if ex.group is not None:
        _what_the_group_is(ex)
        return
    others = kitchens.others(ex.books)
    ex.note(events.ListingShown(of=ListOf.KITCHEN, count=len(others) + 1))
    if not others:
        if meaning.invites:
            ex.say("You are alone in your kitchen.")
            invite(InviteToKitchen(), ex)
        else:
            ex.say("You are alone in your kitchen. To share it with somebody, say for example: invite Bo to my kitchen")
        return
    ex.say(f"In this kitchen: you and {_names(others)}. {SHARED}")
    if kitchens.room_of(ex.books.conn, ex.books.person.kitchen_id) is not None:
        ex.say("A group is its room. To end that: close the room")
    ex.say("To invite someone else, for example: invite Bo to my kitchen. To leave: leave the kitchen")


def _what_the_group_is(ex: Exchange) -> None:
    assert ex.group is not None
    ex.note(events.Answered(about=Topic.ROOM))
    here = kitchens.kitchen_of_room(ex.books.conn, ex.group.channel, ex.group.place)
    if here is None:
        ex.say("This group is not linked to a kitchen. To link it to yours, say here: /kitchen here")
    else:
        ex.say("This group is the kitchen's room. Say batches, or what you take: took 220 g from batch 2")


def _names(members: list[Member]) -> str:
    return saying.listed([member.name for member in members])


def ask_invitation(meaning: AskInvitation) -> Ask:
    """Asks to what somebody is to be invited."""
    choices = (
        Choice("to my kitchen", InviteToKitchen()),
        Choice("to be my client", Invite()),
        Choice("to be my coach", Help(topic="coaching")),
    )
    return Ask(About.INVITATION, "To your kitchen, or to be your coach or your client?", meaning, choices)


def invite(meaning: InviteToKitchen, ex: Exchange) -> None:
    """Makes an invitation code with which one person joins the kitchen."""
    books = ex.books
    until = books.at + GOOD_FOR
    code = invites.new(books.conn, invites.KITCHEN, books.at, until, made_by=books.person.id, called=meaning.called)
    ex.note(people_events.InvitedToKitchen(called=meaning.called))
    whom = meaning.called or "one person"
    ex.say(f"An invitation to your kitchen for {whom}, good once and for {GOOD_FOR.days} days. They send me:")
    ex.say(f"/start {code}")
    if ex.link_prefix:
        ex.say(f"Or pass on this link: {ex.link_prefix}{code}")
    ex.say(SHARED)


def offer(found: Invitation, made_by: int, ex: Exchange) -> Ask | Refuse | None:
    """Says whose kitchen it is and what is shared, and asks for confirmation.

    Somebody with nothing to bring or to leave behind is in at once: until they cook, nothing of theirs is shown.
    """
    host = people.by_id(ex.books.conn, made_by)
    if host is None:
        return Refuse(LAPSED, Why.BAD_CODE, says_so=True)
    if host.kitchen_id == ex.books.person.kitchen_id:
        ex.say(SAME)
        return None
    more = [member.name for member in kitchens.members(ex.books.conn, host.kitchen_id) if member.id != host.id]
    company = f" and {saying.listed(more)}" if more else ""
    left = kitchens.others(ex.books)
    yes = JoinKitchen(invite=found.id, kitchen_id=host.kitchen_id)
    if not left and kitchens.is_bare(ex.books):
        return join(yes, ex)
    what = (
        f"You would leave the kitchen that you share with {_names(left)}; its batches and vessels stay there."
        if left
        else "Your own batches and vessels come along."
    )
    text = f"Share a kitchen with {host.name}{company}? {SHARED} What anyone takes from a batch is gone for everyone. {what}"
    return Ask(About.KITCHEN_JOIN, text, yes, (Choice("yes, share it", yes), Choice("no", None)))


def join(meaning: JoinKitchen, ex: Exchange) -> Refuse | None:
    """Moves the person into the kitchen that they were invited to."""
    books = ex.books
    found = invites.taken(books.conn, meaning.invite, books.at, books.person.id)
    host = people.by_id(books.conn, found.made_by) if found is not None and found.made_by is not None else None
    if found is None or host is None or host.kitchen_id != meaning.kitchen_id:
        return Refuse(LAPSED, Why.BAD_CODE, says_so=True)
    if host.kitchen_id == books.person.kitchen_id:
        ex.say(SAME)
        return None
    behind = kitchens.others(books)
    _drop_questions(ex)
    brought, renamed = kitchens.join(books, meaning.kitchen_id)
    invites.spend(books.conn, found.id, books.at)
    ex.move_to(_as_now(books.person.id, ex))
    others = kitchens.others(ex.books)
    ex.note(people_events.KitchenJoined(members=len(others) + 1))
    ex.say(f"You share the kitchen with {_names(others)} now. {SHARED}")
    _say_brought(brought, renamed, ex)
    ex.say("Say batches to see what is there. To leave it: leave the kitchen")
    _tell_joined(host, others, brought, ex)
    _tell_left(behind, ex)
    return None


def _as_now(person_id: int, ex: Exchange) -> Person:
    now = people.by_id(ex.books.conn, person_id)
    assert now is not None
    return now


def _say_brought(brought: list[Brought], renamed: dict[str, str], ex: Exchange) -> None:
    still_open = [b for b in brought if not b.closed]
    for b in still_open[:MOST_NAMED]:
        number = f"is batch {b.new} here" if b.new != b.old else "keeps its number"
        ex.say(f"Your {b.name}, batch {b.old}, {number}.")
    if len(still_open) > MOST_NAMED:
        ex.say(f"… and {len(still_open) - MOST_NAMED} more.")
    for old, new in sorted(renamed.items()):
        ex.say(f"Your {old} is the {new} here: there was a {old} already.")


def _tell_joined(host: Person, others: list[Member], brought: list[Brought], ex: Exchange) -> None:
    name = ex.books.person.name
    came = [f"batch {b.new} ({b.name})" for b in brought if not b.closed]
    along = f" Came along: {saying.listed(came[:MOST_NAMED])}." if came else ""
    for member in others:
        invited = "you" if member.id == host.id else host.name
        ex.tell(member.id, f"{name} shares the kitchen now, invited by {invited}.{along}")


def _tell_left(behind: list[Member], ex: Exchange) -> None:
    for member in behind:
        ex.tell(member.id, f"{ex.books.person.name} has left the kitchen. Its batches and vessels stay.")


def _drop_questions(ex: Exchange) -> None:
    """Drops questions about batches, which can't be answered in another kitchen."""
    for question in questions.waiting(ex.books):
        pending, choices = decode(question.subject)
        if any(getattr(each, "batch", None) is not None for each in (pending, *choices)):
            questions.dropped(ex.books, question.id)
            ex.say(f"Question dropped: {question.text}")


def leave(meaning: LeaveKitchen, ex: Exchange) -> Ask | None:
    """Gives the person a kitchen of their own; the others keep the batches."""
    others = kitchens.others(ex.books)
    if not others:
        ex.say("You are alone in your kitchen already.")
        return None
    if not meaning.sure:
        text = f"Leave the kitchen that you share with {_names(others)}? Its batches and vessels stay there; what you have eaten stays on your sheets."
        yes = Choice("yes, leave it", LeaveKitchen(sure=True))
        return Ask(About.KITCHEN_LEAVE, text, meaning, (yes, Choice("no", None)))
    _drop_questions(ex)
    kitchens.leave(ex.books)
    ex.move_to(_as_now(ex.books.person.id, ex))
    ex.note(people_events.KitchenLeft())
    ex.say("You have a kitchen of your own again, with no batch and no vessel in it yet.")
    _tell_left(others, ex)
    return None


def open_room(meaning: OpenRoom, ex: Exchange) -> Ask | Refuse | None:
    """Makes the group in which it was sent the kitchen's room, after a confirmation."""
    if ex.group is None:
        ex.say("Say that in the group that you want as your kitchen's room: add me there, then say: /kitchen here")
        return None
    if kitchens.kitchen_of_room(ex.books.conn, ex.group.channel, ex.group.place) is not None:
        ex.say("This group is the kitchen's room already.")
        return None
    if meaning.place != ex.group.place:
        text = (
            "Make this group your kitchen's room? Everybody here will see its batches and what is left of them. "
            "Nobody's sheet is ever shown."
        )
        yes = Choice("yes, here", OpenRoom(place=ex.group.place))
        return Ask(About.KITCHEN_ROOM, text, meaning, (yes, Choice("no", None)))
    kitchens.open_room(ex.books, ex.group.channel, ex.group.place)
    ex.note(people_events.RoomOpened())
    ex.say("This group is the kitchen's room now. Say batches, or what you take: took 220 g from batch 2")
    for member in kitchens.others(ex.books):
        ex.tell(
            member.id,
            f"{ex.books.person.name} made a group your kitchen's room: its batches are announced there from now on, and everybody there sees them. Nobody's sheet is shown. To end that, say: close the room",
        )
    return None


def close_room(_: CloseRoom, ex: Exchange) -> None:
    """Removes the kitchen's room."""
    if not kitchens.close_room(ex.books):
        ex.say("Your kitchen has no room.")
        return
    ex.note(people_events.RoomClosed())
    ex.say("The kitchen has no room any more: only its members are told about its batches.")
    for member in kitchens.others(ex.books):
        ex.tell(member.id, f"{ex.books.person.name} closed your kitchen's room.")


def go_on(meaning: GoOnWith, ex: Exchange) -> Then:
    """The portions that waited for a cooked weight that another member has saved."""
    return complete_waiting(meaning.batch, ex)
