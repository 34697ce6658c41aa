"""Everything that can be set from outside, read once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Settings:
    """How this installation is set up.

    `database` is a SQLAlchemy URL; `data_dir` the folder for what belongs to this installation alone, such as the
    console's input history.
    """

    database: str
    data_dir: Path

    @classmethod
    def read(cls, environment: Mapping[str, str]) -> Settings:
        """The settings from environment variables.

        `TAREBOOK_DATABASE`: a URL; by default a SQLite file in the data folder.
        `TAREBOOK_DATA`: the data folder; by default the platform's own place for a person's data.
        """
        named = environment.get("TAREBOOK_DATA")
        data_dir = Path(named) if named else _usual_data_dir()
        database = environment.get("TAREBOOK_DATABASE") or f"sqlite:///{data_dir / 'tarebook.db'}"
        return cls(database=database, data_dir=data_dir)


def _usual_data_dir() -> Path:
    from platformdirs import user_data_path

    return user_data_path("tarebook", appauthor=False)
