"""A sentence in fragments: cut at commas and 'and', put together again where they tell of one food."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from bot.language.chunks import Chunk
from bot.language.message import Message
from bot.language.text import singular
from bot.language.waste import is_weight

JOINING = frozenset({"and", "&", "n"})
SEPARATING = frozenset({"with", "w", "alongside", "followed", "topped"})
CARRYING = frozenset({"on", "over", "onto", "into"})
"""Words between two foods each of which is told by itself: '25 g peanut butter on two rice cakes'."""
BREAKING = frozenset(
    {"in", "on", "for", "from", "at", "to", "by", "into", "after", "before", "as", "because", "while", "when", "if"}
    | {"since", "during", "off", "out"}
)
"""Words that end a run of food words."""
MOST_COUNTED = 12
"""Up to this a number beside a food may be a count."""


@dataclass
class Fragment:
    """What stands between two separators."""

    joined: str
    """The separator before it."""
    chunks: list[Chunk] = field(default_factory=list)

    def of(self, *kinds: str) -> list[Chunk]:
        """The chunks of these kinds."""
        return [c for c in self.chunks if c.kind in kinds]

    @property
    def amounts(self) -> list[Chunk]:
        """Its amounts."""
        return self.of("amount")

    @property
    def foods(self) -> list[Chunk]:
        """Its foods and batches."""
        return [c for c in self.chunks if c.kind == "food" or (c.kind == "batch" and c.batch is not None)]

    @property
    def waste(self) -> list[Chunk]:
        """Its waste weights."""
        return [c for c in self.chunks if c.kind == "part"]


def fragments_of(message: Message, chunks: Sequence[Chunk]) -> list[Fragment]:
    """The sentence cut at its separators; a fragment's `joined` is the separator before it."""
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
    if text in JOINING or text in (",", ";", ":", "+", "plus", "then", "|", "also", "but"):
        return True
    if text in SEPARATING:
        return any(c.kind in ("amount", "food", "batch") for c in chunks[i + 1 : i + 5])
    if text in CARRYING:
        return any(c.kind in ("amount", "food") for c in chunks[i + 1 : i + 3]) and any(
            c.kind == "food" for c in chunks[:i]
        )
    return False


def pulled_apart(fragment: Fragment) -> list[Fragment]:
    """A fragment that lists several weigh-ins without commas, cut between them."""
    telling = [c for c in fragment.chunks if c.kind in ("amount", "food", "batch")]
    masses = list(fragment.amounts)
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


def merged(message: Message, fragments: Sequence[Fragment]) -> list[Fragment]:
    """Fragments that tell of one food put together: 'strawberries, 133 g', 'apple 196, core 17'."""
    joined: list[Fragment] = []
    for fragment in (f for f in fragments if _carries(message, f)):
        if fragment.foods and not fragment.of("state") and joined and _only_state(message, joined[-1]):
            fragment.chunks = [*joined.pop().chunks, *fragment.chunks]
        last = joined[-1] if joined else None
        if last is not None and _belongs(message, last, fragment):
            last.chunks.extend(fragment.chunks)
        else:
            joined.append(fragment)
    return joined


def _carries(message: Message, fragment: Fragment) -> bool:
    """Whether anything in a fragment bears on a weigh-in; mere chatter does not part what belongs together."""
    return bool(fragment.of("amount", "food", "batch", "state", "whole", "tare", "part")) or bool(
        unknown_words(message, fragment)
    )


def _only_state(message: Message, fragment: Fragment) -> bool:
    """'Baked for 20 minutes, my haddock …': a state that stands before the food it is of."""
    return (
        bool(fragment.of("state"))
        and not fragment.of("amount", "food", "batch")
        and not unknown_words(message, fragment)
    )


def _names_something(message: Message, fragment: Fragment) -> bool:
    return bool(fragment.foods) or bool(unknown_words(message, fragment))


def unknown_words(message: Message, fragment: Fragment) -> list[Chunk]:
    """Words that stand in no list and may be a food of no table."""
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
        unknown = unknown_words(message, fragment)
        counted = all(
            c.amount is not None and c.amount.kind in ("bare", "count") and c.amount.value <= MOST_COUNTED
            for c in fragment.amounts
        )
        if unknown and counted and last.foods and any(is_weight(c) for c in last.amounts) and fragment.joined == ",":
            fragment.chunks = [c for c in fragment.chunks if c.kind not in ("word", "amount")]
            return True
        if unknown and last.amounts:
            return False
        if unknown and not (len(unknown) <= 1 and last.foods):
            return False
        if for_others(message, fragment):
            return fragment.joined not in JOINING or part_of_it(message, fragment)
        return named and fragment.joined not in ("+", "plus")
    if fragment.of("state", "whole", "tare"):
        return named or bool(last.amounts)
    return False


def part_of_it(message: Message, fragment: Fragment) -> bool:
    """'130 of it', '150 g of that', 'of which 260 g': a part of what was told before."""
    said = " ".join(t.text for c in fragment.chunks for t in message.tokens[c.start : c.end])
    return any(f"of {w}" in said for w in ("it", "that", "which", "them", "those", "this", "these"))


def _named_after(message: Message, fragment: Fragment) -> bool:
    """Whether an unknown word follows the amount, where a food's name would stand ('80 g zibbernax')."""
    start = fragment.amounts[0].start
    return any(c.start > start for c in unknown_words(message, fragment))


def for_others(message: Message, fragment: Fragment) -> bool:
    """Whether somebody else's food is meant."""
    said = [singular(t.text) for c in fragment.chunks for t in message.tokens[c.start : c.end]]
    return any(w in message.words.people or w in message.words.pronouns for w in said)
