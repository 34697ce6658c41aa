"""Repairs inside a message: '200, no wait, 220 g', 'walnuts, sorry, hazelnuts'. What was repaired is no longer read."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.chunks import Chunk
from bot.language.message import Message, read
from bot.language.number_words import number_words
from bot.language.pack import Pack, pack
from bot.language.repair_shapes import ENDS, TELLING, Repair, digits_turned, is_star
from bot.language.text import singular

MOST_REPAIRS = 4
MEASURED = ("mass", "volume", "measure")
"""Kinds of amount whose unit holds for a number that puts them right."""
MOST_PIECES = 12
"""A number up to this puts a count right, where pieces were weighed one by one."""
MOST_FURTHER = 20
"""Chunks behind a repair among which the right amount is looked for."""
MOST_BEFORE_READING = 6
"""Words from a marker to the amount that was read off something ('wait my note says 34 g')."""
MOST_PLAIN = 3
"""Words that may link a repair to what it puts right ('no wait, it was really 220')."""


def put_right(message: Message) -> Message:
    """The message as the writer put it right in the same breath; itself where nothing was."""
    for _ in range(MOST_REPAIRS):
        better = repaired(message)
        if better is None:
            return message
        message = read(better, message.around)
    return message


def repaired(message: Message) -> str | None:
    """The text with its first repair carried out; None where there is none to carry out."""
    words = pack()
    said = message.line.plain
    markers = words["repair"], words["start_over"], words["repair_weak"]
    marked = {start for marker in markers for start, _ in marker.places(said)}
    for n, chunk in enumerate(message.chunks):
        starred = is_star(message, n)
        if (chunk.start not in marked and not starred) or chunk.kind in ("newline", "food") or n == 0:
            continue
        dropped = _dropped(message, words, said, n)
        if dropped is not None:
            return dropped
        found = _starred(message, n) if starred else _found(message, words, said, n)
        if found is not None:
            return _carried_out(message, found)
    turned = digits_turned(message)
    return None if turned is None else _carried_out(message, turned)


def _starred(message: Message, n: int) -> Repair | None:
    """One food or amount behind a star, which ends the clause, in the place of the last of its kind."""
    chunks = message.chunks
    ends = n + 2 == len(chunks) or (n + 2 < len(chunks) and chunks[n + 2].text in ENDS)
    if not ends or chunks[n + 1].kind not in ("food", "amount"):
        return None
    wrong = _replaced(chunks[:n], chunks[n + 1 : n + 2])
    return None if wrong is None else Repair(wrong, (n + 1, n + 2), (n, n + 1))


def _dropped(message: Message, words: Pack, said: Sequence[str], n: int) -> str | None:
    """'… scratch that, 30 g of walnuts': all that was said before is given up, if something else follows."""
    start = message.chunks[n].start
    end = words["start_over"].end(said, start) or start
    if end == start:
        return None
    behind = [c for c in message.chunks if c.start >= end]
    if not any(c.kind in TELLING for c in behind):
        return None
    if not any(c.kind in ("food", "batch") for c in behind) and any(c.kind == "food" for c in message.chunks[:n]):
        return None  # only the amount is said again
    return message.whole[message.tokens[end].start :]


def _found(message: Message, words: Pack, said: Sequence[str], n: int) -> Repair | None:
    """The repair whose marker begins at chunk n."""
    chunks = message.chunks
    start = chunks[n].start
    end, sure = _behind(words, said, start)
    if end == start:
        return None
    first_end = words["repair_weak"].end(said, start) or end
    if not sure and not _ends_at(message, end) and _ends_at(message, first_end):
        end = first_end  # 'no, hang about while I look, 15 g'
    named = _of_a_food_told(message, said, n, end)
    if named is not None:
        return named
    sure = sure or _is_read_off(message, said, end)
    if not sure and not _set_off(message, n, end):
        return None
    if chunks[n - 1].kind == "word" and chunks[n - 1].text.lower() in words["joining"]:
        return None
    first = next((i for i in range(n, len(chunks)) if chunks[i].start >= end), len(chunks))
    behind = _said_before(message, words, said, n, end)
    if behind is not None:
        return behind
    right = _replacement(message, words, said, first)
    if right is None and (sure or _parted(message, n, end)):
        right = _told_further_on(message, first)
        if right is not None:
            right = right[0], _behind_same_food(message, n, right[1])
        alone = right is not None and (right[1] == len(chunks) or chunks[right[1]].text in ENDS)
        right = right if sure or alone else None
    if right is None:
        return None
    left = _replaced(chunks[:n], chunks[right[0] : right[1]])
    return None if left is None else Repair(left, right, (n, first))


def _is_read_off(message: Message, said: Sequence[str], end: int) -> bool:
    """Whether the words from token `end` on say where an amount was read: 'wait my note says 34 g'."""
    for chunk in message.chunks:
        if chunk.start < end:
            continue
        if chunk.kind == "amount":
            near = chunk.start - end <= MOST_BEFORE_READING
            reads = any(chunk.start in pack()["reads_off"].ends(said, i) for i in (chunk.start - 2, chunk.start - 1))
            return near and reads and not _is_of_another_food(message, chunk)
        if chunk.kind in TELLING or chunk.text in ENDS or chunk.kind == "newline":
            return False
    return False


def _is_of_another_food(message: Message, amount: Chunk) -> bool:
    """Whether a food follows an amount that was not told before it."""
    behind = next((c for c in message.chunks if c.start >= amount.end and c.text not in number_words().of), None)
    told = [c for c in message.chunks if c.kind == "food" and c.start < amount.start]
    return behind is not None and behind.kind == "food" and not any(_is_same(c, behind) for c in told)


def _of_a_food_told(message: Message, said: Sequence[str], n: int, end: int) -> Repair | None:
    """'140 g salmon, 200 g potatoes, sorry, the salmon was 160': the amount of a food that was told before."""
    chunks = message.chunks
    at = next((i for i, c in enumerate(chunks) if c.start >= end and c.kind in TELLING), None)
    if at is None or chunks[at].kind != "food" or chunks[at].start - end > MOST_PLAIN:
        return None
    amount = next((i for i in range(at + 1, len(chunks)) if chunks[i].kind in TELLING), None)
    if amount is None or chunks[amount].kind != "amount" or chunks[amount].start - chunks[at].end > MOST_PLAIN:
        return None
    owned = message.tokens[chunks[at].end - 1].text.endswith("'s")
    between = said[chunks[at].end : chunks[amount].start]
    if not (owned or any(w in pack()["came_out_at"] for w in between)):
        return None
    before = [i for i in range(n) if chunks[i].kind == "food" and _is_same(chunks[i], chunks[at])]
    if len(before) != 1:
        return None
    beside = [i for i in (before[0] - 1, before[0] + 1) if 0 <= i < n and chunks[i].kind == "amount"]
    if len(beside) != 1 and _last(chunks[:n], "amount") is None:
        return None
    wrong = beside[0] if beside else None
    if wrong is None or (len(beside) == 2 and chunks[before[0] - 1].kind != "amount"):
        return None
    return Repair((wrong, wrong + 1), (amount, amount + 1), (n, amount))


def _is_same(one: Chunk, other: Chunk) -> bool:
    """Whether two foods are one: 'new potatoes', and then 'the potatoes'."""
    return one.target == other.target or singular(one.text.split()[-1].lower()) == singular(other.text.lower())


def _behind_same_food(message: Message, n: int, i: int) -> int:
    """Behind the food of an amount that ends before chunk i, where it was told before chunk n already; else i."""
    chunks = message.chunks
    at = i + 1 if i < len(chunks) and chunks[i].text.lower() in number_words().of else i
    named = at < len(chunks) and chunks[at].kind == "food"
    return at + 1 if named and any(c.target == chunks[at].target for c in chunks[:n] if c.kind == "food") else i


def _said_before(message: Message, words: Pack, said: Sequence[str], n: int, end: int) -> Repair | None:
    """'20 g brie, erm, camembert I mean': the marker comes behind what should have been said."""
    chunks = message.chunks
    if not words["repair_behind"].end(said, chunks[n].start):
        return None
    if any(c.start >= end and c.text not in ENDS for c in chunks):
        return None
    start = n
    while start and chunks[start - 1].text not in ENDS:
        start -= 1
    left = start
    while left and (chunks[left - 1].text in ENDS or words["repair_weak"].end(said, chunks[left - 1].start)):
        left -= 1
    wrong = _replaced(chunks[:left], chunks[start:n]) if start < n and left else None
    return None if wrong is None else Repair(wrong, (start, n), (left, n))


def _behind(words: Pack, said: Sequence[str], i: int) -> tuple[int, bool]:
    """(where a run of markers that begins at token i ends, with the signs between them; whether one of them is sure).

    The end is i where none begins.
    """
    end, sure = i, False
    while True:
        at = end
        while end > i and at < len(said) and said[at] in ENDS - {"(", ")"}:
            at += 1
        strong = max(words[name].end(said, at) or at for name in ("repair", "start_over"))
        behind = max(strong, words["repair_weak"].end(said, at) or at)
        if behind == at:
            return end, sure
        end, sure = behind, sure or strong > at


def _set_off(message: Message, n: int, end: int) -> bool:
    """Whether a word that may mark a repair stands by itself, between signs or right before an amount."""
    last = message.chunks[n - 1]
    before = last.text in (*ENDS, "-") or _exclaimed(message, n - 1)
    after = _ends_at(message, end)
    linked = pack()["repair_links"].end(message.line.plain, end) or end  # '265 g - no, it says 256 g'
    at = next((i for i in range(n, len(message.chunks)) if message.chunks[i].start >= linked), None)
    if at is None:
        return False
    chunk = message.chunks[at]
    alike = last.kind == chunk.kind and (chunk.kind == "amount" or message.chunks[n].text.lower() == "sorry")
    return (before and after) or alike or (chunk.kind == "amount" and (before or after or linked > end))


def _ends_at(message: Message, i: int) -> bool:
    """Whether a sign that ends a clause stands at token i."""
    return i < len(message.tokens) and message.tokens[i].text in ENDS


def _exclaimed(message: Message, n: int) -> bool:
    """Whether a lone word of no list stands between a sign and the marker: '…, shit no 9lb 3oz'."""
    chunk = message.chunks[n]
    alone = n > 0 and message.chunks[n - 1].text in (*ENDS, "-")
    return alone and chunk.kind == "word" and not message.words.knows(chunk.text.lower())


def _parted(message: Message, n: int, end: int) -> bool:
    """Whether the words from chunk n to token `end` stand between two signs."""
    behind = message.tokens[end].text if end < len(message.tokens) else ""
    return message.chunks[n - 1].text in ENDS and behind in ENDS


def _replacement(message: Message, words: Pack, said: Sequence[str], i: int) -> tuple[int, int] | None:
    """Chunks from i on that say it again: up to the next sign, with no more than a few plain words before them."""
    chunks = message.chunks
    plain_words = 0
    while i < len(chunks) and chunks[i].kind not in TELLING:
        link = chunks[i].text.lower()
        ends = words["repair_links"].end(said, chunks[i].start)
        if ends:
            i = next((n for n in range(i, len(chunks)) if chunks[n].start >= ends), len(chunks))
            continue
        if chunks[i].kind == "sign" and link in ENDS:
            i += 1
            continue
        if chunks[i].kind != "word" or message.words.knows(link) is False or plain_words == MOST_PLAIN:
            break
        if link not in words["repair_words"]:
            return None
        plain_words += 1
        i += 1
    start = i
    while i < len(chunks) and not (chunks[i].kind in ("sign", "newline") and chunks[i].text in (*ENDS, "\n")):
        if chunks[i].kind == "word" and chunks[i].text.lower() in words["joining"]:
            break
        i += 1
    if i == start:
        return None
    told = {c.kind for c in chunks[start:i]}
    return (start, i) if told & TELLING or (all(c.kind == "word" for c in chunks[start:i]) and i - start <= 2) else None


def _told_further_on(message: Message, i: int) -> tuple[int, int] | None:
    """'no, I tell a lie, that's the packet, on my scale it was 128': the first amount behind, with no food before."""
    for n in range(i, min(i + MOST_FURTHER, len(message.chunks))):
        chunk = message.chunks[n]
        if chunk.kind == "amount":
            return n, n + 1
        if chunk.kind in TELLING or chunk.kind == "newline":
            return None
    return None


