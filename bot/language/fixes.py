"""Fixes in words: undo, delete, change, a later waste weight, the same again."""

from __future__ import annotations

from dataclasses import replace

from bot.language.afterthoughts import same_again, waste_later
from bot.language.fix_meanings import Change, Delete, Undo, Which
from bot.language.frames.by_record import put_right_by_record
from bot.language.frames.serving import seen
from bot.language.items import items
from bot.language.meanings import Meaning
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.recalling import corrects
from bot.language.told import Amount, Name

MOST_COUNTED = 12
"""Up to this a number in words may be no weight ('one of them')."""
MOST_BETWEEN = 4
"""Words between what is on record ('it was …') and its number."""
LONG = 12
"""Words from which on a message with 'undo' in it is about something else."""
DELETING = frozenset({"delete", "remove", "erase", "cancel", "del", "scrap", "drop", "strike", "rm", "bin"})
CHANGING = frozenset(
    {
        "change",
        "correct",
        "correction",
        "edit",
        "fix",
        "update",
        "amend",
        "set",
        "make",
        "adjust",
        "alter",
        "changed",
        "replace",
        "modify",
    }
)
BODY_G = 20_000.0
"""From this on a weight without a food is a person's (rule 4)."""
LAST = frozenset({"last", "that", "it", "this", "previous"})


def fix_topic(message: Message) -> list[Meaning] | None:
    """What a sentence puts right, if it does."""
    if not message.chunks:
        return None
    for topic in (_undo, _delete, _numbered, _change, waste_later, same_again, _it_was):
        found = topic(message)
        if found is not None:
            return [found]
    return None


def fixed_first(message: Message) -> tuple[list[Meaning], Message] | None:
    """A fix that is whole by itself and what is told after it: 'delete #1, 200 g pear', 'undo, it was 30 g oats'."""
    for i, chunk in enumerate(message.chunks):
        if not (chunk.kind == "newline" or chunk.text.lower() in pack()["after_fix"]):
            continue
        head, rest = message.part(0, i), message.part(i + 1, len(message.chunks))
        if not (rest.of("amount") and rest.of("food") and not rest.of("hash", "batch")) or rest.chunks[0].kind not in (
            "amount", "food", "word",
        ):  # fmt: skip
            continue
        told = fix_topic(head) if not head.of("amount", "food", "batch") else None
        if told is None or not isinstance(told[0], (Delete, Undo)):
            continue
        if fix_topic(rest) is None and put_right_by_record(seen(rest).scene) is None:
            return told, rest
    return None


def _undo(message: Message) -> Meaning | None:
    line = message.plain
    if line in message.words.phrases["undo"] or " ".join(message.said).strip(" .!") in message.words.phrases["undo"]:
        return Undo()
    said = len(message.said) < LONG and pack()["undo_word"].found([plain(word) for word in message.said])
    return Undo() if said and not message.of("amount", "food", "batch") else None


def _which(message: Message) -> Which | None:
    hashed = message.of("hash")
    if hashed:
        return Which(number=hashed[0].number)
    return None


def _only_amount(message: Message) -> Amount | None:
    amounts = list(message.amounts)
    return amounts[-1] if amounts else None


def _before_deleting(message: Message) -> list[str]:
    """The words up to the one that deletes: 'do not delete it' deletes nothing, 'delete it, I never had it' does."""
    said = [plain(word) for word in message.said]
    return said[: next((n for n, word in enumerate(said) if word in DELETING), len(said))]


def _without_order(name: Name) -> Name:
    """The name without the order before it, which a short one is taken for: 'del kebab' is the kebab."""
    first, _, rest = name.text.partition(" ")
    if not rest or first.lower() not in DELETING:
        return name
    return replace(name, text=rest, unknown=tuple(word for word in name.unknown if word != first.lower()))


