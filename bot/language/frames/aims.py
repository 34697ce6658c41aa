"""The frame for a target in any words: figures of nutrients beside a word for aiming, the writer's or a client's."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from bot.language.fact_meanings import SetTarget
from bot.language.figures import KCAL, Figures, figure, figures, nutrient_at
from bot.language.goals import LEAST_BARE_KCAL, TargetSaid, kind_of_day
from bot.language.guided import TargetFor
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.persons import clients_named
from bot.language.scene import Scene
from bot.language.times import from_day, spoken, until_day

MOST_CHUNKS = 40
SETTING = ("is_new", "setting_to", "target_moved", "aiming", "own_aim", "agreed_with", "for_every_day", "client_moved")
"""Concepts of which one says that a target is set, where the word for it stands far from its figures."""
ABOUT_AIMS = (
    "target_word", "aiming", "agreed_with", "target_moved", "client_moved", "setting_to", "for_good", "for_every_day",
    "from_then", "is_new",
)  # fmt: skip
"""Concepts without which no target is set."""
OWN = ("target_word", "own_aim", "agreed_with", "target_moved", "aiming", "for_good", "for_every_day")
"""Concepts of which one says that an aim is the writer's where nobody else is spoken of."""
LONGEST = timedelta(days=366)
"""A target for longer is none: '2200 a day' is no time."""
BESIDE = 3
"""Tokens between the word for a target and its figures ('the goal is now 1900 kcal')."""


def aimed(scene: Scene) -> Sequence[Meaning] | None:
    """'bump me target up to 2500 cal mate', 'agreed on 75 g of protein a day', 'put Lou on 2100 kcal from Monday'."""
    message = scene.message
    if not scene.cue(*ABOUT_AIMS) or len(message.chunks) > MOST_CHUNKS:
        return None
    if message.of("hash", "price", "tare", "batch", "state") or scene.named or _asks(scene):
        return None
    if scene.cue("condition", "used_to_be", "fell_short", "label_word", "went_over", "i_ate"):
        return None
    clients = clients_named(message)
    if not clients and not _is_own(scene):
        return None
    said = scene.cue("target_word", "aiming", "agreed_with", "target_moved", "client_moved")
    if not said and not _only_figures(scene):
        return None
    told = told_aim(scene)
    if told is None or not (scene.cue(*SETTING) or _is_beside(scene) or (clients and not said)):
        return None
    more = {"day": told.first, "until": told.until, "days": told.days}
    per = "lb" if scene.cue("per_body_lb") else "kg" if scene.cue("per_body_kg") else ""
    if clients and per:
        return None
    if clients:
        return [TargetFor(client=name, **told.amounts(), **more) for name in clients]  # type: ignore[arg-type]
    return [SetTarget(per=per, **told.amounts(), **more)]  # type: ignore[arg-type]


def _asks(scene: Scene) -> bool:
    """Whether it is a question and no request: 'is 2200 too much?', but not 'can we lower my limit to 2100?'."""
    requests = scene.cue("request_form") and scene.cue("target_moved", "setting_to")
    first = scene.message.line.plain[scene.message.chunks[0].start]
    asks = scene.message.asks or "?" in scene.message.said or first in pack()["begins_question"]
    return asks and not requests


def _only_figures(scene: Scene) -> bool:
    """Whether it tells figures for days to come and nothing that was eaten: 'from now on 1850 cals and 95 protein'."""
    message = scene.message
    if scene.foods or scene.cue("eats_it", "i_ate", "burnt_off") or message.when.meal is not None:
        return False
    told = bool(message.of("energy", "macro")) or bool(_nutrients(scene))
    ahead = message.when.day is None or message.when.day >= message.around.today
    limits = scene.cue("for_every_day") and scene.cue("at_most", "own_aim")
    new = scene.cue("is_new") and scene.cue("own_aim") and len(set(_nutrients(scene))) > 1
    return told and ahead and (limits or new or scene.cue("for_good", "setting_to", "from_then"))


def _is_own(scene: Scene) -> bool:
    """Whether the aim is the writer's: nobody else is spoken of, or the writer takes it over ('make that my goal')."""
    message = scene.message
    others = message.has_any(message.words.people | message.words.pronouns) or scene.cue("more_people")
    if others and not scene.cue("own_coach_word"):
        return scene.cue("own_aim", "agreed_with")
    return scene.cue(*OWN)


