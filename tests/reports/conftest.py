"""People who say things through `tarebook converse`."""

from tests.talk import talk

__all__ = ["talk"]
