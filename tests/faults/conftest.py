"""The bot in a thread, as the tests of the channel have it."""

from tests.telegram.conftest import bot, database, empty_database, joao, mira, one_set_of_certificates, server, start

__all__ = ["bot", "database", "empty_database", "joao", "mira", "one_set_of_certificates", "server", "start"]
