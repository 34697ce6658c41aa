"""A bare number behind pounds is ounces, unless it counts what stands behind it."""

import pytest

from .conftest import Hear

# NIST Handbook 44, appendix C: exact
OUNCE_G = 28.349523125
CHILI = "chili: 2 lb ground beef 80/20 raw, 28 oz can crushed tomatoes, 2 lb water, 1 lb kidney beans canned"


@pytest.mark.parametrize(
    ("text", "ounces"),
    (
        ("cooked chicken breast 1 lb 4", 20),
        ("1 lb 3 raw potatoes", 19),
        ("cheddar, 1lb 2", 18),
        ("one pound four cooked chicken breast", 20),
        ("2 lb 6 cooked white rice", 38),
        ("cheddar 1 lb 2, had it all", 18),
    ),
)
def test_ounces_without_their_unit(heard: Hear, text: str, ounces: int) -> None:
    assert heard(text).recorded()["as_weighed_g"] == pytest.approx(ounces * OUNCE_G, abs=0.01)


def test_a_number_that_counts_is_no_ounces(heard: Hear) -> None:
    masses = [e["as_weighed_g"] for e in heard("cooked chicken breast 1 lb, 3 eggs").events if "as_weighed_g" in e]
    assert masses[0] == pytest.approx(16 * OUNCE_G, abs=0.01)


@pytest.mark.parametrize("text", ("cheddar 1 lb 20", "raw potatoes 2 lb 3 onions", "cheddar 1 lb 0.5"))
def test_other_numbers_behind_pounds_make_no_weight_of_both(heard: Hear, text: str) -> None:
    wrong = {36 * OUNCE_G, 35 * OUNCE_G, 16.5 * OUNCE_G}
    assert not any(e.get("as_weighed_g") == pytest.approx(g, abs=0.1) for e in heard(text).events for g in wrong)


@pytest.mark.parametrize(
    ("text", "ounces"),
    (
        ("done. whole thing w/ the dutch oven is 9 lb 2", 146),
        ("out of the oven, 9 lb 4 with the dutch oven", 148),
        ("chili's ready: 8 lb 11 in the dutch oven", 139),
        ("weighs 9lb 2 dutch oven included", 146),
        ("done, nine pounds two with the dutch oven", 146),
        ("chili all done, dutch oven and all 9 lb 2", 146),
    ),
)
def test_the_known_vessel_is_taken_off(heard: Hear, text: str, ounces: int) -> None:
    said = heard("the dutch oven weighs 4 lb 10", CHILI, text)
    assert said.one("batch_cooked")["cooked_g"] == pytest.approx((ounces - 74) * OUNCE_G, abs=0.01)


@pytest.mark.parametrize(
    ("text", "name", "grams"),
    (
        ("the dutch oven weighs 4 lb 10 oz", "dutch oven", 74 * OUNCE_G),
        ("big orange casserole is 3.1 kg", "big orange casserole", 3100),
        ("my roasting tin weighs 1210", "roasting tin", 1210),
        ("cast iron skillet weighs 5 lb 6", "cast iron skillet", 86 * OUNCE_G),
        ("the slow cooker insert is 2250 g", "slow cooker insert", 2250),
        ("our clay pot comes in at 1.9 kg", "clay pot", 1900),
    ),
)
def test_a_vessel_with_a_name_of_its_own_is_saved(heard: Hear, text: str, name: str, grams: float) -> None:
    saved = heard(text).one("tare_saved")
    assert (saved["name"], saved["grams"]) == (name, pytest.approx(grams, abs=0.01))


@pytest.mark.parametrize(
    "text",
    ("the beef stew in the oven weighs 2 kg", "should the dutch oven weigh 4 lb?", "lunch box with rice is 300 g"),
)
def test_what_is_no_vessel_is_not_saved(heard: Hear, text: str) -> None:
    assert "tare_saved" not in heard(text).kinds
