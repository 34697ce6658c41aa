"""Numbers as cooks write them: what they come to in grams, which are no amounts, which have to be asked about."""

import pytest

from .conftest import Hear


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("300 g cooked rice", 300),
        ("300.5 g cooked rice", 300.5),
        ("300,5 g cooked rice", 300.5),
        ("0.5 kg cooked rice", 500),
        (".5 kg cooked rice", 500),
        ("0,25 kg cooked rice", 250),
        ("1/2 kg cooked rice", 500),
        ("½ kg cooked rice", 500),
        ("1½ kg cooked rice", 1500),
        ("1 1/2 kg cooked rice", 1500),
        ("1 ½ kg cooked rice", 1500),
        ("3⁄4 kg cooked rice", 750),
        ("half a kilo of cooked rice", 500),
        ("a quarter kilo of cooked rice", 250),
        ("one kilo of cooked rice", 1000),
        ("two kilos of cooked rice", 2000),
        ("two hundred grams of cooked rice", 200),
        ("a hundred grams of cooked rice", 100),
        ("３００ g cooked rice", 300),  # full-width digits, NFKC
        ("3​00 g cooked rice", 300),  # a zero-width space within
        ("‎300 g cooked rice", 300),  # a left-to-right mark before
        ("300g cooked rice", 300),
        ("300G cooked rice", 300),
        ("cooked rice 300g", 300),
        ("cooked rice: 300 g", 300),
        ("cooked rice, 300 g", 300),
        ("cooked rice (300 g)", 300),
        ("cooked rice - 300 g", 300),
        ("cooked rice = 300 g", 300),
    ),
)
def test_a_number_is_read_in_every_spelling(heard: Hear, said: str, grams: float) -> None:
    assert heard(said).recorded()["as_weighed_g"] == pytest.approx(grams, abs=0.01)


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("1,250 g cooked rice", 1250),
        ("1,250 kg cooked rice", 1250),  # 1250 kg is no plate of rice
        ("0,250 kg cooked rice", 250),
        ("0,250 g cooked rice", 0.25),
        ("12,5 g cooked rice", 12.5),
        ("12,50 g cooked rice", 12.5),
        ("1,250.5 g cooked rice", 1250.5),
        ("1.250,5 g cooked rice", 1250.5),
    ),
)
def test_a_comma_before_three_digits_groups_unless_that_is_impossible(heard: Hear, said: str, grams: float) -> None:
    assert heard(said).recorded()["as_weighed_g"] == pytest.approx(grams, abs=0.01)


@pytest.mark.parametrize(
    "said",
    (
        "1e3 g cooked rice",
        "2e3g cooked rice",
        "1,2,3 g cooked rice",
        "1.2.3 g cooked rice",
        "1..5 g cooked rice",
        "12/0 g cooked rice",
        "0x10 g cooked rice",
    ),
)
def test_what_is_no_number_is_never_read_in_part(heard: Hear, said: str) -> None:
    assert not heard(said).records


@pytest.mark.parametrize("said", ("١٨٥ g cooked rice", "१८५ g cooked rice", "۱۸۵ g cooked rice"))
def test_digits_of_another_script_are_read_whole_or_not_at_all(heard: Hear, said: str) -> None:
    assert [event["as_weighed_g"] for event in heard(said).records] in ([], [185])


@pytest.mark.parametrize(
    "said",
    ("180 g cooked rice x2", "180 g cooked rice twice", "twice 180 g cooked rice", "2 portions of 180 g cooked rice"),
)
def test_twice_is_twice_or_is_asked_about(heard: Hear, said: str) -> None:
    assert sum(event["as_weighed_g"] for event in heard(said).records) in (0, 360)


@pytest.mark.parametrize("said", ("1.250 g cooked rice", "cooked rice 1.250g", "2.500 g cooked pasta"))
def test_a_point_before_three_digits_of_grams_asks_which_it_is(heard: Hear, said: str) -> None:
    asked = heard(said)
    asked.asked()
    assert len(asked.choices) == 2


@pytest.mark.parametrize(("choice", "grams"), (("1.25 g", 1.25), ("1,250 g", 1250)))
def test_the_answer_to_the_point_is_recorded(heard: Hear, choice: str, grams: float) -> None:
    assert heard("1.250 g cooked rice", choice).recorded()["as_weighed_g"] == grams


def test_a_point_before_three_digits_of_kilograms_is_a_decimal_point(heard: Hear) -> None:
    assert heard("1.250 kg cooked rice").recorded()["as_weighed_g"] == 1250


