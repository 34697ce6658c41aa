"""What weigh-ins of a message are of an open pot where the reading did not see it: by the pot's contents and state."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from bot.language.batch_meanings import AddIngredients, CorrectIngredient
from bot.language.frames.serving import seen
from bot.language.frames.spans import is_one
from bot.language.frames.stretch import as_mass, grams_of
from bot.language.intents.ingredients import in_grams
from bot.language.intents.readings import batches_meant, has_ingredient, vessel_taken_off
from bot.language.meanings import Meaning, NotMine
from bot.language.message import Message
from bot.language.name_tables import lemmas_of
from bot.language.pack import pack, plain
from bot.language.portion_meanings import GiveAway, MoveBoxes, TakeBoxes, TakePieces, WhichBoxes
from bot.language.scene import Scene, ref_of
from bot.language.told import Amount, Item, When

MOST_SUBJECT = 8
"""Tokens before a weight among which it is said who got it."""
LEAST_IN_IT_G = 5.0
"""What is in a vessel weighs at least."""
MOST_COUNTED = 9
"""Up to this a number by itself is no weight of a portion."""
MOST_BEHIND = 3
"""Last words of a message among which it is said that a piece was the writer's meal."""
LEAST_PORTION_G = 20.0
"""From here on a number by itself is a weight of a portion."""
LEAST_FILLED = 3
"""Weights of a vessel that is filled, the empty one first."""


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


def _into_it(message: Message, portions: Sequence[Item]) -> list[Meaning] | None:
    """'oh and 30 g mustard went in half an hour ago': what is told of a pot on the stove, at whatever time it was."""
    scene = Scene(message)
    from_start = scene.cue("forgot", "from_start")
    pots = message.around.at_work
    if not pots and scene.cue("from_start") and scene.cue("went_in", "in_it"):
        pots = tuple(b for b in message.around.batches if b.spoken or b.focus)
    told = len(pots) == 1 and (pots[0].spoken or pots[0].focus or pots[0].filling)
    if len(pots) != 1 or not (scene.cue("went_in", "in_it") or (scene.cue("forgot") and told)):
        return None
    if scene.asks or scene.cue("i_ate", "ate", "negation", "portioned") or message.when.meal or not portions:
        return None
    if any(i.name is None or i.amount is None or i.batch is not None or i.tare is not None for i in portions):
        return None
    if any(not (i.name and (i.name.foods or i.name.kinds)) or i.several or i.two_masses for i in portions):
        return None
    added = tuple(in_grams([replace(i, when=When()) for i in portions]))
    return [AddIngredients(batch=ref_of(pots), items=added, from_start=from_start)]


def _box_of(message: Message, portions: Sequence[Item]) -> list[Meaning] | None:
    """'ate one of the frozen ones from the stew': a small number of a pot in boxes counts them, and is no weight."""
    found: list[Meaning] = [_as_boxes(message, item) or item for item in portions]
    return found if any(isinstance(m, (TakeBoxes, MoveBoxes)) for m in found) else None


def _as_boxes(message: Message, item: Item) -> TakeBoxes | MoveBoxes | None:
    amount = item.amount
    if item.batch is None or amount is None or amount.kind != "bare" or amount.value % 1 or item.measure is not None:
        return None
    pots = batches_meant(message, item.batch)
    if len(pots) != 1 or pots[0].pieces or not 0 < amount.value <= min(MOST_COUNTED, pots[0].boxes or 0):
        return None
    place = next((c for c in message.of("amount") if c.amount is not None and c.amount.text == amount.text), None)
    scene = Scene(message)
    of_them = place is not None and message.line.plain[place.end] in pack()["taken_of"] and scene.cue("a_box")
    if not (of_them or scene.cue("said_frozen")):
        return None
    which, to = WhichBoxes(count=int(amount.value)), seen(message).target
    if to is not None and not scene.cue("i_ate", "eating_it"):
        return MoveBoxes(batch=item.batch, which=which, to=to, when=item.when)  # 'into the freezer go 3 of the boxes'
    return TakeBoxes(batch=item.batch, which=which, when=item.when)


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


def in_bits(message: Message, portions: Sequence[Item]) -> list[Meaning] | None:
    """'two bits for me tea' of a lasagne that was cut: pieces, though they were called otherwise."""
    item = portions[0]
    amount = item.amount
    if len(portions) != 1 or amount is None or amount.unit not in pack()["bits_of_it"] or amount.grams is not None:
        return None
    if item.batch is not None or item.measure is not None or (item.name is not None and item.name.corrected):
        return None
    pots = [b for b in message.around.batches if b.pieces and (b.spoken or b.focus)]
    if len(pots) != 1 or not 0 < amount.value <= (pots[0].pieces or 0) or not pots[0].piece:
        return None
    near = message.line.plain[-MOST_BEHIND:]
    meal = item.name is None or any(word in pack()["my_own"] or word in pack()["oneself"] for word in near)
    if not meal or Scene(message).asks:
        return None
    return [TakePieces(batch=ref_of(pots), pieces=amount.value, word=pots[0].piece, when=item.when)]


