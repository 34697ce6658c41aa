"""Converting amounts to grams: masses as they are, volumes and counts only with a source."""

from __future__ import annotations

from dataclasses import dataclass, replace

from bot.conversation import saying
from bot.conversation.known import Known, KnownFood
from bot.conversation.outcomes import Ask, Choice, Refuse
from bot.kinds import About, Confirmed, Remembered, Why
from bot.language.text import singular
from bot.language.told import Amount, Item
from domain.batches import MAX_WEIGH_IN_G
from domain.foods import SIZES, FoodRow
from domain.quantities import VOLUME_UNITS, Region
from domain.reference.portions import portion
from domain.weighins import Evidence

MOST_COUNTED = 12
"""Largest bare number before a countable food that is a count; above it, beside other foods, it is grams."""
TOO_LIGHT = 0.3
"""A number behind a food is of pieces where as many grams were less than this share of one: 'eggs 3'."""
LEAST_SPOONED = 5
"""From this on a number beside what is eaten by a few grams is grams: 'honey 10'; below, it may be spoons."""
SPOONED = frozenset({"condiments", "spices"})
RICH_KCAL = 200
"""Energy in 100 g from which on a few grams of a food are an amount that people weigh: butter, cheese, nuts."""
VESSELS = frozenset({"glass", "mug", "bowl"})
"""What is filled differently by everybody: a usual size is offered and never taken unasked."""


@dataclass(frozen=True, slots=True)
class Measured:
    """Grams of the food, their evidence, and how they were worked out."""

    grams: float
    evidence: Evidence
    how: str = ""
    edible: bool = False
    """Whether the grams are the edible part already, as a piece's weight is."""


def mass(grams: float, text: str = "") -> Amount:
    """An amount in grams."""
    return Amount(kind="mass", value=grams, unit="g", grams=grams, text=text or saying.grams(grams))


def amount_doubt(item: Item, amount: Amount) -> Ask | Refuse | None:
    """The question or refusal about the number alone."""
    if amount.doubt == "negative" or (amount.grams is not None and amount.grams < 0):
        return Refuse(f"A weight has to be above zero, not {amount.text}.")
    if amount.value == 0:
        return Refuse("0 g is not a weigh-in. To take one back, say undo or delete #number.", Why.ZERO)
    if amount.doubt == "point" and amount.other is not None:
        unit = amount.unit or "g"
        first, second = mass(amount.value), mass(amount.other)
        return Ask(
            About.AMOUNT,
            f"Is {amount.text} {amount.value:g} or {amount.other:,.0f} {unit}?",
            item,
            (
                Choice(f"{amount.value:g} {unit}", replace(item, amount=first)),
                Choice(f"{amount.other:,.0f} {unit}", replace(item, amount=second)),
            ),
        )
    if amount.doubt == "each" and amount.other is not None and amount.grams is not None:
        choices = tuple(Choice(saying.grams(g), replace(item, amount=mass(g))) for g in (amount.other, amount.grams))
        return Ask(
            About.AMOUNT,
            f"{amount.text}: is that {saying.grams(amount.other)} in all, or {saying.grams(amount.grams)}?",
            item,
            choices,
        )
    if amount.doubt == "total" and amount.other is not None and amount.grams is not None:
        choices = tuple(Choice(saying.grams(g), replace(item, amount=mass(g))) for g in (amount.grams, amount.other))
        return Ask(
            About.AMOUNT,
            f"{amount.text}: did the scale start from zero? That makes {saying.grams(amount.other)}, else {saying.grams(amount.grams)}.",
            item,
            choices,
        )
    if amount.doubt == "unclear":
        return Ask(About.AMOUNT, f"I see {saying.listed(amount.text.split(', '))}. How many grams was it?", item)
    if amount.doubt == "share" and item.name is not None:
        return Ask(About.AMOUNT, f"How many grams of {item.name.text} was {amount.text}?", item)
    if amount.doubt == "range":
        return Ask(About.AMOUNT, f"{amount.text} reads like a range. How many grams was it?", item)
    return None


def measured(
    item: Item, amount: Amount, entry: KnownFood, row: FoodRow, known: Known, region: Region
) -> Measured | Ask:
    """The amount in grams, or the question that it needs."""
    if amount.kind == "mass" and by_memory(item, entry):
        kind = known.remembered(Remembered.DRINK, entry.food.name)
        if kind == "volume":
            return _volume(item, _fluid_ounces(amount), entry, row, known, region)
        if kind == "weight":
            return Measured(weight_of(amount), Evidence.WEIGHED)
    if amount.kind == "mass":
        return _mass(item, amount, entry)
    if amount.kind == "bare":
        return _bare(item, amount, entry, row, known)
    if amount.kind == "count":
        return _counted(item, amount, entry, row, known)
    return _volume(item, amount, entry, row, known, region)


def by_memory(item: Item, entry: KnownFood) -> bool:
    """Whether it was told in ounces of a drink, so that a remembered answer says what they are."""
    told = item.amount is not None and item.amount.kind == "mass" and item.amount.unit == "oz"
    return told and entry.food.drunk and Confirmed.WEIGHT not in item.confirmed


