"""A coach's templates: saved, changed, listed, deleted, and sent as a note to a client, a group or all."""

from __future__ import annotations

from bot import events
from bot.conversation import saying
from bot.conversation.coaching import notes
from bot.conversation.coaching.notes import LONGEST_NOTE
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Refuse
from bot.kinds import Topic, Why
from bot.language.guided import Tell
from bot.language.practice import DropTemplate, SaveTemplate, SendTemplate, ShowTemplates
from bot.store import templates

MOST = 40
SHOWN = 60
"""Letters of each template in the list."""


def save(meaning: SaveTemplate, ex: Exchange) -> Refuse | None:
    """Keeps a template, or changes the one of that name."""
    if len(meaning.text) > LONGEST_NOTE:
        return Refuse(f"A template has at most {LONGEST_NOTE:,} characters.", Why.TOO_LONG)
    mine = templates.mine(ex.books)
    before = mine.get(meaning.name)
    if before is None and len(mine) >= MOST:
        return Refuse(f"You have {MOST} templates, which is the most. Delete one first: delete template {min(mine)}")
    templates.save(ex.books, meaning.name, meaning.text)
    ex.note(events.Answered(about=Topic.COACHING))
    ex.say(f"Template {meaning.name} {'saved' if before is None else 'changed'}, visible only to you: {meaning.text}")
    ex.say(f"To send it, for example: send {meaning.name} to Ana, or: send {meaning.name} to everyone")
    return None


def show(meaning: ShowTemplates, ex: Exchange) -> Refuse | None:
    """Lists the templates, or shows one in full."""
    mine = templates.mine(ex.books)
    if meaning.name:
        if meaning.name not in mine:
            return _none_such(meaning.name, mine)
        ex.say(f"{meaning.name}: {mine[meaning.name]}")
    elif mine:
        ex.say(f"Your templates ({len(mine)}):")
        for name, text in mine.items():
            ex.say(f"{name}: {text if len(text) <= SHOWN else f'{text[:SHOWN].rstrip()} …'}")
    else:
        ex.say("You have no templates. For example: save template protein: Try 30 g more protein at breakfast.")
    ex.note(events.Answered(about=Topic.COACHING))
    return None


def drop(meaning: DropTemplate, ex: Exchange) -> Refuse | None:
    """Deletes a template."""
    if not templates.drop(ex.books, meaning.name):
        return _none_such(meaning.name, templates.mine(ex.books))
    ex.note(events.Answered(about=Topic.COACHING))
    ex.say(f"Template {meaning.name} is deleted.")
    return None


def send(meaning: SendTemplate, ex: Exchange) -> Ask | Refuse | None:
    """Sends a template's words as a note."""
    mine = templates.mine(ex.books)
    if meaning.name not in mine:
        return _none_such(meaning.name, mine)
    return notes.tell(Tell(client=meaning.client, text=mine[meaning.name]), ex)


def _none_such(name: str, mine: dict[str, str]) -> Refuse:
    return Refuse(f"You have no template called {name}. Yours: {saying.listed(sorted(mine)) or 'none'}.", Why.NO_NAME)
