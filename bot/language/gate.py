"""The last look at a message before weigh-ins go on record: words that may say that something was not eaten.

What a reading uses is no doubt: it has been taken out, or has become another meaning. A word that is left in the
clause of a weigh-in, or in one that points back to it, makes a question of the weigh-in.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from bot.language.chunks import Chunk, Kind
from bot.language.long_ago import is_of_old
from bot.language.meanings import LeftOut, Meaning, NotMine
from bot.language.message import SENTENCE_END, Message, once
from bot.language.narrated import is_article, is_creature
from bot.language.pack import pack
from bot.language.pronouns import stands_for_food
from bot.language.sides import had_in_company, others_had
from bot.language.stories import stretches
from bot.language.text import singular
from bot.language.told import Item
from domain.reference.words import is_action, is_person_noun, is_real_word

TOLD: tuple[Kind, ...] = ("food", "batch", "amount")
NAMING = frozenset({*TOLD, "moment", "tare", "part", "state", "size", "whole"})
"""Kinds of chunk that name no person."""
MOST_SUBJECT = 7
"""Words before a verb that are looked at for who did it."""
REACH = 4
"""Stretches before and behind a weigh-in that may speak of it."""
NOT_HAD = ("denial", "excluding", "did_not_take_it", "turned_it_down")
"""What a clause says of a food that nobody has eaten."""
MOST_LEADING = 2
"""Words in front of a clause that belong to it."""
MOST_ALIKE = 8
"""Amounts of one text that are told from each other."""
SHORT = 3
"""Words behind a food, and of a clause, that are looked at for what denies it."""


def made_sure(message: Message, meant: Sequence[Meaning]) -> list[Meaning]:
    """The meanings, with a question about each weigh-in that may not have been eaten, or not by the writer.

    What was somebody else's is left off where the message tells the writer's own of the same food, and what has no
    food's name where it tells another weigh-in.
    """
    meant = [_unless_theirs(message, m) if isinstance(m, Item) else m for m in meant]
    if meant and all(isinstance(m, NotMine) and m.why == "others" for m in meant):
        return [NotMine(why="others")]
    if not any(isinstance(m, Item) and _is_certain(m) for m in meant):
        return list(meant)
    parts = stretches(message)
    found: list[Meaning] = []
    for meaning in meant:
        if isinstance(meaning, Item) and _was_not_had(message, parts, meaning):
            found.append(LeftOut(texts=(meaning.text,)))
            continue
        place = _place_of(message, meaning) if isinstance(meaning, Item) and _is_certain(meaning) else None
        if place is None or not isinstance(meaning, Item):
            found.append(meaning)
            continue
        clause = _Clause(message, parts, *place)
        others = clause.is_somebodys() or _is_elsewhere(message, parts, meaning, clause)
        if clause.is_eaten_after_all() or not (others or clause.is_doubtful()):
            found.append(meaning)
        elif others and _told_of_oneself(message, parts, meaning, meant):
            found.append(NotMine(why="others", texts=(meaning.amount.text if meaning.amount else "",)))
        elif _is_no_food(meaning) and len(meant) > 1:
            found.append(LeftOut(texts=(meaning.text,)))
        else:
            found.append(replace(meaning, unsure=True))
    return found


def _is_elsewhere(message: Message, parts: Sequence[Sequence[Chunk]], item: Item, clause: _Clause) -> bool:
    """Whether the food is named in another clause than its amount, as eaten by another: 'he ate my toast. 60 g'."""
    if item.batch is not None or item.name is None or any(c.kind == "food" for c in clause.own):
        return False
    if any(word in pack()["the_writer"] for word in clause.before):
        return False  # '… whereas I had only 130 g'
    named = set(item.name.text.lower().split())
    told = ((n, c) for n, part in enumerate(parts) for c in part if c.kind == "food")
    place = next(((n, c) for n, c in told if n != clause.n and named & set(c.text.lower().split())), None)
    return place is not None and _Clause(message, parts, *place).is_eaten_up()


def _unless_theirs(message: Message, item: Item) -> Meaning:
    """The weigh-in, unless the clause of its amount gives it to somebody else: '900 g chops for the lads'."""
    if item.batch is not None or item.others_g or item.shared or item.changes is not None:
        return item
    place = _place_of(message, item)
    counted = message.of("amount") if item.amount is None else []
    chunk = place[1] if place is not None else counted[0] if len(counted) == 1 else None
    whose = None if chunk is None else others_had(message, chunk)
    if whose == "sure":
        return NotMine(why="others", texts=(item.amount.text,) if item.amount is not None else ())
    weighed = item.amount is not None and item.amount.kind in ("mass", "volume") and _is_certain(item)
    as_told = chunk is not None and chunk.amount is not None and chunk.amount.text == chunk.text  # not '180 g of 1 kg'
    if chunk is not None and whose is None and weighed and as_told and had_in_company(message, chunk):
        return replace(item, shared=True)
    return replace(item, unsure=True) if whose == "maybe" and _is_certain(item) else item


def _was_not_had(message: Message, parts: Sequence[Sequence[Chunk]], item: Item) -> bool:
    """Whether a food of which no amount is told stands in a clause that denies it, or is an animal: 'gravy I skip'."""
    if item.amount is not None or item.measure is not None or item.name is None or item.batch is not None:
        return False
    named = item.name.text.lower().split()
    for n, part in enumerate(parts):
        food = next((c for c in part if c.kind == "food" and c.text.lower().split()[-1] in named), None)
        if food is None or any(c.kind == "amount" and not is_article(c) for c in part):
            continue
        behind = parts[n + 1] if n + 1 < len(parts) and parts[n + 1][0].start == part[-1].end else part
        said = message.line.plain[part[0].start : (behind if all(c.kind == "word" for c in behind) else part)[-1].end]
        denied = any(w in message.words.negations for w in said) or any(pack()[name].found(said) for name in NOT_HAD)
        if denied:
            return not pack()["negation_idioms"].found(said)  # 'no idea what cheese'
        return is_creature(message, food.start) and not food.text.endswith("'s")
    return False


def _is_certain(item: Item) -> bool:
    """Whether it would go on record, or be completed, as it was told."""
    amount = item.amount
    if amount is None or amount.doubt is not None:
        return False
    return not (item.shared or item.others_g or item.several or item.two_masses or item.changes)


def _is_no_food(item: Item) -> bool:
    return item.batch is None and (item.name is None or not (item.name.foods or item.name.kinds))


def _told_of_oneself(
    message: Message, parts: Sequence[Sequence[Chunk]], theirs: Item, meant: Sequence[Meaning]
) -> bool:
    """Whether another weigh-in of the same food stands in a clause with, or right behind, 'I' or 'me'."""
    for other in meant:
        if other is theirs or not isinstance(other, Item) or other.name is None or theirs.name is None:
            continue
        place = _place_of(message, other)
        if place is None or other.name.foods != theirs.name.foods or other.name.kinds != theirs.name.kinds:
            continue
        start, end = parts[max(place[0] - 1, 0)][0].start, parts[place[0]][-1].end
        if any(w in pack()["oneself"] for w in message.line.plain[start:end]):
            return True
    return False


@once
def _amounts(message: Message) -> dict[str, list[tuple[int, Chunk]]]:
    """The amounts told, each with the number of its stretch, by their texts."""
    found: dict[str, list[tuple[int, Chunk]]] = {}
    for n, part in enumerate(stretches(message)):
        for chunk in part:
            if chunk.amount is not None:
                found.setdefault(chunk.amount.text, []).append((n, chunk))
    return found


@once
def _named(message: Message) -> frozenset[int]:
    """The tokens that stand in names of foods, times and the like."""
    return frozenset(i for c in message.chunks if c.kind in NAMING for i in range(c.start, c.end))


def _place_of(message: Message, item: Item) -> tuple[int, Chunk] | None:
    """The stretch in which the amount of a weigh-in stands, and the amount; None where it was reckoned from others."""
    places = _amounts(message).get("" if item.amount is None else item.amount.text, [])[:MOST_ALIKE]
    if len(places) < 2:
        return places[0] if places else None
    name = set() if item.name is None else set(item.name.text.lower().split())
    return next((p for p in places if name & set(message.line.plain[p[1].start : p[1].end + SHORT])), places[0])


@dataclass(frozen=True)
class _Clause:
    """The stretch of a weigh-in among the others of its message."""

    message: Message
    parts: Sequence[Sequence[Chunk]]
    n: int
    amount: Chunk

    @cached_property
    def own(self) -> Sequence[Chunk]:
        return self.parts[self.n]

    @property
    def _told(self) -> Chunk:
        """Its first food or amount; what was read from a number that is part of a name stands for itself."""
        return next((c for c in self.own if c.kind in TOLD), self.amount)

    @cached_property
    def before(self) -> Sequence[str]:
        """The words of its stretch before its first food or amount, with one or two that lead to it: 'maybe I eat'."""
        start = self.own[0].start
        lead = self.parts[self.n - 1] if self.n else ()
        if 0 < len(lead) <= MOST_LEADING and lead[-1].end == start and all(c.kind == "word" for c in lead):
            start = lead[0].start
        return self._said(start, self._told.start)

    @property
    def _before_apart(self) -> Sequence[str]:
        """The same without what says how the food was weighed: 'without its peel'."""
        about = {n for c in self.own if c.kind in ("whole", "part", "tare") for n in range(c.start, c.end)}
        start = self._told.start - len(self.before)
        return [word for n, word in enumerate(self.before, start) if n not in about]

    @cached_property
    def behind(self) -> Sequence[str]:
        """The words of its stretch behind the amount and the food right behind it."""
        end = self.amount.end
        for chunk in self.own:
            if chunk.start == end and (chunk.kind in NAMING or chunk.text.lower() in pack()["taken_of"]):
                end = chunk.end
        return self._said(end, self.own[-1].end)

    @property
    def _later(self) -> Sequence[Sequence[Chunk]]:
        return self.parts[self.n + 1 : self.n + 1 + REACH]

    def is_doubtful(self) -> bool:
        """Whether words say that it was denied, only possible, put somewhere or taken back."""
        return (
            self._is_denied()
            or is_of_old(self.message, self.amount.start, self.own[-1].end)
            or pack()["unreal"].found(self.before)
            or (
                pack()["lies_there"].found(self.behind[:SHORT])
                and not any(c.kind in ("tare", "noise") for c in self.own)
            )
            or self._is_advice()
            or self._is_taken_back()
        )

    def is_somebodys(self) -> bool:
        """Whether somebody else is the subject of its clause, or got it."""
        return self._is_done_by_another() or self._goes_to_another() or self._is_eaten_by_another()

    def is_eaten_up(self) -> bool:
        """'they've eaten my toast': whether somebody else is the subject of the verb of eating that leads up to it."""
        ate = next((n for n, w in enumerate(self.before) if w in pack()["ate_or_touched"]), None)
        start = self._told.start - len(self.before)
        oneself = pack()["oneself"]
        if ate is None or any(w in oneself or w in pack()["the_writer"] for w in self.before[: ate + 1]):
            return False
        if any(w in pack()["denial"] for w in self.before[:ate]):
            return False  # "she didn't finish her egg"
        return self.before[0].removesuffix("ve") in pack()["they"] or any(
            self._is_person(start + n) for n in range(ate)
        )

    def is_eaten_after_all(self) -> bool:
        """'nobody wanted the last 45 g, so down it went'."""
        return pack()["went_down"].found([w for part in self._later for w in self._words(part)])

    def _said(self, start: int, end: int) -> Sequence[str]:
        return self.message.line.plain[start:end]

    def _words(self, part: Sequence[Chunk]) -> Sequence[str]:
        return self._said(part[0].start, part[-1].end)

    def _is_denied(self) -> bool:
        """'never got to the 40 g'; 'I did not, whatever it looks like, eat the 90 g'."""
        denial, before = pack()["denial"], self._before_apart
        if any(w in denial for w in before):
            return not pack()["but_for"].found(before)
        if not before or before[0] not in pack()["ate_or_touched"]:
            return False
        nearest = self.parts[max(self.n - REACH, 0) : self.n]
        return any(not denial.alone.isdisjoint(self._words(p)[-1:]) and self._in_sentence(p) for p in nearest)

    def _in_sentence(self, part: Sequence[Chunk]) -> bool:
        """Whether no full stop parts a stretch from its own."""
        first, last = sorted((part, self.own), key=lambda p: p[0].start)
        between = self.message.tokens[first[-1].end : last[0].start]
        return all(token.text not in SENTENCE_END and token.kind != "newline" for token in between)

    def _is_done_by_another(self) -> bool:
        """'the wee man got 90 g', 'my client crushed 200 g'."""
        words, before, told = pack(), self.before, self._told.start
        start = told - len(before)
        number = self._told.amount if self._told is not self.amount else None
        counted = number is not None and number.kind == "bare" and self.amount.start > told
        if counted and any(self._is_deed(w) for w in self._said(told, self.amount.start)):
            told = self.amount.start  # 'the lad at table two ate 300 g'
            before = self._said(start, told)
        previous = self.parts[self.n - 1] if self.n else self.own
        if len(before) > 1 and before[0] in words["joining"] and self._is_deed(before[1]) and previous[-1].end == start:
            start = previous[0].start  # 'my husband bought and ate 200 g'
            before = self._said(start, told)
        told_by = [w for n, w in enumerate(before) if not n or before[n - 1] not in words["beside_me"]]  # 'next to me'
        if any(w in words[name] for w in told_by for name in ("oneself", "us_all", "subject_told")):
            return False  # 'once he was gone it was 160 g'
        made = len(before) - 1 if any(c.kind == "state" and c.end == told for c in self.own) else 0
        verb = next((n for n, w in enumerate(before) if n and (n == made or self._is_deed(w))), None)
        if verb is None or verb > MOST_SUBJECT:
            return self._is_creatures()
        if before[verb] in words["says_so"]:
            return not any(w in words["shows_weight"] for w in before[:verb])
        return any(self._is_person(start + n) for n in range(verb) if not self._is_place(start + n))

    def _is_creatures(self) -> bool:
        """'the goat ate 300 of the soup': an animal that is a food too, right before a verb of eating."""
        lead, said = self._told, self.message.line.plain
        return (
            lead.kind == "food"
            and lead.end - lead.start == 1  # no 'lamb chops'
            and lead.end < self.amount.start
            and is_creature(self.message, lead.start, alone=True)
            and any(w in pack()["got_food"] or w in pack()["ate"] for w in said[lead.end : lead.end + 1])
        )

    def _is_place(self, i: int) -> bool:
        """'round at mum's', 'over from my sister': whether somebody is only whom the writer was with."""
        before = self.message.line.plain[i - 1] if i else ""
        return any(before in pack()[name] for name in ("in_company", "comes_from", "at_somebodys"))

    def _is_deed(self, word: str) -> bool:
        words = pack()
        told = any(word in words[name].alone for name in ("story_verbs", "ate", "eating_it", "says_so", "giving"))
        return (told or is_action(word)) and word not in words["came_out_at"] and word not in words["denial"]

    def _is_person(self, i: int) -> bool:
        """Whether a token names somebody: a word for persons, or a name that no list has."""
        message, token = self.message, self.message.tokens[i]
        if i in _named(message) or stands_for_food(message, i):
            return False
        if token.text in message.words.pronouns or singular(token.text) in message.words.people:
            return message.line.text(i - 1) not in pack()["this_one"]
        if is_person_noun(singular(token.text)) or is_creature(message, i):
            return True
        named = token.raw[:1].isupper() and token.text.isalpha() and not is_real_word(token.text)
        return named and not message.vocabulary.knows(token.text) and not message.words.knows(token.text)

    def _goes_to_another(self) -> bool:
        """'went to the stew of my daughter', '200 g for everybody but me'."""
        words, behind = pack(), self.behind
        to = next((n for n, w in enumerate(behind) if w in words["for_whom"]), None)
        if to is None or any(w in words["oneself"] for w in behind[to : to + 2]):
            return False
        start = self.own[-1].end - len(behind)
        return any(self._is_person(start + n) for n in range(to, len(behind)))

    def _is_eaten_by_another(self) -> bool:
        """'200 g of rice, which my son ate'."""
        if self.n + 1 == len(self.parts):
            return False
        behind, words = self.parts[self.n + 1], pack()
        said = self._words(behind)
        if (
            not said
            or said[0] not in words["relative"]
            or not self._untold(behind)
            or any(w in words["oneself"] for w in said)
        ):
            return False
        ate = next((n for n, w in enumerate(said) if w in words["ate"]), 0)
        return any(self._is_person(behind[0].start + n) for n in range(ate))

    def _untold(self, part: Sequence[Chunk]) -> bool:
        return all(c.kind not in TOLD for c in part)

    def _is_advice(self) -> bool:
        """'…, says my brother': whether what stands beside it only says who said so."""
        for part in self.parts[max(self.n - 1, 0) : self.n + 2]:
            if part is self.own or not self._untold(part) or not self._in_sentence(part):
                continue
            said = self._words(part)
            if any(w in pack()["says_so"] for w in (*said[:2], *said[-2:])):
                return any(self._is_person(i) for i in range(part[0].start, part[-1].end))
        return False

    def _is_taken_back(self) -> bool:
        """'…, not to me', '; I have eaten none', 'but I never touch my own'."""
        later = [part for part in self._later if self._untold(part)]
        if any(pack()["left_it_all"].found(self._words(part)) for part in later):
            return True
        return any(self._takes_back(self._words(part), self.message.line.plain[part[0].start - 1]) for part in later)

    def _takes_back(self, said: Sequence[str], before: str) -> bool:
        words = pack()
        no = next((n for n, w in enumerate(said) if w in words["denial"] or w in words["not_a_bit"]), None)
        # 'with its core, which I did not eat' is said of the core alone
        if no is None or before in words["relative"] or said[0] in words["relative"]:
            return False
        if not any(w in words["oneself"] for w in said):
            return False
        if any(w in words["negation_idioms"] for w in said[no + 1 : no + 1 + SHORT]):
            return False
        eating = any(w in words["ate_or_touched"] for w in said[no + 1 :])
        return said[no] in words["not_a_bit"] or eating or (no == 0 and len(said) <= SHORT)
