"""What a target is computed from: the request itself, a goal rate, and what a person says of their own body."""

from __future__ import annotations

import re
from datetime import date

from bot.language.ahead import begins, from_day
from bot.language.meanings import Bare, BodyWeight, ComputeTarget, Meaning, SetSetting
from bot.language.message import Message
from domain import quantities
from domain.quantities import Region

_COMPUTE = re.compile(
    r"\b(?:compute|calculate|work out|figure out|suggest|estimate|recommend|propose|find)\b.{0,30}"
    r"\b(?:target|targets|budget|goal)\b"
    r"|\bwhat should (?:my|the) (?:daily )?(?:\w+ )?(?:target|budget) be\b|\btarget (?:calculator|for me)\b"
)
_RATE = re.compile(
    r"\b(?P<way>lose|losing|drop|gain|gaining|put on)\b (?:about |around )?(?P<value>\d+(?:[.,]\d+)?|half a|a|one) ?"
    r"(?P<unit>kg|kgs|kilos?|g|grams?|lbs?|pounds?)\b(?: ?(?:a|per|each|every|/) ?(?P<span>week|month|wk))?"
)
_KEEP = re.compile(r"\b(?:keep|maintain|hold|stay at)\b.{0,12}\b(?:weight|same)\b|\bmaintenance\b")
_WORDS = {"half a": 0.5, "a": 1.0, "one": 1.0}
_WEEKS_A_MONTH = 365.25 / 12 / 7

_ABOUT = r"(?:i'?m|i am|im|my height is|my height|height:?|height is|i stand)"
_METRES = re.compile(rf"(?:{_ABOUT} )?(?P<m>[12])[.,](?P<cm>\d\d) ?(?:m|metres?|meters?)?(?: tall)?")
_CENTIMETRES = re.compile(rf"(?:{_ABOUT} )?(?P<cm>\d{{2,3}}(?:[.,]\d)?) ?(?P<unit>cm|centimet(?:re|er)s?)?(?: tall)?")
_FEET = re.compile(
    rf"(?:{_ABOUT} )?(?P<ft>[3-8]) ?(?:'|ft|foot|feet)\.? ?(?P<in>\d{{1,2}}(?:[.,]\d)?)? ?"
    r"(?:\"|''|in|inch|inches)?\.?(?: tall)?"
)
_INCHES = re.compile(rf"(?:{_ABOUT} )?(?P<in>\d{{2}}(?:[.,]\d)?) ?(?:\"|in|inch|inches)(?: tall)?")
_YEARS = re.compile(
    r"(?:i'?m |i am |im |my age is |age:? )?(?P<years>\d{1,3})(?P<unit> ?(?:years?|yrs?|yo|y/o)(?: old)?)?"
)
_SEX = re.compile(r"(?:i'?m|i am|im|my sex is|sex:?) (?:an? )?(?P<sex>female|male|woman|man)")
_CM_PER_INCH = 2.54
_YES = frozenset({"yes", "yep", "yeah", "yup", "y", "true", "right"})
_NO = frozenset({"no", "nope", "none", "neither", "nothing", "n", "nah"})
_CONDITIONS = frozenset(
    {
        "pregnant",
        "pregnancy",
        "breastfeeding",
        "nursing",
        "insulin",
        "diabetes",
        "diabetic",
        "anorexia",
        "bulimia",
        "eating",
    }
)
_FEMALE = frozenset({"female", "woman"})


def computing(message: Message) -> Meaning | None:
    """A request for a computed target, with the goal rate where it was said."""
    text = _plain(message.text)
    if not _COMPUTE.search(text):
        return None
    # A day without a word for beginning belongs to the goal ("to lose 5 kg by June").
    return ComputeTarget(kg_per_week=rate(text), day=from_day(message) if begins(message) else None)


def about_me(message: Message) -> Meaning | None:
    """'I'm 178 cm tall', 'my age is 34', 'I'm a woman': what the person says of their body for good."""
    text = _plain(message.text)
    found = _SEX.fullmatch(text)
    if found:
        return SetSetting(name="sex", value="female" if found["sex"] in _FEMALE else "male")
    marked = text.endswith("tall") or "height" in text or (" cm" in f" {text}" and not message.of("food"))
    cm = height_cm(text, message.around.region) if marked else None
    if cm is not None:
        return SetSetting(name="height_cm", value=f"{cm:.4g}")
    aged = years(text) if "age" in text or text.endswith(("old", "years")) else None
    return None if aged is None else SetSetting(name="born", value=str(born(aged, message.around.today)))


def holds(text: str) -> bool | None:
    """Whether an answer says that one of the conditions holds; naming one counts as a yes. None for no answer."""
    said = re.findall(r"[a-z']+", text.lower())
    if said[:1] and said[0] in _NO and not _CONDITIONS.intersection(said[1:]):
        return False
    return True if (said[:1] and said[0] in _YES) or _CONDITIONS.intersection(said) else None


def rate(text: str) -> float | None:
    """Kilograms a week that a text aims at, negative to lose, 0 to keep the weight; None where it says nothing."""
    found = _RATE.search(text)
    if not found:
        return 0.0 if _KEEP.search(text) else None
    value = _WORDS.get(found["value"]) or float(found["value"].replace(",", "."))
    unit = {"k": "kg", "g": "g", "l": "lb", "p": "lb"}[found["unit"][0]]
    kg = quantities.grams(value, unit) / 1000
    if found["span"] == "month":
        kg /= _WEEKS_A_MONTH
    return -kg if found["way"] in ("lose", "losing", "drop") else kg


def height_cm(text: str, region: Region) -> float | None:
    """Centimetres of a height that is all the text holds; a bare number is feet or inches only where it says so."""
    text = _plain(text)
    if found := _METRES.fullmatch(text):
        return 100.0 * int(found["m"]) + int(found["cm"])
    if found := _FEET.fullmatch(text):
        inches = float((found["in"] or "0").replace(",", "."))
        return (12 * int(found["ft"]) + inches) * _CM_PER_INCH if inches < 12 else None
    if found := _INCHES.fullmatch(text):
        return float(found["in"].replace(",", ".")) * _CM_PER_INCH
    if found := _CENTIMETRES.fullmatch(text):
        value = float(found["cm"].replace(",", "."))
        in_inches = region is Region.US and not found["unit"] and value < 100
        return value * _CM_PER_INCH if in_inches else value
    return None


def years(text: str) -> int | None:
    """An age in years that is all the text holds."""
    found = _YEARS.fullmatch(_plain(text))
    return int(found["years"]) if found else None


def kilograms(told: Meaning, region: Region) -> float | None:
    """The body weight in an answer, in kg; a number without a unit is in the region's unit. None for anything else."""
    if isinstance(told, BodyWeight):
        return told.kg if told.kg is not None else _in_kg(told.value, region)
    if not isinstance(told, Bare) or told.amount.kind not in ("mass", "bare"):
        return None
    return told.amount.grams / 1000 if told.amount.grams is not None else _in_kg(told.amount.value, region)


def _in_kg(value: float, region: Region) -> float:
    return quantities.grams(value, "lb" if region is Region.US else "kg") / 1000


def born(age: int, today: date) -> int:
    """The year of birth that an age told today stands for; it may be a year early."""
    return today.year - age


def _plain(text: str) -> str:
    return " ".join(text.lower().split()).strip(" .!?")
