"""Foods that a message denies beside those that it tells: 'sugar refused', 'no mustard', 'the carrots stayed there'.

A denial belongs to its clause and to the food in it. Whatever else the message tells stands.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from bot.language.chunks import Chunk
from bot.language.message import Message
from bot.language.narrated import is_somebody
from bot.language.pack import pack
from bot.language.stories import stretches
from domain import reference

MOST_CHUNKS = 60
BYSTANDERS = ("gone_to_waste", "none_of_this", "negation")
"""Concepts of which one is in whatever a bystander clause says."""
REACH = 4
"""Words between a denied verb or 'no' and its food, and between a food and what denies it."""


def without_denied(message: Message) -> Message:
    """The message without the clauses that only deny a food; unchanged if nothing else in it is told with an amount."""
    if message.asks or len(message.chunks) > MOST_CHUNKS or not message.of("amount") or message.of("hash"):
        return message
    message = _not_but(message)
    parts = [list(part) for part in stretches(message, opening="other_clause")]
    gone: list[int] = []
    for n, part in enumerate(parts):
        if _denies(message, part) or _scorns_waste(message, part) or _only_thought_of(message, part):
            gone.append(n)
        elif n and _denies_the_last(message, part) and _foods(parts[n - 1]) and _is_deniable(message, parts[n - 1]):
            gone += [n - 1, n]
        elif n - 1 in gone and _only_a_reason(message, part):
            gone.append(n)
    kept = [part for n, part in enumerate(parts) if n not in gone]
    if not gone or not (_tells(kept) or any(_was_had(message, part) for part in kept)):
        return message
    denied = {c.target for n in gone for c in _foods(parts[n])}
    told = {c.target for n, p in enumerate(parts) if n not in gone and _weighs(p) for c in _foods(p)}
    dropped = [c for n in gone for c in parts[n] if c.kind != "moment"]
    dropped += [c for c in message.of("food") if c.target in denied - told or _is_only_beside(message, c, denied)]
    return message.without(dropped)


def without_bystanders(message: Message) -> Message:
    """The message without clauses that weigh nothing and tell of another food's loss, or of who had none.

    '174 g of fish on the plate. The milk went down the sink', 'herring, 118 g, and the cat got nothing', 'peas 60 g,
    potato not'. What may be the weighed food under another name stays.
    """
    if message.asks or not message.of("food") or len(message.chunks) > MOST_CHUNKS:
        return message
    if message.line.plain.said.isdisjoint(BYSTANDERS):
        return message
    if not any(c.amount is not None and c.amount.kind in ("mass", "volume") for c in message.of("amount")):
        return message
    parts = [list(part) for part in stretches(message, opening="other_clause")]
    before = [[], *parts[:-1]]  # 'herring, 118 g': the weight stands in the clause behind its food
    told = [(_foods(part) or _foods(last)) for last, part in zip(before, parts, strict=True) if _weighs(part)]
    weighed = {food.target for foods in told for food in foods}
    gone = [n for n, part in enumerate(parts) if n and not _weighs(part) and _is_bystander(message, part, weighed)]
    if not gone or not weighed:
        return message
    return message.without(c for n in gone for c in parts[n] if c.kind != "moment")


def _is_bystander(message: Message, part: Sequence[Chunk], weighed: set[str]) -> bool:
    """Whether a clause tells only of a food that is none of the weighed ones, or of somebody who had nothing."""
    if any(c.kind in ("batch", "energy", "macro", "hash") for c in part):
        return False
    said, foods = _words(message, part), _foods(part)
    if not foods:
        subject = said[: next((n for n, w in enumerate(said) if w in pack()["got_food"]), 0)]
        others = any(is_somebody(message, part[0].start + n) for n in range(len(subject)))
        return others and not any(w in pack()["the_writer"] for w in said) and said[-1] in pack()["none_of_this"]
    if len(part) == len(foods) + 1 and said[-1] in pack()["negation"]:
        return not any(c.target in weighed for c in foods)
    return pack()["gone_to_waste"].found(said) and all(_is_unlike(c.target, weighed) for c in foods)


def _is_unlike(target: str, weighed: set[str]) -> bool:
    """Whether a food is of another group than each of the weighed ones, so that it is no other name of one of them."""
    own = _groups(target)
    return bool(own) and all(groups and groups.isdisjoint(own) for groups in map(_groups, weighed))


def _groups(target: str) -> set[str]:
    """The groups that a food, or any food of a generic word, belongs to; empty where that is not known."""
    table = reference.load()
    kinds = table.kinds.get(target.removeprefix("kinds:"))
    names = [target] if kinds is None else kinds.kinds
    return {table.groups[name] for name in names if name in table.groups}


def _foods(part: Sequence[Chunk]) -> list[Chunk]:
    return [c for c in part if c.kind == "food"]


def _weighs(part: Sequence[Chunk]) -> bool:
    """Whether a clause has an amount; 'a' and 'zero' are none."""
    told = (c for c in part if c.amount is not None and c.amount.value)
    return any(c.text.lower() not in pack()["before_excluded"] for c in told)


def _tells(parts: Sequence[Sequence[Chunk]]) -> bool:
    """Whether clauses tell a food and an amount."""
    return any(_weighs(part) for part in parts) and any(_foods(part) for part in parts)


def _was_had(message: Message, part: Sequence[Chunk]) -> bool:
    """Whether a clause says that a food was eaten, without how much."""
    return bool(_foods(part)) and pack()["ate"].found(_words(message, part))


def _words(message: Message, part: Sequence[Chunk]) -> list[str]:
    return message.line.plain[part[0].start : part[-1].end]


def _denies(message: Message, part: Sequence[Chunk]) -> bool:
    """Whether a clause names a food without an amount, and says that there was none of it or that it was left."""
    foods = _foods(part)
    if not foods or _weighs(part) or any(c.kind in ("batch", "energy", "macro") for c in part):
        return False
    said = message.line.plain
    first, last = foods[0], foods[-1]
    before = said[part[0].start : first.start]
    behind = said[last.end : part[-1].end]
    if pack()["not_told_yet"].found(before) or pack()["did_not_cook"].found(_words(message, part)):
        return False
    if pack()["stayed_uneaten"].found(behind[:REACH]) or _only(behind, "none_of_this"):
        return True
    none = [end for i in range(len(before)) for end in pack()["none_of_this"].ends(before, i)]
    if none and len(before) - max(none) <= REACH and all(w in pack()["before_excluded"] for w in before[max(none) :]):
        return none[0] == 1 or _was_none(before)
    return _not_taken(before)


def _only(said: Sequence[str], concept: str) -> bool:
    """Whether words say that and nothing else."""
    return any(end == len(said) for end in (pack()[concept].ends(said, 0) if said else ()))


def _was_none(before: Sequence[str]) -> bool:
    """'then I found there were no …': whether what stands before 'no' says that something was there or was had."""
    return pack()["there_was"].found(before)


def _not_taken(before: Sequence[str]) -> bool:
    """'I did not put the …', 'never touched the …': a denied verb of taking right before a food."""
    for i in range(len(before)):
        for end in pack()["negation"].ends(before, i):
            if len(before) - end <= REACH and pack()["taking_some"].found(before[end : end + 1]):
                return True
    return False


def _denies_the_last(message: Message, part: Sequence[Chunk]) -> bool:
    """'none left', 'they had run out', 'said no' behind a food without an amount."""
    if _foods(part) or _weighs(part):
        return False
    return pack()["none_left"].found(_words(message, part))


def _is_deniable(message: Message, part: Sequence[Chunk]) -> bool:
    """Whether a clause only tells what there might have been: a food without an amount, or one that was offered."""
    return not _weighs(part) or pack()["was_offered"].found(_words(message, part))


def _only_thought_of(message: Message, part: Sequence[Chunk]) -> bool:
    """'thought about a beer', 'was tempted by a 200 g slice of cheesecake'."""
    foods = _foods(part)
    return bool(foods) and pack()["only_thought_of"].found(message.line.plain[part[0].start : foods[0].start])


def _scorns_waste(message: Message, part: Sequence[Chunk]) -> bool:
    """'I cannot watch food go to waste', 'hate binning it': a clause that tells why something was eaten after all."""
    if _weighs(part):
        return False
    said = _words(message, part)
    against = [end for i in range(len(said)) for end in pack()["cannot_bear"].ends(said, i)]
    return bool(against) and pack()["wasting"].found(said[min(against) :])


def _only_a_reason(message: Message, part: Sequence[Chunk]) -> bool:
    """Whether a clause gives the reason for the denial before it and tells no food."""
    reason = message.line.plain[part[0].start] in pack()["gives_a_reason"]
    return reason and not _foods(part) and not _weighs(part)


def _is_only_beside(message: Message, food: Chunk, denied: set[str]) -> bool:
    """'milk to go with the cookies': whether a denied food is only named as what something else goes with."""
    before = message.line.plain[max(food.start - REACH, 0) : food.start]
    return food.target in denied and pack()["to_go_with"].found(before)


def _not_but(message: Message) -> Message:
    """'not 60 g of almonds, as I was about to write, but 16 g': the message without the weight that is denied."""
    said = message.line.plain
    weights = [c for c in message.of("amount") if c.amount is not None and c.amount.kind in ("mass", "volume", "bare")]
    if len(weights) != 2 or len({c.target for c in message.of("food")}) != 1:
        return message
    old, new = weights
    denied = said[old.start - 1] == "not" if old.start else False
    turned = any(said[n] in pack()["contrasting"] for n in range(max(old.end, new.start - 2), new.start))
    if not denied or not turned:
        return message
    kept = {id(c) for c in _kept(message, old, new)}
    return message.without(c for c in message.chunks if id(c) not in kept)


def _kept(message: Message, old: Chunk, new: Chunk) -> Iterator[Chunk]:
    """What of 'not A …, but B' still holds: the food, its state, when it was, and all from B on."""
    for chunk in message.chunks:
        about = chunk.kind in ("food", "state", "size", "moment")
        if chunk is new or chunk.start >= new.end or (about and chunk is not old):
            yield chunk