def _is_beside(scene: Scene) -> bool:
    """Whether a figure stands right behind the word for a target: 'the goal's 1900 cals now'."""
    line, last = scene.message.line, scene.message.chunks[-1].end
    ends = [end for _, end in pack()["target_word"].places(line.plain) if end <= last]
    return any(line.amounts.number(n) is not None for end in ends for n in range(end, min(end + BESIDE, last)))


def told_aim(scene: Scene) -> TargetSaid | None:
    """The figures with their days; None where there are none, or a number that belongs to nothing."""
    line, chunks = scene.message.line, scene.message.chunks
    at, end = chunks[0].start, chunks[-1].end
    values: dict[str, float] = {}
    bare: list[float] = []
    first: date | None = None
    until: date | None = None
    days = ""
    while at < end:
        kind = kind_of_day(line, at, end) if not days else None
        last = next(until_day(line, at, end), None) if until is None else None
        ahead = _from(scene, at, end) if first is None else None
        if kind is not None:
            days, at = kind
        elif last is not None and isinstance(last[0], date) and last[0] - scene.message.around.today <= LONGEST:
            until, at = last[0], last[1]
        elif ahead is not None:
            first, at = ahead
        elif line.amounts.number(at) is not None or nutrient_at(line, at, end) is not None:
            apart = _apart(scene, at, end)
            read = next(figures(line, at, end), None) if apart is None else apart
            if read is None or not isinstance(read[0], Figures):
                at += 1
                continue
            values = {**read[0].values, **values}
            bare.extend(read[0].bare)
            at = read[1]
        else:
            at += 1
    return _checked(scene, Figures(values, tuple(bare)), first, until, days)


def _apart(scene: Scene, at: int, end: int) -> tuple[Figures, int] | None:
    """A figure that a word of moving parts from its nutrient: 'bump my protein to 110 g'."""
    line = scene.message.line
    named = nutrient_at(line, at, end)
    stop = spoken(line, "moved_to", named[1], end) if named is not None else None
    read = line.amounts.quantity(stop) if stop is not None and stop < end else None
    if named is None or read is None or read[0].kind not in ("mass", "bare") or read[0].doubt is not None:
        return None
    return Figures({named[0]: figure(named[0], read[0])}), read[1]


def _from(scene: Scene, at: int, end: int) -> tuple[date, int] | None:
    """A first day that is said to be one: 'from Monday', 'starting tomorrow'."""
    line = scene.message.line
    if spoken(line, "from_then", at, end) is None:
        return None
    return next(((day, stop) for day, stop in from_day(line, at, end) if isinstance(day, date)), None)


def _checked(scene: Scene, told: Figures, first: date | None, until: date | None, days: str) -> TargetSaid | None:
    """The target, if each number is a figure of it: a bare one is energy where nothing else can be meant."""
    values = dict(told.values)
    if told.bare:
        kept = scene.cue("stays_as_it_is")
        for_energy = scene.cue("energy") or told.bare[0] >= LEAST_BARE_KCAL
        named = [] if kept and for_energy else [name for name in _nutrients(scene) if name not in values]
        others = set(_nutrients(scene)) - set(values) - {KCAL}
        if len(told.bare) == 1 and KCAL in values and len(others) == 1:
            return TargetSaid(Figures({**values, others.pop(): told.bare[0]}), first, until, days)
        weighed = any(amount.kind == "mass" and amount.value == told.bare[0] for amount in scene.message.amounts)
        if len(told.bare) == 1 and not values and len(set(named)) == 1 and not scene.cue("energy"):
            return TargetSaid(Figures({named[0]: told.bare[0]}), first, until, days)
        if len(told.bare) > 1 or KCAL in values or named or weighed or told.bare[0] < LEAST_BARE_KCAL:
            return None
        values[KCAL] = told.bare[0]
    if not values or any(
        c.amount is not None and c.amount.kind in ("count", "measure", "volume") for c in scene.amounts
    ):
        return None
    return TargetSaid(Figures(values), first, until, days)


def _nutrients(scene: Scene) -> list[str]:
    line = scene.message.line
    at = [n for c in scene.message.chunks for n in range(c.start, c.end)]
    return [found[0] for n in at if (found := nutrient_at(line, n, len(line.tokens))) is not None]
