"""Frames for what is cut into pieces in the same breath as the writer eats some of them."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from bot.language.batch_meanings import OpenBatch
from bot.language.chunks import Chunk
from bot.language.frames.serving import Serving, seen
from bot.language.frames.stretch import as_mass, cut_at, grams_of
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.portion_meanings import CountPieces, TakePieces
from bot.language.pots import one_of
from bot.language.scene import Scene
from bot.language.told import BatchRef, Item

MOST_PIECES = 100
LEAST_WHOLE_G = 100.0
"""What is cut up weighs at least."""
MOST_NAME_WORDS = 5
LEAST_NUMBERS = 2
"""Beside what was eaten a weight and a number of pieces are told."""


def cut_and_ate(scene: Scene) -> list[Meaning] | None:
    """'cut it in 6, i had one piece', 'birthday chocolate cake 900 g cut into 12, I had one slice'."""
    message = scene.message
    cut = seen(scene.message)
    if not (cut.cue("cut_up") or _comes_in_pieces(cut)) or _boxes(cut):
        return None
    if cut.unreal or message.of("hash", "energy", "macro", "price"):
        return None
    number = _pieces(cut)
    if number is None or number.amount is None:
        return None
    n = int(number.amount.value)
    at = next(i for i, c in enumerate(message.chunks) if c is number)
    before, behind = message.part(0, at), message.part(at + 1, len(message.chunks))
    head = seen(before)
    if _boxes(head) or ((head.mine or _changes_hands(head)) and not head.cue("we_had")):
        return None
    taken = _taken(behind, n)
    if taken is None or cut.cue("later_on"):
        return None
    eaten, word = taken
    ref = cut.ref or _spoken(cut)
    if ref is not None and not cut.scene.foods:
        known = cut.known(ref)
        if head.weights or known is None or known.pieces is not None:
            return None
        return list(_of(ref, n, word, eaten, cut))
    opened = _whole_thing(before)
    if opened is None or eaten is None:
        return None
    counted, *taken_of_it = _of(BatchRef(), n, word, eaten, cut)
    return [opened, replace(counted, amount=opened.items[0].amount), *taken_of_it]


def ate_of_a_whole(scene: Scene) -> list[Meaning] | None:
    """'lasagne 1600 g in 8 squares, I had two of them': the same where a whole is told with its weight and pieces."""
    alone = bool(scene.foods) and not scene.named and len(scene.amounts) > LEAST_NUMBERS
    return cut_and_ate(scene) if alone and _comes_in_pieces(seen(scene.message)) else None


def _of(
    ref: BatchRef, n: int, word: str, eaten: float | None, cut: Serving
) -> tuple[CountPieces, *tuple[TakePieces, ...]]:
    counted = CountPieces(batch=ref, pieces=n, word=word)
    return (counted,) if eaten is None else (counted, TakePieces(batch=ref, pieces=eaten, word=word, when=cut.when))


def _pieces(cut: Serving) -> Chunk | None:
    """The number of pieces: 'cut … in 6', 'sliced into twelve'."""
    nouns = {n for c in cut.counts for n in range(c.start, c.end)}  # 'in 12 slices' does not cut it
    start = next((end for first, end in cut.places("cut_up") if first not in nouns), 0)
    for count in cut.counts:
        amount = count.amount
        into = cut.word(count.start - 1) in pack()["into_pieces"]
        if into and count.start >= start and amount is not None and 1 < amount.value <= MOST_PIECES:
            return count
    return None


def _changes_hands(head: Serving) -> bool:
    """Whether somebody took or was given what is told of; 'is 1200 g' and 'was 900 g' only tell what it weighs."""
    if head.cue("gave_it"):
        return True
    return any(
        end - start > 1 or head.word(start) not in pack()["weighs_empty"] for start, end in head.places("took_it")
    )


def _boxes(cut: Serving) -> bool:
    """Whether boxes are spoken of, which are filled and not cut."""
    return any(one_of(cut.word(n)) not in pack()["portions"] for b in cut.boxes for n in range(b.start, b.end))


def _comes_in_pieces(cut: Serving) -> bool:
    """'apple pie 1200 g, in 10 portions, I one portion', '900 g in 12 slices': a whole with its weight and pieces."""
    if not cut.cue("into_pieces"):
        return False
    for count in cut.counts:
        amount = count.amount
        if amount is None or amount.value <= 1 or cut.word(count.start - 1) not in pack()["into_pieces"]:
            continue
        noun = one_of(amount.unit) in cut.message.words.piece_nouns or amount.unit in pack()["portions"]
        if noun and any(w.start < count.start for w in cut.weights):
            return True
    return False


def _taken(behind: Message, n: int) -> tuple[float | None, str] | None:
    """How many pieces the writer had and what they are called; None if it says something else."""
    word = "piece"
    eaten: float | None = None
    for part in cut_at(behind, pack()["between_eaters"]):
        told = seen(part)
        named = next((one_of(w) for w in told.words if one_of(w) in told.message.words.piece_nouns), "")
        word = named or word
        counts = [c for c in told.message.of("amount") if c.amount is not None]
        if not counts and not told.mine:
            continue
        if len(counts) != 1 or told.scene.foods or told.scene.named or told.weights or _denied(told):
            return None
        amount = counts[0].amount
        mine = told.mine or told.cue("i_ate") or told.word(counts[0].start - 1) in pack()["oneself_eating"]
        if amount is None or amount.doubt is not None or not mine or eaten is not None:
            return None
        if amount.kind == "mass" or not 0 < amount.value <= n or any(told.is_person(t) for t in told.at):
            return None
        eaten = amount.value
    return eaten, word


def _denied(told: Serving) -> bool:
    return told.message.has_any(told.message.words.negations) or told.cue("not_to_me")


def _spoken(cut: Serving) -> BatchRef | None:
    """The batch that was spoken of last, where nothing else is named."""
    spoken = [b for b in cut.message.around.batches if b.spoken and b.pieces is None]
    if cut.scene.foods or cut.weights or len(spoken) != 1 or not cut.cue("the_pot", "cut_it"):
        return None
    return BatchRef(candidates=(spoken[0].number,), sure=True)


def _whole_thing(before: Message) -> OpenBatch | None:
    """The whole that is cut up, with its weight: 'birthday chocolate cake 900 g'."""
    told = seen(before)
    foods = told.scene.foods
    together = all(a.end == b.start for a, b in pairwise(foods))
    if not foods or not together or len(told.weights) != 1 or len(told.numbers) != 1 or told.scene.named:
        return None
    weight, food = told.weights[0], foods[-1]  # 'lemon cheesecake'
    amount = weight.amount
    if amount is None or grams_of(amount) < LEAST_WHOLE_G:
        return None
    words = [t.text for t in before.tokens[food.start : food.end]]
    name = before.vocabulary.resolve(words, food.text.lower())
    first = food.start
    while first > before.chunks[0].start and food.end - first < MOST_NAME_WORDS and _describes(told, first - 1):
        first -= 1
    called = before.line.said(first, food.end).lower()
    return OpenBatch(name=called, items=(Item(text=before.text, amount=as_mass(amount), name=name),))


def _describes(told: Serving, n: int) -> bool:
    """Whether a word before the food belongs to its name: 'birthday chocolate cake', 'mums apple pie'."""
    word = told.word(n)
    return told.message.tokens[n].kind == "word" and word not in pack()["no_vessels_name"] and len(word) > 2
