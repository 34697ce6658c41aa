"""Find the choice of a question that an answer picks: by state, by unit, by its words, or by the best match."""

from __future__ import annotations

from collections.abc import Sequence

from bot.language.frames.serving import seen
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.surroundings import Waiting
from bot.language.text import singular
from domain.foods import State

KINDS_ASKED = frozenset({"food", "ingredient_food"})
"""Questions whose choices are kinds of one food."""
MOST_ASIDE = 2
"""The most other words in an answer that names a state ('cooked, as it happens')."""


def verbatim(message: Message, question: Waiting) -> int | None:
    """The choice that was typed word for word, whatever the words mean otherwise."""
    said = message.text.strip(" .!").casefold()
    return next((i for i, words in enumerate(question.choices) if words.casefold() == said), None)


def picked(message: Message, question: Waiting) -> int | None:
    """The choice that the words pick: by its state, its unit or its words."""
    said = telling(message, question)
    found = by_state(message, question, said)
    if found is None:
        found = _by_unit(message, question, said)
    return found if found is not None or not said else by_words(question, said)


def telling(message: Message, question: Waiting) -> list[str]:
    """The words that can distinguish one choice from another."""
    words = [w for w in message.said if w.isalnum() or "'" in w or "-" in w or "/" in w or w.endswith("%")]
    beside, polite = pack()["beside_answer"], pack()["polite"]
    telling = {"not"} | {w for c in question.choices for w in c.lower().split()}
    return [
        w
        for w in words
        if w in telling
        or w in pack()["yes"]
        or w in pack()["no"]
        or not (w in beside or w in polite or w in message.words.filler)
    ]


def by_state(message: Message, question: Waiting, said: Sequence[str]) -> int | None:
    """'oh, it is cooked', 'the rice was cooked': the choice with that state."""
    denied = denied_states(message)
    states = {c.state for c in message.of("state") if c.state is not None} - denied or _cooked_in(message)
    if denied and not states:
        left = {state for state in question.states if state is not None} - denied
        states = left if len(left) == 1 else set()  # 'not cooked' where it is cooked or dry
    others = [c for c in message.of("food") if c.target not in question.foods]
    if len(states) != 1 or not any(question.states) or others or message.of("amount", "batch", "whole", "part"):
        return None
    own = {w for c in message.of("food") for w in c.text.lower().split()}
    aside = [w for w in said if w not in message.words.states and w not in own and w not in ("not", "weight")]
    if len(aside) > MOST_ASIDE or (pack()["denies"].found([plain(w) for w in said]) and not denied):
        return None
    return next((i for i, state in enumerate(question.states) if state in states), None)


def denied_states(message: Message) -> set[State]:
    """The states that are said not to hold: 'not cooked', 'it wasn't dry'."""
    line, denies = message.line.plain, pack()["denies"]
    said = [c for c in message.of("state") if c.state is not None]
    return {
        c.state
        for c in said
        if c.state is not None and any(c.start in denies.ends(line, n) for n in range(max(0, c.start - 3), c.start))
    }


def _cooked_in(message: Message) -> set[State]:
    """'the oven kind': what came out of an oven or a pan is cooked."""
    heated = pack()["heated_in"].found([plain(word) for word in message.said])
    return {State.COOKED} if heated and not message.has_any(message.words.negations) else set()


def likest(message: Message, question: Waiting) -> int | None:
    """'eight ounces, plain nonfat': the one kind that shares the most words, whatever the others say.

    'the ordinary one' picks the first kind, 'leave it at the weight' the choice without a kind.
    """
    if not question.choices:
        return None
    words = pack()
    said = [plain(word) for word in message.said]
    if words["only_the_weight"].found(said):
        return next((i for i, choice in enumerate(question.choices) if choice == "weight only"), None)
    if question.about not in KINDS_ASKED or message.asks or message.of("batch", "tare", "hash", "moment", "energy"):
        return None
    own = {singular(w) for w in question.word.split()}
    named = [{singular(w.strip("…,.()")) for w in choice.lower().split()} for choice in question.choices]
    known = own.union(*named)
    if any({singular(w) for w in c.text.lower().split()} - known for c in message.of("food")):
        return None
    # 'cooked' tells a state, and not the ready cooked kind
    told = {singular(w) for c in message.chunks if c.kind not in ("amount", "state") for w in c.text.lower().split()}
    neutral = {w for w in told if words["ordinary"].found([w])}
    strange = {w for w in told - known - neutral if w.isalpha() and not _says_nothing(w, message)}
    if len(strange) > MOST_ASIDE:
        return None
    alike = [len((told - own) & has) for has in named]
    best = max(alike, default=0)
    likest = [i for i, count in enumerate(alike) if best and count == best]
    if len(likest) > 1:
        # 'skinless breast': the last word says what it is.
        last = next((singular(w) for w in reversed(said) if singular(w) in known - own), "")
        likest = [i for i in likest if last in named[i]]
    if best:
        return likest[0] if len(likest) == 1 else None
    return 0 if neutral and not strange else None


def _says_nothing(word: str, message: Message) -> bool:
    return word in pack()["beside_answer"] or word in pack()["polite"] or message.words.knows(word)


def _by_unit(message: Message, question: Waiting, said: Sequence[str]) -> int | None:
    """'kg', 'lbs': the choice with that unit."""
    units = [message.words.mass_units[w] for w in said if w in message.words.mass_units]
    if not units or not any(question.units):
        return None
    return next((i for i, unit in enumerate(question.units) if unit == units[0]), None)


def by_words(question: Waiting, said: Sequence[str]) -> int | None:
    """The only choice that contains all the words; 'yes' or 'no' picks the choice that begins with it."""
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
    for answers, begins in ((pack()["yes"], "yes"), (pack()["no"], "no")):
        if not matches and all(plain(w) in answers for w in words):
            return next((i for i, c in enumerate(question.choices) if c.startswith(begins)), None)
    return None


def of_somebody_else(message: Message) -> bool:
    """Whether it tells what another person ate: 'my husband had one of the chicken boxes'."""
    eaters = seen(message)
    return eaters.person is not None and eaters.cue("took_it")
