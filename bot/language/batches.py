"""Batches in words: opening, cooked weights, pouring off, boxes, what leaves them, closing."""

from __future__ import annotations

from bot.language.chunks import Chunk
from bot.language.meanings import (
    BatchRef,
    CloseBatch,
    CookBatch,
    Meaning,
    PourOff,
    ReduceBatch,
    SplitBatch,
)
from bot.language.message import Message
from bot.language.text import singular

POURING = frozenset(
    {"poured", "pour", "pouring", "skimmed", "skim", "tipped", "spooned", "siphoned", "ladled", "strained"}
)
POURED_THINGS = frozenset(
    {"fat", "grease", "oil", "liquid", "dripping", "drippings", "juice", "juices", "lard", "tallow"}
)
SPLITTING = frozenset(
    {
        "split",
        "splitting",
        "divide",
        "divided",
        "dividing",
        "boxed",
        "portioned",
        "packed",
        "into",
        "separate",
        "separated",
        "distributed",
        "make",
        "made",
        "making",
        "filled",
    }
)
BOX_WORDS = frozenset(
    {"box", "tub", "container", "portion", "part", "lunchbox", "tupperware", "packet", "bag", "serving", "jar"}
)
TAKING = frozenset(
    {
        "took",
        "take",
        "taken",
        "had",
        "ate",
        "eat",
        "eaten",
        "having",
        "grabbed",
        "eating",
        "taking",
        "got",
        "logged",
        "log",
        "used",
        "served",
        "finished",
    }
)


def batch_topic(message: Message) -> list[Meaning] | None:
    """What a sentence says of a batch, if that is what it is about; portions are weigh-ins and none of it."""
    for topic in (_pour_off, _leaves, _split, _close, _cooked):
        found = topic(message)
        if found is not None:
            return found
    return None


def _weights(message: Message) -> list[Chunk]:
    return [c for c in message.of("amount") if c.amount is not None and c.amount.kind in ("mass", "bare")]


def _other_foods(message: Message) -> list[Chunk]:
    return [
        c
        for c in message.of("food")
        if singular(c.text.lower()) not in POURED_THINGS and c.text.lower() not in POURED_THINGS
    ]


def _open_batches(message: Message, cooked: bool | None = None) -> BatchRef:
    numbers = tuple(b.number for b in message.around.batches if cooked is None or b.cooked == cooked)
    return BatchRef(candidates=numbers, text="")


def _pour_off(message: Message) -> list[Meaning] | None:
    weights = [*_weights(message), *(c for c in message.of("macro") if c.field == "fat_g")]
    if not weights or _other_foods(message):
        return None
    poured = message.has_any(POURING) or (
        message.has_any({"drained", "drain", "draining", "removed", "took", "lost"})
        and message.has_any(POURED_THINGS)
        and message.has("off", "from", "drained", "fat", "out", "away")
    )
    if not poured or not (message.has_any(POURED_THINGS) or message.has("off", "away") or message.batch):
        return None
    amount = weights[0].amount
    if amount is None:
        return None
    return [PourOff(batch=message.batch or _open_batches(message), amount=amount)]


def _split(message: Message) -> list[Meaning] | None:
    batch = message.batch
    if _other_foods(message) or not (message.has_any(SPLITTING) or message.has("box up", "box the", "box batch")):
        return None
    count = _box_count(message)
    if count is None:
        return None
    if message.has_any({"from", "outta"}) and not message.has("into", "split", "divided", "boxed"):
        return None
    if batch is None and not message.around.batches:
        return None
    if batch is None and not message.has("into", "split", "divide", "divided", "boxed"):
        return None
    if message.has_any(TAKING) and not message.has("into"):
        return None
    return [SplitBatch(batch=batch or _open_batches(message, cooked=True), boxes=count)]


def _box_count(message: Message) -> int | None:
    for i, chunk in enumerate(message.chunks):
        amount = chunk.amount
        if chunk.kind != "amount" or amount is None:
            continue
        follows = message.chunks[i + 1].text.lower() if i + 1 < len(message.chunks) else ""
        boxed = (
            amount.unit == "box"
            or (amount.kind == "measure" and amount.unit in BOX_WORDS)
            or (amount.kind == "bare" and singular(follows) in BOX_WORDS)
        )
        equal = (
            amount.kind == "bare"
            and follows in ("equal", "even")
            and any(singular(c.text.lower()) in BOX_WORDS for c in message.chunks[i + 2 : i + 3])
        )
        if (boxed or equal) and amount.value == int(amount.value) and 0 < amount.value < 1000:
            return int(amount.value)
    if message.has("in half", "in two", "in halves"):
        return 2
    return None


