"""A recipe: the ingredients of an earlier batch, cooked again in other amounts."""

from collections.abc import Iterable
from dataclasses import replace

from domain.batch_steps import Ingredient
from domain.errors import DomainError


def scaled(ingredients: Iterable[Ingredient], factor: float) -> tuple[Ingredient, ...]:
    """The same recipe `factor` times. Raises DomainError unless the factor is above zero."""
    if not factor > 0:
        raise DomainError("A recipe has to be cooked more than zero times.")
    return tuple(
        replace(
            ingredient,
            raw_g=ingredient.raw_g * factor,
            nutrients=None if ingredient.nutrients is None else ingredient.nutrients.times(factor),
        )
        for ingredient in ingredients
    )


def factor_for(ingredient: Ingredient, raw_g: float) -> float:
    """How many times the recipe is cooked with `raw_g` grams of one of its ingredients. Raises DomainError below 0."""
    if not raw_g > 0:
        raise DomainError(f"The weight of {ingredient.food} has to be more than zero.")
    return raw_g / ingredient.raw_g
