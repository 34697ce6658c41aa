"""Food that is not on the writer's record: not eaten, only planned or bought, or somebody else's."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from bot.language.asides import is_done, only_looks_planned, told_outright, will_have
from bot.language.chunks import Chunk
from bot.language.meanings import NotMine
from bot.language.message import Message, once
from bot.language.number_words import number_words
from bot.language.pack import pack, plain
from bot.language.stories import stretches
from bot.language.text import singular
from bot.language.unfinished import unfinished
from bot.language.waste import wastes_found
from bot.language.whose import only_somebody_ate, others_ate

HAD = ("had", "ate")


@once
def not_mine(message: Message) -> NotMine | None:
    """Why nothing of a sentence is recorded; None where it may be."""
    if not message.of("food", "batch", "price") and not _unknown(message):
        return None
    why = _why_not(message)
    return None if why is None or _stands_apart(message, why) else NotMine(why=why)


Reason = Literal["negation", "report", "habit", "condition", "shopping", "plan", "others"]


def _why_not(message: Message) -> Reason | None:
    """What is said of all of a sentence that speaks against its food's having been eaten."""
    if not message.of("batch") and pack()["lost"].found(message.wording) and not _tells_refuse(message):
        return "negation"
    spoken = how_it_is_said(message)
    if spoken is not None:
        return spoken
    if _negated(message):
        return "negation"
    why: Reason | None = (
        "shopping" if shopping(message) else "plan" if planned(message) else "others" if others_ate(message) else None
    )
    return None if why is None or (told_outright(message) and not only_somebody_ate(message)) else why


def _stands_apart(message: Message, why: Reason) -> bool:
    """Whether the one weighed clause tells by itself of what was eaten, and the reason stands in another one.

    Either its verb says so ('bought grapes for two euros and had 90 g of them'), or the other clause only adds to it
    ('cherries, 140 g, which is what my sister left me').
    """
    parts = stretches(message)
    weighed = [n for n, part in enumerate(parts) if any(_is_weight(c) for c in part)]
    if len(weighed) != 1 or len(parts) == 1:
        return False
    own = parts[weighed[0]]
    if _why_not(message.without(c for part in parts if part is not own for c in part)) is not None:
        return False
    if why in ("shopping", "others", "plan", "negation"):
        return _is_told_as_eaten(message, own, why)
    return why in ("report", "habit") and _is_added(message, parts[weighed[0] + 1 :], why)


def _is_told_as_eaten(message: Message, own: Sequence[Chunk], why: Reason) -> bool:
    """Whether a verb of eating leads the weight: for anything but what was bought with 'I', and not behind 'I wish'."""
    words, said = pack(), message.line.plain
    start, weight = own[0].start, next(c for c in own if _is_weight(c))
    led = said[start - 1] if start else ""
    if led in words["unreal"] or led in words["says_so"] or led in message.words.plans:
        return False
    head = said[start : weight.start]
    if not words["ate"].found(head):
        return False
    if why != "shopping":
        return head[0] in words["the_writer"]
    people = message.words.people | message.words.pronouns
    return not any(singular(w) in people for w in said[message.chunks[0].start : weight.start])


def _is_added(message: Message, behind: Sequence[Sequence[Chunk]], why: Reason) -> bool:
    """Whether what stands behind a weigh-in begins as an addition and tells no more of food or eating."""
    if not behind:
        return False
    said = message.line.plain[behind[0][0].start : behind[-1][-1].end]
    opens = "compared_with" if why == "habit" else "relative"
    begins = said[0] in pack()[opens] or message.line.text(behind[0][0].start - 1) == "("
    told = any(c.kind in ("food", "batch") for part in behind for c in part)
    return begins and not told and not any(w in message.words.eating or w in pack()["for_whom"] for w in said)


def _is_weight(chunk: Chunk) -> bool:
    return chunk.amount is not None and chunk.amount.kind in ("mass", "volume")


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


def _tells_refuse(message: Message) -> bool:
    """Whether what was thrown away is named as refuse: 'shells in the bin came to 118 g'."""
    return any(part.kind == "part" and part.part != "waste" for part in wastes_found(message))


def _unknown(message: Message) -> bool:
    """Whether an amount stands beside a word that may be a food of no table."""
    return bool(message.of("amount")) and any(not message.words.knows(c.text.lower()) for c in message.of("word"))


