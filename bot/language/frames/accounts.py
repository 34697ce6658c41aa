"""The account of a meal: who had how much of each pot and of what was eaten with it, by clause and part in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.chunks import Chunk
from bot.language.frames.boxing import fills
from bot.language.frames.by_clause import by_clause, clauses_of, parts_of
from bot.language.frames.dealing import all_of, boxes_said, is_of_a_vessel, pieces_said, stands_there
from bot.language.frames.parts_played import Clause
from bot.language.frames.serving import LEAST_G, Serving, core, seen
from bot.language.frames.stretch import as_mass, grams_of
from bot.language.frames.takers import Quantity, Taker, quantities_of
from bot.language.frames.taking import may_be_another
from bot.language.items import items
from bot.language.meanings import Meaning, NotMine
from bot.language.message import Message, once
from bot.language.pack import pack
from bot.language.scene import Scene
from bot.language.stance import how_it_is_said
from bot.language.surroundings import KnownBatch
from bot.language.told import BatchRef, Item, When

MOST_CHUNKS = 60
Pot = tuple[BatchRef, KnownBatch]


def accounts(scene: Scene) -> list[Meaning] | None:
    """'14 oz of that chili has gone into my spouse', "4 rotis and 320 g of the dal went on Dan's plate"."""
    found = _account(scene.message)
    if found is None:
        return None
    told_of_me = all(taker.end > taker.start for taker in found[1] if taker.whose == "mine")
    sides = {taker.whose for taker in found[1]}
    if "theirs" in sides and "mine" in sides and not scene.amounts and scene.cue("gave_away"):
        return None  # 'what was left of it, all of it, I gave to Teresa'
    return None if sides <= {"mine"} or ("stays" in sides and not told_of_me) else found[0]


def my_portion(scene: Scene) -> list[Meaning] | None:
    """'Of the leek soup, which has improved, I ladled out 265 g for myself', 'for me one of the lasagne pieces'."""
    told = seen(scene.message)
    if told.cue("equally", "pieces_made", "dividing_up") or may_be_another(told):
        return None
    found = _account(scene.message)
    if found is None or told.message.asks:
        return None  # 'say I take 200 g dal, what does that leave'
    mine = all(t.whose == "mine" and t.end > t.start for t in found[1])
    return found[0] if mine else None


@once
def _account(message: Message) -> tuple[list[Meaning], list[Taker]] | None:
    """What became of each quantity, and who had it; None where that is not told of each."""
    if not message.around.batches or len(message.chunks) > MOST_CHUNKS:
        return None
    told = seen(_without_asides(core(message)))
    if not told.at or told.message.of("hash", "energy", "macro", "price", "tare") or _unreal(told):
        return None
    pots = [pot for _, pot in _pots(told)]
    if not pots or len(pots) < len(told.scene.named):
        return None
    numbers = [c for c in told.numbers if not is_of_a_vessel(told, c)]
    pieces = {c for _, b in pots for c in (*pieces_said(told, b), *boxes_said(told, b))}
    numbers = sorted({*numbers, *pieces}, key=lambda c: c.start)
    numbers = [c for c in numbers if not any(stands_there(told, c, b) for _, b in pots)]
    part = _part_of_mine(told, numbers, pots)
    if part is not None:
        return part
    shared = by_clause(told, numbers)
    if not shared or all(taker.whose == "stays" for _, taker in shared):
        return None
    clauses = clauses_of(told, quantities_of(told, numbers))
    meant: list[Meaning] = []
    for quantity, taker in sorted(shared, key=lambda pair: pair[0].chunk is None):
        found = _of_one(told, clauses, quantity, taker)
        if found is None:
            return None
        meant.extend(found)
    return meant, [taker for _, taker in shared]


def _part_of_mine(
    told: Serving, numbers: Sequence[Chunk], pots: Sequence[Pot]
) -> tuple[list[Meaning], list[Taker]] | None:
    """'took dal for work, 260, a colleague pinched 60 of that': what others had of the writer's own portion."""
    parts = parts_of(told, numbers)
    if parts is None or parts.whole is None or not parts.theirs or parts.mine or len({b.number for _, b in pots}) != 1:
        return None
    amounts = [q.chunk.amount for q in (parts.whole, *parts.theirs) if q.chunk is not None]
    masses = [as_mass(a, None) for a in amounts if a is not None and a.kind in ("mass", "bare") and a.value >= LEAST_G]
    if len(masses) != len(parts.theirs) + 1 or told.scene.foods:
        return None
    gone = sum(grams_of(mass) for mass in masses[1:])
    if not 0 < gone < grams_of(masses[0]):
        return None
    item = Item(text=told.message.text, amount=masses[0], batch=pots[0][0], others_g=gone, when=told.when)
    return [item], [Taker("mine", parts.whole.start, parts.whole.end), Taker("theirs", 0, 1)]


