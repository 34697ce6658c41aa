"""Handles one incoming message: understands it, dispatches the meanings, puts the reply together."""

from __future__ import annotations

from dataclasses import replace

from bot.conversation.batches.surrounding import closed_batches, known_batches
from bot.conversation.coaching import relaying
from bot.conversation.days import sheets
from bot.conversation.dispatch import handle
from bot.conversation.exchange import Exchange, Prompt
from bot.conversation.kitchen import announcements, rooms
from bot.conversation.outcomes import Refuse
from bot.conversation.questions import answers
from bot.conversation.questions.stored import decode_meaning, drop_irrevocable, in_order, of_the_record
from bot.conversation.records import edits, own_words
from bot.kinds import QuestionState, Why
from bot.language.guided import NoteFrom, ReplyTo
from bot.language.kitchen import Invited
from bot.language.meanings import Answer, Bare, Change, Chatter, Delete, Meaning, NotMine, Unclear, Undo, Which
from bot.language.message import read
from bot.language.surroundings import LastWeighIn, Surroundings, Waiting
from bot.language.understand import meanings_of
from bot.messages import Incoming, Reply, Turn
from bot.reports import series
from bot.store import questions
from bot.store.books import Books
from bot.store.questions import StoredQuestion

LONGEST = 8_000
"""Longest message that is read, in characters; a day's food fits many times."""

WORDS = (Answer, Chatter, NotMine, Unclear)
"""Meanings without anything to record; as a reply to a coach's note they are for the coach."""


def respond(books: Books, incoming: Incoming) -> Turn:
    """Handles a message. When this returns, records and questions are in the store and the replies in the turn.

    Runs inside the caller's transaction; raises only what the store raises.
    """
    ex = Exchange(books, incoming.group, incoming.welcomes, incoming.door)
    outsider = rooms.outsider(ex)
    if outsider is not None:
        return Turn((Reply(outsider),))
    if incoming.kind == "press":
        _pressed(incoming, ex)
        waiting = _waiting(ex)
    elif incoming.invite is not None and incoming.kind == "say":
        handle(Invited(invite=incoming.invite), ex)
        waiting = []
    elif incoming.kind == "errand":
        handle(decode_meaning(incoming.errand), ex)
        waiting = []
    else:
        waiting = _waiting(ex) if ex.known.own.waiting else []
        answered = _said(incoming, waiting, ex)
        waiting = [q for q in _waiting(ex) if q.id not in {a.id for a in ex.asked}] if answered else []
    turn = _turn(ex, waiting)
    if incoming.kind == "errand" and not ex.lines and not ex.asked:
        turn = replace(turn, replies=())
    announcements.announce(ex)
    return replace(
        turn,
        letters=(*turn.letters, *ex.letters),
        errands=tuple(ex.errands),
        notices=tuple(ex.notices),
        farewell=ex.farewell,
    )


def _waiting(ex: Exchange) -> list[StoredQuestion]:
    """The waiting questions that may be answered here."""
    return [question for question in questions.waiting(ex.books) if rooms.asked_here(question, ex)]


def _turn(ex: Exchange, waiting: list[StoredQuestion]) -> Turn:
    """The reply: lines, then the question just asked or else one that waits; in a group only what may be shown."""
    tail = sheets.tail(ex)
    receipt = [*ex.lines, *([tail] if tail else [])]
    prompt = ex.prompt() or (None if ex.undisturbed else _still_waiting(of_the_record(waiting)))
    told_by_letter = rooms.receipt_in_private(receipt, ex)
    lines = rooms.lines_for_all(ex) if told_by_letter else receipt
    text = "\n".join([*lines, *([prompt.text] if prompt else [])])
    reply = Reply(
        text if text.strip() else "Nothing was recorded.",
        prompt.choices if prompt else (),
        prompt.ref if prompt else None,
        picture=None if ex.picture is None else series.encode(ex.picture),
        document=ex.document,
    )
    return Turn((reply,), tuple(ex.events), letters=told_by_letter)


def _still_waiting(waiting: list[StoredQuestion]) -> Prompt | None:
    if not waiting:
        return None
    following = in_order(waiting)[0]
    return Prompt(f"Still waiting: {following.text}", following.choices, following.ref)


def _said(incoming: Incoming, waiting: list[StoredQuestion], ex: Exchange) -> bool:
    """Handles a text. Returns whether it answered a waiting question."""
    if len(incoming.text) > LONGEST:
        ex.refuse(
            Refuse(
                f"That message has {len(incoming.text):,} characters, too many to read safely, so nothing of it is recorded. Please send it in parts.",
                Why.TOO_LONG,
                says_so=True,
            )
        )
        return False
    around = surroundings(ex, waiting)
    message = read(incoming.text, around)
    told = meanings_of(message)
    if ex.books.refers_to is not None:
        # A reply to one of the bot's messages is about the same thing as that message.
        asked = [q for q in waiting if q.inbound_id == ex.books.refers_to]
        waiting = asked or waiting
        note = relaying.relayed_by(books=ex.books, inbound_id=ex.books.refers_to)
        if isinstance(note, NoteFrom) and all(isinstance(meaning, WORDS) for meaning in told):
            told = [ReplyTo(text=message.text, coach_id=note.coach)]
        elif not asked and ex.last is not None:
            told = [_about_that(meaning) for meaning in told]
    if incoming.kind == "edit" and incoming.edits_inbound is not None:
        told = edits.edited(told, incoming.edits_inbound, ex)
        if not told and not ex.lines:
            ex.say("Nothing in it changed.")
    elif answers.answer(message, told, waiting, ex):
        return True
    unfit = rooms.unfit(told, ex)
    if unfit is not None:
        ex.say(unfit)
        return False
    drop_irrevocable(waiting, ex.books)
    for meaning in told:
        handle(meaning, ex)
    return False


def _about_that(meaning: Meaning) -> Meaning:
    """The meaning about the weigh-in that was replied to: a bare amount corrects it, undo removes it."""
    if isinstance(meaning, Bare):
        return Change(which=Which(), amount=meaning.amount)
    if isinstance(meaning, Undo):
        return Delete(which=Which())
    return meaning


def _pressed(incoming: Incoming, ex: Exchange) -> None:
    found = questions.by_ref(ex.books, incoming.question_ref or "")
    if found is None or incoming.choice is None:
        ex.say("That button no longer belongs to a question of yours.")
        return
    question, state = found
    if not rooms.asked_here(question, ex):
        ex.say(rooms.PRIVATE)
    elif state is not QuestionState.WAITING:
        ex.say("That question is settled already.")
    elif not 0 <= incoming.choice < len(question.choices):
        ex.say(f"That question has choices 1 to {len(question.choices)}.")
    else:
        answers.choose(question, incoming.choice, ex)


def surroundings(ex: Exchange, waiting: list[StoredQuestion]) -> Surroundings:
    """What the person has, as context for understanding the message."""
    books = ex.books
    last = ex.last
    return Surroundings(
        now=books.local,
        day_starts=books.person.day_starts,
        region=books.person.region,
        batches=known_batches(ex),
        closed=closed_batches(ex),
        tares=tuple(ex.known.tares.items()),
        labels=ex.known.own.labels,
        waiting=tuple(Waiting(q.about, q.choices) for q in waiting),
        last=None
        if last is None
        else LastWeighIn(
            last.weigh_in.food, last.weigh_in.as_weighed_g, last.weigh_in.state.value, last.weigh_in.batch
        ),
        clients=ex.known.own.clients,
        coaches=ex.known.own.coaches,
        words=own_words.told(ex.known),
    )
