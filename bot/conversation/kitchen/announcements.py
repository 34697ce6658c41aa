"""Announcements about a kitchen's batches to its other members; never about who ate what."""

from __future__ import annotations

from collections.abc import Sequence

from bot import batch_events, events
from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.kinds import BatchStep, Ending
from bot.language.kitchen import GoOnWith
from bot.messages import Group, GroupNotification, Reply
from bot.store import batches, kitchens, people

ANNOUNCED = (
    batch_events.BatchOpened,
    batch_events.BatchChanged,
    batch_events.BatchCooked,
    batch_events.BatchPieces,
    batch_events.BatchBoxed,
    batch_events.BatchMoved,
    batch_events.BatchClosed,
    batch_events.BatchUndone,
)
_UNDONE = {
    BatchStep.ADDED: "does not have that in it after all.",
    BatchStep.CORRECTED: "has its correction taken back.",
    BatchStep.REMOVED: "has it in after all.",
    BatchStep.COUNTED: "is not in those pieces after all.",
    BatchStep.MOVED: "was not moved after all.",
    BatchStep.RENAMED: "has its old name again.",
    BatchStep.WEIGHED: "has its weight taken back.",
    BatchStep.OPENING: "is off the list: it was opened by mistake.",
    BatchStep.COOKED: "has its cooked weight taken back.",
    BatchStep.BOXED: "is not in those boxes after all.",
    BatchStep.REPACKED: "is not in those boxes after all.",
    BatchStep.CLOSED: "is open again.",
}
_ENDS = {Ending.FINISHED: "is finished.", Ending.DISCARDED: "was thrown out."}


def announce(ex: Exchange) -> None:
    """Tells the other members, in the kitchen's room if it has one, what this message did to batches."""
    told = [event for event in ex.events if isinstance(event, ANNOUNCED)]
    if not told:
        return
    others = kitchens.others(ex.books)
    for event in told:
        if isinstance(event, batch_events.BatchCooked):
            for member in others:
                ex.send(member.id, GoOnWith(batch=event.batch))
    lines = lines_of(told, ex)
    if not lines:
        return
    text = f"{ex.books.person.name}: " + "\n".join(lines)
    room = kitchens.room_of(ex.books.conn, ex.books.person.kitchen_id)
    if room is not None and ex.group != Group(*room):
        ex.group_notifications.append(GroupNotification(Group(*room), Reply(text)))
    told_already = {each.to for each in ex.notifications}
    for member in others:
        if member.id not in told_already and (room is None or not _reads_along(member.id, room[0], ex)):
            ex.tell(member.id, text)


def _reads_along(person_id: int, channel: str, ex: Exchange) -> bool:
    """Whether the person is in the room's channel and so reads the announcement there."""
    found = people.reached(ex.books.conn, person_id, channel)
    return found is not None and found[0] == channel


def lines_of(told: Sequence[events.Event], ex: Exchange) -> list[str]:
    """One line for each event about a batch that all members may read; nothing of anybody's day."""
    recounted = any(isinstance(event, (batch_events.BatchCooked, batch_events.BatchDrained)) for event in told)
    lines = [_line(event, recounted, ex) for event in told]
    return [line for line in lines if line]


def _line(event: events.Event, recounted: bool, ex: Exchange) -> str:
    """The line for one event; empty for a portion that was only recounted and for private events."""
    match event:
        case batch_events.BatchOpened():
            return f"{_name(event.batch, ex)} is open, {saying.grams(event.raw_g)} went in."
        case batch_events.BatchChanged():
            return ex.shared.get(event, "")
        case batch_events.BatchCooked():
            return f"{_name(event.batch, ex)} weighs {saying.grams(event.cooked_g or 0)} cooked."
        case batch_events.BatchClosed():
            return f"{_name(event.batch, ex)} {_ENDS[event.how]}"
        case batch_events.BatchUndone():
            what = _UNDONE.get(event.what)
            return f"{_name(event.batch, ex)} {what}" if what else ""
        case events.WeighInRecorded(batch=int(number)):
            return f"{saying.grams(event.edible_g)} from {_small(_name(number, ex))}{_left(number, ex)}."
        case events.WeighInChanged(batch=int(number)) if not recounted:
            return f"{saying.grams(event.edible_g)} from {_small(_name(number, ex))}{_left(number, ex)}."
        case _:
            return _line_of_parts(event, ex)


def _line_of_parts(event: events.Event, ex: Exchange) -> str:
    """The line for pieces, boxes and what is gone from a batch; empty for any other event."""
    match event:
        case batch_events.BatchPieces():
            each = f" of {saying.grams(event.piece_g)}" if event.piece_g is not None else ""
            return f"{_name(event.batch, ex)} is {saying.pieces(event.pieces, event.piece)}{each}."
        case batch_events.BatchBoxed():
            boxes = f"{_boxes(event.boxes)} of {saying.grams(event.box_g)}"
            return f"{_name(event.batch, ex)} is in {boxes}{_loose(event.batch, ex)}."
        case batch_events.BatchMoved(boxes=int(count)):
            verb = "is" if count == 1 else "are"
            return f"{_boxes(count)} of {_small(_name(event.batch, ex))} {verb} in the {event.to} now."
        case batch_events.BatchMoved():
            return f"{_name(event.batch, ex)} is in the {event.to} now."
        case batch_events.BatchDrained():
            return f"{saying.grams(event.fat_g)} of fat poured off {_small(_name(event.batch, ex))}."
        case batch_events.BatchReduced():
            gone = f"{saying.grams(abs(event.grams))} of {_small(_name(event.batch, ex))} {event.why}"
            return f"{gone}{_left(event.batch, ex)}."
        case _:
            return ""


def _boxes(count: int) -> str:
    return "1 box" if count == 1 else f"{count} boxes"


def _loose(number: int, ex: Exchange) -> str:
    batch = batches.get(ex.books, number)
    if batch is None or batch.cooked_g is None or batch.loose_g < 1:
        return ""
    return f", {saying.grams(batch.loose_g)} not in boxes"


def _name(number: int, ex: Exchange) -> str:
    batch = batches.get(ex.books, number)
    return saying.first_up(saying.batch(batch)) if batch is not None else f"Batch {number}"


def _small(name: str) -> str:
    return name[:1].lower() + name[1:]


def _left(number: int, ex: Exchange) -> str:
    batch = batches.get(ex.books, number)
    if batch is None or batch.closed or batch.cooked_g is None:
        return ""
    return f"; {saying.grams(batch.left_g)} left{saying.divided(batch)}"
