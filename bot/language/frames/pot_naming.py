"""The name that a sentence gives a pot, by its verb: 'which I shall call X', 'X it is called', 'this pot will be X'.

Verbs of naming are few and their sentences have one shape: a subject, perhaps an auxiliary, the verb, perhaps an
object, and then the name; or the name first. Everything but the name is announcement.
"""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.chunks import Chunk
from bot.language.frames.spans import Span
from bot.language.message import Message
from bot.language.pack import pack, plain

MOST_NAME_WORDS = 4
MOST_BEFORE = 10
"""Words of the subject and its auxiliaries before a verb of naming."""
ENDS = frozenset({",", ".", ":", ";", "!", "?", "-", "(", ")", "=", "/"})
LEADS = frozenset({":", "=", "-", '"', "'"})
"""Marks between a verb of naming and the name."""


def named_by_verb(message: Message) -> tuple[list[Chunk], Span] | None:
    """The words of the name and all tokens that give it; None where no sentence names a pot."""
    chunks = message.chunks
    if not any(c.kind == "amount" or plain(c.text.lower()) in pack()["pot"] for c in chunks):
        return None
    for n, chunk in enumerate(chunks):
        if plain(chunk.text.lower()) not in pack()["names_it"] or chunk.kind == "food":
            continue
        found = _behind(message, n) or _before(message, n)
        if found is not None:
            return found
    return _becomes(message)


def _behind(message: Message, verb: int) -> tuple[list[Chunk], Span] | None:
    """'… that I shall call chix', 'under the name of mince', 'name: fish pie'."""
    chunks = message.chunks
    at = _past(chunks, verb + 1, "between_verb_and_name")
    words = _name_from(message, at)
    if not words:
        return None
    return words, Span(chunks[_subject(chunks, verb)].start, words[-1].end)


def _before(message: Message, verb: int) -> tuple[list[Chunk], Span] | None:
    """'gumbo it's called.': nothing stands behind the verb, and the name before its subject."""
    chunks = message.chunks
    end = _past(chunks, verb + 1, "between_verb_and_name")
    if end < len(chunks) and not _ends(chunks[end]):
        return None
    subject = _subject(chunks, verb)
    first = subject
    while first and not _ends(chunks[first - 1]) and subject - first < MOST_NAME_WORDS:
        first -= 1
    words = _trimmed(chunks[first:subject])
    named = [plain(c.text.lower()) for c in chunks[subject:verb]]
    if not words or not any(word in pack()["this_here"] or word in pack()["i_or_we"] for word in named):
        return None  # 'my daughter just called'
    return words, Span(words[0].start, chunks[end - 1].end)


def _becomes(message: Message) -> tuple[list[Chunk], Span] | None:
    """'this pot is going to be adobo', 'it'll be a curry': what a pot will be is what it is called."""
    line = message.line
    for at, end in line.plain.places("will_be"):
        n = next((n for n, c in enumerate(message.chunks) if c.start >= end), None)
        first = next((n for n, c in enumerate(message.chunks) if c.end > at), None)
        if n is None or first is None or message.chunks[0].start > at:
            continue
        subject = [plain(line.text(i)) for i in range(max(message.chunks[0].start, at - 2), at + 1)]
        told = len(message.of("amount")) > 1
        if not any(
            word.removesuffix("s") in pack()["pot"] or (told and word in pack()["this_here"]) for word in subject
        ):
            continue
        words = _name_from(message, n)
        behind = [c for c in message.chunks if words and c.start >= words[-1].end]
        last = not any(c.kind in ("food", "amount") for c in behind) or any(
            word.removesuffix("s") in pack()["pot"] for word in subject
        )
        if words and last and any(_is_noun(message, c) for c in words):
            return words, Span(_from(message, at), words[-1].end)
    return None


def _past(chunks: Sequence[Chunk], at: int, concept: str) -> int:
    """The first chunk from `at` on that is no word of the concept and no mark that leads on to a name."""
    while at < len(chunks) and (plain(chunks[at].text.lower()) in pack()[concept] or chunks[at].text in LEADS):
        at += 1
    return at


def _subject(chunks: Sequence[Chunk], verb: int) -> int:
    """The chunk with which the sentence of a verb of naming begins: its subject and auxiliaries, and what joins it."""
    at = verb
    while at and verb - at < MOST_BEFORE and plain(chunks[at - 1].text.lower()) in pack()["before_naming"]:
        at -= 1
    return at


def _name_from(message: Message, at: int) -> list[Chunk]:
    words: list[Chunk] = []
    for chunk in message.chunks[at : at + MOST_NAME_WORDS]:
        said = plain(chunk.text.lower())
        if chunk.kind == "state" and len(words) > 1 and words[-1].kind == "food":
            words.pop()  # 'it's called lamb stew lamb shoulder raw …': the first of what goes in
            break
        if _ends(chunk) or (words and said in pack()["ends_pot_name"]) or _leads_on(message, chunk):
            break
        words.append(chunk)
    return _trimmed(words)


def _leads_on(message: Message, chunk: Chunk) -> bool:
    """Whether what goes in is told from here on: '… call chix, consisting of chicken'."""
    return pack()["goes_in"].end(message.line.plain, chunk.start) is not None


def _trimmed(words: Sequence[Chunk]) -> list[Chunk]:
    """The words without articles before them; none if nothing but words for a pot is left."""
    kept = list(words)
    while len(kept) > 1 and plain(kept[0].text.lower()) in pack()["before_a_name"]:
        kept.pop(0)
    if all(plain(c.text.lower()) in pack()["beside_pot"] for c in kept):
        return []
    return kept


def _from(message: Message, at: int) -> int:
    """Where the words for a pot begin that end right before a token: 'this pot', 'this'."""
    words = message.line.plain
    leading = ("pot", "this_here", "article")
    while at > message.chunks[0].start and any(
        words[at - 1] in pack()[name] or words[at - 1].removesuffix("s") in pack()[name] for name in leading
    ):
        at -= 1
    return at


def _is_noun(message: Message, chunk: Chunk) -> bool:
    """Whether a word may be what a dish is called: a food, or a word of no list."""
    return chunk.kind in ("food", "batch") or (chunk.kind == "word" and not message.words.knows(chunk.text.lower()))


def _ends(chunk: Chunk) -> bool:
    return chunk.text in ENDS or chunk.kind in ("amount", "newline", "tare")
