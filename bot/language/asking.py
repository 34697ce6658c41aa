"""What is asked rather than told: sheets, listings, what is left, what-ifs, help; and plain chatter."""

from __future__ import annotations

from bot.language.items import items
from bot.language.meanings import Chatter, Help, Left, Listing, Meaning, Sheet, WhatIf
from bot.language.message import Message
from bot.language.reviewing import reviewing
from bot.language.text import singular

LISTED = {
    "batch": "batches",
    "batche": "batches",
    "pot": "batches",
    "tare": "tares",
    "vessel": "tares",
    "label": "labels",
    "measure": "measures",
    "food": "foods",
    "weigh-in": "weigh_ins",
    "weighin": "weigh_ins",
    "entry": "weigh_ins",
    "log": "weigh_ins",
    "reminder": "reminders",
}
SHOWING = frozenset(
    {
        "show",
        "list",
        "which",
        "what",
        "what's",
        "whats",
        "see",
        "display",
        "open",
        "all",
        "any",
        "my",
        "have",
        "give",
        "view",
    }
)
POLITE = frozenset(
    {
        "please",
        "pls",
        "the",
        "me",
        "my",
        "can",
        "you",
        "could",
        "i",
        "a",
        "for",
        "of",
        "is",
        "what",
        "what's",
        "whats",
        "are",
        "tell",
        "give",
        "see",
        "to",
        "and",
        "hey",
        "?",
        "!",
        ".",
        ",",
        "ok",
        "now",
        "how",
        "'s",
        "would",
        "like",
        "know",
        "want",
        "do",
        "have",
        "so",
        "just",
        "let",
        "show",
        "on",
        "at",
        "in",
        "was",
        "did",
        "am",
        "go",
        "doing",
        "far",
    }
)


def asking_topic(message: Message) -> list[Meaning] | None:
    """What a sentence asks, if it does."""
    for topic in (reviewing, _help, _listing, _left, _sheet, _what_if):
        found = topic(message)
        if found is not None:
            return [found]
    return None


def _help(message: Message) -> Meaning | None:
    if message.of("amount", "food", "batch") and not message.has("how do i"):
        return None
    line = " ".join(w for w in message.said if w not in ("?", "!", ".", "please"))
    if line in ("help", "help me", "?", "h") or (
        message.has(*message.words.phrases["help"]) and not message.of("amount", "food")
    ):
        return Help(topic=line)
    return None


def _listing(message: Message) -> Meaning | None:
    if message.of("amount", "food", "energy"):
        return None
    if message.has("target", "targets") and not message.has("left"):
        alone = all(w in ("target", "targets", *POLITE) for w in message.said)
        if alone or message.asks or message.has("show", "my", "coming", "next"):
            return Listing(of="target")
    said = [singular(w) for w in message.said]
    named = [LISTED[w] for w in said if w in LISTED]
    if "weigh" in said and "in" in said and message.has_any({"show", "list"}):
        named.append("weigh_ins")
    if not named:
        return None
    rest = [w for w in said if w not in LISTED and w not in POLITE]
    if message.has_any(SHOWING) or message.asks or not rest:
        sure = [c for c in message.of("batch") if c.field != "bare"]
        return None if sure else Listing(of=named[0])  # type: ignore[arg-type]
    return None


def _left(message: Message) -> Meaning | None:
    batch = message.batch
    if batch is None or message.of("amount"):
        return None
    remains = message.has("left", "remaining", "remains")
    if remains or (message.asks and message.has("how much", "how many", "still", "there", "any")):
        return Left(batch=batch)
    return None


def _sheet(message: Message) -> Meaning | None:
    if message.of("food", "batch", "amount"):
        return None
    today = message.around.today
    line = [w for w in message.said if w not in POLITE]
    when = message.when
    if message.has("week", "weekly", "weeks", "week's") and not message.has("remind"):
        return Sheet(span="week", day=today)
    moments = {t for c in message.of("moment") for t in [tok.text for tok in message.tokens[c.start : c.end]]}
    only_day = (
        bool(when.day)
        and not when.future
        and all(w in moments or w in ("sheet", "day", "total", "summary", "log") for w in line)
    )
    if message.has(*message.words.phrases["totals"]) or only_day:
        if when.future:
            return None
        return Sheet(span="day", day=when.day or today)
    return None


def _what_if(message: Message) -> Meaning | None:
    hypothetical = message.has("what if", "what would", "how much would", "how many calories would", "suppose i")
    if not (message.asks or hypothetical):
        return None
    if not message.of("amount") or message.of("noise"):
        if message.has("keep", "fridge", "freeze", "freezer", "safe", "go off", "still good", "leftovers"):
            return WhatIf(items=(), text=message.text, topic="keeping")
        if message.has("weigh", "weighed", "weighing") and message.of("state"):
            return WhatIf(items=(), text=message.text, topic="basis")
    told = items(message)
    if told or message.of("food", "batch"):
        return WhatIf(items=tuple(told), text=message.text)
    return None


def chatter(message: Message) -> Chatter | None:
    """A greeting, thanks, or words that carry nothing to record."""
    if message.of("amount", "food", "batch", "hash", "energy", "macro"):
        return None
    said = [w for w in message.said if w.isalpha() or "'" in w]
    if not said:
        return Chatter(kind="other") if message.said else None
    if said[0] in message.words.phrases["greeting"] or (
        said[0] == "good" and len(said) > 1 and said[1] in (*message.words.phrases["greeting"], "day", "night")
    ):
        return Chatter(kind="greeting")
    if any(w in message.words.phrases["thanks"] for w in said) and len(said) < 9:
        return Chatter(kind="thanks")
    return None
