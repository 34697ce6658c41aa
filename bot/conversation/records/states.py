"""Raw, cooked or as sold: which row of a food is meant."""

from __future__ import annotations

from dataclasses import replace

from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.conversation.known import KnownFood
from bot.conversation.outcomes import Ask, Choice
from bot.conversation.records import as_before
from bot.conversation.records.naming import WEIGHT_ONLY
from bot.kinds import About
from bot.language.told import Item, Name
from domain import reference
from domain.foods import EATEN_COOKED, Food, FoodRow, State

FRESH_GROUPS = frozenset({"fruit", "vegetables"})
"""Groups in which a dried food is another food; grains and pulses are sold dry."""
ONLY_WHERE_COOKED = {
    "mashed": frozenset(("vegetables", "pulses")), "crispy": EATEN_COOKED, "toasted": frozenset(("breads",)),
}  # fmt: skip
"""What is done to cooked food of these groups; of another it says nothing about heat ('mashed banana')."""
SOLD_IN_TINS = frozenset(("pulses", "vegetables"))
"""Groups that come boiled in their tins, so that figures for boiled ones stand for canned ones."""
MOSTLY_FAT_G = 75.0
"""Grams of fat in 100 g from which food is a cooking fat: butter has 81, margarine 80 (USDA SR28 01001, 04610)."""
DRY_HEAT = frozenset(("grilled", "baked", "roasted", "microwaved"))
"""Ways to heat what is eaten as it is sold, without fat or water that would change its figures."""


def row_of(item: Item, entry: KnownFood, ex: Exchange, by_habit: bool) -> FoodRow | Ask:
    """The row in the state that was given, else by habit, else the usual one; a question where the state matters."""
    food = entry.food
    if item.method == "dried" and food.group in FRESH_GROUPS and "dried" not in food.name:
        return _dried(item, entry)
    if item.state_may_be_verb and food.row(State.RAW) is not None and food.row(State.COOKED) is not None:
        return _state_question(
            item,
            entry,
            ex,
            f"Did you weigh the {saying.called(item, food.name)} cooked or uncooked?",
        )
    groups = ONLY_WHERE_COOKED.get(item.method)
    if groups is not None and (food.group not in groups or food.row(State.COOKED) is None):
        item = replace(item, state=None, method="")
    if item.state is not None:
        row = food.row(item.state, item.method)
        if (
            row is None
            and item.state is State.RAW
            and food.row(State.AS_SOLD) is not None
            and food.row(State.COOKED) is None
        ):
            row = food.row(State.AS_SOLD)
        if row is None and item.state is State.COOKED and (food.dish or _only_heated(item, entry) or is_fat(food)):
            row = food.row(State.AS_SOLD)
        if row is None and item.method == "canned" and food.group in SOLD_IN_TINS:
            row = food.row(State.COOKED)
        return row if row is not None else _no_such_state(item, entry)
    habit = ex.known.habits.get(food.name) if by_habit else None
    if habit is not None:
        row = food.row(habit)
        if row is not None:
            return row
    if food.needs_state():
        always = as_before.state_of(food.name, ex) if by_habit else None
        return (food.row(always) if always is not None else None) or _state_question(item, entry, ex, None)
    if item.amount is not None and (item.amount.kind == "count" or (item.amount.kind == "bare" and item.number_first)):
        return food.counted_row()
    usual = food.row()
    assert usual is not None, "every food has a row"
    return usual


def _only_heated(item: Item, entry: KnownFood) -> bool:
    """Whether a food that is eaten as it is sold was only heated: grilled halloumi."""
    return item.method in DRY_HEAT and all(row.state is State.AS_SOLD for row in entry.food.rows)


def is_fat(food: Food) -> bool:
    """Whether it is nearly all fat, which keeps its figures in the pan: butter that eggs were scrambled in."""
    row = food.row()
    return row is not None and row.per_100g.fat_g >= MOSTLY_FAT_G


def _dried(item: Item, entry: KnownFood) -> Ask:
    """'dried kiwi': the fresh fruit's figures are five to ten times too low for it."""
    names = reference.load().foods
    plain = replace(item, state=None, method="")
    near = [n for n in (f"dried {entry.food.name}", f"sun dried {entry.food.name}") if n in names]
    choices = [Choice(saying.choice(n), replace(plain, name=Name(text=n, foods=(n,)))) for n in near]
    choices.append(Choice(saying.choice(f"fresh {entry.food.name}"), plain))
    choices.append(Choice(WEIGHT_ONLY, replace(plain, confirmed=(*item.confirmed, WEIGHT_ONLY))))
    return Ask(About.FOOD, f"Dried {entry.food.name} or fresh? The figures are very different.", item, tuple(choices))


def _no_such_state(item: Item, entry: KnownFood) -> Ask:
    assert item.state is not None
    rows = {row.state: row for row in reversed(entry.food.rows)}
    choices = [
        Choice(f"as {saying.state(s) or 'sold'}", replace(item, state=s, method="", state_may_be_verb=False))
        for s in rows
    ]
    choices.append(Choice(WEIGHT_ONLY, replace(item, confirmed=(*item.confirmed, WEIGHT_ONLY))))
    return Ask(
        About.STATE_ROW,
        f"The table has no figures for {saying.state(item.state)} {entry.food.name}. How should it count?",
        item,
        tuple(choices[:4]),
    )


def _state_question(item: Item, entry: KnownFood, ex: Exchange, text: str | None) -> Ask:
    """'raw or cooked?', with both figures to show why it matters."""
    food = entry.food
    raw, cooked = food.row(State.RAW), food.row(State.COOKED)
    assert raw is not None
    assert cooked is not None
    raw_said = saying.state_said(State.RAW, "", food.group)
    told = saying.spaced(item.amount.text) + " " if item.amount else ""
    asked = (
        text
        or f"{told}{saying.called(item, food.name)}: cooked or {raw_said}? ({cooked.per_100g.kcal:.0f} or {raw.per_100g.kcal:.0f} kcal per 100 g)"
    )
    settled = replace(item, state_may_be_verb=False)
    method = item.method if item.state is State.COOKED else ""
    choices = [
        Choice("cooked", replace(settled, state=State.COOKED, method=method)),
        Choice(raw_said, replace(settled, state=State.RAW, method="")),
    ]
    canned = food.row(State.AS_SOLD)
    if canned is not None and text is None:
        choices.append(Choice(canned.method or "as sold", replace(settled, state=State.AS_SOLD, method=canned.method)))
    return Ask(About.STATE, asked, item, tuple(choices))
