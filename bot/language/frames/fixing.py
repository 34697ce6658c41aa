"""Frames for corrections: the weigh-ins on record decide what the words and numbers of a correction mean.

'no 215 chix', 'the cheddar yesterday was 30 no 35', 'not swiss, it was provolone': the record
tells which number or food is the old one. A number that fits nothing on record is asked about, never recorded again.
"""

from __future__ import annotations

from bot.language.batch_meanings import PutElsewhere
from bot.language.chunks import Kind
from bot.language.fix_meanings import Change, Delete, Waste, Which
from bot.language.frames.deleting import goes
from bot.language.frames.estimates import energy_put_right
from bot.language.frames.filling import added
from bot.language.frames.fix_scene import SOON, STAR, Fix, Mention, as_new, is_on_record
from bot.language.frames.giving import gone
from bot.language.frames.left_over import left_for_me, only_mine, others_part, so_many_of_them
from bot.language.frames.new_amounts import new_amounts
from bot.language.frames.other_state import other_state
from bot.language.frames.shares_of_it import of_the_last, rest_of_the_box, share_told
from bot.language.frames.swaps import another_it_was, another_kind, other_than_told, said_but_was
from bot.language.frames.taking import took_a_share
from bot.language.meanings import Meaning, NotMine
from bot.language.moments import together
from bot.language.pack import pack
from bot.language.scene import Scene
from bot.language.stance import how_it_is_said
from bot.language.surroundings import Recorded
from bot.language.text import singular
from bot.language.told import Amount, When

UNREADABLE: tuple[Kind, ...] = ("hash", "energy", "macro", "price")


def fixed(scene: Scene) -> list[Meaning] | None:
    """Changes, moves and removals of weigh-ins on record; None if nothing on record is meant."""
    message = scene.message
    energy = energy_put_right(scene) if message.of("energy") or len(scene.masses) == 2 else None
    if energy is not None:
        return energy
    if message.of(*UNREADABLE) or not (
        scene.cue(*CUES, "i_only_ate", "for_another", "becomes")
        or (scene.cue("leaves_me") and others_part(message))
        or share_told(scene) is not None
        or scene.cue("never_had", "not_for_me", "only_so_many", "of_those_known", "changes_for")
        or STAR in message.said
        or (scene.amounts and scene.cue("came_out_at"))
    ):
        return None
    unreal = message.has_any(message.words.plans | message.words.shopping) and not scene.cue(
        "told_before", "was_wrong", "should_have_told", "ones_record"
    )
    if (
        (message.asks and not message.orders and not scene.cue("is_it_right"))
        or message.when.future
        or scene.cue("condition")
        or (unreal and not message.orders)
        or (how_it_is_said(message) is not None and not scene.cue("should_have_told", "i_told_you"))
    ):
        return None
    recorded = message.around.recorded()
    if not recorded or (scene.named and added(scene) is not None):
        return None  # what is put into a pot puts nothing right
    short = len(message.chunks) <= MOST_CHUNKS
    if short and not scene.cue(*SURE_CUES) and (gone(scene) or took_a_share(scene)) is not None:
        return None  # it left the batch, and not what was taken from it
    fix = Fix(scene, recorded)
    if scene.cue("defines_word") or any(not m.is_clear for m in fix.matched):
        return None
    if scene.cue("for_next_time") and fix.matched:
        return [NotMine(why="plan")]
    waste = _waste(fix)
    if waste is not None or (_parts(fix) and len(fix.amounts) == 1 and not fix.says("opens_fix", "not_that")):
        return waste  # 'threw out an 18 g core from that apple' is waste, and no share of the apple
    for read in READERS:
        found = read(fix)
        if found is not None:
            return found
    return None


MOST_CHUNKS = 150
"""The most chunks of a message that may be a portion of one batch."""
SURE_CUES = (
    "opens_fix",
    "told_before",
    "was_wrong",
    "not_that",
    "off_record",
    "must_go",
    "has_to_go",
    "slip_of_hand",
    "should_have_told",
)
"""Cues of which each by itself says that something on record is meant."""
CUES = (*SURE_CUES, "went_elsewhere", "off_of", "thought_before")
"""Without one of them nothing is put right."""


