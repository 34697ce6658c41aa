"""A scene compared with the record: which weigh-ins it names, and which of its numbers is the one on record."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cached_property
from operator import attrgetter
from typing import Literal

from bot.language.chunks import Chunk
from bot.language.fix_meanings import Change, Which
from bot.language.moments import together
from bot.language.pack import pack, plain
from bot.language.recalling import meant, named_by
from bot.language.scene import Scene
from bot.language.surroundings import Recorded
from bot.language.text import singular
from bot.language.told import Amount, Name, is_share

FITS = 0.01
"""Relative difference up to which a number is the one on record."""
SOON, SAME_SITTING = timedelta(hours=4), timedelta(hours=1)
"""So long after something was eaten a word like 'wait' or 'actually' may put it right by itself."""
MOST_COUNTED = 12
MOST_COUNTS = 2
"""Counts told beside one weight: the one on record, and the one that is right."""
MOST_TIMES = 10
"""A number that would be this many times the recorded ounces is in grams."""
LEAST_ESTIMATED, MOST_OFF = 50.0, 5.0
"""An estimate of at least so many kcal is corrected by a bare number up to so many times larger or smaller."""
MOST_OFF_BY = 2.5
"""A correction is at most so many times as large or as small as what is on record."""
MOST_WORDS = 4
"""Words of the longest name that is looked for on record."""
LONGEST = 5
"""Words of the longest phrase that is looked for before a token."""
STAR = "*"
CUTS = frozenset({",", ";", ".", "!", "?", "(", ")", ":", "-", "\n"})


@dataclass(frozen=True)
class Mention:
    """A food that is named, with the weigh-ins on record that it can mean."""

    start: int
    end: int
    name: Name
    recorded: tuple[Recorded, ...]

    @property
    def latest(self) -> Recorded:
        """The latest of the weigh-ins."""
        return max(self.recorded, key=lambda each: (each.day, each.number))

    @property
    def is_clear(self) -> bool:
        """Whether the weigh-ins of the latest day are all of one food."""
        return len({each.food for each in self.recorded if each.day == self.latest.day}) <= 1


def _narrowed(mention: Mention, named: Sequence[Mention]) -> Mention:
    """The mention as what another one beside it means more closely: 'that cheese … instead of swiss'."""
    closer = [m.recorded for m in named if m.recorded and len(m.recorded) < len(mention.recorded)]
    only = closer[0] if len(closer) == 1 and all(each in mention.recorded for each in closer[0]) else mention.recorded
    return replace(mention, recorded=only)


class Fix:
    """A scene compared with the record."""

    def __init__(self, scene: Scene, recorded: Sequence[Recorded]) -> None:
        self.scene, self.message, self.all = scene, scene.message, recorded
        chunks = self.message.chunks
        self.first, self.end = chunks[0].start, chunks[-1].end
        self.words = [plain(t.text) for t in self.message.tokens[self.first : self.end]]

    @cached_property
    def days(self) -> set[date]:
        """The days that are named."""
        around = self.message.around
        moments = [c.moment for c in self.message.of("moment") if c.moment is not None]
        return {day for m in moments if (day := together([m], around).day) is not None}

    @cached_property
    def recorded(self) -> list[Recorded]:
        """The weigh-ins that can be meant: those of the days named, else of all recent days."""
        return [each for each in self.all if not self.days or each.day in self.days]

    @cached_property
    def mentions(self) -> list[Mention]:
        """The foods named, in order, except one that only says where another went."""
        found: list[Mention] = []
        chunks, i = self.message.chunks, 0
        while i < len(chunks):
            mention, behind = self._mention(i)
            if mention is not None:
                found.append(mention)
            i = behind
        said = self.message.tokens
        kept = [m for m in found if not any(t.text in pack()["on_which"] for t in said[max(0, m.start - 2) : m.start])]
        return [_narrowed(m, kept) for m in kept] if kept else found

    def _mention(self, i: int) -> tuple[Mention | None, int]:
        """The food named at the i-th chunk, if any, and the index of the next chunk."""
        chunks, end = self.message.chunks, i
        while end < len(chunks) and end - i < MOST_WORDS and self._may_name(chunks[end]):
            end += 1
        for behind in range(end, i, -1):
            part = chunks[i:behind]
            name = self._name(part)
            recorded = meant(name, self.recorded)
            if recorded:
                return Mention(part[0].start, part[-1].end, name, tuple(recorded)), behind
        if chunks[i].kind in ("food", "batch"):
            return Mention(chunks[i].start, chunks[i].end, named_by(self.message, chunks[i]), ()), i + 1
        return None, i + 1

    def _name(self, part: Sequence[Chunk]) -> Name:
        if len(part) == 1:
            return named_by(self.message, part[0])
        words = [t.text for t in self.message.tokens[part[0].start : part[-1].end]]
        return self.message.vocabulary.resolve(words, " ".join(words))

    def _may_name(self, chunk: Chunk) -> bool:
        if chunk.kind in ("food", "batch"):
            return True
        known = self.message.words
        word = chunk.text.lower()
        verbs = pack()["opens_fix"], pack()["changes_for"], pack()["off_record"]
        return chunk.kind == "word" and not known.knows(word) and not any(plain(word) in each for each in verbs)

    @cached_property
    def matched(self) -> list[Mention]:
        """The foods that are on record."""
        return [m for m in self.mentions if m.recorded]

    @cached_property
    def new(self) -> list[Mention]:
        """The foods that are not on record, except those named without an amount where others have one."""
        return [m for m in self.mentions if not m.recorded and (not self.amounts or self._weighed(m))]

    def _weighed(self, mention: Mention) -> bool:
        """Whether a food has an amount in its own stretch."""
        before, behind = bisect_left(self._cuts, mention.start), bisect_left(self._cuts, mention.end)
        first = self._cuts[before - 1] + 1 if before else self.first
        last = self._cuts[behind] if behind < len(self._cuts) else self.end
        place = attrgetter("start")
        return bisect_left(self.amounts, first, key=place) < bisect_left(self.amounts, last, key=place)

    @cached_property
    def _cuts(self) -> list[int]:
        """The tokens at which it is cut into stretches."""
        return [n for n in range(self.first, self.end) if self.message.tokens[n].text in CUTS]

    @cached_property
    def amounts(self) -> list[Chunk]:
        """The amounts told, without a mere 'a'."""
        return [
            c
            for c in self.message.of("amount")
            if c.amount is not None and c.amount.text.lower() not in pack()["articles"] and c.amount.doubt != "unclear"
        ]

    @cached_property
    def opened(self) -> int:
        """The number of words in the opening that announces a correction; 0 if there is none."""
        words, concepts = self.words, pack()
        i, opens = 0, False
        while i < len(words):
            behind = max(concepts[name].end(words, i) or 0 for name in ("opens_fix", "slip_of_hand")) or None
            opens = opens or behind is not None
            if behind is None:
                behind = concepts["beside_fix"].end(words, i)
            if behind is None and not words[i].isalnum():
                behind = i + 1
            if behind is None:
                break
            i = behind
        return i if opens else 0

    @cached_property
    def starred(self) -> bool:
        """Whether an asterisk marks the right word, as people do in chats: '*120 the pasta', 'pasta 120*'."""
        at = [n for n in range(self.first, self.end) if self.message.tokens[n].text == STAR]
        if len(at) != 1 or self.end - self.first < 2:
            return False
        if at[0] in (self.first, self.end - 1):
            return True
        return not self.message.tokens[at[0]].spaced and self.message.tokens[at[0] + 1].spaced

    @property
    def announced(self) -> bool:
        """Whether its words announce a correction, wherever they stand."""
        return bool(self.opened) or self.starred or self.says("slip_of_hand", "should_have_told")

    @cached_property
    def closed(self) -> int:
        """The end of words that announce a correction right behind the first amount ('350 sorry'); 0 without them."""
        if not self.amounts or self.amounts[0].start != self.first:
            return 0
        at = self.amounts[0].end - self.first
        return max((pack()[name].end(self.words, at) or 0 for name in ("opens_fix", "slip_of_hand")), default=0)

    @cached_property
    def put_right(self) -> list[date]:
        """The past days that are named, where it is said of what was eaten then how much it was."""
        if not self.says("came_out_at") or self.says("in_addition", "like_before", "i_ate"):
            return []
        return sorted(day for day in self.days if day < self.message.around.today)

    @cached_property
    def names_others(self) -> bool:
        """Whether somebody else is named, or an animal: 'my boy', 'my brother's', 'the dog'."""
        words = self.message.words
        named = {singular(w.removesuffix("'s")) for w in self.message.said}
        others = words.people | words.pronouns - pack()["things_too"].words
        return not named.isdisjoint(others) or self.says("animals")

    def says(self, *concepts: str) -> bool:
        """Whether it contains a phrase of one of the concepts."""
        return any(pack()[name].found(self.words) for name in concepts)

    def behind(self, concept: str, token: int) -> bool:
        """Whether a phrase of the concept ends right before a token, ignoring articles."""
        at = token - self.first
        if any(at in pack()[concept].ends(self.words, i) for i in range(max(0, at - LONGEST), at)):
            return True
        while 0 < at <= len(self.words) and self.words[at - 1] in pack()["before_number"]:
            at -= 1
        return any(at in pack()[concept].ends(self.words, i) for i in range(max(0, at - LONGEST), at))

    def is_definite(self, mention: Mention) -> bool:
        """Whether a food is told as one that is known: 'the potatoes', 'thursday's potatoes', 'those two beers'."""
        if self.behind("the_recorded", mention.start):
            return True
        tokens = self.message.tokens
        count = next((c for c in self.amounts if c.end == mention.start), None)
        if count is not None and self.behind("the_recorded", count.start):
            return True
        day = next((c for c in self.message.of("moment") if c.end == mention.start), None)
        if day is None:
            return False
        return (
            tokens[day.end - 1].text.endswith("s")
            or self.behind("the_recorded", day.start)
            or tokens[day.start].text in pack()["the_recorded"]
        )

    @cached_property
    def denied(self) -> list[Chunk]:
        """The amounts that are said to be wrong."""
        opened = self.first + self.opened
        return [c for c in self.amounts if self.behind("not_that", c.start) and c.start > opened]

    def is_recent(self, each: Recorded, within: timedelta) -> bool:
        """Whether it was eaten today, at most `within` ago, and at the meal named, if any."""
        around, meal = self.message.around, self.message.when.meal
        if meal is not None and each.meal not in (None, meal):
            return False
        if each.message == max(one.message for one in self.all) and around.today - each.day <= timedelta(days=1):
            return True  # whenever it was eaten, it was told just before
        return each.day == around.today and (each.at is None or around.now - each.at <= within)


