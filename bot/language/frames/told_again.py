"""Readings of a message put right by what it says twice, or beside the point: one weight stays one weight."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.batch_meanings import AddIngredients, CookBatch, CorrectIngredient, Left
from bot.language.belongings import near_tare
from bot.language.chunks import Chunk, Kind
from bot.language.frames.filling import one_ingredient
from bot.language.frames.portions_of_pots import LEAST_PORTION_G
from bot.language.frames.spans import is_one
from bot.language.frames.stretch import as_mass, grams_of
from bot.language.intents.ingredients import in_grams
from bot.language.intents.readings import has_ingredient
from bot.language.meanings import Bare, Meaning, NotMine
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.portion_meanings import GiveAway
from bot.language.scene import Scene, ref_of
from bot.language.stance import not_mine
from bot.language.surroundings import KnownBatch
from bot.language.told import Amount, Item

TELLING = frozenset({"food", "batch", "amount", "hash", "moment", "tare"})
NOT_OF_A_POT: tuple[Kind, ...] = ("food", "batch", "hash", "energy", "macro", "price", "tare", "part")
FEW_CHUNKS = 4
MOST_HELPINGS = 6
MOST_OF_A_LINE = 10
MOST_WORDS_OF_WAS = 3
MOST_ASIDE = 8
"""Chunks of a clause that only says something of a person."""


def told_again(message: Message, meant: Sequence[Meaning]) -> list[Meaning] | None:
    """The meanings put right; None where nothing is to be."""
    readings = (
        _once,
        _several_helpings,
        _next_line,
        _of_what_is_in_it,
        _from_anothers_pot,
        _still_there,
        _a_portion,
        _for_oneself,
        _in_a_vessel,
    )
    return next((found for read in readings if (found := read(message, meant))), None)


def without_remarks(message: Message, meant: Sequence[Meaning]) -> Message | None:
    """A message that was refused for a negation, without clauses that deny something of a person: 'he is not in it'."""
    if not (len(meant) == 1 and isinstance(meant[0], NotMine) and meant[0].why == "negation"):
        return None
    clauses: list[list[Chunk]] = [[]]
    for chunk in message.chunks:
        clauses[-1].append(chunk)
        if chunk.kind == "newline" or (chunk.kind == "sign" and chunk.text in ",.;!"):
            clauses.append([])
    remarks = [clause for clause in clauses if _is_a_remark(message, clause)]
    kept = message.without([c for clause in remarks for c in clause])
    return kept if remarks and kept.of("amount") else None


def _is_a_remark(message: Message, clause: Sequence[Chunk]) -> bool:
    """Whether it says what somebody is not, and tells of no food, number or time."""
    if not clause or len(clause) > MOST_ASIDE or any(c.kind in TELLING for c in clause):
        return False
    words = message.words
    said = [plain(c.text.lower()) for c in clause]
    denied = any(c.text.lower() in words.negations for c in clause)
    return denied and said[0] in words.pronouns and len(said) > 1 and said[1] in pack()["being"]


def _once(message: Message, meant: Sequence[Meaning]) -> list[Meaning] | None:
    """'a bit of the stew for me, two ninety I think, yes 290 g': a weight of the one food that is named, said twice."""
    told = [m for m in meant if isinstance(m, Item)]
    named = message.of("food", "batch")
    if len(told) != 2 or len(named) != 1 or not all(m.amount is not None for m in told):
        return None
    one, other = told
    if one.when != other.when or one.batch != other.batch or one.name != other.name or one.state != other.state:
        return None
    assert one.amount is not None
    assert other.amount is not None
    if grams_of(one.amount) != grams_of(other.amount) or Scene(message).cue("once_again", "one_more"):
        return None
    return [m for m in meant if m is not other]


def _several_helpings(message: Message, meant: Sequence[Meaning]) -> list[Meaning] | None:
    """'2 helpings of soup, 250 each': all of them."""
    item = meant[0] if len(meant) == 1 else None
    if not isinstance(item, Item) or item.batch is None or item.amount is None or item.amount.times is not None:
        return None
    told = [c for c in message.of("amount") if c.amount is not None and not is_one(c.amount)]
    line = message.line
    if len(told) != 2 or not Scene(message).cue("a_helping", "helping_of_it"):
        return None
    count, weight = told[0].amount, told[1].amount
    assert count is not None
    assert weight is not None
    number = int(count.value)
    helped = any(pack()[name].end(line.plain, told[0].end) for name in ("a_helping", "a_helping_of"))
    counted = helped or (count.kind == "count" and count.unit in pack()["a_helping_of"].words)
    each = told[1].end < len(line.tokens) and line.plain[told[1].end] in pack()["for_each"]
    if not (each and counted) or not 1 < number <= MOST_HELPINGS or grams_of(item.amount) != grams_of(weight):
        return None
    grams = number * grams_of(weight)
    amount = Amount(kind="mass", value=grams, unit="g", grams=grams, text=f"{number} x {weight.text}")
    return [replace(item, amount=amount)]


def _next_line(message: Message, meant: Sequence[Meaning]) -> list[Meaning] | None:
    """'next the chickpeas, 240 g canned' into the pot that is being filled: one food and one weight, in two clauses."""
    filling = [b for b in message.around.cooking if b.filling]
    nameless = any(isinstance(m, Item) and m.name is None and m.batch is None and m.amount is not None for m in meant)
    foods, told = message.of("food"), [c for c in message.of("amount") if c.amount is not None and not is_one(c.amount)]
    if len(filling) != 1 or not nameless or len(foods) != 1 or len(told) != 1 or len(message.chunks) > MOST_OF_A_LINE:
        return None
    scene = Scene(message)
    if scene.asks or message.when.meal or message.of("batch", "hash", "energy", "macro", "price", "tare"):
        return None
    if scene.cue("i_ate", "eating_it", "portioned", "negation", "gave_away", "went_to_me"):
        return None
    items = in_grams([one_ingredient(message, foods[0], told[0])])
    return [AddIngredients(batch=ref_of(filling), items=tuple(items))]


def _of_what_is_in_it(message: Message, meant: Sequence[Meaning]) -> list[Meaning] | None:
    """'the sausage in the gumbo was only 400': of what went into a cooked pot it was said how much it was."""
    added = meant[0] if len(meant) == 1 else None
    if not isinstance(added, AddIngredients) or len(added.items) != 1:
        return None
    item, scene = added.items[0], Scene(message)
    pots = scene.batches
    if item.name is None or len(pots) != 1 or not pots[0].cooked or not has_ingredient(message, added.batch, item.name):
        return None
    weight = next((c for c in message.of("amount") if c.amount is not None and not is_one(c.amount)), None)
    line = message.line.plain
    starts = () if weight is None else range(max(0, weight.start - MOST_WORDS_OF_WAS), weight.start)
    was = weight is not None and any(weight.start in pack()["was_really"].ends(line, at) for at in starts)
    if not was or scene.cue("one_more", "just_now"):
        return None
    return [CorrectIngredient(batch=added.batch, name=item.name, item=replace(item, name=None))]


def _from_anothers_pot(message: Message, meant: Sequence[Meaning]) -> list[Meaning] | None:
    """'a ladle of Fintan's soup, that was 340 g': who cooked it is not who had it."""
    gone = meant[0] if len(meant) == 1 else None
    scene = Scene(message)
    if not isinstance(gone, GiveAway) or gone.amount is None or len(scene.named) != 1 or not gone.who:
        return None
    owner = message.line.text(scene.named[0][1] - 1)
    who = gone.who.lower().split()[-1]
    if not owner.endswith("'s") or owner.removesuffix("'s") != who or scene.cue("others_took", "gave_it"):
        return None
    others = message.without([c for c in message.chunks if c.text.lower() == owner])
    if not_mine(others) is not None or message.asks:
        return None
    return [Item(text=message.text, amount=as_mass(gone.amount), batch=gone.batch, when=message.when)]


