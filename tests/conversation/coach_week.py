"""A week of a coach with forty clients, as a page: each morning's digest, what the coach asks, and how much she reads.

The practice is the generated one (`tests.conversation.practice`); the stories begin in its third week, which is the one
shown. `python -m tests.conversation.coach_week` writes docs/a_coachs_week.md.
"""

from __future__ import annotations

import random
import re
import sys
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

from .chat import Chat, open_door
from .practice import BEGINS, Morning, Practice, Story, stories

PAGE = Path(__file__).parents[2] / "docs" / "a_coachs_week.md"
CLIENTS, FIRST_DAY, LAST_DAY, SEED = 40, 14, 20, 4
WEEKS_PLANNED = 5
"""Of a practice of that length all stories begin in its third week."""
INTRODUCTION = """\
# A coach's week

Ines coaches forty people. This page shows what she is sent from Monday to Sunday of the third week, and what she asks.
Apart from the digests she gets no notifications; a morning without a digest has nothing to report. The clients are
simulated: each logs about 2,000 kcal a day, with some variation and an occasional missing day, and some have a problem
or a success that begins in this week. `.venv/bin/python -m tests.conversation.coach_week` writes the page, and a test
compares it with the program.
"""
ASKED: tuple[tuple[str, ...], ...] = (
    ("roster",),
    ("how is {}?", "{}'s week"),
    ("compare {}'s week with last week", "tell {}: I saw it. What would make it easier?"),
    ("who is silent?", "how is {}?"),
    ("how is {}?", "private note on {}: call on Monday", "flag {}"),
    ("who weighs least?",),
    ("roster", "report for {}"),
)
"""What the coach says on each morning; {} is the first client whom the digest or else the roster names."""


def page() -> str:
    """The page as the program has it now."""
    dice = random.Random(SEED)
    with open_door() as door:
        told = stories(CLIENTS, WEEKS_PLANNED, dice)
        practice = Practice(door, told, dice)
        parts, heard, said = [INTRODUCTION], 0, 0
        for morning in practice.mornings(LAST_DAY + 1):
            if morning.day < FIRST_DAY:
                continue
            lines = list(_morning(morning, practice.coach, told))
            parts.append("\n".join((f"## {morning.at:%A}", "", "```text", *lines, "```", "")))
            heard += sum(len(line) for line in lines if not line.startswith("> "))
            said += sum(line.startswith("> ") for line in lines)
        parts.append(_stories(told))
    parts.insert(1, f"In seven days she reads {heard:,} characters and sends {said} messages.\n")
    return "\n".join(parts)


def _morning(morning: Morning, coach: Chat, told: list[Story]) -> Iterator[str]:
    yield morning.digest or "(no digest: nothing is due)"
    who = _first_named(morning.digest, told) or _first_named(morning.roster, told)
    for n, words in enumerate(ASKED[morning.day - FIRST_DAY]):
        if "{}" in words and who is None:
            continue
        asked = words.format(who)
        answer = coach.say(asked, at=(morning.at + timedelta(minutes=5 + n)).isoformat())
        yield f"> {asked}"
        yield answer.text


def _first_named(text: str, told: list[Story]) -> str | None:
    """The first client whom the text names."""
    names = "|".join(story.name for story in told)
    found = re.search(rf"\b({names})\b", text)
    return None if found is None else found[1]


def _stories(told: list[Story]) -> str:
    planted = sorted((s for s in told if s.kind != "none" and s.begins <= LAST_DAY), key=lambda s: s.due)
    rows = [
        f"| {s.name} | {s.kind} | {BEGINS + timedelta(days=s.begins):%A} | {BEGINS + timedelta(days=s.due):%A %-d %B} |"
        for s in planted
    ]
    head = (
        "## The simulated stories\n\nThe stories that begin in this week, and the first morning on which the records "
        "can show each of them.\n\n| client | story | begins | shows from |\n|---|---|---|---|\n"
    )
    return head + "\n".join(rows) + "\n"


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
    sys.stdout.write(f"{PAGE}\n")
