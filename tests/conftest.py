"""What tests of several rooms need."""

import gc
import os
import sys
from collections.abc import Iterator
from typing import Any

import pytest
from sqlalchemy import URL, Engine, create_engine

from bot.store import engine
from tests import postgres
from tests.programs import Nursery

# An environment may keep Python from writing down what it has compiled. Then everybody compiles everything again: each
# worker, and each process that a test starts.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False


def pytest_xdist_auto_num_workers(config: pytest.Config) -> int:
    """One more than there are processors: tests of what takes time wait now and then."""
    return (os.cpu_count() or 1) + 1


def pytest_collection_finish() -> None:
    """Keeps the garbage collector off the tables and the collected tests, which stay until the end.

    Looking through them again and again took an eighth of the time.
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 50)


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """The tests of a module run on each of the databases that it names in `DATABASES`."""
    if "database_kind" in metafunc.fixturenames and hasattr(metafunc.module, "DATABASES"):
        metafunc.parametrize("database_kind", metafunc.module.DATABASES)


@pytest.fixture(scope="session", autouse=True)
def _statements_compiled_once() -> Iterator[None]:
    """All databases of a kind share what SQLAlchemy has compiled for the first of them.

    It keeps that for each engine, and in most tests compiling took longer than all else.
    """
    compiled: dict[str, Engine] = {}

    def shared(place: URL, **how: Any) -> Engine:
        made = create_engine(place, **how)
        first = compiled.setdefault(made.url.drivername, made)
        if getattr(first.dialect, "server_version_info", None) is None:
            # It never came to know its database, perhaps because that could not be opened.
            compiled[made.url.drivername] = made
        elif first is not made:
            made.dialect, made._compiled_cache = first.dialect, first._compiled_cache
        return made

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(engine, "create_engine", shared)
        yield


@pytest.fixture
def database_kind() -> str:
    """What a test runs on when its module names no databases."""
    return "sqlite"


@pytest.fixture(scope="session")
def postgresql() -> Iterator[postgres.Postgres]:
    """A PostgreSQL server for all tests, started when the first of them asks for it."""
    try:
        with postgres.running() as server:
            yield server
    except postgres.Unavailable as why:
        pytest.skip(str(why))


@pytest.fixture
def server_database(postgresql: postgres.Postgres) -> Iterator[str]:
    """The URL of a database on it, without records."""
    with postgresql.database() as url:
        yield url


@pytest.fixture(scope="session")
def programs() -> Iterator[Nursery]:
    """Starts `tarebook ...` in processes of their own."""
    nursery = Nursery()
    yield nursery
    nursery.close()
