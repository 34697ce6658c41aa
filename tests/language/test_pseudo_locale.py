"""How much English is left in code: the pack in another spelling has to read what it reads in its own.

Every word of the pack, of the word lists and of the food table is put through a fixed substitution of letters, and so
are the messages of the corpora. What is then read otherwise hangs on a word or an ending that stands in code. The
numbers here are ratchets: they may only go down.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from bot.language import (
    counting,
    figures,
    intents,
    lexicon,
    modifiers,
    moments,
    name_tables,
    names,
    noise,
    number_words,
    pack,
    scanner,
    shorthand,
    word_lists,
)
from bot.language.setting_meanings import SetReminder
from bot.language.surroundings import Surroundings
from bot.language.understand import understand
from domain import reference
from domain.quantities import UNITS

from .corpus import FILES, read

AROUND = Surroundings(now=datetime(2026, 3, 4, 12, tzinfo=UTC))
VOWELS, CONSONANTS = "aeiou", "bcdfghjklmnpqrstvwxyz"
LETTERS = VOWELS + CONSONANTS
MOVED = VOWELS[1:] + VOWELS[0] + CONSONANTS[1:] + CONSONANTS[0]
TO = str.maketrans(LETTERS + LETTERS.upper(), MOVED + MOVED.upper())
BACK = str.maketrans(MOVED + MOVED.upper(), LETTERS + LETTERS.upper())
CACHED = (
    pack.pack, lexicon.lexicon, lexicon.with_names, number_words.number_words,
    intents.grammar, moments.moment_openers, figures._openers,
    name_tables.table_names, name_tables.table_fat_classes, name_tables.personal_names, names.vocabulary,
    modifiers._phrases,
    scanner.readers_of, counting.amount_openers, word_lists.lists_of, noise._noise_openers,
    shorthand._shorthand,
)  # fmt: skip
"""What is read once and has to be read anew in the other spelling."""
MOST_READ_OTHERWISE = 696
MOST_WORDS_IN_CODE = 1125


def spell(text: str) -> str:
    return text.translate(TO)


def same(meant: Any, said: Any) -> bool:
    """Whether two meanings are the same but for what they quote."""
    if is_dataclass(meant) and type(meant) is type(said):
        told = [field.name for field in fields(meant) if field.name != "text"]
        return all(same(getattr(meant, name), getattr(said, name)) for name in told)
    if isinstance(meant, tuple) and isinstance(said, tuple):
        return len(meant) == len(said) and all(map(same, meant, said))
    if isinstance(meant, str) and isinstance(said, str):
        return meant == said or meant.casefold() == said.translate(BACK).casefold()
    return bool(meant == said)


@pytest.fixture
def other_spelling(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    table = reference.load()
    units = UNITS

    def unit_names(kind: Any) -> dict[str, str]:
        return {spell(n): u.symbol for u in units.values() if u.kind is kind for n in u.names if " " not in n}

    def unit_phrases() -> tuple[tuple[tuple[str, ...], str], ...]:
        told = [(tuple(spell(n).split()), u.symbol) for u in units.values() for n in u.names if " " in n]
        return tuple(sorted(told, key=lambda phrase: -len(phrase[0])))

    def table_names() -> name_tables.Names:
        found = name_tables.Names()
        for alias, food in table.names.items():
            found.add(spell(alias), food)
        for word in table.kinds:
            found.add(spell(word), f"kinds:{word}")
        return found

    spelled = table_names()
    with monkeypatch.context() as patched:
        patched.setattr(pack, "read_pack", partial(pack.read_pack, spell=spell))
        patched.setattr(number_words, "read_number_words", partial(number_words.read_number_words, spell=spell))
        patched.setattr(lexicon, "read_lists", partial(lexicon.read_lists, spell))
        patched.setattr(word_lists, "read_word_lists", partial(word_lists.read_word_lists, spell=spell))
        patched.setattr(lexicon, "_units", unit_names)
        patched.setattr(lexicon, "_unit_phrases", unit_phrases)
        for module in (name_tables, names):
            patched.setattr(module, "table_names", lambda: spelled)
        for each in CACHED:
            each.cache_clear()
        yield
    for each in CACHED:
        each.cache_clear()


@pytest.fixture(scope="module")
def understood() -> dict[str, list[Any]]:
    messages = {case.say for file in FILES for case in read(file)}
    return {text: understand(text, AROUND) for text in sorted(messages)}


def test_the_pack_in_another_spelling_reads_the_same(understood: dict[str, list[Any]], other_spelling: None) -> None:
    otherwise = []
    for text, meant in understood.items():
        said = understand(spell(text), AROUND)
        if len(meant) != len(said) or not all(map(same, meant, said)):
            otherwise.append(text)
    print(f"{len(otherwise)} of {len(understood)} messages are read otherwise")  # noqa: T201
    assert len(understood) > 2000
    assert len(otherwise) <= MOST_READ_OTHERWISE, "\n".join(otherwise[:20])


def test_a_templates_words_are_the_packs(other_spelling: None) -> None:
    assert understand(spell("remind me at 21:15"), AROUND) == [SetReminder(what="evening", time="21:15")]
    assert not any(isinstance(meaning, SetReminder) for meaning in understand("remind me at 21:15", AROUND))


def literals(tree: ast.AST) -> Iterator[str]:
    """Words of letters that code compares with, looks up in a set or a tuple, or passes to `has`."""
    named = {id(part) for node in ast.walk(tree) if _is_literal(node) for part in ast.walk(node)}
    for node in ast.walk(tree):
        held: list[ast.expr] = []
        if id(node) in named:
            continue
        if isinstance(node, ast.Compare):
            held = [node.left, *node.comparators]
        elif isinstance(node, (ast.Set, ast.Tuple, ast.List)):
            held = list(node.elts)
        elif isinstance(node, ast.Dict):
            held = [key for key in node.keys if key is not None]
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            held = list(node.args) if node.func.attr in ("has", "has_any") else []
        for each in held:
            if isinstance(each, ast.Constant) and isinstance(each.value, str) and _is_word(each.value):
                yield each.value


def _is_literal(node: ast.AST) -> bool:
    """Whether it is a type that names its values: those are no words that people say."""
    return isinstance(node, ast.Subscript) and isinstance(node.value, ast.Name) and node.value.id == "Literal"


def _is_word(text: str) -> bool:
    return bool(text) and all(c.isalpha() or c in " '-" for c in text)


def _values(tree: ast.AST) -> set[str]:
    """The strings that types name as their values: kinds of chunks and of amounts, places, reasons."""
    found = {id(child): child for node in ast.walk(tree) if _is_literal(node) for child in ast.walk(node)}
    return {str(each.value) for each in found.values() if isinstance(each, ast.Constant)}


def test_words_in_code_only_go_down() -> None:
    folder = Path(pack.__file__).parent
    trees = {str(path.relative_to(folder)): ast.parse(path.read_text("utf-8")) for path in folder.rglob("*.py")}
    values = set[str]().union(*map(_values, trees.values()))
    counted = {name: sum(word not in values for word in literals(tree)) for name, tree in trees.items()}
    print(sum(counted.values()), sorted(counted.items(), key=lambda each: -each[1]))  # noqa: T201
    assert sum(counted.values()) <= MOST_WORDS_IN_CODE, counted
