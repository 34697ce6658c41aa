"""What a reading overlooked: words of a message that its meanings do not use and that change one of them.

Such a word makes the meaning more precise where it can ('toast was 66 g wholemeal'), and else a question.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.language.chunks import Chunk
from bot.language.fix_meanings import Again, Change, Undo, Which
from bot.language.meanings import Bare, Meaning
from bot.language.message import Message
from bot.language.number_words import number_words
from bot.language.pack import pack
from bot.language.portion_meanings import GiveAway, TakeShare
from bot.language.text import singular
from bot.language.told import Amount, Item, Name, is_share
from domain.reference.words import is_action, is_notion

MOST_BESIDE = 2
"""Words of a kind that may stand apart from the food that they tell the kind of."""
SIGNS_BETWEEN = frozenset({",", "(", ")", "-", ":"})


def looked_again(message: Message, meant: Sequence[Meaning]) -> list[Meaning]:
    """The meanings, each with the words that it should have used."""
    match list(meant):
        case [Undo(), Bare(amount=amount)]:
            return [Change(which=Which(), amount=amount, unnamed=True)]  # 'scratch that. 25'
        case [Item(name=None, batch=None, several=(), amount=Amount(kind="mass") as amount) as only]:
            if _more_of_that(message):
                return [Again(amount=amount, when=only.when)]
        case [Change(which=which, amount=Amount(kind="mass") as amount)] if which == Which() and _more_of_that(message):
            return [Again(amount=amount)]  # 'another 10 g of that, was not enough'
    alone = len(meant) == 1
    found: list[Meaning] = []
    for meaning in meant:
        if isinstance(meaning, Item):
            shared = meaning.shared or _for_another(message, meaning) or _eaten_in_company(message, meaning)
            found.append(replace(_of_kind(message, meaning), shared=shared))
        else:
            found.append(_taken_oneself(message, meaning) if alone and isinstance(meaning, GiveAway) else meaning)
    return found


def _more_of_that(message: Message) -> bool:
    """'another 10 g of that, couldn't resist': more of what was told last, where no pot stands that may be meant."""
    weights, words = message.of("amount"), message.line.plain
    if len(weights) != 1 or message.asks or message.of("food", "state") or message.around.batches:
        return False
    at, end = weights[0].start, weights[0].end
    more = at > 0 and words[at - 1] in pack()["more_of_it"]
    return more and pack()["of_it"].end(words, end) is not None


def _of_kind(message: Message, item: Item) -> Item:
    """The weigh-in of a food that was only named in general, with the kind that stands apart: 'bread, 70 g rye'."""
    if item.name is None or item.name.kinds is None or item.name.unknown or item.amount is None:
        return item
    chunks, at = message.chunks, _amount_of(message, item)
    if at is None:
        return item
    beside = (_run(message, chunks[at + 1 :]), _run(message, chunks[:at][::-1])[::-1])
    for words in beside:
        name = _kind_of(message, words, item.name) if words else None
        if name is not None:
            return replace(item, name=name)
    return item


def _amount_of(message: Message, item: Item) -> int | None:
    """Which chunk tells the amount of a weigh-in; None where it was reckoned from others."""
    told = "" if item.amount is None else item.amount.text
    return next((n for n, c in enumerate(message.chunks) if c.amount is not None and c.amount.text == told), None)


def _for_another(message: Message, item: Item) -> bool:
    """Whether a weight is said to be for somebody else, or is somebody's: 'almonds for Mia', 'that was Mia's'."""
    at = _amount_of(message, item)
    if at is None or item.others_g or item.amount is None or item.amount.doubt is not None:
        return False
    end = next((n for n in range(at + 1, len(message.chunks)) if message.chunks[n].kind in ("amount", "newline")), None)
    behind = message.part(at + 1, len(message.chunks) if end is None else end)
    if not behind.chunks or pack()["oneself"].found(behind.wording):
        return False
    said, chunks = message.line.plain, behind.chunks
    for n, chunk in enumerate(chunks):
        given = next(iter(pack()["is_for"].ends(said, chunk.start)), None)
        owned = next(iter(pack()["was_owned"].ends(said, chunk.start)), None)
        last = len(chunks) == n + 2 or (len(chunks) > n + 2 and chunks[n + 2].kind == "sign")
        if given is not None and _is_person(message, given):
            return True
        if owned is not None and last and message.line.text(owned).endswith("'s") and _is_person(message, owned):
            return True
    return False


