"""The frame for food told by its energy, without a weight: what is told beats the table's usual helping."""

from __future__ import annotations

from bot.language.chunks import Chunk
from bot.language.figures import KJ_PER_KCAL
from bot.language.fix_meanings import Change, Which
from bot.language.frames.fix_scene import SOON, Fix, Mention
from bot.language.frames.serving import seen
from bot.language.frames.stretch import cut_at
from bot.language.meanings import Meaning, NotMine
from bot.language.message import Message
from bot.language.number_words import number_words
from bot.language.pack import pack, plain
from bot.language.scene import Scene
from bot.language.surroundings import Recorded
from bot.language.told import Amount, Item, Name, is_share

MOST_NAME_WORDS = 4
MOST_COUNTED = 12
"""A bare number up to this counts pieces beside an energy; a larger one may be a weight."""
LEAST_KCAL = 20
"""The least energy that is corrected without its unit: a smaller number may be a weight or a count."""
ROUNDING_KCAL = 1.0


def estimated(scene: Scene) -> list[Meaning] | None:
    """'burger out, about 900 kcal', 'had a flapjack, wrapper said 212 kcal', '84 cals of creamer in my coffee'."""
    one = _one(scene)
    return one if one is not None else _several(scene)


def _several(scene: Scene) -> list[Meaning] | None:
    """'a flapjack 212 kcal, a latte 120 kcal': every part tells its own energy."""
    message = scene.message
    if len(message.of("energy")) < 2 or message.asks:
        return None
    found: list[Meaning] = []
    for part in _by_energy(cut_at(message, pack()["parts_of_a_list"]), message):
        one = _one(Scene(part))
        if one is None or not all(isinstance(meaning, Item) for meaning in one):
            return None
        found.extend(one)
    return found


def _by_energy(parts: list[Message], message: Message) -> list[Message]:
    """The parts of a list joined so that each has an energy at its end: 'a burger, out, ~900 kcal' is one."""
    joined: list[Message] = []
    start: int | None = None
    for part in parts:
        first = part.offset - message.offset
        start = first if start is None else start
        if part.of("energy"):
            joined.append(message.part(start, first + len(part.chunks)))
            start = None
    rest = message.part(start, len(message.chunks)) if start is not None else None
    if joined and rest is not None and rest.of("food", "batch", "amount"):
        joined.append(rest)  # food without an energy of its own: nothing is read
    return joined


def _one(scene: Scene) -> list[Meaning] | None:
    message = scene.message
    energies = message.of("energy")
    if len(energies) != 1 or energies[0].amount is None or scene.named:
        return None
    if message.asks or message.when.future or scene.cue("condition", "not_yet") or _weighed(scene):
        return None
    if message.of("macro", "hash", "price", "tare") or (_plans(scene) and not _ate(scene)):
        return None
    if scene.foods and scene.cue("holding") and not _ate(scene):
        return [NotMine(why="macro")]
    if scene.cue("no_estimate") or (scene.cue("printed_on") and not _ate(scene) and not _at_a_meal(scene)):
        return None
    if scene.cue("skipped_it") and not scene.cue("i_ate"):
        return [NotMine(why="negation")]
    eaters = seen(scene.message)
    if eaters.person is not None and not _ate(scene) and (eaters.cue("took_it") or _at_a_meal(scene)):
        return [NotMine(why="others")]
    told = scene.cue("estimating", "printed_figure", "ate_out") or _ate(scene) or _at_a_meal(scene)
    if not told and not _of_food(scene, energies[0]) and not _only_named(scene, energies[0]):
        return None
    name = _name(scene, energies[0])
    if name is None:
        return None
    state = next((c.state for c in message.of("state")), None)
    kcal = _kcal(energies[0]) * _times(scene, energies[0])
    return [Item(text=message.text, kcal=kcal, name=name, state=state, when=message.when)]


def _plans(scene: Scene) -> bool:
    """Whether a word for a plan stands outside of what only estimates: 'I'd guess 700 kcal' plans nothing."""
    said, guesses = scene.said, pack()["estimating"]
    guessed = {n for i in range(len(said)) for end in guesses.ends(said, i) for n in range(i, end)}
    plans = {plain(word) for word in scene.message.words.plans}
    return any(word in plans and n not in guessed for n, word in enumerate(said))


