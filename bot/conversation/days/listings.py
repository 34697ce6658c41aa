"""Lists of what the person has: open batches, vessels, measures, labels, today's weigh-ins, reminders."""

from __future__ import annotations

from bot import events
from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.conversation.settings import belongings, pausing, reminders
from bot.conversation.settings.aiming import target_lines
from bot.kinds import ListOf
from bot.language.asked import Listing
from bot.store import batches, weighins
from domain.batches import Batch

LISTED_AT_MOST = 20
EXAMPLE = "serving 45 g, 190 kcal, fat 6, carbs 25, protein 9"


def listing(meaning: Listing, ex: Exchange) -> None:
    """Lists what was asked for, or says how to add the first one."""
    lines = _listed(meaning, ex)
    empty, rows = lines
    ex.note(events.ListingShown(of=ListOf(meaning.of), count=len(rows)))
    if not rows:
        ex.say(empty)
    for row in rows[:LISTED_AT_MOST]:
        ex.say(row)
    if len(rows) > LISTED_AT_MOST:
        ex.say(f"… and {len(rows) - LISTED_AT_MOST} more.")


def _listed(meaning: Listing, ex: Exchange) -> tuple[str, list[str]]:
    """(the text when there is none, one line for each)."""
    match meaning.of:
        case "batches":
            return "No batch is open. To open one: new batch: 1200 g raw chicken breast", [
                _batch_line(b) for b in batches.open_batches(ex.books)
            ]
        case "tares":
            return "No vessel is saved. To save one: tare blue bowl 412 g", [
                f"{n}: {saying.grams(g)}" for n, g in sorted(ex.known.tares.items())
            ]
        case "measures":
            return "No measure of your own is saved. For example: my scoop of whey is 31 g", [
                f"{m} of {f}: {saying.grams(g)}" for (f, m), g in sorted(ex.known.measures.items())
            ]
        case "weigh_ins":
            stored = weighins.on_day(ex.books, ex.books.today)
            return "Nothing is on record today.", [
                f"#{s.number} {s.weigh_in.food}, {saying.grams(s.weigh_in.edible_g)}" for s in stored
            ]
        case "target":
            return "No target is set. For example: target 2100 kcal protein 150", target_lines(ex)
        case "reminders":
            return "No reminder is set. For example: remind me at 20:30", reminders.reminder_lines(ex)
        case "pauses":
            return "You are not paused.", pausing.pause_lines(ex)
        case "labels" if meaning.name:
            found = [name for name in ex.known.labels if name.casefold() == meaning.name.casefold()]
            none = f"You have no label for {meaning.name}. Type it like this: label {meaning.name}: {EXAMPLE}"
            return none, [belongings.label_line(ex.known.labels[name]) for name in found]
        case _:
            return (
                "You have no foods of your own yet; the built-in table is always available. To add one: label granola: serving 45 g, 190 kcal, fat 6, carbs 25, protein 9",
                [belongings.label_line(label) for _, label in sorted(ex.known.labels.items())],
            )


def _batch_line(batch: Batch) -> str:
    if batch.cooked_g is None:
        return f"Batch {batch.number} {batch.name}: {saying.grams(batch.raw_g)} raw, not weighed cooked yet"
    left = f"{saying.grams(batch.left_g)} left of {saying.grams(batch.cooked_g)}"
    return f"Batch {batch.number} {batch.name}: {left}{saying.divided(batch)}"
