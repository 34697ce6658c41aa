"""A sentence in fragments: cut at commas and 'and', put together again where they tell of one food."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from bot.language.belongings import is_dish
from bot.language.chunks import Chunk
from bot.language.foodwords import WASTE_GROUPS, has_part
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.places import is_drink, separates, without_places
from bot.language.text import singular
from bot.language.waste import is_weight
from bot.language.word_lists import word_lists
from domain import reference

WORDS = word_lists("telling")
JOINING = WORDS["joining"]
SEPARATING = WORDS["separating"]
COMMA = ","
MOST_BEFORE_THEM = 3
"""Chunks behind a joining word among which is the pronoun for what was named before it."""
MOST_COUNTED = 12
"""Up to this a number beside a food may be a count."""


MOST_LOOKED_AT = 8
"""Foods before a waste weight that may be the one it is of."""


@dataclass
class Fragment:
    """What stands between two separators."""

    joined: str
    """The separator before it."""
    chunks: list[Chunk] = field(default_factory=list)

    def of(self, *kinds: str) -> list[Chunk]:
        """The chunks of these kinds."""
        return [c for c in self.chunks if c.kind in kinds]

    @property
    def amounts(self) -> list[Chunk]:
        """Its amounts."""
        return self.of("amount")

    @property
    def foods(self) -> list[Chunk]:
        """Its foods and batches."""
        return [c for c in self.chunks if c.kind == "food" or (c.kind == "batch" and c.batch is not None)]

    @property
    def waste(self) -> list[Chunk]:
        """Its waste weights."""
        return [c for c in self.chunks if c.kind == "part"]


def fragments_of(message: Message, chunks: Sequence[Chunk]) -> list[Fragment]:
    """The sentence cut at its separators; a fragment's `joined` is the separator before it."""
    fragments = [Fragment("")]
    chunks = without_places(message, chunks)
    for i, chunk in enumerate(chunks):
        text = chunk.text.lower()
        parts = chunk.kind == "newline" or (chunk.kind in ("word", "sign") and separates(text, chunks, i))
        if text == "/" and message.stands_alone(chunk):
            parts = True
        if chunk.kind == "sign" and text in ".!?":
            parts = True
        if i and chunks[i - 1].kind == "moment" and pack()["which_was"].end(message.line.plain, chunk.start):
            parts = True  # '33 g bread with lunch, which was stew 290 g'
        if parts and _goes_on(chunks, i):
            text = COMMA  # 'three slices of bacon, and they weighed 35 g'
        if parts:
            fragments.append(Fragment("\n" if chunk.kind == "newline" else text))
        elif chunk.kind not in ("noise", "price", "macro", "energy"):
            fragments[-1].chunks.append(chunk)
    return [f for f in fragments if f.chunks]


def _goes_on(chunks: Sequence[Chunk], i: int) -> bool:
    """Whether a joining word only leads to what the food before it weighed: 'and they', 'and after frying it'."""
    if chunks[i].text.lower() not in JOINING:
        return False
    for chunk in chunks[i + 1 : i + 1 + MOST_BEFORE_THEM]:
        if chunk.text.lower() in pack()["of_what_was_named"]:
            return True
        if chunk.kind not in ("state", "moment", "noise"):
            return False
    return False


def pulled_apart(fragment: Fragment) -> list[Fragment]:
    """A fragment that lists several weigh-ins without commas, cut between them."""
    telling = [c for c in fragment.chunks if c.kind in ("amount", "food", "batch")]
    masses = list(fragment.amounts)
    runs = _food_runs(fragment)
    if len(masses) < 2 or len(runs) < 2:
        return [fragment]
    if _is_headed(telling, runs):
        # 'porridge 45 g oats 250 ml milk': the dish, and then what is in it.
        rest = fragment.chunks[fragment.chunks.index(runs[0][-1]) + 1 :]
        return pulled_apart(Fragment(fragment.joined, rest))
    amount_leads = telling[0].kind == "amount" and not _is_counted_first(telling)
    lead = next(c.kind for c in fragment.chunks if c.kind in ("amount", "food", "batch", "state"))
    openers = ("food", "word", "batch") if lead != "state" else ("food", "state", "word", "batch")
    pieces: list[Fragment] = [Fragment(fragment.joined)]
    seen_amount = seen_food = False
    for i, chunk in enumerate(fragment.chunks):
        complete = seen_amount and seen_food
        starts = chunk.kind == "amount" if amount_leads else chunk.kind in openers
        if complete and starts and not (not amount_leads and not _more_to_come(fragment.chunks[i:])):
            pieces.append(Fragment(" "))
            seen_amount = seen_food = False
        pieces[-1].chunks.append(chunk)
        seen_amount = seen_amount or chunk.kind == "amount"
        seen_food = seen_food or chunk.kind in ("food", "batch")
    return pieces


def _is_counted_first(telling: Sequence[Chunk]) -> bool:
    """Whether each weight is behind its food, and the first food is counted too: '1 crumpet 55 g butter 5 g'."""
    count, kinds = telling[0].amount, [c.kind == "amount" for c in telling]
    counts = count is not None and count.kind in ("bare", "count") and count.value <= MOST_COUNTED
    turns = all(first != second for first, second in pairwise(kinds))
    return counts and turns and kinds[-1] and all(c.amount is None or c.amount.kind == "mass" for c in telling[1:])


