"""The pages agree with the program: commands run, links lead somewhere, lists are complete, the conversation holds.

`python -m tests.test_docs` writes the parts that are generated: the conversation and the tables.
"""

import argparse
import difflib
import os
import re
import subprocess
import sys
import tomllib
from itertools import pairwise
from pathlib import Path

import pytest

import domain
from bot import __version__
from bot.__main__ import parser
from bot.channels.replay import replayed
from bot.settings import VARIABLES
from tests.programs import Nursery

ROOT = Path(__file__).parents[1]
README, DEVELOPERS, CHANGELOG = (ROOT / name for name in ("README.md", "DEVELOPERS.md", "CHANGELOG.md"))
SETTINGS, COMMANDS = ROOT / "docs" / "settings.md", ROOT / "docs" / "commands.md"
DECISIONS = sorted((ROOT / "docs" / "decisions").glob("0*.md"))

ROOT_PAGES = sorted(ROOT.glob("*.md"))
DOCS_PAGES = sorted((ROOT / "docs").rglob("*.md"))
OTHER_PAGES = [
    ROOT / "domain" / "reference" / "README.md",
    ROOT / "tests" / "language" / "README.md",
    *sorted((ROOT / ".github").rglob("*.md")),
]
PAGES = {str(page.relative_to(ROOT)): page for page in (*ROOT_PAGES, *DOCS_PAGES, *OTHER_PAGES)}

LONGEST_MODULE = 400
LONGEST = {README: 100, DEVELOPERS: 200}
"""Lines: two screens for who meets the project, an hour for who changes it."""

SHELL = re.compile(r"^```sh\n(.*?)^```", re.MULTILINE | re.DOTALL)
BLOCK = re.compile(r"^ *```.*?^ *```", re.MULTILINE | re.DOTALL)
CONVERSATION = re.compile(r"(?<=^```text\n)> .*?(?=^```)", re.MULTILINE | re.DOTALL)
TAREBOOK = re.compile(r"(?:^|`|\.venv/bin/)tarebook ([a-z]+)((?: [^`\n|#]*)?)", re.MULTILINE)
MAKE_TARGET = re.compile(r"`make ([a-z]+)")
LINK = re.compile(r"\]\((?!https?:)([^)#\s]*)(?:#([^)\s]+))?\)")
FOLDERS = "bot|domain|tests|bench|docs|deploy|migrations|demo_conversations"
PATH = re.compile(rf"`((?:{FOLDERS})/[\w./-]*)`")
GENERATED = re.compile(r"(?<=^<!-- generated: )(\w+) -->\n.*?(?=^<!-- end -->)", re.MULTILINE | re.DOTALL)


def text_of(page: Path) -> str:
    return page.read_text(encoding="utf-8")


def commands() -> list[str]:
    """The lines of the README's shell blocks, without their comments."""
    lines = "".join(SHELL.findall(text_of(README))).splitlines()
    return [line.partition("#")[0].strip() for line in lines if line.strip()]


def run(command: str) -> subprocess.CompletedProcess[str]:
    """Runs a shell command in the project's directory, with the program as it is here."""
    here = command.replace(".venv/bin/tarebook", f"'{sys.executable}' -m bot")
    return subprocess.run(here, shell=True, cwd=ROOT, capture_output=True, text=True, timeout=120, check=False)


def project() -> dict:
    return tomllib.loads(text_of(ROOT / "pyproject.toml"))["project"]


def dependencies() -> list[str]:
    """The names in pyproject.toml's dependencies and extras, and what the Makefile installs beside them."""
    wanted = [
        *project()["dependencies"],
        *(one for extra in project()["optional-dependencies"].values() for one in extra),
        *re.findall(r"'([\w-]+)>=", text_of(ROOT / "Makefile")),
    ]
    return sorted({name.group() for one in wanted if (name := re.match(r"[\w-]+", one))})


def slug(heading: str) -> str:
    """A heading's anchor, as python-markdown and repository hosts make it."""
    return re.sub(r"[\s]+", "-", re.sub(r"[^\w\s-]", "", re.sub(r"[`*]", "", heading)).strip().lower())


