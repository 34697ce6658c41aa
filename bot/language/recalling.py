"""Find the weigh-ins on record that words can mean, by the food's name or by what the person called it."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.chunks import Chunk
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.surroundings import Recorded
from bot.language.text import singular
from bot.language.told import Name
from domain import reference

GROUPS = (
    "breads", "fish", "fruit", "meat", "poultry", "sausages", "vegetables", "nuts", "pulses", "dairy", "sweets",
    "drinks", "grains", "soups", "fats",
)  # fmt: skip
"""Groups of the food table that have words of their own; a concept of the pack holds the words for each."""


def means(name: Name, food: str) -> bool:
    """Whether a name can mean a food or batch whose full name may have more words."""
    kinds = reference.load().kinds[name.kinds].kinds if name.kinds is not None else ()
    if food in name.foods or food in kinds:
        return True
    said = {singular(word) for word in name.text.lower().split()}
    return bool(said) and said <= {singular(word) for word in food.lower().split()}


def asks_for(name: Name, food: str) -> bool:
    """Whether a question for a name is one for a food too: a generic word asks for its kinds, 'bread' for toast."""
    group = reference.load().groups.get(food)
    if means(name, food):
        return True
    return group in GROUPS and pack()[f"group_{group}"].end(name.text.lower().split(), 0) is not None


def meant(name: Name, recorded: Sequence[Recorded]) -> list[Recorded]:
    """The weigh-ins that a name can mean; only exact matches if there are any."""
    found = [each for each in recorded if means(name, each.food) or (each.word and means(name, each.word))]
    exact = [each for each in found if each.food in name.foods or name.text.lower() in (each.food, each.word)]
    if not found and len(name.foods) == 1:  # 'the spuds' are the roast potatoes
        return [each for each in recorded if means(Name(text=name.foods[0]), each.food)]
    return exact or found


def named_by(message: Message, chunk: Chunk) -> Name:
    """The name that a chunk of a message stands for."""
    if chunk.batch is not None:
        numbers = {chunk.batch.number, *chunk.batch.candidates}
        names = [b.name for b in message.around.batches if b.number in numbers]
        return Name(text=chunk.text.lower(), foods=tuple(names))
    words = [token.text for token in message.tokens[chunk.start : chunk.end]]
    return message.vocabulary.resolve(words, " ".join(words))


def corrects(message: Message) -> bool:
    """Whether the message begins with words that correct an earlier one ('no, …', 'sorry …', 'oops …')."""
    return any(True for _ in pack()["opens_fix"].ends(message.line.plain, 0))
