"""Notes between a coach and a client, and requests to weigh something again."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from bot import events, people_events
from bot.conversation import hiding, saying
from bot.conversation.coaching.agreements import client_of, matching
from bot.conversation.coaching.relaying import coached_by, pass_on, receivers
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse
from bot.conversation.questions.stored import decode_meaning
from bot.conversation.records import fixes, recording
from bot.kinds import About, Relayed, Topic, Why
from bot.language.fix_meanings import Change, Which
from bot.language.guided import AskReweigh, Comment, NoteFrom, ReplyTo, Reweigh, Tell
from bot.language.practice import WordsFromCoach
from bot.language.told import Item, Name
from bot.store import coaching, weighins
from bot.store.books import Books
from bot.store.coaching import Coaching
from bot.store.delivery import inbox
from bot.store.weighins import StoredWeighIn

LONGEST_NOTE = 1_000
MANY = 10
"""Clients above which a note is asked about once more before it goes out."""
MOST_WRITTEN = 5
"""Notes that are shown again."""
MOST_NAMED = 4
"""Weigh-ins that a comment on a meal names."""
LATELY = timedelta(days=6)
"""How old a weigh-in may be that is asked for by its food."""


def tell(meaning: Tell, ex: Exchange) -> Ask | Refuse | None:
    """Sends a note to a client, to all clients, or to a coach."""
    if len(meaning.text) > LONGEST_NOTE:
        return Refuse(f"A note has at most {LONGEST_NOTE:,} characters.", Why.TOO_LONG)
    mine = coaching.coaches(ex.books)
    to_coach = meaning.client.casefold() == "my coach" or matching(meaning.client, mine, lambda each: each.coach)
    if to_coach and not matching(meaning.client, coaching.clients(ex.books), lambda each: each.called):
        name = "" if meaning.client.casefold() == "my coach" else meaning.client
        return reply_to(ReplyTo(text=meaning.text, coach=name), ex)
    to = receivers(meaning, ex)
    if not isinstance(to, list):
        return to
    if len(to) > MANY and not meaning.confirmed:
        text = f"This goes to {len(to)} clients, to each one separately: {meaning.text}\nSend it?"
        yes = Choice(f"yes, to all {len(to)}", replace(meaning, confirmed=True))
        return Ask(About.TO_MANY, text, meaning, (yes, Choice("no", None)))
    for which in to:
        pass_on(Relayed.NOTE, which, NoteFrom(coach=ex.books.person.id, text=meaning.text), ex)
    if ex.requests:
        ex.say(f"Passed on to {saying.listed([which.called for which in to])}.")
    return None


def note_from(meaning: NoteFrom, ex: Exchange) -> None:
    """Shows a coach's note and how to answer it."""
    which = coached_by(meaning.coach, ex)
    if which is None:
        return
    words = _readable(meaning, which, ex)
    if words is None:
        return
    ex.note(people_events.NoteReceived(from_=which.coach))
    ex.say(f"{which.by}{words}")
    if not words.endswith(meaning.text):
        ex.say(hiding.LEFT_OUT)
    ex.say("To answer, begin with: reply:")


def written(meaning: WordsFromCoach, ex: Exchange) -> Refuse | None:
    """Shows again what the person's coaches wrote lately, the newest first."""
    mine = coaching.coaches(ex.books)
    asked = matching(meaning.coach, mine, lambda each: each.coach) if meaning.coach else mine
    if not asked:
        return Refuse("You have no coach of that name." if meaning.coach else "You have no coach.", Why.NOT_YOURS)
    ex.note(events.Answered(about=Topic.COACHING))
    by_id = {each.coach_id: each for each in asked}
    found: list[str] = []
    for row in inbox.lately_requested(ex.books.conn, ex.books.inbound_id):
        note = decode_meaning(row.content.what) if isinstance(row.content, inbox.Request) else None
        if not isinstance(note, NoteFrom) or note.coach not in by_id:
            continue
        words = _readable(note, by_id[note.coach], ex)
        if words is not None:
            day = saying.first_up(saying.day(ex.books.day_of(row.said_at), ex.books.today))
            found.append(f"{day}, {by_id[note.coach].coach}{words}")
    for line in found[:MOST_WRITTEN] or [f"No notes from {saying.listed([c.coach for c in asked])} are on record."]:
        ex.say(line)
    return None


def _readable(note: NoteFrom, which: Coaching, ex: Exchange) -> str | None:
    """A note as its client may read it, from what it is about on; None where the client wants no comments."""
    if note.about and "comments" in coaching.withheld_from(ex.books, which):
        return None
    words = hiding.words_without_energy(note.text) if ex.hides_energy else note.text
    return f", on {note.about}: {words}" if note.about else f": {words}"


