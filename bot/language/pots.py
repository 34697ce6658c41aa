"""What of a batch may fill a slot: which one, what goes in, its pieces, shares, places, vessels, other eaters."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from bot.language.belongings import by_age, named_batches, read_batch_number, read_tare
from bot.language.chunks import Line
from bot.language.name_tables import lemmas_of
from bot.language.pack import Concept, pack, plain
from bot.language.text import singular
from bot.language.told import BatchRef, TareRef
from bot.language.words import Filler, Words
from domain.reference.words import is_action

MOST_LISTED = 80
"""Tokens of what went in that one template takes."""
MOST_PAN_WORDS = 3
MOST_NAME_WORDS = 4
MOST_OTHER_WORDS = 5
"""Words for other eaters ('tim and the two kids')."""


def _ends(concept: Concept, line: Line, i: int) -> int:
    """Where the longest phrase of a concept that begins at token i ends; i where none does."""
    return concept.end(line.plain, i) or i


def _pot(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """'batch 2', '#2', 'the curry', 'curry', 'the soup pot', 'it': a batch, also where the word is a plain food too."""
    words = pack()
    at = _ends(words["pointing"], line, i)
    if line.text(at) == "#" and line.text(at + 1).isdecimal():
        number = int(line.text(at + 1)[:9])
        yield BatchRef(number=number, text=f"batch {number}"), at + 2
        return
    numbered = read_batch_number(line, at) if at < end else None
    if numbered is not None and numbered.batch is not None and numbered.batch.number is not None:
        yield numbered.batch, numbered.end
        return
    named = named_at(line, at) if at < end else None
    if named is not None and named[1] <= end:
        ref, behind = named
        pot = behind + (plain(line.text(behind)) in words["pot"])
        if pot > behind and pot <= end:
            yield ref, pot
        yield ref, behind
        return
    it = _ends(words["the_pot"], line, i)
    if i < it <= end:
        yield BatchRef(), it


def named_at(line: Line, i: int) -> tuple[BatchRef, int] | None:
    """The open batches that go by the words at token i; the plural and "'s" of a name are the name."""
    return line.once(_named_at, i) if line.batch_names else None


def _named_at(line: Line, i: int) -> tuple[BatchRef, int] | None:
    found = named_batches(line, i)
    food = line.name(i) if line.tokens[i].kind == "word" else None
    alike = tuple(n for n, target in line.batch_foods.items() if food is not None and target and target == food[0])
    if alike and food is not None and (found is None or food[1] >= found[1]):
        found = (alike, food[1])
    if found is None and line.tokens[i].text.endswith("'s"):
        bare = line.tokens[i].text.removesuffix("'s")
        numbers = tuple(b.number for lemmas, b in line.batch_names if bare in lemmas)
        found = (numbers, i + 1) if numbers else None
    if found is None:
        return None
    numbers, end = found
    numbers = by_age(line, i, end, numbers)
    return BatchRef(candidates=numbers, text=" ".join(t.text.removesuffix("'s") for t in line.tokens[i:end])), end


def _stretch(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """Foods with their amounts, up to a word that may end such a list or to the end of the clause."""
    stops = pack()["ends_list"]
    last = min(end, i + MOST_LISTED)
    for j in range(i + 1, last + 1):
        behind = plain(line.text(j)) if j < end else ""
        if j == end or behind in stops or (line.tokens[j].kind == "sign" and j < end):
            yield Words(i, j, line.said(i, j)), j


def _share(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """'a quarter', '2/3', 'half', '20 %': a part of one, as (fraction, words)."""
    number = line.amounts.number(i)
    percent = _percent(line, i)
    if percent is not None:
        value, behind = percent[0] / 100, percent[1]
    elif number is not None and number.value < 1:
        value, behind = number.value, number.end
    else:
        return
    if 0 < value < 1 and behind <= end:
        yield (value, line.said(i, behind)), behind


def _percent(line: Line, i: int) -> tuple[float, int] | None:
    """'20%', '20 percent': the number and where it ends."""
    said = line.text(i)
    glued = said.endswith("%")
    if not glued and line.text(i + 1) not in ("%", "percent"):
        return None
    number = said.removesuffix("%").replace(",", ".")
    return (float(number), i + 1 if glued else i + 2) if number.replace(".", "", 1).isdecimal() else None


def _pan(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """'in the karahi': the vessel that was on the scale, saved or not."""
    start = _ends(pack()["in_vessel"], line, i)
    for at in {start, i}:
        tare = read_tare(line, at) if at < end else None
        if tare is not None and tare.tare is not None and tare.end <= end:
            yield tare.tare, tare.end
            return
    if start == i:
        return
    for j in range(start + 1, min(end, start + MOST_PAN_WORDS) + 1):
        if line.tokens[j - 1].kind != "word" or line.text(j - 1) in line.words.meals:
            return
        if j == end:
            yield TareRef(name=" ".join(t.text for t in line.tokens[start:j])), j


def _place(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """'from the freezer', 'for the fridge'."""
    words = pack()
    at = _ends(words["to_place"], line, i)
    for place in ("freezer", "fridge"):
        behind = _ends(words[f"{place}_itself"], line, at)
        if at < behind <= end:
            yield place, behind


def one_of(word: str) -> str:
    """The singular of a word for pieces, also of one that no list has ('rotis')."""
    one = singular(word)
    return word.removesuffix("s") if one == word and word.endswith("s") and not word.endswith("ss") else one


def _piece_word(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """'rotis', 'slices': a word for pieces of a batch, in its singular."""
    word = one_of(line.text(i))
    if line.tokens[i].kind != "word" or len(word) < 3 or plain(line.text(i)) in pack()["box"]:
        return
    if word in line.words.meals:
        return
    own = any(word == b.piece or word in lemmas for lemmas, b in line.batch_names)
    if not own and word in line.words.loose_units:
        return  # a ladle of the soup is a measure
    if own or word in line.words.piece_nouns or not line.words.knows(line.text(i)):
        yield word, i + 1


def _part(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """'bones', 'shells': what is not eaten, in its singular."""
    if line.lemmas[i] in line.words.parts:
        yield line.lemmas[i], i + 1


def _other(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """Somebody else who eats: 'dan', 'my husband', 'the kids', 'the lady next door'."""
    words = pack()
    person = False
    for j in range(i, min(end, i + MOST_OTHER_WORDS)):
        token = line.tokens[j]
        if token.kind != "word" or plain(token.text) in words["myself"] or line.text(j) in line.words.eating:
            return
        if plain(token.text) in words["supposes"]:
            return  # 'if my sister had 300 g'
        led = j == i and plain(token.text) in words["came_to_grief"].words
        if led or named_at(line, j) is not None or plain(token.text) in words["eating_it"]:
            return
        one = singular(token.text.removesuffix("'s"))
        if (not person and is_action(token.text)) or plain(token.text) in words["later_on"].words:
            return  # 'finally sat down and ate half of it', 'is for Raj tomorrow'
        known = line.words.knows(token.text) or line.name(j) is not None
        if j == i and not person and plain(token.text) in words["story_verbs"].words:
            return  # 'sat down and had half of it'
        person = person or one in line.words.people or token.text in line.words.pronouns or not known
        if person:
            yield line.said(i, j + 1), j + 1


def _name_text(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A name to be given, as typed, up to the end of the clause."""
    yield line.said(i, end).strip(" \"'.,!"), end


