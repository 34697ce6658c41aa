"""Nothing is lost in silence: what no meaning of a message uses makes it a question, or the reply says it was left out.

A number or a share whose part in a weigh-in is not known puts that weigh-in's amount in doubt.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import get_args

from bot.language.batch_meanings import BatchMatter, CloseBatch, Contents, Left
from bot.language.chunks import Chunk
from bot.language.fact_meanings import BodyWeight, SaveMeasure, SaveTare, SetTarget
from bot.language.fix_meanings import Delete, DeleteSeveral, FixMatter
from bot.language.leftovers import Account
from bot.language.meanings import Answer, Bare, Chatter, LeftOut, Meaning, NotMine, Unclear
from bot.language.message import Message
from bot.language.portion_meanings import GiveAway, GiveBack, PortionMatter, ReduceBatch, StillGood, Stored
from bot.language.stance import clauses, not_mine
from bot.language.stories import without_stories
from bot.language.told import Item
from bot.language.usual import Usual

MATTERS = (FixMatter, BatchMatter, PortionMatter, Usual)
ON_RECORD = (Item, Bare, SaveTare, SaveMeasure, *(kind for matter in MATTERS for kind in get_args(matter)))
"""Meanings that change what is on record."""
KEPT = (*ON_RECORD, BodyWeight, SetTarget)
"""Meanings beside which every number of the message is asked for once more."""
ASKED_OF_POTS = (Contents, Left, Stored, StillGood)
"""Meanings among them that only ask."""
NOTHING = (Answer, Chatter, NotMine, Unclear)
"""Meanings whose replies say that nothing was recorded."""
WEIGHTS = ("mass", "volume")
OF_OTHERS = (CloseBatch, GiveAway, GiveBack, ReduceBatch)
"""Meanings whose replies say what became of the numbers that are not the writer's."""


def accounted(message: Message, meant: list[Meaning]) -> list[Meaning]:
    """The meanings, with a weigh-in in doubt for what none of them uses, or with what was left out."""
    others = any(isinstance(m, NotMine) and m.why == "others" for m in meant)
    if not any(isinstance(m, (*ON_RECORD, BodyWeight) if others else ON_RECORD) for m in meant):
        return meant
    account = Account(message, meant)
    if account.untouched:
        return _without(account, account.untouched)
    if any(isinstance(m, OF_OTHERS) for m in meant):
        return meant
    left = account.lost_numbers
    if others:
        meant, left = _of_others(message, meant, left)
    if left and not any(isinstance(m, StillGood) for m in meant):
        return (
            _doubted(message, meant, left) or _both_deleted(meant, left, message) or [*meant, _left_out(message, left)]
        )
    account = Account(message, meant)
    shares = [(c.start, c.text) for c in account.lost_shares]
    return _not_all(account, shares or account.vague) if shares or account.vague else meant


def with_the_rest_left_out(message: Message, meant: list[Meaning]) -> list[Meaning]:
    """The meanings that leave the language, with what none of them uses of the whole message as left out.

    Beside what is only asked, or is told of others, that is the weight of a food of which no meaning speaks.
    """
    if all(isinstance(m, NOTHING) for m in meant):
        return meant
    account = Account(message, meant)
    lost = [*account.lost_numbers, *account.told_once_more, *account.lost_tares]
    kept = any(isinstance(m, KEPT) and not isinstance(m, ASKED_OF_POTS) for m in meant)
    if not kept or any(isinstance(m, OF_OTHERS) for m in meant):
        lost = [c for c in lost if account.is_of_another(c) and c.amount is not None and c.amount.kind in WEIGHTS]
    if not lost:
        return meant
    said = [text for m in meant if isinstance(m, LeftOut) for text in m.texts]
    left = _left_out(message, sorted(lost, key=lambda c: c.start))
    return [*(m for m in meant if not isinstance(m, LeftOut)), LeftOut(texts=(*said, *left.texts))]


