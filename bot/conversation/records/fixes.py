"""Corrections: delete, change, a waste weight told later, the same again. The store keeps every version."""

from __future__ import annotations

from dataclasses import replace

import msgspec

from bot.conversation import event_of, saying
from bot.conversation.batches.portions import give_back, left_kitchen
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse
from bot.conversation.questions import remembering
from bot.conversation.records.finding import find, is_named, of_day
from bot.conversation.records.measuring import MOST_COUNTED, amount_doubt, mass
from bot.conversation.records.standing import drop_questions
from bot.kinds import About, Why
from bot.language.fix_meanings import Again, Change, Delete, DeleteSeveral, Which
from bot.language.told import Amount, BatchRef, Item, Name, When, is_share
from bot.store import kitchens, weighins
from bot.store.weighins import StoredWeighIn
from domain.errors import DomainError
from domain.weighins import check_weight

MOST_SHOWN = 8
"""Weigh-ins that the question before a meal or a day is deleted names."""
MOST_TIMES = 10
"""A corrected number this many times the one before it is in another unit: 4 oz put right to 120 is 120 g."""
MOST_GROWN = 5
"""A change of what nobody named to more than so many times its weight may be meant for something else."""
FITS = 0.005
"""Relative difference up to which a remembered weight means the recorded one."""


LEAST_PART = 10
"""No weight is put right by so many times in a number without a unit."""


def item_of(stored: StoredWeighIn, ex: Exchange) -> Item:
    """The item that a weigh-in was recorded from, set up to replace it at the same time."""
    item = msgspec.json.decode(stored.said, type=Item)
    zone = ex.books.person.timezone
    when = When(day=stored.day, moment=stored.eaten_at.astimezone(zone), meal=stored.meal)
    kept = tuple(c for c in item.confirmed if c != "over")
    batch = stored.weigh_in.batch
    if batch is not None:
        # The batch may have had another number in another kitchen.
        item = replace(item, batch=BatchRef(number=batch, text=f"batch {batch}"))
    elif stored.weigh_in.open is not None and item.batch is not None and kitchens.joined_at(ex.books) is not None:
        # So may the one that an open portion is of.
        named = tuple(b.number for b in ex.known.own.batches if b.name == stored.weigh_in.food)
        item = replace(item, batch=BatchRef(candidates=named, text=stored.weigh_in.food))
    return replace(item, when=when, confirmed=kept, changes=stored.number)


def delete(meaning: Delete, ex: Exchange) -> Refuse | None:
    """Removes a weigh-in and gives a portion back to its batch."""
    found = find(meaning.which, ex)
    if found is None:
        ex.say("There is nothing to delete.")
        return None
    if isinstance(found, Refuse):
        return found
    _remove(found, ex)
    ex.say("Say undo to have it back.")
    return None


def _remove(found: StoredWeighIn, ex: Exchange) -> None:
    weighins.remove(ex.books, found)
    drop_questions(found.number, ex)
    ex.note(event_of.removed(found))
    ex.say(f"#{found.number} {found.weigh_in.food}, {saying.grams(found.weigh_in.as_weighed_g)}, deleted.")
    ex.changed_days.add(found.day)
    give_back(found, ex)


def delete_several(meaning: DeleteSeveral, ex: Exchange) -> Ask | Refuse | None:
    """Removes weigh-ins by their numbers or foods; a whole meal or day after asking once."""
    if meaning.numbers or meaning.names:
        asked = [Which(number=number) for number in meaning.numbers] or [
            Which(name=name, day=meaning.day, meal=meaning.meal) for name in meaning.names
        ]
        found = [find(which, ex) for which in asked]
        refused = next((each for each in found if isinstance(each, Refuse)), None)
        if refused is not None:
            return refused
        # Two numbers, or a number and a food, may mean the same weigh-in.
        for each in {each.number: each for each in found if isinstance(each, StoredWeighIn)}.values():
            _remove(each, ex)
        ex.say("Say undo to have it back.")
        return None
    stored = of_day(Which(day=meaning.day, meal=meaning.meal), ex)
    day = saying.day(meaning.day or ex.books.today, ex.books.today)
    what = f"{meaning.meal} of {day}" if meaning.meal else day
    if not stored:
        ex.say(f"Nothing is on record for {what}.")
        return None
    if not meaning.sure:
        shown = saying.listed([f"#{each.number} {each.weigh_in.food}" for each in stored[:MOST_SHOWN]])
        more = f" and {len(stored) - MOST_SHOWN} more" if len(stored) > MOST_SHOWN else ""
        text = f"Delete {len(stored)} {'weigh-in' if len(stored) == 1 else 'weigh-ins'} of {what}: {shown}{more}?"
        choices = (Choice("yes, delete", replace(meaning, sure=True)), Choice("no, keep", None))
        return Ask(About.DELETE, text, meaning, choices)
    for each in stored:
        _remove(each, ex)
    ex.say("Say undo to have it all back.")
    return None


