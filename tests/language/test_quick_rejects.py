"""What is never tried reads nothing: the openings of slots and readers leave out no place where one finds something."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime

from bot.language.chunks import Line
from bot.language.message import read
from bot.language.scanner import READERS
from bot.language.slots import SLOTS, STARTS, slot_openings
from bot.language.surroundings import KnownBatch, Surroundings
from tests.language.corpus import FILES
from tests.language.corpus import read as cases

AROUND = Surroundings(
    now=datetime(2026, 3, 4, 18, tzinfo=UTC),
    batches=(KnownBatch(1, "chickpea curry", cooked=True), KnownBatch(2, "roti", cooked=True, pieces=12, piece="roti")),
    tares=(("blue pot", 1432.0),),
    clients=("Ben", "Eva"),
)
EVERY = 6


def lines() -> Iterator[Line]:
    said = [case.say for file in FILES for case in cases(file)]
    rare = "grapes 84.2 g (+/- 0.5)", "grapes x2, pears x2", "at number 14 I had 60 g of toast", "pulse 62, toast 60 g"
    for text in (*said[::EVERY], *rare):
        yield read(text, AROUND).line


def test_a_slot_begins_only_with_its_openings_and_where_it_can_start() -> None:
    openings, filled = slot_openings(), set[str]()
    for line in lines():
        end = len(line.tokens)
        for slot in {*openings, *STARTS}:
            starts = set(STARTS[slot](line)) if slot in STARTS else set(range(end))
            for i in range(end):
                if next(iter(SLOTS[slot](line, i, end)), None) is not None:
                    filled.add(slot)
                    assert i in starts, (slot, line.whole)
                    assert slot not in openings or line.openings[i] in openings[slot], (slot, line.whole)
    assert len(filled) > 15, filled


def test_a_reader_reads_only_at_the_tokens_it_is_asked_at() -> None:
    found = set[object]()
    for line in lines():
        for i, token in enumerate(line.tokens):
            for reader in READERS:
                if token.kind in reader.kinds.split() and reader.read(line, i) is not None:
                    found.add(reader.read)
                    assert reader.begins(token.text), (reader.read, token.text, line.whole)
    assert len(found) >= len(READERS) - 2
