"""Questions on what is there."""

from __future__ import annotations

import pytest

from .kitchen import told


@pytest.mark.parametrize(
    ("kitchen", "text", "meant"),
    (
        ("boxed", "how many stew boxes have I got?", ["stored?"]),
        ("boxed", "any stew left?", ["left?"]),
        ("boxed", "stew boxes left?", ["stored?"]),
        ("soup", "anything in the freezer?", ["stored? (freezer)"]),
        ("soup", "what's in the fridge", ["stored? (fridge)"]),
        ("soup", "how many soups in the freezer?", ["stored? (freezer)"]),
        ("soup", "do we still have soup?", ["left?"]),
        ("chili", "how's the chili looking, much left?", ["left?"]),
        ("chili", "is there still chili", ["left?"]),
        ("chili", "could you tell me how much of the chili is remaining", ["left?"]),
        ("chili", "chili left?", ["left?"]),
        ("roti", "how many rotis are still there", ["left?"]),
        ("last", "am i out of soup?", ["left?"]),
        ("soup", "what have I got frozen?", ["stored? (freezer)"]),
        ("chili", "is any of that chili still there or did we finish it", ["left?"]),
        ("chili", "hm chili left", ["left?"]),
        ("boxed", "how many of the stew boxes are left then", ["stored?"]),
        ("chili", "tell me is there chili still", ["left?"]),
    ),
)
def test_what_is_left_is_answered(kitchen: str, text: str, meant: list[str]) -> None:
    assert told(kitchen, text) == meant
