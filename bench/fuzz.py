"""Random messages for the language: none may raise or lose a number, and time must stay linear in the length.

`python -m bench.fuzz --count 1000000 --seed 7` prints the seed first, so that every finding can be repeated.
"""

from __future__ import annotations

import argparse
import random
import re
import time
from collections.abc import Callable
from datetime import UTC, datetime
from functools import cache
from typing import Any

from bot.language import KnownBatch, LastWeighIn, Surroundings, understand
from bot.language.batch_meanings import CookBatch
from bot.language.figures import NUTRIENTS
from bot.language.held import held_in
from bot.language.lexicon import lexicon
from bot.language.meanings import Answer, Chatter, NotMine, Unclear
from bot.language.pack import pack
from domain import reference
from domain.quantities import Region

SIGNS = list("+-x*/%#:,;.!?()[]{}<>=&'\"@~|\\^_$£€°½¼¾⅓×−–…•\n\t\u200b\u202e\u00ad👍🍎\x00\x1b")
UNITS = [
    "g",
    "kg",
    "mg",
    "oz",
    "lb",
    "st",
    "ml",
    "cl",
    "dl",
    "l",
    "T",
    "t",
    "tsp",
    "tbsp",
    "cup",
    "cups",
    "pint",
    "fl",
    "oz",
    "gr",
    "gms",
    "lbs",
    "kcal",
    "kJ",
    "protein",
    "fat",
    "carbs",
    "%",
    "C",
    "min",
]
SHAPES = (
    "{n}{u} {s} {f}", "{f} {n}", "{s} {f} {n}{u}", "{n} {f}", "took {n} {u} from batch {d}",
    "new batch {f}: {n}{u} {s} {f}, {n} g {f}", "batch {d} cooked {n}", "#{d} was {n} {u}", "change last to {n}",
    "{f} {n} {u} with {p}", "{f} {n}, {p} {n}", "{n}-{n} {u} {f} {s}",
    "label {f}: serving {n} g, {n} kcal, protein {n}, fat {n}, carbs {n}", "tare {w} bowl {n} g",
    "{f} {n} in the {w} bowl", "my {w} of {f} is {n} g", "I weigh {n} {u}", "half of {n} {u} {f}",
    "{n} x {n}{u} {f}", "yesterday for lunch {n} g {f}", "at {d}:{n} {f} {n}g", "{w} had {n} g {f}",
    "target {n} kcal {n}p {n}f", "{g} g {f}, {g} g {f}", "{g} g {f}, {w} had {g}", "{f} {n}, {g} g {f}",
    "change last to {n}, {g} g {f}", "{g} g {f}, left half", "{g} g {f}, {g} g {f} for {w}", "not the {f}, {g} g {f}",
    "{g} g {f}, most of it went to the {w}", "batch {d} cooked {n}, {g} g {f}", "#{d} was {n}, {g} g {f}",
)  # fmt: skip


def surroundings(chance: random.Random) -> Surroundings:
    """A person with a few batches, vessels and labels."""
    batches = (KnownBatch(1, "chilli", True), KnownBatch(2, "white rice", False), KnownBatch(3, "monday curry", True))
    return Surroundings(
        now=datetime(2026, 3, 2, 12, tzinfo=UTC),
        region=chance.choice(list(Region)),
        batches=batches[: chance.randint(0, 3)],
        tares=(("blue bowl", 132.0), ("big pot", 1120.0))[: chance.randint(0, 2)],
        labels=("protein granola", "choc protein powder")[: chance.randint(0, 2)],
        last=LastWeighIn("banana", 118.0, "raw", None) if chance.random() < 0.5 else None,
    )


