"""Danger and distress heard wherever in a message they are said, beside whatever else it tells."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from bot.language.fact_meanings import AboutSelf, AboutSelfKind
from bot.language.frames.health import has_a_condition
from bot.language.guided import Comment, NoteFrom, PrivateNote, ReplyTo, Tell
from bot.language.intents import templated
from bot.language.meanings import Answer, Bare, Chatter, Meaning, NotMine, Unclear
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.scene import Scene
from bot.language.setting_meanings import SetSetting
from bot.language.told import Item

SIGNS: Final[tuple[tuple[AboutSelfKind, str], ...]] = (
    ("emergency", "emergency"), ("poison", "took_overdose"), ("self_harm", "wants_to_die"), ("purging", "spat_out"),
    ("purging", "vomited_food"), ("fasting", "starves_self"), ("distress", "self_contempt"),
)  # fmt: skip
"""What is heard by its words alone, with the concept that says it; the most urgent first."""
CONDITIONS: Final = (
    "pregnant", "breastfeeding", "take_insulin", "diabetes", "eating_disorder", "not_eaten", "blood_sugar", "years_old",
)  # fmt: skip
"""Concepts of which one is in whatever the templates about oneself hear beside a weigh-in."""
RANKED: Final[tuple[AboutSelfKind, ...]] = (
    "emergency", "poison", "self_harm", "blood_sugar", "purging", "fasting", "medicine", "dose", "distress",
)  # fmt: skip
"""What is answered first where a message says several things."""
MANY_PILLS: Final = 8
"""Pills above which they are too many at once, whatever they are: the paracetamol of a day (NHS, from memory)."""
MOST_OF_A_DOSE: Final = 2
"""Pills up to which a count is an ordinary dose: that of paracetamol for an adult (NHS, from memory)."""
WORDS_ONLY = (Answer, Bare, Chatter, NotMine, Unclear)
TO_A_COACH = (Comment, NoteFrom, PrivateNote, ReplyTo, Tell)
MOST_PARTS: Final = 12
MOST_WISHING: Final = 5
"""Words before a sign that may say together that it is wished for or feared."""


def heard(message: Message) -> tuple[AboutSelf, Message | None] | None:
    """The caution that a message asks for and what is left of it to be read; None without one.

    Nothing is left where nothing was eaten, and where no amount is told of it.
    """
    signs = list(_signs(message))
    gone = [(start, end) for _, start, end in signs]
    found = [AboutSelf(kind=kind) for kind, _, _ in signs]
    swallowed = None if any(each.kind == "emergency" for each in found) else _no_food(message)
    if swallowed is not None:
        found.append(AboutSelf(kind=swallowed[0]))
        gone += swallowed[1]
    said = _about_self(message)
    if said is not None:
        found.append(said[0])
        gone += said[1]
    if not found or _to_a_coach(message):
        return None
    first = min(found, key=lambda each: RANKED.index(each.kind) if each.kind in RANKED else len(RANKED))
    if pack()["spat_out"].found(message.line.plain):
        return first, None
    rest = message.without(c for c in message.chunks if any(c.start < end and start < c.end for start, end in gone))
    return first, rest if rest.of("amount", "batch") else None


def beside(told: Sequence[Meaning]) -> list[Meaning]:
    """Of what is told beside a caution that which can be acted on: no chatter, and no food without an amount."""
    kept = [meaning for meaning in told if not isinstance(meaning, (*WORDS_ONLY, AboutSelf))]
    return [meaning for meaning in kept if not isinstance(meaning, Item) or _whole(meaning)]


def _whole(item: Item) -> bool:
    named = item.batch is not None or (item.name is not None and not item.name.unknown)
    return item.amount is not None and named


def _signs(message: Message) -> Iterator[tuple[AboutSelfKind, int, int]]:
    """(kind, first token, end) of each sign; what only sounds like one is passed over."""
    words = message.line.plain
    if words.said.isdisjoint(name for _, name in SIGNS):
        return
    meant_otherwise = {at for i, end in pack()["not_danger"].places(words) for at in range(i, end)}
    packet = pack()["energy_kcal"].found(words) or pack()["label_word"].found(words)
    for kind, name in SIGNS:
        if kind == "blood_sugar" and packet:
            continue  # a label has sugars too
        for i, end in pack()[name].places(words):
            if meant_otherwise.isdisjoint(range(i, end)):
                yield kind, _wished_from(words, i), end


def _wished_from(words: Sequence[str], i: int) -> int:
    """Where the wish before a sign begins ('want to', 'am going to'); the sign itself where none is before it."""
    before = range(max(0, i - MOST_WISHING), i)
    return next((start for start in before if i in pack()["wish_for"].ends(words, start)), i)


def _no_food(message: Message) -> tuple[AboutSelfKind, list[tuple[int, int]]] | None:
    """Medicine and poison that was taken, with the parts of the message that tell of it: none of them is food."""
    words = message.line.plain
    if not any(pack()[name].found(words) for name in ("medicine", "poison")) or _passes_over(message):
        return None
    found: list[tuple[AboutSelfKind, tuple[int, int]]] = []
    for part in _parts(message):
        kind = _taken(part, message)
        if kind is not None:
            found.append((kind, (part.chunks[0].start, part.chunks[-1].end)))
    first = min((kind for kind, _ in found), key=RANKED.index, default=None)
    return None if first is None else (first, [place for _, place in found])


def _passes_over(message: Message) -> bool:
    words = message.line.plain
    return message.asks or pack()["reminding"].found(words) or pack()["label_word"].found(words)


def _taken(part: Message, message: Message) -> AboutSelfKind | None:
    """What kind of substance a part says was taken: beside a word for swallowing, or a medicine beside a number."""
    words = _unless_otherwise(part.line.plain[part.chunks[0].start : part.chunks[-1].end])
    swallowed = pack()["swallowed"].found(words)
    if pack()["poison"].found(words):
        return "poison" if swallowed else None
    if not pack()["medicine"].found(words) or not (part.of("amount") or pack()["swallowed_now"].found(words)):
        return None
    # 'ibuprofen 400' and '12 units of insulin' tell a strength or a dose, '20 pills' and '100 laxatives' how many.
    doses = pack()["insulin"].found(words) or words[0] in pack()["medicine"].words
    # 'my pills are 500 mg of calcium, I took two of them'
    told = part if _counts(part) or message.of("food", "batch") else message
    counted = _counts(told)
    if any(value > MANY_PILLS for value in counted) and not doses:
        return "poison"
    usual = counted and not doses and all(value <= MOST_OF_A_DOSE for value in counted)
    return "dose" if usual and not pack()["medicine_with_care"].found(words) else "medicine"


def _counts(message: Message) -> list[float]:
    return [a.value for a in message.amounts if a.kind in ("bare", "count")]


def _parts(message: Message) -> Iterator[Message]:
    cuts = [i for i, c in enumerate(message.chunks) if c.kind == "newline" or c.text.lower() in pack()["parts_telling"]]
    bounds = [-1, *cuts[:MOST_PARTS], len(message.chunks)]
    for before, after in pairwise(bounds):
        if before + 1 < after:
            yield message.part(before + 1, after)


def _unless_otherwise(words: Sequence[str]) -> list[str]:
    """The words without those that only sound like danger."""
    kept: list[str] = []
    at = 0
    while at < len(words):
        end = pack()["not_danger"].end(words, at)
        if end is None:
            kept.append(words[at])
        at = at + 1 if end is None else end
    return kept


def _about_self(message: Message) -> tuple[AboutSelf, list[tuple[int, int]]] | None:
    """What a part of the message says about the person, where other parts tell something else."""
    words = message.line.plain
    if not message.of("amount") or not any(pack()[name].found(words) for name in CONDITIONS):
        return None
    for part in _parts(message):
        told = templated(part) or has_a_condition(Scene(part))
        if told and isinstance(told[0], AboutSelf):
            return told[0], [(part.chunks[0].start, part.chunks[-1].end)]
    return None


def _to_a_coach(message: Message) -> bool:
    """Whether the words are for somebody else, who reads them as they are."""
    whole = templated(message)
    return whole is not None and any(isinstance(meaning, (*TO_A_COACH, SetSetting)) for meaning in whole)
