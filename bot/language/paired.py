"""Several foods, then as many weights: 'cheese and crackers, 40 + 28' is 40 g of cheese and 28 g of crackers."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from bot.language.chunks import Chunk
from bot.language.message import SENTENCE_END, Message, read
from bot.language.pack import pack, plain

LEAST_FOODS, MOST_FOODS = 2, 6
MOST_COUNTED = 12
"""A number before a food up to it counts pieces."""
BETWEEN_WEIGHTS = frozenset({",", "+", "/", "&"})
BEFORE_WEIGHTS = frozenset({",", ":", "-", "=", "("})
_TERMS = re.compile(r"\s*[+&]\s*")


@dataclass(frozen=True, slots=True)
class _Pairs:
    """Foods and the weights that follow them, as they were typed, and the chunks that they stand in."""

    foods: list[str]
    weights: list[str]
    first: int
    end: int


def paired(message: Message) -> Message:
    """The message with each weight behind its own food, where as many weights as foods follow a row of foods."""
    if message.asks or len(message.of("food")) < LEAST_FOODS or not message.of("amount") or message.of("tare"):
        return message
    if message.has_any(message.words.vessels):
        return message  # the scale may have run on: 'bowl, oats, milk: 250, 295, 490'
    for i, chunk in enumerate(message.chunks):
        found = _pairs(message, i) if chunk.kind == "food" else None
        if found is None:
            continue
        text, tokens = message.whole, message.tokens
        start, last = tokens[message.chunks[found.first].start].start, tokens[message.chunks[found.end - 1].end - 1].end
        told = ", ".join(f"{food} {weight}" for food, weight in zip(found.foods, found.weights, strict=True))
        return read(f"{text[:start]}{told}{text[last:]}", message.around)
    return message


def _pairs(message: Message, i: int) -> _Pairs | None:
    """A row of foods that begins at chunk i with as many weights behind it; None if there is none."""
    foods, at = _foods(message, i)
    if not LEAST_FOODS <= len(foods) <= MOST_FOODS:
        return None
    if at < len(message.chunks) and message.chunks[at].text in BEFORE_WEIGHTS:
        at += 1
    weights, end = _weights(message, at)
    behind = message.chunks[end] if end < len(message.chunks) else None
    ends = behind is None or behind.kind == "newline" or behind.text in SENTENCE_END or behind.text == ")"
    if len(weights) != len(foods) or not ends:
        return None
    return _Pairs([_said(message, part) for part in foods], weights, message.chunks.index(foods[0][0]), end)


def _foods(message: Message, i: int) -> tuple[list[list[Chunk]], int]:
    """The foods of a row, each with the count before it, and the chunk behind them."""
    chunks, found, at = message.chunks, list[list[Chunk]](), i
    before = chunks[i - 1] if i else None
    if before is not None and before.kind == "amount" and not _counts(before):
        return [], i  # '60 g oats and milk, 200' is a list of another order
    counted = [before] if before is not None and before.kind == "amount" else []
    while at < len(chunks):
        if chunks[at].kind == "amount" and _counts(chunks[at]) and chunks[at + 1 : at + 2]:
            counted, at = [chunks[at]], at + 1
        if chunks[at].kind != "food":
            return [], i
        found.append([*counted, chunks[at]])
        counted, at = [], at + 1
        if at + 1 < len(chunks) and _joins(chunks[at]) and chunks[at + 1].kind in ("food", "amount"):
            follows = chunks[at + 1].kind == "food" or (_counts(chunks[at + 1]) and _is_food(chunks, at + 2))
            if follows:
                at += 1
                continue
        return found, at
    return found, at


def _is_food(chunks: Sequence[Chunk], at: int) -> bool:
    return at < len(chunks) and chunks[at].kind == "food"


def _counts(chunk: Chunk) -> bool:
    amount = chunk.amount
    return amount is not None and amount.kind in ("bare", "count") and amount.value <= MOST_COUNTED


def _joins(chunk: Chunk) -> bool:
    return chunk.kind in ("word", "sign") and plain(chunk.text.lower()) in pack()["parts_of_a_list"]


def _weights(message: Message, at: int) -> tuple[list[str], int]:
    """The weights from a chunk on, as they were typed, each with its state, and the chunk behind them."""
    chunks, found, end = message.chunks, list[str](), at
    while end < len(chunks) and _weighs(chunks[end]):
        part = [chunks[end]]
        end += 1
        while end < len(chunks) and chunks[end].kind == "state":
            part.append(chunks[end])
            end += 1
        terms = _TERMS.split(part[0].text)
        found += terms if len(part) == 1 else [_said(message, part)]
        goes_on = end + 1 < len(chunks) and _separates(chunks[end]) and _weighs(chunks[end + 1])
        if not goes_on:
            break
        end += 1
    return found, end


def _separates(chunk: Chunk) -> bool:
    return chunk.text in BETWEEN_WEIGHTS or plain(chunk.text.lower()) in pack()["goes_on"]


def _weighs(chunk: Chunk) -> bool:
    amount = chunk.amount
    told = amount is not None and amount.kind in ("mass", "bare", "volume") and amount.doubt is None
    return told and amount is not None and amount.times is None and chunk.text[:1].isdecimal()


def _said(message: Message, part: Sequence[Chunk]) -> str:
    """A stretch as it was typed."""
    return message.whole[message.tokens[part[0].start].start : message.tokens[part[-1].end - 1].end]
