"""Frames for opening a batch: a word of cooking, a dish or a name, and the ingredients, in any order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from bot.language.batch_meanings import OpenBatch
from bot.language.chunks import Chunk
from bot.language.frames.cooked_too import CameOut, came_out, fits
from bot.language.frames.pot_bodies import body_at, is_whole, weighs
from bot.language.frames.pot_contents import LEAST_RAW_G, grams_in, is_cooked_first, is_of_food, nobody_eats, told_in
from bot.language.frames.pot_names import STOPS, first_food, given_name, is_named_dish, name_in, name_of_batch
from bot.language.frames.spans import Span, is_one, outside, spans
from bot.language.frames.stretch import grams_of
from bot.language.frames.vessels import vessel_told
from bot.language.intents.openings import MOST_NAMED, opening
from bot.language.meanings import Meaning, NotMine, Unclear
from bot.language.message import Message, once
from bot.language.name_tables import lemmas_of
from bot.language.pack import Wording, pack, plain
from bot.language.portion_meanings import CountPieces
from bot.language.scene import Scene
from bot.language.stance import how_it_is_said, not_mine, planned, shopping
from bot.language.text import singular, tokenise
from bot.language.told import BatchRef, Item
from bot.language.waste import wastes_found
from domain.foods import State

LEAST_G = 200.0
"""What goes into a pot that surely begins, at least."""
LEAST_UNSURE_G = 500.0
"""What goes in at least where only a dish or a vessel says that a pot begins."""
MORE_THAN_ONE_EATS_G = 700.0
"""What goes in at least where hardly anything says that a pot begins: more than one meal."""
LEAST_PARTS = 3
"""Ingredients from which on what is made for a meal is no plate."""
MOST_CHUNKS = 160
"""Chunks of a message that can be one pot's; what is longer is a story or a list."""
MOST_BEGUN = 14
"""Chunks of a message that only says that a pot is begun."""
MOST_BEFORE_OCCASION = 5
"""Tokens between 'for' and the occasion ('for the big village bake sale')."""
BEGIN = ("pot_begins", "pot_may_begin", "on_the_fire", "cooking_vessel", "call_it", "nobody_or_not")
"""Concepts of which one, or a colon, is in whatever announces a pot."""


@dataclass(frozen=True)
class _Pot:
    """What a message says about a new batch, apart from the phrases that announce it."""

    rest: Message
    """The message without these phrases."""
    called: str
    """The name that is given explicitly."""
    sure: bool
    maybe: bool
    listed: bool
    """Whether it is written as a dish, a colon and the ingredients."""
    vessel: bool
    taken: tuple[Span, ...]
    message: Message
    """All of it."""

    @property
    def announced(self) -> bool:
        """Whether any word or mark says that a pot begins."""
        return self.sure or self.maybe or self.vessel or self.listed


def opened(scene: Scene) -> list[Meaning] | None:
    """'curry on the second ring! 500 g red lentils dry, …', 'starting a pot of chili two pounds of ground beef raw'."""
    message = scene.message
    if len(message.chunks) > MOST_CHUNKS or message.asks or message.of("hash", "energy", "macro"):
        return None
    vessel = vessel_told(message)
    if vessel is None:
        return _opened(scene)
    tare, rest = vessel
    pot = _opened(Scene(rest))
    return [tare, *pot] if pot is not None and isinstance(pot[0], OpenBatch) else None


def _opened(scene: Scene) -> list[Meaning] | None:
    """The batch that opens, read without what its vessel weighs."""
    message = scene.message
    if _is_planned(scene):
        return [NotMine(why="plan")]
    if scene.cue("i_ate", "condition", "repair", "start_over"):
        return None
    of_a_meal = bool(message.when.meal or message.when.future)
    if of_a_meal and not _is_cooked_for_it(scene):
        return None
    if len(scene.amounts) < 2 and message.line.plain.said.isdisjoint(BEGIN) and not message.has(":"):
        return None
    if len(scene.foods) == 1 and any(c.kind == "part" for c in wastes_found(message)):
        return None  # 'pear, 171 g, core of 18 g not eaten'
    if scene.cue("nothing_in_it") or (len(scene.masses) == 1 and scene.cue("done", "weighing_now")):
        return None
    pot = _pot(message)
    if of_a_meal and not (pot.sure or pot.maybe or pot.vessel):
        return None
    at = body_at(pot.rest, pot.taken)
    if at is not None and (pot.sure or pot.maybe) and _is_cooked_by_others(pot):
        return [NotMine(why="others")]
    by_head = None if _named_behind(message) else opening(message)
    if by_head is not None and (at is None or not (is_muddled(by_head, pot.called) or planned(message))):
        return None  # one of the usual heads
    if at is None:
        return _only_begun(scene, pot) if pot.announced else None
    return _filled(pot, at)


