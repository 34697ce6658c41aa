"""The writer's part of a whole, where it is stated: 'steak pie 300 g, the dog had 60, so 240 for me'.

A stated result counts, whatever other numbers led to it. A share of a whole with a stated weight is their product.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby, takewhile

from bot.language.chunks import Chunk
from bot.language.denied import without_denied
from bot.language.eaten_clause import only_eaten
from bot.language.message import Message, once
from bot.language.number_words import number_words
from bot.language.pack import pack, plain
from bot.language.shared_food import weighs_the_share, without_the_others
from bot.language.taken_away import less_what_was_taken
from bot.language.text import singular
from bot.language.told import Amount

MOST_CHUNKS = 60
"""A longer message is about more than one whole."""
BEFORE, BEHIND = 6, 5
"""How many words before and after an amount may say that it is the writer's."""
OF_ONES_OWN = ("my_piece", "part_of_it", "so_much", "whole_weight", "i_took", "for_oneself")
"""Concepts of which one says that an amount is the writer's."""
CUTS = frozenset({",", ";", ".", "!", "(", ")", "-", "\n"})


@once
def what_counts(message: Message) -> Message:
    """The message without what it denies, less what was taken off a weight, reduced to what the writer ate of it.

    A message of which nothing would be left stays as it is.
    """
    reduced = own_part(only_eaten(less_what_was_taken(without_denied(message))))
    return reduced if reduced.chunks else message


def own_part(message: Message) -> Message:
    """The message reduced to the writer's part of the one food it is about; unchanged if no part is stated."""
    if len(message.chunks) > MOST_CHUNKS or message.asks or message.of("batch", "hash", "energy", "macro"):
        return message
    message = without_the_others(message)
    message = _without_the_company(_without_the_rest(message))
    message = _share_of_whole(message) or _share_of_all(message) or message
    foods = message.of("food")
    if not foods:
        return message
    if message.line.plain.said.isdisjoint(OF_ONES_OWN):
        return message
    results = [c for c in message.of("amount") if c.amount is not None and _is_mine(message, c)]
    mine = {id(c) for c in results}
    others = [c for c in message.of("amount") if id(c) not in mine]
    result = results[-1] if results else None
    if result is None or not (others or _is_piece_of_mine(message, result)):
        return message
    food = _food_of(message, result)
    if _told_apart(message, food, others):
        return message
    kept = {id(c) for c in message.of("state", "whole", "moment")} | {id(c) for c in food} | {id(result)}
    kept |= {id(c) for c in message.of("part") if c.start > result.start}  # the bone of the writer's piece
    return message.without(c for c in message.chunks if id(c) not in kept)


def _words(message: Message, start: int, end: int) -> list[str]:
    first, last = message.chunks[0].start, message.chunks[-1].end
    return message.line.plain[max(first, start) : min(last, end)]


def _is_mine(message: Message, amount: Chunk) -> bool:
    """Whether an amount is stated as what the writer had in the end."""
    words = pack()
    if amount.amount is None or amount.amount.kind not in ("mass", "bare") or not amount.amount.value > 1:
        return False
    before = _words(message, amount.start - BEFORE, amount.start)
    behind = _words(message, amount.end, amount.end + BEHIND)
    behind = _until_sign(behind)
    if _is_piece_of_mine(message, amount):
        return True
    others = message.words.pronouns | message.words.people
    if _is_beside_others(message, amount):
        return True
    if _took_it(before) and _is_of_larger(message, amount):
        return True
    subject = [w for w in before[-2:-1] if w not in others]
    if subject and words["part_of_it"].found(behind[:2]) and words["i_had_some"].found(before[-1:]):
        earlier = [c.amount for c in message.of("amount") if c.end <= amount.start and c.amount is not None]
        return any(a.kind in ("mass", "bare") and a.value > amount.amount.value for a in earlier)
    so = words["so_much"].found(before)
    if _i_had(before) and words["whole_weight"].found(_words(message, message.chunks[0].start, amount.start)):
        return True
    return so and (words["for_myself"].found(behind) or words["i_had_left"].found(before))


def _took_it(before: Sequence[str]) -> bool:
    """Whether the words end with the writer taking it: '… I managed', '… I only had'."""
    return pack()["i_took"].found(before[-3:])


def _is_of_larger(message: Message, amount: Chunk) -> bool:
    """'of 700 g of boiled potatoes I managed 210 g': whether a larger weight of it was told behind 'of' before."""
    assert amount.amount is not None
    earlier = [c for c in message.of("amount") if c.end <= amount.start and c.amount is not None]
    return any(message.line.text(c.start - 1) in number_words().of and _grams(c) > _grams(amount) for c in earlier)


