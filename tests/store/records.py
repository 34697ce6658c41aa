"""People who speak to a store, and what they ate."""

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from datetime import UTC, datetime, timedelta
from itertools import count
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy import event, update

from bot.store import people
from bot.store.books import Books
from bot.store.delivery import inbox
from bot.store.delivery.inbox import NewRow, Say
from bot.store.engine import Store
from bot.store.schema import person as person_table
from bot.store.weighins import StoredWeighIn, add
from domain.batch_steps import Ingredient
from domain.foods import State
from domain.nutrients import Nutrients
from domain.quantities import Region
from domain.weighins import Evidence, WeighIn

MONDAY = datetime(2026, 3, 2, 12, tzinfo=UTC)

Message = Callable[..., AbstractContextManager[Books]]


def messages_to(store: Store) -> Message:
    """`with message("mira") as books:` is one message of Mira's, handled in one transaction."""
    sent = count(1)

    @contextmanager
    def message(who: str = "mira", at: datetime | None = None) -> Iterator[Books]:
        number = next(sent)
        at = at or MONDAY + timedelta(minutes=number)
        with store.transaction() as conn:
            person = people.find(conn, "test", who) or people.add(
                conn, "test", who, who, Region.US, ZoneInfo("Europe/Lisbon")
            )
            inbound_id = inbox.receive(conn, NewRow("test", str(number), who, Say(text=""), str(number), at))
            assert inbound_id is not None
            yield Books(conn, person, inbound_id, at)
            inbox.done(conn, inbound_id)

    return message


def share_kitchen(message: Message, host: str, guest: str) -> None:
    """Moves the guest into the host's kitchen."""
    with message(host) as books:
        kitchen_id = books.person.kitchen_id
    with message(guest) as books:
        move = update(person_table).where(person_table.c.id == books.person.id)
        books.conn.execute(move.values(kitchen_id=kitchen_id))


RICE = Nutrients(kcal=260.0, protein_g=5.4, fat_g=0.6, carbohydrate_g=56.0, fibre_g=0.8)
BEEF = Nutrients(kcal=3175.0, protein_g=214.0, fat_g=250.0, carbohydrate_g=0.0)


def eaten(
    food: str = "rice",
    grams: float = 200.0,
    *,
    batch: int | None = None,
    evidence: Evidence = Evidence.WEIGHED,
    nutrients: Nutrients | None = RICE,
) -> WeighIn:
    return WeighIn(food, State.COOKED, grams, grams, grams, State.COOKED, evidence, nutrients, batch)


def record(books: Books, weigh_in: WeighIn) -> StoredWeighIn:
    """Adds a weigh-in as eaten at the message's own moment."""
    return add(books, weigh_in, books.at, books.today, None, b"{}")


def beef(grams: float = 1250.0) -> Ingredient:
    return Ingredient("ground beef", State.RAW, grams, BEEF, "meat", "")


@contextmanager
def statements(books: Books) -> Iterator[list[str]]:
    """Collects the statements that reach the database."""
    seen: list[str] = []

    def note(_conn: Any, _cursor: Any, statement: str, *_rest: Any) -> None:
        seen.append(statement)

    driver: Any = books.conn.connection.driver_connection
    if books.conn.dialect.name == "sqlite":
        driver.set_trace_callback(seen.append)
    else:
        event.listen(books.conn.engine, "before_cursor_execute", note)
    try:
        yield seen
    finally:
        if books.conn.dialect.name == "sqlite":
            driver.set_trace_callback(None)
        else:
            event.remove(books.conn.engine, "before_cursor_execute", note)
