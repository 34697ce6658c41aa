"""Frames for questions about the figures of several days: means, and on how many days a target was met."""

from __future__ import annotations

from datetime import date, timedelta

from bot.language.asked import DaysMet, MeanOf
from bot.language.figures import nutrient_at
from bot.language.frames.asked_by_role import A_WEEK, first_day, wants_answer
from bot.language.meanings import Meaning
from bot.language.nutrients_named import named_nutrients
from bot.language.pack import pack
from bot.language.scene import Scene

MOST_CHUNKS = 25
AROUND = (
    "sheet_aside",
    "mean_asked",
    "week_word",
    "last_week",
    "last_seven",
    "this_month",
    "last_month",
    "energy",
    "joining",
)
"""Concepts of words that make no statement of a list of nutrients and days."""
NOT_OF_THE_BOOKS = ("condition", "how_to", "should_i", "no_books", "the_most", "which_meal", "body_weight_word")


def figures_of_days(scene: Scene) -> list[Meaning] | None:
    """'how much protein this week', 'average calories', 'how many days did I hit protein', 'on track this week?'."""
    if not scene.cue("week_word", "last_seven", "this_month", "of_late", "since_then", "mean_asked", "days_asked"):
        return None
    if not _is_of_own_days(scene):
        return None
    nutrients, stretch, today = named_nutrients(scene.message), _stretch(scene), scene.message.around.today
    first, last = stretch or (today - A_WEEK, today)
    met = scene.cue("went_over", "fell_short", "met_it")
    if scene.cue("days_asked") and met:
        return [DaysMet(nutrients=nutrients, first=first, last=last)]
    of_a_mean = nutrients and (stretch or scene.cue("mean_asked"))
    if of_a_mean and (met or not scene.cue("target_word")):  # but not 'what is my daily protein target'
        asks = wants_answer(scene) or _only_names(scene)
        return [MeanOf(nutrients=nutrients, first=first, last=last)] if asks else None
    on_track = stretch is not None and scene.cue("went_over") and wants_answer(scene)
    return [MeanOf(nutrients=(), first=first, last=last)] if on_track else None


def _is_of_own_days(scene: Scene) -> bool:
    """Whether it can be about the writer's own days: no food, number or meal is named, and nobody else."""
    message = scene.message
    if len(message.chunks) > MOST_CHUNKS or scene.named or message.when.future or _of_others(scene):
        return False
    if message.of("hash", "price", "tare", "macro", "energy") or scene.cue(*NOT_OF_THE_BOOKS):
        return False
    return not _names_food(scene) and message.when.meal is None


def _stretch(scene: Scene) -> tuple[date, date] | None:
    """The first and the last of the days that it is about; None where it names no stretch of days."""
    today = scene.message.around.today
    monday = today - timedelta(days=today.weekday())
    if scene.cue("week_before_last", "week_of"):
        return None
    if scene.cue("last_week"):
        return monday - timedelta(days=7), monday - timedelta(days=1)
    if scene.cue("last_month"):
        last = today.replace(day=1) - timedelta(days=1)
        return last.replace(day=1), last
    first = monday if scene.cue("week_so_far") else today - A_WEEK if scene.cue("last_seven") else first_day(scene)
    if first is None and scene.cue("this_month"):
        first = today.replace(day=1)
    return None if first is None else (first, today)


def _of_others(scene: Scene) -> bool:
    """Whether it is about somebody else: 'Miss' is somebody, and a missed target nobody."""
    others = scene.message.words.people | scene.message.words.pronouns
    return scene.message.has_any(others - pack()["met_it"].words) or scene.cue("more_people", "coach_word", "who")


def _names_food(scene: Scene) -> bool:
    """Whether a food is named that is no nutrient: 'protein' is a powder too."""
    line = scene.message.line
    at = (n for chunk in scene.foods for n in range(chunk.start, chunk.end))
    return any(nutrient_at(line, n, len(line.tokens)) is None and line.plain[n] not in pack()["energy"] for n in at)


def _only_names(scene: Scene) -> bool:
    """Whether it names nutrients and days, and tells nothing: 'average protein and fat this month'."""
    line, words = scene.message.line, pack()
    at, last = scene.message.chunks[0].start, scene.message.chunks[-1].end
    while at < last:
        named = nutrient_at(line, at, last)
        ends = [stop for name in AROUND if (stop := words[name].end(line.plain, at)) is not None]
        if named is not None:
            at = named[1]
        elif ends:
            at = max(ends)
        elif line.tokens[at].kind in ("sign", "newline", "number") or line.plain[at] in words["of_late"]:
            at += 1
        else:
            return False
    return True
