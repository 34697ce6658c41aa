"""What a recipe's message tells behind the ingredients of the dish as it came out: its weight, its pieces."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.language.chunks import Chunk
from bot.language.frames.pot_names import STOPS
from bot.language.frames.spans import is_one
from bot.language.frames.stretch import as_mass, grams_of
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.pots import one_of
from bot.language.told import Amount

LEAST_OF_RAW, MOST_OF_RAW = 0.3, 2.5
"""What a dish weighs at least and at most for what its recipe says went in."""
MOST_PIECES = 200
SUM = 0.005
"""Up to this part of it a weight differs from a sum only by rounding."""


@dataclass(frozen=True)
class CameOut:
    """What a dish weighed when it was done, and its pieces."""

    weight: Amount | None = None
    pieces: int | None = None
    piece: str = "piece"

    def adds_up(self, raw_g: float) -> bool:
        """Whether its weight is only the sum of what is told, as it is on a plate."""
        return self.weight is not None and abs(grams_of(self.weight) - raw_g) <= SUM * raw_g


def came_out(body: Message) -> tuple[Message, CameOut] | None:
    """A list of ingredients without its end that tells of the dish, and what that tells; None where nothing does.

    '600 g lamb mince raw, 800 g potatoes, came out 1380 without the dish', '…, makes 12, 590 g the lot baked'
    """
    parts = _parts(body)
    first = len(parts)
    while first and not any(c.kind in ("food", "batch") for c in parts[first - 1]):
        first -= 1
    tail = [chunk for part in parts[first:] for chunk in part]
    if not first or not tail:
        return None
    said = [plain(t.text) for c in tail for t in body.tokens[c.start : c.end]]
    words = pack()
    cues = (words["done"], words["weighing_now"], words["pieces_made"], words["cut_up"], words["all_together"])
    if not any(cue.found(said) for cue in cues):
        return None
    amounts = [c for c in tail if c.amount is not None and not is_one(c.amount)]
    weights = [c for c in amounts if _is_weight(c)]
    counts = [c for c in amounts if c not in weights and _is_count(c)]
    if len(weights) > 1 or len(counts) > 1 or len(weights) + len(counts) != len(amounts) or not amounts:
        return None
    at = next(n for n, c in enumerate(body.chunks) if c is tail[0])
    weight = weights[0].amount if weights else None
    count = counts[0].amount if counts else None
    return body.part(0, at), CameOut(
        weight=None if weight is None else as_mass(weight),
        pieces=None if count is None else int(count.value),
        piece=_word(body, counts[0]) if counts else "piece",
    )


def fits(out: CameOut, raw_g: float) -> bool:
    """Whether a dish can have come out like that from so much raw food."""
    return out.weight is None or LEAST_OF_RAW * raw_g <= grams_of(out.weight) <= MOST_OF_RAW * raw_g


def _parts(body: Message) -> list[list[Chunk]]:
    parts: list[list[Chunk]] = [[]]
    for chunk in body.chunks:
        if chunk.text in STOPS or chunk.kind == "newline" or plain(chunk.text.lower()) in pack()["joining"]:
            parts.append([])
        else:
            parts[-1].append(chunk)
    return [part for part in parts if part]


def _is_weight(chunk: Chunk) -> bool:
    amount = chunk.amount
    return amount is not None and (amount.kind == "mass" or (amount.kind == "bare" and amount.value > MOST_PIECES))


def _is_count(chunk: Chunk) -> bool:
    amount = chunk.amount
    if amount is None or amount.kind not in ("bare", "count", "measure"):
        return False
    return amount.value % 1 == 0 and 1 < amount.value <= MOST_PIECES


def _word(body: Message, count: Chunk) -> str:
    """What the pieces are called: the word with their number, else 'piece'."""
    words: Sequence[str] = [count.amount.unit if count.amount is not None else "", body.line.text(count.end)]
    return next((one_of(word) for word in words if one_of(word) in body.words.piece_nouns), "piece")
