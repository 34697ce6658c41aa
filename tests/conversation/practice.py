"""A practice of forty clients over eight weeks with known stories, and what roster and digest make of them.

Each client eats by the scale around a target, with days that vary and a day forgotten here and there. Some have a
story: from a known morning on there is something to notice. `python -m tests.conversation.practice 40 8 1` (clients,
weeks, seed) prints how many of the stories the roster and the digest name within a day of that, how many false alarms
they raise in a week, how many characters they take, and how long a roster takes.
"""

from __future__ import annotations

import random
import re
import sys
import time
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

from .chat import Chat, Door, open_door

BEGINS = datetime(2026, 3, 2, tzinfo=UTC)
"""A Monday."""
NAMES = (
    "Abel", "Bela", "Cleo", "Dina", "Egon", "Fara", "Gwen", "Hugo", "Ivar", "Jana", "Kolo", "Lena", "Milo", "Nele",
    "Odin", "Pia", "Quin", "Rolf", "Suri", "Tove", "Ugo", "Vera", "Wim", "Xena", "Yara", "Zeno", "Alma", "Bodo", "Cora",
    "Dario", "Elke", "Finn", "Greta", "Henk", "Ilse", "Joris", "Kaja", "Liv", "Mats", "Nora",
)  # fmt: skip
TARGET, PROTEIN = 2000, 100
STORIES = (
    "silent",
    "over",
    "under",
    "protein",
    "weekends",
    "unweighed",
    "daily",
    "alcohol",
    "questions",
    "pause",
    "none",
)
FORGOTTEN = 0.02
"""The share of days that somebody without a story forgets."""


@dataclass
class Story:
    """Somebody's story: what happens from which day on, and the words by which it is named."""

    name: str
    kind: str
    begins: int
    due: int
    """The first morning on which the records show it, by the roster's own published rules."""
    said: str


@dataclass
class Seen:
    """What was counted."""

    planted: int = 0
    in_roster: set[str] = field(default_factory=set)
    in_digest: set[str] = field(default_factory=set)
    false: set[tuple[str, str]] = field(default_factory=set)
    roster_chars: list[int] = field(default_factory=list)
    digest_chars: list[int] = field(default_factory=list)
    digest_lines: list[int] = field(default_factory=list)
    seconds: list[float] = field(default_factory=list)


WORDS = {
    "silent": r"silent for|nothing is on record since",
    "over": r"over target",
    "under": r"under target|very little",
    "protein": r"protein \d+ g a day short|g more protein",
    "weekends": r"weekends",
    "unweighed": r"% weighed|of the energy is weighed",
    "daily": r"unweighed on|never on the scale",
    "alcohol": r"alcohol",
    "questions": r"questions wait|waiting questions",
}
LAG = {"silent": 2, "over": 3, "under": 3, "protein": 4, "unweighed": 4, "daily": 5, "alcohol": 4, "questions": 1}
"""Days of a story after which its rule can hold: a mean of seven days needs most of them to be of the story."""


VARIES = 0.12
"""The standard deviation of a day's food, as a share of its mean."""


def stories(count: int, weeks: int, dice: random.Random) -> list[Story]:
    """A story for each of the first `count` names; begins in the middle weeks."""
    found = []
    for n, name in enumerate(NAMES[:count]):
        kind = STORIES[n % len(STORIES)] if n % 2 else "none"
        begins = dice.randrange(14, weeks * 7 - 16)
        lag = LAG.get(kind, 0)
        if kind == "weekends":
            begins += (5 - begins % 7) % 7
            lag = 9
        found.append(Story(name, kind, begins, begins + lag, WORDS.get(kind, "")))
    return found


def meals(story: Story, day: int, dice: random.Random) -> list[str]:
    """What somebody says on a day."""
    on = day >= story.begins
    kind = story.kind if on else "none"
    if kind in ("silent", "pause") or (kind == "weekends" and day % 7 > 4):
        return []
    if kind == "none" and dice.random() < FORGOTTEN:
        return []
    share = dice.gauss(1, VARIES) * {"over": 1.35, "under": 0.72}.get(kind, 1)
    rice, chicken = 1030 * share, 300 * share
    if kind == "under":
        rice, chicken = 600 * share, 390 * share
    if kind == "protein":
        rice, chicken = 1250 * share, 40 * share
    if kind == "daily":
        rice -= 160
    if kind == "unweighed":
        return [
            f"{dice.choice((4, 5))} cups of cooked rice",
            f"{chicken:.0f} g raw chicken breast",
            "5 eggs",
            "2 bananas",
        ]
    said = [f"{rice:.0f} g cooked rice", f"{chicken:.0f} g raw chicken breast", f"{40 * share:.0f} g butter"]
    if kind == "daily":
        said.append("2 bananas")
    if kind == "alcohol":
        said[0] = f"{rice - 170:.0f} g cooked rice"
        said.append("300 g red wine")
    if kind == "questions" and day == story.begins:
        said += ["100 g zorblax", "80 g quibbit", "60 g flomper"]
    return said


@dataclass(frozen=True)
class Morning:
    """What the coach has before them at half past seven."""

    day: int
    at: datetime
    digest: str
    """Empty when none came."""
    roster: str
    seconds: float
    """How long the roster took."""


