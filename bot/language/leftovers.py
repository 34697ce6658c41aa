"""Which words and numbers of a message none of its meanings uses.

One account for all meanings: what a meaning uses is told by the figures, names and quotations that it holds, and by
what can be reckoned from them and from what is on record.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import product

from bot.language.batch_meanings import CookBatch, CorrectIngredient, SwapIngredient
from bot.language.bodies import POUNDS_PER_STONE
from bot.language.chunks import Chunk
from bot.language.fix_meanings import Change
from bot.language.held import alike, figures_of, held_in, is_in, is_in_share, is_number
from bot.language.lexicon import lexicon
from bot.language.meanings import Meaning, NotMine
from bot.language.message import Message
from bot.language.own_part import what_counts
from bot.language.pack import pack, plain
from bot.language.repairs import put_right
from bot.language.shared_food import weighs_the_share
from bot.language.stance import clauses, not_mine, without_excluded
from bot.language.text import singular
from bot.language.told import Item, Name, is_share
from bot.language.unfinished import unfinished

AGREE = 0.02
"""How far a weight that is said twice in two units may be from itself, as a share of it."""
PUT_RIGHT = (Change, CorrectIngredient, SwapIngredient)
"""Meanings that put an old number right."""
STONE = "st"
MOST_DENIAL = 3
"""Words of the longest denial before a number."""
ROUNDED = 0.06
"""How far a sum or a difference in a meaning may be from what was told."""
MOST_COUNTED = 12
"""Up to this a bare number behind a food counts its pieces."""
MOST_PIECES = 100
"""Up to this one before a food does."""
BESIDE = 2
"""Signs and small words between a volume and the weight or food that it is of."""
HOURS = 24
MOST_RECKONED = 24
"""Figures up to which it is tried whether two of them make a third."""


@dataclass(frozen=True)
class Account:
    """A message beside all that was made of it."""

    message: Message
    meant: Sequence[Meaning]

    @cached_property
    def held(self) -> tuple[tuple[float, ...], tuple[str, ...]]:
        """The figures in the meanings, and the texts that say how an amount or a name was told."""
        held = list(held_in([self._as_carried_out(m) for m in self.meant]))
        return tuple(abs(each) for each in held if isinstance(each, float)), tuple(
            each.lower() for each in held if isinstance(each, str)
        )

    def _as_carried_out(self, meaning: Meaning) -> Meaning | None:
        """What of a meaning can be on record: of a pot that nobody knows nothing, and a count only of pieces."""
        if isinstance(meaning, CookBatch):
            known = meaning.batch is None or meaning.batch.number is not None or meaning.batch.candidates
            return meaning if known or self.message.around.batches else None
        count = meaning.measure if isinstance(meaning, Item) else None
        if not isinstance(meaning, Item) or count is None or count.kind != "bare" or is_share(count):
            return meaning
        told = [c for c in self.message.of("amount") if c.amount is not None and c.amount.text == count.text]
        return meaning if any(self._counts_pieces(c) for c in told) else replace(meaning, measure=None)

    def _is_no_whole(self, number: Chunk) -> bool:
        """Whether a number that was set aside for the writer's part is a range, or less than that and nobody else's."""
        if number.amount is not None and number.amount.doubt == "range":
            return True
        people = self.message.words.people | self.message.words.pronouns
        eaten = {food for m in self.items if m.name is not None for food in m.name.foods}
        of = [c for c in self.message.of("food") if number.end <= c.start <= number.end + 1]
        if any(c.target not in eaten for c in of):
            return False  # 'offered 50 g of chocolate, said no, had 100 g grapes'
        if any(singular(t.text) in people or t.text in people or t.raw[:1].isupper() for t in self.message.tokens):
            return False
        largest = max((m.amount.grams or 0.0 for m in self.items if m.amount is not None), default=0.0)
        return 0 < max(figures_of(number), default=0.0) < largest and not self._is_reckoned(number)

    def _counts_people(self, number: Chunk) -> bool:
        """Whether it only says how many people there were: '2 lads had 400 g of it'."""
        line, bare = self.message.line, number.amount is not None and number.amount.kind == "bare"
        return bare and singular(line.text(number.end)) in lexicon().people

    def _is_hour(self, number: Chunk) -> bool:
        """Whether it is a time of day that was told without more: 'had one at 11'."""
        amount = number.amount
        if amount is None or amount.kind != "bare" or not 0 < amount.value <= HOURS or amount.value % 1:
            return False
        led = self.message.word_before(number) in pack()["clock_leads"]
        return led and all(c.start != number.end for c in self.message.of("food"))

    def _joined(self, first: Chunk, second: Chunk) -> bool:
        """Whether only signs and words of the lexicon stand between two chunks: '30 ml (', '2 tbsp of'."""
        between = self.message.tokens[first.end : second.start]
        return (
            first is not second
            and len(between) <= BESIDE
            and all(t.kind == "sign" or self.message.words.knows(t.text) for t in between)
        )

    def _counts_pieces(self, number: Chunk) -> bool:
        """Whether a bare number stands right before a food and what it is like, or is a small one behind a food."""
        foods, end = self.message.of("food"), number.end
        beside = {c.start: c.end for c in self.message.of("state", "size", "whole")}
        while end in beside:
            end = beside[end]
        small = number.amount is not None and number.amount.value <= MOST_COUNTED
        return any(c.start == end or (small and c.end == number.start) for c in foods)

    @cached_property
    def numbers(self) -> list[Chunk]:
        """The numbers told: written in digits, or with a unit of mass or volume."""
        return [c for c in self.message.chunks if is_number(c)]

    @cached_property
    def lost_numbers(self) -> list[Chunk]:
        """Those of the numbers told that no meaning uses, that were not put right and lead to no stated result."""
        values, texts = self.held
        told = [c for c in self.numbers if not (self._counts_people(c) or self._is_hour(c))]
        lost = [c for c in told if not (is_in(c, values, texts) or self._says_again(c) or self._completes(c))]
        if not lost:
            return []
        message = self.message
        kept = {id(c) for c in what_counts(message).chunks}
        if len(kept) < len(message.chunks) and not any(isinstance(m, Item) and _in_doubt(m) for m in self.meant):
            apart = [c for c in lost if id(c) not in kept]
            lost = lost if any(map(self._is_no_whole, apart)) else [c for c in lost if id(c) in kept]
        excluded = {id(c) for c in without_excluded(message).chunks}
        lost = [c for c in lost if id(c) in excluded]
        right = {c.text.lower() for c in put_right(message).chunks}
        refused = self._refused
        lost = [c for c in lost if c.text.lower() in right and id(c) not in refused and not self._is_denied(c)]
        return [c for c in lost if self.is_of_another(c) or not self._is_reckoned(c)]

    @cached_property
    def lost_tares(self) -> list[Chunk]:
        """The weights that were taken for those of empty vessels where no meaning uses them so."""
        values, texts = self.held
        told = [c for c in self.message.of("tare") if c.start == c.end and c.tare is not None and c.tare.grams]
        grams = [(c, f"{c.tare.grams:g}", c.tare.grams) for c in told if c.tare is not None and c.tare.grams]
        lost = [(c, said) for c, said, g in grams if not any(alike(g, each) for each in values)]
        return [c._replace(text=said) for c, said in lost if not any(said in text for text in texts)]

    def is_of_another(self, weight: Chunk) -> bool:
        """Whether it is the weight of a food of which no meaning speaks: no reckoning leads to that."""
        food = self.food_beside(weight)
        return food is not None and not any(self._speaks_of_food(m, food, weight) for m in self.meant)

    @cached_property
    def told_once_more(self) -> list[Chunk]:
        """The weights of foods that are told oftener than they are in the meanings: '100 g tofu, 100 g tofu'."""
        if len(self.numbers) < 2 or what_counts(self.message) != put_right(self.message):
            return []
        of = {id(food): (c, food) for c in self.numbers if (food := self.food_beside(c)) is not None}
        told = defaultdict[tuple[str, float], list[Chunk]](list)
        for weight, food in of.values():
            told[food.target, weight.amount.grams if weight.amount and weight.amount.grams else 0.0].append(weight)
        found: list[Chunk] = []
        for (target, grams), weights in told.items():
            once = [i for i in self.items if i.name is not None and target in _foods(i.name) and i.amount is not None]
            alike = [i for i in once if i.amount is not None and i.amount.grams == grams]
            if len(weights) > 1 and alike:
                found += weights[len(alike) :]
        return found

    def food_beside(self, weight: Chunk) -> Chunk | None:
        """The food that stands right behind a weight, or right before it where no other amount has it."""
        chunks, at = self.message.chunks, next((n for n, c in enumerate(self.message.chunks) if c is weight), None)
        if at is None or weight.amount is None or weight.amount.kind != "mass":
            return None
        behind = next((c for c in chunks[at + 1 :] if not self._may_part(c)), None)
        before = next((c for c in reversed(chunks[:at]) if not self._may_part(c)), None)
        return next((c for c in (behind, before) if c is not None and c.kind == "food"), None)

    def _may_part(self, chunk: Chunk) -> bool:
        """Whether it may stand between a weight and its food."""
        return chunk.kind in ("state", "size", "whole") or plain(chunk.text.lower()) in pack()["articles_of"]

    def _speaks_of_food(self, meaning: Meaning, food: Chunk, weight: Chunk) -> bool:
        held = list(held_in(meaning))
        texts = {each.lower() for each in held if isinstance(each, str)}
        named = food.target.removeprefix("kinds:").lower() in texts or food.text.lower() in texts
        if isinstance(meaning, CookBatch):
            return named and meaning.batch is not None and meaning.batch.number is not None
        if not isinstance(meaning, Change):
            return named
        return named and is_in(weight, [abs(each) for each in held if isinstance(each, float)], ())

    @cached_property
    def lost_shares(self) -> list[Chunk]:
        """The shares told ('half', 'a third') of which no meaning says anything."""
        values, texts = self.held
        chunks = self.message.chunks
        told = [
            (n, c) for n, c in enumerate(chunks) if c.kind == "amount" and c.amount is not None and is_share(c.amount)
        ]
        wholes = [*(n for c in self.numbers for n in figures_of(c)), *self._on_record]
        return [
            c
            for n, c in told
            if _is_of_food(chunks[n + 1 :])
            and self.message.word_before(c) not in pack()["the_other"]
            and not self._is_weighed(c)
            and not is_in_share(c, wholes, values, () if self._stays(c) else texts, self._stays(c))
        ]

    def _is_weighed(self, share: Chunk) -> bool:
        """Whether a weight in a meaning is that of the share itself: 'the half she left, 24 g'."""
        values, _ = self.held
        weights = [c for c in self.numbers if c.amount is not None and c.amount.kind == "mass"]
        return any(weighs_the_share(self.message, share, c) and is_in(c, values, ()) for c in weights)

    def _stays(self, share: Chunk) -> bool:
        """Whether it is the share that the writer did not eat: 'left a quarter'."""
        said, start = self.message.line.plain, share.start
        return any(start in pack()["left_of_mine"].ends(said, i) for i in range(max(0, start - MOST_DENIAL), start))

    @cached_property
    def vague(self) -> list[tuple[int, str]]:
        """What only says that it was not all of it, 'most of it', 'left some': where, and the words."""
        line, end = self.message.line, 0
        found: list[tuple[int, str]] = []
        left = [] if self._is_reckoned_whole else unfinished(self.message)
        for start, stop in sorted([*pack()["not_all_of_it"].places(line.plain), *left]):
            if start >= end:
                found.append((start, line.typed(start, stop).lower()))
            end = max(end, stop)
        return found

    @property
    def _is_reckoned_whole(self) -> bool:
        """Whether an amount has been reckoned from several numbers: 'rice 180 g, did not finish it, left 40'."""
        amounts = self.message.of("amount")
        return any(c.amount is not None and c.amount.kind == "mass" and c.amount.text != c.text for c in amounts)

    @cached_property
    def untouched(self) -> list[Item]:
        """The weigh-ins of what was left as it was: '…, and I left it on the plate', 'not the brie: brie 40'."""
        kept = {n for c in self.message.chunks for n in range(c.start, c.end)}
        places = [p for p in pack()["left_it_there"].places(self.message.line.plain) if p[0] in kept]
        told = [item for start, end in places if (item := self.item_at(start)) and self._speaks_of(item, start, end)]
        left = [item for item in told if item.batch is None]
        chunks, said = self.message.chunks, self.message.line.plain
        named = {
            c.target
            for n, c in enumerate(chunks)
            if c.kind == "food" and n and _denies(said, chunks[max(0, n - MOST_DENIAL) : n])
        }
        denied = [i for i in self.items if i.name is not None and (named & _foods(i.name) or self._denies_word(i.name))]
        return [i for i in self.items if i in left or i in denied]

    def _speaks_of(self, item: Item, start: int, end: int) -> bool:
        """Whether the phrase from `start` to `end` is about that weigh-in, and not 'the knife remains untouched'."""
        said = self.message.line.plain
        clause = next((n for n in range(start, 0, -1) if said[n - 1] in pack()["between_sentences"]), 0)
        if not pack()["it_or_them"].words.isdisjoint(said[clause:end]) or not said[clause:start]:
            return True
        foods = [c for c in self.message.of("food") if clause <= c.start < start]
        return bool(foods) and item.name is not None and all({c.target or ""} & _foods(item.name) for c in foods)

    def _denies_word(self, name: Name) -> bool:
        """Whether there was none of it in the writer's own word for it, however it is spelt."""
        line, words = self.message.line, [plain(word) for word in name.text.lower().split()]
        ends = [end for _, end in pack()["none_of_it"].places(line.plain)]
        known = bool(name.foods or name.kinds)  # 'no idea, maybe 180' denies no food
        return known and any(list(line.plain[end : end + len(words)]) == words for end in ends)

    @cached_property
    def items(self) -> list[Item]:
        """The weigh-ins among the meanings."""
        return [m for m in self.meant if isinstance(m, Item)]

    @cached_property
    def _told_at(self) -> list[tuple[int, Item]]:
        """At which tokens the amounts of weigh-ins are told, in order; those that were reckoned are not among them."""
        found: list[tuple[int, Item]] = []
        chunks = iter(self.message.of("amount"))
        for item in self.items:
            told = "" if item.amount is None else item.amount.text
            chunk = next((c for c in chunks if c.amount is not None and c.amount.text == told), None)
            if chunk is None:
                chunks = iter([c for c in self.message.of("amount") if not found or c.start > found[-1][0]])
            else:
                found.append((chunk.start, item))
        return found

    def item_at(self, start: int) -> Item | None:
        """The weigh-in that words at a token are about: the last one told before them, else the only one."""
        before = [item for at, item in self._told_at if at < start]
        if before:
            return before[-1]
        return self._told_at[0][1] if len(self._told_at) == 1 else None

    @cached_property
    def _refused(self) -> set[int]:
        """The chunks of clauses of which the reply says that nothing was recorded, where each tells but one number.

        The reply names the numbers of others by itself.
        """
        said_why = [m for m in self.meant if isinstance(m, NotMine) and m.why != "others"]
        if not said_why:
            return set()
        told = [clause for sentence in self.message.sentences() for clause in clauses(sentence)]
        gone = [clause for clause in told if not_mine(clause) in said_why and not pack()["i_ate"].found(clause.wording)]
        only = [clause for clause in gone if sum(map(is_number, clause.chunks)) == 1]
        return {id(c) for clause in only for c in clause.chunks}

    def _is_denied(self, chunk: Chunk) -> bool:
        """Whether it is the old number of a correction: 'it was 150 not 120'."""
        if not any(isinstance(m, PUT_RIGHT) for m in self.meant):
            return False
        said, ends = self.message.line.plain, pack()["not_that"].ends
        return any(chunk.start in ends(said, i) for i in range(max(0, chunk.start - MOST_DENIAL), chunk.start))

    def _completes(self, chunk: Chunk) -> bool:
        """Whether it is the pounds behind stones: '11 st 5 and a half'."""
        before = next((c.amount for c in self.message.of("amount") if c.end == chunk.start), None)
        own = chunk.amount
        stones = before is not None and before.unit == STONE and own is not None and own.kind == "bare"
        return stones and own is not None and own.value < POUNDS_PER_STONE

    def _says_again(self, chunk: Chunk) -> bool:
        """Whether a weight is one of the others in another unit, '4 oz (113 g)', or of one food as another is."""
        weights = [c.amount for c in (chunk, *self.numbers) if c.amount is not None and c.amount.grams is not None]
        if not weights or weights[0] is not chunk.amount:
            return False
        one, *others = weights
        single = len(self.meant) == 1 and isinstance(self.meant[0], Item)
        return any(
            (w.unit != one.unit or (single and w is not one))
            and abs((w.grams or 0.0) - (one.grams or 0.0)) <= AGREE * (one.grams or 0.0)
            for w in others
        )

    def _is_reckoned(self, chunk: Chunk) -> bool:
        """Whether a figure on record or in a meaning comes from this number and another: '300 less 140'."""
        values, _ = self.held
        told = [n for c in self.numbers if c is not chunk for n in figures_of(c)]
        record = [] if isinstance(self.meant[0], Item) else self._on_record
        if len(values) > MOST_RECKONED or len(told) + len(record) > MOST_RECKONED:
            return False
        made = [] if isinstance(self.meant[0], Item) else [a * b for a, b in product(values, values) if a > 1 and b > 1]
        if any(alike(n, each) for n in figures_of(chunk) for each in made):
            return True
        for n, other in product(figures_of(chunk), (*told, *record)):
            if any(
                abs(each - value) < ROUNDED for each in (n + other, abs(n - other)) for value in values if value > 1
            ):
                return True
        return any(alike(n, each) for n in figures_of(chunk) for each in record)

    @cached_property
    def _on_record(self) -> list[float]:
        """The weights of what was weighed in and of what is in the pots, and of its boxes, and how many there are."""
        around = self.message.around
        amounts = [each.amount.value for each in around.recorded() if each.amount is not None]
        pots = [grams for batch in around.batches for _, grams in batch.weights]
        boxes = [n for batch in around.batches for n in (batch.boxes, batch.box_g, batch.left_g) if n]
        return [*(each.grams for each in around.recorded()), *amounts, *pots, *boxes]


def _in_doubt(item: Item) -> bool:
    return item.two_masses or (item.amount is not None and item.amount.doubt is not None)


def _is_of_food(behind: Sequence[Chunk]) -> bool:
    """Whether what follows a share may be the food: 'half of it', 'half the mango', and not 'half asleep'."""
    after = next((c for c in behind if c.text.lower() not in pack()["articles_of"]), None)
    if after is None or after.kind != "word":
        return True
    return after.text.lower() in pack()["beside_share"]


def _denies(said: Sequence[str], before: Sequence[Chunk]) -> bool:
    """Whether the words right before a food say that there was none of it: 'not the', 'no'."""
    for n, chunk in enumerate(before):
        end = pack()["none_of_it"].end(said, chunk.start)
        between = [c for c in before[n:] if end is not None and c.start >= end]
        if end is not None and all(c.kind == "state" or c.text.lower() in pack()["before_excluded"] for c in between):
            return True
    return False


def _foods(name: Name) -> set[str]:
    return {*name.foods, f"kinds:{name.kinds}"}
