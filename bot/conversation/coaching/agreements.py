"""Coaching agreements: invitation, consent, who sees what, and ending."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import timedelta
from typing import TypeVar

from bot import events, people_events
from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse
from bot.conversation.questions.stored import decode
from bot.kinds import About, Topic, Why
from bot.language.guided import (
    AskReweigh,
    ClientFood,
    ClientHistory,
    ClientReport,
    ClientSheet,
    ClientTrend,
    Comment,
    CompareWeeks,
    Consent,
    EndCoaching,
    Ended,
    HowIs,
    Invite,
    LabelFrom,
    MeasureFrom,
    Pause,
    PrivateNote,
    PrivateNotes,
    PutInGroup,
    Resume,
    Reweigh,
    Share,
    TargetFor,
    Tell,
)
from bot.store import coaching, invites, people, questions, remarks
from bot.store.coaching import Coaching
from bot.store.invites import Invitation

GOOD_FOR = timedelta(days=7)
LONGEST_NAME = 40
LAPSED = "That invitation is no longer valid. Please ask for a new one."
SEEN = (
    "{coach} asks to be your coach. If you agree, {coach} sees your records, both new ones and those you have already: "
    "weigh-ins, day and week sheets with your body weights, your target, and which questions wait. "
    "{coach} can set your target, send you notes, labels and measures, and ask you to weigh something again; "
    "you are told each time. You can leave a part out, for example: hide my weight from {coach}. For a file of your "
    "records, {coach} has to ask you separately. You can end it at any time: end coaching with {coach}"
)
NO_CLIENTS = "You have no clients yet. To invite someone, for example: invite Ana"
YES, NO = "yes, show my sheets", "no"


ForClient = (
    HowIs
    | ClientSheet
    | ClientHistory
    | CompareWeeks
    | ClientTrend
    | ClientFood
    | ClientReport
    | TargetFor
    | Share
    | Tell
    | AskReweigh
    | Comment
    | Pause
    | Resume
    | PrivateNote
    | PrivateNotes
    | PutInGroup
)
"""The meanings that name a client."""

One = TypeVar("One")


def matching(said: str, among: Sequence[One], name: Callable[[One], str]) -> list[One]:
    """Those with exactly that name, or else those with it as one of their names."""
    word = said.casefold().strip()
    whole = [each for each in among if name(each).casefold() == word]
    return whole or [each for each in among if word in name(each).casefold().split()]


def free_name(wanted: str, taken: set[str]) -> str:
    """The name, or the name with the first number that makes it one of nobody's."""
    number = 2
    name = wanted
    while name.casefold() in taken:
        name, number = f"{wanted} {number}", number + 1
    return name


def invite(meaning: Invite, ex: Exchange) -> Refuse | None:
    """Makes an invitation code for one person, valid for seven days, and makes the sender a coach."""
    books = ex.books
    called = " ".join(meaning.called.split())[:LONGEST_NAME]
    if called and called.casefold() in coaching.names_taken(books, books.person.id):
        return Refuse(
            f"You have a client called {called}. Give the new one another name, for example: invite {called} B",
            Why.NAME_TAKEN,
        )
    code = invites.new(books.conn, invites.COACH, books.at, books.at + GOOD_FOR, books.person.id, called or None)
    people.update(books.conn, books.person.id, role="coach")
    ex.note(people_events.Invited(called=called or None))
    ex.say(f"An invitation{f' for {called}' if called else ''}, for one person and good for seven days.")
    if ex.link_prefix:
        ex.say(f"Pass on this link: {ex.link_prefix}{code}")
        ex.say(f"Or have them send me: /start {code}")
    else:
        ex.say(f"Have them send me: /start {code}")
    ex.say("They are told what you will see, and you see it once they agree.")
    return None


def offer(found: Invitation, made_by: int, ex: Exchange) -> Ask | Refuse | None:
    """Says who asks and what they would see, and asks for consent."""
    if made_by == ex.books.person.id:
        return Refuse("That is an invitation of your own. Pass it on to the person you want to coach.", Why.BAD_CODE)
    coach = people.by_id(ex.books.conn, made_by)
    if coach is None:
        return Refuse(LAPSED, Why.BAD_CODE)
    if coaching.coach(ex.books, coach.id) is not None:
        invites.spend(ex.books.conn, found.id, ex.books.at)
        ex.note(events.Answered(about=Topic.COACHING))
        ex.say(f"{coach.name} is your coach already.")
        return None
    ex.say(SEEN.format(coach=coach.name))
    pending = Consent(invite=found.id)
    choices = (Choice(YES, replace(pending, agreed=True)), Choice(NO, pending))
    return Ask(About.COACHING, f"Do you want {coach.name} to be your coach and see your sheets?", pending, choices)


