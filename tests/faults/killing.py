"""A stream of messages at a bot that is killed over and over, and the count of what became of them.

`python -m tests.faults.killing 300` is the long run: one process on SQLite; then, as often each, two processes that
share a PostgreSQL database, behind webhooks and polling.
"""

from __future__ import annotations

import logging
import os
import random
import re
import socket
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Sequence
from contextlib import ExitStack, closing
from dataclasses import dataclass, field
from pathlib import Path

from sqlalchemy import create_engine, text

from tests import postgres
from tests.telegram.crowd import Human
from tests.telegram.hook import SECRET, Hook
from tests.telegram.loopback import PATIENCE, TOKEN, Loopback

ROOT = Path(__file__).parents[2]
PEOPLE = 8
AHEAD = 24
"""How many messages are on their way at any time, for each process and each process beside it: enough for them to get
into one another's way."""

MOST_CALLS = 40
"""A kill comes after fewer calls of the bot's than this: while it starts, takes in, handles or answers."""

NOTHING_MORE_S = 3.0
"""Seconds without a request after which a bot has nothing left to do but to wait for news."""

_NUMBER = re.compile(r"#(\d+) ")


@dataclass
class Tally:
    """What came out of a run."""

    kills: int = 0
    kills_at_work: int = 0
    """Kills that hit while updates, messages or answers were under way."""
    messages: int = 0
    edits: int = 0
    lost: int = 0
    doubled: int = 0
    out_of_order: int = 0
    wrong_sums: int = 0
    missing_replies: int = 0
    repeated_replies: int = 0
    redelivered: int = 0
    seconds: float = 0.0
    wrong: list[str] = field(default_factory=list)

    @property
    def well(self) -> bool:
        """Whether nothing was lost, doubled, out of order or left unanswered."""
        bad = self.lost + self.doubled + self.out_of_order + self.wrong_sums + self.missing_replies
        return not bad and not self.wrong

    def __str__(self) -> str:
        return (
            f"{self.kills} kills ({self.kills_at_work} while something was under way), {self.messages} messages and "
            f"{self.edits} edits in {self.seconds:.0f} s: {self.lost} lost, {self.doubled} doubled, "
            f"{self.out_of_order} out of order, {self.wrong_sums} wrong sums, {self.missing_replies} replies missing, "
            f"{self.repeated_replies} replies sent twice; {self.redelivered} updates came again"
        )


HANDOVER = 1.5
"""Seconds for which a lease lasts here, where several processes share the work."""


@dataclass(frozen=True)
class Setting:
    """What is killed: how many processes, on which database, polling or behind webhooks at these ports."""

    database: str
    processes: int = 1
    ports: Sequence[int] = ()

    def words(self, number: int) -> list[str]:
        """What the command line of a process gets."""
        if not self.ports:
            return []
        return ["--webhook", "https://bot.example.org/hook", "--port", str(self.ports[number])]


class Nursery:
    """The process that forks bots."""

    def __init__(self, setting: Setting, api_url: str, log: Path) -> None:
        environment = os.environ | {
            "TAREBOOK_DATABASE": setting.database,
            "TAREBOOK_WEBHOOK_SECRET": SECRET,
            "TAREBOOK_TELEGRAM_TOKEN": TOKEN,
            "TAREBOOK_TELEGRAM_API": api_url,
            "TAREBOOK_ACCESS": "open",
            "TAREBOOK_LOG": "debug",
        }
        self._setting = setting
        self._log = log
        handover = [str(HANDOVER)] if setting.processes > 1 else []
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.faults.nursery", *handover],
            cwd=ROOT,
            env=environment,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        assert self._answer() == "loaded"

    def start(self, number: int) -> None:
        self._tell(f"start {number} {self._log} {' '.join(self._setting.words(number))}")

    def kill(self, number: int) -> None:
        assert self._tell(f"kill {number}") == "9", f"the bot ended by itself: {self._log.read_text()[-2000:]}"

    def stop(self, number: int) -> None:
        assert self._tell(f"stop {number}") == "0", self._log.read_text()[-2000:]

    def close(self) -> None:
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._process.stdin.close()
        self._process.wait(PATIENCE)
        self._process.stdout.close()

    def _tell(self, command: str) -> str:
        assert self._process.stdin is not None
        self._process.stdin.write(command + "\n")
        self._process.stdin.flush()
        return self._answer()

    def _answer(self) -> str:
        assert self._process.stdout is not None
        return self._process.stdout.readline().strip()


