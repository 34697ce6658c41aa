"""Waiting questions: their order, which of them the record waits for, and which lapse."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.conversation.exchange import Exchange
from bot.kinds import About
from bot.store import questions
from bot.store.questions import StoredQuestion

NOT_OF_THE_RECORD: Final = frozenset({About.REMINDER_TIME, About.TIMEZONE, About.ERASE})
"""Questions about settings, which have a default meanwhile."""


IRREVOCABLE: Final = frozenset({About.ERASE, About.END_COACHING, About.KITCHEN_LEAVE, About.KITCHEN_ROOM})
"""Questions whose yes no undo takes back."""


def of_the_record(waiting: Sequence[StoredQuestion]) -> list[StoredQuestion]:
    """The questions that something of the record waits for."""
    return [question for question in waiting if question.about not in NOT_OF_THE_RECORD]


def in_order(waiting: Sequence[StoredQuestion]) -> list[StoredQuestion]:
    """The waiting questions, the one shown latest first: the newest message's, in the order that it asked."""
    newest = sorted({q.inbound_id for q in waiting}, reverse=True)
    return [q for inbound in newest for q in waiting if q.inbound_id == inbound]


def drop_irrevocable(waiting: Sequence[StoredQuestion], ex: Exchange) -> None:
    """Drops questions about what no undo takes back once the person says something else: a later yes is about that."""
    for question in waiting:
        if question.about in IRREVOCABLE:
            questions.dropped(ex.books, question.id)