def _taken_off(fix: Fix) -> list[Meaning] | None:
    """'nah scrap the milk, shirley had it', 'take the second one off', 'would you ever take out that last one'."""
    concepts, words = pack(), fix.words
    at = [(i, end) for i in range(len(words)) for end in concepts["off_record"].ends(words, i)]
    if not at:
        return _off_a_meal(fix)
    if any(fix.behind(each, fix.first + i) for each in ("not_that", "do_not") for i, _ in at):
        return None
    start, behind = at[0][0], max(end for i, end in at if i == at[0][0])
    begins = next((i for i, end in at if _begins_clause(fix, i) or _orders(fix, i, end)), None)
    if start and fix.scene.named and gone(fix.scene) is not None:
        return None  # 'a box of the stew went next door, don't count it'
    if begins is not None:
        start, behind = begins, max(end for i, end in at if i == begins)
    orders = start == 0 or begins is not None or fix.opened >= start or fix.message.orders or fix.says("would_you")
    if not orders or (words[start] == "take" and behind == start + 1 and not {"off", "out", "away"} & set(words)):
        return None
    if any(b.number not in {r.batch for m in fix.matched for r in m.recorded} for b in fix.scene.batches):
        return None
    if fix.matched and not fix.new:
        on_record = [_one_of(m, fix) for m in fix.matched]
        if any(each is None for each in on_record):
            return None
        return [Delete(which=Which(number=each.number)) for each in on_record if each is not None]
    if fix.mentions or (fix.amounts and not fix.says("first_one", "second_one", "third_one", "last_one")):
        return None
    which = _by_place(fix)
    return None if which is None else [Delete(which=Which(number=which.number))]


def _off_a_meal(fix: Fix) -> list[Meaning] | None:
    """'carrots off last night's dinner please': one on record, and nothing but 'off' before its day or meal."""
    if len(fix.matched) != 1 or fix.new or fix.amounts:
        return None
    mention, words = fix.matched[0], fix.words
    at = mention.end - fix.first
    moments = {c.start - fix.first for c in fix.message.of("moment")}
    off = next((end for end in pack()["off_of"].ends(words, at)), None)
    if off is None or off not in moments or len([e for e in mention.recorded if e.day == mention.latest.day]) != 1:
        return None
    return [Delete(which=Which(number=mention.latest.number))]


def _begins_clause(fix: Fix, at: int) -> bool:
    """Whether a clause begins at a word: '…, take it off', '… so get rid of it', 'well forget the eggs'."""
    if at and (not fix.words[at - 1].isalnum() or fix.words[at - 1] in pack()["before_order"]):
        return True
    return at > 0 and all(word in pack()["beside_disowning"] for word in fix.words[:at])


def _orders(fix: Fix, at: int, end: int) -> bool:
    """Whether a phrase orders that something be taken off, without a sign before it: '… monday take it off'."""
    words = fix.words
    if not at or any(words[at - 1] in pack()[name] for name in ("i_or_we", "others_subjects", "no_order_behind")):
        return False
    points = [w for w in words[at : end + 1] if w in pack()["it_or_them"] or w in pack()["one_of_those_told"]]
    return bool(points) or (words[end : end + 1] == [] and end > at + 1)


def _must_go(fix: Fix) -> list[Meaning] | None:
    """'those thursday almonds need to come off', 'the tofu no longer counts': each definite food on record."""
    if not (fix.says("must_go") or goes(fix.words)) or fix.new or fix.amounts or len(fix.matched) != 1:
        return None
    each = _one_of(fix.matched[0], fix)
    if each is None or (not fix.is_definite(fix.matched[0]) and not fix.is_recent(each, SOON)):
        return None
    return [Delete(which=Which(number=each.number))]


