"""What the build takes from the source, and what it refuses."""

from collections.abc import Mapping
from pathlib import Path

import pytest

from domain.reference.build import FOOD_COLUMNS, KINDS_COLUMNS, built_files, read_curated
from domain.reference.checking import problems
from domain.reference.published import HouseholdMeasure, Published, kitchen_measures

CELLS = {
    "ndb_no": "09003",
    "description": "Apples, raw, with skin",
    "refuse_pct": "10",
    "refuse_part": "Core and stem",
    "energy_kcal": "52",
    "protein_g": "0.26",
    "fat_g": "0.17",
    "carbohydrate_g": "13.81",
    "fibre_g": "2.4",
    "sugars_g": "10.39",
    "saturated_fat_g": "0.028",
    "sodium_mg": "1",
    "alcohol_g": "",
    "potassium_mg": "107",
    "calcium_mg": "6",
    "iron_mg": "0.12",
    "cholesterol_mg": "",
}
APPLE = Published(CELLS, (HouseholdMeasure(1, 'medium (3" dia)', 182), HouseholdMeasure(1, "cup", 125)))
SOURCE = {"09003": APPLE}


def measured(*measures: tuple[float, str, float]) -> Published:
    return Published(CELLS, tuple(HouseholdMeasure(*measure) for measure in measures))


class TestKitchenMeasures:
    @pytest.mark.parametrize(
        ("measures", "taken"),
        (
            ([(1, "cup", 244), (1, "fl oz", 30.5)], {"cup": 244, "floz": 30.5}),
            ([(0.5, "cup", 100)], {"cup": 200}),
            ([(2, "tbsp", 32)], {"tbsp": 16}),
            ([(1, "tablespoon", 13.5), (1, "teaspoon", 4.5)], {"tbsp": 13.5, "tsp": 4.5}),
            ([(1, "serving 1/2 cup", 66)], {"cup": 132}),
            ([(1, "serving (2 tbsp)", 30)], {"tbsp": 15}),
            ([(1, "cup (8 fl oz)", 245)], {"cup": 245}),
            ([(2, "Tbsp", 36)], {"tbsp": 18}),
            ([(1, "cup, chopped", 128)], {"cup": 128}),
            ([(1, "cup", 150), (1, "cup, mashed", 225)], {"cup": 150}),
            ([(1, "fl oz", 30.5), (8, "fl oz", 245)], {"floz": 30.625}),
            ([(1, "cupcake", 43), (1, "large (1 cup)", 250)], {}),
        ),
    )
    def test_one_reading_or_the_plain_one(
        self, measures: list[tuple[float, str, float]], taken: Mapping[str, float]
    ) -> None:
        assert kitchen_measures(measured(*measures)) == taken

    def test_two_qualified_readings_need_a_choice(self) -> None:
        assert kitchen_measures(measured((1, "cup chopped", 128), (1, "cup grated", 110))) == {}


class Folder:
    def __init__(self, path: Path) -> None:
        self.path = path

    def write(self, name: str, columns: tuple[str, ...], *lines: str) -> None:
        (self.path / name).write_text("\n".join([",".join(columns), *lines]) + "\n", encoding="utf-8")

    def found(self) -> str:
        return "\n".join(problems(read_curated(self.path), SOURCE))


@pytest.fixture
def folder(tmp_path: Path) -> Folder:
    return Folder(tmp_path)


class TestChecks:
    def test_a_sound_file(self, folder: Folder) -> None:
        folder.write("fruit.csv", FOOD_COLUMNS, "apple,apples,raw,,09003,medium=182,,,,,")
        folder.write("kinds.csv", KINDS_COLUMNS, "fruit,,apple,")
        assert folder.found() == ""

    @pytest.mark.parametrize(
        ("lines", "said"),
        (
            (["apple,,raw,,99999,,,,,,"], "no table has a row '99999'"),
            (["apple,,fresh,,09003,,,,,,"], "no such state"),
            (["apple,,cooked,smoked,09003,,,,,,"], "no such method"),
            (["apple,Cox,raw,,09003,,,,,,"], "not lower case"),
            (["apple,fruit one,raw,,09003,,,,,,", "pear,fruit one,raw,,09003,,,,,,"], "already means apple"),
            (["apple,pear,raw,,09003,,,,,,", "pear,,raw,,09003,,,,,,"], "already means pear"),
            (["apple,,raw,,09003,,,,,,", "apple,,raw,,09003,,,,,,"], "two rows of one state and method"),
            (["apple,,raw,,09003,,,,,,", "apple,pomme,cooked,,09003,,,,,,"], "first line"),
            (["apple,,raw,,09003,medium=200,,,,,"], "no household measure"),
            (["apple,,raw,,09003,,glass=200,,,,"], "measures can't be read"),
            (["apple,,raw,,09003,,,,,0,"], "needs its reason"),
            (["apple,,raw,,09003,,,,,0.5,half of it"], "a percentage"),
        ),
    )
    def test_an_unsound_line(self, folder: Folder, lines: list[str], said: str) -> None:
        folder.write("fruit.csv", FOOD_COLUMNS, *lines)
        assert said in folder.found()

    @pytest.mark.parametrize(
        ("line", "said"),
        (
            ("fruit,,pear,", "'pear', which is no food"),
            ("apple,,apple,", "already means apple"),
            ("fruit,pear,apple,", "not among its kinds"),
        ),
    )
    def test_an_unsound_generic_word(self, folder: Folder, line: str, said: str) -> None:
        folder.write("fruit.csv", FOOD_COLUMNS, "apple,,raw,,09003,,,,,,")
        folder.write("kinds.csv", KINDS_COLUMNS, line)
        assert said in folder.found()

    def test_a_food_in_two_files(self, folder: Folder) -> None:
        folder.write("fruit.csv", FOOD_COLUMNS, "apple,,raw,,09003,,,,,,")
        folder.write("more.csv", FOOD_COLUMNS, "apple,,cooked,boiled,09003,,,,,,")
        assert "stands in several files" in folder.found()

    def test_a_line_of_the_wrong_length(self, folder: Folder) -> None:
        folder.write("fruit.csv", FOOD_COLUMNS, "apple,,raw")
        with pytest.raises(SystemExit, match="line 2"):
            read_curated(folder.path)


class TestBuilding:
    def test_figures_are_copied_as_printed(self, folder: Folder) -> None:
        folder.write("fruit.csv", FOOD_COLUMNS, "apple,,raw,,09003,medium=182,,,,,")
        foods, _ = built_files(read_curated(folder.path), SOURCE).values()
        line = foods.splitlines()[1]
        assert line == (
            'apple,,fruit,,,raw,,SR28,09003,"Apples, raw, with skin",52,0.26,0.17,13.81,2.4,10.39,0.028,1,,107,6,0.12,,'
            "10,Core and stem,medium=182,cup=125,"
        )

    def test_a_corrected_refuse_of_nothing_has_no_part(self, folder: Folder) -> None:
        folder.write("fruit.csv", FOOD_COLUMNS, "apple,,raw,,09003,,,,,0,cored")
        foods, _ = built_files(read_curated(folder.path), SOURCE).values()
        assert ",0,,," in foods.splitlines()[1]
