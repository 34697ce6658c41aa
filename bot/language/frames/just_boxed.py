"""Frames for a box eaten as soon as the boxes were filled: 'one' is one of them where no food stands beside it."""

from __future__ import annotations

from bot.language.chunks import Chunk
from bot.language.frames.boxing import boxed_up
from bot.language.frames.serving import Serving, seen
from bot.language.frames.stretch import as_mass, grams_of
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.portion_meanings import BoxUp, SplitBatch, TakeBoxes, WhichBoxes
from bot.language.scene import Scene
from bot.language.told import BatchRef

MOST_CHUNKS = 40
MOST_ALONE = 3
"""Chunks of a message that says 'a box' and nothing else."""
MOST_EATEN = 3
"""Boxes that one person eats at once at most."""


def boxed_and_ate(scene: Scene) -> list[Meaning] | None:
    """'boxed the stew in 5 equal ones and ate one right away with 150 g cooked rice'."""
    message = scene.message
    if not message.around.batches or not scene.named or len(message.chunks) > MOST_CHUNKS or message.asks:
        return None
    told = seen(message)
    if not told.cue("ate_myself", "went_to_me") or not (told.boxes or told.cue("dividing_up")):
        return None
    for n, chunk in enumerate(message.chunks):
        if n and _begins_eating(told, chunk.start) and message.part(0, n).of("amount"):
            up = boxed_up(Scene(_without_joiner(message, n)))
            first = up[0] if up else None
            if up is None or not isinstance(first, SplitBatch | BoxUp):
                return None
            eaten = _one_of_them(message.part(n, len(message.chunks)), first.batch, first.boxes or 0)
            return None if eaten is None else [*up, *eaten]
    return None


def ate_one(scene: Scene) -> list[Meaning] | None:
    """'ate one now with 5 oz rice' right after the boxes were filled."""
    boxed = [b for b in scene.message.around.batches if b.spoken and b.boxes and not b.pieces]
    if (
        len(boxed) != 1
        or scene.named
        or len(scene.message.chunks) > MOST_CHUNKS
        or not scene.cue("ate_myself", "i_ate")
    ):
        return None
    told = seen(scene.message)
    if told.unreal or told.person is not None or told.cue("negation", "condition", "contrasts", "told_wrong"):
        return None
    return _one_of_them(scene.message, BatchRef(candidates=(boxed[0].number,)), boxed[0].boxes or 0)


def box_alone(scene: Scene) -> list[Meaning] | None:
    """'box', 'a box', 'another tub': one of the only pot that is in boxes, or was while it is the only one cooked."""
    message = scene.message
    if len(message.chunks) > MOST_ALONE or message.asks or not message.around.batches:
        return None
    told = seen(message)
    words = [n for n in told.at if not any(b.start <= n < b.end for b in told.boxes)]
    if len(told.boxes) != 1 or any(told.word(n) not in pack()["one_of_the_boxes"] for n in words):
        return None
    boxed = [b for b in message.around.batches if b.boxes]
    pots = boxed or [b for b in message.around.batches if b.cooked and b.boxed]
    if len(pots) != 1 or len(message.around.batches) > 1 > len(boxed):
        return None
    return [TakeBoxes(batch=BatchRef(candidates=(pots[0].number,)), which=WhichBoxes(count=1), when=message.when)]


def box_shared(scene: Scene) -> list[Meaning] | None:
    """'last stew box, but the cat got 80 g of it': the writer had the rest of a box of which others had a weight."""
    message = scene.message
    if not message.around.batches or message.asks or scene.foods or len(message.chunks) > MOST_CHUNKS:
        return None
    for n, chunk in enumerate(message.chunks):
        if not n or plain(chunk.text.lower()) not in pack()["between_eaters"]:
            continue
        box, theirs = seen(message.part(0, n)), seen(message.part(n + 1, len(message.chunks)))
        ref = box.ref or (
            BatchRef(candidates=(box.only_boxed.number,)) if box.only_boxed and not box.scene.named else None
        )
        batch = None if ref is None else box.known(ref)
        if ref is None or batch is None or not batch.boxes or batch.box_g is None or len(box.boxes) != 1:
            return None
        count = box.boxes[0].count
        one = count is None or (count.amount is not None and count.amount.value == 1)
        weight = theirs.weights[0].amount if len(theirs.weights) == 1 and theirs.spent(*theirs.weights) else None
        if not one or not box.spent(count) or box.person is not None or box.unreal or box.put_away or weight is None:
            continue
        went = theirs.person is not None or theirs.cue("came_to_grief")
        if not went or theirs.mine or theirs.unreal or theirs.boxes or grams_of(weight) >= batch.box_g:
            continue
        if not theirs.cue("of_it_itself") or box.cue("gave_it", "came_to_grief", "freezing_them", "dividing_up"):
            continue
        which = WhichBoxes(count=1, place=box.source)
        return [TakeBoxes(batch=ref, which=which, others=as_mass(weight), when=box.when)]
    return None


def _begins_eating(told: Serving, at: int) -> bool:
    return any(start == at for start, _ in told.places("ate_myself", "went_to_me", "i_ate"))


def _without_joiner(message: Message, end: int) -> Message:
    """The part before that chunk, without the words that join it to what follows."""
    while end > 1 and plain(message.chunks[end - 1].text.lower()) in pack()["between_eaters"]:
        end -= 1
    return message.part(0, end)


def _one_of_them(message: Message, ref: BatchRef, boxes: int) -> list[Meaning] | None:
    """So many boxes for the writer, and the foods with their weights beside them; None if it tells anything else."""
    at = next((n for n, c in enumerate(message.chunks) if c.kind in ("amount", "food")), None)
    count = None if at is None else message.chunks[at]
    if at is None or count is None or not _counts(message, at, boxes):
        return None
    assert count.amount is not None
    took = TakeBoxes(batch=ref, which=WhichBoxes(count=int(count.amount.value)), when=message.when)
    rest = message.part(at + 1, len(message.chunks))
    if not rest.of("amount", "food"):
        return [took]
    beside = next((n for n, c in enumerate(rest.chunks) if plain(c.text.lower()) in pack()["parts_of_a_list"]), None)
    first = next(n for n, c in enumerate(rest.chunks) if c.kind in ("amount", "food"))
    if beside is None or beside > first:
        return None
    told = items(rest.part(beside + 1, len(rest.chunks)))
    if not told or any(i.name is None or i.amount is None or i.batch is not None for i in told):
        return None
    return [took, *told]


def _counts(message: Message, at: int, boxes: int) -> bool:
    """Whether the number at that chunk counts boxes: small, bare, and not before a food."""
    chunk, behind = message.chunks[at], message.chunks[at + 1 : at + 2]
    amount = chunk.amount
    if amount is None or amount.kind not in ("bare", "count") or amount.value != int(amount.value):
        return False
    if amount.unit and plain(amount.unit) not in pack()["a_box"]:
        return False
    return 0 < amount.value <= min(MOST_EATEN, boxes) and not any(_is_a_thing(c) for c in behind)


def _is_a_thing(chunk: Chunk) -> bool:
    return chunk.kind in ("food", "state", "size", "batch", "amount")
