"""The bot is killed while people write to it: nothing lost, nothing doubled, no reply missing."""

from pathlib import Path

from .killing import run


def test_a_stream_of_messages_survives_being_killed(tmp_path: Path) -> None:
    tally = run(kills=25, seed=11, folder=tmp_path)
    print(tally)
    assert tally.wrong == []
    assert tally.kills == 25
    assert tally.kills_at_work >= 12, "the kills have to hit a bot that is at work"
    assert tally.messages >= 100
    assert tally.redelivered > 0, "no update was delivered twice: the kills came at harmless moments"
    assert (tally.lost, tally.doubled, tally.out_of_order, tally.wrong_sums, tally.missing_replies) == (0, 0, 0, 0, 0)
    # At the most, each kill has what was on its way just then sent once more.
    assert tally.repeated_replies <= tally.messages + tally.edits
