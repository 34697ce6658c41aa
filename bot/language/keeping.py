"""What the person keeps: vessel weights, own measures, labels, raw-or-cooked habits."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.chunks import Chunk, Line
from bot.language.items import items
from bot.language.meanings import Amount, Meaning, Name, SaveHabit, SaveLabel, SaveMeasure, SaveTare
from bot.language.message import Message
from bot.language.noise import GLUED_MACROS, MACROS
from bot.language.text import singular

EQUALS = frozenset({"is", "=", "weighs", "equals", "holds", "means", "counts", "always"})


def keeping_topic(message: Message) -> list[Meaning] | None:
    """A tare, an own measure or a habit, if that is what a sentence is about."""
    for topic in (_tare, _measure, _habit):
        found = topic(message)
        if found is not None:
            return [found]
    return None


def _weights(message: Message) -> list[Chunk]:
    return [c for c in message.of("amount") if c.amount is not None and c.amount.kind in ("mass", "bare")]


def _tare(message: Message) -> Meaning | None:
    if message.asks:
        return None
    weights = _weights(message)
    said = message.said
    keyword = (bool(said) and "tare" in said[:3]) or message.has(
        "save tare", "new tare", "tare of", "tare for", "tare weight", "as a tare", "as tare"
    )
    vessels = [i for i, w in enumerate(said) if singular(w) in message.words.vessels]
    known = message.of("tare")
    if message.of("food") and not keyword and not _vessel_noun(message):
        return None
    if keyword and weights:
        return SaveTare(name=_vessel_name(message, weights), amount=weights[-1].amount)
    if not (vessels or known) or len(weights) != 1:
        return None
    links = message.has(
        "weighs",
        "weigh",
        "is",
        "empty",
        "weighed",
        "=",
        "tare",
        "itself",
        "alone",
        "without food",
        "was",
        "comes",
        "weight",
    )
    if (
        not links
        or message.has_any(message.words.eating - {"weighed", "had", "got", "have", "used"})
        or message.of("state", "batch")
        or message.has("cooked", "in the", "including", "with the")
    ):
        return None
    if any(c.amount is not None and c.amount.kind in ("measure", "count", "volume") for c in message.of("amount")):
        return None
    name = _vessel_name(message, weights)
    return SaveTare(name=name, amount=weights[0].amount) if name else None


def _vessel_noun(message: Message) -> bool:
    """'my soup pot weighs 900 g': the last word before the verb is a vessel, whatever food names it."""
    said = message.said
    for i, w in enumerate(said):
        if (
            w in ("weighs", "is", "=", "weighed", "empty", "weigh")
            and i
            and singular(said[i - 1]) in message.words.vessels
        ):
            return not any(
                c.amount is not None and c.amount.kind in ("measure", "volume") for c in message.of("amount")
            )
    return False


def _vessel_name(message: Message, weights: Sequence[Chunk]) -> str:
    drop = {"tare", "tares", "save", "new", "my", "the", "a", "an", "is", "weighs", "weigh", "weighed", "empty", "of", "for", ":", "=", "-", ",", ".", "please", "btw", "on", "its", "own", "our", "scale", "says", "to", "as", "weight",
        "alone", "itself", "when", "and", "that", "set", "add", "record", "note", "pls", "was", "by", "at", "without", "food", "now", "clean", "dry", "comes", "in", "exactly", "about", "it", "fyi", "remember", "!", "(", ")", "which", "just", "so", "you", "know", "me", "can", "could"}  # fmt: skip
    gone = {t for c in weights for t in range(c.start, c.end)}
    words = [
        t
        for c in message.chunks
        if c.kind not in ("moment",)
        for i, t in enumerate(message.tokens[c.start : c.end], c.start)
        if i not in gone
    ]
    return " ".join(t.text for t in words if t.text not in drop and t.kind == "word")


def _measure(message: Message) -> Meaning | None:
    """'my ladle of soup is 140 g', 'one scoop of whey = 31 g'."""
    chunks = message.chunks
    units = [
        c
        for c in chunks
        if c.kind == "amount"
        and c.amount is not None
        and c.amount.kind in ("measure", "volume", "count")
        and c.amount.unit not in ("box",)
    ]
    weights = [
        c
        for c in _weights(message)
        if (c.amount is not None and c.amount.kind == "mass") or (c.amount is not None and c.amount.value > 3)
    ]
    if len(weights) != 1 or message.asks or message.batch is not None:
        return None
    mine = message.has("my")
    unit, count = _measure_unit(message, units)
    if not unit:
        return None
    linked = any(w in EQUALS for w in message.said)
    if (
        not linked
        or message.has_any(message.words.eating - {"weighed", "have", "got", "had", "log", "used", "add"})
        or message.has("had", "ate")
    ):
        return None
    if not (
        mine
        or message.has(
            "=",
            "weighs",
            "equals",
            "is",
            "holds",
            "counts as",
            "always",
            "remember",
            "save",
            "means",
            "from now on",
            "next time",
        )
    ):
        return None
    name = _measured_name(message, weights)
    amount = weights[0].amount
    if name is None or amount is None:
        return None
    return SaveMeasure(name=name, measure=unit, count=count, amount=amount)


def _measured_name(message: Message, weights: Sequence[Chunk]) -> Name | None:
    """The food that a measure is of: a known one, else the words after 'of'."""
    told = [i.name for i in items(message.without(weights)) if i.name is not None]
    if told:
        return told[0]
    said = message.said
    if "of" not in said:
        return None
    words: list[str] = []
    for word in said[said.index("of") + 1 :]:
        if word in EQUALS or not word.isalpha() or word in ("this", "that", "it"):
            break
        if word not in ("the", "my"):
            words.append(word)
    return message.vocabulary.resolve(words, " ".join(words)) if words else None


def _measure_unit(message: Message, units: Sequence[Chunk]) -> tuple[str, float]:
    if units and units[0].amount is not None:
        return units[0].amount.unit, units[0].amount.value
    words = message.words
    for chunk in message.chunks:
        word = singular(chunk.text.lower())
        if chunk.kind == "word" and (word in words.loose_units or word in words.piece_nouns):
            return word, 1.0
        raw = chunk.text
        unit = words.volume_units.get(raw.lower())
        if chunk.kind == "word" and unit and len(raw) > 1:
            return unit, 1.0
    return "", 1.0


def _habit(message: Message) -> Meaning | None:
    """'I always weigh rice dry', 'my pasta is always weighed raw'."""
    states = message.of("state")
    standing = message.has(
        "always",
        "usually",
        "normally",
        "generally",
        "by default",
        "from now on",
        "every time",
        "as a rule",
        "in future",
        "in general",
        "default",
    )
    if len(states) != 1 or not standing or message.amounts or message.asks or states[0].state is None:
        return None
    told = [i for i in items(message) if i.name is not None and i.name.foods]
    if len(told) != 1 or told[0].name is None:
        return None
    return SaveHabit(name=told[0].name, state=states[0].state)


def label(message: Message) -> SaveLabel | None:
    """A packet's figures: serving, energy, macros; the food is what the label is of."""
    energy = message.of("energy")
    said = message.said
    if message.has("ate", "eaten", "had", "took", "i"):
        return None
    keyword = any(w in ("label", "labels", "packet", "package", "packaging", "nutrition", "tin") for w in said[:4])
    figures = _figures(message)
    if not keyword and not (
        energy and len(figures) >= 2 and message.has("serving", "per", "portion", "scoop", "label", "100 g", "100g")
    ):
        return None
    if not energy and len(figures) < 2:
        return None
    if message.has("target", "targets", "goal", "goals"):
        return None
    serving, measure, count, used = _serving(message)
    return SaveLabel(
        food=_label_name(message, used),
        serving_g=serving,
        kcal=_kcal(energy),
        protein_g=figures.get("protein_g"),
        fat_g=figures.get("fat_g"),
        carbohydrate_g=figures.get("carbohydrate_g"),
        fibre_g=figures.get("fibre_g"),
        alcohol_g=figures.get("alcohol_g"),
        measure=measure,
        measure_count=count,
    )


