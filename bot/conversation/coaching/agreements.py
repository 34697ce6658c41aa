"""Coaching agreements: invitation, consent, who sees what, and ending."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import timedelta

from bot import events, fact_events, people_events
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
    WhoSees,
    Withhold,
)
from bot.store import coaching, invites, kitchens, people, questions, remarks
from bot.store.books import Books
from bot.store.coaching import Coaching
from bot.store.invites import Invitation

GOOD_FOR = timedelta(days=7)
LONGEST_NAME = 40
LAPSED = "That invitation does not hold any more. Please ask for a new one."
SEEN = (
    "{coach} asks to be your coach. With your yes, {coach} sees what you put on record from now on and what is there "
    "already: weigh-ins, day and week sheets with the body weights in them, your target, and which questions wait. "
    "{coach} can set your target, send you notes, labels and measures, and ask you to weigh something again; "
    "you are told each time. You can leave a part out, for example: hide my weight from {coach}. You can end it at any "
    "moment: end coaching with {coach}"
)
NO_CLIENTS = "You have no clients yet. To invite someone, for example: invite Ana"
PARTS = {"body_weight": "body weight", "energy": "energy", "comments": "comments on what you eat"}
"""The parts of the consent that can be left out."""
SEES = {
    ("body_weight", False): "does not see your body weight",
    ("body_weight", True): "sees your body weight",
    ("energy", False): "sees what you eat and weigh, but no energy and no sums",
    ("energy", True): "sees your energy and sums",
    ("comments", False): "can't comment on your meals and weigh-ins",
    ("comments", True): "can comment on your meals and weigh-ins",
}
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
    ex.say("They are told what you will see; you see it once they say yes.")
    return None


def offer(found: Invitation, made_by: int, ex: Exchange) -> Ask | Refuse | None:
    """Says who asks and what they would see, and asks for consent."""
    if made_by == ex.books.person.id:
        return Refuse("That is an invitation of your own. Pass it on to the one you want to guide.", Why.BAD_CODE)
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
    return Ask(About.COACHING, f"Shall {coach.name} be your coach and see your sheets?", pending, choices)


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
        ex.say(f"All right: {coach.name} sees nothing of yours.")
        ex.tell(coach.id, f"Your invitation{f' for {found.called}' if found.called else ''} was declined.")
        return None
    if coaching.coach(books, coach.id) is not None:
        ex.say(f"{coach.name} is your coach already.")
        return None
    called = _free_name(found.called or books.person.name[:LONGEST_NAME], coaching.names_taken(books, coach.id))
    coaching.begin(books, coach.id, called)
    ex.note(people_events.CoachingAgreed(coach=coach.name, client=called))
    ex.say(f"{coach.name} is your coach from now on and sees your sheets. To end it: end coaching with {coach.name}")
    if ex.last is None:
        ex.say("Now text me what your scale says, for example: 180 g cooked rice. Say help for more.")
    known_as = "" if called.casefold() == books.person.name.casefold() else f" (here as {books.person.name})"
    ex.tell(coach.id, f"{called}{known_as} said yes: you guide {called} from now on. Say: roster, or: {called}'s week")
    return None


def _free_name(wanted: str, taken: set[str]) -> str:
    number = 2
    name = wanted
    while name.casefold() in taken:
        name, number = f"{wanted} {number}", number + 1
    return name


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
        return Ask(About.END_COACHING, "Which coaching shall end?", meaning, choices)
    (which,) = found
    coaching.end(ex.books, which)
    remarks.drop_all(ex.books, which.coach_id, which.client_id)
    ex.note(people_events.CoachingEnded(coach=which.coach, client=which.called))
    if which.coach_id == me:
        ex.say(f"You don't guide {which.called} any more, and see nothing of theirs from now on.")
        ex.send(which.client_id, Ended(coach=me, name=which.coach))
    else:
        _close_questions(which.coach_id, ex)
        ex.say(f"{which.coach} is not your coach any more, and sees nothing of yours from now on.")
        ex.tell(which.coach_id, f"{which.called} has ended the coaching; you see nothing of theirs any more.")
    return None


def ended(meaning: Ended, ex: Exchange) -> None:
    """Tells a client that the coach has ended the coaching, and drops that coach's open questions."""
    _close_questions(meaning.coach, ex)
    ex.say(f"{meaning.name} has ended the coaching and sees nothing of yours any more.")


