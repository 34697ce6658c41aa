"""The frame for a target in any words: figures of nutrients beside a word for aiming, the writer's or a client's."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from itertools import pairwise

from bot.language.chunks import Chunk
from bot.language.fact_meanings import SetTarget
from bot.language.figures import KCAL, Figures, figure, figures, nutrient_at
from bot.language.goals import LEAST_BARE_KCAL, TargetSaid, kind_of_day
from bot.language.guided import TargetFor
from bot.language.meanings import Meaning, Unclear
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.persons import clients_named, named_in
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
MOST_A_DAY = ("protein_g", "fat_g", "fibre_g")
"""Of what nobody is to eat as many grams as a day has kilocalories."""
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
        return told_to_each(scene, clients) or [target_of(name, told) for name in clients]
    return [SetTarget(per=per, **told.amounts(), **more)]  # type: ignore[arg-type]


def target_of(client: str, told: TargetSaid) -> TargetFor:
    """The target for a client."""
    more = {"day": told.first, "until": told.until, "days": told.days}
    return TargetFor(client=client, **told.amounts(), **more)  # type: ignore[arg-type]


def told_to_each(scene: Scene, clients: Sequence[str]) -> list[Meaning] | None:
    """'2400 for Teo and 1800 for Kim', 'Teo 2400 kcal, Kim just protein 75': each client with figures of their own.

    None where they share their figures; unclear where some of them are nobody's.
    """
    message = scene.message
    places = [
        n for n, c in enumerate(message.chunks) if c.kind == "word" and named_in(tuple(clients), _said(message, c))
    ]
    figures_at = [n for n, c in enumerate(message.chunks) if c.kind in ("amount", "energy", "macro")]
    if len(places) < 2 or not figures_at:
        return None
    edges = [0, *(n + 1 for n in places[:-1]), len(message.chunks)]
    if figures_at[0] > places[0]:
        edges = [0, *places[1:], len(message.chunks)]
    parts = [message.part(a, b) for a, b in pairwise(edges)]
    if sum(bool(part.of("amount", "energy", "macro")) for part in parts) < 2:
        return None
    found: list[Meaning] = []
    for part in parts:
        named, told = clients_named(part), told_aim(Scene(part))
        if len(named) != 1 or told is None:
            return [Unclear(text=message.text, about="coach")]
        found.append(target_of(named[0], told))
    return found


def _said(message: Message, chunk: Chunk) -> set[str]:
    return {message.tokens[n].text.casefold() for n in range(chunk.start, chunk.end)}


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


def told_by_day(scene: Scene) -> list[TargetSaid]:
    """A target for each of several kinds of day: '2100 on gym days, 1800 otherwise'; empty where it is not so told."""
    line, at, end = scene.message.line, scene.message.chunks[0].start, scene.message.chunks[-1].end
    found: list[Figures | str] = []
    while at < end:
        kind = kind_of_day(line, at, end)
        others = spoken(line, "other_days", at, end)
        if kind is not None or others is not None:
            found.append(kind[0] if kind is not None else "")
            at = kind[1] if kind is not None else others or end
        elif line.amounts.number(at) is not None or nutrient_at(line, at, end) is not None:
            read = next(figures(line, at, end), None)
            told = _with_energy(read[0]) if read is not None and isinstance(read[0], Figures) else None
            if read is None or told is None:
                if line.amounts.number(at) is not None:
                    return []
                at += 1
                continue
            found.append(told)
            at = read[1]
        else:
            at += 1
    return _paired(found)


def _with_energy(told: Figures) -> Figures | None:
    """The figures, a bare one as energy; None where it can't be."""
    if not told.bare:
        return told
    if len(told.bare) > 1 or told.bare[0] < LEAST_BARE_KCAL or KCAL in told.values:
        return None
    return Figures({**told.values, KCAL: told.bare[0]})


def _paired(found: Sequence[Figures | str]) -> list[TargetSaid]:
    """Each kind of day with the figures on its side: before it throughout, or behind it."""
    pairs = [(found[n], found[n + 1]) for n in range(0, len(found) - 1, 2)]
    if len(found) < 4 or len(found) % 2 or any(isinstance(a, str) == isinstance(b, str) for a, b in pairs):
        return []
    told = [(b, a) if isinstance(a, str) else (a, b) for a, b in pairs]
    kinds = [kind for _, kind in told if isinstance(kind, str)]
    named = [_other_than([k for k in kinds if k]) if kind == "" else kind for kind in kinds]
    if not all(named) or len(set(named)) < len(named):
        return []
    return [TargetSaid(fig, days=kind) for (fig, _), kind in zip(told, named, strict=True) if isinstance(fig, Figures)]


def _other_than(kinds: Sequence[str]) -> str:
    """The days that are none of these: '' where that is no kind of day."""
    if kinds in (["training"], ["rest"]):
        return "rest" if kinds == ["training"] else "training"
    if any(not kind.isdigit() for kind in kinds):
        return ""
    return "".join(day for day in "0123456" if not any(day in kind for kind in kinds))


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
    heavy = [name for name in MOST_A_DAY if values.get(name, 0) >= LEAST_BARE_KCAL]
    if len(heavy) == 1 and KCAL not in values:
        values[KCAL] = values.pop(heavy[0])  # '3000 a day, protein same as before'
    kept = scene.cue("stays_as_it_is")
    light = [name for name in _nutrients(scene) if name != KCAL and name not in values]
    if kept and len(set(light)) == 1 and values.get(KCAL, LEAST_BARE_KCAL) < LEAST_BARE_KCAL:
        values[light[0]] = values.pop(KCAL)  # 'protein down to 130, calories as they are'
    if told.bare:
        # So much of a nutrient is nobody's target: 'up to 3000, protein as before'.
        heavy_one = told.bare[0] >= LEAST_BARE_KCAL
        named = [] if heavy_one else [n for n in _nutrients(scene) if n not in values and not (kept and n == KCAL)]
        others = set() if told.bare[0] >= LEAST_BARE_KCAL else set(_nutrients(scene)) - set(values) - {KCAL}
        if len(told.bare) == 1 and KCAL in values and len(others) == 1:
            return TargetSaid(Figures({**values, others.pop(): told.bare[0]}), first, until, days)
        weighed = any(amount.kind == "mass" and amount.value == told.bare[0] for amount in scene.message.amounts)
        if len(told.bare) == 1 and not values and len(set(named)) == 1 and (kept or not scene.cue("energy")):
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
