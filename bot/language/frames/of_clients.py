"""Frames for what a coach says of clients in any words: who is named decides, and what is asked or wished of them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Final, Literal

from bot.language.figures import nutrient_at
from bot.language.guided import (
    ClientFood,
    ClientHistory,
    ClientSheet,
    ClientTrend,
    CompareWeeks,
    HowIs,
    Pause,
    PrivateNote,
    PrivateNotes,
    Resume,
    Roster,
    Tell,
)
from bot.language.meanings import Meaning, Unclear
from bot.language.message import Message
from bot.language.nutrients_named import named_nutrient
from bot.language.pack import pack
from bot.language.persons import clients_named
from bot.language.recalling import named_by
from bot.language.scene import Scene
from bot.language.times import from_day, spoken, until_day

Which = Literal["all", "logged", "silent", "over", "under", "unweighed", "protein", "new", "paused"]
SIGNS: Final[tuple[tuple[Which, str], ...]] = (
    ("paused", "paused_among"), ("silent", "silent"), ("protein", "protein_short"), ("protein", "short_among"),
    ("unweighed", "weighs_least"), ("over", "over_target"), ("under", "under_target"), ("new", "is_new"),
    ("logged", "logged_today"),
)  # fmt: skip
"""What may hold of some clients, with the concept that says it."""
A_WEEK = 7
MOST_EACH = 12
"""Most clients of whom each has a line of their own."""
MOST_NAMED = 8
NAMED_OF_CLIENTS = (
    "adds_up", "over_time", "target_word", "scales_word", "roster_wanted", "energy", "polite", "of_late",
    "days_counted", "weeks_counted", "week_word", "month_word",
)  # fmt: skip
"""What may be asked of a client by its name alone."""


def of_clients(scene: Scene) -> Sequence[Meaning] | None:
    """'and Jonas, how's he getting on', 'is anybody on holiday', 'Lou is well again, end her break'."""
    message = scene.message
    if not message.around.clients or message.of("hash", "price", "tare") or scene.named:
        return None
    clients = clients_named(message)
    if not clients:
        return _of_them_all(scene) or _of_somebody(scene)
    if len(clients) == 1:
        asked = _passed_on(scene, clients[0])
        if asked is not None:
            return asked
        if scene.cue("pause", "paused_among") and not message.of("macro", "energy") and stretch(scene)[1] is not None:
            return _paused(scene, clients[0])
    if len(clients) > 1 or message.of("amount", "macro", "energy"):
        return None
    return _told(scene, clients[0]) or _paused(scene, clients[0]) or _asked(scene, clients[0])


def _of_them_all(scene: Scene) -> list[Meaning] | None:
    """All clients, or those of whom something holds."""
    message = scene.message
    if not scene.cue("among_clients") or message.of("amount", "macro", "energy") or scene.foods:
        return None
    asks = message.asks or scene.cue(
        "asking_form", "show", "question_word", "read_it_back", "roster_wanted", "who_among"
    )
    if not asks or scene.cue("tell", "ask_them"):
        return None
    of = next((of for of, concept in SIGNS if scene.cue(concept)), None)
    if of is not None:
        return [Roster(of=of)]
    if scene.cue("target_word") and len(message.around.clients) <= MOST_EACH:
        return [HowIs(client=name) for name in message.around.clients]
    return [Roster()] if scene.cue("roster_wanted", "all_clients") else None


def _of_somebody(scene: Scene) -> list[Meaning] | None:
    """A question about 'he' or 'she' where a coach names nobody: it is never about the coach's own record."""
    message = scene.message
    clients = message.around.clients
    if not scene.cue("he_or_she") or not message.asks or message.of("amount", "macro", "energy") or scene.named:
        return None
    return _asked(scene, clients[0]) if len(clients) == 1 else [Unclear(text=message.text, about="coach")]


