"""Pots, pieces, boxes and recipes: from readings to meanings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Literal, cast

from bot.language.batch_meanings import (
    AddIngredients,
    BoxUp,
    Contents,
    CookAgain,
    CorrectIngredient,
    CountPieces,
    GiveAway,
    MoveBoxes,
    Place,
    RecipeChange,
    RemoveIngredient,
    RenameBatch,
    StillGood,
    Stored,
    SwapIngredient,
    TakeBoxes,
    TakeOutRefuse,
    TakePieces,
    TakeShare,
    WhichBoxes,
)
from bot.language.grammar import Reading
from bot.language.items import items
from bot.language.meanings import (
    Amount,
    BatchRef,
    Change,
    CloseBatch,
    CookBatch,
    Item,
    Left,
    Meaning,
    Name,
    PourOff,
    ReduceBatch,
    SplitBatch,
    TareRef,
    When,
    Which,
)
from bot.language.message import Message
from bot.language.moments import Moment, together
from bot.language.names import lemmas_of
from bot.language.pack import pack, plain
from bot.language.pots import one_of
from bot.language.stance import without_excluded
from bot.language.surroundings import KnownBatch
from bot.language.words import Words
from domain.foods import State

MOST_BOXES = 999
MOST_PIECES = 200
MOST_UNKNOWN = 3
"""Words that the name of an ingredient may have which no table has."""
GENERIC_PIECES = frozenset({"piece", "slice", "square", "wedge"})
"""Words for pieces of any batch."""
TOLD_KINDS = frozenset({"amount", "food", "state", "size", "whole", "sign", "newline", "tare", "noise"})
"""What a list of ingredients is made of, beside words that join or are foods of no table."""


def _pot(reading: Reading) -> BatchRef:
    return cast("BatchRef | None", reading.values.get("pot")) or BatchRef()


def _amount(reading: Reading, key: str = "weight") -> Amount | None:
    return cast("Amount | None", reading.values.get(key))


def _count(reading: Reading) -> int:
    return cast(int, reading.values.get("count", 1))


def _when(reading: Reading, message: Message) -> When:
    told = [cast(Moment, reading.values[key]) for key in ("when", "at") if reading.values.get(key) is not None]
    when = together(told, message.around)
    return when if when.meal is not None else replace(when, meal=message.when.meal)


def _place(reading: Reading) -> Place | None:
    return cast("Place | None", reading.values.get("place"))


def _said(message: Message) -> list[str]:
    return [plain(word) for word in message.said]


def _says(message: Message, *concepts: str) -> bool:
    said = _said(message)
    return any(pack()[name].found(said) for name in concepts)


def _told(reading: Reading, message: Message, key: str = "items") -> tuple[Item, ...]:
    """The foods of a stretch, each with its amount; none where anything else stands in it."""
    words = cast("Words | None", reading.values.get(key))
    part = message.between(words.start, words.end) if words is not None else None
    if part is None:
        return ()
    joining = pack()["joining"]
    for chunk in part.chunks:
        word = chunk.text.lower()
        if chunk.kind in TOLD_KINDS or (chunk.kind == "batch" and chunk.batch is not None and not chunk.batch.sure):
            continue
        if chunk.kind != "word" or (
            message.words.knows(word)
            and word not in joining
            and word not in (*message.words.harmless, "of", "more", "a")
        ):
            return ()
    told = [replace(item, batch=None) if item.name is not None else item for item in items(part)]
    return tuple(told) if told and all(i.name is not None for i in told) else ()


def _cooking(message: Message) -> BatchRef | None:
    """The one batch on the stove; None where there is none, or more than one."""
    batches = message.around.cooking
    return BatchRef(candidates=(batches[0].number,)) if len(batches) == 1 else None


def _known(message: Message, ref: BatchRef) -> list[KnownBatch]:
    """The open batches that are meant; all of them where none was named."""
    numbers = {ref.number} if ref.number is not None else set(ref.candidates)
    named = [b for b in message.around.batches if b.number in numbers]
    return named if numbers else list(message.around.batches)


def _has_ingredient(message: Message, ref: BatchRef, name: Name) -> bool:
    said = set(lemmas_of(name.text))
    own = [set(lemmas_of(i)) for b in _known(message, ref) for i in b.ingredients]
    counted = any(word in pack()["ends_list"] for word in name.text.split())
    return said in own or (bool(name.foods or name.kinds) and not counted and any(said <= i or i <= said for i in own))


def _is_name(message: Message, name: Name) -> bool:
    """Whether it is a food, or a few words that no list has."""
    if name.foods or name.kinds:
        return True
    words = name.text.split()
    return len(words) <= MOST_UNKNOWN and not any(message.words.knows(word) for word in words)


def _asks(message: Message) -> bool:
    """Whether it is a question; 'what is left of it went to Dan' and 'is ready, 210 g' are none."""
    said = _said(message)
    begins = any(next(pack()[name].ends(said, 0), 0) for name in ("rest_of", "done"))
    return message.asks and not (begins and "?" not in said)


def _records_nothing(message: Message) -> bool:
    return _asks(message) or _says(message, "condition")


def add_ingredients(reading: Reading, message: Message) -> Meaning | None:
    """What went into a batch; an unnamed one is the one on the stove."""
    told = _told(reading, message, "one" if "one" in reading.values else "items")
    ref = _cooking(message) if "cooking" in reading.values else _pot(reading)
    if not told or ref is None or not message.around.batches or _records_nothing(message):
        return None
    if "one" in reading.values and len(told) > 1:
        return None
    if any(i.amount is None for i in told) and not all(i.amount is None for i in told):
        return None
    if "pot" in reading.values and ref == BatchRef() and _cooking(message) is None and len(message.around.batches) > 1:
        return None
    if "filling" in reading.values and not any(b.filling for b in message.around.cooking):
        return None
    early = bool(reading.values.get("from_start")) or _says(message, "from_start")
    return AddIngredients(
        batch=ref,
        items=told,
        from_start=early,
        cooked=_amount(reading, "cooked"),
        tare=cast("TareRef | None", reading.values.get("pan")),
    )


def correct_ingredient(reading: Reading, message: Message) -> Meaning | None:
    """An ingredient told wrong: its amount or its state."""
    name = cast(Name, reading["thing"])
    ref = _cooking(message) if "cooking" in reading.values else _pot(reading)
    if ref is None or _asks(message) or not message.around.batches or not _is_name(message, name):
        return None
    if "cooking" in reading.values and (message.of("moment", "batch") or not _has_ingredient(message, ref, name)):
        return None
    amount = _amount(reading, "amount")
    if amount is None and reading.values.get("state") is None:
        return None
    if not _stands_apart(reading, message):
        return None
    state, method = cast("tuple[object, str]", reading.values.get("state") or (None, ""))
    item = Item(text=message.text, amount=amount, state=state, method=method)  # type: ignore[arg-type]
    return CorrectIngredient(batch=ref, name=name, item=item)


def _stands_apart(reading: Reading, message: Message) -> bool:
    """Whether what follows a correction is a remark of its own: 'less' or 'each' right behind an amount is none."""
    words = cast("Words | None", reading.values.get("tail"))
    if words is None:
        return True
    said = [plain(token.text) for token in message.line.tokens[words.start : words.end]]
    return not next(pack()["amount_goes_on"].ends(said, 0), 0) and _of_mine(reading, message)


def remove_ingredient(reading: Reading, message: Message) -> Meaning | None:
    """Ingredients that were never in it."""
    names = tuple(cast(Name, reading[key]) for key in ("thing", "other") if reading.values.get(key) is not None)
    ref = _cooking(message) if "cooking" in reading.values else _pot(reading)
    if ref is None or _asks(message) or not message.around.batches:
        return None
    if not all(_is_name(message, name) for name in names):
        return None
    if "cooking" in reading.values and not all(_has_ingredient(message, ref, name) for name in names):
        return None
    return RemoveIngredient(batch=ref, names=names)


def swap_ingredient(reading: Reading, message: Message) -> Meaning | None:
    """Another food in place of an ingredient."""
    told = _told(reading, message, "item")
    old = cast(Name, reading["old"])
    ref = cast("BatchRef | None", reading.values.get("pot")) or _cooking(message)
    if len(told) != 1 or ref is None or _asks(message):
        return None
    return SwapIngredient(batch=ref, name=old, item=told[0])


def take_out_refuse(reading: Reading, message: Message) -> Meaning | None:
    """Bones and the like by their weight."""
    amount = _amount(reading)
    if amount is None or _asks(message) or not message.around.batches:
        return None
    return TakeOutRefuse(batch=_pot(reading), part=str(reading["part"]), amount=amount)


def _plain_pieces(batch: KnownBatch) -> bool:
    return batch.piece in ("", "piece")


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


def into_the_pot(told: Sequence[Item], message: Message) -> AddIngredients | None:
    """A list of foods while a dish is being put together: what goes into it, unless it tells of eating."""
    filling = [b for b in message.around.batches if b.filling]
    if len(filling) != 1 or message.when.meal or message.when.day or message.has_any(message.words.eating):
        return None
    if lemmas_of(filling[0].name) in [lemmas_of(name) for name in filling[0].ingredients]:
        return None
    if not all(i.name is not None and i.amount is not None and i.state is not State.COOKED for i in told):
        return None
    if any(i.batch is not None and i.batch.sure for i in told):
        return None
    inside = {lemmas_of(name) for name in filling[0].ingredients}
    if any(
        i.name is not None and any(lemmas_of(food) in inside for food in (*i.name.foods, i.name.text)) for i in told
    ):
        # What is in it already goes in twice less often than it is eaten beside it.
        return None
    items, ref = tuple(replace(item, batch=None) for item in told), BatchRef(candidates=(filling[0].number,))
    return AddIngredients(batch=ref, items=items, unsaid=not filling[0].line_by_line)


def in_pieces(told: Sequence[Item], message: Message) -> list[Meaning]:
    """The items of a list, those that are pieces of a batch as such ('245 g dal, 2 rotis, 90 g yogurt')."""
    into = into_the_pot(told, message)
    if into is not None:
        return [into]
    return [_as_pieces(item, message) or item for item in told]


def _as_pieces(item: Item, message: Message) -> TakePieces | None:
    amount = item.amount
    if amount is None or amount.kind not in ("count", "bare") or amount.doubt is not None:
        return None
    named = f"{item.name.text if item.name else ''} {item.batch.text if item.batch else ''}"
    words = {*(one_of(word) for word in named.split()), amount.unit}
    batches = [b for b in message.around.batches if b.pieces is not None and b.piece]
    of_it = [
        b for b in batches if b.piece in words and (b.piece not in GENERIC_PIECES or words & set(lemmas_of(b.name)))
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


def count_pieces(reading: Reading, message: Message) -> Meaning | None:
    """A batch in pieces of equal weight."""
    pieces, word = _count(reading), str(reading["pieces"])
    if not 1 < pieces <= MOST_PIECES or _asks(message) or not message.around.batches:
        return None
    ref = _of_pieces(message, cast("BatchRef | None", reading.values.get("pot")), word) or _cooking(message)
    if ref is None:
        known = [b for b in message.around.batches if b.pieces is None]
        told = "pot" in reading.values or len(known) == 1
        ref = BatchRef(candidates=tuple(b.number for b in known) if len(known) == 1 else ()) if told else None
    if ref is None:
        return None
    weight = _amount(reading)
    if weight is not None and weight.kind == "bare" and weight.value <= pieces:
        return None
    return CountPieces(batch=ref, pieces=pieces, word=word, amount=weight, each=_amount(reading, "each"))


def _divided(message: Message, ref: BatchRef) -> bool:
    return any(b.pieces is not None for b in _known(message, ref))


def take_pieces(reading: Reading, message: Message) -> Meaning | Sequence[Meaning] | None:
    """Pieces that the writer ate."""
    word = str(reading.values.get("pieces", ""))
    pieces = cast(float, reading.values.get("number", 1.0))
    if "of" in reading.values:
        whole = cast(int, reading["of"])
        batches = [b for b in message.around.batches if b.pieces == whole]
        ref = BatchRef(candidates=tuple(b.number for b in batches)) if batches else None
    else:
        ref = _of_pieces(message, cast("BatchRef | None", reading.values.get("pot")), word)
    if ref is None or not 0 < pieces <= MOST_PIECES or _records_nothing(message) or not _of_mine(reading, message):
        return None
    if pieces < 1 and word in {lemma for b in _known(message, ref) for lemma in lemmas_of(b.name)}:
        return None
    if not _divided(message, ref) and "pot" not in reading.values:
        return None
    left = _amount(reading, "left")
    taken = TakePieces(
        batch=ref,
        pieces=pieces,
        word=word,
        when=_when(reading, message),
        left_g=None if left is None else left.grams or left.value,
    )
    return _with_more(taken, reading, message)


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
    batches = [b for b in _known(message, ref) if b.piece] if ref is not None else []
    if len(batches) != 1:
        return None
    amount = Amount(kind="count", value=number, unit=batches[0].piece, text=f"{number:g} {batches[0].piece}s")
    return Change(which=Which(name=Name(text=batches[0].name)), amount=amount)


def _of_mine(reading: Reading, message: Message) -> bool:
    """Whether what is left over by a template has no amount or other eater in it."""
    words = cast("Words | None", reading.values.get("tail"))
    part = message.between(words.start, words.end) if words is not None else None
    if words is None:
        return True
    return (
        part is not None and not part.of("amount", "food", "batch", "hash") and not part.has_any(message.words.people)
    )


def _with_more(taken: Meaning, reading: Reading, message: Message) -> Meaning | Sequence[Meaning] | None:
    """What was eaten along with it."""
    if reading.values.get("more") is None:
        return taken
    words = cast(Words, reading["more"])
    part = message.between(words.start, words.end)
    told = items(part) if part is not None else []
    if not told or any(i.name is None and i.batch is None for i in told):
        return None
    return [taken, *told]


def _why(message: Message) -> str:
    return "thrown out" if _says(message, "threw_out") else "given away"


def _who(reading: Reading) -> str:
    return str(reading.values.get("other") or "")


def give_pieces(reading: Reading, message: Message) -> Meaning | Sequence[Meaning] | None:
    """Pieces that others ate, perhaps beside what they had of another batch."""
    word = str(reading["pieces"])
    pieces = cast(float, reading["number"])
    beside = cast("BatchRef | None", reading.values.get("pot"))
    rest = beside is not None and _says(message, "rest_of") and "and" in message.said
    ref = _of_pieces(message, None if rest else beside, word)
    if ref is None or _asks(message) or not _of_mine(reading, message):
        return None
    if pieces < 1 and not _divided(message, ref):
        return None
    if "all" in reading.values:
        pieces = cast(float, reading["all"])
    elif "second" in reading.values:
        return None
    given = GiveAway(batch=ref, why=_why(message), pieces=pieces, who=_who(reading))
    if rest and beside is not None:
        return [ReduceBatch(batch=beside, amount=None, why="given away"), given]
    if "also" in reading.values:
        words = cast(Words, reading["also"])
        part = message.between(words.start, words.end)
        told = items(part) if part is not None else []
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
    ref = _of_pieces(message, cast("BatchRef | None", reading.values.get("pot")), word)
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


def box_up(reading: Reading, message: Message) -> Meaning | None:
    """Boxes of said weights, or for a place."""
    weights = tuple(a for a in (_amount(reading, key) for key in ("w1", "w2", "w3")) if a is not None)
    each, total = _amount(reading, "each"), _amount(reading, "total")
    count = cast("int | None", reading.values.get("count"))
    freezing = _says(message, "freezing")
    place = _place(reading) or ("freezer" if freezing else None)
    if _asks(message) or not message.around.batches or (count is not None and not 0 < count <= MOST_BOXES):
        return None
    if weights:
        return BoxUp(batch=_pot(reading), weights=weights, place=place)
    count = count or 1
    if total is not None:
        grams = (total.grams or total.value) / count
        each = Amount(kind="mass", value=grams, unit="g", grams=grams, text=f"{grams:g} g")
    if each is None and place is None:
        return None
    return BoxUp(batch=_pot(reading), boxes=count, each=each, place=place)


def split_batch(reading: Reading, message: Message) -> Meaning | None:
    """Equal boxes of all that is left."""
    count = cast(int, reading.values.get("count", 2))
    if not 0 < count <= MOST_BOXES or not message.around.batches or (_asks(message) and not message.orders):
        return None
    said = message.said
    if any(sign in "-−" and number == str(count) for sign, number in pairwise(said)):
        count = -count
    ref = _pot(reading)
    if ref == BatchRef():
        ref = BatchRef(candidates=tuple(b.number for b in message.around.batches if b.cooked))
    return SplitBatch(batch=ref, boxes=None if reading.values.get("open") else count)


def move_boxes(reading: Reading, message: Message) -> Meaning | None:
    """Boxes, or what is loose, to another place; boxes that don't exist yet are filled."""
    if not message.around.batches or _asks(message):
        return None
    out = message.has("out of", "from", "outta") or _says(message, "thawing")
    place = _place(reading)
    to: Place = "freezer"
    if place is not None:
        to = place if not out else ("fridge" if place == "freezer" else "freezer")
    elif not _says(message, "freezing"):
        frozen = message.has("freezer")
        to = "freezer" if frozen != out else "fridge"
    ref = _pot(reading)
    when = _when(reading, message)
    boxed = _says(message, "box")
    count = _count(reading)
    if boxed and all(b.boxes == 0 for b in _known(message, ref)) and not out:
        return BoxUp(batch=ref, boxes=count, place=to, when=when)
    which = WhichBoxes(count=count, place=place if out else None) if boxed else None
    return MoveBoxes(batch=ref, which=which, to=to, when=when)


