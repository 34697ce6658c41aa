"""Frames for a bare number that the state of a batch says to count its pieces or its boxes.

Nothing beside the number names a food: a batch just weighed has so many pieces, or so many of its boxes left.
"""

from __future__ import annotations

from bot.language.batch_meanings import CookBatch
from bot.language.chunks import Chunk
from bot.language.frames.cooking import cooked
from bot.language.frames.pot_names import SENTENCE_ENDS
from bot.language.frames.serving import LEAST_G, Serving, seen
from bot.language.meanings import Meaning, Unclear
from bot.language.pack import pack
from bot.language.portion_meanings import CountPieces, GiveAway, WhichBoxes
from bot.language.pots import one_of
from bot.language.scene import Scene, ref_of
from bot.language.surroundings import KnownBatch

MOST_CHUNKS = 12
"""A longer message tells more than a number."""
MOST_PIECES = 200
LEAST_OF_RAW = 0.1
"""A smaller part of what went in is not what a batch weighs."""
LEAST_PIECE_G = 2.0
"""No piece weighs less."""
TWO = 2
MOST_TO_PLACE = 4
"""Tokens from a verb of going to whoever gets it."""


def so_many(scene: Scene) -> list[Meaning] | None:
    """'There are 30', 'makes 18', 'it became 24': the pieces of the batch that was spoken of."""
    told = seen(scene.message)
    batch = _uncounted(told)
    return None if batch is None else _counted(told, batch)


def done_and_counted(scene: Scene) -> list[Meaning] | None:
    """'Meatballs fried: 690 g. There are 30.': what a batch weighs, then its pieces."""
    chunks = scene.message.chunks
    at = next((n for n in range(len(chunks) - 2, 0, -1) if chunks[n].text in SENTENCE_ENDS), None)
    if at is None or len(scene.amounts) != TWO or not scene.message.around.cooking:
        return None
    weighed = cooked(Scene(scene.message.part(0, at)))
    first = weighed[0] if weighed and len(weighed) == 1 else None
    if not isinstance(first, CookBatch):
        return None
    alike = [b for b in scene.message.around.batches if b.number in first.batch.candidates and b.pieces is None]
    counted = _counted(seen(scene.message.part(at + 1, len(chunks))), alike[0]) if len(alike) == 1 else None
    return None if counted is None else [first, *counted]


def _counted(told: Serving, batch: KnownBatch) -> list[Meaning] | None:
    """The batch in as many pieces as the only number says; None if it says something else."""
    count = _only_number(told)
    if count is None or count.amount is None or _tells_more(told):
        return None
    n = count.amount.value
    if not told.cue("pieces_made", "there_are", "so_many_of_them") or told.cue("each_one", "each_of_them"):
        return None
    whole = batch.left_g or batch.raw_g
    if whole is None or not 1 < n <= min(MOST_PIECES, LEAST_OF_RAW * whole, whole / LEAST_PIECE_G):
        return None
    return [CountPieces(batch=ref_of([batch]), pieces=int(n), word=one_of(batch.name.lower().split()[-1]))]


def _uncounted(told: Serving) -> KnownBatch | None:
    """The batch spoken of last, if its name is a plural that nobody counted so far."""
    spoken = [b for b in told.message.around.batches if b.spoken]
    if len(spoken) != 1 or (told.scene.named and told.scene.batches != spoken):
        return None
    batch = spoken[0]
    last = batch.name.lower().split()[-1]
    return batch if batch.pieces is None and not batch.boxes and one_of(last) != last else None


def _only_number(told: Serving) -> Chunk | None:
    """The one number told, if it is a whole one without a unit."""
    amounts = told.scene.amounts
    if len(amounts) != 1 or told.message.of("hash", "energy", "macro", "price") or amounts[0].amount is None:
        return None
    amount = amounts[0].amount
    bare = amount.kind == "bare" or (amount.kind == "count" and not amount.unit)
    return amounts[0] if bare and amount.doubt is None and amount.value % 1 == 0 else None