def _passed_on(scene: Scene, client: str) -> list[Meaning] | None:
    """'ask Carla what happened on Sunday evening': a question that goes to the client."""
    line, at, last = scene.message.line, scene.message.chunks[0].start, scene.message.chunks[-1].end
    at = pack()["polite"].end(line.plain, at) or at
    names = set(client.casefold().split())
    if line.plain[at] not in pack()["asks_them"] or at + 2 >= last or line.tokens[at + 1].text.casefold() not in names:
        return None
    begins = line.plain[at + 2]
    if begins not in pack()["asks_first"] and begins not in pack()["asks_whether"]:
        return None
    return [Tell(client=client, text=line.typed(at + 2, last))]


def _only_named(scene: Scene, client: str) -> bool:
    """Whether it only names a client, what and when: 'carla total today', "Ana's lunch yesterday"."""
    message, line = scene.message, scene.message.line
    if message.of("amount", "macro", "energy", "food", "batch") or len(message.chunks) > MOST_NAMED:
        return False
    names = {name for part in client.casefold().split() for name in (part, f"{part}'s", f"{part}s")}
    found = [n for concept in NAMED_OF_CLIENTS for a, b in line.plain.places(concept) for n in range(a, b)]
    moments = [n for c in message.of("moment") for n in range(c.start, c.end)]
    nutrients = [
        n
        for at in range(len(line.tokens))
        if (named := nutrient_at(line, at, len(line.tokens))) is not None
        for n in range(at, named[1])
    ]
    about = {*found, *moments, *nutrients}
    tokens = [n for c in message.chunks if c.kind != "sign" for n in range(c.start, c.end)]
    rest = [n for n in tokens if n not in about and line.tokens[n].text.casefold() not in names]
    return not about.isdisjoint(tokens) and all(line.plain[n] in pack()["nothing_more"] for n in rest)


def _asked(scene: Scene, client: str) -> list[Meaning] | None:
    """What is asked about one client."""
    message, when = scene.message, scene.message.when
    asks = (
        message.asks
        or "?" in message.said
        or scene.cue("asking_form", "tell_me", "show", "question_word", "read_it_back")
        or _only_named(scene, client)
    )
    if scene.cue("notes_kept"):
        return [PrivateNotes(client=client)] if asks else None
    if pack()["who_may"].end(message.line.plain, message.chunks[0].start) is not None and scene.cue("gets_to_see"):
        return None
    if not asks or when.future or scene.cue("should_i", "condition", "tell"):
        return None
    if scene.cue("weighing_well"):
        return [HowIs(client=client)]
    if scene.cue("weighing_of_another"):
        return [ClientTrend(client=client, of="body_weight")]
    if scene.cue("balance_word"):
        return [ClientTrend(client=client, of="energy_balance")]
    if len(scene.foods) == 1 and named_nutrient(message) is None:
        return [ClientFood(client=client, name=named_by(message, scene.foods[0]))]
    if when.day is None and (pack()["week_word"].found(message.line.plain) or scene.cue("last_week")):
        if scene.cue("compared"):
            return [CompareWeeks(client=client)]
        return [ClientSheet(client=client, span="week", back=A_WEEK if scene.cue("last_week") else 0)]
    if (
        when.day is None
        and when.meal is None
        and named_nutrient(message) is None
        and not scene.cue("eats_it", "the_day")
    ):
        return [HowIs(client=client)]
    back = (message.around.today - (when.day or message.around.today)).days
    if back <= 1:
        return [ClientSheet(client=client, span="day", back=back)]
    return [ClientHistory(client=client, first=when.day, last=when.day)] if when.day is not None else None


def _paused(scene: Scene, client: str) -> list[Meaning] | None:
    """A pause of a client that begins or ends."""
    if scene.message.asks or "?" in scene.message.said or scene.cue("condition", "only_supposed"):
        return None
    if scene.cue("well_again"):
        return [Resume(client=client)]
    if not scene.cue("pause", "paused_among"):
        return None
    first, until = stretch(scene)
    return [Pause(client=client, first=first, until=until)]