def _leaves(message: Message) -> list[Meaning] | None:
    """What leaves a batch without being on the writer's day: given away, thrown out, taken by somebody else."""
    batch = message.batch
    if batch is None:
        return None
    discarded = message.has_any(message.words.discarded)
    someone = [w for w in message.said if singular(w) in message.words.people or w in message.words.pronouns]
    gave = message.has_any(message.words.gave) and bool(someone) and not _mine(message)
    gave = (
        gave
        or message.has("gave", "given", "handed", "donated", "fed", "gave away", "gifted")
        or (message.has("passed", "sent", "lent", "brought", "left") and message.has("to", "for"))
    )
    gave = gave or _for_others(message)
    if not discarded and not gave:
        return None
    if len(_weights(message)) > 1 and message.has_any(TAKING - {"got"}):
        return None
    if not discarded and message.has("for me", "i had", "i ate", "i took") and not message.has("gave"):
        return None
    amounts = [c.amount for c in message.of("amount") if c.amount is not None]
    boxes = next((a for a in amounts if a.unit == "box"), None)
    weight = next((a for a in amounts if a.kind in ("mass", "bare")), None)
    why = "discarded" if discarded else "given away"
    if boxes is not None and weight is None:
        return [ReduceBatch(batch=batch, amount=None, boxes=boxes.value, why=why)]
    if weight is not None:
        return [ReduceBatch(batch=batch, amount=weight, why=why)]
    if discarded:
        return [CloseBatch(batch=batch, how="discarded")]
    if message.has("rest", "remaining", "all", "last", "whole"):
        return [ReduceBatch(batch=batch, amount=None, why=why)]
    return None


def _mine(message: Message) -> bool:
    """'I had 200 g of the curry with my wife': the writer is the one who ate."""
    line = " ".join(message.said)
    gives = message.has("gave", "given", "fed", "handed", "giving", "donated", "sent", "passed")
    return not gives and any(f"{who} {verb}" in line for who in ("i", "i've", "ive", "i just") for verb in TAKING)


def _close(message: Message) -> list[Meaning] | None:
    batch = message.batch
    if batch is None or message.of("amount") or message.asks:
        return None
    finished = message.has_any(
        {"finished", "finish", "gone", "empty", "emptied", "close", "closed", "eaten up", "polished", "over", "cleared"}
    ) or message.has(
        "used up", "all done", "no more", "none left", "nothing left", "ran out", "eaten", "is done", "done with"
    )
    if not finished:
        return None
    if (
        message.has("is done", "are done")
        and not message.has("all done", "done with")
        and not message.has_any({"finished", "gone", "empty"})
    ):
        return None
    return [CloseBatch(batch=batch, how="finished")]


def _cooked(message: Message) -> list[Meaning] | None:
    weights = _weights(message)
    if not weights or len(weights) > 2 or message.asks:
        return None
    batch = message.batch
    cue = message.has(*message.words.phrases["cooked"]) or _is_first_weight(message, batch)
    taking = message.has_any(TAKING) and not message.has("got a cooked weight", "finished cooking", "has finished")
    if batch is None:
        unnamed = bool(
            message.has("it", "cooked", "they")
            and message.has("weighed", "weighs", "came", "was")
            and message.has("cooked", "done", "ready", "baked", "roasted", "boiled", "simmered")
            and any(not b.cooked for b in message.around.batches)
        ) or message.has(
            "cooked weight",
            "came out at",
            "came out to",
            "comes out at",
            "cooked it weighs",
            "it weighs",
            "cooked total",
            "final weight",
            "weighs now",
            "cooked now",
            "now weighs",
            "cooked down to",
            "boiled down to",
            "came to",
            "came out",
        )
        if not unnamed or message.of("food") or taking or not message.around.batches:
            return None
        batch = _open_batches(message, cooked=False)
        if not batch.candidates:
            batch = _open_batches(message)
    elif not cue or taking or (_other_foods(message) and not message.has("cooked weight", "final weight")):
        return None
    first_batch = next((c for c in message.of("batch")), None)
    if (
        first_batch is not None
        and first_batch.start
        and message.tokens[first_batch.start - 1].text in ("from", "outta")
        and not message.has("cooked weight", "came out", "came to")
    ):
        return None
    if (
        first_batch is not None
        and weights[0].start < first_batch.start
        and message.word_before(first_batch) in ("of", "the")
        and not message.has("cooked weight", "weighs", "came out", "final")
    ):
        return None
    amount = weights[-1].amount if message.has("not") and len(weights) == 2 else weights[0].amount
    tare = next((c.tare for c in message.of("tare") if c.tare is not None), None)
    if amount is None:
        return None
    return [CookBatch(batch=batch, amount=amount, tare=tare)]


def _is_first_weight(message: Message, batch: BatchRef | None) -> bool:
    """'batch 1 is 2264 g in the orange pot': what a batch weighs that has no cooked weight yet."""
    if batch is None or not (message.has("is", "now", "=") or message.of("tare")):
        return False
    numbers = {batch.number, *batch.candidates}
    return any(b.number in numbers and not b.cooked for b in message.around.batches)


def _for_others(message: Message) -> bool:
    """'300 g of batch 1 for my son': all of it, unless a part is named beside it."""
    said = message.said
    people = message.words.people
    named = any(w == "for" and any(singular(x) in people for x in said[i + 1 : i + 4]) for i, w in enumerate(said))
    return named and len(_weights(message)) == 1 and not message.has("me", "myself")
