"""The bot: language, conversation, storage, channels and schedule around the `domain` package."""

__version__ = "0.2.0.dev0"
