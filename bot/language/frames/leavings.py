"""The frame for what was weighed twice: with its core, peel, bones or shells, and those alone when it was eaten."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.chunks import Chunk
from bot.language.items import items
from bot.language.lexicon import lexicon
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.scene import Scene
from bot.language.stance import how_it_is_said, planned, shopping
from bot.language.text import singular
from bot.language.told import Item
from bot.language.waste import grams_of, is_weight
from bot.language.word_lists import word_lists
from domain.foods import State

WORDS = word_lists("telling")
MOST_CHUNKS = 45
MOST_BEFORE = 4
"""Tokens before a weight among which the part is named that it is of."""
MOST_COUNTED = 12
"""A number up to this counts the pieces that were weighed together."""
MOST_WASTE = 0.85
"""What is thrown away is hardly more of the whole."""
ABOUT_FOOD = ("food", "state", "size", "moment")


def less_leavings(scene: Scene) -> list[Meaning] | None:
    """'164 g when I started, the core came to 21 g', 'two chops 240 g bone and all, bones after were 88 g'.

    The larger weight is that of the food and the smaller that of the part of it which is named beside it.
    """
    message = scene.message
    if not scene.cue("leavings") and not _parts_named(message):
        return None
    weights = _two_weights(scene)
    if weights is None:
        return None
    whole, waste = weights
    part = _part_beside(scene, whole, waste)
    if _is_of_part(message, whole) or part is None or _grams(waste) > MOST_WASTE * _grams(whole):
        return None
    told = _told(message, whole, waste)
    if told is None:
        return None
    state = told.state or (State.COOKED if scene.cue("off_the_heat") else None)
    return [replace(told, waste_g=_grams(waste), part=part, whole=True, state=state, when=message.when)]


def peeled_or_not(scene: Scene) -> list[Meaning] | None:
    """'peeled the orange and it came to 131 g, 180 with the peel on': the smaller was eaten."""
    message = scene.message
    said = message.of("whole")
    gross, net = ([c for c in said if c.whole is whole] for whole in (True, False))
    weights = _two_weights(scene) if net else None
    if weights is None:
        return None
    whole, eaten = weights
    if any(_nearest(c, weights) is not eaten for c in net) or any(_nearest(c, weights) is not whole for c in gross):
        return None
    part = next((c.part for c in (*gross, *net) if c.part), None)
    told = _told(message.without(net), whole, eaten)
    if told is None or part is None or _grams(eaten) < (1 - MOST_WASTE) * _grams(whole):
        return None
    return [replace(told, waste_g=_grams(whole) - _grams(eaten), part=part, whole=True, when=message.when)]


def _nearest(chunk: Chunk, weights: Sequence[Chunk]) -> Chunk:
    """The weight next to which a chunk stands."""
    return min(weights, key=lambda c: chunk.start - c.end if c.end <= chunk.start else c.start - chunk.end)


def _two_weights(scene: Scene) -> tuple[Chunk, Chunk] | None:
    """The larger and the smaller weight where one food with two weights was eaten; None where that is not so."""
    message = scene.message
    if len(scene.amounts) < 2 or len(message.chunks) > MOST_CHUNKS or scene.named or len(_foods(scene)) != 1:
        return None
    if message.of("hash", "energy", "macro", "price", "tare", "newline", "batch") or _unreal(scene):
        return None
    weights = _weights(scene)
    if len(weights) != 2:
        return None
    smaller, larger = sorted(weights, key=_grams)
    return larger, smaller


def _parts_named(message: Message) -> bool:
    return any(lemma.removesuffix("'s") in message.words.parts for lemma in message.line.lemmas)


def _told(message: Message, whole: Chunk, waste: Chunk) -> Item | None:
    """The weigh-in of the food with its whole weight alone; None if it tells something else too."""
    about = [c for c in message.chunks if c.kind in ABOUT_FOOD or c.kind == "whole"]
    kept = [whole, *(c for c in about if c.kind != "state" or c.start < waste.start)]  # 'when I was done'
    told = items(message.without(c for c in message.chunks if c not in kept))
    alone = len(told) == 1 and told[0].name is not None and told[0].amount is not None and not told[0].two_masses
    return told[0] if alone else None


def _unreal(scene: Scene) -> bool:
    """Whether it asks, plans, denies or supposes, or somebody else is spoken of who may have eaten it."""
    message = scene.message
    if message.asks or planned(message) or shopping(message) or how_it_is_said(message) is not None:
        return True
    others = message.words.people | (message.words.pronouns - pack()["they"].words)
    denied = message.words.negations - pack()["i_did_not_eat_it"].words
    return message.has_any(others) or message.has_any(denied)


def _foods(scene: Scene) -> list[list[Chunk]]:
    """The foods it names, those with nothing between them together; none that is a word for waste."""
    runs: list[list[Chunk]] = []
    for chunk in scene.foods:
        if singular(chunk.text.lower()) in scene.message.words.parts:
            continue
        if runs and (runs[-1][-1].end == chunk.start or runs[-1][0].target == chunk.target):
            runs[-1].append(chunk)
        else:
            runs.append([chunk])
    return runs


def _weights(scene: Scene) -> list[Chunk]:
    """Its weights, without counts of pieces; empty if another amount is told."""
    masses = [c for c in scene.amounts if c.amount is not None and c.amount.kind == "mass"]
    found: list[Chunk] = []
    for chunk in scene.amounts:
        amount = chunk.amount
        if amount is None or amount.doubt is not None:
            return []
        if amount.kind == "mass" or (is_weight(chunk) and (amount.value > MOST_COUNTED or len(masses) < 2)):
            leads = any(c.start >= chunk.end and chunk.end + 2 >= c.start for c in scene.foods)
            if amount.kind == "mass" or amount.value > MOST_COUNTED or not leads:
                found.append(chunk)
        elif amount.kind not in ("count", "bare") or amount.value > MOST_COUNTED:
            return []
    return found


def _grams(chunk: Chunk) -> float:
    assert chunk.amount is not None
    return grams_of(chunk.amount)


def _is_of_part(message: Message, weight: Chunk) -> bool:
    """Whether a weight is that of the part before it: 'core 120'."""
    before = [t.text for t in message.line.tokens[max(0, weight.start - MOST_BEFORE) : weight.start]]
    links = len(before)
    while links and before[links - 1] in WORDS["waste_links"]:
        links -= 1
    named = before[:links][-1:]
    return any(singular(w) in message.words.parts for w in named) and WORDS["including"].isdisjoint(before[:links])


def _part_beside(scene: Scene, whole: Chunk, waste: Chunk) -> str | None:
    """The part that the smaller weight is of: the one named in its own clause, or since the larger weight."""
    message = scene.message
    at = message.index(waste)
    signs = [n for n, c in enumerate(message.chunks) if c.kind == "sign" and c.text not in ("-", "=")]
    ends = next((n for n in signs if n > at), len(message.chunks))
    start = message.index(whole) + 1 if whole.start < waste.start else 0
    if whole.start > waste.start:
        ends = min(ends, message.index(whole))
    stretch = [c for c in message.chunks[start:ends] if c.kind not in ("food", "whole") or _names_part(c)]
    return _part(message, stretch) or ("waste" if _says_leavings(message, stretch) else None)


def _names_part(chunk: Chunk) -> bool:
    return chunk.kind == "food" and singular(chunk.text.lower()) in lexicon().parts


def _part(message: Message, stretch: Sequence[Chunk]) -> str | None:
    """The last part that is named there, but for the one that only says how the food was weighed ('bone and all')."""
    found = None
    for chunk in stretch:
        for n in range(chunk.start, chunk.end):
            word = singular(message.line.text(n).removesuffix("'s"))
            if word in message.words.parts and not _was_weighed_too(message, n + 1):
                found = word
    return found


def _was_weighed_too(message: Message, n: int) -> bool:
    """Whether what stands there says of the part before it that it was on the scale too: 'bone and all', 'bone in'."""
    line = message.line
    if pack()["and_all"].end(line.plain, n) is not None:
        return True
    behind = line.tokens[n + 1 : n + 2]
    return line.text(n) in pack()["in_or_on"] and (not behind or behind[0].kind in ("sign", "newline", "number"))


def _says_leavings(message: Message, stretch: Sequence[Chunk]) -> bool:
    leavings = pack()["leavings"]
    return any(leavings.end(message.line.plain, c.start) is not None for c in stretch)
