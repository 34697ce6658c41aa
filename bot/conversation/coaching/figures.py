"""How clients stand in one respect, side by side: figures of a day or of a stretch, body weight, target, days logged."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from bot import events
from bot.conversation import hiding, saying
from bot.conversation.coaching import agreements
from bot.conversation.days import weeks
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Refuse
from bot.conversation.settings import aiming, pausing
from bot.kinds import Topic, Why
from bot.language.guided import ClientFigures, HowIs
from bot.store import coaching as store
from bot.store import days, facts, weighins
from bot.store.books import Books
from bot.store.coaching import Coaching
from domain.targets import Target

KCAL = "kcal"
USUAL = (KCAL, "protein_g")
"""What is told of a client where no nutrient is named."""
MOST_LINES = 40
NEAR = 0.02
"""Part of a target by which a day may differ from it and counts as on target."""
WEIGHTS_BACK = timedelta(days=90)


def show(meaning: ClientFigures, ex: Exchange) -> Ask | Refuse | None:
    """Says for each client that was named, or for all of them, how they stand; the lines are under the clients' names."""
    mine = store.clients(ex.books)
    wanted: list[Coaching] = []
    for name in meaning.clients:
        which = agreements.client_of(HowIs(client=name), ex)
        if not isinstance(which, Coaching):
            return which
        wanted.append(which)
    everybody = wanted or mine
    if not everybody:
        return Refuse(agreements.NO_CLIENTS, Why.NO_SUCH_CLIENT)
    ex.note(events.Answered(about=Topic.BODY_WEIGHT if meaning.of == "body_weight" else Topic.NUTRIENT))
    for which in everybody[:MOST_LINES]:
        books = store.books_of_client(ex.books, which.client_id)
        assert books is not None, "the coaching was read a moment ago, in this transaction"
        line = f"{which.called}: {_line(meaning, books)}"
        ex.say(line, hiding.blanked(line))
    return None


def line_of_today(books: Books) -> str:
    """'503 of 1,800 kcal, 1,297 left; protein 40 g' of the client's day so far."""
    return _nutrients(ClientFigures(first=books.today, last=books.today), books)


def _line(meaning: ClientFigures, books: Books) -> str:
    if meaning.of == "body_weight":
        return _body_weight(books)
    if meaning.of == "target":
        return _target(books)
    if meaning.of == "reminders":
        return _reminders(books)
    return _days(meaning, books) if meaning.of == "days" else _nutrients(meaning, books)


def _target(books: Books) -> str:
    target = facts.target(books, books.today)
    if target is None:
        return "no target is set."
    shared = _shared(target, books)
    return f"target {aiming.target_line(shared)}." if shared != Target() else "a target is set; energy is not shared."


def _reminders(books: Books) -> str:
    """Whether a pause lets them rest; when they come is the client's own matter."""
    paused = pausing.pauses_of(facts.settings(books)).ahead(books.today)
    if paused is None:
        return "no pause is on; reminders come as the client has set them."
    if paused.first > books.today:
        return f"paused from {saying.day(paused.first, books.today)} until {saying.day(paused.last, books.today)}."
    return f"yes, paused: reminders rest until {saying.day(paused.last, books.today)}."


def _shared(target: Target, books: Books) -> Target:
    """The target without what the client leaves out for the coach."""
    if "energy" not in books.withheld:
        return target
    return Target() if "protein" in books.withheld else Target(protein_g=target.protein_g)


def _body_weight(books: Books) -> str:
    if "body_weight" in books.withheld:
        return "body weight is not shared with you."
    weights = facts.body_weights(books, books.today - WEIGHTS_BACK, books.today)
    if not weights:
        return "no body weight is on record."
    region = books.person.region
    day, kg = weights[-1]
    said = f"{saying.body_weight(kg, region)}, {saying.day(day, books.today)}"
    if len(weights) == 1:
        return f"{said}; one body weight is on record."
    before, was = weights[-2]
    first, began = weights[0]
    steps = f"{_moved(kg - was)} since {saying.day(before, books.today)} ({saying.body_weight(was, region)})"
    if len(weights) > 2:
        steps += f", {_moved(kg - began)} since {saying.day(first, books.today)} ({saying.body_weight(began, region)})"
    return f"{said}; {steps}."


def _moved(kg: float) -> str:
    if abs(kg) < 0.05:
        return "the same"
    return f"{'up' if kg > 0 else 'down'} {abs(kg):.1f} kg"


def _days(meaning: ClientFigures, books: Books) -> str:
    first, last = meaning.first, min(meaning.last, books.today)
    logged = sorted(weeks.grouped(weighins.between(books, first, last)))
    length = (last - first).days + 1
    said = f"logged on {len(logged)} of {length} {'day' if length == 1 else 'days'}"
    if logged and len(logged) <= 7:
        said += f" ({', '.join(f'{day:%a}' for day in logged)})"
    latest = days.last_logged(books)
    return f"{said}; the last weigh-in {'never' if latest is None else saying.day(latest, books.today)}."


def _nutrients(meaning: ClientFigures, books: Books) -> str:
    named = meaning.nutrients or USUAL
    shared = [name for name in named if _sees(name, books)]
    if not shared:
        return "that is not shared with you."
    found = pausing.without_pauses(weeks.grouped(weighins.between(books, meaning.first, meaning.last)), books)
    one = meaning.first == meaning.last
    when = saying.day(meaning.first, books.today) if one else saying.stretch(meaning.first, meaning.last)
    if not found:
        target = facts.target(books, meaning.last)
        aim = (
            f"; target {aiming.target_line(shown)}" if target and (shown := _shared(target, books)) != Target() else ""
        )
        return f"nothing is on record {when}{aim}."
    figured = weeks.with_figures(found)
    if not figured:
        return f"open weigh-ins only {when}."
    stored = [s for day in figured.values() for s in day]
    mean = weeks.total_of(stored).nutrients.times(1 / len(figured))
    aims = list(days.targets(books, sorted(figured)).values())
    parts = [_part(name, getattr(mean, name, None), _aim(name, aims, meaning.limit)) for name in shared]
    a_day = "" if one else f" a day over {len(figured)} logged {'day' if len(figured) == 1 else 'days'}"
    return f"{saying.at_least(stored)}{'; '.join(parts)}{a_day}, {when}."


def _sees(name: str, books: Books) -> bool:
    part = "protein" if name == "protein_g" else "energy"
    return part not in books.withheld


def _aim(name: str, aims: Sequence[Target], limit: float | None) -> float | None:
    if name == KCAL and limit is not None:
        return limit
    told = [value for each in aims if (value := getattr(each, name, None)) is not None]
    return sum(told) / len(told) if told else None


def _part(name: str, value: float | None, aim: float | None) -> str:
    """'503 of 1,800 kcal, 1,297 under'."""
    what = "" if name == KCAL else f"{aiming.WORDS.get(name, name.removesuffix('_g'))} "
    unit = "kcal" if name == KCAL else "g"
    if value is None:
        return f"{what}not known".strip()
    if aim is None:
        return f"{what}{value:,.0f} {unit}"
    apart = value - aim
    state = "on target" if abs(apart) <= NEAR * aim else f"{abs(apart):,.0f} {'over' if apart > 0 else 'under'}"
    return f"{what}{value:,.0f} of {aim:,.0f} {unit}, {state}"