def anchors(page: Path) -> set[str]:
    return {slug(heading) for heading in re.findall(r"^#+ (.+)$", BLOCK.sub("", text_of(page)), re.MULTILINE)}


def settings_table() -> str:
    rows = ["| variable | meaning | default |", "|---|---|---|"]
    for each in VARIABLES:
        default = f"`{each.default}`" if each.default else ""
        rows.append(f"| `{each.name}`{', *secret*' if each.secret else ''} | {each.meaning} | {default} |")
    return "\n".join(rows)


def subcommands() -> dict[str, argparse.ArgumentParser]:
    (found,) = [each.choices for each in parser()._actions if isinstance(each, argparse._SubParsersAction)]
    return dict(found)


def options_of(command: argparse.ArgumentParser) -> list[argparse.Action]:
    return [each for each in command._actions if not isinstance(each, argparse._HelpAction)]


def _called(action: argparse.Action) -> str:
    value = action.metavar or action.dest.upper()
    if not action.option_strings:
        return f"`{value}…`" if action.nargs == "+" else f"`{value}`"
    return f"`{action.option_strings[0]}{'' if action.nargs == 0 else f' {value}'}`"


def commands_page() -> str:
    parts = []
    for name, command in subcommands().items():
        parts.append(f"## `tarebook {name}`\n\n{command.description}")
        if options := options_of(command):
            rows = [f"| {_called(each)} | {each.help or ''} |" for each in options]
            parts.append("\n".join(["| argument | meaning |", "|---|---|", *rows]))
    return "\n\n".join(parts)


def up_to_date(page: str) -> str:
    """A page with its generated parts as the program has them now."""
    tables = {"settings": settings_table, "commands": commands_page}
    page = GENERATED.sub(lambda found: f"{found[1]} -->\n\n{tables[found[1]]()}\n\n", page)
    return CONVERSATION.sub(lambda found: replayed(found.group())[0], page)


def test_the_readme_begins_with_the_two_commands_and_has_one_conversation() -> None:
    assert commands()[:2] == ["make chat", "make test"]
    assert any("tarebook" in command for command in commands())
    assert len(CONVERSATION.findall(text_of(README))) == 1


@pytest.mark.parametrize("page", LONGEST, ids=lambda page: page.name)
def test_pages_for_the_first_hour_are_short(page: Path) -> None:
    assert len(text_of(page).splitlines()) <= LONGEST[page]


@pytest.mark.parametrize("page", (README, SETTINGS, COMMANDS), ids=lambda page: page.name)
def test_generated_parts_are_up_to_date(page: Path) -> None:
    written = text_of(page)
    now = up_to_date(written)
    changed = difflib.unified_diff(written.splitlines(), now.splitlines(), "as written", "now", lineterm="")
    assert now == written, "to write it: python -m tests.test_docs\n" + "\n".join(changed)
    assert CONVERSATION.search(now) or len(GENERATED.findall(now)) == 1


@pytest.mark.parametrize("command", [c for c in commands() if not c.startswith("make ")])
def test_a_command_of_the_readme_runs(command: str) -> None:
    done = run(command)
    assert done.returncode == 0, done.stdout + done.stderr
    assert done.stdout
    assert "error" not in done.stdout.lower()


def test_make_has_every_target_that_a_page_names() -> None:
    targets = {target for page in PAGES.values() for target in MAKE_TARGET.findall(text_of(page))}
    targets |= {command.split()[1] for command in commands() if command.startswith("make ")}
    assert {"test", "lint", "docs", "bench"} <= targets
    defined = set(re.findall(r"^([a-z]+):", text_of(ROOT / "Makefile"), re.MULTILINE))
    assert sorted(targets - defined) == []


