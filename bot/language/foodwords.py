"""Foods, their states, and the parts that are eaten or not, where they stand in a message."""

from __future__ import annotations

from bot.language.chunks import Chunk, Line
from bot.language.lexicon import lexicon
from bot.language.pack import pack, plain
from bot.language.reckoning import reckoning
from bot.language.word_lists import word_lists
from domain import reference
from domain.foods import State

MOST_LINKING = 6
"""Words from 'before' or 'after' to what was done to the food: 'before I had cooked it'."""

FROM_ANIMALS, FROM_PLANTS = frozenset({"meat", "poultry", "fish"}), frozenset({"fruit", "vegetables"})
WASTE_GROUPS = {
    "bone": FROM_ANIMALS, "gristle": FROM_ANIMALS, "carcass": FROM_ANIMALS, "stone": FROM_PLANTS, "pit": FROM_PLANTS,
    "core": FROM_PLANTS, "peel": FROM_PLANTS, "pip": FROM_PLANTS, "rind": FROM_PLANTS | {"dairy"}, "cob": FROM_PLANTS,
    "husk": FROM_PLANTS, "pod": FROM_PLANTS | {"pulses"}, "skin": FROM_ANIMALS | FROM_PLANTS,
    "shell": frozenset({"nuts", "fish", "dairy"}),
}  # fmt: skip
"""The groups of foods that have a part which is thrown away."""


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
    if line.text(i - 1) in ("a", "an", "my") and line.text(i - 2) == "as":
        return None
    if plain(line.text(i - 1)) in pack()["subject_before_verb"]:
        return None
    if line.tokens[i].text == "water" and line.text(i - 1) in ("in", "salted"):
        return None
    found = line.name(i)
    return line.make("food", i, found[1], target=found[0]) if found else None


def begins_state_phrase(text: str) -> bool:
    """Whether a state said in several words can begin with such a token."""
    return text in lexicon().state_phrases or text in lexicon().state_moments


def begins_state(text: str) -> bool:
    """Whether a state can begin with such a token."""
    return text in lexicon().states or begins_state_phrase(text)


def read_state_phrase(line: Line, i: int) -> Chunk | None:
    """A state said in several words: 'pan fried', 'sunny side up', 'before it was cooked', 'once boiled'."""
    for words, (state, method) in line.words.state_phrases.get(line.text(i), ()):
        if _stands(line, i, words):
            return line.make("state", i, i + len(words), state=state, method=method)
    for words, before in line.words.state_moments.get(line.text(i), ()):
        done = _done_to_it(line, i + len(words)) if _stands(line, i, words) else None
        if done is not None:
            (state, method), end = (State.RAW, "") if before else done[0], done[1]
            return line.make("state", i, end, state=state, method=method)
    return None


def _stands(line: Line, i: int, words: tuple[str, ...]) -> bool:
    return all(line.text(i + n) == word for n, word in enumerate(words))


def _done_to_it(line: Line, i: int) -> tuple[tuple[State, str], int] | None:
    """The cooking that is told at word i, 'roasting' or 'it was roasted', and where it ends."""
    known, j = line.words, i
    while j < i + MOST_LINKING and line.text(j) in known.state_links:
        j += 1
    done = known.gerunds.get(line.text(j)) or known.states.get(line.text(j))
    return (done, j + 1) if done is not None and done[0] is State.COOKED else None


def read_state(line: Line, i: int) -> Chunk | None:
    """A state, in one word or several."""
    phrase = read_state_phrase(line, i)
    if phrase is not None:
        return phrase
    known = line.words.states.get(line.text(i))
    return None if known is None else line.make("state", i, i + 1, state=known[0], method=known[1])


WORDS = word_lists("telling")


