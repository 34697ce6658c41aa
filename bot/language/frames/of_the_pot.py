"""What a message means of an open pot where a reading made a portion or nothing of it: by the pot's own state.

These look at meanings that were found, so that they hold for whatever words led there.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.asked import WhatIf
from bot.language.batch_meanings import AddIngredients, Left, PourOff
from bot.language.chunks import Chunk, Kind
from bot.language.frames.cooking import is_poured
from bot.language.frames.portions_of_pots import BEFORE, BEHIND, LEAST_PORTION_G, in_bits, of_a_part
from bot.language.frames.spans import is_one
from bot.language.frames.stretch import as_mass, grams_of
from bot.language.intents.readings import has_ingredient
from bot.language.meanings import Answer, Bare, Meaning, NotMine, Unclear
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.portion_meanings import GiveAway, TakeBoxes, TakePieces, TakeShare
from bot.language.scene import Scene, ref_of
from bot.language.surroundings import KnownBatch
from bot.language.told import Amount, Item

MOST_CHUNKS = 30
MOST_SUBJECT = 8
"""Tokens of a subject that names several people."""
MOST_ASKED = 8
"""Chunks of a question that is about nothing but what is left."""
ASIDE: tuple[Kind, ...] = ("food", "energy", "macro", "hash", "price")
ASKED_OF_NOTHING = (Answer, Unclear)
MOST_POURED = 0.4
"""More of what is there is not poured off."""


def of_the_pot(message: Message, meant: Sequence[Meaning]) -> list[Meaning] | None:
    """The meanings put right by what pots are open; None where nothing is to be put right."""
    if not (message.around.batches or message.around.tares) or not meant:
        return None
    kept = _but_leftovers(meant)
    if len(kept) < len(meant):
        return kept
    if len(message.chunks) > MOST_CHUNKS:
        return None
    portions = [m for m in meant if isinstance(m, Item)]
    if len(meant) > 1 and isinstance(meant[0], TakeShare) and len(portions) + 1 == len(meant):
        return _with_a_weight(message, meant[0], portions)
    if len(portions) < len(meant):
        return _otherwise(message, meant[0]) if len(meant) == 1 else None
    as_portions = next((found for read in BEFORE if (found := read(message, portions))), None)
    as_portions = as_portions or _poured(message) or _had_each(message)
    return as_portions or next((found for read in BEHIND if (found := read(message, portions))), None)


def _otherwise(message: Message, meant: Meaning) -> list[Meaning] | None:
    """What one meaning that is no weigh-in was about."""
    if message.asks and len(message.chunks) <= MOST_ASKED and not message.of(*ASIDE):
        left = _asked_what_is_left(message, meant)
        if left is not None:
            return left
    if isinstance(meant, WhatIf):
        return _what_is_left(message, meant)
    if isinstance(meant, AddIngredients):
        return _poured(message)
    if isinstance(meant, Bare):
        return _had_of_it(message, meant)
    if isinstance(meant, (NotMine, Unclear)):
        return _had_each(message) or _poured(message) or _gone(message, meant)
    return None


def _but_leftovers(meant: Sequence[Meaning]) -> list[Meaning]:
    """The meanings without the rest of a pot of which a portion is told: 'leftovers for lunch: two rotis …'."""
    told = [m.batch for m in meant if isinstance(m, (TakePieces, TakeBoxes)) or (isinstance(m, Item) and m.amount)]
    return [m for m in meant if not (isinstance(m, TakeShare) and m.of == "left" and m.batch in told)]


def _what_is_left(message: Message, asked: WhatIf) -> list[Meaning] | None:
    """'what does that leave of the dal?': a question about a pot that asks for no figures is how much is left."""
    if len(asked.items) != 1 or asked.topic or message.of("energy", "macro", "amount", "food"):
        return None
    item = asked.items[0]
    if item.batch is None or item.amount is not None or Scene(message).cue("asks_for_figures", "figures_word"):
        return None
    return [Left(batch=item.batch)]


def _asked_what_is_left(message: Message, meant: Meaning) -> list[Meaning] | None:
    """'any left?', 'how much is left in the pot': asked of the pot spoken of last, where no food is named."""
    scene = Scene(message)
    if scene.named or scene.foods or not isinstance(meant, ASKED_OF_NOTHING) or scene.cue("asks_for_figures"):
        return None
    if not (scene.cue("how_much_left") and scene.cue("still_there", "stock_asked")):
        return None
    cooked = [b for b in message.around.batches if b.cooked]
    spoken = [b for b in cooked if b.spoken or b.focus] or cooked
    return [Left(batch=ref_of(spoken))] if len(spoken) == 1 else None


def _with_a_weight(message: Message, rest: TakeShare, portions: Sequence[Item]) -> list[Meaning] | None:
    """'leftover drumsticks and sweet potato 200': a weight told for what is in a pot is no rest of it."""
    if len(portions) != 1 or rest.of != "left" or portions[0].name is None or portions[0].batch is not None:
        return None
    if not has_ingredient(message, rest.batch, portions[0].name):
        return None
    return [replace(portions[0], name=None, batch=rest.batch, state=None, number_first=False)]


def _poured(message: Message) -> list[Meaning] | None:
    """'tipped 60 g of fat off the top', 'skimmed 30 g off the stew': what is poured off is nobody's portion."""
    scene = Scene(message)
    if scene.asks or not scene.cue("pouring") or scene.cue("i_ate", "condition", "foreseen", "into_something"):
        return None
    if message.when.meal or any(not is_poured(food) for food in scene.foods):
        return None
    told = [c for c in message.chunks if c.amount is not None and not is_one(c.amount)]
    amount = told[0].amount if len(told) == 1 else None
    pot = _pot_meant(scene)
    if amount is None or pot is None or amount.kind not in ("mass", "bare") or message.of("hash", "energy", "price"):
        return None
    holds = pot.left_g if pot.cooked else pot.raw_g
    vessel = message.has_any(message.words.vessels)  # 'bowl took off already'
    off = not vessel and pack()["off_from"].found(message.line.plain[told[0].end : message.chunks[-1].end])
    if holds is None or grams_of(amount) > MOST_POURED * holds or not (off or scene.cue("pourable")):
        return None
    return [PourOff(batch=ref_of([pot]), amount=as_mass(amount), fat=not scene.cue("watery"))]