def take_boxes(reading: Reading, message: Message) -> Meaning | Sequence[Meaning] | None:
    """Whole boxes that the writer ate; told by their number alone they are a weigh-in of a batch."""
    number = cast(float, reading.values.get("number", 1.0))
    ref = _pot(reading)
    if _records_nothing(message) or not message.around.batches or (ref == BatchRef() and "pot" in reading.values):
        return None
    weight, place = _amount(reading), _place(reading)
    when = _when(reading, message)
    told = _says(message, "took") or bool(when.meal)
    fresh = all(b.boxes == 0 for b in _known(message, ref)) and bool(ref.text)
    if fresh and not told and number > 1 and place is None:
        return SplitBatch(batch=ref, boxes=int(number)) if number == int(number) else None
    everything = _says(message, "rest_of") and "number" not in reading.values
    if place is None and weight is None and not everything:
        amount = Amount(kind="count", value=number, unit="box", text=f"{number:g} box" + "es" * (number != 1))
        return _with_more(
            Item(text=message.text, amount=amount, batch=replace(ref, sure=True), when=when), reading, message
        )
    if number != int(number):
        return None
    which = WhichBoxes(count=None if everything else int(number), place=place, amount=weight)
    return _with_more(TakeBoxes(batch=ref, which=which, when=when), reading, message)