def _never_mine(fix: Fix) -> list[Meaning] | None:
    """'I never had that banana', 'the onion 310 was for the stew, not me': what is on record is taken off again."""
    if (
        len(fix.matched) != 1
        or not fix.says("never_had", "not_for_me")
        or (fix.says("but_it_was", "becomes") and (fix.new or fix.amounts))
    ):
        return None
    if fix.says("moves_it") and fix.message.of("moment"):
        return None  # 'the porridge belongs to breakfast'
    mention = fix.matched[0]
    pointed = fix.behind("the_recorded", mention.start) or fix.says(
        "off_record", "told_before", "not_for_me", "first_one", "second_one", "third_one"
    )
    each = _one_of(mention, fix)
    if each is None or each.batch is not None or not pointed or not (fix.days or fix.is_recent(each, SOON)):
        return None
    cooking = [b for b in fix.scene.batches if not b.cooked]
    if cooking and each is fix.all[-1]:
        return [PutElsewhere(pot=True)]
    elsewhere = [m for m in fix.mentions if m is not mention]
    if any(not fix.behind("went_into", m.start) for m in elsewhere):
        return None
    return [Delete(which=Which(number=each.number))]


def _one_of(mention: Mention, fix: Fix) -> Recorded | None:
    """The weigh-in to remove: the latest one, or the one with the amount or at the place named; None if none is."""
    same_day = [each for each in mention.recorded if each.day == mention.latest.day]
    for place, concept in enumerate(("first_one", "second_one", "third_one")):
        if fix.says(concept) and len(same_day) > 1:
            ordered = sorted(same_day, key=lambda each: each.number)
            return ordered[place] if place < len(ordered) else None
    told = [c.amount for c in fix.amounts if c.amount is not None and not fix.behind("not_yet_a", c.start)]
    if not told:
        return mention.latest
    if len(same_day) > 1 and all(a.kind in ("count", "bare") and a.value <= len(same_day) for a in told):
        return mention.latest  # 'one of the two beers'
    fitting = [each for each in mention.recorded if any(is_on_record(amount, each) for amount in told)]
    return max(fitting, key=lambda each: (each.day, each.number), default=None)


def _by_place(fix: Fix) -> Recorded | None:
    """The weigh-in meant by 'the last one' or 'the second one', counted within the last message or the day."""
    today = [each for each in fix.all if each.day == fix.message.around.today] or list(fix.all[-1:])
    if fix.says("last_one"):
        return fix.all[-1]
    last = [each for each in fix.all if each.message == fix.all[-1].message]
    told = last if len(last) > 1 else today
    for place, concept in enumerate(("first_one", "second_one", "third_one")):
        if fix.says(concept):
            return told[place] if place < len(told) else None
    return None


def _moved(fix: Fix) -> list[Meaning] | None:
    """'that grapes you have down for today, I ate them yesterday', 'the soup was lunch, not dinner'."""
    around = fix.message.around
    chunks = [c for c in fix.message.of("moment") if c.moment is not None]
    whens = [together([c.moment], around) for c in chunks if c.moment is not None]
    if fix.amounts or fix.new or len(whens) != 2 or not (fix.matched or fix.says("told_before")):
        return None
    if fix.says("like_before"):
        return None  # 'same breakfast as yesterday, no honey' is eaten again
    if not fix.says("told_before", "not_that", "was_wrong", "opens_fix"):
        return None
    each = fix.matched[0].latest if len(fix.matched) == 1 else fix.all[-1]
    wrong = [n for n, when in enumerate(whens) if _stands_at(each, when)]
    denied = [n for n, c in enumerate(chunks) if fix.behind("not_that", c.start)]
    old = wrong if len(wrong) == 1 else denied
    if len(old) != 1:
        return None
    to = whens[1 - old[0]]
    if to.future or (to.day is None and to.meal is None):
        return None
    return [Change(which=Which(number=each.number), when=to, meal=to.meal)]


def _stands_at(each: Recorded, when: When) -> bool:
    if when.day is not None:
        return when.day == each.day
    return when.meal is not None and when.meal == each.meal