def _kcal(energy: Chunk) -> float:
    assert energy.amount is not None
    return energy.amount.value / KJ_PER_KCAL if energy.field == "kj" else energy.amount.value


def _weighed(scene: Scene) -> bool:
    """Whether a number may be a weight: a mass, or a bare number too large to count pieces."""
    return any(a.kind == "mass" or (a.kind == "bare" and a.value > MOST_COUNTED) for a in scene.masses)


def _times(scene: Scene, energy: Chunk) -> float:
    """How often the energy was eaten: the share of it, or the number of pieces that it is 'each' of."""
    amounts = [c.amount for c in scene.amounts if c.amount is not None]
    share = next((a.value for a in amounts if is_share(a)), None)
    counted = [a.value for a in amounts if _counts(a)]
    behind = scene.message.line.plain[energy.end : energy.end + 2]
    if counted and any(word in pack()["apiece"] for word in behind):
        return counted[0] * (share or 1.0)
    return share if share is not None and _of_the_whole(scene, energy) else 1.0


def _counts(amount: Amount) -> bool:
    return amount.kind in ("bare", "count", "measure") and 1 <= amount.value <= MOST_COUNTED


def _of_the_whole(scene: Scene, energy: Chunk) -> bool:
    """Whether the share stands behind the energy ('910 calories, i ate 3/4 of it'): before it, it is what has it."""
    shares = [c for c in scene.amounts if c.amount is not None and is_share(c.amount)]
    return shares[-1].start > energy.start and not seen(scene.message).cue("left_uneaten")


def _ate(scene: Scene) -> bool:
    """Whether it says that the writer ate it."""
    return scene.cue("i_ate") or seen(scene.message).mine


def _at_a_meal(scene: Scene) -> bool:
    """Whether it says when a food was eaten: 'lunch today was a tuna sandwich …', 'croissant this morning, …'."""
    when = scene.message.when
    return (
        bool(scene.foods)
        and (when.meal is not None or when.day is not None)
        and not scene.cue("holding", "no_estimate")
    )


def _of_food(scene: Scene, energy: Chunk) -> bool:
    """Whether the food follows the energy: '300 calories of soup'."""
    return scene.message.line.text(energy.end) in number_words().of and not any(
        c.start < energy.start for c in scene.foods
    )


def _only_named(scene: Scene, energy: Chunk) -> bool:
    """'burrito bowl with chicken, 640 calories', 'a flapjack 212 kcal': a food counted or set apart from its energy.

    'peanut butter 190 kcal' alone may as well be what a packet says.
    """
    message = scene.message
    apart = message.line.text(energy.start - 1) in (",", "-", ":", "(", "=")
    if not apart and not any(c.amount is not None and _counts(c.amount) for c in scene.amounts):
        return False
    before = [c for c in message.chunks if c.start < energy.start]
    behind = [c for c in message.chunks if c.start > energy.start]
    foods = [c for c in before if c.kind == "food"]
    named = bool(foods) and all(
        c.kind in ("food", "state", "size", "moment", "sign", "amount", "whole")
        or c.text.lower() in pack()["between_name_words"]
        or not message.words.knows(c.text.lower())
        for c in before
    )
    asides = (pack()["polite"], pack()["apiece"])
    return named and all(
        c.kind in ("moment", "sign", "noise") or any(c.text.lower() in aside for aside in asides) for c in behind
    )


def _name(scene: Scene, energy: Chunk) -> Name | None:
    """What was eaten: the only food named, the words of a dish with several, or the words that describe the meal."""
    message = scene.message
    near = [s for s in message.sentences() if energy in s.chunks]
    foods = [c for c in scene.foods if near and c in near[0].chunks] or scene.foods
    if _of_food(scene, energy) and foods:
        foods = [c for c in foods if c.target == foods[0].target]
    targets = {c.target for c in foods}
    if len(targets) == 1:
        return _resolved(message, foods[0])
    if targets:
        return _dish(message, foods) if all(c.start < energy.start for c in foods) else None
    return _described(scene, energy)


def _resolved(message: Message, food: Chunk) -> Name:
    """The name of a food, with the unknown word before it ('burrito bowl' is no bowl)."""
    return message.vocabulary.resolve([t.text for t in message.tokens[food.start : food.end]], food.text.lower())