def is_on_record(amount: Amount, each: Recorded, unit: Amount | None = None) -> bool:
    """Whether an amount is the one on record; a number without a unit may take the unit of another in the message."""
    told = each.amount
    if told is not None and told.kind == amount.kind and told.unit == amount.unit and told.value == amount.value:
        return True
    counts = amount.kind in ("count", "bare") and told is not None and told.kind in ("count", "bare", "measure")
    if counts and told is not None and told.value == amount.value:
        return True
    grams = [amount.grams if amount.grams is not None else amount.value if amount.kind == "bare" else None]
    if amount.kind == "bare":
        grams += [g for beside in (unit, told) if (g := _in_unit_of(amount, beside)) is not None]
    return any(
        g is not None and abs(g - on_record) <= max(FITS * on_record, 0.5)
        for g in grams
        for on_record in (each.grams, each.edible_g)
    )


def _in_unit_of(amount: Amount, beside: Amount | None) -> float | None:
    """The grams of a bare number in the unit of another amount."""
    if beside is None or beside.kind != "mass" or not beside.grams or not beside.value:
        return None
    return amount.value * beside.grams / beside.value


def as_new(amount: Amount, each: Recorded, unit: Amount | None = None) -> Amount:
    """The new amount; a bare number counts what was counted before, or has the unit of the recorded amount."""
    told = each.amount
    if is_share(amount):
        share = amount.value * each.grams  # 'only ate 3/4 of it'
        return Amount(kind="mass", value=share, unit="g", grams=share, text=f"{share:g} g")
    if amount.kind != "bare":
        return amount
    counted = told is not None and (told.kind in ("count", "measure") or (told.kind == "bare" and told.value <= 12))
    if counted and told is not None and amount.value <= MOST_COUNTED:
        kind: Literal["count", "measure"] = "measure" if told.kind == "measure" else "count"
        return Amount(kind=kind, value=amount.value, unit=told.unit, text=f"{amount.text} {told.unit}".strip())
    if told is not None and told.kind == "volume" and amount.value <= MOST_TIMES * told.value:
        return replace(told, value=amount.value, text=f"{amount.text} {told.unit}", other=None)
    beside = unit if unit is not None and unit.kind == "mass" else told
    grams = _in_unit_of(amount, beside)
    another_unit = grams is not None and grams > MOST_TIMES * each.grams
    if beside is not None and beside.unit in (*OUNCES, "kg") and grams is not None and not another_unit:
        text = f"{amount.text} {beside.unit}"
        return replace(amount, kind="mass", value=amount.value, unit=beside.unit, grams=grams, text=text)
    return replace(amount, kind="mass", unit="g", grams=amount.value, text=f"{amount.text} g")


