"""Frames for a pot that has no cooked weight yet, by its state alone: nobody eats from it, whatever the words.

A food with a weight beside its name goes in; a weight like that of all that went in is what it weighs cooked.
"""

from __future__ import annotations

from dataclasses import replace

from bot.language.batch_meanings import AddIngredients, CookBatch
from bot.language.frames.cooking import cooked, in_one_unit
from bot.language.frames.spans import Span, is_one, outside, spans
from bot.language.frames.stretch import as_mass
from bot.language.intents.ingredients import in_grams, seasoning
from bot.language.intents.readings import has_ingredient
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.portion_meanings import CountPieces
from bot.language.pots import one_of
from bot.language.scene import Scene, is_owned_by_others, ref_of
from bot.language.surroundings import KnownBatch
from bot.language.told import Amount, Item, Name
from domain.foods import State

MOST_CHUNKS = 60
MOST_HEADING = 6
MOST_SEASONINGS = 5
"""Chunks of a message that names seasonings and nothing else."""
LEAST_OF_RAW, MOST_OF_RAW = 0.45, 1.6
"""Shares of what went in between which a weight is rather all of the batch than a portion or an ingredient."""
MOST_PIECES = 200
MORE_THAN_A_PORTION_G = 900.0
"""From here on a weight is no portion, even of a small batch."""


def all_of_it(scene: Scene) -> list[Meaning] | None:
    """What a weight of a raw pot means that only all of it can have, before any words of sharing are considered.

    'the curry is off the stove, 1960', 'all the welsh cakes together 1008 g, 24 of them': nothing was thrown out, and
    nobody had the rest of what has no cooked weight yet.
    """
    pot = only_raw(scene)
    if pot is None or pot.raw_g is None or not scene.amounts or len(scene.message.chunks) > MOST_CHUNKS:
        return None
    heaviest = max(map(_grams, in_one_unit(scene.masses)), default=0.0)
    if heaviest < LEAST_OF_RAW * pot.raw_g or _is_a_plate(scene) or scene.cue("portioned", "threw_out", "cut_up"):
        return None
    return cooked(scene) or weighs_all(scene)


def put_in(scene: Scene) -> list[Meaning] | None:
    """'curry receives onion, 210 g', 'white sauce for the lasagne: 35 g flour, 35 g butter'."""
    pot = only_raw(scene)
    message = scene.message
    if pot is None or not scene.amounts or len(message.chunks) > MOST_CHUNKS or _is_eaten(scene):
        return None
    if scene.cue("told_wrong", "not_put_in", "contrasts", "done", "weighing_now"):
        return None
    if _is_headed_by_another(scene):
        return None
    named = [Span(start, end) for _, start, end in scene.named]
    cues = spans(message, "into_pot", "for_pot", "in_the_pot", "from_start", "too", "pot_takes", "replaces_it")
    rest = _behind_heading(outside(message, (*named, *cues)))
    rest = rest.without([*rest.of("moment"), *(c for c in rest.chunks if _is_small(c.text))])
    if rest.of("batch", "hash", "energy", "macro", "price", "tare"):
        return None
    told = [replace(i, batch=None) for i in items(rest)]
    if not told or any(not is_ingredient(i) for i in told):
        return None
    ref = ref_of([pot], scene.named[0][0].text)
    if any(i.name is not None and has_ingredient(message, ref, i.name) for i in told):
        return None  # it is in already: a correction, or asked about
    return [AddIngredients(batch=ref, items=tuple(in_grams(told)), from_start=scene.cue("from_start", "forgot"))]


def _is_headed_by_another(scene: Scene) -> bool:
    """'Dumplings: 250 g flour, 300 g minced pork raw, …': a dish of its own, with a food like the pot's name in it."""
    message = scene.message
    colon = next((c.start for c in message.chunks[:MOST_HEADING] if c.text == ":"), None)
    if colon is None or any(start < colon for _, start, _ in scene.named):
        return False
    head = [c for c in message.chunks if c.start < colon]
    said = [plain(c.text.lower()) for c in head]
    if any(word in pack()[name] for word in said for name in ("for_pot", "into_pot", "too")):
        return False
    foods = [c for c in head if c.kind == "food"]
    return bool(foods) and pack()["part_of_a_dish"].end(said, len(said) - 1) is None


def seasoned(scene: Scene) -> list[Meaning] | None:
    """'salt', 'salt and pepper' while a pot is being filled: they go in, to taste."""
    message = scene.message
    filling = [b for b in message.around.cooking if b.filling]
    if len(filling) != 1 or not scene.foods or message.has("?") or len(message.chunks) > MOST_SEASONINGS:
        return None
    beside = [c for c in message.chunks if c.kind != "food" and plain(c.text.lower()) not in pack()["joining"]]
    names = [seasoning for c in scene.foods if (seasoning := _seasoning(c.text.lower(), message)) is not None]
    if beside or len(names) != len(message.of("food")):
        return None
    told = tuple(Item(text=name.text, amount=None, name=name) for name in names)
    return [AddIngredients(batch=ref_of(filling), items=told)]


