"""Frames for a batch that is counted out in pieces."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.batch_meanings import OpenBatch
from bot.language.chunks import Chunk
from bot.language.frames.serving import Serving, seen
from bot.language.frames.spans import is_one
from bot.language.frames.stretch import as_mass, grams_of
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.name_tables import lemmas_of
from bot.language.pack import pack
from bot.language.portion_meanings import CountPieces
from bot.language.pots import one_of
from bot.language.scene import Scene
from bot.language.surroundings import KnownBatch, worked_on
from bot.language.text import singular
from bot.language.told import BatchRef

MOST_PIECES = 300
NEAR = 1.5
"""All pieces together weigh up to so many times what the batch does."""
MANY = 8
"""So many pieces nobody eats at once."""
PIECE = "piece"
"""What the parts are called where no word says it."""
LEAST = 0.2
"""They weigh at least so much of what went in."""


def in_pieces(scene: Scene) -> list[Meaning] | None:
    """'20 rotis came out of batch 1, all same size', 'meatballs rolled: 24, 40 g each'."""
    told = seen(scene.message)
    if not scene.message.around.batches or told.not_yet or not (told.cue("pieces_made") or _are_many(told)):
        return None
    if (
        told.mine
        or told.cue("i_ate", "freezing_them")
        or told.boxes
        or (told.person is not None and told.word(told.person[0]) not in pack()["the_pieces_told"])
        or scene.message.when.meal
    ):
        return None
    found = _counted(told)
    if found is None:
        return None
    batch, count, word = found
    weights = [c for c in told.numbers if c is not count and not (c.amount is not None and is_one(c.amount))]
    ones = [c for c in told.numbers if c.amount is not None and is_one(c.amount)]  # 'all one size'
    if len(weights) > 1 or not told.spent(count, *weights, *ones) or count.amount is None:
        return None
    n = int(count.amount.value)
    whole = batch.left_g or batch.raw_g
    ref = BatchRef(candidates=(batch.number,))
    if not weights:
        return [CountPieces(batch=ref, pieces=n, word=word)]
    amount = weights[0].amount
    if amount is None or amount.kind not in ("mass", "bare"):
        return None
    grams = grams_of(amount)
    if whole is not None and n * grams < whole * LEAST:
        return None  # 'six crackers, which came to 18 g' are none of the soup's
    if whole is not None and n * grams > whole * NEAR:
        return [CountPieces(batch=ref, pieces=n, word=word, amount=as_mass(amount))]
    return [CountPieces(batch=ref, pieces=n, word=word, each=as_mass(amount))]


def _are_many(told: Serving) -> bool:
    """'20 rotis in the batch': more of what a batch is called than anybody eats, where none were counted yet."""
    if told.cue("eating_it", "gave_it", "took_it", "came_to_grief"):
        return False
    whole = {one_of(lemma) for b in told.message.around.batches if b.pieces is None for lemma in lemmas_of(b.name)[-1:]}
    counts = [c for c in told.counts if c.amount is not None and c.amount.kind != "mass" and c.amount.value >= MANY]
    return any(one_of(told.message.line.text(c.end)) in whole and told.word(c.end).endswith("s") for c in counts)


def _counted(told: Serving) -> tuple[KnownBatch, Chunk, str] | None:
    """The batch, the number of pieces, and the singular of the word for them."""
    named = told.batches or [b for b in told.message.around.batches if b.pieces is None]
    named = list(worked_on(named)) if all(not b.cooked for b in named) else named
    for count in told.counts:
        if count.amount is None or count.amount.value < 2:
            continue
        if told.word(count.start - 1) in pack()["into_pieces"] and told.cue("cut_up") and len(named) == 1:
            near = _words_near(told, count)
            word = next((w for w in near if w in told.message.words.piece_nouns), _one_of_its_name(named[0]))
            if named[0].pieces is None:
                return named[0], count, word
        if any(food.start <= count.end < food.end for food in told.scene.foods):
            continue  # 'six saltine crackers' are no pieces of the soup
        for word in _words_near(told, count):
            alike = [b for b in named if word == b.piece or word in map(one_of, lemmas_of(b.name))]
            general = word in told.message.words.piece_nouns and len(named) == 1
            found = alike or (named if general else [])
            if len(found) == 1 and found[0].pieces is None:
                return found[0], count, word
        if len(named) == 1 and named[0].pieces is None and _cut_into(told, count):
            return named[0], count, PIECE
    return None


def _one_of_its_name(batch: KnownBatch) -> str:
    """'flapjack' of a batch called flapjacks; 'piece' of a pie."""
    last = batch.name.lower().split()[-1]
    return one_of(last) if one_of(last) != last else "piece"


def _cut_into(told: Serving, count: Chunk) -> bool:
    """Whether a number of nothing said is what it was cut into: 'and it cuts into 15'."""
    into = told.word(count.start - 1) in pack()["into_pieces"]
    return into and any(end in (count.start - 1, count.start) for _, end in told.places("cut_up"))


def _words_near(told: Serving, count: Chunk) -> list[str]:
    """The singulars of the words after a number, and of its own unit."""
    line = told.message.line
    behind = [one_of(line.text(n)) for n in range(count.end, min(count.end + 3, told.at[-1] + 1))]
    return [*(w for w in [count.amount.unit if count.amount is not None else ""] if w), *behind]


def pieces_of_the_new(message: Message, meant: Sequence[Meaning]) -> list[Meaning] | None:
    """'rotis: 360 g flour, 220 g water. 12 rotis from it': the pieces that a new batch makes are no ingredient."""
    new = meant[0] if len(meant) == 1 else None
    if not isinstance(new, OpenBatch) or not new.name or len(new.items) < 2:
        return None
    last = new.items[-1]
    counted = last.amount is not None and last.amount.kind in ("bare", "count") and last.amount.value > 1
    if last.name is None or last.amount is None or not counted or last.amount.value % 1:
        return None
    word = singular(last.name.text.split()[-1])
    if word not in {singular(each) for each in new.name.lower().split()}:
        return None
    return [
        replace(new, items=new.items[:-1]),
        CountPieces(batch=BatchRef(), pieces=int(last.amount.value), word=word),
    ]
