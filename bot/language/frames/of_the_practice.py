"""What a coach and a client ask and tell about each other in any words, by roles: of whom, what of them, and when.

It comes last: whatever names a client, or asks about all of them, is never the coach's own record, and what is in no
known wording gets the answer that is nearest.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from bot.language.asked import Listing, Remaining, TotalOf, WhatIf
from bot.language.frames.aims import target_of, told_aim, told_by_day, told_to_each
from bot.language.frames.consents import perhaps_of_sharing
from bot.language.frames.of_clients import noted, stretch
from bot.language.frames.strangers import comes_on_board, of_nobody_here, stranger
from bot.language.guided import (
    ClientFigures,
    ClientFood,
    ClientHistory,
    ClientSheet,
    EndCoaching,
    HowIs,
    Invite,
    Pause,
    PrivateNotes,
    Resume,
    Roster,
    WhoSees,
)
from bot.language.meanings import Answer, Bare, Chatter, Meaning, NotMine, Unclear
from bot.language.message import Message
from bot.language.nutrients_named import named_nutrients
from bot.language.pack import pack
from bot.language.persons import named_in
from bot.language.recalling import named_by
from bot.language.scene import Scene

A_WEEK = timedelta(days=6)
UNTOLD = (Answer, Bare, Chatter, Listing, NotMine, Unclear, WhatIf)
"""What is less than a question of somebody who guides nobody."""
MOST_WORDS = 30
FIRST_WORDS = 4
"""Words within which the subject stands of a question that is asked without its form."""
BEGINS = 3
"""Words within which a question begins: 'wait who reads this'."""
FEW_WORDS = 7
"""Words of what names a client and is asked about them without any sign of a question."""
LEAST_LIMIT = 500.0
"""Smallest number that energy is compared with."""


def of_the_practice(message: Message, found: Sequence[Meaning]) -> list[Meaning] | None:
    """What is said between a coach and clients; None where it is something else. `found`: what it means without."""
    around = message.around
    if len(message.chunks) > MOST_WORDS:
        return None
    scene = Scene(message)
    if scene.named or message.of("hash", "price", "tare"):
        return None
    comes_in = not scene.foods and not message.of("energy", "macro") and comes_on_board(scene)
    if comes_in and not _named(_everybody(message), message) and (unknown := stranger(message)):
        return [Invite(called=unknown)]
    certain = of_nobody_here(scene, found) or noted(message)
    if certain is not None:
        return certain
    if any(isinstance(m, Chatter) for m in found) and not (message.asks or _begins_asking(message)):
        return _beside_a_greeting(scene)
    if around.clients or around.clients_before or around.guides:
        told = _by_coach(scene)
        if told is not None:
            return told
    aim = _own_aim(scene, found)
    if aim is not None:
        return aim
    sees = bool(_named(around.coaches, message)) and scene.cue("gets_to_see", "has_sight")
    if sees and message.asks and not message.of("energy", "macro", "amount"):
        return [WhoSees()]
    if not all(isinstance(m, UNTOLD) for m in found):
        return None
    wanted = not around.guides and scene.cue("client_invited", "new_client", "client_word")
    code = not around.guides and not scene.foods and scene.cue("joining_code")
    if (code or (wanted and not message.asks)) and (unknown := stranger(message)):
        return [Invite(called=unknown)]
    return _by_client(scene)


def _beside_a_greeting(scene: Scene) -> list[Meaning] | None:
    """'Good morning. I take up Kim as client, give me the code', 'thanks, Kim 2100 kcal'."""
    if (
        scene.cue("joining_code")
        and scene.cue("client_word", "client_invited")
        and (unknown := stranger(scene.message))
    ):
        return [Invite(called=unknown)]
    return _set(scene, tuple(named)) if (named := _named(scene.message.around.clients, scene.message)) else None


def more_exactly(message: Message, found: Sequence[Meaning]) -> list[Meaning] | None:
    """Figures where a day is named, or body weight is asked of all, and the words alone led to something wider."""
    if any(isinstance(m, WhoSees) for m in found):
        return [m for m in found if not isinstance(m, Unclear)]  # 'what can Kim see? everything?'
    if len(found) != 1 or not message.around.clients:
        return None
    scene, (only,) = Scene(message), found
    if isinstance(only, HowIs | ClientSheet | ClientFood) and (kept := noted(message)) is not None:
        return kept
    if scene.cue("weighing_well"):
        return None
    if isinstance(only, HowIs | ClientSheet) and (told := _set(scene, _clients(message))) is not None:
        return told
    if isinstance(only, Roster):
        return None if only.group or only.invites else _roster_more_exactly(scene, only)
    return _client_more_exactly(scene, only)


def _roster_more_exactly(scene: Scene, only: Roster) -> list[Meaning] | None:
    day, today = scene.message.when.day, scene.message.around.today
    if only.of == "all" and scene.cue("eats_it", "wrote_in", "nothing_down"):
        return _of_all(scene)
    if only.of in ("over", "under", "protein") and day is not None:
        return _figures(scene, ())
    if only.of == "logged" and day not in (None, today):
        return _figures(scene, ())
    return _figures(scene, ()) if only.of == "all" and scene.cue("weighing_of_another") else None


def _client_more_exactly(scene: Scene, only: Meaning) -> list[Meaning] | None:
    """What is asked of one client besides how they are or what they ate."""
    if isinstance(only, HowIs | ClientFigures | ClientSheet) and scene.cue("reminder", "reminded") and _asks(scene):
        return _reminders(scene)
    if isinstance(only, HowIs) and scene.cue("is_paused", "a_pause") and _asks(scene):
        return _reminders(scene)
    if isinstance(only, HowIs | ClientSheet) and scene.cue("i_wrote"):
        return [PrivateNotes(client=only.client)]
    if isinstance(only, ClientHistory) and scene.cue("weighing_of_another", "body_change"):
        return _figures(scene, _clients(scene.message))
    if isinstance(only, ClientFood) and scene.message.when.day is not None:
        return _day_of(scene, only.client)
    if isinstance(only, HowIs):
        if scene.cue("ended_up_having"):
            return _day_of(scene, only.client)
        return _figures(scene, _clients(scene.message)) if _of_figures(scene) else None
    aims = scene.cue("target_word", "off_target", "body_change", "ought_to", "mean_of")
    of_day = isinstance(only, ClientSheet) and only.span == "day"
    return _figures(scene, _clients(scene.message)) if of_day and aims else None


def _by_coach(scene: Scene) -> list[Meaning] | None:
    message = scene.message
    unknown = stranger(message)
    if unknown and not _named(_everybody(message), message):
        return _invited(scene, unknown)
    of_all = bool(message.around.clients) and scene.cue("among_clients", "of_all_clients") and not _weighs(scene)
    if of_all and not _named(_everybody(message), message) and not scene.cue("he_or_she"):
        return _of_all(scene)
    clients = _clients(message)
    if clients:
        gone = next((name for name in clients if name not in message.around.clients), None)
        if gone is not None:
            return _invited(scene, gone) or ([HowIs(client=gone)] if _asks(scene) or not _weighs(scene) else None)
        return _set(scene, clients) or _of_these(scene, clients)
    return _of_all(scene) if of_all else None


def _everybody(message: Message) -> tuple[str, ...]:
    """Those whom the writer guides or has guided."""
    return (*message.around.clients, *message.around.clients_before)


def _clients(message: Message) -> tuple[str, ...]:
    """Who is spoken of: those who are named, or the one spoken of last where it says 'her' or 'he'."""
    everybody = _everybody(message)
    named = _named(everybody, message)
    if named:
        return tuple(named)
    if not any(word in pack()["his_or_hers"] for word in message.line.plain):
        return ()
    for text in message.around.said_before():
        words = {word.strip(".,!?:;()").casefold() for word in text.split()}
        before = named_in(everybody, words)
        if before:
            return tuple(before) if len(before) == 1 else ()
    return message.around.clients if len(message.around.clients) == 1 else ()


def _weighs(scene: Scene) -> bool:
    """Whether an amount of food is told."""
    return bool(scene.amounts) and bool(scene.foods)


def _named(persons: tuple[str, ...], message: Message) -> list[str]:
    """Those of these persons who are named beside the foods: 'olive oil' names no Olive."""
    words = {
        message.tokens[n].text.casefold()
        for c in message.chunks
        for n in range(c.start, c.end)
        if c.kind != "food" or c.end - c.start == 1
    }
    return named_in(persons, words)


def _asks(scene: Scene) -> bool:
    message = scene.message
    if (
        message.asks
        or "?" in message.said
        or scene.cue("asking_form", "show", "question_word", "tell_me", "read_it_back")
    ):
        return True
    return _begins_asking(message) or (len(message.chunks) <= FEW_WORDS and not message.of("amount"))


def _begins_asking(message: Message) -> bool:
    """Whether it begins as a question does: 'has Kim …'."""
    start = message.chunks[0].start if message.chunks else 0
    first = message.line.plain[start : start + BEGINS]
    persons = (*_everybody(message), *message.around.coaches)
    for word in first:
        if word in pack()["begins_question"]:
            return True
        if named_in(persons, {word}):
            break  # 'Kim is on 1,700 from today' tells
    return bool(pack()["who_among"].ends(first, 0))


def _set(scene: Scene, clients: tuple[str, ...]) -> list[Meaning] | None:
    """A target, a pause or the end of a coaching, wherever the name stands."""
    message = scene.message
    requests = scene.cue("request_form")
    supposed = scene.cue("condition") and not scene.cue("settles_on")
    if supposed or (not requests and ("?" in message.said or _begins_asking(message))):
        return None
    aiming = not scene.foods and not scene.cue("has_eaten")
    by_day = told_by_day(scene) if aiming else []
    if by_day:
        return [target_of(name, each) for name in clients for each in by_day]
    each = told_to_each(scene, clients) if aiming else None
    if each is not None:
        return each
    told = told_aim(scene) if aiming else None
    if told is not None and (message.when.day is None or message.when.day >= message.around.today):
        return [target_of(name, told) for name in clients]
    if message.of("amount", "energy", "macro") or len(clients) > 1:
        return None
    if scene.cue("well_again", "back_on") and not scene.cue("target_word", "read_it_back"):
        return [Resume(client=clients[0])]
    left_alone = scene.cue("let_them_be") and scene.cue("in_peace")
    if left_alone or scene.cue("on_hold", "stops_pinging"):
        first, until = stretch(scene)
        return [Pause(client=clients[0], first=first, until=until)]
    return [EndCoaching(whom=clients[0])] if scene.cue("off_the_list") else None


def _of_these(scene: Scene, clients: tuple[str, ...]) -> list[Meaning] | None:
    """What is asked of clients who are named."""
    message = scene.message
    if not _asks(scene) or _weighs(scene):
        return None
    if scene.cue("gets_to_see") and pack()["who_may"].end(message.line.plain, message.chunks[0].start) is not None:
        return None
    if scene.cue("reminder", "reminded"):
        return _reminders(scene)
    if len(clients) == 1 and scene.cue("i_wrote", "notes_kept"):
        return [PrivateNotes(client=clients[0])]
    if len(clients) > 1 or _of_figures(scene):
        return _figures(scene, clients)
    (client,) = clients
    if scene.foods:
        return [ClientFood(client=client, name=named_by(message, scene.foods[0]))]
    if scene.cue("days_counted", "when_asked", "last_logged"):
        return _figures(scene, clients, days=True)
    first, last = _span(scene)
    if first != last:
        return [ClientSheet(client=client, span="week")]
    eaten = scene.cue("eats_it", "the_day", "ended_up_having")
    if message.when.day is not None or message.when.meal is not None or eaten:
        return _day_of(scene, client)
    return [HowIs(client=client)]


def _day_of(scene: Scene, client: str) -> list[Meaning]:
    """The client's day that is spoken of."""
    today = scene.message.around.today
    day = min(scene.message.when.day or today, today)
    if (today - day).days > 1:
        return [ClientHistory(client=client, first=day, last=day)]
    return [ClientSheet(client=client, span="day", back=(today - day).days)]


