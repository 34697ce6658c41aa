"""Templates with slots: sentences written as data, matched so that they account for every word of a clause.

The syntax of a template, a little of what kitchen talk needs:

    undo [that|it]            words; what is in brackets may be missing; | parts alternatives
    (delete|remove) {hash}    one of several; a slot, filled by the parser of that name (`slots.py`)
    {weight:was}              a slot under a name of its own
    <eating> {items}          a concept of the pack

Politeness and punctuation are skipped wherever they stand; nothing else is.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import reduce
from itertools import islice, takewhile
from operator import or_

from bot.language.clause import Clause, Conditions
from bot.language.pack import Concept, IntentData, Pack, opening, plain

Captures = tuple[tuple[str, object], ...]
"""Slots filled so far, by name, in order."""
MOST_MATCHES = 24
"""Ways in which one template may fit one clause before the rest are left alone."""
LONGEST_CLAUSE = 120
"""Tokens of a clause that templates are tried on; what is longer is a story or a list."""
OPEN_END = "{text}"
"""The slot that takes all that is left, as typed."""
TELLING_SLOTS = frozenset((
    "amount", "batch", "clock", "code", "count", "known_vessel", "number", "pan", "persons_own", "pot", "share",
    "times", "vessel_name", "weekdays", "weight", "when",
))  # fmt: skip
"""Slots that few clauses can fill and that cost little to look for: without them a template is not tried."""
EMPTY: Mapping[str, frozenset[str]] = {}
_SYMBOL = re.compile(r"\s*(?:(?P<word>[^\s\[\]()|{}<>]+)|<(?P<concept>\w+)>|\{(?P<slot>[\w:]+)\}|(?P<sign>[\[\]()|]))")


Matcher = Callable[[Clause, int, Captures], Iterator[tuple[int, Captures]]]
ANYTHING = None
"""What a part opens with that may begin with any token."""


@dataclass(frozen=True)
class Part:
    """A piece of a template: how it matches, and the words of which it needs one at least."""

    match: Matcher
    needs: tuple[frozenset[str], ...] = ()
    slots: frozenset[str] = frozenset()
    """The telling slots that it cannot do without."""
    opens: frozenset[str] | None = ANYTHING
    """The words with which it can begin."""
    closes: frozenset[str] | None = ANYTHING
    """The words with which it can end."""
    empty: bool = False
    """Whether it may be missing."""


@dataclass(frozen=True)
class Template:
    """One way of saying an intent."""

    means: str
    values: Mapping[str, object]
    part: Part
    text: str
    needs: int
    """What a clause has to say for it (`Conditions`)."""
    opens: int
    """What has to be among the clause's first words."""
    closes: int
    """What has to be among its last words."""
    open_ended: bool = False
    """Whether it ends with any text, and therefore may be of any length."""


@dataclass(frozen=True)
class Reading:
    """A template that fits a clause: what it means, with its slots filled."""

    means: str
    values: Mapping[str, object]
    template: str

    def __getitem__(self, name: str) -> object:
        return self.values[name]


@dataclass
class Grammar:
    """All templates of a pack, found by the words that they need."""

    templates: Sequence[Template]
    conditions: Conditions
    by_word: dict[str, list[int]] = field(default_factory=dict)
    """Templates by the words of their rarest need."""
    anywhere: list[int] = field(default_factory=list)
    """Templates that need no word: slots alone."""

    def readings(self, clause: Clause, without: Container[str] = ()) -> Iterator[Reading]:
        """The ways to read the whole clause, in the order of the templates; none of the intents `without`."""
        long = clause.end - clause.start > LONGEST_CLAUSE
        said = frozenset(clause.words[clause.start : clause.end])
        unsaid = ~self.conditions.met(said)
        not_first, not_last = ~self.conditions.met(_first_words(clause)), ~self.conditions.met(_last_words(clause))
        tried = set(self.anywhere).union(*(self.by_word[word] for word in said if word in self.by_word))
        for n in sorted(tried):
            template = self.templates[n]
            if template.needs & unsaid or template.opens & not_first or template.closes & not_last:
                continue
            if (long and not template.open_ended) or template.means in without:
                continue
            if clause.holds(template.part.slots):
                for captures in islice(_whole(template.part.match, clause), MOST_MATCHES):
                    yield Reading(template.means, {**template.values, **dict(captures)}, template.text)


