"""The frame for what is on record and was not eaten: 'i had no rice in the end', 'never ate those, remove them'."""

from __future__ import annotations

from bot.language.fix_meanings import Delete, Which
from bot.language.frames.disowned import told_last
from bot.language.frames.fix_scene import SOON
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.recalling import meant, named_by
from bot.language.scene import Scene
from bot.language.surroundings import Recorded

REACH = 3
"""Words between a denial and the verb of eating that it denies."""
MOST_WORDS = 16


def never_eaten(scene: Scene) -> list[Meaning] | None:
    """Takes off what was told a while ago and is denied now; None where nothing on record is meant."""
    message = scene.message
    if len(message.chunks) > MOST_WORDS or not scene.cue("negation", "never_had", "none_of_this"):
        return None
    if scene.cue("more_of_it"):
        return None  # 'had no more bread in the end' takes nothing back
    weighed = any(c.amount is not None and c.amount.value and c.amount.text.lower() != "a" for c in scene.amounts)
    if weighed or scene.asks or scene.named or message.of("hash", "energy", "macro", "price", "moment"):
        return None
    if not scene.foods:
        last = told_last(scene)
        only = last[0] if len(last) == 1 and _is_recent(scene, last[0]) else None
        return [Delete(which=Which(number=only.number))] if only is not None and _only_denies(scene) else None
    if not scene.cue("as_it_came_out") or not _denies(scene):
        return None
    recorded = [each for each in message.around.recorded() if each.batch is None and _is_recent(scene, each)]
    found = {each.number: each for food in scene.foods for each in meant(named_by(message, food), recorded)}
    return [Delete(which=Which(number=next(iter(found))))] if len(found) == 1 else None


def _is_recent(scene: Scene, each: Recorded) -> bool:
    around = scene.message.around
    return each.day == around.today and (each.at is None or around.now - each.at <= SOON)


def _denies(scene: Scene) -> bool:
    """Whether a verb of eating is denied, or it is said that there was none of the one food."""
    if scene.cue("never_had"):
        return True
    words, first = scene.said, scene.foods[0]
    for n in range(len(words)):
        for end in pack()["negation"].ends(words, n):
            if pack()["taking_some"].found(words[end : end + REACH]):
                return True
    at = first.start - scene.message.chunks[0].start
    return len(scene.foods) == 1 and pack()["none_of_this"].found(words[max(0, at - 1) : at])


def _only_denies(scene: Scene) -> bool:
    """Whether nothing is said but that it was never eaten, and that it is to go."""
    words, at, denied = scene.said, 0, False
    beside = ("off_record", "pointing_back", "beside_disowning")
    while at < len(words):
        denial = pack()["never_had"].end(words, at)
        ends = [end for name in beside if (end := pack()[name].end(words, at)) is not None]
        denied = denied or denial is not None
        if denial is None and not ends and words[at].isalnum():
            return False
        at = max([end for end in (denial, *ends) if end is not None], default=at + 1)
    return denied
