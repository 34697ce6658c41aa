"""Whose data it is: taking a copy along, asking what is kept and who sees it, having it erased."""

from __future__ import annotations

import re

from bot.language.meanings import Erase, Export, Help, Meaning, Privacy, SetSetting
from bot.language.message import Message

_ALL = r"(?:(?:absolutely |really )?(?:all|everything)(?: of)?(?: (?:my|the|this))?|(?:all )?my(?: own)?|the)"
_DATA = r"(?:data|records?|history|figures|numbers|entries|information|info|weigh ?-? ?ins?|account|profile|file)"
_MINE = (
    rf"(?:{_ALL} {_DATA}|(?:all|everything)(?: (?:about|of|on|from) (?:me|mine))?"
    r"|everything (?:i|that i) (?:told|said).*)"
)
_POLITE = (
    r"(?:please |pls |hey |hi |ok |so )*"
    r"(?:(?:can|could|may|would|will) (?:you|i)(?: please)? |i(?:'d| would)? (?:want|like|need)(?: you)? to |let me )?"
)
_FORM = (
    r"(?: (?:as|to|in|into|for) (?:a |an |one )?(?:csv|json|zip|excel|spread ?sheet|file)"
    r"(?: (?:and|or) (?:csv|json))?(?: file)?)?"
)
_END = r"(?: please| pls| now| again| here)*"

_EXPORT = re.compile(
    rf"{_POLITE}(?:export|download|back ?up)(?: (?:a copy of )?{_MINE})?{_FORM}{_END}"
    rf"|{_POLITE}(?:send|give|get|have|mail|email|take)(?: me)? (?:a )?(?:copy|export|download) of {_MINE}{_FORM}{_END}"
    rf"|{_POLITE}(?:send|give|get|mail|email)(?: me)? {_ALL} data{_FORM}{_END}"
    rf"|i(?:'d)? (?:want|need|would like|like) (?:a copy of )?(?:all )?my data{_FORM}{_END}"
    rf"|(?:my )?data export{_END}"
)
_IMPORT = re.compile(
    rf"{_POLITE}(?:import|restore|bring back|read back)(?: {_MINE}| (?:this|the|my) (?:file|export))?{_END}"
)
_OF_ME = r"(?: (?:about|of|on) (?:me|us))?"
_PRIVACY = re.compile(
    r"(?:my |your |the |about |data )*privacy(?: (?:policy|settings|please|rules))?"
    r"|who (?:can |else |all )*(?:sees?|reads?|looks? at|has access to) (?:all )?(?:my|this|that|what i)\b.*"
    rf"|what (?:do|are|have) (?:you|they) (?:\w+ )?(?:keep|store|stored|storing|know|save|keeping){_OF_ME}"
    rf"|what (?:data|information) (?:do|of mine do) you (?:have|keep|store|hold|save){_OF_ME}"
    rf"|what (?:data |information )?is (?:kept|stored|saved){_OF_ME}"
)
_ERASE = re.compile(
    rf"{_POLITE}(?:delete|erase|wipe|remove|clear|forget|destroy) {_MINE}{_END}"
    rf"|{_POLITE}(?:forget|erase|delete) (?:about )?me(?: (?:completely|entirely|altogether|for good))?{_END}"
    rf"|{_POLITE}(?:delete|close|remove) (?:my |the )?account{_END}"
)
_DAYS = {"day": 1, "week": 7, "month": 30, "year": 365}
_KEEP = re.compile(
    r"(?:please )?(?:only )?(?:keep|store|remember) my (?:messages|words|texts|chats?) (?:only )?(?:for )?(?:only )?"
    r"(?P<n>\d{1,5}|an?|one) (?P<unit>day|week|month|year)s?(?: only)?"
    r"|(?:please )?(?:delete|forget|wipe|erase) my (?:messages|words|texts|chats?) after "
    r"(?P<n2>\d{1,5}|an?|one) (?P<unit2>day|week|month|year)s?"
)


def owning_topic(message: Message) -> list[Meaning] | None:
    """What the person wants done with all that is kept of them, if that is what a sentence is about."""
    said = " ".join(message.text.lower().replace("’", "'").split()).strip(" .!?,")
    kept = _KEEP.fullmatch(said)
    if kept is not None:
        count, unit = kept["n"] or kept["n2"], kept["unit"] or kept["unit2"]
        days = (int(count) if count.isdecimal() else 1) * _DAYS[unit]
        return [SetSetting(name="keep_messages_days", value=str(days))]
    if _IMPORT.fullmatch(said):
        return [Help(topic="import")]
    if _EXPORT.fullmatch(said):
        return [Export()]
    if _PRIVACY.fullmatch(said):
        return [Privacy()]
    return [Erase()] if _ERASE.fullmatch(said) else None
