"""The frame for food told by its energy alone, without a weight."""

from __future__ import annotations

from bot.language.chunks import Chunk
from bot.language.figures import KJ_PER_KCAL
from bot.language.meanings import Meaning, NotMine
from bot.language.scene import Scene
from bot.language.told import Item, Name

MOST_NAME_WORDS = 4


def estimated(scene: Scene) -> list[Meaning] | None:
    """'burger out, about 900 kcal', 'the soup at the club, I'd say 300 calories', 'pizza, call it 850 calories'."""
    message = scene.message
    energies = message.of("energy")
    if len(energies) != 1 or energies[0].amount is None or scene.named:
        return None
    if message.asks or message.when.future or scene.cue("condition", "not_yet"):
        return None
    if scene.masses or message.of("macro", "hash", "price", "tare"):
        return None
    if scene.foods and scene.cue("holding") and not scene.cue("i_ate"):
        return [NotMine(why="macro")]
    if scene.cue("no_estimate"):
        return None
    if not scene.cue("estimating", "i_ate", "ate_out") and not _of_food(scene, energies[0]):
        return None
    name = _name(scene, energies[0])
    if name is None:
        return None
    state = next((c.state for c in message.of("state")), None)
    told = energies[0].amount.value
    kcal = told / KJ_PER_KCAL if energies[0].field == "kj" else told
    return [Item(text=message.text, kcal=kcal, name=name, state=state, when=message.when)]


def _of_food(scene: Scene, energy: Chunk) -> bool:
    """Whether the food follows the energy: '300 calories of soup'."""
    return scene.message.line.text(energy.end) == "of"


def _name(scene: Scene, energy: Chunk) -> Name | None:
    """What was eaten: the only food named, or else the words that describe the meal."""
    message = scene.message
    targets = {c.target for c in scene.foods}
    if len(targets) == 1:
        food = scene.foods[0]
        return message.vocabulary.resolve([t.text for t in message.tokens[food.start : food.end]], food.text.lower())
    if targets or message.when.meal is None:
        return None
    before = [c for c in message.chunks if c.kind in ("word", "moment") and c.start < energy.start]
    words = [c.text.lower() for c in before if c.kind == "moment" or not message.words.knows(c.text.lower())]
    return Name(text=" ".join(words[:MOST_NAME_WORDS]) or message.when.meal)