def _is_headed(telling: Sequence[Chunk], runs: Sequence[Sequence[Chunk]]) -> bool:
    """Whether a dish stands before a list in which each amount is followed by its own food."""
    masses = [c for c in telling if c.kind == "amount"]
    if len(masses) < 2 or len(runs) != len(masses) + 1 or any(len(run) > 1 for run in runs):
        return False
    head = runs[0][0].target
    if not is_dish(head) and head != runs[1][0].target:
        return False  # 'toast 70 g butter 10 g jam' may as well be 70 g toast
    kinds = [c.kind == "amount" for c in telling]
    return kinds == [i % 2 == 1 for i in range(len(kinds))] and all(
        c.amount is not None and c.amount.kind != "bare" for c in masses
    )


def _more_to_come(chunks: Sequence[Chunk]) -> bool:
    kinds = {c.kind for c in chunks}
    return "amount" in kinds and bool(kinds & {"food", "batch"})


def _food_runs(fragment: Fragment) -> list[list[Chunk]]:
    """Food chunks with nothing but states and fillers between them stand in one run."""
    runs: list[list[Chunk]] = []
    open_run = False
    for chunk in fragment.chunks:
        if chunk.kind in ("food", "batch"):
            if open_run:
                runs[-1].append(chunk)
            else:
                runs.append([chunk])
            open_run = True
        elif chunk.kind in ("amount",) or chunk.text.lower() in WORDS["breaking"]:
            open_run = False
    return runs


def merged(message: Message, fragments: Sequence[Fragment]) -> list[Fragment]:
    """Fragments that tell of one food put together: 'strawberries, 133 g', 'apple 196, core 17'."""
    joined: list[Fragment] = []
    for fragment in (f for f in fragments if _carries(message, f)):
        if fragment.foods and not fragment.of("state") and joined and _only_state(message, joined[-1]):
            fragment.chunks = [*joined.pop().chunks, *fragment.chunks]
        last = _with_such_part(joined, fragment) or (joined[-1] if joined else None)
        kind = _kind_of(message, last, fragment) if last is not None else []
        if last is not None and kind:
            at = last.chunks.index(last.foods[0])
            last.chunks[at:at] = kind
            last.chunks.extend(c for c in fragment.chunks if c not in kind)
        elif last is not None and _only_describes(message, last, fragment):
            last.chunks.extend(fragment.of("state", "size", "whole"))
        elif last is not None and _belongs(message, last, fragment):
            last.chunks.extend(_of_nothing(fragment) if fragment.joined in SEPARATING else fragment.chunks)
        else:
            joined.append(fragment)
    return joined


def _of_nothing(fragment: Fragment) -> list[Chunk]:
    """The chunks of what is said to come with a food and names none ('egg w 240'): its bare numbers are in doubt."""
    doubted: list[Chunk] = []
    for chunk in fragment.chunks:
        amount = chunk.amount
        if chunk.kind == "amount" and amount is not None and amount.kind == "bare" and amount.doubt is None:
            chunk = chunk._replace(amount=replace(amount, doubt="unclear", text=f"{fragment.joined} {amount.text}"))
        doubted.append(chunk)
    return doubted


def _carries(message: Message, fragment: Fragment) -> bool:
    """Whether anything in a fragment bears on a weigh-in; mere chatter does not part what belongs together."""
    return bool(fragment.of("amount", "food", "batch", "state", "whole", "tare", "part", "size")) or bool(
        unknown_words(message, fragment)
    )


def _only_state(message: Message, fragment: Fragment) -> bool:
    """'Baked for 20 minutes, my haddock …': a state that stands before the food it is of."""
    return (
        bool(fragment.of("state"))
        and not fragment.of("amount", "food", "batch")
        and not unknown_words(message, fragment)
    )


def _names_something(message: Message, fragment: Fragment) -> bool:
    return bool(fragment.foods) or bool(unknown_words(message, fragment))


def unknown_words(message: Message, fragment: Fragment) -> list[Chunk]:
    """Words that stand in no list and may be a food of no table."""
    known = message.words
    return [
        c
        for c in fragment.of("word")
        if not known.knows(c.text.lower())
        and not known.knows(singular(c.text.lower()))
        and (len(c.text) > 2 or message.vocabulary.knows(c.text.lower()))
    ]


def _only_describes(message: Message, last: Fragment, fragment: Fragment) -> bool:
    """'pizza, the domestic frozen one, about 260 g': words that only say which sort the food before them was."""
    if not last.foods or fragment.of("food", "batch", "part", "tare") or not unknown_words(message, fragment):
        return False
    ends = fragment.chunks[-1].text.lower().split()[-1]
    counted = [c for c in fragment.amounts if c.amount is not None and c.amount.text.lower() not in WORDS["sort_of"]]
    return ends in WORDS["sort_of"] and not counted


