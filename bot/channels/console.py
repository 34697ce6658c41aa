"""`tarebook chat`: the conversation in a terminal, or line by line through a pipe."""

from __future__ import annotations

import os
import secrets
import sys
import unicodedata
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from bot.app import Tarebook
from bot.handling import day_line, region_of
from bot.store.delivery.inbox import NewRow, Say
from bot.store.delivery.outbox import OutboxRow
from bot.store.errors import StoreError
from domain.quantities import Region

CHANNEL = "console"
PERSON_KEY = "me"

WELCOME = """\
This is Tarebook. Put your food on the scale and say what it shows: 180 g cooked rice. Say help for more.
Tarebook does arithmetic and gives no medical advice. If you are pregnant, under 18, take insulin, or have or had an \
eating disorder, decide with your clinician what and how much to eat."""

Ask = Callable[[str], str]
"""Shows a prompt and returns one line; EOFError or KeyboardInterrupt when the person leaves."""
Show = Callable[[str, Sequence[str]], None]
"""Shows a text and the choices under it."""
Forget = Callable[[], None]
"""Drops what was typed from the terminal's history."""


def run(tarebook: Tarebook, data_dir: Path) -> None:
    """Talks until the person leaves or the input ends."""
    if sys.stdin.isatty():
        ask, show, forget = _terminal(data_dir, lambda: _day_line(tarebook))
    else:
        ask, show, forget = _read_plainly, _show_plainly, _nothing
    try:
        person = tarebook.person(CHANNEL, PERSON_KEY)
        if person is None:
            show(WELCOME, ())
            tarebook.set_up(CHANNEL, PERSON_KEY, machine_region(os.environ), machine_zone(os.environ))
        if sys.stdin.isatty():
            # Nobody can be reminded through a pipe.
            ask = _reminding(tarebook, data_dir, ask, show)
        talk(tarebook, data_dir, ask, show, forget)
    except (EOFError, KeyboardInterrupt):
        return


def talk(tarebook: Tarebook, data_dir: Path, ask: Ask, show: Show, forget: Forget) -> None:
    """Shows what an earlier run left unanswered, then answers messages; EOFError when the person leaves."""
    tarebook.catch_up(CHANNEL)
    tarebook.apply_retention(datetime.now(UTC))
    _show_unsent(tarebook, data_dir, show)
    run_key = secrets.token_hex(8)
    for number, text in enumerate(_messages(ask)):
        try:
            said = Say(text=text, welcomes=sys.stdin.isatty())
            tarebook.receive(NewRow(CHANNEL, f"{run_key}:{number}", PERSON_KEY, said, None, datetime.now(UTC)))
            if any(turn.farewell for turn in tarebook.catch_up(CHANNEL)):
                forget()
            _show_unsent(tarebook, data_dir, show)
        except StoreError as error:
            show(str(error), ())


def machine_region(environment: Mapping[str, str]) -> Region:
    """The region of the machine's locale (POSIX: `LC_ALL`, `LC_MEASUREMENT`, `LANG`); the default where it has none."""
    names = (environment.get(name, "") for name in ("LC_ALL", "LC_MEASUREMENT", "LANG"))
    return region_of(next(filter(None, names), ""))


def machine_zone(
    environment: Mapping[str, str],
    localtime: Path = Path("/etc/localtime"),
    timezone_name: Path = Path("/etc/timezone"),
) -> ZoneInfo:
    """The machine's time zone by name: `TZ`, where the local time file leads, or the name file; else UTC."""
    names = [environment.get("TZ", "").removeprefix(":")]
    if localtime.is_symlink():
        names.append(str(localtime.resolve()).rpartition("zoneinfo/")[2])
    if timezone_name.is_file():
        names.append(timezone_name.read_text(encoding="utf-8", errors="replace").strip())
    for name in filter(None, names):
        try:
            return ZoneInfo(name)
        except (ValueError, OSError, KeyError):
            continue
    return ZoneInfo("UTC")


