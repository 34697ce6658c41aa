"""What is added to the last weigh-in afterwards: a waste weight, or the same again."""

from __future__ import annotations

from dataclasses import replace

from bot.language.amounts import COUNTED_UP_TO
from bot.language.fix_meanings import Again, Waste
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.surroundings import KnownBatch
from bot.language.text import singular
from bot.language.told import Amount, BatchRef, Item, Name, is_share
from bot.language.waste import ends_name, is_part


def waste_later(message: Message) -> Meaning | None:
    """'core was 21', 'the peel weighed 40', 'bones 95 g': taken off the last weigh-in that has such a part."""
    weights = [c for c in message.of("amount") if c.amount is not None and c.amount.kind in ("mass", "bare")]
    if len(weights) != 1 or message.batch is not None:
        return None
    words = [t.text for c in message.of("word", "food") for t in message.tokens[c.start : c.end]]
    parts = [singular(w) for w in words if singular(w) in message.words.parts or w in message.words.parts]
    leaving = message.has("left", "threw away", "discarded")
    foods = [c for c in message.of("food") if singular(c.text.lower()) not in message.words.parts]
    if not parts and not (leaving and message.has("core", "plate", "behind", "waste", "uneaten")):
        return None
    if any(ends_name(message, message.chunks, i) for i, c in enumerate(message.chunks) if is_part(message, c)):
        return None
    amount = weights[0].amount
    if amount is None or message.has("ate", "eaten", "took", "drank", "had a", "had some"):
        return None
    name: Name | None = None
    if foods:
        words = [t.text for t in message.tokens[foods[0].start : foods[0].end]]
        taken_off = pack()["off_that_food"].found(message.wording)
        thrown = taken_off and weights[0].start < foods[0].start and len(foods) == 1
        if (
            message.has("with", "w/", "without")
            or not (taken_off or message.has("'s", "was", "from", "weighed"))
            or (weights[0].start < foods[0].start and not thrown)
        ):
            return None
        name = message.vocabulary.resolve(words, " ".join(words))
        if not message.around.last:
            return None
    return Waste(part=parts[0] if parts else "waste", amount=amount, name=name)


def same_again(message: Message) -> Meaning | None:
    """'same again', 'another 50 g of that', '50 g more', 'and 60 more of it'."""
    if message.of("food") or message.batch is not None or message.asks or pack()["toying_with"].found(message.wording):
        return None
    unknown = [
        c
        for c in message.of("word")
        if not message.words.knows(c.text.lower()) and not message.words.knows(singular(c.text.lower()))
    ]
    if unknown:
        return None
    line = message.plain
    amounts = message.amounts
    if amounts and is_share(amounts[0]) and not _repeated(message):
        return None  # a share of the last weigh-in is no second one
    same = message.has(*message.words.phrases["again"]) or line in (
        "same",
        "again",
        "more",
        "another",
        "seconds",
        "same again",
    )
    another = bool(amounts) and message.has(
        "another",
        "more",
        "extra",
        "further",
        "additional",
        "of that",
        "of it",
        "of the same",
        "of those",
        "seconds",
        "again",
        "same",
    )
    if not same and not another:
        return None
    earlier = message.when.day is not None and message.when.day < message.around.today
    if pack()["condition"].found(message.wording) or (
        earlier and message.when.meal is not None and (not amounts or is_share(amounts[0]))
    ):
        return None  # 'the same breakfast as Monday' is not the last weigh-in once more
    spoken = next((b for b in message.around.batches if b.spoken and b.cooked), None)
    if spoken is not None and len(amounts) == 1 and pack()["part_of_it"].found([plain(w) for w in message.said]):
        return _of_the_pot(message, amounts[0], spoken)
    return Again(amount=amounts[0] if amounts else None, when=message.when)


def _of_the_pot(message: Message, amount: Amount, batch: KnownBatch) -> Meaning:
    """'320 of that' right after a batch was spoken of."""
    grams = amount.value if amount.kind == "bare" and amount.value > COUNTED_UP_TO else None
    mass = amount if grams is None else replace(amount, kind="mass", value=grams, unit="g", grams=grams)
    ref = BatchRef(candidates=(batch.number,), text=batch.name, sure=True)
    return Item(text=message.text, amount=mass, batch=ref, when=message.when)


def _repeated(message: Message) -> bool:
    """Whether words say that it is one more helping of the writer's."""
    people = message.has_any(message.words.people | message.words.pronouns)
    said = [plain(word) for word in message.said]
    return pack()["another_helping"].found(said) and not people and not message.has_any(message.words.negations)
