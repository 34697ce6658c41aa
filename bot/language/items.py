"""Weigh-ins in a sentence: fragments between commas and 'and', put together again where they tell of one food."""

from __future__ import annotations

from bisect import bisect
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from bot.language.chunks import Chunk
from bot.language.meanings import Amount, BatchRef, Item, Name, TareRef, When
from bot.language.message import Message
from bot.language.moments import Moment, together
from bot.language.text import singular
from domain.foods import State

JOINING = frozenset({"and", "&", "n"})
SEPARATING = frozenset({"with", "w", "alongside", "followed", "topped"})
CARRYING = frozenset({"on", "over", "onto", "into"})
"""Words between two foods each of which is told by itself: '25 g peanut butter on two rice cakes'."""
BREAKING = frozenset(
    {
        "in",
        "on",
        "for",
        "from",
        "at",
        "to",
        "by",
        "into",
        "after",
        "before",
        "as",
        "because",
        "while",
        "when",
        "if",
        "since",
        "during",
        "off",
        "out",
    }
)
WASTE_SPAN = 12
"""How many words may stand between a waste part and its weight."""
AGREE = 0.02
"""Two masses of one food that differ by no more are one (rule 12)."""
SOME = frozenset({"some", "a", "bit", "few", "little", "the", "splash", "drizzle", "knob", "dash", "pinch", "handful"})


@dataclass
class Fragment:
    """What stands between two separators."""

    joined: str
    """The separator before it."""
    chunks: list[Chunk] = field(default_factory=list)

    def of(self, *kinds: str) -> list[Chunk]:
        return [c for c in self.chunks if c.kind in kinds]

    @property
    def amounts(self) -> list[Chunk]:
        return self.of("amount")

    @property
    def foods(self) -> list[Chunk]:
        return [c for c in self.chunks if c.kind == "food" or (c.kind == "batch" and c.batch is not None)]

    @property
    def waste(self) -> list[Chunk]:
        return [c for c in self.chunks if c.kind == "part"]


def items(message: Message) -> list[Item]:
    """The weigh-ins that a sentence tells, in order; each with what is clear and what is not."""
    chunks = _wastes_found(message)
    fragments = [piece for f in _fragments(message, chunks) for piece in _pulled_apart(f)]
    merged = _merged(message, fragments)
    return _timed(message, _built(message, merged))


def _wastes_found(message: Message) -> list[Chunk]:
    """The chunks with each waste weight ('core 19', 'left 310 g of rind') made one chunk of kind 'part'."""
    chunks = list(message.chunks)
    parts = message.words.parts
    found: list[Chunk] = []
    i = 0
    while i < len(chunks):
        waste = _waste_at(message, chunks, i, parts)
        if waste is None:
            found.append(chunks[i])
            i += 1
        else:
            found.append(waste[0])
            i = waste[1]
    return found


def _is_part(chunk: Chunk, parts: frozenset[str]) -> bool:
    return chunk.kind in ("word", "food") and singular(chunk.text.lower()) in parts


def _waste_at(message: Message, chunks: Sequence[Chunk], i: int, parts: frozenset[str]) -> tuple[Chunk, int] | None:
    first = chunks[i]
    fillers = message.words.filler
    links = (
        "was",
        "were",
        "weighed",
        "weighs",
        "weighing",
        "is",
        "are",
        "=",
        ":",
        "-",
        "came",
        "to",
        "alone",
        "about",
        "of",
        "left",
        "thrown",
        "away",
        "the",
    )
    if _is_part(first, parts):
        j = i + 1
        while j < min(len(chunks), i + WASTE_SPAN) and (
            chunks[j].text.lower() in links
            or _is_part(chunks[j], parts)
            or (chunks[j].kind == "word" and chunks[j].text.lower() in fillers | {"left", "behind"})
        ):
            j += 1
        if j < len(chunks) and _weight(chunks[j]) and not _followed_by_food(chunks, j + 1):
            return _waste(first.start, chunks[j], singular(first.text.lower())), j + 1
    if first.text.lower() in ("left", "leaving", "threw", "discarded", "removed", "leftover"):
        j = i + 1
        if j < len(chunks) and _weight(chunks[j]):
            k = j + 1
            while k < len(chunks) and chunks[k].text.lower() in (
                "of",
                "the",
                "in",
                "on",
                "behind",
                "plate",
                "away",
                "as",
            ):
                k += 1
            if k < len(chunks) and _is_part(chunks[k], parts):
                return _waste(first.start, chunks[j], singular(chunks[k].text.lower())), k + 1
            if not _followed_by_food(chunks, j + 1):
                return _waste(first.start, chunks[j], "waste"), max(j + 1, k)
    if _weight(first) and i:
        j = i + 1
        while j < len(chunks) and chunks[j].text.lower() in ("of", "for", "the", "was", "is", "were"):
            j += 1
        if j < len(chunks) and _is_part(chunks[j], parts) and not _own_weight(chunks, j + 1):
            return _waste(first.start, first, singular(chunks[j].text.lower())), j + 1
        if (
            j == i + 1
            and j < len(chunks)
            and chunks[j].text.lower() in ("left", "leftover")
            and "batch" not in [c.kind for c in chunks]
        ):
            return _waste(first.start, first, "waste"), j + 1
    return None


