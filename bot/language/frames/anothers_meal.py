"""A frame for what somebody else had, told beside what the writer had: only the writer's own is on record."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from bot.language.frames.eaters import Eaters
from bot.language.frames.serving import seen
from bot.language.frames.stretch import cut_at
from bot.language.items import items
from bot.language.meanings import Meaning, NotMine
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.scene import Scene
from bot.language.told import Item

MOST_CHUNKS = 40
Whose = Literal["mine", "theirs"]


def anothers_meal(scene: Scene) -> list[Meaning] | None:
    """'for Priya 90 g rice and 120 g dal', 'two eggs, for Dan three'.

    What follows such an opening is the other's until the writer is spoken of.
    """
    message = scene.message
    if len(message.chunks) > MOST_CHUNKS or scene.named or message.asks or not scene.amounts or not scene.foods:
        return None
    told: list[tuple[Whose, Message]] = []
    whose: Whose = "mine"
    for part in cut_at(message, pack()["between_eaters"]):
        opens = _whose(part)
        whose = opens or whose
        if told and told[-1][0] == whose and opens is None:
            told[-1] = (whose, _joined(message, told[-1][1], part))
        else:
            told.append((whose, part))
    if all(each == "mine" for each, _ in told):
        return None
    found: list[Meaning] = [NotMine(why="others")]
    first = next(part for each, part in told if each == "theirs")
    for each, part in told:
        if each == "theirs" or not part.of("amount", "food"):
            continue
        here = items(part)
        if not here or any(item.amount is None for item in here):
            return None
        found += [_of_the_same(item, first) for item in here]
    return found


def _joined(message: Message, first: Message, second: Message) -> Message:
    """Both parts with what stands between them."""
    start = first.offset - message.offset
    return message.part(start, second.offset - message.offset + len(second.chunks))


def _whose(part: Message) -> Whose | None:
    """Whose food a stretch begins to tell of; None where it goes on with what was told before."""
    told = seen(part)
    if told.cue("for_myself", "i_ate", "my_piece") or told.word(told.at[0]) in pack()["the_writer"]:
        return "mine"
    return "theirs" if _is_anothers(part) or _is_for_another(told) else None


def _is_for_another(told: Eaters) -> bool:
    """Whether a stretch begins with whom it is for, or whose plate it was on: 'for Dan 3 eggs', "Dan's plate: …"."""
    first = told.at[0]
    if told.owns_helping(first):
        return not told.mine
    if told.word(first) not in pack()["for_whom"] or len(told.at) < len(("for", "Dan", "3")):
        return False
    start = first + 1
    while told.word(start) in pack()["before_a_person"]:
        start += 1
    if not told.is_person(start):
        return False
    behind = told.whole_person(start)[1]
    # 'for mum's birthday' is no eater
    return (
        not told.message.tokens[behind - 1].text.endswith("'s") and told.word(behind) not in pack()["owned_by_others"]
    )


def _is_anothers(part: Message) -> bool:
    """Whether a stretch begins with somebody's meal: "Tom's dinner was …", 'her lunch: …'."""
    if len(part.chunks) < len(("Tom's", "dinner", "300 g")) or part.chunks[1].kind != "moment":
        return False
    whose, meal = part.chunks[0], part.chunks[1].moment
    said = whose.text.lower()
    somebody = said.endswith("'s") or said in pack()["belonging_to_others"]
    named = whose.kind == "word" and said.removesuffix("'s") not in pack()["later_on"]  # "tonight's dinner"
    return somebody and named and meal is not None and meal.meal is not None


def _of_the_same(item: Item, first: Message) -> Item:
    """What the writer had; without a food it is what the other had."""
    if item.name is not None or item.batch is not None:
        return item
    told = items(first)
    return item if len(told) != 1 else replace(item, name=told[0].name, state=item.state or told[0].state)
