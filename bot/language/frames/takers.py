"""Who a message says had how much: its quantities, and the eaters that they go to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from bot.language.chunks import Chunk
from bot.language.frames.serving import Serving
from bot.language.pack import pack

Whose = Literal["mine", "theirs", "lost", "stays"]
NEAR = 4
"""Words between somebody and the verb that says that they had some."""
NEAR_NAME = 5
"""Tokens between 'whatever' and 'left'."""
MOST = 16
"""Quantities and takers of one message; a longer one is a story."""


@dataclass(frozen=True, slots=True)
class Taker:
    """Whom or what a quantity went to, and where that is said."""

    whose: Whose
    start: int
    end: int
    who: str = ""


@dataclass(frozen=True, slots=True)
class Quantity:
    """How much: an amount, or all that is left."""

    start: int
    end: int
    chunk: Chunk | None = None
    """None: the rest."""


Dealt = tuple[Quantity, Taker]


def dealt_out(told: Serving, numbers: Sequence[Chunk]) -> list[Dealt] | None:
    """Each quantity with the one who had it, in order; None if they do not go together one to one."""
    quantities = quantities_of(told, numbers)
    found = takers(told, quantities)
    both: list[Quantity | Taker] = [*quantities, *found]
    if not quantities:
        # 'the boys finished the pie'
        both += [Quantity(e, e) for s, e in told.places("finished_it") if any(t.whose == "theirs" for t in found)][:1]
    order = sorted(both, key=lambda each: (each.start, each.end))
    if len(order) > MOST:
        return None
    if order and isinstance(order[-1], Quantity) and order[-1].chunk is None and len(quantities) > 1:
        # 'took 12 to school, sold the lot'
        return _paired(order) or _opening_with_mine(told, order) or _paired(order[:-1])
    weighed = [each for each in order if isinstance(each, Taker) or each.chunk is not None]
    # 'what was left was meant for Tom but I nicked 260 g': the rest is only spoken of
    return _paired(order) or _opening_with_mine(told, order) or (_paired(weighed) if numbers else None)


def quantities_of(told: Serving, numbers: Sequence[Chunk]) -> list[Quantity]:
    """The numbers, and what is said to be the rest."""
    rests = _rests(told, numbers)
    within = {n for rest in rests for n in range(rest.start, rest.end)}
    return [Quantity(c.start, c.end, c) for c in numbers if c.start not in within] + rests


def _opening_with_mine(told: Serving, order: Sequence[Quantity | Taker]) -> list[Dealt] | None:
    """'half a slice, mum had the other half': what a message opens with and nobody else had is the writer's."""
    first = order[0] if order else None
    if not isinstance(first, Quantity) or first.chunk is None or len(order) == 1:
        return None
    if isinstance(order[1], Quantity) and order[1].chunk is not None:
        return None
    if not any(told.word(n) in pack()["between_eaters"] for n in range(first.end, order[1].start)):
        return None
    rest = _paired(order[1:])
    return None if rest is None else [(first, Taker("mine", first.start, first.start)), *rest]


def _paired(order: Sequence[Quantity | Taker]) -> list[Dealt] | None:
    """Neighbours joined from the left, each a quantity and a taker in either order.

    A further mention of the same side beside a pair belongs to it: 'Beto took 14 oz for him and the boys'.
    """
    if not order:
        return []
    if len(order) == 1:
        return None
    first, second = order[:2]
    if isinstance(first, Taker) and isinstance(second, Taker):
        # 'mum's here, she had two'
        return _paired(order[1:]) if first.whose == second.whose else None
    if isinstance(first, Quantity) and isinstance(second, Quantity):
        return None
    pair = (first, second) if isinstance(first, Quantity) else (second, first)
    quantity, taker = pair
    assert isinstance(quantity, Quantity)
    assert isinstance(taker, Taker)
    end = 2
    while True:
        rest = _paired(order[end:])
        if rest is not None:
            return [(quantity, taker), *rest]
        more = order[end] if end < len(order) else None
        if not isinstance(more, Taker) or not _together(taker, more):
            return None
        end += 1


def _together(taker: Taker, more: Taker) -> bool:
    """Whether two mentions may be of one side: what somebody else had may have got lost."""
    return taker.whose == more.whose or {taker.whose, more.whose} == {"theirs", "lost"}


def _rests(told: Serving, numbers: Sequence[Chunk]) -> list[Quantity]:
    """'the rest', 'what remained', unless a share is of it ('half of the rest')."""
    shares = {c.end for c in numbers}
    found = [Quantity(*place) for place in rests_named(told)]
    for start, end in told.places("a_rest", "all_gone"):
        if told.message.line.amounts.quantity(end) is not None:
            continue  # 'polished off 300 g'
        of_share = told.word(start - 1) in pack()["of_a_share"] and start - 1 in shares
        if not of_share and start not in shares and not any(q.start < end and start < q.end for q in found):
            found.append(Quantity(start, end))
    return found


def rests_named(told: Serving) -> list[tuple[int, int]]:
    """'whatever soup there was left', 'the curry that remained': what is left, with the batch's name inside it."""
    found: list[tuple[int, int]] = []
    for _, start, end in told.scene.named:
        before, behind = range(start - NEAR_NAME, start), range(end, end + NEAR_NAME)
        led = next((n for n in before if told.word(n) in pack()["whatever_there_is"]), None)
        over = _ends_of(told, behind, "is_left_over")
        if over is not None and (led is not None or told.word(end) in pack()["that_is"]):
            found.append((start if led is None else led, over))
        elif led is not None and _ends_of(told, before, "is_left_over") is not None:
            found.append((led, end))
    return found


