"""The frame for a packet's label, told in any order: the figures of one serving or 100 g, and the name."""

from __future__ import annotations

from bot.language.chunks import Chunk
from bot.language.figures import KCAL, Figures, Serving, figures
from bot.language.intents.keep import MACROS, saved_label
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.scene import Scene

MOST_NAME_WORDS = 4
PER_G = 100.0
"""What a label's figures are for where it has no serving."""


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
    values, start, end = told
    outside = [c for c in message.of("amount") if c.amount is not None and not start <= c.start < end]
    masses = [c.amount for c in outside if c.amount is not None and c.amount.kind == "mass"]
    measures = [c.amount for c in outside if c.amount is not None and c.amount.kind == "measure"]
    loose = [c.text.lower() for c in message.of("word") if c.text.lower() in message.words.loose_units]
    name = _name(scene, start)
    if len(masses) > 1 or len(measures) > 1 or not name:
        return None
    serving = Serving(
        masses[0].grams if masses else PER_G if _per_hundred(scene) else None,
        measures[0].unit if measures else next(iter(loose[:1]), None),
        measures[0].value if measures else 1.0,
    )
    return [saved_label(name, values, serving)]


def _per_hundred(scene: Scene) -> bool:
    """Whether the figures are for 100 g, as the law of the EU and the UK wants them."""
    per = [c for c in scene.message.of("noise") if c.text.startswith(f"{PER_G:g}")]
    return any(scene.message.line.text(c.start - 1) in pack()["for_each_of"] for c in per)


def _figures(scene: Scene) -> tuple[Figures, int, int] | None:
    """The longest run of figures with energy and at least two macronutrients: (figures, first token, end)."""
    line, last = scene.message.line, scene.message.chunks[-1].end
    for chunk in scene.message.chunks:
        if chunk.kind == "noise" or chunk.text.lower() in pack()["for_each_of"]:
            continue  # what they are for is none of them
        for found, end in figures(line, chunk.start, last):
            if not isinstance(found, Figures) or found.bare or found.get(KCAL) is None:
                continue
            if sum(found.get(name) is not None for name in MACROS) >= 2:
                return found, chunk.start, end
    return None


def _name(scene: Scene, until: int) -> str:
    """Its name: what follows 'call it', else the food or the words before the figures."""
    message, words = scene.message, pack()
    plain = message.line.plain
    for at in range(message.chunks[0].start, message.chunks[-1].end):
        behind = words["calling_it"].end(plain, at)
        if behind:
            return message.line.said(behind, message.chunks[-1].end).strip(" .!").lower()
    before = [c for c in message.chunks if c.end <= until]
    foods = [c for c in before if c.kind == "food"]
    told = foods[:1] or [c for c in before if c.kind == "word"]
    return " ".join(_bare_words(told)[:MOST_NAME_WORDS])


def _bare_words(chunks: list[Chunk]) -> list[str]:
    """The words without those that only introduce a name, and without a genitive ending."""
    said = (word.removesuffix("'s") for c in chunks for word in c.text.lower().split())
    return [word for word in said if word not in pack()["label_aside"] and word not in pack()["label_word"]]