def _seasoning(said: str, message: Message) -> Name | None:
    """The spice that a word means."""
    name = message.vocabulary.resolve(said.split(), said)
    return seasoning(name, among_others=len(message.of("food")) > 1)


def _behind_heading(rest: Message) -> Message:
    """What stands behind a colon, if no weight stands before it: 'white sauce for the lasagne: 35 g flour'."""
    colon = next((n for n, c in enumerate(rest.chunks) if c.text == ":"), None)
    if colon is None or rest.part(0, colon).of("amount"):
        return rest
    return rest.part(colon + 1, len(rest.chunks))


def weighs_all(scene: Scene) -> list[Meaning] | None:
    """'just weighed the lasagne, dish taken off it is 2376 g', 'rotis are done, 11 of them, all together 363 g'."""
    pot = only_raw(scene)
    if pot is None or pot.raw_g is None or scene.cue("contrasts", "told_wrong"):
        return None
    if any(c.state is State.RAW for c in scene.message.of("state")):
        return None
    if any(food.text.lower() not in pack()["dish"] for food in scene.foods):
        return None
    amounts = [c.amount for c in scene.amounts if c.amount is not None and not is_one(c.amount)]
    weight = max((a for a in amounts if a.kind in ("mass", "bare")), key=_grams, default=None)
    if weight is None or not scene.only(*(c.amount for c in scene.amounts if c.amount is not None)):
        return None
    counts = {a.value for a in amounts if a is not weight}
    tare = next((c.tare for c in scene.message.of("tare") if c.tare is not None and c.tare.grams), None)
    grams = _grams(weight) - (tare.grams or 0.0 if tare is not None else 0.0)
    said = scene.cue("the_vessel", "weighing_now", "done", "all_together")
    if len(counts) > 1 or _is_a_plate(scene) or not _is_all_of_it(grams, pot.raw_g):
        return None
    if (grams < MORE_THAN_A_PORTION_G or counts) and not said:
        return None
    ref = ref_of([pot], scene.named[0][0].text)
    if not counts:
        return [CookBatch(batch=ref, amount=weight, tare=tare)] if len(scene.named) == 1 or said else None
    pieces = counts.pop()
    if not 1 < pieces <= MOST_PIECES or pieces % 1:
        return None
    word = _said_piece(scene, pot, pieces) or _piece(pot)
    return [CountPieces(batch=ref, pieces=int(pieces), word=word, amount=as_mass(weight))]


def _is_all_of_it(grams: float, raw_g: float) -> bool:
    return LEAST_OF_RAW * raw_g <= grams <= MOST_OF_RAW * raw_g


def _said_piece(scene: Scene, pot: KnownBatch, pieces: float) -> str:
    """'pancake' of 14 pancakes from a pancake batter: the word of its name that stands behind the number."""
    line = scene.message.line
    for chunk in scene.amounts:
        told = chunk.amount is not None and chunk.amount.value == pieces and chunk.end < len(line.tokens)
        said = line.text(chunk.end) if told else ""
        if said != one_of(said) and one_of(said) in pot.name.lower().split():
            return one_of(said)
    return ""


def _piece(pot: KnownBatch) -> str:
    """'roti' of a batch called rotis; 'piece' of a pie."""
    if pot.piece:
        return pot.piece
    last = pot.name.lower().split()[-1]
    return one_of(last)


def only_raw(scene: Scene) -> KnownBatch | None:
    """The one batch without a cooked weight that is named, if what is said has happened."""
    batches = [b for b in scene.batches if not b.cooked]
    others = {b.name.casefold() for b in scene.batches if b.cooked} - {b.name.casefold() for b in batches}
    if len(batches) != 1 or others or scene.asks or scene.cue("foreseen", "habit", "another_time", "by_recipe"):
        return None
    if is_owned_by_others(scene) or (not scene.message.of("tare") and scene.cue("empty") and scene.cue("the_vessel")):
        return None  # 'the stew pot by itself is 1150 g'
    if scene.cue("pot_begins", "once_again", "call_it"):
        return None  # another batch of that name
    negated = any(c.kind == "word" and c.text.lower() in scene.message.words.negations for c in scene.message.chunks)
    return None if negated else batches[0]


def _is_a_plate(scene: Scene) -> bool:
    """Whether it tells of a meal or of somebody's share."""
    return bool(scene.message.when.meal) or scene.cue("i_ate", "gave_away", "went_to_me")


def _is_eaten(scene: Scene) -> bool:
    """Whether it tells of a plate, a meal or somebody's share; a pot itself takes what is put into it."""
    if _is_a_plate(scene) or scene.cue("a_rest"):
        return True
    line = scene.message.line
    takes = [end for _, _, end in scene.named if pack()["pot_takes"].end(line.plain, end) is not None]
    return scene.cue("portioned") and not takes


def _is_small(word: str) -> bool:
    return plain(word.lower()) in pack()["puts_in"]


def is_ingredient(item: Item) -> bool:
    """Whether an item is a food with one sure amount."""
    named = item.name is not None and bool(item.name.foods or item.name.kinds or item.name.text)
    return named and item.amount is not None and not item.several and not item.shared and item.amount.doubt is None


def _grams(amount: Amount) -> float:
    return amount.grams if amount.grams is not None else amount.value
