"""What is offered for a name that is no food: near in meaning, or nothing."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from domain.reference import load
from domain.reference.nearness import MOST, near


class TestOfThatKind:
    @pytest.mark.parametrize(
        ("name", "offered"),
        (
            ("rye cracker", "rye wafer"),
            ("quorn stew", "beef stew"),
            ("bone broth", "chicken broth"),
            ("camel milk", "whole milk"),
            ("cauliflower pizza", "cheese pizza"),
            ("oat cookies", "oatmeal cookie"),
            ("curry paste", "thai curry paste"),
        ),
    )
    def test_the_last_word_says_what_it_is(self, name: str, offered: str) -> None:
        assert offered in near(name)

    def test_what_follows_with_is_beside_the_food(self) -> None:
        offered = near("soup with crackers")
        assert offered
        assert all(food.endswith("soup") for food in offered)

    def test_a_food_that_shares_another_word_stands_alone(self) -> None:
        assert near("smoked hazelnut spread") == ("chocolate hazelnut spread",)

    def test_spelling_does_not_make_it_near(self) -> None:
        assert "paneer" not in near("panner beer")
        assert not {"parsley", "black tea"} & set(near("curry paste"))


class TestOfThatGroup:
    def test_a_word_in_common_and_the_group_of_the_last_word(self) -> None:
        assert near("oat drink") == ("oat milk",)

    def test_the_food_that_the_thing_is_made_of(self) -> None:
        assert near("skyr drink") == ("skyr",)


class TestNothing:
    @pytest.mark.parametrize(
        "name", ("", "   ", "42", "bike", "quxfrob", "table", "unicorn", "maca powder", "wattleseed")
    )
    def test_no_food_is_near(self, name: str) -> None:
        assert near(name) == ()

    def test_a_shape_alone_says_nothing(self) -> None:
        assert near("wattleseed fillet") == ()


@given(
    st.lists(st.sampled_from(sorted({word for name in load().names for word in name.split()})), min_size=1, max_size=4)
)
def test_it_offers_few_foods_of_the_table_each_once(words: list[str]) -> None:
    offered = near(" ".join(words))
    assert len(offered) <= MOST
    assert len(set(offered)) == len(offered)
    assert set(offered) <= set(load().foods)
