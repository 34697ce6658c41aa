"""Weigh-ins in a sentence: one for each food told, several foods under one mass as one, each with its time."""

from __future__ import annotations

from bisect import bisect
from collections.abc import Sequence, Set
from dataclasses import replace

from bot.language.belongings import is_dish
from bot.language.chunks import Chunk
from bot.language.fragments import (
    JOINING,
    MOST_COUNTED,
    Fragment,
    for_others,
    fragments_of,
    merged,
    pulled_apart,
)
from bot.language.message import Message
from bot.language.moments import Moment, together
from bot.language.pack import pack
from bot.language.shares import shared
from bot.language.telling import item_of
from bot.language.text import singular
from bot.language.told import Amount, Item, Name
from bot.language.told_amounts import AGREE
from bot.language.waste import grams_of, is_weight, wastes_found
from bot.language.word_lists import word_lists
from domain import reference

WORDS = word_lists("telling")
LISTING = JOINING | WORDS["adding"] | {",", ";", "/"}
"""What parts the foods of a list."""
MOST_OF_A_LIST = 60
"""Pieces, nuts or berries, that somebody counts."""
MOST_MENTIONED = 3
"""More pieces of a food than this are no mere mention of it."""
MOST_TOGETHER = 8
"""Foods of one mass that are looked for; no person weighs more together."""
MOST_OF_A_PLATE = 40
"""Foods of a message among which one is looked for that was named before its weight; what is longer is a list."""


def items(message: Message) -> list[Item]:
    """The weigh-ins that a sentence tells, in order; each with what is clear and what is not."""
    message = _without_heading(message)
    chunks = wastes_found(message)
    fragments = _without_totals(message, [_without_dish(message, f) for f in fragments_of(message, chunks)])
    pieces = [piece for f in fragments for piece in pulled_apart(f)]
    told = _without_water(_timed(message, _built(message, merged(message, pieces))))
    return [replace(item, shared=True) for item in told] if shared(message) else told


def _without_heading(message: Message) -> Message:
    """The message without the dish whose parts are listed behind its colon: 'tuna sandwich: bread 88, tuna 60'."""
    colon = next((i for i, c in enumerate(message.chunks) if c.kind == "sign" and c.text == ":"), 0)
    head, rest = message.part(0, colon), message.part(colon + 1, len(message.chunks))
    dishes = head.of("food")
    if len(dishes) != 1 or head.of("amount", "batch", "tare") or not rest.chunks or rest.chunks[0].kind == "sign":
        return message
    beside = [c for c in head.chunks if c is not dishes[0] and c.kind != "moment" and c.text != ","]
    if any(word not in pack()["beside_heading"] for c in beside for word in c.text.lower().split()):
        return message
    end = next((i for i, c in enumerate(rest.chunks) if c.kind in ("sign", "newline")), len(rest.chunks))
    first, parts = rest.part(0, end), rest.of("food")
    told = bool(first.of("food")) and bool(first.of("amount")) and len(rest.of("amount")) > 1
    if not told or len({c.target for c in parts}) < 2 or any(c.target == dishes[0].target for c in parts):
        return message
    return message.without(dishes)


def _without_dish(message: Message, fragment: Fragment) -> Fragment:
    """The fragment without the dish of which it tells the first ingredient: 'the salad comprised 70 g chickpeas'."""
    foods = fragment.of("food")
    weights = [c for c in fragment.chunks if is_weight(c)]
    if len(foods) < 2 or not weights or not foods[0].start < weights[0].start < foods[1].start:
        return fragment
    made_up = pack()["is_made_up_of"].end(message.line.plain, foods[0].end)
    if made_up != weights[0].start or not is_dish(foods[0].target) or _kind_told(foods[0], foods[1]):
        return fragment
    return replace(fragment, chunks=[c for c in fragment.chunks if c.start >= weights[0].start])


def _kind_told(dish: Chunk, food: Chunk) -> bool:
    """Whether what is weighed is the dish itself: 'the soup was 240 g tomato soup'."""
    kinds = reference.load().kinds.get(dish.target.removeprefix("kinds:"))
    return food.target == dish.target or (kinds is not None and food.target in kinds.kinds)


def _without_water(told: list[Item]) -> list[Item]:
    """Without the water or salt that something weighed came with, of which no amount is told."""
    if not any(item.amount is not None for item in told):
        return told
    return [i for i in told if i.amount is not None or i.name is None or i.name.text not in WORDS["no_matter"]]


