"""How many people shared a food, the writer among them, and whether each had the same of it."""

from __future__ import annotations

from bot.language.chunks import Chunk
from bot.language.frames.serving import Serving
from bot.language.pack import pack
from bot.language.text import singular

MOST_EATERS = 12
PARTS = (("in_thirds", 3), ("in_quarters", 4))


def sharers(told: Serving) -> int | None:
    """How many people shared it alike, the writer among them; None if that is not said.

    'me and my brother went halves', 'split it evenly with my flatmate', 'an avocado between two'.
    """
    counted = [int(c.amount.value) for c in heads(told) if c.amount is not None]
    others = _others(told)
    if not (_is_among_them(told) or (counted and not others)):
        return None
    parts = next((n for concept, n in PARTS if told.cue(concept)), None)
    alike = told.cue("halving", "split_alike")
    if parts is not None and not counted:
        several = bool(others) or told.cue("us_two") or any(told.word(n) in pack()["us_all"] for n in told.at)
        return parts if several and len(others) < parts else None
    if counted:
        between = any(told.word(c.start - 1) in pack()["between_them"] for c in heads(told))
        said = alike or parts is not None or told.cue("equally", "each_of_them") or (between and not others)
        return counted[0] if len(counted) == 1 and said else None
    one = len(others) == 1 and singular(others[0]) == others[0]
    alike = alike or told.cue("in_halves")
    return 2 if alike and (one or told.cue("us_two")) else None


def _is_among_them(told: Serving) -> bool:
    """Whether the writer is one of them: 'me and …', 'we …', or somebody whom it was shared with."""
    words = pack()
    if any(told.word(n) in words["the_writer"] or told.word(n) in words["us_all"] for n in told.at):
        return told.cue("halving", "shared_it", "shared_out", "equally", "split_alike", "in_thirds", "in_quarters")
    return any(told.is_person(n) and told.led_by(told.whole_person(n)[0], "in_company") for n in told.at)


def _others(told: Serving) -> list[str]:
    """The others who are named, each by the last word for them; pronouns name nobody anew."""
    pronouns = told.message.words.pronouns
    named = [n for n in told.at if told.is_person(n) and told.word(n) not in pronouns]
    ends = {told.whole_person(n)[0]: told.whole_person(n)[1] for n in named}
    return [told.message.tokens[end - 1].text for end in ends.values()]


def heads(told: Serving) -> list[Chunk]:
    """Numbers of people that it was for: 'us four', 'the five of us', 'we were three', 'between two'."""
    return [c for c in told.scene.amounts if _counts_people(told, c)]


def _counts_people(told: Serving, chunk: Chunk) -> bool:
    amount, words = chunk.amount, pack()
    if amount is None or amount.kind not in ("bare", "count") or not 1 < amount.value <= MOST_EATERS:
        return False
    behind = [told.word(n) for n in range(chunk.end, chunk.end + 3)]
    before, ends = told.word(chunk.start - 1), not behind[0].isalnum() or behind[0] in words["joining"]
    if before in words["us_all"] and behind[0] not in words["of_a_share"]:
        return True
    if before in words["came_out_at"] and told.word(chunk.start - 2) in words["us_all"] and ends:
        return True
    if before in words["between_them"] and ends:
        return True
    return any(words["of_us"].ends(behind, 0)) or told.of_people(chunk)
