"""Frames for adding ingredients to a batch, correcting them, and taking out what never went in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.batch_meanings import AddIngredients, CorrectIngredient, PutElsewhere, RemoveIngredient
from bot.language.chunks import Chunk
from bot.language.frames.spans import Span, outside, spans
from bot.language.intents.ingredients import in_grams
from bot.language.intents.readings import has_ingredient
from bot.language.items import items
from bot.language.meanings import Meaning, NotMine
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.scene import Scene, is_owned_by_others, ref_of
from bot.language.surroundings import KnownBatch
from bot.language.told import Amount, BatchRef, Item, Name

MOST_CHUNKS = 80
"""Chunks of a stretch that can tell what goes into a pot; what is longer is a story."""
MOST_COUNTED = 12
"""Up to this a number in words may count something that is no food."""
MOST_BETWEEN = 4
"""Tokens between a preposition and the pot ('into that big old stew')."""


def added(scene: Scene) -> list[Meaning] | None:
    """'barley 90g tae the soup', 'tadka for the dal is 25 g ghee, 8 g cumin seed', 'in went the onion, 210 g'."""
    message = scene.message
    if not message.around.batches or not scene.amounts or len(message.chunks) > MOST_CHUNKS or not _told_as_done(scene):
        return None
    into = _pot_named(scene) or _pot_on_the_stove(scene)
    if into is None:
        return None
    ref, taken = into
    rest = outside(message, (*taken, *spans(message, "forgot", "from_start", "just_now", "too")))
    rest = rest.without([c for c in rest.chunks if c.kind in ("moment", "tare") or _puts_in(c)])
    if rest.of("batch", "hash", "energy", "macro", "price") or _eaten(scene, rest):
        return None
    told = _ingredients(rest)
    if told is None:
        return None
    early = scene.cue("from_start") or (scene.cue("forgot") and not scene.cue("just_now"))
    return [AddIngredients(batch=ref, items=tuple(told), from_start=early)]


def _told_as_done(scene: Scene) -> bool:
    """Whether it is told as fact: no question, plan, condition or negation."""
    message = scene.message
    if message.asks or scene.cue("condition", "habit", "not_put_in", "never_went_in", "gave_away", "i_ate"):
        return False
    if scene.cue("another_time", "by_recipe") or is_owned_by_others(scene):
        return False
    planned = (_said_of_the_food(message) & message.words.plans) - pack()["puts_in"].words - _said_of_a_pot(scene)
    denied = any(c.kind == "word" and c.text.lower() in message.words.negations for c in message.chunks)
    return not planned and not denied and (not message.when.future or scene.cue("has_gone_in"))


def _said_of_the_food(message: Message) -> set[str]:
    """The words of the parts, cut at punctuation, that name a weight, batch or food: no '…, my mother would object'."""
    parts: list[list[Chunk]] = [[]]
    for chunk in message.chunks:
        if chunk.kind == "sign" and chunk.text in ",.;!":
            parts.append([])
        parts[-1].append(chunk)
    told = [part for part in parts if any(c.kind in ("amount", "batch", "food") for c in part)]
    return {c.text.lower() for part in told for c in part if c.kind == "word"}


def _said_of_a_pot(scene: Scene) -> set[str]:
    """The words behind a pot that say that it takes something: 'chilli also wants 300 g carrots' is no plan."""
    line, found = scene.message.line, set[str]()
    for ref, _, end in scene.named:
        behind = pack()["pot_takes"].end(line.plain, end)
        if behind is not None and any(not b.cooked for b in _meant(scene, ref)):
            found.update(line.plain[end:behind])
    return found


def _pot_named(scene: Scene) -> tuple[BatchRef, list[Span]] | None:
    """The one batch that is named as where something goes, and the tokens of the phrases that say so."""
    words, line = pack(), scene.message.line
    targets: list[tuple[BatchRef, list[Span]]] = []
    beside: list[tuple[BatchRef, Span]] = []
    for ref, start, end in scene.named:
        at = start
        while at and start - at < MOST_BETWEEN and plain(line.text(at - 1)) in words["pointing"]:
            at -= 1
        before = _phrase_before(line.plain, at, "into_pot")
        open_pot = any(not b.cooked for b in _meant(scene, ref))
        if before is None and open_pot:
            before = _phrase_before(line.plain, at, "for_pot")
        elif before is not None and not open_pot and not _surely_into(scene, before, start):
            before = None
        behind = words["pot_takes"].end(line.plain, end + (line.text(end) == "'s"))
        if before is not None:
            targets.append((ref, [Span(before, end)]))
        elif behind is not None and open_pot:
            targets.append((ref, [Span(at, behind)]))
        elif scene.cue("pot_changed_with") or (open_pot and scene.cue("pot_finished_with")):
            targets.append((ref, [Span(at, end)]))
        else:
            beside.append((ref, Span(start, end)))
    if not targets and scene.cue("in_the_pot"):
        targets = [(ref, [span]) for ref, span in beside if any(not b.cooked for b in _meant(scene, ref))]
    if not targets or len({ref.candidates for ref, _ in (*targets, *beside)}) != 1:
        return None
    taken = [*(span for _, found in targets for span in found), *(span for _, span in beside)]
    return targets[0][0], [
        *taken,
        *spans(outside(scene.message, taken), "in_the_pot", "pot_changed_with", "pot_finished_with"),
    ]


def _phrase_before(words: Sequence[str], at: int, concept: str) -> int | None:
    """The first token of the concept's phrase that ends right before token `at`; None if there is none."""
    for start in range(max(0, at - MOST_BETWEEN), at):
        if at in pack()[concept].ends(words, start):
            return start
    return None


