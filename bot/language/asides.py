"""Asides: what of a message tells of plans, shops and people, and whether a weigh-in stands beside it by itself."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.chunks import Chunk
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.stories import stretches
from bot.language.text import singular


def told_outright(message: Message) -> bool:
    """Whether a weigh-in stands in a stretch of its own, beside others that only tell of plans, shops and people."""
    if message.of("price"):
        return False
    telling, foods, asides = [], [], False
    parts = stretches(message, opening="other_clause")
    for stretch in parts:
        said = [t.text for c in stretch for t in message.tokens[c.start : c.end]]
        weighed = any(c.amount is not None and c.amount.kind in ("mass", "volume") for c in stretch)
        named = any(c.kind == "food" for c in stretch)
        aside = _is_aside(message, said, _from_subject(said) if weighed else said)
        if aside and weighed:
            return False
        came_to = pack()["has_come_to"].found([plain(w) for w in said])
        # What only lists food behind a plan is a part of the plan.
        if weighed and not aside and (came_to or (named and not asides)):
            telling.append(said)
        asides = asides or aside
        if named:
            foods.append(aside)
    if not telling or not foods:
        return False
    if any(_is_somebodys_meal(message, stretch) for stretch in parts):
        return False
    plainly = any(not aside for aside in foods)
    return plainly or any(pack()["i_did"].found([plain(w) for w in said]) for said in telling)


def _is_somebodys_meal(message: Message, stretch: Sequence[Chunk]) -> bool:
    """Whether a stretch tells of somebody else at a meal or with a food."""
    said = [t.text for c in stretch for t in message.tokens[c.start : c.end]]
    somebody = _speaks_of_somebody(message, said)
    meal = any(c.kind == "food" or (c.moment is not None and c.moment.meal is not None) for c in stretch)
    weighed = any(c.kind == "amount" for c in stretch)
    return somebody and meal and not weighed


def _speaks_of_somebody(message: Message, said: Sequence[str]) -> bool:
    """Whether somebody else is spoken of; 'them' and 'they' may be things."""
    people, pronouns = message.words.people, message.words.pronouns - pack()["things_too"].words
    return any(singular(w.removesuffix("'s")) in people or w in pronouns for w in said)


def _from_subject(said: Sequence[str]) -> Sequence[str]:
    """From the last 'it was', 'I had' on: 'once he was gone it was 160 g of grapes' is told of the grapes."""
    starts = [n for n, w in enumerate(said) if plain(w) in pack()["subject_told"] and n and _tells_from(said[n:])]
    return said[starts[-1] :] if starts else said


def _tells_from(said: Sequence[str]) -> bool:
    return pack()["has_come_to"].found([plain(w) for w in said[:3]])


def _is_aside(message: Message, said: Sequence[str], told: Sequence[str]) -> bool:
    """Whether a stretch has a word for a plan or a shop in it, or, where it tells, for somebody else."""
    words = message.words
    unreal = {w for w in words.plans | words.shopping if plain(w) not in pack()["would_or_had"]}
    somebody = _speaks_of_somebody(message, told)
    would = any(plain(w) in pack()["would_or_had"] and not _is_past(said[n + 1 : n + 2]) for n, w in enumerate(said))
    line = f" {' '.join(said)} "
    planned = any(f" {phrase} " in line for phrase in words.phrases["planned"])
    speaks = pack()["somebody_speaks"].found([plain(w) for w in said])
    return somebody or would or planned or speaks or not unreal.isdisjoint(said)


def only_looks_planned(word: str, after: str) -> bool:
    """Whether 'I'd' is 'I had' or 'I'll' only says something ('I'll tell you')."""
    if plain(word) in pack()["would_or_had"]:
        return after in pack()["past_forms"] or _is_had(after) or (after.endswith("ed") and not after.endswith("eed"))
    return plain(word) in pack()["i_will"] and after in pack()["only_says"]


def will_have(word: str) -> bool:
    """Whether a word is 'I'll', behind which 'have had' tells of what is over by now."""
    return plain(word) in pack()["i_will"]


def is_done(after: Sequence[str]) -> bool:
    """Whether two words are 'have had', 'have put', 'have eaten'."""
    return after[:1] == ["have"] and _is_past(after[1:2])


def _is_past(after: Sequence[str]) -> bool:
    return bool(after) and (after[0] in pack()["past_forms"] or _is_had(after[0]) or after[0].endswith("ed"))


def _is_had(word: str) -> bool:
    """Whether what comes behind 'I'd' is what one had: 'I'd two eggs', 'I'd it all eaten'."""
    return word in pack()["had_object"] or word.isdecimal()
