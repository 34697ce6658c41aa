"""Between a coach and a client: a whole message that invites, ends, looks at a client's sheets or passes something on.

What stands in the place of a name is taken for one only when the person guides somebody of that name, or when the words
can be nothing else.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import Literal

from bot.language.guided import (
    AskReweigh,
    ClientSheet,
    EndCoaching,
    HowIs,
    Invite,
    Object,
    ReplyTo,
    Roster,
    Share,
    ShowDigest,
    TargetFor,
    Tell,
    WhoSees,
)
from bot.language.meanings import Meaning
from bot.language.message import Message, read
from bot.language.personal import target
from bot.language.text import singular

EVERYBODY = frozenset(
    {"everyone", "everybody", "all", "all clients", "all my clients", "all of them", "my clients", "clients"}
    | {"them all", "the roster", "my roster"}
)
NOBODY = frozenset(
    {"me", "us", "you", "him", "her", "it", "them", "somebody", "someone", "anybody", "anyone", "client", "clients"}
    | {"people", "who", "what", "that", "this", "everything", "i", "she", "he", "they", "we", "there"}
)
MOST_NAME_WORDS = 3

_WORDS = r"[^\W\d_][\w'.-]*(?: [\w'.-]+){0,3}?"
_NAME = f"(?P<name>{_WORDS})"
_PLEASE = r"(?:(?:please|pls|can you|could you|hey|ok) )*"
_INVITE = re.compile(
    rf"{_PLEASE}(?:invite|new client|add client|add a client)"
    rf"(?: (?:a|my|the|new|another|client|person|somebody|someone))*(?: (?:called|named))?(?::? {_NAME})?",
    re.IGNORECASE,
)
_COACH = re.compile(rf"/coach(?:@\w+)?(?: {_NAME})?", re.IGNORECASE)
_WHO_SEES = re.compile(
    r"who (?:sees|can see|is seeing|reads|can read|has access to|gets to see|looks at|can look at) "
    r"(?:my|what i) [\w -]+|who(?:'s| is| are) my coach(?:es)?"
    r"|(?:do i have|which|list|show) (?:my |a |the )?coach(?:es)?(?: do i have)?|my coach(?:es)?",
    re.IGNORECASE,
)
_END = re.compile(
    rf"{_PLEASE}(?:i want to |i'd like to )?(?:"
    rf"(?:stop|end|quit|cancel|finish)(?: (?:the|my))? coaching(?: (?:with|of|by|for|from))?(?: {_NAME})?"
    rf"|(?:stop|end)(?: sharing)?(?: (?:my )?\w+)? (?:being coached by|sharing with) (?P<by>{_WORDS})"
    rf"|(?:remove|drop) (?:my )?client (?P<client>{_WORDS})"
    rf"|(?:leave|remove|drop|dismiss) (?:my )?coach(?: (?P<coach>{_WORDS}))?"
    r"|(?:revoke|withdraw)(?: my)? consent"
    rf"|(?P<no>{_WORDS}) is (?:not|no longer) my (?:coach|client)(?: any ?more)?"
    r")",
    re.IGNORECASE,
)
_ROSTER = re.compile(
    r"(?:show (?:me )?|list )?(?:the |my )?(?:roster|clients)|who are my clients"
    r"|how (?:are|is) (?:my clients|everyone|everybody|the roster)(?: doing| getting on)?",
    re.IGNORECASE,
)
_LOGGED = re.compile(
    r"who(?:'s|'ve| has| have|'s not| has not| hasn't| did| did not| didn't| is)?(?: not)?(?: already)?"
    r" (?:logged|log|missing)(?: (?:something|anything|in|yet))*(?: today)?(?: so far| yet)?",
    re.IGNORECASE,
)
_HOW = re.compile(
    rf"(?:how(?:'s| is| has|s)|what about) {_NAME}(?: doing| getting on| been)?(?: today| this week)?"
    rf"|(?:did|has) (?P<did>{_WORDS}) log(?:ged)?(?: anything| something)?(?: today)?",
    re.IGNORECASE,
)
_SPANS: dict[str, tuple[Literal["day", "week", "month"], int]] = {
    "week": ("week", 0),
    "last week": ("week", 7),
    "today": ("day", 0),
    "day": ("day", 0),
    "yesterday": ("day", 1),
    "month": ("month", 0),
}
_SHEET = re.compile(
    rf"(?:show (?:me )?)?(?:the )?{_NAME}'s (?P<span>last week|week|day|today|yesterday|month)(?:'s)?"
    r"(?: sheet| picture)?"
    rf"|(?:show (?:me )?)?(?:the )?(?P<span2>last week|week|day|month)(?: sheet)? (?:of|for) (?P<of>{_WORDS})"
    rf"|what (?:did|has) (?P<ate>{_WORDS}) (?:eat|eaten|log|logged|have|had) (?P<span3>today|yesterday)",
    re.IGNORECASE,
)
_DIGEST = re.compile(
    r"(?:show (?:me )?)?(?:the |my |a )?digest(?: now)?|what(?:'s| is| has) (?:new|changed) with my clients",
    re.IGNORECASE,
)
_TARGET = re.compile(
    rf"{_PLEASE}(?:(?:set|change|make) )?(?:(?:a|the|new|daily) )*targets? (?:for|of) (?P<rest>.+)"
    rf"|{_PLEASE}(?:(?:set|change|make) )?{_NAME}'s (?:new )?(?:daily )?target(?: is)?:?(?: to| at)? (?P<figures>.+)",
    re.IGNORECASE,
)
_SHARE = re.compile(
    rf"{_PLEASE}share (?:(?:the|my|a) )?(?:"
    r"(?:label|figures)(?: (?:of|for))?(?: (?:the|my))? (?P<after>.+?)|(?P<before>.+?) label"
    r"|(?:measure )?(?P<unit>[^\W\d_]+) (?:of|for) (?P<food>.+?)(?: measure)?|measure (?P<bare>.+?)"
    r") (?:with|to) (?P<whom>.+)",
    re.IGNORECASE,
)
_TELL = re.compile(rf"{_PLEASE}(?:tell|(?:a )?note (?:to|for)|message) (?P<rest>.+)", re.IGNORECASE | re.DOTALL)
_SAYS = re.compile(r"(?P<sign> ?[:,]) ?(?P<text>.+)| (?:to|that) (?P<linked>.+)", re.DOTALL)
_ASK = re.compile(rf"{_PLEASE}ask (?P<rest>.+)", re.IGNORECASE | re.DOTALL)
_WEIGH = re.compile(
    r" (?:if .{1,20}? can|to)(?: please)? (?:re-?weigh|weigh)(?: again)? (?:(?:the|her|his|their|my|that|this|some) )?"
    r"(?:(?:weigh-?in |entry |number )?#? ?(?P<number>\d{1,9})|(?P<food>[^\d].*?))(?: (?:again|once more))?",
    re.IGNORECASE,
)
_REPLY = re.compile(r"reply(?: to (?P<coach>[^:]{1,60}?))? ?[:,] ?(?P<text>.+)", re.IGNORECASE | re.DOTALL)
_OBJECT = re.compile(
    r"(?:i )?(?:object|disagree)(?: (?:to|with) (?:the|this|that|my) (?:new )?target)?"
    r"|(?:i )?(?:don't want|do not want|refuse|decline) (?:the|this|that|my) (?:new )?target",
    re.IGNORECASE,
)


def coaching(message: Message) -> Meaning | None:
    """What a whole message means between a coach and a client, if that is what it is."""
    text = message.text.strip()
    line = " ".join(text.split()).rstrip(" .!?")
    for topic in (_roles, _looks, _targets, _shares):
        found = topic(line, message)
        if found is not None:
            return found
    return _passes(text, message)


def _roles(line: str, message: Message) -> Meaning | None:
    """Invitations, who sees what, and the end of it."""
    if found := _COACH.fullmatch(line):
        return Roster(invites=True) if found["name"] is None else Invite(called=_as_name(found["name"]))
    if found := _INVITE.fullmatch(line):
        if found["name"] is None:
            return Invite()
        likely = found["name"][0].isupper() or _may_be_name(found["name"], message)
        return Invite(called=_as_name(found["name"])) if likely and not message.has("kitchen", "household") else None
    if _WHO_SEES.fullmatch(line):
        return WhoSees()
    if found := _END.fullmatch(line):
        named = next((found[group] for group in ("name", "by", "client", "coach", "no") if found[group]), "")
        return EndCoaching(whom="" if named.lower() in ("my coach", "my client", "me") else named)
    return Object() if _OBJECT.fullmatch(line) else None


def _looks(line: str, message: Message) -> Meaning | None:
    """What a coach looks at: the roster, one client, a client's sheet, the digest."""
    if _ROSTER.fullmatch(line):
        return Roster()
    if _LOGGED.fullmatch(line):
        return Roster(of="logged")
    if _DIGEST.fullmatch(line):
        return ShowDigest()
    if found := _SHEET.fullmatch(line):
        name = found["name"] or found["of"] or found["ate"]
        said = (found["span"] or found["span2"] or found["span3"]).lower()
        if (message.around.clients or name[0].isupper()) and _means_somebody(name, message):
            span, back = _SPANS[said]
            return ClientSheet(client=name, span=span, back=back)
    found = _HOW.fullmatch(line) if message.around.clients else None
    name = (found["name"] or found["did"]) if found else ""
    return HowIs(client=name) if name and _means_somebody(name, message) else None