def _reminders(scene: Scene) -> list[Meaning]:
    """Whether the reminders of clients come or rest."""
    today = scene.message.around.today
    return [ClientFigures(clients=_clients(scene.message), of="reminders", first=today, last=today)]


def _of_all(scene: Scene) -> list[Meaning] | None:
    """What is asked of all clients, or which of them something holds of."""
    message = scene.message
    subjects = [at for name in ("among_clients", "of_all_clients") for at, _ in message.line.plain.places(name)]
    early = bool(subjects) and min(subjects) < message.chunks[0].start + FIRST_WORDS
    bare = _of_figures(scene) and not message.of("amount", "energy", "macro")
    if not (_asks(scene) or early or bare) or scene.cue("ask_them", "condition"):
        return None
    if scene.cue("tell") and not scene.cue("tell_me"):
        return None
    if scene.cue("is_paused", "paused_among", "a_pause", "on_hold"):
        return [Roster(of="paused")]
    if _of_figures(scene):
        return _figures(scene, ())
    if scene.cue("own_people"):
        return [Roster()]
    if scene.cue("silent", "logged_today", "eats_it", "wrote_in") or scene.cue("nothing_down"):
        today = message.when.day in (None, message.around.today)
        return [Roster(of="logged")] if today else _figures(scene, ())
    return None if scene.foods else [Roster()]


