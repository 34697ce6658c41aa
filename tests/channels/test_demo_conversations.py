"""Every demo conversation goes as it is written."""

from pathlib import Path

import pytest

from bot.channels.replay import SUFFIX, difference, replayed

FOLDER = Path(__file__).parents[2] / "demo_conversations"
FILES = sorted(FOLDER.glob(f"*{SUFFIX}"))


def test_there_are_demo_conversations() -> None:
    assert FILES


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_it_goes_as_written(file: Path) -> None:
    written = file.read_text(encoding="utf-8")
    said, messages = replayed(written)
    assert messages > 0
    assert "".join(difference(file.name, written, said)) == "", f"see: tarebook replay {file.name} --accept"