def _swapped(fix: Fix) -> list[Meaning] | None:
    """'not swiss, it was provolone', 'ugh I said walnuts but it was pecans'."""
    negations = ("no_such_food", "not_that") if fix.opened and not fix.amounts else ("no_such_food",)
    denied = [m for m in fix.mentions if any(fix.behind(each, m.start) for each in negations)]
    told = fix.says("told_before", "was_wrong") and (
        fix.says("but_it_was") or any(m.recorded and fix.behind("told_before", m.start) for m in fix.mentions[1:])
    )
    between = not fix.amounts and _parts_two_foods(fix)
    if len(fix.mentions) != 2 or len(fix.amounts) > 1 or not (denied or (told and fix.new) or between):
        return None
    old = denied[0] if len(denied) == 1 else next((m for m in fix.mentions if m.recorded), None)
    if old is None or not old.recorded:
        return None
    new = next(m for m in fix.mentions if m is not old)
    each = old.latest
    if new.name.unknown or not (new.name.foods or new.name.kinds) or fix.behind("attributive", new.start):
        return None  # 'my usual rye bread but no cheese'
    if fix.behind("instead", old.start) or not (told or fix.is_recent(each, SOON) or fix.days):
        return None
    amount = next((c.amount for c in fix.amounts), None)
    if amount is not None and not (fix.is_recent(each, SOON) or fix.days):
        return None
    return [
        Change(
            which=Which(number=each.number),
            name=new.name,
            amount=None if amount is None or is_on_record(amount, each) else as_new(amount, each),
        )
    ]


def _parts_two_foods(fix: Fix) -> bool:
    """'walnuts, sorry, hazelnuts': nothing is said but what is on record, words that correct it, and another food."""
    if len(fix.matched) != 1 or len(fix.mentions) != 2:
        return False
    first, second = (m for m in fix.mentions)
    between = [w for w in fix.words[first.end - fix.first : second.start - fix.first] if w.isalnum()]
    around = [*fix.words[: first.start - fix.first], *fix.words[second.end - fix.first :]]
    turned = any(end == len(between) for end in pack()["opens_fix"].ends(between, 0))
    return turned and first.recorded != () and not any(w.isalnum() and w not in pack()["before_number"] for w in around)


def _parts(fix: Fix) -> list[str]:
    """The inedible parts (core, peel, bone) that it names."""
    return [singular(w) for w in fix.words if singular(w) in fix.message.words.parts]


def _waste(fix: Fix) -> list[Meaning] | None:
    """'the apple core I told you was 21 was 31': the waste of a weigh-in on record."""
    parts = _parts(fix)
    if (
        not parts
        or len(fix.matched) != 1
        or fix.new
        or not fix.says("told_before", "was_wrong", "not_that", "opens_fix")
    ):
        return None
    each = fix.matched[0].latest
    masses = [c for c in fix.amounts if c.amount is not None and c.amount.kind in ("mass", "bare")]
    old = [c for c in masses if c.amount is not None and each.waste_g is not None and _grams(c.amount) == each.waste_g]
    new = [c for c in masses if c not in (old or fix.denied)]
    if any(c.amount is not None and is_on_record(c.amount, each) for c in masses):
        return None
    if not masses or len(masses) > 2 or len(new) != 1 or each.batch is not None or new[0].amount is None:
        return None
    if len(masses) == 1 and each.waste_g is None:
        return None
    return [Waste(part=parts[0], amount=new[0].amount, name=fix.matched[0].name, number=each.number)]


def _grams(amount: Amount) -> float:
    return amount.grams if amount.grams is not None else amount.value


READERS = (
    other_state, of_the_last, rest_of_the_box, _never_mine, _must_go, _taken_off, _moved, _swapped, said_but_was,
    other_than_told, another_it_was, another_kind,
    so_many_of_them, only_mine,
    left_for_me, new_amounts,
)  # fmt: skip
"""In order: the first that finds something has it."""
