"""What is told of the last weigh-ins of today: the waste of one, and the scale's total with all of them on it."""

from __future__ import annotations

from dataclasses import replace

from bot import events
from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Refuse
from bot.conversation.records.fixes import in_unit_of, item_of
from bot.conversation.records.judging import PARTS
from bot.conversation.records.measuring import mass
from bot.kinds import About
from bot.language.fix_meanings import OnTheScale, Waste
from bot.language.frames.fix_scene import OUNCES
from bot.language.frames.on_top import STILL_ON_THE_SCALE
from bot.language.told import Item
from bot.store import weighins
from bot.store.weighins import StoredWeighIn


def waste(meaning: Waste, ex: Exchange) -> Item | Ask | Refuse | None:
    """Today's last weigh-in of a food that has such a part, or the one that is meant, less the waste."""
    named = weighins.get(ex.books, meaning.number) if meaning.number is not None else None
    for stored in reversed(weighins.on_day(ex.books, ex.books.today)) if named is None else (named,):
        if stored.weigh_in.batch is None and (stored is named or _has_part(stored, meaning, ex)):
            grams = meaning.amount.grams if meaning.amount.grams is not None else meaning.amount.value
            return replace(item_of(stored, ex), waste_g=grams, part=meaning.part, whole=None, peeled_g=None)
    ex.say(f"No weigh-in of today has a {meaning.part}. Tell me the food with it, for example: apple 190, core 17.")
    ex.note(events.NotUnderstood())
    return None


def _has_part(stored: StoredWeighIn, meaning: Waste, ex: Exchange) -> bool:
    if meaning.name is not None and stored.weigh_in.food not in meaning.name.foods:
        return False
    if meaning.part == "waste":
        return True
    entry = ex.known.food(stored.weigh_in.food)
    words = PARTS.get(meaning.part, (meaning.part,))
    said = " ".join(row.refuse_part.lower() for row in entry.food.rows) if entry is not None else ""
    return any(word in said for word in words)


def on_the_scale(meaning: OnTheScale, ex: Exchange) -> Item | Ask:
    """What was added since: the scale's total less what the last minutes put on it."""
    since = ex.books.local - STILL_ON_THE_SCALE
    before = [s for s in weighins.on_day(ex.books, ex.books.today) if s.eaten_at >= since and s.weigh_in.batch is None]
    on_it = sum(stored.weigh_in.as_weighed_g for stored in before)
    told = item_of(before[-1], ex).amount if before else None
    shown = in_unit_of(meaning.total, told)
    total = shown.grams if shown.grams is not None else shown.value
    grams = total - on_it
    if not before or grams <= 0:
        return Ask(
            About.AMOUNT,
            f"{meaning.total.text} is no more than what you recorded in the last few minutes. How much is the {meaning.item.text} alone?",
            meaning.item,
        )
    added = mass(grams, f"{shown.text} less {saying.grams(on_it)}")
    if shown.unit in OUNCES and shown.grams:
        # What comes next on the scale is told in the same unit.
        added = replace(added, value=grams * shown.value / shown.grams, unit=shown.unit)
    return replace(meaning.item, amount=added)
