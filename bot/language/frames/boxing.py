"""Frames for putting food into boxes, and for moving boxes between fridge and freezer."""

from __future__ import annotations

from dataclasses import replace

from bot.language.chunks import Chunk
from bot.language.frames.serving import FITS, Boxes, Serving, seen
from bot.language.frames.spans import is_one
from bot.language.frames.stretch import as_mass, cut_at, grams_of
from bot.language.meanings import Meaning, Unclear
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.portion_meanings import BoxUp, MoveBoxes, Place, SplitBatch, WhichBoxes
from bot.language.scene import Scene
from bot.language.surroundings import KnownBatch
from bot.language.told import Amount, BatchRef


def boxed_up(scene: Scene) -> list[Meaning] | None:
    """'stew into 8 boxes of 320, the rest we have tonight', 'boxed the curry: 6 equal', 'b1 4 boxes'."""
    whole = seen(scene.message)
    if not (whole.boxes or whole.cue("dividing_up")) or not scene.message.around.batches:
        return None
    told = seen(without_the_rest(scene.message))
    alone = told.says_nothing_else or (whole.rest and not scene.foods and not told.may_name_more())
    ref = told.ref or whole.ref or (told.spoken_of or _only_loose(told) if alone else None)
    batch = None if ref is None else told.known(ref)
    if ref is None or batch is None or told.unreal or scene.foods or _eaten(told) or not _for_anybody(told):
        return None
    if any(told.word(c.end) in pack()["for_each"] for c in told.message.of("moment")):
        return [Unclear(text=scene.message.text)]  # 'at two fifty each' may be a time or a weight
    several = _so_many_of(told)
    if several is not None:
        return [replace(several, batch=ref)]
    counts, weights = told.counts, [c for c in told.weights if c not in told.counts or c.amount is not None]
    box = next((b for b in told.boxes if b.count is not None), None)
    if box is None and not (counts and (told.boxes or told.cue("filled_boxes"))):
        return None
    count = box.count if box is not None and box.count is not None else _first_count(counts)
    if count is None or count.amount is None:
        return None
    weights = [c for c in weights if c is not count]
    apart = [c for c in counts if c is not count and c not in weights and _for_freezer(told, c)]
    apart = [c for c in apart if not _is_same(c, count)]
    ways = [c for c in counts if c is not count and _is_same(c, count)]
    divided = _divided(told, count, [c for c in counts if c is not count and c not in ways])
    if divided is not None:
        apart, ways = divided
    weights = [c for c in weights if c not in ways and c not in apart]
    ones = [c for c in told.numbers if c.amount is not None and c is not count and is_one(c.amount)]
    ones += [c for c in told.shares if told.word(c.start - 1) in pack()["what_is_over"]]
    if len(weights) > 1 or len(apart) > 1 or not told.spent(count, *weights, *apart, *ways, *ones):
        return None
    n = int(count.amount.value)
    each = _each(weights[0], n, batch, told.cue("in_all_of_them")) if weights else None
    if (weights and each is None) or not _divides(told, box, n, batch, each):
        return None
    freezes = told.cue("freezing_them")
    place = None if apart or told.boxes_of_source else "freezer" if freezes else told.target
    up: Meaning = (
        SplitBatch(batch=ref, boxes=n)
        if each is None and place is None
        else BoxUp(batch=ref, boxes=n, each=each, place=place)
    )
    frozen = [c.amount for c in apart if c.amount is not None]
    moves = [MoveBoxes(batch=ref, which=WhichBoxes(count=int(a.value)), to="freezer") for a in frozen]
    return [up, *moves]


def _so_many_of(told: Serving) -> BoxUp | None:
    """'boxed 2 x 350 for work': so many boxes of one weight, told as a product."""
    weight = told.weights[0].amount if len(told.weights) == 1 else None
    if weight is None or weight.times is None or not told.cue("dividing_up") or not told.spent(told.weights[0]):
        return None
    each, place = _share(grams_of(weight), int(weight.times)), told.target
    return BoxUp(batch=BatchRef(), boxes=int(weight.times), each=each, place=place)


