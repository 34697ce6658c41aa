"""What a message that was not understood comes nearest to, told by its cues, so that the reply's example fits."""

from __future__ import annotations

from bot.language.meanings import Topic
from bot.language.message import Message
from bot.language.scene import Scene

CUES: tuple[tuple[Topic, tuple[str, ...]], ...] = (
    ("fix", ("told_before", "slip_of_hand", "should_have_told", "undo_word", "delete", "not_eaten_it")),
    ("repeat", ("same_amount", "said_again")),
    ("label", ("label_word",)),
    ("target", ("target_word",)),
    ("body_weight", ("weighed_as_a_person", "body_weight_word", "gain_or_lose")),
    ("boxes", ("a_box", "dividing_up")),
    ("coach", ("own_coach_word",)),
)
"""Topics in order, with concepts of which one is enough."""


def nearest(message: Message) -> Topic:
    """The topic of the first cue that it contains."""
    scene = Scene(message)
    told = next((topic for topic, cues in CUES if scene.cue(*cues)), None)
    if told is not None:
        return told
    if message.of("energy", "macro"):
        return "estimate"
    if scene.named or (scene.cue("the_vessel") and message.around.batches):
        return "cooked" if any(not b.cooked for b in scene.batches) else "portion"
    if scene.cue("the_vessel", "pot_begins"):
        return "opening"
    if message.of("tare") or (message.has_any(message.words.vessels) and message.of("amount")):
        return "tare"
    if message.of("food"):
        return "food"
    return "question" if message.asks else ""
