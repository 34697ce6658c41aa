"""Finding food names: the longest name that stands there, any word order, and misspellings within reach of one food."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import pairwise

from rapidfuzz import process
from rapidfuzz.distance import OSA

from bot.language.lexicon import lexicon
from bot.language.modifiers import by_fat_class, by_percentage, in_full, says_kind
from bot.language.name_tables import (
    COMBINATION,
    Lemmas,
    Names,
    is_rare,
    lemmas_of,
    own_words,
    personal_names,
    table_fat_classes,
    table_names,
)
from bot.language.slips import is_misspelt, is_slip, likeliest, once
from bot.language.surroundings import OwnWords
from bot.language.text import singular
from bot.language.told import Name
from bot.language.word_lists import word_lists
from domain import reference
from domain.quantities import Region
from domain.reference.words import is_action, is_notion, is_real_word

WORDS = word_lists("telling")
NO_FOODS = ("kinds:", COMBINATION)
"""Before what a name leads to where that is no food."""
NO_WORDS = OwnWords()
MAX_CANDIDATES = 4
MISSPELT_USES = 5
"""Names that a misspelling may stand in and still be one ('tomatoe'); a word of more names is spelt as it is meant."""
MOST_IN_FULL = 5
"""Words of a name that are looked at together where one of them has another spelling."""
MOST_WORDS = 10
"""Words that one food's name may have; a longer phrase names none."""
GROUPS = {
    "fish": {"fish"}, "seafood": {"fish"}, "meat": {"meat", "poultry", "sausages"}, "poultry": {"poultry"},
    "fruit": {"fruit"}, "veg": {"vegetables"}, "vegetable": {"vegetables"}, "veggie": {"vegetables"}, "nut": {"nuts"},
}  # fmt: skip
"""Words for a whole group of foods, with the table's groups that they stand for."""