def _weight_of_parts(message: Message, portions: Sequence[Item]) -> list[Meaning] | None:
    """'180 of the thighs, 210 g mashed potato': more thighs than anybody eats are grams of the pot of that name."""
    found: list[Meaning] = [of_a_part(message, item) or item for item in portions]
    return None if found == list(portions) else found


def of_a_part(message: Message, item: Item) -> Item | None:
    """The portion of a cooked pot that a number of its parts is, where it is too great to count them."""
    amount = item.amount
    if item.name is not None or item.batch is not None or amount is None or amount.value < LEAST_PORTION_G:
        return None
    part = amount.unit.lower()
    pots = [b for b in message.around.batches if b.cooked and not b.pieces and part in lemmas_of(b.name)]
    if amount.grams is not None or len(pots) != 1 or amount.value > (pots[0].left_g or 0.0):
        return None
    return replace(item, amount=_grams(amount.value, item), batch=ref_of(pots), measure=None, number_first=False)


def _growing(message: Message, portions: Sequence[Item]) -> list[Meaning] | None:
    """'bowl 310, rice 470, dal 620': what a scale shows while a vessel is filled, of a pot too, are differences."""
    if len(portions) < LEAST_FILLED or not any(i.batch is not None for i in portions):
        return None
    empty, *filled = portions
    told = [i.amount for i in portions if i.amount is not None and i.amount.kind in ("mass", "bare")]
    first = next((c for c in message.of("amount")), None)
    if len(told) != len(portions) or empty.name is not None or empty.batch is not None or first is None:
        return None
    grams = [grams_of(amount) for amount in told]
    vessel = first.start and message.line.lemmas[first.start - 1] in message.words.vessels
    if not vessel or any(b - a < LEAST_IN_IT_G for a, b in pairwise(grams)) or any(i.tare for i in filled):
        return None
    return [replace(i, amount=_grams(b - a, i)) for i, (a, b) in zip(filled, pairwise(grams), strict=True)]


def _grams(value: float, item: Item) -> Amount:
    return Amount(kind="mass", value=value, unit="g", grams=value, text=item.amount.text if item.amount else "")


def _taken_to(message: Message, portions: Sequence[Item]) -> list[Meaning] | None:
    """'she has a cold, so I took her round 180 g of the stew': what was taken to somebody was not eaten."""
    item = portions[0]
    told = [c for c in message.of("amount") if c.amount is not None and not is_one(c.amount)]
    if len(portions) != 1 or item.batch is None or item.amount is None or len(told) != 1:
        return None
    said, others = message.line.plain, pack()["other_pronouns"].words
    for n in range(max(message.chunks[0].start, told[0].start - MOST_SUBJECT), told[0].start - 1):
        brought = said[n] in pack()["moving"] or said[n] in pack()["giving"]
        if brought and said[n + 1] in message.words.pronouns and said[n + 1] in others:
            return [GiveAway(batch=item.batch, why="given away", amount=item.amount)]
    return None


def _again(message: Message, portions: Sequence[Item]) -> list[Meaning] | None:
    """'soup again. 12 oz out of batch 2', 'one of the 300 g boxes': a pot named without an amount is that portion's."""
    if len(portions) != 2:
        return None
    spoken, told = portions
    if spoken.batch is None or told.batch is None or spoken.amount is not None or told.amount is None:
        return None
    same = {b.number for b in batches_meant(message, spoken.batch)} & {
        b.number for b in batches_meant(message, told.batch)
    }
    return [replace(told, when=message.when)] if same else None


def _frozen(message: Message, portions: Sequence[Item]) -> list[Meaning] | None:
    """'froze the other 12': a verb of freezing was taken for what was eaten."""
    item = portions[0]
    unknown = len(portions) == 1 and item.batch is None and item.name is not None
    if not unknown or item.name is None or item.name.foods or item.name.kinds:
        return None
    return [NotMine(why="doubt")] if plain(item.name.text.lower()) in pack()["freezing_them"] else None


BEFORE = (
    _frozen,
    _weight_apart,
    _put_right_in_it,
    _of_what_is_in_it,
    _into_it,
    _box_of,
    in_bits,
    _weight_of_parts,
    _growing,
    _taken_to,
    _again,
)
BEHIND = (_twice, _in_its_vessel)
"""Readers of weigh-ins in order, before and behind those of what nobody ate."""
