"""From what was meant to records and replies; one module a topic."""

from bot.conversation.respond import respond

__all__ = ["respond"]