def _without(account: Account, untouched: Sequence[Item]) -> list[Meaning]:
    """The meanings without weigh-ins of what was not eaten after all; the reply says so."""
    kept = [m for m in account.meant if m not in untouched]
    if not any(isinstance(m, ON_RECORD) for m in kept):
        return [NotMine(why="doubt")]
    return [*kept, LeftOut(texts=tuple(item.text for item in untouched))]


def _of_others(message: Message, meant: list[Meaning], lost: Sequence[Chunk]) -> tuple[list[Meaning], list[Chunk]]:
    """The meanings, with the numbers that were somebody else's in the one that says so, and the other lost numbers."""
    parts = [part for sentence in message.sentences() for part in clauses(sentence) if _is_of_others(part)]
    refused = {id(c) for part in parts for c in part.chunks}
    theirs = tuple(c.text for c in lost if id(c) in refused)
    at = next(n for n, m in enumerate(meant) if isinstance(m, NotMine) and m.why == "others")
    told = [NotMine(why="others", texts=theirs) if n == at else m for n, m in enumerate(meant)]
    return told, [c for c in lost if id(c) not in refused]


def _is_of_others(part: Message) -> bool:
    why = not_mine(part)
    return why is not None and why.why == "others"


def _doubted(message: Message, meant: Sequence[Meaning], left: Sequence[Chunk]) -> list[Meaning] | None:
    """The only weigh-in with its amount in doubt for numbers of its own sentences; None for any other."""
    only = meant[0] if len(meant) == 1 else None
    beside = {id(c) for c in without_stories(message).chunks}
    if (
        not isinstance(only, Item)
        or only.amount is None
        or only.batch is not None
        or any(id(c) not in beside for c in left)
    ):
        return None
    seen = ", ".join((only.amount.text, *(c.text for c in left)))
    return [replace(only, amount=replace(only.amount, doubt="unclear", text=seen))]


def _both_deleted(meant: Sequence[Meaning], left: Sequence[Chunk], message: Message) -> list[Meaning] | None:
    """'delete 1 and 2': all that is numbered, where only one of them was found."""
    only = meant[0] if len(meant) == 1 else None
    if not isinstance(only, Delete):
        return None
    on_record = {each.number for each in message.around.recorded()}
    numbers = {n for c in left for n in (c.number if c.kind == "hash" else c.amount.value if c.amount else None,)}
    if not numbers <= on_record:
        return None
    return [DeleteSeveral(numbers=tuple(sorted(int(n) for n in (*numbers, only.which.number) if n is not None)))]


def _not_all(account: Account, parts: Sequence[tuple[int, str]]) -> list[Meaning]:
    """The meanings with each weigh-in in doubt of which only a part was eaten; a part of none of them is left out."""
    told = [m for m in account.meant if not (isinstance(m, Item) and _goes_to(account, m))]
    of: list[tuple[Item | None, str]] = [(account.item_at(start), text) for start, text in parts]
    found = [_in_doubt(m, [text for item, text in of if item is m]) if isinstance(m, Item) else m for m in told]
    lost = tuple(text for item, text in of if item is None or item.amount is None or item.amount.doubt or item.shared)
    return [*found, LeftOut(texts=lost)] if lost and not any(isinstance(m, LeftOut) for m in told) else found


def _goes_to(account: Account, item: Item) -> bool:
    """Whether a share only went to what looks like a food: 'a third to the ducks'."""
    share = item.amount
    if share is None or share.doubt != "share":
        return False
    return any(c.text == share.text and account.message.line.text(c.end) == "to" for c in account.lost_shares)


def _in_doubt(item: Item, parts: Sequence[str]) -> Item:
    if not parts or item.amount is None or item.amount.doubt is not None or item.shared:
        return item
    seen = ", ".join(dict.fromkeys((item.amount.text, *parts)))
    return replace(item, amount=replace(item.amount, doubt="unclear", text=seen))


def _left_out(message: Message, left: Sequence[Chunk]) -> LeftOut:
    """What was left out, each number with the food that stands right behind it."""
    foods = {c.start: c for c in message.chunks if c.kind == "food"}
    return LeftOut(
        texts=tuple(
            message.line.typed(c.start, foods[c.end].end) if c.kind == "amount" and c.end in foods else c.text
            for c in left
        )
    )