def change(meaning: Change, ex: Exchange) -> Item | Ask | Refuse | None:
    """The corrected item, which is judged like any other before it replaces the weigh-in."""
    found = _remembered(meaning, ex) or find(meaning.which, ex, today_only=meaning.otherwise is not None)
    if isinstance(found, Refuse):
        return found if meaning.otherwise is None else _new_after_all(meaning.otherwise, found, meaning, ex)
    if found is None:
        if meaning.otherwise is not None:
            return meaning.otherwise
        impossible = amount_doubt(Item(text=""), meaning.amount) if meaning.amount is not None else None
        if meaning.amount is not None and not isinstance(impossible, Refuse):
            try:
                check_weight(in_unit_of(meaning.amount).grams or 1.0)
            except DomainError as error:
                return Refuse(str(error))
            return Ask(
                About.FOOD,
                f"Nothing is on record to change. {saying.spaced(meaning.amount.text)} of what?",
                Item(text=meaning.amount.text, amount=in_unit_of(meaning.amount)),
            )
        ex.say("Nothing is on record to change.")
        return impossible if isinstance(impossible, Refuse) else None
    if meaning.was is not None and not _fits(meaning.was, found):
        return _which_one(meaning, found, ex)
    if meaning.state is not None and meaning.name is not None and meaning.name.kinds and is_named(meaning.name, found):
        meaning = replace(meaning, name=None)  # 'make that turkey raw' of ground turkey names it, and no other kind
    if replace(meaning, which=Which(), otherwise=None, corrects=False) == Change(which=Which()):
        return ask_amount(found, ex)
    if meaning.which.number is None and meaning.amount is not None and _only_counts(meaning.amount, found, ex):
        return ask_amount(found, ex)
    if _grows_too_much(meaning, found, ex):
        return _ask_if_meant(meaning, found)
    asked = found.weigh_in.open
    if asked is not None and asked.about == About.FOOD and meaning.which.name is not None and meaning.name is not None:
        remembering.kind_told(meaning.which.name, meaning.name, ex)
    return _changed(meaning, item_of(found, ex), found, ex)


def _grows_too_much(meaning: Change, found: StoredWeighIn, ex: Exchange) -> bool:
    """Whether a number may be none of the last weigh-in: 'set it to 1900' behind 180 g rice and talk of a target."""
    unnamed = meaning.unnamed or meaning.which == Which()
    if meaning.amount is None or meaning.was is not None or not unnamed:
        return False
    grams = in_unit_of(meaning.amount, item_of(found, ex).amount).grams
    if grams is None or grams <= MOST_GROWN * found.weigh_in.as_weighed_g:
        return False
    try:
        check_weight(grams)
    except DomainError:
        return False  # it is refused, whatever it is of
    return True


def _ask_if_meant(meaning: Change, found: StoredWeighIn) -> Ask:
    assert meaning.amount is not None
    sure = replace(meaning, which=Which(number=found.number), unnamed=False)
    stands = f"#{found.number} {found.weigh_in.food}, {saying.grams(found.weigh_in.as_weighed_g)}"
    text = f"{stands}: shall I change it to {saying.spaced(meaning.amount.text)}?"
    return Ask(About.WHICH, text, meaning, (Choice("yes, change it", sure), Choice("no, keep it", None)))


