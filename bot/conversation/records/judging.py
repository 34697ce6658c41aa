"""Judging a weigh-in of a food: ready to record, to be asked about, or refused."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial

from rapidfuzz.distance import OSA

from bot import events
from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.conversation.known import KnownFood
from bot.conversation.outcomes import Ask, Refuse
from bot.conversation.records import as_before, own_words, plausible, trifles
from bot.conversation.records.measuring import Measured, amount_doubt, by_memory, mass, measured, weight_of
from bot.conversation.records.naming import WEIGHT_ONLY, food_of, kind_note
from bot.conversation.records.states import is_fat, row_of
from bot.kinds import About, CautionKind, Remembered, Why
from bot.language.name_tables import lemmas_of
from bot.language.told import Amount, Item, Name, TareRef
from bot.store import facts, memory
from bot.store.memory import Memory
from domain import edible, reference
from domain.errors import DomainError
from domain.foods import FoodRow, State
from domain.nutrients import Nutrients
from domain.weighins import Evidence, WeighIn, check_weight

MISSPELT = 2
"""Edit distance up to which a word is a misspelling of the table's word and not another name."""
SHORTHAND = 4
"""Length up to which a name is shorthand (pb, evoo) that the reply does not repeat."""


@dataclass(frozen=True, slots=True)
class Judged:
    """A weigh-in that is ready to be recorded, and the texts about it."""

    weigh_in: WeighIn
    told: str
    """The amount as it reads in the reply: '204 g with core, 184 g of it eaten'."""
    name: str
    notes: Callable[[], Sequence[str]] = tuple
    """Further lines for the reply. Called only when it is recorded, since some are said only the first time."""
    at_least: bool = False
    """Whether part of it has no figures, so that those there are say the least that it can be."""


def judge(item: Item, ex: Exchange, *, by_habit: bool = True) -> Judged | Ask | Refuse:
    """Whether an item can be recorded as told, has to be asked about, or is impossible.

    `by_habit`: the person's habit decides a state that was not given.
    """
    impossible = _impossible(item)
    if impossible is not None:
        return impossible
    if item.several:
        return _several(item)
    amount = item.amount
    # Which number counts comes first: no other answer may settle it unseen.
    if item.two_masses or (amount is not None and amount.doubt == "unclear"):
        return _which_weight(item, amount)
    if item.name is None:
        return Ask(About.FOOD, f"{saying.spaced(amount.text)} of what?" if amount else "What was that?", item)
    if item.kcal is not None:
        return _estimated(item, item.kcal, item.name, ex)
    if WEIGHT_ONLY in item.confirmed:
        return _weight_only(item, item.name, ex)
    entry = food_of(item, item.name, ex.known)
    if isinstance(entry, Ask):
        usual = as_before.kind_of(item.name, ex) if not item.name.unknown else None
        if usual is None:
            return entry
        entry = usual
    if amount is None:
        if not trifles.is_trifle(entry):
            return Ask(About.AMOUNT, f"How many grams of {saying.called(item, entry.food.name)}?", item)
        amount = trifles.SOME
    return _doubtful(item, amount, entry) or _of_food(item, amount, entry, ex, by_habit)


def _impossible(item: Item) -> Refuse | None:
    """The refusal of what no answer could correct: an impossible weight, a time in the future."""
    amount = item.amount
    if amount is not None:
        doubt = amount_doubt(item, amount)
        if isinstance(doubt, Refuse):
            return doubt
        if amount.kind == "mass" and amount.doubt is None and not item.tare:
            grams, gone = weight_of(amount), item.others_g or 0
            if gone >= grams > 0:
                return Refuse(f"{saying.grams(gone)} for others leaves nothing of the {saying.grams(grams)}.")
            try:
                check_weight(grams - gone)
            except DomainError as error:
                return Refuse(str(error))
    if item.when.future:
        return Refuse(
            "That is in the future. I record what has been eaten, so tell me once you have eaten it.", Why.FUTURE
        )
    return None


