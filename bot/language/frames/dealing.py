"""The frame for a batch of which several had some, each in their own words: only the writer's part is on record."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.chunks import Chunk
from bot.language.frames.boxing import fills
from bot.language.frames.by_clause import by_clause, clauses_of, whole_of
from bot.language.frames.heads import by_the_total, heads
from bot.language.frames.serving import FITS, LEAST_G, Serving, core, seen
from bot.language.frames.stretch import as_mass, grams_of
from bot.language.frames.takers import Dealt, Taker, dealt_out, quantities_of
from bot.language.frames.taking import is_anothers, parted
from bot.language.items import items
from bot.language.meanings import LeftOut, Meaning, NotMine, Unclear
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.portion_meanings import GiveAway, MoveBoxes, ReduceBatch, TakeBoxes, TakePieces, TakeShare, WhichBoxes
from bot.language.pots import one_of
from bot.language.scene import Scene
from bot.language.stance import how_it_is_said
from bot.language.surroundings import KnownBatch
from bot.language.told import Amount, BatchRef, Item

MOST_OVER = 1.15
"""Up to so many times what is left may be told of what stood there: the writer weighed it, the books only add up."""


def dealt(scene: Scene) -> list[Meaning] | None:
    """'390 of the pie for me, Tom had loads, 520', 'she had 2 slices and took 4 for my dad', 'me 380, ellie 180'."""
    scene = seen(core(scene.message)).scene
    if not scene.message.around.batches or _unreal(seen(scene.message)):
        return None
    base, beside = parted(scene)
    if base is None:
        return None
    told = seen(base)
    if told.scene.foods or told.message.of("hash", "energy", "macro"):
        return None
    if told.cue("condition", "halving", "left_by_others") or _denied(told) or (told.boxes and told.shares):
        return None
    if fills(told) and not told.cue("gave_it", "took_it"):
        return None  # '4 boxes of 200 g from the adobo, for work'
    ref = told.ref or (None if told.scene.named else _unnamed(told))
    batch = None if ref is None else told.known(ref) or _fullest(told, ref)
    if ref is None or batch is None or (not batch.cooked and told.cue("puts_in", "in_the_pot")):
        return None  # 'thrown in another 150 g'
    numbers = [c for c in told.numbers if not is_of_a_vessel(told, c)]
    numbers = sorted({*numbers, *pieces_said(told, batch)}, key=lambda c: c.start)
    standing = [c for c in numbers if stands_there(told, c, batch)]
    dealt_ones = [c for c in numbers if c not in standing]
    clauses = clauses_of(told, quantities_of(told, dealt_ones))
    if (len(dealt_ones) > 1 and whole_of(clauses) is not None) or any(c.makes and c.quantities for c in clauses):
        return None  # 'took 260, a colleague pinched 60 of that', 'my lodger cooked 300 g'
    summed = by_the_total(told, dealt_ones) if batch.pieces or (batch.boxes and told.boxes) else None
    shared, alike = summed or (dealt_out(told, dealt_ones) or _by_clause(told, dealt_ones), None)
    if shared and len(shared) == 1 and (told.cue("shared_it") or _of_something_else(told, shared[0][1])):
        return None
    if shared and len(shared) == 1 and shared[0][0].chunk is None and shared[0][1].whose == "stays":
        return [MoveBoxes(batch=ref, which=None, to=told.target or "freezer", when=told.when)] if batch.cooked else None
    sides = {taker.whose for _, taker in shared or ()}
    alone = sides <= {"mine", "stays"} and not (told.cue("meant_for") and told.ref is not None)
    if not shared or alone or sides == {"lost", "stays"}:
        return None
    meant = all_of(told, shared, ref, batch, alike)
    if meant is None:
        return None
    eaten = _beside(beside)
    return None if eaten is None else [*meant, *eaten]


def _by_clause(told: Serving, numbers: Sequence[Chunk]) -> list[Dealt] | None:
    """What others had, where their clause only says that they did: 'the kids had a bowl each, 250 and 210'."""
    shared = by_clause(told, numbers)
    return shared if shared and all(taker.whose == "theirs" for _, taker in shared) else None


def _beside(parts: Sequence[Message]) -> list[Meaning] | None:
    """What the writer had with it; None if a food or an amount of it is not told."""
    eaten: list[Meaning] = []
    for part in parts:
        if is_anothers(seen(part)):
            eaten.append(NotMine(why="others"))
            continue
        here = items(part)
        if any(item.name is None or item.amount is None for item in here):
            return None
        eaten.extend(here)
    return eaten


def _of_something_else(told: Serving, taker: Taker) -> bool:
    """'my dad had 300 for the car': no batch is named, and an unknown word may say what it was."""
    return told.ref is None and told.may_name_more((taker.start, taker.end))


def _denied(told: Serving) -> bool:
    """Whether something is denied, apart from the writer's having had any."""
    mine = {n for start, end in told.places("not_to_me") for n in range(start, end)}
    return any(start not in mine for start, _ in told.places("negation"))