def _replaced(before: Sequence[Chunk], right: Sequence[Chunk]) -> tuple[int, int] | None:
    """Which of the chunks before the marker the replacement stands for: the nearest of its kind."""
    kinds = {c.kind for c in right}
    names = kinds & {"food", "batch"} or (not kinds & TELLING and kinds == {"word"})
    amount = _last(before, "amount")
    name = _last(before, "food", "batch")
    if "amount" in kinds and names:
        if amount is None and name is None:
            return None
        start = min(n for n in (amount, name) if n is not None)
        if amount is not None and name is not None and any(c.text in (";", "\n") for c in before[start:]):
            start = max(amount, name)
        while start and before[start - 1].kind in ("state", "size", "whole"):
            start -= 1
        return start, len(before)
    if "amount" in kinds:
        return None if amount is None else (amount, amount + 1)
    if names:
        if name is None:
            return None
        start = name
        while start and before[start - 1].kind == before[name].kind == "food":
            start -= 1
        return start, name + 1
    for kind in ("state", "whole", "tare", "moment"):
        if kind in kinds:
            last = _last(before, kind)
            return None if last is None else (last, last + 1)
    return None


def _last(chunks: Sequence[Chunk], *kinds: str) -> int | None:
    return next((i for i in range(len(chunks) - 1, -1, -1) if chunks[i].kind in kinds), None)


