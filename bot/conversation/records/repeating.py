"""What is eaten again: a meal, a day or foods taken from an earlier day, with what is different this time."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, time, timedelta
from itertools import takewhile

from bot import events
from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Outcome, Then
from bot.conversation.records import own_words
from bot.conversation.records.fixes import in_unit_of, item_of
from bot.language.name_tables import lemmas_of
from bot.language.recalling import means
from bot.language.told import Item, Name
from bot.language.usual import Combination, Repeat
from bot.store import weighins
from bot.store.delivery import inbox
from bot.store.weighins import StoredWeighIn

USUAL_DAYS = timedelta(days=21)
"""How far back what is usual is looked for."""
BREAKFAST = "breakfast"
OFFERED_DAYS = timedelta(days=14)
"""How far back a breakfast is looked for that is offered without being asked for."""
OFTEN = 3
STILL_USUAL = timedelta(days=4)
"""So long ago it may have been eaten last, which a long weekend is."""
MEAL_HOURS = {
    "breakfast": (time(4), time(11)),
    "lunch": (time(11), time(16)),
    "dinner": (time(16, 30), time(23)),
}
"""When a weigh-in without a meal of its own counts as part of one, by the person's own clock."""
AROUND = timedelta(hours=2, minutes=30)
"""'Same as yesterday' means what was eaten at about this time."""
PAUSE = timedelta(minutes=75)
"""A longer pause between two weigh-ins and they are no longer one meal."""
SMALL_G = 60
"""Up to this, dairy, sugar or honey that was told in one breath with a drink or a cereal belongs to it."""
CARRYING = frozenset({"drinks", "grains", "label"})
ADDED = frozenset({"dairy", "condiments"})


@dataclass(frozen=True, slots=True)
class Taken:
    """One thing that is taken up again, and the foods' name on record."""

    item: Item
    food: str

    def is_called(self, name: Name) -> bool:
        """Whether a name can mean it, by its food or by the person's word for it then."""
        said = self.item.name
        return means(name, self.food) or (said is not None and means(name, said.text))


def repeat(meaning: Repeat, ex: Exchange) -> Outcome:
    """The repeated items with their changes, to be recorded one by one."""
    found, missing = _found(meaning, ex)
    kept = [each for each in found if not any(each.is_called(name) for name in meaning.without)]
    if not kept and _defines(meaning):
        return Then((Combination(word=meaning.meal or "", items=meaning.changes, eaten=True),))
    if not kept:
        ex.note(events.NotUnderstood())
        ex.say(
            f"{_missing(missing or [meaning.meal or 'meal'], meaning, ex)} Tell me the foods with their weights this once."
        )
        return None
    if missing:
        ex.say(_missing(missing, meaning, ex))
    changes = list(meaning.changes)
    items: list[Item] = []
    for taken in kept:
        again = replace(taken.item, when=meaning.when, changes=None)
        change = next((c for c in changes if c.name is not None and taken.is_called(c.name)), None)
        if change is not None:
            changes.remove(change)
            again = _changed(again, change)
        items.append(again)
    return Then((*items, *(replace(change, when=meaning.when) for change in changes)))


def usual_breakfast(ex: Exchange) -> list[Item]:
    """What `repeat` takes for the usual breakfast, where it was eaten often enough in its amounts; else nothing.

    Often is three mornings of the last two weeks, the latest of them within the last few days.
    """
    today = ex.books.today
    by_day: dict[date, list[StoredWeighIn]] = {}
    for each in weighins.between(ex.books, today - USUAL_DAYS, today - timedelta(days=1)):
        by_day.setdefault(each.day, []).append(each)
    mornings = {day: of for day, eaten in sorted(by_day.items()) if (of := _of_day(eaten, BREAKFAST, ex))}
    usual = _usual_meal(list(mornings.values()))
    if not usual or today - max(mornings) > STILL_USUAL:
        return []
    lately = [of for day, of in mornings.items() if day >= today - OFFERED_DAYS]
    often = Counter(serving for of in lately for serving in {_serving(each) for each in of})
    if any(often[_serving(each)] < OFTEN for each in usual):
        return []
    return list(own_words.combination(BREAKFAST, ex.known)) or [taken.item for taken in _taken(usual, ex)]


def had_breakfast(ex: Exchange) -> bool:
    """Whether today has something that counts as breakfast."""
    return bool(_of_day(weighins.on_day(ex.books, ex.books.today), BREAKFAST, ex))


def _serving(stored: StoredWeighIn) -> tuple[str, int]:
    return stored.weigh_in.food, round(stored.weigh_in.as_weighed_g)


def _defines(meaning: Repeat) -> bool:
    """Whether a meal that is not known yet is told with all that it has: 'the usual breakfast, 60 g muesli, …'."""
    return meaning.meal is not None and meaning.day is None and len(meaning.changes) > 1


