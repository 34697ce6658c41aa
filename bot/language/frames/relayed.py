"""Words that a coach or a client has passed on, where nothing else in the message is a command.

Whatever such words tell is the other person's business: none of it lands on the writer's own record.
"""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.guided import Comment, ReplyTo, Tell
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.persons import clients_named

MOST_BEFORE = 4
"""Words of courtesy before the one that asks for it."""
MOST_TO_NAME = 5
MOST_TO_COLON = 6
LEAST_WORDS = 2
"""Words that are worth passing on."""


def relayed(message: Message) -> list[Meaning] | None:
    """'pass this on to Leo would you: good lunch', 'tell Ines I sleep badly', "comment under Leo's lunch: good"."""
    around = message.around
    if not (around.clients or around.coaches) or not message.chunks:
        return None
    first, last = message.chunks[0].start, message.chunks[-1].end
    commented = _comment(message, first, last)
    if commented is not None:
        return commented
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


def _comment(message: Message, first: int, last: int) -> list[Meaning] | None:
    """A comment on what a client ate: what it is on stands before the colon."""
    colon = next((n for n in range(first, last) if message.tokens[n].text == ":"), None)
    if colon is None or not _ends(message, "comments_on", first):
        return None
    head = message.between(first, colon)
    named = clients_named(head) if head is not None else []
    text = message.line.typed(colon + 1, last)
    if head is None or len(named) != 1 or len(text.split()) < LEAST_WORDS:
        return None
    return [Comment(client=named[0], text=text, meal=head.when.meal, day=head.when.day)]


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
    if colon is not None and all(w in pack()["around_relay"] for w in message.line.plain[start:colon]):
        return colon + 1
    while start < last and (message.tokens[start].kind == "sign" or _ends(message, "around_relay", start)):
        start = max(_ends(message, "around_relay", start), default=start + 1)
    return start
