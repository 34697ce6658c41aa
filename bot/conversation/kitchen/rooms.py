"""Groups: which meanings are handled and which events are shown where others read along."""

from __future__ import annotations

from collections.abc import Sequence

from bot import batch_events, events, fact_events, people_events
from bot.conversation.exchange import Exchange
from bot.conversation.kitchen import announcements
from bot.events import Event
from bot.kinds import CautionKind, ListOf
from bot.language import answer_meanings as a
from bot.language import kitchen as k
from bot.language.asked import Listing
from bot.language.batch_meanings import CloseBatch, CookBatch, Left, OpenBatch, PourOff
from bot.language.fact_meanings import AboutSelf, SaveTare
from bot.language.meanings import Chatter, Help, Meaning, NotMine, Unclear
from bot.language.portion_meanings import ReduceBatch, SplitBatch
from bot.language.told import Item
from bot.messages import Notification, Reply, Turn
from bot.store import kitchens
from bot.store.delivery import inbox
from bot.store.questions import StoredQuestion

PRIVATE = "That is between you and me: please say it in our private chat. Here I look after batches and tares."
NOT_INSIDE = (
    "This group belongs to a kitchen that you are not in. A member can invite you: they ask me for a code in private, "
    "and you send it to me in private."
)
NO_ROOM = (
    "This group is not your kitchen's room, so its batches are not shown here. To make it the room, say here: "
    "/kitchen here"
)

SHARED_EVENTS = (
    batch_events.BatchOpened,
    batch_events.BatchCooked,
    batch_events.BatchDrained,
    batch_events.BatchBoxed,
    batch_events.BatchReduced,
    batch_events.BatchClosed,
    fact_events.TareSaved,
    people_events.RoomOpened,
    people_events.RoomClosed,
    events.WeighInRemoved,
    events.QuestionAsked,
    events.Answered,
    events.HelpShown,
    events.NotUnderstood,
    events.Refused,
)
"""Events that may be shown in a group: about the kitchen, and nothing of anybody's own records."""
_LISTINGS = frozenset({ListOf.BATCHES, ListOf.TARES})
_SAYABLE = (
    OpenBatch,
    CookBatch,
    PourOff,
    SplitBatch,
    ReduceBatch,
    CloseBatch,
    Left,
    SaveTare,
    AboutSelf,
    Help,
    Chatter,
    NotMine,
    Unclear,
    k.WhoseKitchen,
    k.OpenRoom,
    k.CloseRoom,
    a.Choice,
    a.Filled,
    a.WhichQuestion,
)


def outsider(ex: Exchange) -> str | None:
    """The text for somebody who writes in the room of a kitchen that they are not in; None for everybody else."""
    if ex.group is None:
        return None
    whose = kitchens.kitchen_of_room(ex.books.conn, ex.group.channel, ex.group.place)
    return None if whose in (None, ex.books.person.kitchen_id) else NOT_INSIDE


def asked_here(question: StoredQuestion, ex: Exchange) -> bool:
    """Whether a question may be answered here: in a group only if it was asked in that group."""
    if ex.group is None:
        return True
    about = inbox.get(ex.books.conn, question.inbound_id)
    return about is not None and about.content.shared and about.content.place == ex.group.place


def unfit(told: Sequence[Meaning], ex: Exchange) -> str | None:
    """The text instead of handling what does not belong in a group; None when it may be handled."""
    if ex.group is None:
        return None
    if not all(_sayable(meaning) for meaning in told):
        return PRIVATE
    if all(isinstance(meaning, (k.OpenRoom, k.WhoseKitchen)) for meaning in told):
        return None
    here = kitchens.kitchen_of_room(ex.books.conn, ex.group.channel, ex.group.place)
    return NO_ROOM if here is None and kitchens.others(ex.books) else None


def _sayable(meaning: Meaning) -> bool:
    if isinstance(meaning, Item):
        return meaning.batch is not None
    if isinstance(meaning, Listing):
        return meaning.of in _LISTINGS
    return isinstance(meaning, _SAYABLE)


def may_be_shown(turn: Turn) -> bool:
    """Whether all events of the turn may be shown to a group."""
    return all(_may_be_shown(event) for event in turn.events)


def _may_be_shown(event: Event) -> bool:
    match event:
        case events.ListingShown():
            return event.of in _LISTINGS
        case events.Cautioned():
            return event.kind is CautionKind.STORAGE
        case events.WeighInEvent():
            return event.batch is not None
        case _:
            return isinstance(event, SHARED_EVENTS)


PORTIONS = (events.WeighInEvent, events.WeighInRemoved)


def receipt_in_private(receipt: Sequence[str], ex: Exchange) -> tuple[Notification, ...]:
    """The private message with the receipt of a portion recorded in a group; empty elsewhere."""
    if ex.group is None or not any(isinstance(event, PORTIONS) for event in ex.events):
        return ()
    return (Notification(ex.books.person.id, Reply("\n".join(receipt))),)


def lines_for_all(ex: Exchange) -> list[str]:
    """What a group may read of a portion: only what concerns the batch."""
    return announcements.lines_of(ex.events, ex) or ["Done; the portion is back in its batch."]