def _belongs(message: Message, last: Fragment, fragment: Fragment) -> bool:
    names, named = bool(fragment.foods), _names_something(message, last)
    if names and last.of("tare") and not last.foods and not unknown_words(message, last):
        return not (last.amounts and fragment.amounts)  # 'green pot with cooked pasta: 1385'
    if names:
        # an amount alone, then its food: "120 g, rice"
        return (
            bool(last.amounts)
            and not last.foods
            and not _named_after(message, last)
            and not fragment.amounts
            and fragment.joined not in JOINING
        )
    if fragment.waste and (last.amounts or last.foods):
        return True
    if fragment.amounts:
        unknown = unknown_words(message, fragment)
        counted = all(
            c.amount is not None and c.amount.kind in ("bare", "count") and c.amount.value <= MOST_COUNTED
            for c in fragment.amounts
        )
        if unknown and counted and last.foods and any(is_weight(c) for c in last.amounts) and fragment.joined == ",":
            fragment.chunks = [c for c in fragment.chunks if c.kind not in ("word", "amount")]
            return True
        if unknown and last.amounts:
            return False
        if unknown and not (len(unknown) <= 1 and last.foods):
            return False
        if for_others(message, fragment):
            return fragment.joined not in JOINING or part_of_it(message, fragment)
        return named and fragment.joined not in WORDS["adding"]
    if fragment.of("state", "whole", "tare", "size"):
        return named or bool(last.amounts)
    return False


def _with_such_part(told: Sequence[Fragment], waste: Fragment) -> Fragment | None:
    """The latest fragment whose food has the part that a waste weight is of: bones are not the rice's."""
    part = waste.waste[0].part if waste.waste and not waste.amounts else ""
    if part not in WASTE_GROUPS or waste.foods:
        return None
    return next((f for f in reversed(told[-MOST_LOOKED_AT:]) if any(has_part(c, part) for c in f.of("food"))), None)


def _kind_of(message: Message, last: Fragment, fragment: Fragment) -> list[Chunk]:
    """The words that only say the kind of the food before them: 'ice cream, 3 oz, vanilla', 'milk 200 g, skimmed'."""
    both = bool(fragment.amounts) and bool(last.amounts)
    if both or fragment.joined in JOINING or len(last.of("food")) != 1:
        return []
    words = [*fragment.of("food"), *unknown_words(message, fragment)]
    if fragment.chunks[-1].text.lower() in WORDS["sort_of"]:
        words = [c for c in fragment.chunks if c in words or c.kind == "whole"]
    inverted = _inverted(message, last, fragment, words)
    if not last.amounts and fragment.of("food") and not inverted:
        return []
    if not words or fragment.of("batch"):
        return []
    vocabulary = message.vocabulary
    food = [t.text for t in message.tokens[last.foods[0].start : last.foods[0].end]]
    kind = [t.text for c in words for t in message.tokens[c.start : c.end]]
    plain, full = vocabulary.resolve(food, ""), vocabulary.resolve([*kind, *food], "")
    if full.unknown or full.corrected or not (full.foods or full.kinds) or full.kinds == plain.kinds is not None:
        return []
    words = [c._replace(kind="food", target=full.foods[0]) if c.kind == "whole" and full.foods else c for c in words]
    if full.kinds is not None:
        return [] if fragment.of("food") else words
    if inverted:
        return words
    of_it = plain.kinds is not None and full.foods[0] in reference.load().kinds[plain.kinds].kinds
    targets = {c.target for c in fragment.of("food")}
    # 'chicken 120 g, rotisserie breast': what alone is a chicken's breast is the chicken's kind.
    own = {singular(w) for w in food} <= {singular(w) for w in full.foods[0].split()}
    of_it = of_it or (own and targets == {full.foods[0]} and not set(food) & set(kind))
    return words if of_it or not fragment.of("food") else []


def _inverted(message: Message, last: Fragment, fragment: Fragment, words: Sequence[Chunk]) -> bool:
    """'peas, green', 'soup, tomato': whether the words, put before the food, are a food's full name as it is listed."""
    if fragment.amounts or fragment.joined != "," or any(is_drink(c) for c in last.of("food")):
        return False
    said = [singular(t.text) for c in (*words, *last.of("food")) for t in message.tokens[c.start : c.end]]
    food = message.vocabulary.exact(tuple(said))
    return food is not None and [singular(w) for w in food.split()] == said


def part_of_it(message: Message, fragment: Fragment) -> bool:
    """'130 of it', '150 g of that', 'of which 260 g': a part of what was told before."""
    said = " ".join(t.text for c in fragment.chunks for t in message.tokens[c.start : c.end])
    return any(f"of {w}" in said for w in WORDS["it"])


def _named_after(message: Message, fragment: Fragment) -> bool:
    """Whether an unknown word follows the amount, where a food's name would stand ('80 g zibbernax')."""
    start = fragment.amounts[0].start
    return any(c.start > start for c in unknown_words(message, fragment))


def for_others(message: Message, fragment: Fragment) -> bool:
    """Whether somebody else's food is meant."""
    said = [singular(t.text) for c in fragment.chunks for t in message.tokens[c.start : c.end]]
    return any(w in message.words.people or w in message.words.pronouns for w in said)