def _own_weight(chunks: Sequence[Chunk], i: int) -> bool:
    """Whether the part before chunk i has a weight of its own behind it, or is the beginning of a food's name."""
    while i < len(chunks) and chunks[i].text.lower() in ("was", "were", "weighed", "=", ":", "is", "-", "alone"):
        i += 1
    return i < len(chunks) and (_weight(chunks[i]) or chunks[i].kind == "food")


def _weight(chunk: Chunk) -> bool:
    return chunk.kind == "amount" and chunk.amount is not None and chunk.amount.kind in ("mass", "bare")


def _followed_by_food(chunks: Sequence[Chunk], i: int) -> bool:
    while i < len(chunks) and chunks[i].text.lower() in ("of", "the"):
        i += 1
    return i < len(chunks) and chunks[i].kind in ("food", "state")


def _waste(start: int, amount: Chunk, part: str) -> Chunk:
    return Chunk("part", start, amount.end, amount.text, amount=amount.amount, part=part)


def _fragments(message: Message, chunks: Sequence[Chunk]) -> list[Fragment]:
    fragments = [Fragment("")]
    for i, chunk in enumerate(chunks):
        text = chunk.text.lower()
        separates = chunk.kind == "newline" or (chunk.kind in ("word", "sign") and _separates(text, chunks, i))
        if chunk.kind == "sign" and text in ".!?":
            separates = True
        if separates:
            fragments.append(Fragment("\n" if chunk.kind == "newline" else text))
        elif chunk.kind not in ("noise", "price", "macro", "energy"):
            fragments[-1].chunks.append(chunk)
    return [f for f in fragments if f.chunks]


def _separates(text: str, chunks: Sequence[Chunk], i: int) -> bool:
    if text in JOINING or text in (",", ";", "+", "plus", "then", "|", "also", "but"):
        return True
    if text in SEPARATING:
        return any(c.kind in ("amount", "food", "batch") for c in chunks[i + 1 : i + 5])
    if text in CARRYING:
        return any(c.kind in ("amount", "food") for c in chunks[i + 1 : i + 3]) and any(
            c.kind == "food" for c in chunks[:i]
        )
    return False


def _pulled_apart(fragment: Fragment) -> list[Fragment]:
    """A fragment that lists several weigh-ins without commas, cut between them."""
    telling = [c for c in fragment.chunks if c.kind in ("amount", "food", "batch")]
    masses = [c for c in fragment.amounts]
    runs = _food_runs(fragment)
    if len(masses) < 2 or len(runs) < 2:
        return [fragment]
    amount_leads = telling[0].kind == "amount"
    lead = next(c.kind for c in fragment.chunks if c.kind in ("amount", "food", "batch", "state"))
    openers = ("food", "word", "batch") if lead != "state" else ("food", "state", "word", "batch")
    pieces: list[Fragment] = [Fragment(fragment.joined)]
    seen_amount = seen_food = False
    for i, chunk in enumerate(fragment.chunks):
        complete = seen_amount and seen_food
        starts = chunk.kind == "amount" if amount_leads else chunk.kind in openers
        if complete and starts and not (not amount_leads and not _more_to_come(fragment.chunks[i:])):
            pieces.append(Fragment(" "))
            seen_amount = seen_food = False
        pieces[-1].chunks.append(chunk)
        seen_amount = seen_amount or chunk.kind == "amount"
        seen_food = seen_food or chunk.kind in ("food", "batch")
    return pieces


