"""Consents that a client withdraws, narrows or gives again, in wordings of this project's own."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from bot.language.guided import EndCoaching, ShareAgain, StopSharing, WhoSees, Withhold
from bot.language.meanings import Meaning
from bot.language.surroundings import Surroundings
from bot.language.understand import understand

CLIENT = Surroundings(now=datetime(2026, 3, 4, 12, tzinfo=UTC), coaches=("Rhona",))
BEFORE = Surroundings(now=CLIENT.now, coaches_before=("Rhona",))
CONSENTS = (EndCoaching, ShareAgain, StopSharing, WhoSees, Withhold)


@pytest.mark.parametrize(
    ("said", "meant"),
    (
        ("hey can u fix it so rhona doesn't get to look at what i eat any longer", EndCoaching(whom="Rhona")),
        ("better coach don't look at my meals, can stop the sharing?", EndCoaching()),
        ("please take back that Rhona may read my log", EndCoaching(whom="Rhona")),
        ("dont let her watch my suppers any more", EndCoaching()),
        ("I'd sooner keep my weight to myself", Withhold(what="body_weight")),
        ("I don't feel right with rhona knowing my weight, rather not", Withhold(what="body_weight", coach="Rhona")),
        ("would it be possible that Rhona doesn't get my calories", Withhold(what="energy", coach="Rhona")),
    ),
)
def test_what_is_withdrawn_is_heard(said: str, meant: Meaning) -> None:
    assert understand(said, CLIENT) == [meant]


@pytest.mark.parametrize(
    "said",
    (
        "i feel uneasy with my coach watching my meals",
        "Rhona may look at my food but not at my weight",
        "let rhona see only my weight",
        "coach shouldn't see this one",
        "keep tonight's takeaway between us",
        "how do i stop rhona reading my log",
        "no more of this sharing",
        "don't tell rhona what I had",
        "i feel spied on",
        "none of my food is for Rhona to see",
    ),
)
def test_what_may_be_a_withdrawal_is_asked_and_never_dropped(said: str) -> None:
    (meant,) = understand(said, CLIENT)
    assert isinstance(meant, StopSharing)


@pytest.mark.parametrize(
    ("said", "around", "meant"),
    (
        ("fine, she may look again", CLIENT, ShareAgain()),
        ("let Rhona back in", BEFORE, ShareAgain(coach="Rhona")),
        ("switch sharing back on", BEFORE, ShareAgain()),
        ("my coach can have my calories again", CLIENT, Withhold(what="energy", given=True)),
        ("so she can't see my food now?", BEFORE, WhoSees()),
        ("did Rhona look at my lunch?", CLIENT, WhoSees()),
    ),
)
def test_what_is_given_again_or_asked_is_heard(said: str, around: Surroundings, meant: Meaning) -> None:
    assert understand(said, around) == [meant]


@pytest.mark.parametrize(
    "said",
    (
        "my sister shouldn't see the scale, it is dirty",
        "she can have the soup again",
        "i can't see my coach's message",
        "let my coach know i won't be in on friday",
        "show me my week again",
        "did she send anything?",
        "nobody ate the rest",
        "I don't mind the skin on chicken",
        "coach had no time today",
    ),
)
def test_what_only_sounds_alike_changes_no_consent(said: str) -> None:
    assert not any(
        isinstance(meant, (EndCoaching, ShareAgain, StopSharing, Withhold)) for meant in understand(said, CLIENT)
    )


def test_who_has_no_coach_says_nothing_of_consents() -> None:
    nobody = Surroundings(now=CLIENT.now)
    for said in ("she may look again", "stop sharing the pizza", "keep this between us"):
        assert not any(isinstance(meant, CONSENTS) for meant in understand(said, nobody))
