"""Answers to waiting questions.

A question takes a choice's number or words, an amount, a state or a food, as long as the message holds nothing else, or
goes on with something new after it. Only the question shown last takes bare words; '#5 nonfat' names the weigh-in whose
question it answers. A message that names a food, batch or vessel of its own answers none. A number by itself that comes
next but a day later answers only once it was asked whether it does.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from bot.kinds import About
from bot.language.agreeing import agreed
from bot.language.answer_details import detail, next_to_nothing, state_first
from bot.language.answer_meanings import Answering, Choice, Filled, WhichQuestion
from bot.language.asked import Skip
from bot.language.asking import bare_amount
from bot.language.batch_meanings import CookBatch
from bot.language.choices import by_state, by_words, likest, of_somebody_else, picked, telling, verbatim
from bot.language.chunks import Chunk
from bot.language.fix_meanings import Again, Change
from bot.language.frames.of_it import portion_put_right, takes_from_pot
from bot.language.guided import ShareAgain, WhoSees, Withhold
from bot.language.kinds_picked import kind_picked
from bot.language.meanings import Answer, Bare, Chatter, Meaning, NotMine, Unclear
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.retold import retold
from bot.language.surroundings import Waiting
from bot.language.text import singular
from bot.language.told import Item

ASKS_WHICH = frozenset({"food", "bare", "batch", "ingredient_food"})
"""What is asked about where the answer is a food or a batch."""
MOST_CHOICES = 12
"""Largest bare number that is read as the number of a choice, in range or not."""
MOST_OFFERED = 4
"""Most questions among which the person is asked to choose."""
SENTENCE = 4
"""Words and signs from which on a choice that was typed whole belongs to no other question."""
ASKED_BACK = 3
"""Words beside an amount from which on a question mark makes a question of it, and no unsure answer."""
LONGEST_ANSWER = 12
"""Words of a message that is tried as an answer and nothing else."""

HOW_MEASURED = frozenset({About.DRINK, About.INGREDIENT_DRINK})
"""What is asked about where a weight may be a volume."""
OWN_FOOD = frozenset(
    {About.AMOUNT, About.SHARE, About.CHANGE, About.OVER_DRAW, About.MUCH, About.FOOD, About.BOX_WEIGHT}
)
"""What is asked about where the answer may be what the person ate."""

PLACES = ("first_choice", "second_choice", "third_choice", "fourth_choice")
"""The concepts of the places of choices, in order."""

UNTOLD = (Answer, Bare, Chatter, Item, Unclear)
"""What words mean by themselves that may be an answer to an earlier question."""

AGREEING = (*UNTOLD, NotMine, ShareAgain, Skip, WhoSees, Withhold)
"""What words mean by themselves that may agree to a coaching."""

Plain = Callable[[Message], list[Meaning]]
"""What a message means when no question waits."""


def answered(message: Message, otherwise: Plain) -> list[Meaning] | None:
    """The answers that a message holds, followed by what is new in it; None when it answers nothing."""
    waiting = message.around.waiting
    if not waiting or not message.chunks or message.text.startswith("/") or takes_from_pot(message):
        return None
    if message.has("?") and message.of("amount") and len(message.of("word")) >= ASKED_BACK:
        return None  # "there's 2 left, right?"
    put_right = portion_put_right(message)
    if put_right is not None:
        return [put_right]
    numbered = _numbered(message, waiting, otherwise)
    if numbered is not None:
        return numbered
    # A number by itself is no answer a day later; words are, as long as they come next.
    words_only = not message.of("amount")
    shown = next((question for question in waiting if question.shown and (question.fresh or words_only)), None)
    found = None if shown is None else _of_the_last_shown(message, shown, otherwise)
    if found is not None:
        return found
    sentence = _whole_sentence(message, waiting)
    if sentence is not None:
        return [sentence]
    own = _of_its_food(message, waiting)
    if own is not None:
        return [own]
    # A number that comes next but a day later may be meant for the last question: that is asked.
    others = [q for q in waiting if q is not shown and (q.fresh or q.shown or _names_its_food(message, q))]
    which = _which(message, others, otherwise)
    if which is None and shown is not None and _leaves_open(message):
        return [Skip()]
    return None if which is None else [which]


def _of_the_last_shown(message: Message, shown: Waiting, otherwise: Plain) -> list[Meaning] | None:
    """The answer to the question shown last, alone or followed by something new."""
    again = retold(message, shown, otherwise) if shown.fresh else None
    if again is not None:
        return again
    found = next_to_nothing(message, shown) or _answer(message, shown, otherwise)
    return [found] if found is not None else _with_more(message, shown, otherwise)


def _names_its_food(message: Message, question: Waiting) -> bool:
    """'greek yogurt nonfat': the words for the food that is asked about are among those of the message."""
    return bool(question.word) and set(question.word.split()) <= {word.lower() for word in message.said}


def _leaves_open(message: Message) -> bool:
    """'leave it at the weight': the question may stay open, and the weigh-in with it."""
    said = [plain(word) for word in message.said]
    return pack()["only_the_weight"].found(said) and not message.of("amount", "food", "batch", "hash")


def _numbered(message: Message, waiting: Sequence[Waiting], otherwise: Plain) -> list[Meaning] | None:
    """'#5 nonfat': the answer to the question about that weigh-in, whenever it was asked."""
    first = message.chunks[0]
    number = first.number if first.kind == "hash" and first.number else None
    question = next((q for q in waiting if number is not None and q.weigh_in == number), None)
    rest = message.part(1, len(message.chunks))
    if question is None or not rest.chunks:
        return None
    found = _answer(rest, question, otherwise, by_number=False)
    return [found] if found is not None else _with_more(rest, question, otherwise, by_number=False)


def _whole_sentence(message: Message, waiting: Sequence[Waiting]) -> Choice | None:
    """A choice of several words typed as it stands ('yes, show my sheets'), which only one question has."""
    if len(message.said) < SENTENCE or message.of("food", "batch", "amount", "tare"):
        return None
    found = [(q, i) for q in waiting if (i := verbatim(message, q)) is not None]
    return Choice(question=found[0][0].key, index=found[0][1]) if len(found) == 1 else None


def _of_its_food(message: Message, waiting: Sequence[Waiting]) -> Choice | None:
    """'the yogurt this morning was nonfat': a sentence about the food that is asked about, whenever it was asked."""
    foods = message.of("food")
    if len(foods) != 1 or message.of("amount", "batch", "tare", "hash", "whole", "part") or message.asks:
        return None
    if not message.has("was", "were", "is", "are") or message.has("not"):
        return None
    own = {singular(w) for w in foods[0].text.lower().split()}
    for question in reversed(waiting):
        known = {singular(w) for w in question.word.split()}
        if foods[0].target not in question.foods and not (own and own <= known):
            continue
        moments = {w for c in message.of("moment") for w in c.text.lower().split()}
        said = [w for w in telling(message, question) if singular(w) not in own and w not in moments]
        index = by_state(message, replace(question, foods=(*question.foods, foods[0].target)), said)
        if index is None and said:
            index = by_words(question, said)
        if index is not None:
            return Choice(question=question.key, index=index)
    return None


def _with_more(
    message: Message, question: Waiting, otherwise: Plain, *, by_number: bool = True
) -> list[Meaning] | None:
    """'nonfat, and 10 g honey': an answer, and after it something new."""
    whole = otherwise(message)
    if len(whole) == 1 and not isinstance(whole[0], UNTOLD):
        # 'chili is ready, 600 g' is one thing, and no answer that is followed by something new.
        return None
    ends = pack()["answer_end"]
    cuts = [i for i, c in enumerate(message.chunks) if c.kind == "newline" or c.text.lower() in ends]
    for i in cuts:
        head, rest = message.part(0, i), _after(message, i)
        if not head.chunks or not rest.chunks:
            continue
        found = _answer(head, question, otherwise, by_number=by_number)
        item = found.item if isinstance(found, Filled) else None
        if isinstance(found, Filled) and item is not None and item.amount is None and not item.several:
            amount = bare_amount(rest)
            if amount is not None and not question.word and not question.foods:
                # 'parmesan, 12 g' after '320 g of what?' is something else, and 'parmesan, 320 g' the answer.
                return [found] if _repeats(rest, question) else None
            if amount is not None and amount.kind == "mass":
                # 'it was rotisserie breast, 4.2 oz'
                return [replace(found, item=replace(item, amount=amount))]
        if isinstance(found, (Choice, Filled)) and rest.of("amount", "food", "batch"):
            return [found] if _repeats(rest, question) else [found, *otherwise(rest)]
    return None


def _repeats(rest: Message, question: Waiting) -> bool:
    """Whether it is only the weight that was told before: 'cooked, 200 g' for the 200 g that are asked about."""
    amounts = rest.of("amount")
    only = amounts[0].amount if len(amounts) == len(rest.chunks) == 1 else None
    return only is not None and question.grams is not None and only.grams == question.grams


def _after(message: Message, cut: int) -> Message:
    """What comes after a cut, without further words that only join."""
    ends = pack()["answer_end"]
    while cut < len(message.chunks) and (message.chunks[cut].kind == "newline" or message.chunks[cut].text in ends):
        cut += 1
    return message.part(cut, len(message.chunks))


def _answer(message: Message, question: Waiting, otherwise: Plain, *, by_number: bool = True) -> Answering | None:
    """The answer that the message is to this question, if it is nothing but that."""
    index = verbatim(message, question)
    if index is not None:
        return Choice(question=question.key, index=index)
    if len(message.said) > LONGEST_ANSWER:
        return None
    found = detail(message, question, otherwise)
    if found is not None:
        return found
    if _names_another(message, question) or of_somebody_else(message) or _means_else(message, question, otherwise):
        return None
    kind = kind_picked(message, question) or state_first(message, question)
    if kind is not None:
        return kind
    if by_number and _lone_number(message) is not None and question.choices:
        number = _lone_number(message)
        assert number is not None
        free = number > len(question.choices) and "amount" in question.takes
        if number <= MOST_CHOICES and not free:
            return Choice(question=question.key, index=number - 1)
    index = agreed(message, question)
    if index is None:
        index = _ordinal(message, question)
    if index is None:
        index = picked(message, question)
    if index is None:
        index = likest(message, question)
    if index is not None:
        return Choice(question=question.key, index=index)
    return _amount(message, question, otherwise) or _food(message, question, otherwise)


def _means_else(message: Message, question: Waiting, otherwise: Plain) -> bool:
    """Whether words that may agree to a coaching are a request of their own: 'confirm my targets' gives no consent."""
    if question.about != About.COACHING or agreed(message, question) is None:
        return False
    return any(not isinstance(meaning, AGREEING) for meaning in otherwise(message))


def _names_another(message: Message, question: Waiting) -> bool:
    """Whether it names a food, batch or vessel that the question is not about."""
    words = " ".join(question.choices).lower()
    for chunk in message.of("food", "batch", "tare"):
        known = chunk.target in (*question.foods, *question.among)
        if not known and chunk.text.lower() not in words and question.about not in ASKS_WHICH:
            return True
        if chunk.kind == "tare":
            return True
    return False


def _lone_number(message: Message) -> int | None:
    """The whole number that, with words around it, is all that the message holds."""
    amounts = message.of("amount")
    amount = amounts[0].amount if len(amounts) == 1 else None
    whole = amount is not None and amount.kind == "bare" and amount.doubt is None and amount.value == int(amount.value)
    times = any(c.text.lower() in pack()["says_times"] for c in message.of("word"))  # 'x2'
    if amount is None or not whole or times or not _nothing_else(message, amounts):
        return None
    return int(amount.value)


def _nothing_else(message: Message, chunks: Sequence[Chunk], own: Sequence[str] = ()) -> bool:
    """Whether beside the chunks there are only words that tell nothing, and the food that is asked about."""
    return all(
        chunk in chunks or chunk.kind in ("sign", "newline") or chunk.target in own or _tells_nothing(chunk, message)
        for chunk in message.chunks
        if chunk.kind != "food" or chunk.target not in own
    )


def _tells_nothing(chunk: Chunk, message: Message) -> bool:
    if chunk.kind not in ("word", "noise"):
        return False
    beside, polite = pack()["beside_answer"], pack()["polite"]
    words = chunk.text.lower().split()
    return chunk.field == "polite" or all(w in beside or w in polite or w in message.words.filler for w in words)


def _ordinal(message: Message, question: Waiting) -> int | None:
    """'the second one': the choice at that place."""
    said = [word for word in message.line.plain if word.isalnum() and word not in pack()["beside_answer"]]
    for index, place in enumerate(PLACES[: len(question.choices)]):
        if any(end == len(said) for end in pack()[place].ends(said, 0)):
            return index
    return None


def _amount(message: Message, question: Waiting, otherwise: Plain) -> Filled | None:
    """'250', 'it was 250 g', 'the cheddar was 35 g': the amount that was asked for."""
    amounts = message.of("amount")
    if "amount" not in question.takes or len(amounts) != 1 or amounts[0].amount is None:
        return None
    amount = amounts[0].amount
    boxes = question.about == "box_count" and amount.unit == "box"
    # 'how many grams of apple?', '6.3 oz with core'; 'how many grams of rice?', '180 g cooked'
    details = message.of("state", "whole", "part", "size") if question.about == "amount" else []
    spent = [*amounts, *details]
    if (amount.kind not in ("mass", "bare") and not boxes) or not _nothing_else(message, spent, question.foods):
        return None
    told = otherwise(message)
    # 'onions were 310' when the amount of the onions was asked for, not a fix of onions eaten before.
    asked_of = question.about == "ingredient_amount" and any(c.target in question.foods for c in message.of("food"))
    if not _just_an_amount(told) and not (asked_of and len(told) == 1 and not isinstance(told[0], UNTOLD)):
        return None
    only = told[0] if details and isinstance(told[0], Item) else None
    return Filled(question=question.key, slot="amount", amount=amount, item=only)


def _just_an_amount(told: Sequence[Meaning]) -> bool:
    """Whether the message, without the question, would say no more than an amount: a fix of the last one at most."""
    match list(told):
        case [Again() | Bare() | CookBatch() | Item(batch=None)]:
            return True
        case [Change() as only]:
            return only == Change(which=only.which, amount=only.amount) and only.which.number is None
        case _:
            return False


def _food(message: Message, question: Waiting, otherwise: Plain) -> Answering | None:
    """The food that was asked for: any where none was named yet, else one of the kinds that differ."""
    if "food" not in question.takes or not message.of("food", "batch", "word", "state"):
        return None
    told = otherwise(message)
    only = told[0] if len(told) == 1 else None
    if not isinstance(only, Item) or only.amount is not None or only.several:
        return None
    named = only.batch is not None and only.batch.sure
    if not named and (only.name is None or not (only.name.foods or only.name.kinds)):
        return None
    filled = Filled(question=question.key, slot="food", item=only)
    if not question.foods and not question.weigh_in:
        return filled
    if only.name is not None and set(only.name.foods) & set(question.among):
        return filled
    said = [plain(t.text) for t in message.tokens[message.chunks[0].start : message.chunks[-1].end]]
    if pack()["answering"].end(said, 0):
        return filled
    # Only a food after 'which food was it?': the answer, or the next thing eaten.
    return WhichQuestion(text=message.text, fills=(filled,), item=only) if question.shown and question.fresh else None


def _which(message: Message, waiting: Sequence[Waiting], otherwise: Plain) -> WhichQuestion | None:
    """Bare words that would answer questions asked earlier."""
    if message.of("food", "batch", "tare", "hash", "moment", "newline") or message.asks:
        return None
    choices: list[Choice] = []
    fills: list[Filled] = []
    for question in reversed(waiting):
        found = _answer(message, question, otherwise, by_number=question.shown)
        if isinstance(found, Choice):
            choices.append(found)
        elif isinstance(found, Filled) and found.slot != "food":
            fills.append(found)
    choices, fills = _can_be(message, choices, fills, waiting)
    told = otherwise(message)
    if not choices and not fills:
        return None
    if any(fill.slot == "amount" for fill in fills) and not choices and not isinstance(told[0], Bare):
        return None
    if not all(isinstance(meaning, UNTOLD) for meaning in told):
        return None
    shown = tuple(choices[:MOST_OFFERED]), tuple(fills[:MOST_OFFERED])
    return WhichQuestion(text=message.text, choices=shown[0], fills=shown[1], amount=bare_amount(message))


def _can_be(
    message: Message, choices: list[Choice], fills: list[Filled], waiting: Sequence[Waiting]
) -> tuple[list[Choice], list[Filled]]:
    """Those answers that the message can be: 'by weight' is for no 'weight only', and 'I had 12 oz' for no pot."""
    said = [plain(word) for word in message.said]
    asked = {question.key: question for question in waiting}
    exact = [choice for choice in choices if verbatim(message, asked[choice.question]) == choice.index]
    if exact:
        return exact, []
    if pack()["how_measured"].found(said):
        choices = [choice for choice in choices if asked[choice.question].about in HOW_MEASURED]
    if pack()["eats_for_oneself"].found(said):
        fills = [fill for fill in fills if asked[fill.question].about in OWN_FOOD]
    return choices, fills