KJ_PER_KCAL = 4.184
"""Food energy in kJ per kcal, USDA Agriculture Handbook 74; only for labels that print no kcal."""


def _kcal(energy: Sequence[Chunk]) -> float | None:
    plain = [c for c in energy if c.field != "kj" and c.amount is not None]
    if plain and plain[0].amount is not None:
        return plain[0].amount.value
    kilojoules = [c.amount.value for c in energy if c.amount is not None]
    return kilojoules[0] / KJ_PER_KCAL if kilojoules else None


def _figures(message: Message) -> dict[str, float]:
    """The macro figures: 'protein 24 g', 'fat: 3', '24 g protein', '24p'; the order of the first holds for all."""
    line = Line(message.tokens, message.around, message.vocabulary)
    told: list[tuple[str, float]] = []
    number_end = -1
    for chunk in message.chunks:
        if chunk.kind == "energy":
            continue
        i = chunk.start
        while i < chunk.end:
            word = line.lemmas[i]
            read = line.amounts.quantity(i) if message.tokens[i].kind == "number" else None
            if read is not None and read[0].kind in ("mass", "bare"):
                told.append(("", _figure(read[0])))
                i = number_end = max(read[1], i + 1)
                continue
            if word in MACROS and (number_end in (i, i - 1) or _number_follows(line, i + 1)):
                told.append((MACROS[word], 0.0))
            elif word in GLUED_MACROS and chunk.kind == "macro":
                told.append((GLUED_MACROS[word], 0.0))
            i += 1
    return _paired(told)


