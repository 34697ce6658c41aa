"""Frames for what somebody wishes of the program: to be reminded at a time or no more, to see energy or not to."""

from __future__ import annotations

import re
from datetime import time
from typing import Literal, get_args

from bot.language import times
from bot.language.asked import Asked
from bot.language.batch_meanings import BatchMatter
from bot.language.fact_meanings import BodyWeight
from bot.language.frames.aims import aimed
from bot.language.intents import templated
from bot.language.intents.settings import USUAL, in_part_of_day
from bot.language.meanings import Answer, Bare, Chatter, Meaning, NotMine, Unclear
from bot.language.pack import pack
from bot.language.scene import Scene
from bot.language.setting_meanings import AskReminderTime, SetReminder, SetSetting
from bot.language.slots import REMINDERS
from bot.language.told import Item

RegionSaid = Literal["US", "UK", "metric"]
ASKED = (
    *get_args(Asked), *get_args(BatchMatter), AskReminderTime, BodyWeight, Answer, Bare, Chatter, Item, NotMine, Unclear
)  # fmt: skip
"""What a template may read in a wish that is none: it holds words of a question, or of a remark."""
_FOUR_DIGITS = re.compile(r"([01]\d|2[0-3])([0-5]\d)")
WEEK = "0123456"
SHORT = 3
"""Chunks of an order that only says what and when: 'remind 0600'."""
NEAR = 3
"""Tokens behind a verb among which the one stands to whom something shall be told."""


def wished(scene: Scene) -> list[Meaning] | None:
    """What the message wishes: by a template that accounts for every word, else by what it holds."""
    found = next(
        (told for frame in (reminded, energy_hidden, day_begins, measures_of, aimed) if (told := frame(scene))), None
    )
    if found is None:
        return None
    said = templated(scene.message)
    return list(found) if said is None or any(isinstance(meaning, ASKED) for meaning in said) else said


def reminded(scene: Scene) -> list[Meaning] | None:
    """'gie me a shout at half seven at night', 'can u ping me 10pm', 'the reminder is too early, 21:45 suits me'."""
    if not scene.cue("nudging", "reminder", "poke", "nagging"):
        return None
    message = scene.message
    if message.of("energy", "macro", "hash", "price") or any(a.kind in ("mass", "volume") for a in message.amounts):
        return None
    if scene.cue("condition", "reminder_came", "coach_word") or scene.named or _asks_for_more(scene):
        return None
    if message.asks and not scene.cue("request_form"):
        return None
    clock = _clock(scene)
    if _no_more(scene, clock):
        days = _weekdays(scene)
        if days is not None and scene.cue("on_such_days"):
            return [SetReminder(what=_kind(scene), time="", weekdays="".join(d for d in WEEK if d not in days))]
        return [SetReminder(what=_kind(scene), time=None)]
    wanted = _nudges_me(scene) or (scene.cue("reminder", "poke") and scene.cue("reminder_wanted"))
    wanted = wanted or (scene.cue("reminder", "bare_remind") and len(message.chunks) <= SHORT)
    if clock is None or not wanted or scene.cue("nudge_negated"):
        return None
    return [SetReminder(what=_kind(scene), time=f"{clock:%H:%M}", weekdays=_weekdays(scene))]


def energy_hidden(scene: Scene) -> list[Meaning] | None:
    """'please don't show me calories', 'stop telling me the calories, just weights is fine', 'calories off'."""
    if not scene.cue("energy") or scene.foods or scene.named:
        return None
    message = scene.message
    if message.of("amount", "macro", "hash", "price") or message.asks or message.has_any(message.words.people):
        return None
    if scene.cue("coach_word", "condition", "target_word", "still_left") or message.when.day is not None:
        return None
    if scene.cue("shown_again") and scene.cue("show_it") and not scene.cue("not_shown"):
        return [SetSetting(name="energy", value="shown")]
    return [SetSetting(name="energy", value="hidden")] if scene.cue("not_shown") else None


def day_begins(scene: Scene) -> list[Meaning] | None:
    """'don't flip my day at midnight, start it at 4 am', 'count all before 6am as the day before': when it starts."""
    message = scene.message
    turns = scene.cue("day_turns") and scene.cue("day_word")
    if not (turns or scene.cue("as_the_day_before")) or _is_question(scene):
        return None
    if message.of("batch", "energy", "macro", "hash", "price") or scene.cue("condition", "i_ate"):
        return None
    if message.has_any(message.words.people) or not _names_no_food(scene):
        return None
    line, found = scene.message.line, []
    for at in range(message.chunks[0].start, message.chunks[-1].end):
        clock, _ = _clock_at(scene, at)
        if clock is None and at and line.plain[at - 1] in pack()["clock_leads"]:
            hour = line.moments.clock.at(at)
            clock = None if hour is None else hour[0]
        if clock is not None and not _is_denied(scene, at):
            found.append(clock)
    told = found[-1] if found else None
    return [SetSetting(name="day_starts", value=str(told.hour))] if told is not None and not told.minute else None


def _names_no_food(scene: Scene) -> bool:
    """Whether its foods are only in the words for a turning day: 'roll over'."""
    turning = scene.message.line.plain.places("day_turns")
    return all(any(at <= food.start < end for at, end in turning) for food in scene.message.of("food"))


