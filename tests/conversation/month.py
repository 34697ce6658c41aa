"""A month of three people: what it costs them to log, how often they are asked, and whether the records are true.

A creature of habit, a family cook and a shift worker say for four weeks what they put on the scale, and answer what
they are asked. Of each message it is known what has to be on record afterwards. `python -m tests.conversation.month`
writes the figures into docs/effort.md.

Effort follows the keystroke-level model (Card, Moran and Newell, "The keystroke-level model for user performance time
with interactive systems", CACM 23, 1980): 1.35 s to think before each message or tap, and 0.2 s for a tap. Typing on a
phone: 36.2 words a minute, a word being five characters (Palin, Feit, Kim, Kristensson and Oulasvirta, "How do people
type on mobile devices?", MobileHCI 2019). Both figures are from memory.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, time, timedelta

from tests.pages import EFFORT, write

from .chat import Chat, Door, Said, open_door

BEGINS = datetime(2026, 3, 2, tzinfo=UTC)
"""A Monday."""
DAYS = 28
THINK_S, TAP_S = 1.35, 0.2
CHARACTER_S = 60 / (36.2 * 5)
OFFER = "your usual breakfast"
"""In the morning's offer, which is one tap on a phone."""

ANY = ""
Expected = tuple[str, float]
"""The food as it stands on record, and its grams; ANY where the first choice of a question decides which it is."""
NEW_FOODS = (
    "tuna", "quinoa", "hummus", "bacon", "mushrooms", "noodles", "sausage", "cottage cheese", "sweet potato", "peas",
    "ham", "granola", "beef", "lettuce",
)  # fmt: skip
"""Something that they have not had before, every other day."""


@dataclass(frozen=True)
class Message:
    """What somebody says, and what has to be on record because of it; empty for what records no weigh-in."""

    at: time
    text: str
    expected: tuple[Expected, ...] = ()
    kitchen: bool = False
    """Whether it is about a pot, so that what it brings about is no weigh-in."""


@dataclass
class Week:
    """What was counted in a week."""

    messages: int = 0
    taps: int = 0
    characters: int = 0
    least: int = 0
    """Characters of the shortest words that could say the same: each weight with the first word of its food."""
    weigh_ins: int = 0
    weighings: int = 0
    """Weigh-ins, and what went into pots or was weighed of them."""
    questions: int = 0
    false: list[str] = field(default_factory=list)

    @property
    def seconds(self) -> float:
        """Effort by the keystroke-level model."""
        typed = self.messages * (THINK_S + TAP_S) + self.characters * CHARACTER_S
        return typed + self.taps * (THINK_S + TAP_S)


@dataclass(frozen=True)
class Person:
    """Somebody with their day, and the words that answer what they can be asked."""

    name: str
    day: Callable[[int, random.Random], Iterator[Message]]
    answers: tuple[str, ...]
    first: tuple[str, ...] = ()
    """What they set at the start."""


def _grams(dice: random.Random, mean: int, spread: float = 0.15) -> int:
    return max(1, round(dice.gauss(mean, mean * spread)))