def _old(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A batch that was cooked before, open or closed, by its name."""
    words = pack()
    at = _ends(words["pointing"], line, i)
    known = (*line.around.closed, *line.around.batches)
    numbered = read_batch_number(line, at) if at < end else None
    if numbered is not None and numbered.batch is not None and numbered.batch.number is not None:
        yield numbered.batch, numbered.end
        return
    for j in range(min(end, at + MOST_NAME_WORDS), at, -1):
        said = tuple(line.lemmas[at:j])
        found = [b for b in known if lemmas_of(b.name) == said] or [
            b for b in known if lemmas_of(b.name)[-len(said) :] == said or lemmas_of(b.name)[: len(said)] == said
        ]
        if found:
            yield BatchRef(candidates=tuple(b.number for b in found), text=line.said(at, j)), j


def _times(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """'double', 'half', '1.5 times': how many times a recipe."""
    words = pack()
    for factor, name in ((2.0, "twice"), (3.0, "thrice")):
        behind = _ends(words[name], line, i)
        if i < behind <= end:
            yield factor, behind
    number = line.amounts.number(i)
    if number is not None and number.end <= end:
        behind = _ends(words["times"], line, number.end)
        if behind > number.end or 0 < number.value < 1:
            yield number.value, behind


def _rest(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """All that follows, to be read further."""
    yield Words(i, end, line.said(i, end)), end


POT_SLOTS: Mapping[str, Filler] = {
    "pot": _pot,
    "stretch": _stretch,
    "share": _share,
    "pan": _pan,
    "place": _place,
    "pieces": _piece_word,
    "part": _part,
    "other": _other,
    "newname": _name_text,
    "old": _old,
    "rest": _rest,
    "times": _times,
}
