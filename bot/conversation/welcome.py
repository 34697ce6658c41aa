"""Welcome, help, and invitation codes."""

from __future__ import annotations

from bot import events
from bot.conversation.coaching import agreements, cover
from bot.conversation.days.cautions import MEDICAL
from bot.conversation.exchange import Exchange
from bot.conversation.help_topics import TOPICS
from bot.conversation.kitchen import sharing
from bot.conversation.outcomes import Ask, Refuse
from bot.conversation.settings import reminders
from bot.kinds import CautionKind, Why
from bot.language.kitchen import Invited, UseCode
from bot.language.meanings import Help
from bot.store import facts, invites, questions
from bot.store.invites import Invitation
from domain.quantities import Region

HELP = """Text me what your kitchen scale says, in your own words:
180 g cooked rice, 6 oz cooked chicken, or: apple 190 with core
To cook ahead: new batch lentil stew: 400 g dry lentils, 250 g carrots. Then: batch 1 cooked 1380 g, and: took 310 g from batch 1
To fix something: change last to 280 g, delete #3, undo
To see it: today, yesterday, this week, calories left
More: help boxes, help freezer, help giving away, help vessels, help labels, help targets, help reminders, help body weight, help week, help time zone, help coach, help kitchen, help data
When I am not sure, I ask."""
MEASURES = {Region.US: "US cups and ounces", Region.UK: "UK cups and pints", Region.METRIC: "metric cups"}
RECORDED = (events.WeighInRecorded, events.WeighInOpen)
WELCOMED = "welcome"
"""Key under which the store notes that somebody has been welcomed."""


def welcome(ex: Exchange) -> None:
    """Greets with the cautions."""
    facts.first_time(ex.books, WELCOMED)
    ex.say("Hello! I am Tarebook: I record what your kitchen scale says.")
    ex.say(MEDICAL)
    ex.note(events.Cautioned(kind=CautionKind.MEDICAL))
    ex.say(reminders.welcome(ex))


def offer_settings(ex: Exchange) -> None:
    """After the first weigh-in, once: says which settings hold, and asks when to remind in the evening.

    Not while another question is in sight, which this one would put out of it.
    """
    if not ex.welcomes or ex.asked or not any(isinstance(event, RECORDED) for event in ex.events):
        return
    if any(question.shown_by is not None for question in questions.waiting(ex.books)):
        return
    if reminders.is_to_be_asked(ex):
        person = ex.books.person
        ex.say(
            f"I use {MEASURES[person.region]} and the time zone {person.timezone.key}. "
            "To change that: region UK, or: timezone Lisbon"
        )
        ex.ask(reminders.ask_at_the_start(ex))


def helping(meaning: Help, ex: Exchange) -> None:
    """Shows help; at the start also the welcome."""
    ex.note(events.HelpShown())
    if meaning.topic == "start":
        welcome(ex)
    if meaning.topic == "settings":
        region = ex.books.person.region.value
        ex.say(
            f"Region {region}, time zone {ex.books.person.timezone.key}. Change them with: region UK, or: timezone Europe/London"
        )
        return
    ex.say(TOPICS.get(meaning.topic, HELP))


def use_code(meaning: UseCode, ex: Exchange) -> Ask | Refuse | None:
    """Claims an invitation's code for the sender and offers what it is for."""
    return _use(invites.take(ex.books.conn, meaning.code, ex.books.at, ex.books.person.id), ex)


def invited(meaning: Invited, ex: Exchange) -> Ask | Refuse | None:
    """Offers what an invitation is for that the channel has claimed for the sender."""
    return _use(invites.taken(ex.books.conn, meaning.invite, ex.books.at, ex.books.person.id), ex)


def _use(found: Invitation | None, ex: Exchange) -> Ask | Refuse | None:
    """Gives guessed, used and expired codes the same answer."""
    if found is None:
        return Refuse(sharing.BAD_CODE, Why.BAD_CODE, says_so=True)
    if found.made_by is None:
        helping(Help(topic="start"), ex)
        return None
    if ex.welcomes and facts.first_time(ex.books, WELCOMED):
        welcome(ex)
    if found.purpose == invites.COACH:
        return agreements.offer(found, found.made_by, ex)
    if found.purpose == invites.COVER:
        return cover.offer(found, found.made_by, ex)
    return sharing.offer(found, found.made_by, ex)
