"""A database of each kind, and people who speak to it."""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import count
from pathlib import Path

import pytest
from sqlalchemy import create_engine, make_url, text

from bot.store.engine import Store, open_store

from .records import Message, messages_to

# A server on which databases may be created, such as postgresql+psycopg://me@localhost/postgres.
POSTGRESQL = os.environ.get("TAREBOOK_TEST_POSTGRESQL", "")
KINDS = ("memory", "file", *(["postgresql"] if POSTGRESQL else []))

_numbers = count(1)


@pytest.fixture(scope="session")
def migrated_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A database without records; tests work on copies of it, which are made sooner than it was."""
    path = tmp_path_factory.mktemp("migrated") / "tarebook.db"
    open_store(f"sqlite:///{path}").close()
    return path


@contextmanager
def _server_database(template: str = "template1") -> Iterator[str]:
    name = f"tarebook_test_{os.getpid()}_{next(_numbers)}"
    server = create_engine(POSTGRESQL, isolation_level="AUTOCOMMIT")
    with server.connect() as conn:
        conn.execute(text(f"CREATE DATABASE {name} TEMPLATE {template}"))
    try:
        yield name
    finally:
        with server.connect() as conn:
            conn.execute(text(f"DROP DATABASE {name} WITH (FORCE)"))
        server.dispose()


def _on_server(name: str) -> str:
    return make_url(POSTGRESQL).set(database=name).render_as_string(hide_password=False)


@pytest.fixture(scope="session")
def migrated_server_database() -> Iterator[str]:
    """The same on the server."""
    with _server_database() as name:
        open_store(_on_server(name)).close()
        yield name


@pytest.fixture(params=KINDS)
def url(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    if request.param == "memory":
        yield "sqlite://"
    elif request.param == "file":
        path = tmp_path / "tarebook.db"
        shutil.copyfile(request.getfixturevalue("migrated_file"), path)
        yield f"sqlite:///{path}"
    else:
        with _server_database(request.getfixturevalue("migrated_server_database")) as name:
            yield _on_server(name)


@pytest.fixture
def store(url: str) -> Iterator[Store]:
    opened = open_store(url)
    yield opened
    opened.close()


@pytest.fixture
def message(store: Store) -> Message:
    return messages_to(store)
