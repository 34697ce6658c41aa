"""What a message can mean. Plain values: language makes them, conversation judges them, questions keep them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from bot.language.answer_meanings import Answering
from bot.language.asked import Asked
from bot.language.batch_meanings import BatchMatter
from bot.language.fact_meanings import FactMatter
from bot.language.fix_meanings import FixMatter
from bot.language.guided import Guided
from bot.language.kitchen import KitchenMatter
from bot.language.portion_meanings import PortionMatter
from bot.language.setting_meanings import SettingMatter
from bot.language.told import Amount, Item
from bot.language.usual import Usual

Topic = Literal[
    "", "fix", "repeat", "cooked", "boxes", "portion", "opening", "body_weight", "label", "estimate", "target", "tare",
    "coach", "question", "food",
]  # fmt: skip
"""What a message may be about; '' if none of its words says."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bare:
    """A number or a mass and nothing else."""

    amount: Amount


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """Words that may answer a waiting question."""

    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NotMine:
    """Food of others, or food that was not eaten: nothing to record."""

    why: Literal[
        "others", "negation", "plan", "shopping", "body_change", "cooking", "macro", "report", "habit", "condition",
        "waste", "doubt", "either", "not_food",
    ]  # fmt: skip
    texts: tuple[str, ...] = ()
    """The numbers that it is about, where others of the message are recorded."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """Numbers that are in no other meaning of the message."""

    texts: tuple[str, ...]
    """As they were told."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chatter:
    """A greeting, thanks, or words with nothing to record."""

    kind: Literal["greeting", "thanks", "kept", "machine", "other"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Help:
    """How this works is asked for."""

    topic: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Unclear:
    """Nothing was made out."""

    text: str
    about: Topic = ""
    """What it comes nearest to."""
    food: str = ""
    """The first food that it names, in the person's words."""


Meaning = (
    Item
    | BatchMatter
    | PortionMatter
    | FactMatter
    | SettingMatter
    | FixMatter
    | Asked
    | Usual
    | Answering
    | Guided
    | KitchenMatter
    | Bare
    | Answer
    | NotMine
    | LeftOut
    | Chatter
    | Help
    | Unclear
)
