"""Several weights of one food, balanced: what was there, less what was not eaten of it.

Each weight has a context, the words that stand nearer to it than to the other weights. By the context it is the weight
of a vessel, of a part that is thrown away, of what was left, of what was only intended, or of a container that was read
once more. Physics gives the direction: what is left, the part and the vessel weigh less than the whole.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.chunks import Chunk, Line
from bot.language.foodwords import has_part
from bot.language.number_words import number_words
from bot.language.one_food import Stretch, Weighed, is_food, is_part, is_weight, stretches
from bot.language.pack import pack
from bot.language.reckoning import reckoning
from bot.language.text import singular
from bot.language.told import TareRef
from bot.language.weighed import less, text_of
from bot.language.word_lists import word_lists
from domain.foods import State
from domain.reference.words import is_real_word

WORDS = word_lists("telling")
MOST_WEIGHTS = 3
"""The whole, what came off it, and what that makes."""
MOST_CHUNKS = 45
"""A longer stretch is a story."""
AGREE_G, AGREE = 1.0, 0.005
"""How far a result may be from the difference of the two other weights, in grams or as a share."""
MOST_WASTE = 0.85
"""What is thrown away is hardly more of the whole."""
MOST_UNSAID = 0.2
"""A container from which no more than this is gone needs no word that it was read twice: 'granola bag 650, 604'."""
STATED_G = 0.5
"""How near a number is to a weight on record that it repeats."""
MOST_BETWEEN = 3
"""Words between a denial and the verb of eating that it denies."""
OTHERWISE = ("hash", "energy", "macro", "price", "batch")
"""Kinds of chunk of which none is in a stretch that only tells of one food."""


def balanced(line: Line, chunks: Sequence[Chunk]) -> list[Chunk]:
    """The chunks of a line, with each group of weights of one food that belong together made one amount."""
    if sum(c.kind == "amount" for c in chunks) < 2 or "?" in line.plain or pack()["told_before"].found(line.plain):
        return list(chunks)
    found = list(chunks)
    for stretch in stretches(line, chunks):
        better = _balanced(stretch)
        if better is not None:
            gone = {id(c) for c in stretch.chunks}
            at = next(n for n, c in enumerate(found) if id(c) in gone)
            found = [c for c in found if id(c) not in gone]
            found[at:at] = better
    return found


def _balanced(stretch: Stretch) -> list[Chunk] | None:
    """The stretch with one amount in place of its weights; None where they do not belong together."""
    weighed = _without_repeats(stretch.weighed)
    if not 2 <= len(weighed) <= MOST_WEIGHTS or len(stretch.chunks) > MOST_CHUNKS:
        return None
    if not stretch.one_food or any(c.kind in OTHERWISE for c in stretch.chunks) or _of_others(stretch):
        return None
    if {State.RAW, State.COOKED} <= {c.state for c in stretch.chunks if c.kind == "state"}:
        return None  # the raw and the cooked weight
    if len({each.is_volume for each in weighed}) > 1:
        return None
    if not all(_is_count(c) or _leads(stretch, c) for c in stretch.chunks if c.kind == "amount" and not is_weight(c)):
        return None
    if any(_on_record(stretch, each) or _of_unknown(stretch, each) for each in weighed):
        return None
    if len(weighed) == MOST_WEIGHTS:
        return _with_result(stretch, weighed)
    first, second = weighed
    if first.grams == second.grams:
        return None
    more, fewer = sorted(weighed, key=lambda w: w.grams, reverse=True)
    return (
        _intended(stretch, first, second)
        or (None if _unreal(stretch, fewer) else _less_part(stretch, more, fewer))
        or (None if _unreal(stretch, fewer) else _less_vessel(stretch, more, fewer))
        or _out_of_container(stretch, first, second)
        or (None if _unreal(stretch, None) else _eaten_of_it(stretch, more, fewer))
    )


def _minus(more: Weighed, fewer: Weighed) -> Weighed:
    """The first weight or volume less the second."""
    amount = more.weight.amount
    if not more.is_volume or amount is None:
        return replace(more, weight=more.weight._replace(amount=less(more.weight, fewer.weight)))
    left = (more.grams - fewer.grams) * amount.value / more.grams
    text = f"{text_of(more.weight)} less {text_of(fewer.weight)}"
    return replace(more, weight=more.weight._replace(amount=replace(amount, value=left, text=text)))


def _of_others(stretch: Stretch) -> bool:
    """Whether somebody else is spoken of, who may have had some that was not just left or scraped off."""
    words = stretch.line.words
    left = {
        n
        for w in stretch.weighed
        if stretch.says("not_eaten", [c for c in w.context if c.start < w.weight.start])
        for c in w.context
        for n in range(max(c.start, w.weight.end), c.end)
    }
    for n in stretch.tokens:
        if n in left:
            continue
        word = stretch.line.text(n)
        if word in pack()["they"] or stretch.line.text(n - 1) in pack()["writer_alone"]:
            continue
        if word in words.pronouns or singular(word.removesuffix("'s")) in words.people or _eats_by_name(stretch, n):
            return True
    return False


def _eats_by_name(stretch: Stretch, n: int) -> bool:
    """Whether a token is a name, or no word at all, right before a verb of eating: 'Mia had', 'mi had'."""
    line = stretch.line
    if line.text(n + 1) not in line.words.eating or any(c.start <= n < c.end for c in stretch.foods):
        return False
    token = line.tokens[n]
    known = line.words.knows(token.text) or line.vocabulary.knows(token.text)
    return token.text.isalpha() and not known and (token.raw[:1].isupper() or not is_real_word(token.text))


def _unreal(stretch: Stretch, fewer: Weighed | None) -> bool:
    """Whether it plans or denies; that what is left of the food was eaten may be denied."""
    return stretch.said.plans(stretch.chunks) or _nothing_eaten(stretch, fewer)


def _nothing_eaten(stretch: Stretch, fewer: Weighed | None = None) -> bool:
    """Whether a negated verb of eating stands in it: 'I did not have any'."""
    line = stretch.line
    of_waste = {n for c in (fewer.context if fewer is not None else ()) for n in range(c.start, c.end)}
    denied = [n for n in stretch.tokens if n not in of_waste and line.text(n) in line.words.negations]
    return any(line.text(m) in line.words.eating for n in denied for m in range(n + 1, n + MOST_BETWEEN))


def _is_count(chunk: Chunk) -> bool:
    """Whether an amount beside the weights may count the pieces, or the containers."""
    amount = chunk.amount
    return amount is not None and amount.kind in ("bare", "count", "measure", "loose") and amount.value >= 1


def _leads(stretch: Stretch, share: Chunk) -> bool:
    """Whether a share stands before the food and all weights, which are those of the share: 'half a grapefruit 240'."""
    return share.end == stretch.foods[0].start and not any(w.weight.start < share.start for w in stretch.weighed)


def _of_unknown(stretch: Stretch, weighed: Weighed) -> bool:
    """Whether a weight stands before a word that may be a food of no table: '60 g of dringlewort'."""
    line, n = stretch.line, weighed.weight.end
    of = line.text(n) in number_words().of
    word = line.text(n + of)
    if not word.isalpha() or line.words.knows(word) or any(c.start == n + of for c in stretch.foods):
        return False
    return not is_real_word(word) or (of and word not in line.words.parts)


def _on_record(stretch: Stretch, weighed: Weighed) -> bool:
    """Whether a weight is one that was weighed in before, and may be put right."""
    return any(abs(each.grams - weighed.grams) < STATED_G for each in stretch.line.around.recorded())


def _without_repeats(weighed: Sequence[Weighed]) -> list[Weighed]:
    """The weights without one that only says another again: '… actual 42 g, ate all 42'."""
    return [w for n, w in enumerate(weighed) if all(w.grams != each.grams for each in weighed[:n])]


def _with_result(stretch: Stretch, weighed: Sequence[Weighed]) -> list[Chunk] | None:
    """'apple 176 g, core 15 g, call it 161 g eaten': the weight that the two others lead to."""
    if _unreal(stretch, None):
        return None
    more, *others = sorted(weighed, key=lambda w: w.grams, reverse=True)
    rest = sum(w.grams for w in others)
    if abs(more.grams - rest) > max(AGREE_G, AGREE * more.grams):
        return None
    gone = [w for w in others if _part_of(stretch, w) or _is_left(stretch, w) or _is_vessel(stretch, w)]
    last = weighed[-1]
    if not gone:
        gone = [w for w in others if w is not last] if last in others else []
    if len(gone) != 1:
        return None
    eaten = next(w for w in others if w is not gone[0])
    part = _part_of(stretch, gone[0])
    if part and part not in reckoning()["may_be_left"]:
        return _kept(stretch, more, _waste(gone[0].weight, part))
    return _kept(stretch, eaten)


def _intended(stretch: Stretch, first: Weighed, second: Weighed) -> list[Chunk] | None:
    """'the aim was 25 g of cheese, the reality 38 g': the weight that it came to."""
    intended = [w for w in (first, second) if stretch.says("intended", w.context)]
    if len(intended) != 1:
        return None
    real = second if intended[0] is first else first
    if not stretch.says("in_fact", real.context) or stretch.says("still_to_come", real.context):
        return None
    negated = stretch.line.words.negations
    if any(stretch.line.text(n) in negated for c in real.context for n in range(c.start, c.end)):
        return None
    return _kept(stretch, real)


def _less_part(stretch: Stretch, more: Weighed, fewer: Weighed) -> list[Chunk] | None:
    """'168 g bone and all, the bone on its own 41 g', 'served 220 g, sent back 65 g': what was not eaten of it."""
    if fewer.grams > MOST_WASTE * more.grams or any(c.kind == "whole" and not c.whole for c in stretch.chunks):
        return None
    part = _part_of(stretch, fewer)
    left = _is_left(stretch, fewer)
    if part and not any(has_part(food, part) for food in stretch.foods):
        return None  # 'rice 180 g, bones 60 g': they are of the food before it
    if part and (part in stretch.line.words.parts or part in reckoning()["weighed_if_left"] or left):
        return _kept(stretch, more, _waste(fewer.weight, part))
    if not left or (more.weight.start > fewer.weight.start and not stretch.says("of_all_served", more.context)):
        return None
    return _kept(stretch, _minus(more, fewer))


def _less_vessel(stretch: Stretch, more: Weighed, fewer: Weighed) -> list[Chunk] | None:
    """'rice and bowl 530 g, bowl 290 g': the larger weight less that of the vessel by itself."""
    line = stretch.line
    filled = [c for c in fewer.context if is_food(line, c) and c.start < fewer.weight.start]
    held = [c for c in stretch.foods if line.lemmas[c.end : c.end + 1] and line.lemmas[c.end] not in line.words.vessels]
    held += [c for c in stretch.foods if c.end == len(line.lemmas)]
    if not _is_vessel(stretch, fewer) or filled or not held:
        return None
    beside = [c for c in more.context if _names_vessel(stretch, c)]
    if not beside and not stretch.says("filled", more.context):
        return None
    vessel = next(c for c in fewer.context if _names_vessel(stretch, c))
    name = vessel.tare.name if vessel.tare is not None else stretch.line.lemmas[vessel.start]
    tare = TareRef(name=name, grams=fewer.grams)
    weight = more.weight
    return _kept(stretch, more, Chunk("tare", weight.end, weight.end, f"with the {name}", tare=tare))


def _out_of_container(stretch: Stretch, first: Weighed, second: Weighed) -> list[Chunk] | None:
    """'pb jar 412>365', 'tub of macaroni 430 g going in, 118 g coming out': what came out of what it is kept in."""
    turned = stretch.says("read_again", first.context) and stretch.says("read_at_first", second.context)
    if turned and first.grams < second.grams:
        first, second = second, first  # 'block of cheddar now 310, was 400'
    if (
        not stretch.stored
        or first.grams <= second.grams
        or stretch.said.plans(stretch.chunks)
        or _nothing_eaten(stretch)
    ):
        return None
    if stretch.says("is_label", stretch.chunks) or _is_drained(stretch) or _was_eaten(stretch, second):
        return None
    again = stretch.says("read_again", second.context) or any(c.text in reckoning()["arrow"] for c in second.context)
    between = [c for c in stretch.chunks if first.weight.end <= c.start < second.weight.start]
    little = first.grams - second.grams <= MOST_UNSAID * first.grams
    if not (again or little or any(c.text in reckoning()["arrow"] for c in between)):
        return None
    taken = _minus(first, second)
    return [c for c in _kept(stretch, taken) if c.kind != "amount" or c is taken.weight]


def _eaten_of_it(stretch: Stretch, more: Weighed, fewer: Weighed) -> list[Chunk] | None:
    """'500 g tub of yogurt, ate 200 g', 'tin of tuna 145 g, 102 g drained': what was eaten of what was there."""
    if any(c.kind == "moment" for c in stretch.chunks) or stretch.says("once_more", stretch.chunks):
        return None
    if _is_taken_off(stretch, fewer, more):
        return _kept(stretch, _out_of(fewer, more))
    if fewer.weight.start < more.weight.start or not any(food in more.context for food in stretch.foods):
        return None  # 'I was 201 lb and had a banana, 118 g'
    out = _out_of(fewer, more)
    if stretch.says("drained", fewer.context):
        return _kept(stretch, out) if stretch.stored else None
    eaten = _was_eaten(stretch, fewer) or stretch.said.says("used", fewer.weight.end) is not None
    return _kept(stretch, out) if eaten and not _was_eaten(stretch, more) else None


def _is_taken_off(stretch: Stretch, fewer: Weighed, more: Weighed) -> bool:
    """'took 90 g off the 400 g block of cheddar': so much, out of a larger weight that is told right behind it."""
    line = stretch.line
    between = line.plain[fewer.weight.end : more.weight.start]
    if not between or len(between) > MOST_BETWEEN or not pack()["from_the_whole"].found(between[:2]):
        return False
    return bool(stretch.stored) and stretch.says("takes_off", fewer.context)


def _out_of(part: Weighed, whole: Weighed) -> Weighed:
    """What was eaten of a weight, which is told with it: '200 g of 500 g'."""
    amount = part.weight.amount
    if amount is None:
        return part
    text = f"{text_of(part.weight)} of {text_of(whole.weight)}"
    return replace(part, weight=part.weight._replace(amount=replace(amount, text=text)))


def _is_drained(stretch: Stretch) -> bool:
    """Whether the second weight is of the same food without what it stood in."""
    return stretch.says("drained", stretch.chunks)


def _was_eaten(stretch: Stretch, weighed: Weighed) -> bool:
    """Whether it was eaten, 'jar of honey 454 g, had 20 g', and not read after that: 'after I had some it was 434'."""
    before = [n for c in weighed.context for n in range(c.start, c.end) if n < weighed.weight.start]
    words = stretch.line.words
    verbs = (n for n in before if stretch.line.text(n) in words.eating)
    eaten = next((n for n in verbs if stretch.line.text(n - 1) not in words.negations), None)
    return eaten is not None and not any(stretch.said.says("read_again", n) for n in before if n < eaten)


def _part_of(stretch: Stretch, weighed: Weighed) -> str:
    """The part whose weight it is; empty where none is named, or it was only on the scale too ('with the bone')."""
    line, found = stretch.line, ""
    for chunk in weighed.context:
        if not is_part(line, chunk) or _is_included(stretch, chunk):
            continue
        found = singular(line.text(chunk.end - 1).removesuffix("'s"))
    return found


def _is_included(stretch: Stretch, part: Chunk) -> bool:
    """Whether a part is only said to have been on the scale with the food: 'with its skin', 'bone n all', 'bone in'."""
    line, start = stretch.line, part.start - 1
    while start >= 0 and (line.text(start) in WORDS["determiners"] or line.text(start) in reckoning()["its"]):
        start -= 1
    if line.text(start) in WORDS["including"] or line.text(start) in WORDS["excluding"]:
        return True
    if pack()["and_all"].end(line.plain, part.end) is not None:
        return True
    behind = line.tokens[part.end + 1] if part.end + 1 < len(line.tokens) else None
    return line.text(part.end) in pack()["in_or_on"] and (behind is None or behind.kind != "word")


def _is_left(stretch: Stretch, weighed: Weighed) -> bool:
    """Whether a weight is that of what was not eaten of the food."""
    left = stretch.says("not_eaten", weighed.context) and not stretch.says("still_to_come", weighed.context)
    return left and not _was_eaten(stretch, weighed)


def _is_vessel(stretch: Stretch, weighed: Weighed) -> bool:
    return any(_names_vessel(stretch, c) for c in weighed.context)


def _names_vessel(stretch: Stretch, chunk: Chunk) -> bool:
    return stretch.said.vessel(chunk)


def _waste(weight: Chunk, part: str) -> Chunk:
    """The weight of a part that was thrown away, as a chunk of its own."""
    return Chunk("part", weight.start, weight.end, weight.text, amount=weight.amount, part=part)


def _kept(stretch: Stretch, weighed: Weighed, beside: Chunk | None = None) -> list[Chunk]:
    """The food with one weight, what it is called and when it was, and what stands beside the weight."""
    dropped = [c for each in stretch.weighed if each.weight.start != weighed.weight.start for c in each.context]
    state = [
        c for c in stretch.chunks if c.kind in ("state", "size") and (c not in dropped or _follows(stretch, weighed, c))
    ]
    about = [c for c in stretch.chunks if c.kind == "moment"]
    weights = [each.weight for each in stretch.weighed]
    beside_weight = [c for c in stretch.chunks if c.kind == "amount" and c not in weights and c not in stretch.stored]
    counts = [c for c in beside_weight if c.amount is not None and c.amount.value > 1]
    weight = weighed.weight
    about += [*stretch.foods, *state, *(_off_the_heat(stretch) if not state else ())]
    kept = sorted([*about, *counts, weight], key=lambda c: c.start)
    if beside is not None:
        kept.insert(next(n for n, c in enumerate(kept) if c.start == weight.start) + 1, beside)
    return kept


def _off_the_heat(stretch: Stretch) -> list[Chunk]:
    """What says that the food was cooked by where it came from, as a state."""
    line = stretch.line
    found = [(n, end) for n in stretch.tokens if (end := pack()["off_the_heat"].end(line.plain, n)) is not None]
    return [line.make("state", *found[0], state=State.COOKED)] if found else []


def _follows(stretch: Stretch, weighed: Weighed, state: Chunk) -> bool:
    """Whether a state stands right before the food or right behind the weight, and not in 'when I was done'."""
    return state.start == weighed.weight.end or any(food.start == state.end for food in stretch.foods)
