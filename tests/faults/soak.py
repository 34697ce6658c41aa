"""Half an hour of a small town's traffic with everything going wrong now and then, and the count afterwards.

`python -m tests.faults.soak --minutes 30 --seed 7`: `tarebook serve` on a SQLite file, the loopback server with its
faults, people who weigh, correct, cook and ask. The exit status is 1 when anything is off at the end.
"""

from __future__ import annotations

import argparse
import asyncio
import logging
import os
import random
import signal
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections import Counter
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from bot.channels.telegram.sending import LANES
from tests.faults.killing import ROOT
from tests.telegram.crowd import Human
from tests.telegram.loopback import TOKEN, Loopback

PEOPLE = 500
A_SECOND = 15
"""Messages; the messenger allows about 30 answers a second, and what waited has to be caught up with."""

FAULT_EVERY_S = (4.0, 16.0)
LASTS_S = 3.0
KILL_EVERY_S = (20.0, 40.0)
HANGS_S = 17.0
"""Longer than the bot waits for an answer."""

ENDS_WITHIN_S = 40.0
"""docs/running.md."""

MOST_MEGABYTES = 130
MOST_GROWTH = 1.10
MOST_FILES = 64
SLOWEST_MEDIAN_S = 1.0
SLOWEST_S = 90.0

_FAULTS: tuple[tuple[str, int, dict[str, Any]], ...] = (
    ("sendMessage", 3, {"status": 429, "retry_after": 1}),
    ("sendMessage", 10**9, {"status": 502}),
    ("sendMessage", 2, {}),
    ("sendMessage", 1, {"done_anyway": True}),
    ("getUpdates", 10**9, {"status": 502}),
    ("getUpdates", 1, {}),
    ("getUpdates", 1, {"status": 429, "retry_after": 2}),
    ("*", 10**9, {"status": 500}),
)
_OTHERWISE = ("today", "batches", "help", "good morning", "how much protein today?", "asdf qwer", "8 oz milk")


class Town(Loopback):
    """The server, which notes when it was told to send something, and now and then lets a call hang."""

    def __init__(self, chance: random.Random) -> None:
        super().__init__(shuffle=chance)
        self.hang = 0
        self.unsaid = 0
        """How much it has sent without saying so."""
        self.since: dict[int, float] = {}
        """Who waits for an answer, and since when."""
        self.waits: list[float] = []

    async def call(self, method: str, given: dict[str, str], files: dict[str, bytes]) -> Any:
        if method == "sendMessage" and self.hang > 0:
            self.hang -= 1
            await asyncio.sleep(HANGS_S)
            raise ConnectionError
        before = len(self.sent[int(given["chat_id"])]) if method == "sendMessage" else 0
        try:
            found = await super().call(method, given, files)
        except ConnectionError:
            self.unsaid += method == "sendMessage" and len(self.sent[int(given["chat_id"])]) > before
            raise
        if method == "sendMessage" and (began := self.since.pop(int(given["chat_id"]), None)) is not None:
            self.waits.append(time.monotonic() - began)
        return found


@dataclass
class Bot:
    """`tarebook serve` in a process of its own, and what it was seen to use."""

    environment: dict[str, str]
    log: Path
    starts: int = 0
    killed: int = 0
    late: int = 0
    """How often it was told to stop and did not in time."""
    process: subprocess.Popen[bytes] | None = None
    megabytes: list[float] = field(default_factory=list)
    """Of the process that runs now, since it has begun to work."""
    most_megabytes: float = 0.0
    most_growth: float = 0.0
    most_files: int = 0

    def start(self) -> None:
        with self.log.open("ab") as sink:
            self.process = subprocess.Popen(
                [sys.executable, "-m", "bot", "serve"], cwd=ROOT, env=self.environment, stderr=sink
            )
        self.starts += 1
        self.megabytes = []

    def end(self, how: signal.Signals) -> int:
        assert self.process is not None
        self.killed += how == signal.SIGKILL
        self.process.send_signal(how)
        try:
            return self.process.wait(ENDS_WITHIN_S)
        except subprocess.TimeoutExpired:
            self.late += 1
            self.killed += 1
            self.process.kill()
            return self.process.wait()

    def look(self) -> None:
        """Notes what it uses now."""
        assert self.process is not None
        place = Path("/proc") / str(self.process.pid)
        lines = (place / "status").read_text().splitlines()
        kilobytes = next(int(line.split()[1]) for line in lines if line.startswith("VmRSS"))
        self.megabytes.append(kilobytes / 1024)
        self.most_megabytes = max(self.most_megabytes, self.megabytes[-1])
        self.most_files = max(self.most_files, len(list((place / "fd").iterdir())))
        # The first half a minute is loading, and filling what is filled once.
        if len(self.megabytes) > 30:
            self.most_growth = max(self.most_growth, self.megabytes[-1] / self.megabytes[30])


