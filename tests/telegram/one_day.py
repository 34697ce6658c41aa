"""One day of one person on Telegram: every call of the Bot API that it takes, and how the chat looks.

`python -m tests.telegram.one_day` draws docs/a_day.png and writes the calls into docs/effort.md.
"""

from __future__ import annotations

import tempfile
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.patches import FancyBboxPatch

from bot.channels.telegram import CHANNEL
from bot.channels.telegram.serving import Serving
from bot.reports.picture import INK, PAPER, RULE
from bot.settings import TelegramSettings
from bot.store.delivery import inbox, outbox
from tests.pages import EFFORT, write

from .conftest import Run
from .crowd import Human
from .loopback import TOKEN, Loopback, Sent

FILE = Path(__file__).parents[2] / "docs" / "a_day.png"
MORNING = datetime(2026, 3, 2, 7, 30, tzinfo=UTC)
BEFORE = ("target 2000 kcal protein 110", "no reminder", "short replies", "pin my day")
"""What is set the evening before."""
SAID = (
    (0, "60 g dry oats, 200 g whole milk for breakfast"), (5, "coffee, milk 30"), (300, "rice 190, chicken breast 150"),
    (301, "[cooked]"), (302, "[raw]"), (306, "olive oil 12"), (480, "apple 165"), (485, "apple 172"), (486, "[Undo]"),
    (690, "200 g boiled potatoes, salmon 140"), (693, "broccoli 130"), (700, "yogurt 150"), (750, "today"),
)  # fmt: skip
"""Minutes after the morning, which are shown and not played, and the words.

In brackets: the button of the newest message that has it.
"""
UNTOLD = frozenset({"getUpdates", "getMe", "deleteWebhook", "setMyCommands"})
"""Calls that are made at the start, or again and again while nothing happens."""
SHORTEST = 60
BLUE, GREEN = "#dbe9f0", "#e6efdc"


@dataclass(frozen=True)
class Step:
    """What the person did, and the calls it led to, in the order of their names."""

    minutes: int
    said: str
    calls: tuple[tuple[str, dict[str, Any]], ...]


def play() -> tuple[list[Step], list[tuple[str, Sent | str]]]:
    """(the steps, the chat as it stands in the end: 'me' with words, 'bot' with a message)."""
    server = Loopback()
    server.start()
    with tempfile.TemporaryDirectory() as folder:
        settings = TelegramSettings(token=TOKEN, api_url=server.url, access="open", listed=frozenset())
        run = Run(f"sqlite:///{folder}/day.db", settings, Serving())
        try:
            return _day(run, server)
        finally:
            run.stop()
            server.stop()


def _day(run: Run, server: Loopback) -> tuple[list[Step], list[tuple[str, Sent | str]]]:
    ana = Human(server, 1001, "Ana")
    said: dict[int, str] = {}
    for text in ("/start", *BEFORE):
        _says(run, server, ana, text)
    begun = max((each.message_id for each in server.sent[ana.id]), default=0)
    steps = []
    for minutes, text in SAID:
        before = len(server.calls)
        if text.startswith("["):
            name = text.strip("[]")
            holder = next(each for each in reversed(server.sent[ana.id]) if name in dict(each.buttons))
            ana.presses(holder, name)
            _settled(run, before, server)
        else:
            said[_says(run, server, ana, text)] = text
        calls = tuple(each for each in server.calls[before:] if each[0] not in UNTOLD)
        steps.append(Step(minutes, text, tuple(sorted(calls, key=lambda call: (call[0], str(call[1].get("text")))))))
    chat: dict[int, tuple[str, Sent | str]] = {number: ("me", text) for number, text in said.items()}
    chat |= {each.message_id: ("bot", each) for each in server.sent[ana.id] if each.message_id > begun}
    return steps, [chat[number] for number in sorted(chat)]


def _says(run: Run, server: Loopback, person: Human, text: str) -> int:
    before = len(server.calls)
    number = person.says(text)
    _settled(run, before, server)
    return number


def _settled(run: Run, before: int, server: Loopback) -> None:
    """Waits until what was done is handled and everything that follows from it is sent."""

    def done() -> bool:
        if not server.idle or all(call in UNTOLD for call, _ in server.calls[before:]):
            return False
        with run.tarebook.transaction() as conn:
            return not inbox.count(conn, CHANNEL) and not outbox.count(conn, CHANNEL)

    server.until(done, timeout=30)


