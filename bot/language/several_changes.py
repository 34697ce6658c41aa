"""Two things said of the record in one message, or one of the record and one of what was eaten besides."""

from __future__ import annotations

from collections.abc import Callable

from bot.language.fix_meanings import Change, Delete
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.stance import not_mine

Reader = Callable[[Message], list[Meaning] | None]
MOST_CHUNKS = 40
MOST_CUTS = 6
"""Places at which a message is cut in two."""
CUES = ("came_out_at", "off_record", "delete", "subtracts", "asks_to_change", "was_wrong", "opens_fix")
"""A change is told with one of these."""


def several_changes(message: Message, put_right: Reader) -> list[Meaning] | None:
    """'Take 5 g off the couscous and make the chickpeas 160', 'the rice was 210, and 40 g feta': both, cut in two.

    `put_right` reads what a part changes of the record. None where neither part changes it, or one remains unclear.
    """
    if not message.of("food", "batch") or len(message.chunks) > MOST_CHUNKS or message.asks or message.when.future:
        return None
    if message.wording.said.isdisjoint(CUES) or message.around.cooking:
        return None
    cuts = [
        n for n, c in enumerate(message.chunks) if n and (c.kind == "newline" or c.text.lower() in pack()["parts_told"])
    ]
    for n in cuts[:MOST_CUTS]:
        first, second = message.part(0, n), message.part(n + 1, len(message.chunks))
        if not second.chunks or not first.of("food", "batch", "amount") or not second.of("food", "batch", "amount"):
            continue
        changes = _changes(first, put_right)
        # a number without a food puts right what was said before it in the same breath
        more = _changes(second, put_right) if second.of("food", "batch") else []
        if changes and more and not _alike(changes, more):
            return [*changes, *more]
        parted = message.chunks[n].kind == "newline" or message.chunks[n].text.lower() in pack()["parts_weigh_ins"]
        if changes and (told := _eaten(second, parted)):
            return [*changes, *told]
        if more and (told := _eaten(first, parted)):
            return [*told, *more]
    return None


def _changes(part: Message, put_right: Reader) -> list[Change | Delete]:
    found = put_right(part) or []
    changes = [each for each in found if isinstance(each, (Change, Delete))]
    return changes if len(changes) == len(found) else []


def _alike(first: list[Change | Delete], second: list[Change | Delete]) -> bool:
    """Whether both parts say something of one weigh-in: then they are one statement."""
    return not {each.which.number for each in first}.isdisjoint(each.which.number for each in second)


def _eaten(part: Message, parted: bool) -> list[Meaning]:
    """The weigh-ins of a part that tells nothing else, and that it was eaten where it is not parted by a full stop."""
    if not parted and part.wording.said.isdisjoint(("tells_of_eating", "i_ate", "in_addition", "more_besides")):
        return []
    if not part.of("amount") or not part.of("food") or part.of("hash", "energy", "macro", "price", "tare", "part"):
        return []
    if not_mine(part) is not None or not part.wording.said.isdisjoint(("excluding",)):
        return []
    told = items(part)
    whole = all(item.name is not None and not item.name.unknown and item.amount is not None for item in told)
    return list(told) if whole else []
