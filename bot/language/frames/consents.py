"""The frame for parts of a consent in any words: a coach, a part of the record, and whether it is to be seen."""

from __future__ import annotations

from typing import Final, Literal

from bot.language.guided import EndCoaching, Withhold
from bot.language.meanings import Meaning
from bot.language.scene import Scene

Part = Literal["body_weight", "energy", "protein", "comments", "cautions", "export"]
PARTS: Final[tuple[tuple[Part, str], ...]] = (
    ("body_weight", "weighing_of_another"), ("body_weight", "body_weight_word"), ("energy", "energy"),
    ("protein", "protein_g"), ("comments", "comments_word"), ("cautions", "cautions_word"), ("export", "export_word"),
)  # fmt: skip
"""The parts with the concepts that name them."""


def consented(scene: Scene) -> list[Meaning] | None:
    """'Petra doesn't need to see my body weight any more', 'my coach can have my calories again'."""
    message = scene.message
    if not message.around.coaches or scene.foods or scene.named or message.asks or "?" in message.said:
        return None
    if message.of("amount", "hash", "price", "macro") or scene.cue("condition"):
        return None
    words = {token.text.casefold().removesuffix("'s") for token in message.tokens}
    named = [
        name for name in message.around.coaches if words & {part for part in name.casefold().split() if len(part) > 1}
    ]
    if len(named) > 1 or not (named or scene.cue("coach_word")):
        return None
    if scene.cue("coaching_over"):
        return [EndCoaching(whom=named[0] if named else "")]
    parts = list(dict.fromkeys(part for part, concept in PARTS if scene.cue(concept)))
    if not parts and scene.cue("sharing_over") and scene.cue("shared_of_mine"):
        return [EndCoaching(whom=named[0] if named else "")]
    withheld = scene.cue("not_to_be_seen", "not_shown")
    if not parts or not (withheld or scene.cue("to_be_seen")):
        return None
    return [Withhold(what=part, coach=named[0] if named else "", given=not withheld) for part in parts]