def _still_there(message: Message, meant: Sequence[Meaning]) -> list[Meaning] | None:
    """'weighed the curry again, 95 left': what stands there was not eaten."""
    item, scene = meant[0] if len(meant) == 1 else None, Scene(message)
    if not isinstance(item, Item) or item.batch is None or item.amount is None or len(scene.named) != 1:
        return None
    last = message.line.plain[message.chunks[-1].end - 1]
    told = [c for c in message.of("amount") if c.amount is not None and not is_one(c.amount)]
    if last not in pack()["still_standing"] or len(told) != 1 or message.when.meal or not_mine(message) is not None:
        return None
    if scene.cue("i_ate", "eating_it", "portioned", "went_to_me") or not any(b.cooked for b in scene.batches):
        return None
    return [Left(batch=item.batch)]


def _a_portion(message: Message, meant: Sequence[Meaning]) -> list[Meaning] | None:
    """'portion 250' right behind the cooked weight of a pot: a portion of that."""
    bare = meant[0] if len(meant) == 1 else None
    if not isinstance(bare, Bare) or len(message.chunks) > FEW_CHUNKS or message.has("?"):
        return None
    pot = _cooked_last(message)
    if pot is None or not Scene(message).cue("helping_of_it") or message.of(*NOT_OF_A_POT):
        return None
    amount = as_mass(bare.amount)
    if bare.amount.kind not in ("mass", "bare") or not LEAST_PORTION_G <= grams_of(amount) <= (pot.left_g or 0.0):
        return None
    return [Item(text=message.text, amount=amount, batch=ref_of([pot]), when=message.when)]


