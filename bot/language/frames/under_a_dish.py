"""The frame of a list under a dish: how much of what is told, and how it is cooked, makes it a pot, not the words.

'righto tonights tea is a sausage casserole: 420 sausages, …', 'gonna be a lasagne: 500 beef mince, …', 'So it is pie.
Apple pie, and in it: apples, …' are read by their dish and by a list in which every weight has its food.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from bot.language.asked import WhatIf
from bot.language.batch_meanings import AddIngredients, Contents, OpenBatch
from bot.language.chunks import Chunk
from bot.language.frames.cooked_too import came_out
from bot.language.frames.headed import is_cooked
from bot.language.frames.opening import is_anothers
from bot.language.frames.pot_bodies import weighs
from bot.language.frames.pot_contents import grams_in, is_cooked_first, told_in
from bot.language.frames.pot_names import STOPS, given_name, is_named_dish, said_as_name
from bot.language.frames.spans import is_one, outside
from bot.language.frames.substance import is_for_a_pot, is_heaped
from bot.language.meanings import Answer, Bare, Chatter, LeftOut, Meaning, NotMine, Unclear
from bot.language.message import Message
from bot.language.moments import Moment
from bot.language.pack import pack, plain
from bot.language.scene import Scene
from bot.language.stance import how_it_is_said, not_mine, planned
from bot.language.told import Item
from domain.foods import State
from domain.reference.words import is_real_word

LEAST_PARTS = 2
MANY_PARTS = 3
LEAST_G = 250.0
"""What goes in at least where one food alone is more than anybody eats."""
MORE_THAN_ONE_EATS_G = 900.0
MOST_CHUNKS = 120
MOST_PLACES = 10
"""Places behind a dish where its list may begin."""
MOST_NAME_WORDS = 4
MOST_BEGUN = 14
"""Chunks of a message that only says that a pot is begun."""
NOT_A_POT = (Item, WhatIf, NotMine, Unclear, Chatter, LeftOut, Bare, Answer)
"""What a message is taken for where no pot was made out."""
ONLY_WRITTEN = ("by_recipe", "only_written_down", "shop_trip")
NOT_COOKING = ("i_ate", "was_eaten", "condition", "habit", "repair", "start_over", "told_wrong",
               "only_thought_of", "for_one_alone")  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Headed:
    """A dish, what is said before its list, and the list."""

    name: str
    head: Message
    told: Sequence[Item]


def under_a_dish(message: Message, meant: Sequence[Meaning]) -> list[Meaning] | None:
    """The pot, or the plan, of a dish with a list of what is cooked, where no pot was made out; else None."""
    if len(message.chunks) > MOST_CHUNKS:
        return None
    if sum(map(weighs, message.chunks)) < LEAST_PARTS:
        return _begun(message, meant)
    if not all(isinstance(m, NOT_A_POT) for m in meant) or any(isinstance(m, Item) and m.batch for m in meant):
        return None
    scene = Scene(message)
    if message.of("tare", "hash", "energy", "macro", "price") or _is_no_cooking(scene) or _asks(message):
        return None
    if how_it_is_said(message) is not None or (scene.named and not _is_a_new_one(scene)):
        return None
    found = _headed(message)
    if found is None or not is_cooked_of(found.told):
        return None
    refused = not_mine(found.head) if found.head.chunks else None
    of_others = refused is not None and refused.why == "others"
    if of_others or (is_anothers(message) and not planned(message)):
        return [NotMine(why="others")]
    if scene.cue(*ONLY_WRITTEN):
        return [NotMine(why="shopping")]
    if _is_unsure(found.head) or _is_of_another_day(message):
        return [NotMine(why="plan")]
    return [OpenBatch(name=found.name, items=tuple(found.told))]


def _is_no_cooking(scene: Scene) -> bool:
    """Whether it tells of eating, of a habit or of what was wrong; 'we will eat curry tonight' is yet to come."""
    return scene.cue(*NOT_COOKING) or (scene.cue("portioned") and not scene.cue("surely_to_be"))


def _begun(message: Message, meant: Sequence[Meaning]) -> list[Meaning] | None:
    """'pot of soup on. whats in it:', 'chili con carne going on, here goes': a dish whose ingredients follow."""
    if len(message.chunks) > MOST_BEGUN or any(c.amount is not None and not is_one(c.amount) for c in message.chunks):
        return None
    scene, follows = Scene(message), bool(message.chunks) and message.chunks[-1].text == ":"
    if not all(isinstance(m, (*NOT_A_POT, Contents, AddIngredients) if follows else NOT_A_POT) for m in meant):
        return None
    if not (follows or scene.cue("pot_begins")) or scene.named or message.has("?") or message.of("state"):
        return None
    if (
        scene.cue(*ONLY_WRITTEN, "nothing_in_it", "portioned")
        or _is_no_cooking(scene)
        or (not follows and scene.cue("pot_over"))
    ):
        return None
    at = next(_dishes(message, len(message.chunks)), None)
    if at is None or len(message.of("food")) > 1 or _is_unsure(message) or _is_of_another_day(message):
        return None
    if how_it_is_said(message) is not None or not_mine(message) is not None:
        return None
    return [OpenBatch(name=said_as_name(message, message.chunks[at[0] : at[1]]), items=())]


def _is_unsure(head: Message) -> bool:
    """Whether it may come to nothing: 'thinking of', 'might do' and 'would like', but not 'gonna be'."""
    plans = {plain(word) for word in head.said if word in head.words.plans}
    return bool(plans - pack()["surely_to_be"].words) or pack()["unsure_to_be"].found(head.wording)


def is_cooked_of(told: Sequence[Item]) -> bool:
    """Whether the foods told are rather put together for a pot than eaten as they stand."""
    total = sum(map(grams_in, told))
    cooked = sum(grams_in(i) for i in told if i.state is State.COOKED)
    if total < LEAST_G or 2 * cooked > total:
        return False
    if is_for_a_pot(told) or any(map(is_heaped, told)) or (not cooked and any(map(is_cooked_first, told))):
        return True
    return len(told) >= MANY_PARTS and (is_cooked(told) or (total >= MORE_THAN_ONE_EATS_G and not cooked))


def _headed(message: Message) -> _Headed | None:
    """The dish, and what goes in, where a list follows in which each weight has its food."""
    given, named = given_name(message)
    rest = outside(message, named)
    first = next((n for n, c in enumerate(rest.chunks) if weighs(c)), 0)
    for begins, end in _dishes(rest, first):
        for at in _places(rest.chunks, end, first):
            body = rest.part(at, len(rest.chunks))
            told = _list(body)
            if told is not None:
                name = given or said_as_name(message, rest.chunks[begins:end])
                return _Headed(name, rest.part(0, at), told)
    return None


def _list(body: Message) -> list[Item] | None:
    """The ingredients, each with one sure amount; None if anything else is told."""
    if came_out(body) is not None:
        return None
    told = told_in(body, "")
    if told is None or len(told) < LEAST_PARTS or any(i.amount is None or i.two_masses or i.tare for i in told):
        return None
    weights = [c for c in body.of("amount") if weighs(c)]
    known = all(i.name is not None and (i.name.foods or i.name.kinds) for i in told[:1])
    doubtful = any(i.amount is not None and i.amount.doubt is not None for i in told)
    return told if known and len(told) >= len(weights) and not doubtful else None


def _dishes(message: Message, first: int) -> Iterator[tuple[int, int]]:
    """Where the names of dishes before the first weight begin and end, the last of them first."""
    for at in range(first - 1, -1, -1):
        if _is_a_dish(message, message.chunks[at]):
            begins = at
            while begins and at - begins + 1 < MOST_NAME_WORDS and _belongs(message, message.chunks[begins - 1]):
                begins -= 1
            yield begins, at + 1


def _is_a_dish(message: Message, chunk: Chunk) -> bool:
    if chunk.kind not in ("food", "word", "batch"):
        return False
    said = [plain(word) for word in chunk.text.lower().removesuffix("'s").split()]
    return any(pack()["dish"].end(said, n) == len(said) for n in range(len(said))) or (
        chunk.kind == "food" and is_named_dish(message, said)
    )


def _belongs(message: Message, chunk: Chunk) -> bool:
    """Whether it is a part of the name of the dish behind it: a food, or a word that no list or dictionary has."""
    if chunk.kind == "food":
        return True
    word = chunk.text.lower()
    unheard = chunk.kind == "word" and word.isalpha() and not message.words.knows(word) and not is_real_word(word)
    return unheard and plain(word) not in pack()["beside_pot"] and not word.endswith(("ing", "in"))


def _places(chunks: Sequence[Chunk], end: int, first: int) -> list[int]:
    """Where the list of a dish may begin: behind a mark, a word or a time, never with an amount of the dish itself."""
    places = [n for n in range(end, first + 1) if chunks[n].kind in ("food", "amount", "state", "size", "word")]
    parted = [n for n in places if n > end or chunks[n].kind != "amount"]
    marked = [n for n in parted if chunks[n - 1].text in STOPS or chunks[n - 1].kind == "newline"]
    colon = [n for n in marked if chunks[n - 1].text in (":", "=")]
    begins = [*colon, *(n for n in marked if n not in colon), *(n for n in parted if n not in marked)]
    return [n for n in begins if chunks[n].kind != "word" or n in marked][:MOST_PLACES]


def _asks(message: Message) -> bool:
    """Whether anything is asked behind the first weight, or the whole is a question."""
    last = next((n for n, c in enumerate(message.chunks) if weighs(c)), 0)
    return message.asks and (not message.has("?") or any(c.text == "?" for c in message.chunks[last:]))


def _is_a_new_one(scene: Scene) -> bool:
    """'new rice batch. 400g dry white rice': whether a batch like the one named is said to be another one."""
    first = scene.named[0][1]
    return any(0 <= first - at <= 1 + (end - at) for at, end in scene.message.line.plain.places("one_more"))


def _is_of_another_day(message: Message) -> bool:
    """Whether it is cooked on a later day only; what is cooked for tonight and tomorrow is weighed today."""
    told = [(c, c.moment) for c in message.of("moment") if c.moment is not None]
    days = [(c, moment) for c, moment in told if moment.day is not None or moment.ahead is not None]
    later = [c for c, moment in days if _is_later(moment, message)]
    line = message.line
    first = not any(line.text(c.start - 1) in pack()["joining"] for c in later if c.start)  # '4 tn and tmrw'
    return bool(later) and len(later) == len(days) and first


def _is_later(moment: Moment, message: Message) -> bool:
    """Whether it is of a later day: tomorrow, or the Sunday that is still to come where something is to be."""
    if moment.ahead is not None and pack()["surely_to_be"].found(message.wording):
        return moment.ahead > message.around.today
    return moment.day is not None and moment.day > message.around.today
