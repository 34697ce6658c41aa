"""Danger and distress are answered first, wherever in a message they are said; what was eaten is recorded all the same.

The signs are those of public guidance, from memory: NHS pages on anaphylaxis, choking, chest pain, fainting and
poisoning (emergency services first), NICE NG225 on self-harm, NICE NG69 on eating disorders.
"""

import re

import pytest

from .chat import Chat, Said

EMERGENCY = re.compile(r"emergency services|poison centre")
PRAISE = re.compile(r"\b(well done|great|proud|brave|good (job|for you)|congratulations|amazing)\b", re.IGNORECASE)


def calm(heard: Said) -> Said:
    """The same, with its words checked: few, without figures and praise, help in the first line, nothing asked."""
    assert heard.one("caution")["kind"] == "about_self", heard
    assert len(heard.text.split()) <= 40, heard.text
    assert not re.search(r"\d|kcal|calorie", heard.text), heard.text
    assert not PRAISE.search(heard.text)
    assert EMERGENCY.search(heard.text), heard.text
    assert heard.choices == ()
    return heard


@pytest.mark.parametrize(("said", "grams"), (
    ("had 200 g chocolate, I want to die", 200),
    ("I want to die, 200 g chocolate", 200),
    ("I want to kill myself 100 g banana", 100),
    ("I cut myself, 100 g banana", 100),
    ("60 g cheddar and I don't want to live any more", 60),
    ("bg 45, 20 g honey", 20),
    ("ate 30 g peanuts and can't breathe", 30),
    ("my throat is swelling after 30 g peanuts", 30),
    ("I passed out after 100 g banana", 100),
    ("chest pain since I had 150 g cheddar", 150),
    ("I purged 500 g of pasta", None),
    ("made myself sick after 200 g chocolate", 200),
    ("I binged 800 g chocolate and hate myself", 800),
    ("haven't eaten in 3 days, now 100 g cooked rice", 100),
))  # fmt: skip
def test_the_calm_words_come_first_and_the_food_is_recorded(chat: Chat, said: str, grams: int | None) -> None:
    heard = calm(chat.say(said))
    assert EMERGENCY.search(heard.text.splitlines()[0])
    weighed = heard.all("weigh_in")
    assert heard.kinds[0] == "caution"
    if grams is not None:
        assert [event["as_weighed_g"] for event in weighed] == [grams]
        assert heard.text.splitlines()[-1] == "Your food is recorded."


@pytest.mark.parametrize("said", (
    "can't breathe", "I cannot breathe", "chest pain", "I fainted", "I overdosed", "choking on chicken",
    "my lips are swelling", "my son is choking on a grape", "I'm having an allergic reaction",
    "overdosed on 20 paracetamol", "I took 20 pills", "100 laxatives", "drank 20 ml bleach",
    "took 12 units of insulin", "my baby drank 20 ml bleach", "my toddler swallowed 5 ml of detergent",
    "I want to take 50 pills", "ibuprofen 400", "took 6 tablets of aspirin", "I swallowed 30 sleeping pills",
    "chewed and spat 50 g chocolate", "I starve myself", "I hate myself", "suicide", "I am so fat", "I feel so fat",
))  # fmt: skip
def test_what_is_no_food_is_never_a_weigh_in(chat: Chat, said: str) -> None:
    chat.say("200 g rice").asked()
    heard = calm(chat.say(said))
    assert EMERGENCY.search(heard.text.splitlines()[0])
    assert not heard.records
    assert heard.kinds == ["caution"]


@pytest.mark.parametrize("said", (
    "took 2 tablets of aspirin", "My tablets are 250 mg of iron, I had one of them.", "I took 2 ibuprofen tablets",
))  # fmt: skip
def test_an_ordinary_dose_is_answered_calmly(chat: Chat, said: str) -> None:
    heard = calm(chat.say(said))
    first, second = heard.text.splitlines()
    assert first.startswith("I don't record medicines")
    assert "now" not in heard.text.split()
    assert "poison centre" in second
    assert heard.kinds == ["caution"]