def _without_totals(message: Message, fragments: Sequence[Fragment]) -> list[Fragment]:
    """The fragments without one that only adds up the masses before it: '200 g rice, 150 g cod, 350 g together'."""
    kept: list[Fragment] = []
    grams, count = 0.0, 0
    for fragment in fragments:
        weights = [grams_of(c.amount) for c in fragment.amounts if c.amount is not None and is_weight(c)]
        total = weights[0] if len(weights) == 1 and not fragment.foods and _summed(message, fragment) else 0.0
        if count > 1 and total and abs(total - grams) <= AGREE * grams:
            continue
        kept.append(fragment)
        grams, count = grams + sum(weights), count + len(weights)
    return kept


def _built(message: Message, fragments: Sequence[Fragment]) -> list[tuple[Item, Fragment]]:
    built: list[tuple[Item, Fragment]] = []
    for i, fragment in enumerate(fragments):
        if not fragment.foods and for_others(message, fragment) and fragment.joined in JOINING:
            continue
        if not _tells(message, fragment) or (_counts_people(fragment) and len(fragments) > 1):
            continue
        shared = _one_mass(message, fragments, i, built)
        if shared is not None:
            if built and built[-1][0].several:
                built[-1] = (shared, fragment)
            else:
                built.append((shared, fragment))
            continue
        built.append((item_of(message, fragment), fragment))
    together = {name for item, _ in built for name in item.several}
    built = _with_own_weights(built)
    told = [(item, f) for item, f in built if not _absorbed(item, together) and not _told_later(item, built)]
    counting = any(item.amount is not None and _is_count(item) for item, _ in told)
    if not counting:
        return told
    weighed = any(item.amount is not None and item.amount.kind in ("mass", "volume") for item, _ in told)
    counted = [(_one_of_it(message, item, f), f) for item, f in told]
    return counted if weighed else [(_counted_too(message, item, f), f) for item, f in counted]


def _is_count(item: Item) -> bool:
    amount = item.amount
    return amount is not None and (
        amount.kind == "count" or (amount.kind == "bare" and item.number_first and amount.value <= MOST_COUNTED)
    )


def _one_of_it(message: Message, item: Item, fragment: Fragment) -> Item:
    """'banana + 2 rice cakes': a fruit or an egg named by its singular beside what is counted is one of it."""
    if item.amount is not None or item.several or item.name is None or len(item.name.foods) != 1:
        return item
    foods = fragment.of("food")
    food = reference.load().foods.get(item.name.foods[0])
    last = message.tokens[foods[-1].end - 1].text if foods else ""
    one = food is not None and food.countable and (food.group == "fruit" or food.name == "egg")
    if not one or not last or singular(last) != last or _some(message, fragment):
        return item
    return replace(item, amount=Amount(kind="count", value=1, text="1"), number_first=True)


def _counted_too(message: Message, item: Item, fragment: Fragment) -> Item:
    """'1 apple and 14 almonds': in a list of counts, without any weight, a number before several pieces counts them."""
    amount = item.amount
    if amount is None or amount.kind != "bare" or not item.number_first or item.name is None or item.several:
        return item
    food = reference.load().foods.get(item.name.foods[0]) if len(item.name.foods) == 1 else None
    foods = fragment.of("food")
    last = message.tokens[foods[-1].end - 1].text if foods else ""
    if food is None or not food.countable or amount.value % 1 or not MOST_COUNTED < amount.value <= MOST_OF_A_LIST:
        return item
    return item if singular(last) == last else replace(item, amount=replace(amount, kind="count"))


def _absorbed(item: Item, together: Set[str]) -> bool:
    """Whether a food without an amount already stands in a 'one mass for several' question."""
    if item.several or item.amount is not None or item.name is None:
        return False
    return item.name.text in together


