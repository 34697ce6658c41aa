"""Cover: a colleague stands in for a coach for a limited time, if the colleague and each client agree."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta

from bot import events, people_events
from bot.conversation import saying
from bot.conversation.coaching.agreements import GOOD_FOR, LAPSED, LONGEST_NAME, NO_CLIENTS, free_name, matching
from bot.conversation.coaching.relaying import receivers
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse
from bot.kinds import About, Topic, Why
from bot.language.guided import Tell
from bot.language.practice import CoverBy, CoverFrom, EndCover, TakeCover
from bot.store import coaching, covers, invites, people, remarks
from bot.store.coaching import Coaching
from bot.store.covers import CoverRequest
from bot.store.invites import Invitation

LONGEST = timedelta(days=90)
"""The longest cover. One without an end lasts as long, so that nobody reads records under a cover that was forgotten."""
_ONE_DAY = timedelta(days=1)


def ask_for(meaning: CoverBy, ex: Exchange) -> Refuse | None:
    """Creates an invitation for the colleague; the clients are asked once the colleague has accepted it."""
    found = _clients(meaning, ex)
    if isinstance(found, Refuse):
        return found
    if matching(meaning.colleague, coaching.clients(ex.books), lambda each: each.called):
        return Refuse(f"{meaning.colleague} is your client; only a colleague can cover for you.", Why.IMPOSSIBLE)
    today = ex.books.today
    until = meaning.until or today + LONGEST
    if not today <= until <= today + LONGEST:
        return Refuse(f"A cover lasts at most {LONGEST.days} days and has to end in the future.", Why.IMPOSSIBLE)
    colleague = meaning.colleague[:LONGEST_NAME]
    books = ex.books
    code = invites.new(books.conn, invites.COVER, books.at, books.at + GOOD_FOR, books.person.id, colleague)
    covers.ask(books, invites.id_of(books.conn, code), [each.client_id for each in found], until)
    ex.note(people_events.Invited(called=colleague))
    names = saying.listed([each.called for each in found])
    last = saying.day(until, today)
    lasts = f"until {last}" if meaning.until else f"until you end it, but no later than {last}"
    ex.say(f"{colleague} can cover {names} {lasts}.")
    ex.say(
        f"Pass on to {colleague}: {ex.link_prefix}{code}"
        if ex.link_prefix
        else f"Have {colleague} send me: /start {code}"
    )
    ex.say("Each client is then asked, and is covered only if they agree. To end it: end the cover")
    return None


def _clients(meaning: CoverBy, ex: Exchange) -> list[Coaching] | Refuse:
    """The coach's own clients that are meant, without those whom the coach only covers."""
    mine = [each for each in coaching.clients(ex.books) if each.covers_id is None]
    if meaning.group:
        members = receivers(Tell(client=f"group {meaning.group}", text=""), ex)
        if not isinstance(members, list):
            return Refuse(f"You have no group called {meaning.group}.", Why.NO_SUCH_CLIENT)
        mine = [each for each in mine if each in members]
    found = []
    for name in meaning.clients:
        meant = matching(name, mine, lambda each: each.called)
        if len(meant) != 1:
            return Refuse(f"Which of your clients is {name}? Say the whole name.", Why.NO_SUCH_CLIENT)
        found += meant
    return (found if meaning.clients else mine) or Refuse(NO_CLIENTS, Why.NO_SUCH_CLIENT)


def offer(found: Invitation, made_by: int, ex: Exchange) -> Ask | Refuse:
    """Asks the colleague. Who the clients are is told only as each of them says yes."""
    books = ex.books
    asked = covers.of_invite(books, found.id)
    coach = people.by_id(books.conn, made_by)
    if made_by == books.person.id:
        return Refuse("That is an invitation of your own. Pass it on to your colleague.", Why.BAD_CODE)
    if coach is None or not asked:
        return Refuse(LAPSED, Why.BAD_CODE)
    covers.take(books, found.id)
    until = saying.day(asked[0].last_day, books.today)
    ex.say(
        f"{coach.name} asks you to cover {saying.counted(len(asked), 'client')} until {until}. Each client is asked too. "
        "Once one agrees, you see their records and can do what their coach can, until that day and no longer."
    )
    pending = TakeCover(invite=found.id)
    choices = (Choice("yes, I cover", replace(pending, agreed=True)), Choice("no", pending))
    return Ask(About.COVER, f"Do you cover for {coach.name}?", pending, choices)


