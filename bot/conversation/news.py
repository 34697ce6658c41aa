"""What the others of a kitchen hear of its batches: that one is there, cooked, in boxes, finished; never who ate what."""

from __future__ import annotations

from typing import Any

from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.language.kitchen import GoOnWith
from bot.messages import Group, Notice, Reply
from bot.store import batches, kitchens, people
from domain.batches import Batch

ANNOUNCED = frozenset({"batch_opened", "batch_cooked", "batch_boxed", "batch_closed", "batch_undone"})
PORTIONS = frozenset({"weigh_in", "weigh_in_changed", "weigh_in_removed"})
_UNDONE = {
    "opening": "is off the list: it was opened by mistake.",
    "cooked": "has its cooked weight taken back.",
    "boxed": "is not in those boxes after all.",
    "closed": "is open again.",
}
_ENDS = {"finished": "is finished.", "discarded": "was thrown out."}


def announce(ex: Exchange) -> None:
    """Tells the others of the kitchen, in its room when it has one, what became of batches by this message."""
    told = [event for event in ex.events if event["type"] in ANNOUNCED]
    if not told:
        return
    others = kitchens.others(ex.books)
    for event in told:
        if event["type"] == "batch_cooked":
            for member in others:
                ex.send(member.id, GoOnWith(batch=int(str(event["batch"]))))
    lines = lines_of(told, ex)
    if not lines:
        return
    text = f"{ex.books.person.name}: " + "\n".join(lines)
    room = kitchens.room_of(ex.books.conn, ex.books.person.kitchen_id)
    if room is not None and ex.group != Group(*room):
        ex.notices.append(Notice(Group(*room), Reply(text)))
    told_already = {letter.to for letter in ex.letters}
    for member in others:
        if member.id not in told_already and (room is None or not _reads_along(member.id, room[0], ex)):
            ex.tell(member.id, text)


def _reads_along(person_id: int, channel: str, ex: Exchange) -> bool:
    """Whether the person is in the room's channel, so that the room tells them."""
    found = people.reached(ex.books.conn, person_id, channel)
    return found is not None and found[0] == channel


def lines_of(told: list[dict[str, Any]], ex: Exchange) -> list[str]:
    """What a batch's people may read of these events, a line each: grams of the batch and nothing of anybody's day."""
    lines = [_line(event, batches.get(ex.books, event["batch"]), told) for event in told if event.get("batch")]
    return [line for line in lines if line]


def _line(event: dict[str, Any], batch: Batch | None, told: list[dict[str, Any]]) -> str:
    name = saying.first_up(saying.batch(batch)) if batch is not None else f"Batch {event['batch']}"
    match event["type"]:
        case "batch_opened":
            return f"{name} is open, {saying.grams(event['raw_g'])} went in."
        case "batch_cooked":
            return f"{name} weighs {saying.grams(event['cooked_g'])} cooked."
        case "batch_boxed":
            return f"{name} is in {event['boxes']} boxes of {saying.grams(event['box_g'])}."
        case "batch_closed":
            return f"{name} {_ENDS[event['how']]}"
        case "batch_undone":
            what = _UNDONE.get(event["what"])
            return f"{name} {what}" if what else ""
        case "batch_drained":
            return f"{saying.grams(event['fat_g'])} of fat poured off {_small(name)}."
        case "batch_reduced":
            return f"{saying.grams(event['grams'])} of {_small(name)} {event['why']}{_left(batch)}."
        case "weigh_in":
            return f"{saying.grams(event['edible_g'])} from {_small(name)}{_left(batch)}."
        case "weigh_in_changed":
            recounted = any(each["type"] in ("batch_cooked", "batch_drained") for each in told)
            return "" if recounted else f"{saying.grams(event['edible_g'])} from {_small(name)}{_left(batch)}."
        case _:
            return ""


def _small(name: str) -> str:
    return name[:1].lower() + name[1:]


def _left(batch: Batch | None) -> str:
    if batch is None or batch.closed or batch.cooked_g is None:
        return ""
    boxes = f", {batch.boxes_left} of {batch.boxes.count} boxes" if batch.boxes is not None else ""
    return f"; {saying.grams(batch.left_g)} left{boxes}"
