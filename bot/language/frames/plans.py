"""Frames for what has not been eaten: plans, instructions and ideas."""

from __future__ import annotations

from bot.language.meanings import Meaning, NotMine
from bot.language.scene import Scene


def planned(scene: Scene) -> list[Meaning] | None:
    """'sunday I'm making 2 kg of curry again', 'thinking samosas for Saturday, maybe 30', 'meal prep tonight, 2 kg'."""
    message = scene.message
    if message.asks or scene.cue("i_ate", "ate", "went_in", "going_in") or message.of("hash", "tare"):
        return None
    if not (message.of("food", "amount") or scene.named):
        return None
    if scene.cue("shop_trip"):
        return [NotMine(why="shopping")]
    if scene.cue("toying_with"):
        return [NotMine(why="plan")]
    weekday = message.has_any(message.words.weekdays.keys())
    later = weekday or scene.cue("later_on")
    return [NotMine(why="plan")] if later and scene.cue("about_to") and not scene.cue("already") else None


def recipe_told(scene: Scene) -> list[Meaning] | None:
    """'the way you make a brack, you steep 350 g of raisins in tea and then add 225 g of flour'."""
    message = scene.message
    if message.asks or scene.cue("i_ate", "ate") or not message.of("amount"):
        return None
    return [NotMine(why="shopping")] if scene.cue("how_it_is_made") else None
