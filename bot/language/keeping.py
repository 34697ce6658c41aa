"""What the person keeps: vessel weights, own measures, labels, raw-or-cooked habits."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.chunks import Chunk
from bot.language.items import items
from bot.language.meanings import Meaning, Name, SaveHabit, SaveMeasure, SaveTare
from bot.language.message import Message
from bot.language.text import singular

EQUALS = frozenset({"is", "=", "weighs", "equals", "holds", "means", "counts", "always"})
BESIDE = frozenset(
    {"tare", "tares", "save", "new", "my", "the", "a", "an", "is", "weighs", "weigh", "weighed", "empty", "of"}
    | {"for", ":", "=", "-", ",", ".", "please", "btw", "on", "its", "own", "our", "scale", "says", "to", "as"}
    | {"weight", "alone", "itself", "when", "and", "that", "set", "add", "record", "note", "pls", "was", "by"}
    | {"at", "without", "food", "now", "clean", "dry", "comes", "in", "exactly", "about", "it", "fyi", "remember"}
    | {"!", "(", ")", "which", "just", "so", "you", "know", "me", "can", "could"}
)
"""Words that stand beside the name of a vessel and are no part of it."""


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
    gone = {t for c in weights for t in range(c.start, c.end)}
    words = [
        t
        for c in message.chunks
        if c.kind not in ("moment",)
        for i, t in enumerate(message.tokens[c.start : c.end], c.start)
        if i not in gone
    ]
    return " ".join(t.text for t in words if t.text not in BESIDE and t.kind == "word")


def _measure(message: Message) -> Meaning | None:
    """'my ladle of soup is 140 g', 'one scoop of whey = 31 g': the unit, the food, a word for 'is', the weight."""
    weights = [c for c in _weights(message) if c.amount is not None and (c.amount.kind == "mass" or c.amount.value > 3)]
    found = _measure_unit(message)
    if found is None or len(weights) != 1 or message.asks:
        return None
    unit, count, at, mine = found
    said = [t.text for t in message.tokens[at : weights[0].start]]
    linked = next((w for w in said if w in EQUALS), None)
    if linked is None or not (mine or linked != "is" or message.has(*STANDING)):
        return None
    if message.has_any(message.words.eating - {"weighed", "have", "got", "log", "used", "add"}):
        return None
    name = _measured_name(message, weights)
    amount = weights[0].amount
    if name is None or amount is None:
        return None
    return SaveMeasure(name=name, measure=unit, count=count, amount=amount)


STANDING = ("always", "remember", "save", "from now on", "next time", "is always")


def _measure_unit(message: Message) -> tuple[str, float, int, bool] | None:
    """(unit, count, the token behind it, whether it is 'my'): 'my ladle', 'one scoop', '1 tbsp'."""
    words = message.words
    for chunk in message.chunks:
        before = message.word_before(chunk)
        if chunk.kind == "amount" and chunk.amount is not None and chunk.amount.kind in ("measure", "volume", "count"):
            return (
                None
                if chunk.amount.unit == "box"
                else (chunk.amount.unit, chunk.amount.value, chunk.end, before == "my")
            )
        if chunk.kind != "word" or before not in ("my", "our"):
            continue
        word = singular(chunk.text.lower())
        unit = word if word in words.loose_units or word in words.piece_nouns else words.volume_units.get(word)
        if unit and len(chunk.text) > 1:
            return unit, 1.0, chunk.end, True
    return None


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
