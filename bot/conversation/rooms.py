"""Groups: what may be said and shown where others read along. Only the kitchen's matters, never anybody's own."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from bot.conversation import news, sheets
from bot.conversation.exchange import Exchange
from bot.language import kitchen as k
from bot.language import meanings as m
from bot.messages import Letter, Reply, Turn
from bot.store import kitchens
from bot.store.delivery import inbox
from bot.store.questions import StoredQuestion

PRIVATE = "That is between you and me: please say it in our private chat. Here I look after batches and tares."
NOT_INSIDE = (
    "This is the room of a kitchen that you are not in. Somebody who is can invite you: they ask me for a code in "
    "private, and you send it to me in private."
)
NO_ROOM = (
    "This group is not your kitchen's room, so its batches are not shown here. To make it the room, say here: "
    "/kitchen here"
)

SHARED_EVENTS = frozenset(
    {
        "batch_opened",
        "batch_cooked",
        "batch_drained",
        "batch_boxed",
        "batch_reduced",
        "batch_closed",
        "tare_saved",
        "room_opened",
        "room_closed",
        "weigh_in_removed",
        "question",
        "answer",
        "help",
        "not_understood",
        "refused",
    }
)
"""What may come of a message in a group: the kitchen's matters, and nothing of anybody's own records."""
_LISTINGS = frozenset({"batches", "tares"})
_SAYABLE = (
    m.OpenBatch,
    m.CookBatch,
    m.PourOff,
    m.SplitBatch,
    m.ReduceBatch,
    m.CloseBatch,
    m.Left,
    m.SaveTare,
    m.Help,
    m.Chatter,
    m.NotMine,
    m.Unclear,
    k.WhoseKitchen,
    k.OpenRoom,
    k.CloseRoom,
)


def outsider(ex: Exchange) -> str | None:
    """What somebody is told who speaks in the room of a kitchen that is not theirs; None for everybody else."""
    if ex.group is None:
        return None
    whose = kitchens.kitchen_of_room(ex.books.conn, ex.group.channel, ex.group.place)
    return None if whose in (None, ex.books.person.kitchen_id) else NOT_INSIDE


def asked_here(question: StoredQuestion, ex: Exchange) -> bool:
    """Whether a question was asked where this message is said: in a group only those of that group are anybody's."""
    if ex.group is None:
        return True
    about = inbox.get(ex.books.conn, question.inbound_id)
    return about is not None and about.content.shared and about.content.place == ex.group.place


def unfit(told: Sequence[m.Meaning], ex: Exchange) -> str | None:
    """What is said instead of doing something in a group that does not belong there; None when it may be done."""
    if ex.group is None:
        return None
    if not all(_sayable(meaning) for meaning in told):
        return PRIVATE
    if all(isinstance(meaning, (k.OpenRoom, k.WhoseKitchen)) for meaning in told):
        return None
    here = kitchens.kitchen_of_room(ex.books.conn, ex.group.channel, ex.group.place)
    return NO_ROOM if here is None and kitchens.others(ex.books) else None


def _sayable(meaning: m.Meaning) -> bool:
    if isinstance(meaning, m.Item):
        return meaning.batch is not None
    if isinstance(meaning, m.Listing):
        return meaning.of in _LISTINGS
    return isinstance(meaning, _SAYABLE)


def may_be_shown(turn: Turn) -> bool:
    """Whether nothing came of it but what may be shown to a group."""
    return all(_may_be_shown(event) for event in turn.events)


def _may_be_shown(event: Mapping[str, object]) -> bool:
    match event["type"]:
        case "listing":
            return event["of"] in _LISTINGS
        case "caution":
            return event["kind"] == "storage"
        case "weigh_in" | "weigh_in_changed":
            return event["batch"] is not None
        case kind:
            return kind in SHARED_EVENTS


def shown(turn: Turn, ex: Exchange) -> Turn:
    """The turn as a group may read it: of a portion only what concerns the batch; the receipt goes to its eater."""
    if not any(event["type"] in news.PORTIONS for event in turn.events):
        return turn
    first = turn.replies[0]
    tail = sheets.tail(ex)
    receipt = "\n".join([*ex.lines, *([tail] if tail else [])])
    question = first.text.removeprefix(receipt).strip()
    lines = news.lines_of(list(turn.events), ex) or ["Done; what it took is back in its batch."]
    return replace(
        turn,
        replies=(replace(first, text="\n".join([*lines, *([question] if question else [])])),),
        letters=(Letter(ex.books.person.id, Reply(receipt)), *turn.letters),
    )
