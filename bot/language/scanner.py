"""From tokens to chunks: at each place the most telling reading wins; what has none is a word or a sign."""

from __future__ import annotations

from bot.language.belongings import read_batch_name, read_batch_number, read_hash, read_tare
from bot.language.chunks import Chunk, Line
from bot.language.counting import read_amount, read_size
from bot.language.foodwords import read_long_name, read_name, read_part, read_state, read_state_phrase
from bot.language.noise import (
    read_list_mark,
    read_macro,
    read_moment,
    read_no_amount,
    read_noise,
    read_price,
    read_spoken_energy,
    read_times,
)
from bot.language.roles import with_roles

READERS = (
    (read_list_mark, "number sign"),
    (read_times, "word"),
    (read_price, "number word sign"),
    (read_noise, "word"),
    (read_no_amount, "number"),
    (read_spoken_energy, "word"),
    (read_hash, "word sign"),
    (read_batch_number, "word"),
    (read_tare, "number word sign"),
    (read_batch_name, "word"),
    (read_long_name, "number word"),
    (read_moment, "number word sign"),
    (read_macro, "number"),
    (read_state_phrase, "word"),
    (read_part, "word"),
    (read_size, "word"),
    (read_amount, "number word sign"),
    (read_state, "word"),
    (read_name, "word"),
)
"""In order: the first that reads something at a place has it. Beside each, the kinds of token it can begin with."""

_OF_KIND = {
    kind: tuple(reader for reader, kinds in READERS if kind in kinds.split())
    for kind in ("number", "word", "sign", "newline")
}


def scan(line: Line) -> list[Chunk]:
    """The chunks of a line; they cover all its tokens but those that only gave a number its role."""
    found: list[Chunk] = []
    i = 0
    while i < len(line.tokens):
        chunk = _chunk(line, i)
        found.append(chunk)
        i = chunk.end
    return with_roles(line, found)


def _chunk(line: Line, i: int) -> Chunk:
    token = line.tokens[i]
    for reader in _OF_KIND[token.kind]:
        chunk = reader(line, i)
        if chunk is not None:
            return chunk
    return line.make("word" if token.kind == "number" else token.kind, i, i + 1)
