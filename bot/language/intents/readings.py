"""What builders ask of a reading, and of the message that it is a reading of."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import cast

from bot.language.grammar import Reading
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.moments import Moment, together
from bot.language.name_tables import lemmas_of
from bot.language.pack import pack, plain
from bot.language.portion_meanings import Place
from bot.language.stance import without_excluded
from bot.language.surroundings import KnownBatch
from bot.language.told import Amount, BatchRef, Item, Name, When
from bot.language.words import Words

TOLD_KINDS = frozenset({"amount", "food", "state", "size", "whole", "sign", "newline", "tare", "noise"})
"""What a list of ingredients is made of, beside words that join or are foods of no table."""


def moments_of(reading: Reading, message: Message, *keys: str) -> When:
    """What the moments in slots of a reading say together."""
    told = [value for key in keys if isinstance(value := reading.values.get(key), Moment)]
    return together(told, message.around)


def part_of(reading: Reading, message: Message, key: str) -> Message | None:
    """The part of a message that a slot for words took; None where the slot was not there."""
    words = cast("Words | None", reading.values.get(key))
    return message.between(words.start, words.end) if words is not None else None


def items_of(reading: Reading, message: Message, key: str) -> list[Item]:
    """The items told in a slot for words."""
    part = part_of(reading, message, key)
    return items(part) if part is not None else []


def kept_and_left_out(part: Message) -> tuple[Message, tuple[Name, ...]]:
    """(a part of a message without the foods that it leaves out, the names of these)."""
    kept = without_excluded(part)
    gone = [c for c in part.of("food") if c not in kept.chunks]
    return kept, tuple(
        part.vocabulary.resolve([t.text for t in part.tokens[c.start : c.end]], c.text.lower()) for c in gone
    )


def pot_of(reading: Reading) -> BatchRef:
    """Which batch a reading names; an empty reference where it names none."""
    return cast("BatchRef | None", reading.values.get("pot")) or BatchRef()


def amount_of(reading: Reading, key: str = "weight") -> Amount | None:
    """The amount in a slot of a reading, or None."""
    return cast("Amount | None", reading.values.get(key))


def count_of(reading: Reading) -> int:
    """How many were told; one where nothing was said."""
    return cast(int, reading.values.get("count", 1))


def place_of(reading: Reading) -> Place | None:
    """Where it lies or goes, or None."""
    return cast("Place | None", reading.values.get("place"))


def when_of(reading: Reading, message: Message) -> When:
    """When it was eaten: the moments of a reading, with the meal of the message where they name none."""
    when = moments_of(reading, message, "when", "at")
    return when if when.meal is not None else replace(when, meal=message.when.meal)


def _plain_words(message: Message) -> list[str]:
    """The words of a message as concepts have them."""
    return [plain(word) for word in message.said]


def says(message: Message, *concepts: str) -> bool:
    """Whether a message has a phrase of one of the concepts."""
    said = _plain_words(message)
    return any(pack()[name].found(said) for name in concepts)


def asks(message: Message) -> bool:
    """Whether it is a question; 'what is left of it went to Dan' and 'is ready, 210 g' are none."""
    said = _plain_words(message)
    begins = any(pack()[name].end(said, 0) for name in ("rest_of", "done"))
    return message.asks and not (begins and "?" not in said)


def records_nothing(message: Message) -> bool:
    """Whether it is a question, or tells what would be if."""
    return asks(message) or says(message, "condition", "how_many_calories")


def foods_of(reading: Reading, message: Message, key: str = "items") -> tuple[Item, ...]:
    """The foods of a stretch, each with its amount; none where anything else stands in it."""
    part = part_of(reading, message, key)
    if part is None:
        return ()
    joining = pack()["joining"]
    for chunk in part.chunks:
        word = chunk.text.lower()
        if chunk.kind in TOLD_KINDS or (chunk.kind == "batch" and chunk.batch is not None and not chunk.batch.sure):
            continue
        if chunk.kind != "word" or (
            message.words.knows(word)
            and word not in joining
            and word not in (*message.words.harmless, "of", "more", "a")
        ):
            return ()
    told = [replace(item, batch=None) if item.name is not None else item for item in items(part)]
    return tuple(told) if told and all(i.name is not None for i in told) else ()


def one_cooking(message: Message) -> BatchRef | None:
    """The one batch on the stove, or of several the one worked on last; None where that is not clear."""
    batches = message.around.at_work
    return BatchRef(candidates=(batches[0].number,)) if len(batches) == 1 else None


def vessel_taken_off(message: Message) -> bool:
    """Whether a weight is said to be without its vessel: 'in the pot less the pot', 'tin tared off', 'no kaldero'."""
    if not message.chunks:
        return False
    line, last = message.line, message.chunks[-1].end
    if says(message, "vessel_gone"):
        return True
    for at in range(message.chunks[0].start, last):
        for end in pack()["vessel_left_off"].ends(line.plain, at):
            while end < last and line.plain[end] in pack()["article"]:
                end += 1
            if end < last and line.tokens[end].kind == "word" and _may_be_vessel(line.lemmas[end], message):
                return True
    return False


def _may_be_vessel(word: str, message: Message) -> bool:
    """Whether a word is a vessel, or one that no list has."""
    known = message.words.knows(word) or message.vocabulary.exact((word,)) is not None
    return word in message.words.vessels or word in pack()["vessel_too"] or not known


def batches_meant(message: Message, ref: BatchRef) -> list[KnownBatch]:
    """The open batches that are meant; all of them where none was named."""
    numbers = {ref.number} if ref.number is not None else set(ref.candidates)
    named = [b for b in message.around.batches if b.number in numbers]
    return named if numbers else list(message.around.batches)


def has_ingredient(message: Message, ref: BatchRef, name: Name) -> bool:
    """Whether a food is an ingredient of one of the batches that are meant."""
    said = set(lemmas_of(name.text))
    own = [set(lemmas_of(i)) for b in batches_meant(message, ref) for i in b.ingredients]
    counted = any(word in pack()["ends_list"] for word in name.text.split())
    return said in own or (bool(name.foods or name.kinds) and not counted and any(said <= i or i <= said for i in own))


def of_mine(reading: Reading, message: Message) -> bool:
    """Whether what is left over by a template has no amount or other eater in it."""
    if reading.values.get("tail") is None:
        return True
    part = part_of(reading, message, "tail")
    return (
        part is not None and not part.of("amount", "food", "batch", "hash") and not part.has_any(message.words.people)
    )


def with_more(taken: Meaning, reading: Reading, message: Message) -> Meaning | Sequence[Meaning] | None:
    """What was eaten along with it."""
    if reading.values.get("more") is None:
        return taken
    told = items_of(reading, message, "more")
    if not told or any(i.name is None and i.batch is None for i in told):
        return None
    return [taken, *told]


def why_gone(message: Message) -> str:
    """What became of food that is on nobody's day, as a past participle."""
    return "thrown out" if says(message, "threw_out") else "given away"


def who_had(reading: Reading) -> str:
    """Who had it, as said; empty where nobody was named."""
    return str(reading.values.get("other") or "")