@pytest.mark.parametrize("page", PAGES.values(), ids=PAGES)
def test_tarebook_has_every_command_and_option_that_a_page_names(page: Path) -> None:
    known = subcommands()
    code = "\n".join(re.findall(r"```sh\n.*?```|`[^`\n]+`", text_of(page), re.DOTALL))
    for name, rest in TAREBOOK.findall(code):
        assert name in known, name
        options = {option for each in options_of(known[name]) for option in each.option_strings}
        assert set(re.findall(r"--[a-z]+", rest)) <= options | {"--help"}, f"{name} {rest}"


def test_help_lists_every_command_of_the_page(programs: Nursery) -> None:
    done = programs.run(["--help"], {})
    assert done.returncode == 0, done.stderr
    named = re.findall(r"^## `tarebook ([a-z]+)`", text_of(COMMANDS), re.MULTILINE)
    assert "converse" in named
    assert [name for name in named if not re.search(rf"^ +{name}\b", done.stdout.decode(), re.MULTILINE)] == []


@pytest.mark.parametrize("page", PAGES.values(), ids=PAGES)
def test_links_lead_somewhere(page: Path) -> None:
    for path, anchor in LINK.findall(BLOCK.sub("", text_of(page))):
        target = (page.parent / path).resolve() if path else page
        assert target.exists(), path
        assert target.is_relative_to(ROOT), path
        assert not anchor or anchor in anchors(target), f"{path}#{anchor}"


@pytest.mark.parametrize("page", PAGES.values(), ids=PAGES)
def test_paths_named_in_a_page_exist(page: Path) -> None:
    assert [path for path in sorted(set(PATH.findall(text_of(page)))) if not (ROOT / path).exists()] == []


def test_the_domain_says_what_each_of_its_modules_is() -> None:
    modules = {path.stem for path in (ROOT / "domain").glob("*.py")} - {"__init__"} | {"reference"}
    assert set(re.findall(r"^    (\w+)  +\w", domain.__doc__ or "", re.MULTILINE)) == modules


def test_the_glossary_names_a_module_for_each_word_and_each_word_once() -> None:
    rows = re.findall(r"^\| ([^|]+) \| [^|]+ \| `([^`|]+)` \|$", text_of(ROOT / "docs" / "glossary.md"), re.MULTILINE)
    assert len(rows) == len(re.findall(r"^\| (?!word \|)[a-z]", text_of(ROOT / "docs" / "glossary.md"), re.MULTILINE))
    words = [word for cell, _ in rows for word in cell.split(", ")]
    assert {"weigh-in", "inbox row", "leader lease", "request"} <= set(words)
    assert len(words) == len(set(words))


def test_variables_are_declared_and_pages_name_declared_ones() -> None:
    declared = {each.name for each in VARIABLES}
    in_code = {
        name
        for path in (ROOT / "bot").rglob("*.py")
        for name in re.findall(r"\bTAREBOOK_[A-Z]+(?:_[A-Z0-9]+)*\b", text_of(path))
    }
    assert {name.removesuffix("_FILE") for name in in_code} == declared
    for_tests = {
        name for path in (ROOT / "tests").rglob("*.py") for name in re.findall(r"TAREBOOK_[A-Z0-9_]+", text_of(path))
    }
    named = {name for page in PAGES.values() for name in re.findall(r"\bTAREBOOK_[A-Z0-9_]*[A-Z0-9]\b", text_of(page))}
    secret = {f"{each.name}_FILE" for each in VARIABLES if each.secret}
    assert named - declared - secret - for_tests == set()


@pytest.mark.parametrize("page", DECISIONS, ids=lambda page: page.stem)
def test_a_decision_says_its_context_and_consequences(page: Path) -> None:
    headings = re.findall(r"^#+ (.+)$", text_of(page), re.MULTILINE)
    assert headings[0].startswith(f"{int(page.name[:4])}. ")
    assert headings[1:] == ["Context", "Decision", "Consequences"]
    listed = text_of(page.with_name("index.md"))
    assert f"[{headings[0].partition('. ')[2]}]({page.name})" in listed


def test_decisions_are_numbered_in_order() -> None:
    assert [int(page.name[:4]) for page in DECISIONS] == list(range(1, len(DECISIONS) + 1))


