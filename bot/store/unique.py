"""Rows that may be there already."""

from sqlalchemy import Column, Table
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.sql.dml import ReturningInsert


def insert_new(table: Table, returning: Column[int]) -> dict[str, ReturningInsert[int]]:
    """By dialect: an INSERT that gives the column's value, or no row at all when a key of the new row exists."""
    return {
        "sqlite": sqlite.insert(table).on_conflict_do_nothing().returning(returning),
        "postgresql": postgresql.insert(table).on_conflict_do_nothing().returning(returning),
    }
