"""How long food keeps: every kind by its own published time, and its source beside it.

USDA figures: "Refrigerator & Freezer Storage Chart" (FDA, March 2018) as copied at docslib.org/doc/10255062 and
studylib.net/doc/26136208, and the FSIS chart at valleyhealthmill.com (all read); salads and freezer times of leftovers:
nia.nih.gov, Illinois Extension (read). UK: the NHS text at healthwell.eani.org.uk, rice at getskillonline.com (read).
"""

from datetime import date

import pytest

from domain.batch_steps import Ingredient, Place
from domain.foods import State
from domain.quantities import Region
from domain.storage import Kind, keeps, kind_of_batch

FRIDGE, FREEZER = Place.FRIDGE, Place.FREEZER


@pytest.mark.parametrize(
    ("kind", "place", "region", "words"),
    (
        (Kind.RAW_POULTRY, FRIDGE, Region.US, "1 to 2 days"),
        (Kind.RAW_POULTRY, FREEZER, Region.US, "9 to 12 months"),
        (Kind.RAW_MINCE, FRIDGE, Region.UK, "1 to 2 days"),
        (Kind.RAW_MINCE, FREEZER, Region.US, "3 to 4 months"),
        (Kind.RAW_MEAT, FRIDGE, Region.US, "3 to 5 days"),
        (Kind.COOKED_MEAT, FRIDGE, Region.US, "3 to 4 days"),
        (Kind.COOKED_MEAT, FRIDGE, Region.UK, "2 days"),
        (Kind.COOKED_MEAT, FREEZER, Region.UK, "2 to 6 months"),
        (Kind.SOUP, FRIDGE, Region.METRIC, "3 to 4 days"),
        (Kind.SOUP, FREEZER, Region.US, "2 to 3 months"),
        (Kind.GRAVY, FRIDGE, Region.US, "1 to 2 days"),
        (Kind.HARD_BOILED_EGGS, FRIDGE, Region.US, "7 days"),
        (Kind.SALAD, FRIDGE, Region.US, "3 to 4 days"),
        (Kind.LEFTOVERS, FREEZER, Region.US, "3 to 4 months"),
        (Kind.RICE, FRIDGE, Region.UK, "1 day"),
        (Kind.LEFTOVERS, FRIDGE, Region.UK, "2 days"),
    ),
)
def test_each_kind_keeps_for_its_published_time(kind: Kind, place: Place, region: Region, words: str) -> None:
    found = keeps(kind, place, region)
    assert found is not None
    assert found.in_words() == words
    assert found.source
    assert found.for_quality == (place is FREEZER)


@pytest.mark.parametrize("kind", (Kind.HARD_BOILED_EGGS, Kind.SALAD))
def test_what_should_not_be_frozen_has_no_time_there(kind: Kind) -> None:
    assert keeps(kind, FREEZER, Region.US) is None


@pytest.mark.parametrize("kind", Kind)
def test_the_uks_time_is_never_the_longer_one(kind: Kind) -> None:
    uk, us = keeps(kind, FRIDGE, Region.UK), keeps(kind, FRIDGE, Region.US)
    assert uk is not None
    assert us is not None
    assert uk.low_days <= us.low_days


def test_it_is_asked_about_when_the_shorter_time_is_over() -> None:
    found = keeps(Kind.LEFTOVERS, FRIDGE, Region.US)
    assert found is not None
    monday = date(2026, 3, 2)
    assert not found.past(monday, date(2026, 3, 5))
    assert found.past(monday, date(2026, 3, 6))
    assert found.ask_on(monday) == date(2026, 3, 6)


def part(food: str, grams: float, group: str) -> Ingredient:
    return Ingredient(food, State.RAW, grams, None, group, "")


@pytest.mark.parametrize(
    ("parts", "cooked", "kind"),
    (
        ((part("chicken thigh", 600, "poultry"), part("onion", 200, "vegetables")), True, Kind.COOKED_MEAT),
        ((part("chicken thigh", 600, "poultry"),), False, Kind.RAW_POULTRY),
        ((part("ground pork", 600, "meat"),), False, Kind.RAW_MINCE),
        ((part("pork loin", 600, "meat"),), False, Kind.RAW_MEAT),
        ((part("cod", 400, "fish"), part("white rice", 200, "grains")), True, Kind.RICE),
        ((part("cod", 100, "fish"), part("potato", 800, "vegetables")), True, Kind.COOKED_FISH),
        ((part("cod", 100, "fish"),), False, Kind.RAW_FISH),
        ((part("water", 900, "drinks"), part("red lentils", 300, "pulses")), True, Kind.SOUP),
        ((part("egg", 300, "dairy"),), True, Kind.HARD_BOILED_EGGS),
        ((part("egg", 300, "dairy"), part("potato", 200, "vegetables")), True, Kind.EGG_DISH),
        ((part("eggplant", 900, "vegetables"), part("rice vinegar", 20, "condiments")), True, Kind.LEFTOVERS),
    ),
)
def test_a_batch_is_of_the_kind_that_keeps_least(parts: tuple[Ingredient, ...], cooked: bool, kind: Kind) -> None:
    assert kind_of_batch(parts, cooked) is kind
