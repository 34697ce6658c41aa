"""A batch that was divided into pieces of equal weight: from readings to meanings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import cast

from rapidfuzz.distance import OSA

from bot.language.batch_meanings import Left
from bot.language.fix_meanings import Change, Which
from bot.language.grammar import Reading
from bot.language.intents.ingredients import into_the_pot
from bot.language.intents.readings import (
    amount_of,
    asks,
    batches_meant,
    count_of,
    items_of,
    of_mine,
    one_cooking,
    pot_of,
    records_nothing,
    says,
    when_of,
    who_had,
    why_gone,
    with_more,
)
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.name_tables import lemmas_of
from bot.language.pack import pack, plain
from bot.language.portion_meanings import CountPieces, GiveAway, ReduceBatch, TakePieces, TakeShare
from bot.language.pots import one_of
from bot.language.told import Amount, BatchRef, Item, Name
from bot.language.words import Words

LEAST_SPELT = 5
"""Letters from which on a word may have a slip in it."""
MOST_PIECES = 200
GENERIC_PIECES = frozenset({"piece", "slice", "square", "wedge"})
"""Words for pieces of any batch."""


def count_pieces(reading: Reading, message: Message) -> Meaning | None:
    """A batch in pieces of equal weight."""
    pieces, word = count_of(reading), str(reading["pieces"])
    if not 1 < pieces <= MOST_PIECES or asks(message) or not message.around.batches:
        return None
    ref = _of_pieces(message, pot_of(reading), word) or one_cooking(message)
    if ref is None:
        known = [b for b in message.around.batches if b.pieces is None]
        told = "pot" in reading.values or len(known) == 1
        ref = BatchRef(candidates=tuple(b.number for b in known) if len(known) == 1 else ()) if told else None
    if ref is None:
        return None
    weight = amount_of(reading)
    if weight is not None and weight.kind == "bare" and weight.value <= pieces:
        return None
    return CountPieces(batch=ref, pieces=pieces, word=word, amount=weight, each=amount_of(reading, "each"))


def take_pieces(reading: Reading, message: Message) -> Meaning | Sequence[Meaning] | None:
    """Pieces that the writer ate."""
    word = str(reading.values.get("pieces", ""))
    pieces = cast(float, reading.values.get("number", 1.0))
    if "of" in reading.values:
        whole = cast(int, reading["of"])
        batches = [b for b in message.around.batches if b.pieces == whole]
        ref = BatchRef(candidates=tuple(b.number for b in batches)) if batches else None
    else:
        ref = _of_pieces(message, pot_of(reading), word)
    if ref is None or not 0 < pieces <= MOST_PIECES or records_nothing(message) or not of_mine(reading, message):
        return None
    named = {lemma for b in batches_meant(message, ref) for lemma in lemmas_of(b.name)}
    if pieces < 1 and (word in named or word in pack()["a_rest"]):
        return None  # a share of the batch, or of what is left of it
    if message.bare[-1:] in (["left"], ["remaining"]):
        return None
    if says(message, "came_to_grief") or (not _divided(message, ref) and "pot" not in reading.values):
        return None
    if pieces > 1 and says(message, "equally") and not _divided(message, ref):
        return None  # 'I got 24 rotis from the batch, each the same' counts them
    left = amount_of(reading, "left")
    taken = TakePieces(
        batch=ref,
        pieces=pieces,
        word=word,
        when=when_of(reading, message),
        left_g=None if left is None else left.grams or left.value,
    )
    return with_more(taken, reading, message)


def meant_pieces(reading: Reading, message: Message) -> Meaning | None:
    """Other pieces, or other boxes, than were told just now: 'I mean 2 rotis', 'no, 1 box'."""
    number = cast(float, reading["number"])
    last = message.around.last
    if reading.values.get("pieces") is None:
        amount = Amount(kind="count", value=number, unit="box", text=f"{number:g} {'box' if number == 1 else 'boxes'}")
        if last is not None and last.batch is not None:
            return Change(which=Which(), amount=amount)
        packed = [b for b in message.around.batches if b.boxes != 0]
        return Change(which=Which(name=Name(text=packed[0].name)), amount=amount) if len(packed) == 1 else None
    ref = _of_pieces(message, None, str(reading["pieces"]))
    batches = [b for b in batches_meant(message, ref) if b.piece] if ref is not None else []
    if len(batches) != 1:
        return None
    amount = Amount(kind="count", value=number, unit=batches[0].piece, text=f"{number:g} {batches[0].piece}s")
    return Change(which=Which(name=Name(text=batches[0].name)), amount=amount)


def give_pieces(reading: Reading, message: Message) -> Meaning | Sequence[Meaning] | None:
    """Pieces that others ate, perhaps beside what they had of another batch."""
    word = str(reading["pieces"])
    pieces = cast(float, reading["number"])
    beside = cast("BatchRef | None", reading.values.get("pot"))
    rest = beside is not None and says(message, "rest_of") and "and" in message.said
    ref = _of_pieces(message, None if rest else beside, word)
    if ref is None or asks(message) or not of_mine(reading, message):
        return None
    if not _divided(message, ref) and (pieces < 1 or pieces > MOST_PIECES or says(message, "box")):
        return None
    if "all" in reading.values:
        pieces = cast(float, reading["all"])
    elif "second" in reading.values:
        return None
    given = GiveAway(batch=ref, why=why_gone(message), pieces=pieces, who=who_had(reading))
    if rest and beside is not None:
        return [ReduceBatch(batch=beside, amount=None, why="given away"), given]
    if "also" in reading.values:
        told = items_of(reading, message, "also")
        others = [_given(item, message) for item in told]
        if not others or None in others:
            return None
        return [given, *(o for o in others if o is not None)]
    return given


def _given(item: Item, message: Message) -> Meaning | None:
    """What others had of another batch."""
    ref = item.batch
    if ref is None and item.name is not None:
        said = set(lemmas_of(item.name.text))
        named = tuple(b.number for b in message.around.batches if said <= set(lemmas_of(b.name)))
        ref = BatchRef(candidates=named, text=item.name.text) if named else None
    if ref is None or item.amount is None or item.amount.kind not in ("mass", "bare"):
        return None
    return ReduceBatch(batch=replace(ref, sure=True), amount=item.amount, why="given away")


def share_pieces(reading: Reading, message: Message) -> Sequence[Meaning] | None:
    """'5 meatballs for me, 6 for tim, 4 each for the two kids': pieces for everybody at the table."""
    word = str(reading["pieces"])
    ref = _of_pieces(message, pot_of(reading), word)
    words = cast(Words, reading["others"])
    given = _table(message, words)
    if ref is None or given is None:
        return None
    mine = TakePieces(batch=ref, pieces=cast(float, reading["number"]), word=word)
    return [mine, *(GiveAway(batch=ref, why="given away", pieces=n, who=who) for n, who in given)]


def _table(message: Message, words: Words) -> list[tuple[float, str]] | None:
    """(how many, who) of each part '6 for tim', '4 each for the two kids'; None where a part is read otherwise."""
    line = message.line
    told: list[tuple[float, str]] = []
    i = words.start
    while i < words.end:
        if line.text(i) in (",", "and", ";"):
            i += 1
            continue
        number = line.amounts.number(i)
        if number is None:
            return None
        i = number.end
        each = line.text(i) == "each"
        i += each
        if line.text(i) != "for":
            return None
        end = i + 1
        many = 1.0
        while end < words.end and line.text(end) not in (",", "and", ";"):
            heads = line.amounts.number(end)
            many = heads.value if heads is not None and each else many
            end += 1
        told.append((number.value * many, line.said(i + 1, end)))
        i = end
    return told or None


def left(reading: Reading, message: Message) -> Meaning | None:
    """How much is left of a batch; '… rotis left?' of the batch whose pieces they are."""
    word = str(reading.values.get("word", ""))
    if word:
        ref = _of_pieces(message, pot_of(reading), word)
        return None if ref is None else Left(batch=ref)
    ref = pot_of(reading)
    return Left(batch=ref) if ref != BatchRef() else None


def _of_pieces(message: Message, ref: BatchRef | None, word: str) -> BatchRef | None:
    """The batch that pieces of this word are of."""
    if ref is not None and ref != BatchRef():
        return ref
    batches = message.around.batches
    named = [
        b for b in batches if (word and word == b.piece) or (b.piece in ("", "piece") and word in lemmas_of(b.name))
    ]
    divided = named or [b for b in batches if b.pieces is not None and word in ("piece", "slice", "")]
    return BatchRef(candidates=tuple(b.number for b in divided)) if divided else None


def _divided(message: Message, ref: BatchRef) -> bool:
    return any(b.pieces is not None for b in batches_meant(message, ref))


def in_pieces(told: Sequence[Item], message: Message) -> list[Meaning]:
    """The items of a list; '2 rotis' and 'the rest of the rice' among them as what they are of a batch."""
    into = into_the_pot(told, message)
    if into is not None:
        return [into]
    return [_as_pieces(item, message) or _as_rest(item) or item for item in told]


def _as_rest(item: Item) -> TakeShare | None:
    """'the rest of the rice' in a list: all that is left of the batch."""
    if item.batch is None or item.amount is not None or item.several or item.waste_g is not None:
        return None
    words = [plain(word) for word in item.text.split()]
    if not any(True for i in range(len(words)) for _ in pack()["a_rest"].ends(words, i)):
        return None
    return TakeShare(batch=item.batch, fraction=1.0, of="left", text="the rest", when=item.when)


def _is_word_for(word: str, piece: str) -> bool:
    """Whether it is the batch's word for its pieces, or within one slip of it ('tamal', 'tamale')."""
    return word == piece or (min(len(word), len(piece)) >= LEAST_SPELT and OSA.distance(word, piece) <= 1)


