"""A stream of messages at a bot that is killed over and over, and the count of what became of them.

`python -m tests.faults.killing 1000` is the long run.
"""

from __future__ import annotations

import os
import random
import re
import subprocess
import sys
import tempfile
import time
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

from sqlalchemy import create_engine, text

from tests.telegram.crowd import Human
from tests.telegram.loopback import TOKEN, Loopback

ROOT = Path(__file__).parents[2]
PEOPLE = 8
AHEAD = 24
"""How many messages are on their way at any time."""

MOST_CALLS = 30
"""A kill comes after fewer calls of the bot's than this: while it starts, takes in, handles or answers."""

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

    def __str__(self) -> str:
        return (
            f"{self.kills} kills ({self.kills_at_work} while something was under way), {self.messages} messages and "
            f"{self.edits} edits in {self.seconds:.0f} s: {self.lost} lost, {self.doubled} doubled, "
            f"{self.out_of_order} out of order, {self.wrong_sums} wrong sums, {self.missing_replies} replies missing, "
            f"{self.repeated_replies} replies sent twice; {self.redelivered} updates came again"
        )


class Nursery:
    """The process that forks bots."""

    def __init__(self, database: str, api_url: str, log: Path) -> None:
        environment = os.environ | {
            "TAREBOOK_DATABASE": database,
            "TAREBOOK_TELEGRAM_TOKEN": TOKEN,
            "TAREBOOK_TELEGRAM_API": api_url,
            "TAREBOOK_ACCESS": "open",
            "TAREBOOK_LOG": "debug",
        }
        self._log = log
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.faults.nursery"],
            cwd=ROOT,
            env=environment,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        assert self._answer() == "loaded"

    def start(self) -> None:
        self._tell(f"start {self._log}")

    def kill(self) -> None:
        assert self._tell("kill") == "9", f"the bot ended by itself: {self._log.read_text()[-2000:]}"

    def stop(self) -> None:
        assert self._tell("stop") == "0", self._log.read_text()[-2000:]

    def close(self) -> None:
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._process.stdin.close()
        self._process.wait(10)
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


def run(kills: int, seed: int, folder: Path) -> Tally:
    """Kills the bot so many times, then lets it finish, and counts."""
    chance = random.Random(seed)
    server = Loopback(shuffle=chance)
    server.start()
    database = f"sqlite:///{folder / 'tarebook.db'}"
    nursery = Nursery(database, server.url, folder / "log")
    stream = Stream(server, chance)
    tally = Tally()
    began = time.monotonic()
    try:
        for _ in range(kills):
            stream.go_on(max(1, AHEAD - _unanswered(stream, server)))
            calls = len(server.calls)
            nursery.start()
            _wait_for_calls(server, calls + chance.randrange(MOST_CALLS))
            time.sleep(chance.uniform(0, 0.05))
            nursery.kill()
            tally.kills += 1
            tally.kills_at_work += _unanswered(stream, server) > 0
            if tally.kills % 100 == 0:
                print(f"{tally.kills} kills, {time.monotonic() - began:.0f} s", flush=True)
        nursery.start()
        _wait_until_through(stream, server)
        nursery.stop()
    finally:
        tally.seconds = time.monotonic() - began
        nursery.close()
        server.stop()
    tally.wrong += server.complaints
    tally.redelivered = server.delivered - server._next_update + 700_000
    _count(tally, stream, server, database)
    return tally


def _wait_for_calls(server: Loopback, calls: int) -> None:
    """Returns when the bot has asked so much of the server since the beginning, so that fast and slow machines see it
    killed at the same stages; or after some seconds."""
    end = time.monotonic() + 3
    while len(server.calls) < calls and time.monotonic() < end:
        time.sleep(0.002)


def _wait_until_through(stream: Stream, server: Loopback) -> None:
    """Returns when everything is answered, or when nothing more happens; then the count will tell."""
    answers, since = -1, time.monotonic()
    while (left := _unanswered(stream, server)) > 0 and time.monotonic() - since < 15:
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


if __name__ == "__main__":
    how_many = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    a_seed = int(sys.argv[2]) if len(sys.argv) > 2 else random.randrange(10**6)
    print(f"seed {a_seed}", flush=True)
    with tempfile.TemporaryDirectory() as a_folder:
        outcome = run(how_many, a_seed, Path(a_folder))
    print(outcome)
    bad = outcome.lost + outcome.doubled + outcome.out_of_order + outcome.wrong_sums + outcome.missing_replies
    sys.exit(bool(bad or outcome.wrong))
