"""The frame for words that only say more closely what was told a moment ago, in answer to a question or unasked."""

from __future__ import annotations

from datetime import timedelta

from bot.language.chunks import Chunk, Kind
from bot.language.fix_meanings import Change, Which
from bot.language.frames.fix_scene import Fix
from bot.language.meanings import Chatter, Meaning
from bot.language.pack import pack
from bot.language.recalling import meant
from bot.language.scene import Scene
from bot.language.surroundings import Recorded
from bot.language.told import Name
from domain import reference

A_MOMENT = timedelta(minutes=10)
MOST_WORDS = 12
TELLING: tuple[Kind, ...] = ("hash", "energy", "macro", "price", "moment", "part", "tare")


def said_closer(scene: Scene) -> list[Meaning] | None:
    """'medium eggs, salted butter', 'farmed atlantic', 'plain naan' after a weigh-in of each: none is a new one.

    The kind or the state is changed where another is named; otherwise everything stays as it is.
    """
    message = scene.message
    if message.asks or scene.named or len(scene.said) > MOST_WORDS or not any(w.fresh for w in message.around.waiting):
        return None
    if any(_counts(c) for c in scene.amounts) or message.of(*TELLING):
        return None
    if scene.cue("in_addition", "i_ate", "condition", "denies", "off_record", "opens_fix", "repeats"):
        return None
    recorded = message.around.recorded()
    last = [each for each in recorded if each.message == recorded[-1].message]
    if not last or not Fix(scene, recorded).is_recent(last[-1], A_MOMENT) or not _a_moment_ago(last[-1], scene):
        return None
    foods = _named(scene)
    pairs = [(name, meant(name, last)) for name in foods]
    if not pairs or any(len(found) != 1 for _, found in pairs):
        return None
    asked = {waiting.weigh_in for waiting in message.around.waiting}
    if all(found[0].number in asked for _, found in pairs):
        return None  # it answers
    told = pairs[0][1][0]
    if len(foods) == 1 and " ".join(scene.said) in (told.food, told.word):
        return None  # 'butter' once more may be more butter
    changes = [change for name, found in pairs if (change := _change(name, found[0], scene)) is not None]
    return [*changes] or [Chatter(kind="kept")]


def _a_moment_ago(each: Recorded, scene: Scene) -> bool:
    around = scene.message.around
    return each.at is not None and timedelta(0) <= around.now - each.at <= A_MOMENT


def _counts(chunk: Chunk) -> bool:
    """Whether an amount is more than the article of 'a medium egg'."""
    return chunk.amount is not None and chunk.amount.text.lower() not in pack()["articles"]


def _named(scene: Scene) -> list[Name]:
    """The foods that are named; words alone where no food is ('farmed atlantic')."""
    message = scene.message
    resolve = message.vocabulary.resolve
    texts = [[t.text for t in message.tokens[c.start : c.end]] for c in scene.foods]
    if not texts:
        words = [c.text.lower() for c in message.of("word") if c.text.lower() not in pack()["beside_answer"]]
        return [Name(text=" ".join(words))] if words else []
    return [resolve(words, " ".join(words)) for words in texts]


def _change(name: Name, each: Recorded, scene: Scene) -> Change | None:
    """What is different from the record: another kind of the food, or another state."""
    if each.batch is not None:
        return None
    states = {c.state for c in scene.message.of("state") if c.state is not None}
    state = next(iter(states)) if len(states) == 1 and len(scene.foods) <= 1 else None
    other = len(name.foods) == 1 and name.foods[0] != each.food and _is_a_kind(name.foods[0], each)
    if not other and (state is None or state.value == each.state):
        return None
    return Change(which=Which(number=each.number), name=name if other else None, state=state)


def _is_a_kind(food: str, each: Recorded) -> bool:
    """Whether a food is one of the kinds among which the recorded one is."""
    return any({food, each.food} <= set(kinds.kinds) for kinds in reference.load().kinds.values())
