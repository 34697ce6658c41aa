"""What a message of a coach can mean that concerns the practice: templates, and colleagues who cover for each other."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True, kw_only=True)
class SaveTemplate:
    """Words of the coach's own that are to be kept under a name, or changed."""

    name: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ShowTemplates:
    """The coach's templates are asked for, or one of them."""

    name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DropTemplate:
    """A template is to be deleted."""

    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SendTemplate:
    """A template's words for a client, for a group, or for all."""

    name: str
    client: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CoverBy:
    """A colleague is to cover clients of the coach, until a day if one was said; no names of clients: all of them."""

    colleague: str
    clients: tuple[str, ...] = ()
    group: str = ""
    until: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeCover:
    """The colleague's answer to an invitation to cover."""

    invite: int
    agreed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CoverFrom:
    """In the client's turn: whether a colleague may cover for their coach. `agreed` is their answer."""

    request: int
    agreed: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class EndCover:
    """Covers by a colleague are to end, or all of them."""

    colleague: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WordsFromCoach:
    """What a coach has written is asked for again; `coach` is a name, empty where it was not said."""

    coach: str = ""


InPractice = (
    WordsFromCoach
    | SaveTemplate
    | ShowTemplates
    | DropTemplate
    | SendTemplate
    | CoverBy
    | TakeCover
    | CoverFrom
    | EndCover
)
