"""Slots for persons: whoever is guided or guides, and what can be nothing else than a name."""

from __future__ import annotations

from collections.abc import Iterator

from bot.language.chunks import Line
from bot.language.lexicon import lexicon
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.text import singular
from bot.language.times import passed

MOST_NAME_WORDS = 3
MOST_PERSONS = 40


def known(line: Line) -> tuple[str, ...]:
    """The names of everybody on either side of a coaching, longest first."""
    return tuple(sorted((*line.around.clients, *line.around.coaches), key=len, reverse=True))


def is_client(name: str, clients: tuple[str, ...]) -> bool:
    """Whether it is a client's name, or a part of one."""
    said = name.casefold()
    return any(said == client.casefold() or said in client.casefold().split() for client in clients)


def clients_named(message: Message) -> list[str]:
    """The writer's clients who are named in a message, by their known names: 'Lou', "Lou's", 'lous week'."""
    return named_among(message.around.clients, message)


def as_name(name: str) -> str:
    """The name as it is written down: 'ana' as 'Ana'."""
    return name.title() if name.islower() else name


def named_among(clients: tuple[str, ...], message: Message) -> list[str]:
    """Those of these persons who are named in a message."""
    if not clients:
        return []
    words = {message.tokens[n].text.casefold() for c in message.chunks for n in range(c.start, c.end)}
    return named_in(clients, words)


def named_in(clients: tuple[str, ...], words: set[str]) -> list[str]:
    """Those of these persons whose name is among the words, in lower case."""
    said = words | {word.removesuffix("'s").removesuffix("’s") for word in words}
    return [
        name
        for name in clients
        if any(part.casefold() in said or f"{part.casefold()}s" in said for part in _parts(name))
    ]


def _parts(name: str) -> list[str]:
    """The words of a name by which somebody may be called."""
    parts = [part for part in name.split() if len(part) > 1]
    return [part for part in parts if part[:1].isupper()] or parts


def is_name(name: str, line: Line) -> bool:
    """Whether the words are somebody's known name, in part at least, or can be nothing else than a name."""
    if is_client(name, known(line)):
        return True
    told = [word for word in name.casefold().replace(".", "").split() if word]
    if not 1 <= len(told) <= MOST_NAME_WORDS:
        return False
    return not any(_says_something(word, line) for word in told)


def _says_something(word: str, line: Line) -> bool:
    plain = (word, singular(word))
    return any(
        w in pack()["nobody"] or w in lexicon().people or line.words.knows(w) or line.vocabulary.knows(w) for w in plain
    )


def somebody(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A person's name as typed: a known one first, however long, else up to three words."""
    for name in known(line):
        for stop in range(i + 1, min(end, i + 5) + 1):
            if line.typed(i, stop).casefold() == name.casefold():
                yield line.typed(i, stop), stop
    for stop in range(min(end, i + MOST_NAME_WORDS), i, -1):
        if all(token.kind == "word" or token.text == "." for token in line.tokens[i:stop]):
            said = line.typed(i, stop)
            if line.tokens[i].kind == "word" and is_name(said, line):
                yield said, stop


def owns(line: Line) -> bool:
    """Whether a word has the form of a name that something belongs to."""
    return bool(line.around.clients) or "'s" in line.whole.lower()


def somebodys(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """A name that something belongs to: "Ben's", "Bens" where there is a Ben."""
    for stop in range(i + 1, min(end, i + MOST_NAME_WORDS) + 1):
        if line.tokens[stop - 1].kind != "word":
            return
        said = line.typed(i, stop)
        if said.lower().endswith(("'s", "’s")):
            if is_name(said[:-2], line):
                yield said[:-2], stop
        elif said.endswith("s") and is_client(said[:-1], line.around.clients):
            yield said[:-1], stop


def several(line: Line, i: int, end: int) -> Iterator[tuple[object, int]]:
    """Several persons' names: 'Amy, Eva and Dev'."""
    found: list[str] = []
    ends: list[int] = []
    at = i
    while at < end and len(found) < MOST_PERSONS:
        read = next(((name, stop) for name, stop in somebody(line, at, end) if isinstance(name, str)), None)
        if read is None:
            break
        found.append(read[0])
        ends.append(read[1])
        after = read[1] + 1 if line.text(read[1]) == "," else read[1]
        at = passed(line, "joining", after, end)
        if at == read[1]:
            break
    for n in range(len(found), 1, -1):
        yield tuple(found[:n]), ends[n - 1]
