"""Boxes, shares and weights of a batch, eaten, given away or stored: from readings to meanings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Literal, cast

from bot.language.batch_meanings import CloseBatch
from bot.language.grammar import Reading
from bot.language.intents.readings import (
    amount_of,
    asks,
    batches_meant,
    count_of,
    of_mine,
    place_of,
    pot_of,
    records_nothing,
    says,
    when_of,
    who_had,
    why_gone,
    with_more,
)
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.portion_meanings import (
    BoxUp,
    GiveAway,
    MoveBoxes,
    Place,
    ReduceBatch,
    SplitBatch,
    StillGood,
    Stored,
    TakeBoxes,
    TakeShare,
    WhichBoxes,
)
from bot.language.told import Amount, BatchRef, Item
from bot.language.words import Words

MOST_BOXES = 999
LEAST_G = 20
"""A bare number below is no weight of what left a batch that is in boxes."""


def box_up(reading: Reading, message: Message) -> Meaning | None:
    """Boxes of said weights, or for a place."""
    weights = tuple(a for a in (amount_of(reading, key) for key in ("w1", "w2", "w3")) if a is not None)
    each, total = amount_of(reading, "each"), amount_of(reading, "total")
    count = cast("int | None", reading.values.get("count"))
    freezing = says(message, "freezing")
    place = place_of(reading) or ("freezer" if freezing else None)
    if asks(message) or not message.around.batches or (count is not None and not 0 < count <= MOST_BOXES):
        return None
    if weights:
        return BoxUp(batch=pot_of(reading), weights=weights, place=place)
    count = count or 1
    if total is not None:
        grams = (total.grams or total.value) / count
        each = Amount(kind="mass", value=grams, unit="g", grams=grams, text=f"{grams:g} g")
    if each is None and place is None:
        return None
    return BoxUp(batch=pot_of(reading), boxes=count, each=each, place=place)


def split_batch(reading: Reading, message: Message) -> Meaning | None:
    """Equal boxes of all that is left."""
    count = cast(int, reading.values.get("count", 2))
    if not 0 < count <= MOST_BOXES or not message.around.batches or (asks(message) and not message.orders):
        return None
    said = message.said
    if any(sign in "-−" and number == str(count) for sign, number in pairwise(said)):
        count = -count
    ref = pot_of(reading)
    if ref == BatchRef():
        ref = BatchRef(candidates=tuple(b.number for b in message.around.batches if b.cooked))
    return SplitBatch(batch=ref, boxes=None if reading.values.get("open") else count)


def move_boxes(reading: Reading, message: Message) -> Meaning | None:
    """Boxes, or what is loose, to another place; boxes that don't exist yet are filled."""
    if not message.around.batches or asks(message):
        return None
    out = message.has("out of", "from", "outta") or says(message, "thawing")
    place = place_of(reading)
    to: Place = "freezer"
    if place is not None:
        to = place if not out else ("fridge" if place == "freezer" else "freezer")
    elif not says(message, "freezing"):
        frozen = message.has("freezer")
        to = "freezer" if frozen != out else "fridge"
    ref = pot_of(reading)
    when = when_of(reading, message)
    boxed = says(message, "box")
    count = count_of(reading)
    if boxed and all(b.boxes == 0 for b in batches_meant(message, ref)) and not out:
        return BoxUp(batch=ref, boxes=count, place=to, when=when)
    which = WhichBoxes(count=count, place=place if out else None) if boxed else None
    return MoveBoxes(batch=ref, which=which, to=to, when=when)


def take_boxes(reading: Reading, message: Message) -> Meaning | Sequence[Meaning] | None:
    """Whole boxes that the writer ate; told by their number alone they are a weigh-in of a batch."""
    number = cast(float, reading.values.get("number", 1.0))
    ref = pot_of(reading)
    if records_nothing(message) or not message.around.batches or (ref == BatchRef() and "pot" in reading.values):
        return None
    weight, place = amount_of(reading), place_of(reading)
    if says(message, "came_to_grief") or (says(message, "put_away") and not says(message, "took")):
        return None
    if message.said[-1] in pack()["still_there"] and not says(message, "took"):
        return None  # '2 soup boxes left' says what stands
    if (weight is not None and weight.kind == "bare" and weight.value < LEAST_G) or says(
        message, "halving", "negation"
    ):
        return None
    when = when_of(reading, message)
    if says(message, "thawing_out") and when.meal is None:
        return None
    told = says(message, "took") or bool(when.meal)
    fresh = all(b.boxes == 0 for b in batches_meant(message, ref)) and bool(ref.text)
    if fresh and not told and number > 1 and place is None:
        if any(amount.kind == "mass" for amount in message.amounts):
            return None
        return SplitBatch(batch=ref, boxes=int(number)) if number == int(number) else None
    everything = says(message, "rest_of") and "number" not in reading.values
    if place is None and weight is None and not everything:
        amount = Amount(kind="count", value=number, unit="box", text=f"{number:g} box" + "es" * (number != 1))
        return with_more(
            Item(text=message.text, amount=amount, batch=replace(ref, sure=True), when=when), reading, message
        )
    if number != int(number):
        return None
    which = WhichBoxes(count=None if everything else int(number), place=place, amount=weight)
    return with_more(TakeBoxes(batch=ref, which=which, when=when), reading, message)


