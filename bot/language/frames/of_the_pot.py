"""What a message means of an open pot where a reading made a portion or nothing of it: by the pot's own state.

These look at meanings that were found, so that they hold for whatever words led there.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.asked import WhatIf
from bot.language.batch_meanings import AddIngredients, CorrectIngredient, Left, PourOff
from bot.language.chunks import Chunk
from bot.language.frames.cooking import is_poured
from bot.language.frames.spans import is_one
from bot.language.frames.stretch import as_mass, grams_of
from bot.language.intents.ingredients import in_grams
from bot.language.intents.readings import batches_meant, has_ingredient, vessel_taken_off
from bot.language.meanings import Answer, Meaning, NotMine, Unclear
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.portion_meanings import GiveAway, TakeBoxes, TakeShare, WhichBoxes
from bot.language.scene import Scene, ref_of
from bot.language.surroundings import KnownBatch
from bot.language.told import Amount, Item, When

MOST_CHUNKS = 30
MOST_SUBJECT = 8
"""Tokens of a subject that names several people."""
LEAST_IN_IT_G = 5.0
"""What is in a vessel weighs at least."""
MOST_COUNTED = 9
"""Up to this a number by itself is no weight of a portion."""
MOST_ASKED = 8
"""Chunks of a question that is about nothing but what is left."""
ASIDE = ("food", "energy", "macro", "hash", "price")
ASKED_OF_NOTHING = (Answer, Unclear)
MOST_POURED = 0.4
"""More of what is there is not poured off."""


def of_the_pot(message: Message, meant: Sequence[Meaning]) -> list[Meaning] | None:
    """The meanings put right by what pots are open; None where nothing is to be put right."""
    if not message.around.batches and not message.around.tares:
        return None
    if not meant or len(message.chunks) > MOST_CHUNKS:
        return None
    first = meant[0]
    if len(message.chunks) <= MOST_ASKED and message.asks and len(meant) == 1 and not message.of(*ASIDE):
        left = _asked_what_is_left(message, first)
        if left is not None:
            return left
    if isinstance(first, WhatIf):
        return _what_is_left(message, first) if len(meant) == 1 else None
    if isinstance(first, (NotMine, Unclear)):
        return (_had_each(message) or _poured(message) or _gone(message, first)) if len(meant) == 1 else None
    portions = [m for m in meant if isinstance(m, Item)]
    if isinstance(first, TakeShare) and portions and len(portions) + 1 == len(meant):
        return _with_a_weight(message, first, portions)
    if len(portions) != len(meant):
        return None
    if _is_frozen(message, portions):
        return [NotMine(why="doubt")]
    together = (
        _weight_apart(message, portions)
        or _put_right_in_it(message, portions)
        or _of_what_is_in_it(message, portions)
        or _into_it(message, portions)
        or _box_of(message, portions)
    )
    if together is not None:
        return together
    return _poured(message) or _had_each(message) or _twice(message, portions) or _in_its_vessel(message, portions)


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


def _of_what_is_in_it(message: Message, portions: Sequence[Item]) -> list[Meaning] | None:
    """'drumsticks and sweet potato, 330 g': one weight for two foods that are in a cooked pot is a portion of that."""
    item = portions[0]
    if len(portions) != 1 or len(item.several) < 2 or item.amount is None or item.batch is not None:
        return None
    names = [message.vocabulary.resolve(said.split(), said) for said in item.several]
    pots = [b for b in message.around.batches if b.cooked]
    within = [b for b in pots if all(has_ingredient(message, ref_of([b]), name) for name in names)]
    if len(within) != 1 or grams_of(item.amount) > (within[0].left_g or 0.0):
        return None
    return [replace(item, name=None, several=(), batch=ref_of(within), state=None)]


def _weight_apart(message: Message, portions: Sequence[Item]) -> list[Meaning] | None:
    """'a plate of snert, the plate is tared: 420': a plate of a pot, and a weight that no food has, are one portion."""
    if len(portions) != 2:
        return None
    plate, weight = portions
    if plate.batch is None or plate.amount is None or plate.amount.kind not in ("measure", "count", "loose"):
        return None
    if plate.amount.value != 1 or weight.batch is not None or weight.amount is None or weight.amount.doubt is not None:
        return None
    named = weight.name is not None and bool(weight.name.foods or weight.name.kinds)
    grams = grams_of(weight.amount)
    pots = batches_meant(message, plate.batch)
    if named or weight.amount.kind not in ("mass", "bare") or grams <= MOST_COUNTED or len(pots) != 1 or pots[0].pieces:
        return None
    return [replace(plate, amount=as_mass(weight.amount), measure=None, number_first=False)]


def _put_right_in_it(message: Message, portions: Sequence[Item]) -> list[Meaning] | None:
    """'oh the carrots were 8, the scale moved, 8 oz': what is said of a food in the raw pot puts that right."""
    item, pots = portions[0], [b for b in message.around.at_work if b.spoken or b.filling]
    if len(portions) != 1 or len(pots) != 1 or item.name is None or item.amount is None or item.batch is not None:
        return None
    scene = Scene(message)
    if scene.asks or message.when.meal or scene.cue("i_ate", "ate", "negation") or item.tare is not None:
        return None
    ref = ref_of(pots)
    food = next((c for c in message.of("food")), None)
    was = food is not None and pack()["was_really"].end(message.line.plain, food.end) is not None
    if not was or item.two_masses or not has_ingredient(message, ref, item.name):
        return None
    return [CorrectIngredient(batch=ref, name=item.name, item=replace(item, measure=None, name=None))]


def _into_it(message: Message, portions: Sequence[Item]) -> list[Meaning] | None:
    """'oh and 30 g mustard went in half an hour ago': what is told of a pot on the stove, at whatever time it was."""
    scene = Scene(message)
    pots = message.around.at_work
    late = scene.cue("forgot", "from_start")
    if len(pots) != 1 or not (scene.cue("went_in", "in_it") or (late and (pots[0].spoken or pots[0].filling))):
        return None
    if scene.asks or scene.cue("i_ate", "ate", "negation", "portioned") or message.when.meal or not portions:
        return None
    if any(i.name is None or i.amount is None or i.batch is not None or i.tare is not None for i in portions):
        return None
    if any(not (i.name and (i.name.foods or i.name.kinds)) or i.several or i.two_masses for i in portions):
        return None
    told = tuple(in_grams([replace(i, when=When()) for i in portions]))
    return [AddIngredients(batch=ref_of(pots), items=told, from_start=late)]


def _box_of(message: Message, portions: Sequence[Item]) -> list[Meaning] | None:
    """'ate one of the frozen ones from the stew': a small number of a pot in boxes counts them, and is no weight."""
    item = portions[0]
    amount = item.amount
    if len(portions) != 1 or item.batch is None or amount is None or amount.kind != "bare" or amount.value % 1:
        return None
    pots = batches_meant(message, item.batch)
    if len(pots) != 1 or pots[0].pieces or not 0 < amount.value <= MOST_COUNTED or item.measure is not None:
        return None
    if amount.value > (pots[0].boxes or 0) or not Scene(message).cue("said_frozen"):
        return None
    return [TakeBoxes(batch=item.batch, which=WhichBoxes(count=int(amount.value)), when=item.when)]


def _twice(message: Message, portions: Sequence[Item]) -> list[Meaning] | None:
    """'from the soup 350 g, then 150 g more': two weights of one pot, of which the second is said to be more."""
    item = portions[0]
    if len(portions) != 1 or item.batch is None or not item.two_masses:
        return None
    told = [c for c in message.of("amount") if c.amount is not None and not is_one(c.amount)]
    if len(told) != 2 or any(c.amount is None or c.amount.kind not in ("mass", "bare") for c in told):
        return None
    between = message.line.plain[told[0].end : told[1].start]
    behind = message.line.plain[told[1].end : told[1].end + 2]
    if not (pack()["more_of_it"].found(between) or pack()["more_of_it"].found(behind)):
        return None
    first, second = (c.amount for c in told if c.amount is not None)
    return [replace(item, amount=amount, two_masses=False, measure=None) for amount in (first, as_mass(second, first))]


def _in_its_vessel(message: Message, portions: Sequence[Item]) -> list[Meaning] | None:
    """'blue bowl loaded with pho 655': a saved vessel beside one weight that is more than its own was under it."""
    vessels = [c.tare for c in message.of("tare") if c.tare is not None]
    if len(portions) != 1 or len(vessels) != 1 or vessels[0].grams is None:
        return None
    item, empty = portions[0], vessels[0].grams
    one = [c for c in message.of("amount") if c.amount is not None and not is_one(c.amount)]
    if item.tare is not None or item.amount is None or len(one) != 1 or vessel_taken_off(message):
        return None
    if item.amount.kind not in ("mass", "bare") or grams_of(item.amount) < empty + LEAST_IN_IT_G:
        return None
    if Scene(message).cue("empty", "nothing_in_it") or item.waste_g or item.others_g:
        return None
    return [replace(item, tare=vessels[0])]


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
    off = pack()["off_from"].found(message.line.plain[told[0].end : message.chunks[-1].end])
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


def _had_each(message: Message) -> list[Meaning] | None:
    """'Bao and Jess had 500 each of the pho': what several people had each left the pot, and the writer had none."""
    scene = Scene(message)
    if scene.asks or len(scene.batches) != 1 or not scene.batches[0].cooked or scene.cue("negation"):
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
    amount = Amount(kind="mass", value=grams, unit="g", grams=grams, text=told[0].amount.text)
    who = line.said(first, verb)
    return [GiveAway(batch=ref_of(scene.batches), why="given away", amount=amount, who=who)]


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


def _is_frozen(message: Message, portions: Sequence[Item]) -> bool:
    """'froze the other 12': a verb of freezing was taken for what was eaten."""
    item = portions[0]
    unknown = len(portions) == 1 and item.batch is None and item.name is not None
    if not unknown or item.name is None or item.name.foods or item.name.kinds:
        return False
    return plain(item.name.text.lower()) in pack()["freezing_them"]


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
