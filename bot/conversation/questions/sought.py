"""What a question about food or a batch seeks, read from its words.

Together with `choosing` this is all of the conversation that reads a message's text: the functions take a meaning and
return a value, and nothing else here or elsewhere looks at the words.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import Enum, auto
from typing import Literal

from bot.language.asked import WhatIf

Nutrient = Literal["kcal", "protein_g", "fat_g", "carbohydrate_g", "fibre_g"]


class OfBatch(Enum):
    """What only a batch has."""

    CONTENTS = auto()
    LEFT = auto()


@dataclass(frozen=True, slots=True)
class PortionFor:
    """The portion that holds an amount of a nutrient, in grams, or of energy, in kcal."""

    nutrient: str
    amount: float
    words: str
    """'protein', 'kcal'."""


_NUTRIENTS: dict[str, Nutrient] = {
    "protein": "protein_g",
    "fat": "fat_g",
    "carb": "carbohydrate_g",
    "carbs": "carbohydrate_g",
    "carbohydrate": "carbohydrate_g",
    "carbohydrates": "carbohydrate_g",
    "fibre": "fibre_g",
    "fiber": "fibre_g",
    "kcal": "kcal",
    "calories": "kcal",
}
_PORTION_FOR = re.compile(
    r"\bhow (?:much|many grams)\b.*?\b(?:for|to (?:get|have|hit|reach|make)|gives?(?: me)?|has|have|holds?|contains?) "
    rf"(?P<amount>\d+(?:[.,]\d+)?) ?(?:g|grams?)? ?(?:of )?(?P<nutrient>{'|'.join(_NUTRIENTS)})\b"
)
_CONTENTS = re.compile(r"\bwhat(?:['’]?s| is| was| went| did i put)?(?: all)? (?:in|into|inside)\b|\bingredients\b")
_LEFT = re.compile(r"\b(?:how much|how many|what|any)\b.*\b(?:left(?! ?over)|remain(?:s|ing)?)\b")


def sought(question: WhatIf) -> OfBatch | PortionFor | None:
    """What the question asks for; None for the figures of what it names."""
    text = " ".join(question.text.lower().split())
    portion = _PORTION_FOR.search(text)
    if portion is not None:
        words = portion["nutrient"]
        return PortionFor(_NUTRIENTS[words], float(portion["amount"].replace(",", ".")), words)
    if _LEFT.search(text):
        return OfBatch.LEFT
    return OfBatch.CONTENTS if _CONTENTS.search(text) else None


def asks_whether(question: WhatIf) -> bool:
    """Whether the question is if something should be eaten, and not only how much is in it."""
    return question.text.lower().lstrip().startswith("should")
