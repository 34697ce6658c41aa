"""What the pages say is so: their commands run, their conversation goes that way, their lists are complete."""

import difflib
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from bot.channels.replay import replayed
from tests.programs import Nursery

ROOT = Path(__file__).parents[1]
README = ROOT / "README.md"
DEVELOPERS = ROOT / "DEVELOPERS.md"

MOST_LINES = 400
"""A module that is longer is two modules (DEVELOPERS.md)."""

TWO_SCREENS = 100

SHELL = re.compile(r"^```sh\n(.*?)^```", re.MULTILINE | re.DOTALL)
CONVERSATION = re.compile(r"(?<=^```text\n)> .*?(?=^```)", re.MULTILINE | re.DOTALL)
SUBCOMMAND = re.compile(r"`(?:\.venv/bin/)?tarebook ([a-z]+)")
MAKE_TARGET = re.compile(r"`make ([a-z]+)")
LINK = re.compile(r"\]\((?!https?:)([^)#]+)\)")
PATH = re.compile(r"`((?:bot|domain|tests|bench|migrations|demo_conversations)/[\w./-]*)`")


def commands() -> list[str]:
    """The lines of README's shell blocks, without their comments."""
    lines = "".join(SHELL.findall(README.read_text(encoding="utf-8"))).splitlines()
    return [line.partition("#")[0].strip() for line in lines if line.strip()]


def as_it_goes_now(page: str) -> str:
    """README with the answers that the program gives now to the messages of its conversation."""
    return CONVERSATION.sub(lambda found: replayed(found.group())[0], page)


def run(command: str) -> subprocess.CompletedProcess[str]:
    """Runs a shell command in the project's folder, with the program as it is here."""
    here = command.replace(".venv/bin/tarebook", f"'{sys.executable}' -m bot")
    return subprocess.run(here, shell=True, cwd=ROOT, capture_output=True, text=True, timeout=120, check=False)


def dependencies() -> list[str]:
    """The names of what pyproject.toml asks for: to run, and for each extra."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = [*project["dependencies"], *(one for extra in project["optional-dependencies"].values() for one in extra)]
    return sorted({name.group() for one in wanted if (name := re.match(r"[\w-]+", one))})


def modules() -> list[Path]:
    return sorted(path for package in ("bot", "domain") for path in (ROOT / package).rglob("*.py"))


def test_readme_has_its_commands_and_its_conversation() -> None:
    page = README.read_text(encoding="utf-8")
    assert commands()[:2] == ["make chat", "make test"]
    assert any("tarebook" in command for command in commands())
    assert len(CONVERSATION.findall(page)) == 1


def test_readme_is_no_longer_than_two_screens() -> None:
    assert len(README.read_text(encoding="utf-8").splitlines()) <= TWO_SCREENS


@pytest.mark.parametrize("command", [c for c in commands() if not c.startswith("make ")])
def test_a_command_of_readme_runs(command: str) -> None:
    done = run(command)
    assert done.returncode == 0, done.stdout + done.stderr
    assert done.stdout
    assert "error" not in done.stdout.lower()


@pytest.mark.parametrize("page", (README, DEVELOPERS), ids=lambda page: page.stem)
def test_make_knows_its_targets(page: Path) -> None:
    text = page.read_text(encoding="utf-8")
    in_blocks = [
        line.split()[1] for block in SHELL.findall(text) for line in block.splitlines() if line.startswith("make ")
    ]
    targets = sorted({*MAKE_TARGET.findall(text), *in_blocks})
    assert "test" in targets
    for target in targets:
        done = run(f"make -n {target}")
        assert done.returncode == 0, done.stderr


@pytest.mark.parametrize("page", (README, DEVELOPERS), ids=lambda page: page.stem)
def test_tarebook_knows_its_commands(page: Path, programs: Nursery) -> None:
    named = sorted(set(SUBCOMMAND.findall(page.read_text(encoding="utf-8"))))
    assert "replay" in named
    for name in named:
        done = programs.run([name, "--help"], {})
        assert done.returncode == 0, done.stderr


@pytest.mark.parametrize("page", (README, DEVELOPERS), ids=lambda page: page.stem)
def test_what_a_page_points_to_is_there(page: Path) -> None:
    text = page.read_text(encoding="utf-8")
    pointed_to = sorted({*LINK.findall(text), *PATH.findall(text)})
    assert [path for path in pointed_to if not (ROOT / path).exists()] == []


@pytest.mark.parametrize("page", (README, DEVELOPERS), ids=lambda page: page.stem)
def test_the_variables_it_names_are_read_somewhere(page: Path) -> None:
    code = "".join(
        path.read_text(encoding="utf-8") for room in ("bot", "tests") for path in (ROOT / room).rglob("*.py")
    )
    named = set(re.findall(r"TAREBOOK_[A-Z0-9_]+", page.read_text(encoding="utf-8")))
    assert named
    assert [name for name in sorted(named) if f'"{name}"' not in code] == []


def test_the_conversation_in_readme_goes_as_written() -> None:
    written = README.read_text(encoding="utf-8")
    now = as_it_goes_now(written)
    changed = difflib.unified_diff(written.splitlines(), now.splitlines(), "as written", "as it goes now", lineterm="")
    assert now == written, "to write the new answers there: python -m tests.test_docs\n" + "\n".join(changed)


def test_modules_are_short() -> None:
    lengths = {str(path.relative_to(ROOT)): len(path.read_text(encoding="utf-8").splitlines()) for path in modules()}
    assert "bot/app.py" in lengths
    assert {module: lines for module, lines in lengths.items() if lines >= MOST_LINES} == {}


@pytest.mark.parametrize("dependency", dependencies())
def test_developers_says_why_there_is_a_dependency(dependency: str) -> None:
    assert f"| `{dependency}` |" in DEVELOPERS.read_text(encoding="utf-8")


if __name__ == "__main__":
    README.write_text(as_it_goes_now(README.read_text(encoding="utf-8")), encoding="utf-8")
