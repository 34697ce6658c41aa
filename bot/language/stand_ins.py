"""Words that stand for the batch that was spoken of last: 'bowl of it now, 380, two slices of bread 78'."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.meanings import Bare, LeftOut, Meaning, Unclear
from bot.language.message import Message, read
from bot.language.pack import pack
from bot.language.told import Item, is_share

WEIGHED = ("mass", "bare")
"""Kinds of amount that may be a weight."""


def leaves_open(meant: Sequence[Meaning]) -> bool:
    """Whether a meaning lacks what was eaten, or nothing was made out of a part."""
    return any(
        isinstance(m, (Bare, LeftOut, Unclear)) or (isinstance(m, Item) and m.name is None and m.batch is None)
        for m in meant
    )


def with_batch_named(message: Message, certain: bool) -> Message | None:
    """The message with the batch's name where 'it' stands for the one spoken of last; None where nothing does so.

    A food that is named before is what 'it' means, and 'half of it' may be of a portion. Where it has to be `certain`,
    no other food was told since.
    """
    pots = [b for b in message.around.batches if (b.spoken or (b.focus and not certain)) and b.cooked and b.left_g]
    place = next(iter(message.wording.places("of_it_itself")), None)
    if len(pots) != 1 or place is None or pack()["several_things"].found(message.line.plain[place[0] : place[1]]):
        return None
    if any(c.kind in ("food", "batch") and c.start < place[0] for c in message.chunks):
        return None
    if not any(c.amount is not None and c.amount.kind in WEIGHED and not is_share(c.amount) for c in message.chunks):
        return None
    word = message.tokens[place[1] - 1]
    return read(f"{message.whole[: word.start]}the {pots[0].name}{message.whole[word.end :]}", message.around)