class Vocabulary:
    """All food names one person can mean: their own words first, then their labels, then the table."""

    def __init__(self, labels: Iterable[str] = (), words: OwnWords = NO_WORDS, region: Region = Region.METRIC) -> None:
        self.region = region
        self.labels = personal_names(tuple(labels))
        own: tuple[Names, ...] = () if words == NO_WORDS else (own_words(words),)
        self.layers: tuple[Names, ...] = (*own, self.labels, table_names())

    def at(self, lemmas: Sequence[str], i: int, shortened: bool = True) -> tuple[str, int] | None:
        """The longest name that begins at word i: (target, end); `shortened`: some words may be of other spelling."""
        best: tuple[str, int] | None = None
        for layer in self.layers:
            for length in range(min(layer.longest.get(lemmas[i], 0), len(lemmas) - i), 0, -1):
                target = layer.exact.get(tuple(lemmas[i : i + length]))
                if target is not None:
                    if best is None or i + length > best[1]:
                        best = (target, i + length)
                    break
        if shortened and not lexicon().abbreviations.keys().isdisjoint(lemmas[i : i + MOST_IN_FULL]):
            longer = self._at_in_full(lemmas, i)
            if longer is not None and (best is None or longer[1] > best[1]):
                return longer
        return best

    def _at_in_full(self, lemmas: Sequence[str], i: int) -> tuple[str, int] | None:
        """The longest name at word i that has words of other spelling in it ('hot choc', 'sweet pot')."""
        for end in range(min(i + MOST_IN_FULL, len(lemmas)), i, -1):
            words = tuple(lemmas[i:end])
            for phrase in in_full(words, words):
                target = self.exact(phrase) if phrase != words else None
                if target is not None:
                    return target, end
        return None

    def exact(self, words: Lemmas) -> str | None:
        """What exactly these words name."""
        return next((layer.exact[words] for layer in self.layers if words in layer.exact), None)

    def knows(self, word: str) -> bool:
        """Whether a word stands in any name."""
        return any(word in layer.by_word for layer in self.layers)

    def is_head(self, word: str) -> bool:
        """Whether a name ends with a word in its singular, so that it may be what a food is: 'leg', not 'full'."""
        return any(lemmas[-1] == word for layer in self.layers for lemmas in layer.by_word.get(word, ()))

    def resolve(self, words: Sequence[str], text: str) -> Name:
        """What food the words of one phrase name; words that add nothing are left out of the account."""
        return _resolved(self, tuple(words), text)

    def looked_up(self, words: Lemmas, text: str) -> Name:
        """The same, never remembered."""
        lemmas = tuple(singular(w) for w in words)
        known = lexicon()
        telling = tuple(lemma for word, lemma in zip(words, lemmas, strict=True) if self._tells(lemma, word))
        if len(telling) > MOST_WORDS:
            return Name(text=text)
        target = self._as_it_stands(lemmas, telling, words)
        if target is not None:
            return self._named(text, target)
        bags = [bag for phrase in in_full(telling, words) if (bag := self._bag(phrase)) is not None]
        bags = [(target, tuple(w for w in left if not self._says_again(w, target))) for target, left in bags]
        bag = min(bags, key=lambda found: len(found[1]), default=None)
        if bag is not None and all(_is_piece(w, bag[0]) for w in bag[1]):
            return self._named(text, bag[0])
        of_kind = self._of_kind(lemmas, telling, words)
        if of_kind is not None:
            return self._named_among(text, of_kind)
        grouped = self._grouped(telling)
        if grouped is not None:
            return self._named(text, grouped)
        whole = tuple(w for w in lemmas if w not in known.filler)
        corrected = (self._corrected(whole, text) if whole != telling else None) or self._corrected(telling, text)
        if corrected is not None:
            return corrected
        translated = self._translated(telling)
        if translated is not None:
            return self._named(text, translated, corrected=True)
        own = self._own(telling)
        if own is not None:
            return self._named(text, own)
        if bag is None:
            return Name(text=text)
        typed = dict(zip(lemmas, words, strict=True))
        left = [w for w in bag[1] if not _is_piece(w, bag[0])]
        empty = {typed.get(w, w) for w in left if is_action(typed.get(w, w)) or is_notion(typed.get(w, w))}
        unknown = tuple(w for w in left if typed.get(w, w) not in empty)
        if empty and not unknown:
            text = " ".join(w for w in text.split() if w.lower() not in empty)  # "Which kind of gorgeous yogurt?"
        return self._named(text, bag[0], unknown=unknown)

    def _as_it_stands(self, lemmas: Lemmas, telling: Lemmas, typed: Sequence[str]) -> str | None:
        """What the words name in their order: as they are, less those that tell nothing, or spelt as in the table."""
        whole = tuple(w for w in telling if w not in lexicon().piece_nouns or w in WORDS["made_of"])
        for phrase in (lemmas, telling, whole):
            target = self.exact(phrase) or (None if self._slipped(phrase) else self._unglued(phrase))
            if target is None:
                target = next((named for way in in_full(phrase, typed) if (named := self.exact(way)) is not None), None)
            if target is not None:
                return target
        return None

    def _says_again(self, word: str, target: str) -> bool:
        """Whether a word adds nothing to a name: another name of the food, a word of its own, or for all of its kind.

        'spaghetti pasta', 'herring rollmops' (pickled herring), 'wholemeal tortilla wrap'.
        """
        named = self.exact((word,))
        if named is None or target.startswith(NO_FOODS):
            return named is not None and named == target
        if named == target or (named.startswith("kinds:") and target in _meant(named)):
            return True
        head = lemmas_of(named)  # 'whole wheat fusilli pasta': fusilli are pasta
        return not named.startswith(NO_FOODS) and lemmas_of(target)[-len(head) :] == head

    def _of_kind(self, lemmas: Lemmas, telling: Lemmas, typed: Sequence[str]) -> tuple[str, ...] | None:
        """The foods that the words name by how much fat or cocoa they have."""
        for phrase in (*in_full(lemmas, typed), *in_full(telling, typed)):
            if not says_kind(phrase):
                continue
            found = by_fat_class(phrase, table_fat_classes(), self._whole) or by_percentage(phrase, self._whole)
            if found:
                return found
        return None

    def _whole(self, words: Lemmas) -> str | None:
        """What a name with all of these words means, in any order."""
        bag = self._bag(words)
        return self.exact(words) or (bag[0] if bag is not None and not bag[1] else None)

    def _named_among(self, text: str, targets: Sequence[str]) -> Name:
        """The name of one target, or of foods between which the person decides."""
        if len(targets) == 1:
            return self._named(text, targets[0])
        return Name(text=text, foods=tuple(t for t in targets if not t.startswith(NO_FOODS))[:MAX_CANDIDATES])

    def _grouped(self, words: Lemmas) -> str | None:
        """The food named beside the word for its group ('fish cod', 'meat beef mince'), which adds nothing."""
        plain = tuple(w for w in words if w not in GROUPS)
        if not plain or len(plain) == len(words):
            return None
        target = self._whole(plain)
        if target is None:
            return None
        food = reference.load().foods.get(_meant(target)[-1])
        groups = [GROUPS[w] for w in words if w in GROUPS]
        return target if food is not None and all(food.group in group for group in groups) else None

    def _translated(self, words: Lemmas) -> str | None:
        """The name with each word that is another word for a food replaced by the food's own ('sweet spud')."""
        named = [self.exact((word,)) for word in words]
        own = tuple(n if n is not None and n.isalpha() else w for w, n in zip(words, named, strict=True))
        return self.exact(tuple(singular(w) for w in own)) if len(words) > 1 else None

    def _own(self, words: Lemmas) -> str | None:
        """The one label of the person's own whose name holds all the words ('casein' for 'casein vanilla powder')."""
        have = set(words)
        found = {target for lemmas, target in self.labels.exact.items() if have and have.issubset(lemmas)}
        return next(iter(found)) if len(found) == 1 else None

    def _tells(self, word: str, typed: str) -> bool:
        """Whether a word of a food phrase has to be accounted for; a filler counts as one only as it is typed."""
        known = lexicon()
        empty = word in known.harmless or (word in known.filler and (word == typed or typed in known.known))
        return not empty and (word not in known.piece_nouns or self.knows(word))

    def _named(self, text: str, target: str, unknown: Lemmas = (), corrected: bool = False) -> Name:
        if target.startswith(COMBINATION):
            word = target.removeprefix(COMBINATION)
            return Name(text=text, unknown=unknown, corrected=corrected, combination=word)
        if target.startswith("kinds:"):
            word = target.removeprefix("kinds:")
            kinds = reference.load().kinds[word]
            default = kinds.default_in(self.region)
            foods = (default,) if default else ()
            return Name(text=text, foods=foods, kinds=word, unknown=unknown, corrected=corrected)
        return Name(text=text, foods=(target,), unknown=unknown, corrected=corrected)

    def _slipped(self, words: Lemmas) -> bool:
        """Whether what would be two words glued together is rather one word misspelt ('pieapple')."""
        return (
            len(words) == 1
            and self._unglued(words) is not None
            and any(self.exact((near,)) for near in self._near(words[0]))
        )

    def _unglued(self, words: Lemmas) -> str | None:
        for layer in self.layers:
            lemmas = layer.glued.get("".join(words))
            if lemmas is not None:
                return layer.exact[lemmas]
        return None

    def _bag(self, words: Lemmas) -> tuple[str, Lemmas] | None:
        """The name with the most of the words, in any order, and the words it leaves over."""
        have = set(words)
        best: tuple[tuple[int, int, int, int], str, Lemmas] | None = None
        for layer in self.layers:
            for word in words:
                for lemmas in layer.by_word.get(word, ()):
                    if len(lemmas) > len(words) or not have.issuperset(lemmas):
                        continue  # 'red' is no 'red red'
                    # most words first; then the one that holds the head noun, which comes last; then what is together
                    places = [words.index(w) for w in lemmas]
                    score = (len(set(lemmas)), max(places), -len(lemmas), min(places))
                    if best is None or score > best[0]:
                        best = score, layer.exact[lemmas], lemmas
        if best is None:
            return None
        _, target, lemmas = best
        used = set(lemmas)
        return target, tuple(w for w in words if w not in used)

    def _corrected(self, words: Lemmas, text: str) -> Name | None:
        """The phrase with its unknown words put right, when that leads to a whole name."""
        readings: list[Lemmas] = [()]
        changed = False
        for word in words:
            options = self._spellings(word, words)
            if not options:
                return None
            changed = changed or options != [word]
            readings = [r + tuple(o.split()) for r in readings for o in options][:12]
        if not changed:
            return None
        found = {t for t in (self.exact(r) for r in readings) if t is not None}
        if not found:
            bags = [self._bag(reading) for reading in readings]
            found = {bag[0] for bag in bags if bag is not None and not bag[1]}
        if len({_meant(target) for target in found}) == 1:
            return self._named(text, min(found), corrected=True)
        if found:
            foods = tuple(t for t in sorted(found) if not t.startswith(NO_FOODS))[:MAX_CANDIDATES]
            return Name(text=text, foods=foods, corrected=True) if len(foods) > 1 else None
        return None

    def _spellings(self, word: str, words: Lemmas) -> list[str]:
        """What a word of a phrase may be: itself, what it is short for, what it was meant to be."""
        short = None if len(words) == 1 and is_real_word(word) else lexicon().abbreviations.get(word)
        if word.isdecimal() or self._stands(word):
            return [word]
        if not self.knows(word):
            return [short] if short else list(self._near(word)) or self._beside(word, words)
        bag = self._bag(words)
        if bag is not None and word not in bag[1]:
            return [word]
        if short:
            return [short]
        near = [w for w in self._near(word) if OSA.distance(w, word) == 1]
        return [word, *near] if len(words) > 1 else near

    def _stands(self, word: str) -> bool:
        """Whether a word is spelt as it is meant, because it stands in several names."""
        return sum(len(layer.by_word.get(word, ())) for layer in self.layers) > MISSPELT_USES

    def _near(self, word: str) -> tuple[str, ...]:
        """The vocabulary's words closest to a misspelt one, within one slip (two from six letters on)."""
        return _nearest(self, word)

    def nearest(self, word: str) -> tuple[str, ...]:
        """The same, never remembered."""
        one = word.removesuffix("s")
        if one != word and self.knows(one):
            return (one,)
        if is_misspelt(word, 3):
            doubled = {singular(word[:i] + word[i] + word[i:]) for i in range(1, len(word))}  # 'egs'
            twice = tuple(w for w in doubled if self.exact((w,)) and is_real_word(w))
            if len(twice) == 1:
                return twice
        if not is_misspelt(word, 4):
            return ()
        single = {once(word, i) for i, (a, b) in enumerate(pairwise(word)) if a == b}
        if any(self.exact((w,)) for w in single):
            return tuple(w for w in single if self.exact((w,)))
        reach = 1 if len(word) < 6 else 2
        found: dict[str, float] = {}
        for layer in self.layers:
            for choice, distance, _ in process.extract(
                word, layer.by_word.keys(), scorer=OSA.distance, score_cutoff=reach, limit=8
            ):
                if choice != word and len(choice) > 3 and is_slip(word, choice):
                    found[choice] = distance
        meant = likeliest(word, found) if found else ()
        own = any(choice in layer.by_word for choice in meant for layer in self.layers if not layer.shared)
        return () if not own and all(map(is_rare, meant)) else meant

    def _beside(self, word: str, words: Lemmas) -> list[str]:
        """The words one slip away that stand in a name together with another word of the phrase ('white rce')."""
        if not is_misspelt(word, 3):
            return []
        beside = {
            near
            for layer in self.layers
            for other in words
            if other != word
            for lemmas in layer.by_word.get(other, ())
            if len(lemmas) == len(words) and set(words) - set(lemmas) == {word}
            for near in set(lemmas) - set(words)
        }
        # Of three letters one may be missing; one exchanged for another leaves too little of a word ('btr', 'bar').
        least = 4 if len(word) == 3 else 3
        return [near for near in beside if len(near) >= least and OSA.distance(word, near, score_cutoff=1) <= 1]


