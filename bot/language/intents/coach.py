"""Between a coach and a client: from readings to meanings."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Literal, cast, get_args

from bot.language.goals import TargetSaid
from bot.language.grammar import Reading
from bot.language.guided import (
    AskReweigh,
    ClientHistory,
    ClientSheet,
    Comment,
    EndCoaching,
    Guided,
    HowIs,
    Invite,
    PrivateNote,
    PutInGroup,
    ReplyTo,
    Roster,
    Share,
    TargetFor,
    Tell,
    Withhold,
)
from bot.language.intents.readings import moments_of
from bot.language.kitchen import InviteToKitchen
from bot.language.meanings import Chatter, Meaning, NotMine
from bot.language.message import Message
from bot.language.pack import pack, plain
from bot.language.persons import as_name, is_client, is_name, known
from bot.language.practice import CoverBy, DropTemplate, EndCover, SaveTemplate, SendTemplate, ShowTemplates
from bot.language.told import Item, Name
from bot.language.words import Words

GUIDED = (*get_args(Guided), NotMine, InviteToKitchen, Chatter)
"""What a message may mean that names a client."""
MOST_NAME_WORDS = 4
SEPARATORS = " :,\n-"
"""Signs between a name and the words for its bearer."""


def _text(reading: Reading) -> str:
    return str(reading.values.get("text", "")).strip().lstrip(SEPARATORS).strip()


def _client(reading: Reading) -> str:
    return str(reading.values.get("client", ""))


def invite(reading: Reading, message: Message) -> Meaning | None:
    """An invitation; words that say something are a name only where they are written as one."""
    words = _as_called(_text(reading).rstrip(" .!?"))
    if words:
        unlike = not words[:1].isupper() or len(words.split()) > MOST_NAME_WORDS or message.of("amount")
        if unlike or pack()["kitchen"].found(message.line.plain):
            return None
    return Invite(called=as_name(words or str(reading.values.get("called", ""))))


def _as_called(words: str) -> str:
    """The words without what only follows a name: 'Rhys as a client'."""
    said = words.split()
    for at in range(1, len(said)):
        if pack()["behind_a_name"].end([plain(word.lower()) for word in said], at) == len(said):
            return " ".join(said[:at])
    return words


def end(reading: Reading, message: Message) -> Meaning | None:
    """The end of a coaching."""
    return EndCoaching(whom=str(reading.values.get("whom", "")))


def roster(reading: Reading, message: Message) -> Meaning | None:
    """All clients, some of them, or a group of the coach's own."""
    group = cast("Words | None", reading.values.get("group"))
    of = cast(Literal["all"], reading.values.get("of", "all"))
    named = "" if group is None else group.text.lower()
    if named and not message.around.clients:
        return None
    return Roster(of=of, group=named, invites=bool(reading.values.get("invites")))


def group(reading: Reading, message: Message) -> Meaning | None:
    """A client in a group, or out of it."""
    words = cast(Words, reading["group"])
    return PutInGroup(client=_client(reading), group=words.text.lower(), out=bool(reading.values.get("out")))


def guides_only(reading: Reading, message: Message) -> bool:
    """Whether what is read is told by somebody who guides, or of a name that is written as one."""
    return bool(message.around.clients) or _client(reading)[:1].isupper()


def sheet(reading: Reading, message: Message) -> Meaning | None:
    """A client's day, week or month."""
    if not guides_only(reading, message):
        return None
    span = cast(Literal["day", "week", "month"], reading["span"])
    return ClientSheet(client=_client(reading), span=span, back=cast(int, reading.values.get("back", 0)))


def how_is(reading: Reading, message: Message) -> Meaning | None:
    """How a client stands; 'show …' asks it of a known client alone."""
    client = _client(reading)
    named = not reading.values.get("by_name") or is_client(client, message.around.clients)
    return HowIs(client=client) if message.around.clients and named else None


def history(reading: Reading, message: Message) -> Meaning | None:
    """A stretch of a client's records, up to today."""
    client = _client(reading)
    if not guides_only(reading, message) or (client.islower() and not is_client(client, known(message.line))):
        return None
    today = message.around.today
    days = cast("int | None", reading.values.get("days"))
    if days is not None:
        return ClientHistory(client=_client(reading), first=today - timedelta(days=days - 1), last=today)
    day = moments_of(reading, message, "when", "more").day
    if day is None or day > today:
        return None
    if today - day <= timedelta(days=1):
        return ClientSheet(client=_client(reading), span="day", back=(today - day).days)
    return ClientHistory(client=_client(reading), first=day, last=day)


def target_for(reading: Reading, message: Message) -> Sequence[Meaning] | None:
    """A target for one client, several or all."""
    values = reading.values
    names = cast("tuple[str, ...]", values.get("persons", ()))
    if not names and "person" in values:
        names = (str(values["person"]),)
    if not names:
        names = message.around.clients
    if not names:
        return None
    said = cast("TargetSaid | None", values.get("target_said"))
    if said is None:
        return [TargetFor(client=name) for name in names]
    more = {"day": said.first, "until": said.until, "days": said.days}
    return [TargetFor(client=name, **said.amounts(), **more) for name in names]  # type: ignore[arg-type]


def comment(reading: Reading, message: Message) -> Meaning | None:
    """A coach's words on a meal or a weigh-in."""
    when = moments_of(reading, message, "when", "more")
    text = _text(reading)
    if not text:
        return None
    return Comment(
        client=_client(reading),
        text=text,
        day=when.day,
        meal=cast("str | None", reading.values.get("meal")) or when.meal,
        number=cast("int | None", reading.values.get("number")),
    )