def _is_planned(scene: Scene) -> bool:
    """Whether it is cooked later: 'meal prep tonight, 2 kg chook', 'for dinner tomorrow chicken casserole, 900 g …'."""
    message = scene.message
    if scene.cue("cooks_by_the_pot") and scene.cue("later_on") and not message.of("state"):
        return True
    day = message.when.day
    if scene.cue("am_cooking") and day not in (None, message.around.today) and not scene.cue("i_ate"):
        return True
    if (
        not message.when.future
        or day is None
        or day <= message.around.today
        or scene.cue("i_ate", "ate", "has_gone_in")
    ):
        return False
    pot = _pot(message)
    at = body_at(pot.rest, pot.taken)
    said = [plain(word) for word in (pot.called or ("" if at is None else name_in(pot.rest.part(0, at)))).split()]
    dish = pack()["dish"].found(said) or is_named_dish(message, said)
    return at is not None and (pot.sure or dish)


def _is_cooked_for_it(scene: Scene) -> bool:
    """'tonight it's bolognese, 600 g raw mince browning': so much is raw that the meal is only being cooked."""
    message = scene.message
    raw = any(c.state is State.RAW for c in message.of("state")) and message.when.day in (None, message.around.today)
    made = len(scene.masses) >= LEAST_PARTS and scene.cue("pot_begins", "pot_may_begin") and not message.when.future
    enough = sum(map(grams_of, scene.masses)) >= LEAST_UNSURE_G
    return (raw or made) and enough and not scene.cue("portioned", "i_ate", "was_eaten")


def is_muddled(by_head: Sequence[Meaning], called: str) -> bool:
    """Whether a batch opened by its head was not told as 'name: ingredients': words of announcing are in its name."""
    opened = by_head[0]
    if not isinstance(opened, OpenBatch):
        return False
    if called and opened.name is not None and opened.name.lower() != called and called in opened.name.lower():
        return True
    said = Wording(plain(token.text) for token in tokenise(opened.name or ""))
    if opened.name is None or any(i.name is None or i.amount is None or i.tare for i in opened.items):
        return bool(opened.items)
    announcing = ("pot_begins", "pot_may_begin", "goes_in", "in_the_pot", "time_of_batch", "call_it", "naming")
    return any(word in STOPS for word in said) or any(pack()[name].found(said) for name in announcing)


def _filled(pot: _Pot, at: int) -> list[Meaning] | None:
    """A pot whose ingredients begin at that chunk, with what came out of it where that is told too."""
    head, body = pot.rest.part(0, at), pot.rest.part(at, len(pot.rest.chunks))
    ended = came_out(body)
    if ended is None and not pot.announced:
        return None
    if pot.listed and _of_a_recipe(head):
        return [NotMine(why="shopping")]
    if pot.sure and planned(pot.rest) and not pot.message.has_any(pot.message.words.eating):
        return [NotMine(why="plan")]
    portioned = pack()["portioned"].found((body if pot.called else pot.rest).wording)
    if portioned or _somebody_elses(pot.message, pot):
        return None
    head_name = name_in(head)
    name = pot.called or head_name
    told = told_in(body if ended is None else ended[0], first_food(head, name) or head_name)
    if told and pot.sure and not any(is_of_food(item) for item in told):
        return [Unclear(text=pot.message.text)]  # 'a new batch of laptops, 500 of them'
    if told is not None and not name and (pot.sure or pack()["into_heat"].found(pot.message.wording)):
        name = _main_raw(told)
    if told is None or not _enough(told, pot if ended is None else replace(pot, maybe=True), name):
        return None
    opened = OpenBatch(name=name or None, items=tuple(told))
    return [opened] if ended is None else _with_its_end(opened, ended[1], pot)


def announced_list(message: Message) -> list[Meaning] | None:
    """The batch of a message in which words for a pot, its name and a list are all there is; None if more is said."""
    pot = _pot(message)
    at = body_at(pot.rest, pot.taken)
    return None if at is None or not is_whole(pot.rest.part(at, len(pot.rest.chunks))) else _filled(pot, at)


def _main_raw(told: Sequence[Item]) -> str:
    """What is called for the one raw food of which there is enough to cook; empty if none or several are."""
    raw = [i for i in told if i.state == State.RAW and i.amount is not None and grams_in(i) >= LEAST_RAW_G]
    return raw[0].name.text if len(raw) == 1 and raw[0].name is not None else ""


