"""Frames for a meal or foods eaten again in any words: nothing is weighed anew, and the record has them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bot.language.chunks import Chunk
from bot.language.frames.spans import Span, outside
from bot.language.intents.readings import kept_and_left_out
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.moments import together
from bot.language.pack import pack, plain
from bot.language.recalling import meant, named_by
from bot.language.scene import Scene
from bot.language.surroundings import Recorded
from bot.language.told import Amount, Item, Name, When
from bot.language.usual import Repeat
from domain import reference
from domain.reference.words import is_action

AGAIN = ("eaten_again", "eaten_as_always", "repeats", "another_round", "beside_again")


@dataclass(frozen=True)
class Times:
    """The moments of a stretch: when it was eaten before, and when this time."""

    day: Chunk | None
    """The past day."""
    meal: str | None
    """The meal of then."""
    now: When


def once_more(scene: Scene) -> list[Meaning] | None:
    """'Monday's breakfast once more for me', 'lunch, the usual one', 'flat white too, no different'."""
    message = scene.message
    if not scene.cue("eaten_again", "eaten_as_always") or scene.named or not of_the_writer(scene):
        return None
    before = [each for each in message.around.recorded() if each.day < message.around.today]
    times = _times(message)
    if not before or times is None or message.of("hash", "energy", "macro", "price", "tare"):
        return None
    if says_of_something_else(message):
        return None
    rest = outside(message, _phrases(message))
    kept, without = kept_and_left_out(rest.without(rest.of("moment")))
    weighed_anew = _weighed_anew(_without_places(kept), times, before) if scene.cue("eaten_as_always") else None
    if weighed_anew is not None:
        return weighed_anew
    if denied(kept) or not _told_behind_a_turn(message, kept, times.day):
        return None
    told = items(kept) if kept.of("amount", "food") else []
    changes = tuple(each for each in told if each.amount is not None and not _only_one(each, before))
    if any(each.name is None or each.name.unknown for each in changes):
        return None
    if changes and times.day is None and not scene.cue("eaten_as_always", "but_not_that"):
        return None  # 'a late breakfast again, 40 g cheddar' is weighed anew
    weighed = {n for each in changes for n in _words_of(each)}
    foods = [c for c in kept.of("food") if not weighed & set(_lemmas(message, c))]
    names, others = _on_record(message, foods, before)
    names, others = (*names, *(n for n in others if _drunk(n))), tuple(n for n in others if not _drunk(n))
    meal = None if only_when(message, (*names, *others)) or only_that(message, foods) else times.meal
    if meal is None and (not names or (times.day is None and not _nothing_else(kept))):
        return None
    how_much = len(names) > 1 or scene.cue("eaten_as_always") or any(_drunk(name) for name in names)
    if meal is None and times.day is None and not how_much:
        return None  # 'cheddar again' leaves it open
    day = times.day.moment.day if times.day is not None and times.day.moment is not None else None
    if day is not None and not any(each.day == day for each in before):
        return None
    again = Repeat(meal=meal, day=day, names=names, changes=changes, without=without, when=times.now)
    return [again, *(Item(text=name.text, name=name, when=times.now) for name in others)]


def _without_places(kept: Message) -> Message:
    """The stretch without a food that only says where another went: 'honey on the porridge'."""
    foods, tokens = kept.of("food"), kept.tokens
    places = [c for c in foods if any(t.text in pack()["on_which"] for t in tokens[max(0, c.start - 2) : c.start])]
    return kept.without(places) if len(places) < len(foods) else kept


def _weighed_anew(kept: Message, times: Times, before: Sequence[Recorded]) -> list[Meaning] | None:
    """One food with its amount, said to be as ever: 'honey on the oats as ever, one teaspoon' needs no earlier one."""
    if times.day is not None or times.meal is not None or len(kept.of("food")) != 1:
        return None
    told = items(kept)
    amount = told[0].amount if len(told) == 1 else None
    if amount is None or _is_one(amount) or told[0].name is None or told[0].name.unknown:
        return None
    return [replace(told[0], when=times.now)] if not denied(kept) and meant(told[0].name, before) else None


