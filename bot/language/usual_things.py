"""Several usual things in one message: 'usual breakfast and usual coffee', 'my coffee as usual and two shortbreads'."""

from __future__ import annotations

from bot.language.intents import templated
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.usual import Combination, Repeat

MOST_PARTS = 8
"""Parts of a message among which usual things are looked for."""


def several_usual(message: Message) -> list[Meaning] | None:
    """The usual things of a message and what is told beside them; None where anything else is said in it."""
    if not pack()["usual"].found(message.said):
        return None
    joining = pack()["joining"]
    cuts = [n for n, c in enumerate(message.chunks) if c.text in ",;.+\n" or c.text.lower() in joining]
    bounds = [-1, *cuts, len(message.chunks)]
    if not 2 <= len(bounds) - 1 <= MOST_PARTS:
        return None
    found: list[Meaning] = []
    rest: tuple[int, int] | None = None
    i, repeated = 0, False
    while i < len(bounds) - 1:
        usual = next(
            (
                (told, j)
                for j in range(len(bounds) - 1, i, -1)
                if (told := _usual(message, bounds[i] + 1, bounds[j])) is not None
            ),
            None,
        )
        if usual is not None:
            if not _tell(message, rest, found):
                return None
            found.extend(usual[0])
            rest, i, repeated = None, usual[1], True
        else:
            rest = (bounds[i] + 1 if rest is None else rest[0], bounds[i + 1])
            i += 1
    return found if repeated and _tell(message, rest, found) else None


def _usual(message: Message, start: int, end: int) -> list[Meaning] | None:
    """The usual thing that chunks start to end name; None where they name none."""
    if start >= end:
        return None
    told = templated(message.part(start, end))
    return told if told is not None and all(isinstance(m, (Repeat, Combination)) for m in told) else None


def _tell(message: Message, rest: tuple[int, int] | None, found: list[Meaning]) -> bool:
    """Adds the weigh-ins of what stands between usual things. Returns whether all of it is told."""
    if rest is None or rest[0] >= rest[1]:
        return True
    told = items(message.part(*rest))
    if not told or any((i.name is None and i.batch is None) or i.amount is None for i in told):
        return False
    found.extend(told)
    return True