def _surely_into(scene: Scene, before: int, start: int) -> bool:
    """Whether something is added to a batch that is already cooked, rather than eaten beside a portion of it."""
    line = scene.message.line
    if any(line.text(n) in pack()["owned_by_me"] for n in range(before, start)):
        return False
    return line.plain[before] not in pack()["within"] or scene.cue("puts_in")


def _pot_on_the_stove(scene: Scene) -> tuple[BatchRef, list[Span]] | None:
    """The one raw batch, or the one filled last, if something goes in and no new batch begins."""
    message = scene.message
    if scene.named or scene.cue("call_it", "own_pot"):
        return None
    cooking = message.around.cooking
    filling = [b for b in cooking if b.filling]
    cues = spans(message, "in_the_pot", *(("add_it",) if filling else ()))
    pots = cooking if len(cooking) == 1 else filling
    return (ref_of(pots), cues) if cues and len(pots) == 1 else None


def _puts_in(chunk: Chunk) -> bool:
    return chunk.kind == "word" and plain(chunk.text.lower()) in pack()["puts_in"]


def _meant(scene: Scene, ref: BatchRef) -> list[KnownBatch]:
    numbers = {ref.number} if ref.number is not None else set(ref.candidates)
    return [b for b in scene.message.around.batches if b.number in numbers]


def _eaten(scene: Scene, rest: Message) -> bool:
    """Whether it is about food on a plate rather than in a pot."""
    said = [plain(word) for word in rest.said]
    return bool(scene.message.when.meal) or pack()["portioned"].found(said) or pack()["plated"].found(said)


def _ingredients(rest: Message) -> list[Item] | None:
    """The foods with their weights; None if a weight has no food or a food no weight."""
    told = [replace(i, batch=None) for i in items(rest)]
    foods, masses = rest.of("food"), rest.of("amount")
    if len(foods) == 1 and len(masses) == 1 and (len(told) != 1 or told[0].name is None):
        return [one_ingredient(rest, foods[0], masses[0])]
    if not told or any(i.name is None or i.amount is None or i.several or i.shared for i in told):
        return None
    return in_grams(told)


def one_ingredient(rest: Message, food: Chunk, amount: Chunk) -> Item:
    """The only food, with the only weight, which stands elsewhere: 'found the peas, 150 g frozen into the stew'."""
    states = [c for c in rest.of("state") if c.state is not None]
    fresh = [w for w in rest.said if w in pack()["kept_frozen"]]
    words = [*fresh, *(t.text for t in rest.tokens[food.start : food.end])]
    return Item(
        text=rest.text,
        amount=amount.amount,
        name=rest.vocabulary.resolve(words, " ".join(words)),
        state=states[0].state if states else None,
        method=states[0].method if states else "",
    )


