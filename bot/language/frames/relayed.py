"""Words that a coach or a client has passed on, where nothing else in the message is a command.

Whatever such words tell is the other person's business: none of it lands on the writer's own record.
"""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.guided import ReplyTo, Tell
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack

MOST_BEFORE = 4
"""Words of courtesy before the one that asks for it."""
MOST_TO_NAME = 5
"""Words in which the name has to come after it."""
MOST_TO_COLON = 6
"""Words between the name and a colon behind which the words to be passed on begin."""
LEAST_WORDS = 2
"""A single word behind the name is no message."""


def relayed(message: Message) -> list[Meaning] | None:
    """'pass this on to Leo would you: good lunch', 'can you ask Ines for me …', 'tell Ines I sleep badly'."""
    around = message.around
    if not (around.clients or around.coaches) or not message.chunks:
        return None
    first, last = message.chunks[0].start, message.chunks[-1].end
    verb = next((i for i in range(first, min(first + MOST_BEFORE, last)) if _ends(message, "relays", i)), None)
    if verb is None or any(w not in pack()["before_relay"] for w in message.line.plain[first:verb]):
        return None
    start = max(_ends(message, "relays", verb))
    name, behind = _named(message, start, last)
    if name is None:
        return None
    begins = _text_begins(message, behind, last)
    text = message.line.typed(begins, last)
    if len(text.split()) < LEAST_WORDS:
        return None
    return [Tell(client=name, text=text) if name in around.clients else ReplyTo(text=text, coach=name)]


def _ends(message: Message, concept: str, i: int) -> Sequence[int]:
    return list(pack()[concept].ends(message.line.plain, i))


def _named(message: Message, start: int, last: int) -> tuple[str | None, int]:
    """(the client or the coach whose name comes next, where it ends)."""
    people = (*message.around.clients, *message.around.coaches)
    for n in range(start, min(start + MOST_TO_NAME, last)):
        word = message.tokens[n].text
        for name in people:
            if word == name.casefold().split()[0]:
                return name, n + 1
        if message.line.plain[n] not in pack()["to_be_relayed"]:
            break
    return None, start


def _text_begins(message: Message, start: int, last: int) -> int:
    """Where the words begin that are passed on: behind a colon near the name, or behind 'know that', 'for me'."""
    near = range(start, min(start + MOST_TO_COLON, last))
    colon = next((n for n in near if message.tokens[n].text == ":"), None)
    if colon is not None and all(w in pack()["before_colon"] for w in message.line.plain[start:colon]):
        return colon + 1
    start = max(_ends(message, "leads_to_words", start), default=start)
    return start + 1 if start < last and message.tokens[start].text == "," else start
