"""Frames for what the writer takes from a batch (boxes, a share, the rest, a weight) and what was eaten with it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from bot.language.belongings import is_dish
from bot.language.chunks import Chunk
from bot.language.frames.serving import Serving, core, seen
from bot.language.frames.stretch import as_mass, cut_at, grams_of
from bot.language.items import items
from bot.language.meanings import Meaning, NotMine
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.portion_meanings import TakeBoxes, TakeShare, WhichBoxes
from bot.language.scene import Scene
from bot.language.surroundings import KnownBatch
from bot.language.told import Amount, BatchRef, Item, When

MOST_TAKEN = 6
"""Boxes that one person takes at once at most."""


@dataclass(frozen=True)
class Portion:
    """What was taken from one batch, and the foods told with it."""

    told: Serving
    ref: BatchRef
    batch: KnownBatch
    beside: tuple[Message, ...]


def left_alone(scene: Scene) -> list[Meaning] | None:
    """'no stew box today', 'none of the curry for me': nothing was taken."""
    told = seen(scene.message)
    none = bool(told.words) and told.words[0] in pack()["not_one"]
    led = none and (told.named_at(told.at[0] + 1) or any(w in pack()["of_or_box"] for w in told.words[1:2]))
    if not led or told.ref is None or told.numbers or told.scene.foods or told.cue("still_there") or scene.message.asks:
        return None
    return [NotMine(why="negation")]


def took_boxes(scene: Scene) -> list[Meaning] | None:
    """'stew box for lunch, the first of the eight', 'last chook box w 60 spinach raw', 'soup box, half o it'."""
    found = _portion(scene)
    if found is None or not found.batch.boxes:
        return None
    told, batch = found.told, found.batch
    counted = _soups(told)
    lies = told.source is not None and not told.weights and not told.rest and _one_of(told)
    divided = told.cue("equally") and not _was_left(told)  # 'had a box, left 60 g of it' has no 60 g a box
    if not (told.boxes or counted or lies) or divided or told.cue("freezing_them", "not_eating") or told.put_away:
        return None
    other = told.ref is None and (not told.says_nothing_else or _is_a_packet(told))
    box = next((b.count for b in told.boxes if b.count is not None), None) or counted
    if other or (box is None and _of_several(told) and not told.cue("last_ones")):
        return None
    shares = told.shares
    weights = [c for c in told.weights if c is not box]
    count = 1 if box is None or box.amount is None else int(box.amount.value)
    if len(weights) > 1 or _parted(told, weights) or not told.spent(box, *shares, *weights):
        return None
    if not 0 < count <= min(MOST_TAKEN, batch.boxes or 0):
        return None
    if not shares and told.cue("halving") and not weights and count == 1:
        half = TakeBoxes(
            batch=found.ref,
            which=WhichBoxes(count=1, place=told.source),
            fraction=0.5,
            rest_to=told.who,
            when=told.when,
        )
        return _with(half, found)
    if shares and (count != 1 or weights or len({c.amount.value for c in shares if c.amount is not None}) > 1):
        return None
    when = told.when
    place = told.source
    if weights and weights[0].amount is not None:
        return _of_a_box(found, weights[0].amount, count)
    if shares and shares[0].amount is not None:
        part, which = shares[0].amount.value, WhichBoxes(count=1, place=place)
        return _with(TakeBoxes(batch=found.ref, which=which, fraction=part, rest_to=told.who, when=when), found)
    if told.person is not None:
        return None
    if place is not None:
        return _with(TakeBoxes(batch=found.ref, which=WhichBoxes(count=count, place=place), when=when), found)
    amount = Amount(kind="count", value=count, unit="box", text=f"{count} box" + "es" * (count != 1))
    return _with(Item(text=scene.message.text, amount=amount, batch=found.ref, when=when), found)


def _parted(told: Serving, weights: Sequence[Chunk]) -> bool:
    """'180 g cooked, and one of the boxes': whether 'and' parts a weight from the box behind it."""
    starts = [box.start if box.count is None else box.count.start for box in told.boxes]
    return any(told.word(n) in pack()["joining"] for c in weights[:1] for box in starts for n in range(c.end, box))


def _of_several(told: Serving) -> bool:
    return any(told.word(box.end - 1).endswith("s") for box in told.boxes)


def _is_a_packet(told: Serving) -> bool:
    """'peanut butter 20 g, this jar has grams': what the food comes in that was told beside it."""
    eaten = told.when.meal is not None or told.cue("eating_it", "went_to_me")
    return not eaten and any(told.word(box.start - 1) in pack()["this_one"] for box in told.boxes)


def _of_a_box(found: Portion, amount: Amount, count: int) -> list[Meaning] | None:
    """'160 of that stew box': a weight taken from a box."""
    box_g, grams = found.batch.box_g, grams_of(amount)
    if _was_left(found.told) and count == 1 and found.told.person is None and (box_g is None or grams < box_g):
        # 'another box today, left about 60 g of it'
        which = WhichBoxes(count=1, place=found.told.source)
        return _with(TakeBoxes(batch=found.ref, which=which, left_g=grams, when=found.told.when), found)
    if count != 1 or box_g is None or grams > box_g or found.told.person is not None:
        return None
    if abs(grams - box_g) < 1:
        which = WhichBoxes(count=1, place=found.told.source)
        return _with(TakeBoxes(batch=found.ref, which=which, when=found.told.when), found)
    mass = as_mass(amount)
    return _with(Item(text=found.told.message.text, amount=mass, batch=found.ref, when=found.told.when), found)


def _was_left(told: Serving) -> bool:
    """Whether the only weight is what the writer did not eat: 'left about 60 g of it'."""
    if len(told.weights) != 1:
        return False
    weight, filler = told.weights[0].start, told.message.words.filler
    ends = [end for _, end in told.places("left_uneaten") if end <= weight]
    return any(all(told.word(n) in filler for n in range(end, weight)) for end in ends)


def _soups(told: Serving) -> Chunk | None:
    """'2 soups', 'had one stew': a small number right before the name of a batch in boxes counts the boxes."""
    for count in told.counts:
        amount = count.amount
        alone = amount is not None and amount.kind == "bare" and amount.value <= MOST_TAKEN
        name = next((start for _, start, _ in told.scene.named if start >= count.end), None)
        if alone and name is not None and told.only_beside(count.end, name):
            return count
    return None


def _one_of(told: Serving) -> bool:
    """'a soup from the freezer', 'the last soup out of the fridge'."""
    name = next((start for _, start, _ in told.scene.named), None)
    return name is not None and any(told.word(n) in pack()["one_of_several"] for n in range(name - 3, name))


def took_a_share(scene: Scene) -> list[Meaning] | None:
    """'a quarter of the frittata, still warm', 'the rest of the curry is mine', 'whats left loose is ma dinner'."""
    found = _portion(scene)
    if found is None:
        return None
    told, share = found.told, found.told.share
    if told.boxes or told.person is not None or told.cue("came_to_grief", "freezing_them", "not_to_me"):
        return None
    if told.cue("dividing_up") and not (share is not None and told.mine):  # 'a sixth went into my bowl' divides nothing
        return None
    when = told.when
    if share is not None and share.amount is not None:
        if not told.spent(share) or told.ref is None:
            return None
        of = told.share_of
        return _with(TakeShare(batch=found.ref, fraction=share.amount.value, of=of, text=share.text, when=when), found)
    mine = told.mine or (told.ref is not None and (told.cue("eating_it") or _says_only_the_rest(found)))
    if not (told.rest or told.cue("loose_food")) or told.numbers or not mine:
        return None
    of_loose: Literal["left", "loose"] = "loose" if told.cue("loose_food") and found.batch.boxes else "left"
    return _with(TakeShare(batch=found.ref, fraction=1.0, of=of_loose, text="the rest", when=when), found)


def _says_only_the_rest(found: Portion) -> bool:
    """'the rest of the keema': what is left of a batch, told as a portion and nothing more."""
    told = found.told
    only = not found.beside and told.cue("the_rest_itself") and not told.cue("rest_is_told_of", "later_on")
    return only and not told.mentioned and not told.message.asks


def took_weight(scene: Scene) -> list[Meaning] | None:
    """'I'd a bowl of that stew out of batch 1 while the wireless was on, and it was 400 grams on the dot'."""
    found = _portion(scene)
    if found is None or found.told.ref is None or found.told.person is not None or found.beside:
        return None
    told = found.told
    weights = told.weights
    if (
        len(weights) != 1
        or not told.spent(*weights)
        or not (told.mine or told.cue("i_ate", "the_other_part"))
        or told.boxes
    ):
        return None
    amount = weights[0].amount
    if amount is None or told.cue("came_to_grief", "dividing_up", "not_to_me") or told.message.of("tare"):
        return None
    if may_be_another(told):
        return None
    if found.batch.left_g is not None and grams_of(amount) > found.batch.left_g * 1.03:
        return None
    return _with(Item(text=scene.message.text, amount=as_mass(amount), batch=found.ref, when=told.when), found)


