"""Roster and digest on a generated practice: what was planted is named in time, and little else is."""

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
