"""Access to one person's records for the time of one message."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from sqlalchemy import Connection, insert

from bot.store.people import Person
from bot.store.schema import journal
from bot.store.statements import Prepared

_ADD_CHANGE = Prepared(insert(journal))


@dataclass(frozen=True, slots=True)
class Books:
    """Whose records are read and written, which message causes it, and when that message was said.

    `at` is the message's own moment (aware, UTC), not the moment it is handled. `refers_to` is the inbox row of the
    earlier message that this one points at, such as by replying to its receipt. `foreign` says that somebody else reads
    in them, with the person's consent; `withheld` are the parts that this consent leaves out.
    """

    conn: Connection
    person: Person
    inbound_id: int
    at: datetime
    refers_to: int | None = None
    foreign: bool = False
    withheld: frozenset[str] = frozenset()

    @property
    def local(self) -> datetime:
        """The message's moment on the person's own clock."""
        return self.at.astimezone(self.person.timezone)

    @property
    def today(self) -> date:
        """The message's day on the person's own calendar."""
        return self.day_of(self.at)

    def day_of(self, moment: datetime) -> date:
        """The day on which a moment (aware) falls for this person, whose day may start later than at midnight."""
        local = moment.astimezone(self.person.timezone)
        return (local - timedelta(hours=self.person.day_starts)).date()


def record_change(books: Books, kind: str, ref: int) -> None:
    """Adds a journal entry, by which the change can be undone: this message wrote the row `ref`.

    `kind` says in which table (see `bot.store.journal`).
    """
    values = {"person_id": books.person.id, "inbound_id": books.inbound_id, "kind": kind, "ref": ref}
    _ADD_CHANGE.all(books.conn, values)
