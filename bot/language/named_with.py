"""What is said beside a food's name and changes which food it is: how it was made, its skin, what it is packed in."""

from __future__ import annotations

from collections.abc import Sequence, Set
from dataclasses import replace

from bot.language.chunks import Chunk
from bot.language.fragments import Fragment
from bot.language.message import Message
from bot.language.name_tables import lemmas_of
from bot.language.names import NO_FOODS
from bot.language.text import singular
from bot.language.told import Name
from bot.language.word_lists import word_lists
from domain import reference
from domain.foods import State

WORDS = word_lists("telling")
MOST_OF_PACKING = 4
"""Words of the longest phrase for what a food is packed in."""


def made_so(
    message: Message, fragment: Fragment, name: Name, run: Sequence[Chunk], state: State | None, method: str
) -> tuple[Name, State | None, str]:
    """The food that has its own name when made so: 'okra … fried' is fried okra, 'mango … dried' dried mango."""
    said = {c.text.lower() for c in fragment.of("state")}
    foods = reference.load().foods
    food = foods.get(name.foods[0]) if name.foods else None
    row = food.row(state, method) if food is not None else None
    if not method or state is None or (row is not None and row.method == method):
        return name, state, method
    made = _one_named(message, name, run, [((word,), ()) for word in _alike(message, said)])
    if made is None:
        return name, state, method
    if made.foods[0] in foods and foods[made.foods[0]].row(state) is None:
        return made, None, ""
    return made, state, method


def with_its_skin(message: Message, name: Name, run: Sequence[Chunk], fragment: Fragment) -> tuple[Name, Fragment]:
    """'chicken thigh, skin on' is the food with skin, where there is one, and no skin that is thrown away."""
    skin = {word for way in WORDS["with_skin"] for word in way.split()}
    told = [c for c in fragment.of("whole") if c.part in skin]
    if not told:
        return name, fragment
    ways = [tuple(way.split()) for way in WORDS["with_skin" if told[0].whole else "without_skin"]]
    named = _one_named(message, name, run, [*(((), way) for way in ways), *((way, ()) for way in ways)])
    if named is None:
        return name, fragment
    return named, replace(fragment, chunks=[c for c in fragment.chunks if c not in told])


def is_packing(message: Message, chunk: Chunk) -> bool:
    """Whether a word tells what a food is packed in: 'in juice', 'in its own juice', 'in brine'."""
    words = [t.text for t in message.tokens[max(0, chunk.end - MOST_OF_PACKING) : chunk.end]]
    return any(" ".join(words[n:]) in WORDS["packed_in"] for n in range(len(words) - 1))


def is_purpose(message: Message, chunk: Chunk) -> bool:
    """Whether a food's name tells what another was for: 'broccoli for the greens', 'milk for my porridge'."""
    before = " ".join(t.text for t in message.tokens[max(0, chunk.start - 2) : chunk.start])
    return chunk.kind == "food" and before in WORDS["for_another"]


def _one_named(
    message: Message, name: Name, run: Sequence[Chunk], beside: Sequence[tuple[tuple[str, ...], tuple[str, ...]]]
) -> Name | None:
    """The other food that is called as this one is, with some of these words before or behind its name."""
    if name.unknown or name.combination or len(name.foods) > 1:
        return None
    typed = tuple(singular(t.text) for c in run for t in message.tokens[c.start : c.end])
    bases = (typed, *(lemmas_of(known) for known in (name.kinds, *name.foods) if known))
    for base in bases:
        for before, behind in beside:
            target = message.vocabulary.exact((*before, *base, *behind))
            if target is not None and not target.startswith(NO_FOODS) and (target,) != name.foods:
                return replace(name, foods=(target,), kinds=None)
    return None


def _alike(message: Message, said: Set[str]) -> list[str]:
    """The state words that were said, and their longer or shorter forms: 'roast' for 'roasted'."""
    return [w for w in message.words.states if any(w.startswith(s) or s.startswith(w) for s in said)]