def _messages(ask: Ask) -> Iterator[str]:
    """One message a line; a line that ends in a backslash goes on in the next."""
    lines: list[str] = []
    while True:
        try:
            line = ask("… " if lines else "> ")
        except EOFError:
            if not lines:
                raise
            line = ""
        if line.endswith("\\"):
            lines.append(line[:-1])
            continue
        text = "\n".join([*lines, line])
        lines.clear()
        if text.strip():
            yield text


def _reminding(tarebook: Tarebook, data_dir: Path, ask: Ask, show: Show) -> Ask:
    """Shows scheduled notifications that are due before it asks for a message."""

    def ask_after(prompt: str) -> str:
        try:
            while tarebook.take_due(CHANNEL, datetime.now(UTC)) is not None:
                pass
            _show_unsent(tarebook, data_dir, show)
        except StoreError as error:
            show(str(error), ())
        return ask(prompt)

    return ask_after


def _show_unsent(tarebook: Tarebook, data_dir: Path, show: Show) -> None:
    unsent = tarebook.unsent(CHANNEL, PERSON_KEY)
    for row in unsent:
        show(row.text, row.choices)
        if row.document is not None:
            show(_saved(tarebook, row, data_dir / "exports"), ())
    if unsent:
        tarebook.sent(unsent)


def _saved(tarebook: Tarebook, row: OutboxRow, folder: Path) -> str:
    """Writes the file that goes with a text. Returns what there is to say of it."""
    file = tarebook.file_of(row)
    path = folder / file.name
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        path.touch(mode=0o600)
        path.write_bytes(file.content)
    except OSError as error:
        return f"The file could not be written to {path}: {error.strerror}."
    return f"It is in {path}"


def _day_line(tarebook: Tarebook) -> str:
    """How the day stands; empty when the database does not tell."""
    try:
        with tarebook.transaction() as conn:
            return day_line(conn, CHANNEL, PERSON_KEY, datetime.now(UTC))
    except StoreError:
        return ""


def _nothing() -> None:
    """There is no history to drop."""


def _read_plainly(_prompt: str) -> str:
    line = sys.stdin.buffer.readline()
    if not line:
        raise EOFError
    return line.decode("utf-8", errors="replace").rstrip("\r\n")


def _show_plainly(text: str, choices: Sequence[str]) -> None:
    words = "\n".join([_harmless(text), *_numbered(choices), "", ""])
    sys.stdout.buffer.write(words.encode("utf-8", errors="replace"))
    sys.stdout.buffer.flush()


def _terminal(data_dir: Path, line: Callable[[], str]) -> tuple[Ask, Show, Forget]:
    """The terminal's own ways; under what is being typed stands the line."""
    from prompt_toolkit import PromptSession
    from prompt_toolkit.history import FileHistory
    from rich.console import Console
    from rich.text import Text

    data_dir.mkdir(parents=True, exist_ok=True, mode=0o700)
    history = data_dir / "history"
    history.touch(mode=0o600)
    session: PromptSession[str] = PromptSession(history=FileHistory(str(history)))
    console = Console(highlight=False, soft_wrap=True)

    def show(text: str, choices: Sequence[str]) -> None:
        console.print(Text(_harmless(text)))
        for choice in _numbered(choices):
            console.print(Text(choice, style="cyan"))
        console.print()

    def forget() -> None:
        history.write_bytes(b"")
        session.history = session.default_buffer.history = FileHistory(str(history))

    def ask(prompt: str) -> str:
        return session.prompt(prompt, bottom_toolbar=line() or None)

    return ask, show, forget


def _numbered(choices: Sequence[str]) -> list[str]:
    return [f"[{number}] {_harmless(choice)}" for number, choice in enumerate(choices, start=1)]


def _harmless(text: str) -> str:
    """The text without control characters: somebody else may have typed a part of it."""
    return "".join(letter for letter in text if letter == "\n" or unicodedata.category(letter) != "Cc")
