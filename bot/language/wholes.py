"""A share of a whole with a stated weight: 'half a scone, the whole scone was 74 g', '100 g bar, ate half'."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.chunks import Chunk, Line
from bot.language.pack import pack
from bot.language.text import singular
from bot.language.told import Amount
from bot.language.weighed import Said, grams_of, less, text_of, weighs
from bot.language.word_lists import word_lists

WORDS = word_lists("telling")
MOST_BEHIND = 5
"""How many words after 'of it' may say whose it was."""


def all_but(said: Said) -> list[Chunk] | None:
    """'I ate everything but 35 g of the 260 g risotto', '8 dumplings, ate all but 3': the whole less what was left."""
    told = [c for c in said.chunks if c.kind == "amount"]
    led = {end: c.start for c in said.chunks if (end := said.says("all_but", c.start)) is not None}
    part = next((c for c in told if c.start in led), None)
    whole = next((c for c in told if c is not part), None)
    if len(told) != 2 or part is None or whole is None or part.amount is None or whole.amount is None:
        return None
    kinds = {part.amount.kind, whole.amount.kind}
    if part.amount.doubt or whole.amount.doubt or not kinds <= {"mass", "bare"}:
        return None
    if whole.amount.kind == "mass" or weighs(whole):
        left = less(whole, part)
    else:
        value = whole.amount.value - part.amount.value
        left = replace(whole.amount, value=value, text=f"{text_of(whole)} less {text_of(part)}")
    if left.value <= 0:
        return None
    links = range(part.end, whole.start)
    gone = [c for c in said.chunks if led[part.start] <= c.start < part.end or (c.kind == "word" and c.start in links)]
    return said.but(gone, {whole.start: left})


def of_whole(said: Said) -> list[Chunk] | None:
    """The clause with a share and the weight of the whole replaced by their product; None if it has none.

    A weight after a share is what was eaten ('half an avocado, 68 g') unless it is stated to be that of the whole.
    """
    part = _part_of_it(said)
    if part is not None:
        return part
    for n, share in enumerate(said.chunks):
        if share.kind != "amount" or share.amount is None or share.amount.doubt or not 0 < share.amount.value < 1:
            continue
        if share.amount.kind not in ("bare", "count", "measure") or _is_given(said, share):
            continue
        found = _whole_behind(said, n) or _whole_before(said, n)
        if found is not None:
            return found
    return None


def _part_of_it(said: Said) -> list[Chunk] | None:
    """'garlic bread 280 g altogether, 60 g of it mine', '500 g soup, I had 200 g of it': the part is what was eaten."""
    weights = [c for c in said.chunks if _weight(c) or (weighs(c) and said.line.text(c.end) in WORDS["of_them"])]
    if len(weights) != 2 or sum(c.kind in ("food", "batch") for c in said.chunks) != 1:
        return None
    whole, part = weights
    line = said.line
    if said.behind("out_of_all", part.start) and (
        whole.amount and part.amount and whole.amount.value < part.amount.value
    ):
        return said.but(
            [part, *(c for c in said.chunks if whole.end <= c.start < part.start and said.says("out_of_all", c.start))],
            {},
        )
    of_it = line.text(part.end) in WORDS["of_them"] and line.text(part.end + 1) in WORDS["it"]
    behind = [line.text(part.end + 2 + i) for i in range(MOST_BEHIND)]
    mine = not WORDS["mine"].isdisjoint(behind) or line.text(part.start - 1) in line.words.eating
    if said.anywhere("not_eaten", [c for c in said.chunks if c.start >= part.end]):
        return None
    others = any(_is_somebody(line, word) for word in (*behind, *line.plain[whole.end : part.start]))
    smaller = grams_of(part) < grams_of(whole)
    return said.but([whole], {}) if of_it and mine and not others and smaller else None


def _whole_behind(said: Said, n: int) -> list[Chunk] | None:
    """'half a 96 g muffin', 'a third of the pizza, the whole thing weighed 300 g', 'half a tin, the tin is 415 g'."""
    share = said.chunks[n]
    m = next((m for m in range(n + 1, len(said.chunks)) if said.chunks[m].kind == "amount"), None)
    if m is None or not _weight(said.chunks[m]):
        return None
    mass, between = said.chunks[m], said.chunks[n + 1 : m]
    product = _product(share, mass)
    if product is None:
        return None
    if not between:
        # 'my half 70 g', 'avocado half 98 g' is what the half weighs, 'half a 96 g muffin' is not
        before = said.chunks[n - 1] if n else None
        own = said.line.text(share.start - 1) in WORDS["mine"] or (
            before is not None and before.kind == "food" and before.end == share.start
        )
        return said.but([share], {}) if own else said.but([mass], {share.start: product})
    foods = [c for c in between if c.kind == "food"]
    if len({c.target for c in foods}) > 1 or any(c.kind == "batch" for c in between):
        return None
    behind = said.chunks[m + 1 : m + 2]
    told = any(_says_whole(said, c, share) for c in between[1:]) or _whole_was_weighed(said, share, between)
    if told or (foods and behind and behind[0].kind == "whole" and behind[0].text.lower() in WORDS["wholes"]):
        kept = foods[:1] + [c for c in between if c.kind == "state"]
        return said.but([mass, *(c for c in between if c not in kept and c.start > share.end)], {share.start: product})
    return None


def _whole_was_weighed(said: Said, share: Chunk, between: Sequence[Chunk]) -> bool:
    """'two thirds of the pudding, which I had weighed at 240 g': it is the whole that is told of, not the share."""
    food = next((n for n, c in enumerate(between) if c.kind == "food"), None)
    if food is None:
        return False
    definite = any(c.text.lower() in WORDS["pointing_determiners"] for c in between[:food])
    behind = [said.line.plain[n] for c in between[food + 1 :] for n in range(c.start, c.end)]
    relative = next((n for n, word in enumerate(behind) if word in pack()["relative"]), None)
    if not definite or relative is None or relative > 1:
        return False
    return pack()["put_on_scales"].found(behind[relative:])


def _whole_before(said: Said, n: int) -> list[Chunk] | None:
    """'100 g bar of milk chocolate, had a quarter', '400 g pizza, half was mine'."""
    share = said.chunks[n]
    m = next((m for m in range(n - 1, -1, -1) if said.chunks[m].kind == "amount"), None)
    if m is None or not _weight(said.chunks[m]) or sum(c.kind == "amount" for c in said.chunks) != 2:
        return None
    mass = said.chunks[m]
    if is_product(said.line, mass):
        return None  # 'half of a 180 g trout, the other half is in the fridge'
    foods = [c for c in said.chunks if c.kind in ("food", "batch") and said.line.text(c.end) not in WORDS["of_them"]]
    behind = said.line.text(share.end)
    ends = share.end >= said.end or behind in WORDS["share_ends"]
    before = range(max(0, share.start - 3), share.start)
    stays = any(share.start in pack()["left_of_mine"].ends(said.line.plain, i) for i in before)
    product = _product(_rest(share) if stays else share, mass)
    if len(foods) != 1 or foods[0].kind != "food" or foods[0].start > share.start or not ends or product is None:
        return None
    mine = stays or any(said.line.text(i) in WORDS["mine"] for i in before)
    if not mine and any(said.line.lemmas[i] in said.line.words.people for i in range(said.chunks[0].start, said.end)):
        return None
    return said.but([share], {mass.start: product})


def _rest(share: Chunk) -> Chunk:
    """What is eaten where a share stays on the plate: 'left a quarter'."""
    assert share.amount is not None
    rest = replace(share.amount, value=1 - share.amount.value, text=f"all but {share.amount.text}")
    return share._replace(amount=rest)


def _is_given(said: Said, share: Chunk) -> bool:
    """Whether a share went to somebody else: 'gave the dog half my sausage', 'he got half of it'."""
    line = said.line
    before = line.plain[max(said.chunks[0].start, share.start - MOST_BEHIND) : share.start]
    last = max((n for n, word in enumerate(before) if _is_somebody(line, word)), default=None)
    if last is None or any(word in WORDS["mine"] or word == "," for word in before[last:]):
        return False
    return pack()["gave_it"].found(before[:last]) or pack()["had_of_it"].found(before[last + 1 :])


def _is_somebody(line: Line, word: str) -> bool:
    return singular(word) in line.words.people or word in line.words.pronouns


def _says_whole(said: Said, chunk: Chunk, share: Chunk) -> bool:
    unit = share.amount.unit if share.amount is not None else ""
    lemma = said.line.lemmas[chunk.start]
    return said.line.text(chunk.start) in WORDS["wholes"] or (unit != "" and lemma == unit.split()[-1])


def _weight(chunk: Chunk) -> bool:
    amount = chunk.amount
    return amount is not None and amount.kind in ("mass", "volume") and not amount.doubt


def is_product(line: Line, weight: Chunk) -> bool:
    """Whether a weight was told as a share of another, and is that of the share: 'half of a 180 g'."""
    if weight.amount is None or not 0 < line.amounts.part(weight.start)[0] < 1:
        return False
    inner = (line.amounts.number(n) for n in range(weight.start + 1, weight.end))
    return any(number is not None and number.value > 1 for number in inner)


def _product(share: Chunk, whole: Chunk) -> Amount | None:
    part, amount = share.amount, whole.amount
    if part is None or amount is None:
        return None
    if part.value == 1:
        return amount
    if amount.grams is None:
        return replace(amount, value=part.value * amount.value, text=f"{part.text} of {amount.text}")
    grams = part.value * amount.grams
    return replace(amount, value=grams, unit="g", grams=grams, text=f"{part.text} of {amount.text}")