def of_the_writer(scene: Scene) -> bool:
    """Whether it tells what the writer has eaten: no question, plan, idea or habit, and nobody else's."""
    message = scene.message
    if _asks(message) or message.when.future or scene.cue("condition", "should_i") or _still_to_come(scene):
        return False
    if scene.cue("habit") and not scene.cue("eaten_as_always", "not_a_habit"):
        return False
    others = message.has_any(message.words.people) or scene.cue("more_people")
    return not others and not scene.cue("toying_with", "shop_trip", "went_without", "only_said_of_it")


def _asks(message: Message) -> bool:
    """Whether it is a question; 'did Monday's breakfast again' is none."""
    does = len(message.chunks) > 1 and message.chunks[0].kind == "word" and message.chunks[1].kind == "moment"
    return message.asks and ("?" in message.said or not (does and plain(message.said[0]) in pack()["beside_again"]))


def _still_to_come(scene: Scene) -> bool:
    """Whether it is for later; 'just later' and 'I had it again tonight' say that it has been eaten."""
    said = scene.said
    aside = [place for name in ("beside_again", "by_the_way") for place in said.places(name)]
    later = [(a, b) for a, b in said.places("later_on") if not any(s <= a and b <= e for s, e in aside)]
    return bool(later) and not scene.cue("i_ate")


def _phrases(message: Message) -> list[Span]:
    """Where it says that something is eaten again, also with a number in it ('take two')."""
    said = message.line.plain
    return [Span(start, end) for name in AGAIN for start, end in said.places(name)]


def _is_one(amount: Amount | None) -> bool:
    return amount is not None and amount.kind in ("bare", "count") and amount.value == 1


def _only_one(item: Item, before: Sequence[Recorded]) -> bool:
    """Whether an amount says no more than 'a' or 'one': 'the usual one', 'a flat white' that is on record."""
    if not _is_one(item.amount):
        return False
    return item.name is None or _drunk(item.name) or bool(meant(item.name, before))


def only_that(message: Message, foods: Sequence[Chunk]) -> bool:
    """Whether a food is all that there was of a meal: 'nothing but the flat white, the same as ever'."""
    said, first = message.line.plain, min((c.start for c in foods), default=0)
    while first and said[first - 1] in pack()["article"]:
        first -= 1
    return any(first in pack()["nothing_but"].ends(said, n) for n in range(message.chunks[0].start, first))


def only_when(message: Message, names: Sequence[Name]) -> bool:
    """Whether the meal only says when: 'porridge for breakfast, like on Tuesday' is not all of that breakfast."""
    foods, meals = message.of("food"), [c for c in message.of("moment") if _is_meal(c)]
    if not names or not foods or not meals or foods[0].start > meals[0].start:
        return False
    first = message.line.plain[meals[0].start]
    return not ({first, message.line.plain[meals[0].start - 1]}).isdisjoint(pack()["for_a_meal"].words)


def _times(message: Message) -> Times | None:
    """The times that it names; None for more than one past day."""
    today = message.around.today
    moments = [c for c in message.of("moment") if c.moment is not None]
    past = [c for c in moments if c.moment is not None and c.moment.day is not None and c.moment.day < today]
    if len({c.moment.day for c in past if c.moment is not None}) > 1:
        return None
    day = past[0] if past else None
    meals = [c for c in moments if c.moment is not None and c.moment.meal is not None]
    nearest = min(meals, key=lambda c: abs(c.start - day.start) if day is not None else c.start, default=None)
    meal = nearest.moment.meal if nearest is not None and nearest.moment is not None else None
    own = together([c.moment for c in moments if c.moment is not None and c not in past], message.around)
    others = [c.moment.meal for c in meals if c is not nearest and c.moment is not None and c.moment.meal != meal]
    clock = own.moment is not None and own.day == today
    now = When(day=None, moment=own.moment if clock else None, meal=others[0] if others else meal)
    return Times(day, meal, now)


