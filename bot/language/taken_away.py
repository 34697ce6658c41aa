"""What is taken off a weight in the same message: '68 g, less 19 g to my niece', 'the cat got 20 g of my 140 g'."""

from __future__ import annotations

from bot.language.chunks import Chunk
from bot.language.frames.stretch import as_mass, grams_of
from bot.language.message import Message
from bot.language.narrated import is_somebody
from bot.language.number_words import number_words
from bot.language.pack import pack
from bot.language.told import Amount

ENDS = frozenset({",", ";", ".", "(", ")", "\n"})
MOST_CHUNKS = 40
REACH = 4
"""Words before or behind a weight that say what became of it."""


def less_what_was_taken(message: Message) -> Message:
    """The message with the weight of its one food less the smaller weight that is said to be taken off it."""
    if message.asks or len(message.chunks) > MOST_CHUNKS or message.of("batch", "hash", "energy", "macro", "tare"):
        return message
    weights = [c for c in message.of("amount") if c.amount is not None and c.amount.kind in ("mass", "bare")]
    if len(weights) != len(message.of("amount")) or len(weights) != 2 or not message.of("food"):
        return message
    whole, part = weights
    if whole.amount is not None and part.amount is not None and _bitten_off(message, whole, part):
        return _less_a_bite(message, whole, part)
    if whole.amount is None or part.amount is None or whole.amount.kind != "mass" or abs(part.amount.value) <= 1:
        return message
    left = grams_of(whole.amount) - abs(grams_of(as_mass(part.amount, whole.amount)))
    if (
        left <= 0
        or not _is_of_it(message, whole, part)
        or not (_subtracted(message, part) or _put_back(message, part) or _taken_of_it(message, part))
    ):
        return message
    amount = Amount(kind="mass", value=left, unit="g", grams=left, text=f"{left:g} g of {whole.amount.text}")
    cut = _cut(message, part)
    kept = (c for c in message.chunks if c.end <= cut or c.kind == "moment")
    told = tuple(c._replace(amount=amount) if c is whole else c for c in kept)
    return Message(message.whole, told, message.line, message.offset)


def _less_a_bite(message: Message, bite: Chunk, mine: Chunk) -> Message:
    """The message from the writer's weight on, less what somebody took of it."""
    if bite.amount is None or mine.amount is None:
        return message
    whole = grams_of(mine.amount)
    gone = grams_of(as_mass(bite.amount, mine.amount))
    if not 0 < gone < whole:
        return message
    left = whole - gone
    amount = Amount(kind="mass", value=left, unit="g", grams=left, text=f"{left:g} g of {mine.amount.text}")
    kept = (c for c in message.chunks if c.start >= mine.start or c.kind == "moment")
    told = tuple(c._replace(amount=amount) if c is mine else c for c in kept)
    return Message(message.whole, told, message.line, message.offset)


def _bitten_off(message: Message, bite: Chunk, mine: Chunk) -> bool:
    """Whether somebody else took a part of what was the writer's: 'the cat got 20 g of my 140 g of cod'."""
    between = message.line.plain[bite.end : mine.start]
    if mine.amount is None or mine.amount.kind != "mass" or len(between) != 2:
        return False
    foods = message.of("food")
    return (
        between[0] in number_words().of
        and between[1] in pack()["my_own"]
        and len({c.target for c in foods if c.start > mine.start}) == 1
        and _taken_by_another(message, bite)
    )


def _taken_of_it(message: Message, part: Chunk) -> bool:
    """Whether somebody else took a part 'of it', told behind the whole: '… 205 g, but the cat got 30 of that'."""
    of, it = (*message.line.plain[part.end : part.end + 2], "", "")[:2]
    pointing = it in pack()["it_or_them"] or it in pack()["my_own"]
    return of in number_words().of and pointing and _taken_by_another(message, part)


def _taken_by_another(message: Message, part: Chunk) -> bool:
    """Whether a person or an animal stands before a verb of eating that leads up to the amount."""
    start = max((n + 1 for n in range(part.start) if message.tokens[n].text in ENDS), default=0)
    said = message.line.plain[start : part.start]
    verb = next((n for n, w in enumerate(said) if w in pack()["got_food"] or w in pack()["given_or_lost"]), None)
    if not verb or verb > REACH or any(w in pack()["oneself"] for w in said[: verb + 1]):
        return False
    return any(is_somebody(message, n) for n in range(start, start + verb))


def _cut(message: Message, part: Chunk) -> int:
    """The token from which on the message only tells what was taken off."""
    tokens = message.tokens
    signs = [n for n in range(part.start) if tokens[n].text in ENDS]
    before = message.line.plain[max(part.start - REACH, 0) : part.start]
    led = [i for i in range(len(before)) if pack()["less_so_much"].end(before, i) is not None]
    return max([part.start - len(before) + i for i in led[:1]] + signs[-1:] + [0])


def _is_of_it(message: Message, whole: Chunk, part: Chunk) -> bool:
    """Whether the part is of the same food: no other is named, and it is no refuse."""
    if len({c.target for c in message.of("food")}) != 1:
        return False
    behind = message.line.lemmas[part.end : message.chunks[-1].end]
    return message.words.parts.isdisjoint(w.removesuffix("'s") for w in behind[: REACH - 1])


def _subtracted(message: Message, part: Chunk) -> bool:
    """'less 19 g', 'minus the 40 g': a word for subtracting, with nothing but articles up to the weight."""
    before = message.line.plain[max(part.start - REACH, 0) : part.start]
    ends = [end for i in range(len(before)) for end in pack()["less_so_much"].ends(before, i)]
    if part.amount is not None and part.amount.doubt == "negative":
        return True  # 'minus 40 g' is read as one amount
    return bool(ends) and all(w in pack()["before_number"] for w in before[max(ends) :])


def _put_back(message: Message, part: Chunk) -> bool:
    """'put 40 g back, and ate the remainder': so much went back, and the rest was eaten."""
    behind = message.line.plain[part.end : part.end + REACH + 1]
    rest = message.line.plain[part.end : message.chunks[-1].end]
    return pack()["went_back"].found(behind) and pack()["a_rest"].found(rest)
