"""Runs migrations: on the connection that the program hands over, or on the database in TAREBOOK_DATABASE."""

import os

from alembic import context
from sqlalchemy import Connection, create_engine, event

from bot.store.schema import metadata


def run(connection: Connection) -> None:
    """Runs the steps that were asked for, in the connection's transaction."""
    context.configure(connection=connection, target_metadata=metadata, render_as_batch=True)
    with context.begin_transaction():
        context.run_migrations()


def run_by_hand() -> None:
    """Runs them on a connection of their own, for `alembic` on the command line."""
    engine = create_engine(os.environ["TAREBOOK_DATABASE"])
    if engine.dialect.name == "sqlite":
        # Without these two, the driver commits each CREATE TABLE by itself and a failed step stays half done.
        event.listen(engine, "connect", lambda connection, _: setattr(connection, "isolation_level", None))
        event.listen(engine, "begin", lambda conn: conn.exec_driver_sql("BEGIN IMMEDIATE"))
    with engine.begin() as connection:
        run(connection)
    engine.dispose()


handed_over = context.config.attributes.get("connection")
if handed_over is None:
    run_by_hand()
else:
    run(handed_over)