def _grams(chunk: Chunk) -> float:
    amount = chunk.amount
    return 0.0 if amount is None else amount.grams if amount.grams is not None else amount.value


def _is_beside_others(message: Message, amount: Chunk) -> bool:
    """'rice 180 cooked for me, 90 for each child': the writer's weight, beside one that is said to be for others."""
    if not pack()["for_oneself"].found(_behind(message, amount)[:3]):
        return False
    people = message.words.people | message.words.pronouns
    theirs = [_behind(message, c) for c in message.of("amount") if c is not amount]
    return bool(theirs) and all(
        pack()["for_whom"].found(said[:2]) and any(singular(w) in people for w in said) for said in theirs
    )


def _behind(message: Message, amount: Chunk) -> list[str]:
    """The words behind an amount up to the next sign, without states."""
    said = _words(message, amount.end, amount.end + BEHIND)
    cut = next((n for n, w in enumerate(said) if w in ",;."), len(said))
    return [w for w in said[:cut] if w not in message.words.states]


def _is_piece_of_mine(message: Message, amount: Chunk) -> bool:
    """'my slice weighed 165 g', 'I had the smaller, 128 g'."""
    before = _words(message, amount.start - BEFORE, amount.start)
    ends = [end for i in range(len(before)) for end in pack()["my_piece"].ends(before, i)]
    return bool(ends) and all(_links(w) or w == "," for w in before[max(ends) :])


def _until_sign(words: list[str]) -> list[str]:
    return list(takewhile(lambda word: word not in ",;.", words))


def _share_of_all(message: Message) -> Message | None:
    """'300 g cauliflower roasted with 15 g oil, I had half': that share of every weight before it."""
    parts = [list(group) for cut, group in groupby(message.chunks, key=lambda c: c.text in CUTS) if not cut]
    share = next((c for c in parts[-1] if _is_share(c)), None) if len(parts) > 1 else None
    if share is None or share.amount is None or not _is_only_my_share(message, parts[-1], share):
        return None
    told = [c for part in parts[:-1] for c in part]
    weights = [c for c in told if c.kind == "amount"]
    if len(weights) < 2 or any(c.amount is None or c.amount.kind not in ("mass", "volume") for c in weights):
        return None
    kept = [
        c._replace(amount=_times(c.amount, share.amount)) if c.kind == "amount" and c.amount else c
        for c in message.chunks
        if c.start < parts[-1][0].start
    ]
    return replace(message, chunks=tuple(kept))


def _is_only_my_share(message: Message, part: Sequence[Chunk], share: Chunk) -> bool:
    """Whether a stretch says no more than 'I had half of it'."""
    before = _words(message, part[0].start, share.start)
    behind = _words(message, share.end, part[-1].end)
    return _i_had(before) and all(w in pack()["of_all_that"] for w in behind)


def _times(amount: Amount, share: Amount) -> Amount:
    grams = None if amount.grams is None else share.value * amount.grams
    text = f"{share.text} of {amount.text}"
    if grams is not None:
        return Amount(kind="mass", value=grams, unit="g", grams=grams, text=text)
    return replace(amount, value=share.value * amount.value, text=text)


def _i_had(before: Sequence[str]) -> bool:
    """Whether 'I had', with nothing but small words behind it, leads up to an amount."""
    ends = [end for i in range(len(before)) for end in pack()["i_had"].ends(before, i)]
    return bool(ends) and all(w in pack()["before_number"] for w in before[max(ends) :])


def _goes_to_me(message: Message, share: Chunk) -> bool:
    """Whether a share is stated as the writer's: 'mine was a quarter', 'a third of it was mine', 'I had half'."""
    words = pack()
    before = _words(message, share.start - BEFORE, share.start)
    behind = _until_sign(_words(message, share.end, share.end + BEHIND))
    return _i_had(before) or words["my_piece"].found(before) or words["for_myself"].found(behind)


def _told_apart(message: Message, food: Sequence[Chunk], others: Sequence[Chunk]) -> bool:
    """Whether another food has an amount of its own, so that not all numbers belong to one food."""
    targets = {c.target for c in food}
    return any(c.target not in targets and any(_beside(message, c, a) for a in others) for c in message.of("food"))


def _beside(message: Message, food: Chunk, amount: Chunk) -> bool:
    """Whether an amount stands next to a food, ignoring linking words between them."""
    first, second = sorted((food, amount), key=lambda c: c.start)
    between = _words(message, first.end, second.start)
    return all(_links(w) or w in message.words.states for w in between)


def _links(word: str) -> bool:
    """Whether a word may stand between a food and its weight."""
    return word in pack()["beside_kind"] or word in pack()["came_out_at"] or word in ":=-"