def _of_figures(scene: Scene) -> bool:
    return bool(_nutrients(scene)) or scene.cue(
        "weighing_of_another", "body_change", "target_word", "off_target", "reach_asked", "over_target", "under_target",
        "compared", "is_to_reach", "mean_of",
    )  # fmt: skip


def _nutrients(scene: Scene) -> tuple[str, ...]:
    return named_nutrients(scene.message)


def _figures(scene: Scene, clients: tuple[str, ...], *, days: bool = False) -> list[Meaning]:
    """Body weight, target, or figures of a day or of a stretch, for these clients or for all."""
    message, nutrients = scene.message, _nutrients(scene)
    first, last = _span(scene)
    if days:
        monday = message.around.today - A_WEEK
        return [ClientFigures(clients=clients, of="days", first=monday, last=message.around.today)]
    if not nutrients and scene.cue("weighing_of_another", "body_change"):
        return [ClientFigures(clients=clients, of="body_weight", first=first, last=last)]
    told_to = scene.cue("is_to_reach") and message.when.day is None
    standing = not told_to and (scene.cue("off_target", "over_target", "under_target") or message.when.day is not None)
    if scene.cue("reach_asked", "target_word", "is_to_reach") and not standing and not scene.cue("compared"):
        return [ClientFigures(clients=clients, of="target", first=first, last=last)]
    limits = [a.value for a in scene.masses if a.kind == "bare" and a.value >= LEAST_LIMIT]
    limit = limits[0] if len(limits) == 1 else None
    return [ClientFigures(clients=clients, nutrients=nutrients, first=first, last=last, limit=limit)]