def give_boxes(reading: Reading, message: Message) -> Meaning | None:
    """Boxes that others had, or that were thrown out."""
    number = cast(float, reading.values.get("number", 1.0))
    if _asks(message) or not message.around.batches:
        return None
    why = "discarded" if _says(message, "threw_out") else "given away"
    return ReduceBatch(batch=_pot(reading), amount=None, boxes=number, why=why)


def _of(message: Message) -> Literal["whole", "left"] | None:
    if _says(message, "left_of"):
        return "left"
    return "whole" if _says(message, "whole_of") else None


def give_share(reading: Reading, message: Message) -> Meaning | None:
    """A share that others had."""
    fraction, _ = cast("tuple[float, str]", reading["share"])
    if _asks(message) or not message.around.batches:
        return None
    return GiveAway(batch=_pot(reading), why=_why(message), fraction=fraction, of=_of(message), who=_who(reading))


def take_share(reading: Reading, message: Message) -> Meaning | Sequence[Meaning] | None:
    """A share that the writer had; the rest is all of what is left."""
    ref, when = _pot(reading), _when(reading, message)
    if message.asks or _records_nothing(message) or not message.around.batches or when.future:
        return None
    if ref == BatchRef() and len(message.around.batches) > 1:
        return None
    if reading.values.get("rest"):
        taken = TakeShare(batch=ref, fraction=1.0, of="left", text="the rest", when=when)
        return _with_more(taken, reading, message)
    fraction, text = cast("tuple[float, str]", reading["share"])
    more = cast("Words | None", reading.values.get("more"))
    if more is not None and plain(message.line.text(more.start)) in pack()["recipe_word"]:
        return None
    return _with_more(TakeShare(batch=ref, fraction=fraction, of=_of(message), text=text, when=when), reading, message)