def without_excluded(message: Message) -> Message:
    """The sentence without what 'no X', 'without any of the 40 g X', 'instead of X' and 'not X' leave out."""
    dropped: list[Chunk] = []
    said = message.line.plain
    for i, chunk in enumerate(message.chunks):
        end = pack()["excluding"].end(said, chunk.start) if chunk.kind in ("word", "food") else None
        if end is not None:
            gone = _excluded(message.chunks, i + end - chunk.start)
            if any(c.kind == "food" for c in gone):
                dropped.extend([chunk, *gone])
        elif chunk.kind == "food" and (left := pack()["is_left_out"].end(said, chunk.end)) is not None:
            behind = next((c for c in message.chunks[i + 1 :] if c.start >= left), None)
            if behind is None or behind.kind in ("sign", "newline"):  # 'cheese left out'
                dropped.extend(c for c in message.chunks[i:] if c.start < left)
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
        if _is_unfinished(message, i) or any(w in pack()["negation_idioms"] for w in rest[:3]):
            continue
        if _by_somebody_else(message, i):
            continue
        if _only_untold(message, i) or _of_waste(message, i) or _is_a_reason(message, i):
            continue
        if _of_a_named_part(message, i) or _of_somebody(message, i):
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


def _is_unfinished(message: Message, i: int) -> bool:
    """Whether word i says that some of it was left: "250 g soup, didn't finish it" was eaten in part."""
    rest = [plain(w) for w in message.said[i + 1 : i + 2]]
    return bool(rest) and rest[0] in pack()["finishing"] and bool(unfinished(message))


def _only_untold(message: Message, i: int) -> bool:
    """Whether word i only denies that it was told: 'didn't log this last night: 40 g chocolate' was eaten."""
    said = [plain(word) for word in message.said]
    told = any(i in range(n, end) for n in range(max(0, i - 2), i + 1) for end in pack()["not_told_yet"].ends(said, n))
    return told and bool(message.of("amount"))


def _is_a_reason(message: Message, i: int) -> bool:
    """Whether word i denies something else, in a clause that gives a reason: 'milk, because I couldn't sleep'."""
    said = [plain(word) for word in message.said]
    start = max((n for n in range(i) if said[n] in pack()["gives_a_reason"]), default=None)
    if start is None or not message.of("amount"):
        return False
    clause = said[start:]
    end = next((n for n, w in enumerate(clause) if n and w in pack()["between_sentences"]), len(clause))
    return (
        i < start + end
        and not pack()["of_what_is_eaten"].found(clause[:end])
        and not any(word in clause[:end] for c in message.of("food") for word in c.text.lower().split())
    )


def _of_waste(message: Message, i: int) -> bool:
    """Whether word i denies that waste was eaten: 'pear 171 g, core of 18 g not eaten'."""
    tokens = [n for c in message.chunks if c.field != "polite" for n in range(c.start, c.end)]
    for part in wastes_found(message):
        between = [message.line.lemmas[n] for n in range(part.end, tokens[i])]
        named = all(word in number_words().of or word in message.words.parts for word in between)
        if part.kind == "part" and part.part != "waste" and part.end <= tokens[i] and named:
            return True
    return False


def _of_a_named_part(message: Message, i: int) -> bool:
    """Whether word i denies the part named right before it: 'a pear at 171 g with its core, which I did not eat'."""
    said = [plain(word) for word in message.said]
    which = next((n for n in range(i - 1, max(i - 4, 0), -1) if said[n] in pack()["relative"]), None)
    if which is None:
        return False
    named = next((word for word in reversed(said[:which]) if word.isalnum()), "")
    return singular(named) in message.words.parts


def _of_somebody(message: Message, i: int) -> bool:
    """Whether somebody else left what the writer ate: 'Grandma didn't finish her egg, so I ate the half she left'."""
    said = [plain(word) for word in message.said]
    start = max((n + 1 for n in range(i) if not said[n].isalnum() or said[n] in pack()["joining"]), default=0)
    before, behind = said[start:i], said[i:]
    others = any(singular(w) in message.words.people or w in message.words.pronouns for w in before)
    mine = any(w in pack()["the_writer"] for w in before)
    return others and not mine and pack()["i_ate"].found(behind)


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
    found = [i for i, w in enumerate(said) if w in message.words.shopping and not _is_where_from(said, i)]
    if not found:
        return False
    ate = [i for i, w in enumerate(said) if w in ("had", "ate", "eaten", "took", "eating", "having")]
    return not ate or (ate[0] > found[0] and "," not in said)


