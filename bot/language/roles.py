"""The roles of numbers: weights that mean something only together, made the one amount that they come to.

"the jar was 412, now 389" is 23 g, "plate 780 with food, plate alone 420" is 360 g, "bowl 250, yogurt 430, berries
512" is 180 g and 82 g, "3 eggs 60 g each" is 180 g.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache, partial

from bot.language.balance import balanced
from bot.language.chunks import Chunk, Line
from bot.language.each import of_each, several_of
from bot.language.on_the_scale import SMALL_STEP_G, filled_step_by_step, filled_up_to, totals_from_zero, used_up
from bot.language.one_food import is_part, named_once
from bot.language.pack import pack
from bot.language.readings import jar_read_twice, totals_in_order
from bot.language.reckoning import reckoning
from bot.language.told import Amount, TareRef
from bot.language.totals import in_all, restated, summed
from bot.language.weighed import Said, grams_of, less, text_of, weighs
from bot.language.wholes import all_but, of_whole
from domain.foods import State

MOST_WEIGHTS = 8
"""Weights of a clause that are looked at together; nobody's plate has more on it."""
MOST_EMPTY = 3
"""Vessels and lids that stand on a scale together."""
STATED = 0.01
"""How far a result that is said may be from the one that is reckoned."""
PAIRED = (("b#a#", 0), ("#b#a", 0), ("a#b#", 1), ("#a#b", 1))
"""Two weights, each with its word (before, after), and which of them is the one before."""


def with_roles(line: Line, chunks: list[Chunk]) -> list[Chunk]:
    """The chunks of a line with each group of weights that belong together made one amount."""
    if all(c.kind != "amount" for c in chunks):
        return chunks
    chunks = named_once(line, chunks)
    said = set(line.plain)
    vessel = any(c.kind == "tare" for c in chunks) or not line.words.vessels.isdisjoint(line.lemmas)
    roles = [role for role, words in ROLES if not said.isdisjoint(words()) or (vessel and role in OF_VESSELS)]
    if sum(c.kind == "amount" for c in chunks) > 1:
        roles[:0] = restated, summed, in_all, of_whole, several_of
    if not roles and not vessel:
        return chunks
    found: list[Chunk] = []
    whole = _readings(line, chunks) if vessel or not said.isdisjoint(_openers("zeroed", "scale")) else None
    if whole is not None:
        return whole
    for clause in _clauses(line, chunks):
        amounts = sum(c.kind == "amount" for c in clause)
        for role in roles if 0 < amounts <= MOST_WEIGHTS else ():
            clause = role(Said(line, line.plain, clause)) or clause
        found.extend(clause)
    return balanced(line, found)


def _readings(line: Line, chunks: list[Chunk]) -> list[Chunk] | None:
    """The chunks of a message that only tells what one scale showed; None where it does not."""
    if not 2 <= sum(c.kind == "amount" for c in chunks) <= MOST_WEIGHTS:
        return None
    said = Said(line, line.plain, chunks)
    return totals_in_order(said) or jar_read_twice(said)


def _clauses(line: Line, chunks: Sequence[Chunk]) -> list[list[Chunk]]:
    """Cut behind line ends and full stops; an empty vessel belongs to what is put into it ('plate 412. +cod 573')."""
    clauses: list[list[Chunk]] = [[]]
    for chunk in chunks:
        clauses[-1].append(chunk)
        ends = chunk.kind == "newline" or (chunk.kind == "sign" and chunk.text in ".!?")
        ends = ends and reckoning()["each"].end(line.plain, chunk.end) is None  # 'crackers x6. each one is 3 g'
        if ends and not _is_empty_vessel(line, clauses[-1]):
            clauses.append([])
    return _with_their_vessels(line, _with_their_counts(line, clauses))


def _with_their_vessels(line: Line, clauses: list[list[Chunk]]) -> list[list[Chunk]]:
    """The clauses, with 'pot with lid and chickpeas: 1310.' together with 'pot 620, lid 190' behind it."""
    joined: list[list[Chunk]] = []
    for clause in clauses:
        before = joined[-1] if joined else []
        weights = [c for c in clause if weighs(c)]
        vessels = [c for c in clause if c.kind == "tare" or line.lemmas[c.start] in line.words.vessels]
        filled = sum(weighs(c) for c in before) == 1 and any(c.kind == "food" for c in before)
        if filled and weights and len(vessels) == len(weights) and all(c.kind != "food" for c in clause):
            joined[-1] = [*before, *clause]
        else:
            joined.append(clause)
    return joined


