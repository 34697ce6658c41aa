"""What food is put on or into, and where one food told ends and the next begins: 'on my toast', 'in my tea'."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import takewhile

from bot.language.chunks import Chunk
from bot.language.lexicon import lexicon
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.text import singular
from bot.language.waste import is_weight
from bot.language.word_lists import word_lists
from domain import reference

WORDS = word_lists("telling")
JOINING = WORDS["joining"]
BESIDE = WORDS["alongside"] | WORDS["in_water"] | WORDS["in_time"] | WORDS["for_a_course"]
"""Words of which one stands before what only lies beside a food."""
OWNED_OR_OF_PLACE = WORDS["owned"] | WORDS["of_place"]
MOST_BESIDE = 3
"""Words between a place and its food."""
LEAST_KCAL = 5.0
"""Below this, 100 g of a drink have no energy to speak of."""
MOST_TO_AMOUNT = 8
"""Chunks from a food to the amount that is told behind its number of pieces."""
MOST_LETTERS = 5
"""Words between 'in' and a drink are shorter."""
MOST_TO_WEIGHT = 5
"""Chunks from a food that is named again to its weight."""


def without_places(message: Message, chunks: Sequence[Chunk]) -> list[Chunk]:
    """The chunks without the food that something measured went on or into: '12 g of butter on my toast'."""
    kept: list[Chunk] = []
    chunks = without_beside(message, chunks)
    i, told = 0, {"amount": False, "food": False}
    while i < len(chunks):
        chunk = chunks[i]
        text = chunk.text.lower()
        if chunk.kind == "newline" or text in (",", ";", ".", "+") or text in WORDS["and_so"]:
            told = dict.fromkeys(told, False)
        elif chunk.kind in told:
            told[chunk.kind] = True
        drink = _drink_ends(chunks, i)
        if drink > i and not told["amount"]:
            i = drink  # 'that splash of milk in my tea, 25 g'
            continue
        end = _place_ends(message, chunks, i) if chunk.kind == "word" and text in WORDS["placing"] else i
        if not all(told.values()) and not (_names_a_little(chunks[:i]) and _stated_behind(chunks, end)):
            end = i
        if end == i:
            kept.append(chunk)
        i = max(end, i + 1)
    return kept


def _drink_ends(chunks: Sequence[Chunk], i: int) -> int:
    """Behind 'in my tea' that begins at chunk i, behind a food: what the food was put into has no energy to count."""
    if chunks[i].kind != "word" or chunks[i].text.lower() not in WORDS["into_drink"] or not i:
        return i
    named = any(c.kind == "food" for c in chunks[max(0, i - MOST_BESIDE) : i])
    j = i + 1
    while j < len(chunks) and j - i <= MOST_BESIDE and (chunks[j].kind == "moment" or _is_small(chunks[j])):
        j += 1
    return j + 1 if named and j < len(chunks) and is_drink(chunks[j]) else i


def _is_small(chunk: Chunk) -> bool:
    """A word such as 'my', or 'a cup of'."""
    measure = (
        chunk.amount is not None and chunk.amount.kind in ("count", "measure", "volume") and chunk.amount.value == 1
    )
    word = chunk.text.lower()
    return measure or (chunk.kind == "word" and len(word) < MOST_LETTERS and word not in lexicon().pronouns)


def is_drink(chunk: Chunk) -> bool:
    """Whether a food is a drink of which a cup has hardly any energy: tea, black coffee."""
    food = reference.load().foods.get(chunk.target) if chunk.kind == "food" else None
    row = food.row() if food is not None and food.group == "drinks" else None
    return row is not None and row.per_100g.kcal < LEAST_KCAL


def _names_a_little(chunks: Sequence[Chunk]) -> bool:
    """Whether a stretch ends with a food or with a word for a little of one: 'the milk', 'that splash'."""
    return bool(chunks) and (chunks[-1].kind == "food" or chunks[-1].text.lower() in WORDS["some"])


def _stated_behind(chunks: Sequence[Chunk], i: int) -> bool:
    """Whether 'was 25 g' comes behind a place, ignoring when it was: the weight is not the place's."""
    while i < len(chunks) and chunks[i].kind == "moment":
        i += 1
    if i >= len(chunks) or chunks[i].text.lower() not in pack()["came_out_at"]:
        return False
    return any(c.kind == "amount" for c in chunks[i + 1 : i + 3])


