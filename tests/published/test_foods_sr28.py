"""Every figure of the food table against its source: USDA Standard Reference, release 28.

The source table is not part of the project. It is looked for where TAREBOOK_SR28 says, else in a folder
`shared/reference` beside the project; a copy with the same columns can be made from the public SR28 files.
"""

import csv
import os
from collections.abc import Mapping
from pathlib import Path

import pytest

from domain.reference import FOODS_CSV, load, read_amounts
from domain.reference.build import CURATED, FIGURES, built_files, read_curated
from domain.reference.checking import problems
from domain.reference.published import Published, kitchen_measures, read_published

from ..refuse_corrections import CORRECTED, NOTHING_LEFT

PLACES = (
    Path(os.environ.get("TAREBOOK_SR28", "usda_sr28.tsv.gz")),
    Path(__file__).parents[3] / "shared" / "reference" / "usda_sr28.tsv.gz",
)
FOUND = next((place for place in PLACES if place.is_file()), None)

pytestmark = pytest.mark.skipif(FOUND is None, reason="the SR28 table is not here; name its place in TAREBOOK_SR28")


@pytest.fixture(scope="module")
def published() -> Mapping[str, Published]:
    assert FOUND is not None
    return read_published(FOUND)


@pytest.fixture(scope="module")
def built() -> list[dict[str, str]]:
    with FOODS_CSV.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_the_source_is_the_whole_release(published: Mapping[str, Published]) -> None:
    # SR28 documentation (USDA ARS, 2016): 8,789 foods.
    assert len(published) == 8789


def test_every_figure_is_the_published_one(built: list[dict[str, str]], published: Mapping[str, Published]) -> None:
    for row in built:
        source = published[row["ndb"]]
        assert row["source"] == source.description
        for ours, theirs in FIGURES.items():
            assert row[ours] == source.cells[theirs], (row["food"], ours)


def test_the_loader_reads_what_is_published(published: Mapping[str, Published]) -> None:
    for food in load().foods.values():
        for row in food.rows:
            for ours, theirs in FIGURES.items():
                value, cell = getattr(row.per_100g, ours), published[row.ndb].cells[theirs]
                assert value == (float(cell) if cell else None), (food.name, ours)


def test_no_branded_row_is_used(published: Mapping[str, Published]) -> None:
    # SR28 writes brands in capitals; these capitals are no brands.
    no_brand = {"USDA", "NLEA", "DHA", "NFSMI", "US", "USA", "IMPS", "BI"}
    for food in load().foods.values():
        for row in food.rows:
            words = published[row.ndb].description.replace(",", " ").replace("(", " ").replace(")", " ").split()
            shouted = {word for word in words if len(word) > 1 and word.isalpha() and word.isupper()}
            assert shouted <= no_brand, (food.name, row.ndb)


def test_refuse_is_the_published_one_but_for_the_named_corrections(
    built: list[dict[str, str]], published: Mapping[str, Published]
) -> None:
    corrected = {}
    for row in built:
        theirs, ours = float(published[row["ndb"]].cells["refuse_pct"] or 0), float(row["refuse_pct"])
        if theirs != ours and not (ours == 0 and row["food"] in NOTHING_LEFT):
            corrected[row["ndb"], row["method"]] = (theirs, ours)
    assert corrected == {key: (theirs, ours) for key, (theirs, ours, _) in CORRECTED.items()}


def test_a_measure_that_is_not_the_published_one_says_why(
    built: list[dict[str, str]], published: Mapping[str, Published]
) -> None:
    for row in built:
        source = published[row["ndb"]]
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


def test_the_curated_files_are_sound(published: Mapping[str, Published]) -> None:
    assert problems(read_curated(CURATED), published) == []


def test_the_table_is_what_the_curated_files_make_of_the_source(published: Mapping[str, Published]) -> None:
    for path, text in built_files(read_curated(CURATED), published).items():
        assert path.read_text(encoding="utf-8") == text, path.name
