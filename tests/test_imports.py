"""No module of the bot imports itself by way of others, imports inside functions included."""

import ast
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]


def modules() -> dict[str, Path]:
    found = {}
    for path in sorted((ROOT / "bot").rglob("*.py")):
        parts = path.relative_to(ROOT).with_suffix("").parts
        found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


def imported(tree: ast.AST, known: set[str]) -> set[str]:
    """The modules that a module imports anywhere in it; `from package import module` is an import of the module."""
    found = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.module is not None, "imports are absolute"
            for alias in node.names:
                whole = f"{node.module}.{alias.name}"
                found.add(whole if whole in known else node.module)
    return found & known


def cycle(graph: dict[str, set[str]]) -> list[str]:
    """The modules of one cycle in order; empty when there is none."""
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as error:
        return list(error.args[1])
    return []


def test_no_cycle_of_modules() -> None:
    known = modules()
    graph = {name: imported(ast.parse(path.read_text()), set(known)) - {name} for name, path in known.items()}
    assert len(graph) > 100
    assert cycle(graph) == []


@pytest.mark.parametrize(
    "inner", ("import bot.b", "from bot.b import thing", "from bot import b", "def f():\n    from bot import b")
)
def test_a_cycle_is_found(inner: str) -> None:
    known = {"bot", "bot.a", "bot.b"}
    graph = {"bot.a": imported(ast.parse(inner), known), "bot.b": imported(ast.parse("from bot.a import other"), known)}
    assert set(cycle(graph)) == {"bot.a", "bot.b"}
