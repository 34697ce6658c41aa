"""The frame for questions about one's own record: what is asked for follows from what is named, not from the wording.

A batch, a food, a nutrient, a meal, a day or a week that a question names is what it asks about; words for aiming,
reminding or weighing oneself are, where none of these is named.
"""

from __future__ import annotations

from datetime import date

from bot.language.asked import Eaten, Listing, OpenQuestions, Remaining, Sheet, TotalOf, Trend, WhoAte
from bot.language.figures import KCAL
from bot.language.frames.asked_by_role import begins, first_day
from bot.language.meanings import Meaning
from bot.language.nutrients_named import named_nutrient
from bot.language.recalling import named_by
from bot.language.scene import Scene

MOST_CHUNKS = 25
UNCLEAR_MEAL = "dinner"
"""What 'tea' is as a meal that somebody asks back for."""


def asked_of_record(scene: Scene) -> list[Meaning] | None:
    """'any cheese on my list today?', 'lunch on wednesday, what was it again', 'so whats my limit per day'."""
    message = scene.message
    if not _asks(scene) or len(message.chunks) > MOST_CHUNKS or message.when.future:
        return None
    if message.of("amount", "hash", "price", "tare", "macro") or scene.cue(
        "should_i", "condition", "how_to", "coach_word"
    ):
        return None
    if message.has_any(message.words.people | message.words.pronouns) or scene.cue("more_people", "its_age"):
        return None
    if scene.named:
        return _of_a_batch(scene)
    if scene.foods:
        return _of_a_food(scene)
    nutrient = named_nutrient(scene.message)
    if scene.cue("the_most", "which_meal"):
        return None
    return _of_a_nutrient(scene, nutrient) if nutrient is not None else _of_things(scene) or _of_a_time(scene)


def _asks(scene: Scene) -> bool:
    if scene.message.asks or "?" in scene.message.said or scene.cue("asks_behind", "add_it_up"):
        return True
    if scene.foods:
        return False
    if named_nutrient(scene.message) is not None and scene.cue("adds_up", "the_day"):
        return True  # 'total protein for the day, please'
    return scene.cue("asking_form", "tell_me", "read_it_back")


def _of_a_batch(scene: Scene) -> list[Meaning] | None:
    """How much of one batch the writer has had."""
    if (
        len(scene.named) != 1
        or scene.foods
        or not scene.cue("i_have_eaten")
        or named_nutrient(scene.message) is not None
    ):
        return None
    return [WhoAte(batch=scene.named[0][0])]


def _of_a_food(scene: Scene) -> list[Meaning] | None:
    """What is on record of one food, of a day, a meal, a week or at all."""
    message, when = scene.message, scene.message.when
    if len(scene.foods) != 1 or named_nutrient(scene.message) is not None or not message.around.recorded():
        return None
    if scene.cue("still_left", "keeping_words", "asks_for_figures", "went_over", "still_good_asked"):
        return None
    name = named_by(message, scene.foods[0])
    first = first_day(scene)
    if first is not None:
        return [Eaten(first=first, name=name)]
    about_the_past = scene.cue("asks_back", "on_my_record", "did_i_eat")
    if about_the_past or when.meal is not None or (when.day is not None and when.day < message.around.today):
        return [Eaten(day=when.day, meal=when.meal, name=name)]
    return None


def _of_a_nutrient(scene: Scene, nutrient: str) -> list[Meaning] | None:
    """How much of a nutrient is on record or left to have."""
    when, today = scene.message.when, scene.message.around.today
    if scene.cue("target_word", "no_books") and not scene.cue("still_left", "went_over"):
        return None
    if first_day(scene) is not None:
        return (
            [Sheet(span="week", day=today, first=begins(scene))]
            if not scene.cue("last_week", "week_before_last")
            else None
        )
    gone_by = when.meal is not None or (when.day is not None and when.day < today)
    if not gone_by and scene.cue("still_left", "went_over", "still_to_have"):
        return [Remaining(nutrient=nutrient)]
    return [TotalOf(nutrient=nutrient, day=when.day, meal=when.meal)]


def _of_things(scene: Scene) -> list[Meaning] | None:
    """What is neither food nor a time: open questions, the last entry, reminders, targets, one's weight."""
    if scene.cue("you_still_need"):
        return [OpenQuestions()]
    if scene.cue("last_logged"):
        return [Listing(of="weigh_ins")]
    if scene.cue("pause_asked"):
        return [Listing(of="pauses")]
    if scene.cue("reminder", "do_you_remind"):
        return [Listing(of="reminders")]
    stands = scene.cue("still_left", "went_over", "going_today", "fell_short")
    if scene.cue("target_word", "aim_asked") and not stands:
        return [Listing(of="target")]
    return [Trend(of="body_weight")] if scene.cue("scales_asked") else None


def _of_a_time(scene: Scene) -> list[Meaning] | None:
    """What a meal, a day or a week holds."""
    message, when, today = scene.message, scene.message.when, scene.message.around.today
    days = _days(scene)
    if len(days) > 1 and scene.cue("compared"):
        return [Sheet(span="day", day=day) for day in days]
    meal = when.meal or (UNCLEAR_MEAL if when.unclear and when.day is not None else None)
    if meal is not None:
        return [Eaten(day=when.day, meal=meal)]
    if when.day is not None and when.day < today and scene.cue("went_over"):
        return [TotalOf(nutrient=KCAL, day=when.day)]
    if first_day(scene) is not None and not scene.cue("last_week", "week_before_last", "week_of"):
        return (
            [Sheet(span="week", day=today, first=begins(scene))]
            if scene.cue("adds_up", "over_time", "going_today", "compared")
            else None
        )
    dated = when.day is not None or scene.cue("the_day")
    wanted = scene.cue("adds_up", "add_it_up", "going_today", "what_one_ate", "all_of_mine", "read_it_back")
    return [Sheet(span="day", day=when.day or today)] if dated and wanted and not message.of("energy") else None


def _days(scene: Scene) -> list[date]:
    """The days that are named, in order and each once."""
    told = [c.moment.day for c in scene.message.of("moment") if c.moment is not None and c.moment.day is not None]
    return list(dict.fromkeys(told))
