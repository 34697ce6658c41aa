"""The first things said to somebody: the welcome, help, and what the code of an invitation is for."""

from __future__ import annotations

from bot import events
from bot.conversation.coaching import agreements
from bot.conversation.days.cautions import MEDICAL
from bot.conversation.exchange import Exchange
from bot.conversation.kitchen import sharing
from bot.conversation.outcomes import Ask, Refuse
from bot.conversation.settings import reminders
from bot.kinds import CautionKind, Why
from bot.language.kitchen import Invited, UseCode
from bot.language.meanings import Help
from bot.store import facts, invites
from bot.store.invites import Invitation

HELP = """I keep what your kitchen scale says. Text me as you would say it aloud:
180 g cooked rice, or: apple 190 with core
new batch chilli: 800 g raw ground beef 80/20, 400 g canned tomatoes
batch 1 cooked 1040 g, then: took 220 g from batch 1
tare blue bowl 412 g, then: 630 g cooked pasta in the blue bowl
change last to 280 g, delete #3, or undo
what is left today, batches, help
with a coach: who sees my data? As a coach: invite Ana, then roster
invite Bo to my kitchen: you share batches, and nobody's sheet is seen
Grams are best. I ask when a guess would be wrong."""
IMPORT = (
    "An export is brought back by whoever runs this Tarebook: send them the file. Reading it twice doubles nothing."
)
WELCOMED = "welcome"
"""Under which name the store keeps that somebody has been welcomed."""


def welcome(ex: Exchange, asks: bool = False) -> None:
    """Greets, with the cautions; `asks` says whether the newcomer is asked when to be reminded."""
    facts.first_time(ex.books, WELCOMED)
    ex.say("Hello! I am Tarebook: I keep what your kitchen scale says.")
    ex.say(MEDICAL)
    ex.note(events.Cautioned(kind=CautionKind.MEDICAL))
    ex.say(reminders.welcome(ex, asks))


def helping(meaning: Help, ex: Exchange) -> Ask | None:
    """Says how to use the program; at the start with the cautions, and asks a newcomer when to remind them."""
    ex.note(events.HelpShown())
    asks = meaning.topic == "start" and reminders.is_to_be_asked(ex)
    if meaning.topic == "start":
        welcome(ex, asks)
    if meaning.topic == "settings":
        region = ex.books.person.region.value
        ex.say(
            f"Region {region}, time zone {ex.books.person.timezone.key}. Change them with: region UK, or: timezone Europe/London"
        )
        return None
    if meaning.topic == "import":
        ex.say(IMPORT)
        return None
    ex.say(HELP)
    return reminders.ask_at_the_start(ex) if asks else None


def use_code(meaning: UseCode, ex: Exchange) -> Ask | Refuse | None:
    """What the code is an invitation to, which is the sender's alone from now on."""
    return _use(invites.take(ex.books.conn, meaning.code, ex.books.at, ex.books.person.id), ex)


def invited(meaning: Invited, ex: Exchange) -> Ask | Refuse | None:
    """The same for an invitation that the channel has taken for the sender."""
    return _use(invites.taken(ex.books.conn, meaning.invite, ex.books.at, ex.books.person.id), ex)


def _use(found: Invitation | None, ex: Exchange) -> Ask | Refuse | None:
    """Guessed, used and expired codes are all answered alike."""
    if found is None:
        return Refuse(sharing.BAD_CODE, Why.BAD_CODE, says_so=True)
    if found.made_by is None:
        return helping(Help(topic="start"), ex)
    if ex.welcomes and facts.first_time(ex.books, WELCOMED):
        welcome(ex)
    if found.purpose == invites.COACH:
        return agreements.offer(found, found.made_by, ex)
    return sharing.offer(found, found.made_by, ex)