class Crowd:
    """People of whom each waits for the answer before the next message; what they have weighed is known."""

    def __init__(self, town: Town, chance: random.Random) -> None:
        self.people = [Human(town, 3000 + number, f"Person {number}") for number in range(PEOPLE)]
        self.said = 0
        self.grams: dict[int, list[int]] = {person.id: [] for person in self.people}
        self._last: dict[int, int] = {}
        self._corrected: Counter[int] = Counter()
        self._town = town
        self._chance = chance

    def one_speaks(self) -> None:
        """Somebody who is not waiting for an answer says something."""
        idle = [person for person in self.people if person.id not in self._town.since]
        if not idle:
            return
        person = self._chance.choice(idle)
        self._town.since[person.id] = time.monotonic()
        self.said += 1
        grams = self.grams[person.id]
        dice = self._chance.random()
        if dice < 0.65 or not grams:
            grams.append(100 + len(grams))
            self._last[person.id] = person.says(f"{grams[-1]} g cooked rice")
        elif dice < 0.75 and self._last.get(person.id):
            self._corrected[person.id] += 1
            grams[-1] = 2500 + self._corrected[person.id]
            person.edits(self._last[person.id], f"{grams[-1]} g cooked rice")
        elif dice < 0.80:
            person.says(f"batch stew: {self._chance.randrange(500, 3000)} g raw beef mince, 400 g raw carrots")
        else:
            person.says(self._chance.choice(_OTHERWISE))


def trouble(town: Town, database: Path, chance: random.Random) -> None:
    """One of the things that go wrong; an earlier one is over."""
    town.well_again()
    dice = chance.random()
    if dice < 0.1:
        threading.Thread(target=_lock, args=(database, chance.uniform(0.5, 5)), daemon=True).start()
    elif dice < 0.2:
        town.hang += chance.randrange(1, 4)
    else:
        method, times, details = chance.choice(_FAULTS)
        town.fail(method, times, **details)


def _lock(database: Path, seconds: float) -> None:
    with closing(sqlite3.connect(database, isolation_level=None, timeout=20)) as other:
        other.execute("BEGIN IMMEDIATE")
        time.sleep(seconds)
        other.execute("ROLLBACK")


def run(minutes: float, seed: int, folder: Path) -> list[str]:
    """Makes the traffic and the trouble, prints what was counted. Returns what is off."""
    chance = random.Random(seed)
    town = Town(random.Random(seed))
    town.start()
    database = folder / "tarebook.db"
    ours = {name: value for name, value in os.environ.items() if not name.startswith("TAREBOOK_")}
    settings = {"DATABASE": f"sqlite:///{database}", "TELEGRAM_TOKEN": TOKEN, "TELEGRAM_API": town.url}
    settings |= {"ACCESS": "open", "LOG": "warning"}
    bot = Bot(ours | {f"TAREBOOK_{name}": value for name, value in settings.items()}, folder / "log")
    bot.start()
    crowd = Crowd(town, chance)
    began = time.monotonic()
    end = began + 60 * minutes
    next_look, next_fault, next_well, next_kill = began + 1, began + 10, end, began + 75
    before = 0
    while (now := time.monotonic()) < end:
        while crowd.said < (now - began) * A_SECOND and len(town.since) < PEOPLE:
            crowd.one_speaks()
        # Until it has asked for something it is loading, for as long as that takes here.
        serves = len(town.calls) > before
        if not serves:
            next_kill = max(next_kill, now + KILL_EVERY_S[0])
        elif now > next_look:
            bot.look()
            next_look = now + 1
        if now > next_well:
            town.well_again()
        if now > next_fault:
            trouble(town, database, chance)
            next_fault = now + chance.uniform(*FAULT_EVERY_S)
            next_well = now + LASTS_S
        # The first minute and the last are one process's alone, so that its growth can be seen.
        if next_kill < now < end - 75:
            bot.end(chance.choice((signal.SIGKILL, signal.SIGKILL, signal.SIGTERM)))
            before = len(town.calls)
            bot.start()
            next_kill = now + chance.uniform(*KILL_EVERY_S)
        time.sleep(0.01)
    town.well_again()
    deadline = time.monotonic() + 120
    while (town.since or not town.idle) and time.monotonic() < deadline:
        time.sleep(0.1)
    time.sleep(2)
    bot.look()
    status = bot.end(signal.SIGTERM)
    town.stop()
    off = [f"it ended with status {status}"] if status else []
    return off + _wrong(town, bot, crowd, database, time.monotonic() - began)


