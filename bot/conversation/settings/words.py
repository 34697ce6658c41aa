"""Words that mean something of their own to a person: kept, listed and forgotten as they say."""

from __future__ import annotations

from collections.abc import Sequence

from bot import events, fact_events
from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Outcome, Refuse, Then
from bot.conversation.records import own_words
from bot.kinds import ListOf, Remembered, Why
from bot.language.told import Item
from bot.language.usual import Combination, ForgetWord, MeansBy, VesselHolds
from bot.store import memory
from domain.quantities import millilitres

PRIVACY = "For everything else I keep about you, and who sees it: privacy"
MOST_HELD_ML = 5000
"""A vessel to drink or eat from holds no more."""


def means_by(meaning: MeansBy, ex: Exchange) -> Refuse | None:
    """Keeps which food a word means."""
    food = ex.known.food(meaning.name.foods[0]) if meaning.name.foods else None
    if food is None:
        return Refuse(f"Which kind is “{meaning.name.text}”? Say it with its kind.", Why.WHICH_FOOD)
    word = meaning.word.strip().lower()
    memory.keep(ex.books, Remembered.KIND, word, food.food.name)
    _kept(word, food.food.name, ex)
    ex.say(f"{saying.first_up(word)} means {food.food.name} from now on.")
    return None


def combination(meaning: Combination, ex: Exchange) -> Outcome:
    """Keeps what a word for several foods stands for; what was eaten with it is recorded too."""
    word = meaning.word.strip().lower()
    items = [each for item in meaning.items for each in own_words.spelt_out(item, ex)]
    memory.keep(ex.books, Remembered.COMBINATION, word, own_words.encoded(items))
    listed = told(items)
    _kept(word, listed, ex)
    usual = f"usual {word}" if word in own_words.MEALS or meaning.eaten else word
    ex.say(f"Your {usual} is {listed} from now on. Say “my {usual}” to record it.")
    return Then(meaning.items) if meaning.eaten else None


def told(items: Sequence[Item]) -> str:
    """'30 g whey, 300 ml milk and a banana'."""
    return saying.listed([_item(item) for item in items])


def _item(item: Item) -> str:
    amount = item.amount.text if item.amount is not None else ""
    if item.amount is not None and item.amount.unit and item.amount.kind in ("count", "measure"):
        amount = f"{amount} of"
    name = item.name.text if item.name is not None else item.batch.text if item.batch is not None else ""
    return f"{amount} {name}".strip()


def vessel_holds(meaning: VesselHolds, ex: Exchange) -> Refuse | None:
    """Keeps what a vessel holds."""
    held = millilitres(meaning.amount.value, meaning.amount.unit, ex.books.person.region)
    if not 0 < held <= MOST_HELD_ML:
        return Refuse(f"{meaning.amount.text} can't be what a {meaning.word} holds.")
    memory.keep(ex.books, Remembered.VESSEL, meaning.word, repr(held))
    _kept(meaning.word, meaning.amount.text, ex)
    ex.say(f"Your {meaning.word} holds {meaning.amount.text}. Say “a {meaning.word} of milk” and I reckon with it.")
    return None


def _kept(word: str, value: str, ex: Exchange) -> None:
    ex.note(fact_events.SettingChanged(name=word, value=value))


def everything(ex: Exchange) -> None:
    """Lists what is remembered of the person's words, measures and habits."""
    lines = [*_words(ex), *_usual(ex), *_vessels(ex), *_measures(ex), *_habits(ex), *_drinks(ex)]
    ex.note(events.ListingShown(of=ListOf.WORDS, count=len(lines)))
    if not lines:
        ex.say("Nothing yet. For example: “when I say yogurt I mean nonfat Greek yogurt”, “my mug holds 240 ml”.")
        ex.say(PRIVACY)
        return
    for line in lines:
        ex.say(line)
    ex.say("To drop one of your words: forget my shake")
    ex.say(PRIVACY)


def _words(ex: Exchange) -> list[str]:
    return [f"{w}: {food}" for (what, w), food in ex.known.memory.items() if what == Remembered.KIND]


def _usual(ex: Exchange) -> list[str]:
    words = [word for what, word in ex.known.memory if what == Remembered.COMBINATION]
    return [f"{f'usual {w}' if w in own_words.MEALS else w}: {told(own_words.combination(w, ex.known))}" for w in words]


def _vessels(ex: Exchange) -> list[str]:
    held = [(w, float(ml)) for (what, w), ml in ex.known.memory.items() if what == Remembered.VESSEL]
    return [f"{word}: holds {ml:,.0f} ml" for word, ml in held]


def _measures(ex: Exchange) -> list[str]:
    return [f"{unit} of {food}: {saying.grams(g)}" for (food, unit), g in sorted(ex.known.measures.items())]


def _habits(ex: Exchange) -> list[str]:
    lines: list[str] = []
    for name, state in sorted(ex.known.habits.items()):
        entry = ex.known.food(name)
        group = entry.food.group if entry is not None else ""
        lines.append(f"{name}: weighed {saying.state_said(state, '', group) or 'as sold'}")
    return lines


def _drinks(ex: Exchange) -> list[str]:
    return [f"{w}: ounces by {kind}" for (what, w), kind in ex.known.memory.items() if what == Remembered.DRINK]


def forget(meaning: ForgetWord, ex: Exchange) -> Refuse | None:
    """Forgets all that a word means."""
    word = meaning.word.strip().lower().removeprefix("usual ")
    known = [what for what in Remembered if (what, word) in ex.known.memory]
    if not known:
        return Refuse(f"“{word}” has no meaning of its own here.", Why.WHICH_FOOD, says_so=True)
    for what in known:
        memory.forget(ex.books, what, word)
    ex.note(fact_events.SettingChanged(name=word, value=""))
    ex.say(f"“{word}” has no meaning of its own any more. Say undo to have it back.")
    return None
