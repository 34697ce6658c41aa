"""Frames for what left a batch and counts on nobody's day: given away, taken by others, lost."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.chunks import Chunk
from bot.language.frames.serving import FITS, Serving, core, seen
from bot.language.frames.stretch import as_mass, cut_at, grams_of
from bot.language.meanings import Meaning, NotMine
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.portion_meanings import GiveAway, GiveBack, ReduceBatch, WhichBoxes
from bot.language.pots import one_of
from bot.language.scene import Scene
from bot.language.surroundings import KnownBatch
from bot.language.text import singular
from bot.language.told import Amount, BatchRef, Item

TWO = 2
NEAR = 4
"""Tokens behind a number in which the word for what it counts is looked for."""


def gone(scene: Scene) -> list[Meaning] | None:
    """'mate nicked a box of the chook, off the books', 'dropped a stew box, floor ate it', 'dan had 300 g of it'."""
    if not scene.message.around.batches:
        return None
    scene = seen(core(scene.message)).scene
    if scene.foods:
        scene = seen(_without_asides(scene.message)).scene
    told = seen(scene.message)
    if told.not_yet or (scene.foods and not told.ref):
        return None
    if told.cue("not_yet_had") or told.unreal or _is_theirs(told):
        return _nothing_left(told)
    if not (told.person is not None or told.cue("came_to_grief")):
        return None
    ref = told.ref or (None if scene.named else _unnamed(told))
    batch = None if ref is None else told.known(ref)
    if ref is None and len(scene.named) > 1 and not scene.foods and leaves(told):
        return _of_each(told)
    if ref is None or batch is None:
        return None
    weighed = told.weights
    if len(weighed) == 1 and told.share is not None and not scene.foods:
        return _part_for_another(told, ref, batch)
    if len(weighed) == 2 and not scene.foods:
        return _part_of_the_first(told, ref)
    if _made_by_others(told):
        return [NotMine(why="others")]
    if any(not _is_meal(told, c) for c in scene.foods) or not leaves(told):
        return None
    one = what_left(told, ref, batch)
    return None if one is None else [one]


def off_a_plate(scene: Scene) -> list[Meaning] | None:
    """'the dog had my daughter's last bit of chicken': it had left the batch before."""
    told = seen(scene.message)
    taken = told.off_their_plate and not told.numbers and not told.mine
    return [NotMine(why="others")] if taken else None


def _nothing_left(told: Serving) -> list[Meaning] | None:
    """'saving 300 g of the pie for Tom', '20 oz of her own beans': nobody's portion of a batch."""
    theirs = told.person is not None and bool(told.numbers) and not told.mine
    if theirs and told.cue("not_yet_had") and told.ref is not None:
        return [NotMine(why="plan")]
    return [NotMine(why="others")] if theirs and _is_theirs(told) and not told.unreal else None


def _is_theirs(told: Serving) -> bool:
    """Whether it is about another dish of the same name, somebody else's."""
    return told.others_own and told.person is not None


def left_over_by_others(scene: Scene) -> list[Meaning] | None:
    """'finished the 60 g of lasagne that mia left on her plate': the writer ate what had already left the batch."""
    told = seen(scene.message)
    ref = told.ref
    batch = None if ref is None else told.known(ref)
    if ref is None or batch is None or told.person is None or told.unreal or scene.foods or len(told.weights) != 1:
        return None
    amount = told.weights[0].amount
    if amount is None or not told.spent(told.weights[0]) or not told.cue("left_by_others") or told.cue("gave_away"):
        return None
    if not (told.mine or told.cue("eating_it")):
        return None
    mass = as_mass(amount)
    portion = Item(text=scene.message.text, amount=mass, batch=ref, when=told.when)
    return [GiveBack(batch=ref, amount=mass), portion]


def _without_asides(message: Message) -> Message:
    """The message without parts that name no number, batch or box ('…, in exchange for the beans')."""
    told = [(part, seen(part)) for part in cut_at(message, pack()["between_asides"])]
    kept = [p for p, s in told if not s.scene.foods or s.scene.named or s.boxes or s.numbers]
    return replace(message, chunks=tuple(c for part in kept for c in part.chunks))


