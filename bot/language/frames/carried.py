"""'and Tariq?', 'and protein?', 'what about Thursday?': a coach's question before, asked of another, or otherwise."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, timedelta

from bot.language.guided import (
    ClientFigures,
    ClientFood,
    ClientHistory,
    ClientSheet,
    ClientTrend,
    CompareWeeks,
    HowIs,
    PrivateNotes,
)
from bot.language.meanings import Meaning
from bot.language.message import Message, read
from bot.language.nutrients_named import named_nutrients
from bot.language.pack import pack
from bot.language.persons import clients_named

Question = ClientFigures | ClientFood | ClientHistory | ClientSheet | ClientTrend | CompareWeeks | HowIs | PrivateNotes
MOST_WORDS = 6
"""Words of a question that only says what is other than in the one before."""
A_WEEK = timedelta(days=6)


def carried_over(message: Message, told: Callable[[Message], list[Meaning]]) -> list[Meaning] | None:
    """The question before with what this message changes of it; None where it carries nothing over.

    `told` reads the message before, which may carry over in its turn.
    """
    around = message.around
    words = [c for c in message.chunks if c.kind != "sign"]
    start = message.chunks[0].start if message.chunks else 0
    begins = pack()["carries_on"].end(message.line.plain, start)
    if not around.clients or begins is None or not 1 < len(words) <= MOST_WORDS:
        return None
    if message.of("amount", "energy", "macro", "hash", "batch"):
        return None
    named, nutrients, day = clients_named(message), named_nutrients(message), message.when.day
    rest = [n for c in words for n in range(c.start, c.end) if n >= begins]
    if len(named) + bool(nutrients) + (day is not None) != 1 or len(named) > 1 or not _says_no_more(message, rest):
        return None
    before = _before(message, told)
    if before is None:
        return None
    if named:
        return [_of_another(before, named[0])]
    if nutrients:
        return _in_nutrients(before, nutrients, around.today)
    return _on(before, day, around.today) if day is not None and day <= around.today else None


def _says_no_more(message: Message, rest: Sequence[int]) -> bool:
    """Whether beside what is changed only small words stand: 'and Tariq's today?', 'and her protein?'."""
    line, people = message.line, {part.casefold() for name in clients_named(message) for part in name.split()}
    known = {n for c in message.of("moment") for n in range(c.start, c.end)}
    told = bool(named_nutrients(message))

    def is_small(n: int) -> bool:
        word = line.tokens[n].text.casefold().removesuffix("'s").removesuffix("’s")
        return n in known or word in people or word.removesuffix("s") in people or line.plain[n] in pack()["carried_on"]

    others = [n for n in rest if not is_small(n)]
    return len(others) <= (2 if told else 0)


def _before(message: Message, told: Callable[[Message], list[Meaning]]) -> Question | None:
    """The question about a client that was asked right before."""
    earlier = tuple(message.around.said_before())
    if not earlier:
        return None
    around = replace(message.around, said_before=lambda: earlier[1:])
    found = told(read(earlier[0], around))
    return found[0] if len(found) == 1 and isinstance(found[0], Question) else None


def _of_another(before: Question, client: str) -> Meaning:
    if isinstance(before, ClientFigures):
        return replace(before, clients=(client,))
    return replace(before, client=client)


def _clients(before: Question) -> tuple[str, ...]:
    return before.clients if isinstance(before, ClientFigures) else (before.client,)


def _days(before: Question, today: date) -> tuple[date, date]:
    """The days that the question before was about."""
    match before:
        case ClientFigures() | ClientHistory():
            return before.first, before.last
        case ClientSheet(span="day"):
            day = today - timedelta(days=before.back)
            return day, day
        case ClientSheet():
            return today - A_WEEK, today
        case _:
            return today, today


def _in_nutrients(before: Question, nutrients: tuple[str, ...], today: date) -> list[Meaning] | None:
    if isinstance(before, PrivateNotes | ClientFood):
        return None
    first, last = _days(before, today)
    return [ClientFigures(clients=_clients(before), nutrients=nutrients, first=first, last=last)]


def _on(before: Question, day: date, today: date) -> list[Meaning] | None:
    if isinstance(before, ClientFigures):
        return [replace(before, first=day, last=day)]
    if not isinstance(before, ClientSheet | ClientHistory):
        return None
    back = (today - day).days
    if back > 1:
        return [ClientHistory(client=before.client, first=day, last=day)]
    return [ClientSheet(client=before.client, span="day", back=back)]
