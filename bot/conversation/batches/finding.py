"""Which batch is meant, and which of its ingredients."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse
from bot.kinds import About, Why
from bot.language.batch_meanings import (
    AddIngredients,
    CloseBatch,
    Contents,
    CookAgain,
    CookBatch,
    CorrectIngredient,
    Left,
    PourOff,
    RemoveIngredient,
    RenameBatch,
    SwapIngredient,
    TakeOutRefuse,
)
from bot.language.name_tables import lemmas_of
from bot.language.portion_meanings import (
    BoxUp,
    CountPieces,
    GiveAway,
    GiveBack,
    MoveBoxes,
    ReduceBatch,
    SplitBatch,
    StillGood,
    Stored,
    TakeBoxes,
    TakePieces,
    TakeShare,
)
from bot.language.surroundings import NEWER
from bot.language.told import BatchRef, Item, Name
from bot.store import batches, cooking, journal, weighins
from domain import reference
from domain.batch_steps import Ingredient
from domain.batches import Batch

OfBatch = (
    Item
    | CookBatch
    | PourOff
    | SplitBatch
    | ReduceBatch
    | CloseBatch
    | Left
    | AddIngredients
    | CorrectIngredient
    | RemoveIngredient
    | SwapIngredient
    | TakeOutRefuse
    | CountPieces
    | BoxUp
    | MoveBoxes
    | TakeBoxes
    | TakePieces
    | TakeShare
    | GiveAway
    | GiveBack
    | RenameBatch
    | CookAgain
    | Contents
    | Stored
    | StillGood
)
"""The meanings that name a batch."""
OfIngredient = CorrectIngredient | RemoveIngredient | SwapIngredient | TakeOutRefuse
"""The meanings that name an ingredient of a batch."""
AtThePot = CookBatch | AddIngredients | CountPieces
"""The meanings that tell of work on a pot: of several it is the one worked on last."""
WaitsForWeight = (
    Item | SplitBatch | ReduceBatch | CountPieces | BoxUp | MoveBoxes | TakeBoxes | TakePieces | TakeShare | GiveAway
)
"""The meanings that can wait for a batch's cooked weight."""


def uncooked(batch: Batch) -> bool:
    """Whether its cooked weight is not known yet."""
    return batch.cooked_g is None


def cooked(batch: Batch) -> bool:
    """Whether its cooked weight is known."""
    return batch.cooked_g is not None


def boxed(batch: Batch) -> bool:
    """Whether any of its boxes is left."""
    return bool(batch.boxes)


def batch_of(
    ref: BatchRef, pending: OfBatch, ex: Exchange, fits: Callable[[Batch], bool] | None = None
) -> Batch | Ask | Refuse:
    """The open batch that is meant; a question when several match, a refusal that lists the open ones when none does.

    Several of one name, or none named, are told apart by what is said of it (`fits`) where only one is like that. What
    went into a batch can be put right when the batch is over, too.
    """
    over = isinstance(pending, OfIngredient)
    if ref.number is not None:
        found = batches.get(ex.books, ref.number)
        return _no_batch(ref, found, ex) if found is None or (found.closed and not over) else found
    if not ref.candidates and ref.text:
        return _no_batch(ref, None, ex)
    if len(ref.candidates) == 1:
        only = batches.get(ex.books, ref.candidates[0])
        return only if only is not None and (over or not only.closed) else _no_batch(ref, only, ex)
    open_ones = [b for b in batches.open_batches(ex.books) if not ref.candidates or b.number in ref.candidates]
    fitting = [batch for batch in open_ones if fits is None or fits(batch)] or open_ones
    if len(fitting) > 1 and (ref == BatchRef() or isinstance(pending, AtThePot)):
        fitting = _worked_on(fitting, ex)
    if len(fitting) == 1:
        return fitting[0]
    if not fitting:
        return _no_batch(ref, None, ex)
    choices = tuple(
        Choice(saying.choice(f"batch {b.number} {b.name}"), with_batch(pending, b.number)) for b in fitting[:4]
    )
    return Ask(About.BATCH, "Which batch?", pending, choices)


def _worked_on(fitting: list[Batch], ex: Exchange) -> list[Batch]:
    """Those of several batches that were spoken of last, or that something went into long after into the others."""
    spoken = [batch for batch in fitting if batch.number == spoken_of(ex)]
    if spoken or any(map(cooked, fitting)):
        return spoken or fitting
    last_in = cooking.last_in(ex.books)
    filled = sorted((b for b in fitting if b.number in last_in), key=lambda b: last_in[b.number])
    if len(filled) < len(fitting):
        return fitting
    since = last_in[filled[-1].number] - last_in[filled[-2].number]
    return filled[-1:] if since >= NEWER else fitting


