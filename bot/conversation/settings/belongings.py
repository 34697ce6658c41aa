"""Vessel weights, own measures, labels and habits."""

from __future__ import annotations

from dataclasses import replace

from bot import fact_events
from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse, Then
from bot.conversation.questions.stored import decode
from bot.conversation.records.measuring import weight_of
from bot.conversation.records.naming import food_of
from bot.kinds import About, Confirmed, Why
from bot.language.fact_meanings import SaveHabit, SaveLabel, SaveMeasure, SaveTare
from bot.language.meanings import Meaning
from bot.language.told import Item, Name
from bot.store import batches, facts, questions
from domain.errors import DomainError
from domain.foods import State
from domain.labels import Label, LabelRules, doubt, rules_for
from domain.weighins import check_batch_weight, check_weight

MAX_NAME = 60
MORE = ("sugars_g", "saturated_fat_g", "salt_g", "polyols_g")
"""What else a label may state."""
PER_EU = 100.0
"""The grams that labels of the EU and UK state their figures for, in whatever region they are typed."""


def save_tare(meaning: SaveTare, ex: Exchange) -> Ask | Refuse | None:
    """Saves a vessel's empty weight."""
    name = meaning.name.strip()[:MAX_NAME]
    if not name:
        return Refuse("Which vessel is that? For example: tare blue bowl 412 g", Why.NO_NAME)
    if meaning.amount is None:
        return Ask(About.TARE_WEIGHT, f"How much does the {name} weigh empty?", meaning)
    if meaning.amount.doubt == "point" and meaning.amount.other is not None:
        return Ask(
            About.TARE_WEIGHT,
            f"Is {meaning.amount.text} {meaning.amount.value:g} or {meaning.amount.other:,.0f} g?",
            meaning,
        )
    grams = weight_of(meaning.amount)
    try:
        check_batch_weight(grams)
    except DomainError:
        return Refuse(f"{meaning.amount.text} can't be the weight of a vessel.")
    facts.save_tare(ex.books, name, grams)
    ex.note(fact_events.TareSaved(name=name, grams=grams))
    ex.say(f"{name.capitalize()}: {saying.grams(grams)} empty. Say “in the {name}” and I take it off.")
    return None


def save_measure(meaning: SaveMeasure, ex: Exchange) -> Refuse | Then:
    """Saves the weight of one of the person's own measures."""
    grams = weight_of(meaning.amount) / meaning.count
    try:
        check_weight(grams)
    except DomainError as error:
        return Refuse(str(error))
    food = _measured_food(meaning.name, ex)
    unit = meaning.measure or "piece"
    facts.save_measure(ex.books, food, unit, grams)
    ex.note(fact_events.MeasureSaved(food=food, measure=unit, grams=grams))
    one = f"One {food}" if unit == "piece" else f"Your {_said(unit)} of {food}"
    ex.say(f"{one} is {saying.grams(grams)} from now on.")
    ex.known.measures[food, unit] = grams
    return _waited_for(food, unit, ex)


def _waited_for(food: str, unit: str, ex: Exchange) -> Then:
    """The pending items that waited for the weight of this measure."""
    following: list[Meaning] = []
    for question in questions.waiting(ex.books):
        item, _ = decode(question.subject)
        if not isinstance(item, Item) or item.amount is None or item.amount.unit != unit or item.name is None:
            continue
        if _measured_food(item.name, ex) == food:
            questions.answered(ex.books, question.id)
            following.append(item)
    return Then(tuple(following))


def _said(unit: str) -> str:
    return {"tbsp": "tablespoon", "tsp": "teaspoon", "floz": "fluid ounce"}.get(unit, unit)


def _measured_food(name: Name, ex: Exchange) -> str:
    """The food of the measure: a known food, an open batch, or else the words as typed."""
    entry = food_of(Item(text=name.text), name, ex.known)
    if not isinstance(entry, Ask):
        return entry.food.name
    named = next((b.name for b in batches.open_batches(ex.books) if b.name.lower() == name.text.lower()), None)
    return named or name.text


def save_label(meaning: SaveLabel, ex: Exchange) -> Ask | Refuse | Then:
    """Saves a packet's figures; asks first when they look impossible."""
    if not meaning.food:
        return Ask(About.LABEL_NAME, "What food is that label of?", meaning)
    if meaning.kcal is None and None in (meaning.protein_g, meaning.fat_g, meaning.carbohydrate_g):
        return Ask(
            About.LABEL_FIGURES,
            f"What does the label of {meaning.food} say for one serving? For example: serving 30 g, 120 kcal, protein 3, fat 2, carbs 20",
            meaning,
        )
    if meaning.serving_g is None:
        return Ask(About.LABEL_SERVING, f"How many grams is one serving of {meaning.food}?", meaning)
    try:
        check_weight(meaning.serving_g)
    except DomainError as error:
        return Refuse(str(error))
    missing = [
        w
        for w, v in (
            ("energy", meaning.kcal),
            ("protein", meaning.protein_g),
            ("fat", meaning.fat_g),
            ("carbs", meaning.carbohydrate_g),
        )
        if v is None
    ]
    if missing:
        return Ask(
            About.LABEL_FIGURES,
            f"The label of {meaning.food}: what does it say for {saying.listed(missing)}? Send it once more with all figures.",
            meaning,
        )
    label = _label(meaning)
    problem = doubt(label, rules_for(ex.books.person.region))
    if problem is not None and label.serving_g == PER_EU and doubt(label, LabelRules.EU) is None:
        problem = None
    if problem is not None and Confirmed.LABEL not in meaning.confirmed:
        yes = replace(meaning, confirmed=(*meaning.confirmed, Confirmed.LABEL))
        return Ask(
            About.LABEL,
            f"{problem.sentence} Keep it as typed?",
            meaning,
            (Choice("yes, as printed", yes), Choice("no, I'll retype it", None)),
        )
    keep_label(label.for_serving(meaning.serving_g), ex)
    return _named_like(label.food, ex)