def _with_its_end(opened: OpenBatch, out: CameOut, pot: _Pot) -> list[Meaning] | None:
    """The pot with its cooked weight and pieces; None where these cannot be of it."""
    raw_g = sum(grams_in(i) for i in opened.items if i.amount is not None)
    if not fits(out, raw_g) or (out.adds_up(raw_g) and not pot.announced):
        return None
    if out.pieces is None:
        return [replace(opened, cooked=out.weight)]
    return [opened, CountPieces(batch=BatchRef(), pieces=out.pieces, word=out.piece, amount=out.weight)]


def name_of_pot(message: Message) -> str:
    """The dish that is named before the ingredients of a list; empty where none is."""
    pot = _pot(message)
    at = body_at(pot.rest, pot.taken)
    return pot.called or ("" if at is None else name_in(pot.rest.part(0, at)))


def told_ingredients(message: Message) -> list[Item]:
    """The ingredients of a list, without what announces it; none where it says something else."""
    pot = _pot(message)
    at = body_at(pot.rest, pot.taken)
    if at is None or _somebody_elses(message, pot):
        return []
    return told_in(pot.rest.part(at, len(pot.rest.chunks)), name_in(pot.rest.part(0, at))) or []


def is_anothers(message: Message) -> bool:
    """Whether somebody else cooks what is listed, and the writer, who may keep the books of it, is not spoken of."""
    said = message.line.plain
    writer = any(said[n] in pack()["i_or_we"] for c in message.of("word") for n in range(c.start, c.end))
    return not writer and _somebody_elses(message, _pot(message))


def _of_a_recipe(head: Message) -> bool:
    """Whether the ingredients that follow are only read out or bought: 'chicken curry recipe: …'."""
    head = outside(head, _occasions(head))
    return any(word in head.words.shopping and word not in pack()["dish"] for word in head.said)


def _occasions(message: Message) -> list[Span]:
    """'for the bake sale', 'for saturdays school fair': what is cooked for it is not bought there."""
    line, found = message.line, list[Span]()
    held = {n for c in message.of("food", "amount", "batch") for n in range(c.start, c.end)}
    for chunk in message.of("word"):
        if plain(chunk.text.lower()) not in pack()["for_whom"]:
            continue
        for at in range(chunk.end + 1, chunk.end + MOST_BEFORE_OCCASION):
            end = pack()["occasion"].end(line.plain, at)
            if end is not None and held.isdisjoint(range(chunk.start, end)):
                found.append(Span(chunk.start, end))
                break
    return found


def _only_begun(scene: Scene, pot: _Pot) -> list[Meaning] | None:
    """'pot of leek soup on, weights to follow': a dish without ingredients so far."""
    message = scene.message
    if not pot.sure or message.when.future or len(message.chunks) > MOST_BEGUN or scene.cue("pot_over"):
        return None
    if any(c.amount is not None and not is_one(c.amount) for c in message.chunks) or _somebody_elses(message, pot):
        return None
    name = pot.called or name_in(pot.rest)
    said = [plain(word) for word in name.split()]
    dish = pack()["dish"].found(said[-1:]) or pack()["dish"].found(said[-2:])
    standing = any(lemmas_of(b.name) == lemmas_of(name) for b in message.around.batches)
    return [OpenBatch(name=name, items=())] if name and (dish or pot.called) and not standing else None


@once
def _pot(message: Message) -> _Pot:
    name, named = given_name(message)
    if not name:
        name, named = name_of_batch(message)
    uneaten = nobody_eats(message)
    rest = outside(message, (*named, *uneaten))
    sure = [span for span in spans(rest, "pot_begins") if not _denied(message, span)]
    maybe = [*spans(outside(rest, sure), "pot_may_begin", "being_cooked"), *_on_its_own(rest)]
    maybe = [span for span in maybe if not _denied(message, span)]
    vessels = spans(outside(rest, (*sure, *maybe)), "cooking_vessel")
    dishes = [span for span in vessels if _is_dish_of(rest, span)]
    vessels = [span for span in vessels if span not in dishes]
    aside = spans(outside(rest, (*sure, *maybe)), "goes_in", "time_of_batch")
    taken = (*named, *uneaten, *sure, *maybe, *vessels, *aside)
    kept = outside(rest, taken)
    named_again = [
        c for a, c in pairwise(kept.chunks) if name and a.text.lower() in pack()["for_whom"] and c.text.lower() == name
    ]
    loose = [c for c in kept.chunks if c.kind == "moment" or (c.kind == "tare") or (c.kind == "batch" and c.field)]
    return _Pot(
        message=message,
        rest=kept.without((*loose, *named_again)),
        called=name,
        sure=bool(sure or name or uneaten),
        maybe=bool(maybe),
        listed=any(c.text == ":" for c in message.chunks[:MOST_NAMED]),
        vessel=bool(vessels or dishes)
        or any(pack()["pot"].found(message.line.plain[s.start : s.end]) for s in (*sure, *maybe)),
        taken=(*taken, *(Span(c.start, c.end) for c in loose)),
    )


