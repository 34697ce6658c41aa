"""A packet's label in words: the serving, the energy, the macros, and what food it is of."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.chunks import Chunk, Line
from bot.language.meanings import Amount, SaveLabel
from bot.language.message import Message
from bot.language.noise import GLUED_MACROS, MACROS
from bot.language.text import singular

KJ_PER_KCAL = 4.184
"""Food energy in kJ per kcal, USDA Agriculture Handbook 74; only for labels that print no kcal."""


def label(message: Message) -> SaveLabel | None:
    """A packet's figures: serving, energy, macros; the food is what the label is of."""
    energy = message.of("energy")
    said = message.said
    if message.has("ate", "eaten", "had", "took", "i"):
        return None
    keyword = any(w in ("label", "labels", "packet", "package", "packaging", "nutrition", "tin") for w in said[:4])
    if not keyword and not energy:
        return None
    told = figures(message)
    if not keyword and not (
        len(told) >= 2 and message.has("serving", "per", "portion", "scoop", "label", "100 g", "100g")
    ):
        return None
    if not energy and len(told) < 2:
        return None
    if message.has("target", "targets", "goal", "goals"):
        return None
    serving, measure, count, used = _serving(message)
    return SaveLabel(
        food=_label_name(message, used),
        serving_g=serving,
        kcal=_kcal(energy),
        protein_g=told.get("protein_g"),
        fat_g=told.get("fat_g"),
        carbohydrate_g=told.get("carbohydrate_g"),
        fibre_g=told.get("fibre_g"),
        alcohol_g=told.get("alcohol_g"),
        measure=measure,
        measure_count=count,
    )


def _kcal(energy: Sequence[Chunk]) -> float | None:
    plain = [c for c in energy if c.field != "kj" and c.amount is not None]
    if plain and plain[0].amount is not None:
        return plain[0].amount.value
    kilojoules = [c.amount.value for c in energy if c.amount is not None]
    return kilojoules[0] / KJ_PER_KCAL if kilojoules else None


def figures(message: Message) -> dict[str, float]:
    """The macro figures: 'protein 24 g', 'fat: 3', '24 g protein', '24p'; the order of the first holds for all."""
    line = message.line
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
    step = (
        1
        if firsts[0] + 1 in numbers and (len(firsts) < 2 or firsts[0] + 2 in firsts or firsts[0] - 1 not in numbers)
        else -1
    )
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
    for i, chunk in enumerate(chunks):
        if not (chunk.text.lower() in SERVING or (chunk.amount is not None and chunk.amount.unit == "serving")):
            continue
        behind = _measures(_until_figures(chunks[i : i + SERVING_SPAN]))
        if behind[0] is None and i:
            before = _measures(chunks[i - 1 : i])
            behind = (before[0], behind[1], behind[2], [*before[3], *behind[3]])
        if behind[0] is not None:
            return behind
    return _measures([c for c in message.of("amount") if not _after_macro(message, c)])


SERVING = frozenset({"serving", "per", "servings", "portion", "each", "size"})
SERVING_SPAN = 8
"""How many chunks after the word 'serving' may say what one is."""


def _until_figures(chunks: Sequence[Chunk]) -> list[Chunk]:
    end = next((i for i, c in enumerate(chunks) if c.kind in ("energy", "macro")), len(chunks))
    return list(chunks[:end])


def _measures(chunks: Sequence[Chunk]) -> tuple[float | None, str | None, float, list[Chunk]]:
    """The first mass among the chunks, and the first measure before or beside it."""
    told = [(c, c.amount) for c in chunks if c.kind == "amount" and c.amount is not None]
    mass = next(((c, a) for c, a in told if a.kind == "mass"), None)
    kinds = ("measure", "volume", "count")
    measure = next(((c, a) for c, a in told if a.kind in kinds and a.unit != "serving"), None)
    used = [found[0] for found in (mass, measure) if found is not None]
    grams = mass[1].grams if mass is not None else None
    return grams, measure[1].unit if measure else None, measure[1].value if measure else 1.0, used


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
