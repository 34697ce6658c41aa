"""A message as chunks: amounts, foods, batches, states, times and vessels where they stand; the rest are words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from rapidfuzz.distance import OSA

from bot.language.amounts import AmountReader
from bot.language.lexicon import Lexicon, lexicon
from bot.language.meanings import Amount, BatchRef, TareRef
from bot.language.moments import Moment, MomentReader
from bot.language.names import Vocabulary, lemmas_of
from bot.language.surroundings import KnownBatch, Surroundings
from bot.language.text import Token, singular
from domain.foods import State

Kind = Literal[
    "amount", "food", "batch", "hash", "state", "whole", "part", "moment", "tare", "size", "noise", "price", "energy", "macro", "sign", "newline", "word"
]
CURRENCY = frozenset("$£€¥")
MACROS = {
    "protein": "protein_g", "prot": "protein_g", "fat": "fat_g", "carb": "carbohydrate_g", "carbohydrate": "carbohydrate_g",
    "carbo": "carbohydrate_g", "fibre": "fibre_g", "fiber": "fibre_g", "sugar": "sugars_g", "salt": "salt_g", "alcohol": "alcohol_g",
    "sat": "saturated_g", "saturate": "saturated_g", "polyol": "polyols_g", "sodium": "sodium_mg",
}  # fmt: skip
GLUED_MACROS = {"p": "protein_g", "f": "fat_g", "c": "carbohydrate_g"}
"""Shorthand that counts only when glued to its number: 200p 70f 300c."""
ENERGY = frozenset({"kcal", "kcals", "cal", "cals", "calorie", "calories", "kilocalories", "kj", "kc"})
FROM = frozenset({"from", "of", "outta", "out", "took", "off"})
TWO_WORD_STATES = {
    ("hard", "boiled"): "hard-boiled", ("soft", "boiled"): "soft-boiled", ("pan", "fried"): "pan-fried", ("stir", "fried"): "stir-fried",
    ("deep", "fried"): "deep-fried", ("air", "fried"): "air-fried", ("oven", "baked"): "oven-baked", ("slow", "cooked"): "slow-cooked",
}  # fmt: skip
GERUNDS = {
    "cooking": "cooked", "boiling": "boiled", "roasting": "roasted", "grilling": "grilled", "frying": "fried", "steaming": "steamed",
    "baking": "baked", "braising": "braised", "stewing": "stewed", "poaching": "poached", "microwaving": "microwaved", "simmering": "boiled",
}  # fmt: skip
"""'after roasting' is roasted, 'before roasting' is raw."""
INSIDE = frozenset({"in", "with", "including", "incl", "inc", "include", "includes", "w", "inside", "plus"})
VESSEL_SPAN = 4


@dataclass(frozen=True, slots=True)
class Chunk:
    """One recognised stretch of tokens; only the fields of its kind are set."""

    kind: Kind
    start: int
    end: int
    text: str
    amount: Amount | None = None
    target: str = ""
    """For a food: the name it was found under ('kinds:milk' for a generic word)."""
    batch: BatchRef | None = None
    state: State | None = None
    method: str = ""
    whole: bool = False
    part: str = ""
    moment: Moment | None = None
    tare: TareRef | None = None
    number: int = 0
    field: str = ""


class Scanner:
    """Turns tokens into chunks, left to right, the most telling reading of each place first."""

    def __init__(self, tokens: Sequence[Token], around: Surroundings, vocabulary: Vocabulary) -> None:
        self.tokens = tokens
        self.around = around
        self.vocabulary = vocabulary
        self.words: Lexicon = lexicon()
        self.lemmas = [singular(t.text) for t in tokens]
        self.amounts = AmountReader(tokens, self.words)
        self.moments = MomentReader(tokens, self.words, around.now, around.region)
        self.batch_names = [(lemmas_of(b.name), b) for b in around.batches]
        self.batch_foods = {b.number: vocabulary.exact(lemmas) for lemmas, b in self.batch_names}
        self.tare_names = sorted(((lemmas_of(n), n, g) for n, g in around.tares), key=lambda t: -len(t[0]))

    def chunks(self) -> list[Chunk]:
        found: list[Chunk] = []
        i = 0
        while i < len(self.tokens):
            chunk = self._chunk(i, found)
            found.append(chunk)
            i = chunk.end
        return found

    def _text(self, i: int) -> str:
        return self.tokens[i].text if 0 <= i < len(self.tokens) else ""

    def _make(self, kind: Kind, start: int, end: int, **more: object) -> Chunk:
        parts = [(" " if t.spaced and n else "") + t.raw for n, t in enumerate(self.tokens[start:end])]
        return Chunk(kind, start, end, "".join(parts), **more)  # type: ignore[arg-type]

    def _chunk(self, i: int, before: list[Chunk]) -> Chunk:
        token = self.tokens[i]
        if token.kind == "newline":
            return self._make("newline", i, i + 1)
        readers = (
            self._list_mark, self._price, self._numeric_noise, self._hash, self._batch_number, self._tare, self._batch_name,
            self._long_name, self._moment, self._macro, self._part, self._size, self._amount, self._state, self._name,
        )  # fmt: skip
        for reader in readers:
            chunk = reader(i)
            if chunk is not None:
                return chunk
        return self._make("sign" if token.kind == "sign" else "word", i, i + 1)

    def _list_mark(self, i: int) -> Chunk | None:
        starts = i == 0 or self.tokens[i - 1].kind == "newline"
        if not starts:
            return None
        if self._text(i) in ("-", "*", ">") and i + 1 < len(self.tokens) and self.tokens[i + 1].spaced:
            return self._make("noise", i, i + 1)
        if self._text(i).isdecimal() and len(self._text(i)) < 3 and self._text(i + 1) in (")", "."):
            after = self.tokens[i + 2] if i + 2 < len(self.tokens) else None
            if after is not None and after.spaced and after.kind != "newline":
                return self._make("noise", i, i + 2)
        return None

    def _price(self, i: int) -> Chunk | None:
        if self._text(i) in CURRENCY and i + 1 < len(self.tokens) and self.tokens[i + 1].kind == "number":
            end = i + 2
            if self._text(end) in ("a", "per", "/", "for", "the") and self.amounts.unit(end + 1):
                end += 2
            return self._make("price", i, end)
        if self.tokens[i].kind == "number" and (self._text(i + 1) in CURRENCY or self._text(i + 1) in ("euro", "euros", "dollars", "pence", "quid", "usd", "eur", "gbp", "bucks")):
            return self._make("price", i, i + 2)
        return None

    def _numeric_noise(self, i: int) -> Chunk | None:
        """Energy, temperatures, durations: numbers that are no amounts."""
        if self._text(i) in ("with", "at") and self._text(i + 1).endswith("%") and self._text(i + 2) in ("fat", "of"):
            return self._make("noise", i, i + 1)
        if self._text(i) in ("fat", "of") and (self._text(i - 1).endswith("%") or self._text(i - 2).endswith("%") and self._text(i - 1) == "of") and self._text(i) == ("of" if self._text(i + 1) == "fat" else "fat"):
            return self._make("noise", i, i + 1)
        if self.tokens[i].kind != "number":
            return None
        unit, raw = self._text(i + 1), self.tokens[i + 1].raw if i + 1 < len(self.tokens) else ""
        if self._text(i - 1) in ("per", "each") and self.amounts.unit(i + 1):
            return self._make("noise", i, i + 2)
        if unit in ENERGY:
            value = self.amounts.quantity(i)
            return self._make("energy", i, i + 2, amount=value[0] if value else None, field=unit)
        if unit == "°" or unit in ("degree", "degrees", "deg") or raw in ("C", "F", "ºC", "°C"):
            end = i + 3 if self._text(i + 2) in ("c", "f", "celsius", "fahrenheit", "centigrade") else i + 2
            return self._make("noise", i, end)
        if unit in ("min", "mins", "minute", "minutes", "hour", "hours", "hr", "hrs", "sec", "secs", "second", "seconds", "days", "weeks", "day", "week", "months", "years", "km", "reps", "steps", "people", "persons", "times"):
            return None if self._text(i + 2) in ("ago", "back", "earlier") else self._make("noise", i, i + 2)
        return None

    def _hash(self, i: int) -> Chunk | None:
        if self._text(i) != "#" or not self._text(i + 1).isdecimal():
            return None
        number = int(self._text(i + 1)[:30])
        if self._text(i - 1) in FROM or (self._text(i - 1) == "the" and self._text(i - 2) in FROM):
            return self._make("batch", i, i + 2, batch=BatchRef(number=number, text=f"batch {number}"))
        return self._make("hash", i, i + 2, number=number)

    def _batch_number(self, i: int) -> Chunk | None:
        word = self._text(i)
        if word not in ("batch", "batches", "btch", "bacth", "batch's"):
            return None
        j = i + 1
        while self._text(j) in ("#", "no", ".", "number", "nr", "num") and j < i + 4:
            j += 1
        if self._text(j).isdecimal() and not (j == i + 1 and self.amounts.unit(j + 1)):
            number = int(self._text(j)[:30])
            return self._make("batch", i, j + 1, batch=BatchRef(number=number, text=f"batch {number}"))
        if self._text(j) in self.words.numbers and j == i + 1 and self.words.numbers[self._text(j)] <= 12:
            number = int(self.words.numbers[self._text(j)])
            return self._make("batch", i, j + 1, batch=BatchRef(number=number, text=f"batch {number}"))
        numbers = tuple(b.number for b in self.around.batches)
        named = self._named_batches(i + 1)
        if named is not None and self._text(i - 1) in ("the", "from", "of", "my"):
            return self._make("batch", i, named[1], batch=BatchRef(candidates=named[0], text=" ".join(self.lemmas[i + 1 : named[1]])))
        end = i + 1
        return self._make("batch", i, end, batch=BatchRef(candidates=numbers, text="the batch"), field="bare")

    def _tare(self, i: int) -> Chunk | None:
        for lemmas, name, grams in self.tare_names:
            if lemmas and tuple(self.lemmas[i : i + len(lemmas)]) == lemmas:
                return self._make("tare", i, i + len(lemmas), tare=TareRef(name=name, grams=grams))
        if self._text(i) not in INSIDE or self._text(i + 1) not in ("the", "my", "our"):
            return None
        if self._known_tare(i + 2):
            return None
        end = 0
        for j in range(i + 2, min(i + 2 + VESSEL_SPAN, len(self.tokens))):
            if self.tokens[j].kind != "word" or self.tokens[j].text in INSIDE or self.tokens[j].text in ("a", "the", "and", "of"):
                break
            if self.lemmas[j] in self.words.vessels:
                end = j + 1
        if not end:
            return None
        name = " ".join(t.text for t in self.tokens[i + 2 : end])
        return self._make("tare", i, end, tare=self._near_tare(name))

    def _near_tare(self, name: str) -> TareRef:
        """An unknown vessel; one saved vessel that alone ends in the same word ('the bowl') is that one."""
        words = lemmas_of(name)
        same = [(n, g) for lemmas, n, g in self.tare_names if len(words) == 1 and lemmas and lemmas[-1] == words[-1]]
        return TareRef(name=same[0][0], grams=same[0][1]) if len(same) == 1 else TareRef(name=name)

    def _known_tare(self, i: int) -> bool:
        return any(lemmas and tuple(self.lemmas[i : i + len(lemmas)]) == lemmas for lemmas, _, _ in self.tare_names)

    def _named_batches(self, i: int) -> tuple[tuple[int, ...], int] | None:
        """Open batches that go by the words at i: by the whole name, else by a part of it."""
        if i >= len(self.tokens) or self.tokens[i].kind != "word":
            return None
        best: list[KnownBatch] = []
        length = 0
        for lemmas, batch in self.batch_names:
            if lemmas and self._same(i, lemmas):
                if len(lemmas) > length:
                    best, length = [], len(lemmas)
                if len(lemmas) == length:
                    best.append(batch)
        if best:
            return tuple(b.number for b in best), i + length
        found, length = [], 0
        for lemmas, batch in self.batch_names:
            run = 0
            while run < len(lemmas) and i + run < len(self.lemmas) and any(self._alike(self.lemmas[i + run], w) for w in lemmas):
                run += 1
            if run > length:
                found, length = [batch], run
            elif run and run == length:
                found.append(batch)
        telling = any(w not in self.words.filler for w in self.lemmas[i : i + length])
        return (tuple(b.number for b in found), i + length) if found and telling else None

    def _same(self, i: int, lemmas: tuple[str, ...]) -> bool:
        return i + len(lemmas) <= len(self.lemmas) and all(self._alike(self.lemmas[i + n], w) for n, w in enumerate(lemmas))

    def _alike(self, typed: str, word: str) -> bool:
        """Equal, or one slip apart in a word of five letters or more ('chili', 'chilli')."""
        if typed == word:
            return True
        if min(len(typed), len(word)) < 5 or abs(len(typed) - len(word)) > 2 or self.vocabulary.exact((typed,)) or self.words.knows(typed):
            if not (min(len(typed), len(word)) >= 5 and typed.replace("ll", "l") == word.replace("ll", "l")):
                return False
        return OSA.distance(typed, word) <= (1 if len(word) < 8 else 2)

    def _batch_name(self, i: int) -> Chunk | None:
        food = self.vocabulary.at(self.lemmas, i) if self.tokens[i].kind == "word" else None
        named = self._named_batches(i)
        same = tuple(n for n, target in self.batch_foods.items() if food is not None and target == food[0])
        if same and food is not None and (named is None or food[1] >= named[1]):
            named = (same, food[1])
        if named is None:
            return None
        numbers, end = named
        said = self._text(i - 1) in ("the", "that", "this") or self._text(i - 1) in ("from", "outta") or self._text(i + 0) == "batch"
        if food is not None and food[1] > end:
            return None
        if food is not None and not said:
            whole = bool(same) or any(self._same(i, lemmas) and i + len(lemmas) == end for lemmas, _ in self.batch_names)
            if not whole:
                return None
        sure = said or food is None
        more = self._text(end) in ("batch", "batches") and not self._text(end + 1).isdecimal()
        text = " ".join(t.text for t in self.tokens[i:end])
        ref = BatchRef(candidates=numbers, text=text, sure=sure or more)
        return self._make("batch", i, end + 1 if more else end, batch=ref, target=food[0] if food and food[1] == end else "")

    def _long_name(self, i: int) -> Chunk | None:
        """A name of several words, or one that begins with a number: it goes before any other reading."""
        if self.tokens[i].kind not in ("word", "number"):
            return None
        found = self.vocabulary.at(self.lemmas, i)
        if found is None or found[1] - i < 2:
            return None
        return self._make("food", i, found[1], target=found[0])

    def _name(self, i: int) -> Chunk | None:
        if self.tokens[i].kind != "word":
            return None
        if self._text(i - 1) in ("a", "an", "my") and self._text(i - 2) == "as" or self.tokens[i].text == "sweet":
            return None
        if self._text(i - 1) in ("i", "we", "i've", "you", "they", "he", "she"):
            return None
        if self.tokens[i].text == "water" and self._text(i - 1) in ("in", "salted"):
            return None
        found = self.vocabulary.at(self.lemmas, i)
        return self._make("food", i, found[1], target=found[0]) if found else None

    def _moment(self, i: int) -> Chunk | None:
        read = self.moments.read(i)
        return self._make("moment", i, read[1], moment=read[0]) if read else None

    def _macro(self, i: int) -> Chunk | None:
        """'24 g protein', 'protein 24 g', '70 fat': a figure of energy or nutrients, never food."""
        quantity = self.amounts.quantity(i) if self.tokens[i].kind == "number" else None
        if quantity is not None and quantity[0].kind in ("mass", "bare"):
            j = quantity[1] + 1 if self._text(quantity[1]) == "of" else quantity[1]
            word = self.lemmas[j] if j < len(self.lemmas) else ""
            if word in MACROS and self._ends_name(j):
                return self._make("macro", i, j + 1, amount=quantity[0], field=MACROS[word])
            if word in GLUED_MACROS and quantity[0].kind == "bare" and not self.tokens[j].spaced and self.tokens[j].raw.islower():
                return self._make("macro", i, j + 1, amount=quantity[0], field=GLUED_MACROS[word])
        return None

    def _ends_name(self, i: int) -> bool:
        """Whether the nutrient word at i is not the head of a food ('protein powder', 'fat free yogurt')."""
        found = self.vocabulary.at(self.lemmas, i)
        if found is not None and found[1] > i + 1:
            return False
        after = self.lemmas[i + 1] if i + 1 < len(self.lemmas) else ""
        return not (after in ("powder", "bar", "free", "shake", "yogurt", "yoghurt", "pancake", "bread", "granola") or self.lemmas[i] in ("sugar", "salt"))

    def _part(self, i: int) -> Chunk | None:
        """'with core', 'skin on', 'without the stone or skin', 'unpeeled', 'boneless'."""
        word = self._text(i)
        if word in self.words.whole and word != "whole":
            return self._make("whole", i, i + 1, whole=True)
        if word in ("bone", "skin", "shell", "peel") and self._text(i + 1) in ("in", "on") and self.lemmas[i + 2 : i + 3] not in (["bowl"], ["the"]):
            return self._make("whole", i, i + 2, whole=True, part=word)
        if word in ("in", "with") and self._text(i + 1) in ("its", "their", "the") and self.lemmas[i + 2 : i + 3] and self.lemmas[i + 2] in self.words.parts:
            return self._make("whole", i, i + 3, whole=True, part=self.lemmas[i + 2])
        if word in ("skinless", "stoneless", "seedless", "shell-less", "pitless"):
            return self._make("whole", i, i + 1, whole=False, part=word.removesuffix("less"))
        if word in self.words.edible:
            return self._make("whole", i, i + 1, whole=False)
        if word == "whole" and self.vocabulary.at(self.lemmas, i) is None:
            return self._make("whole", i, i + 1, whole=True)
        without = word in ("without", "no", "minus", "w/o", "excluding", "excl", "off") or (word == "w" and self._text(i + 1) == "/" and self._text(i + 2) == "o")
        including = word in ("with", "including", "incl", "inc", "w", "plus", "in")
        if not (without or including):
            return None
        j = i + (3 if word == "w" and without else 1)
        while self._text(j) in ("/", ".", "the", "its", "their", "any", "my", "all", "a") and j < i + 6:
            j += 1
        return self._parts_from(i, j, whole=not without)

    def _parts_from(self, start: int, j: int, whole: bool) -> Chunk | None:
        part = ""
        end = start
        while j < len(self.tokens) and self.lemmas[j] in self.words.parts:
            part, end = part or self.lemmas[j], j + 1
            j = j + 2 if self._text(j + 1) in ("or", "and", "&", "/") else j + 1
            while self._text(j) in ("the", "its"):
                j += 1
        if not part:
            return None
        if self._text(end) in ("on", "in", "still", "left", "attached") and self._text(end + 1) not in ("the", "my"):
            end += 1 if self._text(end) != "still" else 2
        if end < len(self.tokens) and self.tokens[end].kind == "number" and self._text(start) in ("minus", "off"):
            return None
        return self._make("whole", start, min(end, len(self.tokens)), whole=whole, part=part)

    def _size(self, i: int) -> Chunk | None:
        word = self._text(i)
        if word in ("extra", "x") and self.words.sizes.get(self._text(i + 1)) == "large":
            return self._make("size", i, i + 2, field="extra large")
        if word in self.words.sizes:
            end = i + 3 if self._text(i + 1) == "-" and self._text(i + 2) in ("sized", "size") else i + 1
            return self._make("size", i, end + (self._text(end) in ("sized", "size")), field=self.words.sizes[word])
        return None

    def _amount(self, i: int) -> Chunk | None:
        token = self.tokens[i]
        if token.text in ("a", "an") and i + 1 < len(self.tokens):
            number = self.amounts.number(i)
            if number is None:
                return self._article(i)
        read = self.amounts.amount(i) if token.kind in ("number", "word", "sign") else None
        if read is None:
            return None
        amount, end = read
        if amount.kind == "bare" and self._glued_name(i, end):
            return None
        counted = self._counted(i, amount, end) if amount.kind == "bare" and amount.doubt is None else None
        return counted or self._make("amount", i, end, amount=amount)

    def _glued_name(self, i: int, end: int) -> bool:
        """'v2', 'b12', 'size 3': a number that belongs to a name."""
        token = self.tokens[i]
        if i and not token.spaced and self.tokens[i - 1].kind == "word" and len(self.tokens[i - 1].text) == 1 and self.tokens[i - 1].text != "x":
            return True
        return self._text(i - 1) in ("size", "version", "type", "number", "no") and end == i + 1

    def _article(self, i: int) -> Chunk | None:
        """'a banana', 'a tsp', 'an egg': one, when a unit, a piece or a food comes next."""
        j = i + 1
        unit = self.amounts.unit(j)
        if unit and not (self._text(j) in ("t", "l", "st") and self.tokens[j].raw != "T"):
            kind, name, end = unit
            from domain import quantities

            grams = quantities.grams(1, name) if kind == "mass" else None
            return self._make("amount", i, end, amount=Amount(kind=kind, value=1, unit=name, grams=grams, text=self._said(i, end)))  # type: ignore[arg-type]
        return self._counted(i, Amount(kind="bare", value=1, text=self._text(i)), j)

    def _said(self, i: int, end: int) -> str:
        return " ".join(t.raw for t in self.tokens[i:end])

    def _counted(self, i: int, amount: Amount, end: int) -> Chunk | None:
        """A number before a size, a piece noun or a loose measure: '2 large', '3 slices', 'a scoop', '2 boxes'."""
        j = end
        if self._text(j) == "of" and self._text(j + 1) in ("the", "my", "those", "these") and amount.value >= 1:
            j += 2
        while self._text(j) in ("of", "more", "heaped", "level", "rounded", "heaping", "full", "generous", "whole", "good", "nice", "thin", "thick", "cheeky", "ripe", "massive", "huge") and self._text(j) != "of":
            j += 1
        size = ""
        sized = self._size(j) if j < len(self.tokens) else None
        if sized is not None:
            size, j = sized.field, sized.end
        word = self.lemmas[j] if j < len(self.lemmas) else ""
        if word == "box":
            return self._make("amount", i, j + 1, amount=Amount(kind="count", value=amount.value, unit="box", text=self._said(i, j + 1)))
        if word in ("t",) and j == end:
            return None
        food = self.vocabulary.at(self.lemmas, j) if j < len(self.lemmas) else None
        if word in self.words.piece_nouns and (food is None or self._text(j + 1) == "of"):
            unit = f"{size} {word}".strip()
            end = j + 2 if self._text(j + 1) == "of" else j + 1
            return self._make("amount", i, end, amount=Amount(kind="count", value=amount.value, unit=unit, text=self._said(i, j + 1)))
        if word in self.words.loose_units and (food is None or self._text(j + 1) == "of"):
            end = j + 2 if self._text(j + 1) == "of" else j + 1
            return self._make("amount", i, end, amount=Amount(kind="measure", value=amount.value, unit=word, text=self._said(i, j + 1)))
        if size:
            return self._make("amount", i, j, amount=Amount(kind="count", value=amount.value, unit=size, text=self._said(i, j)))
        if amount.text in ("a", "an") and (food is not None or self._state(j) is not None or self._text(j) in self.words.edible or j > end):
            return self._make("amount", i, i + 1, amount=Amount(kind="count", value=1, text=amount.text))
        return None

    def _state(self, i: int) -> Chunk | None:
        if i >= len(self.tokens):
            return None
        if self._text(i) in ("after", "before", "once", "when") and self._text(i + 1) in GERUNDS:
            state, method = self.words.states[GERUNDS[self._text(i + 1)]]
            if self._text(i) == "before":
                state, method = State.RAW, ""
            return self._make("state", i, i + 2, state=state, method=method)
        pair = TWO_WORD_STATES.get((self._text(i), self._text(i + 1)))
        if pair:
            state, method = self.words.states[pair]
            return self._make("state", i, i + 2, state=state, method=method)
        known = self.words.states.get(self._text(i))
        if known is None:
            return None
        return self._make("state", i, i + 1, state=known[0], method=known[1])
