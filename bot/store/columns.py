"""Building blocks of the tables: one MetaData, the types of columns, and conversions from and to the domain."""

from collections.abc import Sequence
from datetime import UTC, datetime

from sqlalchemy import (
    BigInteger,
    CheckConstraint,
    Column,
    ColumnElement,
    DateTime,
    Dialect,
    Double,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    Text,
    literal_column,
    text,
)
from sqlalchemy.types import TypeDecorator

from domain.nutrients import Nutrients
from domain.weighins import OpenFigures

metadata = MetaData(
    naming_convention={
        "pk": "pk_%(table_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "ck": "ck_%(table_name)s_%(constraint_name)s",
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    }
)

NUTRIENTS = (
    "kcal",
    "protein_g",
    "fat_g",
    "carbohydrate_g",
    "fibre_g",
    "sugars_g",
    "saturated_fat_g",
    "sodium_mg",
    "alcohol_g",
)
"""The columns of a nutrient vector, in the order of the fields of `domain.nutrients.Nutrients`."""

_UNKNOWN: dict[str, float | None] = dict.fromkeys(NUTRIENTS)


class Moment(TypeDecorator[datetime]):
    """An aware datetime, stored and returned in UTC."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """The same moment in UTC. ValueError without a time zone."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError("a moment without a time zone cannot be kept")
        return value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """The moment in UTC, aware."""
        if value is None:
            return None
        # SQLite has no time zones: it returns the UTC time as a naive datetime.
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


class Words(TypeDecorator[str]):
    """Text that somebody typed; what a database refuses (NUL, unpaired surrogates) is stored as U+FFFD."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: str | None, dialect: Dialect) -> str | None:
        """The text as both databases take it."""
        if value is None:
            return None
        if "\0" in value:
            value = value.replace("\0", "\ufffd")
        if not value.isascii() and any("\ud800" <= letter <= "\udfff" for letter in value):
            value = "".join("\ufffd" if "\ud800" <= letter <= "\udfff" else letter for letter in value)
        return value


# SQLite auto-increments only a column declared INTEGER, which holds 64 bits there.
Whole = BigInteger().with_variant(Integer, "sqlite")


def own_id() -> Column[int]:
    """The primary key, auto-incremented by the database."""
    return Column("id", Whole, primary_key=True)


def refers_to(name: str, target: str, nullable: bool = False) -> Column[int]:
    """A reference to the id of another table."""
    return Column(name, Whole, ForeignKey(f"{target}.id"), nullable=nullable)


def words(name: str, nullable: bool = False) -> Column[str]:
    """A column of text that somebody typed."""
    return Column(name, Words, nullable=nullable)


def amount(name: str, nullable: bool = False) -> Column[float]:
    """A column of a measured amount."""
    return Column(name, Double, nullable=nullable)


def one_of(column: str, *values: str) -> CheckConstraint:
    """A check that a column holds one of these values."""
    return CheckConstraint(f"{column} IN ({', '.join(repr(value) for value in values)})", name=column)


def is_just(column: Column[str], word: str) -> ColumnElement[bool]:
    """Whether the column holds the word, one of our own.

    As a literal instead of a bound value, so that both databases can use a partial index on it.
    """
    return column == literal_column(f"'{word}'")


def partial_index(name: str, *columns: str, where: str, unique: bool = False) -> Index:
    """An index over the rows for which `where` holds."""
    return Index(name, *columns, unique=unique, sqlite_where=text(where), postgresql_where=text(where))


def nutrient_values(nutrients: Nutrients | None) -> dict[str, float | None]:
    """The columns of `NUTRIENTS`; all of them empty when the nutrients are unknown."""
    if nutrients is None:
        return _UNKNOWN
    return {
        "kcal": nutrients.kcal,
        "protein_g": nutrients.protein_g,
        "fat_g": nutrients.fat_g,
        "carbohydrate_g": nutrients.carbohydrate_g,
        "fibre_g": nutrients.fibre_g,
        "sugars_g": nutrients.sugars_g,
        "saturated_fat_g": nutrients.saturated_fat_g,
        "sodium_mg": nutrients.sodium_mg,
        "alcohol_g": nutrients.alcohol_g,
    }


def open_values(open_figures: OpenFigures | None) -> dict[str, str | float | None]:
    """The columns of an open weigh-in's figures; all of them empty when it is not open."""
    if open_figures is None:
        return {"open_about": None, "kcal_low": None, "kcal_high": None}
    return {
        "open_about": open_figures.about,
        "kcal_low": open_figures.kcal_low,
        "kcal_high": open_figures.kcal_high,
    }


def nutrients_from(columns: Sequence[float | None]) -> Nutrients | None:
    """The nutrients in columns that stand in the order of `NUTRIENTS`, or None when unknown."""
    kcal, protein_g, fat_g, carbohydrate_g, *others = columns
    if kcal is None or protein_g is None or fat_g is None or carbohydrate_g is None:
        return None
    return Nutrients(kcal, protein_g, fat_g, carbohydrate_g, *others)
