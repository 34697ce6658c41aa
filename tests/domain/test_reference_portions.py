"""Portions: a weight with its spread and source, and which of them are there to count with."""

import pytest

from domain.quantities import Region
from domain.reference import load, piece_key
from domain.reference.portions import portion, portions

TABLE = load()


def grams(food: str, piece: str = "", region: Region | None = None) -> float | None:
    found = TABLE.foods[food]
    return found.piece(found.counted_row(), piece, region)


def test_there_are_many_and_each_has_a_source_and_a_spread() -> None:
    assert len(portions()) >= 60
    for one in portions().values():
        assert one.food in TABLE.foods
        assert 0 < one.low_g <= one.grams <= one.high_g, one
        assert one.source, one


def test_what_counts_is_among_the_pieces_of_the_food_and_an_offer_is_not() -> None:
    for one in portions().values():
        pieces = [row.pieces.get(piece_key(one.piece)) for row in TABLE.foods[one.food].rows]
        if one.counts:
            assert one.grams in pieces, one
        else:
            assert set(pieces) == {None}, one


def test_no_glass_mug_or_scoop_counts_unless_the_law_gives_it_a_size() -> None:
    vessels = ("glass", "mug", "scoop", "bowl")
    counted = {one for one in portions().values() if one.counts and one.piece.partition("@")[0].endswith(vessels)}
    # The US standard drink and the measures that UK law prescribes for wine.
    assert {one.food for one in counted} <= {
        *("red wine", "white wine", "rose wine", "sparkling wine", "dessert wine", "fortified dry wine")
    }


class TestRegions:
    # USDA grade sizes: a large egg is 50 g without its shell. Regulation (EC) 589/2008: size M weighs 53 to 63 g in
    # shell, of which 12 % is shell (SR28 01123).
    @pytest.mark.parametrize(("region", "low", "high"), ((Region.US, 50, 50), (Region.UK, 46.6, 55.4)))
    def test_the_usual_egg(self, region: Region, low: float, high: float) -> None:
        weight = grams("egg", "", region)
        assert weight is not None
        assert low <= weight <= high

    def test_the_sizes_of_eggs_rise(self) -> None:
        for region in (Region.US, Region.UK, Region.METRIC):
            sizes = [grams("egg", size, region) or 0 for size in ("small", "medium", "large", "extra large")]
            assert sizes == sorted(sizes)
            assert sizes[0] > 30

    def test_a_pint_of_beer(self) -> None:
        # 473.2 mL in the US, 568.3 mL in the UK, at the 1.005 g/mL of SR28 14003.
        assert grams("beer", "pint", Region.US) == pytest.approx(473.2 * 1.005, rel=0.01)
        assert grams("beer", "pint", Region.UK) == pytest.approx(568.3 * 1.005, rel=0.01)

    def test_without_a_region_of_its_own_the_plain_piece_stands(self) -> None:
        assert grams("papadum", "", Region.UK) == grams("papadum") == 13


class TestLookUp:
    def test_the_regions_own_goes_first(self) -> None:
        here, plain = portion("white bread", "slice", "UK"), portion("white bread", "slice")
        assert here is not None
        assert plain is not None
        assert here.grams > plain.grams

    def test_the_piece_without_a_name(self) -> None:
        found = portion("papadum")
        assert found is not None
        assert (found.low_g, found.grams, found.high_g) == (8, 13, 15)

    def test_what_no_one_wrote_down_is_not_known(self) -> None:
        assert portion("papadum", "bucket") is None
        assert portion("no such food") is None