def _more_to_come(chunks: Sequence[Chunk]) -> bool:
    kinds = {c.kind for c in chunks}
    return "amount" in kinds and bool(kinds & {"food", "batch"})


def _food_runs(fragment: Fragment) -> list[list[Chunk]]:
    """Food chunks with nothing but states and fillers between them stand in one run."""
    runs: list[list[Chunk]] = []
    open_run = False
    for chunk in fragment.chunks:
        if chunk.kind in ("food", "batch"):
            if open_run:
                runs[-1].append(chunk)
            else:
                runs.append([chunk])
            open_run = True
        elif chunk.kind in ("amount",) or chunk.text.lower() in BREAKING:
            open_run = False
    return runs


def _merged(message: Message, fragments: Sequence[Fragment]) -> list[Fragment]:
    """Fragments that tell of one food put together: 'strawberries, 133 g', 'apple 196, core 17'."""
    merged: list[Fragment] = []
    for fragment in (f for f in fragments if _carries(message, f)):
        if fragment.foods and not fragment.of("state") and merged and _only_state(message, merged[-1]):
            fragment.chunks = [*merged.pop().chunks, *fragment.chunks]
        last = merged[-1] if merged else None
        if last is not None and _belongs(message, last, fragment):
            last.chunks.extend(fragment.chunks)
        else:
            merged.append(fragment)
    return merged


def _carries(message: Message, fragment: Fragment) -> bool:
    """Whether anything in a fragment bears on a weigh-in; mere chatter does not part what belongs together."""
    return bool(fragment.of("amount", "food", "batch", "state", "whole", "tare", "part")) or bool(
        _unknown_words(message, fragment)
    )


def _only_state(message: Message, fragment: Fragment) -> bool:
    """'Baked for 20 minutes, my haddock …': a state that stands before the food it is of."""
    return (
        bool(fragment.of("state"))
        and not fragment.of("amount", "food", "batch")
        and not _unknown_words(message, fragment)
    )


def _names_something(message: Message, fragment: Fragment) -> bool:
    return bool(fragment.foods) or bool(_unknown_words(message, fragment))


def _unknown_words(message: Message, fragment: Fragment) -> list[Chunk]:
    known = message.words
    return [
        c
        for c in fragment.of("word")
        if not known.knows(c.text.lower())
        and not known.knows(singular(c.text.lower()))
        and (len(c.text) > 2 or message.vocabulary.knows(c.text.lower()))
    ]


def _belongs(message: Message, last: Fragment, fragment: Fragment) -> bool:
    names, named = bool(fragment.foods), _names_something(message, last)
    if names:
        # an amount alone, then its food: "120 g, rice"
        return (
            bool(last.amounts)
            and not last.foods
            and not _named_after(message, last)
            and not fragment.amounts
            and fragment.joined not in JOINING
        )
    if fragment.waste and (last.amounts or last.foods):
        return True
    if fragment.amounts:
        unknown = _unknown_words(message, fragment)
        counted = all(
            c.amount is not None and c.amount.kind in ("bare", "count") and c.amount.value <= 12
            for c in fragment.amounts
        )
        if unknown and counted and last.foods and any(_weight(c) for c in last.amounts) and fragment.joined == ",":
            fragment.chunks = [c for c in fragment.chunks if c.kind not in ("word", "amount")]
            return True
        if unknown and last.amounts:
            return False
        if unknown and not (len(unknown) <= 1 and last.foods):
            return False
        if _for_others(message, fragment):
            return fragment.joined not in JOINING or _part_of_it(message, fragment)
        return named and fragment.joined not in ("+", "plus")
    if fragment.of("state", "whole", "tare"):
        return named or bool(last.amounts)
    return False


