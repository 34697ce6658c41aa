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
    if not later or not scene.cue("about_to") or scene.cue("already"):
        return None
    return None if _tells_of_today_too(scene) else [NotMine(why="plan")]


def _tells_of_today_too(scene: Scene) -> bool:
    """Whether a sentence beside the plan has a time of its own: 'Friday will be fish pie. 40 g prawns for lunch'."""
    sentences = scene.message.sentences()
    others = [s for s in sentences if not Scene(s).cue("about_to")]
    return len(sentences) > 1 and any(s.of("amount") and s.of("moment") for s in others)


def recipe_told(scene: Scene) -> list[Meaning] | None:
    """'the way you make a brack, you steep 350 g of raisins in tea and then add 225 g of flour'."""
    message = scene.message
    if message.asks or scene.cue("i_ate", "ate") or not message.of("amount"):
        return None
    return [NotMine(why="shopping")] if scene.cue("how_it_is_made") else None
