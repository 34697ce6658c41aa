"""Frames for questions about what a day or a week holds, in any words."""

from __future__ import annotations

from bot.language.asked import Eaten, Remaining, Sheet
from bot.language.figures import nutrient_at
from bot.language.meanings import Meaning
from bot.language.recalling import named_by
from bot.language.scene import Scene

KCAL = "kcal"


def what_was_eaten(scene: Scene) -> list[Meaning] | None:
    """'read me back everything I ate today', 'what've I had in total today', 'Thursday, what does it add up to'."""
    message = scene.message
    if _names_more(scene) or message.when.future or _nutrient(scene) is not None:
        return None
    today, when = message.around.today, message.when
    wants = scene.cue("what_one_ate") and (_asks(scene) or scene.cue("read_it_back"))
    if wants and when.meal is not None:
        return [Eaten(day=when.day, meal=when.meal)]
    if wants and not scene.cue("week_word"):
        return [Sheet(span="day", day=when.day or today)]
    if not scene.cue("adds_up") or not (_asks(scene) or scene.cue("read_it_back", "adds_up_to_what")):
        return None
    if scene.cue("week_word"):
        return None if scene.cue("last_week", "week_before_last", "week_of") else [Sheet(span="week", day=today)]
    return [Sheet(span="day", day=when.day)] if when.day is not None else None


def what_is_to_come(scene: Scene) -> list[Meaning] | None:
    """'what calories have I still to play with', 'how much protein am I short': what the day leaves."""
    message = scene.message
    nutrient = _nutrient(scene)
    if nutrient is None or scene.foods or scene.named or message.of("amount", "hash", "price", "macro"):
        return None
    if not _asks(scene) or not scene.cue("still_to_have") or message.when.future or message.when.meal is not None:
        return None
    return [Remaining(nutrient=nutrient)] if message.when.day in (None, message.around.today) else None


def of_a_past_day(scene: Scene) -> list[Meaning] | None:
    """'butter: was there any yesterday?': a question about a food and a day gone by is about the record."""
    message = scene.message
    if len(scene.foods) != 1 or scene.named or message.of("amount", "hash", "energy", "macro", "price"):
        return None
    day = message.when.day
    if day is None or day >= message.around.today or "?" not in message.said or _nutrient(scene) is not None:
        return None
    if message.has_any(message.words.people) or scene.cue("condition", "should_i", "its_age", "reminder_good"):
        return None
    return [Eaten(day=day, meal=message.when.meal, name=named_by(message, scene.foods[0]))]


def _asks(scene: Scene) -> bool:
    return scene.message.asks or "?" in scene.said or scene.cue("asking_form", "question_word")


def _names_more(scene: Scene) -> bool:
    """Whether it names a food, a batch or a number, or is about somebody else's day."""
    message = scene.message
    others = message.has_any(message.words.people) or scene.cue("more_people", "condition", "should_i")
    return bool(scene.foods or scene.named or others or message.of("amount", "hash", "energy", "macro", "price"))


def _nutrient(scene: Scene) -> str | None:
    """The nutrient that it names; energy by its words."""
    if scene.cue("energy"):
        return KCAL
    line = scene.message.line
    at = [n for c in scene.message.chunks for n in range(c.start, c.end)]
    found = [named for n in at if (named := nutrient_at(line, n, len(line.tokens))) is not None]
    return found[0][0] if found else None
