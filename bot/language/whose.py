"""Whose food a sentence tells of: whether somebody else had it, and the writer none."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.chunks import Chunk
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.pronouns import stands_for_food
from bot.language.stories import stretches
from bot.language.text import singular

MINE_SPAN = 6
"""Tokens before an amount among which 'I' and its verb may stand."""
SUBJECT_SPAN = 5
"""Chunks before a verb of eating that its subject may have."""


def _said_outright(message: Message) -> bool | None:
    """Whether it is said that the food was somebody else's, or the writer's; None where neither is."""
    if pack()["not_for_me"].found(message.wording):
        return True
    if _i_had_it(message):
        return False
    return True if _somebody_ate(message) or _made_for(message) else None


def _i_had_it(message: Message) -> bool:
    """Whether every amount has 'I …' right before it ('while she talked I nibbled through 90 g of grapes')."""
    weighed = [c for c in message.of("amount") if c.amount is not None and c.amount.kind in ("mass", "volume")]
    return bool(weighed) and _mine_before(message, weighed[0])


def _mine_before(message: Message, amount: Chunk) -> bool:
    before = message.line.plain[max(message.chunks[0].start, amount.start - MINE_SPAN) : amount.start]
    at = max((n for n, w in enumerate(before) if w in ("i", "ive")), default=None)
    if at is None:
        return False
    between = before[at + 1 :]
    words = pack()
    return bool(between) and not any(
        w in words["giving"] or w in words["other_pronouns"] or w in ",.;" for w in between
    )


def others_ate(message: Message) -> bool:
    """Whether the food is somebody else's: 'my husband had …', '200 g for the dog', 'she ate …'."""
    if pack()["part_of_it"].found(message.wording) and _part_for(message):
        return False
    words = message.words
    said = message.said
    outright = _said_outright(message)
    if outright is not None:
        return outright
    if pack()["is_the_writers"].found(message.wording):
        return False
    in_foods, told, stand_in = _in_foods(message), _told_of_food(message), _for_foods(message)
    for i, word in enumerate(said):
        person = singular(word) in words.people or word in words.pronouns
        if not person or not told[i] or _with_the_writer(said, i):
            continue
        if in_foods[i] or stand_in[i] or pack()["tells_of_a_thing"].end([plain(w) for w in said], i + 1):
            continue
        before = said[max(0, i - 3) : i]
        after = said[i + 1 : i + 5]
        if any(w == "'s" or plain(w) in pack()["no_eater_behind"] for w in before[-2:]) or (
            said[i].endswith("'s") and not any(f in pack()["for_whom"] for f in before)
        ):
            continue
        if any(f in pack()["for_whom"] for f in before[-3:]):
            return not _part_for(message)
        if any(w in words.eating or w in pack()["has_or_wants"] for w in after):
            return not any(w in pack()["serves"] for w in after[:1])
        led = bool(before) and before[-1] in pack()["of_ours"]
        if (led or (before and before[-1] in pack()["feeding"])) and message.has_any(pack()["feeding"].alone):
            return True
        subject = i == 0 or (led and i <= 2)
        if subject and not any(v in said for v in ("made", "cooked", "i")):
            return True
    return False


def _somebody_ate(message: Message) -> bool:
    """'patient in bed 4 had 200 g …': a subject that is no food, no meal and not the writer, with a verb of eating.

    The verb may be the second of a person: 'my neighbour called and ate two of the shortbreads'.
    """
    subject: list[Chunk] = []
    for n, chunk in enumerate(message.chunks[: SUBJECT_SPAN + 1]):
        word = chunk.text.lower()
        if word in pack()["joining"] and _ate_too(message, subject, n + 1):
            return True
        if word in pack()["ate"]:
            nouns = [c for c in subject if c.kind == "word" and not message.words.knows(c.text.lower())]
            return (
                bool(nouns)
                and len(subject) <= SUBJECT_SPAN
                and subject[0].text.lower() not in ("i", "we", "i've", "just")
            )
        if chunk.kind in ("food", "batch", "moment", "price") or word in ("i", "we", "i've", ",", "and", "but"):
            return False
        subject.append(chunk)
    return False


