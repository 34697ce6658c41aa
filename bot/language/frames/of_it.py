"""The frame for a portion of the batch that was spoken of last, called 'it' or 'that'."""

from __future__ import annotations

from bot.language.chunks import Chunk
from bot.language.fix_meanings import Change, Which
from bot.language.frames.serving import FITS, LEAST_G, Serving, seen
from bot.language.frames.stretch import as_mass, grams_of
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.scene import Scene, ref_of
from bot.language.surroundings import KnownBatch
from bot.language.told import Amount, BatchRef, Item

MOST_CHUNKS = 40
LEAST_OF_ALL = 0.4
"""A pot hardly weighs less than so much of what went in."""


def took_of_it(scene: Scene) -> list[Meaning] | None:
    """'took 320', 'I had 320 of that with 95 g spaghetti, that was dry weight', 'dinner: 300 of it and 150 g rice'."""
    message = scene.message
    spoken = talked_of(message)
    if takes_from_pot(message):
        ref = BatchRef(number=spoken[0].number, text=spoken[0].name)
        return [Item(text=message.text, amount=as_mass(_only_amount(message)), batch=ref, when=message.when)]
    if not spoken or scene.named or len(message.chunks) > MOST_CHUNKS:
        return None
    parts = (i for i, c in enumerate(message.chunks) if c.kind == "newline" or c.text.lower() in pack()["beside_it"])
    cut = next((i for i in parts if i), None)
    base = seen(message.part(0, len(message.chunks) if cut is None else cut))
    if seen(scene.message).unreal or base.scene.foods or base.person is not None or base.boxes or base.rest:
        return None
    if len(base.weights) != 1 or not base.spent(*base.weights) or base.cue("negation", "left_uneaten"):
        return None
    weight = base.weights[0]
    took = _led_by_taking(base, weight)
    if base.cue("gave_it") and not took:
        return None
    of_it = any(True for _ in pack()["of_the_batch"].ends(message.line.plain, weight.end))
    from_pot = base.cue("from_batches")
    if not (of_it or from_pot) or weight.amount is None:
        return None
    fitting = [b for b in spoken if grams_of(weight.amount) <= FITS * (b.left_g or 0.0)]
    if not fitting or (not _plainly(spoken) and not took and not (from_pot and len(spoken) == 1)):
        return None
    told = [] if cut is None else items(message.part(cut + 1, len(message.chunks)))
    if any(item.name is None or item.amount is None for item in told) or (cut is not None and not told):
        return None
    ref = ref_of(fitting) if len(fitting) > 1 else BatchRef(number=fitting[0].number, text=fitting[0].name)
    return [Item(text=base.message.text, amount=as_mass(weight.amount), batch=ref, when=message.when), *told]


def talked_of(message: Message) -> list[KnownBatch]:
    """The cooked batches that 'it' can mean: what the question shown last is about, else what was changed last.

    Where that was a weigh-in of something else, all that are left.
    """
    left = [b for b in message.around.batches if b.cooked and b.left_g]
    shown = {n for q in message.around.waiting if q.shown for n in q.batches}
    asked = [b for b in left if b.number in shown]
    return asked or [b for b in left if b.spoken] or left


def _led_by_taking(base: Serving, weight: Chunk) -> bool:
    """Whether 'took' or the like stands right before the weight."""
    return any(end == weight.start for _, end in base.places("took_from_pot"))


def _plainly(batches: list[KnownBatch]) -> bool:
    """Whether 'it' is a batch even where no word says that it was taken from a pot."""
    return len(batches) == 1 and batches[0].spoken


def takes_from_pot(message: Message) -> bool:
    """Whether 'took 320' is a portion of the batch spoken of last, whatever question about something else waits."""
    around = message.around
    spoken = [b for b in around.batches if b.spoken and b.cooked and b.left_g]
    if len(spoken) != 1 or any(q.shown and q.batches for q in around.waiting):
        return False
    last = message.chunks[-1]
    led = pack()["took_from_pot"].end(message.line.plain, message.chunks[0].start)
    if last.amount is None or led != last.start:
        return False
    amount = last.amount
    weighs = amount.kind == "mass" or (amount.kind == "bare" and amount.value >= LEAST_G)
    return weighs and grams_of(amount) <= FITS * (spoken[0].left_g or 0.0)


def _only_amount(message: Message) -> Amount:
    amount = message.chunks[-1].amount
    assert amount is not None
    return amount


def portion_put_right(message: Message) -> Change | None:
    """'no, the chilli was 350' while a portion waits for the cooked weight: far too little for the whole pot."""
    question = next((q for q in message.around.waiting if q.shown and q.batches and q.weigh_in is not None), None)
    pots = [b for b in message.around.batches if question is not None and b.number in question.batches]
    led = pack()["repair_lead"].end(message.line.plain, message.chunks[0].start)
    if question is None or question.weigh_in is None or len(pots) != 1 or pots[0].cooked or led is None:
        return None
    scene = Scene(message)
    weights = [c.amount for c in scene.amounts if c.amount is not None]
    if len(weights) != 1 or weights[0].kind not in ("mass", "bare") or scene.foods or message.asks:
        return None
    if scene.cue("done") or not (pots[0] in scene.batches or scene.cue("the_pot")) or pots[0].raw_g is None:
        return None
    amount = as_mass(weights[0])
    fitting = LEAST_G <= grams_of(amount) < LEAST_OF_ALL * pots[0].raw_g
    return Change(which=Which(number=question.weigh_in), amount=amount) if fitting else None
