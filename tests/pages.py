"""Parts of the documentation's pages that tests generate: between `<!-- generated: name -->` and `<!-- end -->`."""

import re
from pathlib import Path

EFFORT = Path(__file__).parents[1] / "docs" / "effort.md"


def _part(name: str) -> re.Pattern[str]:
    return re.compile(rf"(?<=^<!-- generated: {name} -->\n).*?(?=^<!-- end -->)", re.MULTILINE | re.DOTALL)


def generated(page: Path, name: str) -> str:
    """The part as the page has it."""
    found = _part(name).search(page.read_text("utf-8"))
    assert found is not None, f"{page} has no part {name}"
    return found.group().strip()


def write(page: Path, name: str, text: str) -> None:
    """Writes the part into the page."""
    page.write_text(_part(name).sub(lambda _: f"\n{text}\n\n", page.read_text("utf-8"), count=1), "utf-8")