def _named_like(food: str, ex: Exchange) -> Then:
    """The pending items of the food whose label this is."""
    following: list[Meaning] = []
    for question in questions.answerable(ex.books):
        item, _ = decode(question.subject)
        if question.about is not About.FOOD or not isinstance(item, Item) or item.name is None or item.amount is None:
            continue
        if item.name.text.casefold() == food.casefold():
            questions.answered(ex.books, question.id)
            following.append(replace(item, name=Name(text=food, foods=(food,))))
    ex.forget_known()
    return Then(tuple(following))


def keep_label(label: Label, ex: Exchange) -> None:
    """Saves a label and says its figures."""
    facts.save_label(ex.books, label)
    for question in questions.waiting(ex.books):
        pending, _ = decode(question.subject)
        if isinstance(pending, SaveLabel) and pending.food == label.food:
            questions.answered(ex.books, question.id)
    per = label.per_100g()
    ex.note(
        fact_events.LabelSaved(
            food=label.food,
            serving_g=label.serving_g,
            kcal=per.kcal,
            protein_g=per.protein_g,
            fat_g=per.fat_g,
            carbohydrate_g=per.carbohydrate_g,
            fibre_g=per.fibre_g,
            **{name: value * 100 / label.serving_g for name in MORE if (value := getattr(label, name)) is not None},
        )
    )
    ex.say(label_line(label))


def label_line(label: Label) -> str:
    """'Muesli: serving 45 g. For 100 g: 360 kcal, protein 10 g …, sugars 12 g, salt 0.1 g.'"""
    per = label.per_100g()
    measure = f" ({saying.times(label.measure_count)} {_said(label.measure)})" if label.measure else ""
    more = (
        ("fibre", label.fibre_g), ("sugars", label.sugars_g), ("saturates", label.saturated_fat_g),
        ("salt", label.salt_g), ("alcohol", label.alcohol_g), ("polyols", label.polyols_g),
    )  # fmt: skip
    rest = "".join(
        f", {word} {saying.grams(value * 100 / label.serving_g)}" for word, value in more if value is not None
    )
    head = f"{label.food.capitalize()}: serving {saying.grams(label.serving_g)}{measure}"
    return f"{head}. For 100 g: {saying.figures(per)}{rest}."


def _label(meaning: SaveLabel) -> Label:
    return Label(
        food=meaning.food[:MAX_NAME],
        serving_g=meaning.per_g or meaning.serving_g or 0.0,
        kcal=meaning.kcal or 0.0,
        protein_g=meaning.protein_g or 0.0,
        fat_g=meaning.fat_g or 0.0,
        carbohydrate_g=meaning.carbohydrate_g or 0.0,
        fibre_g=meaning.fibre_g,
        measure=meaning.measure,
        measure_count=meaning.measure_count,
        alcohol_g=meaning.alcohol_g,
        polyols_g=meaning.polyols_g,
        sugars_g=meaning.sugars_g,
        saturated_fat_g=meaning.saturated_fat_g,
        salt_g=meaning.salt_g,
    )


def save_habit(meaning: SaveHabit, ex: Exchange) -> Ask | Refuse | None:
    """Saves the standing answer to 'raw or cooked?' that the person gave outright."""
    entry = food_of(Item(text=meaning.name.text), meaning.name, ex.known)
    if isinstance(entry, Ask):
        return Refuse(
            f"Which food is {meaning.name.text}? Say it as, for example: I always weigh white rice dry.", Why.WHICH_FOOD
        )
    if ex.known.habits.get(entry.food.name) == meaning.state:
        ex.say(f"{entry.food.name.capitalize()}: that is how I take it already.")
    keep_habit(entry.food.name, meaning.state, ex)
    return None


def keep_habit(food: str, state: State, ex: Exchange) -> None:
    """Saves the standing answer to 'raw or cooked?' unless it is saved already."""
    if ex.known.habits.get(food) == state:
        return
    facts.save_habit(ex.books, food, state)
    ex.known.habits[food] = state
    ex.note(fact_events.HabitSaved(food=food, state=state))
    entry = ex.known.food(food)
    said = saying.state_said(state, "", entry.food.group if entry is not None else "") or "as sold"
    ex.say(f"{food.capitalize()}: {said} from now on, unless you say otherwise.")
