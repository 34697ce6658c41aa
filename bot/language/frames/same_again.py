"""The frame for what was told last, eaten once more: 'and then I had exactly the same again'."""

from __future__ import annotations

from datetime import timedelta

from bot.language.fix_meanings import Again
from bot.language.frames.once_more import of_the_writer
from bot.language.meanings import Meaning, NotMine
from bot.language.pack import pack, plain
from bot.language.recalling import meant, named_by
from bot.language.scene import Scene
from bot.language.surroundings import Recorded, Surroundings

SOON = timedelta(hours=4)
"""So long after it was eaten 'the same' is what was told last."""
MOST_CHUNKS = 30


def same_again(scene: Scene) -> list[Meaning] | None:
    """'and then, shame on me, I had the very same once more': the last weigh-in of today, in its amount."""
    message = scene.message
    if not scene.cue("the_very_same") or not scene.cue("i_ate", "was_eaten") or len(message.chunks) > MOST_CHUNKS:
        return None
    if scene.named or message.of("amount", "hash", "energy", "macro", "moment", "batch"):
        return None
    at = next(iter(scene.said.places("the_very_same")))[0]
    before = {plain(word) for word in message.words.negations}.intersection(scene.said[:at])
    if message.has_any(message.words.plans) or before or scene.cue("habit"):
        return None
    last = _last(message.around)
    if last is None or any(last not in meant(named_by(message, food), [last]) for food in scene.foods):
        return None
    others = message.has_any(message.words.people | message.words.pronouns - pack()["things_too"].words)
    if others and not scene.cue("i_ate"):
        return [NotMine(why="others")]
    return [Again()] if of_the_writer(scene) else None


def _last(around: Surroundings) -> Recorded | None:
    """The one weigh-in that the last message told, where that was eaten just now."""
    recorded = around.recorded()
    together = [each for each in recorded if each.message == recorded[-1].message]
    if len(together) != 1 or together[0].day != around.today:
        return None
    at = together[0].at
    return together[0] if at is None or around.now - at <= SOON else None