def _part_of_it(message: Message, fragment: Fragment) -> bool:
    """'130 of it', '150 g of that', 'of which 260 g': a part of what was told before."""
    said = " ".join(t.text for c in fragment.chunks for t in message.tokens[c.start : c.end])
    return any(f"of {w}" in said for w in ("it", "that", "which", "them", "those", "this", "these"))


def _named_after(message: Message, fragment: Fragment) -> bool:
    """Whether an unknown word follows the amount, where a food's name would stand ('80 g zibbernax')."""
    start = fragment.amounts[0].start
    return any(c.start > start for c in _unknown_words(message, fragment))


def _for_others(message: Message, fragment: Fragment) -> bool:
    said = [singular(t.text) for c in fragment.chunks for t in message.tokens[c.start : c.end]]
    return any(w in message.words.people or w in message.words.pronouns for w in said)


def _built(message: Message, fragments: Sequence[Fragment]) -> list[tuple[Item, Fragment]]:
    built: list[tuple[Item, Fragment]] = []
    for i, fragment in enumerate(fragments):
        if not fragment.foods and _for_others(message, fragment) and fragment.joined in JOINING:
            continue
        if not _tells(message, fragment) or (_counts_people(fragment) and len(fragments) > 1):
            continue
        shared = _one_mass(message, fragments, i, built)
        if shared is not None:
            if built and built[-1][0].several:
                built[-1] = (shared, fragment)
            else:
                built.append((shared, fragment))
            continue
        built.append((_item(message, fragment), fragment))
    return [(item, f) for item, f in built if not _absorbed(item, built)]


def _absorbed(item: Item, built: Sequence[tuple[Item, Fragment]]) -> bool:
    """Whether a food without an amount already stands in a 'one mass for several' question."""
    if item.several or item.amount is not None or item.name is None:
        return False
    return any(item.name.text in other.several for other, _ in built)


def _tells(message: Message, fragment: Fragment) -> bool:
    if fragment.foods:
        return True
    return bool(fragment.amounts)


def _counts_people(fragment: Fragment) -> bool:
    """'we were two': a small number beside no food is no weigh-in."""
    told = [c.amount for c in fragment.amounts if c.amount is not None]
    return (
        not fragment.foods and bool(told) and all(a.kind == "bare" and a.value <= 12 and a.text.isalpha() for a in told)
    )


def _one_mass(
    message: Message, fragments: Sequence[Fragment], i: int, built: list[tuple[Item, Fragment]]
) -> Item | None:
    """'350 g rice and chicken', 'pasta and peas 310 g': one mass told for two foods."""
    here = fragments[i]
    if i and here.joined in JOINING and here.foods and not here.amounts and built and not _some(message, here):
        before, fragment = built[-1]
        first = fragment.chunks[0].kind if fragment.chunks else ""
        led = next((c.kind for c in fragment.chunks if c.kind in ("amount", "food", "batch")), first)
        if before.amount is not None and before.amount.kind == "mass" and led == "amount" and before.name is not None:
            built.pop()
            name = _item(message, here).name
            names = (before.several or (before.name.text,)) + ((name.text,) if name else ())
            return replace(before, several=names)
    if i + 1 < len(fragments) or not i:
        after = fragments[i + 1] if i + 1 < len(fragments) else None
        if (
            after is not None
            and here.foods
            and not here.amounts
            and after.joined in JOINING
            and after.foods
            and _led_by_food(after)
        ):
            if any(a.amount and a.amount.kind in ("mass", "bare") for a in after.amounts) and not _some(message, here):
                first_item, second = _item(message, here), _item(message, after)
                if first_item.name and second.name:
                    after.chunks = [c for c in after.chunks if c.kind not in ("food", "amount")]
                    return replace(second, several=(first_item.name.text, second.name.text))
    return None


def _led_by_food(fragment: Fragment) -> bool:
    return next((c.kind for c in fragment.chunks if c.kind in ("amount", "food", "batch")), "") != "amount"


def _some(message: Message, fragment: Fragment) -> bool:
    first = message.tokens[fragment.chunks[0].start].text if fragment.chunks else ""
    return first in SOME


