"""What can be meant of how the bot serves a person: reminders, the clock, settings, and what is kept of them."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class SetReminder:
    """A reminder at a local time, or off."""

    what: str
    time: str | None
    """HH:MM local; empty leaves it as it is; None turns it off."""
    weekdays: str | None = None
    """The days of the week as digits, 0 is Monday; None leaves them as they are."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AskReminderTime:
    """A reminder was wanted without a time."""

    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Snooze:
    """The reminder shall come again later."""

    minutes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LocalTime:
    """What the person's own clock shows, HH:MM, from which their zone follows."""

    clock: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SetSetting:
    """The region or the time zone."""

    name: str
    value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Export:
    """Everything of the person's is wanted as a file."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Privacy:
    """What is kept and who sees it is asked for, or everything is to be erased."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Erase:
    """Everything of the person's is to be erased; `sure` after the second yes."""

    sure: bool = False


SettingMatter = SetReminder | AskReminderTime | Snooze | LocalTime | SetSetting | Export | Privacy | Erase
