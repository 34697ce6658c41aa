"""From the whole to what is eaten, and from the gross weight to the net."""

from domain.errors import DomainError


def edible_portion(whole_g: float, refuse: float) -> float:
    """Grams eaten of `whole_g` grams, when the share `refuse` (0 to 1) is core, peel, bone or shell.

    edible = whole x (1 - refuse), as food composition tables define refuse. Raises DomainError for a share outside
    0 to 1.
    """
    if not 0 <= refuse <= 1:
        raise DomainError("The part that is thrown away has to be between nothing and all of it.")
    return whole_g * (1 - refuse)


def without_waste(whole_g: float, waste_g: float) -> float:
    """Grams eaten when the waste of `whole_g` was weighed: better evidence than any table.

    Raises DomainError when the waste is negative, or when nothing would be left to eat.
    """
    if waste_g < 0:
        raise DomainError("What was left over cannot weigh less than nothing.")
    if not waste_g < whole_g:
        raise DomainError(f"{waste_g:.15g} g of waste from {whole_g:.15g} g leaves nothing that was eaten.")
    return whole_g - waste_g


def net(gross_g: float, tare_g: float) -> float:
    """Grams of food in a vessel of `tare_g` that weighs `gross_g` with the food in it.

    Raises DomainError when the tare is negative, or when the vessel is no lighter than the vessel with the food.
    """
    if tare_g < 0:
        raise DomainError("A vessel cannot weigh less than nothing.")
    if not tare_g < gross_g:
        raise DomainError(f"{gross_g:.15g} g with the vessel is no more than the vessel's own {tare_g:.15g} g.")
    return gross_g - tare_g
