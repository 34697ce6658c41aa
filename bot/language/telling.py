"""What one fragment tells: the food, its state, its amounts, what is eaten of it and by whom."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.chunks import Chunk
from bot.language.fragments import MOST_COUNTED, Fragment
from bot.language.message import Message
from bot.language.named_with import is_packing, is_purpose, made_so, with_its_skin
from bot.language.number_words import number_words
from bot.language.pack import pack
from bot.language.shares import counted_for_others, given_away, of_several, with_counts, with_share_of_it
from bot.language.text import singular
from bot.language.told import Amount, BatchRef, Item, Name
from bot.language.told_amounts import told_amounts
from bot.language.waste import grams_of, is_weight
from bot.language.word_lists import word_lists
from domain import reference
from domain.foods import State
from domain.reference.words import is_finite, is_real_word

WORDS = word_lists("telling")
CANNED = "canned"
LEAST_COOKED_IN_G = 200.0
"""No pan to cook in weighs less."""
LEAST_EATEN_FROM_G = 25.0
"""No bowl or plate weighs less, be it of plastic."""


def item_of(message: Message, fragment: Fragment) -> Item:
    """The weigh-in of one fragment."""
    chunks = fragment.chunks
    name, batch, run = _named(message, fragment)
    state, method, verb = _state(message, fragment, run)
    if name is not None:
        name, state, method = made_so(message, fragment, name, run, state, method)
        name, fragment = with_its_skin(message, name, run, fragment)
    fragment = with_counts(message, with_share_of_it(message, fragment))
    whole, part, peeled = _whole(fragment)
    others = given_away(message, fragment)
    amount, measure, two, cooked = told_amounts(fragment, run, peeled is not None, others)
    waste = next((c for c in fragment.waste if c.amount is not None), None)
    wastes = [c.amount for c in fragment.waste if c.amount is not None]
    tare = next(
        (c.tare for c in fragment.of("tare") if c.tare is not None and _weighed_too(message, fragment, c)), None
    )
    if amount is None and batch is not None and any(c.text.lower() == "box" for c in fragment.of("word")):
        amount = Amount(kind="count", value=1, unit="box", text="a box")
    amount = _sized(fragment, _odd_unit(message, fragment, amount, run))
    if cooked is not None:
        state, method = State.RAW, ""
    tins = any(a is not None and a.unit in WORDS["tins"] for a in (amount, measure)) or _a_tin_of_it(message, fragment)
    if state is None and name is not None and tins:
        name = _tinned(message, name, run)
        if any(_canned(food) for food in name.foods):
            state, method = State.AS_SOLD, CANNED
    if name is not None and name.combination and amount is None:
        amount = Amount(kind="count", value=1, text="1")  # "my shake" is a whole one
    given = others is None and counted_for_others(message, fragment)
    if amount is not None and (given or of_several(message, fragment, amount, run)):
        amount = replace(amount, doubt="share")
    return Item(
        text=message.phrase(chunks),
        amount=amount,
        measure=measure,
        name=name,
        batch=batch,
        state=state,
        method=method,
        state_may_be_verb=verb,
        whole=True if peeled is not None else whole,
        part=part or (waste.part if waste is not None and len(wastes) == 1 else ""),
        waste_g=sum(_waste_grams(w, amount) for w in wastes) if wastes else None,
        peeled_g=peeled,
        cooked_g=cooked,
        tare=tare,
        number_first=_number_first(fragment, run),
        two_masses=two,
        others_g=others,
    )


def _a_tin_of_it(message: Message, fragment: Fragment) -> bool:
    """'a 400 g tin of chickpeas': a tin behind a weight or a food ('black beans can'), or food packed as in one."""
    ends = {c.end for c in fragment.of("amount", "food")}
    if any(is_packing(message, c) for c in fragment.of("food", "word")):
        return True
    return any(c.start in ends and singular(c.text.lower()) in WORDS["tins"] for c in fragment.of("word"))


def _tinned(message: Message, name: Name, run: Sequence[Chunk]) -> Name:
    """The name of what comes in a tin: a tin of tomatoes holds canned ones."""
    words = [CANNED, *(t.text for c in run for t in message.tokens[c.start : c.end])]
    canned = message.vocabulary.resolve(words, name.text)
    certain = not canned.unknown and not canned.corrected and (canned.foods or canned.kinds)
    return canned if certain else name


def _canned(food: str) -> bool:
    known = reference.load().foods.get(food)
    row = None if known is None else known.row(State.AS_SOLD, CANNED)
    return row is not None and row.method == CANNED and known is not None and known.row() is not row


def _waste_grams(waste: Amount, amount: Amount | None) -> float:
    """The grams of a waste weight; without a unit it has that of what it came from ('6.5 ounces, the core is 0.9')."""
    if waste.kind == "bare" and amount is not None and amount.kind == "mass" and amount.unit in ("oz", "lb"):
        return waste.value * (amount.grams or 0.0) / amount.value if amount.value else waste.value
    return grams_of(waste)


def _odd_unit(message: Message, fragment: Fragment, amount: Amount | None, run: Sequence[Chunk]) -> Amount | None:
    """'cheddar 15 deka': a bare number with a unit that is not known has no weight; it is asked for."""
    if amount is None or amount.kind != "bare" or not run:
        return amount
    i = next((n for n, c in enumerate(fragment.chunks) if c.amount is amount), None)
    after = fragment.chunks[i + 1] if i is not None and i + 1 < len(fragment.chunks) else None
    if (
        after is None
        or after.kind != "word"
        or after in run[:1]
        or run[0].start > after.start
        or not run[0].start < fragment.chunks[i or 0].start
    ):
        return amount
    if (
        message.words.knows(after.text.lower())
        or message.words.knows(singular(after.text.lower()))
        or not after.text.isalpha()
    ):
        return amount
    return replace(amount, kind="loose", unit=after.text.lower(), text=f"{amount.text} {after.text}")


def _weighed_too(message: Message, fragment: Fragment, vessel: Chunk) -> bool:
    """Whether a vessel was on the scale: a saved one, a particular one, or one that the weight is said to be with."""
    tare = vessel.tare
    if fragment.amounts and all(c.amount is not None and c.amount.kind == "volume" for c in fragment.amounts):
        return False  # no scale read what a jug did
    known = tare is None or tare.grams is not None
    if not known and any(c.amount is not None and _was_reckoned(c, c.amount) for c in fragment.amounts):
        return False  # 'it came to 800 g, and a quarter of it landed in my bowl'
    if not known and any(is_weight(c) for c in fragment.amounts) and _lighter_than(message, fragment, vessel):
        return False
    if (
        tare is None
        or tare.grams is not None
        or len(tare.name.split()) > 1
        or not vessel.text.lower().startswith("in ")
    ):
        return True
    beside = any(c.end == vessel.start or vessel.end == c.start for c in fragment.amounts)
    terse = any(is_weight(c) for c in fragment.amounts) and not fragment.of("word")
    return beside or terse or message.has(*message.words.phrases["gross"])


def _was_reckoned(chunk: Chunk, amount: Amount) -> bool:
    """Whether a weight was reckoned from others, and is none that a scale showed."""
    return amount.kind == "mass" and amount.text.lower() != chunk.text.lower()


def _lighter_than(message: Message, fragment: Fragment, vessel: Chunk) -> bool:
    """Whether no vessel of that sort weighs so little, so that it was not on the scale: 'butter 10 g in the pan'."""
    cooks = message.line.lemmas[vessel.end - 1] in pack()["cooked_in"]
    most = max(grams_of(c.amount) for c in fragment.amounts if is_weight(c) and c.amount is not None)
    return most < (LEAST_COOKED_IN_G if cooks else LEAST_EATEN_FROM_G)


def _sized(fragment: Fragment, amount: Amount | None) -> Amount | None:
    """'one orange small': a count takes the size that is said behind the food."""
    sizes = {c.field for c in fragment.of("size")}
    counted = amount is not None and (
        (amount.kind == "bare" and amount.value <= MOST_COUNTED) or (amount.kind == "count" and not amount.unit)
    )
    measured = amount is not None and amount.kind == "measure" and " " not in amount.unit
    if amount is None or not (counted or measured) or len(sizes) != 1:
        return amount
    size = sizes.pop()
    if measured:
        return replace(amount, unit=f"{size} {amount.unit}", text=f"{size} {amount.text}")
    return replace(amount, kind="count", unit=size, text=f"{amount.text} {size}")


def _named(message: Message, fragment: Fragment) -> tuple[Name | None, BatchRef | None, list[Chunk]]:
    """The food (or batch) that a fragment names, and the chunks that name it."""
    batches = [c for c in fragment.of("batch") if c.batch is not None]
    sure = next((c for c in batches if c.batch is not None and c.batch.sure), None)
    if sure is not None:
        return None, sure.batch, [sure]
    run = _phrase_run(message, fragment)
    if batches and not any(c.kind == "food" for c in run):
        chunk = batches[0]
        words = [t.text for t in message.tokens[chunk.start : chunk.end]]
        return message.vocabulary.resolve(words, " ".join(words)), chunk.batch, [chunk]
    if not run:
        return None, None, []
    words = [t.text for c in run for t in message.tokens[c.start : c.end]]
    name = message.vocabulary.resolve(words, " ".join(words))
    if name.corrected:
        name = _with_state_word(message, fragment, run, words) or name
    return name, batches[0].batch if batches else None, run


def _with_state_word(message: Message, fragment: Fragment, run: Sequence[Chunk], words: list[str]) -> Name | None:
    """A misspelt name that has the word before it in it ('dried mngo' is dried mango, no mango that was dried)."""
    at = fragment.chunks.index(run[0])
    before = fragment.chunks[at - 1] if at else None
    if before is None or not (
        before.kind in ("state", "whole", "size") or before.text.lower() in message.words.harmless
    ):
        return None
    longer = message.vocabulary.resolve([before.text.lower(), *words], f"{before.text.lower()} {' '.join(words)}")
    return longer if longer.corrected and len(longer.foods) == 1 and not longer.unknown else None


def _phrase_run(message: Message, fragment: Fragment) -> list[Chunk]:
    """The chunks of the food phrase: food words and the unknown words beside them, states between them left out."""
    known = message.words
    runs: list[list[Chunk]] = [[]]
    between: list[Chunk] = []
    for chunk in fragment.chunks:
        text = chunk.text.lower()
        named = any(c.kind == "food" for run in runs for c in run)
        if named and (is_packing(message, chunk) or is_purpose(message, chunk)):
            continue
        if _measures_out(message, chunk) or _is_done(message, chunk):
            continue
        if runs[-1] and runs[-1][-1].kind == "food" and chunk.kind == "word" and _is_verb(message, text, runs[-1]):
            runs.append([])
        elif (
            chunk.kind == "food"
            or (chunk.kind == "batch" and chunk.batch is not None and not chunk.batch.sure and chunk.target)
            or (chunk.kind == "word" and not _is_known(message, text))
            or (
                chunk.kind == "word"
                and singular(text) in known.piece_nouns
                and message.vocabulary.knows(singular(text))
            )
        ):
            runs[-1].extend((*between, chunk))
            between = []
        elif chunk.kind == "word" and text in known.attributive and runs[-1]:
            between.append(chunk)
        elif (
            chunk.kind in ("state", "whole", "size")
            or text in ("of", "(", ")", "-", '"', "'", "/")
            or text in known.harmless
        ):
            continue
        else:
            between = []
            runs.append([])
    foods = [run for run in runs if any(c.kind != "word" for c in run)]
    if len(foods) > 1:
        return [c for run in foods for c in run]
    if foods:
        return foods[0]
    filled = [run for run in runs if run]
    return filled[-1] if filled and fragment.amounts else []


def _measures_out(message: Message, chunk: Chunk) -> bool:
    """Whether a word of no food's name before 'of' only says how much or in what: 'a tiffin full of potatoes'."""
    behind = message.tokens[chunk.end].text if chunk.end < len(message.tokens) else ""
    word = chunk.text.lower()
    if chunk.kind != "word" or behind not in number_words().of or not is_real_word(word):
        return False
    if any(c.end == chunk.start for c in message.of("amount")):
        return False  # '180 tonnes of rice': a unit that nobody knows
    return not message.vocabulary.is_head(singular(word)) and word not in message.words.other_foods


