"""Random scripts of people who invite, agree, end and pry: nothing of anybody is told to whom they have not let in."""

from __future__ import annotations

import random
import re
from collections import Counter
from collections.abc import Callable

from .chat import Chat, Door, Said

MARKS = {"Ana": "zubrik", "Ben": "quonta", "Cem": "wexlo", "Dora": "yamplit"}
"""A word that stands in all of somebody's records, and in nobody else's."""
NAMES = tuple(MARKS)
SCRIPTS, STEPS = 6, 60
SHEETS = ("{}'s day", "{}'s week", "what did {} eat today?", "week of {}", "ask {} to weigh #1 again")
LOOKS = (
    "roster", "who logged today?", "how is {}?", "what did {} eat yesterday?", "digest", "target for {} 2100 kcal",
    "tell {}: hello", "ask {} to weigh #1 again", "tell everyone: a new week", "reply: hello", "object", "undo",
    "who sees my data?", "today", "week", "yes", "1", "80 g", "can't any more",
)  # fmt: skip


class Script:
    """Four people, what they have done so far, and who may see whom by it."""

    def __init__(self, door: Door, seed: int, counted: Counter[str]) -> None:
        self.counted = counted
        self.random = random.Random(seed)
        self.people = {name: Chat(door, f"{name} {seed}", region="metric") for name in NAMES}
        self.named = {chat.who: name for name, chat in self.people.items()}
        self.codes: list[tuple[str, str]] = []
        self.calls: dict[str, list[str]] = {name: [] for name in NAMES}
        self.lets_in: set[tuple[str, str]] = set()
        for name, mark in MARKS.items():
            self.say(name, f"label {mark}: serving 100 g, 200 kcal, fat 8, carbs 20, protein 12")
            self.log(name)

    def say(self, name: str, text: str) -> Said:
        """What somebody says; nobody is told the mark of anybody who has not let them in."""
        before = set(self.lets_in)
        said = self.people[name].say(text)
        heard = [(name, said.text), *((self.named[to], words) for to, words in said.others)]
        may = before & self.lets_in
        for to, words in heard:
            for owner, mark in MARKS.items():
                told = mark in words
                self.counted["seen"] += told and owner != to
                assert not told or owner == to or (owner, to) in may, f"{name}: {text!r} told {to} of {owner}: {words}"
        return said

    def invite(self, name: str) -> None:
        called = self.random.choice(NAMES)
        found = re.search(r"/start ([\w-]{22})", self.say(name, f"invite {called}").text)
        if found is not None:
            self.codes.append((name, found[1]))
            self.calls[name].append(called)
            self.use(self.random.choice(NAMES))

    def use(self, name: str) -> None:
        """Sends a code that somebody made, perhaps for another; answers when it asks for the consent."""
        if not self.codes:
            return
        coach, code = self.random.choice(self.codes[-3:])
        said = self.say(name, f"code: {code}")
        if any(event.get("about") == "coaching" for event in said.all("question")):
            answer = self.random.choice(("yes", "no", "yes"))
            self.counted[answer] += 1
            self.say(name, answer)
            if answer == "yes":
                self.lets_in.add((name, coach))

    def end(self, name: str) -> None:
        for pair in sorted(self.lets_in):
            if name in pair:
                other = pair[1] if pair[0] == name else pair[0]
                said = self.say(name, f"end coaching with {self._called(other)}")
                for ended in said.all("coaching_ended"):
                    coach = self.named[ended["coach"]]
                    client = name if coach != name else self._client_told(said)
                    self.lets_in.discard((client, coach))
                    self.counted["ended"] += 1
                return

    def _client_told(self, said: Said) -> str:
        """Whom the end was told to."""
        return next(self.named[to] for to, words in said.others if "ended the coaching" in words)

    def _called(self, name: str) -> str:
        return self.people[name].who if self.random.random() < 0.5 else name

    def log(self, name: str) -> None:
        self.say(name, f"{self.random.randint(50, 300)} g {MARKS[name]}")

    def look(self, name: str) -> None:
        whom = self.random.choice((self.calls[name] or NAMES) if self.random.random() < 0.8 else NAMES)
        looks = LOOKS if self.random.random() < 0.6 else SHEETS
        self.say(name, self.random.choice(looks).format(whom))


def test_nobody_is_told_of_anybody_who_has_not_let_them_in(door: Door) -> None:
    counted: Counter[str] = Counter()
    for seed in range(SCRIPTS):
        script = Script(door, seed, counted)
        steps: tuple[tuple[Callable[[str], None], int], ...] = (
            (script.invite, 4), (script.use, 4), (script.end, 2), (script.log, 3), (script.look, 15),
        )  # fmt: skip
        kinds, weights = [kind for kind, _ in steps], [weight for _, weight in steps]
        for _ in range(STEPS):
            script.random.choices(kinds, weights)[0](script.random.choice(NAMES))
    # Scripts in which nobody ever sees anything would prove nothing.
    assert min(counted["yes"], counted["ended"], counted["seen"]) >= SCRIPTS // 2, counted
