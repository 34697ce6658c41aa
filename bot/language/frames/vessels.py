"""Frames for the tare of empty vessels."""

from __future__ import annotations

from collections.abc import Container, Sequence
from itertools import pairwise

from bot.language.chunks import Chunk
from bot.language.fact_meanings import SaveTare
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.pots import named_at
from bot.language.scene import Scene
from bot.language.told import Amount
from bot.language.vessel_sizes import size_ends

MOST_VESSELS = 4
MOST_NAME_WORDS = 4
LEAST_G = 5.0
LEAST_UNSAID_G = 50.0
"""What a vessel weighs at least where nothing says that it is empty."""


def tares(scene: Scene) -> list[Meaning] | None:
    """'so this dutch oven empty is five pounds four ounces', 'big pot weighs 1870 g, small pot weighs 1240 g'."""
    message = scene.message
    if message.asks or scene.named or message.of("hash", "energy", "macro"):
        return None
    weighed = [c for c in scene.amounts if c.amount is not None and c.amount.kind in ("mass", "bare")]
    if len(weighed) == 2 and len({_grams(c.amount) for c in weighed if c.amount is not None}) == 1:
        return tares(Scene(message.without(weighed[1:])))  # 'eighteen hundred, yeah, one thousand eight hundred'
    if not 1 <= len(weighed) <= MOST_VESSELS or not all(c in weighed or _one(c) for c in scene.amounts):
        return None
    if scene.cue("i_ate", "condition"):
        return None
    names = _without_heading(message, _names(message), weighed)
    covered = {n for start, end in names for n in range(start, end)}
    beside = [c for c in message.of("food", "batch", "moment") if covered.isdisjoint(range(c.start, c.end))]
    if beside or len(names) != len(weighed):
        return None
    empty = scene.cue("empty", "nothing_in_it")
    least = LEAST_G if empty else LEAST_UNSAID_G
    if (
        not empty
        and not _is_alone(message, names[0], weighed[0])
        and not (scene.cue("weighs_empty") and (len(names) > 1 or _is_all(message, names[0], weighed[0])))
    ):
        return None
    saved: list[SaveTare] = []
    for (start, end), chunk in zip(names, weighed, strict=True):
        amount = chunk.amount
        assert amount is not None
        if _grams(amount) < least or amount.doubt is not None:
            return None
        saved.append(SaveTare(name=message.line.said(start, end).lower().removesuffix("'s"), amount=amount))
    return list(saved) if len({each.name for each in saved}) == len(saved) else None


def vessel_told(message: Message) -> tuple[SaveTare, Message] | None:
    """What a vessel weighs, told beside something else ('…, dish is 2 lb 3 oz. …'), and the message without that."""
    chunks, line = message.chunks, message.line
    for n, weight in enumerate(chunks):
        amount = weight.amount
        if amount is None or amount.kind not in ("mass", "bare") or amount.doubt or _grams(amount) < LEAST_UNSAID_G:
            continue
        after = chunks[n + 1] if n + 1 < len(chunks) else None
        if after is not None and after.kind not in ("sign", "newline") and not weight.text.endswith("."):
            continue
        start = n
        while start and line.plain[chunks[start - 1].start] in pack()["weighs_empty"].words and n - start < 2:
            start -= 1
        if start == n or not _is_vessel(message, chunks[start - 1].end - 1):
            continue
        first = start - 1
        while first and _in_name(message, chunks[first - 1].start) and chunks[first - 1].kind == "word":
            first -= 1
        name = line.said(chunks[first].start, chunks[start - 1].end).lower()
        if chunks[first - 1 : first] and line.plain[chunks[first - 1].start] in pack()["article"]:
            first -= 1
        told = SaveTare(name=_in_full(message, name), amount=amount)
        return told, message.without(chunks[first : n + 1])
    return None


def _in_full(message: Message, name: str) -> str:
    """The fuller name of the vessel elsewhere in the message: 'the dish' is the 'glass dish' that it began with."""
    line, found = message.line, name
    for n in range(message.chunks[0].start, message.chunks[-1].end):
        if line.plain[n] == name and _is_vessel(message, n):
            start = n
            while n - start < MOST_NAME_WORDS and start > message.chunks[0].start and _in_name(message, start - 1):
                start -= 1
            found = max(found, line.said(start, n + 1).lower(), key=len)
    return found


def _is_all(message: Message, name: tuple[int, int], weight: Chunk) -> bool:
    """Whether it says nothing but what a cooking vessel with a name of its own weighs: 'the dutch oven weighs 2.1 kg'.

    A vessel's bare word is not enough: 'the pot weighs 3 kg' may be what is cooked in it, 'the box is 300 g' food.
    """
    line, (start, end) = message.line, name
    bare = end - start < 2 and not (line.lemmas[end - 1] in pack()["eaten_from"] and _nothing_waits(message))
    if bare or line.lemmas[end - 1] in pack()["no_cooking_vessel"] or weight.start < end:
        return False
    if any(c.kind in ("food", "state", "tare") for c in message.chunks if c.start < end and start < c.end):
        return False
    said = [
        n
        for c in message.chunks
        if c is not weight and c.kind != "sign"
        for n in range(c.start, c.end)
        if not start <= n < end
    ]
    known = pack()["no_vessels_name"].words | pack()["weighs_empty"].words
    return all(line.plain[n] in known for n in said)


