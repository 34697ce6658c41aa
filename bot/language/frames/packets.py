"""The frame for a packet's label, told in any order: the figures of one serving or 100 g, and the name."""

from __future__ import annotations

from collections.abc import Mapping

from bot.language.chunks import Chunk
from bot.language.figures import KCAL, Figures, Serving, figures, nutrient_at
from bot.language.intents.keep import MACROS, PER_HUNDRED, per_hundred, saved_label
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.scene import Scene

MOST_NAME_WORDS = 4


def packet(scene: Scene) -> list[Meaning] | None:
    """'1 scoop of my powder is 32 g, 120 kcal, 24 g protein', 'scoop is 30 g, 118 kcal, 24 protein, call it whey'."""
    message = scene.message
    if not scene.cue("label_word", "of_a_packet") or message.asks or message.when.future or scene.named:
        return None
    if scene.cue("ate", "i_ate", "target_word", "condition"):
        return None
    told = _figures(scene)
    if told is None:
        return None
    values, spans = told
    outside = [c for c in message.of("amount") if c.amount is not None and not any(a <= c.start < b for a, b in spans)]
    masses = [c.amount for c in outside if c.amount is not None and c.amount.kind == "mass"]
    measures = [c.amount for c in outside if c.amount is not None and c.amount.kind == "measure"]
    loose = [c.text.lower() for c in message.of("word") if c.text.lower() in message.words.loose_units]
    name = _name(scene, spans[0][0])
    if len(masses) > 1 or len(measures) > 1 or not name:
        return None
    serving = Serving(
        masses[0].grams if masses else PER_HUNDRED if _per_hundred(scene) else None,
        measures[0].unit if measures else next(iter(loose[:1]), None),
        measures[0].value if measures else 1.0,
    )
    return [saved_label(name, values, serving, per_hundred(message, serving))]


def _per_hundred(scene: Scene) -> bool:
    """Whether the figures are for 100 g, as the law of the EU and the UK wants them."""
    per = [c for c in scene.message.of("noise") if c.text.startswith(f"{PER_HUNDRED:g}")]
    return any(scene.message.line.text(c.start - 1) in pack()["for_each_of"] for c in per)


def _figures(scene: Scene) -> tuple[Figures, list[tuple[int, int]]] | None:
    """Figures with energy and at least two macronutrients, and where they stand: one run, or several put together."""
    line, last = scene.message.line, scene.message.chunks[-1].end
    for chunk in scene.message.chunks:
        if chunk.kind == "noise" or chunk.text.lower() in pack()["for_each_of"]:
            continue  # what they are for is none of them
        for found, end in figures(line, chunk.start, last):
            if isinstance(found, Figures) and not found.bare and _are_enough(found.values):
                return found, [(chunk.start, end)]
    return _put_together(scene)


def _put_together(scene: Scene) -> tuple[Figures, list[tuple[int, int]]] | None:
    """'118 kcal for 1 scoop, which is 31 g, protein 24.5, carbs 2, fat 1.4': runs with something else between them."""
    line, last = scene.message.line, scene.message.chunks[-1].end
    values: dict[str, float] = {}
    spans: list[tuple[int, int]] = []
    for chunk in scene.message.chunks:
        begins = chunk.kind in ("energy", "macro") or nutrient_at(line, chunk.start, last) is not None
        if not begins or (spans and chunk.start < spans[-1][1]):
            continue
        for found, end in figures(line, chunk.start, last):
            if isinstance(found, Figures) and found.values and not found.bare:
                if values.keys() & found.values.keys():
                    return None
                values |= found.values
                spans.append((chunk.start, end))
                break
    return (Figures(values), spans) if _are_enough(values) else None


def _are_enough(values: Mapping[str, float]) -> bool:
    """Whether it is what a packet prints: energy and at least two macronutrients."""
    return KCAL in values and sum(name in values for name in MACROS) >= 2


def _name(scene: Scene, until: int) -> str:
    """Its name: what follows 'call it', else the food or the words before the figures."""
    message, words = scene.message, pack()
    plain = message.line.plain
    for at in range(message.chunks[0].start, message.chunks[-1].end):
        named = words["calling_it"].end(plain, at)
        if named:
            return message.line.said(named, message.chunks[-1].end).strip(" .!").lower()
    before = [c for c in message.chunks if c.end <= until]
    foods = [c for c in before if c.kind == "food"]
    behind = [c for c in scene.foods if c.start > until and nutrient_at(message.line, c.start, c.end) is None]
    told = foods[:1] or [c for c in before if c.kind == "word"] or behind[-1:]
    return " ".join(_bare_words(told)[:MOST_NAME_WORDS])


def _bare_words(chunks: list[Chunk]) -> list[str]:
    """The words without those that only introduce a name, and without a genitive ending."""
    said = (word.removesuffix("'s") for c in chunks for word in c.text.lower().split())
    return [word for word in said if word not in pack()["label_aside"] and word not in pack()["label_word"]]
