"""A batch's cooked weight in whatever words."""

import pytest

DAL = "new batch dal: 300 g red lentils dry, 160 g onion, 1400 g water"


@pytest.mark.parametrize(
    ("text", "grams"),
    (
        ("dal's done, no pot, 1530 on the nose", 1530),
        ("dals ready. 2510 on the scale w the big pan, big pan 980 empty", 1530),
        ("that dal of mine has simmered down to 1490 g", 1490),
        ("pot off, the dal is 1502 now", 1502),
        ("finished the dal on the hob, 1.6 kg", 1600),
    ),
)
def test_a_finished_pot_that_is_weighed_gets_its_cooked_weight(heard, text, grams):
    assert heard(DAL, text).one("batch_cooked")["cooked_g"] == pytest.approx(grams)


@pytest.mark.parametrize(
    "text",
    (
        "I had 250 g of the dal, it came out well",
        "will the dal come out at 1500 g?",
        "the dal came out well",
        "dal 3 g",
    ),
)
def test_what_is_no_cooked_weight_leaves_the_pot_as_it_is(heard, text):
    assert not heard(DAL, text).all("batch_cooked")
