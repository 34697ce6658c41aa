"""Handles one incoming message: understands it, dispatches the meanings, puts the reply together."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import assert_never

from bot.conversation import actions, hiding, ounces, welcome
from bot.conversation.coaching import relaying
from bot.conversation.context import surroundings
from bot.conversation.days import live, sheets
from bot.conversation.dispatch import handle
from bot.conversation.exchange import Exchange, Prompt
from bot.conversation.kitchen import announcements, rooms
from bot.conversation.outcomes import Refuse
from bot.conversation.questions.stored import decode_meaning, drop_passing, in_order, of_the_record
from bot.conversation.records import edits
from bot.conversation.settings import about_self
from bot.kinds import About, QuestionState, Why
from bot.language.answer_meanings import Choice, Filled, WhichQuestion
from bot.language.asked import Listing, OpenQuestions, Sheet, TotalOf, Trend
from bot.language.fix_meanings import Change, Delete, Undo, Which
from bot.language.guided import NoteFrom, ReplyTo, WhoSees
from bot.language.kitchen import Invited
from bot.language.meanings import Answer, Bare, Chatter, Help, Meaning, NotMine, Unclear
from bot.language.message import read
from bot.language.setting_meanings import Privacy
from bot.language.understand import meanings_of
from bot.messages import Acted, Edited, Group, Incoming, Notification, Pressed, Reply, Requested, Said, Turn
from bot.reports import series
from bot.store import questions
from bot.store.books import Books
from bot.store.questions import StoredQuestion

LONGEST = 8_000
"""Longest message that is read, in characters; a day's food fits many times."""

CLOSES_AFTER = timedelta(days=7)
"""How long a question about the person's own record is shown; afterwards the weigh-in stands at its weight and range."""
ASIDE = (Chatter, Help, Listing, OpenQuestions, Privacy, Sheet, TotalOf, Trend, WhoSees)
"""Meanings after which the question shown last may still be answered in bare words: they are about no food."""
ANSWERS = (Choice, Filled, WhichQuestion)
WORDS = (Answer, Chatter, NotMine, Unclear)
"""Meanings without anything to record; as a reply to a coach's note they are for the coach."""


def respond(books: Books, incoming: Incoming, group: Group | None = None) -> Turn:
    """Handles a message. When this returns, records and questions are in the store and the replies in the turn.

    `group` is where others read along, when it was sent there.
    Runs inside the caller's transaction; raises only what the store raises.
    """
    ex = Exchange(books, group)
    outsider = rooms.outsider(ex)
    if outsider is not None:
        return Turn((Reply(outsider),))
    before = _waiting(ex) if ex.known.own.waiting else []
    quiet = False
    match incoming:
        case Pressed():
            useless = _pressed(incoming, ex)
            if useless is not None:
                return Turn((Reply(useless),), passing=True)
        case Acted():
            useless = actions.act(incoming.does, ex)
            if useless is not None:
                return Turn((Reply(useless),), passing=True)
        case Requested():
            handle(decode_meaning(incoming.what), ex)
        case Said() | Edited():
            if isinstance(incoming, Said):
                ex.welcomes, ex.link_prefix = incoming.welcomes, incoming.link_prefix
            if isinstance(incoming, Said) and incoming.invite is not None:
                handle(Invited(invite=incoming.invite), ex)
            else:
                quiet = _said(incoming, before, ex)
                welcome.offer_settings(ex)
        case _:
            assert_never(incoming)
    prompt = None if ex.undisturbed else ex.prompt() or _next(before, ex)
    if not (quiet and prompt is None) and (before or ex.asked) and not ex.farewell:
        questions.shown(ex.books, None if prompt is None else prompt.id)
    turn = _turn(ex, prompt)
    if isinstance(incoming, Requested) and not ex.lines and not ex.asked:
        turn = replace(turn, replies=())
    announcements.announce(ex)
    return replace(
        turn,
        notifications=(*turn.notifications, *(_as_wanted(each, ex.books) for each in ex.notifications)),
        requests=tuple(ex.requests),
        group_notifications=tuple(ex.group_notifications),
        farewell=ex.farewell,
    )


def _as_wanted(told: Notification, books: Books) -> Notification:
    """The notification without energy where the one who gets it has hidden it."""
    return replace(told, reply=replace(told.reply, text=hiding.for_person(told.reply.text, told.to, books)))


def _waiting(ex: Exchange) -> list[StoredQuestion]:
    """The questions that may be answered here, also those that were skipped; what has waited too long is skipped."""
    questions.lapse(ex.books, ex.books.at - CLOSES_AFTER)
    return [question for question in questions.answerable(ex.books) if rooms.asked_here(question, ex)]


def _next(before: list[StoredQuestion], ex: Exchange) -> Prompt | None:
    """After an answer the next question about the same message; None when nothing was answered, or none is left."""
    if not before:
        return None
    now = of_the_record(in_order([q for q in _waiting(ex) if not q.skipped]))
    left = {question.id for question in now}
    settled = [question for question in before if question.id not in left and not question.skipped]
    answered = [q for q in settled if q.about is not About.WHICH_QUESTION and questions.was_answered(ex.books, q.id)]
    if not answered:
        return None
    messages = {question.inbound_id for question in answered}
    following = next((question for question in now if question.inbound_id in messages), None)
    if following is None:
        return None
    return Prompt(f"Still open: {following.text}", following.choices, following.ref, following.id)