def comment(meaning: Comment, ex: Exchange) -> Ask | Refuse | None:
    """Sends a client the coach's words on a weigh-in, a meal or a day, with what they are about."""
    which = client_of(meaning, ex)
    if not isinstance(which, Coaching):
        return which
    if len(meaning.text) > LONGEST_NOTE:
        return Refuse(f"A comment has at most {LONGEST_NOTE:,} characters.", Why.TOO_LONG)
    books = coaching.books_of_client(ex.books, which.client_id)
    assert books is not None, "the coaching was read a moment ago, in this transaction"
    if "comments" in books.withheld:
        return Refuse(
            f"{which.called} wants no comments on what they eat. A note still arrives, for example: "
            f"tell {which.called}: hello",
            Why.NOT_YOURS,
        )
    about = _commented(meaning, books)
    if about is None:
        what = f"#{meaning.number}" if meaning.number is not None else meaning.meal or "food"
        when = "" if meaning.number is not None else f" {saying.day(meaning.day or books.today, books.today)}"
        return Refuse(f"{which.called} has no {what} on record{when}.", Why.NO_SUCH_WEIGH_IN)
    pass_on(Relayed.NOTE, which, NoteFrom(coach=ex.books.person.id, text=meaning.text, about=about), ex)
    if ex.requests:
        ex.say(f"Passed on to {which.called}, on {about.replace('your', 'their', 1)}.")
    return None


def _commented(meaning: Comment, books: Books) -> str | None:
    """'your lunch today (#3 white rice, #4 egg)', or None when there is nothing of the kind."""
    if meaning.number is not None:
        one = weighins.get(books, meaning.number)
        if one is None:
            return None
        grams = saying.grams(one.weigh_in.as_weighed_g)
        return f"your #{one.number} {one.weigh_in.food}, {grams}, {saying.day(one.day, books.today)}"
    day = meaning.day or books.today
    found = [s for s in weighins.on_day(books, day) if meaning.meal is None or s.meal == meaning.meal]
    if not found:
        return None
    named = [f"#{s.number} {s.weigh_in.food}" for s in found[:MOST_NAMED]]
    more = f" and {len(found) - MOST_NAMED} more" if len(found) > MOST_NAMED else ""
    return f"your {meaning.meal or 'food'} {saying.day(day, books.today)} ({', '.join(named)}{more})"


def reply_to(meaning: ReplyTo, ex: Exchange) -> Ask | Refuse | None:
    """Sends a client's reply to the coach."""
    mine = coaching.coaches(ex.books)
    if not mine:
        return Refuse(
            "You have no coach to pass that on to. To write to a client, say, for example: tell Ana: hello",
            Why.NO_SUCH_CLIENT,
        )
    if len(meaning.text) > LONGEST_NOTE:
        return Refuse(f"A note has at most {LONGEST_NOTE:,} characters.", Why.TOO_LONG)
    if meaning.coach_id is not None:
        mine = [each for each in mine if each.coach_id == meaning.coach_id]
    elif meaning.coach:
        mine = matching(meaning.coach, mine, lambda each: each.coach)
    if not mine:
        return Refuse("They are not your coach, so nothing is passed on.", Why.NO_SUCH_CLIENT)
    if len(mine) > 1:
        choices = tuple(Choice(saying.choice(e.coach), replace(meaning, coach_id=e.coach_id)) for e in mine[:4])
        return Ask(About.WHICH_COACH, "To which coach?", meaning, choices)
    (which,) = mine
    ex.note(people_events.NoteSent(to=which.coach))
    words = hiding.words_for(which.coach_id, meaning.text, ex.books)
    left_out = "" if words == meaning.text else f"\n{hiding.LEFT_OUT}"
    ex.tell(which.coach_id, f"{which.called} says: {words}{left_out}")
    ex.say(f"Passed on to {which.coach}.")
    return None