def _ate_too(message: Message, subject: Sequence[Chunk], verb: int) -> bool:
    """Whether a person with a verb behind it is the subject of a verb of eating that is chunk `verb`."""
    if verb >= len(message.chunks) or len(subject) < 2:
        return False
    people = message.words.people | message.words.pronouns
    persons = [c for c in subject if singular(c.text.lower()) in people]
    mine = any(c.text.lower() in pack()["the_writer"] or c.text.lower() in pack()["us_all"] for c in subject)
    eats = message.chunks[verb].text.lower()
    return bool(persons) and not mine and (eats in pack()["ate"] or eats in message.words.eating)


def only_somebody_ate(message: Message) -> bool:
    """'Ben weighed 40 g almonds and ate them, I just watched': all weights are told before the writer is spoken of."""
    weights = [n for n, c in enumerate(message.chunks) if c.kind == "amount"]
    mine = next((n for n, c in enumerate(message.chunks) if c.text.lower() in pack()["oneself"]), 0)
    return bool(weights) and weights[-1] < mine and _somebody_ate(message) and not message.of("moment")


def _made_for(message: Message) -> bool:
    """'made the kids 300 g of pasta', 'cooked my husband 200 g'."""
    said = message.said
    for i, word in enumerate(said):
        if word in pack()["serves"]:
            rest = [w for w in said[i + 1 : i + 4] if w not in pack()["before_the_served"]]
            object_alone = rest[:1] == ["them"] and not any(w.isdecimal() for w in rest[1:2])
            if (
                rest
                and not object_alone
                and (singular(rest[0]) in message.words.people or rest[0] in message.words.pronouns)
            ):
                return True
    return False


def _part_for(message: Message) -> bool:
    """'320 g rice, 130 of it for my son': only a part is for others."""
    weights = [c for c in message.of("amount") if c.amount is not None and c.amount.kind in ("mass", "bare")]
    return len(weights) > 1


def _in_foods(message: Message) -> list[bool]:
    """Whether each word said stands inside a food's name ('chickens', 'girls' …)."""
    return [chunk.kind == "food" for chunk in message.chunks for _ in range(chunk.start, chunk.end)]


def _for_foods(message: Message) -> list[bool]:
    """Whether each word said is a pronoun that stands for foods."""
    return [
        stands_for_food(message, n)
        for chunk in message.chunks
        if chunk.field != "polite"
        for n in range(chunk.start, chunk.end)
    ]


def _told_of_food(message: Message) -> list[bool]:
    """Whether each word said stands in a stretch about food or eating, as opposed to who else was in or out."""
    about: list[bool] = []
    words, opens = message.words, pack()["of_eaters"]
    found = stretches(message, opening="other_clause")
    inside = {c.start: n for n, stretch in enumerate(found) for c in stretch}
    telling = [
        any(c.kind in ("food", "batch", "amount") for c in stretch)
        or any(t.text in words.eating for c in stretch for t in message.tokens[c.start : c.end])
        or opens.found([plain(t.text) for c in stretch for t in message.tokens[c.start : c.end]])
        for stretch in found
    ]
    for n, stretch in enumerate(found[1:]):
        # 'my neighbour called and ate two of them': the verb has the subject of the stretch before
        begins = [c.text.lower() for c in stretch[:2] if plain(c.text.lower()) not in pack()["goes_on"]]
        telling[n] = telling[n] or (bool(begins) and begins[0] in words.eating)
    for chunk in message.chunks:
        if chunk.field == "polite":
            continue
        at = inside.get(chunk.start)
        about += [at is None or telling[at]] * (chunk.end - chunk.start)
    return about


def _with_the_writer(said: Sequence[str], i: int) -> bool:
    """Whether a person is named together with the writer: 'my daughter and I', 'me and my brother'."""
    words = pack()
    behind = [plain(w) for w in said[i + 1 : i + 3]]
    before = [plain(w) for w in said[max(0, i - 3) : i] if plain(w) not in words["my_own"]]
    return words["and_the_writer"].found(behind) or words["the_writer_and"].found(before[-2:])
