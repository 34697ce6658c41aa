"""Kitchens that the sentences are said in, and what was understood in a few words."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

from bot.language.batch_meanings import CloseBatch, Left
from bot.language.meanings import Meaning
from bot.language.portion_meanings import (
    BoxUp,
    CountPieces,
    GiveAway,
    GiveBack,
    MoveBoxes,
    ReduceBatch,
    SplitBatch,
    Stored,
    TakeBoxes,
    TakePieces,
    TakeShare,
    WhichBoxes,
)
from bot.language.surroundings import KnownBatch, LastWeighIn, Surroundings
from bot.language.told import Amount, BatchRef, Item
from bot.language.understand import understand

NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)
STEW = KnownBatch(1, "stew", cooked=True, boxes=0, raw_g=3500, left_g=2800)
BOXED = replace(STEW, boxes=8, box_g=320)
SOUP = KnownBatch(1, "soup", cooked=True, boxes=6, box_g=350, raw_g=2600, left_g=2100)
CHILI = KnownBatch(1, "chili", cooked=True, boxes=0, raw_g=2800, left_g=2000)
ROTI = KnownBatch(1, "roti", cooked=True, boxes=0, raw_g=640, left_g=560, pieces=12, piece="roti")
DOUGH = replace(ROTI, pieces=None, piece="")
CHANA = KnownBatch(2, "chana masala", cooked=True, boxes=0, raw_g=1200, left_g=1000)
DAL = KnownBatch(1, "dal", cooked=True, boxes=0, raw_g=2000, left_g=1800)
KITCHENS = {
    "stew": (STEW,),
    "boxed": (BOXED,),
    "soup": (SOUP,),
    "last": (replace(SOUP, boxes=1, left_g=350),),
    "chili": (CHILI,),
    "roti": (ROTI, CHANA),
    "dough": (DOUGH,),
    "dal": (DAL, CHANA),
}


def told(kitchen: str, text: str) -> list[str]:
    """What a message means in a kitchen, each meaning in a few words."""
    return [in_words(meaning) for meaning in meant(kitchen, text)]


def meant(kitchen: str, text: str) -> list[Meaning]:
    """What a message means in a kitchen where a portion of the first batch was eaten last."""
    batches = KITCHENS[kitchen]
    last = LastWeighIn(food=batches[0].name, grams=100, state="cooked", batch=batches[0].number)
    return understand(text, Surroundings(now=NOON, batches=batches, last=last))


def of_the_kitchen(meaning: Meaning) -> bool:
    """Whether it takes from a batch or divides one."""
    if isinstance(meaning, Item):
        return meaning.batch is not None
    changing = (BoxUp, SplitBatch, MoveBoxes, CountPieces, TakeBoxes, TakePieces, TakeShare, GiveAway, GiveBack)
    return isinstance(meaning, (*changing, ReduceBatch, CloseBatch))


def in_words(meaning: Meaning) -> str:  # noqa: C901  one case for each meaning
    """'box 6 of 350 g', 'eat 2 boxes', 'give 250 g': the meaning in a few words."""
    match meaning:
        case SplitBatch(boxes=boxes):
            return f"box {boxes}"
        case BoxUp(boxes=boxes, each=each, place=place):
            return f"box {boxes}{'' if each is None else f' of {_amount(each)}'}{_in(place)}"
        case MoveBoxes(which=which, to=to):
            return f"move {'all' if which is None else which.count or 'all'} to the {to}"
        case TakeBoxes(which=which, fraction=fraction, rest_to=rest_to):
            part = "" if fraction == 1 else f"{fraction:g} of "
            return f"eat {part}{_boxes(which)}" + (f", rest to {rest_to}" if rest_to else "")
        case TakePieces(pieces=pieces, word=word):
            return f"eat {pieces:g} {word}"
        case TakeShare(fraction=fraction, of=of):
            return f"eat {fraction:.3g} of {of}"
        case GiveAway(amount=Amount() as amount):
            return f"give {_amount(amount)}"
        case GiveAway(boxes=WhichBoxes() as which):
            return f"give {_boxes(which)}"
        case GiveAway(pieces=float() as pieces):
            return f"give {pieces:g} pieces"
        case GiveAway(fraction=fraction, of=of):
            return f"give {fraction} of {of}"
        case GiveBack(amount=amount):
            return f"back {_amount(amount)}"
        case ReduceBatch(amount=None, boxes=None) | CloseBatch(how="discarded"):
            return "all gone"
        case ReduceBatch(amount=amount, boxes=boxes):
            return f"give {boxes:g} boxes" if amount is None else f"give {_amount(amount)}"
        case CountPieces(pieces=pieces, word=word, each=each):
            return f"{pieces} {word}" + ("" if each is None else f" of {_amount(each)}")
        case Left():
            return "left?"
        case Stored(place=place):
            return f"stored?{_in(place)}"
        case Item(amount=Amount() as amount, batch=BatchRef()):
            return f"eat {_amount(amount)}" + (f" less {meaning.others_g:g} g" if meaning.others_g else "")
        case Item(amount=Amount() as amount, name=name):
            return f"eat {_amount(amount)} {'' if name is None else name.text}".strip()
        case _:
            return type(meaning).__name__


def _amount(amount: Amount) -> str:
    return f"{amount.grams:.4g} g" if amount.grams is not None else f"{amount.value:g} {amount.unit or 'g'}"


def _boxes(which: WhichBoxes) -> str:
    return f"{which.count} box{_in(which.place)}"


def _in(place: str | None) -> str:
    return "" if place is None else f" ({place})"