def spoken_of(ex: Exchange) -> int | None:
    """The batch of the writer's latest change: 'it', 'the pot'."""
    entries = journal.last(ex.books)
    if not entries or (entries[0].kind.startswith("weigh_in") and weighins.is_out_of_reach(ex.books, entries[0].ref)):
        return None
    details = journal.details(ex.books, entries[0])
    return details.batch if details.now is None else details.now.weigh_in.batch


def with_batch(pending: OfBatch, number: int) -> OfBatch:
    """The meaning about that batch."""
    return replace(pending, batch=BatchRef(number=number, text=f"batch {number}"))


def cooked_weight_of(batch: Batch, pending: WaitsForWeight, waits: str = "") -> Ask:
    """The question for a cooked weight, for which something waits."""
    text = (
        f"{saying.first_up(saying.batch(batch))} has no cooked weight yet. What did it weigh cooked, without the pot?"
    )
    return Ask(About.COOKED_WEIGHT, f"{text} {waits}".strip(), replace(pending, batch=BatchRef(number=batch.number)))


def _no_batch(ref: BatchRef, closed: Batch | None, ex: Exchange) -> Refuse:
    open_ones = batches.open_batches(ex.books)
    what = (
        f"{saying.first_up(saying.batch(closed))} is closed."
        if closed is not None
        else f"Batch {ref.number} is not open."
        if ref.number is not None and ref.number < 10**9
        else f"No batch called “{ref.text}” is open."
        if ref.text and open_ones
        else "No batch is open."
    )
    if open_ones:
        what += f" Open: {saying.listed([saying.batch(b) for b in open_ones[:8]])}."
    else:
        what += " To open one: new batch: 1200 g raw chicken breast."
    return Refuse(what, Why.NO_SUCH_BATCH, says_so=True)


def lines_named(name: Name, batch: Batch, ex: Exchange) -> list[int]:
    """The lines of a batch that a name can mean, the best ones only: of that food, of its kinds, of its words."""
    kinds = reference.load().kinds[name.kinds].kinds if name.kinds is not None else ()
    said = set(lemmas_of(name.text))
    tests: Sequence[Callable[[Ingredient], bool]] = (
        lambda i: i.food in name.foods or set(lemmas_of(i.food)) == said,
        lambda i: i.food in kinds,
        lambda i: any(said <= set(lemmas_of(word)) for word in words_for(i, ex)),
        lambda i: bool(lemmas_of(i.food)) and set(lemmas_of(i.food)) <= said,
        lambda i: any(lemmas_of(word)[-1:] == lemmas_of(name.text)[-1:] for word in words_for(i, ex)),
    )
    for test in tests:
        found = [line for line, ingredient in batch.lines.items() if said and test(ingredient)]
        if found:
            return found
    return []


def words_for(ingredient: Ingredient, ex: Exchange) -> tuple[str, ...]:
    """What an ingredient may be called: its food's name and the other names of that."""
    entry = ex.known.food(ingredient.food)
    return (ingredient.food, *(entry.food.aliases if entry is not None else ()))


def line_of(name: Name, batch: Batch, pending: OfIngredient, ex: Exchange) -> int | Ask | Refuse:
    """The line of a batch that is meant; a question when several could be, a refusal when there is none."""
    if pending.line is not None and pending.line in batch.lines:
        return pending.line
    found = lines_named(name, batch, ex)
    if len(found) == 1:
        return found[0]
    if not found:
        return no_such_ingredient(name, batch)
    told = {line: f"{saying.grams(batch.lines[line].raw_g)} {batch.lines[line].food}" for line in found}
    choices = tuple(
        Choice(saying.choice(words), replace(pending, batch=BatchRef(number=batch.number), line=line))
        for line, words in list(told.items())[:4]
    )
    text = f"Which {name.text} of {saying.batch(batch)}: {saying.listed(list(told.values()), 'or')}?"
    return Ask(About.WHICH_INGREDIENT, text, pending, choices)


def no_such_ingredient(name: Name, batch: Batch) -> Refuse:
    """The refusal to change an ingredient that a batch does not have."""
    what = saying.first_up(saying.batch(batch))
    return Refuse(
        f"{what} has no {name.text} in it: {saying.ingredients(batch)}. Nothing is changed.",
        Why.NO_SUCH_INGREDIENT,
        says_so=True,
    )
