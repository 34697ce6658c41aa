"""`tarebook replay`: conversations that are read as documentation and run as tests.

A file is plain text:

    # A pot of chilli                     the title
    > Mince is weighed raw, once.         a note to the reader
    @ region UK                           the region of `you`: US, UK or metric (default US)
    @ timezone Europe/London              the zone of `you`, and of the clock (default UTC)
    @ person mira region US timezone Europe/Lisbon
                                          somebody else who speaks here; region and timezone may be left out, and
                                          so may role coach
    @ at 2026-03-02 18:04                 when the next message is said; each one after it is a minute later
    @ until 2026-03-02 21:00              time passes, and what comes unasked until then follows

    you: batch chilli: 800 g raw ground beef
    bot: Batch 1, chilli: 800 g raw.
    you: 200 g rice
    bot: Weighed dry or cooked?
         [1] dry
         [2] cooked
    you press 2
    bot: 200 g cooked rice, 260 kcal.
    you edit "200 g rice": 180 g rice
    bot: ...
    mira: hello
    bot: ...
    bot to you: ...                       what her message lets somebody else know
    mira: /start CODE                     CODE stands for the code of the invitation that was shown last

Lines that go on are indented by five spaces. An edit names the message by the words it was sent with. The replies are
what the program said when the file was last accepted; each file has a fresh database of its own.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TextIO
from zoneinfo import ZoneInfo

from bot.app import Tarebook, open_tarebook
from bot.channels.script import NotPossible, Script
from bot.handling import DEFAULT_REGION
from bot.messages import Reply, Turn
from domain.quantities import Region

CHANNEL = "replay"
SUFFIX = ".txt"
INDENT = " " * 5
FIRST_MOMENT = datetime(2026, 3, 2, 12)  # noqa: DTZ001 (a wall clock's reading)

CODE = "CODE"
_START = re.compile(r"(?<=/start )[\w-]{22}\b", re.ASCII)
_MESSAGE = re.compile(
    r"(?P<who>[A-Za-z][\w-]*)(?: press (?P<press>\d{1,3})| edit \"(?P<edit>.*?)\": ?(?P<new>.*)|: ?(?P<say>.*))"
)


class BadConversation(Exception):
    """A file that can't be run; its text says where and why."""


class _Conversation:
    """The state of one file's run."""

    def __init__(self, tarebook: Tarebook) -> None:
        self.messages = 0
        self._tarebook = tarebook
        self._script = Script(tarebook, CHANNEL)
        self._people = {"you"}
        self._region = DEFAULT_REGION
        self._zone = ZoneInfo("UTC")
        self._clock = FIRST_MOMENT
        self._code = CODE

    def direct(self, words: Sequence[str]) -> list[tuple[str, Turn]]:
        """Carries out an `@` line. Returns what came unasked, and to whom. ValueError when it can't be."""
        match words:
            case ["until", day, time]:
                self._clock = _wall_clock(day, time)
                return self._script.advance(self._now())
            case ["region", region]:
                self._region = _region(region)
                self._set_up_you()
            case ["timezone", zone]:
                self._zone = _zone(zone)
                self._set_up_you()
            case ["at", day, time]:
                self._clock = _wall_clock(day, time)
            case ["person", name, *rest]:
                self._add(name, rest)
            case _:
                raise ValueError("expected @ region, @ timezone, @ at or @ until DATE TIME, or @ person NAME")
        return []

    def hear(self, found: re.Match[str], text: str) -> list[tuple[str, Turn]]:
        """Sends a message. ValueError or NotPossible, with what is wrong, when that can't be."""
        who = found["who"]
        if who not in self._people:
            raise ValueError(f"nobody is called {who} here; add: @ person {who}")
        at = self._now()
        self._clock += timedelta(minutes=1)
        self.messages += 1
        if found["press"] is not None:
            return self._script.press(who, int(found["press"]), at)
        if found["edit"] is not None:
            return self._script.edit(who, found["edit"], text, at)
        # The words themselves are the message's reference, so that an edit can name it by them.
        return self._script.say(who, text.replace(CODE, self._code), at, ref=text)

    def written(self, came: Iterable[tuple[str, Turn]], speaker: str) -> list[str]:
        """What was answered, as it stands in the file: a code is another one each time, and so is not written down."""
        lines = [
            line
            for who, turn in came
            for reply in turn.replies
            for line in _written(reply, "" if who == speaker else who)
        ]
        codes = [code for line in lines for code in _START.findall(line)]
        self._code = codes[-1] if codes else self._code
        return [_START.sub(CODE, line) for line in lines]

    def _now(self) -> datetime:
        return self._clock.replace(tzinfo=self._zone).astimezone(UTC)

    def _set_up_you(self) -> None:
        self._tarebook.set_up(CHANNEL, "you", self._region, self._zone, at=self._now())

    def _add(self, name: str, rest: Sequence[str]) -> None:
        given = dict(zip(rest[::2], rest[1::2], strict=True))
        region = _region(given.pop("region", DEFAULT_REGION))
        zone = _zone(given.pop("timezone", "UTC"))
        role = given.pop("role", "client")
        if given or name == "bot" or role not in ("client", "coach"):
            raise ValueError("expected @ person NAME region REGION timezone ZONE role ROLE")
        self._tarebook.set_up(CHANNEL, name, region, zone, role, at=self._now())
        self._people.add(name)