def _unreal(told: Serving) -> bool:
    """Whether none of it has happened; what was sold is gone all the same."""
    if told.not_yet or how_it_is_said(told.message) is not None or told.cue("not_yet_had"):
        return True
    return told.cue("later_on") and not told.cue("had_of_it")


def _unnamed(told: Serving) -> BatchRef | None:
    """The batch that no name says: the one spoken of, the only one in such pieces, or the one in focus."""
    if told.spoken_of is not None:
        return told.spoken_of
    open_ones = [b for b in told.message.around.batches if b.cooked]
    spoken = [b for b in open_ones if b.spoken]
    counted = [b for b in open_ones if b.pieces and _word_for(told, b)]
    found = counted or spoken
    if len(found) == 1:
        return BatchRef(candidates=(found[0].number,))
    return None if found or not told.weights else told.in_focus


def _fullest(told: Serving, ref: BatchRef) -> KnownBatch | None:
    """Of several cooked batches of the name the one that holds most: which one is meant is asked."""
    alike = [b for b in told.message.around.batches if b.cooked and b.number in ref.candidates]
    return max(alike, key=lambda b: b.left_g or 0.0, default=None)


def _word_for(told: Serving, batch: KnownBatch) -> bool:
    return any(one_of(told.message.line.text(n)) == batch.piece for n in told.at)


def is_of_a_vessel(told: Serving, chunk: Chunk) -> bool:
    """'two bowls of it: …': a number of plates beside the weights of what is on them."""
    amount = chunk.amount
    weighed = any(c is not chunk for c in told.weights)
    return amount is not None and amount.kind != "mass" and amount.unit in told.message.words.vessels and weighed


def stands_there(told: Serving, chunk: Chunk, batch: KnownBatch) -> bool:
    """'there was 900 of it left': what was there, which nobody took."""
    if chunk not in told.weights or chunk.amount is None or batch.left_g is None:
        return False
    before = [told.word(n) for n in range(chunk.start - 4, chunk.start)]
    ends = {end for i in range(len(before)) for end in pack()["stood_there"].ends(before, i)}
    grams = grams_of(chunk.amount)
    others = sum(grams_of(c.amount) for c in told.weights if c is not chunk and c.amount is not None)
    holds = others <= grams <= MOST_OVER * batch.left_g
    return holds and any(all(w in told.message.words.filler for w in before[end:]) for end in ends)


def all_of(
    told: Serving, shared: Sequence[Dealt], ref: BatchRef, batch: KnownBatch, alike: float | None
) -> list[Meaning] | None:
    """What each had, in the order told; None if a number can be no part of the batch, or all are more than is left."""
    meant: list[Meaning] = []
    unit: Amount | None = None
    grams = pieces = 0.0
    mine = any(taker.whose == "mine" for _, taker in shared)
    for n, (quantity, taker) in enumerate(shared):
        chunk = quantity.chunk
        if chunk is None:
            if n != len(shared) - 1:
                return None
            meant.extend(_rest(taker, ref, told))
            continue
        amount = chunk.amount
        times = heads(told, quantity, taker) or alike
        if amount is None or (amount.doubt is not None and (times is not None or not mine)):
            return None
        count = _counted(told, chunk, batch)
        if times is None:
            said = told.message.line.said(min(taker.start, chunk.start), max(taker.end, chunk.end))
            meant.append(LeftOut(texts=(said,)) if mine else Unclear(text=said))
            continue
        if count is not None:
            count *= times
            pieces += count
            meant.append(_pieces(count, taker, ref, batch, told))
            continue
        if 0 < amount.value < 1 and amount.kind in ("bare", "count") and not amount.unit:
            meant.append(_share(amount, taker, ref, batch, told))
            continue
        boxed = _boxed(told, chunk, batch)
        if boxed is not None:
            meant.append(_boxes(int(boxed * times), taker, ref, told))
            continue
        if _of_other_things(told, chunk):
            return None
        if amount.kind not in ("mass", "bare") or (amount.kind == "bare" and unit is None and amount.value < LEAST_G):
            return None
        mass = as_mass(amount, unit)
        unit = amount if amount.kind == "mass" else unit
        mass = mass if times == 1 else _times(mass, times)
        grams += grams_of(mass)
        meant.append(_weight(mass, taker, ref, told))
    if told.ref is None and batch.left_g is not None and grams > batch.left_g * FITS and len(shared) > 1:
        return None
    return None if batch.pieces and pieces > batch.pieces else meant