def _pot_meant(scene: Scene) -> KnownBatch | None:
    """The one pot named; where none is, the one at work, spoken of last or open alone."""
    around = scene.message.around
    if scene.named:
        return scene.batches[0] if len(scene.batches) == 1 else None
    for likely in (around.at_work, [b for b in around.batches if b.spoken], around.batches):
        if len(likely) == 1:
            return likely[0]
    return None


def _had_of_it(message: Message, bare: Bare) -> list[Meaning] | None:
    """'what I had was 410', '180 of the thighs': a weight by itself, of the pot that was spoken of last."""
    item = Item(text=message.text, amount=bare.amount, when=message.when)
    part = of_a_part(message, item)
    pieces = in_bits(message, [item])
    if part is not None or pieces is not None:
        return pieces if part is None else [part]
    scene = Scene(message)
    pots = [b for b in message.around.batches if b.cooked and b.spoken and not b.pieces]
    had = scene.cue("i_ate", "went_to_me") and not message.has("?") and not scene.cue("weight_aim")
    grams = grams_of(bare.amount)
    if not had or len(pots) != 1 or bare.amount.kind not in ("mass", "bare") or message.of("food", "tare", "part"):
        return None
    if not LEAST_PORTION_G <= grams <= (pots[0].left_g or 0.0):
        return None
    return [replace(item, amount=as_mass(bare.amount), batch=ref_of(pots))]


def _had_each(message: Message) -> list[Meaning] | None:
    """'Bao and Jess had 500 each of the pho': what several people had each left the pot, and the writer had none."""
    scene = Scene(message)
    pot = _pot_meant(scene)
    if scene.asks or pot is None or not (scene.named or pot.spoken) or not pot.cooked or scene.cue("negation"):
        return None
    told = [c for c in message.of("amount") if c.amount is not None and not is_one(c.amount)]
    if len(told) != 1 or told[0].amount is None or told[0].amount.kind not in ("mass", "bare"):
        return None
    line, first = message.line, message.chunks[0].start
    each = any(line.plain[n] in pack()["for_each"] for n in range(told[0].end, message.chunks[-1].end))
    verb = next((n for n in range(first, told[0].start) if line.plain[n] in pack()["others_took"]), None)
    if not each or verb is None or not first < verb <= first + MOST_SUBJECT:
        return None
    subject = line.plain[first:verb]
    people = 1 + sum(word in pack()["between_eaters"] for word in subject)
    if people < 2 or any(word in pack()["oneself"] for word in subject) or not _are_people(message, first, verb):
        return None
    grams = people * grams_of(told[0].amount)
    if grams > (pot.left_g or 0.0):
        return None
    amount = Amount(kind="mass", value=grams, unit="g", grams=grams, text=told[0].amount.text)
    who = line.said(first, verb)
    return [GiveAway(batch=ref_of([pot]), why="given away", amount=amount, who=who)]


def _gone(message: Message, meant: Meaning) -> list[Meaning] | None:
    """'the fam took 3 lb outta that pot': what others had of the pot spoken of is gone from it."""
    scene = Scene(message)
    if not isinstance(meant, NotMine) or meant.why != "others" or scene.asks or scene.foods or scene.cue("for_each"):
        return None
    told = [c.amount for c in message.of("amount") if c.amount is not None and not is_one(c.amount)]
    pot = _pot_meant(scene) if not scene.named and scene.cue("the_pot") else None
    verb = scene.cue("others_took", "gave_it") and not scene.cue("negation")
    if len(told) != 1 or pot is None or not pot.cooked or not pot.left_g or told[0].kind != "mass" or not verb:
        return None
    if grams_of(told[0]) > pot.left_g or message.of("hash", "energy", "macro", "price", "tare"):
        return None
    return [GiveAway(batch=ref_of([pot]), why="given away", amount=told[0])]


def _are_people(message: Message, first: int, end: int) -> bool:
    """Whether one word or two stand between the words that join, and none of them has an amount."""
    run = 0
    for n in range(first, end):
        if message.line.plain[n] in pack()["between_eaters"]:
            if not 0 < run <= 2:
                return False
            run = 0
        else:
            run += 1
    return 0 < run <= 2 and not any(_weighs(c) for c in message.chunks if c.start < end)


def _weighs(chunk: Chunk) -> bool:
    return chunk.amount is not None and not is_one(chunk.amount)