def _delete(message: Message) -> Meaning | None:
    if (
        not message.has_any(DELETING)
        or pack()["do_not"].found(_before_deleting(message))
        or message.batch is not None
        or message.has("reminder", "reminders", "target", "tare")
        or pack()["wonders"].found(message.wording)
    ):
        return None
    which = _which(message)
    if which is not None:
        return Delete(which=which)
    told = items(message)
    if told and told[0].name is not None and (told[0].name.foods or told[0].name.kinds):
        return (
            Delete(which=Which(name=_without_order(told[0].name)))
            if not message.has_any({"bin", "drop", "scrap"}) or message.has("entry", "log", "record")
            else None
        )
    if _points_back(message) or message.has("entry", "weigh-in", "one"):
        return Delete(which=Which())
    return None


def _points_back(message: Message) -> bool:
    """Whether 'that', 'it' or 'the last' means what is on record: 'that idea' does not."""
    said = message.said
    behind = (said[n + 1] if n + 1 < len(said) else "" for n, word in enumerate(said) if word in LAST)
    return any(not word.isalpha() or message.words.knows(word) for word in behind)


def _numbered(message: Message) -> Meaning | None:
    """'#12 was 280 g', '#3 cooked', 'change #2 to 130'."""
    which = _which(message)
    if which is None or message.asks:
        return None
    return _changed(message, which)


def _changed(message: Message, which: Which) -> Change | None:
    amounts = message.amounts
    states = message.of("state")
    flags = message.of("whole")
    foods = message.of("food")
    moments = [c for c in message.of("moment") if c.moment is not None]
    tare = next((c.tare for c in message.of("tare") if c.tare is not None), None)
    negated = [c for c in states if message.word_before(c) in ("not", "isn't", "wasn't")]
    kept = [c for c in states if c not in negated]
    state = kept[0] if kept else None
    name = None
    if foods and which.name is None:
        named = [i.name for i in items(message) if i.name is not None]
        name = named[-1] if named else None
    was, amount = _old_and_new(message, amounts)
    if amount is None and state is None and not flags and name is None and not moments:
        return None
    when = message.when if moments else None
    return Change(
        which=which,
        amount=amount,
        was=was,
        state=state.state if state else None,
        method=state.method if state else "",
        name=name,
        whole=flags[0].whole if flags else None,
        when=when,
        meal=when.meal if when else None,
        tare=tare,
    )


def _old_and_new(message: Message, amounts: list[Amount]) -> tuple[Amount | None, Amount | None]:
    """(old, new) of 'not 200 g, 250 g', '250 not 200', 'from 200 to 250'; a range reading is undone."""
    if len(amounts) < 2:
        return None, amounts[0] if amounts else None
    chunks = list(message.of("amount"))
    for i, chunk in enumerate(chunks[:2]):
        before = message.word_before(chunk)
        if before in ("not", "from", "of", "wasn't") or (before == "was" and i == 0 and message.has("should", "to")):
            return amounts[i], amounts[1 - i]
    return amounts[0], amounts[1]


def _target_words(message: Message) -> bool:
    return message.has_any(LAST) or bool(message.of("hash"))


def _change(message: Message) -> Meaning | None:
    said = message.bare
    changing = bool(said) and (
        said[0] in CHANGING
        or (said[0] in ("can", "could", "would") and message.has_any(CHANGING))
        or _changes_that(said)
    )
    if not changing or message.batch is not None or message.has("reminder", "target", "batch", "timezone", "region"):
        return None
    if message.of("hash"):
        return None
    foods = [i.name for i in items(message) if i.name is not None]
    if _target_words(message) or not foods:
        first = message.of("food")
        named_first = first and message.word_before(first[0]) in ("the", "my") and not message.has_any({"last", "that"})
        if not named_first:
            if not (message.amounts or message.of("state", "food", "moment", "whole")):
                return None
            return _changed(message, Which())
    if said[0] == "make" and not _changes_that(said) and not message.has("it", "that", "the", "last"):
        return None
    return _changed(message, Which(name=foods[0])) if foods else None


def _changes_that(said: list[str]) -> bool:
    """'… make that dry', '… change it to 200 g', wherever it stands."""
    return any(w in CHANGING and said[i + 1 : i + 2] and said[i + 1] in LAST for i, w in enumerate(said))


