"""Buttons under replies that are not questions: each acts on what the reply is about, as a short message would."""

from __future__ import annotations

from datetime import date
from typing import assert_never

from bot import batch_events, events
from bot.conversation import saying
from bot.conversation.dispatch import conclude, handle
from bot.conversation.exchange import Exchange
from bot.conversation.records import fixes, repeating, undoing
from bot.kinds import Does
from bot.language.asked import DayDone
from bot.language.batch_meanings import PutElsewhere
from bot.language.meanings import Meaning
from bot.language.portion_meanings import SplitBatch
from bot.language.setting_meanings import SetReminder, Snooze
from bot.language.told import BatchRef, Item, When
from bot.language.usual import Repeat
from bot.messages import Action
from bot.store import batches, journal, weighins

GONE = "That button no longer works."
SNOOZE_MINUTES = 60
MOST_ON_A_BUTTON = 40
"""Characters of a button that a phone shows if the button has a row to itself."""
UNASKED = ("evening", "usual")
"""What a button can turn off."""


def under(ex: Exchange) -> tuple[Action, ...]:
    """The buttons under a reply: for a weigh-in Undo and Change, for a batch that was opened or weighed Box and Portion.

    None in a group, where others could press them, and none for what the message itself did not change.
    """
    if ex.group is not None or ex.books.foreign or ex.farewell:
        return ()
    numbers = {event.id for event in ex.events if isinstance(event, events.WeighInEvent)}
    pots = {
        event.batch for event in ex.events if isinstance(event, (batch_events.BatchOpened, batch_events.BatchCooked))
    }
    found: list[Action] = []
    if numbers and _changed_something(ex):
        found.append(_action("Undo", Does.UNDO, ex.books.inbound_id))
        if len(numbers) == 1 and not pots:
            found.append(_action("Change", Does.CHANGE, *numbers))
    if ex.went == "pot":
        found.append(_action("I ate it", Does.ATE, ex.books.inbound_id))
    elif ex.went == "day":
        found.append(_action("In the pot", Does.POT, ex.books.inbound_id))
    if len(pots) == 1:
        found += [_action("Box", Does.BOX, *pots), _action("Portion", Does.PORTION, *pots)]
    return tuple(found)


def under_reminder(day: date) -> tuple[Action, ...]:
    """The buttons under the evening reminder of a day."""
    return (
        _action("That was all", Does.DONE, day.isoformat()),
        _action("Snooze 1 h", Does.SNOOZE, day.isoformat()),
        _action("Off", Does.OFF, "evening"),
    )


def under_breakfast(day: date, what: str) -> tuple[Action, ...]:
    """The buttons under the offer of the usual breakfast of a day: what it is, if a button holds it, and Off."""
    words = what if len(what) <= MOST_ON_A_BUTTON else "Record it"
    return (_action(words, Does.USUAL, day.isoformat()), _action("Off", Does.OFF, "usual"))


def _action(words: str, does: Does, about: int | str) -> Action:
    return Action(words, f"{does}:{about}")


def _changed_something(ex: Exchange) -> bool:
    """Whether this message changed something that can be undone; an undo itself does not count."""
    entries = journal.last(ex.books)
    return bool(entries) and entries[0].inbound_id == ex.books.inbound_id


def act(does: str, ex: Exchange) -> str | None:
    """Carries out a button. Returns the reason if there is nothing to do; None when it was done."""
    verb, _, about = does.partition(":")
    try:
        match Does(verb):
            case Does.UNDO:
                return _undo(int(about), ex)
            case Does.CHANGE:
                return _change(int(about), ex)
            case Does.ATE | Does.POT as wanted:
                return _elsewhere(wanted, int(about), ex)
            case Does.BOX | Does.PORTION as wanted:
                return _from_batch(wanted, int(about), ex)
            case Does.DONE | Does.SNOOZE | Does.USUAL as wanted:
                return _for_day(wanted, date.fromisoformat(about), ex)
            case Does.OFF:
                handle(SetReminder(what=about if about in UNASKED else "evening", time=None), ex)
                return None
            case _ as never:
                assert_never(never)
    except ValueError:
        return GONE


def _undo(inbound_id: int, ex: Exchange) -> str | None:
    entries = journal.of_message(ex.books, inbound_id)
    if not entries:
        return "That was taken back already."
    conclude(undoing.take_back(entries, ex), ex)
    return None


def _elsewhere(wanted: Does, inbound_id: int, ex: Exchange) -> str | None:
    entries = journal.last(ex.books)
    if not entries or entries[0].inbound_id != inbound_id:
        return "Something else has been recorded since, so please say it in words."
    handle(PutElsewhere(pot=wanted is Does.POT), ex)
    return None


def _change(number: int, ex: Exchange) -> str | None:
    found = weighins.get(ex.books, number)
    if found is None:
        return f"#{number} is not on record any more."
    conclude(fixes.ask_amount(found, ex), ex)
    return None


def _from_batch(wanted: Does, number: int, ex: Exchange) -> str | None:
    batch = batches.get(ex.books, number)
    if batch is None or batch.closed:
        return f"Batch {number} is not open any more."
    ref = BatchRef(number=number, text=f"batch {number}")
    asked: Meaning = SplitBatch(batch=ref) if wanted is Does.BOX else Item(text=ref.text, batch=ref)
    handle(asked, ex)
    return None


def _for_day(wanted: Does, day: date, ex: Exchange) -> str | None:
    if day != ex.books.today:
        return f"That was for {saying.day(day, ex.books.today)}."
    match wanted:
        case Does.DONE:
            handle(DayDone(), ex)
        case Does.SNOOZE:
            handle(Snooze(minutes=SNOOZE_MINUTES), ex)
        case _:
            if repeating.had_breakfast(ex):
                return "Breakfast is on record already."
            handle(Repeat(meal=repeating.BREAKFAST, when=When(meal=repeating.BREAKFAST)), ex)
    return None
