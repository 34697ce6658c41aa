"""The frame for a raw-or-cooked habit in any words: foods, one state, how they are weighed, and that it is always."""

from __future__ import annotations

from bot.language.fact_meanings import SaveHabit
from bot.language.meanings import Meaning, NotMine
from bot.language.pack import pack
from bot.language.recalling import named_by
from bot.language.scene import Scene
from domain.foods import State

MOST_CHUNKS = 24
MOST_FOODS = 4


def habit_told(scene: Scene) -> list[Meaning] | None:
    """'lentils I weigh dry, always', 'from now on assume cooked for potatoes', 'all my pasta weights are dry'."""
    message = scene.message
    foods, states = message.of("food"), message.of("state")
    if not (1 <= len(foods) <= MOST_FOODS and len(states) == 1) or len(message.chunks) > MOST_CHUNKS:
        return None
    if not (_stands(scene) and scene.cue("how_weighed", "says_a_word")) or not _only_told(scene):
        return None
    state = states[0].state
    names = [named_by(message, food) for food in foods]
    if state not in (State.RAW, State.COOKED) or any(name.unknown for name in names):
        return None
    if message.has_any(message.words.people) or scene.cue("their_habit"):
        return [NotMine(why="habit")]
    return [SaveHabit(name=name, state=state) for name in names]


def _stands(scene: Scene) -> bool:
    """Whether it holds for good, or until it is said otherwise."""
    return scene.cue("always", "stands_for_good", "says_a_word", "keeps_in_mind")


def _only_told(scene: Scene) -> bool:
    """Whether it is no question, meal, correction or denial, and nothing is weighed in it."""
    message = scene.message
    if message.asks or "?" in message.said or scene.named or scene.amounts or message.of("moment", "hash", "batch"):
        return False
    denied = pack()["negation"].found(scene.said) or scene.cue("used_to_be")
    return not denied and not scene.cue("i_ate", "was_eaten")
