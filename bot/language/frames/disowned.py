"""Frames for taking back what was recorded last: it was not eaten, was somebody else's, or only half was eaten."""

from __future__ import annotations

from bot.language.fix_meanings import Change, Delete, Which
from bot.language.meanings import Meaning
from bot.language.pack import pack
from bot.language.scene import Scene
from bot.language.surroundings import Recorded
from bot.language.told import Amount


def disowned(scene: Scene) -> list[Meaning] | None:
    """'I didn't eat it', 'just kidding', 'that was for the dog', 'my son ate it', 'I only ate half'."""
    message = scene.message
    if scene.foods or scene.named or message.asks or message.around.batches:
        return None
    last = told_last(scene)
    if not last:
        return None
    if _only_says(scene, "was_a_joke") and not scene.amounts:
        return [Delete(which=Which(number=each.number)) for each in last]
    if len(last) > 1:
        return None  # 'it' may be any of them
    only = last[0]
    if _only_says(scene, "ate_half"):
        gone = -only.grams / 2
        return [Change(which=Which(number=only.number), by=Amount(kind="mass", value=gone, unit="g", grams=gone))]
    if scene.amounts:
        return None
    others = _only_says(scene, "somebody_ate_it") or (_begins(scene, "it_was_for") and _names_another(scene))
    return [Delete(which=Which(number=only.number))] if others or _only_says(scene, "not_eaten_it") else None


def told_last(scene: Scene) -> list[Recorded]:
    """What the last message of today put on record."""
    around = scene.message.around
    today = [each for each in around.recorded() if each.day == around.today]
    return [each for each in today if each.message == today[-1].message]


def _only_says(scene: Scene, concept: str) -> bool:
    """Whether such a phrase is all that is said, beside small words such as 'sorry' and 'oh'."""
    words, beside = pack()[concept], pack()["beside_disowning"]
    said = [w for w in scene.said if w.isalnum()]
    return any(
        all(w in beside for w in (*said[:i], *said[end:])) for i in range(len(said)) for end in words.ends(said, i)
    )


def _begins(scene: Scene, concept: str) -> bool:
    words, said, beside = pack()[concept], scene.said, pack()["beside_disowning"]
    return any(all(w in beside for w in said[:i]) for i in range(len(said)) for _ in words.ends(said, i))


def _names_another(scene: Scene) -> bool:
    return scene.message.has_any(scene.message.words.people | scene.message.words.pronouns) and len(scene.said) <= MOST


MOST = 8
"""Most words of a sentence that only says for whom the food was."""