def put_there(scene: Scene) -> list[Meaning] | None:
    """'onion 310 was for the bolognese not me', 'I didn't eat the peas, they went in the stew': moved into the pot."""
    message = scene.message
    if message.asks or scene.cue("condition") or message.when.future or not scene.cue("not_into_me"):
        return None
    taken = [*spans(message, "not_into_me"), *(Span(start, end) for _, start, end in scene.named)]
    pots, told = [b for b in scene.batches if not b.cooked], items(outside(message, taken))
    told = [replace(i, batch=None) for i in told if i.name is not None]
    masses = [i for i in told if i.amount is not None]
    if len(pots) != 1 or len(told) != 1 or not (scene.cue("in_the_pot", "into_pot", "for_pot")):
        return None
    item, last = told[0], message.around.last
    assert item.name is not None
    if last is not None and last.batch is None and last.food in item.name.foods:
        same = item.amount is None or _weight(item.amount) == last.grams
        return [PutElsewhere(pot=True)] if same and len(message.around.cooking) == 1 else None
    if not masses or has_ingredient(message, ref_of(pots), item.name):
        return None
    return [AddIngredients(batch=ref_of(pots), items=tuple(in_grams(masses)))]


def _weight(amount: Amount) -> float:
    return amount.grams if amount.grams is not None else amount.value


def corrected(scene: Scene) -> list[Meaning] | None:
    """'for the curry it was 350 onion not 300', 'the carrots I told you were 180, well they were 210'."""
    message = scene.message
    if message.asks or not message.around.batches or scene.cue("condition"):
        return None
    beside = [plain(word) for word in outside(message, spans(message, "told_wrong")).said]
    if any(pack()[name].found(beside) for name in ("i_ate", "portioned")):
        return None
    amounts = [c for c in scene.amounts if _weighs(c)]
    if not 1 <= len(amounts) <= 2 or message.of("hash", "energy", "macro"):
        return None
    right = _right_one(scene, amounts)
    inside = _inside(scene)
    if right is None or inside is None or len(inside[1]) != 1:
        return None
    ref, names = inside
    state = next((c for c in message.of("state") if c.state is not None), None)
    item = Item(
        text=message.text,
        amount=right,
        state=state.state if state else None,
        method=state.method if state else "",
    )
    return [CorrectIngredient(batch=ref, name=names[0], item=item)]


def _weighs(chunk: Chunk) -> bool:
    """Whether an amount is a weight; the 'one' of 'I put one back' is not."""
    amount = chunk.amount
    if amount is None or amount.kind not in ("mass", "bare"):
        return False
    return amount.kind == "mass" or not amount.text.isalpha() or amount.value > MOST_COUNTED


def _right_one(scene: Scene, amounts: Sequence[Chunk]) -> Amount | None:
    """Which of the weights is the correct one; None if that is unclear, or if nothing says that one was wrong."""
    line = scene.message.line
    wrong = scene.cue("told_wrong")
    if len(amounts) == 1:
        said_again = scene.cue("was_really") and any(_is_said_of(scene, food, amounts[0]) for food in scene.foods)
        return amounts[0].amount if (wrong or said_again) and not _denied(scene, amounts[0]) else None
    first, second = amounts
    between = line.plain[first.end : second.start]
    if pack()["contrasts"].found(between):
        return first.amount
    if pack()["put_right_by"].found(between) and (wrong or _denied(scene, first)):
        return second.amount
    said_wrong = [c for c in amounts if _is_wrong(scene, c)]
    if wrong and len(said_wrong) == 1:
        return second.amount if said_wrong[0] is first else first.amount
    return None


def _is_wrong(scene: Scene, amount: Chunk) -> bool:
    """'… I wrote 230', 'my 300 was wrong': whether an amount is said to be the one that was told before."""
    words = scene.message.line.plain
    return _phrase_before(words, amount.start, "told_before") is not None or bool(
        pack()["is_wrong"].ends(words, amount.end)
    )


