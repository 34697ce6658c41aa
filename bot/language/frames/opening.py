"""Frames for opening a batch: a word of cooking, a dish or a name, and the ingredients, in any order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from bot.language.batch_meanings import OpenBatch
from bot.language.chunks import Chunk
from bot.language.frames.spans import Span, is_one, outside, spans
from bot.language.frames.vessels import vessel_told
from bot.language.intents.ingredients import in_grams
from bot.language.intents.openings import MOST_NAMED, opening
from bot.language.items import items
from bot.language.meanings import Meaning, NotMine
from bot.language.message import Message, once
from bot.language.name_tables import lemmas_of
from bot.language.pack import pack, plain
from bot.language.scene import Scene
from bot.language.stance import how_it_is_said, not_mine, planned, shopping
from bot.language.text import singular
from bot.language.told import Item, Name
from domain.foods import State

LEAST_G = 200.0
"""What goes into a pot that surely begins, at least."""
LEAST_UNSURE_G = 500.0
"""What goes in at least where only a dish or a vessel says that a pot begins."""
LEAST_RAW_G = 350.0
"""The same of a dish of which something is told raw."""
MORE_THAN_ONE_EATS_G = 700.0
"""What goes in at least where hardly anything says that a pot begins: more than one meal."""
MOST_NAME_WORDS = 4
MOST_CHUNKS = 160
"""Chunks of a message that can be one pot's; what is longer is a story or a list."""
MOST_BEGUN = 14
"""Chunks of a message that only says that a pot is begun."""
MOST_BARE_COUNT = 12
"""Up to this a number by itself may be a count of pieces."""
BEGIN = ("pot_begins", "pot_may_begin", "on_the_fire", "cooking_vessel", "call_it")
"""Concepts of which one, or a colon, is in whatever announces a pot."""
STOPS = frozenset({",", ".", ":", ";", "!", "-", "(", ")", "="})


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
    if scene.cue("cooks_by_the_pot") and scene.cue("later_on") and not message.of("state"):
        return [NotMine(why="plan")]
    if scene.cue("am_cooking") and message.when.day not in (None, message.around.today) and not scene.cue("i_ate"):
        return [NotMine(why="plan")]
    if message.when.meal or message.when.future or scene.cue("i_ate", "condition", "repair", "start_over"):
        return None
    if message.line.plain.said.isdisjoint(BEGIN) and not message.has(":"):
        return None
    if opening(message) is not None and not _named_behind(message):
        return None  # one of the usual heads
    if scene.cue("nothing_in_it") or (len(scene.masses) == 1 and scene.cue("done", "weighing_now")):
        return None
    pot = _pot(message)
    if not (pot.sure or pot.maybe or pot.vessel or pot.listed):
        return None
    at = _body_at(pot.rest, pot.taken)
    if at is None:
        return _only_begun(scene, pot)
    if pot.listed and _of_a_recipe(pot.rest.part(0, at)):
        return [NotMine(why="shopping")]
    head, body = pot.rest.part(0, at), pot.rest.part(at, len(pot.rest.chunks))
    if _somebody_elses(message, pot) or pack()["portioned"].found(pot.rest.wording):
        return None
    head_name = _name_in(head)
    name = pot.called or head_name
    told = _told(body, head_name)
    if told is None or not _enough(told, pot, name):
        return None
    return [OpenBatch(name=name or None, items=tuple(told))]


def name_of_pot(message: Message) -> str:
    """The dish that is named before the ingredients of a list; empty where none is."""
    pot = _pot(message)
    at = _body_at(pot.rest, pot.taken)
    return pot.called or ("" if at is None else _name_in(pot.rest.part(0, at)))


def told_ingredients(message: Message) -> list[Item]:
    """The ingredients of a list, without what announces it; none where it says something else."""
    pot = _pot(message)
    at = _body_at(pot.rest, pot.taken)
    if at is None or _somebody_elses(message, pot):
        return []
    return _told(pot.rest.part(at, len(pot.rest.chunks)), _name_in(pot.rest.part(0, at))) or []


def put_to_cook(scene: Scene) -> list[Meaning] | None:
    """'chicken thighs, bone in, 520g raw on the tray. roasting them': what is being cooked is not yet eaten."""
    message = scene.message
    if message.asks or message.when.future or message.when.meal or scene.named or message.of("hash", "energy", "macro"):
        return None
    if not scene.cue("being_cooked") or scene.cue("i_ate", "condition", "portioned") or len(scene.masses) != 1:
        return None
    told = [i for i in items(message) if i.name is not None and i.amount is not None]
    raw = [i for i in told if i.state == State.RAW and _grams(i) >= LEAST_RAW_G]
    refused = not_mine(message)
    if len(told) != 1 or len(raw) != 1 or (refused is not None and refused.why == "others"):
        return None
    name = raw[0].name
    assert name is not None
    return [OpenBatch(name=name.text, items=(raw[0],))]


