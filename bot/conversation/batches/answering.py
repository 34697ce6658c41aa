"""Questions about batches: what is in them, what lies where, whether it still keeps, what can be cooked again."""

from __future__ import annotations

from collections import Counter
from datetime import datetime

from bot import events
from bot.conversation import saying
from bot.conversation.batches.finding import batch_of
from bot.conversation.batches.opening import MOST_RECIPES
from bot.conversation.batches.remaining import say_contents
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Refuse
from bot.kinds import ListOf, Topic
from bot.language.batch_meanings import Contents
from bot.language.portion_meanings import StillGood, Stored
from bot.language.told import BatchRef
from bot.store import batches
from domain.batch_steps import Place
from domain.batches import Batch
from domain.storage import Keeps, keeps, kind_of_batch

MOST_LISTED = 12


def contents(meaning: Contents, ex: Exchange) -> Ask | Refuse | None:
    """Answers what is in a batch; of several of one name for each of them."""
    if meaning.batch.number is not None or meaning.batch.candidates or meaning.batch.text:
        say_contents(meaning.batch, ex)
        return None
    batch = batch_of(meaning.batch, meaning, ex)
    if not isinstance(batch, Batch):
        return batch
    say_contents(BatchRef(number=batch.number), ex)
    return None


def recipes(ex: Exchange) -> None:
    """Lists the dishes that can be cooked again, the latest first."""
    latest: dict[str, int] = {}
    for number, name in batches.names(ex.books, MOST_RECIPES):
        latest.setdefault(name, number)
    ex.note(events.ListingShown(of=ListOf.RECIPES, count=len(latest)))
    if not latest:
        ex.say(
            "You have no recipes yet. Once you have cooked a batch, you can cook it again, for example: the chilli again"
        )
        return
    shown = [f"{name} (batch {number})" for name, number in list(latest.items())[:MOST_LISTED]]
    more = f" and {len(latest) - MOST_LISTED} more" if len(latest) > MOST_LISTED else ""
    ex.say(f"Recipes: {saying.listed(shown)}{more}.")
    ex.say(f"To cook one again, say for example: {next(iter(latest))} again")


def stored(meaning: Stored, ex: Exchange) -> Ask | Refuse | None:
    """Answers what lies in the fridge or the freezer, of one batch or of all."""
    if meaning.batch is None:
        found = batches.open_batches(ex.books)
    else:
        batch = batch_of(meaning.batch, meaning, ex)
        if not isinstance(batch, Batch):
            return batch
        found = [batch]
    place = None if meaning.place is None else Place(meaning.place)
    lines = [line for batch in found if (line := _lying(batch, place))]
    ex.note(events.ListingShown(of=ListOf.STORED, count=len(lines)))
    where = f" in the {place.value}" if place is not None else ""
    if not lines:
        ex.say(
            f"There is nothing{where or ' left'} of {saying.listed([saying.batch(b) for b in found])}."
            if meaning.batch
            else f"There is nothing{where or ' left'}."
        )
        elsewhere = [line for batch in found if place is not None and (line := _lying(batch, None))]
        if elsewhere:
            ex.say(f"Left: {'; '.join(elsewhere[:MOST_LISTED])}.")
        return None
    more = f"; and {len(lines) - MOST_LISTED} more" if len(lines) > MOST_LISTED else ""
    ex.say(f"{saying.first_up(where.strip() or 'left')}: {'; '.join(lines[:MOST_LISTED])}{more}.")
    return None


def _lying(batch: Batch, place: Place | None) -> str:
    """'batch 2 (chilli) 3 boxes of 280 g (freezer), 412 g loose'; empty when nothing of it is there."""
    if batch.cooked_g is None:
        return ""
    boxes = Counter((box.place, round(box.grams)) for box in batch.boxes if place is None or box.place is place)
    parts = [
        f"{count} {'box' if count == 1 else 'boxes'} of {saying.grams(grams)}"
        + (f" in the {where.value}" if place is None else "")
        for (where, grams), count in boxes.items()
    ]
    if batch.boxes_packed and not batch.boxes and place is None:
        parts.append("no box")
    if batch.loose_g >= 1 and (place is None or batch.pot.loose_place is place):
        in_pieces = ""
        if batch.pieces_left is not None:
            in_pieces = f" ({saying.pieces(batch.pieces_left, batch.pot.piece)})"
        parts.append(f"{saying.grams(batch.loose_g)}{in_pieces}{' not in boxes' if batch.boxes_packed else ''}")
    return f"{saying.batch(batch)} {', '.join(parts)}" if parts else ""


def still_good(meaning: StillGood, ex: Exchange) -> Ask | Refuse | None:
    """Answers how long a batch keeps where it lies, and how long it has been there; the decision is not made here."""
    batch = batch_of(meaning.batch, meaning, ex)
    if isinstance(batch, Ask):
        return batch
    ex.note(events.Answered(about=Topic.KEEPING))
    if isinstance(batch, Refuse):
        ex.say(batch.text)
        return None
    where = _places(batch, None if meaning.place is None else Place(meaning.place))
    for place, since in where.items():
        ex.say(_keeping(batch, place, since, ex))
    return None


def _places(batch: Batch, place: Place | None) -> dict[Place, datetime | None]:
    """Where the batch lies, or the place that was asked about, and since when; of several boxes the oldest."""
    pot = batch.pot
    lying: dict[Place, datetime | None] = {}
    if batch.cooked_g is None or batch.loose_g >= 1 or not batch.boxes:
        lying[pot.loose_place] = pot.loose_since or pot.cooked_at
    for box in batch.boxes:
        since = [each for each in (lying.get(box.place), box.since) if each is not None]
        lying[box.place] = min(since, default=pot.cooked_at)
    if place is not None:
        return {place: lying.get(place, pot.cooked_at)}
    return lying


def _keeping(batch: Batch, place: Place, since: datetime | None, ex: Exchange) -> str:
    kind = kind_of_batch(batch.ingredients, batch.cooked_g is not None)
    found = keeps(kind, place, ex.books.person.region)
    what = saying.first_up(saying.batch(batch))
    if found is None:
        return f"{what} ({kind.value}) does not keep in the freezer. When in doubt, ask your local food authority."
    if since is None:
        return f"{what}: {_published(found)}. {_authority(found)}"
    today = ex.books.today
    day = ex.books.day_of(since)
    ago = (today - day).days
    for_ = "since today" if ago <= 0 else f"for {ago} {'day' if ago == 1 else 'days'}"
    past = ", so that time is over" if found.past(day, today) and not found.for_quality else ""
    return f"{what} has been in the {place.value} {for_}; {_published(found)}{past}. {_authority(found)}"


def _published(found: Keeps) -> str:
    quality = " at its best (it is safe for longer)" if found.for_quality else ""
    return f"{found.kind.value} keeps {found.in_words()} there{quality} ({found.source})"


def _authority(found: Keeps) -> str:
    return (
        "When in doubt, leave it, or ask your local food authority."
        if not found.for_quality
        else "When in doubt, ask your local food authority."
    )