def _doubtful(item: Item, amount: Amount, entry: KnownFood) -> Ask | Refuse | None:
    """The question or refusal about the amount, before it is converted to grams."""
    if item.shared:
        text = f"You shared {amount.text} {saying.called(item, entry.food.name)}: how many grams were yours?"
        return Ask(About.SHARE, text, replace(item, shared=False))
    return amount_doubt(item, amount)


def _which_weight(item: Item, amount: Amount | None) -> Ask | Refuse:
    """The question which of several numbers is the weight."""
    doubt = amount_doubt(item, amount) if amount is not None and not item.two_masses else None
    if doubt is not None:
        return doubt
    return Ask(About.AMOUNT, f"I see two weights in “{item.text}”. Which one counts?", replace(item, two_masses=False))


def _several(item: Item) -> Ask:
    foods = saying.listed(item.several)
    told = item.amount.text if item.amount else "That"
    return Ask(
        About.AMOUNT,
        f"{told} for {foods} together: how much of each? Send them as, for example: 200 g {item.several[0]}, 150 g {item.several[-1]}",
        item,
    )


def _weight_only(item: Item, name: Name, ex: Exchange) -> Judged | Ask | Refuse:
    if item.amount is None:
        return Ask(About.AMOUNT, f"How many grams of {name.text}?", item)
    doubt = amount_doubt(item, item.amount)
    if doubt is not None:
        return doubt
    own = ex.known.measures.get((name.text, item.amount.unit))
    if own is None and item.amount.kind not in ("mass", "bare"):
        return Ask(
            About.AMOUNT,
            f"I don't know what {saying.spaced(item.amount.text)} of {name.text} weighs. How many grams was it?",
            item,
        )
    grams = item.amount.value * own if own is not None else weight_of(item.amount)
    evidence = Evidence.OWN_MEASURE if own is not None else Evidence.WEIGHED
    try:
        check_weight(grams)
    except DomainError as error:
        return Refuse(str(error))
    state = item.state or State.AS_SOLD
    weigh_in = WeighIn(name.text, state, grams, grams, grams, state, evidence, None)
    return Judged(weigh_in, saying.grams(grams), name.text, lambda: ("Weight only, no figures.",))


def _estimated(item: Item, kcal: float, name: Name, ex: Exchange) -> Judged | Refuse:
    """A weigh-in of which only the energy was told; its other figures are those of so much of the food, where known."""
    if not 0 < kcal <= plausible.MOST_KCAL:
        return Refuse(f"{kcal:,.0f} kcal is too much for one weigh-in. Nothing is recorded.")
    entry = food_of(item, name, ex.known)
    kind = reference.load().kinds[name.kinds] if name.kinds is not None else None
    if isinstance(entry, Ask) and kind is not None:
        entry = ex.known.food(kind.default or kind.kinds[0]) or entry
    row = None
    if isinstance(entry, KnownFood):
        # What has energy alone was eaten as it came to the table.
        row = entry.food.row(item.state or State.COOKED) or entry.food.row()
    grams = 100 * kcal / row.per_100g.kcal if row is not None and row.per_100g.kcal > 0 else 0.0
    nutrients = row.per_100g.for_grams(grams) if row is not None and grams else Nutrients(kcal, 0.0, 0.0, 0.0)
    state = row.state if row is not None else State.AS_SOLD
    food = entry.food.name if isinstance(entry, KnownFood) and kind is None else name.text
    weigh_in = WeighIn(food, state, grams, grams, grams, state, Evidence.ESTIMATED, nutrients)
    return Judged(weigh_in, "estimated", food, at_least=not grams)