@lru_cache(maxsize=1024)
def vocabulary(labels: tuple[str, ...], words: OwnWords, region: Region = Region.METRIC) -> Vocabulary:
    """The food names of a person with these labels and words of their own, where they live."""
    return Vocabulary(labels, words, region)


@lru_cache(maxsize=4096)
def _resolved(known: Vocabulary, words: Lemmas, text: str) -> Name:
    """What a phrase names: several templates ask for the same one, and people eat the same things again."""
    return known.looked_up(words, text)


@lru_cache(maxsize=4096)
def _nearest(known: Vocabulary, word: str) -> tuple[str, ...]:
    """What a word was meant to be: it is asked for with each phrase that it stands in."""
    return known.nearest(word)


def _is_piece(word: str, target: str) -> bool:
    """Whether a word beside what was named only says which piece of it: a rasher, a fillet; no biscuit or roll of it.

    What may be a dish made of it (`WORDS["made_of"]`) is a piece where the table has such pieces of the food.
    """
    if word not in lexicon().piece_nouns:
        return False
    if word not in WORDS["made_of"]:
        return True
    foods = reference.load().foods
    rows = (row for name in _meant(target) if name in foods for row in foods[name].rows)
    return any(word in piece.partition("@")[0].split() for row in rows for piece in row.pieces)


def _meant(target: str) -> tuple[str, ...]:
    """What a target stands for: two generic words of the same kinds are one ('yoghurt', 'yogourt')."""
    if not target.startswith("kinds:"):
        return (target,)
    kinds = reference.load().kinds[target.removeprefix("kinds:")]
    return (kinds.default or "", *kinds.kinds)
