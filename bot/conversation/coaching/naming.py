"""Which of somebody's coachings a name means."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

One = TypeVar("One")


def matching(said: str, among: Sequence[One], name: Callable[[One], str]) -> list[One]:
    """Those with exactly that name, or else those with it as one of their names."""
    word = said.casefold().strip()
    whole = [each for each in among if name(each).casefold() == word]
    return whole or [each for each in among if word in name(each).casefold().split()]


def free_name(wanted: str, taken: set[str]) -> str:
    """The name, or the name with the first number that makes it one of nobody's."""
    number = 2
    name = wanted
    while name.casefold() in taken:
        name, number = f"{wanted} {number}", number + 1
    return name
