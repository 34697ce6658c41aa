"""Words about the kitchen itself. Only a whole message that says nothing else is taken for them."""

from __future__ import annotations

import re
from dataclasses import replace

from bot.language.kitchen import (
    CloseRoom,
    InviteToKitchen,
    KitchenMatter,
    LeaveKitchen,
    OpenRoom,
    UseCode,
    WhoseKitchen,
)
from bot.language.message import Message

LONGEST = 120
"""Characters of a message that speaks of the kitchen and of nothing else."""
_POLITE = r"(?:(?:please|pls|hey|hi|ok|okay|can you|could you|can i|i want to|i would like to|i'd like to|let's),? )?"
_KITCHEN = r"(?:my|our|the|this) kitchen"
_NAME = r"(?P<called>[^\W\d_][\w .'-]{0,38}?)"
_END = r"(?: please| now)?[ .!?]*"
_SOMEBODY = frozenset({"someone", "somebody", "another", "people", "a person", "one more"})
_FORMS: tuple[tuple[KitchenMatter, re.Pattern[str]], ...] = tuple(
    (meaning, re.compile(_POLITE + form + _END, re.IGNORECASE))
    for meaning, form in (
        (InviteToKitchen(), rf"(?:invite|add|let) {_NAME} (?:in)?to {_KITCHEN}"),
        (InviteToKitchen(), rf"share {_KITCHEN}(?: with {_NAME})?"),
        (InviteToKitchen(), rf"/kitchen invite(?: {_NAME})?"),
        (LeaveKitchen(), rf"(?:leave|move out of) {_KITCHEN}"),
        (LeaveKitchen(), r"/kitchen leave"),
        (WhoseKitchen(), rf"who(?:'s| is| are)? (?:all |else )*(?:is )?(?:in|shares|sharing) {_KITCHEN}(?: with me)?"),
        (WhoseKitchen(), rf"who do i share {_KITCHEN} with"),
        (WhoseKitchen(), r"(?:my|our) kitchen|whose kitchen is (?:this|it)|/kitchen"),
        (OpenRoom(), r"/kitchen here|make this (?:group |chat )?(?:my|our|the) kitchen(?:'s room)?"),
        (
            CloseRoom(),
            r"/kitchen not here|close the (?:kitchen's )?room|this is (?:not|no longer) our kitchen(?:'s room)?",
        ),
    )
)
_CODE = re.compile(r"(?:/start|code|join)(?: ?[:=])? ([\w-]{22})[ .]*", re.ASCII | re.IGNORECASE)


def kitchen_matter(message: Message) -> KitchenMatter | None:
    """What a whole message says of the kitchen, if that is what it is about."""
    text = message.whole.strip()
    if len(text) > LONGEST:
        return None
    code = _CODE.fullmatch(text)
    if code is not None:
        return UseCode(code=code[1])
    if "kitchen" not in message.said and "room" not in message.said and "kitchen's" not in message.said:
        return None
    for meaning, form in _FORMS:
        found = form.fullmatch(text)
        if found is not None:
            called = found.groupdict().get("called")
            return replace(meaning, called=_called(called)) if isinstance(meaning, InviteToKitchen) else meaning
    return None


def _called(name: str | None) -> str | None:
    return None if name is None or name.lower() in _SOMEBODY else name.strip()