def _for_oneself(message: Message, meant: Sequence[Meaning]) -> list[Meaning] | None:
    """'ladled myself 340', 'dished myself 410': nobody says that of an ingredient, whatever the verb is."""
    known = [i for m in meant for i in (m.items if isinstance(m, AddIngredients) else [m]) if isinstance(i, Item)]
    if len(meant) != 1 or len(known) != 1 or known[0].amount is None or len(message.chunks) > FEW_CHUNKS + 2:
        return None
    told = [c for c in message.of("amount") if c.amount is not None and not is_one(c.amount)]
    oneself = any(plain(c.text.lower()) in pack()["oneself"] for c in message.of("word"))
    if len(told) != 1 or not oneself or message.of(*NOT_OF_A_POT, "state") or message.has("?"):
        return None
    pot, raw = _cooked_last(message), message.around.at_work
    pots = [pot] if pot is not None else list(raw)
    if len(pots) != 1 or told[0].amount is None:
        return None
    return [Item(text=message.text, amount=as_mass(told[0].amount), batch=ref_of(pots), when=message.when)]


def _in_a_vessel(message: Message, meant: Sequence[Meaning]) -> list[Meaning] | None:
    """'480, in the billy': a weight and what it was weighed in, of the pot at hand; its weight empty is asked for."""
    item = meant[0] if len(meant) == 1 else None
    nameless = isinstance(item, Bare) or (isinstance(item, Item) and item.name is None and item.batch is None)
    if not nameless or len(message.chunks) > FEW_CHUNKS + 2 or message.of(*NOT_OF_A_POT, "moment", "state"):
        return None
    told = [c for c in message.of("amount") if c.amount is not None and not is_one(c.amount)]
    amount = told[0].amount if len(told) == 1 and message.chunks[0] is told[0] else None
    words = [c.text.lower() for c in message.chunks[1:] if c.kind == "word"]
    led = len(words) > 2 and words[0] in pack()["within"] and plain(words[1]) in pack()["article"]
    if amount is None or amount.kind not in ("mass", "bare") or not led or any(map(message.words.knows, words[2:])):
        return None
    tare, raw, pot = near_tare(message.line, " ".join(words[2:])), message.around.at_work, _cooked_last(message)
    if len(raw) == 1:
        return [CookBatch(batch=ref_of(raw), amount=amount, tare=tare)]
    if pot is None:
        return None
    return [Item(text=message.text, amount=as_mass(amount), batch=ref_of([pot]), tare=tare, when=message.when)]


def _cooked_last(message: Message) -> KnownBatch | None:
    """The cooked pot that the writer spoke of last, which is in no boxes or pieces."""
    pots = [b for b in message.around.batches if b.cooked and b.spoken and not b.pieces and not b.boxes]
    return pots[0] if len(pots) == 1 else None