def _is_said_of(scene: Scene, food: Chunk, amount: Chunk) -> bool:
    """Whether an amount is stated as a food's weight: 'passata was 500 g in the ragu'."""
    between = scene.message.line.plain[food.end : amount.start]
    return 0 < len(between) <= MOST_BETWEEN and pack()["was_really"].found(between)


def _denied(scene: Scene, amount: Chunk) -> bool:
    """Whether a word of contrast ('not') stands right before an amount."""
    words = scene.message.line.plain
    return _phrase_before(words, amount.start, "contrasts") is not None


def _inside(scene: Scene) -> tuple[BatchRef, list[Name]] | None:
    """The batch named, or the only raw one, and those of its ingredients that are named."""
    message = scene.message
    batches = scene.batches or list(message.around.cooking)
    found: list[tuple[KnownBatch, list[Name]]] = []
    for batch in batches:
        ref = ref_of([batch])
        names = [_name(message, c) for c in scene.foods]
        names = [name for name in names if has_ingredient(message, ref, name)]
        if names and len(names) == len(scene.foods):
            found.append((batch, names))
    if len(found) != 1:
        return None
    batch, names = found[0]
    last = message.around.last
    if not scene.batches and last is not None and any(last.food in name.foods for name in names):
        return None  # it was eaten too
    text = scene.named[0][0].text if scene.named else ""
    return ref_of([batch], text), names


def _name(message: Message, food: Chunk) -> Name:
    return message.vocabulary.resolve([t.text for t in message.tokens[food.start : food.end]], food.text.lower())


def removed(scene: Scene) -> list[Meaning] | None:
    """'scrap the celery from the soup', 'the carrots never made it into the stew', 'I left the leeks out'."""
    message = scene.message
    if message.asks or not message.around.batches or not scene.foods:
        return None
    if scene.cue("condition", "gave_away") or message.when.future:
        return None
    never = scene.cue("not_put_in")
    if scene.cue("i_ate") and not (never and _inside(scene) is not None):
        return None
    left_out = scene.cue("never_went_in") or (scene.cue("stays_out") and scene.cue("out_of_it")) or _none_in_it(scene)
    left_out = left_out or _pot_is_without(scene) or (bool(scene.named) and scene.cue("delete"))
    if not never and not left_out:
        return None
    if scene.amounts and not never:
        return None
    inside = _inside(scene)
    if inside is not None:
        return [RemoveIngredient(batch=inside[0], names=tuple(dict.fromkeys(inside[1])))]
    return [NotMine(why="negation")] if never and scene.named else None


def _none_in_it(scene: Scene) -> bool:
    """Whether 'no onion in the stew' is about a batch that is still raw."""
    words = scene.message.line.plain
    none, within = pack()["none_of"], pack()["within"]
    stands = any(
        none.found(words[c.start - 1 : c.start]) and within.found(words[c.end : c.end + 1]) for c in scene.foods
    )
    return stands and any(not b.cooked for b in scene.batches)


def _pot_is_without(scene: Scene) -> bool:
    """'the cream had turned so I binned it, the chilli's got none in it', 'the chilli is without cream'."""
    if not scene.named or not scene.cue("none_there") or scene.cue("another_time", "by_recipe", "habit"):
        return False
    raw = all(not b.cooked for b in scene.batches) and not scene.cue("portioned")
    return raw or scene.cue("came_to_grief")


def beside(scene: Scene) -> list[Meaning] | None:
    """'20 g parmesan over my risotto': a food eaten with a portion of a cooked batch, not added to the batch."""
    message, line = scene.message, scene.message.line
    if len(scene.named) != 1 or message.asks or any(not b.cooked for b in scene.batches) or not _told_as_done(scene):
        return None
    _, start, end = scene.named[0]
    before = _phrase_before(line.plain, start, "on_my_plate")
    rest = outside(message, [Span(before, end)]) if before is not None else None
    told = items(rest) if rest is not None else []
    if not told or any(i.name is None or i.amount is None or i.several or i.shared or i.two_masses for i in told):
        return None
    return list(told)
