"""What was dictated: signs ('comma', 'full stop'), 'percent' behind a number, 'ninety three percent lean'."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Literal

from bot.language.lexicon import lexicon
from bot.language.number_words import number_words
from bot.language.numbers import NumberReader
from bot.language.pack import pack
from bot.language.text import Token
from domain.reference.words import is_real_word

LONG_AND = "and"
"""What a joining word that was cut short stands for."""
SIGNS = {"spoken_comma": ",", "spoken_stop": ".", "spoken_line": "\n"}
"""The concepts of dictated signs, with the sign that each says."""
HUNDRED = 100.0


def with_spoken_signs(tokens: Sequence[Token]) -> list[Token]:
    """The tokens with dictated signs as the signs that they say; a 'comma' inside a number stays a word."""
    words, said = pack(), [token.text for token in tokens]
    if all(words[name].words.isdisjoint(said) for name in SIGNS):
        return list(tokens)
    found: list[Token] = []
    i = 0
    while i < len(tokens):
        sign, end = next(((mark, end) for name, mark in SIGNS.items() for end in words[name].ends(said, i)), ("", i))
        if sign and i and not _inside_number(tokens, i, end):
            last = tokens[end - 1]
            kind: Literal["sign", "newline"] = "newline" if sign == "\n" else "sign"
            found.append(tokens[i]._replace(kind=kind, text=sign, raw=sign, end=last.end))
            i = end
        else:
            found.append(tokens[i])
            i += 1
    return found


def with_words_drawn_out(tokens: Sequence[Token]) -> list[Token]:
    """The tokens with a word of which a letter is held as the word that it is: 'nooo', 'waaait', 'sorryyy'."""
    return [
        token._replace(text=_let_go(token.text)) if token.kind == "word" and _HELD.search(token.text) else token
        for token in tokens
    ]


_HELD = re.compile(r"([^\W\d_])\1\1")
_RUN = re.compile(r"([^\W\d_])\1{2,}")


def _let_go(word: str) -> str:
    """The word with each held letter once or twice, whichever is a word; itself where neither is."""
    units, known = lexicon().units, pack().index
    for short in (_RUN.sub(r"\1", word), _RUN.sub(r"\1\1", word)):
        if len(short) > 1 and short not in units and (short in known or is_real_word(short)):
            return short
    return word


def with_short_and(tokens: Sequence[Token]) -> list[Token]:
    """The tokens with an 'n' before a number or a sign as the word that it is short for; in a name it stays."""
    short, found = pack()["short_and"], list(tokens)
    if short.words.isdisjoint(token.text for token in tokens):
        return found
    for i in range(1, len(found) - 1):
        if (
            found[i + 1].kind != "word"
            and found[i].text in short
            and found[i].spaced
            and found[i + 1].spaced
            and found[i - 1].kind != "newline"
        ):
            found[i] = found[i]._replace(text=LONG_AND)
    return found


def with_heard_numbers(tokens: Sequence[Token]) -> list[Token]:
    """The tokens with a verb that a microphone wrote for a number as that number: 'ate ounces of carrots'."""
    numbers, units = number_words(), lexicon().units
    if numbers.heard_verbs.isdisjoint(token.text for token in tokens):
        return list(tokens)
    words = {value: word for word, value in numbers.ones.items()}
    found = list(tokens)
    for i, token in enumerate(tokens[:-1]):
        before = tokens[i - 1].text if i else ""
        heard = token.text in numbers.heard_verbs and before not in numbers.heard_never_behind
        if heard and len(tokens[i + 1].text) > 1 and tokens[i + 1].text in units and tokens[i + 1].spaced:
            found[i] = token._replace(text=words[numbers.heard[token.text]])
    return found


NONE = "0%"
LOW = "lowfat"
MOST_NUMBER_WORDS = 5
"""Words of a number before 'percent': 'ninety seven point five'."""


def with_percentages(tokens: Sequence[Token]) -> list[Token]:
    """The tokens with 'ninety three percent' as the one word '93%', which belongs to a name, and 'zero fat' as '0%'."""
    tokens = _with_low_fat(_with_ranges(tokens))
    percent, none, said = pack()["spoken_percent"], pack()["spoken_nonfat"], [token.text for token in tokens]
    if percent.words.isdisjoint(said) and none.words.isdisjoint(said):
        return list(tokens)
    numbers = NumberReader(tokens, lexicon().units)
    found: list[Token] = []
    starts: list[int] = []
    i = 0
    while i < len(tokens):
        end = percent.end(said, i) or i
        first = next((j for j in range(max(0, i - MOST_NUMBER_WORDS), i) if _number(numbers, j) == i), i)
        fat_free = none.end(said, i)
        if fat_free is not None and fat_free < len(tokens) and tokens[fat_free].kind == "word":
            starts.append(i)
            found.append(tokens[i]._replace(kind="word", text=NONE, raw=NONE, end=tokens[fat_free - 1].end))
            end = fat_free
        elif end > i > first:
            while starts and starts[-1] >= first:
                found.pop()
                starts.pop()
            value = numbers.best(first)
            text = f"{value.value:g}%" if value is not None else ""
            starts.append(first)
            found.append(tokens[first]._replace(kind="word", text=text, raw=text, end=tokens[end - 1].end))
        else:
            end = i + 1
            starts.append(i)
            found.append(tokens[i])
        i = end
    return found


def _with_low_fat(tokens: Sequence[Token]) -> Sequence[Token]:
    """The tokens with 'half fat' as the one word that it means: there is no half of anything in it."""
    low, said = pack()["spoken_lowfat"], [token.text for token in tokens]
    if low.words.isdisjoint(said):
        return tokens
    found, i = list[Token](), 0
    while i < len(tokens):
        end = low.end(said, i)
        if end is not None:
            found.append(tokens[i]._replace(kind="word", text=LOW, raw=LOW, end=tokens[end - 1].end))
        else:
            found.append(tokens[i])
        i = end or i + 1
    return found


def _with_ranges(tokens: Sequence[Token]) -> Sequence[Token]:
    """The tokens with '70-85%' as the one word for its lower end, by which a name is found."""
    found = list(tokens)
    for i in [i for i, token in enumerate(tokens[:-2]) if token.text.isdecimal()][::-1]:
        low, dash, high = tokens[i : i + 3]
        if dash.text == "-" and not dash.spaced and high.text.endswith("%"):
            found[i : i + 3] = [low._replace(kind="word", text=f"{low.text}%", raw=f"{low.text}%", end=high.end)]
    return found


def _number(numbers: NumberReader, i: int) -> int:
    """Where the number that begins at word i ends; i where there is none."""
    read = numbers.best(i)
    return i if read is None else read.end


def _inside_number(tokens: Sequence[Token], i: int, end: int) -> bool:
    """Whether a dictated sign stands between digits ('six comma two')."""
    if end >= len(tokens):
        return False
    numbers = number_words().values
    return all(t.kind == "number" or t.text in numbers for t in (tokens[i - 1], tokens[end]))


def with_spoken_leanness(tokens: Sequence[Token]) -> list[Token]:
    """The tokens with a meat's dictated leanness as it is written: '80/20' for 'eighty twenty', '93%' before 'lean'."""
    words, found, i = pack(), list[Token](), 0
    spoken = not number_words().below_hundred.keys().isdisjoint([token.text for token in tokens])
    if not spoken and not any(_typed_apart(tokens, n) for n in range(len(tokens))):
        return list(tokens)
    while i < len(tokens):
        if _typed_apart(tokens, i):
            ratio = f"{tokens[i].text}/{tokens[i + 1].text}"
            found.append(tokens[i]._replace(kind="word", text=ratio, raw=ratio, end=tokens[i + 1].end))
            i += 2
            continue
        lean, end = _up_to_hundred(tokens, i)
        if end > i:
            fat, behind = _up_to_hundred(tokens, end)
            if behind > end and lean > fat and lean + fat == HUNDRED:
                text, end = f"{lean:g}/{fat:g}", behind
            elif tokens[end : end + 1] and tokens[end].text in words["percent"] and _lean(tokens, end + 1):
                text, end = f"{lean:g}%", end + 1
            else:
                text = ""
            if text:
                found.append(tokens[i]._replace(text=text, raw=text, end=tokens[end - 1].end))
                i = end
                continue
        found.append(tokens[i])
        i += 1
    return found


