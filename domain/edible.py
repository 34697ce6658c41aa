"""Edible portion from the whole food, and net weight from the gross weight."""

from domain.errors import DomainError


def edible_portion(whole_g: float, refuse: float) -> float:
    """Edible grams of `whole_g` grams of food, of which the share `refuse` (0 to 1) is core, peel, bone or shell.

    edible = whole x (1 - refuse), the definition of refuse in food composition tables. Raises DomainError if `refuse`
    is outside 0 to 1.
    """
    if not 0 <= refuse <= 1:
        raise DomainError("The part that is thrown away has to be between nothing and all of it.")
    return whole_g * (1 - refuse)


def without_waste(whole_g: float, waste_g: float) -> float:
    """Edible grams of `whole_g` grams of food when the waste was weighed, which is better evidence than any table.

    Raises DomainError if the waste is negative, or not less than the whole.
    """
    if waste_g < 0:
        raise DomainError("What was left over cannot weigh less than nothing.")
    if not waste_g < whole_g:
        raise DomainError(f"{waste_g:.15g} g of waste from {whole_g:.15g} g leaves nothing that was eaten.")
    return whole_g - waste_g


def net(gross_g: float, tare_g: float) -> float:
    """Net grams of food in a vessel: gross weight minus tare.

    Raises DomainError if the tare is negative, or not less than the gross weight.
    """
    if tare_g < 0:
        raise DomainError("A vessel cannot weigh less than nothing.")
    if not tare_g < gross_g:
        raise DomainError(f"{gross_g:.15g} g with the vessel is no more than the vessel's own {tare_g:.15g} g.")
    return gross_g - tare_g