def ask_reweigh(meaning: AskReweigh, ex: Exchange) -> Ask | Refuse | None:
    """Asks a client to weigh something again: a weigh-in on record, or a food that is not."""
    which = client_of(meaning, ex)
    if not isinstance(which, Coaching):
        return which
    books = coaching.books_of_client(ex.books, which.client_id)
    assert books is not None, "the coaching was read a moment ago, in this transaction"
    found = _meant(meaning, books)
    if found is None and meaning.number is not None:
        return Refuse(f"{which.called} has no weigh-in #{meaning.number}.", Why.NO_SUCH_WEIGH_IN)
    if found is None and (meaning.name is None or not meaning.name.foods):
        said = "that" if meaning.name is None else meaning.name.text
        return Refuse(
            f"{which.called} has no {said} on record recently. By its number: ask {which.called} to weigh #12 again",
            Why.NO_SUCH_WEIGH_IN,
        )
    name = meaning.name if found is None else Name(text=found.weigh_in.food, foods=(found.weigh_in.food,))
    number = None if found is None else found.number
    pass_on(Relayed.REWEIGH, which, Reweigh(coach=ex.books.person.id, number=number, name=name), ex)
    if not ex.requests:
        return None
    on_record = "" if found is None else f" ({_on_record(found, books)})"
    what = "that" if name is None else f"the {name.text}"
    ex.say(f"I have asked {which.called} to weigh {what} again{on_record}. I will tell you what it says.")
    return None


def _meant(meaning: AskReweigh, books: Books) -> StoredWeighIn | None:
    if meaning.number is not None:
        return weighins.get(books, meaning.number)
    name = meaning.name
    if name is None:
        return None
    lately = weighins.between(books, books.today - LATELY, books.today)
    alike = [s for s in lately if s.weigh_in.food in name.foods or s.weigh_in.food.lower() == name.text.lower()]
    return max(alike, key=lambda s: (s.day, s.number), default=None)


def _on_record(stored: StoredWeighIn, books: Books) -> str:
    on = saying.day(stored.day, books.today)
    return f"#{stored.number}, {saying.grams(stored.weigh_in.as_weighed_g)}, {on}"


def reweigh(meaning: Reweigh, ex: Exchange) -> Ask | Refuse | None:
    """Puts the coach's request to the client, or carries out the client's answer and reports it to the coach."""
    which = coached_by(meaning.coach, ex, bool(meaning.outcome or meaning.amount))
    if which is None:
        return None
    found = None if meaning.number is None else weighins.get(ex.books, meaning.number)
    if meaning.number is not None and found is None:
        ex.say(f"#{meaning.number} is not on record any more.")
        ex.tell(which.coach_id, f"{which.called}: #{meaning.number} is not on record any more.")
        return None
    what = found.weigh_in.food if found is not None else meaning.name.text if meaning.name is not None else "it"
    if meaning.outcome:
        _not_weighed(meaning, what, which, ex)
        return None
    if meaning.amount is None:
        return _question(meaning, what, found, which, ex)
    return _weighed(meaning, what, found, which, ex)


def _question(meaning: Reweigh, what: str, found: StoredWeighIn | None, which: Coaching, ex: Exchange) -> Ask:
    choices = [Choice("can't any more", replace(meaning, outcome="gone"))]
    on_record = ""
    if found is not None:
        choices.insert(0, Choice("it is correct", replace(meaning, outcome="right")))
        on_record = f" ({_on_record(found, ex.books)})"
    ex.say(f"{which.by}, asks you to weigh something again.")
    text = f"What does the {what} weigh now{on_record}?"
    return Ask(About.REWEIGH, text, meaning, tuple(choices))


def _not_weighed(meaning: Reweigh, what: str, which: Coaching, ex: Exchange) -> None:
    stays = "says that it is correct" if meaning.outcome == "right" else "can't weigh it any more"
    number = f" (#{meaning.number})" if meaning.number is not None else ""
    ex.note(people_events.NoteSent(to=which.coach))
    ex.say(f"All right, nothing is changed. I have told {which.coach}.")
    ex.tell(which.coach_id, f"{which.called} on the {what}{number}: {stays}.")


def _weighed(
    meaning: Reweigh, what: str, found: StoredWeighIn | None, which: Coaching, ex: Exchange
) -> Ask | Refuse | None:
    amount = meaning.amount
    assert amount is not None
    if found is None:
        result: Item | Ask | Refuse | None = Item(text=amount.text, amount=amount, name=meaning.name)
    else:
        result = fixes.change(Change(which=Which(number=found.number), amount=amount), ex)
    if not isinstance(result, Item):
        return result
    before = len(ex.events)
    recording.record(result, ex)
    brought = ex.events[before:]
    if any(isinstance(event, events.WeighInEvent) for event in brought):
        was = f" (was {saying.grams(found.weigh_in.as_weighed_g)})" if found is not None else ""
        ex.tell(which.coach_id, f"{which.called} has weighed the {what} again: {amount.text}{was}.")
        ex.say(f"{which.coach} is told.")
    elif any(isinstance(event, events.QuestionAsked) for event in brought):
        ex.tell(which.coach_id, f"{which.called} has weighed the {what}: {amount.text}; a question about it waits.")
    else:
        return _question(replace(meaning, amount=None), what, found, which, ex)
    return None