def _food_of(message: Message, result: Chunk) -> Sequence[Chunk]:
    """The chunks that name the food: right after the result, else the first food with a weight, else the first food."""
    foods, amounts = message.of("food"), message.of("amount")
    behind = [c for c in foods if c.start >= result.end and _only_of(message, result, c)]
    weighed = [c for c in foods if any(_beside(message, c, a) for a in amounts)]
    at = message.index((behind or weighed or foods)[0])
    run = [message.chunks[at]]
    while at and message.chunks[at - 1].kind == "word" and not message.words.knows(message.chunks[at - 1].text.lower()):
        at -= 1
        run.insert(0, message.chunks[at])
    return run


def _only_of(message: Message, result: Chunk, food: Chunk) -> bool:
    """Whether nothing but 'of' and a state stands between an amount and its food."""
    between = [c for c in message.chunks if result.end <= c.start < food.start]
    return all(c.kind in ("state", "size") or plain(c.text.lower()) in pack()["articles_of"] for c in between)


def _without_the_rest(message: Message) -> Message:
    """The message without 'sister got the rest', 'the other half went to Tom': the amount is already the writer's."""
    parts = [list(group) for cut, group in groupby(message.chunks, key=lambda c: c.text in CUTS) if not cut]
    gone = [chunk for part in parts if _is_of_the_rest(message, part) for chunk in part]
    kept = message.without(gone) if gone else message
    return kept if kept.of("amount") and kept.of("food") else message


def _without_the_company(message: Message) -> Message:
    """The message without 'between the four of us', where the writer's own share is stated too."""
    if not any(_is_share(c) or _is_mine(message, c) for c in message.of("amount")):
        return message
    words = [plain(t.text) for t in message.tokens]
    gone: list[Chunk] = []
    for chunk in message.of("amount"):
        behind = pack()["of_us"].end(words, chunk.end)
        if behind is None or chunk.amount is None or chunk.amount.kind not in ("bare", "count"):
            continue
        start = chunk.start
        while start > message.chunks[0].start and words[start - 1] in pack()["divided_among"]:
            start -= 1
        gone += [c for c in message.chunks if start <= c.start and c.end <= behind]
    return message.without(gone) if gone else message


def _is_of_the_rest(message: Message, part: Sequence[Chunk]) -> bool:
    """Whether a stretch only says that somebody else had the rest."""
    if any(c.kind in ("food", "amount") and not _is_share(c) for c in part):
        return False
    said = _words(message, part[0].start, part[-1].end)
    return pack()["others_rest"].found(said) and not pack()["rest_is_mine"].found(said)


def _is_share(chunk: Chunk) -> bool:
    amount = chunk.amount
    return chunk.kind == "amount" and amount is not None and amount.kind in ("bare", "count") and 0 < amount.value < 1


def _share_of_whole(message: Message) -> Message | None:
    """'half a scone, the whole scone being 74 grams': the product."""
    shares = [c for c in message.of("amount") if _is_share(c)]
    weights = [c for c in message.of("amount") if c.amount is not None and c.amount.kind in ("mass", "bare")]
    masses = [c for c in weights if c.amount is not None and c.amount.value > 1]
    if len(shares) != 1 or len(masses) != 1 or masses[0].amount is None or shares[0].amount is None:
        return None
    if _is_mine(message, masses[0]):
        return None
    if weighs_the_share(message, shares[0], masses[0]):
        return _weighed_share(message, shares[0], masses[0])
    before = _words(message, masses[0].start - BEFORE, masses[0].start)
    foods = {c.target for c in message.of("food")}
    if len(foods) != 1 or not (pack()["the_whole_one"].found(before) or _goes_to_me(message, shares[0])):
        return None
    mass, share = masses[0].amount, shares[0].amount
    grams = share.value * (mass.grams if mass.grams is not None else mass.value)
    part = Amount(kind="mass", value=grams, unit="g", grams=grams, text=f"{share.text} of {mass.text}")
    food = next(c for c in message.of("food"))
    kept = [food, *message.of("state", "moment")]
    chunks = [c for c in message.chunks if c in kept or c is shares[0]]
    changed = [c._replace(amount=part) if c is shares[0] else c for c in chunks]
    return replace(message, chunks=tuple(changed))


def _weighed_share(message: Message, share: Chunk, weight: Chunk) -> Message | None:
    """'I ate the half she left, 24 g': the food with the weight of the share; None if the share is not the writer's."""
    if share.start > weight.start or not _goes_to_me(message, share):
        return None
    about = {id(c) for c in message.of("food", "state", "moment", "whole", "part")}
    return message.without(c for c in message.chunks if id(c) not in about and c is not weight)
