"""Clauses that only narrate: who was there, what they did, and when; they are set aside before a weigh-in is read.

A clause narrates where it has a subject and a verb of its own, tells no amount, and says nothing of what was eaten or
of what became of it. Its nouns are no foods, and its subject is nobody's eater.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from bot.language.chunks import Chunk
from bot.language.message import SENTENCE_END, Message
from bot.language.pack import pack
from bot.language.text import singular
from domain.reference.words import is_action, is_animal, is_finite, is_person_noun

BEARING = frozenset({"hash", "energy", "macro", "price", "tare", "whole", "newline", "part", "batch"})
"""Kinds of chunk that bear on what was eaten."""
CUTS = frozenset(",;.!?()\n")
MOST_CHUNKS = 120
HEAVY_G = 20_000.0
"""No food of a meal weighs more."""
MOST_SUBJECT = 6
"""Words before the verb of a clause among which its subject stands."""
LEAST_ASIDE = 3
"""Words of a description of somebody between two commas."""
MOST_BETWEEN = 2
"""Words between an auxiliary and its verb: 'had at last stopped'."""
MOST_TO_END = 2
"""Words behind the verb of a clause that hangs on a noun: 'off the tree my father planted'."""


def without_narrated(message: Message) -> Message:
    """The message without the clauses that only narrate, where a weigh-in stands without them."""
    if message.asks or not message.of("amount") or not message.of("food", "batch") or len(message.chunks) > MOST_CHUNKS:
        return message
    if pack()["halving"].found(message.wording) or pack()["shared_out"].found(message.wording):
        return message  # 'mango 300 g, me and my brother went halves'
    rest = _set_aside(_set_aside(message, described=True), described=False)
    told = rest.of("food", "batch") or _told_of_animals(message, rest)
    return rest if rest.of("amount") and told else message


def _told_of_animals(message: Message, rest: Message) -> bool:
    """Whether all that named food before was told of animals: 'cow 612 kg, I weigh 94 kg'."""
    gone = [c for c in message.of("food") if c not in rest.chunks]
    return bool(gone) and all(is_creature(message, c.start, alone=True) for c in gone)


def _set_aside(message: Message, *, described: bool) -> Message:
    """The message without descriptions between commas, so that the clause around one is whole; or without the rest."""
    clauses = [_Clause(message, part) for part in _cut(message)]
    dropped: list[Chunk] = []
    for n, clause in enumerate(clauses):
        before, behind = clauses[n - 1] if n else None, clauses[n + 1] if n + 1 < len(clauses) else None
        if described:
            dropped += clause.with_commas() if clause.describes_somebody(before, behind) else []
            continue
        goes_on = before is not None and before.parts[0] in dropped and clause.goes_on_behind(before)
        if clause.narrates(behind) or goes_on:
            dropped += clause.parts if clause.dates_nothing or goes_on else clause.undated
        elif any(clause.is_set_against(other) for other in clauses if other is not clause):
            dropped += clause.parts
        else:
            dropped += clause.hanging() or clause.before_me()
    return message.without(dropped)


def is_creature(message: Message, i: int, *, alone: bool = False) -> bool:
    """Whether a token is a word for an animal that is fed; one that is food too has to stand in the plural.

    `alone`: it stands where only somebody can, before a verb.
    """
    word = message.tokens[i].text
    if not is_animal(singular(word)):
        return False
    return alone or singular(word) != word or not message.vocabulary.knows(word)


def is_somebody(message: Message, i: int) -> bool:
    """Whether a token that stands where only somebody can names a person or an animal."""
    word = singular(message.line.plain[i])
    others = message.words.people | message.words.pronouns
    return word in others or is_person_noun(word) or is_creature(message, i, alone=True)


def _cut(message: Message) -> list[list[Chunk]]:
    """The chunks between signs and before words that open a clause."""
    opens, said = pack()["opens_clause"], message.line.plain
    parts: list[list[Chunk]] = [[]]
    for chunk in message.chunks:
        if chunk.kind in ("sign", "newline") and chunk.text in CUTS:
            parts.append([])
            continue
        led = bool(parts[-1]) and parts[-1][-1].end == chunk.start and said[chunk.start - 1] in opens
        if chunk.kind != "amount" and opens.end(said, chunk.start) is not None and not led:
            parts.append([])
        parts[-1].append(chunk)
    return [part for part in parts if part]


class _Clause:
    """A clause of a message."""

    def __init__(self, message: Message, parts: Sequence[Chunk]) -> None:
        self.message, self.parts = message, parts
        self.start, self.end = parts[0].start, parts[-1].end
        self.at = [n for c in parts for n in range(c.start, c.end)]
        self.said = [message.line.plain[n] for n in self.at]

    @property
    def undated(self) -> list[Chunk]:
        """Its chunks without the times: 'when my sister came on Sunday' dates what was eaten."""
        return [c for c in self.parts if c.kind != "moment"]

    @cached_property
    def dates_nothing(self) -> bool:
        """Whether its times are not those of the meal: it describes somebody, or gives a reason."""
        return not pack()["says_when"].end(self.said, 0)

    @cached_property
    def _head(self) -> int:
        """How many words open it."""
        n = 0
        while n < len(self.said) and (end := pack()["opens_subordinate"].end(self.said, n) or self._joined(n)):
            n = end
        return n

    def _joined(self, n: int) -> int:
        return n + 1 if self.said[n] in pack()["joining"] or self.said[n] in pack()["leads_on"] else 0

    @property
    def _is_subordinate(self) -> bool:
        return any(pack()["opens_subordinate"].end(self.said, n) for n in range(self._head))

    @cached_property
    def _verb(self) -> int | None:
        """Where its verb stands, behind auxiliaries and denials."""
        words, found = pack(), None
        for n in range(self._head, len(self.said)):
            word = self.said[n]
            helps = word in words["helps_a_verb"] or word in words["denial"]
            if helps or ((is_finite(word) or is_action(word)) and not word.endswith("ly")):
                if n > self._head + MOST_SUBJECT and found is None:
                    return None
                found = n
                if not helps:
                    return n
            elif found is not None and n > found + MOST_BETWEEN:
                return found
        return found

    @cached_property
    def _subject(self) -> list[int]:
        """The tokens of what stands before its verb."""
        verb = next((n for n in range(self._head, len(self.said)) if self._is_verbal(n)), self._head)
        return self.at[self._head : verb]

    def _is_verbal(self, n: int) -> bool:
        word, words = self.said[n], pack()
        return word in words["helps_a_verb"] or word in words["denial"] or is_finite(word) or is_action(word)

    @cached_property
    def _tells(self) -> bool:
        """Whether it holds an amount or says what was eaten, weighed or given away, or points to it."""
        words = pack()
        told = any(c.kind in BEARING for c in self.parts) or self._has_amount
        eaten = any(
            w in words["ate_it"] for n, w in enumerate(self.said) if n == 0 or self.said[n - 1] not in words["for_whom"]
        )
        if told or eaten or words["pointing_back"].found(self.said):
            return True
        if words["given_or_lost"].found(self.said) and not self._feeds_animals:
            return True
        verb = self._verb
        if verb is None:
            return False
        weighs = self.said[verb] in words["weighing_it"] and not self._is_anothers
        return weighs or self.said[verb] in self.message.words.eating

    @property
    def _amount(self) -> Chunk | None:
        return next((c for c in self.parts if c.kind == "amount" and not is_article(c)), None)

    @property
    def _has_amount(self) -> bool:
        return self._amount is not None

    @property
    def _feeds_animals(self) -> bool:
        foods = [c for c in self.parts if c.kind == "food"]
        return any(is_creature(self.message, n) for n in self.at) and all(
            is_creature(self.message, c.start) for c in foods
        )

    @property
    def _foods(self) -> list[str]:
        return [c.target for c in self.parts if c.kind == "food"]

    def _is_others(self, at: Sequence[int]) -> bool:
        """Whether the words name somebody or something else than the writer and what was eaten."""
        message = self.message
        for i in at:
            word = message.line.plain[i]
            if singular(word) in message.words.people or word in message.words.pronouns - pack()["things_too"].words:
                return True
            if is_person_noun(singular(word)) or is_creature(message, i):
                return True
        return False

    @property
    def _is_anothers(self) -> bool:
        """Whether somebody else is its subject."""
        who = self.said[: self._head]
        if any(w in pack()["who"] for w in who):
            return True
        if self._verb is None or not self._subject:
            return False
        named = self.message.line.plain[self._subject[0]] in pack()["article"] and not self._foods
        return (self._is_subordinate and named) or self._is_others(self._subject)

    @property
    def _is_writers(self) -> bool:
        return any(w in pack()["the_writer"] or w in pack()["us_all"] for w in self.said)

    def narrates(self, behind: _Clause | None) -> bool:
        """Whether it has a subject and a verb of its own and tells nothing of what was eaten."""
        words = pack()
        if words["absolute"].end(self.said, 0) is not None:
            return not self._tells and not self._is_writers
        if words["come_what_may"].end(self.said, 0) is not None and behind is not None:
            return not self._has_amount and words["or_not"].end(behind.said, 0) is not None
        if self._tells or self._verb is None or any(c.kind in ("state", "size") for c in self.parts):
            return False
        if self._is_subordinate:
            if self._is_anothers:
                return behind is None or behind.said[0] not in self.message.words.eating
            does = words["says_when"].end(self.said, 0) is not None and self.said[self._head - 1] in words["the_writer"]
            return does and self.said[self._verb] not in words["helps_a_verb"]
        if not self._is_anothers or self._named_before_verb(words["oneself"].words):
            return False
        # what a main clause goes on to tell has its subject: 'my niece came and had 200 g'
        speaks = any(w in words["says_so"] for w in self.said)
        return speaks and behind is not None and behind.said[0] in words["leads_on"] and not self.message.around.batches

    def _named_before_verb(self, words: frozenset[str]) -> bool:
        return any(self.message.line.plain[n] in words for n in self._subject)

    def goes_on_behind(self, before: _Clause) -> bool:
        """Whether it only goes on with a clause that narrates: '… and the plumber not coming', 'till Thursday'."""
        between = self.message.tokens[before.end : self.start]
        if self._tells or self._is_writers or any(t.text in SENTENCE_END or t.text == "," for t in between):
            return False
        return not any(c.kind == "food" for c in self.parts)

    def describes_somebody(self, before: _Clause | None, behind: _Clause | None) -> bool:
        """Whether it stands between two commas behind a noun and says who or what that is: 'a nice young woman'."""
        if before is None or behind is None or self._tells or len(self.said) < LEAST_ASIDE:
            return False
        if any(c.kind in ("food", "state") for c in self.parts) or self.said[0] not in pack()["article"]:
            return False
        signs = self.message.tokens[self.start - 1].text, self.message.tokens[self.end].text
        return signs == (",", ",") and not any(w in pack()["for_whom"] for w in self.said)

    def with_commas(self) -> list[Chunk]:
        """Its chunks and the commas on both sides."""
        return [c for c in self.message.chunks if self.start - 1 <= c.start and c.end <= self.end + 1]

    def is_set_against(self, other: _Clause) -> bool:
        """Whether its amount is no weigh-in because of what another clause tells.

        It is what an animal got or weighs, what the other was eaten in place of, what it was on another day, or the
        same once more in a clause that does not say that it was eaten.
        """
        words = pack()
        if not other._has_amount:
            return False
        if self._is_of_animals():
            return other._is_writers
        if not self._has_amount:
            return False
        if words["in_place_of"].end(self.said, 0) is not None:
            return other.start > self.start and bool(other._foods)
        if not self._foods and other._foods and self._day_gone is not None and other._is_today:
            return self._came_to and other._day_gone is None
        same = [c.amount.text for c in self.parts if c.amount] == [c.amount.text for c in other.parts if c.amount]
        if not same or not self._foods or self._foods != other._foods:
            return False
        return (
            other._is_writers
            and words["ate_it"].found(other.said)
            and not words["ate_it"].found(self.said)
            and self._came_to
        )

    def _is_of_animals(self) -> bool:
        """'my horse ate two apples', 'cow 612 kg'."""
        lead = next((n for n, w in enumerate(self.said) if w not in pack()["article"]), None)
        if lead is None or lead + 1 >= len(self.said) or not is_creature(self.message, self.at[lead], alone=True):
            return False
        behind, amount = self.said[lead + 1], self._amount
        heavy = amount is not None and amount.amount is not None and (amount.amount.grams or 0) > HEAVY_G
        kilos = heavy and amount is not None and amount.start == self.at[lead] + 1
        return kilos or behind in pack()["got_food"]

    @property
    def _day_gone(self) -> Chunk | None:
        today = self.message.around.today
        return next((c for c in self.parts if c.moment and c.moment.day is not None and c.moment.day < today), None)

    @property
    def _is_today(self) -> bool:
        today = self.message.around.today
        return any(c.moment is not None and c.moment.day == today for c in self.parts)

    @property
    def _came_to(self) -> bool:
        return any(w in pack()["came_out_at"] for w in self.said)

    def before_me(self) -> list[Chunk]:
        """'the cat watched me' before 'weigh 85 g of salmon'."""
        end = next(
            (
                n
                for n in range(1, len(self.said))
                if self.said[n] in pack()["seen_doing"]
                and self.said[n + 1 : n + 2]
                and self.said[n + 1] in pack()["the_writer"]
            ),
            None,
        )
        if end is None or not self._is_others(self.at[:end]) or not any(c.kind == "amount" for c in self.parts):
            return []
        return [c for c in self.parts if c.end <= self.at[end] + 1]

    def hanging(self) -> list[Chunk]:
        """The clause without an opening word at its end: 'off the tree my father planted'."""
        words, said = pack(), self.said
        for n in range(1, len(said)):
            if said[n] not in words["my_own"] or n + 2 >= len(said) or not self._is_others(self.at[n + 1 : n + 2]):
                continue
            inner = _Clause(self.message, [c for c in self.parts if c.start >= self.at[n]])
            ends = inner.parts and inner._verb is not None and inner._verb + MOST_TO_END >= len(inner.said) - 1
            if ends and not inner._tells and said[n - 1] not in words["for_whom"] and inner.said[0] == said[n]:
                return [c for c in inner.parts if c.kind != "moment"]
        return []


def is_article(chunk: Chunk) -> bool:
    """Whether an amount is a mere 'a' or 'the'."""
    return chunk.amount is not None and chunk.amount.text.lower() in pack()["articles"]
