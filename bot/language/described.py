"""A description that stands behind its food, put in front of it: 'toast 38 g, the whole wheat kind', 'tuna (brine)'.

What a stretch behind a food says is taken for the food's kind where both together are one certain name of the table,
and where nothing in the stretch can be a food of its own: neither an amount nor a joining word stands beside it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from bot.language.chunks import Line
from bot.language.lexicon import lexicon
from bot.language.name_tables import COMBINATION, lemmas_of
from bot.language.told import Name
from bot.language.word_lists import word_lists
from domain import reference
from domain.foods import State

WORDS = word_lists("telling")
MOST_DESCRIBING = 4
"""Words of the longest description."""
OPENING, CLOSING = "([", ")]"
COMMA = ","
PARTICIPLE = "ed"
BEFORE_KIND = frozenset(",-:–—/") | frozenset(OPENING)
"""Signs that may stand between a food and its description."""
BEHIND_KIND = frozenset(",.;:!-") | frozenset(CLOSING)
"""Signs at which a description ends."""


class _Stretch(NamedTuple):
    """A description, by its tokens."""

    cut: int
    """Where what leads to it begins: a sign, 'the', 'of the'."""
    start: int
    end: int
    behind: int
    """Where what belongs to it ends: its words, 'kind' or 'one', a closing bracket."""
    marked: bool
    """Whether 'kind', 'one' or the like ends it."""
    from_there: bool
    """Whether it tells where the food is from: 'from the deli'."""
    alone: bool
    """Whether it stands behind a weight of the food, without one of its own."""


def described(line: Line) -> str | None:
    """The text with the first description that stands behind its food put in front of it; None if there is none."""
    if not line.number_places and WORDS["sort_of"].isdisjoint(line.plain):
        return None
    i = 0
    while i < len(line.tokens):
        found = line.name(i) if line.tokens[i].kind == "word" else None
        if found is None:
            i += 1
            continue
        if not found[0].startswith(COMBINATION):
            better = _described(line, i, found[1])
            if better is not None:
                return better
        i = found[1]
    return None


def _described(line: Line, start: int, end: int) -> str | None:
    """The text with the description of the food at start…end in front of it."""
    for stretch in _stretches(line, start, end):
        told = _told_with(line, start, end, stretch)
        if told is not None:
            tokens, whole = line.tokens, line.whole
            cut = tokens[stretch.cut - 1].end
            rest = whole[tokens[stretch.behind - 1].end :]
            return f"{whole[: tokens[start].start]}{told}{whole[tokens[end - 1].end : cut]}{rest}"
    return None


def _stretches(line: Line, start: int, end: int) -> Sequence[_Stretch]:
    """What may describe the food at start…end, in order."""
    found: list[_Stretch] = []
    weighed = _weighed_before(line, start)
    apart = from_there = False
    cut = j = end
    while j < len(line.tokens):
        text, token = line.text(j), line.tokens[j]
        amount = None if text in WORDS["describing"] or _in_name(line, j, start, end) else line.amounts.quantity(j)
        if amount is not None:
            if weighed or any(line.text(n) != COMMA for n in range(cut, j)):
                break
            weighed = apart = True
            cut = j = amount[1]
        elif token.kind == "sign" and text in BEFORE_KIND:
            apart, j = True, j + 1
        elif text in WORDS["describing"] or text in WORDS["from_there"] or _by_or_in(line, j):
            from_there = from_there or text in WORDS["from_there"]
            apart, j = True, j + 1
        else:
            stretch = _stretch(line, (start, end), cut, j, weighed, from_there) if apart else None
            if stretch is not None:
                found.append(stretch)
            if text not in line.words.states or cut < j - 1:
                break
            cut = j = j + 1
    return found


def _by_or_in(line: Line, i: int) -> bool:
    """Whether a word leads to how a food was cooked or packed: 'with steam', '(in oil)'."""
    if line.text(i) not in WORDS["in_water"]:
        return False
    return line.text(i + 1) in line.words.bare_verbs or line.text(i - 1) in OPENING


def _weighed_before(line: Line, start: int) -> bool:
    """Whether an amount stands before the food at token start in the same part of its sentence."""
    j = start - 1
    while j >= 0 and line.tokens[j].kind not in ("sign", "newline") and line.text(j) not in WORDS["joining"]:
        if line.tokens[j].kind == "number" or line.amounts.number(j) is not None:
            return True
        j -= 1
    return False


def _in_name(line: Line, i: int, start: int, end: int) -> bool:
    """Whether a word that may be a number is part of a name with the food at start…end: 'the zero one', 'double'."""
    word, food = line.lemmas[i], line.lemmas[start:end]
    return any(line.vocabulary.exact(tuple(name)) is not None for name in ([word, *food], [*food, word]))


def _stretch(
    line: Line, food: tuple[int, int], cut: int, start: int, weighed: bool, from_there: bool
) -> _Stretch | None:
    """The description of a food that begins at token start; None where what stands there can be none."""
    brackets = any(line.text(j) in OPENING for j in range(cut, start))
    end = start
    while end < len(line.tokens) and end - start < MOST_DESCRIBING and _may_describe(line, end, food):
        end += 1
    marked = line.text(end) in WORDS["sort_of"]
    if not marked:
        ending = _marked_end(line, start)
        marked, end = (True, ending) if ending is not None else (False, end)
    if end == start:
        return None
    behind = end + 1 if marked else end
    if behind < len(line.tokens) and not _ends(line, behind, weighed, marked):
        return None
    if cut == start and behind < len(line.tokens) and line.tokens[behind].kind == "word" and not marked:
        return None  # 'the peas, 150 g frozen into the stew'
    if brackets and line.text(behind) in CLOSING:
        behind += 1
    alone = weighed and cut < start and (behind >= len(line.tokens) or line.amounts.quantity(behind) is None)
    return _Stretch(cut, start, end, behind, marked, from_there, alone)


def _may_describe(line: Line, i: int, food: tuple[int, int]) -> bool:
    """Whether a token can be part of a description: a word that parts nothing and is no amount."""
    text = line.text(i)
    figure = text.endswith("%")
    if line.tokens[i].kind != "word" and not figure:
        return False
    if _parts(text) or text in WORDS["sort_of"] or line.lemmas[i] in line.words.parts:
        return False
    return figure or line.amounts.quantity(i) is None or _in_name(line, i, *food)


def _parts(word: str) -> bool:
    """Whether a word parts what is told before it from what is told behind it."""
    parting = (WORDS["joining"], WORDS["separating"], WORDS["breaking"], WORDS["carrying"], lexicon().negations)
    return any(word in words for words in parting)


def _marked_end(line: Line, start: int) -> int | None:
    """Where 'kind' or 'ones' ends a description with 'and' in it: 'the pork and apple ones'."""
    if line.text(start - 1) not in WORDS["describing"]:
        return None
    for j in range(start + 1, min(start + MOST_DESCRIBING + 1, len(line.tokens))):
        if line.text(j) in WORDS["sort_of"]:
            return j
        if line.tokens[j].kind != "word" or line.amounts.quantity(j) is not None:
            return None
    return None


def _ends(line: Line, i: int, weighed: bool, marked: bool) -> bool:
    """Whether a description may end before token i: it is not a food with its own amount."""
    if line.tokens[i].kind == "newline" or line.text(i) in BEHIND_KIND:
        after = i + 1
        return not (weighed and line.text(i) in "-" and after < len(line.tokens) and line.amounts.quantity(after))
    if line.amounts.quantity(i) is not None:
        return not weighed
    return marked or _parts(line.text(i)) or line.moments.read(i) is not None


def _told_with(line: Line, start: int, end: int, stretch: _Stretch) -> str | None:
    """The food with its description as one name, in the words that were typed; None where they name nothing certain."""
    food = [t.text for t in line.tokens[start:end]]
    plain = line.vocabulary.resolve(food, "")
    kind = [t.text for t in line.tokens[stretch.start : stretch.end]]
    typed, said = line.typed(start, end), line.typed(stretch.start, stretch.end)
    if all(word in line.words.states or word in line.words.filler for word in kind):
        return None
    if len(kind) == 1 and kind[0] in WORDS["tins"] and stretch.from_there:
        tinned = [w for w, (state, _) in line.words.states.items() if state is State.AS_SOLD and w.startswith(kind[0])]
        return f"{tinned[0]} {typed}" if tinned else None
    if len(kind) == 1 and kind[0] in line.words.bare_verbs:
        return f"{line.words.bare_verbs[kind[0]]} {typed}"
    own = any(_names_food(line, j, stretch.end) for j in range(stretch.start, stretch.end))
    for form in (kind, [word for word in kind if word not in line.words.states]):
        name = line.vocabulary.resolve([*form, *food], "")
        listed = line.vocabulary.exact(lemmas_of(" ".join([*form, *food]))) is not None
        same = (name.foods, name.kinds) == (plain.foods, plain.kinds)
        if not _is_certain(name) or (same and not (own and listed)):
            continue
        alone = line.vocabulary.resolve(kind, "").foods
        kind_of_it = same or _is_of(name, plain) or (_headed_by(name, plain) and alone in (name.foods, plain.foods))
        kind_of_it = kind_of_it or (listed and _is_open(plain) and not stretch.from_there)
        behind = line.vocabulary.exact(lemmas_of(" ".join([*food, *form]))) is not None and not listed
        if own and behind:
            continue  # 'sardines (oil)' are no sardine oil
        if not own or stretch.marked or (kind_of_it and stretch.alone):
            return f"{typed} {said}" if behind else f"{said} {typed}"
    packed = line.text(stretch.cut) in OPENING or not own
    for word in sorted(WORDS["in_water"]) if packed else ():
        if line.vocabulary.exact(lemmas_of(" ".join([*food, word, *kind]))) is not None:
            return f"{typed} {word} {said}"
    if stretch.marked and (own or any(_changes_it(line, word) for word in kind)) and not stretch.from_there:
        name = line.vocabulary.resolve([*kind, *food], "")
        return f"{said} {typed}" if name.foods or name.kinds else None
    return None


def _changes_it(line: Line, word: str) -> bool:
    """Whether a word tells what was done to a food that changes it: 'smoked', 'candied'."""
    plain = word in line.words.states or word in line.words.harmless or word in line.words.edible
    return word.endswith(PARTICIPLE) and not plain and line.vocabulary.knows(word)


def _names_food(line: Line, i: int, end: int) -> bool:
    found = line.name(i)
    return found is not None and found[1] <= end


def _is_certain(name: Name) -> bool:
    return bool(name.foods or name.kinds) and not name.unknown and not name.corrected and not name.combination


def _is_of(name: Name, plain: Name) -> bool:
    """Whether what is named is one of the kinds of the plain food."""
    return plain.kinds is not None and bool(name.foods) and set(name.foods) <= set(_kinds(plain))


def _headed_by(name: Name, plain: Name) -> bool:
    """Whether a food is called by the plain one's name with more before it: whole wheat pasta, of pasta."""
    if not name.foods or not plain.foods:
        return False
    head = lemmas_of(plain.foods[0])
    return lemmas_of(name.foods[0])[-len(head) :] == head


def _is_open(plain: Name) -> bool:
    """Whether a generic food has no kind that it is taken for without another word: soup, salad, pie."""
    return plain.kinds is not None and not plain.foods


def _kinds(plain: Name) -> tuple[str, ...]:
    return reference.load().kinds[plain.kinds].kinds if plain.kinds is not None else ()