def _with_their_counts(line: Line, clauses: list[list[Chunk]]) -> list[list[Chunk]]:
    """The clauses, with 'crackers, 3 g each.' together with 'had 5' behind it."""
    joined: list[list[Chunk]] = []
    for clause in clauses:
        before = joined[-1] if joined else []
        told, counts = ([c for c in part if c.kind == "amount"] for part in (before, clause))
        foods = [c for c in (*before, *clause) if c.kind in ("food", "batch")]
        weighed = [c for c in told if c.amount is not None and c.amount.kind == "mass"]
        each = weighed and reckoning()["each"].end(line.plain, weighed[0].end) is not None
        number = counts[0].amount if counts else None
        if (
            each
            and len(weighed) == 1
            and len(foods) == 1
            and foods[0] in before
            and number is not None
            and number.kind == "bare"
        ):
            joined[-1] = [*before, *clause]
        else:
            joined.append(clause)
    return joined


def _is_empty_vessel(line: Line, clause: Sequence[Chunk]) -> bool:
    if any(c.kind in ("food", "batch") for c in clause) or sum(weighs(c) for c in clause) != 1:
        return False
    return any(c.kind == "tare" or line.lemmas[c.start] in line.words.vessels for c in clause)


def _before_and_after(said: Said) -> list[Chunk] | None:
    """'before 412 after 385', 'the jar was 412, now 389', 'came to 865 from 1120': what came off the scale."""
    told = [c for c in said.chunks if c.kind in ("food", "batch")]
    if not 2 <= len(said.weights) <= 3:
        return None
    if len(told) > 1:
        return _around_a_use(said, told[0])
    if any(is_part(said.line, c) for c in said.chunks):
        return None  # 'apple 171 before, core 22 after'
    if {State.RAW, State.COOKED} <= {c.state for c in said.chunks if c.kind == "state"}:
        return None  # the raw and the cooked weight
    labelled = _labelled(said, "before", "after")
    with_vessel = _labelled(said, "gross", "tare") if labelled is None else None
    labelled = labelled or with_vessel
    if labelled is None and any(said.vessel(c) for c in said.chunks):
        labelled = _labelled(said, "was", "now")
        if labelled is not None and grams_of(labelled[0]) < grams_of(labelled[1]):
            return None
    if labelled is None:
        left, full = said.weights[:2]
        if not (said.behind("from", full.start) and said.behind("came_to", left.start)):
            return None
        labelled = full, left, []
    first, second, labels = labelled
    more, fewer = (first, second) if grams_of(first) > grams_of(second) else (second, first)
    net = less(more, fewer)
    if with_vessel is not None and more is second and net.grams is not None:
        # No vessel weighs more than it does with food in it.
        net = replace(net, value=-net.grams, grams=-net.grams, doubt="negative")
    vessels = [c for c in said.chunks if c.kind == "tare"]
    stated = [c for c in said.weights if c not in (first, second)]
    if stated:
        result = stated[0]
        if net.grams is None or abs(grams_of(result) - net.grams) > max(1.0, STATED * net.grams):
            return None
        between = [c for c in said.chunks if first.start <= c.start < result.start or c in (first, second)]
        return said.but([*labels, *vessels, *(c for c in between if c.kind not in ("food", "batch", "moment"))], {})
    kept, gone = sorted((first, second), key=lambda c: c.start)
    return said.but([gone, *labels, *vessels], {kept.start: net})


def _around_a_use(said: Said, food: Chunk) -> list[Chunk] | None:
    """'the jar of tahini stood at 530 before I dressed my salad and at 498 after': what the one food before lost.

    What is told between the two weights is what it was used for.
    """
    if len(said.weights) != 2:
        return None
    first, second = said.weights
    label = said.says("before", first.end), said.says("after", second.end)
    if food.end > first.start or None in label or label[1] != said.end or grams_of(first) <= grams_of(second):
        return None
    others = [c for c in said.chunks if c.kind in ("food", "batch") and c is not food]
    used = [c for c in said.chunks if first.end < c.start < second.start]
    joined = max((n for n, c in enumerate(used) if c.text.lower() in pack()["joining"] or c.text == ","), default=None)
    if any(c not in used for c in others) or joined is None or any(c in others for c in used[joined:]):
        return None  # 'rice 200 before the gym and chicken 150 after'
    net = less(first, second)
    kept = [c for c in said.chunks if c.start <= first.start and c.kind != "tare"]
    return [c._replace(amount=net) if c is first else c for c in kept]


