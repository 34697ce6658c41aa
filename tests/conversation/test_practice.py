"""Roster and digest on a generated practice: what was planted is named in time, and little else is."""

from .coach_week import PAGE, page
from .practice import STORIES, run


def test_planted_stories_are_named_within_a_day() -> None:
    weeks = 6
    seen = run(2 * len(STORIES), weeks, seed=3)
    assert seen.planted >= 8
    assert len(seen.in_roster) >= 0.95 * seen.planted, seen
    assert len(seen.in_digest) >= 0.95 * seen.planted, seen
    # 3 a week among 40 clients
    assert len(seen.false) / weeks <= 3 * 2 * len(STORIES) / 40, seen.false
    assert max(seen.roster_chars) <= 1_500
    assert max(seen.digest_lines) <= 10


def test_the_page_of_a_coachs_week_is_what_the_program_says() -> None:
    assert page() == PAGE.read_text("utf-8"), "to write it: python -m tests.conversation.coach_week"
