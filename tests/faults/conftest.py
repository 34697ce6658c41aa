"""The bot in a thread, as the tests of the channel have it."""

from tests.telegram.conftest import bot, empty_database, joao, mira, server, start

__all__ = ["bot", "empty_database", "joao", "mira", "server", "start"]