def _close_questions(coach_id: int, ex: Exchange) -> None:
    for question in questions.waiting(ex.books):
        pending, _ = decode(question.subject)
        if isinstance(pending, (LabelFrom, MeasureFrom, Reweigh)) and pending.coach == coach_id:
            questions.dropped(ex.books, question.id)


def who_sees(_: WhoSees, ex: Exchange) -> None:
    """Says who can see the person's data."""
    ex.note(events.Answered(about=Topic.COACHING))
    for line in seen_by(ex.books):
        ex.say(line)


def seen_by(books: Books) -> list[str]:
    """A sentence for each person who can see any of this person's data, and what they see."""
    mine = coaching.coaches(books)
    zone = books.person.timezone
    lines = []
    for each in mine:
        since = each.agreed_at.astimezone(zone)
        spared = [PARTS[part] for part in sorted(coaching.withheld_from(books, each.coach_id))]
        without = f", but no {saying.listed(spared, 'or')}" if spared else ""
        lines.append(
            f"{each.coach} has been your coach since {since.day} {since:%B %Y} and sees your records and sheets{without}."
        )
    if mine:
        lines.append(f"To end it: end coaching with {mine[0].coach}")
        lines.append("Nobody else here sees them; whoever runs this bot keeps the database and its backups.")
    else:
        lines.append(
            "You have no coach. Nobody here sees your records but you; "
            "whoever runs this bot keeps the database and its backups."
        )
    company = kitchens.others(books)
    if company:
        names = saying.listed([each.name for each in company])
        lines.append(
            f"With {names} you share batches and vessels, and what is left of them; no sheet, weight or target."
        )
    if kitchens.room_of(books.conn, books.person.kitchen_id) is not None:
        lines.append("Batches and vessels also show in the kitchen's group; your records never do.")
    return lines


def withhold(meaning: Withhold, ex: Exchange) -> Refuse | None:
    """Leaves a part out of the consent for a coach, or for all of them, or gives it again; they are told."""
    mine = coaching.coaches(ex.books)
    found = matching(meaning.coach, mine, lambda each: each.coach) if meaning.coach else mine
    if not found:
        names = saying.listed([each.coach for each in mine])
        known = f"Your coach: {names}." if mine else "You have no coach, and nobody here sees your records but you."
        return Refuse(f"That is nobody who coaches you. {known}" if meaning.coach else known, Why.NO_SUCH_CLIENT)
    part = PARTS[meaning.what]
    for each in found:
        before = coaching.withheld_from(ex.books, each.coach_id)
        after = before - {meaning.what} if meaning.given else before | {meaning.what}
        if after != before:
            coaching.withhold(ex.books, each.coach_id, after)
            ex.tell(each.coach_id, f"{each.called} {_now(meaning, part)}")
    ex.note(
        fact_events.SettingChanged(name="withheld", value=f"{meaning.what} {'given' if meaning.given else 'withheld'}")
    )
    names = saying.listed([each.coach for each in found])
    ex.say(f"From now on: {names} {SEES[meaning.what, meaning.given]}. {names} {_are(found)} told.")
    return None


def _are(found: Sequence[Coaching]) -> str:
    return "is" if len(found) == 1 else "are"


def _now(meaning: Withhold, part: str) -> str:
    if meaning.what == "comments":
        return "takes comments on meals and weigh-ins again." if meaning.given else "wants no comments any more."
    return f"shares {part} with you again." if meaning.given else f"does not share {part} with you any more."


def client_of(meaning: ForClient, ex: Exchange) -> Coaching | Ask | Refuse:
    """The client that a meaning names; a question when several match. Never reveals anybody who is not a client."""
    mine = coaching.clients(ex.books)
    found = matching(meaning.client, mine, lambda each: each.called)
    if len(found) == 1:
        return found[0]
    if found:
        choices = tuple(Choice(saying.choice(e.called), replace(meaning, client=e.called)) for e in found[:4])
        return Ask(About.CLIENT, f"Which {meaning.client}?", meaning, choices)
    if not mine:
        return Refuse(NO_CLIENTS, Why.NO_SUCH_CLIENT)
    names = saying.listed([each.called for each in mine])
    return Refuse(f"None of your clients is called {meaning.client}. Your clients: {names}.", Why.NO_SUCH_CLIENT)


def matching(said: str, among: Sequence[Coaching], name: Callable[[Coaching], str]) -> list[Coaching]:
    """Those with exactly that name, or else those with it as one of their names."""
    word = said.casefold().strip()
    whole = [each for each in among if name(each).casefold() == word]
    return whole or [each for each in among if word in name(each).casefold().split()]
