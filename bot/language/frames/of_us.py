"""What each at the table had of a pot, where the writer is one of them: 'soup: 3 of us, 250 g each'."""

from __future__ import annotations

from bot.language.chunks import Chunk
from bot.language.frames.heads import MOST_AT_TABLE
from bot.language.frames.serving import FITS, LEAST_G, Serving, seen
from bot.language.frames.stretch import grams_of
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.portion_meanings import ReduceBatch, TakeBoxes, WhichBoxes
from bot.language.scene import Scene, ref_of
from bot.language.told import Amount, BatchRef, Item


def each_of_us(scene: Scene) -> list[Meaning] | None:
    """'four of us, 350 g each', 'one box each for Nadia and me': the writer's part, and what the others had."""
    told = seen(scene.message)
    if scene.foods or not told.cue("each_of_them") or told.unreal or scene.cue("condition", "not_yet_had"):
        return None
    if scene.message.of("hash", "energy", "macro", "price", "tare", "part"):
        return None
    counted = next((c for c in scene.amounts if _is_of_us(told, c)), None)
    people = _of_these(told) if counted is None else int(counted.amount.value) if counted.amount is not None else 0
    rest = [c for c in scene.amounts if c is not counted]
    if not 1 < people <= MOST_AT_TABLE or len(rest) != 1 or rest[0].amount is None:
        return None
    amount, box = rest[0].amount, bool(told.boxes)
    ref = told.ref or (None if scene.named else _of_focus(told))
    batch = None if ref is None else told.known(ref)
    if ref is None or batch is None or not batch.cooked or told.may_name_more(*_persons(told)):
        return None
    if box:
        if amount.value != 1 or people > (batch.boxes or 0):
            return None
        mine = TakeBoxes(batch=ref, which=WhichBoxes(count=1), when=told.when)
        return [mine, ReduceBatch(batch=ref, amount=None, boxes=float(people - 1), why="given away")]
    grams = grams_of(amount) / (amount.times or 1)
    weighs = amount.kind == "mass" or (amount.kind == "bare" and grams >= LEAST_G)
    if not weighs or people * grams > FITS * (batch.left_g or 0.0):
        return None
    portion = Item(text=scene.message.text, amount=_mass(grams), batch=ref, when=told.when)
    return [portion, ReduceBatch(batch=ref, amount=_mass((people - 1) * grams), why="given away")]


def _is_of_us(told: Serving, chunk: Chunk) -> bool:
    """'3 of us', 'four of us'."""
    amount = chunk.amount
    whole = amount is not None and amount.kind in ("bare", "count") and amount.value == int(amount.value)
    behind = [told.word(n) for n in range(chunk.end, chunk.end + 2)]
    return whole and pack()["of_us_all"].end(behind, 0) is not None


def _persons(told: Serving) -> list[tuple[int, int]]:
    """Those who are named, in order."""
    found: list[tuple[int, int]] = []
    for n in told.at:
        if n >= (found[-1][1] if found else 0) and told.word(n) not in pack()["the_writer"] and told.is_person(n):
            found.append(told.whole_person(n))
    return found


def _of_these(told: Serving) -> int:
    """How many 'each for Nadia and me' are: those who are named and the writer; 0 where that is unclear."""
    persons = _persons(told)
    joined = pack()["on_scale_with"]
    me = any(
        told.word(n) in pack()["the_writer"] and (told.led_by(n, "on_scale_with") or told.word(n + 1) in joined)
        for n in told.at
    )
    ends = [end - 1 for _, end in persons]
    several = any(told.word(n).endswith("s") and not told.message.tokens[n].raw[:1].isupper() for n in ends)
    return len(persons) + 1 if persons and me and not several else 0


def _of_focus(told: Serving) -> BatchRef | None:
    """The pot spoken of last."""
    pots = [b for b in told.message.around.batches if b.focus and b.cooked]
    return ref_of(pots) if len(pots) == 1 else told.spoken_of


def _mass(grams: float) -> Amount:
    return Amount(kind="mass", value=grams, unit="g", grams=grams, text=f"{grams:g} g")