class Practice:
    """A coach and their clients on one database."""

    def __init__(self, door: Door, told: list[Story], dice: random.Random) -> None:
        self.coach = Chat(door, "Ines", region="metric", timezone="UTC", role="coach")
        self.told = told
        self.chats = {story.name: _client(door, self.coach, story.name) for story in told}
        self._door = door
        self._dice = dice

    def mornings(self, days: int) -> Iterator[Morning]:
        """Plays so many days; each is given in the morning, before anybody has eaten."""
        for day in range(days):
            morning = BEGINS + timedelta(days=day, hours=7, minutes=30)
            came = self._door.step(advance_to=morning.isoformat())
            digests = re.findall(
                r"^Your clients since the last digest\..*?digest off\.", came.text, re.DOTALL | re.MULTILINE
            )
            began = time.perf_counter()
            roster = self.coach.say("roster", at=(morning + timedelta(minutes=1)).isoformat()).text
            yield Morning(day, morning, "\n".join(digests), roster, time.perf_counter() - began)
            for story in self.told:
                self._eats(story, day, morning)

    def _eats(self, story: Story, day: int, morning: datetime) -> None:
        chat = self.chats[story.name]
        if story.kind == "pause" and day == story.begins:
            until = morning + timedelta(days=40)
            chat.say(f"pause until {until:%d %B}", at=(morning + timedelta(minutes=2)).isoformat())
        for n, words in enumerate(meals(story, day, self._dice)):
            chat.say(words, at=(morning + timedelta(hours=1 + 4 * (n % 3), minutes=n)).isoformat())


def run(count: int = 40, weeks: int = 8, seed: int = 1) -> Seen:
    """Plays the practice through and counts."""
    dice = random.Random(seed)
    seen = Seen()
    with open_door() as door:
        told = stories(count, weeks, dice)
        practice = Practice(door, told, dice)
        seen.planted = sum(story.kind not in ("none", "pause") for story in told)
        for morning in practice.mornings(weeks * 7):
            seen.seconds.append(morning.seconds)
            seen.roster_chars.append(len(morning.roster))
            if morning.digest:
                seen.digest_chars.append(len(morning.digest))
                seen.digest_lines.append(len(morning.digest.splitlines()))
            for story in told:
                _judge(story, morning.day, morning.roster, morning.digest, seen)
    return seen


def _client(door: Door, coach: Chat, name: str) -> Chat:
    early = (BEGINS + timedelta(minutes=1)).isoformat()
    found = re.search(r"/start ([\w-]{22})", coach.say(f"invite {name}", at=early).text)
    assert found is not None
    client = Chat(door, name, region="metric", timezone="UTC")
    client.say(f"/start {found[1]}", at=early)
    client.say("yes", at=early)
    client.say(f"target {TARGET} kcal protein {PROTEIN}", at=early)
    client.say("reminder off", at=early)
    return client


def _judge(story: Story, day: int, roster: str, digest: str, seen: Seen) -> None:
    """Whether the story is named in time, and whether something is named that is no part of it."""
    about = [line for line in (*roster.splitlines(), *digest.splitlines()) if re.search(rf"\b{story.name}\b", line)]
    in_time = story.begins <= day <= story.due + 1
    if story.said and in_time:
        if any(re.search(story.said, line) for line in roster.splitlines() if story.name in line):
            seen.in_roster.add(story.name)
        if any(re.search(story.said, line) for line in digest.splitlines() if story.name in line):
            seen.in_digest.add(story.name)
    for kind, words in WORDS.items():
        if (kind != story.kind or day < story.begins) and any(re.search(words, line) for line in about):
            seen.false.add((f"{story.name} ({story.kind})", f"{kind} in week {day // 7}"))


def report(seen: Seen, weeks: int) -> dict[str, object]:
    """The figures, for printing."""
    kinds: dict[str, int] = defaultdict(int)
    for _, kind in seen.false:
        kinds[kind.split()[0]] += 1
    return {
        "planted": seen.planted,
        "named by the roster within a day": len(seen.in_roster),
        "named by the digest within a day": len(seen.in_digest),
        "named by either": len(seen.in_roster | seen.in_digest),
        "false alarms a week": round(len(seen.false) / weeks, 2),
        "false alarms by kind": dict(kinds),
        "characters of a roster, mean and most": (
            sum(seen.roster_chars) // len(seen.roster_chars),
            max(seen.roster_chars),
        ),
        "digests": len(seen.digest_chars),
        "characters of a digest, mean and most": (
            sum(seen.digest_chars) // max(1, len(seen.digest_chars)),
            max(seen.digest_chars, default=0),
        ),
        "most lines of a digest": max(seen.digest_lines, default=0),
        "seconds for a roster, most": round(max(seen.seconds), 3),
    }


if __name__ == "__main__":
    clients, weeks_played, first_seed = (int(given) for given in sys.argv[1:4])
    result = run(clients, weeks_played, first_seed)
    lines = [f"{name}: {value}" for name, value in report(result, weeks_played).items()]
    lines += [f"false: {who} {what}" for who, what in sorted(result.false)]
    sys.stdout.write("\n".join(lines) + "\n")
