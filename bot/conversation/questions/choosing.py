"""Which choice of a question some words pick: by its state, its unit, its own words, or a plain yes or no."""

from __future__ import annotations

from collections.abc import Sequence

from bot.conversation.questions.encoding import decode
from bot.kinds import About
from bot.language import meanings as m
from bot.language.message import Message
from bot.language.text import singular
from bot.store.questions import StoredQuestion

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
"""Words beside a state that may stand in an answer ('cooked, as it happens')."""


def telling_words(message: Message, choices: Sequence[str]) -> list[str]:
    """The words that can tell one choice from another."""
    said = [
        w
        for w in message.said
        if (w.isalnum() or "'" in w or "-" in w or "/" in w or w.endswith("%")) and w not in SMALL
    ]
    telling = YES | NO | {"not"} | {w for c in choices for w in c.lower().split()}
    return [w for w in said if w in telling or w not in message.words.filler]


def choice_of(question: StoredQuestion, said: list[str], states: list[object], message: Message) -> int | None:
    """Which choice the words pick; None when they pick none for certain."""
    _, meanings = decode(question.subject)
    found = _by_state(question, meanings, said, states, message)
    if found is None:
        found = _by_unit(question, meanings, said, message)
    return found if found is not None or not said else _by_words(question, said)


def _by_state(
    question: StoredQuestion,
    meanings: Sequence[m.Meaning | None],
    said: list[str],
    states: list[object],
    message: Message,
) -> int | None:
    """'oh, it is cooked': the choice of that state."""
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
    """The one choice that has all the words; 'yes' and 'no' where a choice begins so."""
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