def consent(meaning: Consent, ex: Exchange) -> Refuse | None:
    """Starts the coaching on a yes. Either answer uses up the invitation and is reported to the coach."""
    books = ex.books
    found = invites.taken(books.conn, meaning.invite, books.at, books.person.id)
    coach = None if found is None or found.made_by is None else people.by_id(books.conn, found.made_by)
    if found is None or coach is None or coach.id == books.person.id:
        return Refuse(LAPSED, Why.BAD_CODE)
    invites.spend(books.conn, found.id, books.at)
    if not meaning.agreed:
        ex.note(events.Answered(about=Topic.COACHING))
        ex.say(f"All right, {coach.name} can't see any of your records.")
        ex.tell(coach.id, f"Your invitation{f' for {found.called}' if found.called else ''} was declined.")
        return None
    if coaching.coach(books, coach.id) is not None:
        ex.say(f"{coach.name} is your coach already.")
        return None
    called = free_name(found.called or books.person.name[:LONGEST_NAME], coaching.names_taken(books, coach.id))
    coaching.begin(books, coach.id, called)
    ex.note(people_events.CoachingAgreed(coach=coach.name, client=called))
    ex.say(f"{coach.name} is your coach from now on and sees your sheets. To end it: end coaching with {coach.name}")
    if ex.last is None:
        ex.say("Now text me what your scale says, for example: 180 g cooked rice. Say help for more.")
    known_as = "" if called.casefold() == books.person.name.casefold() else f" (here as {books.person.name})"
    ex.tell(coach.id, f"{called}{known_as} agreed: you are now {called}'s coach. Say: roster, or: {called}'s week")
    return None


def end(meaning: EndCoaching, ex: Exchange) -> Ask | Refuse | None:
    """Ends the coaching at once, from either side, and tells both."""
    me = ex.books.person.id
    mine = [*coaching.clients(ex.books), *coaching.coaches(ex.books)]
    if not mine:
        return Refuse("You have no clients and no coach.", Why.NO_SUCH_CLIENT)

    def name(each: Coaching) -> str:
        return each.called if each.coach_id == me else each.coach

    found = matching(meaning.whom, mine, name) if meaning.whom else mine
    if not found:
        names = saying.listed([name(each) for each in mine])
        return Refuse(f"You have no coaching with {meaning.whom}, only with {names}.", Why.NO_SUCH_CLIENT)
    if len(found) > 1:
        choices = tuple(Choice(saying.choice(name(e)), EndCoaching(whom=name(e))) for e in found[:4])
        return Ask(About.END_COACHING, "Which coaching do you want to end?", meaning, choices)
    (which,) = found
    for cover in coaching.end(ex.books, which):
        remarks.drop_all(ex.books, cover.coach_id, cover.client_id)
        ex.tell(cover.coach_id, f"You no longer cover {cover.called} for {cover.covers}: the coaching has ended.")
    remarks.drop_all(ex.books, which.coach_id, which.client_id)
    if which.covers_id is not None:
        ex.tell(which.covers_id, f"{which.coach} no longer covers {which.called} for you.")
    ex.note(people_events.CoachingEnded(coach=which.coach, client=which.called))
    if which.coach_id == me:
        ex.say(f"You no longer coach {which.called}, and can't see their records any more.")
        ex.send(which.client_id, Ended(coach=me, name=which.coach))
    else:
        _close_questions(which.coach_id, ex)
        ex.say(f"{which.coach} is no longer your coach and can't see your records any more.")
        if which.covers_id is None:
            ex.say(f"To take it back: share with {which.coach} again")
        ex.tell(which.coach_id, f"{which.called} has ended the coaching; you can't see their records any more.")
    return None


def ended(meaning: Ended, ex: Exchange) -> None:
    """Tells a client that the coach has ended the coaching, and drops that coach's open questions."""
    _close_questions(meaning.coach, ex)
    ex.say(f"{meaning.name} has ended the coaching and can't see your records any more.")


def _close_questions(coach_id: int, ex: Exchange) -> None:
    for question in questions.waiting(ex.books):
        pending, _ = decode(question.subject)
        if isinstance(pending, (LabelFrom, MeasureFrom, Reweigh)) and pending.coach == coach_id:
            questions.dropped(ex.books, question.id)


def client_of(meaning: ForClient, ex: Exchange) -> Coaching | Ask | Refuse:
    """The client that a meaning names; a question when several match. Never reveals anybody who is not a client."""
    mine = coaching.clients(ex.books)
    found = matching(meaning.client, mine, lambda each: each.called)
    if len(found) == 1:
        return found[0]
    if found:
        choices = tuple(Choice(saying.choice(e.called), replace(meaning, client=e.called)) for e in found[:4])
        return Ask(About.CLIENT, f"Which {meaning.client}?", meaning, choices)
    names = saying.listed([each.called for each in mine])
    if meaning.client.casefold() in {name.casefold() for name in ex.known.own.clients_before}:
        return Refuse(
            f"{meaning.client} is no longer your client, and you can't see their records any more. "
            f"To ask for their consent again, say: invite {meaning.client}",
            Why.NO_SUCH_CLIENT,
        )
    if not mine and (coaching.coaches(ex.books) or ex.known.own.coaches_before):
        return Refuse(
            f"I can't tell you anything about {meaning.client}: you only see your own records here.",
            Why.NO_SUCH_CLIENT,
        )
    if not mine:
        return Refuse(NO_CLIENTS, Why.NO_SUCH_CLIENT)
    are = "clients are" if len(mine) > 1 else "client is"
    return Refuse(f"You have no client called {meaning.client}. Your {are} {names}.", Why.NO_SUCH_CLIENT)
