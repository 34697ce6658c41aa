"""One person's records, seen from one message."""

from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import Connection

from bot.store.people import Person


@dataclass(frozen=True, slots=True)
class Books:
    """Whose records are read and written, which message causes it, and when that message was said.

    `at` is the message's own moment (aware, UTC), not the moment it is handled.
    """

    conn: Connection
    person: Person
    inbound_id: int
    at: datetime

    @property
    def local(self) -> datetime:
        """The message's moment on the person's own clock."""
        return self.at.astimezone(self.person.timezone)

    @property
    def today(self) -> date:
        """The message's day on the person's own calendar."""
        return self.local.date()