def _fluid_ounces(amount: Amount) -> Amount:
    return Amount(kind="volume", value=amount.value, unit="floz", text=f"{amount.value:g} fl oz")


def _mass(item: Item, amount: Amount, entry: KnownFood) -> Measured | Ask:
    assert amount.grams is not None
    if by_memory(item, entry):
        volume = _fluid_ounces(amount)
        return Ask(
            About.DRINK,
            f"{amount.text} of {saying.called(item, entry.food.name)}: by weight or by volume (fl oz)?",
            item,
            (
                Choice("by weight", replace(item, confirmed=(*item.confirmed, Confirmed.WEIGHT))),
                Choice("by volume (fl oz)", replace(item, amount=volume)),
            ),
        )
    pieces = item.measure
    said = pieces is not None and pieces.kind == "bare" and not pieces.unit and pieces.value > 1
    return Measured(amount.grams, Evidence.WEIGHED, f"{pieces.value:g} pieces" if said and pieces is not None else "")


def _bare(item: Item, amount: Amount, entry: KnownFood, row: FoodRow, known: Known) -> Measured | Ask:
    own = known.measures.get((entry.food.name, "piece"))
    if own is not None and item.number_first and amount.value <= MOST_COUNTED:
        return Measured(amount.value * own, Evidence.OWN_MEASURE, _each(amount.value, own), edible=True)
    if entry.label is not None and item.number_first and amount.value <= MOST_COUNTED:
        # 'one string cheese': what a packet's figures call a serving.
        serving = entry.label.serving_g
        return Measured(amount.value * serving, Evidence.LABEL_MEASURE, f"{_each(amount.value, serving)} by the label")
    countable = entry.food.countable
    if countable and item.number_first:
        read_off = "." in amount.text and amount.value * 4 % 1 != 0  # '11.6 avocado' is no count of pieces
        piece = known.piece(entry, row)
        if amount.value <= MOST_COUNTED and not read_off and piece is not None:
            return Measured(
                amount.value * piece,
                Evidence.COUNTED,
                _each(amount.value, piece, amount.unit if amount.kind != "bare" else ""),
                edible=True,
            )
        plural = item.name is not None and singular(item.name.text) != item.name.text
        too_many = piece is not None and amount.value * piece > MAX_WEIGH_IN_G
        if not too_many or (plural and piece is not None and amount.value < piece):
            return _pieces_or_grams(item, amount, entry, row)
        # Nobody eats that many pieces, so the number is grams; in grams it is more than one piece.
    if amount.value > MOST_COUNTED:
        return Measured(amount.value, Evidence.WEIGHED)
    if countable:
        piece = known.piece(entry, row)
        plural = item.name is not None and singular(item.name.text) != item.name.text
        if plural and piece is not None and amount.value < TOO_LIGHT * piece and amount.value % 1 == 0:
            return Measured(amount.value * piece, Evidence.COUNTED, _each(amount.value, piece), edible=True)
        return _pieces_or_grams(item, amount, entry, row)
    rich = row.per_100g.kcal >= RICH_KCAL or entry.food.group in SPOONED
    if amount.value >= LEAST_SPOONED and rich and not item.number_first:
        return Measured(amount.value, Evidence.WEIGHED)
    if amount.value < 1:
        return Ask(
            About.AMOUNT, f"{amount.text} of how much {entry.food.name}? Tell me the grams that were yours.", item
        )
    return _offered(item, amount, entry, known.region, None) or _not_counted(item, amount, entry)


def _not_counted(item: Item, amount: Amount, entry: KnownFood) -> Ask:
    """Asks about a small number beside a food of which nobody counts pieces: '8 butter'."""
    called = saying.called(item, entry.food.name)
    if amount.value <= 1:
        return Ask(About.AMOUNT, f"How many grams of {called} was that? I have no weight for one.", item)
    grams = Choice(saying.grams(amount.value), replace(item, amount=mass(amount.value)))
    return Ask(About.AMOUNT, f"{amount.text} {called}: is that grams? If not, how many grams was it?", item, (grams,))


def _pieces_or_grams(item: Item, amount: Amount, entry: KnownFood, row: FoodRow) -> Ask:
    pieces = Amount(kind="count", value=amount.value, text=f"{amount.value:g}")
    choices = [Choice(f"{amount.value:g} g", replace(item, amount=mass(amount.value)))]
    piece = entry.food.piece(row)
    if piece is not None and amount.value * piece <= MAX_WEIGH_IN_G:
        noun = "piece" if amount.value == 1 else "pieces"
        choices.append(Choice(f"{amount.value:g} {noun}", replace(item, amount=pieces)))
    return Ask(
        About.AMOUNT, f"{amount.text} {saying.called(item, entry.food.name)}: grams or pieces?", item, tuple(choices)
    )


def _each(count: float, piece_g: float, unit: str = "") -> str:
    """'2 × 44 g', '3 × slice of 28 g': how the grams were worked out."""
    return f"{saying.times(count)} × {f'{unit} of ' if unit else ''}{saying.grams(piece_g)}"