def _of_food(item: Item, amount: Amount, entry: KnownFood, ex: Exchange, by_habit: bool) -> Judged | Ask | Refuse:
    if item.cooked_g is not None and ex.known.habits.get(entry.food.name) is State.COOKED:
        amount = mass(item.cooked_g)
        item = replace(item, amount=amount, state=State.COOKED)
    row = row_of(item, entry, ex, by_habit)
    if not isinstance(row, FoodRow):
        return row
    region = ex.books.person.region
    got = measured(item, amount, entry, row, ex.known, region)
    if isinstance(got, Ask):
        helping = trifles.usual(amount, entry, row, region) if got.about is About.AMOUNT else None
        if helping is None:
            return got
        got = helping
    net = net_of_tare(item, got.grams, entry.food.name, ex)
    if isinstance(net, (Ask, Refuse)):
        return net
    as_weighed = net - (item.others_g or 0)
    try:
        if as_weighed <= 0 and not trifles.is_trifle(entry):
            raise DomainError(
                f"{saying.grams(item.others_g or 0)} for others leaves nothing of the {saying.grams(net)}."
            )
        if as_weighed > 0:
            check_weight(as_weighed)
        eaten, evidence, part = _edible(item, as_weighed, got, row)
    except DomainError as error:
        return Refuse(str(error))
    nutrients = row.per_100g.for_grams(eaten)
    weigh_in = WeighIn(entry.food.name, row.state, as_weighed, eaten, eaten, row.state, evidence, nutrients)
    return Judged(
        weigh_in,
        _told(item, amount, got, as_weighed, eaten, part),
        _called(item, entry, row),
        partial(_notes, item, entry, row, ex),
    )


def _called(item: Item, entry: KnownFood, row: FoodRow) -> str:
    """The food's name in the reply: the person's word, with the table's name and the state beside it."""
    food = entry.food
    beside = [food.name] if _other_word(item, food.name) else []
    usual = row.state is State.RAW and not food.needs_state() and item.state is None
    said = "" if usual or food.drunk or is_fat(food) else saying.state_said(row.state, item.method, food.group)
    if said and said not in food.name:
        beside.append(said)
    if item.method and row.method and item.method != row.method and row.state is State.COOKED:
        beside.append(f"figures for {row.method}")
    name = item.name.text if beside[:1] == [food.name] and item.name is not None else food.name
    return f"{name} ({', '.join(beside)})" if beside else name


def _other_word(item: Item, food: str) -> bool:
    """Whether the person called the food by another word than the table ('basmati' for white rice)."""
    if item.name is None or item.name.corrected or item.name.kinds is not None:
        return False
    typed, known = set(lemmas_of(item.name.text)), set(lemmas_of(food))
    near = any(OSA.distance(a, b) <= MISSPELT for a in typed for b in known)
    return bool(typed) and not near and len(item.name.text) > SHORTHAND


def _told(item: Item, amount: Amount, got: Measured, as_weighed: float, eaten: float, part: str) -> str:
    """The amount in the reply: the number typed, and the number that counts where they differ."""
    told = saying.grams(as_weighed)
    if amount.kind == "mass" and amount.unit not in ("g", ""):
        told = f"{amount.text}, {told}"
    elif got.evidence is Evidence.DENSITY:
        told = f"{amount.text} ({got.how}), {told}"
    elif got.how:
        told = got.how if got.how == f"1 × {told}" else f"{got.how}, {told}"
    if item.tare is not None and item.tare.grams is not None:
        told = f"{amount.text} less {item.tare.name} {saying.grams(item.tare.grams)}, {told}"
    if item.others_g:
        told = f"{amount.text} less {saying.grams(item.others_g)} for others, {told}"
    if item.cooked_g is not None:
        told = f"{told} ({saying.grams(item.cooked_g)} cooked)"
    if part:
        told = f"{told} {part}, {saying.grams(eaten)} eaten"
    return told


