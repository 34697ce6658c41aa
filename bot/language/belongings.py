"""What the person already has, by number or name: weigh-ins, batches, vessels."""

from __future__ import annotations

from rapidfuzz.distance import OSA

from bot.language.chunks import Chunk, Line
from bot.language.name_tables import lemmas_of
from bot.language.numbers import Number
from bot.language.pack import pack
from bot.language.surroundings import KnownBatch
from bot.language.told import BatchRef, TareRef
from bot.language.vessel_sizes import size_ends
from domain import reference
from domain.reference.words import is_real_word

FROM = frozenset({"from", "of", "outta", "out", "took", "off"})
INSIDE = frozenset({"in", "with", "including", "incl", "inc", "include", "includes", "w", "inside", "plus"})
BATCH = frozenset({"batch", "batches", "btch", "bacth", "batch's"})
BATCHES = frozenset({"batches"})
SHORT_BATCH = "b"
"""What stands for the word right before a number ('b2')."""
LEAST_GRAMS = 100
"""From here on a number said behind 'batch' is its weight."""
MOST_SPOKEN = 99
"""The last number that people say behind 'number', rather than type it."""
LEAST_SHORT, LEAST_CUT = 3, 3
"""Letters that a batch's name may be shortened to, and letters that are left out then, at least."""
NAMED_NEAR = 4
"""Words behind a batch's name that may tell it apart from another of that name."""
VESSEL_SPAN = 4
"""Words that the name of a vessel may have."""


def read_hash(line: Line, i: int) -> Chunk | None:
    """'#12': a weigh-in by its number; after 'from' or before 'took' a batch."""
    numbered = line.text(i) in pack()["numbered_entry"] and line.text(i - 1) != "batch" and not _is_of_a_pot(line, i)
    boxed = line.text(i - 1) in pack()["a_box"]
    spoken = line.amounts.number(i + 1) if numbered and not boxed and i + 1 < len(line.tokens) else None
    if spoken is not None and spoken.word and spoken.value == int(spoken.value) and 0 < spoken.value <= MOST_SPOKEN:
        return None if line.amounts.unit(spoken.end) else line.make("hash", i, spoken.end, number=int(spoken.value))
    if not (line.text(i) == "#" or numbered) or not line.text(i + 1).isdecimal():
        return None
    if numbered and line.amounts.unit(i + 2):
        return None
    number = int(line.text(i + 1)[:30])
    if line.text(i - 1) in pack()["numbered_pot"]:
        # 'prep #1: …' counts what is cooked.
        if all(batch.number != number for batch in line.around.batches):
            return None
        return line.make("batch", i, i + 2, batch=BatchRef(number=number, text=f"batch {number}"))
    taking = line.text(i + 2) in ("took", "had", "ate", "grabbed") and line.amounts.quantity(i + 3) is not None
    if taking or line.text(i - 1) in FROM or (line.text(i - 1) == "the" and line.text(i - 2) in FROM):
        return line.make("batch", i, i + 2, batch=BatchRef(number=number, text=f"batch {number}"))
    return line.make("hash", i, i + 2, number=number)


def _is_of_a_pot(line: Line, i: int) -> bool:
    """'pot number seven', 'number two is a tray bake', and a batch of that name: whether 'number' counts pots."""
    before = line.text(i - 1) in pack()["numbered_pot"]
    announced = line.text(i + 2) in pack()["being"] and line.text(i + 3) in pack()["an_article"]
    return before or announced or named_batches(line, i) is not None