def _unnamed(told: Serving) -> BatchRef | None:
    """The batch that 'a box' or 'it' refers to, if none is named."""
    if told.boxes and told.only_boxed is not None and not told.scene.foods:
        return BatchRef(candidates=(told.only_boxed.number,))
    return told.spoken_of


def _shared(told: Serving) -> bool:
    """Whether it was eaten together, so that part of it is the writer's."""
    return told.cue("halving", "shared_it") and told.share is None


def leaves(told: Serving) -> bool:
    """Whether food left the batch (eaten by or given to somebody, or lost) and the writer had none of it."""
    if (told.mine and not told.took_along) or _shared(told):
        return False
    if told.cue("came_to_grief"):
        return told.target != "freezer"
    if told.person is not None and told.word(told.person[0] - 1) in pack()["given_to"]:
        return True
    made = next((end for _, end in told.places("made_for_them")), None)
    if told.person is not None and made is not None and told.person[0] >= made:
        return True
    if told.person is not None and any(told.owns_helping(n) for n in range(*told.person)):
        return True
    return told.person is not None and told.cue(
        "gave_it", "took_it", "went_away", "gave_away", "others_took", "not_to_me"
    )


def _why(told: Serving) -> str:
    return "thrown out" if told.cue("came_to_grief") and told.person is None else "given away"


def what_left(told: Serving, ref: BatchRef, batch: KnownBatch, who: str | None = None) -> Meaning | None:
    """What left a batch: boxes, a weight, pieces, a share, or all of it; `who` had it, if another part says so."""
    why, who = _why(told), told.who if who is None else who
    pieces = _pieces(told, batch)
    if pieces is not None:
        return (
            GiveAway(batch=ref, why=why, pieces=pieces.amount.value, who=who)
            if pieces.amount and told.spent(pieces)
            else None
        )
    if told.weights:
        weight = told.weights[0]
        if not told.spent(weight) or weight.amount is None:
            return None
        return GiveAway(batch=ref, why=why, amount=as_mass(weight.amount), who=who)
    if told.boxes and batch.boxes:
        alone = told.counts[0] if len(told.counts) == 1 else None
        count = next((b.count for b in told.boxes if b.count is not None), None) or alone
        if not told.spent(count):
            return None
        said = _so_many(told, batch) if count is None or count.amount is None else int(count.amount.value)
        which = WhichBoxes(count=said, place=told.source)
        return GiveAway(batch=ref, why=why, boxes=which, who=who)
    if told.share is not None and told.share.amount is not None and told.spent(told.share):
        return GiveAway(batch=ref, why=why, fraction=told.share.amount.value, of=told.share_of, who=who)
    if told.rest and not told.numbers and not told.boxes:
        return ReduceBatch(batch=ref, amount=None, why="discarded" if why == "thrown out" else why)
    return None


def _so_many(told: Serving, batch: KnownBatch) -> int:
    """How many boxes are meant where no number says it: 'both keema boxes', 'all the stew boxes', else one."""
    first = told.boxes[0].start
    before = [told.word(n) for n in range(first - NEAR, first)]
    if any(word in pack()["both_alone"] for word in before):
        return TWO
    return (batch.boxes or 1) if any(word in pack()["all_alone"] for word in before) else 1


def _pieces(told: Serving, batch: KnownBatch) -> Chunk | None:
    """'Amma had 3 rotis': a number before the word for pieces of the batch."""
    if not batch.pieces or not batch.piece:
        return None
    for count in told.counts:
        n = count.end
        behind = range(n - 1, min(n + NEAR, told.at[-1] + 1))
        before = range(max(count.start - 2, told.at[0]), count.start)  # 'rotis, 4 of them'
        near = {one_of(told.message.line.text(k)) for k in (*behind, *before)}
        said = [told.word(k) for k in range(n, n + 2)]
        of_them = pack()["part_of_it"].end(said, 0) is not None and told.ref is not None and count not in told.weights
        if batch.piece in near or of_them:
            return count
    return None


