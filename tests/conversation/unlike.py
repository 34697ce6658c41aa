"""Many unlike messages to people in unlike states: whatever is said, the bot has an answer and does not break.

What is said comes from the corpora, the demo conversations and the pack's templates, as it stands and with its clauses
recombined; some of it is pressed or edited instead. The people are those of whom most has to be thought: cooks with
open and closed pots, a shared kitchen, a coach with clients, labels, targets and open questions.
`python -m tests.conversation.unlike --count 100000 --seed 7` prints the seed first, so that a finding can be repeated.
"""

from __future__ import annotations

import argparse
import logging
import random
import re
import time
from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import cache
from pathlib import Path

from tests.language.corpus import FILES, read
from tests.language.test_templates import TEMPLATES, Sampler

from .chat import MONDAY_NOON, Chat, Door, open_door

DEMOS = Path(__file__).parents[2] / "demo_conversations"
SPOKEN = re.compile(r"^(\w+)(?: ref \d+)?: (.+)$")
CLAUSE = re.compile(r"(?<=[,.;!?\n])\s+|\s+(?:and|but|then)\s+")
JOINTS = (", ", " and ", ". ", "\n", "; ", " ", " but ", " - ", ", then ")
COOKS, CLIENTS = ("Mira", "Tomo"), ("Ana", "Ben")
COACH = "Ines"
FIRST = {
    "Mira": (
        "new batch chilli: 900 g raw chicken breast, 400 g canned tomatoes, 200 g raw onions", "batch 1 cooked 1180 g",
        "new batch dal: 400 g dry lentils, 300 g raw carrots", "took 250 g from batch 1",
        "tare blue bowl 320 g", "label oat bar: serving 40 g, 161 kcal, protein 3 g, fat 5 g, carbs 26 g",
    ),
    "Tomo": ("new batch rice: 500 g dry rice", "batch 3 cooked 1400 g", "200 g pasta"),
    "Ana": ("200 g cooked rice", "target 2100 kcal protein 120", "I weigh 72.4 kg", "40 g almonds"),
    "Ben": ("150 g tuna", "90 g zorblax", "2 eggs", "banana 118 g"),
    "Ines": ("save template hello: well done this week", "60 g dry oats"),
}  # fmt: skip
MOST_OF_A_ROOM = 60
"""Messages after which new people are met: later ones would find little but what nobody has in a kitchen."""
KEPT = 12
"""Messages of a person that a finding shows."""


@cache
def sayings() -> tuple[str, ...]:
    """Everything that the project's corpora, demo conversations and templates say."""
    told = [case.say for file in FILES for case in read(file)]
    for demo in sorted(DEMOS.glob("*.txt")):
        lines = [SPOKEN.match(line) for line in demo.read_text(encoding="utf-8").splitlines()]
        told.extend(line[2] for line in lines if line is not None and not line[1].startswith("bot"))
    dice = random.Random(0)
    for intent, template in TEMPLATES:
        told.extend(Sampler(template, intent.means).samples(dice)[:3])
    return tuple(dict.fromkeys(told))


@cache
def parts() -> tuple[str, ...]:
    """The clauses of everything that is said."""
    return tuple(dict.fromkeys(part for text in sayings() for part in CLAUSE.split(text) if part.strip()))


@dataclass
class Room:
    """People who were just met, in the states that they begin in."""

    door: Door
    dice: random.Random
    number: int
    chats: dict[str, Chat] = field(default_factory=dict)
    edited: dict[str, int] = field(default_factory=dict)
    """The last message of each that can be edited."""
    refs: int = 0

    def __post_init__(self) -> None:
        """Lets everybody say what comes first."""
        now = MONDAY_NOON
        for name in (*COOKS, COACH, *CLIENTS):
            region = self.dice.choice(("metric", "UK", "US"))
            self.chats[name] = Chat(self.door, f"{name} {self.number}", region=region, timezone="Europe/Lisbon")
        for host, guests, invitation in ((COACH, CLIENTS, "{}"), ("Mira", ("Tomo",), "{} to my kitchen")):
            for guest in guests:
                said = self.chats[host].say(f"invite {invitation.format(guest)}", at=now)
                code = re.search(r"/start ([\w-]{22})", said.text)
                assert code is not None, said
                self.chats[guest].say(f"/start {code[1]}", at=now)
                self.chats[guest].say("yes", at=now)
        for name, texts in FIRST.items():
            for text in texts:
                self.chats[name].say(text, at=now)

    def play(self, count: int) -> None:
        """Messages, presses and edits of these people; raises AssertionError with what was said before the break."""
        said: deque[str] = deque(maxlen=KEPT * len(self.chats))
        now = datetime.fromisoformat(MONDAY_NOON)
        for _ in range(count):
            now += timedelta(minutes=self.dice.choice((1, 1, 3, 20, 240)))
            who = self.dice.choice(tuple(self.chats))
            text = message(self.dice)
            said.append(f"{who}: {text!r}")
            try:
                self._say(who, text, now.isoformat())
            except AssertionError as error:
                told = "\n    ".join(line for line in said if line.startswith(f"{who}:"))
                raise AssertionError(f"{error}\n    {told}") from error

    def _say(self, who: str, text: str, at: str) -> None:
        chat, way = self.chats[who], self.dice.random()
        shown = chat.heard[-1].choices
        if shown and way < 0.25:
            chat.press(self.dice.randint(1, len(shown)), at=at)
        elif way > 0.95 and chat.who in self.edited:
            chat.edit(self.edited[chat.who], text, at=at)
        elif way > 0.75:
            self.refs += 1
            self.edited[chat.who] = self.refs
            chat.say(text, at=at, ref=self.refs)
        else:
            chat.say(text, at=at)


def message(dice: random.Random) -> str:
    """One saying, or up to four clauses of several."""
    if dice.random() < 0.45:
        return dice.choice(sayings())
    told = [dice.choice(parts()) for _ in range(dice.choice((1, 2, 2, 3, 4)))]
    text = told[0]
    for part in told[1:]:
        text += dice.choice(JOINTS) + part
    return text


def rooms(door: Door, seed: int) -> Iterator[Room]:
    """One room after the other, each with people of its own."""
    dice, number = random.Random(seed), 0
    while True:
        number += 1
        yield Room(door, dice, number)


def broken(count: int, seed: int) -> Iterator[str]:
    """What broke in `count` messages, each with what that person had said before."""
    with open_door() as door:
        for room in rooms(door, seed):
            if count <= 0:
                return
            try:
                room.play(min(count, MOST_OF_A_ROOM))
            except AssertionError as error:
                yield str(error)
            count -= MOST_OF_A_ROOM


def main(given: Sequence[str] | None = None) -> None:
    """Command line entry point."""
    parser = argparse.ArgumentParser(description="Unlike messages to people in unlike states; none may break the bot.")
    parser.add_argument("--count", type=int, default=100_000)
    parser.add_argument("--seed", type=int, default=random.SystemRandom().randrange(10**6))
    asked = parser.parse_args(given)
    print(f"seed {asked.seed}", flush=True)  # noqa: T201
    logging.basicConfig(level=logging.ERROR)
    begun = time.perf_counter()
    found = 0
    for told in broken(asked.count, asked.seed):
        found += 1
        print(told, flush=True)  # noqa: T201
    rate = asked.count / (time.perf_counter() - begun)
    print(f"{asked.count:,} messages, {found} broke, {rate:,.0f} a second, seed {asked.seed}")  # noqa: T201
    raise SystemExit(bool(found))


if __name__ == "__main__":
    main()
