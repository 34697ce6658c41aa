"""What is said between a coach and a client is read only where nothing else can be meant."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from bot.language.guided import (
    AskReweigh,
    ClientHistory,
    ClientReport,
    ClientSheet,
    ClientTrend,
    Comment,
    CompareWeeks,
    EndCoaching,
    Guided,
    HowIs,
    Invite,
    Object,
    Pause,
    PrivateNote,
    ReplyTo,
    Resume,
    Roster,
    Share,
    ShowDigest,
    TargetFor,
    Tell,
    WhoSees,
    Withhold,
)
from bot.language.meanings import Meaning, NotMine, Unclear
from bot.language.practice import CoverBy, DropTemplate, EndCover, SaveTemplate, SendTemplate, ShowTemplates
from bot.language.surroundings import Surroundings
from bot.language.understand import understand

from .corpus import FILES, read

NOBODYS = Surroundings(now=datetime(2026, 3, 4, 12, tzinfo=UTC))
LAST = date(2026, 3, 20)
COACHS = Surroundings(now=NOBODYS.now, clients=("Ana", "Olive", "Tom B"), coaches=("Mira",))


@pytest.mark.parametrize(
    ("said", "meant"),
    (
        ("invite Ana", Invite(called="Ana")),
        ("please invite a client called ana", Invite(called="Ana")),
        ("/coach", Roster(invites=True)),
        ("/coach Ana Berg", Invite(called="Ana Berg")),
        ("who can see my sheets?", WhoSees()),
        ("Who is my coach?", WhoSees()),
        ("stop coaching Ana", EndCoaching(whom="Ana")),
        ("end coaching with Mira", EndCoaching(whom="Mira")),
        ("leave my coach", EndCoaching()),
        ("roster", Roster()),
        ("who hasn't logged today?", Roster(of="logged")),
        ("digest", ShowDigest()),
        ("I object", Object()),
        ("how is Olive doing?", HowIs(client="Olive")),
        ("Olive's week", ClientSheet(client="Olive", span="week")),
        ("show me the week of Tom B", ClientSheet(client="Tom B", span="week")),
        ("what did Ana eat yesterday?", ClientSheet(client="Ana", span="day", back=1)),
        ("set Tom B's target to 2,100 kcal", TargetFor(client="Tom B", kcal=2100)),
        ("target for Olive 2100 kcal protein 160", TargetFor(client="Olive", kcal=2100, protein_g=160)),
        ("share label oat bar 2% with everyone", Share(what="label", food="oat bar 2%")),
        ("share my scoop of whey with Ana", Share(what="measure", food="whey", measure="scoop", client="Ana")),
        ("tell Ana to eat 40 g of oats. Dry!", Tell(client="Ana", text="eat 40 g of oats. Dry!")),
        ("tell everyone: hello\nall of you", Tell(client="", text="hello\nall of you")),
        ("tell my coach: 200 g rice was wrong", Tell(client="my coach", text="200 g rice was wrong")),
        ("reply to Mira: yes, 40 g", ReplyTo(coach="Mira", text="yes, 40 g")),
        ("ask Tom B to re-weigh her #3", AskReweigh(client="Tom B", number=3)),
        ("who is silent?", Roster(of="silent")),
        ("who's gone quiet", Roster(of="silent")),
        ("who is over target this week", Roster(of="over")),
        ("who is under?", Roster(of="under")),
        ("who weighs least?", Roster(of="unweighed")),
        ("Ana's last 4 weeks", ClientHistory(client="Ana", first=date(2026, 2, 5), last=date(2026, 3, 4))),
        ("compare Ana's week with last week", CompareWeeks(client="Ana")),
        ("comment on Ana's lunch: more beans, please", Comment(client="Ana", meal="lunch", text="more beans, please")),
        ("comment on Ana's #12: is that dry?", Comment(client="Ana", number=12, text="is that dry?")),
        ("target for Ana fibre 30 g", TargetFor(client="Ana", fibre_g=30)),
        ("target for Ana 2400 on training days", TargetFor(client="Ana", kcal=2400, days="training")),
        ("pause until Sunday", Pause(until=date(2026, 3, 8))),
        ("pause Ana until Sunday", Pause(client="Ana", until=date(2026, 3, 8))),
        ("Ana is back", Resume(client="Ana")),
        ("message to everyone: closed on Friday", Tell(client="", text="closed on Friday")),
        ("note about Ana: sleeps badly", PrivateNote(client="Ana", text="sleeps badly")),
        ("Ana's weight", ClientTrend(client="Ana", of="body_weight")),
        ("don't show my weight to my coach", Withhold(what="body_weight")),
        ("hide my protein from Mira", Withhold(what="protein", coach="Mira")),
        ("Mira may know about my cautions", Withhold(what="cautions", coach="Mira", given=True)),
        ("my coach may not export my records any more", Withhold(what="export")),
        ("one page summary of Ana", ClientReport(client="Ana")),
        ("export Ana's data", ClientReport(client="Ana", form="file")),
        ("save template late: even late: it counts.", SaveTemplate(name="late", text="even late: it counts.")),
        ("show me the late template", ShowTemplates(name="late")),
        ("remove template late", DropTemplate(name="late")),
        ("send late to Olive", SendTemplate(name="late", client="Olive")),
        ("Omar covers Ana and Olive until 20 March", CoverBy(colleague="Omar", clients=("Ana", "Olive"), until=LAST)),
        ("please have Omar cover for me until 20 March", CoverBy(colleague="Omar", until=LAST)),
        ("end the cover by Omar", EndCover(colleague="Omar")),
    ),
)
def test_what_a_coach_and_a_client_say(said: str, meant: Meaning) -> None:
    assert understand(said, COACHS) == [meant]


def test_a_target_for_several_is_one_for_each() -> None:
    assert understand("target for Ana, Olive and Tom B 1700 kcal", COACHS) == [
        TargetFor(client=name, kcal=1700) for name in ("Ana", "Olive", "Tom B")
    ]


@pytest.mark.parametrize("said", ("Ana 200 g rice", "200 g cooked rice for Ana"))
def test_what_names_a_client_is_never_the_coachs_own(said: str) -> None:
    assert all(isinstance(meaning, (Unclear, NotMine)) for meaning in understand(said, COACHS))


@pytest.mark.parametrize(
    "said", ("target for Ana 2100", "Ana's week", "tell Ana: hello", "share label granola with Ana")
)
def test_a_coachs_words_are_known_as_such_from_anybody(said: str) -> None:
    (meant,) = understand(said, NOBODYS)
    assert isinstance(meant, Guided)


@pytest.mark.parametrize(
    "said",
    (
        "target for lunch 500 kcal", "target of 2100 kcal", "week of 2 March", "today's sheet", "how is my weight?",
        "tell me what's left", "note for dinner: 200 g cooked rice", "share half of the pizza with Tom",
        "shared 400 g pizza with Tom", "my mum's week", "invite my friends for dinner", "how is the chilli?",
        "what about 200 g olives?", "last week's sheet", "remind me at 20:30", "olive oil 10 g", "stop", "end",
    ),
)  # fmt: skip
def test_what_is_something_else_stays_so(said: str) -> None:
    for around in (NOBODYS, COACHS):
        assert not any(isinstance(meaning, Guided) for meaning in understand(said, around))


def test_no_ordinary_message_is_taken_for_a_coachs() -> None:
    taken = [
        case.say
        for file in FILES
        for case in read(file)
        if any(isinstance(meaning, Guided) for meaning in understand(case.say, COACHS))
    ]
    assert taken == []
