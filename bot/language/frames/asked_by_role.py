"""Frames for questions by their roles: who wants to know, of what, and whether the sum, the rest or the most of it.

They come behind the frames for known wordings. What makes a question is grammar, which is a closed class: a word
that asks, a verb before its subject, an order to tell. A question never records.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Literal

from bot.language.asked import Eaten, Highest, Remaining, Sheet, TotalOf
from bot.language.batch_meanings import Left
from bot.language.chunks import Chunk
from bot.language.figures import KCAL, nutrient_at
from bot.language.frames.questions import figure_said
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.nutrients_named import named_nutrient, named_nutrients
from bot.language.pack import pack
from bot.language.portion_meanings import Stored
from bot.language.recalling import named_by
from bot.language.scene import Scene

Of = Literal["meal", "food", "day"]
MOST_CHUNKS = 25
MOST_DAYS = 366
A_WEEK = timedelta(days=6)


def stock_wanted(scene: Scene) -> list[Meaning] | None:
    """'stew remaining, report', 'what does one box of dal weigh', 'dal: status': how much there is of a batch.

    It has a word for stock right beside the name of the batch, and nobody who eats or gives.
    """
    message = scene.message
    if len(scene.named) != 1 or scene.foods or len(message.chunks) > MOST_CHUNKS or _numbered(scene):
        return None
    if message.of("hash", "price", "tare", "energy", "macro", "part") or message.when.meal is not None:
        return None
    if scene.cue("i_ate", "condition", "finished_it", "edible_asked") or _of_others(scene):
        return None
    ref, start, end = scene.named[0]
    line, last = message.line, message.chunks[-1].end
    behind = end
    while behind < last and (line.tokens[behind].kind == "sign" or line.plain[behind] in pack()["a_box"]):
        behind += 1
    words = pack()
    told = words["stock_behind"].end(line.plain, behind)
    before = any(stop <= start for _, stop in _places(message, "stock_of"))
    if not before and (told is None or not _nothing_but_asking(message, told)):
        return None
    boxes = scene.cue("a_box")
    return [Stored(place=None, batch=ref)] if boxes else [Left(batch=ref)]


def asked_by_role(scene: Scene) -> Sequence[Meaning] | None:
    """'what've I totted up today?', 'carbs and fibre up to now', 'the worst thing today, salt-wise?'."""
    message = scene.message
    if len(message.chunks) > MOST_CHUNKS or scene.named or message.when.future or _of_others(scene):
        return None
    if message.of("hash", "price", "tare", "macro") or scene.cue("condition", "how_to", "coach_word"):
        return None
    first = first_day(scene)
    if first is None and _numbered(scene):
        return None
    nutrients = named_nutrients(message)
    most = _begins_with_the_most(message) and scene.cue("a_thing", "meal_word")
    if not (wants_answer(scene) or most or (nutrients and not scene.foods and _only_names(message))):
        return None
    left = scene.cue("still_left", "still_to_have")
    if scene.cue("should_i") and not (left and not scene.foods):
        return None
    if scene.foods and not (left and nutrients and _is_for(scene, scene.foods[0])):
        return _of_a_food(scene, first)
    if scene.cue("the_most", "which_meal"):
        return _most(scene, nutrients, first)
    if nutrients:
        return _of_nutrients(scene, nutrients, first)
    return _of_all(scene, first)


def supposed_aim(scene: Scene) -> list[Meaning] | None:
    """'if my goal were 2100 what would I have left', 'suppose I aimed at 1600': the day against another target."""
    message = scene.message
    if (
        _foods_beside(scene)
        or scene.named
        or message.of("hash", "price", "tare")
        or not scene.cue("if_it_were", "condition")
    ):
        return None
    if not scene.cue("target_word", "aiming", "own_aim") or not (
        message.asks or "?" in message.said or _asks_anywhere(scene)
    ):
        return None
    told = figure_said(scene)
    if told is None:
        bare = [c.amount.value for c in scene.amounts if c.amount is not None and c.amount.kind in ("bare", "mass")]
        told = (named_nutrient(message) or KCAL, bare[0]) if len(bare) == 1 else None
    return [Remaining(nutrient=told[0], of=told[1])] if told is not None else None