def compiled(
    intents: Iterable[IntentData],
    pack: Pack,
    slot_words: Mapping[str, frozenset[str]] = EMPTY,
    slot_openings: Mapping[str, frozenset[str]] = EMPTY,
) -> Grammar:
    """The grammar of the intents; a template that is written wrongly raises ValueError with its text.

    `slot_words`: for slots that hold one of certain words at least, those words; `slot_openings`: for those that begin
    with one of certain words, what those open with (`opening`).
    """
    conditions, leaves = Conditions(), _Leaves(pack, slot_words, slot_openings)
    templates: list[Template] = []
    for intent in intents:
        for text in intent.say:
            part = _Writing(text, leaves).template()
            needs = reduce(or_, map(conditions.bit, part.needs), 0)
            opens, closes = (0 if words is None else conditions.bit(words) for words in (part.opens, part.closes))
            open_ended = text.endswith(OPEN_END)
            templates.append(Template(intent.means, intent.values, part, text, needs, opens, closes, open_ended))
    common = Counter(word for template in templates for need in template.part.needs for word in need)
    needs_of_all = {need for template in templates for need in template.part.needs}
    shared = {need: sum(common[word] for word in need) for need in needs_of_all}
    grammar = Grammar(templates, conditions)
    for n, template in enumerate(templates):
        if not template.part.needs:
            grammar.anywhere.append(n)
            continue
        # Found by the need that the fewest templates share: the others are looked at only after it.
        for word in min(template.part.needs, key=shared.__getitem__):
            grammar.by_word.setdefault(word, []).append(n)
    return grammar


def _whole(match: Matcher, clause: Clause) -> Iterator[Captures]:
    for end, captures in match(clause, clause.start, ()):
        if all(clause.skipped[at] for at in range(end, clause.end)):
            yield captures


def _places(clause: Clause, i: int) -> Sequence[int]:
    """Token i, and the ones behind it that are reached by skipping."""
    last = i
    while last < clause.end and clause.skipped[last]:
        last += 1
    return range(i, last + 1)


def _first_words(clause: Clause) -> list[str]:
    """The words of a clause with which a template that fits it may begin."""
    return [clause.openings[at] for at in _places(clause, clause.start) if at < clause.end]


def _last_words(clause: Clause) -> list[str]:
    """The words of a clause with which a template that fits it may end."""
    at = clause.end - 1
    while at > clause.start and clause.skipped[at]:
        at -= 1
    return list(clause.words[at : clause.end])


def _word(word: str, pack: Pack) -> Part:
    forms: list[tuple[str, ...]] = [(word,)]
    if word in pack.short_forms:
        forms.append(pack.short_forms[word])

    def match(clause: Clause, i: int, captures: Captures) -> Iterator[tuple[int, Captures]]:
        for at in _places(clause, i):
            for form in forms:
                if at + len(form) <= clause.end and tuple(clause.words[at : at + len(form)]) == form:
                    yield at + len(form), captures

    telling = frozenset(max(form, key=len) for form in forms)
    first, last = frozenset(opening(form[0]) for form in forms), frozenset(form[-1] for form in forms)
    return Part(match, (telling,), opens=first, closes=last)


def _concept(found: Concept) -> Part:
    def match(clause: Clause, i: int, captures: Captures) -> Iterator[tuple[int, Captures]]:
        for at in _places(clause, i):
            if at < clause.end:
                for end in found.ends(clause.words, at):
                    if end <= clause.end:
                        yield end, captures

    last = frozenset(phrase[-1] for phrases in found.by_first.values() for phrase in phrases)
    return Part(match, (found.telling,), opens=frozenset(map(opening, found.words)), closes=last)


def _slot(kind: str, name: str, words: frozenset[str] | None, opens: frozenset[str] | None) -> Part:
    def match(clause: Clause, i: int, captures: Captures) -> Iterator[tuple[int, Captures]]:
        for at in _places(clause, i):
            if at < clause.end:
                for value, end in clause.fill(kind, at, clause.end):
                    yield end, (*captures, (name, value))

    slots = frozenset((kind,)) & TELLING_SLOTS
    return Part(match, () if words is None else (words,), slots, opens)


def _sequence(parts: Sequence[Part]) -> Part:
    if len(parts) == 1:
        return parts[0]

    def match(clause: Clause, i: int, captures: Captures, n: int = 0) -> Iterator[tuple[int, Captures]]:
        if n == len(parts):
            yield i, captures
            return
        if _can_open(parts[n], clause, i):
            for end, more in parts[n].match(clause, i, captures):
                yield from match(clause, end, more, n + 1)

    needs = tuple(need for part in parts for need in part.needs)
    slots = frozenset[str]().union(*(part.slots for part in parts))
    before = len(list(takewhile(lambda part: part.empty, parts)))
    behind = len(list(takewhile(lambda part: part.empty, reversed(parts))))
    opens = _any_of([part.opens for part in parts[: before + 1]])
    closes = _any_of([part.closes for part in parts[-behind - 1 :]])
    return Part(match, needs, slots, opens, closes, before == len(parts))


def _any_of(words: Sequence[frozenset[str] | None]) -> frozenset[str] | None:
    """The words of one of several parts."""
    known = [some for some in words if some is not None]
    return frozenset[str]().union(*known) if len(known) == len(words) else ANYTHING