def _with_own_weights(built: list[tuple[Item, Fragment]]) -> list[tuple[Item, Fragment]]:
    """'jam on a crumpet, the crumpet was 55 g', '… on a jacket spud, spud 285 g': one food, named before its weight."""
    told = list(built)
    if len(built) > MOST_OF_A_PLATE:
        return told
    for n, (item, fragment) in enumerate(built):
        if item.name is None or item.batch is not None or item.several or not _is_mention(item.amount):
            continue
        if _told_later(item, built):
            continue
        if item.amount is not None and built[n + 1 : n + 2] and _is_weight_alone(built[n + 1][0]):
            told[told.index((item, fragment))] = (_of_weight(item, built[n + 1][0]), fragment)
            told.remove(built[n + 1])
            continue
        for later, behind in built[n + 1 :]:
            if (later, behind) not in told or later.name is None or later.amount is None or later.several:
                continue
            if later.amount.kind != "mass" and not (later.amount.kind == "bare" and later.amount.value > MOST_COUNTED):
                continue
            if _led_by_food(behind) and _same_again(item.name, later.name, fragment, behind):
                told[told.index((item, fragment))] = (_of_weight(item, later), fragment)
                told.remove((later, behind))
                break
    return told


def _is_weight_alone(item: Item) -> bool:
    """Whether it tells a weight and not of what: '…, 166 g when I picked it up'."""
    plain_one = item.name is None and item.batch is None and item.tare is None and item.others_g is None
    return plain_one and item.amount is not None and item.amount.kind == "mass" and not item.two_masses


def _is_mention(amount: Amount | None) -> bool:
    """Whether an amount only mentions a food: none, or 'a crumpet', 'a couple of crumpets'."""
    return amount is None or (
        amount.kind in ("count", "bare") and amount.value <= MOST_MENTIONED and amount.value % 1 == 0
    )


def _same_again(first: Name, second: Name, fragment: Fragment, behind: Fragment) -> bool:
    """Whether a later name is a shorter one for the same food: 'spud' behind 'jacket spud'."""
    said = {c.text.lower() for c in behind.chunks}
    if said & WORDS["once_more"] or (fragment.of("moment") and behind.of("moment")):
        return False
    if _is_of(first, second):
        return True
    earlier = {singular(w) for c in fragment.of("food", "word") for w in c.text.lower().split()}
    again = {singular(w) for c in behind.of("food") for w in c.text.lower().split()}
    return bool(again) and again <= earlier


def _of_weight(item: Item, later: Item) -> Item:
    """The food as it was named first, with the weight told later."""
    name = item.name
    if name is not None and name.kinds is not None and later.name is not None and later.name.kinds is None:
        name = later.name
    elif name is not None and later.name is not None and later.name.kinds is not None:
        kinds = reference.load().kinds[later.name.kinds].kinds
        said = {word for food in name.foods for word in food.split()}
        most = max((len(said & set(food.split())) for food in kinds), default=0)
        among = tuple(food for food in kinds if most and len(said & set(food.split())) == most)
        if name.unknown and len(among) == 1:
            name = replace(name, foods=among, unknown=(), kinds=None)
    state = item.state if item.state is not None else later.state
    return replace(
        item,
        name=name,
        amount=later.amount,
        measure=None,
        state=state,
        whole=item.whole if later.whole is None else later.whole,
        waste_g=later.waste_g,
    )


def _told_later(item: Item, built: Sequence[tuple[Item, Fragment]]) -> bool:
    """Whether a food without an amount is told again with one: 'toast with 18 g jam, toast was 66 g'."""
    if item.amount is not None or item.several or item.name is None or item.batch is not None:
        return False
    if len(built) > MOST_OF_A_PLATE:
        return False
    behind = built[next(n for n, (each, _) in enumerate(built) if each is item) + 1 :]
    return any(each.amount is not None and each.name is not None and _is_of(item.name, each.name) for each, _ in behind)


def _is_of(first: Name, second: Name) -> bool:
    """Whether a later name is of the same food, or of a kind of it."""
    if first.kinds is not None:
        kinds = reference.load().kinds[first.kinds].kinds
        return second.kinds == first.kinds or (bool(second.foods) and set(second.foods) <= set(kinds))
    return bool(first.foods) and first.foods == second.foods and not first.unknown


def _tells(message: Message, fragment: Fragment) -> bool:
    if fragment.foods:
        return True
    return bool(fragment.amounts)


def _counts_people(fragment: Fragment) -> bool:
    """'we were two': a small number beside no food is no weigh-in."""
    told = [c.amount for c in fragment.amounts if c.amount is not None]
    return (
        not fragment.foods and bool(told) and all(a.kind == "bare" and a.value <= 12 and a.text.isalpha() for a in told)
    )