def _begins_with_the_most(message: Message) -> bool:
    """Whether it begins with a superlative, and is a question without a verb: 'the heaviest thing today'."""
    line, at = message.line.plain, message.chunks[0].start
    return pack()["the_most"].end(line, at + 1 if line[at] in pack()["article"] else at) is not None


def _is_for(scene: Scene, food: Chunk) -> bool:
    """Whether a food only says what for: 'have I any calories left for a beer'."""
    line, at = scene.message.line, food.start - 1
    while at > 0 and line.plain[at] in pack()["article"]:
        at -= 1
    return at >= 0 and line.plain[at] in pack()["is_for"]


def _foods_beside(scene: Scene) -> bool:
    """Whether a food is named that is no nutrient: 'protein' is a powder too."""
    at = {n for c in scene.foods for n in range(c.start, c.end)}
    line = scene.message.line
    return any(nutrient_at(line, n, len(line.tokens)) is None for n in at)


def first_day(scene: Scene) -> date | None:
    """The first of several days up to today that it is about: 'this week', 'since Saturday', 'the last ten days'."""
    message, today = scene.message, scene.message.around.today
    line, words = message.line, pack()
    for chunk in message.of("moment"):
        day = chunk.moment.day if chunk.moment is not None else None
        if day is not None and day < today and chunk.start and line.plain[chunk.start - 1] in words["since_then"]:
            return day
    for at in line.number_places:
        told = line.amounts.number(at)
        if told is None or not 1 <= told[0] <= MOST_DAYS or at == 0 or line.plain[at - 1] not in words["of_late"]:
            continue
        counted = line.plain[told[1]] if told[1] < len(line.plain) else ""
        for length, concept in ((1, "days_counted"), (7, "weeks_counted")):
            if counted in words[concept]:
                return today - timedelta(days=length * int(told[0]) - 1)
    return today - A_WEEK if words["week_word"].found(line.plain) else None


def begins(scene: Scene) -> date | None:
    """The first day of the sheet that it asks for; None for the seven days up to today."""
    first = first_day(scene)
    return None if first is None or scene.message.around.today - first == A_WEEK else first


def wants_answer(scene: Scene) -> bool:
    """Whether it wants to be told something, by its grammar: 'whatve I …', 'have I …', 'list …', or a question mark."""
    message = scene.message
    if message.asks or "?" in message.said:
        return True
    words, said = pack(), [word for word in message.wording if word not in pack()["before_question"]]
    if not said or message.orders:
        return False
    if words["asks_first"].end(said, 0) is not None:
        return True
    stop = words["auxiliary"].end(said, 0)
    if stop is not None and words["asking_subject"].end(said, stop) is not None:
        return True
    return words["telling_asked"].end(said, 0) is not None or words["asks_behind"].found(said)


def _asks_anywhere(scene: Scene) -> bool:
    return scene.cue("asks_first")


def _of_others(scene: Scene) -> bool:
    """Whether it is about somebody else; one who only wants to know is none ('my daughter asks how …')."""
    message = scene.message
    others = message.has_any(message.words.people | message.words.pronouns) or scene.cue("more_people")
    return others and not scene.cue("wants_to_know")


def _numbered(scene: Scene) -> bool:
    """Whether it names a number other than the one of 'one box'."""
    return any(c.amount is None or c.amount.kind not in ("count", "bare") or c.amount.value != 1 for c in scene.amounts)


def _places(message: Message, concept: str) -> Sequence[tuple[int, int]]:
    start, end = message.chunks[0].start, message.chunks[-1].end
    return [(a, b) for a, b in message.line.plain.places(concept) if start <= a and b <= end]


def _nothing_but_asking(message: Message, at: int) -> bool:
    """Whether behind a token only words stand that ask or say now: 'dal left, please?', 'dal remaining, report'."""
    line, words = message.line, pack()
    allowed = ("stock_behind", "polite", "nothing_more", "the_day", "telling_asked")
    while at < message.chunks[-1].end:
        ends = [stop for name in allowed if (stop := words[name].end(line.plain, at)) is not None]
        if line.tokens[at].kind == "sign":
            at += 1
        elif ends:
            at = max(ends)
        else:
            return False
    return True