def _as_pieces(item: Item, message: Message) -> TakePieces | None:
    amount = item.amount
    if amount is None or amount.kind not in ("count", "bare") or amount.doubt is not None:
        return None
    named = f"{item.name.text if item.name else ''} {item.batch.text if item.batch else ''}"
    words = {*(one_of(word) for word in named.split()), amount.unit}
    if item.batch is not None and amount.kind == "bare":
        words |= GENERIC_PIECES & {one_of(word) for word in item.text.lower().split()}  # 'one lasagna square'
    batches = [b for b in message.around.batches if b.pieces is not None and b.piece]
    of_it = [
        b
        for b in batches
        if any(_is_word_for(word, b.piece) for word in words)
        and (b.piece not in GENERIC_PIECES or words & set(lemmas_of(b.name)))
    ]
    if not of_it and item.batch is not None and amount.kind == "count" and amount.unit in GENERIC_PIECES:
        of_it = [b for b in batches if b.number in (item.batch.number, *item.batch.candidates)]
    if not of_it or amount.value > MOST_PIECES or item.several:
        return None
    return TakePieces(
        batch=BatchRef(candidates=tuple(b.number for b in of_it)),
        pieces=amount.value,
        word=of_it[0].piece,
        when=item.when,
        left_g=item.waste_g,
    )
