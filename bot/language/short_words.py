"""Words in odd shapes, put in full before anything else reads them: 'stmd', 'cott chz', 'L:', 'sea bass steam'.

A short word that nobody knows is the word whose consonants it has, or with which it begins, where just one word fits
its place: a state or a food of its own by all its consonants, a word of a food's name beside the others of that name,
a meal at the head of a list. The bare verb of a kitchen beside a food says how it was cooked.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import cache

from bot.language.chunks import Line
from bot.language.lexicon import lexicon
from bot.language.name_tables import is_rare, lemmas_of, table_names
from bot.language.pack import pack, plain
from bot.language.surroundings import Surroundings
from bot.language.text import Token, singular
from domain import reference
from domain.reference.words import is_real_word

LEAST_SKELETON = 3
"""Letters of the shortest word that is taken for the consonants of another."""
PLURAL = "s"
DASH = "-"
SAID_ENDING, LOST_LETTER = "in", "g"
LEAST_LISTED = 2
"""Numbers of the shortest list of foods."""
MOST_SHORT = 9
"""Letters of the longest word that is looked at."""
MOST_PASSES = 3
"""Times the words are gone through: each that is found may be what tells the next."""

_SHAPE = re.compile(r"[a-z][b-df-hj-np-tv-z]+[aeiou]?")
"""A word without vowels but at its ends."""
_VOWEL_LAST = re.compile(r"[aeiou]$")
_VOWELS = re.compile(r"[aeiou]")
_TWICE = re.compile(r"(.)\1")
Ranked = dict[str, dict[str, int]]
"""Consonants → the words that have them, each with how far its spelling is from them; 0 where it is the same."""


def with_full_words(line: Line) -> Sequence[Token]:
    """The tokens, each odd word as the one that it can only stand for; the same sequence where there is none."""
    if not line.number_places:
        return line.tokens
    texts = [token.text for token in line.tokens]
    _meals_in_full(line, texts)
    _endings_in_full(line, texts)
    _clipped_in_full(line, texts)
    first = line.number_places[0] if pack()["names_something"].found(line.plain) else 0
    odd = [i for i in range(first, len(texts)) if texts[i] == line.tokens[i].text and _is_odd(line, i)]
    for _ in range(MOST_PASSES if odd else 0):
        found = [(i, full) for i in odd if (full := _in_full(line, texts, i)) is not None]
        for i, full in found:
            texts[i] = full
        odd = [i for i in odd if not any(i == done for done, _ in found)]
        if not found or not odd:
            break
    if not lexicon().bare_verbs.keys().isdisjoint(texts):
        _cooked_in_full(line, texts)
    if all(text == token.text for text, token in zip(texts, line.tokens, strict=True)):
        return line.tokens
    return [
        token if text == token.text else token._replace(text=text, raw=text)
        for text, token in zip(texts, line.tokens, strict=True)
    ]


def skeleton(word: str) -> str:
    """A word's first letter and the consonants behind it."""
    return word[:1] + _VOWELS.sub("", word[1:])


def _alike(word: str) -> str:
    """The word with each of the letters that sound alike as one of them."""
    for said, spelt in lexicon().same_sound.items():
        word = word.replace(said, spelt)
    return word


def _once(word: str) -> str:
    return _TWICE.sub(r"\1", word)


def skeletons(word: str) -> dict[str, int]:
    """What may be typed of a word without its vowels, each with how far its spelling is from the word's own."""
    ranked: dict[str, int] = {}
    for doubled, spelt in enumerate((_once(word), word)):
        for other, form in enumerate((spelt, _alike(spelt))):
            for plural, ending in enumerate(("", PLURAL)):
                ranked.setdefault(skeleton(form) + ending, 4 * doubled + 2 * other + plural)
    return ranked


