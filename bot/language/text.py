"""A message as tokens: normalised once, so that everything after sees one spelling of every sign."""

from __future__ import annotations

import re
import unicodedata
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache
from typing import Literal, NamedTuple

_VULGAR = re.compile(r"(?<=[0-9])(?=[¼½¾⅐-⅞])")
_RAISED = re.compile(r"(?<=[0-9])(?=[⁰¹²³⁴-⁹])")
_INVISIBLE = re.compile("[\u00ad\u061c\u180e\u200b-\u200f\u202a-\u202e\u2060-\u206f\ufe00-\ufe0f\ufeff]")
_SIGNS = str.maketrans(
    {
        "×": "x",
        "✕": "x",
        "✖": "x",
        "−": "-",
        "–": "-",
        "—": "-",
        "‐": "-",
        "‑": "-",
        "⁄": "/",
        "÷": "/",
        "’": "'",
        "‘": "'",
        "“": '"',
        "”": '"',
        "•": "\n",
        "·": "\n",
        "‣": "\n",
        "▪": "\n",
        "●": "\n",
    }
)
_ARROW = re.compile(r"(?:(?<!\s)\s+)?(?:[-=]>|→|⇒|➜|➔)\s*")
"""'611 -> 583': what the scale showed, and what it shows now."""
_HEADING = re.compile(r"^([^\d,:;.!?]*[^\W\d_]) +-{1,2} +")
_DASH = re.compile(r"(?<=[^\W\d_]) +-{1,2}(?= +[^\W\d])")
"""A dash between words, with spaces around it."""
_TOKEN = re.compile(
    "|".join(
        (
            r"\n",
            r"[0-9]+(?:(?:[eE]|\*{2,}|\^|\.{2,})[0-9]+)+",
            r"[0-9]+(?:[.,][0-9]+)?[ ]?%",
            r"(?<![\w.])\.[0-9]+",
            r"[0-9]{2}/[0-9]{1,2}(?![0-9/])",
            r"[0-9]+(?:[.,][0-9]+)*",
            r"[^\W\d_]+(?:'[^\W\d_]+)*(?:-[^\W\d_]{2,})*",
            r"[^\s]",
        )
    )
)
"""A word keeps its apostrophes and hyphens. '90 %' and '80/20' are words too: they belong to names, not to amounts;
and so are '9**9' and '1..5', which are no numbers that a cook writes."""


def _is_ratio(text: str) -> bool:
    """Whether 'a/b' is a lean-to-fat ratio; every other slash of numbers is a fraction or a date."""
    lean, _, fat = text.partition("/")
    return bool(fat) and int(lean) + int(fat) == 100


class Token(NamedTuple):
    """One number, word or sign, with its place in the normalised text."""

    kind: Literal["number", "word", "sign", "newline"]
    text: str
    """Lower case; `raw` keeps the case as typed (T is a tablespoon, t a teaspoon)."""
    raw: str
    start: int
    end: int
    spaced: bool
    """Whether white space (or nothing) stands before it."""


def normalise(text: str) -> str:
    """The text with compatibility forms, signs and spaces made one; invisible marks and control characters dropped."""
    text = _ARROW.sub(" now ", text)
    if text.isascii() and text.isprintable():
        return _with_dashes_as_signs(text.strip())
    text = _RAISED.sub("^", _VULGAR.sub(" ", text))
    text = unicodedata.normalize("NFKC", text)
    text = "".join(str(unicodedata.decimal(c)) if c.isdecimal() and not c.isascii() else c for c in text)
    text = _INVISIBLE.sub("", text).translate(_SIGNS)
    return _with_dashes_as_signs(
        "".join(c if c == "\n" or unicodedata.category(c)[0] != "C" else " " for c in text).strip()
    )


def _with_dashes_as_signs(text: str) -> str:
    """The text with a colon for a dash behind a heading ('Lunch - the soup'), and a comma for one between words."""
    if "- " not in text:
        return text
    lines = (_DASH.sub(",", _HEADING.sub(r"\1: ", line, count=1)) for line in text.split("\n"))
    return "\n".join(lines)


def tokenise(text: str) -> list[Token]:
    """The tokens of a normalised text, in order; linear in its length."""
    tokens: list[Token] = []
    end = 0
    for match in _matches(text):
        start, ends_at = match.span()
        raw = match.group().replace(" ", "")
        if raw == "\n":
            kind: Literal["number", "word", "sign", "newline"] = "newline"
        elif raw[0].isdecimal() or (raw[0] == "." and len(raw) > 1):
            odd = _is_ratio(raw) or not raw[-1].isdecimal() or "*" in raw or "^" in raw or ".." in raw
            kind = "word" if odd else "number"
        elif raw[0].isalpha():
            kind = "word"
        else:
            kind = "sign"
        tokens.append(Token(kind, raw.lower(), raw, start, ends_at, start == 0 or start > end))
        end = ends_at
    return tokens


def texts_of(tokens: Sequence[Token]) -> Callable[[int], str]:
    """The text of the token at a place, asked for dozens of times a message; empty beyond either end."""
    return defaultdict(str, enumerate(token.text for token in tokens)).__getitem__


def _matches(text: str) -> Iterator[re.Match[str]]:
    at = 0
    while match := _TOKEN.search(text, at):
        raw = match.group()
        if "/" in raw and len(raw) > 1 and not _is_ratio(raw):
            match = _NUMERAL.match(text, match.start()) or match
        elif "-" in raw and len(raw) > 1 and raw.lower() not in KEPT_HYPHENS:
            at, end = match.span()
            while (hyphen := text.find("-", at, end)) >= 0 and not _is_kept(text, at, end):
                yield from _PART.finditer(text, at, hyphen)
                at = hyphen + 1  # the hyphen stands for a space
            continue
        at = match.end()
        yield match


_NUMERAL = re.compile(r"[0-9]+")
_PART = re.compile(r"[^\W\d_]+(?:'[^\W\d_]+)*")
KEPT_HYPHENS = frozenset(
    [
        "bone-in",
        "in-shell",
        "shell-on",
        "pan-fried",
        "stir-fried",
        "deep-fried",
        "air-fried",
        "oven-baked",
        "slow-cooked",
        "hard-boiled",
        "soft-boiled",
    ]
)
"""Hyphenated words that say one thing; in any other the hyphen stands for a space."""


LONGEST_KEPT = max(map(len, KEPT_HYPHENS))


def _is_kept(text: str, start: int, end: int) -> bool:
    return end - start <= LONGEST_KEPT and text[start:end].lower() in KEPT_HYPHENS


@lru_cache(maxsize=16_384)
def singular(word: str) -> str:
    """The word without a regular English plural or possessive ending; the same for every spelling of one word."""
    if word.endswith("'s"):
        word = word[:-2]
    if word in _ONLY_PLURAL:
        return word
    if len(word) > 4 and word.endswith("ies"):
        return word[:-3] + "y"
    if len(word) > 4 and word.endswith(("oes", "shes", "ches", "sses", "xes")):
        return word[:-2]
    if len(word) > 4 and word.endswith("ves"):
        return _VES.get(word, word[:-1])
    # 'kiwis' and 'rotis', and not 'this'.
    if len(word) > (4 if word.endswith("is") else 3) and word.endswith("s") and not word.endswith(("ss", "us")):
        return word[:-1]
    return word


_ONLY_PLURAL = frozenset({"sweets", "toms"})
"""Nouns whose singular is another word: what is sweet is no candy, and Tom no tomato."""
_VES = {"halves": "half", "loaves": "loaf", "leaves": "leaf", "calves": "calf", "knives": "knife"}
