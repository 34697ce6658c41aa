"""No message breaks the bot, whoever says it and whatever is open: a sample of what `unlike` plays at length."""

from .unlike import broken, parts, sayings

COUNT = 240


def test_what_is_said_is_of_many_kinds() -> None:
    assert len(sayings()) > 4000
    assert len(parts()) > 4000


def test_no_message_breaks_the_bot() -> None:
    assert list(broken(COUNT, seed=20)) == []
