"""What is kept of a person and who sees it, exporting it, and erasing it."""

from __future__ import annotations

from bot import events
from bot.conversation.coaching import parts
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice
from bot.kinds import About, Topic
from bot.language.setting_meanings import Erase, Export, Privacy
from bot.reports import files
from bot.store import facts, kitchens, weighins
from bot.store.ownership import erasure, retention
from domain import reference

KEPT = (
    "What I keep about you: your messages, and what I recorded from them (weigh-ins, batches, vessels, measures, labels, "
    "habits, targets, body weights, reminders, settings, remembered answers)."
)
WORDS = (
    "I delete the text of your messages after {} days and keep the records. To change that: keep my messages 90 days"
)
COPY = "A copy of everything: export my data"
ERASE = "Erase all your data?"
GOES = "This deletes all your records and messages for good. For a copy first, say: export my data"
REALLY = "Are you sure you want to erase everything?"
SHARED = "Batches that you share with others in your kitchen stay with them, without your name or your messages."
BACKUPS = "Earlier backups still contain your data until whoever runs this Tarebook replaces them."
GONE = (
    "All your data has been erased.",
    BACKUPS,
    "To clear this chat on your own device, delete it there.",
)
SENT = "Here is all your data in one file: tables for a spreadsheet, the same as JSON, and the pictures of your weeks."


def export(_: Export, ex: Exchange) -> None:
    """Sends all of the person's data as a file, which is made when it is sent."""
    name = f"tarebook-{ex.books.today.isoformat()}.zip"
    ex.document = files.encode(files.Export(name=name, at=ex.books.at))
    who, count = ex.books.person.name, weighins.count(ex.books)
    ex.note(events.Exported(who=who, file=name, weigh_ins=count))
    ex.say(SENT)


def privacy(_: Privacy, ex: Exchange) -> Ask:
    """Says what is kept and who sees it, and asks whether to erase it."""
    ex.note(events.Answered(about=Topic.PRIVACY))
    ex.say(KEPT)
    for line in parts.seen_by(ex.books):
        ex.say(line)
    ex.say(WORDS.format(facts.settings(ex.books).get(retention.SETTING, retention.USUAL_DAYS)))
    ex.say(COPY)
    return Ask(
        About.ERASE, ERASE, Privacy(), (Choice("yes, erase everything", Erase()), Choice("no, keep everything", None))
    )


def erase(meaning: Erase, ex: Exchange) -> Ask | None:
    """Erases all of the person's data after a second confirmation."""
    if not meaning.sure:
        ex.say(GOES)
        if kitchens.others(ex.books):
            ex.say(SHARED)
        ex.say(BACKUPS)
        yes, no = Choice("yes, erase it all", Erase(sure=True)), Choice("no, keep it", None)
        return Ask(About.ERASE, REALLY, meaning, (yes, no))
    erasure.erase(ex.books.conn, ex.books.person, ex.books.at, reference.load().foods.keys())
    ex.note(events.Erased(who=ex.books.person.name))
    for line in GONE:
        ex.say(line)
    ex.farewell = True
    return None