def reduce_batch(reading: Reading, message: Message) -> Meaning | None:
    """A weight, or all that is left, that is on nobody's day."""
    if _asks(message) or not message.around.batches or not _of_mine(reading, message):
        return None
    why = "discarded" if _says(message, "threw_out") else "given away"
    return ReduceBatch(batch=_pot(reading), amount=_amount(reading), why=why)


def close_batch(reading: Reading, message: Message) -> Meaning | None:
    """A batch that is finished or thrown out."""
    ref = _pot(reading)
    if _asks(message) or not message.around.batches or not _of_mine(reading, message):
        return None
    if ref == BatchRef() and len(message.around.batches) > 1:
        return None
    return CloseBatch(batch=ref, how=cast("Literal['finished', 'discarded']", reading["how"]))


def take_and_discard(reading: Reading, message: Message) -> Sequence[Meaning] | None:
    """A portion, and the rest thrown out."""
    ref = replace(_pot(reading), sure=True)
    if ref == BatchRef(sure=True) or _asks(message):
        return None
    portion = Item(text=message.text, amount=_amount(reading), batch=ref, when=_when(reading, message))
    return [portion, CloseBatch(batch=ref, how="discarded")]


def for_me_and_other(reading: Reading, message: Message) -> Sequence[Meaning] | None:
    """'280 g of chilli for me and 350 for Dan': a portion, and what another one had."""
    ref = replace(_pot(reading), sure=True)
    if ref == BatchRef(sure=True) or _asks(message):
        return None
    portion = Item(text=message.text, amount=_amount(reading), batch=ref, when=message.when)
    return [portion, ReduceBatch(batch=ref, amount=_amount(reading, "theirs"), why="given away")]


