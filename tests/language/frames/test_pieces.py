"""A batch that comes out in pieces."""

from __future__ import annotations

import pytest

from .kitchen import told


@pytest.mark.parametrize(
    ("kitchen", "text", "meant"),
    (
        ("dough", "cut it into 14 rotis", ["14 roti"]),
        ("dough", "14 rotis rolled, all equal", ["14 roti"]),
        ("dough", "dough made fourteen rotis", ["14 roti"]),
        ("dough", "we got 16 rotis out of it, 35 g each", ["16 roti of 35 g"]),
        ("dough", "total sixteen rotis got made", ["16 roti"]),
        ("dough", "got 14 rotis, 40 g each", ["14 roti of 40 g"]),
    ),
)
def test_pieces_are_counted(kitchen: str, text: str, meant: list[str]) -> None:
    assert told(kitchen, text) == meant