class Stream:
    """People who send distinct weights, and now and then correct one."""

    def __init__(self, server: Loopback, chance: random.Random) -> None:
        self.people = [Human(server, 2000 + number, f"Person {number}") for number in range(PEOPLE)]
        self.grams: dict[int, list[int]] = {person.id: [] for person in self.people}
        self.edits: dict[int, int] = {person.id: 0 for person in self.people}
        self._ids: dict[int, list[int]] = {person.id: [] for person in self.people}
        self._chance = chance
        self._start = time.time() - 400 * 86400

    def go_on(self, messages: int) -> None:
        for _ in range(messages):
            person = self._chance.choice(self.people)
            said = self.grams[person.id]
            if said and self._chance.random() < 0.1:
                which = self._chance.randrange(len(said))
                # Weights of corrections are above all others, so that each is told by its weight.
                self.edits[person.id] += 1
                said[which] = 2500 + self.edits[person.id]
                person.edits(self._ids[person.id][which], f"{said[which]} g cooked rice")
                continue
            said.append(100 + len(said))
            # Some hours apart, so that days stay as short as people's are.
            at = self._start + len(said) * 4 * 3600
            self._ids[person.id].append(person.says(f"{said[-1]} g cooked rice", at=at))


def run(kills: int, seed: int, folder: Path, setting: Setting, trouble: Callable[[], None] | None = None) -> Tally:
    """Kills one of the processes so many times, then lets them finish, and counts.

    Half-way through, other `trouble` may be made.
    """
    chance = random.Random(seed)
    server = Loopback(shuffle=chance)
    server.start()
    nursery = Nursery(setting, server.url, folder / "log")
    stream = Stream(server, chance)
    tally = Tally()
    began = time.monotonic()
    with ExitStack() as ending:
        ending.callback(server.stop)
        ending.callback(nursery.close)
        urls = [f"http://127.0.0.1:{port}/hook" for port in setting.ports]
        hook = ending.enter_context(Hook(server, urls, chance)) if urls else None
        for number in range(setting.processes):
            nursery.start(number)
        before = 0
        for kill in range(kills):
            stream.go_on(max(1, AHEAD * setting.processes**2 - _unanswered(stream, server)))
            _wait_for_calls(server, len(server.calls) + chance.randrange(MOST_CALLS))
            time.sleep(chance.uniform(0, 0.05))
            # One after the other, so that whichever has the lease is among them.
            victim = kill % setting.processes
            tally.kills_at_work += _unanswered(stream, server) > 0
            nursery.kill(victim)
            tally.kills += 1
            if trouble is not None and kill == kills // 2:
                _wait_for_doors([port for number, port in enumerate(setting.ports) if number != victim])
                trouble()
            before = len(server.calls)
            nursery.start(victim)
            if tally.kills % 100 == 0:
                print(f"{tally.kills} kills, {time.monotonic() - began:.0f} s", flush=True)
        _wait_until_through(stream, server)
        _wait_until_it_serves(server, before)
        for number in range(setting.processes):
            nursery.stop(number)
        tally.redelivered = hook.repeated if hook else server.delivered - server._next_update + 700_000
    tally.seconds = time.monotonic() - began
    tally.wrong += server.complaints
    _count(tally, stream, server, setting.database)
    return tally


def free_port() -> int:
    with closing(socket.socket()) as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


def _wait_for_calls(server: Loopback, calls: int) -> None:
    """Returns when the bot has asked so much of the server since the beginning, so that fast and slow machines see it
    killed at the same stages; or when it has asked for something and then, for some seconds, for nothing more."""
    first = heard = len(server.calls)
    since = time.monotonic()
    while heard < calls and time.monotonic() - since < (NOTHING_MORE_S if heard > first else PATIENCE):
        time.sleep(0.002)
        if len(server.calls) > heard:
            heard, since = len(server.calls), time.monotonic()


def _wait_until_it_serves(server: Loopback, before: int) -> None:
    """Returns when somebody has asked who the bot is after so many calls: until then a bot that is told to stop has
    nothing to finish, and the signal itself ends it."""
    server.until(lambda: any(method == "getMe" for method, _ in server.calls[before:]))


