"""What stands at the edge of a weigh-in and says nothing of its food: '2 eggs sha', '380 g dal, mate', 'near the bay'.

It is left aside where food and amount come before it, and only where it cannot tell which food it was: a short word of
no dictionary, somebody who is spoken to, a place behind its preposition. What may describe the food is asked about.
"""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.chunks import Chunk, Kind
from bot.language.message import SENTENCE_END, Message
from bot.language.pack import pack
from bot.language.short_words import is_strange, own_names
from bot.language.text import singular
from bot.language.word_lists import word_lists
from domain.reference.words import is_person_noun, is_real_word, is_short_food_word

WORDS = word_lists("telling")
MOST_LETTERS = 4
"""Letters of the longest word of no dictionary that is left aside: names of dishes are longer."""
FEWEST_LETTERS = 2
NAMING: tuple[Kind, ...] = ("food", "batch")
BEFORE_EDGE = frozenset({"food", "batch", "amount", "moment", "state", "size", "whole", "tare"})
"""Kinds of chunk behind which somebody is spoken to, or a short word says nothing."""
EDGES = SENTENCE_END | frozenset({",", ":", "–", "—", "…", ")"})
"""Signs at which what is told of one food ends."""
BEHIND_A_CALL = frozenset({",", "!", "-", "–", "—", "…"})
IN_PLACE = frozenset({"word", "noise", "size", "tare"})
"""Kinds of chunk that tell of a place."""


def without_edges(message: Message) -> Message:
    """The message without what stands behind its foods and amounts and says nothing of them."""
    if message.asks or not message.of("amount") or not message.of("food", "batch"):
        return message
    gone = [*_called_first(message), *(chunk for stretch in _stretches(message) for chunk in _edge(message, stretch))]
    return message.without(gone) if gone else message


def _called_first(message: Message) -> Sequence[Chunk]:
    """Whoever is spoken to before all else, with the sign behind: 'sis, 40 g almonds just now'."""
    first, sign = message.chunks[0], message.chunks[1]
    spoken_to = first.kind == "word" and first.text.lower() in pack()["called_out_to"]
    return message.chunks[:2] if spoken_to and sign.kind == "sign" and sign.text in BEHIND_A_CALL else ()


def _stretches(message: Message) -> list[Sequence[Chunk]]:
    parts: list[list[Chunk]] = [[]]
    for chunk in message.chunks:
        if chunk.kind == "newline" or (chunk.kind == "sign" and chunk.text in EDGES):
            parts.append([])
        else:
            parts[-1].append(chunk)
    return [part for part in parts if part]


def _edge(message: Message, stretch: Sequence[Chunk]) -> Sequence[Chunk]:
    """The chunks at the end of a stretch that say nothing of the food and the amount told in it."""
    told = _told_until(stretch)
    if told is None:
        return ()
    end = len(stretch)
    while end > told and (start := _adds_nothing_from(message, stretch[told:end])) is not None:
        end = told + start
    if end < len(stretch):
        return stretch[end:]
    called = _called_by_food(message, stretch)
    if called is not None:
        return (called,)
    place = next((n for n in range(told, len(stretch)) if _leads_to_place(message, stretch[n])), None)
    if place is not None and all(_is_of_place(message, c) for c in stretch[place + 1 :]):
        return stretch[place:] if len(stretch) > place + 1 else ()
    return ()


def _told_until(stretch: Sequence[Chunk]) -> int | None:
    """Behind which chunk of a stretch both a food and its amount are told."""
    named = weighed = False
    for n, chunk in enumerate(stretch):
        named, weighed = named or chunk.kind in NAMING, weighed or chunk.amount is not None
        if named and weighed:
            return n + 1
    return None


def _adds_nothing_from(message: Message, behind: Sequence[Chunk]) -> int | None:
    """From which of the chunks behind food and amount on the last words add nothing; None where they may tell more."""
    said, last = message.line.plain, behind[-1]
    phrase = next((n for n, c in enumerate(behind) if last.end in pack()["adds_nothing"].ends(said, c.start)), None)
    if phrase is not None and all(c.kind == "word" for c in behind[phrase:]):
        return phrase
    if last.kind != "word" or (len(behind) > 1 and behind[-2].kind not in BEFORE_EDGE):
        return None
    return len(behind) - 1 if _is_particle(message, last) or _is_spoken_to(message, last) else None


def _is_particle(message: Message, chunk: Chunk) -> bool:
    """Whether a chunk is a short word that stands in no dictionary, and in no name of a food or of the person's."""
    word, line = chunk.text.lower(), message.line
    if chunk.end - chunk.start > 1 or not FEWEST_LETTERS <= len(word) <= MOST_LETTERS or not word.isalpha():
        return False
    if not is_strange(line, chunk.start) or is_short_food_word(word) or word in own_names(line.around):
        return False
    return not WORDS["vowels"].isdisjoint(word) and not message.vocabulary.nearest(word)


def _is_spoken_to(message: Message, chunk: Chunk) -> bool:
    """Whether a chunk is what one calls somebody: 'two bananas mate', 'from the pot, love'."""
    return chunk.text.lower() in pack()["called_out_to"] and len(message.of("amount")) == 1


def _called_by_food(message: Message, stretch: Sequence[Chunk]) -> Chunk | None:
    """The food's name that one calls somebody, behind a moment and beside another food: 'two eggs today honey'."""
    last, before = stretch[-1], stretch[-2]
    if last.kind != "food" or before.kind != "moment" or last.text.lower() not in pack()["said_to_somebody"]:
        return None
    others = [c for c in stretch if c.kind in NAMING and c is not last]
    return last if len(others) == 1 and len(message.of("amount")) == 1 else None


def _leads_to_place(message: Message, chunk: Chunk) -> bool:
    return chunk.kind == "word" and chunk.text.lower() in pack()["leads_to_place"]


def _is_of_place(message: Message, chunk: Chunk) -> bool:
    """Whether a chunk may stand in the name of a place or an event, and neither tells a food nor a person."""
    if chunk.kind not in IN_PLACE:
        return False
    if chunk.kind != "word":
        return True
    word, known = chunk.text.lower(), message.words
    one = singular(word)
    if word in pack()["of_the_place"]:
        return True
    if is_person_noun(one) or word in pack()["called_out_to"]:
        return False
    if known.knows(word) or one in known.people or not known.other_foods.isdisjoint((word, one)):
        return False
    if message.vocabulary.exact((one,)) is not None or one in known.parts:
        return False
    return is_real_word(word)
