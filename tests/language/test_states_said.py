"""How people say that a weight is of the raw or of the cooked food, wherever in the sentence."""

import pytest

from .conftest import Hear


@pytest.mark.parametrize(
    "said",
    (
        *(
            "36 g of dry porridge oats",
            "40 g oats uncooked weight",
            "75 g pasta (weighed dry)",
            "75 g rice weighed raw",
        ),
        *(
            "80 g rice before cooking",
            "80 g rice before it was cooked",
            "80 g rice before I cooked it",
            "90 g pasta from dry",
        ),
        *(
            "250 g potatoes prior to boiling",
            "75 g rice un-cooked",
            "75 g rice (raw, not cooked)",
            "I weighed 75 g rice dry",
        ),
        *("36 g dry oats cooked with 220 g semi skimmed milk", "80 g dry pasta boiled in salted water"),
        *("before cooking the rice was 80 g", "150 g chicken breast weighed before grilling"),
    ),
)
def test_raw(heard: Hear, said: str) -> None:
    records = heard(said).records
    assert records
    assert records[0]["state"] == "raw"


@pytest.mark.parametrize(
    "said",
    (
        *(
            "200 g rice after cooking",
            "200 g pasta once boiled",
            "250 g potatoes post boiling",
            "200 g rice after I cooked it",
        ),
        *("200 g pasta once it's cooked", "150 g chicken breast precooked", "150 g chicken breast cooked weight"),
        *(
            "2 eggs over easy",
            "2 eggs sunny side up",
            "150 g sirloin steak medium rare",
            "150 g char grilled courgette",
        ),
        *("150 g slow roasted tomatoes", "150 g pan fried salmon", "180 g pasta boiled weight"),
    ),
)
def test_cooked(heard: Hear, said: str) -> None:
    assert heard(said).recorded()["state"] == "cooked"


@pytest.mark.parametrize(
    "said", ("200 g raw chicken breast cooked", "200 g rice when I got home", "200 g rice post workout")
)
def test_in_doubt_it_is_asked(heard: Hear, said: str) -> None:
    heard(said).asked()