def _carried_out(message: Message, repair: Repair) -> str:
    """The text with the right words in the place of the wrong ones, and without the marker."""
    chunks, tokens, text = message.chunks, message.tokens, message.whole

    def said(start: int, end: int) -> str:
        return text[tokens[chunks[start].start].start : tokens[chunks[end - 1].end - 1].end] if end > start else ""

    right = said(*repair.right)
    wrong, new = chunks[repair.wrong[0]], chunks[repair.right[0]]
    unit = wrong.amount.unit if wrong.amount is not None and wrong.amount.kind in MEASURED else ""
    alone = len([c for c in chunks[slice(*repair.right)] if c.kind in TELLING]) == 1
    counted = _of_that_many(wrong, new)
    if alone and counted is not None:
        right = f"{counted:g} g"
    elif alone and unit and new.amount is not None and new.amount.kind == "bare":
        right = f"{right} {unit}"
    before = said(0, repair.wrong[0])
    between = said(repair.wrong[1], repair.marker[0]).strip(" ,.;-")
    last = max(repair.right[1], repair.marker[1])
    last = _behind_said_again(message, last, new)
    rest = text[tokens[chunks[last - 1].end - 1].end :]
    return " ".join(part for part in (before, right, between) if part) + rest


def _of_that_many(wrong: Chunk, new: Chunk) -> float | None:
    """'3 g each, had 5, no, 6': the grams of so many pieces, where their number is put right."""
    was, number = wrong.amount, new.amount
    if was is None or number is None or was.times is None or was.grams is None or number.kind != "bare":
        return None
    counts = number.value % 1 == 0 and number.value <= MOST_PIECES
    return was.grams / was.times * number.value if counts else None


def _behind_said_again(message: Message, last: int, new: Chunk) -> int:
    """Behind the amount that put right, where it is only said once more with its food ('30 g, 30 g of walnuts')."""
    behind = message.chunks[last : last + MOST_PLAIN + 2]
    told = next((n for n, c in enumerate(behind) if c.kind == "amount"), None)
    if told is None or new.amount is None or any(c.text not in ENDS for c in behind[:told]):
        return last
    again = behind[told].amount
    if again is None or (again.kind, again.value, again.unit) != (new.amount.kind, new.amount.value, new.amount.unit):
        return last
    food = next((n for n, c in enumerate(behind) if n > told and c.kind == "food"), None)
    targets = {c.target for c in message.chunks[:last] if c.kind == "food"}
    named = food is not None and food <= told + 2 and behind[food].target in targets
    return last + (food if named and food is not None else told) + 1
