"""The state of one message while it is handled: replies, events, questions."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property
from typing import Literal

from bot.conversation.known import Known
from bot.conversation.outcomes import Ask, Refuse, distinct
from bot.conversation.questions.stored import encode, encode_meaning
from bot.events import Event, QuestionAsked, Refused
from bot.language.meanings import Meaning
from bot.language.told import Item, When
from bot.messages import Group, GroupNotification, Notification, Reply, RequestTo
from bot.reports.series import Picture
from bot.store import questions, weighins
from bot.store.books import Books
from bot.store.people import Person
from bot.store.questions import StoredQuestion
from bot.store.weighins import StoredWeighIn


@dataclass(frozen=True, slots=True)
class Prompt:
    """The question that a reply ends with."""

    text: str
    choices: tuple[str, ...]
    ref: str
    id: int


class Exchange:
    """Collects the reply and the events of one message; questions are stored as they are asked."""

    def __init__(self, books: Books, group: Group | None = None, welcomes: bool = False, link_prefix: str = "") -> None:
        self.books = books
        self.group = group
        """The group in which the message was sent, if it was sent in one."""
        self.welcomes = welcomes
        """Whether newcomers are asked for their settings."""
        self.link_prefix = link_prefix
        """What an invitation's code is appended to for a link; empty where the channel has no links."""
        self.known = Known(books)
        self.lines: list[str] = []
        self.events: list[Event] = []
        self.shared: dict[Event, str] = {}
        """The lines that others may read, by their events."""
        self.asked: list[StoredQuestion] = []
        self.changed_days: set[date] = set()
        """The days whose totals changed; the reply ends with them."""
        self.notifications: list[Notification] = []
        self.requests: list[RequestTo] = []
        self.group_notifications: list[GroupNotification] = []
        self.picture: Picture | None = None
        """The picture that goes with the reply."""
        self.document: str | None = None
        """The file that goes with the reply (`bot.reports.files`)."""
        self.went: Literal["pot", "day"] | None = None
        """Where an ambiguous food was recorded, in the batch or on the day, so that the reply can offer the other."""
        self.in_ounces: bool | None = None
        """Whether the message tells its weights in ounces; None where it tells none."""
        self.undisturbed = 0
        """How many lines at the beginning are about a danger: nothing is asked and no figure said after them."""
        self.farewell = False
        """Whether the person has been erased."""

    @cached_property
    def hides_energy(self) -> bool:
        """Whether the person wanted no energy shown before this message."""
        return self.known.own.settings.get("energy") == "hidden"

    @cached_property
    def last(self) -> StoredWeighIn | None:
        """The person's last weigh-in as it was before this message."""
        return weighins.latest(self.books)

    def say(self, line: str, hidden: str | None = None) -> None:
        """Adds a line to the reply; `hidden` in its place for a person who wants no energy shown."""
        self.lines.append(hidden if hidden is not None and self.hides_energy else line)

    def note(self, event: Event) -> None:
        """Adds an event."""
        self.events.append(event)

    def share(self, event: Event, line: str) -> None:
        """Adds an event with its line of the reply, which other members of the kitchen read too."""
        self.note(event)
        self.say(line)
        self.shared[event] = line

    def tell(self, person_id: int, text: str) -> None:
        """Sends another person a message."""
        self.notifications.append(Notification(person_id, Reply(text)))

    def send(self, person_id: int, meaning: Meaning) -> None:
        """Has a meaning handled in another person's books, in a later turn of their own.

        That turn decides whether it is allowed.
        """
        self.requests.append(RequestTo(person_id, encode_meaning(meaning)))

    def move_to(self, person: Person) -> None:
        """Continues in the kitchen that the person has moved to."""
        self.books = replace(self.books, person=person)
        self.known = Known(self.books)

    def forget_known(self) -> None:
        """Has everything that is known of the person read anew, after a change to it."""
        self.known = Known(self.books)

    def refuse(self, refusal: Refuse) -> None:
        """Says why nothing is recorded, and adds the event."""
        self.say(refusal.text if refusal.says_so else f"{refusal.text} Nothing is recorded.")
        self.note(Refused(why=refusal.why))

    def ask(self, ask: Ask) -> None:
        """Stores a question. Pending items get their time now, so that a late answer does not move them."""
        pending, choices = ask.pending, ask.choices
        if isinstance(pending, Item):
            pending = self.dated(pending)
            choices = tuple(
                replace(c, meaning=self.dated(c.meaning)) if isinstance(c.meaning, Item) else c for c in choices
            )
        text = ask.text[:1].upper() + ask.text[1:]
        fixed = replace(ask, text=text, pending=pending, choices=distinct(choices))
        words = [c.words for c in fixed.choices]
        self.asked.append(questions.ask(self.books, fixed.about, fixed.text, words, encode(fixed)))
        self.note(QuestionAsked(about=ask.about, choices=tuple(words)))

    def dated(self, item: Item) -> Item:
        """The item with the time of this message, unless it has one."""
        if item.when.moment is not None or item.when.day is not None:
            return item
        now = self.books.local
        return replace(
            item, when=When(day=self.books.today, moment=now, meal=item.when.meal, unclear=item.when.unclear)
        )

    def prompt(self) -> Prompt | None:
        """The first question asked, with the number of further ones; None without any."""
        if not self.asked:
            return None
        first, more = self.asked[0], len(self.asked) - 1
        text = first.text
        if more:
            text += f"\n({more} more {'question waits' if more == 1 else 'questions wait'} after this one.)"
        return Prompt(text, first.choices, first.ref, first.id)
