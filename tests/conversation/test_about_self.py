"""What people say about themselves is heard: calm words, the kind of help, and remembered only with their leave.

The limits on the wording are those of public guidance, from memory: NICE NG225 on self-harm and NICE NG69 on eating
disorders (no judgement, no figures of weight or food, urgent help first where there is danger).
"""

import re

import pytest

from .chat import Chat

TOLD = {
    "pregnant": "I'm pregnant",
    "breastfeeding": "I'm breastfeeding",
    "insulin": "I take insulin",
    "diabetes": "I have type 2 diabetes",
    "eating_disorder": "I have an eating disorder",
    "minor": "I'm 16",
}
IN_DANGER = {
    "purging": "I threw up on purpose",
    "fasting": "I haven't eaten for three days",
    "self_harm": "I want to hurt myself",
    "blood_sugar": "my blood sugar is 14.2",
}
HELP = re.compile(r"doctor|midwife|health visitor|diabetes team|helpline|crisis line|emergency services")
PRAISE = re.compile(r"\b(well done|great|proud|brave|good (job|for you)|congratulations|amazing)\b", re.IGNORECASE)


@pytest.mark.parametrize("said", (*TOLD.values(), *IN_DANGER.values()))
def test_the_words_are_few_calm_and_point_to_help(chat: Chat, said: str) -> None:
    heard = chat.say(said)
    assert heard.one("caution")["kind"] == "about_self"
    assert not heard.records
    assert len(heard.text.splitlines()) == 2
    assert len(heard.text.split()) <= 40
    assert not re.search(r"\d|kcal|calorie", heard.text)
    assert not PRAISE.search(heard.text)
    assert HELP.search(heard.text)


@pytest.mark.parametrize("said", IN_DANGER.values())
def test_where_there_is_danger_emergency_services_come_first_and_nothing_is_asked(chat: Chat, said: str) -> None:
    chat.say("200 g rice").asked()
    heard = chat.say(said)
    assert "emergency services" in heard.text.splitlines()[0]
    assert "question" not in heard.kinds
    assert heard.choices == ()
    assert "rice" not in heard.text


@pytest.mark.parametrize("said", TOLD.values())
def test_it_is_remembered_only_after_a_yes(chat: Chat, said: str) -> None:
    assert chat.say(said).choices == ("yes, remember it", "no")
    assert not chat.say("no").records
    chat.say(said)
    kept = chat.say("yes").one("setting_changed")
    assert kept["name"].startswith("caution_")


def computed(chat: Chat, *answers: str) -> list[str]:
    """What comes of asking for a computed target and giving these answers."""
    chat.say("compute my target")
    kinds: list[str] = []
    for text in answers:
        kinds = chat.say(text).kinds
    return kinds


@pytest.mark.parametrize("said", TOLD.values())
def test_no_target_is_computed_for_somebody_with_a_standing_caution(chat: Chat, said: str) -> None:
    chat.say(said)
    chat.say("yes")
    refused = chat.say("compute my target to lose 0.5 kg a week")
    assert refused.kinds == ["caution", "refused"]
    assert not re.search(r"\d", refused.text)
    # By hand it takes a second yes, also far above every floor.
    assert chat.say("target 2600 kcal").kinds == ["caution", "question"]
    assert chat.say("yes").one("target_set")["kcal"] == 2600


def test_the_answer_to_the_screening_question_is_remembered_with_leave(chat: Chat) -> None:
    chat.say("compute my target")
    assert chat.say("yes").kinds == ["caution", "refused", "question"]
    assert chat.say("yes, remember it").one("setting_changed")["name"] == "caution_clinician"
    assert chat.say("compute my target").kinds == ["caution", "refused"]


def test_what_was_remembered_can_be_forgotten(chat: Chat) -> None:
    for said in ("I'm pregnant", "yes", "I take insulin", "yes", "I'm no longer pregnant"):
        chat.say(said)
    assert chat.say("target 2100").kinds == ["caution", "question"]
    chat.say("no")
    chat.say("forget what I told you about my health")
    assert chat.say("target 2100").kinds == ["target_set"]


def test_somebody_of_16_grows_up(chat: Chat) -> None:
    chat.say("I'm 16", at="2026-03-02T12:00:00+00:00")
    assert chat.say("yes", at="2026-03-02T12:01:00+00:00").one("setting_changed")["value"] == "2028-03-02"
    assert chat.say("target 2100", at="2028-03-01T12:00:00+00:00").kinds == ["caution", "question"]
    assert chat.say("target 2100", at="2028-03-03T12:00:00+00:00").kinds == ["target_set"]


def test_the_year_of_birth_counts_too(chat: Chat) -> None:
    for said in ("compute my target", "none of these", "male", "17"):
        chat.say(said)
    assert "caution" in chat.say("target 2100").kinds


# 45 kg at 175 cm is a body mass index of 14.7, 57 kg of 18.6; underweight begins below 18.5 (WHO TRS 894, from memory).
@pytest.mark.parametrize(("kg", "computes"), (("45", False), ("57", True)))
def test_no_target_that_loses_weight_is_computed_for_the_underweight(chat: Chat, kg: str, computes: bool) -> None:
    answers = ("none of these", "female", "30", "175 cm", f"{kg} kg", "active")
    computed(chat, *answers)
    assert ("target_set" in chat.say("lose 0.5 lb a week").kinds) is computes


# NHLBI e-textbook 4.3.2.1 and NICE CG189: below 800 kcal a day only under medical supervision.
@pytest.mark.parametrize(("said", "kinds"), (
    ("target 100 kcal", ["caution", "refused"]),
    ("target 799 kcal", ["caution", "refused"]),
    ("target 800 kcal", ["caution", "question"]),
    ("target 1100 kcal on rest days", ["caution", "question"]),
    ("target 1300 kcal", ["target_set"]),
))  # fmt: skip
def test_low_targets_by_hand(chat: Chat, said: str, kinds: list[str]) -> None:
    assert chat.say(said).kinds == kinds