def _is_done(message: Message, chunk: Chunk) -> bool:
    """Whether a word is the verb of a pronoun before it: '166 g as I picked it up', '80 g when it arrived'."""
    word = chunk.text.lower()
    if chunk.kind != "word" or not (is_finite(word) or (word.endswith("ed") and is_real_word(word))):
        return False
    before = message.line.text(chunk.start - 1)
    return before in message.words.pronouns or before in pack()["subject_told"]


def _is_verb(message: Message, word: str, run: Sequence[Chunk]) -> bool:
    """Whether an unknown word behind a food is most likely what happened to it ('beer accompanied supper')."""
    if not word.endswith(("ed", "ing")) or not is_real_word(word) or message.words.knows(word):
        return False
    if not message.vocabulary.knows(word):
        return True
    # 'granola standing on the balcony', for all that there is a standing rib
    food = [t.text for c in run for t in message.tokens[c.start : c.end]]
    return bool(message.vocabulary.resolve([*food, word], "").unknown) and word.endswith("ing")


def _is_known(message: Message, word: str) -> bool:
    known, one = message.words, singular(word)
    return known.knows(word) or (known.knows(one) and one not in known.filler) or len(word) < 2


def _state(message: Message, fragment: Fragment, run: Sequence[Chunk]) -> tuple[State | None, str, bool]:
    """The state said for this food, its method, and whether the word may be the cook's verb instead."""
    states = fragment.of("state")
    if not states:
        return None, "", False
    negated = (
        [c for c in states if message.tokens[c.start - 1].text in ("not", "non", "un", "isn't", "wasn't")]
        if states[0].start
        else []
    )
    kept = [c for c in states if c not in negated]
    weighed = [c for c in kept if not _prepares(message, c)]
    kept = weighed if len({c.state for c in kept}) > 1 and weighed else kept
    if not kept:
        flipped = State.RAW if negated[0].state == State.COOKED else State.COOKED
        return flipped, "", False
    chosen = next((c for c in kept if c.method), kept[0])
    if len({c.state for c in kept}) > 1:
        amounts = [c for c in fragment.amounts if is_weight(c)]
        if len(amounts) > 1:
            chosen = min(kept, key=lambda c: abs(c.start - amounts[0].start))
        else:
            return None, "", False
    i = fragment.chunks.index(chosen)
    before = {c.kind for c in fragment.chunks[:i]}
    after = fragment.chunks[i + 1 : i + 2]
    verb = (
        chosen.text.lower() in message.words.verb_states
        and not before & {"food", "batch", "amount"}
        and bool(after)
        and after[0].kind == "amount"
        and after[0].text.lower() not in ("a", "an")
        and bool(run)
        and run[0].start > chosen.start
    )
    return chosen.state, chosen.method, verb