def _for_anybody(told: Serving) -> bool:
    """Whether nobody got any: people may be named as those that boxes are for ('5 tubs for everybody's lunches')."""
    if told.person is None:
        return True
    meant = any(told.led_by(told.person[0], name) for name in ("meant_for", "for_them"))
    meant = meant or told.word(told.person[0] - 1) in pack()["for_pot"]
    into = fills(told) or any(
        b.count is not None and told.word(b.count.start - 1) in pack()["into_boxes"] for b in told.boxes
    )
    return meant and (into or told.cue("dividing_up")) and not told.cue("gave_it", "took_it", "others_took")


def fills(told: Serving) -> bool:
    """Whether several boxes are told with one weight for each: '4 boxes of 200 g from the adobo, for work'."""
    if _so_many_of(told) is not None:
        return True
    several = [b for b in told.boxes if b.count is not None and b.count.amount is not None and b.count.amount.value > 1]
    if len(several) != 1 or len(told.weights) != 1 or several[0].count is told.weights[0]:
        return False
    return several[0].end <= told.weights[0].start <= several[0].end + 1


def without_the_rest(message: Message) -> Message:
    """The message without a last part that only says what happens to the rest ('…, the rest we have tonight')."""
    for i in range(len(message.chunks) - 1, 0, -1):
        if plain(message.chunks[i].text.lower()) not in pack()["before_the_rest"]:
            continue
        tail = message.part(i + 1, len(message.chunks))
        said = [plain(w) for w in tail.said[:3]]
        if said and any(True for _ in pack()["a_rest"].ends(said, 0)) and not tail.of("amount", "food"):
            return message.part(0, i)
    return message


def _only_loose(told: Serving) -> BatchRef | None:
    """The only cooked batch, if boxes are filled and no batch is named."""
    cooked = [b for b in told.message.around.batches if b.cooked]
    return BatchRef(candidates=(cooked[0].number,)) if len(cooked) == 1 and not told.scene.named else None


def _eaten(told: Serving) -> bool:
    return told.mine or told.cue("i_ate") or (told.when.meal is not None and not told.cue("dividing_up", "equally"))


def _first_count(counts: list[Chunk]) -> Chunk | None:
    small = [c for c in counts if c.amount is not None and c.amount.value > 1]
    return small[0] if small else None


def _is_same(chunk: Chunk, count: Chunk) -> bool:
    """Whether a number only repeats how many boxes there are: 'split five ways, five boxes even'."""
    return chunk.amount is not None and count.amount is not None and chunk.amount.value == count.amount.value


def _divided(told: Serving, count: Chunk, others: list[Chunk]) -> tuple[list[Chunk], list[Chunk]] | None:
    """'3 tubs, 2 fridge 1 freezer': numbers that add up to all boxes say where each part of them is."""
    amounts = [c.amount.value for c in others if c.amount is not None]
    if len(others) < 2 or count.amount is None or sum(amounts) != count.amount.value:
        return None
    ends = [*(c.start for c in others[1:]), told.at[-1] + 1]
    frozen = [
        c
        for c, end in zip(others, ends, strict=True)
        if any(told.word(n) in pack()["freezer_itself"] for n in range(c.end, end))
    ]
    return frozen, [c for c in others if c not in frozen]


def _for_freezer(told: Serving, count: Chunk) -> bool:
    """'…, 2 for freezer', '2 of them to the freezer', 'froze 2 of them'."""
    if any(end == count.start for _, end in told.places("freezing_them")):
        return True
    behind = [told.word(n) for n in range(count.end, count.end + 6)]
    return any(word in pack()["freezer_itself"] for word in behind)