LEAST_LEAN = 70
"""The least part of a meat that is told to be lean."""


def _typed_apart(tokens: Sequence[Token], i: int) -> bool:
    """'80 20 ground beef': whether two numerals are a meat's lean and fat, and no amounts."""
    pair = tokens[i : i + 3]
    if len(pair) < 3 or not all(token.text.isdecimal() and len(token.text) < 3 for token in pair[:2]):
        return False
    lean, fat = int(pair[0].text), int(pair[1].text)
    named = pair[2].kind == "word" and pair[2].text not in lexicon().units
    return named and lean >= LEAST_LEAN and lean + fat == HUNDRED


def _up_to_hundred(tokens: Sequence[Token], i: int) -> tuple[float, int]:
    """The number below a hundred that is spoken at token i, and where it ends; ends at i where none is."""
    numbers = number_words()
    said = [token.text for token in tokens[i : i + 2] if token.kind == "word"]
    if said and said[0] in numbers.tens:
        one = numbers.ones.get(said[1]) if len(said) > 1 else None
        return numbers.tens[said[0]] + (one or 0.0), i + (1 if one is None else 2)
    value = numbers.below_hundred.get(said[0]) if said else None
    return (0.0, i) if value is None else (value, i + 1)


def _lean(tokens: Sequence[Token], i: int) -> bool:
    return i < len(tokens) and tokens[i].text in pack()["lean_or_fat"]