def _is_dish_of(message: Message, span: Span) -> bool:
    """Whether words for a vessel are a dish behind its food: 'chicken tray bake'."""
    food = any(c.kind == "food" and c.end == span.start for c in message.chunks)
    return food and pack()["dish"].found(message.line.plain[span.start : span.end])


def _denied(message: Message, span: Span) -> bool:
    """Whether the part of the sentence with a cue denies it: 'meal prep did NOT happen'."""
    part: list[Chunk] = []
    for chunk in message.chunks:
        if chunk.text in STOPS or chunk.kind == "newline":
            if chunk.start >= span.end:
                break
            part = []
        part.append(chunk)
    said = [plain(c.text.lower()) for c in part]
    return any(c.text.lower() in message.words.negations for c in part) or pack()["came_to_nothing"].found(said)


def _named_behind(message: Message) -> bool:
    """Whether a name is given explicitly after the ingredients."""
    first = next((c.start for c in message.chunks if weighs(c)), None)
    _, named = given_name(message)
    return first is not None and any(span.start > first for span in named)


def _on_its_own(message: Message) -> list[Span]:
    """'mince on.': the words that end an announcement, right before punctuation or the end."""
    found: list[Span] = []
    for n, chunk in enumerate(message.chunks):
        after = message.chunks[n + 1] if n + 1 < len(message.chunks) else None
        ends = (
            after is None
            or after.text in STOPS
            or after.kind == "newline"
            or after.text.lower() in pack()["along_with"]
        )
        if n and ends and plain(chunk.text.lower()) in pack()["on_the_fire"]:
            found.append(Span(chunk.start, chunk.end))
    return found


def _enough(told: Sequence[Item], pot: _Pot, name: str) -> bool:
    """Whether more goes in than one plate holds, and the wording makes clear that it is being cooked."""
    weighed = [i for i in told if i.amount is not None]
    grams = sum(grams_in(i) for i in weighed)
    said = [plain(word) for word in name.split()]
    dish = pack()["dish"].found(said) or is_named_dish(pot.message, said)
    cooking = pot.sure or pot.vessel or (pot.maybe and dish)
    raw = any(i.state == State.RAW or (cooking and i.state is None and is_cooked_first(i)) for i in told)
    if not weighed:
        return False
    if pot.sure and (name or pot.vessel or (raw and grams >= MORE_THAN_ONE_EATS_G)):
        return grams >= LEAST_G
    least = LEAST_UNSURE_G if pot.maybe or pot.vessel else MORE_THAN_ONE_EATS_G
    least = LEAST_G if pot.maybe and raw and dish else least
    if not name or grams < least:
        return False
    return (raw or dish) if len(weighed) > 1 else raw and (dish or pot.listed) and (pot.maybe or pot.vessel)


def _is_cooked_by_others(pot: _Pot) -> bool:
    """'my mum is doing a batch of scones: …': who does what announces a pot is somebody else."""
    line, first = pot.message.line, pot.message.chunks[0].start
    for span in pot.taken:
        at = span.start - 1
        if at > first and line.plain[at] in pack()["being"] and singular(line.text(at - 1)) in line.words.people:
            return True
    return False


def _somebody_elses(message: Message, pot: _Pot) -> bool:
    """Whether somebody else cooks it, or it is only a plan, a recipe or a habit."""
    line, begins = message.line, {span.start for span in pot.taken}
    before = [line.text(at - 1).removesuffix("'s") for at in begins if at > message.chunks[0].start]
    if any(singular(word) in message.words.people or word in message.words.pronouns for word in before):
        return True
    if _is_cooked_by_others(pot):
        return True
    rest = outside(pot.rest, _occasions(pot.rest))
    if how_it_is_said(rest) is not None or planned(rest):
        return True
    bought = [w for w in rest.said if w in message.words.shopping and w not in pack()["dish"]]
    if shopping(rest) and (bought or rest.of("price")):
        return True
    refused = not_mine(rest)
    return refused is not None and refused.why == "others"
