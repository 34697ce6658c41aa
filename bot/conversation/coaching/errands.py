"""What somebody else has caused in a person's books: known again by its inbox row, and answered for."""

from __future__ import annotations

from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import decode_meaning
from bot.language.guided import LabelFrom, MeasureFrom, TargetFrom
from bot.language.meanings import Meaning
from bot.store import coaching, inbox
from bot.store.books import Books

WHAT = {TargetFrom: "the target", LabelFrom: "the label", MeasureFrom: "the measure"}


def errand(books: Books, inbound_id: int) -> Meaning | None:
    """What an inbox row of another's making wanted done; None when it is a message of the person's own."""
    row = inbox.get(books.conn, inbound_id)
    return decode_meaning(row.body["what"]) if row is not None and row.kind == "errand" else None


def taken_back(inbound_id: int, ex: Exchange) -> None:
    """Tells the coach whose doing the client has just undone, while the coaching stands."""
    meaning = errand(ex.books, inbound_id)
    if not isinstance(meaning, (TargetFrom, LabelFrom, MeasureFrom)):
        return
    which = coaching.coach(ex.books, meaning.coach)
    if which is not None:
        ex.tell(which.coach_id, f"{which.called} objects and has taken back {WHAT[type(meaning)]} that came from you.")
        ex.say(f"{which.coach} is told.")