@pytest.mark.parametrize("said", (
    "took 2 sleeping pills", "my tablets are 500 mg, I took six of them", "I took all my pills",
))  # fmt: skip
def test_more_than_an_ordinary_dose_asks_for_help_first(chat: Chat, said: str) -> None:
    heard = calm(chat.say(said))
    assert EMERGENCY.search(heard.text.splitlines()[0])


@pytest.mark.parametrize(("said", "grams"), (
    ("took 2 pills with 200 g yogurt", 200),
    ("100 g banana and 12 units of insulin", 100),
    ("30 g cheddar, then swallowed 20 ml bleach", 30),
))  # fmt: skip
def test_only_the_food_beside_it_is_recorded(chat: Chat, said: str, grams: int) -> None:
    heard = calm(chat.say(said))
    assert [event["as_weighed_g"] for event in heard.all("weigh_in")] == [grams]


def test_a_question_about_the_food_waits_unasked(chat: Chat) -> None:
    heard = calm(chat.say("200 g rice and I can't breathe"))
    assert heard.text.splitlines()[-1] == "Your food is kept."
    assert chat.say("#1 cooked").one("weigh_in")["as_weighed_g"] == 200


@pytest.mark.parametrize("said", (
    "I could die for chocolate", "killing it at the gym", "this chilli is to die for", "cut myself a slice",
    "sick of rice", "choked up at the film", "nearly died laughing", "name your poison", "purged my fridge",
    "remind me to take my tablets at 9", "I'd kill for a coffee", "chicken breast, chest freezer is full",
    "how much sugar is in cough syrup?", "we binge watched a series", "died of embarrassment", "fat free",
    "a bitter pill to swallow", "bleach is on the shopping list", "I'm starving", "cut myself on the tin",
))  # fmt: skip
def test_figures_of_speech_are_no_danger(chat: Chat, said: str) -> None:
    assert "caution" not in chat.say(said).kinds


@pytest.mark.parametrize(("said", "grams"), (
    ("cut myself a slice of bread, 40 g", 40),
    ("100 g banana, so sick of banana", 100),
    ("that cheddar is to die for, had 30 g cheddar", 30),
    ("killing it at the gym, 200 g cottage cheese", 200),
))  # fmt: skip
def test_figures_of_speech_beside_food_change_nothing(chat: Chat, said: str, grams: int) -> None:
    heard = chat.say(said)
    assert "caution" not in heard.kinds
    assert grams in [event["as_weighed_g"] for event in heard.records if "as_weighed_g" in event]


@pytest.mark.parametrize(("said", "named"), (
    ("I'm pregnant, had 200 g yoghurt", "pregnant"),
    ("100 g banana. I take insulin", "insulin"),
    ("I have diabetes and ate 30 g cheddar", "diabetes"),
))  # fmt: skip
def test_what_is_said_of_oneself_is_heard_beside_food(chat: Chat, said: str, named: str) -> None:
    heard = chat.say(said)
    assert named in heard.text.splitlines()[0]
    assert len(heard.all("weigh_in")) == 1
    assert "yes, remember it" in heard.choices


@pytest.mark.parametrize("said", (
    "goal weight 35 kg", "want to lose 20 kg in 2 weeks", "my target is to get down to 38 kg",
    "I hope to lose 10 kg in a month", "my glucose 320",
))  # fmt: skip
def test_aims_and_readings_that_belong_with_a_doctor(chat: Chat, said: str) -> None:
    heard = calm(chat.say(said))
    assert not heard.records


@pytest.mark.parametrize("said", (
    "goal weight 65 kg", "want to lose 2 kg in 4 weeks", "lost 2 kg", "sugar 20", "400 g sugar", "sugar 20 g",
    "I weigh 68 kg", "target 2100",
))  # fmt: skip
def test_ordinary_aims_and_figures_need_no_caution(chat: Chat, said: str) -> None:
    assert "caution" not in chat.say(said).kinds


def test_a_very_low_body_weight_is_recorded_with_calm_words(chat: Chat) -> None:
    heard = calm(chat.say("I weigh 38 kg"))
    assert heard.one("body_weight")["kg"] == 38


@pytest.mark.parametrize("said", ("age 14", "my age is 15", "aged 13"))
def test_an_age_under_18_gets_the_kind_words(chat: Chat, said: str) -> None:
    assert "school nurse" in chat.say(said).text