def test_the_changelog_fits_the_version() -> None:
    releases = re.findall(r"^## (\d+)\.(\d+)\.(\d+) \(\d{4}-\d\d-\d\d\)$", text_of(CHANGELOG), re.MULTILINE)
    numbers = [tuple(map(int, release)) for release in releases]
    assert all(newer > older for newer, older in pairwise(numbers))
    version = tuple(int(part) for part in __version__.split(".")[:3])
    first, *_ = re.findall(r"^## (.+)$", text_of(CHANGELOG), re.MULTILINE)
    if "dev" in __version__:
        assert first == "Unreleased"
        assert version > numbers[0]
    else:
        assert version == numbers[0]


def test_the_version_is_in_one_place(programs: Nursery) -> None:
    assert programs.run(["--version"], {}).stdout.decode().split() == ["tarebook", __version__]
    assert "version" in project()["dynamic"]
    assert f'"{__version__}"' not in text_of(ROOT / "pyproject.toml")


def test_pre_commit_runs_what_make_lint_runs() -> None:
    recipe = re.search(r"^lint:.*\n((?:\t.+\n)+)", text_of(ROOT / "Makefile"), re.MULTILINE)
    assert recipe is not None
    linted = [line.strip().replace("$(RUN)", ".venv/bin") for line in recipe[1].splitlines()]
    config = text_of(ROOT / ".pre-commit-config.yaml")
    assert re.findall(r"^ +entry: (.+)$", config, re.MULTILINE) == linted
    assert config.count("pass_filenames: false") == len(linted)


def test_every_page_is_in_the_navigation_of_the_site() -> None:
    outside = dict(re.findall(r'^    "([\w/.]+)": "([\w/.]+)",$', text_of(ROOT / "docs" / "hooks.py"), re.MULTILINE))
    assert outside["README.md"] == "index.md"
    pages = {str(page.relative_to(ROOT / "docs")) for page in DOCS_PAGES} | set(outside.values())
    nav = text_of(ROOT / "mkdocs.yml").partition("\nnav:\n")[2]
    assert sorted(re.findall(r"[\w/-]+\.md", nav)) == sorted(pages)
    assert [path for path in outside if not (ROOT / path).exists()] == []
    assert [page.name for page in ROOT_PAGES if page.name not in outside] == []


def test_the_site_builds_and_asks_no_other_server(tmp_path: Path) -> None:
    pytest.importorskip("material", reason="the extra docs is not installed")
    done = subprocess.run(
        [sys.executable, "-m", "mkdocs", "build", "--strict", "--quiet", "--site-dir", tmp_path / "site"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
        env=os.environ | {"NO_MKDOCS_2_WARNING": "1"},
    )
    assert (done.returncode, done.stderr) == (0, "")
    home = text_of(tmp_path / "site" / "index.html")
    assert "chickpea stew" in home
    assert 'src="a_week.png"' in home
    loaded = re.findall(
        r'<(?:script|img|iframe)[^>]+src="(https?:[^"]+)|<link[^>]+rel="stylesheet"[^>]+"(https?:[^"]+)', home
    )
    assert loaded == []


def test_modules_are_short() -> None:
    modules = [path for package in ("bot", "domain") for path in (ROOT / package).rglob("*.py")]
    lengths = {str(path.relative_to(ROOT)): len(text_of(path).splitlines()) for path in modules}
    assert "bot/app.py" in lengths
    assert {module: lines for module, lines in lengths.items() if lines > LONGEST_MODULE} == {}


def test_developers_says_why_there_is_each_dependency_and_no_other() -> None:
    table = text_of(DEVELOPERS).partition("## Dependencies")[2]
    cells = re.findall(r"^\| (`[^|]+`) \|", table, re.MULTILINE)
    assert sorted(name for cell in cells for name in re.findall(r"`([\w-]+)`", cell)) == dependencies()


if __name__ == "__main__":
    for each in (README, SETTINGS, COMMANDS):
        each.write_text(up_to_date(text_of(each)), encoding="utf-8")