def _each(weight: Chunk, n: int, batch: KnownBatch, together: bool) -> Amount | None:
    """What each box holds: the stated weight, or that weight split where it is that of all of them."""
    amount = weight.amount
    if amount is None:
        return None
    grams, left_g = grams_of(amount), batch.left_g
    if amount.times is not None:  # 'in 2 boxes of 280 g apiece', multiplied already
        grams = grams / amount.times
        return Amount(kind="mass", value=grams, unit="g", grams=grams, text=f"{grams:g} g")
    if not together and (left_g is None or n * grams <= left_g * FITS):
        return as_mass(amount)
    if left_g is None or grams <= left_g * FITS:
        return _share(grams, n)
    return None


def _share(grams: float, n: int) -> Amount:
    each = grams / n
    return Amount(kind="mass", value=each, unit="g", grams=each, text=f"{each:g} g")


def _divides(told: Serving, box: Boxes | None, n: int, batch: KnownBatch, each: Amount | None) -> bool:
    """Whether boxes are being filled rather than taken: because it says so, or because there are none to take."""
    if told.cue("dividing_up", "equally") or (box is not None and each is not None and n > 1):
        return True
    start = None if box is None or box.count is None else box.count.start
    if start is not None and told.word(start - 1) in pack()["into_boxes"]:
        return True
    return batch.boxes == 0 and n > 1 and not told.cue("eating_it")


def moved(scene: Scene) -> list[Meaning] | None:
    """'4 soups tae the freezer, 2 in the fridge', 'froze the last curry box', 'soup box out to thaw'."""
    told = seen(scene.message)
    freezes = told.cue("freezing_them")
    if (
        not (freezes or told.mentioned or told.cue("thawing_out"))
        or scene.foods
        or told.not_yet
        or told.cue("went_to_me")
        or told.person is not None
    ):
        return None
    ref = told.ref or (BatchRef(candidates=(told.only_boxed.number,)) if told.only_boxed is not None else None)
    batch = None if ref is None else told.known(ref)
    if ref is None or batch is None or not batch.boxes or told.when.meal is not None:
        return None
    put_away = freezes or told.target == "freezer"
    if told.ref is None and not told.boxes and not (put_away and told.counts and not told.may_name_more()):
        return None
    parts = [seen(part) for part in cut_at(scene.message, pack()["between_moves"])]
    moves: list[MoveBoxes] = []
    for part in parts:
        move = _move(part, ref, freezes)
        if move is not None:
            moves.append(move)
        elif part.numbers or part.mentioned:
            return None
    if not moves or not _all_counted(moves, batch):
        return None
    if {m.to for m in moves} == {"freezer", "fridge"} and not told.cue("thawing_out"):
        moves = [m for m in moves if m.to == "freezer"]
    return list(moves)


def frozen(scene: Scene) -> list[Meaning] | None:
    """'one stays in the fridge and 4 boxes I froze': boxes that are frozen, whoever says 'I' beside them."""
    return moved(scene) if scene.cue("freezing_them") else None


def _all_counted(moves: list[MoveBoxes], batch: KnownBatch) -> bool:
    counts = [m.which.count or 0 for m in moves if m.which is not None]
    return sum(counts) <= (batch.boxes or 0)


def _move(part: Serving, ref: BatchRef, freezes: bool) -> MoveBoxes | None:
    """One move: the number of boxes and their destination."""
    counts = part.counts
    to: Place | None = part.target or (
        "freezer" if freezes and (part.boxes or counts or part.ref is not None) else None
    )
    if to is None and part.cue("thawing_out") and part.source == "freezer":
        to = "fridge"
    thaws = part.cue("thawing_out") and part.when.meal is None
    if thaws and to is None and part.source is None:
        to = "fridge"
    if to is None or len(counts) > 1 or not part.spent(*counts) or (part.cue("eating_it") and not thaws):
        return None
    if not counts and not part.boxes:
        return None
    every = not counts and part.cue("every_box")
    count = int(counts[0].amount.value) if counts and counts[0].amount is not None else None if every else 1
    return MoveBoxes(batch=ref, which=WhichBoxes(count=count), to=to)
