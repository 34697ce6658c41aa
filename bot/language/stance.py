"""Food that is not on the writer's record: not eaten, only planned or bought, or somebody else's."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from bot.language.asides import only_looks_planned, told_outright
from bot.language.chunks import Chunk
from bot.language.meanings import NotMine
from bot.language.message import Message, once
from bot.language.number_words import number_words
from bot.language.pack import pack, plain
from bot.language.stories import stretches
from bot.language.text import singular
from bot.language.waste import wastes_found

HAD = ("had", "ate")
MINE_SPAN = 6
"""Tokens before an amount among which 'I' and its verb may stand."""


@once
def not_mine(message: Message) -> NotMine | None:
    """Why nothing of a sentence is recorded; None where it may be."""
    if not message.of("food", "batch", "price") and not _unknown(message):
        return None
    if not message.of("batch") and pack()["lost"].found(message.wording):
        return NotMine(why="negation")
    spoken = how_it_is_said(message)
    if spoken is not None:
        return NotMine(why=spoken)
    if _negated(message):
        return NotMine(why="negation")
    why: Literal["shopping", "plan", "others"] | None = (
        "shopping" if shopping(message) else "plan" if planned(message) else "others" if _others(message) else None
    )
    if why is None or (told_outright(message) and not _only_somebody_ate(message)):
        return None
    return NotMine(why=why)


@once
def how_it_is_said(message: Message) -> Literal["report", "habit", "condition"] | None:
    """Whether somebody else is quoted, a habit is told, or something is only supposed; none of it was eaten."""
    words, said = pack(), message.wording
    if message.of("energy", "macro", "hash"):
        quoted = message.of("food") and not message.of("hash") and words["claimed"].found(said)
        return "report" if quoted and not words["i_ate"].found(said) else None
    if words["condition"].found(said):
        return "condition"
    if words["habit"].found(said) and not words["not_a_habit"].found(said):
        return "habit"
    return "report" if words["report"].found(said) and not words["i_ate"].found(said) else None


def _unknown(message: Message) -> bool:
    """Whether an amount stands beside a word that may be a food of no table."""
    return bool(message.of("amount")) and any(not message.words.knows(c.text.lower()) for c in message.of("word"))


def without_excluded(message: Message) -> Message:
    """The sentence without what 'no X', 'without any of the 40 g X', 'instead of X' and 'not X' leave out."""
    dropped: list[Chunk] = []
    said = message.line.plain
    for i, chunk in enumerate(message.chunks):
        end = pack()["excluding"].end(said, chunk.start) if chunk.kind == "word" else None
        if end is not None:
            gone = _excluded(message.chunks, i + end - chunk.start)
            if any(c.kind == "food" for c in gone):
                dropped.extend([chunk, *gone])
    return message.without(dropped) if dropped else message


def _excluded(chunks: Sequence[Chunk], i: int) -> list[Chunk]:
    """From chunk i on: the food that is left out, with its amount and state, and the ones joined to it by 'or'."""
    gone: list[Chunk] = []
    while i < len(chunks):
        chunk = chunks[i]
        if not (chunk.kind in ("amount", "state", "food") or chunk.text.lower() in pack()["before_excluded"]):
            break
        gone.append(chunk)
        i += 1
        if chunk.kind == "food" and not (i < len(chunks) and chunks[i].text.lower() == "or"):
            break
    return gone


def _negated(message: Message) -> bool:
    said = message.said
    for i, word in enumerate(said):
        if word not in message.words.negations:
            continue
        rest = said[i + 1 : i + 5]
        if any(w in pack()["negation_idioms"] for w in rest[:3]) or _by_somebody_else(message, i):
            continue
        if _only_untold(message, i) or _of_waste(message, i):
            continue
        if word in ("skipped", "skip", "refused", "declined", "resisted", "avoided", "avoiding"):
            if (message.of("amount") and message.has_any({"had", "ate", "took"})) or (word == "skip" and i):
                continue
            return True
        if any(singular(w) in pack()["eaten"] or w in pack()["eaten"] for w in rest):
            return not pack()["but_for"].found([plain(w) for w in said[i + 1 :]])
        if word in ("not", "never", "nope") and rest[:1] in (["today"], ["yet"], ["me"]):
            return True
    return message.has("none of", "nothing from", "instead of eating") and not message.has(*HAD)


def _only_untold(message: Message, i: int) -> bool:
    """Whether word i only denies that it was told: 'didn't log this last night: 40 g chocolate' was eaten."""
    said = [plain(word) for word in message.said]
    told = any(i in range(n, end) for n in range(max(0, i - 2), i + 1) for end in pack()["not_told_yet"].ends(said, n))
    return told and bool(message.of("amount"))