def _there(weight: Chunk, batch: KnownBatch) -> bool:
    """Whether enough is left to give away."""
    return weight.amount is not None and (batch.left_g is None or grams_of(weight.amount) <= batch.left_g * FITS)


def parts_of_eaters(message: Message) -> list[Message]:
    """The stretches with one number each; a stretch without a number is joined to the one before."""
    joined: list[list[Chunk]] = []
    for part in cut_at(message, pack()["between_eaters"]):
        if joined and not (seen(part).numbers and _has_number(joined[-1], message)):
            joined[-1].extend(part.chunks)
        else:
            joined.append(list(part.chunks))
    return [replace(message, chunks=tuple(chunks)) for chunks in joined]


def _has_number(chunks: Sequence[Chunk], message: Message) -> bool:
    return bool(seen(replace(message, chunks=tuple(chunks))).numbers)


def _made_by_others(told: Serving) -> bool:
    """'she cooked 300 g of chili at her place': another person's dish of the same name."""
    made = next((start for start, _ in told.places("made_for_them")), None)
    return made is not None and told.person is not None and told.person[1] <= made and not told.mine


def _is_meal(told: Serving, food: Chunk) -> bool:
    """Whether a food's name also names a meal ('for her tea')."""
    return told.message.line.text(food.start) in pack()["meal_or_drink"]


def _of_each(told: Serving) -> list[Meaning] | None:
    """'threw away 100 g dal and 50 g chana masala': a weight or a number of pieces from each of several batches."""
    meant: list[Meaning] = []
    for part in parts_of_eaters(told.message):
        here = seen(part)
        batch = None if here.ref is None else here.known(here.ref)
        if here.ref is None or batch is None or len(here.numbers) != 1 or not here.spent(*here.numbers):
            return None
        number = here.numbers[0]
        if number.amount is None or (number in here.weights and not _there(number, batch)):
            return None
        if number in here.weights:
            amount = as_mass(number.amount)
            meant.append(GiveAway(batch=here.ref, why=_why(told), amount=amount, who=told.who))
            continue
        if _pieces(here, batch) is not number or number.amount.value > (batch.pieces or 0):
            return None
        meant.append(GiveAway(batch=here.ref, why=_why(told), pieces=number.amount.value, who=told.who))
    return meant


def _part_for_another(told: Serving, ref: BatchRef, batch: KnownBatch) -> list[Meaning] | None:
    """'stew 300, half of it for Ben': part of the weight was somebody else's."""
    weight, share = told.weights[0].amount, told.share.amount if told.share is not None else None
    to_them = told.person is not None and told.led_by(told.person[0], "to_somebody")
    if weight is None or share is None or not told.spent(told.weights[0], told.share) or not to_them:
        return None
    mass = as_mass(weight)
    return [Item(text=told.message.text, amount=mass, batch=ref, others_g=grams_of(mass) * share.value, when=told.when)]


def _part_of_the_first(told: Serving, ref: BatchRef) -> list[Meaning] | None:
    """'300 g of the stew, 120 of it for my son': the second weight is part of the first, and somebody else's."""
    of_it = _of_the_first(told)
    if of_it is None:
        return None
    first, second = of_it
    return [Item(text=told.message.text, amount=first, batch=ref, others_g=grams_of(second), when=told.when)]


def _of_the_first(told: Serving) -> tuple[Amount, Amount] | None:
    """'300 g of the stew, 120 of it for my son': the second weight is part of the first, and somebody else's."""
    if len(told.weights) != 2 or not told.spent(*told.weights):
        return None
    first, second = told.weights
    if any(start > first.end for start, _ in told.places("gave_it", "others_took")):
        return None
    before = told.message.line.plain[: first.start]
    if any(singular(w) in told.message.words.people for w in before) and not pack()["oneself"].found(before):
        return None  # 'the kids had 250 and 210 of it'
    behind = [told.word(n) for n in range(second.end, second.end + 2)]
    if (pack()["part_of_it"].end(behind, 0) or 0) == 0 or first.amount is None or second.amount is None:
        return None
    return (as_mass(first.amount), as_mass(second.amount)) if grams_of(second.amount) < grams_of(first.amount) else None