def fitting(typed: str, words: Ranked) -> frozenset[str]:
    """Those of the words whose consonants are the closest to what was typed."""
    best: dict[str, int] = {}
    vowel = _VOWEL_LAST.search(typed)
    for far, key in enumerate((typed, _alike(typed), _once(_alike(typed)))):
        for word, rank in words.get(skeleton(key), {}).items():
            if len(word) > len(typed) and (vowel is None or word.endswith(vowel[0])):
                best[word] = min(best.get(word, 99), rank + 4 * (far == 2))
    least = min(best.values(), default=0)
    return frozenset(word for word, rank in best.items() if rank == least)


def _begun(typed: str, words: Ranked) -> frozenset[str]:
    """Those of the words whose consonants begin with what was typed."""
    return frozenset(word for key, same in words.items() if key.startswith(typed) for word in same)


@cache
def _states() -> Ranked:
    """The words for a state, for what was cut off and for what changes nothing."""
    known = lexicon()
    words = (*known.states, *known.edible, *known.harmless)
    return _ranked(word for word in words if word.isalpha() and is_real_word(word))


@cache
def _foods() -> Ranked:
    """The table's names of one word, those aside that are no English word and of one food alone ('egusi')."""
    single = (lemmas[0] for lemmas in table_names().exact if len(lemmas) == 1 and lemmas[0].isalpha())
    return _ranked(word for word in single if not is_rare(word))


@cache
def _pieces() -> Ranked:
    """The words for one piece of something."""
    return _ranked(lexicon().piece_nouns)


def _ranked(words: Iterable[str]) -> Ranked:
    found: Ranked = {}
    for word in words:
        if len(word) > LEAST_SKELETON and not _SHAPE.fullmatch(word):
            for key, rank in skeletons(word).items():
                found.setdefault(key, {})[word] = rank
    return found


def _is_odd(line: Line, i: int) -> bool:
    """Whether a token is a short word that nobody knows: no name of the person's own either."""
    word, known = line.text(i), line.words
    if line.tokens[i].kind != "word" or not 1 < len(word) <= MOST_SHORT or not word.isascii():
        return False
    if not word.isalpha() or not is_strange(line, i):
        return False
    if line.text(i + 1) in known.eating or line.text(i - 1) in pack()["behind_it_a_person"]:
        return False
    return word not in own_names(line.around)


def is_strange(line: Line, i: int) -> bool:
    """Whether a word stands in no list, in no name and in no dictionary."""
    word, known = line.text(i), line.words
    if known.knows(word) or word in known.units or line.lemmas[i] in known.abbreviations:
        return False
    return not line.vocabulary.knows(line.lemmas[i]) and word not in known.other_foods and not is_real_word(word)


def own_names(around: Surroundings) -> frozenset[str]:
    """The words of all names that the person or their kitchen gave."""
    given = [batch.name for batch in (*around.batches, *around.closed)] + [name for name, _ in around.tares]
    names = (*given, *around.labels, *around.clients, *around.coaches, *around.words.vessels)
    return frozenset(word for name in names for word in name.lower().split())


def _in_full(line: Line, texts: Sequence[str], i: int) -> str | None:
    """The one word that an odd one can stand for; None where there is none, or several."""
    beside = _of_a_name(line, texts, i)
    if beside:
        return beside[0] if len(beside) == 1 else None
    if not _SHAPE.fullmatch(texts[i]):
        return None
    if line.amounts.number(i - 1) is not None and line.tokens[i].spaced:
        pieces = fitting(texts[i], _pieces()) or _begun(texts[i], _pieces())
        exact = len(pieces) == 1 and texts[i] in skeletons(next(iter(pieces)))
        if len(pieces) == 1 and (exact or (i + 1 < len(texts) and line.tokens[i + 1].kind == "word")):
            return next(iter(pieces))
    if len(texts[i]) < LEAST_SKELETON:
        return None
    states, foods = fitting(texts[i], _states()), fitting(texts[i], _foods())
    if len(states) == 1 and _is_told_of(line, texts, i):
        return next(iter(states))
    if not states and not foods:
        foods = _lacking_one(texts[i])
    return min(foods) if not states and len({_meant(food) for food in foods}) == 1 else None