def _of_waste(message: Message, i: int) -> bool:
    """Whether word i denies that waste was eaten: 'pear 171 g, core of 18 g not eaten'."""
    tokens = [n for c in message.chunks if c.field != "polite" for n in range(c.start, c.end)]
    for part in wastes_found(message):
        between = [message.line.lemmas[n] for n in range(part.end, tokens[i])]
        named = all(word in number_words().of or word in message.words.parts for word in between)
        if part.kind == "part" and part.part != "waste" and part.end <= tokens[i] and named:
            return True
    return False


def _by_somebody_else(message: Message, i: int) -> bool:
    """Whether word i only denies that the writer cooked it: 'from a party, I didn't cook' was eaten all the same."""
    said = [plain(word) for word in message.said]
    ends = [end for n in range(max(0, i - 2), i + 1) for end in pack()["did_not_cook"].ends(said, n) if end > i]
    return any(end == len(said) or not said[end].isalnum() for end in ends)


@once
def shopping(message: Message) -> bool:
    """Whether it was bought or is to be bought, and not eaten."""
    said = message.said
    if message.of("price"):
        return not message.has("ate", "eaten", "had")
    found = [i for i, w in enumerate(said) if w in message.words.shopping]
    if not found:
        return False
    ate = [i for i, w in enumerate(said) if w in ("had", "ate", "eaten", "took", "eating", "having")]
    return not ate or (ate[0] > found[0] and "," not in said)


@once
def planned(message: Message) -> bool:
    """Whether it tells what is still to come, or was only wished for."""
    said = [w for w in message.said if w != ","]
    line = f" {' '.join(said)} "
    if message.orders:
        return False
    if any(f" {p} " in line for p in message.words.phrases["planned"]):
        return not message.has("about to log")
    if (
        message.when.future
        and any(c.moment is not None and c.moment.future for c in message.of("moment"))
        and not message.has_any(HAD)
    ):
        return True
    for i, word in enumerate(said):
        if word not in message.words.plans:
            continue
        after = said[i + 1 : i + 4]
        if after[:1] and only_looks_planned(word, after[0]):
            continue
        if word in pack()["looked_at"] and not any(_names_food(message, w) for w in said[i + 1 : i + 6]):
            continue
        if word in ("would", "will") and after[:1] == ["you"]:
            continue
        if word in ("would", "should", "i'd", "want", "wanted") and any(
            w in pack()["telling_you"] for w in said[i + 1 : i + 5]
        ):
            continue
        if (word == "going" and not (after[:1] == ["to"] and after[1:2] and after[1] in pack()["doing"])) or (
            word == "may" and after[:1] and after[0].isdecimal()
        ):
            continue
        if word in ("should", "would") and after[:1] == ["be"]:
            continue
        return True
    return False


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


def _names_food(message: Message, word: str) -> bool:
    return any(word in chunk.text.lower().split() for chunk in message.of("food", "batch"))


def _others(message: Message) -> bool:
    """Whether the food is somebody else's: 'my husband had …', '200 g for the dog', 'she ate …'."""
    if pack()["part_of_it"].found(message.wording) and _part_for(message):
        return False
    words = message.words
    said = message.said
    outright = _said_outright(message)
    if outright is not None:
        return outright
    if message.has("for me", "for myself", "my share", "my part", "my portion", "mine") or message.has(
        "i had", "i ate", "i took", "i've had", "i have eaten", "i also had", "i just had"
    ):
        return False
    in_foods, told = _in_foods(message), _told_of_food(message)
    for i, word in enumerate(said):
        person = singular(word) in words.people or word in words.pronouns
        if not person or not told[i] or _with_the_writer(said, i):
            continue
        if (
            in_foods[i]
            or said[i + 1 : i + 2] in (["were"], ["are"], ["weigh"], ["weighed"], ["came"])
            or said[i + 1 : i + 3] == ["had", "been"]
        ):
            continue
        before = said[max(0, i - 3) : i]
        after = said[i + 1 : i + 5]
        if any(w in ("with", "from", "by", "at", "says", "said", "'s") for w in before[-2:]) or (
            said[i].endswith("'s") and not any(f in pack()["for_whom"] for f in before)
        ):
            continue
        if any(f in pack()["for_whom"] for f in before[-3:]):
            return not _part_for(message)
        if any(
            w in words.eating
            or w
            in (
                "has",
                "eats",
                "wanted",
                "drinks",
                "gets",
                "polished",
                "is",
                "was",
                "stole",
                "loves",
                "needs",
                "takes",
                "enjoyed",
                "scoffed",
                "will",
                "likes",
            )
            for w in after
        ):
            return after[:1] not in (["made"], ["cooked"], ["gave"], ["served"], ["brought"])
        if (
            before
            and before[-1] in ("gave", "fed", "give", "giving", "feeding", "handed", "my", "the", "our")
            and message.has_any({"gave", "fed", "give", "feeding", "giving"})
        ):
            return True
        subject = i == 0 or (bool(before) and before[-1] in ("my", "the", "our") and i <= 2)
        if subject and not any(v in said for v in ("made", "cooked", "i")):
            return True
    return False


