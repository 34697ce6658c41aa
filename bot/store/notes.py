"""The note that every change of the records leaves, so that it can be taken back."""

from sqlalchemy import insert

from bot.store.books import Books
from bot.store.prepared import Prepared
from bot.store.schema import journal

_NOTE = Prepared(insert(journal))


def note(books: Books, kind: str, ref: int) -> None:
    """Notes that this message wrote the row `ref`; `kind` says in which table (see `bot.store.journal`)."""
    values = {"person_id": books.person.id, "inbound_id": books.inbound_id, "kind": kind, "ref": ref}
    _NOTE.all(books.conn, values)
