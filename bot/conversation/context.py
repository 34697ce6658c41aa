"""What the person has, as context for understanding their words."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from functools import partial

from bot.conversation.batches.surrounding import closed_batches, contents, known_batches
from bot.conversation.days.body_weight import latest_body_weight
from bot.conversation.exchange import Exchange
from bot.conversation.questions.waiting import as_waiting
from bot.conversation.records import own_words
from bot.conversation.records.recent import recorded
from bot.language.surroundings import LastWeighIn, Surroundings
from bot.store.delivery import inbox
from bot.store.questions import StoredQuestion


def surroundings(ex: Exchange, waiting: Sequence[StoredQuestion], shown: Collection[int] = ()) -> Surroundings:
    """What the person has, as context for understanding the message; `shown` are the questions that take bare words."""
    books = ex.books
    last = ex.last
    return Surroundings(
        now=books.local,
        day_starts=books.person.day_starts,
        region=books.person.region,
        batches=known_batches(ex),
        closed=closed_batches(ex),
        contents=partial(contents, ex),
        tares=tuple(ex.known.tares.items()),
        labels=ex.known.own.labels,
        waiting=tuple(as_waiting(question, shown, books.at) for question in waiting),
        last=None
        if last is None
        else LastWeighIn(
            last.weigh_in.food, last.weigh_in.as_weighed_g, last.weigh_in.state.value, last.weigh_in.batch
        ),
        recorded=recorded(ex),
        body_kg=partial(latest_body_weight, ex.books),
        clients=ex.known.own.clients,
        coaches=ex.known.own.coaches,
        clients_before=ex.known.own.clients_before,
        coaches_before=ex.known.own.coaches_before,
        guides=books.person.role == "coach",
        said_before=partial(inbox.lately_said, books.conn, books.inbound_id),
        words=own_words.told(ex.known),
    )