def take(meaning: TakeCover, ex: Exchange) -> Refuse | None:
    """Handles the colleague's answer: after a yes, each client is asked in a turn of their own."""
    books = ex.books
    found = invites.taken(books.conn, meaning.invite, books.at, books.person.id)
    asked = [each for each in covers.of_invite(books, meaning.invite) if each.colleague_id == books.person.id]
    if found is None or found.made_by is None or not asked:
        return Refuse(LAPSED, Why.BAD_CODE)
    invites.spend(books.conn, found.id, books.at)
    ex.note(events.Answered(about=Topic.COACHING))
    if not meaning.agreed:
        for request in asked:
            covers.drop(books, request.id)
        ex.say("All right, you are not covering for anyone.")
        ex.tell(found.made_by, f"{found.called} does not cover your clients.")
        return None
    people.update(books.conn, books.person.id, role="coach")
    for request in asked:
        ex.send(request.client_id, CoverFrom(request=request.id))
    ex.say(f"Thank you. I am asking {saying.counted(len(asked), 'client')} now and will tell you who agrees.")
    ex.tell(
        found.made_by, f"{found.called} covers for you. I am asking your clients now and will tell you what they say."
    )
    return None


def ask_client(meaning: CoverFrom, ex: Exchange) -> Ask | None:
    """Asks a client whether a colleague of their coach's may cover, or carries out the answer."""
    books = ex.books
    request = covers.of_client(books, meaning.request)
    which = None if request is None else coaching.coach(books, request.coach_id)
    colleague = None
    if request is not None and request.colleague_id is not None:
        colleague = people.by_id(books.conn, request.colleague_id)
    if request is None or which is None or colleague is None or request.last_day < books.today:
        if meaning.agreed is not None:
            ex.say("That is no longer asked for, so nothing was changed.")
        return None
    until = saying.day(request.last_day, books.today)
    if meaning.agreed is None:
        ex.say(
            f"{which.coach}, your coach, asks that {colleague.name} covers until {until}. If you agree, {colleague.name} "
            f"sees what {which.coach} sees and can do the same, until then and no longer. What you leave out for "
            f"{which.coach} stays left out. You can end it at any time: end coaching with {colleague.name}"
        )
        choices = (Choice("yes", replace(meaning, agreed=True)), Choice("no", replace(meaning, agreed=False)))
        return Ask(About.COVER, f"May {colleague.name} cover for {which.coach}?", meaning, choices)
    covers.drop(books, request.id)
    if not meaning.agreed:
        ex.say(f"All right, {colleague.name} can't see any of your records. {which.coach} is told.")
        ex.tell(which.coach_id, f"{which.called} does not want to be covered by {colleague.name}.")
        return None
    if coaching.coach(books, colleague.id) is not None or colleague.id == books.person.id:
        ex.say(f"{colleague.name} sees your records already.")
        return None
    _begin(request, which, colleague.id, ex)
    ex.say(f"{colleague.name} covers for {which.coach} until {until}. To see who sees what: who sees my data?")
    return None


def _begin(request: CoverRequest, which: Coaching, colleague_id: int, ex: Exchange) -> None:
    books = ex.books
    called = free_name(which.called, coaching.names_taken(books, colleague_id))
    coaching.begin(books, colleague_id, called, _end_of(request.last_day, ex), which.coach_id)
    colleague = coaching.coach(books, colleague_id)
    assert colleague is not None, "it began a moment ago, and its last day is not over"
    ex.note(people_events.CoachingAgreed(coach=colleague.coach, client=called))
    until = saying.day(request.last_day, books.today)
    ex.tell(colleague_id, f"{called} said yes: you cover {called} for {which.coach} until {until}. Say: roster")
    ex.tell(which.coach_id, f"{which.called} said yes: {colleague.coach} covers until {until}.")


def _end_of(day: date, ex: Exchange) -> datetime:
    """The moment at which the day ends for the person."""
    person = ex.books.person
    return datetime.combine(day + _ONE_DAY, time(person.day_starts), person.timezone).astimezone(UTC)


def end(meaning: EndCover, ex: Exchange) -> Refuse | None:
    """Ends the covers by one colleague or by all, and withdraws waiting requests."""
    mine = coaching.covers(ex.books)
    found = matching(meaning.colleague, mine, lambda each: each.coach) if meaning.colleague else mine
    covers.withdraw(ex.books)
    if not found:
        whom = f"by {meaning.colleague}" if meaning.colleague else "of your clients"
        return Refuse(f"There is no cover {whom} now; waiting requests are withdrawn.", Why.NO_SUCH_CLIENT)
    for each in found:
        coaching.end(ex.books, each)
        remarks.drop_all(ex.books, each.coach_id, each.client_id)
        ex.note(people_events.CoachingEnded(coach=each.coach, client=each.called))
        ex.tell(each.coach_id, f"You no longer cover {each.called} for {each.covers}.")
        ex.tell(
            each.client_id, f"{each.coach} no longer covers for {each.covers}, and can't see your records any more."
        )
    names = saying.listed(sorted({each.coach for each in found}))
    ex.say(f"{names} no longer covers your clients, and can't see their records any more; everyone is told.")
    return None