def give_boxes(reading: Reading, message: Message) -> Meaning | None:
    """Boxes that others had, or that were thrown out."""
    number = cast(float, reading.values.get("number", 1.0))
    if asks(message) or not message.around.batches:
        return None
    why = "discarded" if says(message, "threw_out") else "given away"
    return ReduceBatch(batch=pot_of(reading), amount=None, boxes=number, why=why, who=who_had(reading))


def stored(reading: Reading, message: Message) -> Meaning | None:
    """What lies in the fridge or freezer, or how many boxes of a batch are left."""
    return Stored(place=place_of(reading), batch=cast("BatchRef | None", reading.values.get("pot")))


def still_good(reading: Reading, message: Message) -> Meaning | None:
    """Whether a batch still keeps."""
    ref = pot_of(reading)
    return StillGood(batch=ref, place=place_of(reading)) if ref != BatchRef() else None


def give_share(reading: Reading, message: Message) -> Meaning | None:
    """A share that others had."""
    fraction, _ = cast("tuple[float, str]", reading["share"])
    if asks(message) or not message.around.batches:
        return None
    return GiveAway(
        batch=pot_of(reading), why=why_gone(message), fraction=fraction, of=_of(message), who=who_had(reading)
    )


def take_share(reading: Reading, message: Message) -> Meaning | Sequence[Meaning] | None:
    """A share that the writer had; the rest is all of what is left."""
    ref, when = pot_of(reading), when_of(reading, message)
    if message.asks or records_nothing(message) or not message.around.batches or when.future:
        return None
    if ref == BatchRef() and len(message.around.batches) > 1:
        return None
    if reading.values.get("rest"):
        if _fills_boxes(message) or says(message, "gave_away", "threw_out"):
            return None
        taken = TakeShare(batch=ref, fraction=1.0, of="left", text="the rest", when=when)
        return with_more(taken, reading, message)
    fraction, text = cast("tuple[float, str]", reading["share"])
    more = cast("Words | None", reading.values.get("more"))
    if more is not None and plain(message.line.text(more.start)) in pack()["recipe_word"]:
        return None
    return with_more(TakeShare(batch=ref, fraction=fraction, of=_of(message), text=text, when=when), reading, message)


def _fills_boxes(message: Message) -> bool:
    """'all the stew that remains I put into 5 boxes': whether several boxes are told of what is left."""
    line = message.line
    return any(
        c.amount is not None and c.amount.value > 1 and pack()["box"].found(line.plain[c.start : c.end + 2])
        for c in message.of("amount")
    )


def _of(message: Message) -> Literal["whole", "left"] | None:
    if says(message, "left_of"):
        return "left"
    return "whole" if says(message, "whole_of") or says(message, "of_the_whole") else None


def reduce_batch(reading: Reading, message: Message) -> Meaning | None:
    """A weight, or all that is left, that is on nobody's day."""
    if asks(message) or not message.around.batches or not of_mine(reading, message):
        return None
    why, amount = "discarded" if says(message, "threw_out") else "given away", amount_of(reading)
    if amount is not None and amount.kind == "bare" and amount.value < 1:
        return None  # a share
    boxed = any(b.boxes for b in batches_meant(message, pot_of(reading)))
    if boxed and amount is not None and amount.kind == "bare" and (amount.value < LEAST_G or says(message, "box")):
        return None
    return ReduceBatch(batch=pot_of(reading), amount=amount, why=why, who=who_had(reading))


def take_and_discard(reading: Reading, message: Message) -> Sequence[Meaning] | None:
    """A portion, and the rest thrown out."""
    ref = replace(pot_of(reading), sure=True)
    if ref == BatchRef(sure=True) or asks(message):
        return None
    portion = Item(text=message.text, amount=amount_of(reading), batch=ref, when=when_of(reading, message))
    return [portion, CloseBatch(batch=ref, how="discarded")]


def for_me_and_other(reading: Reading, message: Message) -> Sequence[Meaning] | None:
    """'280 g of chilli for me and 350 for Dan': a portion, and what another one had."""
    ref = replace(pot_of(reading), sure=True)
    if ref == BatchRef(sure=True) or asks(message):
        return None
    portion = Item(text=message.text, amount=amount_of(reading), batch=ref, when=message.when)
    return [portion, ReduceBatch(batch=ref, amount=amount_of(reading, "theirs"), why="given away")]


def close_batch(reading: Reading, message: Message) -> Meaning | None:
    """A batch that is finished or thrown out."""
    ref = pot_of(reading)
    if asks(message) or not message.around.batches or not of_mine(reading, message):
        return None
    if ref == BatchRef() and len(message.around.batches) > 1:
        return None
    return CloseBatch(batch=ref, how=cast("Literal['finished', 'discarded']", reading["how"]))