def table(steps: Sequence[Step]) -> str:
    """The calls as a table of Markdown."""
    rows = ["| time | Ana | calls |", "|---|---|---|"]
    day = next(given["message_id"] for step in steps for name, given in step.calls if name == "pinChatMessage")
    for step in steps:
        at = MORNING + timedelta(minutes=step.minutes)
        calls = "<br>".join(f"`{name}` {_parameters(given, day)}".strip() for name, given in step.calls)
        rows.append(f"| {at:%H:%M} | {step.said} | {calls} |")
    return "\n".join(rows)


def _as_shown(text: str) -> str:
    """The text with the day that is shown instead of the one on which it was played."""
    today = datetime.now(UTC)
    return text.replace(f"{today:%A} {today.day} {today:%B}", f"{MORNING:%A} {MORNING.day} {MORNING:%B}")


def _parameters(given: dict[str, Any], day: int) -> str:
    parts = []
    for name, value in given.items():
        if name in ("chat_id", "link_preview_options", "callback_query_id"):
            continue
        if name == "message_id":
            value = "the day's" if value == day else "an earlier one"
        if name == "reply_markup":
            buttons = [button["text"] for row in value["inline_keyboard"] for button in row]
            value = ", ".join(f"[{text}]" for text in buttons)
        shown = textwrap.shorten(
            _as_shown(str(value)).replace("\n", " / ").replace("|", "¦"), SHORTEST, placeholder=" …"
        )
        parts.append(f"{name}: {shown}")
    return "; ".join(parts)


def draw(chat: Sequence[tuple[str, Sent | str]]) -> Figure:
    """The chat as a phone shows it, as far as words and buttons go."""
    blocks = []
    for who, message in chat:
        text = message if isinstance(message, str) else _as_shown(message.text)
        lines = [part for line in text.split("\n") for part in (textwrap.wrap(line, 44) or [""])]
        buttons = [] if isinstance(message, str) else [words for words, _ in message.buttons]
        blocks.append((who, lines, buttons))
    line, gap, button = 0.19, 0.16, 0.3
    high = sum(len(lines) * line + gap * 1.6 + (button if buttons else 0) for _, lines, buttons in blocks) + 0.3
    figure = Figure(figsize=(4.4, high), facecolor=PAPER)
    FigureCanvasAgg(figure)
    axes = figure.add_axes((0, 0, 1, 1))
    axes.set_xlim(0, 4.4)
    axes.set_ylim(high, 0)
    axes.axis("off")
    top = 0.15
    for who, lines, buttons in blocks:
        wide = min(3.7, 0.25 + 0.0785 * max(len(each) for each in lines))
        left = 4.3 - wide if who == "me" else 0.1
        box = FancyBboxPatch(
            (left, top), wide, len(lines) * line + gap * 0.9, boxstyle="round,pad=0,rounding_size=0.08",
            facecolor=GREEN if who == "me" else BLUE, edgecolor=RULE, linewidth=0.6,
        )  # fmt: skip
        axes.add_patch(box)
        for n, each in enumerate(lines):
            y = top + gap * 0.45 + (n + 0.5) * line
            axes.text(left + 0.1, y, each, fontsize=8.5, color=INK, va="center", family="DejaVu Sans", parse_math=False)
        top += len(lines) * line + gap * 1.1
        if buttons:
            each_wide = 3.7 / max(2, len(buttons))
            for n, words in enumerate(buttons):
                at = (0.1 + n * each_wide, top)
                axes.add_patch(
                    FancyBboxPatch(
                        at,
                        each_wide - 0.06,
                        button - 0.08,
                        boxstyle="round,pad=0,rounding_size=0.05",
                        facecolor=PAPER,
                        edgecolor=INK,
                        linewidth=0.6,
                    )
                )
                axes.text(
                    at[0] + each_wide / 2,
                    top + (button - 0.08) / 2,
                    words,
                    fontsize=8,
                    color=INK,
                    ha="center",
                    va="center",
                )
            top += button
        top += gap * 0.5
    return figure


if __name__ == "__main__":
    steps_taken, chat_shown = play()
    draw(chat_shown).savefig(FILE, dpi=130, facecolor=PAPER)
    write(EFFORT, "calls", table(steps_taken))