SUBJECT_SPAN = 5


def _somebody_ate(message: Message) -> bool:
    """'patient in bed 4 had 200 g …': a subject that is no food, no meal and not the writer, with a verb of eating."""
    subject: list[Chunk] = []
    for chunk in message.chunks[: SUBJECT_SPAN + 1]:
        word = chunk.text.lower()
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


def _only_somebody_ate(message: Message) -> bool:
    """'Ben weighed 40 g almonds and ate them, I just watched': all weights are told before the writer is spoken of."""
    weights = [n for n, c in enumerate(message.chunks) if c.kind == "amount"]
    mine = next((n for n, c in enumerate(message.chunks) if c.text.lower() in pack()["oneself"]), 0)
    return bool(weights) and weights[-1] < mine and _somebody_ate(message) and not message.of("moment")


def _made_for(message: Message) -> bool:
    """'made the kids 300 g of pasta', 'cooked my husband 200 g'."""
    said = message.said
    for i, word in enumerate(said):
        if word in ("made", "cooked", "gave", "served", "fed", "prepared", "brought", "fixed", "giving", "making"):
            rest = [w for w in said[i + 1 : i + 4] if w not in ("the", "my", "our", "some", "for", "to", "a")]
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
    for chunk in message.chunks:
        if chunk.field == "polite":
            continue
        n = inside.get(chunk.start)
        about += [n is None or telling[n]] * (chunk.end - chunk.start)
    return about


def _with_the_writer(said: Sequence[str], i: int) -> bool:
    """Whether a person is named together with the writer: 'my daughter and I', 'me and my brother'."""
    and_i = said[i + 1 : i + 2] in (["and"], ["&"], ["n"]) and said[i + 2 : i + 3] in (["i"], ["me"], ["myself"])
    before = [w for w in said[max(0, i - 3) : i] if w != "my"]
    return and_i or before[-2:] in (["me", "and"], ["i", "and"], ["me", "&"])


TURNING = frozenset({"but", "however", "whereas", "while", ",", "and"})


def _turned(left: Message, right: Message, mark: str) -> list[Message] | None:
    """The two sides of a turning point when one is refused and the other stands by itself; None when not."""
    if not left.chunks or not right.chunks:
        return None
    why_left, why_right = not_mine(left), not_mine(right)
    if (why_left is None) == (why_right is None):
        return None
    standing, refused = (right, left) if why_left is not None else (left, right)
    why = (why_left or why_right or NotMine(why="plan")).why
    if not standing.of("amount") or (mark == "i" and (why != "others" or standing is left)):
        return None
    if not standing.of("food", "batch"):
        # "my wife ate 210 g of the potatoes, whereas I had 130 g": the food is the other side's
        borrows = (why == "others" and standing.has("i", "me")) or (mark in ("but", "however") and standing is right)
        if not borrows:
            return None
        standing = replace(standing, chunks=(*standing.chunks, *refused.of("state", "food", "batch")))
    elif why == "others":
        if not standing.has("i", "me", "myself"):
            return None
    elif mark in ("and", "while", "whereas") or (mark == "," and _both_measured(why, refused)):
        return None
    return [refused, *clauses(standing)] if standing is not left else [*clauses(standing), refused]


def _both_measured(why: str, refused: Message) -> bool:
    """Whether a comma parts two measured foods, so that what refuses one refuses both."""
    return why != "negation" and bool(refused.of("food")) and bool(refused.of("amount"))


MOST_TURNS = 12
"""Turning points of a sentence that are looked at; no sentence of a person has more."""


def clauses(message: Message) -> list[Message]:
    """The sentence cut where one side is refused and the other may stand: at 'but', or at a comma beside a negation."""
    words = message.words
    may_turn = (words.negations, words.people, words.pronouns, words.plans, words.shopping)
    if message.asks or not (
        any(message.has_any(w) for w in may_turn) or message.of("price") or message.has("almost", "nearly")
    ):
        return [message]
    marks = [i for i, c in enumerate(message.chunks) if c.kind in ("word", "sign") and c.text.lower() in TURNING]
    marks.sort(key=lambda i: message.chunks[i].text.lower() not in pack()["contrasting"])
    marks += [i for i, c in enumerate(message.chunks) if i and c.text.lower() == "i"]
    for i in marks[:MOST_TURNS]:
        mark = message.chunks[i].text.lower()
        behind = i if mark == "i" else i + 1
        cut = _turned(message.part(0, i), message.part(behind, len(message.chunks)), mark)
        if cut is not None:
            return cut
    return [message]
