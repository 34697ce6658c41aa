"""Builds the site from the same pages that are read in the repository: adds those outside docs/ and adapts links."""

from __future__ import annotations

import posixpath
import re
from pathlib import Path
from typing import Any

from mkdocs.structure.files import File, Files

ROOT = Path(__file__).parents[1]

OUTSIDE = {
    "README.md": "index.md",
    "CHANGELOG.md": "CHANGELOG.md",
    "CONTRIBUTING.md": "CONTRIBUTING.md",
    "DEVELOPERS.md": "DEVELOPERS.md",
    "SECURITY.md": "SECURITY.md",
    "domain/reference/README.md": "food_table.md",
    "tests/language/README.md": "corpora.md",
}
"""Pages outside docs/, by their path in the repository, with their path in the site."""

_LINK = re.compile(r"(!?)\[([^\]]*)\]\((?!https?:|#)([^)#\s]+)(#[^)]*)?\)")
_INSIDE = {page: path for path, page in OUTSIDE.items()}


def on_files(files: Files, config: Any) -> Files:
    """Adds the pages outside docs/."""
    for path, page in OUTSIDE.items():
        files.append(File.generated(config, page, content=(ROOT / path).read_text(encoding="utf-8")))
    return files


def on_page_markdown(markdown: str, page: Any, config: Any, files: Files) -> str:
    """The page with its links leading to pages of the site; a link to anything else in the repository becomes text."""
    here = page.file.src_uri
    folder = posixpath.dirname(_INSIDE.get(here, f"docs/{here}"))

    def adapted(link: re.Match[str]) -> str:
        mark, text, target, anchor = link.groups(default="")
        path = posixpath.normpath(posixpath.join(folder, target))
        inside = OUTSIDE.get(path, path.removeprefix("docs/") if path.startswith("docs/") else None)
        if inside is None:
            return text
        return f"{mark}[{text}]({posixpath.relpath(inside, posixpath.dirname(here) or '.')}{anchor})"

    return _LINK.sub(adapted, markdown)
