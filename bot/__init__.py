"""The bot: understands, remembers, speaks and keeps time."""