def _number_follows(line: Line, i: int) -> bool:
    """Whether a nutrient word before token i has its figure behind it; in 'protein granola' it has none."""
    while line.text(i) in (":", "=", "-", "of", "is", "<", "which"):
        i += 1
    return i < len(line.tokens) and line.tokens[i].kind == "number"


def _paired(told: Sequence[tuple[str, float]]) -> dict[str, float]:
    """Each nutrient word with its number: the one behind it when a word comes first, else the one before it."""
    firsts = [i for i, (name, _) in enumerate(told) if name]
    if not firsts:
        return {}
    numbers = {i: value for i, (name, value) in enumerate(told) if not name}
    step = 1 if firsts[0] + 1 in numbers and (len(firsts) < 2 or firsts[0] + 2 in firsts or firsts[0] - 1 not in numbers) else -1
    if firsts[0] - 1 in numbers and firsts[-1] + 1 not in numbers:
        step = -1
    found: dict[str, float] = {}
    for i in firsts:
        if i + step in numbers:
            found.setdefault(told[i][0], numbers[i + step])
    return found


def _figure(amount: Amount) -> float:
    return amount.grams if amount.grams is not None else amount.value


def _serving(message: Message) -> tuple[float | None, str | None, float, list[Chunk]]:
    """(grams, measure word, count, the chunks that say it): 'serving 1 scoop (28 g)', '45 g serving', 'per 100 g'."""
    chunks = list(message.chunks)
    marks = [
        i
        for i, c in enumerate(chunks)
        if c.text.lower() in ("serving", "per", "servings", "portion", "each", "size")
        or (c.amount is not None and c.amount.unit == "serving")
    ]
    used: list[Chunk] = []
    measure: str | None = None
    count = 1.0
    grams: float | None = None
    for i in marks:
        for chunk in chunks[i : i + 8]:
            amount = chunk.amount
            if amount is None or chunk.kind != "amount":
                if chunk.kind in ("energy", "macro"):
                    break
                continue
            if amount.kind == "mass" and grams is None:
                grams, used = amount.grams, [*used, chunk]
            elif (
                amount.kind in ("measure", "volume", "count")
                and measure is None
                and amount.unit != "serving"
                and grams is None
            ):
                measure, count, used = amount.unit, amount.value, [*used, chunk]
        if grams is None and i and chunks[i - 1].amount is not None and chunks[i - 1].kind == "amount":
            before = chunks[i - 1].amount
            if before is not None and before.kind == "mass":
                grams, used = before.grams, [*used, chunks[i - 1]]
        if grams is not None:
            break
    if grams is None:
        masses = [c for c in message.of("amount") if c.amount is not None and c.amount.kind == "mass"]
        measures = [
            c for c in message.of("amount") if c.amount is not None and c.amount.kind in ("measure", "volume", "count")
        ]
        if masses and masses[0].amount is not None and not _after_macro(message, masses[0]):
            grams, used = masses[0].amount.grams, [*used, masses[0]]
        if measures and measures[0].amount is not None and measure is None:
            measure, count, used = measures[0].amount.unit, measures[0].amount.value, [*used, measures[0]]
    return grams, measure, count, used


def _after_macro(message: Message, chunk: Chunk) -> bool:
    return singular(message.word_before(chunk)) in MACROS or message.word_before(chunk) in (":", "=")


def _label_name(message: Message, used: Sequence[Chunk]) -> str:
    """The words between 'label' and the first figure."""
    drop = {
        "label",
        "labels",
        "new",
        "the",
        "for",
        "of",
        "my",
        "a",
        "save",
        "add",
        "says",
        "say",
        "serving",
        "per",
        "packet",
        "package",
        "on",
        "nutrition",
        "-",
        ":",
        ",",
        "this",
        "is",
        "from",
        "please",
        "here",
        "here's",
        "food",
        "called",
        "named",
        "to",
        "packaging",
        "pls",
        "reads",
        "one",
        "in",
        "gives",
        "i",
        "have",
        "size",
        "and",
        "portion",
        "tin",
        "each",
        "info",
        "facts",
        "figures",
        "values",
    }
    words: list[str] = []
    for chunk in message.chunks:
        if chunk.kind in ("amount", "energy", "macro", "newline") or chunk in used:
            if words:
                break
            continue
        text = message.phrase([chunk])
        if chunk.text in (":", ",", ";", ".") and words:
            break
        if singular(text) in MACROS and words and chunk.kind == "word":
            break
        words.extend(w for w in text.split() if w not in drop)
        if text in ("serving", "per") and words:
            break
    return " ".join(words)