class Writer:
    """Generates messages: shapes of real ones, shuffled words of the lexicon, and noise."""

    def __init__(self, chance: random.Random) -> None:
        self.chance = chance
        known = lexicon()
        self.words = sorted(known.known)
        self.foods = sorted(reference.load().names)
        self.states = sorted(known.states)
        self.parts = sorted(known.parts)

    def number(self) -> str:
        """A number, mostly in forms people use."""
        c = self.chance
        kinds = (
            lambda: str(c.randint(0, 2000)), lambda: f"{c.random() * 500:.{c.randint(0, 3)}f}",
            lambda: f"{c.randint(0, 9)},{c.randint(0, 999)}", lambda: f"{c.randint(1, 9)}/{c.randint(0, 9)}",
            lambda: c.choice(["half", "a", "two", "1½", "dozen", "one hundred and five"]),
            lambda: str(10 ** c.randint(0, 40)), lambda: f"-{c.randint(0, 50)}",
            lambda: f"{c.randint(1, 999)}.{c.randint(0, 999):03d}.{c.randint(0, 9)}",
        )  # fmt: skip
        return c.choice(kinds)()

    def typo(self, word: str) -> str:
        """The word, sometimes with two letters swapped."""
        if len(word) < 3 or self.chance.random() > 0.2:
            return word
        i = self.chance.randrange(len(word) - 1)
        return word[:i] + word[i + 1] + word[i] + word[i + 2 :]

    def shape(self) -> str:
        """A message in one of the shapes."""
        c = self.chance
        text = c.choice(SHAPES)
        while "{" in text:
            at = text.index("{")
            key = text[at + 1]
            values: dict[str, Callable[[], str]] = {
                "n": self.number, "g": lambda: str(c.randint(13, 999)),
                "u": lambda: c.choice(UNITS), "s": lambda: c.choice(self.states),
                "f": lambda: self.typo(c.choice(self.foods)), "d": lambda: str(c.randint(0, 24)),
                "p": lambda: c.choice(self.parts), "w": lambda: c.choice(self.words),
            }  # fmt: skip
            value = values[key]()
            text = text[:at] + value.replace("{", "(").replace("}", ")") + text[at + 3 :]
        return text

    def mess(self) -> str:
        """Words, signs, numbers and letters of any script in any order."""
        c = self.chance
        return "".join(
            c.choice(
                (
                    lambda: c.choice(self.words),
                    lambda: c.choice(SIGNS),
                    self.number,
                    lambda: c.choice(UNITS),
                    lambda: c.choice(self.foods),
                    lambda: chr(c.randint(1, 0x2FFF)),
                )
            )()
            + c.choice(("", " ", " "))
            for _ in range(c.randint(0, 14))
        )

    def message(self) -> str:
        """One to three items, joined as people join them."""
        c = self.chance
        told = [self.shape() if c.random() < 0.6 else self.mess() for _ in range(c.choice((1, 1, 1, 2, 3)))]
        return c.choice((", ", " and ", "\n", ". ", " ", "; ", " but ")).join(told)


PLAIN = re.compile(r"(?:^|[;\n] *|, +|(?<![0-9]),|\band +)([1-9][0-9]{1,2}) g ([a-z]+(?: [a-z]+){0,2})(?=$|[,;\n])")
"""A weight in grams right before a few words, by itself between commas."""
NOTHING = (Answer, Chatter, NotMine, Unclear)
"""Meanings whose reply is that nothing was recorded."""


@cache
def _nutrients() -> frozenset[str]:
    """The words with which a nutrient's name begins: '43 g protein' is no weigh-in."""
    return frozenset[str]().union(*(pack()[name].words for name in NUTRIENTS))


def _is_of_no_pot(meaning: Any) -> bool:
    """Whether a pot that nobody knows is said to be done: it is asked for, and nothing is recorded."""
    return isinstance(meaning, CookBatch) and meaning.batch is not None and meaning.batch.number is None


def lost(text: str, meanings: list[Any]) -> list[str]:
    """The weights of plain pieces of a message ('…, 180 g rice, …') that are in none of its meanings."""
    if any(isinstance(meaning, NOTHING) or _is_of_no_pot(meaning) for meaning in meanings):
        return []
    held = list(held_in(meanings))
    values = {round(each, 3) for each in held if isinstance(each, float)}
    texts = " ".join(each for each in held if isinstance(each, str))
    told = [weight for weight, name in PLAIN.findall(text) if name.split()[0] not in _nutrients()]
    return [w for w in told if float(w) not in values and not re.search(rf"(?<![0-9.]){w}(?![0-9])", texts)]


def run(count: int, seed: int) -> float:
    """Reads `count` messages. Returns messages a second.

    Raises what a message raised, and AssertionError where one lost a number, both with its text.
    """
    chance = random.Random(seed)
    writer = Writer(chance)
    arounds = [surroundings(chance) for _ in range(24)]
    begun = time.perf_counter()
    for done in range(1, count + 1):
        text = writer.message()
        try:
            meanings = understand(text, chance.choice(arounds))
        except Exception as error:
            raise AssertionError(f"seed {seed}, message {done}: {text!r}") from error
        if not meanings:
            raise AssertionError(f"seed {seed}, message {done} means nothing at all: {text!r}")
        missing = lost(text, meanings)
        if missing:
            raise AssertionError(f"seed {seed}, message {done} loses {', '.join(missing)}: {text!r}: {meanings}")
        if done % 50_000 == 0:
            print(f"{done:,} messages, {done / (time.perf_counter() - begun):,.0f} a second", flush=True)
    return count / (time.perf_counter() - begun)


def main() -> None:
    """Command line entry point."""
    parser = argparse.ArgumentParser(description="Random messages; none may raise or lose a number.")
    parser.add_argument("--count", type=int, default=1_000_000)
    parser.add_argument("--seed", type=int, default=random.SystemRandom().randrange(10**6))
    given = parser.parse_args()
    print(f"seed {given.seed}", flush=True)
    rate = run(given.count, given.seed)
    print(f"{given.count:,} messages without an exception or a loss, {rate:,.0f} a second, seed {given.seed}")


if __name__ == "__main__":
    main()