def private_note(reading: Reading, message: Message) -> Meaning | None:
    """A note that only the coach sees; what names nobody is something else."""
    flag = bool(reading.values.get("flag"))
    if flag and not is_client(_client(reading), message.around.clients):
        return None
    return PrivateNote(client=_client(reading), text=_text(reading), flag=flag)


def reweigh(reading: Reading, message: Message) -> Meaning | None:
    """A client is to weigh something again."""
    number = cast("int | None", reading.values.get("number"))
    name = cast("Name | None", reading.values.get("name"))
    return AskReweigh(client=_client(reading), number=number, name=None if number is not None else name)


def reply(reading: Reading, message: Message) -> Meaning | None:
    """A client's words for their coach."""
    coach = reading.values.get("coach", "")
    return ReplyTo(text=_text(reading), coach=coach.text if isinstance(coach, Words) else str(coach))


def tell(reading: Reading, message: Message) -> Meaning | None:
    """Words for a client, for all of them, or for the coach."""
    name, text = reading.values.get("client"), _text(reading)
    if not text:
        return None
    group = cast("Words | None", reading.values.get("group"))
    if group is not None:
        return Tell(client=f"group {group.text.lower()}", text=text) if message.around.clients else None
    if name is None:
        asks = pack()["question_word"].end([plain(word) for word in text.lower().split()], 0) is not None
        if asks and not (message.around.clients or message.around.coaches):
            return None  # 'tell me all what is inside the chilli'
        return Tell(client=str(reading.values.get("whom", "")), text=text)
    said = str(name)
    outright = ":" in message.text.split(said, 1)[-1][:2] or said[0].isupper()
    if not is_client(said, known(message.line)) and not (outright and is_name(said, message.line)):
        return None
    return Tell(client=said, text=text)


def _template(reading: Reading) -> str:
    name = reading.values.get("name", "")
    return (name.text if isinstance(name, Words) else str(name)).lower()


def save_template(reading: Reading, message: Message) -> Meaning | None:
    """A template with its words, which a colon sets off from its name."""
    set_off = str(reading.values.get("text", "")).lstrip().startswith(":")
    return SaveTemplate(name=_template(reading), text=_text(reading)) if set_off and _text(reading) else None


def show_templates(reading: Reading, message: Message) -> Meaning | None:
    """All templates, or one."""
    return ShowTemplates(name=_template(reading))


def drop_template(reading: Reading, message: Message) -> Meaning | None:
    """A template that is not wanted any more."""
    return DropTemplate(name=_template(reading))


def send_template(reading: Reading, message: Message) -> Sequence[Meaning] | None:
    """A template for one client, several, a group or all; only somebody who guides sends one."""
    clients = message.around.clients
    if not clients:
        return None
    name = _template(reading)
    group = cast("Words | None", reading.values.get("group"))
    if group is not None:
        return [SendTemplate(name=name, client=f"group {group.text.lower()}")]
    names = cast("tuple[str, ...]", reading.values.get("persons", (_client(reading),)))
    if not all(not each or is_client(each, clients) for each in names):
        return None
    return [SendTemplate(name=name, client=each) for each in names]


def cover(reading: Reading, message: Message) -> Meaning | None:
    """Clients who are to be covered by a colleague."""
    values, clients = reading.values, message.around.clients
    colleague = str(values.get("colleague", ""))
    if not clients:
        return None
    group = cast("Words | None", values.get("group"))
    names = cast("tuple[str, ...]", values.get("persons", (_client(reading),) if _client(reading) else ()))
    if not all(is_client(each, clients) for each in names):
        return None
    until = cast("date | None", values.get("until"))
    return CoverBy(
        colleague=as_name(colleague), clients=names, group="" if group is None else group.text.lower(), until=until
    )


def end_cover(reading: Reading, message: Message) -> Meaning | None:
    """Covers that are to end."""
    return EndCover(colleague=as_name(str(reading.values.get("colleague", ""))))


def share(reading: Reading, message: Message) -> Meaning | None:
    """A label or a measure of the coach's own for clients."""
    what = cast(Literal["label", "measure"], reading["what"])
    food = cast(Words, reading["food"]).text
    return Share(what=what, food=food, measure=str(reading.values.get("measure", "")), client=_client(reading))


def withhold(reading: Reading, message: Message) -> Meaning | None:
    """A part of the consent, withdrawn or given again."""
    what = cast(Literal["body_weight"], reading["what"])
    given = bool(reading.values.get("given"))
    return Withhold(what=what, coach=str(reading.values.get("coach", "")), given=given)


def of_a_client(message: Message, meanings: Sequence[Meaning]) -> bool:
    """Whether a message that names a client says nothing of them: it is never the coach's own food."""
    if any(_is_somebody(m, message) for m in meanings):
        return True
    named = {part for client in message.around.clients for part in client.casefold().split() if len(part) > 1}
    if not named:
        return False
    words = (c for c in message.chunks if c.kind == "word")
    said = {word.removesuffix("'s") for c in words for word in c.text.casefold().split()}
    return not named.isdisjoint(said) and not any(isinstance(m, GUIDED) for m in meanings)


def _is_somebody(meaning: Meaning, message: Message) -> bool:
    """Whether what would be weighed is a person on either side: '…with Kim, 200 g of it was mine'."""
    name = meaning.name if isinstance(meaning, Item) else None
    return name is not None and not name.foods and name.kinds is None and is_client(name.text, known(message.line))