def read_part(line: Line, i: int) -> Chunk | None:
    """'with core', 'skin on', 'without the stone or skin', 'unpeeled', 'boneless'."""
    word = line.text(i)
    if word in line.words.whole and word != "whole":
        return line.make("whole", i, i + 1, whole=True)
    if (
        word in WORDS["outsides"]
        and line.text(i + 1) in ("in", "on")
        and line.lemmas[i + 2 : i + 3] not in (["bowl"], ["the"])
        and line.text(i + 2) not in reckoning()["its"]
    ):
        return line.make("whole", i, i + 2, whole=True, part=word)
    told = _taken_off(line, i) or _comes_with(line, i)
    if told is not None:
        return told
    still = pack()["still_on_it"].end(line.plain, i + 1) if line.lemmas[i] in line.words.parts else None
    if still is not None:
        return line.make("whole", i, still, whole=True, part=line.lemmas[i])
    if word in WORDS["peeled"]:
        return line.make("whole", i, i + 1, whole=False, part=word.removesuffix("less"))
    part = pack()["edible_part"].end(line.plain, i)
    if part is not None:
        return line.make("whole", i, part, whole=False)
    if word in line.words.edible:
        return line.make("whole", i, i + 1, whole=False)
    if word == "whole" and line.name(i) is None:
        return line.make("whole", i, i + 1, whole=True)
    without = word in WORDS["excluding"] or (word == "w" and line.text(i + 1) == "/" and line.text(i + 2) == "o")
    if not (without or word in WORDS["including"]):
        return None
    j = i + (3 if word == "w" and without else 1)
    while line.text(j) in ("/", ".", "the", "its", "their", "any", "my", "all", "a") and j < i + 6:
        j += 1
    return _parts_from(line, i, j, whole=not without)


def _comes_with(line: Line, i: int) -> Chunk | None:
    """'in its skin', 'with the core'; 'with the peel off' is without it."""
    part = i + 2
    if line.text(i) not in ("in", "with") or line.text(i + 1) not in pack()["of_the_food"]:
        return None
    if part >= len(line.lemmas) or line.lemmas[part] not in line.words.parts:
        return None
    off = pack()["off_it"].end(line.plain, part + 1)
    if off is not None and not _weighed(line, off):
        return line.make("whole", i, off, whole=False, part=line.lemmas[part])
    return _parts_from(line, i, part, whole=True)


def _taken_off(line: Line, i: int) -> Chunk | None:
    """'skin off', 'rind cut off', 'stone is in the bin', and of a fruit that was named 'seeds only'."""
    part = line.lemmas[i]
    if part not in line.words.parts or part in WORDS["place_on_top"]:
        return None
    end = pack()["off_it"].end(line.plain, i + 1)
    if end is not None and not _weighed(line, end):
        return line.make("whole", i, end, whole=False, part=part)
    if line.text(i + 1) in pack()["and_no_more"] and any(_is_of_plant(line, j, i) for j in range(max(0, i - 4), i)):
        return line.make("whole", i, i + 2, whole=False)
    return None


def _weighed(line: Line, i: int) -> bool:
    """Whether an amount comes between token i and the next sign."""
    while i < len(line.tokens) and line.tokens[i].kind not in ("sign", "newline"):
        if line.amounts.quantity(i) is not None:
            return True
        i += 1
    return False


def _is_of_plant(line: Line, i: int, before: int) -> bool:
    """Whether a fruit or a vegetable is named at token i, with nothing of its name from token `before` on."""
    found = line.name(i)
    food = reference.load().foods.get(found[0]) if found is not None and found[1] <= before else None
    return food is not None and food.group in ("fruit", "vegetables")


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


def has_part(food: Chunk, part: str) -> bool:
    """Whether a food is of a group that has the part; True for a part of which that is not known."""
    groups = WASTE_GROUPS.get(part)
    return groups is None or _group(food) in groups


def _group(food: Chunk) -> str:
    table = reference.load()
    kinds = table.kinds.get(food.target.removeprefix("kinds:"))
    known = table.foods.get(kinds.kinds[0] if kinds is not None else food.target)
    return known.group if known is not None else ""
