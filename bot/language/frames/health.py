"""The frame for a condition that somebody says they have, in any words: it asks for a standing caution."""

from __future__ import annotations

from typing import Final

from bot.language.fact_meanings import AboutSelf, AboutSelfKind
from bot.language.frames.bodies import is_of_another, is_of_oneself
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.scene import Scene
from bot.language.text import singular

CONDITIONS: Final[tuple[tuple[AboutSelfKind, str], ...]] = (
    ("insulin", "takes_insulin"), ("pregnant", "surely_pregnant"), ("breastfeeding", "surely_breastfeeding"),
    ("diabetes", "diabetes"), ("eating_disorder", "eating_disorder"),
)  # fmt: skip
"""The conditions with the concepts that name them beyond doubt; the one that matters most first."""
FAR = 7
"""Tokens between the writer and the condition."""
DENIES = 4
"""Tokens before a condition among which a word denies it."""


def has_a_condition(scene: Scene) -> list[Meaning] | None:
    """'my doctor has told me I have diabetes and I take now insulin', 'the midwife confirmed it, I am pregnant'."""
    message = scene.message
    if message.asks or message.of("amount", "hash", "energy", "price") or scene.cue("condition", "no_longer"):
        return None
    said, first, last = message.line.plain, message.chunks[0].start, message.chunks[-1].end
    for kind, concept in CONDITIONS:
        for at, end in pack()[concept].places(said):
            if first <= at and end <= last and _is_ones_own(scene, at, end):
                return [AboutSelf(kind=kind)]
    return None


def _is_ones_own(scene: Scene, at: int, end: int) -> bool:
    """Whether the writer has the condition: named last before it, not denied, and not somebody or something with it."""
    message = scene.message
    before = message.line.plain[max(message.chunks[0].start, at - FAR) : at]
    named = is_of_oneself(scene, at) and any(pack()["of_oneself"].ends(before, n) for n in range(len(before)))
    if not named and not (before and before[0] in pack()["leaves_me_out"] and not is_of_another(scene, at)):
        return False
    if any(word in message.words.negations or word in pack()["denies_having"] for word in before[-DENIES:]):
        return False
    return not _owns_a_noun(message, end)


def _owns_a_noun(message: Message, end: int) -> bool:
    """Whether a food or a person stands right behind: 'diabetic chocolate', 'diabetic patients'."""
    behind = next((c for c in message.chunks if c.start >= end), None)
    if behind is None:
        return False
    return behind.kind == "food" or (behind.kind == "word" and singular(behind.text.lower()) in message.words.people)
