"""Numbers in words are read digit by digit as others say them.

Cardinals and decimals: what `num2words` says, with "and" and without. Short forms by L. Bauer and P. Nation, "Numbers"
(Routledge, doi:10.4324/9780367855222-10): 237 as "two thirty-seven", 509 as "five oh nine", 5,981 as "fifty-nine
eighty-one"; four-digit numbers as hundreds ("twelve hundred twenty-five") by Wikipedia, "English numerals".
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from num2words import num2words

from bot.language.lexicon import lexicon
from bot.language.numbers import Number, NumberReader
from bot.language.surroundings import Surroundings
from bot.language.text import normalise, tokenise
from bot.language.told import Item
from bot.language.understand import understand

from .conftest import Hear

GENERATED = 300
# derandomised, so that a run finds the same as the one before
many = settings(max_examples=500, deadline=None, derandomize=True)


def read(said: str) -> tuple[Number, ...]:
    """The readings of a text that begins with a number."""
    return NumberReader(tokenise(normalise(said)), lexicon().units).at(0)


def value_of(said: str, behind: str = "grams") -> float | None:
    """The likeliest number before a unit; None where it does not reach up to the unit."""
    found = read(f"{said} {behind}")
    whole = len(tokenise(normalise(f"{said} {behind}"))) - len(behind.split())
    return found[0].value if found and found[0].end == whole and not found[0].spread else None


def cardinal(value: int) -> str:
    return str(num2words(value))


def without_and(value: int) -> str:
    return cardinal(value).replace(" and ", " ")


def dictated(value: int) -> str:
    return cardinal(value).replace("-", " ").replace(",", "")


def with_an_article(value: int) -> str:
    said = dictated(value)
    return f"a{said.removeprefix('one')}" if said.startswith(("one hundred", "one thousand")) else said


def in_hundreds(value: int) -> str:
    hundreds, rest = divmod(value, 100)
    if not 11 <= hundreds <= 99 or hundreds % 10 == 0:
        return cardinal(value)
    return f"{cardinal(hundreds)} hundred {cardinal(rest) if rest else ''}".strip()


def short(value: int) -> str:
    hundreds, rest = divmod(value, 100)
    # "twenty fifty" and "fifteen twenty" may be ranges
    tens = hundreds % 10 == rest % 10 == 0 and rest > hundreds
    fives = hundreds % 5 == rest % 5 == 0 and 0 < rest - hundreds <= 10
    if not 0 < hundreds < 100 or not rest or tens or fives:
        return cardinal(value)
    return f"{cardinal(hundreds)} {cardinal(rest) if rest > 9 else f'oh {cardinal(rest)}'}"


FORMS: tuple[Callable[[int], str], ...] = (cardinal, without_and, dictated, with_an_article, in_hundreds, short)


def generated() -> Iterator[tuple[str, float]]:
    """Three hundred numbers as they are spoken: every form in turn, a sixth of them with a decimal part."""
    chance = random.Random(20)
    for i in range(GENERATED):
        value = chance.choice((chance.randint(1, 99), chance.randint(100, 999), chance.randint(1000, 9999)))
        if i % 6 == 5:
            decimal = float(f"{value % 500}.{chance.choice(('2', '5', '05', '25', '75', '125'))}")
            yield str(num2words(decimal)), decimal
        else:
            yield FORMS[i % 6](value), value


def test_three_hundred_spoken_numbers_are_read_without_a_digit_wrong() -> None:
    wrong = {said: value_of(said) for said, value in generated() if value_of(said) != pytest.approx(value, abs=1e-9)}
    assert wrong == {}


@many
@given(st.integers(0, 99_999), st.sampled_from((cardinal, without_and, dictated, with_an_article)))
def test_any_spoken_number_is_read_back(value: int, form: Callable[[int], str]) -> None:
    assert value_of(form(value)) == value
    assert value_of(form(value), "of cooked rice") == value


@many
@given(st.integers(100, 9_999))
def test_any_short_form_is_read_back(value: int) -> None:
    assert value_of(short(value)) == value


@many
@given(st.integers(0, 9_999), st.from_regex(r"[0-9]{1,3}", fullmatch=True))
def test_any_spoken_decimal_is_read_back(whole: int, digits: str) -> None:
    said = f"{dictated(whole)} point {' '.join(cardinal(int(digit)) for digit in digits)}"
    assert value_of(said) == pytest.approx(float(f"{whole}.{digits}"))


@many
@given(st.integers(1, 99), st.integers(1, 9), st.integers(2, 10))
def test_any_mixed_fraction_is_read_back(whole: int, top: int, bottom: int) -> None:
    names = {2: "half", 3: "third", 4: "quarter"}
    part = names.get(bottom, str(num2words(bottom, to="ordinal")))
    if top >= bottom:
        top = 1
    said = f"{dictated(whole)} and {cardinal(top)} {part}{'s' if top > 1 else ''}"
    assert value_of(said, "cups") == pytest.approx(float(whole + Fraction(top, bottom)))


@pytest.mark.parametrize(
    ("said", "value"),
    (
        ("two hundred five", 205),
        ("thirteen hundred", 1300),
        ("hundred twenty", 120),
        ("2 hundred and fifty", 250),
        ("one eight zero", 180),
        ("five zero", 50),
        ("twentyfive", 25),
        ("point five", 0.5),
        ("6 point 2", 6.2),
        ("eighty two comma four", 82.4),
        ("three and a half", 3.5),
        ("2 and 1/2", 2.5),
        ("half a", 0.5),
        ("a quarter of a", 0.25),
        ("three quarters of a", 0.75),
        ("half a dozen", 6),
        ("two dozen", 24),
        ("a couple of hundred", 200),
        ("one and a half hundred", 150),
        # heard wrong, right before a unit
        ("ate", 8),
        ("forty ate", 48),
        ("thirty too", 32),
        ("to hundred", 200),
        ("a hundred and for", 104),
        ("won", 1),
        ("tree", 3),
    ),
)
def test_a_number_said_in_any_way_has_its_value(said: str, value: float) -> None:
    assert value_of(said) == pytest.approx(value)


@pytest.mark.parametrize("said", ("fifty sixty", "two three", "fifteen twenty", "two three hundred", "twenty fifty"))
def test_two_numbers_in_one_breath_may_be_a_range(said: str) -> None:
    assert read(f"{said} grams")[0].spread


@pytest.mark.parametrize(
    "said",
    ("i ate ounces of cheddar", "convert to ounces", "the third", "point of view", "for breakfast", "o dear", "tree"),
)
def test_a_word_that_only_sounds_like_a_number_is_none_elsewhere(said: str) -> None:
    tokens = tokenise(said)
    reader = NumberReader(tokens, lexicon().units)
    assert [reader.at(i) for i in range(len(tokens))] == [()] * len(tokens)


def test_other_readings_are_kept_and_dearer() -> None:
    assert [(n.value, n.end) for n in read("two fifty gram patties")] == [(250, 2), (2, 1)]
    costs = [n.cost for n in read("one hundred and two eggs")]
    assert costs == sorted(costs)
    assert {n.value for n in read("one hundred and two eggs")} >= {102, 100}


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("cooked rice two fifty", 250),
        ("i had one eighty grams of cooked rice", 180),
        ("a hundred seventy grams of cooked rice", 170),
        ("six point two ounces of cheddar", 6.2 * 28.349523125),  # NIST Handbook 44, appendix C
        ("one point two kilos of raw potatoes", 1200),
        ("salmon a hundred and ten", 110),
        ("for eggs", 4 * 50),  # USDA SR28, 01123: a large egg, the US size without a word, is 50 g
    ),
)
def test_a_spoken_weight_is_recorded(heard: Hear, said: str, grams: float) -> None:
    assert heard(said).recorded()["as_weighed_g"] == pytest.approx(grams, abs=0.01)


@pytest.mark.parametrize("said", ("fifty sixty grams of cheddar", "for hundred grams of cooked rice"))
def test_a_spoken_weight_of_two_readings_is_asked_about(heard: Hear, said: str) -> None:
    heard(said).asked()


@pytest.mark.parametrize(
    ("said", "at"),
    (
        ("cooked rice 200 g at seven thirty", "07:30"),
        ("cooked rice 200 g at nine oh five", "09:05"),
        ("cooked rice 200 g at half past ten", "10:30"),
        ("cooked rice 200 g at twenty five past ten", "10:25"),
        ("cooked rice 200 g forty five minutes ago", "11:15"),
        ("cooked rice 200 g an hour and a half ago", "10:30"),
    ),
)
def test_a_spoken_time_is_no_amount(said: str, at: str) -> None:
    (item,) = understand(said, Surroundings(now=datetime(2026, 3, 2, 12, tzinfo=UTC)))
    assert isinstance(item, Item)
    assert item.amount is not None
    assert item.amount.grams == 200
    assert item.when.moment is not None
    assert f"{item.when.moment:%H:%M}" == at