def _counted(told: Serving, chunk: Chunk, batch: KnownBatch) -> float | None:
    """The number of pieces that an amount says; None if it is no number of pieces of the batch."""
    amount = chunk.amount
    if not batch.pieces or amount is None or amount.kind == "mass" or not 0 < amount.value <= batch.pieces:
        return None
    if amount.unit and one_of(amount.unit) == batch.piece:
        return amount.value
    if amount.value < 1:
        return (
            amount.value if told.cue("the_other_part") and any(_is_of_a_piece(c, batch) for c in told.numbers) else None
        )
    weighed = amount.kind == "bare" and amount.value >= LEAST_G and not _word_for(told, batch)
    whole = amount.value == int(amount.value)
    return amount.value if whole and not amount.unit and not weighed else None


def pieces_said(told: Serving, batch: KnownBatch) -> list[Chunk]:
    """'a slice', '3 slices' where the batch is in slices."""
    return [c for c in told.scene.amounts if _is_a_piece(c, batch)]


def boxes_said(told: Serving, batch: KnownBatch) -> list[Chunk]:
    """'a box' where the batch is in boxes."""
    if not batch.boxes:
        return []
    ones = [c for c in told.scene.amounts if c not in told.numbers]
    alone = [box for box in told.boxes if box.count is None]
    return [c for c in ones if any(c.start <= b.start and told.only_beside(c.end, b.start) for b in alone)]


def _is_a_piece(chunk: Chunk, batch: KnownBatch) -> bool:
    """'a slice' where the batch is in slices."""
    amount = chunk.amount
    return amount is not None and bool(batch.piece) and bool(amount.unit) and one_of(amount.unit) == batch.piece


def _is_of_a_piece(chunk: Chunk, batch: KnownBatch) -> bool:
    amount = chunk.amount
    return amount is not None and bool(amount.unit) and one_of(amount.unit) == batch.piece and amount.value < 1


def _boxed(told: Serving, chunk: Chunk, batch: KnownBatch) -> int | None:
    """The number of boxes that an amount says."""
    amount = chunk.amount
    if not batch.boxes or not told.boxes or amount is None or amount.value > batch.boxes:
        return None
    return int(amount.value) if chunk in told.counts or chunk in boxes_said(told, batch) else None


def _of_other_things(told: Serving, chunk: Chunk) -> bool:
    """'20 trucks': a bare number that counts what is no food."""
    n = chunk.end
    if chunk.amount is None or chunk.amount.kind != "bare" or not told.word(n).endswith("s"):
        return False
    word = told.message.tokens[n].kind == "word" and not told.named_at(n)
    return word and not told.is_known(n) and not told.is_person(n)


def _times(mass: Amount, times: float) -> Amount:
    grams = grams_of(mass) * times
    return Amount(kind="mass", value=grams, unit="g", grams=grams, text=f"{times:g} x {mass.text}")


def _why(taker: Taker) -> str:
    return "thrown out" if taker.whose == "lost" else "given away"


def _weight(mass: Amount, taker: Taker, ref: BatchRef, told: Serving) -> Meaning:
    if taker.whose == "mine":
        return Item(text=told.message.text, amount=mass, batch=ref, when=told.when)
    return GiveAway(batch=ref, why=_why(taker), amount=mass, who=taker.who)


def _pieces(count: float, taker: Taker, ref: BatchRef, batch: KnownBatch, told: Serving) -> Meaning:
    if taker.whose == "mine":
        return TakePieces(batch=ref, pieces=count, word=batch.piece, when=told.when)
    return GiveAway(batch=ref, why=_why(taker), pieces=count, who=taker.who)


def _boxes(count: int, taker: Taker, ref: BatchRef, told: Serving) -> Meaning:
    if taker.whose == "mine":
        return TakeBoxes(batch=ref, which=WhichBoxes(count=count, place=told.source), when=told.when)
    if taker.whose == "stays":
        return MoveBoxes(batch=ref, which=WhichBoxes(count=count), to="freezer")
    return GiveAway(batch=ref, why=_why(taker), boxes=WhichBoxes(count=count, place=told.source), who=taker.who)


def _share(share: Amount, taker: Taker, ref: BatchRef, batch: KnownBatch, told: Serving) -> Meaning:
    # shares told together are of the same, though the first leaves less in the pot
    of = told.share_of or ("whole" if batch.untouched else None)
    if taker.whose == "mine":
        return TakeShare(batch=ref, fraction=share.value, of=of, text=share.text, when=told.when)
    return GiveAway(batch=ref, why=_why(taker), fraction=share.value, of=of, who=taker.who)


def _rest(taker: Taker, ref: BatchRef, told: Serving) -> list[Meaning]:
    """What becomes of all that is left then; nothing where it only stays."""
    if taker.whose == "stays":
        return []
    if taker.whose == "mine":
        return [TakeShare(batch=ref, fraction=1.0, of="left", text="the rest", when=told.when)]
    return [ReduceBatch(batch=ref, amount=None, why="discarded" if taker.whose == "lost" else "given away")]
