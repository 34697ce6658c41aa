"""Every template is said aloud and read back: no template is out of reach, and none means something else."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import pytest

from bot.language.grammar import _SYMBOL
from bot.language.intents import BUILDERS, grammar
from bot.language.intents.openings import OPENS, opening
from bot.language.message import Message, read
from bot.language.pack import IntentData, pack
from bot.language.slots import SLOTS, clause_of
from bot.language.surroundings import KnownBatch, LastWeighIn, Surroundings

NOW = datetime(2026, 3, 4, 18, 0, tzinfo=UTC)
AROUND = Surroundings(
    now=NOW,
    batches=(
        KnownBatch(1, "chickpea curry", cooked=True, ingredients=("onion", "chickpeas"), boxes=4),
        KnownBatch(2, "roti", cooked=True, pieces=12, piece="roti", boxes=0),
        KnownBatch(
            3, "stew", cooked=False, cooking_since=NOW - timedelta(hours=1), ingredients=("beef", "onion"), boxes=0
        ),
    ),
    closed=(KnownBatch(4, "dal", cooked=True, ingredients=("red lentils",)),),
    tares=(("blue pot", 1432.0),),
    last=LastWeighIn("almonds", 30.0, "as_sold", None),
    clients=("Ben", "Eva"),
)
SAID = {
    "amount": "180 g", "weight": "210 g", "number": "2", "count": "4", "hash": "#3", "batch": "batch 1",
    "food": "onion",
    "thing": "onion", "words": "400 g rice", "text": "hello there",
    "person": "Ben", "when": "yesterday", "day": "yesterday",
    "clock": "at 7:30", "meal": "lunch", "nutrient": "protein", "piece": "slice", "weekday": "monday",
    "state": "cooked",
    "vessel": "in the blue pot", "pot": "the curry", "stretch": "150 g peas", "share": "a quarter",
    "pan": "in the karahi",
    "place": "from the freezer", "pieces": "rotis", "part": "bones", "other": "dan", "newname": "green curry",
    "old": "dal",
    "times": "double", "rest": "curry: 400 g onion", "list": "150 g peas and 40 g butter",
    "aside": "this morning",
    "sheet_words": "show me", "list_words": "show", "target_words": "what is",
    "persons": "Ben and Eva", "persons_own": "Ben's", "code": "dQw4w9_WgXcQ-aB3dE5fG7", "called": "Eva", "word": "she",
    "name_words": "soup pot", "vessel_name": "soup pot", "known_vessel": "blue pot",
    "own_measure": "ladle", "one_measure": "2 ladles", "measured_food": "soup",
    "reminder_words": "to weigh my lunch", "plain_words": "we agreed on", "reminder_kind": "lunch",
    "month": "february", "days": "30 days", "minutes": "20 minutes", "weekdays": "on weekdays",
    "from_day": "from monday", "until_day": "until friday", "zone": "Lisbon", "region": "metric",
    "body": "82.4 kg", "mass_body": "82.4 kg", "height": "178 cm", "measured_height": "178 cm", "years": "34",
    "rate": "lose half a kilo a week", "target_said": "2100 kcal",
    "figures": "161 kcal, protein 3 g, fat 5 g, carbs 26 g", "serving": "serving 40 g", "label_words": "oat bar",
}  # fmt: skip
"""What fills each slot."""
NAMED = {
    "tail": "it was old", "excuse": "sorry", "before": "right", "old": "beef", "more": "80 g rice", "nothing": "today",
    "why": "it tastes odd", "changes": "100 g blueberries", "items": "150 g peas and 40 g butter", "word": "yogurt",
    "others": "3 for tim", "also": "200 g curry", "of": "12", "second": "#5", "third": "#6",
    "fourth": "#7", "last": "#6",
    "name": "walnuts", "other": "cheddar", "foods": "oats", "colleague": "Omar",
}  # fmt: skip
"""What fills slots of these names, unless the slot's kind says otherwise."""
KINDS_OF_NAMES = {
    "old": ("food", "thing"), "name": ("food",), "word": ("thing", "words"), "other": ("food", "thing"),
    "second": ("hash",), "last": ("hash",), "of": ("count",), "more": ("stretch",),
    "items": ("stretch", "words", "list"), "foods": ("words",),
}  # fmt: skip
OF_INTENTS = {
    "VesselHolds": {"amount": "240 ml"}, "CookBatch": {"pot": "the stew", "thing": "beef"},
    "Help": {"words": "do that"}, "Listing": {"words": "oat bar"}, "NotMine": {"words": "so far"},
    "AboutSelf": {"words": "my second trimester", "years": "15"},
    "Invite": {"text": "Eva Moss"}, "OnTheScale": {"words": "yogurt"}, "SaveLabel": {"label_words": "label oat bar"},
    "SaveTemplate": {"text": ": hello there"},
}  # fmt: skip
"""What fills slots of these intents instead."""
EITHER = {
    "TakeShare": ("Left",), "ForgetWord": ("DeleteSeveral",), "Privacy": ("WhoSees",), "Memory": ("Privacy",),
    "OpenBatch": ("Listing",), "Combination": ("Repeat",), "OnTheScale": ("AddIngredients",),
    "SetReminder": ("Eaten",), "ClientHistory": ("ClientSheet",),
}  # fmt: skip
"""Intents that share some of their words: 'what is left of the curry' asks, 'forget what …' may be of a weigh-in, 'who
sees my …' is answered by coaches, 'what do you know' by what is kept, 'open batch' by those that are open, 'lunch at
7:30' tells when something was eaten, 'Ben's yesterday' is a sheet of one day."""
PHRASES_EACH = 2
"""Phrases of a concept that are tried beside its first."""