def _of_a_recipe(head: Message) -> bool:
    """Whether the ingredients that follow are only read out or bought: 'chicken curry recipe: …'."""
    return any(word in head.words.shopping and word not in pack()["dish"] for word in head.said)


def _only_begun(scene: Scene, pot: _Pot) -> list[Meaning] | None:
    """'pot of leek soup on, weights to follow': a dish without ingredients so far."""
    message = scene.message
    if not pot.sure or message.when.future or len(message.chunks) > MOST_BEGUN or scene.cue("pot_over"):
        return None
    if any(c.amount is not None and not is_one(c.amount) for c in message.chunks) or _somebody_elses(message, pot):
        return None
    name = pot.called or _name_in(pot.rest)
    said = [plain(word) for word in name.split()]
    dish = pack()["dish"].found(said[-1:]) or pack()["dish"].found(said[-2:])
    standing = any(lemmas_of(b.name) == lemmas_of(name) for b in message.around.batches)
    return [OpenBatch(name=name, items=())] if name and (dish or pot.called) and not standing else None


@once
def _pot(message: Message) -> _Pot:
    name, named = _given_name(message)
    rest = outside(message, named)
    sure = spans(rest, "pot_begins")
    maybe = [*spans(outside(rest, sure), "pot_may_begin"), *_on_its_own(rest)]
    vessels = spans(outside(rest, (*sure, *maybe)), "cooking_vessel")
    aside = spans(outside(rest, (*sure, *maybe)), "goes_in", "time_of_batch")
    taken = (*named, *sure, *maybe, *vessels, *aside)
    kept = outside(rest, taken)
    named_again = [
        c for a, c in pairwise(kept.chunks) if name and a.text.lower() in pack()["for_whom"] and c.text.lower() == name
    ]
    loose = [c for c in kept.chunks if c.kind == "moment" or (c.kind == "tare") or (c.kind == "batch" and c.field)]
    return _Pot(
        rest=kept.without((*loose, *named_again)),
        called=name,
        sure=bool(sure or name),
        maybe=bool(maybe),
        listed=any(c.text == ":" for c in message.chunks[:MOST_NAMED]),
        vessel=bool(vessels) or any(pack()["pot"].found(message.line.plain[s.start : s.end]) for s in (*sure, *maybe)),
        taken=(*taken, *(Span(c.start, c.end) for c in loose)),
    )


def _given_name(message: Message) -> tuple[str, list[Span]]:
    """The name that is given explicitly ('call it taco meat'), and its tokens."""
    for cue in spans(message, "call_it"):
        chunks = [c for c in message.chunks if c.start >= cue.end]
        while chunks and (chunks[0].text in (":", "=", '"') or chunks[0].text.lower() in pack()["article"]):
            chunks = chunks[1:]
        words: list[Chunk] = []
        for chunk in chunks[:MOST_NAME_WORDS]:
            if chunk.kind in ("amount", "newline", "tare") or chunk.text in STOPS:
                break
            if words and plain(chunk.text.lower()) in pack()["ends_pot_name"]:
                break
            words.append(chunk)
        if words:
            return _said(message, words), [Span(cue.start, words[-1].end)]
    return "", []


def _named_behind(message: Message) -> bool:
    """Whether a name is given explicitly after the ingredients."""
    first = next((c.start for c in message.chunks if _weighs(c)), None)
    _, named = _given_name(message)
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


def _body_at(rest: Message, taken: Sequence[Span]) -> int | None:
    """The index of the chunk with which the ingredients begin."""
    chunks = rest.chunks
    first = next((n for n, c in enumerate(chunks) if _weighs(c)), None)
    if first is None:
        return None
    if not _name_first(chunks, first):
        return first
    at = first
    while at and not _parts(chunks[at - 1]) and not any(s.start == chunks[at - 1].end for s in taken):
        at -= 1
    return at


def _name_first(chunks: Sequence[Chunk], amount: int) -> bool:
    """Whether each food stands before its amount: 'onions 160 g, tomatoes 220 g'."""
    behind = next((c for c in chunks[amount + 1 :] if c.kind not in ("state", "size", "whole", "noise")), None)
    if behind is None or _parts(behind):
        return True
    telling = [c for c in chunks if c.kind == "food" or _weighs(c)]
    return _weighs(telling[-1]) and behind.text.lower() not in pack()["between_foods"]


def _weighs(chunk: Chunk) -> bool:
    amount = chunk.amount
    if amount is None or is_one(amount):
        return False
    return amount.kind != "bare" or amount.value > MOST_BARE_COUNT


def _parts(chunk: Chunk) -> bool:
    return chunk.text in STOPS or chunk.kind in ("newline", "amount") or plain(chunk.text.lower()) in pack()["joining"]


