"""Foods, their states, and the parts that are eaten or not, where they stand in a message."""

from __future__ import annotations

from bot.language.chunks import Chunk, Line
from bot.language.lexicon import lexicon
from domain.foods import State

TWO_WORD_STATES = {
    ("hard", "boiled"): "hard-boiled", ("soft", "boiled"): "soft-boiled", ("pan", "fried"): "pan-fried",
    ("stir", "fried"): "stir-fried", ("deep", "fried"): "deep-fried", ("air", "fried"): "air-fried",
    ("oven", "baked"): "oven-baked", ("slow", "cooked"): "slow-cooked",
}  # fmt: skip
GERUNDS = {
    "cooking": "cooked", "boiling": "boiled", "roasting": "roasted", "grilling": "grilled", "frying": "fried",
    "steaming": "steamed", "baking": "baked", "braising": "braised", "stewing": "stewed", "poaching": "poached",
    "microwaving": "microwaved", "simmering": "boiled",
}  # fmt: skip
"""'after roasting' is roasted, 'before roasting' is raw."""


def read_long_name(line: Line, i: int) -> Chunk | None:
    """A name of several words, or one that begins with a number: it goes before any other reading."""
    if line.tokens[i].kind not in ("word", "number"):
        return None
    found = line.name(i)
    if found is None or found[1] - i < 2:
        return None
    return line.make("food", i, found[1], target=found[0])


def read_name(line: Line, i: int) -> Chunk | None:
    """A food's name of one word."""
    if line.tokens[i].kind != "word":
        return None
    if (line.text(i - 1) in ("a", "an", "my") and line.text(i - 2) == "as") or line.tokens[i].text == "sweet":
        return None
    if line.text(i - 1) in ("i", "we", "i've", "you", "they", "he", "she"):
        return None
    if line.tokens[i].text == "water" and line.text(i - 1) in ("in", "salted"):
        return None
    found = line.name(i)
    return line.make("food", i, found[1], target=found[0]) if found else None


SET_BEFORE_STATE = frozenset({"after", "before", "once", "when"})
"""Words before a gerund that says a state."""


def begins_state(text: str) -> bool:
    """Whether a state can begin with such a token."""
    return text in lexicon().states or text in SET_BEFORE_STATE or any(text == first for first, _ in TWO_WORD_STATES)


def read_state(line: Line, i: int) -> Chunk | None:
    """A state word; 'after boiling' says one too."""
    if i >= len(line.tokens):
        return None
    if line.text(i) in SET_BEFORE_STATE and line.text(i + 1) in GERUNDS:
        state, method = line.words.states[GERUNDS[line.text(i + 1)]]
        if line.text(i) == "before":
            state, method = State.RAW, ""
        return line.make("state", i, i + 2, state=state, method=method)
    pair = TWO_WORD_STATES.get((line.text(i), line.text(i + 1)))
    if pair:
        state, method = line.words.states[pair]
        return line.make("state", i, i + 2, state=state, method=method)
    known = line.words.states.get(line.text(i))
    if known is None:
        return None
    return line.make("state", i, i + 1, state=known[0], method=known[1])


OUTSIDES = frozenset({"bone", "skin", "shell", "peel"})
"""Parts that are said to be in or on."""
PEELED = frozenset({"skinless", "stoneless", "seedless", "shell-less", "pitless"})
EXCLUDING = frozenset({"without", "no", "minus", "w/o", "excluding", "excl", "off"})
INCLUDING = frozenset({"with", "including", "incl", "inc", "w", "plus", "in"})


def begins_part(text: str) -> bool:
    """Whether what says which parts were weighed can begin with such a token."""
    words = lexicon()
    return any(text in some for some in (words.whole, words.edible, OUTSIDES, PEELED, EXCLUDING, INCLUDING, ("whole",)))


def read_part(line: Line, i: int) -> Chunk | None:
    """'with core', 'skin on', 'without the stone or skin', 'unpeeled', 'boneless'."""
    word = line.text(i)
    if word in line.words.whole and word != "whole":
        return line.make("whole", i, i + 1, whole=True)
    if word in OUTSIDES and line.text(i + 1) in ("in", "on") and line.lemmas[i + 2 : i + 3] not in (["bowl"], ["the"]):
        return line.make("whole", i, i + 2, whole=True, part=word)
    if (
        word in ("in", "with")
        and line.text(i + 1) in ("its", "their", "the")
        and line.lemmas[i + 2 : i + 3]
        and line.lemmas[i + 2] in line.words.parts
    ):
        return line.make("whole", i, i + 3, whole=True, part=line.lemmas[i + 2])
    if word in PEELED:
        return line.make("whole", i, i + 1, whole=False, part=word.removesuffix("less"))
    if word in line.words.edible:
        return line.make("whole", i, i + 1, whole=False)
    if word == "whole" and line.name(i) is None:
        return line.make("whole", i, i + 1, whole=True)
    without = word in EXCLUDING or (word == "w" and line.text(i + 1) == "/" and line.text(i + 2) == "o")
    if not (without or word in INCLUDING):
        return None
    j = i + (3 if word == "w" and without else 1)
    while line.text(j) in ("/", ".", "the", "its", "their", "any", "my", "all", "a") and j < i + 6:
        j += 1
    return _parts_from(line, i, j, whole=not without)


def _parts_from(line: Line, start: int, j: int, whole: bool) -> Chunk | None:
    part = ""
    end = start
    while j < len(line.tokens) and line.lemmas[j] in line.words.parts:
        part, end = part or line.lemmas[j], j + 1
        j = j + 2 if line.text(j + 1) in ("or", "and", "&", "/") else j + 1
        while line.text(j) in ("the", "its"):
            j += 1
    if not part:
        return None
    if line.text(end) in ("on", "in", "still", "left", "attached") and line.text(end + 1) not in ("the", "my"):
        end += 1 if line.text(end) != "still" else 2
    if end < len(line.tokens) and line.tokens[end].kind == "number" and line.text(start) in ("minus", "off"):
        return None
    return line.make("whole", start, min(end, len(line.tokens)), whole=whole, part=part)