def _only_counts(amount: Amount, found: StoredWeighIn, ex: Exchange) -> bool:
    """Whether a small number can't be the grams of what was weighed: 'two of the sausages were burnt'."""
    before = item_of(found, ex).amount
    small = amount.kind == "bare" and 1 <= amount.value <= MOST_COUNTED and amount.value % 1 == 0
    in_grams = before is not None and before.kind == "mass" and before.unit == "g"
    return small and in_grams and amount.value * LEAST_PART < found.weigh_in.as_weighed_g


def _new_after_all(item: Item, refusal: Refuse, meaning: Change, ex: Exchange) -> Item | Ask:
    """What a fix tells of that finds nothing on record: a weigh-in of its own, asked about where it took one back."""
    if not meaning.corrects:
        return item
    choices = (Choice("record it", ex.dated(item)), Choice("no", None))
    return Ask(About.WHICH, f"{refusal.text} Shall I record {item.text} as a weigh-in of its own?", item, choices)


def ask_amount(found: StoredWeighIn, ex: Exchange) -> Ask:
    """Asks for the right amount of a weigh-in, which stands as it is until then."""
    item = item_of(found, ex)
    amount, how_many = saying.grams(found.weigh_in.as_weighed_g), "How many grams was it?"
    if item.amount is not None and _is_counted(item):
        amount, how_many = item.amount.text, "How many was it?"
    return Ask(About.CHANGE, f"#{found.number} {found.weigh_in.food}, {amount}. {how_many}", item)


def with_new_amount(item: Item, amount: Amount) -> Item | Refuse:
    """The item with the amount that `ask_amount` asked for: a small number of what was counted is a count."""
    if item.amount is not None and _is_counted(item) and amount.kind == "bare" and amount.value <= MOST_COUNTED:
        unit = f" {item.amount.unit}" if item.amount.unit else ""
        amount = replace(item.amount, value=amount.value, text=f"{amount.value:g}{unit}")
        return replace(item, amount=amount, measure=None, two_masses=False)
    return _amount_changed(item, amount)


def _is_counted(item: Item) -> bool:
    counted = item.amount is not None and item.amount.kind in ("bare", "count")
    return counted and (item.number_first or (item.amount is not None and item.amount.kind == "count"))


def _remembered(meaning: Change, ex: Exchange) -> StoredWeighIn | None:
    """The latest weigh-in of the day that is named that weighs what the person remembers."""
    which = meaning.which
    if meaning.was is None or which.day is None:
        return None
    fitting = [each for each in of_day(which, ex) if _fits(meaning.was, each)]
    return fitting[-1] if fitting else None


def _fits(was: Amount, stored: StoredWeighIn) -> bool:
    grams = was.grams if was.grams is not None else was.value
    return any(abs(grams - g) <= max(FITS * g, 0.5) for g in (stored.weigh_in.as_weighed_g, stored.weigh_in.edible_g))


def _which_one(meaning: Change, last: StoredWeighIn, ex: Exchange) -> Ask:
    assert meaning.was is not None
    today = weighins.on_day(ex.books, ex.books.today)
    near = [s for s in reversed(today) if _fits(meaning.was, s)] or [last]
    choices = tuple(
        Choice(
            saying.choice(f"#{s.number} {s.weigh_in.food}"), replace(meaning, which=Which(number=s.number), was=None)
        )
        for s in near[:3]
    )
    return Ask(
        About.WHICH,
        f"The last weigh-in was {saying.grams(last.weigh_in.as_weighed_g)} {last.weigh_in.food}, not {meaning.was.text}. Which one shall I change?",
        meaning,
        choices,
    )


def in_unit_of(amount: Amount, before: Amount | None = None) -> Amount:
    """The amount with a bare number read in the unit of the amount before it, else as grams."""
    if amount.kind != "bare" or amount.doubt is not None:
        return amount
    if before is not None and before.kind == "volume" and amount.value < MOST_TIMES * before.value:
        return replace(before, value=amount.value, text=f"{amount.value:g} {before.unit}", other=None)
    if before is not None and before.kind == "mass" and before.grams and 0 < amount.value < MOST_TIMES * before.value:
        grams = amount.value * before.grams / before.value
        return replace(mass(grams, f"{amount.value:g} {before.unit}"), value=amount.value, unit=before.unit)
    return mass(amount.value, f"{amount.value:g} g")