def run(files: Sequence[Path], accept: bool, out: TextIO) -> int:
    """Runs each file and tells how its replies differ from those written there; with `accept`, writes them there.

    Returns 0 when nothing differs (or all was accepted), 1 when something does, 2 when a file can't be run.
    """
    status = 0
    for file in files:
        try:
            written = file.read_text(encoding="utf-8")
            said, messages = replayed(written)
        except (OSError, UnicodeDecodeError, BadConversation) as error:
            out.write(f"{file}: {error}\n")
            status = 2
            continue
        if said == written:
            out.write(f"{file}: {messages} messages, answered as written\n")
        elif accept:
            file.write_text(said, encoding="utf-8")
            out.write(f"{file}: {messages} messages, the new replies are written\n")
        else:
            out.writelines(difference(file.name, written, said))
            status = max(status, 1)
    return status


def replayed(written: str) -> tuple[str, int]:
    """The conversation as it goes now, in the same form as it is written, and how many messages it holds.

    Raises BadConversation when the text can't be run.
    """
    lines = [line.rstrip() for line in written.splitlines()]
    said: list[str] = []
    with open_tarebook("sqlite://") as tarebook:
        conversation = _Conversation(tarebook)
        start = 0
        while start < len(lines):
            end = _end_of_block(lines, start)
            try:
                said += _carry_out(conversation, lines[start:end])
            except (ValueError, NotPossible) as error:
                raise BadConversation(f"line {start + 1}: {error}") from None
            start = end
        return "\n".join(said) + "\n", conversation.messages


def difference(name: str, written: str, said: str) -> list[str]:
    """A unified diff, line by line, from the written conversation to the one that came about."""
    old, new = written.splitlines(keepends=True), said.splitlines(keepends=True)
    return list(difflib.unified_diff(old, new, f"{name} as written", f"{name} as it goes now"))


def _carry_out(conversation: _Conversation, block: list[str]) -> list[str]:
    """The block as it is to stand in the file; a message is followed by what it was answered."""
    first = block[0]
    if first.startswith(("bot:", "bot to ")):
        return []
    if not first or first.startswith(("# ", ">")):
        return block
    if first.startswith("@ "):
        came = conversation.direct(first.split()[1:])
        return block + conversation.written(came, "you")
    found = _MESSAGE.fullmatch(first)
    if found is None:
        raise ValueError("expected #, >, @, or a name and a message")
    text = "\n".join([found["say"] or found["new"] or "", *(line.removeprefix(INDENT) for line in block[1:])])
    came = conversation.hear(found, text)
    return block + conversation.written(came, found["who"])


def _end_of_block(lines: Sequence[str], start: int) -> int:
    """Where the block that starts here ends: after its indented lines, and the empty ones between them."""
    end = start + 1
    for position in range(start + 1, len(lines)):
        if lines[position].startswith(INDENT):
            end = position + 1
        elif lines[position]:
            break
    return end


def _written(reply: Reply, to: str = "") -> list[str]:
    choices = [f"[{number}] {choice}" for number, choice in enumerate(reply.choices, start=1)]
    beside = ["[a picture]"] * (reply.picture is not None) + ["[a file]"] * (reply.document is not None)
    first, *rest = [*(reply.text.splitlines() or [""]), *beside, *choices]
    return [
        f"bot to {to}: {first}".rstrip() if to else f"bot: {first}".rstrip(),
        *(f"{INDENT}{line}".rstrip() for line in rest),
    ]


def _wall_clock(day: str, time: str) -> datetime:
    return datetime.strptime(f"{day} {time}", "%Y-%m-%d %H:%M")  # noqa: DTZ007


def _region(name: str) -> Region:
    try:
        return Region(name)
    except ValueError:
        raise ValueError(f"{name} is no region: US, UK or metric") from None


def _zone(name: str) -> ZoneInfo:
    try:
        return ZoneInfo(name)
    except (ValueError, OSError, KeyError):
        raise ValueError(f"{name} is no time zone, such as Europe/London") from None
