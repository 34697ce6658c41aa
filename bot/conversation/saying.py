"""Formatting: whole grams (one decimal under ten), whole kcal. Nothing is rounded anywhere else."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from datetime import date

from bot.conversation.outcomes import MAX_CHOICE
from bot.language.lexicon import lexicon
from bot.language.name_tables import lemmas_of
from bot.language.told import Item
from bot.store.weighins import StoredWeighIn
from domain import quantities, uncertainty
from domain.batches import Batch
from domain.foods import State
from domain.nutrients import Nutrients
from domain.quantities import Region
from domain.weighins import Evidence, WeighIn

FAR_DAYS = 300
NEARLY = 0.02
"""So near to a whole number a count of pieces is one."""


def grams(value: float) -> str:
    """'304 g', '8.5 g', '1,250 g'."""
    if abs(value) < 10 and round(value, 1) != round(value):
        return f"{value:.1f} g"
    return f"{value:,.0f} g"


def kcal(value: float) -> str:
    """'1,240 kcal'."""
    return f"{value:,.0f} kcal"


def kcal_range(low: float, high: float) -> str:
    """'106 to 175 kcal', or '81 kcal' where both ends read alike."""
    return kcal(high) if kcal(low) == kcal(high) else f"{low:,.0f} to {kcal(high)}"


def figures(nutrients: Nutrients) -> str:
    """'412 kcal, protein 68 g, fat 5 g, carbs 0 g'."""
    return f"{kcal(nutrients.kcal)}, protein {nutrients.protein_g:.0f} g, fat {nutrients.fat_g:.0f} g, carbs {nutrients.carbohydrate_g:.0f} g"


def macros(nutrients: Nutrients) -> str:
    """'protein 68 g, fat 5 g, carbs 0 g'."""
    return f"protein {nutrients.protein_g:.0f} g, fat {nutrients.fat_g:.0f} g, carbs {nutrients.carbohydrate_g:.0f} g"


def at_least(stored: Sequence[StoredWeighIn]) -> str:
    """'at least ' when a weight is among them that has no figures, or not those of all that was in its pot."""
    return "at least " if any(s.at_least or s.weigh_in.nutrients is None for s in stored) else ""


def give_or_take(stored: Sequence[StoredWeighIn]) -> str:
    """', give or take 60': the uncertainty of the energy; empty under 5 kcal."""
    kcal = uncertainty.give_or_take(s.weigh_in for s in stored).kcal
    return f", give or take {round_up(kcal):,.0f}" if kcal >= 5 else ""


def round_up(kcal: float) -> float:
    """An uncertainty in kcal, rounded up to 5 under 50 and to 10 above."""
    step = 5 if kcal < 50 else 10
    return step * math.ceil(kcal / step)


def as_told_back(who: str) -> str:
    """Somebody as the bot names them to the writer: 'my sister' and 'sister' are 'your sister', 'wee one' 'the wee one'."""
    whose, _, rest = who.partition(" ")
    if rest in ("one", "ones"):
        return f"the {who}"
    if not rest and who in lexicon().people:
        return f"your {who}"
    return f"your {rest}" if rest and whose.lower() in ("my", "our") else who


def first_up(text: str) -> str:
    """The text with a capital first letter."""
    return text[:1].upper() + text[1:]


def listed(words: Sequence[str], last: str = "and") -> str:
    """'rice, beans and butter'."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def choice(text: str) -> str:
    """The text shortened to fit a choice, at the end of a word where possible."""
    if len(text) <= MAX_CHOICE:
        return text
    cut = text[: MAX_CHOICE - 1]
    at_word = cut.rsplit(" ", 1)[0]
    return (at_word if len(at_word) > MAX_CHOICE // 2 else cut) + "…"


def state(value: State, method: str = "") -> str:
    """'raw', 'cooked', 'grilled'; empty for food as it is sold."""
    if value is State.AS_SOLD:
        return method
    if value is State.COOKED and method:
        return method
    return value.value


DRY_GROUPS = frozenset({"grains", "pulses"})


def state_said(value: State, method: str, group: str) -> str:
    """'raw', 'grilled'; 'dry' for raw grains, pasta and pulses."""
    return "dry" if value is State.RAW and group in DRY_GROUPS else state(value, method)


def food_in_state(name: str, value: State, method: str, group: str) -> str:
    """'white rice (dry)', or just the name where there is no state to mention."""
    said = state_said(value, method, group)
    return f"{name} ({said})" if said and said not in name else name


def batch(value: Batch) -> str:
    """'batch 2 (chilli)'."""
    return f"batch {value.number} ({value.name})"


def called(item: Item, food: str) -> str:
    """The person's own word for a food where it is another name of it ('courgettes' for zucchini), else its name.

    A word that shares one with the name ('rice' for white rice) is less exact than the name.
    """
    name = item.name
    if name is None or name.corrected or name.unknown or name.foods != (food,):
        return food
    own = set(lemmas_of(name.text))
    return name.text if own and not own & set(lemmas_of(food)) else food


def spaced(amount: str) -> str:
    """'400 g' for '400g', as it was typed otherwise."""
    return re.sub(r"(?<=\d)(?=[A-Za-z])", " ", amount)


def divided(value: Batch) -> str:
    """', 3 pieces, 2 of 4 boxes': what a batch was divided into, and what of that is left; empty for none."""
    parts = []
    if value.pieces_left is not None:
        parts.append(pieces(value.pieces_left, value.pot.piece))
    if value.boxes:
        parts.append(f"{len(value.boxes)} of {value.boxes_packed} boxes")
    return "".join(f", {part}" for part in parts)


def pieces(count: float, word: str) -> str:
    """'3 rotis', '1 piece', 'about 2.8 pieces'."""
    whole = round(count)
    if abs(count - whole) <= NEARLY:
        return f"{whole} {word}{'' if whole == 1 else 's'}"
    return f"about {count:.1f} {word}s"


def ingredients(value: Batch) -> str:
    """'800 g beef mince (raw) and 400 g canned tomatoes'."""
    return listed([f"{grams(i.raw_g)} {food_in_state(i.food, i.state, i.method, i.group)}" for i in value.ingredients])


def day(value: date, today: date) -> str:
    """'today', 'yesterday', 'tomorrow', 'Sunday 1 March'."""
    ago = (today - value).days
    if ago == 0:
        return "today"
    if ago == 1:
        return "yesterday"
    if ago == -1:
        return "tomorrow"
    # Without the year it would read like this year's.
    year = f" {value.year}" if abs(ago) > FAR_DAYS else ""
    return f"{value:%A} {value.day} {value:%B}{year}"


def stretch(first: date, last: date) -> str:
    """'2 March to 8 March'."""
    begins = f"{first.day} {first:%B}"
    return begins if first == last else f"{begins} to {last.day} {last:%B}"


def place(stored: StoredWeighIn, today: date) -> str:
    """' [yesterday, lunch]': the day and meal of a weigh-in where one was said; empty otherwise."""
    where = []
    if stored.day != today:
        where.append(day(stored.day, today))
    if stored.meal:
        where.append(stored.meal)
    return f" [{', '.join(where)}]" if where else ""


def eaten(weigh_in: WeighIn) -> str:
    """How much of it was eaten: '180 g', or 'estimated' where only its energy was told."""
    return "estimated" if weigh_in.evidence is Evidence.ESTIMATED else grams(weigh_in.edible_g)


def counted(count: int, word: str) -> str:
    """'one question', '3 questions'."""
    return f"one {word}" if count == 1 else f"{count} {word}s"


def open_questions(count: int) -> str:
    """The line of a sheet or a reminder that says how many questions are open."""
    them = "One question is open: say “what's open?” to see it."
    return them if count == 1 else f"{count} questions are open: say “what's open?” to see them."


def body_weight(kg: float, region: Region, sign: bool = False) -> str:
    """'82.4 kg', or '181.7 lb (82.4 kg)' and '82.4 kg (13 st 0)' in regions that use pounds or stones."""
    plus = "+" if sign else ""
    pounds = kg * 1000 / quantities.grams(1, "lb")
    if region is Region.US:
        return f"{pounds:{plus}.1f} lb ({kg:{plus}.1f} kg)"
    if region is Region.UK and not sign:
        stones, rest = divmod(round(pounds), 14)
        return f"{kg:.1f} kg ({stones} st {rest})"
    return f"{kg:{plus}.1f} kg"


def times(count: float) -> str:
    """'2', '1/2', '1.5'."""
    parts = {0.5: "1/2", 0.25: "1/4", 0.75: "3/4", 1 / 3: "1/3", 2 / 3: "2/3"}
    near = next((said for value, said in parts.items() if abs(count - value) < 1e-9), None)
    return near or f"{count:g}"