def _is_where_from(said: Sequence[str], i: int) -> bool:
    """'fish pie from the corner shop', 'a shop-bought flan': whether it only says where what was had came from."""
    places, made = pack()["shop_word"], pack()["got_ready_made"]
    before, word = [plain(each) for each in said[max(0, i - 3) : i]], plain(said[i])
    if word in made:
        return bool(before) and before[-1] in places
    beside = [*before[-1:], *(plain(each) for each in said[i + 1 : i + 2])]
    said_so = any(w in pack()["comes_from"] for w in before) or any(w in made for w in beside)
    return word in places and said_so


@once
def planned(message: Message) -> bool:
    """Whether it tells what is still to come, or was only wished for."""
    said = [w for w in message.said if w != ","]
    line = f" {' '.join(said)} "
    if message.orders:
        return False
    plans = [p for p in message.words.phrases["planned"] if f" {p} " in line]
    if plans and pack()["only_sure_of"].found(message.wording):
        plans = [p for p in plans if not pack()["supposing_i"].found(p.split())]  # 'if I am honest'
    if plans and not (_had_before(message) and all(pack()["later_on"].found(p.split()) for p in plans)):
        return not (message.has("about to log") or pack()["could_only"].found(message.wording))
    return _only_in_mind(message) or any(_is_a_plan(message, said, i) for i in range(len(said)))


def _is_a_plan(message: Message, said: Sequence[str], i: int) -> bool:
    """Whether word i says that it is still to come, or only wished for."""
    word, after = said[i], said[i + 1 : i + 4]
    if word not in message.words.plans or (after[:1] and _is_no_plan(message, word, after)):
        return False
    looked = word in pack()["looked_at"] and not any(_names_food(message, w) for w in said[i + 1 : i + 6])
    let_go = word in pack()["gave_it"] and i > 0 and plain(said[i - 1]) in pack()["the_writer"]  # 'I let him have it'
    if looked or let_go or _wished_by_others(message, said, i):
        return False
    if word in ("would", "will") and after[:1] == ["you"]:
        return False
    mine = i > 0 and plain(said[i - 1]) in pack()["i_or_we"]
    lasting = bool(after) and plain(after[0]) in pack()["is_enough_for"] and word in pack()["lasts_surely"]
    if lasting and not mine:
        return False  # 'stovies, should do me all week: …'
    telling = any(w in pack()["telling_you"] for w in said[i + 1 : i + 5])
    if word in ("would", "should", "i'd", "want", "wanted") and telling:
        return False
    if word == "going" and not (after[:1] == ["to"] and after[1:2] and after[1] in pack()["doing"]):
        return False
    if word == "may" and after[:1] and after[0].isdecimal():
        return False
    return not (word in ("should", "would") and after[:1] == ["be"])


def _had_before(message: Message) -> bool:
    """'had soup later on': whether it begins with what was eaten, so that 'later' was later on that day."""
    said = message.wording
    subject = next((n for n, w in enumerate(said) if w not in pack()["before_had"]), 0)
    return bool(said) and said[subject] in HAD


def _is_no_plan(message: Message, word: str, after: Sequence[str]) -> bool:
    """Whether 'I'd' is 'I had', as before a food ('I'd dal'), or 'I'll' only says something or tells what is done."""
    had = plain(word) in pack()["would_or_had"] and _names_food(message, after[0])
    return had or only_looks_planned(word, after[0]) or (will_have(word) and is_done(after[:2]))


def _only_in_mind(message: Message) -> bool:
    """Whether it is still to come, or was thought of, and nothing was had."""
    if message.has_any(HAD):
        return False
    coming = any(c.moment is not None and c.moment.future for c in message.of("moment"))
    return pack()["only_thought_of"].found(message.wording) or (message.when.future and coming)


def _wished_by_others(message: Message, said: Sequence[str], i: int) -> bool:
    """Whether somebody else did not wish for what the writer ate: 'she didn't want her apple so I had it'."""
    before = [plain(w) for w in said[:i]]
    if pack()["no_person"].found(before[-2:]):
        return True
    others = any(singular(w) in message.words.people or w in message.words.pronouns for w in before[-4:])
    denied = pack()["negation"].found(before[-2:])
    return others and denied and pack()["i_ate"].found([plain(w) for w in said[i:]])


def _names_food(message: Message, word: str) -> bool:
    return any(word in chunk.text.lower().split() for chunk in message.of("food", "batch"))


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
