"""Frames for several quantities in one breath: others' parts of several batches, and helpings one by one."""

from __future__ import annotations

from dataclasses import replace

from bot.language.chunks import Chunk
from bot.language.frames.giving import leaves, what_left
from bot.language.frames.serving import FITS, LEAST_G, Serving, core, seen
from bot.language.frames.stretch import as_mass, cut_at, grams_of
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.scene import Scene
from bot.language.told import Item

MOST_PARTS = 4
MOST_CHUNKS = 40
MOST_HELPINGS = 4
TWICE = 2


def gone_from_several(scene: Scene) -> list[Meaning] | None:
    """'Raj's plate was 3 rotis with 250 g of the dal', 'Dan had 4 rotis and he's cleared the last of the dal'."""
    if len(scene.named) < 2 or len(scene.message.chunks) > MOST_CHUNKS:
        return None
    message = core(scene.message)
    told = seen(message)
    if told.scene.foods or told.person is None or told.unreal or told.mine or told.others_own or not leaves(told):
        return None
    if told.message.of("hash", "energy", "macro", "price", "tare") or told.cue("not_yet_had", "condition", "negation"):
        return None
    parts = _of_one_batch_each(message)
    if not 1 < len(parts) <= MOST_PARTS:
        return None
    meant: list[Meaning] = []
    taken: set[int] = set()
    for part in parts:
        here = seen(part)
        batch = None if here.ref is None else here.known(here.ref)
        if here.ref is None or batch is None or not batch.cooked or batch.number in taken:
            return None
        if here.person is not None and told.who and here.who and here.who != told.who:
            return None
        one = what_left(here, here.ref, batch, told.who)
        if one is None:
            return None
        taken.add(batch.number)
        meant.append(one)
    return meant


def _of_one_batch_each(message: Message) -> list[Message]:
    """The parts of the message; one without both a batch and a quantity is joined to the one behind or before it."""
    joined: list[list[Chunk]] = []
    for part in cut_at(message, pack()["between_eaters"]):
        here = seen(part)
        whole = bool(here.scene.named) and bool(here.numbers or here.rest)
        before = seen(replace(message, chunks=tuple(joined[-1]))) if joined else None
        open_before = before is not None and not (before.scene.named and (before.numbers or before.rest))
        if joined and (not whole or open_before):
            joined[-1].extend(part.chunks)
        else:
            joined.append(list(part.chunks))
    return [replace(message, chunks=tuple(chunks)) for chunks in joined]


def taken_twice(scene: Scene) -> list[Meaning] | None:
    """'helped myself to the dal twice, 200 g and then 120 g', 'the soup two times, first 280 g and again 150 g'."""
    message = scene.message
    if not scene.named or scene.foods or scene.asks or len(message.chunks) > MOST_CHUNKS:
        return None
    told = seen(message)
    batch = None if told.ref is None else told.known(told.ref)
    if told.ref is None or batch is None or not batch.cooked or told.unreal or told.person is not None:
        return None
    if told.cue("contrasts", "told_wrong", "condition", "negation", "not_to_me", "came_to_grief", "dividing_up"):
        return None
    weights = [c for c in told.weights if c.amount is not None and grams_of(c.amount) >= LEAST_G]
    times = [c for c in told.scene.amounts if c not in weights]
    if not 1 < len(weights) <= MOST_HELPINGS or not all(_counts(told, c, len(weights)) for c in times):
        return None
    again = any(told.word(n) in pack()["more_of_it"] for n in range(weights[0].end, weights[-1].start))
    said = bool(times) or (len(weights) == TWICE and told.cue("twice")) or (again and told.cue("i_ate", "portioned"))
    if not said or sum(grams_of(c.amount) for c in weights if c.amount) > FITS * (batch.left_g or 0.0):
        return None
    return [
        Item(text=message.text, amount=as_mass(c.amount), batch=told.ref, when=told.when)
        for c in weights
        if c.amount is not None
    ]


def _counts(told: Serving, chunk: Chunk, helpings: int) -> bool:
    """'two times', 'three trips': whether a number counts the helpings."""
    amount = chunk.amount
    return amount is not None and amount.value == helpings and not amount.unit