def read_batch_number(line: Line, i: int) -> Chunk | None:
    """'batch 2', 'batch two', 'b2' of one that is open, 'the batch'."""
    word = line.text(i)
    if word == SHORT_BATCH and i + 1 < len(line.tokens) and not line.tokens[i + 1].spaced:
        short = next((b.number for b in line.around.batches if str(b.number) == line.text(i + 1)), None)
        return (
            None if short is None else line.make("batch", i, i + 2, batch=BatchRef(number=short, text=f"batch {short}"))
        )
    if word not in BATCH or (word in BATCHES and _from_batches(line)):
        return None
    j = i + 1
    while line.text(j) in ("#", "no", ".", "number", "nr", "num") and j < i + 4:
        j += 1
    ordinal = (
        line.text(j + 1) in ("st", "nd", "rd", "th") and j + 1 < len(line.tokens) and not line.tokens[j + 1].spaced
    )
    weight = line.amounts.unit(j + 1) and (j == i + 1 or (j == i + 2 and line.text(i + 1) == "."))
    if line.text(j).isdecimal() and not ordinal and not weight:
        number = int(line.text(j)[:30])
        return line.make("batch", i, j + 1, batch=BatchRef(number=number, text=f"batch {number}"))
    spoken = _spoken_number(line, j) if j == i + 1 else None
    if spoken is not None:
        number = int(spoken.value)
        return line.make("batch", i, spoken.end, batch=BatchRef(number=number, text=f"batch {number}"))
    numbers = tuple(b.number for b in line.around.batches)
    named = named_batches(line, i + 1)
    if named is not None and line.text(i - 1) in ("the", "from", "of", "my"):
        return line.make(
            "batch", i, named[1], batch=BatchRef(candidates=named[0], text=" ".join(line.lemmas[i + 1 : named[1]]))
        )
    end = i + 1
    return line.make("batch", i, end, batch=BatchRef(candidates=numbers, text="the batch"), field="bare")


def _spoken_number(line: Line, i: int) -> Number | None:
    """The number said behind 'batch': one that a batch has, else the likeliest that is not its weight."""
    taken = {b.number for b in line.around.batches}
    said = [n for n in line.amounts.numbers.at(i) if n.word and n.value == int(n.value) and 0 < n.value < LEAST_GRAMS]
    return min(said, key=lambda n: (n.value not in taken, n.cost), default=None)


def read_batch_name(line: Line, i: int, said: bool = False) -> Chunk | None:
    """An open batch by its name; not sure where the word is a plain food too and is not `said` to be a batch's."""
    if not line.batch_names:
        return None
    if line.text(i) in pack()["of_before"] and i + 1 < len(line.tokens):
        # 'the leftover chili'
        behind = read_batch_name(line, i + 1, said=True)
        return None if behind is None else behind._replace(start=i)
    food = line.name(i) if line.tokens[i].kind == "word" else None
    named = named_batches(line, i)
    alike = tuple(n for n, target in line.batch_foods.items() if food is not None and target == food[0])
    if alike and food is not None and (named is None or food[1] >= named[1]):
        named = (alike, food[1])
    if named is None:
        return None
    numbers, end = named
    aged = bool(i) and any(line.plain[i - 1] in pack()[name] for name in ("newer_one", "older_one"))
    said = said or line.text(i - 1 - aged) in ("the", "that", "this", "from", "outta")
    if food is not None and food[1] > end:
        return None
    if food is not None and not said:
        whole = bool(alike) or any(
            _same_words(line, i, lemmas) and i + len(lemmas) == end for lemmas, _ in line.batch_names
        )
        told = _heads_a_name(line, i, end) and len(numbers) == 1 and _from_batches(line)  # 'beans from the pot'
        if not whole and not told and not (is_dish(food[0]) and _heads_a_name(line, i, end)):
            return None
    sure = said or food is None or is_dish(food[0]) or _by_whole_name(line, i, end) or _from_batches(line)
    more = line.text(end) in ("batch", "batches") and not line.text(end + 1).isdecimal()
    text = " ".join(t.text for t in line.tokens[i:end])
    ref = BatchRef(candidates=by_age(line, i, end, numbers), text=text, sure=sure or more)
    return line.make("batch", i, end + 1 if more else end, batch=ref, target=food[0] if food and food[1] == end else "")


