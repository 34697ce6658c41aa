"""What a cooked pot weighs, what was poured off it, and vessels that are weighed empty."""

from __future__ import annotations

import pytest

from tests.language.conftest import Hear

STEW = "stew: 1200 g raw beef chuck, 700 g potatoes, 180 g carrots"


@pytest.mark.parametrize(
    ("text", "grams"),
    (
        ("stew's ready now hen, 1850 wi'out the pot", 1850),
        ("right that's the stew finished cooking and it's one thousand eight hundred and forty grams on its own", 1840),
        ("after two hours in oven the stew has weight 1780 g", 1780),
        ("stew total w/ pot 3900, pot is 2050", 1850),
        ("all cooked up, scale minus the pot gives 1800 for the stew", 1800),
        ("that's us, stew's 1790 on the dot minus pot", 1790),
        ("stew tared out at 1815", 1815),
        ("dished the whole stew into a bowl, weighs 1780 net", 1780),
        ("stew + pan is 2900, pan's 1120", 1780),
        ("pan with the stew 3140, pan alone 1160", 1980),
        ("stew done 1730 g, drained 30 g fat off it though, the 1730 is after", 1730),
    ),
)
def test_a_cooked_pot_is_weighed(heard: Hear, text: str, grams: float) -> None:
    said = heard(STEW, text)
    assert said.one("batch_cooked")["cooked_g"] == pytest.approx(grams)
    assert not {"weigh_in", "weigh_in_open", "question"} & set(said.kinds), said


@pytest.mark.parametrize(
    ("opened", "text"),
    (
        (
            "casserole: 1200 g raw beef chuck, 700 g potatoes",
            "the casserole is cooked, and without the pot it comes to 1710 g",
        ),
        ("new batch bolognese: 750 g lamb mince raw, 800 g passata, 350 onion", "bol done 1710"),
        ("lasagne: 900 g lamb mince raw, 300 g dry pasta, 800 g passata", "lasag out the oven 1710 net of dish"),
    ),
)
def test_a_pot_called_by_a_part_of_its_name_or_after_a_vessel(heard: Hear, opened: str, text: str) -> None:
    assert heard(opened, text).one("batch_cooked")["cooked_g"] == pytest.approx(1710)


@pytest.mark.parametrize(
    ("opened", "weighed", "text", "grams"),
    (
        (
            "casserole: 1200 g raw beef chuck, 700 g potatoes",
            "casserole done 1700",
            "my own dinner from the casserole and it was 320 grams of it",
            320,
        ),
        ("new batch bolognese: 750 g lamb mince raw, 800 g passata", "bol done 1310", "300 bol", 300),
        (
            "prep: call it tray bake. chicken thighs 900 raw, potatoes 800",
            "tray bake came out 1400",
            "350 g tray bake for lunch",
            350,
        ),
        (
            "a skillet going: potatoes 800, turkey mince raw 500, call it skillet hash",
            "skillet hash done 1100",
            "280 skillet hash",
            280,
        ),
    ),
)
def test_a_portion_of_a_pot_that_no_table_knows(
    heard: Hear, opened: str, weighed: str, text: str, grams: float
) -> None:
    taken = heard(opened, weighed, "bread 40 g with butter 8 g", text).one("weigh_in")
    assert taken["as_weighed_g"] == grams
    assert taken["batch"] is not None


@pytest.mark.parametrize(
    "text",
    (
        "stew should weigh about 1800 when done",
        "done for the day, 400 g nonfat greek yogurt",
        "will the stew be 1800 cooked?",
    ),
)
def test_no_cooked_weight(heard: Hear, text: str) -> None:
    assert not heard(STEW, text).all("batch_cooked")


@pytest.mark.parametrize(
    ("text", "fat_g"),
    (
        ("poured off 25 g ghee", 25),
        ("tipped 60 g of fat off the top of the stew", 60),
        ("35 g fat came off when I drained the stew", 35),
        ("skimmed 40 g of grease off the stew", 40),
        ("strained off 300 g of water from the stew", 0),
    ),
)
def test_what_is_poured_off(heard: Hear, text: str, fat_g: float) -> None:
    assert heard(STEW, text).one("batch_drained").get("fat_g", 0) == pytest.approx(fat_g)


@pytest.mark.parametrize(
    ("text", "saved"),
    (
        ("shaker is 148 g empty, save it", {"shaker": 148}),
        ("big pot weighs 1870 g, small pot weighs 1240 g", {"big pot": 1870, "small pot": 1240}),
        ("right the karahi on its own is 1320", {"karahi": 1320}),
        ("yon big pan's 980 toom", {"big pan": 980}),
        ("glass dish w nothing in: 1230", {"glass dish": 1230}),
        ("Without any food my lunch tub is 96 g", {"lunch tub": 96}),
        ("weighed the slow cooker insert, it is 2840 g with nothing inside", {"slow cooker insert": 2840}),
        ("pyrex 640 and the blue bowl 310, both empty", {"pyrex": 640, "blue bowl": 310}),
        ("weigh the wok for me later, it was 1450 g bare", {"wok": 1450}),
        ("blue tub 85g green tub 92g, empties", {"blue tub": 85, "green tub": 92}),
        ("The brown jug-shaped bowl is 515 g when there's nothing in it", {"brown jug shaped bowl": 515}),
        ("lunchbox A 120 g, lunchbox B 134 g, both empty", {"lunchbox a": 120, "lunchbox b": 134}),
        ("me measuring jug is 210 with nowt in", {"me measuring jug": 210}),
        ("tupperware small 62 g, tupperware large 118 g empty", {"tupperware small": 62, "tupperware large": 118}),
        ("big cook day. blue pot weighs 2450 empty", {"blue pot": 2450}),
    ),
)  # fmt: skip
def test_empty_vessels_are_saved(heard: Hear, text: str, saved: dict[str, float]) -> None:
    said = heard(text)
    assert {e["name"]: e["grams"] for e in said.all("tare_saved")} == saved
    assert {e["type"] for e in said.records} == {"tare_saved"}


def test_a_saved_vessel_is_known_by_the_end_of_its_name(heard: Hear) -> None:
    said = heard("big blue pot is 2450 empty", STEW, "stew finished, blue pot on the scale says 4430")
    assert said.one("batch_cooked")["cooked_g"] == pytest.approx(1980)


@pytest.mark.parametrize(
    "text",
    (
        "bowl 250, nonfat greek yogurt 430, blueberries 512",
        "a bowl of tomato soup is 300 g",
        "the empty wrapper was 4 g, bar was 45 g",
        "empty stomach, 81.2 kg",
        "bowl with blueberries 430, bowl empty 250",
    ),
)
def test_no_vessel_is_saved(heard: Hear, text: str) -> None:
    assert not heard(text).all("tare_saved")
