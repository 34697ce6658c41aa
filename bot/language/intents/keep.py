"""What the person keeps: vessels, measures, labels, habits: from readings to meanings."""

from __future__ import annotations

from typing import cast

from bot.language.fact_meanings import SaveHabit, SaveLabel, SaveMeasure, SaveTare
from bot.language.figures import KCAL, Figures, Serving
from bot.language.grammar import Reading
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.told import Amount, Name
from bot.language.words import Words
from domain.foods import State

LEAST_BARE_G = 3.0
"""A bare number up to it is no weight of a measure."""
MACROS = ("protein_g", "fat_g", "carbohydrate_g")
PER_HUNDRED = 100.0
"""Grams that a label's figures are for by Regulation (EU) 1169/2011, article 32."""


def tare(reading: Reading, message: Message) -> Meaning | None:
    """A vessel's empty weight."""
    words, amount = cast(Words, reading["name"]), cast(Amount, reading["weight"])
    if message.asks or (not reading.values.get("said") and message.of("state", "batch")):
        return None
    return SaveTare(name=words.text.lower(), amount=amount)


def measure(reading: Reading, message: Message) -> Meaning | None:
    """'my ladle of soup is 140 g', 'one scoop of whey = 31 g'."""
    unit, amount = cast(Amount, reading["measure"]), cast(Amount, reading["weight"])
    if message.asks or amount.doubt is not None or (amount.kind == "bare" and amount.value <= LEAST_BARE_G):
        return None
    if "food" not in reading.values:
        return None
    return SaveMeasure(name=cast(Name, reading["food"]), measure=unit.unit, count=unit.value, amount=amount)


def habit(reading: Reading, message: Message) -> Meaning | None:
    """The standing answer to 'raw or cooked?'."""
    name, (state, _) = cast(Name, reading["food"]), cast("tuple[State | None, str]", reading["state"])
    if message.asks or state is None or not name.foods or message.amounts:
        return None
    return SaveHabit(name=name, state=state)


def label(reading: Reading, message: Message) -> Meaning | None:
    """A packet's figures for its serving; without a word for a label, only where they can be nothing else."""
    figures, serving = cast(Figures, reading["figures"]), cast("Serving | None", reading.values.get("serving"))
    words = [cast(Words, reading.values[key]) for key in ("lead", "after") if key in reading.values]
    said = [word for part in words for word in message.line.plain[part.start : part.end]]
    called = pack()["label_word"].found(said)
    told = [name for name in MACROS if figures.get(name) is not None]
    inside = [c for c in message.of("amount") if any(w.start <= c.start < w.end for w in words)]
    if any(c.amount is not None and c.amount.kind in ("mass", "volume") for c in inside):
        return None
    if figures.bare or any(word in pack()["ate"] for word in said) or pack()["target_word"].found(said):
        return None
    if serving is None and not told and message.of("moment"):
        return None  # 'lunch was a tuna sandwich, pack says 412 kcal' was eaten
    if not called and (serving is None or len(told) < 2):
        return None
    if figures.get(KCAL) is None and len(told) < 2:
        return None
    return saved_label(_name(words, message), figures, serving or Serving(None), per_hundred(message, serving))


def per_hundred(message: Message, serving: Serving | None) -> bool:
    """Whether a label's figures are for 100 g, although its serving is another: '35 g a bar, per 100 g 418 kcal, …'."""
    line, first, last = message.line, message.chunks[0].start, message.chunks[-1].end
    said = [
        n
        for n in range(first + 1, last)
        if line.text(n) == f"{PER_HUNDRED:g}" and line.plain[n - 1] in pack()["for_each_of"]
    ]
    told = [c.start for c in message.of("energy", "macro")]
    if serving is None or serving.grams in (None, PER_HUNDRED) or len(said) != 1 or not told:
        return False
    weighed = [c.start for c in message.of("amount") if c.amount is not None and c.amount.grams == serving.grams]
    if said[0] < told[0]:
        return not any(said[0] < at < told[0] for at in weighed)
    return told[-1] < said[0] and not any(told[-1] < at < said[0] for at in weighed)


def saved_label(food: str, figures: Figures, serving: Serving, per_hundred: bool = False) -> SaveLabel:
    """The label of a food with figures for a serving, or for 100 g beside a serving."""
    return SaveLabel(
        food=food,
        serving_g=serving.grams,
        per_g=PER_HUNDRED if per_hundred else None,
        kcal=figures.get(KCAL),
        protein_g=figures.get("protein_g"),
        fat_g=figures.get("fat_g"),
        carbohydrate_g=figures.get("carbohydrate_g"),
        fibre_g=figures.get("fibre_g"),
        alcohol_g=figures.get("alcohol_g"),
        sugars_g=figures.get("sugars_g"),
        saturated_fat_g=figures.get("saturated_fat_g"),
        salt_g=figures.salt_g,
        polyols_g=figures.get("polyols_g"),
        measure=serving.measure,
        measure_count=serving.count,
    )


def _name(parts: list[Words], message: Message) -> str:
    """The words of the label that name its food."""
    line, kept = message.line, []
    for part in parts[:1]:
        at = part.start
        while at < part.end:
            stop = next((s for s in pack()["label_aside"].ends(line.plain, at) if s <= part.end), None)
            if stop is None and line.tokens[at].kind != "sign" and line.tokens[at].kind != "newline":
                kept.append(line.said(at, at + 1).lower())
            at = stop or at + 1
    return " ".join(kept)