def theirs_alone(scene: Scene) -> list[Meaning] | None:
    """'my sister came and had 200 g cooked rice': all that is told of food went to others."""
    told = seen(scene.message)
    if not told.at or not scene.foods or scene.named or len(scene.message.chunks) > MOST_CHUNKS or told.unreal:
        return None
    if told.person is None or told.message.of("hash", "energy", "macro", "price", "tare"):
        return None
    if told.cue("negation", "no_person", "halving", "shared_out"):
        return None
    quantities = quantities_of(told, told.numbers)
    clauses = clauses_of(told, quantities)
    mine = any(p.mine and p.role != "none" for c in clauses for p in c.people)
    shared = None if mine or any(c.makes for c in clauses) else by_clause(told, told.numbers)
    sure = all(t.whose == "theirs" and _are_people(told, t) for _, t in shared or ())
    acts = all(c.verbs or c.side is None for c in clauses if c.quantities)
    return [NotMine(why="others")] if shared and sure and acts else None


def _are_people(told: Serving, taker: Taker) -> bool:
    """Whether a word for people stands there, and not only one that may be a name."""
    return any(told.is_called_one(n) or told.is_kind_of_person(n) for n in range(taker.start, taker.end))


def _of_one(told: Serving, clauses: Sequence[Clause], quantity: Quantity, taker: Taker) -> list[Meaning] | None:
    """What becomes of one quantity; None if it is not said what it is of."""
    n = next(i for i, c in enumerate(clauses) if quantity in c.quantities)
    clause = clauses[n]
    foods = [c for c in told.scene.foods if clause.start <= c.start < clause.end]
    pot = _pot_of(told, clauses, n, quantity)
    if foods and not _names_a_pot(told, clause):
        if taker.whose != "mine":
            return [NotMine(why="others")]
        part = told.message.between(clause.start, clause.end)
        here = items(part) if part is not None else []
        if not here or any(item.name is None or item.amount is None for item in here):
            return None
        return [item if item.when != When() else replace(item, when=told.when) for item in here]
    if foods or pot is None:
        return None
    ref, batch = pot
    if taker.whose == "stays" and not batch.boxes:
        return []
    return all_of(told, [(quantity, taker)], ref, batch, None)


def _pots(told: Serving) -> list[tuple[int, Pot]]:
    """The pots named, each with the token where, as far as only one can be meant."""
    found: list[tuple[int, Pot]] = []
    for ref, start, _ in told.scene.named:
        one = told.ref if told.ref is not None else ref
        batch = told.known(one)
        if batch is not None and batch.cooked:
            found.append((start, (one, batch)))
    only = told.only_boxed
    if only is not None and told.boxes and not (told.scene.named or told.scene.foods):
        found.append((told.at[0], (BatchRef(candidates=(only.number,)), only)))
    return found


def _names_a_pot(told: Serving, clause: Clause) -> bool:
    return any(clause.start <= start < clause.end for start, _ in _pots(told))


def _pot_of(told: Serving, clauses: Sequence[Clause], n: int, quantity: Quantity) -> Pot | None:
    """The pot that a quantity is of: named in its clause, else the last one before, else the first one behind."""
    pots = _pots(told)
    here = [(start, pot) for start, pot in pots if clauses[n].start <= start < clauses[n].end]
    behind = [pot for start, pot in here if start >= quantity.end]
    if here:
        return behind[0] if behind else here[-1][1]
    before = [pot for start, pot in pots if start < clauses[n].start]
    after = [pot for start, pot in pots if start >= clauses[n].end]
    if before:
        last = max(start for start, _ in pots if start < clauses[n].start)
        foods = [c for c in told.scene.foods if last < c.start < clauses[n].start]
        return None if foods else before[-1]
    return after[0] if after else None


def _without_asides(message: Message) -> Message:
    """The message without clauses that only say when, why or what came of it ('before I could stop her')."""
    told = seen(message)
    if not told.at:
        return message
    clauses = clauses_of(told, quantities_of(told, told.numbers))
    asides = [c for c in clauses if c.opened in pack()["opens_an_aside"] and not _bears(told, c)]
    gone = {n for c in asides for n in range(c.start, c.end)}
    kept = [c for c in message.chunks if c.start not in gone]
    return message.without(c for c in message.chunks if c.start in gone) if gone and kept else message


def _bears(told: Serving, clause: Clause) -> bool:
    """Whether a clause tells of an amount, a food, a pot or a box."""
    at = range(clause.start, clause.end)
    named = any(start in at for _, start, _ in told.scene.named) or any(c.start in at for c in told.scene.foods)
    return bool(clause.quantities) or named or any(box.start in at for box in told.boxes)


def _unreal(told: Serving) -> bool:
    """Whether it asks, plans, supposes or denies what was eaten, or tells of boxes that were filled."""
    if told.others_own or (told.boxes and told.shares) or (fills(told) and not told.cue("gave_it", "took_it")):
        return True
    if told.not_yet or how_it_is_said(told.message) is not None or told.cue("not_yet_had", "condition", "halving"):
        return True
    return told.cue("negation", "left_by_others", "shared_out")