def _one_mass(
    message: Message, fragments: Sequence[Fragment], i: int, built: list[tuple[Item, Fragment]]
) -> Item | None:
    """'350 g rice and chicken', 'pasta and peas 310 g': one mass told for two foods."""
    here = fragments[i]
    if not here.foods or here.amounts or _some(message, here):
        return None
    if i and built and (here.joined in JOINING or (here.joined == "," and _ends_joined(fragments, i + 1))):
        before, fragment = built[-1]
        apart = message.tokens[here.chunks[0].start].text == "the"
        weighed = before.amount is not None and before.amount.kind == "mass" and before.name is not None and not apart
        if weighed and (before.several or not _led_by_food(fragment)):
            built.pop()
            name = item_of(message, here).name
            first = before.several or ((before.name.text,) if before.name else ())
            if first and name and _made_of(first[0], name.text):
                return before  # 'smoked sausage, pork and beef'
            return replace(before, several=first + ((name.text,) if name else ()))
    together = _before_mass(message, fragments, i)
    told = [item_of(message, fragment) for fragment in together]
    names = tuple(item.name.text for item in told if item.name is not None)
    if not told or len(names) < len(told):
        return None
    for fragment in together[1:]:
        fragment.chunks = [c for c in fragment.chunks if c.kind not in ("food", "amount")]
    return replace(told[-1], several=names)


def _made_of(food: str, meat: str) -> bool:
    """Whether a meat is only what a food of minced meat is made of."""
    return pack()["of_minced_meat"].found(food.lower().split()) and meat.lower() in pack()["meat_it_is_of"]


def _ends_joined(fragments: Sequence[Fragment], i: int) -> bool:
    """Whether the list goes on from fragment i to a last food joined by 'and', none of them with an amount."""
    for fragment in fragments[i : i + MOST_TOGETHER]:
        if not fragment.foods or fragment.amounts or fragment.joined not in LISTING:
            return False
        if fragment.joined in JOINING:
            return True
    return False


def _before_mass(message: Message, fragments: Sequence[Fragment], i: int) -> list[Fragment]:
    """The fragments from i on whose foods share the mass that follows the last: 'rice, peas and cod 450 g together'."""
    together = [fragments[i]]
    for fragment in fragments[i + 1 : i + MOST_TOGETHER]:
        if not fragment.foods or fragment.joined not in LISTING:
            return []
        together.append(fragment)
        if fragment.amounts:
            shared = fragment.joined in JOINING | {"/"} or _summed(message, fragment)
            weighed = any(c.amount and c.amount.kind in ("mass", "bare") for c in fragment.amounts)
            return together if shared and weighed and _led_by_food(fragment) else []
    return []


def _summed(message: Message, fragment: Fragment) -> bool:
    """Whether the amount is said to be of all together."""
    said = [t.text for c in fragment.chunks for t in message.tokens[c.start : c.end]]
    line = f" {' '.join(said)} "
    return any(f" {p} " in line for p in message.words.phrases["all_together"])


def _led_by_food(fragment: Fragment) -> bool:
    return next((c.kind for c in fragment.chunks if c.kind in ("amount", "food", "batch")), "") != "amount"


def _some(message: Message, fragment: Fragment) -> bool:
    first = message.tokens[fragment.chunks[0].start].text if fragment.chunks else ""
    return first in WORDS["some"]


def _timed(message: Message, built: Sequence[tuple[Item, Fragment]]) -> list[Item]:
    """Each item with its own time: one time is for all; several go each to the items beside them."""
    moments = [(c.start, c.moment) for c in message.of("moment") if c.moment is not None]
    meals = {m.meal for _, m in moments if m.meal}
    if len(meals) < 2:
        when = together([m for _, m in moments], message.around)
        return [item if item.when == when else replace(item, when=when) for item, _ in built]
    common = [m for _, m in moments if not m.meal]
    with_meal = [(s, m) for s, m in moments if m.meal]
    leading = bool(built) and with_meal[0][0] <= min(
        c.start for c in built[0][1].chunks if c.kind in ("amount", "food", "batch")
    )
    timed: list[Item] = []
    for item, fragment in built:
        place = max(c.start for c in fragment.chunks if c.kind in ("amount", "food", "batch"))
        own = _own_meal(with_meal, place, leading)
        timed.append(replace(item, when=together([*common, *([own] if own else [])], message.around)))
    return timed


def _own_meal(moments: Sequence[tuple[int, Moment]], place: int, leading: bool) -> Moment | None:
    at = bisect([start for start, _ in moments], place)
    index = at - 1 if leading else at
    return moments[index][1] if 0 <= index < len(moments) else None
