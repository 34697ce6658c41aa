"""Questions and meanings as stored JSON: what is pending, and what each choice would mean."""

from __future__ import annotations

import msgspec

from bot.conversation.outcomes import Ask
from bot.language import meanings
from bot.language.meanings import Meaning

_KINDS: dict[str, type] = {kind.__name__: kind for kind in meanings.Meaning.__args__}


class _Kept(msgspec.Struct):
    kind: str
    value: msgspec.Raw


class _Subject(msgspec.Struct):
    pending: _Kept
    choices: list[_Kept | None]


def encode(ask: Ask) -> bytes:
    """The question's subject as stored JSON."""
    kept = [None if c.meaning is None else _keep(c.meaning) for c in ask.choices]
    return msgspec.json.encode(_Subject(_keep(ask.pending), kept))


def decode(subject: bytes) -> tuple[Meaning, list[Meaning | None]]:
    """(what is pending, what each choice means) of a stored subject."""
    read = msgspec.json.decode(subject, type=_Subject)
    return _restored(read.pending), [None if c is None else _restored(c) for c in read.choices]


def encode_meaning(meaning: Meaning) -> str:
    """A meaning as stored JSON."""
    return msgspec.json.encode(_keep(meaning)).decode()


def decode_meaning(encoded: str) -> Meaning:
    """The meaning of stored JSON."""
    return _restored(msgspec.json.decode(encoded, type=_Kept))


def _keep(meaning: Meaning) -> _Kept:
    return _Kept(type(meaning).__name__, msgspec.Raw(msgspec.json.encode(meaning)))


def _restored(kept: _Kept) -> Meaning:
    found: Meaning = msgspec.json.decode(kept.value, type=_KINDS[kept.kind])
    return found