def _lacking_one(typed: str) -> frozenset[str]:
    """The foods of whose consonants just one is missing, neither the first nor the last: 'almds'."""
    key = typed.removesuffix(PLURAL)
    if len(key) <= LEAST_SKELETON or any(skeleton(word) == typed for word in lexicon().known):
        return frozenset()  # 'srry' is no sherry
    longer = {full: words for full, words in _foods().items() if len(full) == len(key) + 1 and full[-1] == key[-1]}
    lacking = {full: {full[:n] + full[n + 1 :] for n in range(1, len(key))} for full in longer}
    return frozenset(word for full, words in longer.items() if key in lacking[full] for word in words)


def _clipped_in_full(line: Line, texts: list[str]) -> None:
    """Puts 'tomato' for 'tom' in a list of foods with their amounts: alone it is an English word or a name."""
    short = line.words.abbreviations
    if len(line.number_places) < LEAST_LISTED:
        return
    for i, lemma in enumerate(line.lemmas):
        full = short.get(lemma, "")
        if not full.isalpha() or not is_real_word(texts[i]) or lemma in line.words.vessels or line.name(i) is not None:
            continue
        if texts[i] in own_names(line.around):
            continue
        behind = line.amounts.quantity(i + 1) is not None if i + 1 < len(texts) else False
        first = i == 0 or line.tokens[i - 1].kind in ("sign", "newline")
        if behind and first and any(line.name(j) is not None for j in range(len(texts)) if j != i):
            texts[i] = full


def _meant(word: str) -> object:
    target = table_names().exact[(word,)]
    kinds = reference.load().kinds.get(target.removeprefix("kinds:")) if target.startswith("kinds:") else None
    return target if kinds is None else (kinds.default, kinds.kinds)


def _of_a_name(line: Line, texts: Sequence[str], i: int) -> list[str]:
    """The words that an odd one can stand for in a name of the table together with the words right beside it."""
    word, names, found = texts[i], table_names(), set[str]()
    for j, before in ((i - 1, True), (i + 1, False)):
        if not 0 <= j < len(texts) or line.tokens[j].kind != "word":
            continue
        lemma = singular(texts[j])
        beside = line.words.abbreviations.get(lemma, lemma)
        for lemmas in names.by_word.get(beside, ()):
            if len(lemmas) == 2 and lemmas == ((beside, lemmas[1]) if before else (lemmas[0], beside)):
                other = lemmas[1] if before else lemmas[0]
                if _may_be(word, other):
                    found.add(other)
    return sorted(found)


def _may_be(word: str, full: str) -> bool:
    """Whether a word has the consonants of a full one, or is its beginning."""
    if len(full) <= len(word) or not full.isalpha():
        return False
    if len(word) < LEAST_SKELETON:
        return False
    if full.startswith(word):
        return True
    return _SHAPE.fullmatch(word) is not None and bool(fitting(word, {key: {full: 0} for key in skeletons(full)}))


def _is_told_of(line: Line, texts: Sequence[str], i: int) -> bool:
    """Whether the words right beside a word, those for a state and the signs aside, name a food."""
    known = line.words
    for step in (-1, 1):
        j = i + step
        while 0 <= j < len(texts) and (
            line.tokens[j].kind == "sign" or texts[j] in known.states or texts[j] in known.harmless
        ):
            j += step
        if 0 <= j < len(texts) and line.tokens[j].kind == "word" and _may_be_food(line, texts[j]):
            return True
    return False


def _may_be_food(line: Line, word: str) -> bool:
    lemma = singular(word)
    if line.vocabulary.knows(lemma) or lemma in line.words.abbreviations:
        return True
    return _SHAPE.fullmatch(word) is not None and bool(fitting(word, _foods()))