def habit(day: int, dice: random.Random) -> Iterator[Message]:
    """The same breakfast, two lunches, five dinners."""
    if day < 4:
        yield Message(
            time(7, 30), "60 g dry oats and 200 g whole milk for breakfast", (("oats", 60), ("whole milk", 200))
        )
    else:
        yield Message(time(7, 30), "usual breakfast", (("oats", 60), ("whole milk", 200)))
    yield Message(time(8), "black coffee")
    rice, chicken = _grams(dice, 190), _grams(dice, 150)
    if day % 2:
        yield Message(
            time(12, 30), f"rice {rice}, chicken breast {chicken}", (("white rice", rice), ("chicken breast", chicken))
        )
    else:
        yield Message(
            time(12, 30),
            f"bread {rice // 2}, cheddar {chicken // 4}",
            (("white bread", rice // 2), ("cheddar cheese", chicken // 4)),
        )
    yogurt, apple = _grams(dice, 150), _grams(dice, 160)
    yield Message(time(16), f"greek yogurt {yogurt}", (("greek yogurt nonfat", yogurt),))
    yield Message(time(16, 5), f"apple {apple}", (("apple", apple),))
    first, second = _grams(dice, 240), _grams(dice, 130)
    dishes = (
        ("pasta", "pasta"),
        ("potatoes", "potato"),
        ("couscous", "couscous"),
        ("rice", "white rice"),
        ("lentils", "lentils"),
    )
    with_it = (
        ("salmon", "farmed atlantic salmon"),
        ("tofu", "firm tofu"),
        ("broccoli", "broccoli"),
        ("feta", "feta"),
        ("carrots", "carrot"),
    )
    (said, food), (said_too, food_too) = dishes[day % 5], with_it[(day // 2) % 5]
    yield Message(time(19), f"{said} {first}, {said_too} {second}", ((food, first), (food_too, second)))
    oil = _grams(dice, 9)
    yield Message(time(19, 5), f"olive oil {oil}", (("olive oil", oil),))
    yield from _new(day, time(21), dice)


def _new(day: int, at: time, dice: random.Random) -> Iterator[Message]:
    if day % 2 == 0:
        grams = _grams(dice, 90)
        yield Message(at, f"{NEW_FOODS[day // 2]} {grams}", ((ANY, grams),))


def cook(day: int, dice: random.Random) -> Iterator[Message]:
    """A pot every third day, of which the family eats too."""
    pots = ("chilli", "lentil soup", "chicken curry")
    contents = (
        "800 g raw ground beef 85/15, 400 g canned tomatoes, 300 g canned kidney beans, 200 g raw onion",
        "400 g dry lentils, 300 g raw carrot, 200 g raw onion, 30 g olive oil",
        "700 g raw chicken breast, 400 g canned tomatoes, 200 g raw onion, 150 g coconut milk",
    )
    oats, milk = _grams(dice, 55), _grams(dice, 180)
    yield Message(
        time(7), f"{oats} g dry oats, {milk} g whole milk for breakfast", (("oats", oats), ("whole milk", milk))
    )
    pot = pots[(day // 3) % 3]
    if day % 3 == 0:
        yield Message(time(17), f"new batch {pot}: {contents[(day // 3) % 3]}", kitchen=True)
        cooked = {"chilli": 1450, "lentil soup": 1900, "chicken curry": 1250}[pot] + dice.randrange(-60, 60)
        yield Message(time(18, 30), f"the {pot} cooked {cooked} g", kitchen=True)
        yield Message(time(18, 31), f"{_grams(dice, 360, 0.05)} g of the {pot} went to the family", kitchen=True)
    portion = _grams(dice, 240, 0.1)
    yield Message(time(19), f"took {portion} g from the {pot}", ((pot, portion),))
    bread, banana = _grams(dice, 60), dice.choice((1, 1, 2))
    yield Message(time(12, 30), f"{bread} g bread with 12 g butter", (("white bread", bread), ("butter", 12)))
    yield Message(time(15), f"{banana} banana{'s' if banana > 1 else ''}", (("banana", banana * 118),))
    yield from _new(day, time(21), dice)
    if day % 3 == 2:
        yield Message(time(20), f"finished the {pot}", kitchen=True)


def shifts(day: int, dice: random.Random) -> Iterator[Message]:
    """Three nights, then four days; a bar, eggs and what the canteen has."""
    night = day % 7 < 3
    hours = (time(15), time(20), time(23, 30)) if night else (time(8), time(13), time(19))
    eggs = dice.choice((2, 3))
    toast = _grams(dice, 64)
    yield Message(
        hours[0], f"{eggs} eggs, {toast} g wholemeal bread", (("egg", eggs * 51), ("whole wheat bread", toast))
    )
    yield Message(hours[0].replace(minute=45), "my shake", (("whole milk", 309.4), ("whey protein powder", 30)))
    pasta, mince = _grams(dice, 260), _grams(dice, 140)
    yield Message(hours[1], f"{pasta} g pasta, {mince} g turkey mince", (("pasta", pasta), ("ground turkey", mince)))
    almonds, juice = _grams(dice, 32), _grams(dice, 260)
    yield Message(
        hours[2], f"almonds {almonds}, orange juice {juice} g", (("almonds", almonds), ("orange juice", juice))
    )
    if day % 2:
        cheese = _grams(dice, 45)
        yield Message(hours[2].replace(minute=50), f"{cheese} g cheddar", (("cheddar cheese", cheese),))
    yield from _new(day, hours[1].replace(minute=30), dice)


PEOPLE = (
    Person("Hanna, a creature of habit", habit, ("cooked", "raw", "nonfat", "tofu firm", "no reminder")),
    Person("Femi, a family cook", cook, ("cooked", "no reminder")),
    Person(
        "Sol, on shifts", shifts, ("cooked", "no reminder"),
        ("my day starts at 5", "my shake is 30 g whey protein powder and 300 ml whole milk"),
    ),
)  # fmt: skip


def run(person: Person, seed: int = 1) -> list[Week]:
    """The person's weeks."""
    dice = random.Random(f"{seed} {person.name}")
    weeks = [Week() for _ in range(DAYS // 7)]
    with open_door() as door:
        chat = Chat(door, "somebody", region="UK", timezone="UTC")
        for text in person.first:
            _says(chat, text, BEGINS + timedelta(hours=6), weeks[0])
        for day in range(DAYS):
            week = weeks[day // 7]
            for message in sorted(person.day(day, dice), key=lambda each: each.at):
                at = datetime.combine((BEGINS + timedelta(days=day)).date(), message.at, UTC)
                _play(door, chat, person, message, at, week)
    return weeks


def _play(door: Door, chat: Chat, person: Person, message: Message, at: datetime, week: Week) -> None:
    offered = OFFER in door.step(advance_to=at.isoformat()).text.casefold()
    week.weigh_ins += len(message.expected)
    week.weighings += len(re.findall(r"\d g\b", message.text)) if message.kitchen else len(message.expected)
    week.least += sum(len(f"{(food or 'tuna').split()[0]} {grams:.0f}") for food, grams in message.expected)
    if offered and message.text.startswith("usual"):
        week.taps += 1
        heard = [chat.say(message.text, at=at.isoformat())]
    else:
        heard = [_says(chat, message.text, at, week)]
    asked = 0
    while heard[-1].choices and asked < 4:
        asked += 1
        choices = heard[-1].choices
        known = (words for answer in person.answers for words in choices if answer in words)
        choice = next(known, choices[0])
        week.taps += 1
        week.questions += "no reminder" not in choice
        heard.append(chat.press(choices.index(choice) + 1, at=(at + timedelta(seconds=20 * asked)).isoformat()))
    week.questions += sum("question" in said.kinds and not said.choices for said in heard)
    _judge(message, heard, week)


def _says(chat: Chat, text: str, at: datetime, week: Week) -> Said:
    week.messages += 1
    week.characters += len(text)
    return chat.say(text, at=at.isoformat())


def _judge(message: Message, heard: list[Said], week: Week) -> None:
    """Compares what is on record because of the message with what has to be."""
    found: dict[int, Expected] = {}
    for said in heard:
        for event in said.events:
            if event["type"] in ("weigh_in", "weigh_in_changed"):
                found[event["id"]] = (event["food"], event["edible_g"])
    left = list(message.expected)
    for food, grams in found.values():
        hit = next((each for each in left if each[0] in (food, ANY) and abs(each[1] - grams) < 0.6), None)
        if hit is not None:
            left.remove(hit)
        elif message.kitchen or food != "coffee":
            week.false.append(f"{message.text!r}: {food}, {grams} g")
    week.false += [f"{message.text!r}: no {food}, {grams} g: {heard[-1].text[:90]!r}" for food, grams in left]


HEAD = (
    "| person, week | messages a day | taps | characters | least | weighings | seconds | seconds for 15 | "
    "questions for 100 weigh-ins | false |\n|---|---|---|---|---|---|---|---|---|---|"
)


def months() -> dict[str, list[Week]]:
    """Everybody's weeks, by name."""
    return {person.name: run(person) for person in PEOPLE}


def table(played: Mapping[str, Sequence[Week]]) -> str:
    """The figures of every person and week, as a table of Markdown."""
    rows = [
        f"| {name}, {n} | {w.messages / 7:.1f} | {w.taps / 7:.1f} | {w.characters / 7:.0f} | {w.least / 7:.0f} | "
        f"{w.weighings / 7:.1f} | {w.seconds / 7:.0f} | {15 * w.seconds / w.weighings:.0f} | "
        f"{100 * w.questions / w.weigh_ins:.1f} | {len(w.false)} |"
        for name, weeks in played.items()
        for n, w in enumerate(weeks, start=1)
    ]
    return "\n".join((HEAD, *rows))


if __name__ == "__main__":
    write(EFFORT, "month", table(months()))