def pour_off(reading: Reading, message: Message) -> Meaning | None:
    """Fat or liquid that was poured off."""
    amount = _amount(reading)
    if amount is None or amount.kind not in ("mass", "bare") or _asks(message):
        return None
    ref = _pot(reading)
    if ref == BatchRef():
        ref = BatchRef(candidates=tuple(b.number for b in message.around.batches))
    return PourOff(batch=ref, amount=amount)


def cook_batch(reading: Reading, message: Message) -> Meaning | None:
    """A batch's cooked weight; of the one on the stove where none is named."""
    amount = _amount(reading)
    if amount is None or _asks(message) or _says(message, "portioned") or not message.around.batches:
        return None
    tare = cast("TareRef | None", reading.values.get("pan"))
    if "unnamed" in reading.values:
        ref = _on_the_stove(reading, message)
    else:
        ref = _pot(reading)
        raw = any(not b.cooked for b in _known(message, ref))
        cue = _says(message, "done", "no_vessel") or ((tare is not None or _says(message, "weighs")) and raw)
        if not cue or (ref == BatchRef() and _cooking(message) is None and not _says(message, "done")):
            return None
        words = cast("Words | None", reading.values.get("before"))
        part = message.between(words.start, words.end) if words is not None else None
        if part is not None and part.of("amount", "batch"):
            return None
        ref = _cooking(message) or _uncooked(message) if ref == BatchRef() else ref
    return None if ref is None else CookBatch(batch=ref, amount=amount, tare=tare)


