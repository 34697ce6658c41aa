"""Energy hidden: what a reply may show to somebody who wants to see weights and meals only.

Every text of a reply passes here last, so that no reply has to know of it and none can leak a figure of energy.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final

from bot.language.bare_figures import bare_figures
from bot.reports.series import DayFigures, Picture
from bot.store import facts, people
from bot.store.books import Books

SETTING: Final = "energy"
HIDDEN: Final = "hidden"
SAID: Final = "Energy is hidden. To see it again, say: show calories again"
LEFT_OUT: Final = "A number is left out where you see …, because it may be energy, which you have hidden."
_FIGURE = re.compile(
    r"\bkcal\b|\bkJ\b|\bcalories\b|\bgive or take\b|\bof the energy\b|\bstandard deviation\b"
    r"|\b(?:protein|fat|carbs|fibre|sugars|saturates|salt|alcohol)(?: at least)? [\d.,]+ ?g\b"
)
_ENERGY = re.compile(r"(?:at least )?[\d.,]+(?: (?:to|or) [\d.,]+)? ?(?:kcal|kJ|calories)\b")
_NUMBER = r"\d[\d.,]*(?: \d{3})*"
_RANGE = rf"(?:at least |about )?{_NUMBER}(?: ?(?:to|or|of|-|–) ?{_NUMBER})?"
_NUTRIENT = r"(?:protein|fat|carbs|carbohydrates?|fibre|fiber|sugars?|saturates|salt|alcohol)"
_BLANKED = re.compile(
    rf"{_RANGE} ?(?:k?cals?|kJ|calories)\b"
    rf"|{_NUTRIENT} {_RANGE} ?g\b|{_RANGE} ?g(?= (?:a day )?(?:more |of |less )?{_NUTRIENT}\b)"
    rf"|(?<=give or take ){_NUMBER}|(?<=standard deviation ){_NUMBER}|{_NUMBER} ?%(?= of the energy)",
    re.IGNORECASE,
)
_BRACKETS = re.compile(r" ?\([^()]*\)")
_SENTENCES = re.compile(r"(?<=[.!?]) +(?=[A-Z#“])")
_WEIGHT = re.compile(r"\d ?(?:g|kg|mg|oz|lb|ml)\b|#\d")


def hides(books: Books) -> bool:
    """Whether the person wants no energy shown."""
    return facts.settings(books).get(SETTING) == HIDDEN


def without_energy(text: str) -> str:
    """The text without figures of energy and nutrients, line by line; empty when nothing else is in it."""
    lines = [_line(line) for line in text.split("\n")]
    return "\n".join(line for line in lines if line)


def blanked(text: str) -> str:
    """The text with an ellipsis for each figure of energy and nutrients: other people's words, and lines about them."""
    return _BLANKED.sub(_ellipsis, text)


def words_without_energy(text: str) -> str:
    """Another person's own words as `blanked`, and without bare numbers that may be energy: 'stay at … today'."""
    text = blanked(text)
    for start, end in reversed(bare_figures(text)):
        text = f"{text[:start]}…{text[end:]}"
    return text


def _ellipsis(found: re.Match[str]) -> str:
    before = re.match(_NUTRIENT, found[0], re.IGNORECASE)
    return f"{before[0]} …" if before is not None else "…"


def for_person(text: str, person_id: int, books: Books) -> str:
    """What the person whose books these are causes another to be told, as the other wants it."""
    return blanked(text) if _is_hidden_from(person_id, books) else text


def words_for(person_id: int, text: str, books: Books) -> str:
    """The person's own words to another, as the other wants them."""
    return words_without_energy(text) if _is_hidden_from(person_id, books) else text


def _is_hidden_from(person_id: int, books: Books) -> bool:
    other = people.by_id(books.conn, person_id)
    return other is not None and hides(replace(books, person=other, foreign=True))


def picture_without_energy(picture: Picture) -> Picture | None:
    """The picture with body weights alone; None without any."""
    days = tuple(
        DayFigures(
            day=d.day,
            weight=d.weight,
            mean_weight=d.mean_weight,
            least_weight=d.least_weight,
            most_weight=d.most_weight,
        )
        for d in picture.days
    )
    return replace(picture, days=days) if any(d.weight is not None for d in days) else None


def _line(line: str) -> str:
    if not _FIGURE.search(line):
        return line
    return " ".join(kept for sentence in _SENTENCES.split(line) if (kept := _sentence(sentence)))


def _sentence(sentence: str) -> str:
    """The sentence, cut to the weights that come before its figures; a question stays one."""
    if not _FIGURE.search(sentence):
        return sentence
    kept = _BRACKETS.sub(lambda m: "" if _FIGURE.search(m[0]) else m[0], sentence)
    if not _FIGURE.search(kept):
        return kept
    head, _, _ = kept[: _first_figure(kept)].rpartition(":")
    if kept.endswith("?"):
        return re.sub(r" {2,}", " ", _ENERGY.sub("…", kept))
    return head if _WEIGHT.search(head) else ""


def _first_figure(text: str) -> int:
    found = _FIGURE.search(text)
    assert found is not None
    return found.start()
