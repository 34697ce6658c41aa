"""Pauses from either side: the client's own, and one that a coach sets in the client's turn."""

from __future__ import annotations

from bot.conversation import saying
from bot.conversation.coaching.agreements import client_of
from bot.conversation.coaching.relaying import coached_by, pass_on
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Refuse
from bot.conversation.settings import pausing
from bot.conversation.settings.pausing import Stretch
from bot.kinds import Relayed, Why
from bot.language.guided import Pause, PauseFrom, Resume
from bot.store import coaching, facts
from bot.store.coaching import Coaching


def pause(meaning: Pause, ex: Exchange) -> Ask | Refuse | None:
    """Pauses the person, whose coaches are told, or asks for a client's pause."""
    if not meaning.client:
        wanted = pausing.wanted(meaning.first, meaning.until, ex.books.today)
        refused = pausing.pause(meaning.first, meaning.until, ex)
        if isinstance(wanted, Stretch):
            _tell_coaches(wanted, ex)
        return refused
    which = client_of(meaning, ex)
    if not isinstance(which, Coaching):
        return which
    books = coaching.books_of_client(ex.books, which.client_id)
    assert books is not None, "the coaching was read a moment ago, in this transaction"
    found = pausing.wanted(meaning.first, meaning.until, books.today)
    if isinstance(found, Refuse):
        return found
    pass_on(Relayed.PAUSE, which, PauseFrom(coach=ex.books.person.id, first=found.first, until=found.last), ex)
    if ex.requests:
        until = saying.day(found.last, books.today)
        ex.say(
            f"{which.called} is paused until {until} and has been told. The digest leaves {which.called} out until then."
        )
    return None


def resume(meaning: Resume, ex: Exchange) -> Ask | Refuse | None:
    """Ends the person's own pause, or a client's."""
    if not meaning.client:
        refused = pausing.resume(ex)
        if refused is None:
            for each in coaching.coaches(ex.books):
                ex.tell(each.coach_id, f"{each.called} is back from the pause.")
        return refused
    which = client_of(meaning, ex)
    if not isinstance(which, Coaching):
        return which
    books = coaching.books_of_client(ex.books, which.client_id)
    assert books is not None, "the coaching was read a moment ago, in this transaction"
    if pausing.pauses_of(facts.settings(books)).ahead(books.today) is None:
        return Refuse(f"{which.called} is not paused.", Why.IMPOSSIBLE)
    pass_on(Relayed.PAUSE, which, PauseFrom(coach=ex.books.person.id, ends=True), ex)
    if ex.requests:
        ex.say(f"{which.called}'s pause is over.")
    return None


def pause_from(meaning: PauseFrom, ex: Exchange) -> None:
    """Begins or ends a pause for a coach, in the client's turn; what has become impossible meanwhile is left."""
    which = coached_by(meaning.coach, ex)
    if which is None:
        return
    if meaning.ends:
        ex.say(f"{which.by}, ends your pause.")
        pausing.resume(ex)
        return
    ex.say(f"{which.by}, sets a pause for you.")
    pausing.pause(meaning.first, meaning.until, ex)


def _tell_coaches(found: Stretch, ex: Exchange) -> None:
    begins = "" if found.first == ex.books.today else f" from {saying.day(found.first, ex.books.today)}"
    for each in coaching.coaches(ex.books):
        ex.tell(each.coach_id, f"{each.called} pauses{begins} until {saying.day(found.last, ex.books.today)}.")