def _labelled(said: Said, before: str, after: str) -> tuple[Chunk, Chunk, list[Chunk]] | None:
    """(the weight before, the weight after, the chunks that say so) where each of two weights has its word."""
    order: list[str] = []
    weights: list[Chunk] = []
    labels: list[Chunk] = []
    for chunk in said.chunks:
        if weighs(chunk):
            order.append("#")
            weights.append(chunk)
            continue
        for concept in (before, after):
            end = said.says(concept, chunk.start) if chunk.kind in ("word", "noise") else None
            if end is not None and _is_label(said, end):
                order.append("b" if concept == before else "a")
                labels.append(chunk)
                break
    line = "".join(order)
    if line.count("b") != 1 or line.count("a") != 1:
        return None
    fits = [(line.find(pattern), first) for pattern, first in PAIRED if pattern in line]
    if not fits:
        return None
    at, first = min(fits)
    two = weights[line[:at].count("#") :][:2]
    return two[first], two[1 - first], labels


def _is_label(said: Said, end: int) -> bool:
    """Whether what ends there goes with a number: 'before 412', '412 before,', and not 'before the gym'."""
    after = said.says("linking", end) or end
    if any(c.start == after for c in said.weights) or after >= said.end:
        return True
    token = said.line.tokens[after]
    return token.kind != "word" or token.text in reckoning().operations


def _running_totals(said: Said) -> list[Chunk] | None:
    """'bowl 250, yogurt 430, blueberries 512': each number is what the scale shows with all before it."""
    segments = said.segments()
    first = next((n for n, s in enumerate(segments) if any(weighs(c) or c.kind == "tare" for c in s)), None)
    if first is None:
        return None
    head = segments[first]
    vessels = [c for c in head if said.vessel(c)]
    weights = [c for c in head if weighs(c)]
    foods = [c for c in head if c.kind in ("food", "batch")]
    dropped: list[Chunk] = []
    rest = segments[first:]
    if vessels and len(weights) == 1 and not foods:
        total, dropped, rest = grams_of(weights[0]), head, segments[first + 1 :]
    elif vessels and vessels[0].tare is not None and vessels[0].tare.grams is not None and _leads(vessels[0], weights):
        total, dropped = vessels[0].tare.grams, vessels
    elif said.anywhere("untared", said.chunks):
        total = 0.0
    else:
        return None
    told = [s for s in rest if any(weighs(c) for c in s)]
    if len(told) < (1 if weights and not foods else 2):
        return None
    return _steps(said, told, total, [*dropped, *_heading(said, rest[0])])


def _heading(said: Said, first: Sequence[Chunk]) -> list[Chunk]:
    """'fruit salad in one bowl:' before the readings: what they come to is called, and nothing more is told."""
    before = [c for c in said.chunks if c.start < first[0].start]
    colon = next((n for n, c in enumerate(before) if c.text == ":"), None)
    return [] if colon is None else [c for c in before[: colon + 1] if c.kind != "moment"]


def _leads(vessel: Chunk, weights: Sequence[Chunk]) -> bool:
    return not weights or vessel.start < weights[0].start


SURE_STEPS = 2
"""Totals before a small step from which on nothing but a total is meant."""


def _steps(said: Said, told: Sequence[Sequence[Chunk]], total: float, dropped: Sequence[Chunk]) -> list[Chunk] | None:
    """Each weight less the total before it; None where they do not grow or one is of no food."""
    changed: dict[int, Amount] = {}
    linking: list[Chunk] = []
    for segment in told:
        weights = [c for c in segment if weighs(c)]
        if len(weights) != 1 or not any(c.kind == "food" for c in segment) or grams_of(weights[0]) <= total:
            return None
        weight = weights[0]
        grams = grams_of(weight) - total
        if total:
            text = f"{text_of(weight)} less {total:g}"
            net = Amount(kind="mass", value=grams, unit="g", grams=grams, text=text)
            small = grams < SMALL_STEP_G and len(changed) < SURE_STEPS
            changed[weight.start] = replace(net, doubt="total", other=grams_of(weight)) if small else net
        total = grams_of(weight)
        linking.extend(said.before("up_to", weight))
    return said.but([*dropped, *linking], changed)