def _turn(ex: Exchange, prompt: Prompt | None) -> Turn:
    """The reply: lines, then the question just asked or else one that waits; in a group only what may be shown."""
    if ex.undisturbed:
        ex.lines[ex.undisturbed :] = about_self.kept(ex)
    tail = None if ex.hides_energy or ex.undisturbed or live.holds_total(ex) else sheets.tail(ex)
    receipt = [*ex.lines, *([tail] if tail else [])]
    if ex.hides_energy:
        receipt = [kept for line in receipt if (kept := hiding.without_energy(line))]
        receipt = receipt or ([hiding.SAID] if ex.lines else [])
        ex.picture = None if ex.picture is None else hiding.picture_without_energy(ex.picture)
        prompt = prompt and replace(prompt, text=hiding.without_energy(prompt.text))
    plain = None
    if prompt is None and ex.group is None and live.receipts(ex) != "full":
        plain = live.short(receipt, tail, ex)
        receipt = receipt if plain is None else [plain]
    told_in_private = rooms.receipt_in_private(receipt, ex)
    lines = rooms.lines_for_all(ex) if told_in_private else receipt
    text = "\n".join([*lines, *([prompt.text] if prompt else [])])
    reply = Reply(
        text if text.strip() else "Nothing was recorded.",
        prompt.choices if prompt else (),
        prompt.ref if prompt else None,
        picture=None if ex.picture is None else series.encode(ex.picture),
        document=ex.document,
        actions=() if prompt is not None or ex.undisturbed else actions.under(ex),
    )
    return Turn(
        (reply,),
        tuple(ex.events),
        notifications=told_in_private,
        reacts=plain is not None and live.receipts(ex) == "reaction",
        day=live.after(ex),
    )


def _said(incoming: Said | Edited, waiting: list[StoredQuestion], ex: Exchange) -> bool:
    """Handles a text. Returns whether the question shown last, if it still waits, may be answered by the next one."""
    if len(incoming.text) > LONGEST:
        ex.refuse(
            Refuse(
                f"That message has {len(incoming.text):,} characters, which is too long to read safely, so nothing in it is recorded. Please send it in parts.",
                Why.TOO_LONG,
                says_so=True,
            )
        )
        return False
    edited = isinstance(incoming, Edited) and incoming.first is not None
    shown = {question.id for question in waiting if question.shown_by is not None}
    asked: list[StoredQuestion] = []
    if ex.books.refers_to is not None:
        # A reply to one of the bot's messages is about the same thing as that message.
        asked = [q for q in waiting if ex.books.refers_to in (q.inbound_id, q.shown_by)]
        shown = {question.id for question in asked[:1]}
    message = read(incoming.text, surroundings(ex, [] if edited else waiting, shown))
    ounces.note(message, ex)
    told = meanings_of(message)
    if ex.books.refers_to is not None and not any(isinstance(meaning, ANSWERS) for meaning in told):
        note = relaying.relayed_by(books=ex.books, inbound_id=ex.books.refers_to)
        if isinstance(note, NoteFrom) and all(isinstance(meaning, WORDS) for meaning in told):
            told = [ReplyTo(text=message.text, coach_id=note.coach)]
        elif not of_the_record(asked) and ex.last is not None:
            told = [_about_that(meaning) for meaning in told]
    if isinstance(incoming, Edited) and incoming.first is not None:
        told = edits.edited(told, incoming.first, ex)
        if not told and not ex.lines:
            ex.say("Nothing in it changed.")
    unfit = rooms.unfit(told, ex)
    if unfit is not None:
        ex.say(unfit)
        return False
    answered = {meaning.question for meaning in told if isinstance(meaning, (Choice, Filled))}
    drop_passing([question for question in waiting if question.id not in answered], ex.books)
    for meaning in told:
        handle(meaning, ex)
    return bool(answered) or all(isinstance(meaning, ASIDE) for meaning in told)


def _about_that(meaning: Meaning) -> Meaning:
    """The meaning about the weigh-in that was replied to: a bare amount corrects it, undo removes it."""
    if isinstance(meaning, Bare):
        return Change(which=Which(), amount=meaning.amount)
    if isinstance(meaning, Undo):
        return Delete(which=Which())
    return meaning


def _pressed(incoming: Pressed, ex: Exchange) -> str | None:
    """Handles a choice. Returns why there is nothing to handle; None when it was handled."""
    found = questions.by_ref(ex.books, incoming.question_ref)
    if found is None:
        return "That button no longer belongs to a question of yours."
    question, state = found
    if not rooms.asked_here(question, ex):
        return rooms.PRIVATE
    if state is not QuestionState.WAITING:
        return "That question is settled already."
    handle(Choice(question=question.id, index=incoming.choice), ex)
    return None