def _alternatives(parts: Sequence[Part]) -> Part:
    if len(parts) == 1:
        return parts[0]

    def match(clause: Clause, i: int, captures: Captures) -> Iterator[tuple[int, Captures]]:
        for part in parts:
            if _can_open(part, clause, i):
                yield from part.match(clause, i, captures)

    needs: tuple[frozenset[str], ...] = ()
    if all(part.needs for part in parts):
        needs = (frozenset[str]().union(*(min(part.needs, key=_commonness) for part in parts)),)
    slots = frozenset.intersection(*(part.slots for part in parts))
    opens, closes = _any_of([part.opens for part in parts]), _any_of([part.closes for part in parts])
    return Part(match, needs, slots, opens, closes, any(part.empty for part in parts))


def _commonness(need: frozenset[str]) -> tuple[int, int]:
    """How common it is that one of the words is said, so far as it can be guessed: few and long words are rare."""
    return len(need), -min(map(len, need), default=0)


def _can_open(part: Part, clause: Clause, i: int) -> bool:
    """Whether a part can begin at token i, or behind what is skipped there."""
    opens = part.opens
    if opens is None or part.empty:
        return True
    openings, skipped = clause.openings, clause.skipped
    while i < clause.end:
        if openings[i] in opens:
            return True
        if not skipped[i]:
            return False
        i += 1
    return False


def _optional(part: Part) -> Part:
    def match(clause: Clause, i: int, captures: Captures) -> Iterator[tuple[int, Captures]]:
        if _can_open(part, clause, i):
            yield from part.match(clause, i, captures)
        yield i, captures

    return Part(match, opens=part.opens, closes=part.closes, empty=True)


class _Leaves:
    """The words, concepts and slots of templates as parts, each made once."""

    def __init__(
        self, pack: Pack, slot_words: Mapping[str, frozenset[str]], slot_openings: Mapping[str, frozenset[str]]
    ) -> None:
        self.pack = pack
        self.slot_words = slot_words
        self.slot_openings = slot_openings
        self._made: dict[tuple[str, str], Part] = {}

    def part(self, kind: str, text: str) -> Part:
        """The part that a symbol of a template stands for."""
        if (kind, text) not in self._made:
            self._made[kind, text] = self._make(kind, text)
        return self._made[kind, text]

    def _make(self, kind: str, text: str) -> Part:
        if kind == "word":
            return _word(self.pack.spell(plain(text)), self.pack)
        if kind == "concept":
            return _concept(self.pack[text])
        slot, _, name = text.partition(":")
        return _slot(slot, name or slot, self.slot_words.get(slot), self.slot_openings.get(slot))


class _Writing:
    """Reads the text of a template."""

    def __init__(self, text: str, leaves: _Leaves) -> None:
        self.text = text
        self.leaves = leaves
        self.symbols = self._symbols()
        self.at = 0

    def _symbols(self) -> list[tuple[str, str]]:
        found: list[tuple[str, str]] = []
        at = 0
        while at < len(self.text.rstrip()):
            symbol = _SYMBOL.match(self.text, at)
            if symbol is None or symbol.lastgroup is None:
                raise ValueError(f"cannot read the template {self.text!r} at {at}")
            found.append((symbol.lastgroup, symbol[symbol.lastgroup]))
            at = symbol.end()
        return found

    def template(self) -> Part:
        part = self._choice()
        if self.at != len(self.symbols):
            raise ValueError(f"unmatched bracket in the template {self.text!r}")
        return part

    def _choice(self) -> Part:
        parts = [self._run()]
        while self._next() == ("sign", "|"):
            self.at += 1
            parts.append(self._run())
        return _alternatives(parts)

    def _run(self) -> Part:
        parts: list[Part] = []
        while self.at < len(self.symbols) and self._next() not in (("sign", "|"), ("sign", "]"), ("sign", ")")):
            parts.append(self._one())
        if not parts:
            raise ValueError(f"an empty alternative in the template {self.text!r}")
        return _sequence(parts)

    def _one(self) -> Part:
        kind, text = self.symbols[self.at]
        self.at += 1
        if kind == "concept" and text not in self.leaves.pack.concepts:
            raise ValueError(f"no concept <{text}> in the pack, in the template {self.text!r}")
        if kind != "sign":
            return self.leaves.part(kind, text)
        inner = self._choice()
        closing = "]" if text == "[" else ")"
        if self._next() != ("sign", closing):
            raise ValueError(f"unmatched {text} in the template {self.text!r}")
        self.at += 1
        return _optional(inner) if text == "[" else inner

    def _next(self) -> tuple[str, str]:
        return self.symbols[self.at] if self.at < len(self.symbols) else ("", "")
