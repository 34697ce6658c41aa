"""A database of each kind, and people who speak to it."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from bot.store.engine import Store, open_store
from tests.talk import talk

from .records import Message, messages_to

__all__ = ["talk"]

KINDS = ("memory", "file", "postgresql")


@pytest.fixture(scope="session")
def migrated_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A database without records; tests work on copies of it, which are made sooner than it was."""
    path = tmp_path_factory.mktemp("migrated") / "tarebook.db"
    open_store(f"sqlite:///{path}").close()
    return path


@pytest.fixture(params=KINDS)
def url(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    if request.param == "memory":
        yield "sqlite://"
    elif request.param == "file":
        path = tmp_path / "tarebook.db"
        shutil.copyfile(request.getfixturevalue("migrated_file"), path)
        yield f"sqlite:///{path}"
    else:
        yield request.getfixturevalue("server_database")


@pytest.fixture
def store(url: str) -> Iterator[Store]:
    opened = open_store(url)
    yield opened
    opened.close()


@pytest.fixture
def message(store: Store) -> Message:
    return messages_to(store)