def _ends_of(told: Serving, at: range, concept: str) -> int | None:
    """Where the first phrase of a concept ends among some tokens."""
    said = [told.word(n) for n in at]
    return next((at[0] + end for i in range(len(said)) for end in pack()[concept].ends(said, i)), None)


def takers(told: Serving, quantities: Sequence[Quantity]) -> list[Taker]:
    """Everybody and everything that food is said to have gone to, in the order told."""
    denied = {n for start, end in told.places("not_to_me") for n in range(start, end)}
    found = [Taker("lost", start, end) for start, end in told.lost]
    found += [Taker("stays", s, e) for _, s, e in told.mentioned if told.led_by(s, "to_a_place")]
    taken = {n for each in found for n in range(each.start, each.end)}
    for start, end in _others(told, quantities):
        if taken.isdisjoint(range(start, end)):
            found.append(Taker("theirs", start, end, _called(told, start, end)))
            taken.update(range(start, end))
    for start, end in _mine(told, quantities, found):
        if taken.isdisjoint(range(start, end)) and denied.isdisjoint(range(start, end)):
            found.append(Taker("mine", start, end))
            taken.update(range(start, end))
    return sorted(found, key=lambda each: each.start)


def _others(told: Serving, quantities: Sequence[Quantity]) -> list[tuple[int, int]]:
    """The people and animals who had some: by a verb, a word before them, or a quantity right beside them."""
    found: list[tuple[int, int]] = []
    phrases = {start: end for start, end in told.places("more_people") if end - start > 1}
    phrases |= {start: end for start, end in told.places("elsewhere") if told.goes_to(start)}
    for n in told.at:
        if n < (found[-1][1] if found else 0) or told.named_at(n):
            continue
        if n in phrases:
            person = n, phrases[n]
        elif told.is_person(n):
            person = told.whole_person(n)
        elif _listed(told, n, quantities):
            person = n, n + 1
        else:
            continue
        if _had_some(told, person, quantities):
            found.append(person)
    return found


def _had_some(told: Serving, person: tuple[int, int], quantities: Sequence[Quantity]) -> bool:
    start, end = person
    if told.led_by(start, "meant_for"):
        return False
    if told.led_by(start, "went_to_them") or _beside(told, person, quantities):
        return True
    if any(told.owns_helping(n) for n in range(start, end)):
        return True
    before = [told.word(n) for n in range(start - NEAR, start)]
    behind = [told.word(n) for n in range(end, end + NEAR)]
    return pack()["gave_it"].found(before) or any(
        True for i in range(len(behind)) for _ in pack()["had_of_it"].ends(behind, i)
    )


def _beside(told: Serving, person: tuple[int, int], quantities: Sequence[Quantity]) -> bool:
    """Whether a quantity stands right before or behind: 'mum 300', '450 his', 'Ben: 290'."""
    start, end = person
    return any(
        (q.end <= start and _nothing_between(told, q.end, start))
        or (end <= q.start and _nothing_between(told, end, q.start))
        for q in quantities
    )


def _nothing_between(told: Serving, start: int, end: int) -> bool:
    return all(
        told.word(n) in pack()["beside_a_taker"] or told.named_at(n) or told.message.tokens[n].text in (":", "-", "(")
        for n in range(start, end)
    )


def _listed(told: Serving, n: int, quantities: Sequence[Quantity]) -> bool:
    """Whether an unknown word heads a quantity as others do in the list: 'me 380, ellie 180'."""
    token, first = told.message.tokens[n], told.at[0]
    alone = n == first or told.word(n - 1) in pack()["between_eaters"]
    if token.kind != "word" or not alone or told.is_known(n):
        return False
    if not any(told.word(k) in pack()["the_writer"] for k in told.at):
        return False
    return any(_nothing_between(told, n + 1, q.start) for q in quantities if q.start > n)


def _mine(told: Serving, quantities: Sequence[Quantity], others: Sequence[Taker]) -> list[tuple[int, int]]:
    """Where it says that the writer had some."""
    found = list(told.places("went_to_me"))
    found += [(n, n + 1) for n in told.at if told.word(n) in pack()["the_writer"] and _by_itself(told, n, quantities)]
    carried = [t.start for t in others if t.whose == "theirs" and told.led_by(t.start, "to_somebody")]
    for start, end in told.places("ate_myself"):
        if told.word(start) in pack()["carried_off"] and any(start < t for t in carried):
            continue
        if start == told.at[0] or (
            told.word(start - 1) in pack()["before_a_clause"] and not _goes_on(told, start, others)
        ):
            found.append((start, end))
    return sorted(set(found))


def _by_itself(told: Serving, n: int, quantities: Sequence[Quantity]) -> bool:
    """'me 380', '310 for me', 'I 250': the writer right beside a quantity."""
    return _beside(told, (n, n + 1), quantities)


def _goes_on(told: Serving, verb: int, others: Sequence[Taker]) -> bool:
    """Whether the verb has the subject of the clause before: 'she had two slices and took four for dad'."""
    before = [each for each in others if each.whose == "theirs" and each.end <= verb]
    if not before or told.word(verb - 1) not in pack()["goes_on"]:
        return False
    between = [told.word(n) for n in range(before[-1].end, verb)]
    had = any(True for i in range(min(NEAR, len(between))) for _ in pack()["had_of_it"].ends(between, i))
    return had and not any(word in pack()["the_writer"] for word in between)


def _called(told: Serving, start: int, end: int) -> str:
    """Their name in the writer's words; empty for a pronoun."""
    return "" if told.has_no_name(start) else told.message.line.said(start, end).removesuffix("'s")