def _span(scene: Scene) -> tuple[date, date]:
    """The days that are asked about: a day, or the last seven where it says week."""
    message = scene.message
    today = message.around.today
    if message.when.day is None and (scene.cue("compared", "mean_of") or pack()["week_word"].found(message.line.plain)):
        last = today - timedelta(days=7) if scene.cue("last_week") and not scene.cue("past_week") else today
        return last - A_WEEK, last
    day = min(message.when.day or today, today)
    return day, day


def _invited(scene: Scene, called: str) -> list[Meaning] | None:
    """'now one for Kim', 'third code, that one goes to Kim': an invitation by a person who has invited before."""
    message = scene.message
    wanted = scene.cue("code_wanted", "client_invited", "new_client") or comes_on_board(scene)
    if not message.around.guides or not wanted or _weighs(scene):
        return None
    if scene.foods or message.of("energy", "macro") or scene.cue("kitchen_itself"):
        return None
    return [Invite(called=called)]


def _own_aim(scene: Scene, found: Sequence[Meaning]) -> list[Meaning] | None:
    """'confirm my current targets', 'what did she put me on': what the writer is to reach, not what is left."""
    message = scene.message
    if not all(isinstance(m, (*UNTOLD, Remaining, TotalOf)) for m in found) or message.of("amount", "energy", "macro"):
        return None
    if scene.foods or not (message.around.coaches or message.around.coaches_before):
        return None
    if scene.cue("still_to_have", "condition", "ended_up_having"):
        return None
    spoken = scene.cue("own_aims") or (scene.cue("own_aim_asked") and scene.cue("for_every_day"))
    given = scene.cue("put_on_me") and scene.cue("he_or_she", "coach_word", "own_coach_word")
    left = scene.cue("still_left") and not scene.cue("own_aim_asked")
    return [Listing(of="target")] if (spoken and not left) or given else None


def _by_client(scene: Scene) -> list[Meaning] | None:
    """What somebody who guides nobody asks: what they are to reach, and who sees what."""
    message = scene.message
    asks = message.asks or "?" in message.said or scene.cue("question_word") or _begins_asking(message)
    if not asks and (less := perhaps_of_sharing(scene)) is not None:
        return less
    if not asks or _weighs(scene) or message.of("energy", "macro"):
        return None
    unknown = stranger(message)
    coached = bool(_named(message.around.coaches, message)) or scene.cue("coach_word", "own_coach_word")
    if (coached and scene.cue("reach_asked", "target_word")) or scene.cue("own_aim_asked"):
        return [Listing(of="target")]
    somebody = coached or bool(unknown) or scene.cue("among_clients", "he_or_she", "onlookers")
    if somebody and scene.cue("gets_to_see", "has_sight", "onlookers"):
        return [WhoSees()]
    return [HowIs(client=unknown)] if unknown and scene.cue("weighing_of_another", "client_word") else None
