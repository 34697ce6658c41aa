"""What a coach asks and says of clients, and what clients say of their coach, in wordings of many people."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from .chat import Chat, Door, open_door

TUESDAY, WEDNESDAY = "2026-03-03", "2026-03-04"
CLIENTS = ("amina", "jonas", "lou")
EVENING = f"{WEDNESDAY}T20:00:00+01:00"
TOLD = (
    ("petra", "set Amina's target to 1750 kcal and 100 g protein a day", f"{TUESDAY}T06:00:00+01:00"),
    ("petra", "set Jonas's target to 2900 kcal", f"{TUESDAY}T06:01:00+01:00"),
    ("amina", "I weigh 64.2 kg", f"{TUESDAY}T07:00:00+01:00"),
    ("amina", "250 g cooked rice and 120 g baked salmon for dinner", f"{TUESDAY}T19:00:00+01:00"),
    ("jonas", "4 eggs and 80 g rye bread for breakfast", f"{WEDNESDAY}T08:30:00+01:00"),
    ("petra", "pause Lou until 2026-03-20", f"{WEDNESDAY}T10:00:00+01:00"),
)


def practice(door: Door) -> dict[str, Chat]:
    """Petra, who guides Amina, Jonas and Lou, on the third evening."""
    people = {
        name: Chat(door, name, timezone="Europe/Vienna", region="metric") for name in ("petra", "amina", "jonas", "lou")
    }
    for name in ("amina", "jonas", "lou"):
        invited = people["petra"].say(f"invite {name.title()}", at="2026-03-02T07:30:00+01:00")
        code = re.search(r"/start ([\w-]{16,})", invited.text)
        assert code is not None
        people[name].say(f"/start {code[1]}", at="2026-03-02T07:40:00+01:00")
        people[name].say("yes")
    for who, text, at in TOLD:
        people[who].say(text, at=at)
    return people


@pytest.fixture(scope="module")
def asked() -> Iterator[dict[str, Chat]]:
    """A practice of which is only asked."""
    with open_door() as opened:
        yield practice(opened)


@pytest.mark.parametrize(
    ("who", "text", "answer"),
    (
        ("petra", "what did Amina get through yesterday then?", "Amina.*rice.*salmon"),
        ("petra", "how much protein did Jonas have today?", r"Jonas.*protein 3\d g"),
        ("petra", "and Jonas, how's he getting on", "Jonas"),
        ("petra", "run me through what Jonas ate today pls", "egg.*bread"),
        ("petra", "what's Amina weighing these days", r"64\.2"),
        ("petra", "amina on the scales: where's she at?", r"64\.2"),
        ("petra", "how's Amina's week going so far", "Amina.*days logged"),
        ("petra", "who's having a break just now?", "Lou"),
        ("petra", "is anybody on holiday or poorly at the minute", "Lou"),
        ("petra", "give me the overview of my lot", "Lou.*Amina|Amina.*Lou"),
        ("petra", "has anyone gone quiet on me", "silent"),
        ("petra", "anybody short on protein this week", "protein"),
        ("petra", "how much rice does Amina eat", "250 g"),
        ("petra", "what was Amina's dinner last night", "salmon"),
        ("petra", "what's Lou's target?", "Lou"),
        ("amina", "can Petra see my weight?", "petra"),
        ("amina", "what target did Petra give me", "1,750"),
        ("amina", "how much protein left for me today", "100 g"),
    ),
)
def test_what_is_asked_of_clients_is_answered(asked: dict[str, Chat], who: str, text: str, answer: str) -> None:
    said = asked[who].say(text, at=EVENING)
    assert not {"weigh_in", "body_weight", "not_understood"} & set(said.kinds)
    assert re.search(answer, said.text, re.IGNORECASE | re.DOTALL), said.text


@pytest.mark.parametrize(
    ("who", "text", "kind", "told"),
    (
        ("petra", "Amina can go up to 1900 kcal from tomorrow", "target_set", "1,900"),
        ("petra", "bump Amina's protein to 110 g please", "target_set", "110 g"),
        ("petra", "let's have Lou on 1600 calories", "target_set", "1,600"),
        ("petra", "Amina's calories go up to 1850 from today, the protein stays as it is", "target_set", "1,850"),
        ("petra", "Jonas is off sick till Friday, give him a break", "setting_changed", "paused until"),
        ("petra", "Lou is well again, end her break", "setting_changed", "is over"),
        ("petra", "let Amina know the salmon dinner was spot on", "passed_on", "Passed on to Amina"),
        ("petra", "drop Jonas a line saying well done on the eggs", "passed_on", "Passed on to Jonas"),
        ("amina", "Petra needn't see my weight from now on", "setting_changed", "does not see your body weight"),
        ("amina", "I'd rather my coach didn't see my calories", "setting_changed", "no energy"),
        ("amina", "no need for Petra to comment on my meals any longer", "setting_changed", "can't comment"),
        ("lou", "I'm back, no need for the break any more", "setting_changed", "pause is over"),
    ),
)
def test_what_is_said_of_clients_is_done(door: Door, who: str, text: str, kind: str, told: str) -> None:
    said = practice(door)[who].say(text, at=EVENING)
    assert kind in said.kinds
    assert told in said.text


@pytest.mark.parametrize(
    "text",
    (
        "Jonas weighs 91 kg now I think",
        "Amina had 200 g of chicken at our session",
        "Lou told me she ate 80 g of almonds",
        "Amina asked whether she can go on holiday",
        "I weighed Jonas at 91 kg today",
        "Jonas's mother made 300 g of lasagne",
    ),
)
def test_nothing_of_a_client_lands_on_the_coachs_record(asked: dict[str, Chat], text: str) -> None:
    said = asked["petra"].say(text, at=EVENING)
    assert not {"weigh_in", "weigh_in_open", "body_weight", "setting_changed", "passed_on"} & set(said.kinds)


@pytest.mark.parametrize(
    ("text", "says"),
    (
        ("which of them has gone dark on me", "Nobody is silent|silent"),
        ("who blew their target", "over target"),
        ("is anybody eating too little?", "under|little"),
        ("who do I need to ring today", "could use a word"),
        ("amina total yesterday", r"Amina:\s+Yesterday: "),
        ("Amina's protein yesterday", r"Amina:\s+Yesterday: .*protein"),
        ("amina's dinner yesterday", "salmon"),
        ("Amina weight trend", "64.2 kg"),
        ("how carefully does Jonas weigh things", "Jonas .*"),
        ("any notes on Lou?", "note"),
        ("what are everybody's targets", r"Amina .*\n.*Jonas"),
    ),
)
def test_what_is_asked_of_clients_is_read_by_its_roles(asked: dict[str, Chat], text: str, says: str) -> None:
    said = asked["petra"].say(text, at=EVENING)
    assert re.search(says, said.text, re.DOTALL), said
    assert not {"weigh_in", "not_understood"} & set(said.kinds), said


def test_he_is_never_the_coach(asked: dict[str, Chat]) -> None:
    said = asked["petra"].say("how much protein has he got left today", at=EVENING)
    assert "client_sheet" in said.kinds or said.text.startswith(("Amina", "Jonas", "Lou")), said


def test_who_may_see_a_client_is_not_answered_with_the_client(asked: dict[str, Chat]) -> None:
    said = asked["petra"].say("who can see Amina's data", at=EVENING)
    assert not {"roster", "client_sheet"} & set(said.kinds), said


def test_targets_and_questions_go_to_the_clients_who_are_named() -> None:
    with open_door() as opened:
        people = practice(opened)
        said = people["petra"].say("Amina and Jonas: 1900 kcal from tomorrow", at=EVENING)
        assert [event["kcal"] for event in said.all("target_set")] == [1900, 1900], said
        said = people["petra"].say("Set Lou to 2100 kcal with 95 g protein")
        assert (said.one("target_set")["kcal"], said.one("target_set")["protein_g"]) == (2100, 95), said
        said = people["petra"].say("ask Amina what happened at lunch on Tuesday")
        assert [who for who, _ in said.others] == ["amina"], said
        assert "what happened at lunch" in said.others[0][1], said
