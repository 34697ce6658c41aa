"""Whose part of what was weighed: shared, given away, or a share of it ('200 g potatoes, half of them')."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from bot.language.chunks import Chunk
from bot.language.fragments import Fragment, for_others
from bot.language.message import Message
from bot.language.number_words import number_words
from bot.language.pack import pack
from bot.language.text import singular
from bot.language.told import Amount
from bot.language.waste import grams_of, is_weight
from bot.language.word_lists import word_lists
from domain import reference

WORDS = word_lists("telling")


def shared(message: Message) -> bool:
    """Whether one amount was eaten by several people: how much was the writer's has to be asked."""
    if message.has(*WORDS["shared"]):
        return not message.has(*WORDS["my_share"])
    several = message.has("we", "us", "together")
    people = message.has_any(message.words.people)
    return (message.has("together") and several and message.has("we")) or (message.has("split") and (people or several))


def with_share_of_it(message: Message, fragment: Fragment) -> Fragment:
    """The fragment with '200 g potatoes, half of them' as the product that it is; for others it is what they had."""
    masses = [c for c in fragment.amounts if c.amount is not None and c.amount.grams is not None]
    for i, chunk in enumerate(fragment.chunks if masses and len(fragment.amounts) > 1 else ()):
        amount = chunk.amount if chunk.kind == "amount" else None
        if amount is None or amount.kind != "bare" or not 0 < amount.value < 1 or len(masses) != 1:
            continue
        beside = [
            t.text
            for t in (
                *message.tokens[max(0, chunk.start - 2) : chunk.start],
                *message.tokens[chunk.end : chunk.end + 2],
            )
        ]
        whole = masses[0].amount
        if (
            whole is None
            or whole.grams is None
            or not any(of in number_words().of and it in WORDS["it"] for of, it in pairwise(beside))
        ):
            continue
        said = message.line.plain
        if not for_others(message, fragment) and any(
            pack()["the_share_was"].end(said, n) for n in range(chunk.end, masses[0].start)
        ):
            # 'half of it, which was 68 g': the weight is that of the share
            return Fragment(fragment.joined, [c for c in fragment.chunks if c is not chunk])
        grams = amount.value * whole.grams
        product = replace(whole, value=grams, unit="g", grams=grams, text=f"{amount.text} of {whole.text}")
        rest = [c for c in fragment.chunks[i + 1 :] if c.kind != "word" or c.text.lower() not in ("it", "them")]
        if for_others(message, Fragment("", rest)):
            return Fragment(fragment.joined, [c._replace(amount=product) if c is chunk else c for c in fragment.chunks])
        kept = [c for c in (*fragment.chunks[:i], *rest) if c is not chunk]
        return Fragment(fragment.joined, [c._replace(amount=product) if c is masses[0] else c for c in kept])
    return fragment


def given_away(message: Message, fragment: Fragment) -> float | None:
    """Grams of the amount that were for somebody else: '320 g rice, 130 of it for my son'."""
    weights = [c for c in fragment.amounts if is_weight(c)]
    for i, chunk in enumerate(fragment.chunks):
        if not is_weight(chunk) or chunk.amount is None or chunk.amount.value < 1:
            continue
        end = next((n for n in range(i + 1, len(fragment.chunks)) if fragment.chunks[n].kind == "amount"), i + 9)
        rest = [singular(t.text) for c in fragment.chunks[i + 1 : end] for t in message.tokens[c.start : c.end]]
        someone = any(w in message.words.people or w in message.words.pronouns for w in rest)
        if someone and len(weights) > 1 and chunk is not weights[0]:
            return grams_of(chunk.amount)
    return None


def of_several(message: Message, fragment: Fragment, amount: Amount, run: Sequence[Chunk]) -> bool:
    """'half of the potatoes', 'a third of the rice': whether a share is of what has no weight of one piece."""
    told = next((c for c in fragment.amounts if c.amount is not None and c.amount.value == amount.value), None)
    if told is None or amount.kind not in ("bare", "count") or not 0 < amount.value < 1 or amount.unit or not run:
        return False
    last = message.tokens[run[-1].end - 1].text
    of = message.tokens[told.end].text if told.end < len(message.tokens) else ""
    if of not in WORDS["of_them"] or run[-1].kind != "food":
        return False
    food = reference.load().foods.get(run[-1].target)
    return (last.endswith("s") and singular(last) != last) or (food is not None and not food.countable)