def says_of_something_else(message: Message) -> bool:
    """Whether 'usual' or the meal belongs to a noun that is no food: 'the usual place', 'the breakfast crowd'."""
    words, line = pack(), message.line
    ends = {end for name in ("attributive", "usual_one") for _, end in words[name].places(message.wording)}
    offset = message.chunks[0].start
    for chunk in message.chunks:
        behind = chunk.kind == "word" and (
            chunk.start - offset in ends or any(c.end == chunk.start and _is_meal(c) for c in message.of("moment"))
        )
        word = line.plain[chunk.start]
        if behind and word.isalpha() and not (word in words["behind_usual"] or is_action(word)):
            return True
    return False


def _is_meal(chunk: Chunk) -> bool:
    return chunk.moment is not None and chunk.moment.meal is not None


def denied(kept: Message) -> bool:
    """Whether it says that nothing of it was eaten: 'didn't fancy the usual breakfast', 'again no breakfast'."""
    said = {plain(word) for word in kept.said}
    negations = {plain(word) for word in kept.words.negations}
    return bool(said & negations) or any(word in pack()["excluding"] for word in said)


def _nothing_else(kept: Message) -> bool:
    """Whether the foods are all that it tells: 'the cheddar went off again' is no second helping."""
    return all(kept.line.plain[c.start] in pack()["nothing_more"] for c in kept.of("word"))


def _told_behind_a_turn(message: Message, kept: Message, day: Chunk | None) -> bool:
    """Whether each amount stands behind words that say what is different; without them it is weighed anew."""
    amounts, turns = [c for c in kept.of("amount") if not _is_one(c.amount)], pack()["but_for_this"]
    said = [span for span in _phrases(message) if span.start >= message.chunks[0].start]
    if not amounts:
        return True
    again = min((span.end for span in said), default=message.chunks[0].start + 1)
    first = amounts[0].start
    if first < again:
        return day is None  # 'an apple, 203 g, on top of my usual lunch'
    return any(turns.end(message.line.plain, n) is not None for n in range(again, first))


def _on_record(
    message: Message, foods: Sequence[Chunk], before: Sequence[Recorded]
) -> tuple[tuple[Name, ...], tuple[Name, ...]]:
    """(the foods that are on record, a dish by its parts where only these are; the others)."""
    names: list[Name] = []
    others: list[Name] = []
    for chunk in foods:
        name = named_by(message, chunk)
        parts = [name] if name.combination or meant(name, before) else _parts(message, chunk, before)
        (names if parts else others).extend(parts or [name])
    return tuple(names), tuple(others)


def _drunk(name: Name) -> bool:
    """Whether it is a drink: on record there may be only the milk that was in it."""
    foods = reference.load().foods
    return any(foods[food].drunk for food in name.foods if food in foods)


def _parts(message: Message, chunk: Chunk, before: Sequence[Recorded]) -> list[Name]:
    """'avocado toast' by the avocado and the toast on record; empty where not all of its words are on record."""
    between = pack()["between_name_words"]
    tokens = message.tokens[chunk.start : chunk.end]
    words = [t.text for t in tokens if t.kind == "word" and plain(t.text) not in between]
    parts = [message.vocabulary.resolve([word], word) for word in words]
    return parts if len(parts) > 1 and all(meant(part, before) for part in parts) else []


def _words_of(item: Item) -> tuple[str, ...]:
    return tuple(item.name.text.lower().split()) if item.name is not None else ()


def _lemmas(message: Message, chunk: Chunk) -> list[str]:
    return [message.tokens[n].text for n in range(chunk.start, chunk.end)]