def may_be_another(told: Serving) -> bool:
    """Whether the batch is named only as a plain food, which may also come from elsewhere."""
    if told.message.batch is not None or not told.scene.named:
        return False
    line, (_, at, end) = told.message.line, told.scene.named[0]
    food = line.name(at)
    only = food is not None and food[1] >= end  # leek is no leek soup
    return food is not None and only and not is_dish(food[0])


def _portion(scene: Scene) -> Portion | None:
    """The parts about the batch and about other foods; None if it is not a portion of the writer's."""
    message = core(scene.message)
    scene = seen(message).scene
    if not message.around.batches or seen(scene.message).unreal:
        return None
    base, beside = parted(scene)
    if base is None:
        return None
    told = seen(base)
    if told.scene.foods or _negated(told) or told.cue("condition"):
        return None
    ref = told.ref
    if ref is None and not told.scene.named:
        only = told.only_boxed
        boxes = (told.boxes or told.cue("loose_food")) and only is not None and not (beside and _says_where(told))
        ref = BatchRef(candidates=(only.number,)) if boxes and only is not None else told.spoken_of
    batch = None if ref is None else told.known(ref)
    return None if ref is None or batch is None else Portion(told, ref, batch, tuple(beside))


def _says_where(told: Serving) -> bool:
    """'pasta sauce 130 g, from a jar': a vessel that only says where another food came from."""
    return any(told.led_by(box.start if box.count is None else box.count.start, "out_of_where") for box in told.boxes)