def _name_in(head: Message) -> str:
    """The dish named before the ingredients; empty if there is none."""
    segments: list[list[Chunk]] = [[]]
    for chunk in head.chunks:
        if chunk.text in STOPS or chunk.kind == "newline" or (segments[-1] and segments[-1][-1].end != chunk.start):
            segments.append([])
        if chunk.text not in STOPS:
            segments[-1].append(chunk)
    return next((name for segment in segments if (name := _dish_in(head, segment))), "")


def _dish_in(head: Message, segment: Sequence[Chunk]) -> str:
    """The name in a stretch without punctuation; empty if it names nothing that is cooked."""
    if any(c.text.lower() in head.words.negations for c in segment):
        return ""
    words = list(segment)
    while words and _beside(words[0]):
        words = words[1:]
    end = next((n for n, c in enumerate(words) if n and plain(c.text.lower()) in pack()["ends_pot_name"]), len(words))
    words = words[:end]
    while words and _beside(words[-1]):
        words = words[:-1]
    tells = any(c.kind in ("food", "batch") or _of_no_list(head, c) for c in words)
    name = _said(head, words)
    said = [plain(word) for word in name.split()]
    fits = 0 < len(said) <= MOST_NAME_WORDS and not pack()["plated"].found(said)
    return name if fits and (tells or pack()["dish"].found(said)) else ""


def _beside(chunk: Chunk) -> bool:
    if chunk.amount is not None:
        return is_one(chunk.amount)
    return chunk.kind in ("word", "noise", "moment", "size") and plain(chunk.text.lower()) in pack()["beside_pot"]


def _of_no_list(message: Message, chunk: Chunk) -> bool:
    return chunk.kind == "word" and chunk.text.isalpha() and not message.words.knows(chunk.text.lower())


def _said(message: Message, chunks: Sequence[Chunk]) -> str:
    """The text of the chunks as one name, as typed, in lower case."""
    return " ".join(message.phrase([c]).removesuffix("'s") for c in chunks).strip(" \"'.")


def _told(body: Message, head_name: str) -> list[Item] | None:
    """The ingredients; None if it says something else."""
    told = [replace(i, batch=None) if i.name is not None else i for i in items(body)]
    told = [i for i in told if i.amount is not None or i.name is not None]
    if len(told) == 1 and told[0].name is None and head_name:
        told = [replace(told[0], name=body.vocabulary.resolve(head_name.split(), head_name))]
    told = [_with_its_words(item, body) for item in told]
    if any(i.name is None or i.others_g or i.shared or i.several for i in told):
        return None
    return in_grams(told)


def _with_its_words(item: Item, body: Message) -> Item:
    """An ingredient; if no known food is named, with the words beside its weight as its name."""
    if item.name is not None or item.amount is None:
        return item
    said = item.amount.text.lower().split()
    left = [w for w in item.text.lower().split() if w not in said and w not in body.words.states]
    name = " ".join(w for w in left if w.isalpha() and plain(w) not in pack()["ends_pot_name"])
    return replace(item, name=Name(text=name)) if name else item


def _enough(told: Sequence[Item], pot: _Pot, name: str) -> bool:
    """Whether more goes in than one plate holds, and the wording makes clear that it is being cooked."""
    weighed = [i for i in told if i.amount is not None]
    grams = sum(_grams(i) for i in weighed)
    raw = any(i.state == State.RAW for i in told)
    if not weighed:
        return False
    if pot.sure and (name or pot.vessel or (raw and grams >= MORE_THAN_ONE_EATS_G)):
        return grams >= LEAST_G
    said = [plain(word) for word in name.split()]
    dish = pack()["dish"].found(said)
    least = LEAST_UNSURE_G if pot.maybe or pot.vessel else MORE_THAN_ONE_EATS_G
    least = LEAST_RAW_G if pot.maybe and raw and dish else least
    if not name or grams < least:
        return False
    return (raw or dish) if len(weighed) > 1 else raw and (dish or pot.listed) and (pot.maybe or pot.vessel)


def _grams(item: Item) -> float:
    amount = item.amount
    assert amount is not None
    return amount.grams if amount.grams is not None else amount.value


def _somebody_elses(message: Message, pot: _Pot) -> bool:
    """Whether somebody else cooks it, or it is only a plan, a recipe or a habit."""
    line, begins = message.line, {span.start for span in pot.taken}
    before = [line.text(at - 1).removesuffix("'s") for at in begins if at > message.chunks[0].start]
    if any(singular(word) in message.words.people or word in message.words.pronouns for word in before):
        return True
    rest = pot.rest
    if how_it_is_said(rest) is not None or planned(rest):
        return True
    bought = [w for w in rest.said if w in message.words.shopping and w not in pack()["dish"]]
    if shopping(rest) and (bought or rest.of("price")):
        return True
    refused = not_mine(rest)
    return refused is not None and refused.why == "others"
