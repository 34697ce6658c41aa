"""People who say things at moments of their own, and a schedule that is looked at."""

from tests.talk import talk

__all__ = ["talk"]