def _item(message: Message, fragment: Fragment) -> Item:
    """The weigh-in of one fragment."""
    chunks = fragment.chunks
    name, batch, run = _named(message, fragment)
    state, method, verb = _state(message, fragment, run)
    whole, part, peeled = _whole(fragment)
    others = _others(message, fragment)
    amount, measure, two, cooked = _amounts(fragment, run, peeled is not None, others)
    waste = next((c for c in fragment.waste if c.amount is not None), None)
    tare = next((c.tare for c in fragment.of("tare") if c.tare is not None), None)
    if amount is None and batch is not None and any(c.text.lower() == "box" for c in fragment.of("word")):
        amount = Amount(kind="count", value=1, unit="box", text="a box")
    amount = _odd_unit(message, fragment, amount, run)
    if cooked is not None:
        state, method = State.RAW, ""
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
        part=part or (waste.part if waste is not None else ""),
        waste_g=_grams(waste.amount) if waste is not None and waste.amount is not None else None,
        peeled_g=peeled,
        cooked_g=cooked,
        tare=tare,
        number_first=_number_first(fragment, run),
        two_masses=two,
        others_g=others,
        shared=_shared(message),
    )


def _shared(message: Message) -> bool:
    """Whether one amount was eaten by several people: how much was the writer's has to be asked."""
    if message.has(
        "shared", "between us", "split between", "share", "sharing", "we split", "among us", "between the two of us"
    ):
        return not message.has("my share", "my half", "my part")
    several = message.has("we", "us", "together")
    people = message.has_any(message.words.people)
    return message.has("together") and several and message.has("we") or message.has("split") and (people or several)


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


def _grams(amount: Amount) -> float:
    return amount.grams if amount.grams is not None else amount.value


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
    return message.vocabulary.resolve(words, " ".join(words)), batches[0].batch if batches else None, run


def _phrase_run(message: Message, fragment: Fragment) -> list[Chunk]:
    """The chunks of the food phrase: food words and the unknown words beside them, states between them left out."""
    known = message.words
    runs: list[list[Chunk]] = [[]]
    for chunk in fragment.chunks:
        text = chunk.text.lower()
        if chunk.kind == "food":
            runs[-1].append(chunk)
        elif chunk.kind == "batch" and chunk.batch is not None and not chunk.batch.sure and chunk.target:
            runs[-1].append(chunk)
        elif chunk.kind == "word" and not _is_known(message, text):
            runs[-1].append(chunk)
        elif chunk.kind == "word" and singular(text) in known.piece_nouns and message.vocabulary.knows(singular(text)):
            runs[-1].append(chunk)
        elif (
            chunk.kind in ("state", "whole", "size")
            or text in ("of", "(", ")", "-", '"', "'", "/")
            or text in known.harmless
        ):
            continue
        else:
            runs.append([])
    foods = [run for run in runs if any(c.kind != "word" for c in run)]
    if len(foods) > 1:
        return [c for run in foods for c in run]
    if foods:
        return foods[0]
    filled = [run for run in runs if run]
    return filled[-1] if filled and fragment.amounts else []


def _is_known(message: Message, word: str) -> bool:
    known = message.words
    return known.knows(word) or known.knows(singular(word)) or (len(word) < 2)


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
    if not kept:
        flipped = State.RAW if negated[0].state == State.COOKED else State.COOKED
        return flipped, "", False
    chosen = next((c for c in kept if c.method), kept[0])
    if len({c.state for c in kept}) > 1:
        amounts = [c for c in fragment.amounts if _weight(c)]
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


def _whole(fragment: Fragment) -> tuple[bool | None, str, float | None]:
    """(whole?, part, peeled grams): both weights told means whole with a peeled weight."""
    flags = fragment.of("whole")
    if not flags:
        return None, "", None
    part = next((c.part for c in flags if c.part), "")
    amounts = [c for c in fragment.amounts if _weight(c)]
    if {c.whole for c in flags} == {True, False} and len(amounts) == 2:
        edible = next(c for c in flags if not c.whole)
        nearest = min(amounts, key=lambda a: min(abs(a.end - edible.start), abs(edible.end - a.start)))
        assert nearest.amount is not None
        return True, part, _grams(nearest.amount)
    return all(c.whole for c in flags), part, None


