"""Published cooking yields (cooked / raw), for checking a cooked weight before it is accepted.

Sources. SR28: weights that the USDA National Nutrient Database, release 28, prints beside its cooked entries ("yield
from 1 lb raw"). CNF: the yield file of Health Canada's Canadian Nutrient File 2015, by FoodID. Protein: protein per
100 g raw / protein per 100 g cooked of two SR28 entries, for foods whose protein stays in the pot. Yields worked out
from cups of dry and of cooked food are not used: they are up to 30 % off, in both directions.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import takewhile
from typing import Final

YIELD_BAND: Final = (0.5, 1.5)
"""Cooked weights from 0.5 to 1.5 times the published yield are accepted without a question."""


@dataclass(frozen=True, slots=True)
class PublishedYield:
    """Cooked weight / raw weight, and its source."""

    yield_: float
    source: str


def _from_protein(raw_g: float, cooked_g: float, raw_ndb: str, cooked_ndb: str) -> PublishedYield:
    """Yield from protein per 100 g raw and cooked: the protein stays in the food, so its dilution is the gain."""
    return PublishedYield(raw_g / cooked_g, f"protein of SR28 {raw_ndb} and {cooked_ndb}")


_BY_NAME: Final[Mapping[str, PublishedYield | None]] = {
    "rice": _from_protein(7.13, 2.69, "20044", "20045"),
    "brown rice": _from_protein(7.54, 2.74, "20036", "20037"),
    "wild rice": _from_protein(14.73, 3.99, "20088", "20089"),
    "instant rice": _from_protein(7.82, 2.18, "20048", "20049"),
    "rice noodles": _from_protein(5.95, 1.79, "20133", "20134"),
    "pasta": _from_protein(13.04, 5.8, "20120", "20121"),
    "fresh pasta": _from_protein(11.31, 5.15, "20093", "20094"),
    "whole wheat pasta": _from_protein(13.87, 5.99, "20124", "20125"),
    "egg noodles": _from_protein(14.16, 4.54, "20109", "20110"),
    "soba noodles": _from_protein(14.38, 5.06, "20114", "20115"),
    "couscous": _from_protein(12.76, 3.79, "20028", "20029"),
    "bulgur": _from_protein(12.29, 3.08, "20012", "20013"),
    "quinoa": _from_protein(14.12, 4.4, "20035", "20137"),
    "millet": _from_protein(11.02, 3.51, "20031", "20032"),
    "buckwheat": _from_protein(11.73, 3.38, "20009", "20010"),
    "amaranth": _from_protein(13.56, 3.8, "20001", "20002"),
    "teff": _from_protein(13.3, 3.87, "20142", "20143"),
    "spelt": _from_protein(14.57, 5.5, "20140", "20141"),
    "oats": _from_protein(13.15, 2.54, "08120", "08121"),
    "lentils": _from_protein(24.63, 9.02, "16069", "16070"),
    "chickpeas": _from_protein(20.47, 8.86, "16056", "16057"),
    "split peas": _from_protein(23.82, 8.34, "16085", "16086"),
    "black-eyed peas": _from_protein(23.52, 7.73, "16062", "16063"),
    "pigeon peas": _from_protein(21.7, 6.76, "16101", "16102"),
    "black beans": _from_protein(21.6, 8.86, "16014", "16015"),
    "kidney beans": _from_protein(22.53, 8.67, "16032", "16033"),
    "pinto beans": _from_protein(21.42, 9.01, "16042", "16043"),
    "pink beans": _from_protein(20.96, 9.06, "16040", "16041"),
    "cranberry beans": _from_protein(23.03, 9.34, "16019", "16020"),
    "navy beans": _from_protein(22.33, 8.23, "16037", "16038"),
    "white beans": _from_protein(23.36, 9.73, "16049", "16050"),
    "great northern beans": _from_protein(21.86, 8.33, "16024", "16025"),
    "lima beans": _from_protein(21.46, 7.8, "16071", "16072"),
    "fava beans": _from_protein(26.12, 7.6, "16052", "16053"),
    "mung beans": _from_protein(23.86, 7.02, "16080", "16081"),
    "adzuki beans": _from_protein(19.87, 7.52, "16001", "16002"),
    "ground chicken": _from_protein(17.44, 23.28, "05332", "05333"),
    "ground turkey": _from_protein(19.66, 27.37, "05305", "05306"),
    "bacon": _from_protein(12.62, 33.92, "10123", "10862"),
    "canadian bacon": _from_protein(20.31, 28.31, "10130", "10998"),
    "turkey bacon": _from_protein(15.94, 29.5, "07254", "07973"),
    "beef bacon": _from_protein(12.5, 31.3, "13344", "13345"),
    "duck": _from_protein(11.49, 18.99, "05139", "05140"),
    "shrimp": _from_protein(20.1, 23.98, "15270", "15271"),
    # SR28 analysed different samples raw and cooked, so protein gives wrong yields (barley 4.39, soybeans 2.00). Dry
    # matter in % is used instead.
    "barley": PublishedYield(89.91 / 31.20, "dry matter of SR28 20005 and 20006"),
    "soybeans": PublishedYield(91.46 / 37.45, "dry matter of SR28 16108 and 16109"),
    # Frozen, not dried: the yield of dried lima beans does not apply.
    "frozen lima beans": None,
    "ground beef": PublishedYield(0.65, "CNF 4995, medium, crumbled, pan-fried"),
    "ground pork": PublishedYield(0.70, "CNF 6122, medium, pan-fried"),
    "spare ribs": PublishedYield(0.47, "CNF 1934, simmered and roasted"),
    "beef liver": PublishedYield(0.74, "CNF 2656, braised"),
    "chicken liver": PublishedYield(0.63, "CNF 579, simmered"),
    "sausage": PublishedYield(0.86, "CNF 1199, pork, cooked"),
}

# 78 is the figure that CNF prints for 53 of its 70 fish fillets.
_BY_GROUP: Final = {
    "meat": PublishedYield(0.734, "SR28 13415 and 10061, roasted, from 1 lb raw"),
    "poultry": PublishedYield(0.78, "CNF 567, chicken, meat only, roasted"),
    "fish": PublishedYield(0.78, "CNF 3195, cod, baked or broiled"),
}


def published_yield(food: str, group: str) -> PublishedYield | None:
    """The published yield for a food, else for its group, else None.

    The longest entry that the food's name ends with applies: basmati rice uses "rice", brown rice has its own entry,
    rice flour matches none. Grades such as 80/20 or 96% lean are ignored.
    """
    words = list(takewhile(lambda word: not any(map(str.isdigit, word)), food.lower().split()))
    for start in range(len(words)):
        name = " ".join(words[start:])
        if name in _BY_NAME:
            return _BY_NAME[name]
    return _BY_GROUP.get(group)
