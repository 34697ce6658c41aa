"""Days with nothing but open weigh-ins are logged, and are left out of every mean that a coach reads."""

from __future__ import annotations

import pytest

from .chat import Chat, Door
from .test_coaching import guides, person

DAYS = range(2, 8)
OPEN = (3, 5)
NOW = "2026-03-08T08:00:00+00:00"


@pytest.fixture
def ines(door: Door) -> Chat:
    """The coach of Ana, who has 1,950 kcal on four days and an unanswered question alone on two."""
    coach, client = (person(door, name, timezone="UTC") for name in ("Ines", "Ana"))
    guides(coach, client, "Ana")
    client.say("target 1900 kcal protein 40", at="2026-03-02T07:00:00+00:00")
    for day in DAYS:
        client.say("200 g couscous" if day in OPEN else "1500 g cooked white rice", at=f"2026-03-0{day}T12:00:00+00:00")
    return coach


# 1,500 g of cooked white rice: 130 kcal and 2.69 g of protein per 100 g (SR28, 20045).
@pytest.mark.parametrize(
    ("asked", "says"),
    (
        ("how is Ana?", ("1,950 of 1,900 kcal, protein 40 of 40 g a day over 4 days",)),
        ("Ana's week", ("6 of 7 days logged, 2 of them with open weigh-ins only", "1,950 kcal")),
        ("compare Ana's week with last week", ("6 days logged (2 of them with open weigh-ins only), 1,950 kcal",)),
    ),
)
def test_the_means_are_over_the_days_with_figures(ines: Chat, asked: str, says: tuple[str, ...]) -> None:
    text = ines.say(asked, at=NOW).text
    for words in says:
        assert words in text


def test_so_is_protein_where_energy_is_not_shared(door: Door, ines: Chat) -> None:
    Chat(door, "Ana").say("hide my calories from Ines", at=NOW)
    text = ines.say("Ana's week", at=NOW).text
    assert "6 of 7 days logged" in text
    assert "protein 40 of 40 g" in text
    assert "Tuesday: 1 on record, 200 g\n" in text
