"""Pieces of a pot told one portion after another: 'one lasagna square at breakfast and one and a half for dinner'."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.chunks import Chunk
from bot.language.frames.serving import Serving, seen
from bot.language.meanings import Meaning
from bot.language.moments import together
from bot.language.pack import pack
from bot.language.portion_meanings import TakePieces
from bot.language.pots import one_of
from bot.language.scene import Scene, ref_of
from bot.language.surroundings import KnownBatch
from bot.language.told import Amount, When

MOST_CHUNKS = 30
LEAST_PORTIONS = 2
MOST_BETWEEN = 4
"""Tokens between a number and the word for what it counts: 'three of the lasagna squares'."""


def pieces_apart(scene: Scene) -> list[Meaning] | None:
    """The portions, each with its time; a later one that names only a meal is of the same day as the one before."""
    message = scene.message
    if len(message.chunks) > MOST_CHUNKS or not scene.amounts or all(not b.pieces for b in message.around.batches):
        return None
    told = seen(message)
    pot = _pot(told)
    if pot is None or scene.foods or told.unreal or told.person is not None or told.cue("negation", "condition"):
        return None
    if message.of("hash", "energy", "macro", "price", "tare", "part") or told.cue("cut_up", "pieces_made", "a_rest"):
        return None
    counts = [c for c in scene.amounts if c.amount is not None]
    if len(counts) < LEAST_PORTIONS or told.cue("came_to_grief", "gave_it", "still_there"):
        return None
    if not _counts(told, counts[0], pot) or not all(_counts(told, c, pot) or _goes_on(told, c) for c in counts):
        return None
    numbers = [c.amount.value for c in counts if c.amount is not None]
    if pot.pieces is None or sum(numbers) > pot.pieces or not all(numbers):
        return None
    whens = _times(told, counts)
    return [
        TakePieces(batch=ref_of([pot]), pieces=number, word=pot.piece, when=when)
        for number, when in zip(numbers, whens, strict=True)
    ]


def _pot(told: Serving) -> KnownBatch | None:
    """The one pot in such pieces that is named, or was spoken of last."""
    said = {one_of(told.message.line.text(n)) for n in told.at}
    pots = [b for b in told.message.around.batches if b.pieces and b.piece in said]
    named = [b for b in pots if b in told.scene.batches]
    if told.scene.named:
        return named[0] if len(named) == 1 and len(told.scene.batches) == 1 else None
    spoken = [b for b in pots if b.spoken or b.focus]
    return spoken[0] if len(spoken) == 1 else None


def _counts(told: Serving, chunk: Chunk, pot: KnownBatch) -> bool:
    """Whether a number counts the pot's pieces, whose name may stand between."""
    amount = chunk.amount
    if amount is None or amount.doubt is not None or amount.kind not in ("bare", "count", "measure"):
        return False
    if amount.unit:
        return one_of(amount.unit) == pot.piece
    for n in range(chunk.end, chunk.end + MOST_BETWEEN):
        if one_of(told.word(n)) == pot.piece:
            return True
        if not (told.named_at(n) or told.word(n) in pack()["of_a_share"] or told.word(n) in pack()["before_a_place"]):
            return False
    return False


def _goes_on(told: Serving, chunk: Chunk) -> bool:
    """'… and two for dinner': whether nothing but a time or the end stands behind a small number."""
    amount: Amount | None = chunk.amount
    if amount is None or amount.kind != "bare" or amount.doubt is not None:
        return False
    starts = {c.start for c in told.message.of("moment")}
    return chunk.end in starts or not told.word(chunk.end)


def _times(told: Serving, counts: Sequence[Chunk]) -> list[When]:
    """When each portion was eaten: by what is said in its own part of the sentence."""
    message = told.message
    marks = [c.start for c in message.chunks if c.kind != "amount" and c.text.lower() in pack()["before_a_clause"]]
    cuts = [max((m for m in marks if m < c.start), default=c.start) for c in counts[1:]]
    ends = [*cuts, told.at[-1] + 1]
    found: list[When] = []
    for start, end in zip([told.at[0], *cuts], ends, strict=True):
        within = [c.moment for c in message.of("moment") if start <= c.start < end and c.moment is not None]
        when = together(within, message.around)
        before = found[-1] if found else None
        if before is not None and when.day is None and when.moment is None:
            when = replace(when, day=before.day)
        found.append(when)
    return found
