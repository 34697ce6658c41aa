"""Which food an item means."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.conversation import saying
from bot.conversation.known import Known, KnownFood
from bot.conversation.outcomes import Ask, Choice
from bot.kinds import About, Confirmed
from bot.language.told import Item, Name
from domain import reference
from domain.reference.nearness import near

WEIGHT_ONLY = Confirmed.WEIGHT_ONLY
"""Also the text of the choice."""
TYPE_LABEL = "type its label"
ALIKE = 0.2
"""Difference in energy, as a share of the largest, up to which kinds are not asked about."""


def food_of(item: Item, name: Name, known: Known) -> KnownFood | Ask:
    """The food that is meant, or the question that decides it."""
    if name.combination and not name.unknown:
        return Ask(About.AMOUNT, f"How many of your {name.combination} was that?", item)
    if name.unknown:
        return _strange_word(item, name, known)
    if len(name.foods) == 1:
        entry = known.food(name.foods[0])
        if entry is not None:
            return entry
    if len(name.foods) > 1:
        return _if_alike(name.foods, known) or _ask(item, f"Which one is “{name.text}”?", name.foods)
    if name.kinds is not None:
        kinds = reference.load().kinds[name.kinds].kinds
        return _if_alike(kinds, known) or _ask(item, f"Which kind of {name.text or name.kinds}?", kinds[:4])
    return _unknown(item, name, known)


def word_of(name: Name) -> str:
    """The word that an answer about a food is remembered for: what the person called it."""
    return (name.text or name.kinds or "").strip().lower()


def _if_alike(foods: Sequence[str], known: Known) -> KnownFood | None:
    """The first of the foods when their usual rows hardly differ in energy; None when it matters which one it was."""
    entries = [entry for food in foods if (entry := known.food(food)) is not None]
    rows = [entry.food.row() for entry in entries]
    kcal = [row.per_100g.kcal for row in rows if row is not None]
    if not kcal or len(kcal) < len(foods) or max(kcal) - min(kcal) > ALIKE * max(kcal):
        return None
    return entries[0]


def _named(item: Item, food: str) -> Item:
    return replace(item, name=Name(text=food, foods=(food,)))


def _ask(item: Item, text: str, foods: tuple[str, ...]) -> Ask:
    choices = tuple(Choice(saying.choice(f), _named(item, f)) for f in foods[:4])
    return Ask(About.FOOD, text, item, choices)


def _strange_word(item: Item, name: Name, known: Known) -> Ask:
    """The question about an unknown word beside a food, which may matter: 'chocolate rice'."""
    plain = replace(name, unknown=())
    words = " ".join(name.unknown)
    others = [f for f in _suggestions(name, known) if f not in name.foods][:2]
    foods = (*name.foods, *others)[:3]
    if not foods and name.kinds is not None:
        foods = reference.load().kinds[name.kinds].kinds[:3]
    head = name.foods[0] if name.foods else name.kinds or plain.text
    choices = [Choice(saying.choice(f), _named(item, f)) for f in foods]
    choices.append(Choice(WEIGHT_ONLY, replace(item, confirmed=(*item.confirmed, WEIGHT_ONLY))))
    return Ask(
        About.FOOD,
        f"I know {head}, but not “{words}” with it, and it may matter. Which food was it?",
        item,
        tuple(choices),
    )


def _suggestions(name: Name, known: Known) -> list[str]:
    own = [label for label in known.own.labels if set(name.text.lower().split()) & set(label.lower().split())]
    return [*own[:1], *near(name.text)][:3]


def _unknown(item: Item, name: Name, known: Known) -> Ask:
    offered = _suggestions(name, known)
    room = 4 - (1 if offered else 0)
    choices = [Choice(saying.choice(f), _named(item, f)) for f in offered[: room - 1]]
    choices.append(Choice(WEIGHT_ONLY, replace(item, confirmed=(*item.confirmed, WEIGHT_ONLY))))
    if len(choices) < 4:
        choices.append(Choice(TYPE_LABEL, None))
    return Ask(
        About.FOOD,
        f"I don't know “{name.text}”. Pick a food, keep the weight only, or type its label like: label {name.text[:40]}: serving 30 g, 120 kcal, protein 3, fat 2, carbs 20",
        item,
        tuple(choices[:4]),
    )


def kind_note(name: Name, entry: KnownFood) -> str | None:
    """The note that a generic word was counted as its usual kind."""
    if (len(name.foods) > 1 or name.kinds is not None) and not entry.label and entry.food.name != name.kinds:
        return f"Counted as {entry.food.name}; say the kind if it was another."
    return None