def _is_person(message: Message, i: int) -> bool:
    """Whether a token is a word for a person or animal, or begins like a name that no list knows."""
    tokens = message.tokens
    if i >= len(tokens):
        return False
    word = tokens[i].text.removesuffix("'s")
    if singular(word) in message.words.people:
        return True
    named = tokens[i].raw[:1].isupper() and not message.words.knows(word) and not message.vocabulary.knows(word)
    return named and not is_action(word) and not is_notion(word)


def _run(message: Message, chunks: Sequence[Chunk]) -> list[str]:
    """The words of names of foods at the beginning, behind signs and 'is'."""
    found: list[str] = []
    for chunk in chunks:
        word = chunk.text.lower()
        if chunk.kind == "word" and _tells_kind(message, word):
            found.append(word)
        elif found or not (chunk.text in SIGNS_BETWEEN or word in pack()["came_out_at"]):
            break
    return found[:MOST_BESIDE]


def _tells_kind(message: Message, word: str) -> bool:
    return message.vocabulary.knows(singular(word)) and not message.words.knows(word)


def _kind_of(message: Message, words: Sequence[str], name: Name) -> Name | None:
    """The one food that the words and the general name make together; None where there is none."""
    for said in ((*words, name.text), (name.text, *words)):
        found = message.vocabulary.resolve(" ".join(said).lower().split(), " ".join(said).lower())
        if found.kinds is None and len(found.foods) == 1 and not found.unknown and not found.corrected:
            return found
    return None


def _eaten_in_company(message: Message, item: Item) -> bool:
    """Whether 'the four of us' ate all of a weight: whose part of it is told is not known."""
    at, amount = _amount_of(message, item), item.amount
    if at is None or amount is None or amount.kind != "mass" or amount.doubt is not None or item.others_g:
        return False
    chunk = message.chunks[at]
    sentence = next((s for s in message.sentences() if any(c is chunk for c in s.chunks)), message)
    said = sentence.wording
    return pack()["ate_together"].found(said) and not pack()["my_piece"].found(said) and _of_us(sentence)


def _of_us(message: Message) -> bool:
    said = message.line.plain
    people = [c for c in message.of("amount") if c.amount is not None and c.amount.kind in ("bare", "count")]
    return any(pack()["of_us"].end(said, c.end) is not None for c in people)


def _taken_oneself(message: Message, given: GiveAway) -> Meaning:
    """What the writer ate where the one that it would have gone to is nobody: 'finally sat down and ate half of it'."""
    if not given.who or _is_somebody(message, given.who):
        return given
    said = message.line.plain
    if not (pack()["served_oneself"].found(said) or pack()["eating_it"].found(said)):
        return given
    when = message.when
    if given.fraction is not None:
        share = next((c.text for c in message.of("amount") if c.amount is not None and is_share(c.amount)), "")
        return TakeShare(batch=given.batch, fraction=given.fraction, of=given.of, text=share, when=when)
    if given.amount is not None:
        return Item(text=message.text, amount=given.amount, batch=given.batch, when=when)
    return given


def _is_somebody(message: Message, who: str) -> bool:
    """Whether words may name a person: one of the words for people, or none that does something in a sentence."""
    words = [word.removesuffix("'s") for word in who.lower().split()]
    people = message.words.people | message.words.pronouns
    if any(singular(word) in people for word in words):
        return True
    if who[:1].isupper():
        return True
    doing = pack()["joining"].alone | pack()["eating_it"].alone | number_words().of
    return not any(word in doing for word in words) and not pack()["served_oneself"].found(message.line.plain)