def _only_names(message: Message) -> bool:
    """Whether it names nutrients and a time, and no word that tells: 'carbs and fibre up to now'."""
    words, line = pack(), message.line
    spans = [(c.start, c.end) for c in message.of("moment")]
    at, last = message.chunks[0].start, message.chunks[-1].end
    timed = bool(spans)
    while at < last:
        inside = next((stop for start, stop in spans if start == at), None)
        now = words["up_to_now"].end(line.plain, at)
        named = nutrient_at(line, at, last)
        energy = words["energy"].end(line.plain, at)
        ends = (inside, now, energy, named[1] if named is not None else None)
        if any(ends):
            timed = timed or now is not None
            at = max(each for each in ends if each is not None)
        elif (
            line.tokens[at].kind == "sign"
            or line.plain[at] in words["joining"]
            or line.plain[at] in words["nothing_more"]
        ):
            at += 1
        else:
            return False
    return timed


def _of_a_food(scene: Scene, first: date | None) -> list[Meaning] | None:
    """What is on record of a food, where the question has the writer as its subject or a time that has passed."""
    message, when = scene.message, scene.message.when
    if len(scene.foods) != 1 or named_nutrients(message) or not message.around.recorded():
        return None
    if scene.cue("keeping_words", "asks_for_figures", "still_good_asked", "still_left"):
        return None
    name = named_by(message, scene.foods[0])
    if first is not None:
        return [Eaten(first=first, name=name)]
    said = [word for word in message.wording if word not in pack()["before_question"]]
    mine = pack()["auxiliary_of_the_past"].end(said, 0)
    if mine is not None and pack()["asking_subject"].end(said, mine) is not None:
        return [Eaten(day=when.day, meal=when.meal, name=name)]
    return None


def _most(scene: Scene, nutrients: Sequence[str], first: date | None) -> list[Meaning] | None:
    """Which meal, food or day has the most."""
    when = scene.message.when
    if len(nutrients) > 1:
        return None
    of: Of = (
        "meal"
        if scene.cue("meal_word", "which_meal")
        else "day"
        if first is not None and scene.cue("day_word")
        else "food"
    )
    return [Highest(nutrient=nutrients[0] if nutrients else KCAL, of=of, day=when.day, first=first)]


def _of_nutrients(scene: Scene, nutrients: Sequence[str], first: date | None) -> list[Meaning] | None:
    """The sum or the rest of each nutrient."""
    when, today = scene.message.when, scene.message.around.today
    if scene.cue("no_books", "target_word") and not scene.cue("still_left", "still_to_have"):
        return None
    if first is not None:
        return [Sheet(span="week", day=today, first=first)]
    if when.meal is None and when.day in (None, today) and scene.cue("still_left", "still_to_have", "went_over"):
        return [Remaining(nutrient=each) for each in nutrients]
    return [TotalOf(nutrient=each, day=when.day, meal=when.meal) for each in nutrients]


def _of_all(scene: Scene, first: date | None) -> list[Meaning] | None:
    """What the day or the days hold together, or still leave to eat."""
    when, today = scene.message.when, scene.message.around.today
    if scene.cue("a_box") and scene.cue("stock_asked"):
        return [Stored(place=None)] if first is None and when.day in (None, today) else None
    if scene.cue("a_box", "cold_places", "the_pot", "scales_asked", "reminder", "own_settings"):
        return None
    if first is not None:
        wanted = scene.cue("over_time", "adds_up", "add_it_up", "what_one_ate", "going_today", "asks_back")
        return [Sheet(span="week", day=today, first=first)] if wanted else None
    left = scene.cue("still_left", "still_to_have", "more_of_it")
    if left and scene.cue("eats_it", "target_word", "has_eaten") and when.day in (None, today) and when.meal is None:
        return [Remaining(nutrient=KCAL)]
    dated = when.day is not None or when.meal is not None or scene.cue("the_day", "up_to_now")
    if not dated or (when.day is not None and when.day > today):
        return None
    mine = scene.cue("asks_back", "add_it_up", "adds_up", "going_today", "what_one_ate", "all_of_mine", "i_have_done")
    if not mine:
        return None
    if when.meal is not None:
        return [Eaten(day=when.day, meal=when.meal)]
    return [Sheet(span="day", day=when.day or today)]
