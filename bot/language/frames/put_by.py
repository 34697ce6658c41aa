"""Food of a pot that is put by, told with its weight: what is frozen or kept for another day is eaten by nobody.

Clause by clause: one that stores food is read here, and what is told beside it is read as if it stood alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.chunks import Chunk
from bot.language.frames.boxed_by_weight import LEAST_BOX_G
from bot.language.frames.serving import FITS, MOST_BOXES, Serving, seen
from bot.language.frames.stretch import as_mass, grams_of
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.portion_meanings import BoxUp, Place
from bot.language.scene import Scene, ref_of
from bot.language.surroundings import KnownBatch
from bot.language.told import Amount

MOST_CHUNKS = 40


def put_by(message: Message) -> tuple[list[Meaning], Message] | None:
    """The boxes that were filled, and the message without them: 'froze 900 g and had 300 g for lunch'."""
    pots = message.around.batches
    if not pots or message.asks or not message.of("amount") or len(message.chunks) > MOST_CHUNKS:
        return None
    if not _may_store(message):
        return None
    for start, end in _clauses(message):
        stored, beside = message.part(start, end), message.without(message.chunks[start:end])
        boxes = _boxes(stored, beside)
        if boxes is not None:
            return [boxes], _beside(message, start, end)
    return None


def _may_store(message: Message) -> bool:
    said = message.wording
    return any(pack()[name].found(said) for name in ("keeps_by", "freezing_them", "freezer_itself", "said_frozen"))


def _clauses(message: Message) -> list[tuple[int, int]]:
    """The clauses, as ranges of chunks: what says how the food is kept or what it weighs belongs to the one before."""
    marks = [
        i for i, c in enumerate(message.chunks) if c.kind == "newline" or c.text.lower() in pack()["before_a_clause"]
    ]
    starts = [0, *(i + 1 for i in marks)]
    parts = [(s, e) for s, e in zip(starts, [*marks, len(message.chunks)], strict=True) if s < e]
    found: list[tuple[int, int]] = []
    for start, end in parts:
        here = message.part(start, end)
        if found and (_tells_how(message.part(*found[-1]), here) or _puts_it_by(here)):
            found[-1] = (found[-1][0], end)
        else:
            found.append((start, end))
    return found


def _tells_how(before: Message, here: Message) -> bool:
    """'froze 900 g of it, 300 g in each tub': whether a clause only says more of what the one before stores."""
    return _stores(before) and not _eats(here) and not here.of("food", "batch", "hash")


def _puts_it_by(here: Message) -> bool:
    """'took 900 g and froze it': whether a clause says what became of the food of the one before."""
    return seen(here).cue("freezes_what_was_taken") and not here.of("amount", "food", "batch")


def _stores(clause: Message) -> bool:
    """Whether a clause says that food is put by, and not that it came from there or was eaten."""
    told = seen(clause)
    if told.cue("freezes_what_was_taken"):
        return True
    if _eats(clause) or told.cue("out_of_cold_storage"):
        return False
    kept = told.cue("keeps_by") and (told.cue("for_another_day") or bool(told.mentioned) or _later(told))
    return told.cue("freezing_them") or _is_frozen(told) or kept or told.target == "freezer"


def _later(told: Serving) -> bool:
    """Whether it is for a later time."""
    return told.cue("later_on") or told.message.when.future


def _is_frozen(told: Serving) -> bool:
    """'900 g frozen for later', 'frozen 900 g of it': the word tells what was done, and not which food it is."""
    weighed = {c.start for c in told.message.of("amount")}
    return any(
        end in weighed if start == told.at[0] else not told.word(end) or told.word(end) in pack()["behind_put_by"]
        for start, end in told.places("said_frozen")
    )


def _eats(clause: Message) -> bool:
    return any(pack()[name].found(clause.wording) for name in ("i_ate", "ate_myself"))


def _boxes(clause: Message, beside: Message) -> BoxUp | None:
    """The boxes that a clause tells of; None where it tells of none, or of something that did not happen."""
    if not _stores(clause):
        return None
    told = seen(_without_purpose(clause))
    pot = _pot(told, beside)
    if (
        pot is None
        or not (pot.cooked or told.cue("freezing_them"))
        or Scene(told.message).asks
        or told.unreal
        or _denied(told)
    ):
        return None
    if told.message.of("hash", "energy", "macro", "price", "tare", "part") or (told.boxes and pot.boxes):
        return None
    filled = _filled(told, pot)
    if filled is None:
        return None
    number, each = filled
    place: Place | None = "fridge" if told.target == "fridge" else None
    if told.cue("freezing_them", "freezer_itself", "said_frozen"):
        place = "freezer"
    return BoxUp(batch=ref_of([pot]), boxes=number, each=each, place=place)


def _denied(told: Serving) -> bool:
    return told.message.has_any(told.message.words.negations) or told.cue("condition", "not_yet_had")


def _without_purpose(clause: Message) -> Message:
    """The clause without what the food is kept for ('for next week', 'for the kids' lunches')."""
    for i, chunk in enumerate(clause.chunks):
        behind = clause.part(i + 1, len(clause.chunks))
        led = chunk.kind == "word" and chunk.text.lower() in pack()["for_pot"]
        if (
            led
            and behind.chunks
            and not behind.of("amount", "batch")
            and not pack()["freezer_itself"].found(behind.wording)
        ):
            return clause.part(0, i)
    return clause


def _pot(told: Serving, beside: Message) -> KnownBatch | None:
    """The pot that is named there, else beside, else the one spoken of last or the only cooked one."""
    for scene in (told.scene, Scene(beside)):
        if scene.named:
            return scene.batches[0] if len(scene.batches) == 1 else None
        if scene.foods:
            return None
    cooked = [b for b in told.message.around.batches if b.cooked]
    spoken = [b for b in cooked if b.spoken] or [b for b in cooked if b.focus] or cooked
    return spoken[0] if len(spoken) == 1 else None


def _filled(told: Serving, pot: KnownBatch) -> tuple[int, Amount] | None:
    """How many boxes, and what each holds: as told, as a product, or a weight put into so many of them."""
    left_g = pot.left_g
    if told.share is not None and told.spent(told.share) and left_g and told.share.amount is not None:
        return 1, _grams(told.share.amount.value * left_g)
    masses = [c for c in told.numbers if c in told.weights or (c.amount is not None and c.amount.kind == "mass")]
    weights = [c for c in masses if c.amount is not None and grams_of(c.amount) >= LEAST_BOX_G]
    counts = [c for c in told.counts if c not in weights and c.amount is not None]
    if not 1 <= len(weights) <= 2 or len(counts) > 1 or not told.spent(*weights, *counts):
        return None
    number = int(counts[0].amount.value) if counts and counts[0].amount is not None else 0
    found = _of_two(weights, number) if len(weights) == 2 else _of_one(told, weights[0], counts)
    return found if found is not None and 0 < found[0] <= MOST_BOXES else None


def _of_two(weights: Sequence[Chunk], number: int) -> tuple[int, Amount] | None:
    """'900 g in three tubs of 300 g', '900 g in 300 g tubs': all of them together, and one of them."""
    both = sorted((_one_of(c.amount) for c in weights if c.amount is not None), key=grams_of)
    fills = grams_of(both[1]) / grams_of(both[0])
    several = number or round(fills)
    return (several, both[0]) if abs(fills - several) <= (FITS - 1) * several else None


def _of_one(told: Serving, weight: Chunk, counts: Sequence[Chunk]) -> tuple[int, Amount] | None:
    amount = weight.amount
    if amount is None:
        return None
    if amount.times is not None:
        return int(amount.times), _one_of(amount)
    if not counts or counts[0].amount is None:
        return 1, as_mass(amount)
    number = int(counts[0].amount.value)
    into = weight.end <= counts[0].start and not told.cue("each_of_them")
    return number, _grams(grams_of(amount) / number) if into else as_mass(amount)


def _one_of(amount: Amount) -> Amount:
    """What one of several holds, whose weights were multiplied."""
    return as_mass(amount) if amount.times is None else _grams(grams_of(amount) / amount.times)


def _grams(grams: float) -> Amount:
    return Amount(kind="mass", value=grams, unit="g", grams=grams, text=f"{grams:g} g")


def _beside(message: Message, start: int, end: int) -> Message:
    """What is told beside the clause, of the same pot where it names none."""
    joins = pack()["before_a_clause"]
    while start and message.chunks[start - 1].text.lower() in joins:
        start -= 1
    while end < len(message.chunks) and message.chunks[end].text.lower() in joins:
        end += 1
    rest = message.without(message.chunks[start:end])
    if not rest.of("amount") or rest.of("food", "batch", "hash"):
        return rest
    named = [c for c in message.chunks[start:end] if c.kind == "batch"]
    return replace(rest, chunks=(*rest.chunks, *named[:1]))