def off_for_a_while(scene: Scene) -> list[Meaning] | None:
    """'off on holiday till Sunday, leave me be': a pause of the writer's own, where it says until or from when."""
    message = scene.message
    if not scene.cue("pause", "paused_among") or message.asks or "?" in message.said:
        return None
    if message.of("amount", "food", "batch", "hash", "energy", "macro", "price") or scene.cue(
        "condition", "only_supposed"
    ):
        return None
    others = message.has_any(message.words.people) or scene.cue("more_people") or clients_named(message)
    if others or not scene.cue("the_writer"):
        return None
    first, until = stretch(scene)
    return [Pause(first=first, until=until)] if until is not None else None


def noted(message: Message) -> list[Meaning] | None:
    """'note on Kim: knee surgery in May', 'remember that Kim hates fish': what a coach wants to have written down."""
    if not message.around.clients or message.asks or message.of("energy", "macro", "hash", "price"):
        return None
    line, last = message.line, message.chunks[-1].end
    at = message.chunks[0].start
    at = pack()["polite"].end(line.plain, at) or at
    behind = pack()["begins_note"].end(line.plain, at)
    named = clients_named(message)
    if len(named) == 1 and Scene(message).cue("note_it_down"):
        return [PrivateNote(client=named[0], text=message.text)]
    if behind is None or behind + 2 >= last or len(named) != 1 or line.plain[behind] in pack()["given_to_name"]:
        return None
    whose = {part.casefold() for part in named[0].split()}
    while behind < last and (line.tokens[behind].kind == "sign" or line.plain[behind] in pack()["about_them"]):
        behind += 1
    first = line.tokens[behind].text.casefold()
    after = behind + 1 < last and line.tokens[behind + 1].kind == "sign"
    start = behind + 2 if first in whose and after else behind
    return [PrivateNote(client=named[0], text=line.typed(start, last))] if start < last else None


def stretch(scene: Scene) -> tuple[date | None, date | None]:
    """(from when, until when) it says."""
    line, at, end = scene.message.line, scene.message.chunks[0].start, scene.message.chunks[-1].end
    first: date | None = None
    until: date | None = None
    while at < end:
        last = next(((day, stop) for day, stop in until_day(line, at, end) if isinstance(day, date)), None)
        ahead = spoken(line, "from_then", at, end) and next(
            ((day, stop) for day, stop in from_day(line, at, end) if isinstance(day, date)), None
        )
        if last is not None and until is None:
            until, at = last
        elif ahead and first is None:
            first, at = ahead
        else:
            at += 1
    return first, until


def back_again(scene: Scene) -> list[Meaning] | None:
    """'I'm back, no need for the break any more': the writer's own pause ends."""
    message = scene.message
    if (
        not scene.cue("resume")
        or not scene.cue("a_pause")
        or message.asks
        or "?" in message.said
        or message.when.future
    ):
        return None
    if message.of("amount", "food", "batch", "hash", "energy") or clients_named(message) or scene.cue("condition"):
        return None
    return [Resume()]


def _told(scene: Scene, client: str) -> list[Meaning] | None:
    """'let Amina know the salmon was spot on', 'drop Jonas a line saying well done': words for a client."""
    message = scene.message
    line, last = message.line, message.chunks[-1].end
    at = message.chunks[0].start
    begins = pack()["lets_know"].end(line.plain, pack()["polite"].end(line.plain, at) or at)
    names = set(client.casefold().split())
    if begins is None or begins >= last or line.tokens[begins].text.casefold() not in names:
        return None
    stop = pack()["know_that"].end(line.plain, begins + 1)
    if stop is None or stop >= last:
        return None
    while stop < last and line.tokens[stop].kind == "sign":
        stop += 1
    return [Tell(client=client, text=line.typed(stop, last))] if stop < last else None