def _others(message: Message, fragment: Fragment) -> float | None:
    """Grams of the amount that were for somebody else: '320 g rice, 130 of it for my son'."""
    for i, chunk in enumerate(fragment.chunks):
        if not _weight(chunk) or chunk.amount is None:
            continue
        rest = [singular(t.text) for c in fragment.chunks[i + 1 : i + 9] for t in message.tokens[c.start : c.end]]
        end = next((n for n, c in enumerate(fragment.chunks[i + 1 :]) if c.kind == "amount"), None)
        if end is not None:
            rest = [
                singular(t.text) for c in fragment.chunks[i + 1 : i + 1 + end] for t in message.tokens[c.start : c.end]
            ]
        someone = any(w in message.words.people or w in message.words.pronouns for w in rest)
        if someone and len([c for c in fragment.amounts if _weight(c)]) > 1 and chunk is not fragment.amounts[0]:
            return _grams(chunk.amount)
    return None


def _amounts(
    fragment: Fragment, run: Sequence[Chunk], peeled: bool, others: float | None
) -> tuple[Amount | None, Amount | None, bool, float | None]:
    """(amount, other measure, whether two masses disagree, cooked grams beside raw ones)."""
    told = [c.amount for c in fragment.amounts if c.amount is not None]
    masses = [a for a in told if a.kind == "mass"]
    rest = [a for a in told if a.kind != "mass"]
    if not masses:
        rest.sort(key=lambda a: a.kind == "measure")
        bare = [a for a in rest if a.kind == "bare"]
        if len(bare) > 1 and (others is not None or peeled):
            return bare[0], None, False, None
        if len(rest) > 1 and rest[0].kind in ("volume", "measure", "count") and bare and bare[0].value > 12:
            grams = replace(bare[0], kind="mass", unit="g", grams=bare[0].value)
            return grams, rest[0], False, None
        first = rest[0] if rest else None
        return first, (rest[1] if len(rest) > 1 else None), len(bare) > 1 and first is not None, None
    if len(masses) == 1 or others is not None:
        return masses[0], (rest[0] if rest else None), False, None
    if peeled:
        return masses[0], None, False, None
    states = [c.state for c in fragment.of("state")]
    if State.RAW in states and State.COOKED in states and len(masses) == 2:
        raw_first = states.index(State.RAW) < states.index(State.COOKED)
        raw, cooked = masses if raw_first else masses[::-1]
        return raw, None, False, cooked.grams
    agree = all(abs(_grams(m) - _grams(masses[0])) <= AGREE * _grams(masses[0]) for m in masses[1:])
    return masses[0], None, not agree, None


def _number_first(fragment: Fragment, run: Sequence[Chunk]) -> bool:
    if not run or not fragment.amounts:
        return False
    return fragment.amounts[0].start < run[0].start


def _timed(message: Message, built: Sequence[tuple[Item, Fragment]]) -> list[Item]:
    """Each item with its own time: one time is for all; several go each to the items beside them."""
    moments = [(c.start, c.moment) for c in message.of("moment") if c.moment is not None]
    meals = {m.meal for _, m in moments if m.meal}
    if len(meals) < 2:
        when = together([m for _, m in moments], message.around)
        return [replace(item, when=when) for item, _ in built]
    common = [m for _, m in moments if not m.meal]
    with_meal = [(s, m) for s, m in moments if m.meal]
    leading = bool(built) and with_meal[0][0] <= min(
        c.start for c in built[0][1].chunks if c.kind in ("amount", "food", "batch")
    )
    timed: list[Item] = []
    for item, fragment in built:
        place = max(c.start for c in fragment.chunks if c.kind in ("amount", "food", "batch"))
        own = _own_meal(with_meal, place, leading)
        timed.append(replace(item, when=together([*common, *([own] if own else [])], message.around)))
    return timed


def _own_meal(moments: Sequence[tuple[int, Moment]], place: int, leading: bool) -> Moment | None:
    at = bisect([start for start, _ in moments], place)
    index = at - 1 if leading else at
    return moments[index][1] if 0 <= index < len(moments) else None
