"""JSON Lines in, JSON Lines out: the whole program without a network, a token or a wall clock.

One step a line, one line of answer a step, written at once. A step that can't be carried out is answered with an
`error`, and the run goes on.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from typing import Annotated, Any, BinaryIO, Literal
from zoneinfo import ZoneInfo

import msgspec

from bot.app import Tarebook
from bot.channels.script import NotPossible, Script
from bot.events import Event, as_json
from bot.messages import Reply, Turn
from bot.store.errors import StoreError
from domain.quantities import Region

CHANNEL = "converse"
FIRST_MOMENT = datetime(2026, 3, 2, 12, tzinfo=UTC)
"""A Monday noon: what the clock of a person shows who has said nothing yet."""

_YEARS = range(1970, 3000)  # whatever a message adds to its moment or takes off stays a date

Who = Annotated[str, msgspec.Meta(min_length=1, max_length=200)]
Count = Annotated[int, msgspec.Meta(ge=1, le=1_000_000)]


class Say(msgspec.Struct, forbid_unknown_fields=True):
    """A message."""

    say: str
    who: Who = "me"
    at: str | None = None
    ref: int | None = None


class Edit(msgspec.Struct, forbid_unknown_fields=True):
    """The new text of a message that was given a `ref`."""

    edit: int
    say: str
    who: Who = "me"
    at: str | None = None


class Press(msgspec.Struct, forbid_unknown_fields=True):
    """A choice, from 1, of the last question that this person was shown."""

    press: Count
    who: Who = "me"
    at: str | None = None


class AdvanceTo(msgspec.Struct, forbid_unknown_fields=True):
    """Advances the clock."""

    advance_to: str


class SetUp(msgspec.Struct, forbid_unknown_fields=True):
    """A person before they speak."""

    person: Who
    timezone: str = "UTC"
    region: Region = Region.US
    role: Literal["client", "coach"] = "client"


Step = Say | Edit | Press | AdvanceTo | SetUp

# An edit has `say` too, so it comes first.
_KINDS: tuple[tuple[str, type[Step]], ...] = (
    ("edit", Edit),
    ("say", Say),
    ("press", Press),
    ("advance_to", AdvanceTo),
    ("person", SetUp),
)


class BadStep(Exception):
    """A line that is no step; its text says why."""


class Converse:
    """One run. Keeps each person's clock."""

    def __init__(self, tarebook: Tarebook) -> None:
        self._tarebook = tarebook
        self._script = Script(tarebook, CHANNEL)
        self._clocks: dict[str, datetime] = {}

    def step(self, number: int, line: bytes) -> bytes:
        """Carries out one line. Returns the answer as one line of JSON with its line end."""
        answer: dict[str, object] = {"step": number}
        try:
            replies, events = self._carry_out(_read(line))
        except (BadStep, NotPossible, StoreError) as error:
            answer["error"] = str(error)
        else:
            answer["replies"] = [_shown(who, reply) for who, reply in replies]
            answer["events"] = [_rounded(as_json(event)) for event in events]
        return msgspec.json.encode(answer) + b"\n"

    def _carry_out(self, step: Step) -> tuple[list[tuple[str, Reply]], list[Event]]:
        """(the replies with whom they go to, the events)."""
        match step:
            case AdvanceTo():
                came = self._script.advance(_moment(step.advance_to))
                return _together(came)
            case SetUp():
                zone, at = _zone(step.timezone), max(self._clocks.values(), default=FIRST_MOMENT)
                self._tarebook.set_up(CHANNEL, step.person, step.region, zone, step.role, at)
                return [], []
        at = self._at(step.who, step.at)
        match step:
            case Say():
                came = self._script.say(step.who, step.say, at, None if step.ref is None else str(step.ref))
            case Edit():
                came = self._script.edit(step.who, str(step.edit), step.say, at)
            case Press():
                came = self._script.press(step.who, step.press, at)
        self._clocks[step.who] = at
        return _together(came)

    def _at(self, who: str, given: str | None) -> datetime:
        if given is not None:
            return _moment(given)
        last = self._clocks.get(who)
        return FIRST_MOMENT if last is None else last + timedelta(minutes=1)


def run(tarebook: Tarebook, steps: Iterable[bytes], out: BinaryIO) -> None:
    """Answers every step until they end. BrokenPipeError when nobody reads the answers any more."""
    converse = Converse(tarebook)
    for number, line in enumerate(steps, start=1):
        out.write(converse.step(number, line))
        out.flush()


def _read(line: bytes) -> Step:
    try:
        found = msgspec.json.decode(line)
    except (msgspec.DecodeError, RecursionError, UnicodeDecodeError) as error:
        raise BadStep(f"not JSON: {error}") from None
    if not isinstance(found, dict):
        raise BadStep("not a step: an object in braces is expected")
    for key, kind in _KINDS:
        if key in found:
            try:
                return msgspec.convert(found, kind)
            except (msgspec.ValidationError, RecursionError) as error:
                raise BadStep(str(error)) from None
    names = ", ".join(f"`{key}`" for key, _ in _KINDS)
    raise BadStep(f"not a step: one of {names} is expected")


def _moment(text: str) -> datetime:
    try:
        moment = datetime.fromisoformat(text)
        at = moment.astimezone(UTC)
    except (ValueError, OverflowError):
        raise BadStep(f"{text[:40]!r} is no moment in time, such as 2026-03-02T18:04:00+00:00") from None
    if moment.tzinfo is None:
        raise BadStep(f"{text[:40]!r} has no offset from UTC, such as +00:00")
    if at.year not in _YEARS:
        raise BadStep(f"{text[:40]!r} is outside the years {_YEARS[0]} to {_YEARS[-1]}")
    return at


def _zone(name: str) -> ZoneInfo:
    try:
        return ZoneInfo(name)
    except (ValueError, OSError, KeyError):
        raise BadStep(f"{name[:40]!r} is no time zone, such as Europe/Lisbon") from None


def _together(came: Iterable[tuple[str, Turn]]) -> tuple[list[tuple[str, Reply]], list[Event]]:
    turns = list(came)
    return (
        [(who, reply) for who, turn in turns for reply in turn.replies],
        [event for _, turn in turns for event in turn.events],
    )


def _shown(who: str, reply: Reply) -> dict[str, object]:
    return {"to": who, "text": reply.text, "choices": reply.choices, "image": reply.picture is not None}


def _rounded(value: Any) -> Any:
    """The value with every number in it rounded to 0.01; what is stored stays exact."""
    if isinstance(value, float):
        return round(value, 2) + 0.0  # no negative zero
    if isinstance(value, dict):
        return {key: _rounded(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [_rounded(item) for item in value]
    return value
