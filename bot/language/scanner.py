"""From tokens to chunks: at each place the most telling reading wins; what has none is a word or a sign."""

from __future__ import annotations

from bot.language.belongings import read_batch_name, read_batch_number, read_hash, read_tare
from bot.language.chunks import Chunk, Line
from bot.language.counting import read_amount, read_size
from bot.language.foodwords import read_long_name, read_name, read_part, read_state
from bot.language.noise import read_list_mark, read_macro, read_moment, read_noise, read_price, read_times

READERS = (
    read_list_mark, read_times, read_price, read_noise, read_hash, read_batch_number, read_tare, read_batch_name,
    read_long_name, read_moment, read_macro, read_part, read_size, read_amount, read_state, read_name,
)  # fmt: skip
"""In order: the first that reads something at a place has it."""


def scan(line: Line) -> list[Chunk]:
    """The chunks of a line, which together cover all its tokens."""
    found: list[Chunk] = []
    i = 0
    while i < len(line.tokens):
        chunk = _chunk(line, i)
        found.append(chunk)
        i = chunk.end
    return found


def _chunk(line: Line, i: int) -> Chunk:
    token = line.tokens[i]
    if token.kind == "newline":
        return line.make("newline", i, i + 1)
    for reader in READERS:
        chunk = reader(line, i)
        if chunk is not None:
            return chunk
    return line.make("sign" if token.kind == "sign" else "word", i, i + 1)