def _notes(item: Item, entry: KnownFood, row: FoodRow, ex: Exchange) -> tuple[str, ...]:
    notes: list[str] = []
    if item.name is not None:
        kind = kind_note(item.name, entry) or own_words.meant_note(item.name, entry.food.name, ex)
        if kind:
            notes.append(kind)
    drink = ex.known.remembered(Remembered.DRINK, entry.food.name)
    if (
        drink is not None
        and by_memory(item, entry)
        and memory.first_use(ex.books, Memory(Remembered.DRINK, entry.food.name.casefold(), drink))
    ):
        notes.append(f"Counted by {drink}, as last time.")
    habit = ex.known.habits.get(entry.food.name)
    group = entry.food.group
    if habit is not None and item.state is None and habit == row.state and entry.food.needs_state():
        notes.append(f"Counted {saying.state_said(row.state, '', group)}, as you told me.")
    if habit is None and item.state is None and entry.food.needs_state() and not entry.food.dish:
        notes.append(f"Counted {saying.state_said(row.state, '', group)}, as before.")
    if (
        habit is not None
        and item.state is not None
        and item.state != habit
        and facts.first_time(ex.books, f"switch:{entry.food.name}:{item.state}")
    ):
        notes.append(
            f"You usually weigh {entry.food.name} {saying.state_said(habit, '', group)}; this one counts as "
            f"{saying.state_said(item.state, '', group)}."
        )
    if row.state is State.RAW and entry.food.group in ("meat", "poultry") and facts.first_time(ex.books, "raw-meat"):
        notes.append("Raw meat on the scale: wash the plate and your hands before you weigh anything else.")
        ex.note(events.Cautioned(kind=CautionKind.RAW_MEAT))
    return tuple(notes)


def net_of_tare(item: Item, gross: float, food: str, ex: Exchange) -> float | Ask | Refuse:
    """The weight without the vessel, in grams; a question when the vessel's weight is unknown."""
    if item.tare is None:
        return gross
    grams = item.tare.grams if item.tare.grams is not None else ex.known.tares.get(item.tare.name)
    if grams is None:
        return Ask(
            About.TARE,
            f"How much does the {item.tare.name} weigh empty? Then I take it off the {saying.grams(gross)}.",
            item,
        )
    try:
        return edible.net(gross, grams)
    except DomainError as error:
        return Refuse(str(error))


def _edible(item: Item, as_weighed: float, got: Measured, row: FoodRow) -> tuple[float, Evidence, str]:
    """(eaten grams, evidence, words): a peeled weight beats a waste weight, which beats the table's refuse."""
    if item.peeled_g is not None:
        if item.peeled_g > as_weighed:
            raise DomainError(
                f"{saying.grams(item.peeled_g)} peeled is more than the {saying.grams(as_weighed)} it came from."
            )
        return item.peeled_g, Evidence.WEIGHED, "whole"
    if item.waste_g is not None and item.whole is not False:
        eaten = edible.without_waste(as_weighed, item.waste_g)
        return eaten, Evidence.WEIGHED, f"less {item.part or 'waste'} {saying.grams(item.waste_g)}"
    if item.whole and not got.edible and row.refuse > 0 and _refuses(item.part, row):
        eaten = edible.edible_portion(as_weighed, row.refuse)
        return eaten, Evidence.REFUSE_TABLE, f"with {item.part}" if item.part else "whole"
    return as_weighed, got.evidence, ""


PARTS = {
    "peel": ("peel", "skin", "paring", "rind"),
    "skin": ("skin", "peel", "paring", "rind"),
    "stone": ("pit", "stone", "seed"),
    "pit": ("pit", "stone", "seed"),
    "bone": ("bone",),
    "shell": ("shell",),
    "rind": ("rind", "peel"),
    "husk": ("husk", "shell"),
    "seed": ("seed", "pit"),
}


def _refuses(part: str, row: FoodRow) -> bool:
    """Whether the table's refuse includes the part that was named: 'with skin' says nothing about a peach's pit."""
    if part not in ("skin", "peel"):
        return True
    return any(word in row.refuse_part.lower() for word in PARTS[part])


def known_tare(tare: TareRef, ex: Exchange) -> TareRef:
    """The vessel with its weight from the message or, failing that, the saved one."""
    return tare if tare.grams is not None else replace(tare, grams=ex.known.tares.get(tare.name))
