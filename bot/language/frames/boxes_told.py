"""Boxes told with the weight of each, whatever else a message says: '5 boxes of 250 g', '3 tubs at 310 each'."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.chunks import Chunk
from bot.language.frames.serving import FITS, MOST_BOXES
from bot.language.frames.spans import is_one
from bot.language.frames.stretch import as_mass, grams_of
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.portion_meanings import BoxUp, MoveBoxes, Place, TakeBoxes, WhichBoxes
from bot.language.scene import Scene, ref_of
from bot.language.surroundings import KnownBatch
from bot.language.told import Amount, Item

LEAST_BOX_G = 50.0
MOST_CHUNKS = 60
MOST_BETWEEN = 2
"""Chunks between the word for boxes and what each of them holds."""
ENDS = frozenset({".", ";", "!", "?"})


def boxes_told(message: Message, meant: Sequence[Meaning]) -> list[Meaning] | None:
    """The boxes with their weight, and the portions told beside them; None where there are none, or they were eaten.

    What is in several boxes of a pot that was in none is put away, whatever word says so.
    """
    if all(not b.cooked for b in message.around.batches) or len(message.chunks) > MOST_CHUNKS:
        return None
    if any(isinstance(m, BoxUp) for m in meant) or not any(_counts_boxes(message, c) for c in message.chunks):
        return None
    scene = Scene(message)
    if scene.asks or scene.cue("condition", "foreseen", "gave_away"):
        return None
    pot = _pot(scene)
    counts = [n for n, c in enumerate(message.chunks) if _counts_boxes(message, c)]
    if pot is None or len(counts) != 1:
        return None
    at = counts[0]
    amount = message.chunks[at].amount
    number = 0 if amount is None else int(amount.value)
    if number == 1 or pot.boxes:
        taken = number == 1 or (number > 1 and _is_eaten(message, at))  # not 'labelled the 2 boxes'
        return _one_taken(message, meant, number) if taken else None
    if not 1 < number <= MOST_BOXES or _is_eaten(message, at):
        return None
    weight = _weight_of_each(message, at)
    if weight is None:
        return _equal(message, meant, pot, at)
    each = as_mass(weight)
    if number * grams_of(each) > (pot.left_g or 0.0) * FITS:
        return None
    boxes = BoxUp(batch=ref_of([pot]), boxes=number, each=each, place=_place(message, at))
    return [boxes, *(m for m in meant if _stands_beside(m, grams_of(each), number))]


def _one_taken(message: Message, meant: Sequence[Meaning], number: int) -> list[Meaning] | None:
    """'1 frozen box of bigos, defrosted and eaten' was read as so many grams of it."""
    item = meant[0] if len(meant) == 1 else None
    if not isinstance(item, Item) or item.batch is None or item.amount is None or item.amount.kind != "bare":
        return None
    return (
        [TakeBoxes(batch=item.batch, which=WhichBoxes(count=number), when=item.when)]
        if item.amount.value == number
        else None
    )


def _equal(message: Message, meant: Sequence[Meaning], pot: KnownBatch, at: int) -> list[Meaning] | None:
    """'bigos I have put in four boxes, same size, and two I froze': what was read as so many boxes eaten."""
    item = meant[0] if len(meant) == 1 else None
    if not isinstance(item, Item) or item.batch is None or item.amount is not message.chunks[at].amount:
        return None
    ref, chunks = ref_of([pot]), message.chunks
    others = [c.amount for n, c in enumerate(chunks) if n != at and c.amount is not None and not is_one(c.amount)]
    boxes = BoxUp(batch=ref, boxes=int(item.amount.value) if item.amount else None)
    if not others:
        return [replace(boxes, place=_place(message, at))]
    if len(others) > 1 or others[0].kind != "bare" or not _place(message, at):
        return None
    return [boxes, MoveBoxes(batch=ref, which=WhichBoxes(count=int(others[0].value)), to="freezer", when=message.when)]


def _pot(scene: Scene) -> KnownBatch | None:
    """The one cooked pot that is named, else the one spoken of last."""
    if scene.named:
        pots = [b for b in scene.batches if b.cooked]
    else:
        cooked = [b for b in scene.message.around.batches if b.cooked]
        pots = [] if scene.foods else [b for b in cooked if b.spoken] or [b for b in cooked if b.focus]
    return pots[0] if len(pots) == 1 else None


def _counts_boxes(message: Message, chunk: Chunk) -> bool:
    """Whether it is a number of boxes: '5 boxes', '1 frozen box'."""
    amount = chunk.amount
    if amount is None or amount.value % 1 or amount.kind not in ("count", "bare"):
        return False
    if amount.kind == "count":
        return amount.unit in pack()["box"].words
    return any(pack()["box"].end(message.line.plain, chunk.end + n) is not None for n in range(MOST_BETWEEN))


def _weight_of_each(message: Message, at: int) -> Amount | None:
    """What each of the boxes holds: the weight right behind them, in the same part of the sentence."""
    for chunk in message.chunks[at + 1 : at + 2 + MOST_BETWEEN]:
        if chunk.text in (",", *ENDS) or chunk.kind == "newline":
            return None
        amount = chunk.amount
        if amount is not None:
            return amount if amount.kind in ("mass", "bare") and grams_of(amount) >= LEAST_BOX_G else None
    return None


def _sentence(message: Message, at: int) -> list[Chunk]:
    """The chunks of the sentence in which the chunk of that index stands."""
    marks = [n for n, c in enumerate(message.chunks) if c.text in ENDS or c.kind == "newline"]
    begins = max((n for n in marks if n < at), default=-1)
    return list(message.chunks[begins + 1 : min((n for n in marks if n > at), default=len(message.chunks))])


def _is_eaten(message: Message, at: int) -> bool:
    """Whether the sentence of the boxes tells of eating: 'had 2 boxes of 250 g'."""
    return any(plain(c.text.lower()) in pack()["tells_of_eating"] for c in _sentence(message, at) if c.kind == "word")


def _place(message: Message, at: int) -> Place | None:
    said = [plain(c.text.lower()) for c in _sentence(message, at)]
    return "freezer" if any(pack()[name].found(said) for name in ("freezing_them", "freezer")) else None


def _stands_beside(meaning: Meaning, grams: float, number: int) -> bool:
    """Whether a meaning is a portion or another food, and not what was made of the boxes and their weight."""
    if not isinstance(meaning, Item) or meaning.amount is None or (meaning.batch is None and meaning.name is None):
        return False
    return not meaning.two_masses and grams_of(meaning.amount) not in (grams, number * grams, float(number))
