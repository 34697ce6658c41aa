"""Frames for what a helping of a pot was in truth: the writer's own, or somebody else's ('oops, mum's was 140')."""

from __future__ import annotations

from bot.language.chunks import Chunk
from bot.language.frames.fix_scene import SAME_SITTING, Fix, as_new, changed
from bot.language.frames.serving import Serving, seen
from bot.language.frames.stretch import grams_of
from bot.language.meanings import Meaning, NotMine
from bot.language.pack import pack
from bot.language.portion_meanings import GiveAway, GiveBack
from bot.language.scene import Scene, ref_of
from bot.language.surroundings import KnownBatch
from bot.language.told import Amount
from domain.quantities import grams as grams_in

MOST_CHUNKS = 12
MOST_TIMES = 2.0
"""A correction is at most so many times as large or as small as what was given."""
UNITS = ("g", "oz")
"""Units that a bare number may be in, the one that fits what was given."""
MIN_CHANGE_G = 0.5


def own_helping_was(scene: Scene) -> list[Meaning] | None:
    """'wait, mine was 240': the portion just recorded, put right."""
    told = _one_helping(scene)
    if told is None or not _is_mine(told[0], told[1]):
        return None
    fix = Fix(scene, scene.message.around.recorded())
    each = fix.recorded[-1] if fix.recorded else None
    amount = told[2].amount
    if each is None or amount is None or not fix.is_recent(each, SAME_SITTING):
        return None
    grams = as_new(amount, each).grams
    fits = grams is not None and each.grams / MOST_TIMES <= grams <= each.grams * MOST_TIMES
    return [changed(each, amount, fix)] if fits else None


def anothers_was(scene: Scene) -> list[Meaning] | None:
    """'oops, mum's was 340': a helping of somebody else's, which changes what left the pot and none of the writer's."""
    told = _one_helping(scene)
    if told is None or not _is_anothers(told[0], told[1]):
        return None
    eaters, owner, weight = told
    if not _is_put_right(eaters, owner) and eaters.word(owner) in eaters.message.words.pronouns:
        return None  # 'his was 320' may be told for the first time
    assert weight.amount is not None
    given = _given(scene, weight.amount) if _is_put_right(eaters, owner) else None
    if given is None:
        return [NotMine(why="others", texts=(weight.text,))]
    pot, was, new = given
    more = new - was
    if abs(more) < MIN_CHANGE_G:
        return None
    amount = Amount(kind="mass", value=abs(more), unit="g", grams=abs(more), text=f"{abs(more):g} g")
    ref = ref_of([pot])
    if more > 0:
        return [GiveAway(batch=ref, why="given away", amount=amount, who=eaters.who)]
    return [GiveBack(batch=ref, amount=amount, alone=True)]


def _one_helping(scene: Scene) -> tuple[Serving, int, Chunk] | None:
    """The scene, the token that says whose helping it is, and its weight, where nothing else is told."""
    message, line = scene.message, scene.message.line
    if scene.foods or scene.named or message.asks or len(scene.amounts) != 1 or len(message.chunks) > MOST_CHUNKS:
        return None
    weight, told = scene.amounts[0], seen(message)
    owner = next((n for n in told.at if n < weight.start and (_is_mine(told, n) or _is_anothers(told, n))), None)
    if owner is None or weight.amount is None or weight.amount.kind not in ("mass", "bare"):
        return None
    between = line.plain[owner + 1 : weight.start]
    if not between or not all(w in pack()["came_out_at"] or w in pack()["helpings"] for w in between):
        return None
    before = [w for w in line.plain[told.at[0] : owner] if w.isalpha()]
    small = pack()["beside_disowning"], pack()["before_a_person"], pack()["repair_weak"]
    return (told, owner, weight) if all(any(w in words for words in small) for w in before) else None


def _is_mine(told: Serving, n: int) -> bool:
    own = told.word(n) in pack()["my_own"] and told.word(n + 1) in pack()["helpings"]
    return own or told.word(n) in pack()["own_one"]


def _is_anothers(told: Serving, n: int) -> bool:
    """Whether a token says that it was somebody's: "mum's", "Dan's", 'his', 'hers'."""
    if told.word(n) in pack()["theirs"]:
        return True
    return told.message.line.text(n).endswith("'s") and told.is_person(n)


def _is_put_right(told: Serving, owner: int) -> bool:
    """Whether what was told before is put right: 'oops', 'no wait', 'actually'."""
    before = told.message.line.plain[told.at[0] : owner]
    return any(pack()[name].found(before) for name in ("repair", "repair_weak"))


def _given(scene: Scene, amount: Amount) -> tuple[KnownBatch, float, float] | None:
    """Which pot somebody had it from, how much was told of it then, and how much it was; None if that is unclear."""
    pots = [b for b in scene.message.around.batches if b.spoken or b.focus]
    values = [grams_of(amount)] if amount.kind == "mass" else [grams_in(amount.value, unit) for unit in UNITS]
    fits = [(pot, was, new) for pot in pots for was in pot.given_g for new in values if _is_near(was, new)]
    return fits[0] if len({(pot.number, was) for pot, was, _ in fits}) == 1 else None


def _is_near(was: float, new: float) -> bool:
    return was / MOST_TIMES <= new <= was * MOST_TIMES
