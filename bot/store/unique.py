"""Rows that may be there already."""

from collections.abc import Sequence

from sqlalchemy import Column, Exists, Insert, Table, bindparam, select
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.sql.dml import ReturningInsert


def insert_all_new(table: Table) -> dict[str, Insert]:
    """By dialect: an INSERT that adds no row when a key of the new row exists."""
    return {
        "sqlite": sqlite.insert(table).on_conflict_do_nothing(),
        "postgresql": postgresql.insert(table).on_conflict_do_nothing(),
    }


def insert_new(
    table: Table, returning: Column[int], unless: Exists | None = None, given: Sequence[str] = ()
) -> dict[str, ReturningInsert[int]]:
    """The same, and it gives the new row's value of a column.

    Nor is there a row when what `unless` says is there; then the columns that are `given` have to be named.
    """
    in_sqlite, in_postgresql = sqlite.insert(table), postgresql.insert(table)
    if unless is not None:
        row = select(*(bindparam(name, type_=table.c[name].type) for name in given)).where(~unless)
        in_sqlite, in_postgresql = in_sqlite.from_select(given, row), in_postgresql.from_select(given, row)
    return {
        "sqlite": in_sqlite.on_conflict_do_nothing().returning(returning),
        "postgresql": in_postgresql.on_conflict_do_nothing().returning(returning),
    }