def _meals_in_full(line: Line, texts: list[str]) -> None:
    """Puts the meal for what heads a list and begins one meal's name: 'L:', 'brk:', 'yest din:', 'snk -'."""
    for i in range(len(texts) - 1):
        known = line.words.knows(texts[i]) and texts[i] not in line.words.units
        if known or line.tokens[i].kind != "word" or not _heads_list(line, i):
            continue
        if len(texts[i]) > LEAST_SKELETON and (is_real_word(texts[i]) or line.name(i) is not None):
            continue
        if texts[i] in own_names(line.around) or not pack()["the_writer"].words.isdisjoint(line.plain):
            continue
        meals = {meal for meal in line.words.meals.values() if _shortens(texts[i], meal)}
        if len(meals) == 1:
            texts[i] = meals.pop()


def _endings_in_full(line: Line, texts: list[str]) -> None:
    """Puts 'weighing' for 'weighin': the ending as it is said, of a word that is none without its last letter."""
    for i, word in enumerate(texts):
        if not word.endswith(SAID_ENDING) or line.tokens[i].kind != "word" or is_real_word(word):
            continue
        known = line.words.knows(word) or line.vocabulary.knows(line.lemmas[i]) or word in own_names(line.around)
        if is_real_word(word + LOST_LETTER) and not known:
            texts[i] = word + LOST_LETTER


def _heads_list(line: Line, i: int) -> bool:
    """Whether token i stands before a colon or a dash, and behind nothing but a day in its line."""
    sign = line.tokens[i + 1]
    after = line.tokens[i + 2] if i + 2 < len(line.tokens) else None
    if sign.text != ":" and not (sign.text == DASH and sign.spaced and after is not None and after.spaced):
        return False
    start = i
    while start and line.tokens[start - 1].kind != "newline" and line.text(start - 1) not in (".", ";"):
        start -= 1
    day = line.moments.read(start) if start < i else None
    return start == i or (day is not None and day[1] == i)


def _shortens(word: str, meal: str) -> bool:
    """Whether a word has the first letter of a meal's name and then some of its letters in their order."""
    letters = iter(meal)
    return word[:1] == meal[:1] and all(letter in letters for letter in word)


def _cooked_in_full(line: Line, texts: list[str]) -> None:
    """Puts 'steamed' for 'steam' beside a food, whichever side of it: 'sea bass steam', 'steam sea bass'."""
    verbs = line.words.bare_verbs
    for i, text in enumerate(texts):
        if text not in verbs or line.tokens[i].kind != "word":
            continue
        start = i - 1 if line.text(i - 1) in pack()["before_cooking_verb"] else i
        if plain(line.text(start - 1)) in pack()["no_state_behind"] or _in_longer_name(line, start, i):
            continue
        before = _names_food(line, texts, start - 1) and text not in pack()["names_a_dish"]
        behind = line.text(i + 1) in pack()["done_with_it"]
        after = i + 1 < len(texts) and line.name(i + 1) is not None and _begins(line, start)
        if before or behind or after:
            texts[i] = verbs[text]


def _begins(line: Line, i: int) -> bool:
    """Whether nothing but a sign, an amount or a joining word stands before token i."""
    before = line.text(i - 1)
    if i == 0 or line.tokens[i - 1].kind != "word" or before in pack()["joining"] or before in line.words.units:
        return True
    return line.amounts.number(i - 1) is not None


def _in_longer_name(line: Line, start: int, i: int) -> bool:
    """Whether the verb is part of a name of several words: 'stir fry vegetables', 'steam pudding'."""
    for j in range(max(0, start - 2), i + 1):
        found = line.name(j)
        if found is not None and j <= i < found[1] and found[1] - j > 1:
            return True
    return False


def _names_food(line: Line, texts: Sequence[str], j: int) -> bool:
    """Whether a food's name ends at token j, a word that was put in full too."""
    if j < 0 or line.tokens[j].kind != "word":
        return False
    ends = any((found := line.name(k)) is not None and found[1] == j + 1 for k in range(max(0, j - 3), j + 1))
    return ends or (texts[j] != line.text(j) and line.vocabulary.exact(lemmas_of(texts[j])) is not None)