def _gross_and_tare(said: Said) -> list[Chunk] | None:
    """'plate 780 with food, plate alone 420', 'pot with lid and rice 1310, pot 620, lid 190': the rest is the food."""
    if not 2 <= len(said.weights) <= MOST_EMPTY + 1:
        return None
    parts = [s for s in said.segments() if any(c in said.weights for c in s)]
    if len(parts) != len(said.weights):
        return None
    bare = [s for s in parts if _only_vessel(said, s)]
    if len(bare) == len(parts) or not bare:
        bare = [s for s in bare or parts if said.anywhere("alone", s) and not _named(said, s, "food")]
    if len(bare) != len(parts) - 1:
        return None
    empty = [c for s in bare for c in s]
    gross = [c for c in said.chunks if c not in empty]
    full = next(c for c in gross if c in said.weights)
    tares = [c for c in empty if c in said.weights]
    if any(said.line.plain[c.start - 1] in pack()["not_that"] for c in (full, *tares) if c.start):
        return None  # 'not 180, it is 160 because the bowl was wet'
    named = _named(said, said.chunks, "food", "batch")
    filled = said.anywhere("filled", gross)
    tare = sum(map(grams_of, tares))
    if grams_of(full) <= tare or not (named or (filled and said.anywhere("alone", empty))):
        return None
    if len(tares) > 1 and not all(_is_in(said, s, gross) for s in bare):
        return None
    vessels = [c for c in gross if said.vessel(c)] or [c for c in empty if said.vessel(c)]
    if not vessels:
        return None
    dropped = [c for c in empty if c.kind != "moment" or (c.moment is not None and c.moment.future)]
    dropped += [c for c in gross if said.vessel(c) or _between(said, gross, c) or _of_its_name(said, c)]
    name = vessels[0].tare.name if vessels[0].tare is not None else vessels[0].text.lower()
    vessel = Chunk("tare", full.end, full.end, f"with the {name}", tare=TareRef(name=name, grams=tare))
    kept = said.but(dropped, {})
    at = kept.index(full) + 1
    return [*kept[:at], vessel, *kept[at:]]


def _only_vessel(said: Said, segment: Sequence[Chunk]) -> bool:
    wasted = any(c.text.lower() in said.line.words.parts for c in segment)
    named = wasted or _named(said, segment, "food", "batch")
    left = any(said.anywhere(concept, segment) for concept in ("filled", "not_eaten"))
    return not named and any(said.vessel(c) for c in segment) and not left


def _named(said: Said, chunks: Sequence[Chunk], *kinds: str) -> bool:
    """Whether something of these kinds is named that is no part of a vessel's name ('cereal bowl')."""
    return any(c.kind in kinds and not _of_its_name(said, c) for c in chunks)


def _of_its_name(said: Said, chunk: Chunk) -> bool:
    """Whether a food only tells what a vessel is for: 'my cereal bowl'; but the peanut butter jar holds some."""
    lemma = said.line.lemmas[chunk.end] if chunk.end < len(said.line.lemmas) else ""
    return chunk.kind == "food" and lemma in said.line.words.vessels and lemma in pack()["eaten_from"]


def _is_in(said: Said, empty: Sequence[Chunk], gross: Sequence[Chunk]) -> bool:
    """Whether the vessel of a segment is among those that stood on the scale together."""
    lemmas = {said.line.lemmas[n] for c in gross for n in range(c.start, c.end)}
    return any(said.line.lemmas[c.end - 1] in lemmas for c in empty if said.vessel(c))


def _between(said: Said, segment: Sequence[Chunk], chunk: Chunk) -> bool:
    """Whether a chunk is one of the words that say that a vessel was filled ('plus big pot', 'with food')."""
    if chunk.kind != "word":
        return False
    start = next((c.start for c in segment if c.kind == "word" and said.says("filled", c.start)), None)
    if start is None or chunk.start < start:
        return False
    vessel = next((c.start for c in segment if c.start > start and said.vessel(c)), None)
    return vessel is None or chunk.start < vessel


@cache
def _openers(*concepts: str) -> frozenset[str]:
    return frozenset().union(*(reckoning()[name].words for name in concepts))


ROLES = (
    (all_but, partial(_openers, "all_but")),
    (of_each, partial(_openers, "each", "at", "for_one", "one_of_them", "linking")),
    (totals_from_zero, partial(_openers, "zeroed")),
    (filled_step_by_step, partial(_openers, "untared")),
    (filled_up_to, partial(_openers, "up_to")),
    (used_up, partial(_openers, "untared", "now_shows")),
    (_before_and_after, partial(_openers, "before", "after", "from", "gross", "tare")),
    (_running_totals, partial(_openers, "untared")),
    (_gross_and_tare, partial(_openers, "untared")),
)
"""In order, since what the first finds is one amount for the next; each with words without which it finds nothing."""
OF_VESSELS = (filled_step_by_step, used_up, _before_and_after, _running_totals, _gross_and_tare)
"""Those that need no such word where a vessel is named."""
