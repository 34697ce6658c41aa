"""What tests of several rooms need."""

from collections.abc import Iterator

import pytest

from tests import postgres


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """The tests of a module run on each of the databases that it names in `DATABASES`."""
    if "database_kind" in metafunc.fixturenames and hasattr(metafunc.module, "DATABASES"):
        metafunc.parametrize("database_kind", metafunc.module.DATABASES)


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
