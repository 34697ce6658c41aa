"""The frame for a portion of the batch that was spoken of last, called 'it' or 'that'."""

from __future__ import annotations

from bot.language.frames.serving import FITS, Serving
from bot.language.frames.stretch import as_mass, grams_of
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.scene import Scene
from bot.language.told import BatchRef, Item

MOST_CHUNKS = 40


def took_of_it(scene: Scene) -> list[Meaning] | None:
    """'I had 320 of that with 95 g spaghetti, that was dry weight', 'dinner: 300 of it and 150 g cooked rice'."""
    message = scene.message
    cooked = [b for b in message.around.batches if b.cooked and b.left_g]
    only = len(cooked) == 1 and len(message.around.batches) == 1 and scene.cue("from_batches")
    spoken = cooked if only else [b for b in cooked if b.spoken]
    if len(spoken) != 1 or scene.named or len(message.chunks) > MOST_CHUNKS:
        return None
    parts = (i for i, c in enumerate(message.chunks) if c.kind == "newline" or c.text.lower() in pack()["beside_it"])
    cut = next((i for i in parts if i), None)
    base = Serving(Scene(message.part(0, len(message.chunks) if cut is None else cut)))
    if Serving(scene).unreal or base.scene.foods or base.person is not None or base.boxes or base.rest:
        return None
    if len(base.weights) != 1 or not base.spent(*base.weights) or base.cue("negation", "left_uneaten"):
        return None
    weight = base.weights[0]
    of_it = any(True for _ in pack()["of_the_batch"].ends(message.line.plain, weight.end)) and not base.cue("gave_it")
    of_it = of_it or (len(cooked) == 1 and _took(base))
    if not of_it or weight.amount is None or grams_of(weight.amount) > FITS * (spoken[0].left_g or 0.0):
        return None
    told = [] if cut is None else items(message.part(cut + 1, len(message.chunks)))
    if any(item.name is None or item.amount is None for item in told) or (cut is not None and not told):
        return None
    ref = BatchRef(number=spoken[0].number, text=spoken[0].name)
    return [Item(text=base.message.text, amount=as_mass(weight.amount), batch=ref, when=message.when), *told]


def _took(base: Serving) -> bool:
    """'took 320': a verb and a weight alone, right after the batch was spoken of."""
    begins = any(start == base.at[0] for start, _ in base.places("ate_myself", "went_to_me"))
    return begins and base.says_nothing_else