def _prepares(message: Message, state: Chunk) -> bool:
    """Whether a state word tells what was done with the food afterwards: 'dry oats, cooked with milk'."""
    after = message.tokens[state.end].text if state.end < len(message.tokens) else ""
    return state.text.lower() in message.words.verb_states and after in WORDS["preparing"]


def _whole(fragment: Fragment) -> tuple[bool | None, str, float | None]:
    """(whole?, part, peeled grams): both weights told means whole with a peeled weight."""
    flags = fragment.of("whole")
    if not flags:
        return None, "", None
    part = next((c.part for c in flags if c.part), "")
    amounts = [c for c in fragment.amounts if is_weight(c)]
    if {c.whole for c in flags} == {True, False} and len(amounts) == 2:
        edible = next(c for c in flags if not c.whole)
        nearest = min(amounts, key=lambda a: min(abs(a.end - edible.start), abs(edible.end - a.start)))
        assert nearest.amount is not None
        return True, part, grams_of(nearest.amount)
    return all(c.whole for c in flags), part, None


def _number_first(fragment: Fragment, run: Sequence[Chunk]) -> bool:
    if not run or not fragment.amounts:
        return False
    first = fragment.amounts[0]
    between = [c.text.lower() for c in fragment.chunks if first.end <= c.start < run[0].start]
    bare = first.amount is not None and first.amount.kind == "bare" and first.amount.value > MOST_COUNTED
    weighed = bare and len(between) == 1 and between[0] in number_words().of
    return first.start < run[0].start and not weighed  # '60 of cherry tomatoes' is grams