def _dish(message: Message, foods: list[Chunk]) -> Name | None:
    """'burrito bowl with chicken': several foods under one energy are one dish, if only joining words part them."""
    between = [c for c in message.chunks if foods[0].end <= c.start < foods[-1].start and c not in foods]
    if any(c.kind == "amount" or c.kind == "newline" for c in between):
        return None
    start, end = message.tokens[foods[0].start].start, message.tokens[foods[-1].end - 1].end
    return Name(text=message.whole[start:end].lower())


def _described(scene: Scene, energy: Chunk) -> Name | None:
    """The meal with the words beside it ('canteen lunch'), else the first words that no list knows ('pad thai')."""
    message = scene.message
    before = [c for c in message.chunks if c.start < energy.start]
    if message.when.meal is not None:
        words = [
            c.text.lower()
            for c in before
            if c.kind == "moment" or (c.kind == "word" and not message.words.knows(c.text.lower()))
        ]
        return Name(text=" ".join(words[:MOST_NAME_WORDS]) or message.when.meal)
    if not scene.cue("estimating", "printed_figure", "ate_out"):
        return None
    unknown = [c for c in message.of("word") if not message.words.knows(c.text.lower()) and c.text.isalpha()]
    unknown = [c for c in unknown if not any(c.text.lower() in pack()[n] for n in ("beside_estimate", "estimating"))]
    run: list[Chunk] = []
    for chunk in unknown:
        if run and chunk.start != run[-1].end:
            break
        run.append(chunk)
    return Name(text=" ".join(c.text.lower() for c in run[:MOST_NAME_WORDS])) if run else None


def energy_put_right(scene: Scene) -> list[Meaning] | None:
    """'that flapjack was 212 not 296', 'the flapjack was 212 kcal on the wrapper': the energy of a weigh-in."""
    message = scene.message
    recorded = message.around.recorded()
    if not recorded or message.asks or message.when.future or scene.named or scene.cue("condition"):
        return None
    fix, energies = Fix(scene, recorded), message.of("energy")
    if not fix.mentions and len(energies) == 1 and not fix.amounts:
        return _last_estimate(fix, energies[0])
    if len(fix.matched) != 1 or fix.new or not fix.matched[0].is_clear:
        return None
    mention = fix.matched[0]
    each = mention.latest
    if not (fix.is_recent(each, SOON) or fix.days):
        return None
    if len(energies) == 1 and not fix.amounts and _points_back(fix, mention):
        return [Change(which=Which(number=each.number), kcal=_kcal(energies[0]))]
    values = [c.amount for c in fix.amounts if c.amount is not None]
    values += [e.amount for e in energies if e.amount is not None]
    old = [a for a in values if _is_energy_of(a, each)]
    new = [a for a in values if a not in old]
    if len(values) != 2 or len(old) != 1 or not fix.says("not_that", "told_before", "was_wrong", "opens_fix"):
        return None
    if any(a.kind != "bare" or a.value < LEAST_KCAL for a in values):
        return None
    return [Change(which=Which(number=each.number), kcal=new[0].value)]


def _last_estimate(fix: Fix, energy: Chunk) -> list[Meaning] | None:
    """'no, more like 700 kcal', 'make it 500 kcal' right after an estimate."""
    last = fix.all[-1]
    if last.amount is not None or last.kcal is None or not fix.is_recent(last, SOON):
        return None
    if not (fix.announced or fix.says("was_wrong")) or fix.says("i_ate", "no_estimate", "holding"):
        return None
    if pack()["in_addition"].found(fix.words[energy.end - fix.first :]):
        return None  # 'no, 200 kcal more'
    return [Change(which=Which(number=last.number), kcal=_kcal(energy))]


def _points_back(fix: Fix, mention: Mention) -> bool:
    """'that flapjack was …', 'the flapjack's wrapper says …': of one on record, and not of another."""
    back = fix.behind("the_recorded", mention.start) or bool(fix.opened)
    return back and not fix.says("i_ate", "another_helping", "no_estimate", "holding")


def _is_energy_of(amount: Amount, each: Recorded) -> bool:
    return amount.kind == "bare" and each.kcal is not None and abs(amount.value - each.kcal) <= ROUNDING_KCAL
