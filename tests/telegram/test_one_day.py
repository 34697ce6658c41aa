"""The page's table of calls is what a day takes."""

from tests.pages import EFFORT, generated

from . import one_day


def test_the_calls_of_a_day_are_those_on_the_page() -> None:
    steps, chat = one_day.play()
    assert generated(EFFORT, "calls") == one_day.table(steps), "to write it: python -m tests.telegram.one_day"
    assert len(chat) > len(one_day.SAID)
