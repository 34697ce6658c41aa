"""The checks on which access rests, each taken out in turn: the random scripts have to notice every time.

`python -m tests.access.checks` prints for each check the script in which the leak showed, or that it never did.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import datetime
from typing import Any
from unittest.mock import patch

from sqlalchemy import select

from bot import app
from bot.conversation.coaching import consultation, cover, history, withheld
from bot.conversation.coaching.status import ClientStatus
from bot.conversation.days import sheets
from bot.conversation.privacy import exporting
from bot.store import coaching, facts, people, remarks, schema, templates
from bot.store.books import Books
from bot.store.coaching import Coaching

from .prying import Leak, run

MOST_SCRIPTS = 20
STEPS = 100
Taken = Callable[[], Any]
"""Takes a check out for as long as it is entered."""


def _all_parts(books: Books) -> Books:
    return replace(books, withheld=frozenset())


def _without_consent(books: Books, client_id: int) -> Books | None:
    client = people.by_id(books.conn, client_id)
    return None if client is None else replace(books, person=client, inbound_id=0, foreign=True)


_read_clients = coaching.books_of_client
_leave_out = coaching.withheld_from
_begin, _end = coaching.begin, coaching.end
_page, _shared, _picture = consultation.page, exporting.shared, exporting.picture_of
_sheet, _means = withheld.sheet, withheld.means
_ask_client = cover.ask_client
_body_weights, _week, _protein = facts.body_weights, history._week, withheld.protein


def _shares(part: str) -> Taken:
    """The part counts as shared by everybody."""

    def left_out(books: Books, which: Coaching) -> frozenset[str]:
        return _leave_out(books, which) - {part}

    return lambda: patch.object(coaching, "withheld_from", left_out)


def _everybodys(table: Any) -> Callable[[Books], Any]:
    def read(books: Books) -> Any:
        if table is schema.template:
            return {row.name: row.text for row in books.conn.execute(select(table))}
        rows = books.conn.execute(
            select(table.c.client_id, table.c.kind, table.c.text, table.c.at).order_by(table.c.id)
        )
        return [remarks.Remark(*row) for row in rows]

    return read


def _stays_covered(books: Books, which: Coaching) -> list[Coaching]:
    with patch.object(coaching, "_COVERS", coaching._COVERS.where(schema.coaching.c.id < 0)):
        return _end(books, which)


def _own_choice(books: Books, which: Coaching) -> frozenset[str]:
    return _leave_out(books, replace(which, covers_id=None)) - coaching.ASKED


def _endless(
    books: Books, coach_id: int, called: str, until: datetime | None = None, covers_id: int | None = None
) -> None:
    _begin(books, coach_id, called, None if until is None else until.replace(year=2100), covers_id)


CHECKS: dict[str, Taken] = {
    "a client's books need their consent": lambda: patch.object(coaching, "books_of_client", _without_consent),
    **{f"{part} can be withheld": _shares(part) for part in sorted(coaching.SHARED | coaching.ASKED)},
    "body weights of foreign books": lambda: patch.object(
        facts, "body_weights", lambda books, first, last: _body_weights(_all_parts(books), first, last)
    ),
    "sheets without energy": lambda: patch.object(withheld, "sheet", sheets.read),
    "weeks compared without energy": lambda: patch.object(
        history, "_week", lambda last, by_day, books: _week(last, by_day, _all_parts(books))
    ),
    "protein in sheets without energy": lambda: patch.object(
        withheld, "protein", lambda stored, over, aim, books: _protein(stored, over, aim, _all_parts(books))
    ),
    "energy in the roster": lambda: patch.object(ClientStatus, "shares_energy", True),
    "protein in the roster": lambda: patch.object(ClientStatus, "shares_protein", True),
    "the page without what is withheld": lambda: patch.object(
        consultation, "page", lambda books, called, coach: _page(_all_parts(books), called, coach)
    ),
    "charts of the page": lambda: patch.object(consultation, "_shared", lambda shown, books: shown),
    "tables without what is withheld": lambda: patch.object(
        exporting, "shared", lambda books, called: _shared(_all_parts(books), called)
    ),
    "pictures with the tables": lambda: patch.object(
        exporting,
        "picture_of",
        lambda sunday, books: _picture(sunday, replace(books, withheld=books.withheld - {"energy"})),
    ),
    "consent to a file when it is made": lambda: patch.object(app, "_exportable", coaching.books_of_client),
    "private remarks": lambda: patch.object(remarks, "mine", _everybodys(schema.remark)),
    "templates of one's own": lambda: patch.object(templates, "mine", _everybodys(schema.template)),
    "the client's yes to a cover": lambda: patch.object(
        cover, "ask_client", lambda meaning, ex: _ask_client(replace(meaning, agreed=meaning.agreed is not False), ex)
    ),
    "the last day of a cover": lambda: patch.object(coaching, "begin", _endless),
    "a cover ends with the coaching": lambda: patch.object(coaching, "end", _stays_covered),
    "a cover shows what the coach sees": lambda: patch.object(coaching, "withheld_from", _own_choice),
}
"""What takes each check out."""


@contextmanager
def without(check: str) -> Iterator[None]:
    """The program without that check."""
    with CHECKS[check]():
        yield


def noticed(check: str, scripts: int = MOST_SCRIPTS, steps: int = STEPS) -> tuple[int, str] | None:
    """(script, what leaked) of the first script that notices that the check is missing; None when none does."""
    with without(check):
        for seed in range(scripts):
            try:
                run(1, steps, seed)
            except Leak as leak:
                return seed, str(leak)
    return None


if __name__ == "__main__":
    for name in sys.argv[1:] or CHECKS:
        found = noticed(name)
        said = "never noticed" if found is None else f"noticed in script {found[0]}: {found[1].splitlines()[0][:150]}"
        sys.stdout.write(f"{name}: {said}\n")
        sys.stdout.flush()
