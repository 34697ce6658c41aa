"""Frames for food that nobody ate: thrown away, kept, traded, only prepared, dreamt of, or taken back at once.

A verb counts only right before the amount, and a place only behind it; a word for eating in the message outweighs
both. Without one nothing is recorded, and the reply says how to report it.
"""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.chunks import Chunk
from bot.language.meanings import Meaning, NotMine, Unclear
from bot.language.message import Message, once
from bot.language.pack import pack
from bot.language.repairs import repaired
from bot.language.scene import Scene
from bot.language.stories import stretches
from bot.language.waste import wastes_found
from domain import reference

LARGE_G = 400
"""Grams from which what was 'made' is more than one person eats at once."""
MOST_BETWEEN = 4
"""Words between somebody's 'said' and the amount that is quoted."""


def taken_back(scene: Scene) -> list[Meaning] | None:
    """'100 g cheddar, just kidding', 'I ate 200 g rice but I did not', 'neither 100 g cheese nor 50 g ham'."""
    if not scene.amounts or scene.message.asks:
        return None
    if scene.cue("neither") and scene.cue("nor"):
        return [NotMine(why="negation")]
    words = scene.said
    back = pack()["takes_back"], pack()["start_over"]
    if any(end == len(words) for i in range(1, len(words)) for each in back for end in each.ends(words, i)):
        return [NotMine(why="negation")]
    return None


def either(scene: Scene) -> list[Meaning] | None:
    """'100 g cheddar or 50 g ham': which of the two is not said."""
    chunks = scene.message.chunks
    at = [n for n, c in enumerate(chunks) if c.text.lower() == "or"]
    if len(at) != 1 or scene.message.asks or repaired(scene.message) is not None:
        return None
    left, right = chunks[: at[0]], chunks[at[0] + 1 :]
    return [NotMine(why="either")] if _weighs_food(left) and _weighs_food(right) else None


def uneaten(scene: Scene) -> list[Meaning] | None:
    """'threw away 200 g rice', 'sold 3 kg apples', 'peeled 500 g potatoes', 'in my dream I ate 500 g ice cream'."""
    message = scene.message
    if scene.named or not scene.amounts or message.asks or message.of("hash", "energy", "macro", "price"):
        return None
    if scene.cue("no_real_meal"):
        return [NotMine(why="doubt")]
    if scene.cue("somebody_said") and _is_quoted(scene):
        return [NotMine(why="report")]
    if scene.cue("animal_ate"):
        return [NotMine(why="others")]
    if scene.foods and _says_another_time(scene) and not _eats(message):
        return [NotMine(why="plan")]
    if scene.foods and scene.cue("by_the_clock") and _verb(scene.said[:1], "prep_verbs"):
        return [NotMine(why="doubt")]
    if (scene.foods and _eats(message)) or any(c.kind == "part" for c in wastes_found(message)):
        return None
    why = _why(scene)
    return None if why is None else [why]


def turned_down(scene: Scene) -> list[Meaning] | None:
    """'they put cake in front of me and I pushed it away', 'my daughter wanted halo-halo, she got it, not me'."""
    message = scene.message
    if message.asks:
        return None
    if _handed_back(scene):
        return [NotMine(why="negation")]
    if _none_for_me(scene):
        return [NotMine(why="others")]
    if any(c.amount is not None and c.amount.kind in ("mass", "volume") for c in scene.amounts):
        return None
    if scene.cue("turned_it_down") and not scene.cue("i_ate"):
        return [NotMine(why="negation")]
    others = message.has_any(message.words.people | message.words.pronouns)
    return [NotMine(why="others")] if others and scene.cue("not_me") and not scene.cue("i_ate") else None


