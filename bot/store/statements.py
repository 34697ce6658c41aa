"""Statements that most messages run, compiled once, and the INSERT statements that both databases spell alike.

For a small statement SQLAlchemy's own overhead is several times SQLite's execution time, so on SQLite a prepared
statement goes straight to the driver. With a server the network takes longer than either, and SQLAlchemy's pool has to
see connection errors: there SQLAlchemy executes it.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Mapping, Sequence
from operator import itemgetter
from typing import Any

from sqlalchemy import (
    Column,
    ColumnElement,
    CompoundSelect,
    Connection,
    Dialect,
    Exists,
    Insert,
    Select,
    Table,
    UpdateBase,
    bindparam,
    select,
)
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.exc import DBAPIError
from sqlalchemy.sql.compiler import SQLCompiler
from sqlalchemy.sql.dml import ReturningInsert
from sqlalchemy.types import TypeEngine

Statement = Select[*tuple[Any, ...]] | CompoundSelect[*tuple[Any, ...]] | UpdateBase

_Process = Callable[[Any], Any]


def insert_or_ignore(table: Table) -> dict[str, Insert]:
    """By dialect: INSERT … ON CONFLICT DO NOTHING."""
    return {
        "sqlite": sqlite.insert(table).on_conflict_do_nothing(),
        "postgresql": postgresql.insert(table).on_conflict_do_nothing(),
    }


def insert_if_new(
    table: Table, returning: Column[Any], unless: Exists | None = None, given: Sequence[str] = ()
) -> dict[str, ReturningInsert[Any]]:
    """By dialect: INSERT … ON CONFLICT DO NOTHING that returns a column of the new row.

    Nor is a row inserted when `unless` holds; then the columns that are `given` have to be named.
    """
    in_sqlite, in_postgresql = sqlite.insert(table), postgresql.insert(table)
    if unless is not None:
        row = select(*(bindparam(name, type_=table.c[name].type) for name in given)).where(~unless)
        in_sqlite, in_postgresql = in_sqlite.from_select(given, row), in_postgresql.from_select(given, row)
    return {
        "sqlite": in_sqlite.on_conflict_do_nothing().returning(returning),
        "postgresql": in_postgresql.on_conflict_do_nothing().returning(returning),
    }


def upsert(
    table: Table,
    key: Sequence[str],
    columns: Sequence[str],
    where: ColumnElement[bool] | None = None,
    returning: Column[Any] | None = None,
) -> dict[str, Insert]:
    """By dialect: INSERT … ON CONFLICT (key) DO UPDATE of these columns, where `where` holds."""
    found: dict[str, Insert] = {}
    for dialect, add in (("sqlite", sqlite.insert), ("postgresql", postgresql.insert)):
        new = add(table)
        statement = new.on_conflict_do_update(
            index_elements=list(key), set_={name: new.excluded[name] for name in columns}, where=where
        )
        found[dialect] = statement if returning is None else statement.returning(returning)
    return found


class Prepared:
    """One statement, or one by dialect; its values are named, and none is a list (`in_` only with another statement).

    Every method raises what SQLAlchemy does.
    """

    def __init__(self, statement: Statement | Mapping[str, Statement]) -> None:
        self._statement = statement
        self._forms: dict[tuple[str, ...], Form] = {}

    def all(self, conn: Connection, values: Mapping[str, Any]) -> Sequence[Sequence[Any]]:
        """The rows that it gives; none when it isn't of the kind that does."""
        if conn.dialect.name != "sqlite":
            found = conn.execute(self._for(conn.dialect), values)
            return found.all() if found.returns_rows else []
        return self._form(conn, values).rows(conn, values)

    def each(self, conn: Connection, many: Sequence[Mapping[str, Any]]) -> int:
        """Runs it for one set of values after the other, all of the same names; it gives no rows.

        Returns how many rows it wrote.
        """
        if not many:
            return 0
        if conn.dialect.name == "sqlite":
            return self._form(conn, many[0]).each(conn, many)
        found = conn.execute(self._for(conn.dialect), list(many), execution_options={"preserve_rowcount": True})
        return found.rowcount

    def one_or_none(self, conn: Connection, values: Mapping[str, Any]) -> Sequence[Any] | None:
        """The only row that it can give, or None."""
        rows = self.all(conn, values)
        return rows[0] if rows else None

    def one(self, conn: Connection, values: Mapping[str, Any]) -> Sequence[Any]:
        """The only row, which there always is."""
        (row,) = self.all(conn, values)
        return row

    def scalar(self, conn: Connection, values: Mapping[str, Any]) -> Any:
        """The first value of the only row that it can give, or None."""
        rows = self.all(conn, values)
        return rows[0][0] if rows else None

    def _form(self, conn: Connection, values: Mapping[str, Any]) -> Form:
        names = tuple(values)
        form = self._forms.get(names)
        if form is None:
            form = self._forms[names] = Form(self._for(conn.dialect), names, conn.dialect)
        return form

    def _for(self, dialect: Dialect) -> Statement:
        return self._statement[dialect.name] if isinstance(self._statement, Mapping) else self._statement


