"""Conversations that are read as documentation and run as tests."""

import io
from pathlib import Path

import pytest

from bot.channels import replay
from bot.channels.replay import BadConversation, replayed

WRITTEN = """\
# Rice, asked about

> Rice is weighed dry or cooked, and the figures differ.

@ region UK
@ timezone Europe/London
@ person mira region metric timezone Asia/Tokyo
@ at 2026-03-02 23:50

you: 200 g rice

you press 1

mira: 180 g cooked rice,
     2 eggs
you edit "200 g rice": 150 g cooked rice
"""


def run(*files: Path, accept: bool = False) -> tuple[int, str]:
    out = io.StringIO()
    return replay.run(files, accept, out), out.getvalue()


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "rice.txt"
    path.write_text(WRITTEN, encoding="utf-8")
    return path


def test_replies_are_written_where_they_were_said(file: Path) -> None:
    assert run(file, accept=True)[0] == 0
    said = file.read_text(encoding="utf-8")
    assert [line for line in said.splitlines() if line in WRITTEN.splitlines()] == WRITTEN.splitlines()
    after_question = said.partition("you: 200 g rice\n")[2]
    assert after_question.startswith("bot: ")
    assert "     [1] " in after_question.partition("you press 1")[0]
    assert "200 g" in said.partition("you press 1\n")[2].partition("mira:")[0]
    assert "150 g" in said.partition("150 g cooked rice\n")[2]


def test_what_was_accepted_replays_without_a_difference(file: Path) -> None:
    run(file, accept=True)
    status, told = run(file)
    assert (status, told) == (0, f"{file}: 4 messages, answered as written\n")


def test_a_changed_reply_is_shown_as_a_difference_and_nothing_is_written(file: Path) -> None:
    run(file, accept=True)
    changed = file.read_text(encoding="utf-8").replace("bot: ", "bot: Well, ", 1)
    file.write_text(changed, encoding="utf-8")
    status, told = run(file)
    assert status == 1
    assert [line[0] for line in told.splitlines()[2:] if line[0] in "+-"] == ["-", "+"]
    assert "-bot: Well, " in told
    assert file.read_text(encoding="utf-8") == changed


def test_a_lost_reply_is_a_difference(file: Path) -> None:
    assert run(file)[0] == 1


def test_each_file_starts_from_nothing(file: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.txt"
    other.write_text("you: undo\n", encoding="utf-8")
    alone = replayed(other.read_text(encoding="utf-8"))
    run(file, other, accept=True)
    assert other.read_text(encoding="utf-8") == alone[0]


def test_the_clock_is_the_files_own() -> None:
    # A minute before and a minute after midnight in London: the second day holds one of the two.
    header = "@ timezone Europe/London\n@ at 2026-06-02 23:59\n"
    messages = "you: 180 g cooked rice\nyou: 180 g cooked rice\nyou: today\n"
    late, _ = replayed(header + messages)
    noon, _ = replayed(header.replace("23:59", "12:00") + messages)
    assert late.partition("you: today")[2] != noon.partition("you: today")[2]


@pytest.mark.parametrize(
    ("text", "line"),
    (
        ("hello there\n", 1),
        ("# Title\n\nzoe: 180 g cooked rice\n", 3),
        ("@ region EU\n", 1),
        ("@ person Ines role boss\n", 1),
        ("@ timezone Atlantis/Centre\n", 1),
        ("@ at tea time\n", 1),
        ("@ at 2026-02-30 12:00\n", 1),
        ("@ person\n", 1),
        ("@ person mira region\n", 1),
        ("@ person mira colour red\n", 1),
        ("@ person bot\n", 1),
        ("@ dance\n", 1),
        ("you press 1\n", 1),
        ('you: 180 g cooked rice\nyou edit "2 eggs": 3 eggs\n', 2),
    ),
)
def test_a_file_that_cannot_be_run_says_where(tmp_path: Path, text: str, line: int) -> None:
    with pytest.raises(BadConversation, match=f"^line {line}: "):
        replayed(text)
    path = tmp_path / "bad.txt"
    path.write_text(text, encoding="utf-8")
    status, told = run(path, accept=True)
    assert status == 2
    assert told.startswith(f"{path}: line {line}: ")
    assert path.read_text(encoding="utf-8") == text


def test_a_file_that_is_not_there_is_said(tmp_path: Path) -> None:
    status, told = run(tmp_path / "none.txt")
    assert status == 2
    assert "none.txt" in told
