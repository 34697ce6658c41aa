"""Whose part of what was weighed: shared, given away, or a share of it ('200 g potatoes, half of them')."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from bot.language.chunks import Chunk
from bot.language.fragments import MOST_COUNTED, Fragment, for_others
from bot.language.message import Message
from bot.language.number_words import number_words
from bot.language.pack import pack
from bot.language.text import singular
from bot.language.told import Amount
from bot.language.waste import grams_of, is_weight
from bot.language.word_lists import word_lists
from domain import reference

WORDS = word_lists("telling")
MOST_PIECES = 100
"""Pieces that anybody counts on a plate."""
MOST_BEFORE = 3
"""Words before a number that may say that it counts."""
MOST_BEHIND = 9
"""Chunks behind an amount among which the person is named whom it is for."""


def shared(message: Message) -> bool:
    """Whether one amount was eaten by several people: how much was the writer's has to be asked."""
    if message.has(*WORDS["shared"]):
        return not message.has(*WORDS["my_share"])
    several = message.has("we", "us", "together")
    people = message.has_any(message.words.people) or _with_somebody(message)
    return (message.has("together") and several and message.has("we")) or (message.has("split") and (people or several))


def _with_somebody(message: Message) -> bool:
    """Whether it was split with one's somebody, whatever the word: 'with my co driver'."""
    foods = {c.start for c in message.of("food")}
    said = message.line.plain
    after = [n + 2 for n in range(len(said) - 2) if said[n] in pack()["in_company"] and said[n + 1] in pack()["my_own"]]
    return any(message.line.name(n) is None and n not in foods for n in after)


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
        told = any(pack()["the_share_was"].end(said, n) for n in range(chunk.end, masses[0].start))
        if not for_others(message, fragment) and (told or _was(said[chunk.end : masses[0].start])):
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


def _was(between: Sequence[str]) -> bool:
    """'half of it was 90 g': whether nothing but 'of it was' leads from a share to the weight."""
    of_it = [*number_words().of, *WORDS["it"]]
    return bool(between) and between[-1] in pack()["came_out_at"] and all(w in of_it for w in between[:-1])


def with_counts(message: Message, fragment: Fragment) -> Fragment:
    """The fragment with each number of pieces that says so made a count: 'almonds, 10 of them', '3 in number'."""
    chunks = [
        c._replace(amount=replace(c.amount, kind="count"))
        if c.amount is not None and c.amount.kind == "bare" and _says_pieces(message, c)
        else c
        for c in fragment.chunks
    ]
    return Fragment(fragment.joined, chunks)


def _says_pieces(message: Message, chunk: Chunk) -> bool:
    """Whether the words beside a whole number say that it is of pieces."""
    amount, line = chunk.amount, message.line
    if amount is None or amount.doubt or amount.value % 1 or not 1 <= amount.value <= MOST_PIECES:
        return False
    behind = chunk.end - (line.text(chunk.end - 1) in number_words().of)  # "a dozen of" them
    end = pack()["of_pieces"].end(line.plain, behind)
    if end is not None and all(c.kind != "food" or c.start != end for c in message.chunks):
        return True  # but 'two of those crackers' is told as 'two crackers'
    at = range(max(message.chunks[0].start, chunk.start - MOST_BEFORE), chunk.start)
    return any(chunk.start in pack()["counted_them"].ends(line.plain, n) for n in at)


def given_away(message: Message, fragment: Fragment) -> float | None:
    """Grams of the amount that were for somebody else: '320 g rice, 130 of it for my son'."""
    weights = [c for c in fragment.amounts if is_weight(c)]
    for i, chunk in enumerate(fragment.chunks):
        if not is_weight(chunk) or chunk.amount is None or _counts(chunk.amount):
            continue
        if len(weights) > 1 and chunk is not weights[0] and _of_someone(message, fragment, i):
            return grams_of(chunk.amount)
    return None


def counted_for_others(message: Message, fragment: Fragment) -> bool:
    """Whether so many pieces of what was weighed were for somebody else: '112 g sausages, one of them for the dog'."""
    return any(
        c.kind == "amount" and c.amount is not None and _counts(c.amount) and _of_someone(message, fragment, i)
        for i, c in enumerate(fragment.chunks)
    )


def _counts(amount: Amount) -> bool:
    """Whether a number beside a weight counts pieces: whoever gives grams away gives more of them."""
    return amount.kind in ("bare", "count") and not amount.unit and amount.value <= MOST_COUNTED


def _of_someone(message: Message, fragment: Fragment, i: int) -> bool:
    """Whether a person stands behind the amount that is chunk i, before the next one, or right before it and ate it."""
    chunks, line = fragment.chunks, message.line
    end = next((n for n in range(i + 1, len(chunks)) if chunks[n].kind == "amount"), i + MOST_BEHIND)
    behind = (n for c in chunks[i + 1 : end] if c.kind != "food" for n in range(c.start, c.end))
    if any(_is_person(message, n) for n in behind):
        return True
    at = chunks[i].start
    ate = line.text(at - 1) in message.words.eating and line.text(at - 1) not in pack()["weighs_so_much"]
    return ate and at > 1 and _is_person(message, at - 2)


def _is_person(message: Message, n: int) -> bool:
    word, owned = message.line.text(n), message.line.text(n + 1)
    if word.endswith("'s") and owned.isalpha() and all(owned not in pack()[of] for of in ("a_helping_of", "helpings")):
        return False  # "off my mum's tree"
    return singular(word) in message.words.people or (
        singular(word) in message.words.pronouns and not _may_be_the_food(message, n)
    )


def _may_be_the_food(message: Message, n: int) -> bool:
    """Whether a pronoun stands for what was weighed: '3 of them', 'they weigh 165 g', 'every last one of them'."""
    line, words = message.line, pack()
    if line.text(n) not in words["they"]:
        return False
    return line.text(n - 1) not in words["for_whom"] and line.text(n + 1) not in line.words.eating


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