def _it_was(message: Message) -> Meaning | None:
    """'it was 250', 'oops meant 145', 'not 200 g, 250 g', 'that was dry', 'the cheddar was 35 g'."""
    if message.batch is not None or message.asks or message.of("energy", "macro", "part"):
        return None
    if message.of("food"):
        return _named_fix(message)
    line = " ".join(message.said)
    pronoun = any(
        p in f" {line} "
        for p in (
            " it was ",
            " that was ",
            " it's ",
            " that's ",
            " thats ",
            " those were ",
            " they were ",
            " this was ",
            " last was ",
            " last one was ",
            " the last was ",
            " i meant ",
            " meant ",
            " i mean ",
        )
    ) or message.said[:1] == ["was"]
    fixing = message.has(*message.words.phrases["putting_right"])
    if not (pronoun or fixing):
        return None
    if (
        message.of("state")
        and any(not b.cooked for b in message.around.batches)
        and message.amounts
        and not message.has("not", "meant", "actually")
    ):
        return None
    weights = [a for a in message.amounts if a.kind in ("mass", "bare", "count", "volume", "measure")]
    if any(a.grams is not None and a.grams > BODY_G for a in weights):
        return None
    if not weights and not message.of("state", "whole") and not (pronoun and message.of("moment")):
        return None
    if not message.around.last and not weights:
        return None
    if not pronoun and fixing and not weights and not message.has("meant", "not", "wrong", "should"):
        return None
    if message.amounts and all(a.kind == "bare" for a in message.amounts) and not _said_of_it(message):
        return None
    return _changed(message, Which())


def _said_of_it(message: Message) -> bool:
    """Whether a number is said of what is on record: 'Year 4 are loud today, it's the wind' says none."""
    line = message.line
    return any(
        not pack()["of_the_record"].words.isdisjoint(line.plain[max(0, c.start - MOST_BETWEEN) : c.start])
        for c in message.of("amount")
    )


def _named_fix(message: Message) -> Meaning | None:
    """'the cheddar was 35 g' changes its latest weigh-in; 'I meant brown rice' changes the last one's food."""
    if not message.has("was", "were", "should", "actually", "meant", "mean"):
        return None
    told = items(message)
    names = [i.name for i in told if i.name is not None]
    if not names:
        return None
    weights = [a for a in message.amounts if a.kind in ("mass", "bare")]
    counted = any(a.kind == "bare" and a.text.isalpha() and a.value <= MOST_COUNTED for a in weights)
    if (
        len(weights) == 2
        and not counted
        and len(names) == 1
        and message.has(*message.words.phrases["told_wrong"])
        and message.has("it was", "it is", "it should", "should be", "meant", "in fact", "actually")
    ):
        fix = _changed(message.without(message.of("food", "state")), Which(name=names[0]))
        return None if fix is None else replace(fix, was=weights[0], amount=weights[1], when=None, meal=None)
    if len(weights) > 1 and not message.has("not", "meant", "instead"):
        return None
    if message.has("i meant", "meant", "i mean", "should be", "should have been", "should say") and not message.amounts:
        return _changed(message, Which())
    first = message.of("food")[0]
    then = message.chunks[message.index(first) + 1 : message.index(first) + 4]
    linking = {c.text.lower() for c in then} & {"was", "were", "is", "should", "weighed", "actually", "=", "not"}
    meant = message.has("meant", "should be", "should have been", "actually")
    lead = message.word_before(first)
    leads = lead in ("the", "that", "my", "") or meant or message.tokens[first.start - 1].kind != "word"
    if leads and (linking & {"was", "were", "should", "actually"}) and message.amounts and len(names) == 1:
        kept = message.without(message.of("food"))
        changed = _changed(kept, Which(name=names[0]))
        return replace(changed, otherwise=told[0], corrects=corrects(message)) if changed is not None else None
    if lead in ("the", "that", "my") and linking & {"was", "were"} and message.of("state") and not message.amounts:
        return _changed(message.without(message.of("food")), Which(name=names[0]))
    return None
