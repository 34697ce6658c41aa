"""From tokens to chunks: at each place the most telling reading wins; what has none is a word or a sign."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from bot.language.belongings import (
    BATCH,
    SHORT_BATCH,
    read_batch_name,
    read_batch_number,
    read_hash,
    read_tare,
)
from bot.language.chunks import Chunk, Line
from bot.language.counting import begins_amount, begins_size, read_amount, read_size
from bot.language.foodwords import (
    begins_state,
    begins_state_phrase,
    read_long_name,
    read_name,
    read_part,
    read_state,
    read_state_phrase,
)
from bot.language.moments import begins_moment
from bot.language.noise import (
    begins_list_mark,
    begins_noise,
    begins_tolerance,
    read_body_reading,
    read_list_mark,
    read_macro,
    read_moment,
    read_no_amount,
    read_noise,
    read_place_number,
    read_price,
    read_spoken_energy,
    read_times,
    read_tolerance,
)
from bot.language.number_words import number_words
from bot.language.pack import pack
from bot.language.roles import with_roles
from bot.language.vessel_sizes import read_vessel_size


@dataclass(frozen=True, slots=True)
class Reader:
    """A reader of chunks, and the tokens with which what it reads can begin."""

    read: Callable[[Line, int], Chunk | None]
    kinds: str
    """The kinds of token."""
    begins: Callable[[str], bool] = bool
    """Whether it can begin with a word or sign of this text."""


READERS = (
    Reader(read_list_mark, "number sign", begins_list_mark),
    Reader(read_times, "word", lambda text: text == "x"),
    Reader(read_price, "number word sign"),
    Reader(read_noise, "word", begins_noise),
    Reader(read_tolerance, "sign", begins_tolerance),
    Reader(read_no_amount, "number"),
    Reader(read_spoken_energy, "word", lambda text: text in number_words().openers),
    Reader(read_body_reading, "word", lambda text: text in pack()["body_reading"].words),
    Reader(read_place_number, "word", lambda text: text in pack()["number_of"]),
    Reader(read_hash, "word sign", lambda text: text == "#" or text in pack()["numbered_entry"]),
    Reader(read_batch_number, "word", lambda text: text in BATCH or text == SHORT_BATCH),
    Reader(read_tare, "number word sign"),
    Reader(read_vessel_size, "number"),
    Reader(read_batch_name, "word"),
    Reader(read_long_name, "number word"),
    Reader(read_moment, "number word", begins_moment),
    Reader(read_macro, "number"),
    Reader(read_state_phrase, "word", begins_state_phrase),
    Reader(read_part, "word"),
    Reader(read_size, "word", begins_size),
    Reader(read_amount, "number word sign", begins_amount),
    Reader(read_state, "word", begins_state),
    Reader(read_name, "word"),
)
"""In order: the first that reads something at a place has it."""


@lru_cache(maxsize=16_384)
def readers_of(kind: str, text: str) -> tuple[Callable[[Line, int], Chunk | None], ...]:
    """The readers that may read something where such a token stands, in order."""
    return tuple(reader.read for reader in READERS if kind in reader.kinds.split() and reader.begins(text))


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
    for read in readers_of(token.kind, token.text):
        chunk = read(line, i)
        if chunk is not None:
            return chunk
    return line.make("word" if token.kind == "number" else token.kind, i, i + 1)
