"""What is kept of a person and who sees it, exporting it, and erasing it."""

from __future__ import annotations

from bot import events
from bot.conversation.coaching import agreements
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice
from bot.kinds import About, Topic
from bot.language.meanings import Erase, Export, Privacy
from bot.reports import files
from bot.store import facts, kitchens, weighins
from bot.store.ownership import erasure, retention
from domain import reference

KEPT = (
    "What I keep of you: your messages, and what I recorded from them (weigh-ins, batches, vessels, measures, labels, "
    "habits, targets, body weights, reminders, settings, "
    "remembered answers)."
)
WORDS = (
    "The words of your messages are wiped after {} days, the records stay. Another time? Say: keep my messages 90 days"
)
COPY = "A copy of everything: export my data"
ERASE = "Shall everything of yours be erased?"
GOES = "All your records and messages would go, and nobody can bring them back. For a copy first, say: export my data"
REALLY = "Really erase it all?"
SHARED = "Batches that others of your kitchen share stay with them, without your name and your words."
BACKUPS = "Backups that were made before still hold it until whoever runs this Tarebook replaces them."
GONE = (
    "Everything of yours is gone.",
    BACKUPS,
    "What stands in this chat on your own device is yours to clear. If you write again, we begin anew.",
)
SENT = "Here is everything of yours, in one file: tables for a spreadsheet, the same as JSON, and the pictures of your weeks."


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
    for line in agreements.seen_by(ex.books):
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