def test_a_space_never_groups(heard: Hear) -> None:
    said = heard("batch stew: 2 kg raw beef chuck", "batch 1 cooked 1400 g", "took batch 1 250 g")
    assert (said.recorded()["batch"], said.recorded()["as_weighed_g"]) == (1, 250)


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("432-132 g rice cooked", 300),
        ("432 - 132 g rice cooked", 300),
        ("432 − 132 g cooked rice", 300),
        ("432 minus 132 g cooked rice", 300),
        ("432 g - 132 g cooked rice", 300),
        ("300+45 g cooked rice", 345),
        ("300 + 45 g cooked rice", 345),
        ("100+50+25 g cooked rice", 175),
        ("2x85 g cooked rice", 170),
        ("2 x 85 g cooked rice", 170),
        ("2×85 g cooked rice", 170),
        ("half of 250 g cooked rice", 125),
        ("a quarter of 400 g cooked rice", 100),
        ("1/2 of 250 g cooked rice", 125),
    ),
)
def test_sums_are_done(heard: Hear, said: str, grams: float) -> None:
    assert heard(said).recorded()["as_weighed_g"] == pytest.approx(grams)


@pytest.mark.parametrize(
    "said",
    (
        "132-432 g cooked rice",
        "150-150 g cooked rice",
        "100 to 150 g cooked rice",
        "200 to 150 g cooked rice",
        "between 100 and 150 g cooked rice",
        "100–150 g cooked rice",
        "half the cooked rice",
        "a third of the cooked rice",
    ),
)
def test_a_range_or_a_share_of_nothing_is_asked_about(heard: Hear, said: str) -> None:
    heard(said).asked()


def test_a_share_of_nothing_offers_no_share_of_a_gram(heard: Hear) -> None:
    assert "0.5 g" not in heard("half the cooked rice").choices


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("180 cooked rice", 180),
        ("cooked rice 180", 180),
        ("13 cooked rice", 13),
        ("avo 212", 212),
        ("banana 118", 118),
    ),
)
def test_a_bare_number_over_twelve_is_grams_where_nothing_is_counted(heard: Hear, said: str, grams: float) -> None:
    assert heard(said).recorded()["as_weighed_g"] == grams


@pytest.mark.parametrize("said", ("12 cooked rice", "cooked rice 7", "60 blueberries", "13 eggs", "avo 2", "banana 12"))
def test_a_bare_number_that_may_be_pieces_or_grams_is_asked_about(heard: Hear, said: str) -> None:
    heard(said).asked()


@pytest.mark.parametrize(
    ("said", "count", "piece_g"),
    (
        # SR28: 01123 egg large 50 g (the US size),
        # 09040 banana medium 118 g, 09003 apple medium 182 g, 18069 bread slice 29 g
        # (piece weights of USDA SR28, file WEIGHT, by NDB number)
        ("2 eggs", 2, 50),
        ("two eggs", 2, 50),
        ("12 eggs", 12, 50),
        ("a dozen eggs", 12, 50),
        ("half a dozen eggs", 6, 50),
        ("a banana", 1, 118),
        ("an apple", 1, 182),
        ("half a banana", 0.5, 118),
        ("1½ bananas", 1.5, 118),
        ("3 slices of white bread", 3, 29),
        ("one slice white bread", 1, 29),
        ("2 large eggs", 2, 50),
        ("1 small banana", 1, 101),
    ),
)
def test_a_count_is_so_many_pieces(heard: Hear, said: str, count: float, piece_g: float) -> None:
    recorded = heard(said).recorded()
    assert recorded["as_weighed_g"] == pytest.approx(count * piece_g)
    assert recorded["edible_g"] == recorded["as_weighed_g"]
    assert recorded["evidence"] == "counted"


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("150 g 80/20 ground beef raw", 150),
        ("ground beef 80/20 raw 150 g", 150),
        ("200 g 2% milk", 200),
        ("2 % milk 200 g", 200),
        ("180 g cooked rice at 12:30", 180),
        ("180 g cooked rice at 7pm", 180),
        ("180 g cooked rice at 7 am", 180),
        ("180 g cooked rice on 1 March", 180),
        ("180 g cooked rice on 2026-03-01", 180),
        ("1) 180 g cooked rice", 180),
        ("- 180 g cooked rice", 180),
        ("• 180 g cooked rice", 180),
        ("180 g cooked rice, boiled for 12 minutes", 180),
        ("180 g chicken breast roasted at 200 C", 180),
        ("180 g chicken breast roasted at 200°C for 25 min", 180),
        ("180 g cooked rice (234 kcal)", 180),
    ),
)
def test_numbers_that_are_no_amounts_are_left_alone(heard: Hear, said: str, grams: float) -> None:
    assert heard(said).recorded()["as_weighed_g"] == grams


@pytest.mark.parametrize(
    "said",
    (
        "0 g cooked rice",
        "0 cooked rice",
        "-50 g cooked rice",
        "5001 g cooked rice",
        "5.1 kg cooked rice",
        "12 lb cooked rice",
        "3x2 kg cooked rice",
        "3000+2500 g cooked rice",
        "6000 ml water",
        "99999999999999999999 g cooked rice",
        "1e9 g cooked rice",
    ),
)
def test_no_weigh_in_is_zero_or_less_or_over_five_kilograms(heard: Hear, said: str) -> None:
    heard(said).refused()


def test_exactly_five_kilograms_are_allowed(heard: Hear) -> None:
    assert heard("5 kg cucumber").recorded()["as_weighed_g"] == 5000
    assert heard("2500+2500 g cucumber").recorded()["as_weighed_g"] == 5000
