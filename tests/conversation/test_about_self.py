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