def _tells_more(told: Serving) -> bool:
    """Whether somebody had some, another food is named, or none of it has happened."""
    if len(told.message.chunks) > MOST_CHUNKS or told.scene.foods or told.boxes or told.unreal:
        return True
    if told.mine or told.person is not None or told.cue("i_ate", "eating_it", "came_to_grief"):
        return True
    return bool(told.message.when.meal) or told.cue("negation", "condition", "told_wrong", "contrasts")


def boxes_gone(scene: Scene) -> list[Meaning] | None:
    """'my husband took 2 to work', 'threw one out, it leaked': so many of the boxes that were spoken of."""
    message = scene.message
    boxed = [b for b in message.around.batches if b.spoken and b.boxes and not b.pieces]
    if len(boxed) != 1 or scene.named or scene.foods or len(message.chunks) > MOST_CHUNKS:
        return None
    told = seen(message)
    if told.unreal or told.mine or told.boxes or told.cue("negation", "condition", "contrasts", "told_wrong"):
        return None
    counts = [c for c in scene.amounts if c.amount is not None and not told.of_people(c)]
    if len(counts) != 1 or message.of("hash", "energy", "macro", "price", "food", "state"):
        return None
    amount = counts[0].amount
    if amount is None or amount.unit or amount.kind not in ("bare", "count") or amount.doubt is not None:
        return None
    lost = told.cue("came_to_grief")
    if not (lost or (told.person is not None and told.cue("gave_it", "took_it"))) or told.cue("went_to_me"):
        return None
    if (
        amount.value % 1
        or not 0 < amount.value <= min(boxed[0].boxes or 0, LEAST_G)
        or _counts_a_thing(told, counts[0])
    ):
        return None
    who = "" if lost or told.person is None else message.line.said(*told.person)
    which = WhichBoxes(count=int(amount.value))
    return [GiveAway(batch=ref_of(boxed), why="thrown out" if lost else "given away", boxes=which, who=who)]


def _counts_a_thing(told: Serving, count: Chunk) -> bool:
    """Whether the word behind the number may be what it counts: 'took 2 biscuits', 'took one look'."""
    word = told.word(count.end)
    counts = bool(word) and told.message.tokens[count.end].kind == "word"
    return counts and word not in pack()["behind_a_count"] and not told.message.of("moment")


def sent_off(scene: Scene) -> list[Meaning] | None:
    """'six of the buns go to the altos': pieces that went to whoever it is, and not to a place in the kitchen."""
    message = scene.message
    pieces = [b for b in message.around.batches if b.pieces]
    if not pieces or message.asks or len(message.chunks) > MOST_CHUNKS:
        return None
    told = seen(message)
    goes = next(told.places("goes_to"), None)
    if goes is None or told.unreal or told.mine or told.cue("negation", "went_to_me", "along_with_me"):
        return None
    counts = [c for c in told.numbers if c.end <= goes[0] and c.amount is not None and c.amount.value > 0]
    if len(counts) != 1 or not told.spent(counts[0]):
        return None
    words = {one_of(told.word(n)) for n in range(counts[0].start, goes[0])}
    unit = one_of(counts[0].amount.unit) if counts[0].amount is not None else ""
    alike = [b for b in pieces if b.piece and b.piece in (words | {unit})]
    amount = counts[0].amount
    if len(alike) != 1 or amount is None or amount.kind == "mass" or amount.value > (alike[0].pieces or 0.0):
        return None
    if told.mentioned:
        return [Unclear(text=message.text)]  # 'six of the buns go to the freezer': put away, not eaten
    if goes[1] not in told.at or told.word(goes[1]) in pack()["no_taker"]:
        return None
    end = min(told.at[-1] + 1, goes[1] + MOST_TO_PLACE)
    who = message.line.said(goes[1], end)
    return [GiveAway(batch=ref_of(alike), why="given away", pieces=amount.value, who=who)]
