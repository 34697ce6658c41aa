"""Pronouns for several, which stand for people or for the foods told before: 'cheddar 30 g to put on them'."""

from __future__ import annotations

from bot.language.message import Message
from bot.language.pack import pack
from bot.language.text import singular


def stands_for_food(message: Message, n: int) -> bool:
    """Whether the pronoun at a token stands for foods: something goes on them, or they came to so much.

    A food has to be told before, and nobody else spoken of since. Who gets something ('for them', 'gave them') or
    does something ('they had') is somebody.
    """
    line, words = message.line, pack()
    if line.plain[n] not in words["they"]:
        return False
    before = line.plain[n - 1] if n else ""
    behind = line.plain[n + 1] if n + 1 < len(line.plain) else ""
    under = before in words["onto_that"] and before not in words["for_whom"]
    if not under and behind not in words["came_out_at"] and behind not in words["things_do"]:
        return False
    food = max((c.end for c in message.of("food", "batch") if c.end <= n), default=None)
    if food is None:
        return False
    return not any(_is_somebody(message, k) for k in range(food, n))


def _is_somebody(message: Message, n: int) -> bool:
    word = message.tokens[n].text
    return singular(word) in message.words.people or word in message.words.pronouns - pack()["they"].words