def _targets(line: str, message: Message) -> Meaning | None:
    found = _TARGET.fullmatch(line)
    if found is None:
        return None
    name, rest = (found["name"], found["figures"]) if found["name"] else _split(found["rest"], message.around.clients)
    if not name or not _means_somebody(name, message):
        return None
    told = target(read(f"target {rest}", message.around))
    if told is None:
        return TargetFor(client=name)
    return TargetFor(
        client=name,
        kcal=told.kcal,
        protein_g=told.protein_g,
        fat_g=told.fat_g,
        carbohydrate_g=told.carbohydrate_g,
        day=told.day,
    )


def _shares(line: str, message: Message) -> Meaning | None:
    found = _SHARE.fullmatch(line)
    if found is None or not (found["unit"] is None or _is_measure(singular(found["unit"].lower()), message)):
        return None
    whom = found["whom"]
    everybody = whom.lower() in EVERYBODY
    if not everybody and not _means_somebody(whom, message):
        return None
    client = "" if everybody else whom
    label = found["after"] or found["before"]
    if label:
        return Share(what="label", food=label, client=client)
    if found["bare"]:
        return Share(what="measure", food=found["bare"], client=client)
    return Share(what="measure", food=found["food"], measure=singular(found["unit"].lower()), client=client)


def _is_measure(unit: str, message: Message) -> bool:
    """Whether a measure is shared, and not what one of them holds ('share a slice of pizza with Tom')."""
    words = message.words
    named = unit in words.loose_units or unit in words.piece_nouns or unit in words.volume_units
    return named and message.has("measure", "share my")


