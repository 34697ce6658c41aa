"""No concept of the pack lies there unread."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
CONCEPTS = ROOT / "bot" / "language" / "packs" / "en" / "concepts.toml"
BY_KIND = ("group_", "reminder_", "region_", "topic_")
"""How the names begin that are put together from a kind."""


def test_each_concept_is_read_somewhere() -> None:
    pages = [*(ROOT / "bot").rglob("*.py"), *CONCEPTS.parent.rglob("*.toml")]
    read = set(re.findall(r"[\"'<](\w+)[\"'>]", "\n".join(page.read_text(encoding="utf-8") for page in pages)))
    names = re.findall(r"^(\w+) = \[", CONCEPTS.read_text(encoding="utf-8"), re.MULTILINE)
    assert len(names) > 500
    assert [name for name in names if name not in read and not name.startswith(BY_KIND)] == []