OUNCES = frozenset({"oz", "lb"})


def counted(each: Recorded) -> float | None:
    """How many pieces, cans or cups are on record; None if they were not counted."""
    told = each.amount
    if each.pieces is not None or told is None or told.kind not in ("count", "measure"):
        return each.pieces
    return told.value


def is_like(told: Amount, each: Recorded) -> bool:
    """Whether an amount may put a weigh-in right by its size."""
    if is_share(told):
        return False
    grams = as_new(told, each).grams
    if grams is None:
        return each.amount is not None and told.kind in ("count", "bare") and each.amount.kind == told.kind
    return each.grams / MOST_OFF_BY <= grams <= each.grams * MOST_OFF_BY


def is_energy_for(amount: Amount, each: Recorded) -> bool:
    """Whether a bare number is the energy of what was only estimated: 1000 after 'burger out, about 900 kcal'."""
    if each.amount is not None or each.kcal is None or each.kcal < LEAST_ESTIMATED or amount.kind != "bare":
        return False
    return each.kcal / MOST_OFF <= amount.value <= each.kcal * MOST_OFF


def changed(each: Recorded, amount: Amount, fix: Fix, unit: Amount | None = None) -> Change:
    """The change of a weigh-in to an amount, in the state stated with it; of an estimate, to its energy."""
    if is_energy_for(amount, each):
        return Change(which=Which(number=each.number), kcal=amount.value)
    states = [c for c in fix.message.of("state") if c.state is not None and c.state.value != each.state]
    told = (
        states[0] if len(states) == 1 and each.batch is None and not fix.behind("not_that", states[0].start) else None
    )
    return Change(
        which=Which(number=each.number),
        amount=as_new(amount, each, unit),
        unnamed=not fix.mentions and len(fix.amounts) == 1 and not fix.days,
        state=told.state if told is not None else None,
        method=told.method if told is not None else "",
    )


def masses_and_counts(amounts: Sequence[Chunk]) -> list[Chunk]:
    """The amounts, without counts of something whose weight is told behind them ('said 2, were 3 in the end, 44 g')."""
    weighed = [c for c in amounts if c.amount is not None and c.amount.kind == "mass"]
    counted = [c for c in amounts if c.amount is not None and c.amount.kind in ("count", "bare") and c not in weighed]
    if len(weighed) != 1 or not 1 <= len(counted) <= MOST_COUNTS:
        return list(amounts)
    small = all(c.amount is not None and c.amount.value <= MOST_COUNTED for c in counted)
    return weighed if small and weighed[0].start > counted[-1].start else list(amounts)
