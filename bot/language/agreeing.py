"""A yes or a no to a question in any words."""

from __future__ import annotations

from collections.abc import Sequence

from bot.kinds import About
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.surroundings import Waiting

LONGEST = 12
"""Words of a message that is tried as a consent and nothing else."""


def agreed(message: Message, question: Waiting) -> int | None:
    """'go ahead': the choice that begins with yes, when the message agrees and says nothing else."""
    said = [word for word in message.line.plain if word.isalnum()]
    if not said:
        return None
    if len(said) not in pack()["agreement"].ends(said, 0):
        agrees = _consents(message, said) if question.about == About.COACHING else None
        if agrees is not None:
            begins = "yes" if agrees else "no"
            return next((i for i, choice in enumerate(question.choices) if choice.startswith(begins)), None)
        return None
    return next((i for i, choice in enumerate(question.choices) if choice.startswith("yes")), None)


def _consents(message: Message, said: Sequence[str]) -> bool | None:
    """Whether words about a coaching agree to it, in any wording; None where they ask, limit it or say neither."""
    words = pack()
    asks = message.asks and not words["consent_given"].ends(said, 0)  # 'can can, no problem'
    if asks or "?" in message.said or message.of("amount", "food", "batch") or len(said) > LONGEST:
        return None
    if words["consent_limited"].found(said) or words["other_matters"].found(said):
        return None
    declines = said[0] in words["no"] and not words["consent_given"].ends(said, 0)
    refuses = words["consent_refused"].found(said) or declines
    agrees = words["consent_given"].found(said) or said[0] in words["yes"]
    return None if refuses == agrees else agrees
