"""How something gets from a coach to a client, and back to the coach."""

from __future__ import annotations

from bot import events
from bot.conversation.coaching.agreements import NO_CLIENTS, client_of
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Refuse
from bot.kinds import Relayed, Why
from bot.language.guided import Share, Tell
from bot.language.meanings import Meaning
from bot.store import coaching, people
from bot.store.coaching import Coaching


def receivers(meaning: Share | Tell, ex: Exchange) -> list[Coaching] | Ask | Refuse:
    """The one client that was named, or all of them."""
    if meaning.client:
        which = client_of(meaning, ex)
        return [which] if isinstance(which, Coaching) else which
    return coaching.clients(ex.books) or Refuse(NO_CLIENTS, Why.NO_SUCH_CLIENT)


def pass_on(what: Relayed, which: Coaching, meaning: Meaning, ex: Exchange) -> None:
    """Has it done in a turn of the client's own; where nothing reaches the client, the coach hears that."""
    if people.reached(ex.books.conn, which.client_id, "") is None:
        ex.say(f"{which.called} can't be reached at present, so this will not arrive.")
        return
    ex.send(which.client_id, meaning)
    ex.note(events.PassedOn(what=what, to=which.called))


def standing(coach_id: int, ex: Exchange, answering: bool = False) -> Coaching | None:
    """The coaching of this person by that coach, looked up in the person's own turn.

    Where it has ended nothing is done: what came from the coach is passed over in silence, an answer of the client's
    is told why.
    """
    which = coaching.coach(ex.books, coach_id)
    if which is None and answering:
        ex.say("That came from a coach who is none any more, so nothing is done.")
    return which
