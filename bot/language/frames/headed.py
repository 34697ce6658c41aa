"""Frames for a pot beside those on the stove, and for one that only its dish announces, as a heading."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.batch_meanings import OpenBatch
from bot.language.chunks import Chunk
from bot.language.frames.opening import opened
from bot.language.frames.pot_bodies import body_at, weighs
from bot.language.frames.pot_contents import MEATS, grams_in, told_in
from bot.language.frames.pot_names import SENTENCE_ENDS, name_in
from bot.language.frames.spans import is_one
from bot.language.intents.ingredients import hardly_eaten_so
from bot.language.intents.openings import opening
from bot.language.meanings import Meaning, NotMine
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.scene import Scene
from bot.language.stance import how_it_is_said, not_mine, planned
from bot.language.told import Item, Name
from domain import reference
from domain.foods import State

LEAST_PARTS = 3
LEAST_G = 500.0
"""More than one plate holds."""
LEAST_FOR_SEVERAL_G = 900.0
"""More than one person eats, where something of it is rather cooked than eaten raw."""
LEAST_UNREADY_G = 100.0
"""What is only eaten cooked weighs at least, so that the rest is cooked with it."""
LEAST_LED = 2
"""Parts of a dish that a word between leads to them: 'ugali from 400 g cornmeal and 950 g water'."""
LEAST_WATER_G = 300.0
MOST_HEAD = 8
"""Chunks of a heading."""
FLOUR = "flour"


def headed(scene: Scene) -> list[Meaning] | None:
    """'Meatballs today. 300 g beef mince raw, onion 110 g, …', 'scones this afternoon! 450 g plain flour, …'."""
    message = scene.message
    if message.asks or scene.named or message.when.meal or message.of("hash", "energy", "macro", "price"):
        return None
    if opening(message) is not None:
        return None  # one of the usual heads
    if scene.cue("i_ate", "portioned", "condition", "repair", "by_recipe", "foreseen"):
        return None
    at = next((n for n, c in enumerate(message.chunks) if _ends_a_heading(c)), 0)
    led = _led_to_its_parts(message)
    at = led if led is not None and led < (at or len(message.chunks)) else at
    begins = max(at + 1, body_at(message, ()) or 0)
    if any(
        c.kind in ("food", "batch", "amount") and not (c.amount and is_one(c.amount)) for c in message.chunks[at:begins]
    ):
        begins = at + 1
    head, body = message.part(0, at), message.part(begins, len(message.chunks))
    if not 0 < at <= MOST_HEAD or not body.chunks or any(c.amount and not is_one(c.amount) for c in head.chunks):
        return None
    head = head.without(head.of("moment"))
    name = name_in(head) if head.chunks else ""
    if not name or not _is_made(head, name):
        return None
    told = told_in(body, name)
    least = LEAST_LED if led == at else LEAST_PARTS
    if told is None or len(told) < least or not (is_cooked(told) or (led == at and _is_in_water(told))):
        return None
    if message.when.future or planned(head):
        return [NotMine(why="plan")]
    if _says_more(head, name):
        return None
    return [OpenBatch(name=name, items=tuple(told))]


def pot_of_its_own(scene: Scene) -> list[Meaning] | None:
    """'And a third pot, dal: 250 g dry red lentils, …': not into the pot that is being filled."""
    if not scene.message.around.cooking or len(scene.amounts) < 2 or not scene.cue("own_pot"):
        return None
    pot = None if opening(scene.message) is not None else opened(scene)
    return pot if pot is not None and any(isinstance(each, OpenBatch) and each.items for each in pot) else None


def _led_to_its_parts(message: Message) -> int | None:
    """Where a word leads from a dish to what it is made of: 'ugali now, from 400 g cornmeal and 950 g water'."""
    first = next((n for n, c in enumerate(message.chunks) if weighs(c)), 0)
    while first and message.chunks[first - 1].kind == "state":
        first -= 1
    led = [n for n in range(max(0, first - 2), first) if plain(message.chunks[n].text.lower()) in pack()["made_out_of"]]
    return led[0] if led and led[-1] == first - 1 else None


def _is_in_water(told: Sequence[Item]) -> bool:
    """Whether something dry or raw is put into more water than anybody drinks with it."""
    water = [item for item in told if item.name is not None and pack()["watery"].found(item.name.text.split())]
    enough = sum(map(grams_in, water)) >= LEAST_WATER_G
    return enough and any(item not in water and grams_in(item) >= LEAST_UNREADY_G for item in told)


def _ends_a_heading(chunk: Chunk) -> bool:
    return chunk.text in SENTENCE_ENDS or chunk.text == ":" or chunk.kind == "newline"


def _is_made(head: Message, name: str) -> bool:
    """Whether a heading names a dish, or one thing that never is raw."""
    if pack()["dish"].found([plain(word) for word in name.split()][-1:]):
        return True
    table, resolved = reference.load(), head.vocabulary.resolve(name.split(), name)
    return bool(resolved.foods) and all(
        food in table.foods and (table.foods[food].dish or table.foods[food].row(State.RAW) is None)
        for food in resolved.foods
    )


def _says_more(head: Message, name: str) -> bool:
    """Whether a heading is somebody else's, a plan or a habit, or denies what it names."""
    if how_it_is_said(head) is not None or not_mine(head) is not None:
        return True
    said = set(name.split())
    others = [c for c in head.chunks if c.kind == "food" and said.isdisjoint(c.text.lower().split())]
    return bool(others) or head.has_any(head.words.negations | head.words.eating | head.words.shopping)


def is_cooked(told: Sequence[Item]) -> bool:
    """Whether more is told than one plate holds, and something among it is only eaten cooked."""
    if any(item.amount is None or item.amount.doubt is not None for item in told):
        return False
    total = sum(map(grams_in, told))
    unready = any(_is_unready(item) and grams_in(item) >= LEAST_UNREADY_G for item in told)
    raw = any(hardly_eaten_so(item) and grams_in(item) >= LEAST_UNREADY_G for item in told)
    return (unready and total >= LEAST_G) or (raw and total >= LEAST_FOR_SEVERAL_G)


def _is_unready(item: Item) -> bool:
    """Whether nobody eats it as it was told: raw meat or fish, flour."""
    name = item.name
    if name is None:
        return False
    foods, groups = _foods_of(name), _groups_of(name)
    if foods and all(food.split()[-1] == FLOUR for food in foods):
        return True
    return item.state is State.RAW and bool(groups) and groups <= MEATS


def _foods_of(name: Name) -> tuple[str, ...]:
    table = reference.load()
    kinds = table.kinds.get(name.kinds) if name.kinds is not None else None
    return name.foods if kinds is None else (*name.foods, *kinds.kinds)


def _groups_of(name: Name) -> set[str]:
    table = reference.load()
    return {table.foods[food].group for food in _foods_of(name) if food in table.foods}