def _counted(item: Item, amount: Amount, entry: KnownFood, row: FoodRow, known: Known) -> Measured | Ask:
    own = known.measures.get((entry.food.name, amount.unit or "piece"))
    if own is not None:
        return Measured(amount.value * own, Evidence.OWN_MEASURE, _each(amount.value, own), edible=True)
    labelled = _labelled(amount, entry)
    if labelled is not None:
        return labelled
    if entry.label is not None and not amount.unit and entry.label.measure is None:
        grams = entry.label.serving_g
        return Measured(amount.value * grams, Evidence.LABEL_MEASURE, f"{_each(amount.value, grams)} by the label")
    piece = known.piece(entry, row, amount.unit)
    if piece is None and amount.unit in ("piece", "whole"):
        piece = known.piece(entry, row)
    if piece is None and amount.unit in SIZES:
        return Ask(
            About.AMOUNT, f"How many grams of {saying.called(item, entry.food.name)}?", item
        )  # 'a little butter'
    if piece is None:
        what = f"{amount.unit} of {entry.food.name}" if amount.unit else entry.food.name
        return _offered(item, amount, entry, known.region, None) or Ask(
            About.AMOUNT, f"I have no weight for one {what}. How many grams was it?", item
        )
    return Measured(
        amount.value * piece,
        Evidence.COUNTED,
        _each(amount.value, piece, amount.unit if amount.kind != "bare" else ""),
        edible=True,
    )


def _labelled(amount: Amount, entry: KnownFood) -> Measured | None:
    label = entry.label
    if label is None or label.measure is None or label.measure_g is None:
        return None
    if amount.unit not in (label.measure, "serving"):
        return None
    grams = label.measure_g if amount.unit == label.measure else label.serving_g
    return Measured(amount.value * grams, Evidence.LABEL_MEASURE, f"{_each(amount.value, grams)} by the label")


def _volume(item: Item, amount: Amount, entry: KnownFood, row: FoodRow, known: Known, region: Region) -> Measured | Ask:
    """Grams by the label's measure, the person's own, or the density, in that order; without any, asks for the weight."""
    labelled = _labelled(amount, entry)
    if labelled is not None:
        return labelled
    if entry.label is not None and amount.unit == "serving":
        return Measured(
            amount.value * entry.label.serving_g,
            Evidence.LABEL_MEASURE,
            f"{_each(amount.value, entry.label.serving_g)} by the label",
        )
    own = known.measures.get((entry.food.name, amount.unit))
    if own is not None:
        return Measured(amount.value * own, Evidence.OWN_MEASURE, f"{_each(amount.value, own)} by your own measure")
    held = _held(amount, entry, row, known, region)
    if held is not None:
        return held
    if amount.unit in VOLUME_UNITS:
        one = entry.food.measure_g(row, amount.unit, region)
        if one is not None:
            return Measured(amount.value * one, Evidence.DENSITY, "by volume, not weighed")
    if amount.kind == "measure":
        piece = known.piece(entry, row, amount.unit)
        if piece is None or amount.unit.split()[-1] in VESSELS:
            offered = _offered(item, amount, entry, region, piece)
            if offered is not None:
                return offered
        if piece is not None:
            return Measured(
                amount.value * piece,
                Evidence.COUNTED,
                _each(amount.value, piece, amount.unit),
                edible=True,
            )
    return Ask(
        About.AMOUNT,
        f"I don't know what {saying.spaced(amount.text)} of {saying.called(item, entry.food.name)} weighs. How many grams was it?",
        item,
    )


def _offered(item: Item, amount: Amount, entry: KnownFood, region: Region, piece: float | None) -> Ask | None:
    """The question about a measure of no size of its own, with its usual weight to choose; None without such a weight."""
    usual = portion(entry.food.name, amount.unit, region) if entry.label is None else None
    grams = piece if usual is None else usual.grams
    if grams is None:
        return None
    weight = mass(amount.value * grams)
    which = "a usual one" if amount.value == 1 else "usual ones"
    choices = (Choice(f"{which}, {weight.text}", replace(item, amount=weight)),)
    of = " of" if amount.unit else ""
    return Ask(
        About.AMOUNT, f"{amount.text}{of} {saying.called(item, entry.food.name)}: how many grams was it?", item, choices
    )


def _held(amount: Amount, entry: KnownFood, row: FoodRow, known: Known, region: Region) -> Measured | None:
    """Grams of what one of the person's vessels holds; a cup is a vessel only for what one drinks."""
    held = known.memory.get((Remembered.VESSEL, amount.unit))
    if held is None or (amount.unit in VOLUME_UNITS and not entry.food.drunk):
        return None
    one_ml = entry.food.measure_g(row, "ml", region)
    if one_ml is None:
        return None
    volume = float(held) * amount.value
    return Measured(volume * one_ml, Evidence.DENSITY, f"{volume:,.0f} ml, by volume, not weighed")


def weight_of(amount: Amount) -> float:
    """Grams of a mass or of a bare number, which is grams in its context (a batch, a fix, an answer)."""
    return amount.grams if amount.grams is not None else amount.value