def _passes(text: str, message: Message) -> Meaning | None:
    """Words for somebody, a question to weigh something again, an answer to a coach."""
    if found := _REPLY.fullmatch(text):
        return ReplyTo(text=found["text"].strip(), coach=_of_coach(found["coach"] or ""))
    known = (*message.around.clients, *message.around.coaches, "my coach", *EVERYBODY)
    if found := _ASK.fullmatch(text):
        name, rest = _split(found["rest"], known)
        weigh = _WEIGH.fullmatch(rest.rstrip(" .!?"))
        if weigh and _means_somebody(name, message):
            number = None if weigh["number"] is None else int(weigh["number"])
            words = [] if number is not None else weigh["food"].split()
            food = None if number is not None else message.vocabulary.resolve(words, weigh["food"])
            return AskReweigh(client=name, number=number, name=food)
        return _words(name, rest, message) if rest.startswith((":", " :")) else None
    if found := _TELL.fullmatch(text):
        return _words(*_split(found["rest"], known), message)
    return None


def _words(name: str, rest: str, message: Message) -> Meaning | None:
    """'Ana: weigh the oats dry', 'Ana to weigh the oats dry'."""
    found = _SAYS.fullmatch(rest)
    if found is None or not name:
        return None
    somebody = _known(name, (*message.around.clients, *message.around.coaches, "my coach", *EVERYBODY))
    outright = ":" in (found["sign"] or "") or name[0].isupper()
    if not somebody and not (outright and _means_somebody(name, message)):
        return None
    text = found["text"] or found["linked"]
    if somebody and name.lower() in EVERYBODY:
        return Tell(client="", text=text.strip())
    return Tell(client=name, text=text.strip())


def _of_coach(name: str) -> str:
    return "" if name.lower().strip() in ("my coach", "coach") else name.strip()


def _split(text: str, names: Sequence[str]) -> tuple[str, str]:
    """(the name that a text begins with, the rest of it): the longest known one, else its first word."""
    for name in sorted(names, key=len, reverse=True):
        end = len(name)
        if text[:end].casefold() == name.casefold() and not text[end : end + 1].isalnum():
            return text[:end], text[end:]
    first = re.match(r"[^\W\d_][\w'-]*", text)
    return ("", text) if first is None else (first.group(), text[first.end() :])


def _known(name: str, names: Sequence[str]) -> bool:
    return name.casefold() in {each.casefold() for each in names}


def _means_somebody(name: str, message: Message) -> bool:
    """Whether the words are a client's name, in part at least, or can be nothing else than a name."""
    said = name.casefold()
    if said in EVERYBODY or any(said == c.casefold() or said in c.casefold().split() for c in message.around.clients):
        return True
    return _may_be_name(name, message)


def _may_be_name(name: str, message: Message) -> bool:
    """Whether the words can be a name: none of them says anything else here."""
    told = [w.strip(".,'").lower() for w in name.split()]
    if not 1 <= len(told) <= MOST_NAME_WORDS:
        return False
    return not any(_says_something(w, message) for w in told)


def _says_something(word: str, message: Message) -> bool:
    words = message.words
    known: tuple[Callable[[str], bool], ...] = (words.knows, message.vocabulary.knows)
    plain = (word, singular(word))
    return any(w in NOBODY or w in words.people or any(knows(w) for knows in known) for w in plain)


def _as_name(name: str) -> str:
    """The name as it is written down: 'ana' as 'Ana'."""
    return name.title() if name.islower() else name