Part = Callable[["Saying"], Iterator[str]]


@dataclass
class Saying:
    """How a template is said: which alternatives are taken, and whether what may be missing is said."""

    choices: dict[int, int]
    optional: bool
    phrases: dict[int, int]


class Sampler:
    """A template as a tree, from which texts are made."""

    def __init__(self, text: str, means: str) -> None:
        self.said = SAID | OF_INTENTS.get(means, {})
        self.symbols: list[tuple[str, str]] = []
        at = 0
        while at < len(text.rstrip()):
            symbol = _SYMBOL.match(text, at)
            assert symbol is not None, text
            assert symbol.lastgroup is not None, text
            self.symbols.append((symbol.lastgroup, symbol[symbol.lastgroup]))
            at = symbol.end()
        self.at = 0
        self.alternatives: dict[int, int] = {}
        self.concepts: dict[int, int] = {}
        self.say = self._choice()

    def samples(self, dice: random.Random) -> list[str]:
        """Texts in which every alternative is said at least once, with and without what may be missing."""
        sayings = [Saying({}, optional, {}) for optional in (False, True)]
        for node, count in self.alternatives.items():
            sayings.extend(Saying({node: n}, True, {}) for n in range(1, count))
        for node, count in self.concepts.items():
            picked = dice.sample(range(count), min(count, PHRASES_EACH))
            sayings.extend(Saying({}, False, {node: n}) for n in picked)
        return list(dict.fromkeys(" ".join(self.say(saying)) for saying in sayings))

    def _choice(self) -> Part:
        runs = [self._run()]
        while self._next() == ("sign", "|"):
            self.at += 1
            runs.append(self._run())
        node = len(self.alternatives)
        self.alternatives[node] = len(runs)
        return lambda saying: runs[saying.choices.get(node, 0)](saying)

    def _run(self) -> Part:
        parts: list[Part] = []
        while self.at < len(self.symbols) and self._next() not in (("sign", "|"), ("sign", "]"), ("sign", ")")):
            parts.append(self._one())
        return lambda saying: (word for part in parts for word in part(saying))

    def _one(self) -> Part:
        kind, text = self.symbols[self.at]
        self.at += 1
        if kind == "word":
            return lambda saying: iter((text,))
        if kind == "slot":
            slot, _, name = text.partition(":")
            said = NAMED[name] if name in NAMED and slot in KINDS_OF_NAMES.get(name, (slot,)) else self.said[slot]
            return lambda saying: iter((said,))
        if kind == "concept":
            phrases = sorted(
                (" ".join(p) for some in pack()[text].by_first.values() for p in some), key=lambda p: (len(p), p)
            )
            node = len(self.concepts)
            self.concepts[node] = len(phrases)
            return lambda saying: iter((phrases[saying.phrases.get(node, len(phrases) // 2)],))
        before = set(self.alternatives)
        inner = self._choice()
        self.at += 1
        if text != "[":
            return inner
        inside = set(self.alternatives) - before
        return lambda saying: inner(saying) if saying.optional or inside & set(saying.choices) else iter(())

    def _next(self) -> tuple[str, str]:
        return self.symbols[self.at] if self.at < len(self.symbols) else ("", "")


def _matches(intent: IntentData, template: str, message: Message) -> bool:
    start, end = message.chunks[0].start, message.chunks[-1].end
    clause = clause_of(message.line, start, end, pack())
    return any(r.template == template and r.means == intent.means for r in grammar().readings(clause))


def _read_as(message: Message) -> str:
    """The intent of the first reading that means anything in the message."""
    clause = clause_of(message.line, message.chunks[0].start, message.chunks[-1].end, pack())
    for reading in grammar().readings(clause):
        build = BUILDERS.get(reading.means)
        if build is None or build(reading, message) is not None:
            return reading.means
    return OPENS if opening(message) is not None else ""


TEMPLATES = [(intent, text) for intent in pack().intents for text in intent.say]


def test_every_slot_has_something_that_fills_it() -> None:
    assert set(SLOTS) <= set(SAID)


@pytest.mark.parametrize(("intent", "template"), TEMPLATES, ids=lambda value: value if isinstance(value, str) else "")
def test_a_template_reads_what_it_says(intent: IntentData, template: str) -> None:
    samples = Sampler(template, intent.means).samples(random.Random(template))
    for sample in samples:
        message = read(sample, AROUND)
        if intent.means != OPENS:
            assert _matches(intent, template, message), sample
        found = _read_as(message)
        assert found in (intent.means, *EITHER.get(intent.means, ())), f"{sample!r} is read as {found}"