def _changed(again: Item, change: Item) -> Item:
    """The repeated item with the amount, state and kind that are said this time."""
    said = change.name
    specific = said is not None and said.kinds is None and len(said.foods) == 1
    name = said if specific and again.batch is None else again.name
    if change.amount is None:
        return replace(again, name=name)
    amount = change.amount
    if amount.kind == "bare" and again.amount is not None and again.amount.kind == "mass":
        amount = in_unit_of(amount, again.amount)  # 'but 100 blueberries', which were weighed before
    return replace(
        again,
        name=name,
        amount=amount,
        measure=change.measure,
        state=change.state if change.state is not None else again.state,
        number_first=change.number_first and amount is change.amount,
        waste_g=change.waste_g,
        peeled_g=change.peeled_g,
        cooked_g=None,
        tare=change.tare,
        two_masses=change.two_masses,
        others_g=change.others_g,
    )


def _found(meaning: Repeat, ex: Exchange) -> tuple[list[Taken], list[str]]:
    """(what is repeated, in the order it was eaten; what of it can't be found)."""
    if meaning.day is not None:
        stored = weighins.on_day(ex.books, meaning.day)
    else:
        today = ex.books.today
        stored = weighins.between(ex.books, today - USUAL_DAYS, today - timedelta(days=1))
    found: list[Taken] = []
    if meaning.meal is not None or not meaning.names:
        found.extend(_of_meal(meaning, stored, ex))
        if not found:
            return [], []
    missing: list[str] = []
    for name in meaning.names:
        if any(each.is_called(name) for each in found):
            continue
        named = _of_name(name, meaning, stored, ex)
        found.extend(each for each in named if each not in found)
        if not named:
            missing.append(name.text)
    return found, missing


def _of_meal(meaning: Repeat, stored: Sequence[StoredWeighIn], ex: Exchange) -> list[Taken]:
    """A meal, or what was eaten at about this time; without a day the usual one, as it was told or else as it mostly was."""
    if meaning.day is not None:
        return _taken(_of_day(stored, meaning.meal, ex), ex)
    now = ex.books.local.time()
    meal = meaning.meal or next((m for m, (first, last) in MEAL_HOURS.items() if first <= now < last), None)
    kept = _as_told(meal, ex) if meal is not None else []
    if kept:
        return kept
    by_day: dict[date, list[StoredWeighIn]] = {}
    for each in stored:
        by_day.setdefault(each.day, []).append(each)
    meals = [of for _, eaten in sorted(by_day.items()) if (of := _of_day(eaten, meal, ex))]
    return _taken(_usual_meal(meals), ex)


def _as_told(word: str, ex: Exchange) -> list[Taken]:
    """What the person said that a usual thing is."""
    items = own_words.combination(word, ex.known)
    if items:
        own_words.say_first_use(word, ex)
    return [Taken(item, _food_of(item)) for item in items]


def _food_of(item: Item) -> str:
    name = item.name
    return "" if name is None else name.foods[0] if name.foods else name.text


def _taken(stored: Sequence[StoredWeighIn], ex: Exchange) -> list[Taken]:
    return [Taken(item_of(each, ex), each.weigh_in.food) for each in stored]


def _of_name(name: Name, meaning: Repeat, stored: Sequence[StoredWeighIn], ex: Exchange) -> list[Taken]:
    """A food with what belongs to it ('coffee' with its milk): as told, or as it was that day, or as it mostly was."""
    for word in (name.combination, name.text, *name.foods) if meaning.day is None else ():
        kept = _as_told(word, ex)
        if kept:
            return kept
    called = [each for each in stored if Taken(item_of(each, ex), each.weigh_in.food).is_called(name)]
    if name.combination and not called:
        return _as_told(name.combination, ex)  # 'same shake as on Monday': its parts are on record by their own names
    servings = [_with_additions(each, stored, ex) for each in called] or _additions_told(name, stored, ex)
    return _taken(servings[-1] if meaning.day is not None and servings else _most_often(servings), ex)


def _additions_told(name: Name, stored: Sequence[StoredWeighIn], ex: Exchange) -> list[list[StoredWeighIn]]:
    """What was recorded with a drink that is on record with nothing of its own: the milk of 'tea with 30 g milk'."""
    known = ex.known.food(name.foods[0]) if name.foods else None
    if known is None or known.food.group != "drinks":
        return []
    by_message: dict[int, list[StoredWeighIn]] = {}
    for each in stored:
        if _is_addition(each, ex):
            by_message.setdefault(each.inbound_id, []).append(each)
    words = set(lemmas_of(name.text))
    # With two milks in one message it is not certain which one was the drink's.
    clear = {m: of for m, of in by_message.items() if len({each.weigh_in.food for each in of}) == len(of)}
    return [of for message, of in clear.items() if words <= _words_of(message, ex)]