def _wrong(town: Town, bot: Bot, crowd: Crowd, database: Path, seconds: float) -> list[str]:
    with closing(sqlite3.connect(database)) as conn:
        rows = conn.execute(
            "SELECT a.key, w.as_weighed_g FROM weigh_in w JOIN address a ON a.person_id = w.person_id"
            " WHERE w.kind != 'removed' AND NOT EXISTS (SELECT 1 FROM weigh_in l WHERE l.replaces = w.id)"
        ).fetchall()
        one = "SELECT count(*) FROM "
        sent, unsent, undone, unanswered = (
            conn.execute(one + what).fetchone()[0]
            for what in (
                "outbox WHERE state = 'sent'",
                "outbox WHERE state != 'sent'",
                "inbound WHERE state != 'done'",
                "inbound i WHERE NOT EXISTS (SELECT 1 FROM outbox o WHERE o.inbound_id = i.id)",
            )
        )
        damage = conn.execute("PRAGMA integrity_check").fetchone()[0]
    found: dict[int, Counter[int]] = {person.id: Counter() for person in crowd.people}
    for key, grams in rows:
        found[int(key)][round(grams)] += 1
    wanted = {key: Counter(grams) for key, grams in crowd.grams.items()}
    lost = sum((wanted[key] - found[key]).total() for key in wanted)
    doubled = sum((found[key] - wanted[key]).total() for key in wanted)
    sums = sum(
        sum(g * n for g, n in found[key].items()) != sum(g * n for g, n in wanted[key].items()) for key in wanted
    )
    repeated = sum(len(messages) for messages in town.sent.values()) - sent
    waits = sorted(town.waits)
    median, late = statistics.median(waits), statistics.quantiles(waits, n=100)[98]
    print(
        f"{crowd.said:,} messages of {PEOPLE} people in {seconds / 60:.1f} minutes, {bot.starts} starts, "
        f"{bot.killed} kills, stopped late {bot.late} times\n"
        f"weigh-ins: {len(rows):,} stand, {lost} lost, {doubled} doubled, {sums} people's sums wrong\n"
        f"messages: {undone} not handled, {unanswered} without an answer, {unsent} answers not sent, "
        f"{repeated} sent twice\n"
        f"waiting for an answer: median {median:.3f} s, 99th percentile {late:.1f} s, longest {waits[-1]:.1f} s\n"
        f"memory: {bot.most_megabytes:.0f} MB at the most, grew by a factor of {bot.most_growth:.2f} at the most "
        f"after its first half minute; open files: {bot.most_files} at the most; database: {damage}",
        flush=True,
    )
    checks = {
        "weigh-ins are lost, doubled or wrong": lost + doubled + sums > 0 or not rows,
        "messages wait": undone + unanswered + unsent + len(town.since) > 0,
        # What was under way when it was killed, and what the server did without saying so.
        "too much was sent twice": repeated > LANES * bot.killed + town.unsaid,
        "answers took too long": median > SLOWEST_MEDIAN_S or waits[-1] > SLOWEST_S,
        "it took too long to stop": bot.late > 0,
        "memory": bot.most_megabytes > MOST_MEGABYTES or bot.most_growth > MOST_GROWTH,
        "open files": bot.most_files > MOST_FILES,
        "the database is damaged": damage != "ok",
        "the server complains": bool(town.complaints),
    }
    return [what for what, off in checks.items() if off]


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.faults.soak", description=__doc__)
    parser.add_argument("--minutes", type=float, default=30)
    parser.add_argument("--seed", type=int, default=random.randrange(10**6))
    given = parser.parse_args()
    # What the server refuses on purpose is not worth a line each.
    logging.getLogger("tornado.access").setLevel(logging.CRITICAL)
    print(f"{given.minutes:g} minutes, seed {given.seed}", flush=True)
    with tempfile.TemporaryDirectory(prefix=".soak-", dir=ROOT) as folder:
        off = run(given.minutes, given.seed, Path(folder))
    print("off: " + "; ".join(off) if off else "all is well", flush=True)
    return int(bool(off))


if __name__ == "__main__":
    sys.exit(main())