def _is_alone(message: Message, name: tuple[int, int], weight: Chunk) -> bool:
    """'pot 900g', 'soup pot 1.8 kg': a vessel that food is cooked in and its weight, while no pot is on the stove."""
    line, (start, end) = message.line, name
    sized = size_ends(line, start) is not None
    if not (sized or line.lemmas[end - 1] in pack()["cooked_in"]) or weight.start < end or message.around.waiting:
        return False
    if any(c.kind in ("food", "state") and c.end >= end and c.start < end for c in message.chunks):
        return False  # 'sweet pot 260'
    grams = _grams(weight.amount) if weight.amount is not None else 0.0
    filled = [b for b in message.around.at_work if not sized or grams >= (b.raw_g or 0.0)]
    if filled:
        return False  # it may be what is in it
    heads = [n for c in message.chunks if c is not weight and c.kind != "sign" for n in range(c.start, c.end)]
    return all(start <= n < end or line.plain[n] in pack()["no_vessels_name"] for n in heads)


def _nothing_waits(message: Message) -> bool:
    """Whether nothing may be in the vessel: no pot is open and no amount is asked for."""
    return not message.around.batches and not message.around.waiting


def _one(chunk: Chunk) -> bool:
    """Whether an amount is only part of a vessel's name ('a big', 'the pot')."""
    return chunk.amount is not None and chunk.amount.kind in ("loose", "count", "measure") and chunk.amount.value == 1


def _names(message: Message) -> list[tuple[int, int]]:
    """The tokens of the vessels' names, in order, each with the preceding words that belong to it."""
    line, found = message.line, list[tuple[int, int]]()
    at, end = message.chunks[0].start, message.chunks[-1].end
    behind = at
    weighed = {n for c in message.of("amount") if not _one(c) for n in range(c.start, c.end)}
    weighed |= {n for c in message.of("word") if c.end > c.start + 1 for n in range(c.start, c.end)}  # a size
    for n in range(at, end):
        if not _is_vessel(message, n) or (n + 1 < end and _is_vessel(message, n + 1)):
            continue
        if line.text(n + 1) == "of":
            return []
        start = n
        while (
            start > behind and n - start < MOST_NAME_WORDS and start - 1 not in weighed and _in_name(message, start - 1)
        ):
            start -= 1
        if found and line.plain[start : n + 1] == line.plain[n : n + 1] and _said(line.plain, found, n):
            continue
        if found and found[-1][1] == start:
            start = found.pop()[0]  # 'teapot-shaped bowl'
        start = _with_size(message, start)
        behind = n + 1 + _has_letter(message, n + 1, weighed)
        found.append((start, behind))
    return found


def _with_size(message: Message, start: int) -> int:
    """Where a vessel's name begins, with the size before it: '9x13 pan'."""
    size = next((c for c in message.of("word") if c.end == start and size_ends(message.line, c.start) == start), None)
    return start if size is None else size.start


def _without_heading(message: Message, names: list[tuple[int, int]], weighed: Sequence[Chunk]) -> list[tuple[int, int]]:
    """The names without a heading: the vessels of 'vessels first: the pot weighs 2310 g' have no weight themselves."""
    heads = [c.start for c in message.chunks if c.text == ":"]
    kept = list(names)
    for one, following in pairwise(names):
        between = range(one[1], following[0])
        if any(n in between for n in heads) and not any(c.start in between for c in weighed):
            kept.remove(one)
    return kept


def _has_letter(message: Message, n: int, weighed: Container[int]) -> bool:
    """Whether a letter or a size that distinguishes vessels follows: 'lunchbox B', 'tupperware small'."""
    said = message.line.text(n)
    return (
        ((len(said) == 1 and said.isalpha()) or said in message.words.sizes) and n not in weighed and n + 1 in weighed
    )


def _said(words: Sequence[str], found: Sequence[tuple[int, int]], n: int) -> bool:
    """Whether a vessel's bare word only repeats which one is meant."""
    return any(words[end - 1] == words[n] for _, end in found)


def _is_vessel(message: Message, n: int) -> bool:
    line = message.line
    if line.tokens[n].kind != "word":
        return False
    lemma = line.lemmas[n].removesuffix("'s")
    if lemma in message.words.vessels or lemma in pack()["vessel_too"]:
        return True
    kept = any(lemma == name.split()[-1] for name, _ in message.around.tares if name)
    return (kept or _stands_empty(message, n)) and line.name(n) is None


def _stands_empty(message: Message, n: int) -> bool:
    """'the sufuria weighs 1215 g on its own': whether a word that nothing knows is said to have a weight empty."""
    line, words = message.line, message.wording
    small = line.plain[n] in pack()["no_vessels_name"] or line.text(n - 1) in pack()["an_article"]
    unnamed = small or message.words.knows(line.lemmas[n])
    if unnamed or n + 1 >= len(line.tokens) or named_at(line, n):
        return False
    led = line.plain[n + 1] in pack()["weighs_empty"].words or line.amounts.number(n + 1) is not None
    return led and (pack()["empty"].found(words) or pack()["nothing_in_it"].found(words))


def _in_name(message: Message, n: int) -> bool:
    """Whether a word before a vessel belongs to its name."""
    line = message.line
    if line.tokens[n].kind != "word" or line.plain[n] in pack()["no_vessels_name"]:
        return False
    return line.amounts.number(n) is None


def _grams(amount: Amount) -> float:
    return amount.grams if amount.grams is not None else amount.value