def parted(scene: Scene) -> tuple[Message | None, list[Message]]:
    """(the part about the batch, the parts about what was eaten with it)."""
    message = scene.message
    if not scene.foods and (not scene.named or seen(scene.message).ref is not None):
        return message, []
    base: list[Chunk] = []
    beside: list[list[Chunk]] = []
    into_base = True
    for part in cut_at(message, pack()["parts_of_a_list"]):
        told = seen(part)
        if told.scene.foods:
            into_base = False
        elif (
            told.boxes
            or told.rest
            or told.share is not None
            or (told.scene.named and not told.weights)
            or not base
            or (told.numbers and not told.scene.named and _has_an_eater(told))
        ):
            into_base = True
        elif told.scene.named:
            into_base = False
        if into_base:
            base.extend(part.chunks)
        elif beside and not (told.scene.foods or told.scene.named):
            beside[-1].extend(part.chunks)
        else:
            beside.append(list(part.chunks))
    if not base:
        return None, []
    one = replace_chunks(message, base)
    return one, [replace_chunks(message, chunks) for chunks in beside]


def _has_an_eater(told: Serving) -> bool:
    """'Bea 330', 'me 400': a part that says who had how much."""
    return told.person is not None or any(word in pack()["the_writer"] for word in told.words)


def is_anothers(told: Serving) -> bool:
    """'he ate 2 rolls': what was told beside the batch went to somebody else too."""
    return told.person is not None and not told.mine and told.cue("took_it", "others_took", "gave_it")


def replace_chunks(message: Message, chunks: Sequence[Chunk]) -> Message:
    """The message with only these of its chunks."""
    return replace(message, chunks=tuple(chunks))


def _negated(told: Serving) -> bool:
    """Whether it says that nothing was eaten; an aside about something else ('wasn't that hungry') does not count."""
    parts = [seen(part) for part in cut_at(told.message, pack()["between_denials"])]
    told_of = [
        p for p in parts if p.numbers or p.scene.named or p.boxes or p.cue("of_what_was_told", "ate", "not_to_me")
    ]
    return any(_denies(part) for part in told_of)


def _denies(told: Serving) -> bool:
    return told.message.has_any(told.message.words.negations) or told.cue("not_to_me", "lost", "negation")


def _with(taken: Meaning, found: Portion) -> list[Meaning] | None:
    """What was taken, together with what was eaten with it."""
    told: list[Item] = []
    for part in found.beside:
        if is_anothers(seen(part)):
            return None
        here = items(part)
        if not here or any(item.name is None and item.batch is None for item in here):
            return None
        told.extend(item if item.when != When() else replace(item, when=found.told.when) for item in here)
    return [taken, *_once(told)]


def _once(told: Sequence[Item]) -> list[Item]:
    """The foods, with one named first and weighed later ('with a boiled potato, and the potato was 140') merged."""
    kept: list[Item] = []
    for item in told:
        same = next(
            (k for k in kept if k.name is not None and item.name is not None and k.name.foods == item.name.foods), None
        )
        one = same is not None and same.amount is not None and same.amount.kind == "count" and same.amount.value == 1
        if same is not None and (same.amount is None or one) and item.amount is not None:
            kept[kept.index(same)] = replace(item, state=item.state or same.state, method=item.method or same.method)
        else:
            kept.append(item)
    return kept
