"""The kind that an answer picks by what tells the kinds apart: the fat in meat, or a part kept or left off."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.answer_meanings import Choice, Filled
from bot.language.choices import KINDS_ASKED
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.surroundings import Waiting
from bot.language.told import Item, Name

MOST_OFF = 2.0
"""So many points of fat a packet may differ from the kind in the table that it counts as ('12 % fat' is 90/10)."""
LESS = "less"
"""The ending of a kind without the part that its name begins with ('skinless')."""


def kind_picked(message: Message, question: Waiting) -> Choice | Filled | None:
    """'15% fat', 'the 93 percent one', 'meat and skin', 'took the skin off' where a kind is asked for."""
    if question.about not in KINDS_ASKED or message.asks or message.of("amount", "batch", "tare", "hash", "moment"):
        return None
    index = _by_part(message, question)
    return _by_fat(message, question) if index is None else Choice(question=question.key, index=index)


def _by_part(message: Message, question: Waiting) -> int | None:
    """Of two choices, one with and one without a part, the one that agrees with what is said of the part."""
    words = [choice.lower().split() for choice in question.choices]
    said = [plain(word) for word in message.said]
    for index, choice in enumerate(words):
        part = next((w.removesuffix(LESS) for w in choice if w.endswith(LESS) and w != LESS), "")
        others = [i for i, other in enumerate(words) if part and part in other]
        if len(others) != 1 or part not in said:
            continue
        off = any(pack()[name].found(said) for name in ("part_gone", "none_of_this", "negation"))
        return index if off else others[0]
    return None


def _by_fat(message: Message, question: Waiting) -> Choice | Filled | None:
    """The kind with the lean and the fat that are told, or with about as much fat."""
    told = [fat for word in message.said if (fat := _fat(word)) is not None]
    if len(set(told)) != 1:
        return None
    index = _nearest(told[0], question.choices, 0.0)
    if index is not None:
        return Choice(question=question.key, index=index)
    near = _nearest(told[0], question.among, MOST_OFF)
    if near is None:
        return None
    name = Name(text=question.among[near], foods=(question.among[near],))
    return Filled(question=question.key, slot="food", item=Item(text=message.text, name=name))


def _nearest(fat: float, names: Sequence[str], most_off: float) -> int | None:
    """The name whose lean and fat come nearest, by its place; None where none is so near."""
    off = [
        (abs(own - fat), i)
        for i, name in enumerate(names)
        for w in name.split()
        if (own := _fat(w, pair=True)) is not None
    ]
    best = min(off, default=None)
    return None if best is None or best[0] > most_off else best[1]


def _fat(word: str, *, pair: bool = False) -> float | None:
    """The percentage of fat that '85/15', '15%' or '85%' tells; with `pair` only what has both figures."""
    lean, mark, fat = word.partition("/")
    if mark and lean.isdecimal() and fat.isdecimal() and int(lean) + int(fat) == 100:
        return float(min(int(lean), int(fat)))
    share = word.removesuffix("%")
    if pair or share == word or not share.isdecimal() or not 0 < int(share) < 100:
        return None
    return float(min(int(share), 100 - int(share)))
