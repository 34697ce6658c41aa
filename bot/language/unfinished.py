"""What was eaten in part: "250 g soup, didn't finish it" is neither a denial nor all of it."""

from __future__ import annotations

from bot.language.message import Message, once
from bot.language.pack import pack


@once
def unfinished(message: Message) -> list[tuple[int, int]]:
    """Where it is said that something was eaten in part, the tokens of "didn't finish" in "didn't finish the soup"."""
    line = message.line
    if pack()["finishing"].words.isdisjoint(line.plain) or not message.of("amount"):
        return []
    first, last = message.chunks[0].start, message.chunks[-1].end
    said = enumerate(line.plain[first : min(last, len(line.plain) - 1)], first)
    found = [(i, i + 2) for i, w in said if w in line.words.negations or w in pack()["denial"]]
    eaten = {c.start for c in message.of("food", "amount")}
    return [
        (i, end)
        for i, end in found
        if line.plain[i + 1] in pack()["finishing"] and _what_was_eaten(message, end, eaten)
    ]


def _what_was_eaten(message: Message, i: int, eaten: set[int]) -> bool:
    """Whether nothing stands at token i, or a food, an amount or a word for what was eaten."""
    said = message.line.plain
    i = next((n for n in range(i, len(said)) if said[n] not in pack()["article"]), len(said))
    return i == len(said) or i in eaten or said[i] in pack()["it_or_them"] or not said[i].isalnum()