def _words_of(message: int, ex: Exchange) -> set[str]:
    """The words of a message that is still kept, singular."""
    row = inbox.get(ex.books.conn, message)
    content = None if row is None else row.content
    return set(lemmas_of(content.text)) if isinstance(content, (inbox.Say, inbox.Edit)) else set()


def _with_additions(carrier: StoredWeighIn, stored: Sequence[StoredWeighIn], ex: Exchange) -> list[StoredWeighIn]:
    """A drink or a cereal with the milk, sugar or honey that was told in one breath with it; other foods alone."""
    known = ex.known.food(carrier.weigh_in.food)
    if known is None or not (known.food.drunk or known.food.group in CARRYING):
        return [carrier]
    # What an answer completed is of the message that was asked about: it has that message's time.
    told = (carrier.inbound_id, carrier.eaten_at)
    together = [each for each in stored if each.inbound_id == told[0] or each.eaten_at == told[1]]
    behind = together[together.index(carrier) + 1 :]
    return [carrier, *takewhile(lambda each: _is_addition(each, ex), behind)]


def _is_addition(stored: StoredWeighIn, ex: Exchange) -> bool:
    known = ex.known.food(stored.weigh_in.food)
    if known is None or known.food.group == "drinks":
        return False
    return known.food.drunk or (known.food.group in ADDED and stored.weigh_in.as_weighed_g <= SMALL_G)


def _most_often(servings: Sequence[list[StoredWeighIn]]) -> list[StoredWeighIn]:
    """The serving that was eaten most often, in its foods and amounts; the latest of those."""
    keys = [tuple((each.weigh_in.food, round(each.weigh_in.as_weighed_g)) for each in serving) for serving in servings]
    often = Counter(keys)
    most = max(often.values(), default=0)
    return next((s for s, key in zip(reversed(servings), reversed(keys), strict=True) if often[key] == most), [])


def _of_day(stored: Sequence[StoredWeighIn], meal: str | None, ex: Exchange) -> list[StoredWeighIn]:
    """What of a day is meant: a meal, or what was eaten at about this time; else all of it."""
    if meal is not None:
        said = [each for each in stored if each.meal == meal]
        return said or _one_sitting([each for each in stored if each.meal is None and _at_hours_of(each, meal, ex)])
    zone, now = ex.books.person.timezone, ex.books.local
    minutes = now.hour * 60 + now.minute
    near = []
    for each in stored:
        at = each.eaten_at.astimezone(zone)
        if abs(at.hour * 60 + at.minute - minutes) <= AROUND / timedelta(minutes=1):
            near.append(each)
    return near or list(stored)


def _one_sitting(stored: Sequence[StoredWeighIn]) -> list[StoredWeighIn]:
    """The weigh-ins that hold the most energy among those that were eaten without a long pause between them."""
    sittings: list[list[StoredWeighIn]] = []
    for each in sorted(stored, key=lambda each: each.eaten_at):
        if not sittings or each.eaten_at - sittings[-1][-1].eaten_at > PAUSE:
            sittings.append([])
        sittings[-1].append(each)
    return max(sittings, key=_energy, default=[])


def _energy(sitting: Sequence[StoredWeighIn]) -> float:
    return sum(each.weigh_in.nutrients.kcal for each in sitting if each.weigh_in.nutrients is not None)


def _at_hours_of(stored: StoredWeighIn, meal: str, ex: Exchange) -> bool:
    """Whether a weigh-in without a meal of its own was eaten at the hours of one."""
    if meal not in MEAL_HOURS:
        return False
    first, last = MEAL_HOURS[meal]
    return first <= stored.eaten_at.astimezone(ex.books.person.timezone).time() < last


def _usual_meal(meals: Sequence[list[StoredWeighIn]]) -> list[StoredWeighIn]:
    """The latest of the meals that have the foods most often eaten together, each food in its most frequent amount."""
    foods = [frozenset(each.weigh_in.food for each in meal) for meal in meals]
    often = Counter(foods)
    most = max(often.values(), default=0)
    alike = [meal for meal, of in zip(meals, foods, strict=True) if often[of] == most and of == _latest(foods, often)]
    if not alike:
        return []
    eaten = [each for meal in alike for each in meal]
    twice = Counter(each.weigh_in.food for each in alike[-1])
    return [
        each
        if twice[each.weigh_in.food] > 1
        else _most_often([[e] for e in eaten if e.weigh_in.food == each.weigh_in.food])[0]
        for each in alike[-1]
    ]


def _latest(foods: Sequence[frozenset[str]], often: Counter[frozenset[str]]) -> frozenset[str]:
    most = max(often.values())
    return next(of for of in reversed(foods) if often[of] == most)


def _missing(what: Sequence[str], meaning: Repeat, ex: Exchange) -> str:
    if meaning.day is None:
        return f"I don't know your usual {saying.listed(what)} yet."
    return f"No {saying.listed(what, 'or')} is on record for {saying.day(meaning.day, ex.books.today)}."