def by_age(line: Line, i: int, end: int, numbers: tuple[int, ...]) -> tuple[int, ...]:
    """Of several batches of one name the newest or the oldest, if that is said: 'the new dal', 'dal, the old one'."""
    beside = [*line.plain[max(i - 1, 0) : i], *line.plain[end : end + NAMED_NEAR]]
    newer, older = (any(word in pack()[name] for word in beside) for name in ("newer_one", "older_one"))
    alike = {b.name.casefold() for b in line.around.batches if b.number in numbers}
    if len(numbers) < 2 or len(alike) > 1 or newer == older:
        return numbers
    return (max(numbers),) if newer else (min(numbers),)


def _from_batches(line: Line) -> bool:
    """Whether the line says that what it tells is from batches ('180 chix, 220 rice from the batches')."""
    return pack()["from_batches"].found(line.plain)


def _by_whole_name(line: Line, i: int, end: int) -> bool:
    """Whether an open batch's own name of several words is said in full ('pulled pork') and names none of its foods."""
    return any(
        len(lemmas) > 1
        and end - i == len(lemmas)
        and _same_words(line, i, lemmas)
        and lemmas not in map(lemmas_of, batch.ingredients)
        for lemmas, batch in line.batch_names
    )


def _heads_a_name(line: Line, i: int, end: int) -> bool:
    """Whether the words head an open batch's name: 'chili' that of a turkey chili, 'frijoles' of frijoles de olla."""
    n = end - i
    longer = [lemmas for lemmas, _ in line.batch_names if len(lemmas) > n]
    ends = any(_same_words(line, i, lemmas[-n:]) for lemmas in longer)
    return ends or any(lemmas[n] in pack()["behind_a_head"] and _same_words(line, i, lemmas[:n]) for lemmas in longer)


def is_dish(target: str) -> bool:
    """Whether the word is a dish: who has a batch of that name means the batch."""
    table = reference.load()
    kinds = table.kinds.get(target.removeprefix("kinds:")) if target.startswith("kinds:") else None
    foods = kinds.kinds if kinds is not None else (target,)
    return any(food in table.foods and table.foods[food].dish for food in foods)


def named_batches(line: Line, i: int) -> tuple[tuple[int, ...], int] | None:
    """Open batches that go by the words at i: by the whole name, else by a part of it."""
    return line.once(_named_batches, i) if line.batch_names else None


def _named_batches(line: Line, i: int) -> tuple[tuple[int, ...], int] | None:
    if i >= len(line.tokens) or line.tokens[i].kind != "word":
        return None
    near = [
        (lemmas, batch)
        for lemmas, batch in line.batch_names
        if any(_alike(line, line.lemmas[i], word) for word in lemmas)
    ]
    if not near:
        return None
    best: list[KnownBatch] = []
    length = 0
    for lemmas, batch in near:
        if _same_words(line, i, lemmas):
            if len(lemmas) > length:
                best, length = [], len(lemmas)
            if len(lemmas) == length:
                best.append(batch)
    if best:
        return tuple(b.number for b in best), i + length
    found, length = [], 0
    for lemmas, batch in near:
        run = 0
        while (
            run < len(lemmas)
            and i + run < len(line.lemmas)
            and any(_alike(line, line.lemmas[i + run], w) for w in lemmas)
        ):
            run += 1
        if run > length:
            found, length = [batch], run
        elif run and run == length:
            found.append(batch)
    telling = any(w not in line.words.filler for w in line.lemmas[i : i + length])
    return (tuple(b.number for b in found), i + length) if found and telling else None


def _same_words(line: Line, i: int, lemmas: tuple[str, ...]) -> bool:
    return i + len(lemmas) <= len(line.lemmas) and all(
        _alike(line, line.lemmas[i + n], w) for n, w in enumerate(lemmas)
    )


