"""Scripted people: what they say, and when, is given by the caller."""

from __future__ import annotations

import secrets
from datetime import datetime, timedelta

from bot.app import Taken, Tarebook, arriving, oldest
from bot.messages import Turn
from bot.schedule import sweeping
from bot.store.delivery.inbox import Content, Edit, NewRow, Press, Request, Say
from bot.store.engine import Connection
from bot.store.errors import StoreError

LONGEST = timedelta(days=366)
"""The longest period that one step goes through."""


class NotPossible(Exception):
    """Something that no person could do at that point; its text says why."""


class Script:
    """Speaks for any number of people in one channel, and shows the replies itself.

    What an earlier run of the channel stored and did not handle is handled first. The methods return what the message
    brought about, first for who said it and then for whom else it touches: (who is told, what). They raise NotPossible,
    and StoreError when the database can't be written.
    """

    def __init__(self, tarebook: Tarebook, channel: str) -> None:
        self._tarebook = tarebook
        self._channel = channel
        self._run = secrets.token_hex(8)
        self._sent = 0
        self._shown: dict[str, str] = {}
        tarebook.catch_up(channel, shown=True)

    def say(self, who: str, text: str, at: datetime, ref: str | None = None) -> list[tuple[str, Turn]]:
        """A message; it can be edited later when it has a `ref`."""
        return self._send(who, Say(text=text), ref, at)

    def edit(self, who: str, ref: str, text: str, at: datetime) -> list[tuple[str, Turn]]:
        """The new text of the latest message that the person sent under that `ref`."""
        if not self._tarebook.knows_message(self._channel, who, ref):
            raise NotPossible(f"{who} has sent no message with the ref {ref}")
        return self._send(who, Edit(text=text, edits=ref), ref, at)

    def press(self, who: str, number: int, at: datetime) -> list[tuple[str, Turn]]:
        """A choice, counted from 1, of the last question that the person was shown."""
        if who not in self._shown:
            raise NotPossible(f"{who} has been shown no question")
        return self._send(who, Press(ref=self._shown[who], choice=number - 1), None, at)

    def advance(self, upto: datetime) -> list[tuple[str, Turn]]:
        """Everything scheduled up to a moment, each at its own: (who is told, what)."""
        came: list[tuple[str, Turn]] = []
        # Of a longer period only the last year is gone through.
        at = upto - LONGEST
        while (moment := sweeping.next_due(self._tarebook.store, self._channel, upto)) is not None:
            at = max(at, moment)
            for due in sweeping.take(self._tarebook.store, self._channel, at, shown=True) or ():
                came.append((due.place, due.turn))
                self._note_questions(due.place, due.turn)
        self._tarebook.apply_retention(upto)
        return came

    def _send(self, who: str, content: Content, ref: str | None, at: datetime) -> list[tuple[str, Turn]]:
        self._sent += 1
        new = NewRow(self._channel, f"{self._run}:{self._sent}", who, content, ref, at)
        turn = next((each.turn for each in self._tarebook.handle(arriving(new), shown=True)), None)
        if turn is None:
            raise StoreError("The message is kept but could not be handled.")
        came = [(who, turn), *self._notifications(turn)]
        while turn.requests:
            done = self._tarebook.handle(self._requests, shown=True)
            if not done:
                break
            for each in done:
                if each.turn is not None:
                    came += [(each.row.person_key, each.turn), *self._notifications(each.turn)]
        for whose, told in came:
            self._note_questions(whose, told)
        return came

    def _requests(self, conn: Connection) -> Taken:
        """The requests that wait, at most one for each person."""
        return Taken([row for row in oldest(self._channel)(conn).rows if isinstance(row.content, Request)])

    def _notifications(self, turn: Turn) -> list[tuple[str, Turn]]:
        found = ((self._tarebook.key_of(self._channel, each.to), each) for each in turn.notifications)
        return [(key, Turn((each.reply,))) for key, each in found if key is not None]

    def _note_questions(self, who: str, turn: Turn) -> None:
        for reply in turn.replies:
            if reply.question_ref is not None and reply.choices:
                self._shown[who] = reply.question_ref