def without_beside(message: Message, chunks: Sequence[Chunk]) -> list[Chunk]:
    """The chunks without 'alongside the salmon', 'in hot water' and what a tin was filled up with."""
    said = [chunk.text.lower() for chunk in chunks]
    if BESIDE.isdisjoint(said):
        return list(chunks)
    kept: list[Chunk] = []
    i = 0
    while i < len(chunks):
        text = said[i]
        j = i + 1
        while (
            j < len(chunks)
            and j - i <= MOST_BESIDE
            and (said[j] in OWNED_OR_OF_PLACE or chunks[j].kind in ("size", "state"))
        ):
            j += 1
        food = chunks[j] if j < len(chunks) and chunks[j].kind == "food" else None
        told = food is not None and _has_amount_behind(chunks, j + 1, later=text in WORDS["alongside"])
        beside = text in WORDS["alongside"] or (
            text in WORDS["in_time"]
            and (said[j + 1 : j + 2] == [","] or not WORDS["eaters_here"].isdisjoint(said[j + 1 : j + 2]))
        )
        water = text in WORDS["in_water"] and food is not None and food.text.lower() in WORDS["no_matter"]
        filled = text in WORDS["in_water"] and i > 0 and chunks[i - 1].text.lower() in WORDS["tinned"]
        course = text in WORDS["for_a_course"] and food is not None and food.text.lower() in WORDS["courses"] and i > 0
        if food is not None and not told and (beside or water or filled or course) and len(chunks) > j - i + 1:
            i = j + 1
        else:
            kept.append(chunks[i])
            i += 1
    return kept


def _has_amount_behind(chunks: Sequence[Chunk], i: int, *, later: bool) -> bool:
    """Whether an amount follows at i; or later, before the next food and not as its own ('…, two of them 118 g')."""
    at_once = any(c.kind == "amount" for c in chunks[i : i + 1])
    if at_once or not later:
        return at_once
    run = list(takewhile(lambda c: c.kind not in ("food", "batch", "newline"), chunks[i : i + MOST_TO_AMOUNT]))
    last = next((n for n in range(len(run) - 1, -1, -1) if run[n].kind == "amount"), None)
    return last is not None and (i + last + 1 == len(chunks) or chunks[i + last + 1].kind in ("sign", "newline"))


def _place_ends(message: Message, chunks: Sequence[Chunk], i: int) -> int:
    """Behind 'on my toast' that begins at chunk i, where no amount of it is told; i where there is no such place."""
    j = i + 1
    if j >= len(chunks) or chunks[j].text.lower() not in WORDS["owned"]:
        return i
    j += 1
    while j < len(chunks) and (
        chunks[j].kind in ("state", "size", "moment") or chunks[j].text.lower() in message.words.harmless
    ):
        j += 1
    end = j
    while end < len(chunks) and (chunks[end].kind == "food" or chunks[end].text.lower() in message.words.other_foods):
        end += 1
    return i if end == j or _measured_behind(chunks, end) else end


def _measured_behind(chunks: Sequence[Chunk], i: int) -> bool:
    """Whether an amount that is of no food of its own comes at i ('… over my pasta, 180 g cooked')."""
    if i < len(chunks) and chunks[i].text in (",", "(", ":", "-"):
        i += 1
    if i >= len(chunks) or chunks[i].kind != "amount":
        return False
    rest = takewhile(lambda c: c.kind not in ("sign", "newline") and c.text.lower() not in JOINING, chunks[i + 1 :])
    return all(c.kind not in ("food", "batch") for c in rest)


def separates(text: str, chunks: Sequence[Chunk], i: int) -> bool:
    """Whether a word or sign at chunk i parts two things told."""
    if text in JOINING or text in WORDS["listing"]:
        return True
    if text in WORDS["separating"]:
        if i and chunks[i - 1].kind == "tare":
            return False  # 'katori with yoghurt reads 241'
        return any(c.kind in ("amount", "food", "batch") for c in chunks[i + 1 : i + 5])
    if text in WORDS["into_drink"] and _drink_ends(chunks, i) > i:
        return True
    if (
        text in WORDS["had_in_it"]
        and i
        and is_drink(chunks[i - 1])
        and any(c.kind == "amount" for c in chunks[i + 1 : i + 2])
    ):
        return True
    if text in WORDS["carrying"]:
        if _told_again(chunks, i):
            return True
        return any(c.kind in ("amount", "food") for c in chunks[i + 1 : i + 3]) and any(
            c.kind == "food" for c in chunks[:i]
        )
    return False


def _told_again(chunks: Sequence[Chunk], i: int) -> bool:
    """Whether the food behind chunk i is named again, with an amount: 'cod on lentils, lentils came to 120'."""
    ahead = list(
        takewhile(lambda c: c.kind not in ("sign", "newline", "amount") or _is_article(c), chunks[i + 1 : i + 7])
    )
    named = next((c for c in ahead if c.kind == "food"), None)
    if named is None:
        return False
    last = singular(named.text.lower().split()[-1])
    for n, chunk in enumerate(chunks[i + 1 + len(ahead) :], i + 1 + len(ahead)):
        again = chunk.kind == "food" and (
            chunk.target == named.target or singular(chunk.text.lower().split()[-1]) == last
        )
        if again and any(is_weight(c) for c in chunks[n + 1 : n + MOST_TO_WEIGHT]):
            return True
    return False


def _is_article(chunk: Chunk) -> bool:
    return chunk.amount is not None and chunk.amount.value == 1 and not chunk.amount.unit