class Form:
    """The statement as SQLite takes it for values of these names, with the conversions of values in both directions."""

    def __init__(self, statement: Statement, names: tuple[str, ...], dialect: Dialect) -> None:
        compiled = statement.compile(dialect=dialect, column_keys=list(names))
        assert isinstance(compiled, SQLCompiler)
        self._text = str(compiled)
        types = {name: parameter.type for parameter, name in compiled.bind_names.items()}
        # Raises for a value that is needed and not given.
        written_out = compiled.construct_params(dict.fromkeys(names))
        self._constants: dict[str, Any] = {}
        for name in written_out.keys() - names:
            process = _binding(types[name], dialect)
            self._constants[name] = written_out[name] if process is None else process(written_out[name])
        self._in = [(name, process) for name in names if (process := _binding(types[name], dialect)) is not None]
        self._in_order = _in_order(compiled.positiontup or ())
        self._out = [
            (place, process)
            for place, column in enumerate(statement.exported_columns)
            if (process := _giving_back(column.type, dialect)) is not None
        ]

    def rows(self, conn: Connection, values: Mapping[str, Any]) -> Sequence[Sequence[Any]]:
        """The rows that it gives."""
        parameters = self._parameters(values)
        try:
            rows: list[Sequence[Any]] = _driver(conn).execute(self._text, parameters).fetchall()
        except sqlite3.Error as error:
            raise self._as_sqlalchemy(error, parameters, conn) from error
        return [self._given_back(row) for row in rows] if self._out else rows

    def each(self, conn: Connection, many: Sequence[Mapping[str, Any]]) -> int:
        """How many rows it wrote for all these values."""
        parameters = [self._parameters(values) for values in many]
        try:
            written: int = _driver(conn).executemany(self._text, parameters).rowcount
        except sqlite3.Error as error:
            raise self._as_sqlalchemy(error, parameters, conn) from error
        return written

    def _parameters(self, values: Mapping[str, Any]) -> tuple[Any, ...]:
        given = {**self._constants, **values}
        for name, process in self._in:
            given[name] = process(given[name])
        return self._in_order(given)

    def _as_sqlalchemy(self, error: sqlite3.Error, parameters: Any, conn: Connection) -> Exception:
        return DBAPIError.instance(self._text, parameters, error, sqlite3.Error, dialect=conn.dialect)

    def _given_back(self, row: Sequence[Any]) -> Sequence[Any]:
        given = list(row)
        for place, process in self._out:
            given[place] = process(given[place])
        return given


def _driver(conn: Connection) -> Any:
    return conn.connection.dbapi_connection


def _in_order(names: Sequence[str]) -> Callable[[Mapping[str, Any]], tuple[Any, ...]]:
    """What takes the values of these names out, in this order."""
    match names:
        case []:
            return lambda _: ()
        case [only]:
            return lambda given: (given[only],)
        case _:
            return itemgetter(*names)


def _binding(kind: TypeEngine[Any], dialect: Dialect) -> _Process | None:
    return kind.dialect_impl(dialect).bind_processor(dialect)


def _giving_back(kind: TypeEngine[Any], dialect: Dialect) -> _Process | None:
    return kind.dialect_impl(dialect).result_processor(dialect, None)