def _handed_back(scene: Scene) -> bool:
    """'a passenger gave me 2 bananas, I gave them back': what came from somebody went back to them, all of it."""
    words = scene.said
    if len(scene.amounts) > 1 or _eats(scene.message):
        return False
    given = [end for i in range(len(words)) for end in pack()["gave_me"].ends(words, i)]
    if not given:
        return False
    behind = words[min(given) :]
    ends = [end for i in range(len(behind)) for end in pack()["gave_it"].ends(behind, i)]
    return any(pack()["went_back"].found(behind[end : end + MOST_BETWEEN]) for end in ends)


def _none_for_me(scene: Scene) -> bool:
    """'peanut butter for the lunchboxes 60 g, none for me': nobody else is said to have left the writer any of it."""
    parts = stretches(scene.message, opening="other_clause")
    if len(parts) < 2 or len(scene.amounts) != 1:
        return False
    said = scene.message.line.plain[parts[-1][0].start : parts[-1][-1].end]
    none = any(end == len(said) for end in pack()["i_had_none"].ends(said, 0))
    return none and any(c is scene.amounts[0] for c in parts[-2])


def left_sum(scene: Scene) -> list[Meaning] | None:
    """'100 g * 100 g banana', 'double 100 g rice': a sum that no reading does is asked about."""
    message, amounts = scene.message, scene.amounts
    if scene.named or message.asks or not scene.foods:
        return None
    text = [t.text.lower() for t in message.tokens]
    times, doubling = pack()["times_sign"], pack()["times_before"]
    for n, chunk in enumerate(amounts):
        before = text[message.chunks[0].start : chunk.start]
        if before and before[-1] in doubling:
            return [Unclear(text=message.text)]
        if (
            n
            and text[amounts[n - 1].end : chunk.start]
            and all(w in times for w in text[amounts[n - 1].end : chunk.start])
        ):
            return [Unclear(text=message.text)]
    return None


def not_food(scene: Scene) -> list[Meaning] | None:
    """'pin 1234', 'bp 140', 'the parcel weighs 2.3 kg': a number, but nothing that is eaten."""
    if scene.named or not scene.amounts or scene.message.asks:
        return None
    if scene.cue("medicines") and not scene.foods:
        return [NotMine(why="not_food")]
    if _eats(scene.message):
        return None
    words, things = scene.said, pack()["weighed_things"]
    if scene.foods and not scene.cue("things_in_spite_of_food"):
        return None
    opens = any(True for i in range(min(3, len(words))) for _ in things.ends(words, i))
    behind = any(end == len(words) for i in range(len(words)) for end in things.ends(words, i))
    return [NotMine(why="not_food")] if opens or behind or scene.cue("things_in_spite_of_food") else None


def idiom(scene: Scene) -> list[Meaning] | None:
    """'in a pickle here', 'cool as a cucumber', 'going on a date': a food word that tells of no food."""
    weighed = any(c.amount is not None and c.amount.kind in ("mass", "volume") for c in scene.amounts)
    return None if weighed or _eats(scene.message) or not scene.cue("idioms") else [NotMine(why="doubt")]


def _weighs_food(chunks: Sequence[Chunk]) -> bool:
    """Whether a side of 'or' has a weight and a food of its own."""
    weighed = any(c.amount is not None and c.amount.kind in ("mass", "volume") for c in chunks)
    return weighed and any(c.kind == "food" for c in chunks)


SAY_WHY = (
    "waste_verbs", "maybe_waste", "gone_to_waste", "stock_verbs", "still_kept", "let_go", "prep_verbs", "making_verbs",
    "for_baking",
)  # fmt: skip
"""Concepts of which one is in whatever says why a weighed food was not eaten."""


@once
def _eats(message: Message) -> bool:
    """Whether it tells of eating, or names the meal."""
    said = message.wording
    meal = any(c.moment is not None and c.moment.meal is not None for c in message.of("moment"))
    eats, duty = pack()["tells_of_eating"], pack()["had_to"]
    return meal or any(True for i in range(len(said)) for _ in eats.ends(said, i) if not any(duty.ends(said, i)))