def _is_denied(scene: Scene, at: int) -> bool:
    """'not midnight', 'instead of at twelve': whether the time at a token is the one that it is not."""
    before = scene.message.line.plain[max(0, at - NEAR) : at]
    return pack()["contrasts"].found(before) and not pack()["day_turns"].found(before)


def measures_of(scene: Scene) -> list[Meaning] | None:
    """'I'm from the States, use US cups', 'british pints please': whose measures a cup and a pint are."""
    message = scene.message
    if message.of("food", "batch", "energy", "macro", "hash", "price", "amount") or _is_question(scene):
        return None
    if scene.cue("condition", "i_ate") or message.has_any(message.words.people):
        return None
    line, first, last = message.line, message.chunks[0].start, message.chunks[-1].end
    said = {
        region
        for region in get_args(RegionSaid)
        for at, end in line.plain.places(f"region_{region}")
        if first <= at
        and end <= last
        and (end < last and line.plain[end] in pack()["units_word"])
        and not (region == "US" and line.tokens[at].raw == "us")
    }
    return [SetSetting(name="region", value=said.pop())] if len(said) == 1 else None


def _is_question(scene: Scene) -> bool:
    return scene.message.asks and not scene.cue("request_form")


def _asks_for_more(scene: Scene) -> bool:
    """Whether something on record is asked for: 'remind me what I had', 'tell me how much is left at 9'."""
    first, said = scene.message.chunks[0].start, scene.message.line.plain
    return any(at >= first for at, _ in pack()["asked_of_record"].places(said))


def _no_more(scene: Scene, clock: time | None) -> bool:
    """Whether reminders shall stop: a word for stopping goes with them, and no other time is wished for."""
    if scene.cue("nudge_not_stopped") or (clock is not None and scene.cue("reminder_wanted") and not _stops_it(scene)):
        return False
    return _stops_it(scene)


def _stops_it(scene: Scene) -> bool:
    """Whether a word for stopping stands in the clause of the reminder, before it or behind it."""
    said, end = scene.message.line.plain, scene.message.chunks[-1].end
    first = scene.message.chunks[0].start
    nudges = [at for name in ("reminder", "nudges") for at, _ in pack()[name].places(said) if first <= at < end]
    stops = [at for at, _ in pack()["stopping"].places(said) if first <= at < end]
    signs = [n for n in range(first, end) if scene.message.tokens[n].kind == "sign"]
    return any(not any(min(a, b) < n < max(a, b) for n in signs) for a in nudges for b in stops)


def _nudges_me(scene: Scene) -> bool:
    """Whether a verb for reminding has the writer behind it, and nobody else as its subject."""
    said, message = scene.message.line.plain, scene.message
    first, last = message.chunks[0].start, message.chunks[-1].end
    me, others = pack()["to_me"], message.words.people | message.words.pronouns
    for at, end in pack()["nudging"].places(said):
        if first <= at and end <= last and any(word in me for word in said[at : min(end + NEAR, last)]):
            return not any(word in others for word in said[max(first, at - NEAR) : at])
    return False


def _clock(scene: Scene) -> time | None:
    """The clock time that is said, the last of several ('not at 8, at 9'), in the part of the day that is said."""
    line, found, at = scene.message.line, None, scene.message.chunks[0].start
    end = scene.message.chunks[-1].end
    while at < end:
        clock, stop = _clock_at(scene, at)
        if clock is not None:
            exact = any(line.plain[n] in pack()["of_the_clock"] for n in range(at, min(stop + 1, end)))
            exact = exact or _FOUR_DIGITS.fullmatch(line.text(at)) is not None
            found = clock if exact else in_part_of_day(scene.message, clock, _kind(scene))
        at = max(stop, at + 1)
    return found


def _clock_at(scene: Scene, at: int) -> tuple[time | None, int]:
    """The clock time at a token, also 'half seven' by itself, and the token behind it."""
    moments = scene.message.line.moments
    read = moments.read(at)
    if read is not None and read[0].clock is not None:
        return read[0].clock, read[1]
    four = _FOUR_DIGITS.fullmatch(scene.message.line.text(at))
    if four is not None:
        return time(int(four[1]), int(four[2])), at + 1
    if scene.message.line.plain[at] in pack()["half_past"] and at + 1 < scene.message.chunks[-1].end:
        hour = moments.clock.at(at + 1)
        if hour is not None and hour[0].minute == 0:
            return hour[0].replace(minute=30), hour[1]
    return None, at + 1 if read is None else read[1]


def _weekdays(scene: Scene) -> str | None:
    """The days of the week that are said."""
    line = scene.message.line
    if not times.names_weekdays(line):
        return None
    end = scene.message.chunks[-1].end
    for at in range(scene.message.chunks[0].start, end):
        read = [days for days, _ in times.weekdays(line, at, end) if isinstance(days, str)]
        if read:
            return read[-1]
    return None


def _kind(scene: Scene) -> str:
    """Which reminder: by what shall be done then."""
    said = scene.message.line.plain
    return next((kind for kind in REMINDERS if pack()[f"reminder_{kind}"].found(said)), USUAL)
