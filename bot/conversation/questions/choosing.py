"""The words of a message as the answer to a question: which choice they pick, or what they fill in.

Everything that reads a message's text for the sake of a waiting question is here, in functions that take the question
and the message and return a value: the number of a choice, or the pending meaning with the answer in its place. With
`sought` it is the only module that looks at words; the rest of the conversation works on meanings.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.conversation.questions.stored import decode
from bot.kinds import About
from bot.language import meanings as m
from bot.language import replies
from bot.language.message import Message
from bot.language.pack import pack
from bot.language.text import singular
from bot.store.questions import StoredQuestion
from domain.quantities import Region

YES = frozenset(
    {
        "yes",
        "yep",
        "yeah",
        "yup",
        "y",
        "correct",
        "right",
        "ok",
        "okay",
        "sure",
        "true",
        "si",
        "ja",
        "aye",
        "indeed",
        "confirm",
        "exactly",
    }
)
NO = frozenset({"no", "nope", "n", "nah", "wrong", "cancel", "nein", "leave"})
SMALL = frozenset(
    {
        "it",
        "its",
        "it's",
        "was",
        "is",
        "that",
        "thats",
        "that's",
        "the",
        "a",
        "an",
        "by",
        "my",
        "of",
        "please",
        "pls",
        "oh",
        "i",
        "mean",
        "meant",
        "ok",
        "so",
        "sorry",
        "ah",
        "um",
        "to",
        "be",
        "one",
        "option",
        "number",
        "they",
        "were",
        "are",
        "this",
        "just",
        "well",
        "all",
        "say",
        "said",
        "definitely",
        "course",
        "should",
        "suppose",
        "guess",
        "reckon",
        "believe",
        "i'd",
        "would",
        "measured",
        "weighed",
        "weighing",
        "as",
        "for",
        "and",
        "in",
        "me",
        "them",
        "those",
        "think",
        "let's",
    }
)
MOST_ASIDE = 2
"""Most other words in an answer that names a state ('cooked, as it happens')."""


def never_mind(message: Message) -> bool:
    """Whether the message says that the question asked last needs no answer."""
    return message.plain.strip(" .!") in message.words.phrases["never_mind"]


def verbatim(ordered: Sequence[StoredQuestion], message: Message) -> tuple[StoredQuestion, int] | None:
    """The choice that was typed word for word, whatever the words mean otherwise."""
    said = message.text.strip(" .!").casefold()
    for question in ordered:
        for number, words in enumerate(question.choices):
            if words.casefold() == said:
                return question, number
    return None


def picked(ordered: Sequence[StoredQuestion], message: Message) -> tuple[StoredQuestion, int] | None:
    """The choice that the words pick, of the first question that has one: by its state, its unit or its words."""
    said = _agreed(message) or _telling_words(message, [c for q in ordered for c in q.choices])
    for question in ordered:
        index = _choice_of(question, said, message)
        if index is not None:
            return question, index
    return None


def reminder_time(ordered: Sequence[StoredQuestion], message: Message) -> tuple[StoredQuestion, m.SetReminder] | None:
    """A clock time, or that none is wanted, as the answer to the question for a reminder's time.

    What could answer another question as well, a bare hour or a no, counts only when this question was asked last.
    """
    asked = next((question for question in ordered if question.about is About.REMINDER_TIME), None)
    if asked is None or (asked is not ordered[0] and not message.of("moment")):
        return None
    pending, _ = decode(asked.subject)
    if not isinstance(pending, m.AskReminderTime):
        return None
    clock = replies.clock_alone(message, evening=pending.what == "evening")
    if clock is None and not replies.wants_none(message):
        return None
    return asked, m.SetReminder(what=pending.what, time=clock)


def about_target(about: About, pending: m.ComputeTarget, message: Message, region: Region) -> m.ComputeTarget | None:
    """The pending target with the age, condition, rate or height filled in; None when it is no answer."""
    match about:
        case About.TARGET_AGE:
            age = replies.years(message)
            return None if age is None else replace(pending, years=age)
        case About.TARGET_CONDITION:
            holds = replies.holds(message)
            return None if holds is None else replace(pending, condition=holds)
        case About.TARGET_RATE:
            rate = replies.rate(message)
            return None if rate is None else replace(pending, kg_per_week=rate)
        case About.TARGET_HEIGHT:
            cm = replies.height_cm(message)
            return None if cm is None else replace(pending, cm=cm)
        case _:
            return None


def _telling_words(message: Message, choices: Sequence[str]) -> list[str]:
    """The words that can tell one choice from another."""
    said = [
        w
        for w in message.said
        if (w.isalnum() or "'" in w or "-" in w or "/" in w or w.endswith("%")) and w not in SMALL
    ]
    telling = YES | NO | {"not"} | {w for c in choices for w in c.lower().split()}
    return [w for w in said if w in telling or w not in message.words.filler]


def _agreed(message: Message) -> list[str]:
    """'yes' where the whole message agrees and does nothing else, in other words than a choice's: 'ok', 'go ahead'."""
    words = [word for word in message.line.plain if word.isalnum()]
    return ["yes"] if words and len(words) in pack()["agreement"].ends(words, 0) else []


def _choice_of(question: StoredQuestion, said: list[str], message: Message) -> int | None:
    """Which choice the words pick; None when they pick none for certain."""
    _, meanings = decode(question.subject)
    found = _by_state(question, meanings, said, message)
    if found is None:
        found = _by_unit(question, meanings, said, message)
    return found if found is not None or not said else _by_words(question, said)


def _by_state(
    question: StoredQuestion,
    meanings: Sequence[m.Meaning | None],
    said: list[str],
    message: Message,
) -> int | None:
    """'oh, it is cooked': the choice of that state."""
    states = [c.state for c in message.of("state") if c.state is not None]
    if (
        len(set(states)) != 1
        or question.about not in (About.STATE, About.STATE_ROW)
        or message.of("amount", "food", "batch")
    ):
        return None
    plain = [w for w in said if w not in message.words.states and w not in ("not", "weight")]
    if len(plain) > MOST_ASIDE:
        return None
    return next((i for i, c in enumerate(meanings) if isinstance(c, m.Item) and c.state == states[0]), None)


def _by_unit(
    question: StoredQuestion, meanings: Sequence[m.Meaning | None], said: list[str], message: Message
) -> int | None:
    """'kg', 'lbs': the choice of that unit."""
    units = [message.words.mass_units[w] for w in said if w in message.words.mass_units]
    if not units or question.about != About.UNIT:
        return None
    return next((i for i, c in enumerate(meanings) if isinstance(c, m.BodyWeight) and c.unit == units[0]), None)


def _by_words(question: StoredQuestion, said: list[str]) -> int | None:
    """The only choice with all the words; 'yes' or 'no' picks the choice that begins with it."""
    words = [singular(w) for w in said]
    matches = []
    for i, choice in enumerate(question.choices):
        has = [singular(w.strip(",.…()#")) for w in choice.lower().replace("-", " ").split()]
        if all(w in has for w in words):
            matches.append(i)
    if len(matches) == 1:
        return matches[0]
    exact = [i for i in matches if len(question.choices[i].split()) == len(words)]
    if len(exact) == 1:
        return exact[0]
    for answers, begins in ((YES, "yes"), (NO, "no")):
        if set(words) <= answers and not matches:
            return next((i for i, c in enumerate(question.choices) if c.startswith(begins)), None)
    return None