def _uncooked(message: Message) -> BatchRef:
    numbers = tuple(b.number for b in message.around.batches if not b.cooked)
    return BatchRef(candidates=numbers or tuple(b.number for b in message.around.batches))


def _on_the_stove(reading: Reading, message: Message) -> BatchRef | None:
    """The batch that a cooked weight without a batch's name is of; a food said with it must be one of its own."""
    cooking = _cooking(message)
    name = cast("Name | None", reading.values.get("thing"))
    if name is None:
        waiting = [b for b in message.around.batches if not b.cooked]
        sure = cooking or (BatchRef(candidates=(waiting[0].number,)) if len(waiting) == 1 else None)
        return sure if sure is not None or not _says(message, "weighs") else _uncooked(message)
    if cooking is None:
        return None
    named = set(lemmas_of(name.text)) & {w for b in _known(message, cooking) for w in lemmas_of(b.name)}
    return cooking if named or _has_ingredient(message, cooking, name) else None


def rename_batch(reading: Reading, message: Message) -> Meaning | None:
    """Another name for a batch."""
    ref, name = _pot(reading), str(reading["newname"])
    if _asks(message) or not name or not message.around.batches or len(name.split()) > 6:
        return None
    return RenameBatch(batch=ref, name=name)


def cook_again(reading: Reading, message: Message) -> Meaning | None:
    """A recipe once more, perhaps with changes."""
    ref = cast("BatchRef | None", reading.values.get("old"))
    if ref is None:
        batches = (*message.around.batches, *message.around.closed)
        if not batches:
            return None
        ref = BatchRef(candidates=(max(b.number for b in batches),))
    factor = cast("float | None", reading.values.get("times"))
    words = cast("Words | None", reading.values.get("changes"))
    if factor is None and words is None and message.when.meal:
        return None
    if _asks(message) or message.when.future:
        return None
    if words is None:
        return CookAgain(batch=ref, factor=factor)
    part = message.between(words.start, words.end)
    if part is None:
        return None
    kept = without_excluded(part)
    gone = [c for c in part.of("food") if c not in kept.chunks]
    told = items(kept) if kept.of("amount", "food") else []
    if not (gone or told) or any(i.name is None for i in told):
        return None
    left_out = tuple(
        RecipeChange(name=message.vocabulary.resolve([t.text for t in message.tokens[c.start : c.end]], c.text.lower()))
        for c in gone
    )
    if factor is None and len(told) == 1 and told[0].amount is not None and not gone:
        first = plain(part.said[0]) if part.said else ""
        if "but" not in message.said and first not in ("add", "plus"):
            return CookAgain(batch=ref, to=told[0])
    return CookAgain(batch=ref, factor=factor, changes=(*left_out, *(RecipeChange(item=i) for i in told)))


def contents(reading: Reading, message: Message) -> Meaning | None:
    """What is in a batch."""
    return Contents(batch=_pot(reading)) if message.around.batches else None


def stored(reading: Reading, message: Message) -> Meaning | None:
    """What lies in the fridge or freezer, or how many boxes of a batch are left."""
    return Stored(place=_place(reading), batch=cast("BatchRef | None", reading.values.get("pot")))


def still_good(reading: Reading, message: Message) -> Meaning | None:
    """Whether a batch still keeps."""
    ref = _pot(reading)
    return StillGood(batch=ref, place=_place(reading)) if ref != BatchRef() else None


def left(reading: Reading, message: Message) -> Meaning | None:
    """How much is left of a batch; '… rotis left?' of the batch whose pieces they are."""
    word = str(reading.values.get("word", ""))
    if word:
        ref = _of_pieces(message, cast("BatchRef | None", reading.values.get("pot")), word)
        return None if ref is None else Left(batch=ref)
    ref = _pot(reading)
    return Left(batch=ref) if ref != BatchRef() else None
