"""Everyday names as people text them: none becomes another food, nearly all are known.

`everyday_names.txt` was written before anybody had looked at what became of its names.
"""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from .conftest import Hear

NAMES = Path(__file__).with_name("everyday_names.txt")
MOST_UNKNOWN = 0.017
"""Share of the names that may be unknown, or known only in part."""


def names() -> Iterator[tuple[str, re.Pattern[str], bool]]:
    """Each name with what its food is called, and whether a question which food it was is as good."""
    for line in NAMES.read_text("utf-8").splitlines():
        name, _, expected = line.partition("|")
        words = expected.split("|")
        if not line.startswith("#"):
            yield name, re.compile("|".join(w for w in words if w != "?") or "(?!)"), "?" in words


def test_no_name_becomes_another_food_and_nearly_all_are_known(heard: Hear) -> None:
    listed = list(names())
    wrong, unknown = [], []
    for name, expected, may_ask in listed:
        answer = heard(f"150 g {name}")
        foods = [event["food"] for event in answer.events if event["type"] == "weigh_in"]
        if foods:
            wrong += [f"{name}: {food}" for food in foods if not expected.search(food) and not may_ask]
        elif not answer.choices or "not “" in answer.text or "I don't know" in answer.text:
            unknown.append(name)
    assert len(listed) > 1200
    assert wrong == []
    assert len(unknown) <= MOST_UNKNOWN * len(listed), unknown


@pytest.mark.parametrize(
    ("said", "food"),
    (
        ("baked sweet pot 260", "sweet potato"),
        ("150 g hot choc", "hot chocolate"),
        ("40g dark choc 70%", "dark chocolate 70-85%"),
        ("30 g 55% dark chocolate", "dark chocolate 45-59%"),
        ("200 g fat free greek yog", "greek yogurt nonfat"),
        ("200 g 5% fat greek yoghurt", "greek yogurt whole"),
        ("200 g zero fat greek yog", "greek yogurt nonfat"),
        ("30 g half-fat creme fraiche", "half fat creme fraiche"),
        ("200 ml milk 3.5%", "whole milk"),
        ("100 g ninety three percent lean ground beef raw", "ground beef 93/7"),
        ("100 g five per cent beef mince raw", "ground beef 95/5"),
        ("120 g cherry toms", "cherry tomato"),
        ("200 g mashed tatties", "mashed potato"),
        ("40 g wholemeal pitta", "whole wheat pita"),
    ),
)
def test_shorthand_and_shares_of_fat(heard: Hear, said: str, food: str) -> None:
    assert heard(said).recorded()["food"] == food


@pytest.mark.parametrize(
    "said",
    (
        *("150 g zibber top milk", "120 g quxon home fries", "200 g sweet", "50 g tom", "150 g bitter lemon"),
        *(
            "30 g 99% dark chocolate",
            "100 g light feta wizard",
            "150 g light coconut wizard",
            "100 g wizard 93/7 mince",
        ),
    ),
)
def test_a_word_that_no_name_accounts_for_is_asked_about(heard: Hear, said: str) -> None:
    heard(said).asked()


def test_a_share_between_two_kinds_counts_as_the_nearer_one_and_says_so(heard: Hear) -> None:
    answer = heard("100 g 12% beef mince raw")
    assert answer.recorded()["food"] == "ground beef 90/10"
    assert "say the kind" in answer.text


@pytest.mark.parametrize("said", ("chicken sandwich", "seaweed", "red top milk", "soya mince"))
def test_a_word_for_several_foods_is_asked_about(heard: Hear, said: str) -> None:
    heard(f"150 g {said}").asked()


@pytest.mark.parametrize("said", ("150 g they're", "150 g flumph", "150 g wizard ball"))
def test_noise_is_offered_nothing(heard: Hear, said: str) -> None:
    choices = heard(said).choices
    assert set(choices) <= {"weight only", "type its label"}
