"""The files for running it elsewhere can be read, and the page about it names what there is."""

import re
import shutil
import subprocess
import tomllib
from pathlib import Path
from typing import Any

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from bot.channels.telegram.monitor import Backlog, Monitor

ROOT = Path(__file__).parents[1]
DEPLOY = ROOT / "deploy"
PAGE = (ROOT / "docs" / "running.md").read_text(encoding="utf-8")
RUN_BY = ("Containerfile", "compose.yaml", "tarebook.service")
CODE = "".join(path.read_text(encoding="utf-8") for path in (ROOT / "bot").rglob("*.py"))


@pytest.mark.skipif(shutil.which("systemd-analyze") is None, reason="there is no systemd here")
def test_systemd_understands_the_unit(tmp_path: Path) -> None:
    unit = tmp_path / "tarebook.service"
    # The program is not in its place here.
    text, changed = re.subn(r"^ExecStart=\S+", "ExecStart=/bin/true", (DEPLOY / unit.name).read_text(), flags=re.M)
    unit.write_text(text)
    assert changed == 1
    done = subprocess.run(["systemd-analyze", "verify", unit], capture_output=True, text=True, timeout=60)
    assert (done.returncode, done.stderr) == (0, "")


def test_the_compose_file_gives_each_service_the_secrets_that_it_reads() -> None:
    yaml = pytest.importorskip("yaml")
    found: dict[str, Any] = yaml.safe_load((DEPLOY / "compose.yaml").read_text())
    assert set(found["services"]) == {"tarebook", "postgresql"}
    for service in found["services"].values():
        read = {value for name, value in service["environment"].items() if name.endswith("_FILE")}
        assert read == {f"/run/secrets/{secret}" for secret in service["secrets"]}
        assert set(service["secrets"]) <= set(found["secrets"])
    build = found["services"]["tarebook"]["build"]
    assert (DEPLOY / build["context"] / build["dockerfile"]).exists()


def test_what_the_container_copies_is_there() -> None:
    lines = (DEPLOY / "Containerfile").read_text().splitlines()
    copies = [line for line in lines if line.startswith("COPY") and "--from=" not in line]
    copied = [word for line in copies for word in line.split()[1:-1]]
    assert {"bot", "domain", "migrations", "pyproject.toml"} <= set(copied)
    assert [path for path in copied if not (ROOT / path).exists()] == []


@pytest.mark.parametrize("text", (PAGE, *((DEPLOY / name).read_text() for name in RUN_BY)))
def test_its_variables_are_read_somewhere(text: str) -> None:
    named = {name.removesuffix("_FILE") for name in re.findall(r"TAREBOOK_[A-Z_]+[A-Z]", text)}
    assert named
    assert [name for name in sorted(named) if f'"{name}"' not in CODE] == []


def test_the_page_names_every_metric_and_no_other() -> None:
    monitor = Monitor()
    monitor.sent("reply")
    shown = monitor.metrics(Backlog(1, 2)).decode()
    kept = {name for name in re.findall(r"^(tarebook_\w+)[ {]", shown, re.MULTILINE) if not name.endswith("_created")}
    families = {f"{each.name}_total" if each.type == "counter" else each.name for each in monitor.registry.collect()}
    named = re.findall(r"^\| `(tarebook_\w+)(?:{what=\"(\w+)\"})?`", PAGE, re.MULTILINE)
    assert {name for name, _ in named} == families
    assert kept <= families
    assert [what for _, what in named if what and f'tarebook_waiting{{what="{what}"}}' not in shown] == []


def test_the_pages_links_lead_somewhere() -> None:
    links = re.findall(r"\]\((?!https?:)([^)#]+)", PAGE)
    assert links
    assert [link for link in links if not (ROOT / "docs" / link).exists()] == []


LOCK = (DEPLOY / "requirements.txt").read_text(encoding="utf-8")


def locked() -> list[tuple[Requirement, int]]:
    """What a deployment installs, and with how many hashes each."""
    entries = re.findall(r"^(\S+==[^\\\n]+?) \\\n((?: {4}--hash=sha256:[0-9a-f]{64}(?: \\)?\n)+)", LOCK, re.MULTILINE)
    return [(Requirement(pin), hashes.count("sha256:")) for pin, hashes in entries]


def test_every_locked_dependency_has_a_hash() -> None:
    pinned = [line for line in LOCK.splitlines() if line and not line.startswith((" ", "#"))]
    assert len(pinned) == len(locked()) > 30
    # Nothing says where it was fetched: an operator's own index decides.
    assert "://" not in LOCK


def test_the_lock_is_what_the_project_asks_for() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    asked = [*project["dependencies"], *project["optional-dependencies"]["encryption"]]
    asked += [line for line in (DEPLOY / "build.in").read_text().splitlines() if not line.startswith("#")]
    pins: dict[str, list[str]] = {}
    for pin, _ in locked():
        pins.setdefault(canonicalize_name(pin.name), []).append(str(pin.specifier).removeprefix("=="))
    for requirement in map(Requirement, asked):
        versions = pins.get(canonicalize_name(requirement.name), [])
        assert versions, f"{requirement.name} is not locked: make lock"
        assert all(requirement.specifier.contains(version) for version in versions), f"{requirement}: make lock"


def test_the_container_installs_only_what_is_locked() -> None:
    text = (DEPLOY / "Containerfile").read_text(encoding="utf-8")
    installs = re.findall(r"pip install ([^&\n]*)", text)
    assert len(installs) == 2
    assert all("--require-hashes" in each or "--no-index" in each for each in installs)