def _changed(meaning: Change, item: Item, found: StoredWeighIn, ex: Exchange) -> Item | Refuse:
    if meaning.by is not None:
        by = meaning.by.grams if meaning.by.grams is not None else meaning.by.value
        grams = max(0.0, found.weigh_in.as_weighed_g + by)
        meaning = replace(meaning, by=None, amount=mass(grams, saying.grams(grams)))
    if meaning.share is not None:
        item = _part_of(item, meaning.share, found)
    if meaning.kcal is not None:
        item = replace(item, kcal=meaning.kcal)
    if meaning.amount is not None:
        new = with_new_amount(item, meaning.amount)
        if isinstance(new, Refuse):
            return new
        item = replace(new, tare=meaning.tare)
    elif meaning.tare is not None:
        item = replace(item, tare=meaning.tare)
    if meaning.name is not None:
        item = replace(item, name=meaning.name, batch=None)
    if meaning.state is not None:
        if item.batch is not None:
            return Refuse(
                f"#{found.number} came from batch {found.weigh_in.batch}, so its state is the batch's.",
                Why.BATCH_PORTION,
            )
        item = replace(item, state=meaning.state, method=meaning.method, state_may_be_verb=False)
    if meaning.whole is not None:
        item = replace(item, whole=meaning.whole, part="" if not meaning.whole else item.part, waste_g=None)
    if meaning.when is not None and (meaning.when.day or meaning.when.meal):
        when = meaning.when
        day = when.day or item.when.day
        item = replace(
            item,
            when=When(
                day=day,
                moment=when.moment or (None if when.day else item.when.moment),
                meal=when.meal or item.when.meal,
                future=when.future,
            ),
        )
    return item


def _part_of(item: Item, share: float, found: StoredWeighIn) -> Item:
    """The item with only a share of what is recorded; of an estimate, of its energy."""
    if item.kcal is not None:
        return replace(item, kcal=item.kcal * share)
    waste = item.waste_g * share if item.waste_g is not None else None
    peeled = item.peeled_g * share if item.peeled_g is not None else None
    part = _amount_changed(item, mass(found.weigh_in.as_weighed_g * share))
    assert isinstance(part, Item)
    return replace(part, waste_g=waste, peeled_g=peeled)


def _amount_changed(item: Item, amount: Amount) -> Item | Refuse:
    """The item with another amount, without what was told of the old one."""
    amount = in_unit_of(amount, item.amount)
    if amount.value == 0:
        return Refuse(
            f"0 g is not a weigh-in. To remove it: delete #{item.changes}. Nothing is changed.",
            Why.ZERO,
            says_so=True,
        )
    return replace(
        item,
        amount=amount,
        measure=None,
        two_masses=False,
        peeled_g=None,
        cooked_g=None,
        tare=None,
        others_g=None,
        shared=False,
        kcal=None,
        number_first=amount.kind == "count" and amount.unit == "",
    )


def again(meaning: Again, ex: Exchange) -> Item | Ask | Refuse:
    """The last weigh-in's food, state and batch again."""
    last = weighins.latest(ex.books)
    if last is None:
        pending = Item(
            text=meaning.amount.text if meaning.amount else "again", amount=meaning.amount, when=meaning.when
        )
        of_it = f"{saying.spaced(meaning.amount.text)} of what" if meaning.amount else "What was it"
        return Ask(About.FOOD, f"Nothing is on record to repeat. {of_it}?", pending)
    if weighins.has_left(ex.books, last):
        return left_kitchen(last)
    item = replace(item_of(last, ex), when=meaning.when, changes=None)
    if meaning.amount is None:
        return item
    amount = meaning.amount
    if is_share(amount):
        return _part_of(item, amount.value, last)
    if amount.kind == "bare" and not (
        item.amount is not None and item.amount.kind in ("bare", "count") and amount.value <= 12
    ):
        amount = in_unit_of(amount)
    return replace(
        item,
        amount=amount,
        measure=None,
        waste_g=None,
        peeled_g=None,
        cooked_g=None,
        two_masses=False,
        others_g=None,
        tare=None,
    )


def same_food(name: Name | None, stored: StoredWeighIn) -> bool:
    """Whether an item names the food of a recorded weigh-in."""
    return name is not None and stored.weigh_in.food in (*name.foods, name.text)