def _alike(line: Line, typed: str, word: str) -> bool:
    """Equal, or one slip apart in a word of five letters or more ('chili', 'chilli')."""
    if word in (typed, typed.removesuffix("s")):
        return True
    if _is_short_for(line, typed, word):
        return True
    if min(len(typed), len(word)) < 5:
        return False
    if typed.replace("ll", "l") == word.replace("ll", "l"):
        return True
    if abs(len(typed) - len(word)) > 2 or line.vocabulary.exact((typed,)) or line.words.knows(typed):
        return False
    return OSA.distance(typed, word) <= (1 if len(word) < 8 else 2)


def _is_short_for(line: Line, typed: str, word: str) -> bool:
    """Whether a word that means nothing else begins a longer one: 'bol' where a bolognese stands."""
    if not LEAST_SHORT <= len(typed) <= len(word) - LEAST_CUT or not word.startswith(typed):
        return False
    return not (line.words.knows(typed) or line.vocabulary.exact((typed,)) or is_real_word(typed))


def read_tare(line: Line, i: int) -> Chunk | None:
    """A saved vessel by its name, or 'in the green bowl' of one that is not known."""
    for lemmas, name, grams in line.tare_names:
        if lemmas and tuple(line.lemmas[i : i + len(lemmas)]) == lemmas:
            return line.make("tare", i, i + len(lemmas), tare=TareRef(name=name, grams=grams))
    part = _part_of_tare(line, i) if line.tare_names else None
    if part is not None:
        return part
    if line.text(i) not in INSIDE:
        return None
    start = i + 2 if line.text(i + 1) == "." else i + 1
    if line.text(start) in ("the", "my", "our"):
        start += 1
    elif start >= len(line.lemmas) or line.lemmas[start] not in line.words.vessels - line.words.loose_units:
        return None
    if _known_tare(line, start):
        return None
    end = _vessel_ends(line, start)
    if not end:
        return None
    if line.plain[start] in pack()["set_to_zero"]:
        return line.make("noise", i, end)
    name = " ".join(t.text for t in line.tokens[start:end])
    return line.make("tare", i, end, tare=near_tare(line, name))


def _vessel_ends(line: Line, start: int) -> int:
    """Where the name of a vessel that begins there ends; 0 if none does."""
    end = 0
    start = size_ends(line, start) or start
    for j in range(start, min(start + VESSEL_SPAN, len(line.tokens))):
        word = line.tokens[j]
        if word.kind != "word" or word.text in INSIDE or word.text in ("a", "the", "and", "of"):
            break
        if line.lemmas[j] in line.words.vessels:
            end = j + 1
    return end


def _part_of_tare(line: Line, i: int) -> Chunk | None:
    """A saved vessel by the last words of its name that no other has: 'blue pot' where there is a big blue pot."""
    for length in range(VESSEL_SPAN, 1, -1):
        said = tuple(line.lemmas[i : i + length])
        found = [
            (name, grams)
            for lemmas, name, grams in line.tare_names
            if len(lemmas) > length and lemmas[-length:] == said
        ]
        if len(found) == 1:
            return line.make("tare", i, i + length, tare=TareRef(name=found[0][0], grams=found[0][1]))
    return None


def near_tare(line: Line, name: str) -> TareRef:
    """A vessel saved under these words, or the only one that ends in the same word ('the bowl'); else a new one."""
    words = lemmas_of(name)
    whole = next(((n, g) for lemmas, n, g in line.tare_names if lemmas == words), None)
    if whole is not None:
        return TareRef(name=whole[0], grams=whole[1])
    same = [(n, g) for lemmas, n, g in line.tare_names if len(words) == 1 and lemmas and lemmas[-1] == words[-1]]
    return TareRef(name=same[0][0], grams=same[0][1]) if len(same) == 1 else TareRef(name=name)


def _known_tare(line: Line, i: int) -> bool:
    return any(lemmas and tuple(line.lemmas[i : i + len(lemmas)]) == lemmas for lemmas, _, _ in line.tare_names)