def _wait_for_doors(ports: Sequence[int]) -> None:
    """Returns when somebody listens at each: a bot whose database goes away while it starts gives up, and it is for
    whoever started it to do so again."""
    for port in ports:
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            with closing(socket.socket()) as probe:
                if probe.connect_ex(("127.0.0.1", port)) == 0:
                    break
            time.sleep(0.02)


def _wait_until_through(stream: Stream, server: Loopback) -> None:
    """Returns when everything is answered, or when nothing more happens; then the count will tell."""
    answers, since = -1, time.monotonic()
    while (left := _unanswered(stream, server)) > 0 and time.monotonic() - since < PATIENCE:
        if left != answers:
            answers, since = left, time.monotonic()
        time.sleep(0.02)


def _unanswered(stream: Stream, server: Loopback) -> int:
    """How many messages and edits have no answer yet, as far as the messenger's server can tell."""
    with server.lock:
        answers = sum(len({sent.text for sent in server.sent[person.id]}) for person in stream.people)
    return sum(map(len, stream.grams.values())) + sum(stream.edits.values()) - answers


def _count(tally: Tally, stream: Stream, server: Loopback, database: str) -> None:
    engine = create_engine(database)
    with engine.connect() as conn:
        rows = conn.execute(
            text(
                "SELECT a.key, w.number, w.as_weighed_g FROM weigh_in w JOIN address a ON a.person_id = w.person_id"
                " WHERE w.kind != 'removed' AND NOT EXISTS (SELECT 1 FROM weigh_in l WHERE l.replaces = w.id)"
                " ORDER BY w.number"
            )
        ).all()
        if engine.dialect.name == "sqlite":
            assert conn.execute(text("PRAGMA integrity_check")).scalar_one() == "ok"
    engine.dispose()
    for person in stream.people:
        wanted = stream.grams[person.id]
        found = [grams for key, _, grams in rows if key == str(person.id)]
        tally.messages += len(wanted)
        tally.edits += stream.edits[person.id]
        spare = Counter(found) - Counter(wanted)
        tally.lost += (Counter(wanted) - Counter(found)).total()
        tally.doubled += spare.total()
        tally.out_of_order += sorted(found) == sorted(wanted) and found != wanted
        tally.wrong_sums += sum(found) != sum(wanted)
        _count_replies(tally, person, len(wanted), stream.edits[person.id], server)


def _count_replies(tally: Tally, person: Human, messages: int, edits: int, server: Loopback) -> None:
    texts = Counter(sent.text for sent in server.sent[person.id])
    tally.repeated_replies += sum(times - 1 for times in texts.values())
    firsts = list(texts)
    corrections = [reply for reply in firsts if any(f"{2500 + n:,} g" in reply for n in range(1, edits + 1))]
    numbers = [int(found[1]) for reply in firsts if reply not in corrections and (found := _NUMBER.search(reply))]
    tally.missing_replies += len(set(range(1, messages + 1)) - set(numbers))
    tally.missing_replies += max(0, edits - len(corrections))
    tally.out_of_order += numbers != sorted(numbers)


def _long_run(kills: int, seed: int) -> bool:
    """Prints what came out of each setting. Returns whether nothing was lost or doubled in any."""
    with ExitStack() as ending:
        folder = Path(ending.enter_context(tempfile.TemporaryDirectory()))
        server = ending.enter_context(postgres.running())
        settings = {
            "one process, polling, SQLite": Setting(f"sqlite:///{folder / 'tarebook.db'}"),
            "two processes, webhook, PostgreSQL": Setting(
                ending.enter_context(server.database()), 2, (free_port(), free_port())
            ),
            "two processes, polling, PostgreSQL": Setting(ending.enter_context(server.database()), 2),
        }
        well = True
        for name, setting in settings.items():
            print(f"{name}, seed {seed}", flush=True)
            outcome = run(kills, seed, folder, setting)
            print(outcome, *outcome.wrong, flush=True)
            well = well and outcome.well
    return well


if __name__ == "__main__":
    how_many = int(sys.argv[1]) if len(sys.argv) > 1 else 300
    a_seed = int(sys.argv[2]) if len(sys.argv) > 2 else random.randrange(10**6)
    # What the server refuses, such as taking buttons away a second time, is not worth a line each.
    logging.getLogger("tornado.access").setLevel(logging.CRITICAL)
    sys.exit(not _long_run(how_many, a_seed))
