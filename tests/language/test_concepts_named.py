"""Every concept that code asks for by name is one of the pack's: an unknown name would never be found in any text."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

from bot.language import pack

FOLDER = Path(pack.__file__).parent
ASKING = {"cue": 0, "places": 0, "spans": 1, "isdisjoint": 0}
"""Calls whose arguments from that place on are names of concepts; of `isdisjoint` only where it is asked of `said`."""


def asked(module: Path) -> Iterator[str]:
    """The concepts that a module asks for in calls, by name or as a constant that holds names."""
    values = vars(import_module(".".join(("bot", "language", *module.relative_to(FOLDER).with_suffix("").parts))))
    for node in ast.walk(ast.parse(module.read_text("utf-8"))):
        if not isinstance(node, ast.Call):
            continue
        name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        if name not in ASKING or (
            name == "isdisjoint" and getattr(getattr(node.func, "value", None), "attr", "") != "said"
        ):
            continue
        for told in node.args[ASKING[name] :]:
            each = told.value if isinstance(told, ast.Starred) else told
            if isinstance(each, ast.Constant) and isinstance(each.value, str):
                yield each.value
            elif isinstance(each, ast.Name) and isinstance(values.get(each.id), tuple):
                yield from values[each.id]


def test_every_concept_asked_for_is_in_the_pack() -> None:
    names = [name for module in sorted(FOLDER.rglob("*.py")) if module.stem != "__init__" for name in asked(module)]
    assert len(names) > 350
    assert set(names) <= pack.pack().concepts.keys()
