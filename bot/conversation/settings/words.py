"""Words that mean something of their own to a person: kept, listed and forgotten as they say."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from bot import events, fact_events
from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Outcome, Refuse, Then
from bot.conversation.questions import remembering
from bot.conversation.records import own_words
from bot.kinds import About, ListOf, Remembered, Why
from bot.language.text import singular
from bot.language.told import Item
from bot.language.usual import Combination, ForgetWord, MeansBy, VesselHolds
from bot.store import facts, memory
from domain.foods import State
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
    ex.say(f"Your {meaning.word} holds {meaning.amount.text}. Say “a {meaning.word} of milk” and I use it.")
    return None


def _kept(word: str, value: str, ex: Exchange) -> None:
    ex.note(fact_events.SettingChanged(name=word, value=value))


@dataclass(frozen=True, slots=True)
class Kept:
    """One thing that is remembered: what it is called, how it is listed, and how it is forgotten."""

    names: tuple[str, ...]
    line: str
    forget: Callable[[Exchange], object]
    is_habit: bool = False


def everything(ex: Exchange) -> None:
    """Lists what is remembered of the person's words, measures and habits."""
    lines = [kept.line for kept in _kept_things(ex)]
    ex.note(events.ListingShown(of=ListOf.WORDS, count=len(lines)))
    if not lines:
        ex.say("Nothing yet. For example: “when I say yogurt I mean nonfat Greek yogurt”, “my mug holds 240 ml”.")
        ex.say(PRIVACY)
        return
    for line in lines:
        ex.say(line)
    ex.say("To change one, say it again. To drop one: forget my shake")
    ex.say(PRIVACY)


def _kept_things(ex: Exchange) -> list[Kept]:
    by_kind = {what: [word for kind, word in ex.known.memory if kind == what] for what in Remembered}
    return [
        *(_remembered(what, word, ex) for what in _LISTED for word in by_kind[what]),
        *(_measure(food, unit, grams) for (food, unit), grams in sorted(ex.known.measures.items())),
        *(_habit(food, state, ex) for food, state in sorted(ex.known.habits.items())),
    ]


_LISTED = (
    Remembered.KIND,
    Remembered.COMBINATION,
    Remembered.VESSEL,
    Remembered.DRINK,
    Remembered.BATCH,
    Remembered.BODY_UNIT,
)


def _remembered(what: Remembered, word: str, ex: Exchange) -> Kept:
    value = ex.known.memory[what, word]
    names: tuple[str, ...] = (word,)
    match what:
        case Remembered.COMBINATION:
            line = (
                f"{f'usual {word}' if word in own_words.MEALS else word}: {told(own_words.combination(word, ex.known))}"
            )
        case Remembered.VESSEL:
            line = f"{word}: holds {float(value):,.0f} ml"
        case Remembered.DRINK:
            line = f"{word}: ounces by {value}"
        case Remembered.BATCH:
            line = f"{word}: the food" if value == remembering.FOOD else f"{word}: batch {value}"
        case Remembered.BODY_UNIT:
            line, names = f"body weight: in {value}", ("body weight", "unit", "body weight unit")
        case _:
            line = f"{word}: {value}"
    return Kept(names, line, lambda ex: memory.forget(ex.books, what, word))


def _measure(food: str, unit: str, grams: float) -> Kept:
    names = (f"{unit} of {food}", f"{food} {unit}", unit)
    return Kept(
        names, f"{unit} of {food}: {saying.grams(grams)}", lambda ex: facts.forget_measure(ex.books, food, unit)
    )


def _habit(food: str, state: State, ex: Exchange) -> Kept:
    entry = ex.known.food(food)
    said = saying.state_said(state, "", entry.food.group if entry is not None else "") or "as sold"
    return Kept((food,), f"{food}: weighed {said}", lambda ex: facts.forget_habit(ex.books, food), is_habit=True)


def forget(meaning: ForgetWord, ex: Exchange) -> Ask | Refuse | None:
    """Forgets what a word means, a measure or a habit; all of them after asking."""
    things = [kept for kept in _kept_things(ex) if kept.is_habit or not meaning.habit]
    word = meaning.word.strip().lower().removeprefix("usual ")
    if word:
        found = _called(word, things)
    elif meaning.sure or not things:
        found = things
    else:
        text = f"Forget all {len(things)} words, measures and habits?"
        choices = (Choice("yes, forget them", replace(meaning, sure=True)), Choice("no, keep them", None))
        return Ask(About.DELETE, text, meaning, choices)
    if not found:
        return Refuse(f"“{word or 'That'}” has no meaning of its own here.", Why.WHICH_FOOD, says_so=True)
    if word and len({kept.line for kept in found}) > 1 and not any(word in kept.names[:1] for kept in found):
        shown = saying.listed([kept.names[0] for kept in found], "or")
        return Refuse(f"Which one: {shown}? Nothing is forgotten yet.", Why.WHICH_FOOD, says_so=True)
    for kept in found:
        kept.forget(ex)
    ex.forget_known()
    ex.note(fact_events.SettingChanged(name=word or "words", value=""))
    ex.say(f"Forgotten: {'; '.join(kept.line for kept in found)}. Say undo to have it back.")
    return None


def _called(word: str, things: Sequence[Kept]) -> list[Kept]:
    """What is called so: by its very name if anything is, else what has all these words in its name."""
    exact = [kept for kept in things if word in kept.names]
    words = {singular(part) for part in word.split()} - {"of"}
    return exact or [kept for kept in things if words <= {singular(part) for part in kept.names[0].split()}]