def _says_another_time(scene: Scene) -> bool:
    """Whether it ends with 'later', 'last week': another day's food, or food still to come."""
    words, times = scene.said, pack()["another_time"]
    return any(end == len(words) for i in range(len(words)) for end in times.ends(words, i))


def _is_quoted(scene: Scene) -> bool:
    """Whether the first amount is a weight right behind somebody's 'said'."""
    amount = scene.amounts[0]
    if amount.amount is None or amount.amount.kind not in ("mass", "volume"):
        return False
    words, first = pack()["somebody_said"], amount.start
    said = scene.message.line.plain
    start = scene.message.chunks[0].start
    return any(0 <= first - end <= MOST_BETWEEN for i in range(start, first) for end in words.ends(said, i))


def _why(scene: Scene) -> NotMine | None:
    """Why none of the weighed food was eaten; None if one stretch with a weight does not say so."""
    found: NotMine | None = None
    if scene.message.line.plain.said.isdisjoint(SAY_WHY):
        return None
    for stretch in stretches(scene.message, opening="other_clause"):
        amount = next((c for c in stretch if c.kind == "amount" and c.amount is not None), None)
        if amount is None:
            continue
        why = _of_stretch(scene, stretch, amount)
        if why is None and found is None:
            return None
        # What only lists more food behind such a verb belongs to it.
        found = why or found
    return found


def _of_stretch(scene: Scene, stretch: Sequence[Chunk], amount: Chunk) -> NotMine | None:
    said = scene.message.line.plain
    before = [said[n] for c in stretch if c.end <= amount.start for n in range(c.start, c.end)]
    after = [said[n] for c in stretch if c.start >= amount.end for n in range(c.start, c.end)]
    if _verb(before, "waste_verbs") or (_verb(before, "maybe_waste") and not pack()["into_food"].found(after)):
        return NotMine(why="waste")
    if pack()["gone_to_waste"].found(_words_behind(scene, amount)):
        return NotMine(why="waste")
    if any(not b.cooked for b in scene.message.around.batches):
        return None  # it may be for the pot
    grams = amount.amount.grams if amount.amount is not None else None
    large = grams is not None and grams >= LARGE_G
    if _verb(before, "stock_verbs") or pack()["still_kept"].found(after) or scene.cue("let_go"):
        return NotMine(why="doubt")
    ready = _verb(before, "prep_verbs") and not _peels_one(scene, amount) and not pack()["into_food"].found(after)
    if ready or (large and _verb(before, "making_verbs")) or pack()["for_baking"].found(after):
        return NotMine(why="doubt")
    return None


def _words_behind(scene: Scene, amount: Chunk) -> list[str]:
    """The words of the message behind an amount, without what was left out of it."""
    said = scene.message.line.plain
    return [said[n] for c in scene.message.chunks if c.start >= amount.end for n in range(c.start, c.end)]


def _peels_one(scene: Scene, amount: Chunk) -> bool:
    """'peeled a banana, 116 g': one fruit is peeled for nothing but to be eaten."""
    told = [c.amount for c in scene.amounts if c.amount is not None]
    one = amount.amount is not None and (amount.amount.value == 1 or len(told) == 1)
    light = all(a.grams is None or a.grams < LARGE_G for a in told)
    food = reference.load().foods.get(scene.foods[0].target) if len(scene.foods) == 1 else None
    return (
        one
        and light
        and food is not None
        and food.group == "fruit"
        and scene.cue("peels")
        and not scene.cue("into_food")
    )


def _verb(before: Sequence[str], concept: str) -> bool:
    """Whether the words before an amount end with such a verb, and only small words begin them."""
    words, small = pack()[concept], pack()["beside_verb"]
    for i in range(len(before)):
        for end in words.ends(before, i):
            if all(w in small for w in (*before[:i], *before[end:])):
                return True
    return False
