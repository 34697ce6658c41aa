"""Targets by hand and computed."""

import pytest


def types(answer):
    return [event["type"] for event in answer["events"]]


def test_each_input_is_asked_once_in_the_regions_units(talk):
    talk.step(person="me", region="US")
    asked = [talk.say("compute my target")["events"][-1]["about"]]
    for text in ("none of these", "female", "45", "5 ft 5", "165.35 lb", "mostly sitting"):
        asked.append(talk.say(text)["events"][-1]["about"])
    assert asked == [f"target_{a}" for a in ("condition", "sex", "age", "height", "weight", "activity", "rate")]
    answer = talk.say("keep my weight")
    assert types(answer)[-1] == "target_set"
    # dummies.com, article 166764: a woman of 45 years, 75 kg and 165.1 cm rests on 1,396 kcal
    assert "at rest 1,396 kcal" in answer["replies"][0]["text"]
    assert "Mifflin-St Jeor" in answer["replies"][0]["text"]
    assert "10 %" in answer["replies"][0]["text"]
    talk.say("compute my target to lose 1 lb a week")
    again = talk.say("none of these")
    assert types(again) == ["target_set"]
    # 1,396 x 1.40 less 500 kcal a day for a pound a week, which ends above the floor of 1,200
    assert again["events"][0]["kcal"] == pytest.approx(1396 * 1.4 - 500, abs=6)


@pytest.mark.parametrize("said", ("yes", "yes, one of them", "I'm pregnant", "I take insulin"))
def test_a_condition_means_no_computed_target(talk, said):
    talk.say("calculate a target")
    answer = talk.say(said)
    # Beside the refusal stands the question whether to remember it.
    assert types(answer) == ["caution", "refused", "question"]
    assert "doctor" in answer["replies"][0]["text"]


def test_under_18_means_no_computed_target(talk):
    talk.say("calculate a target")
    talk.say("none of these")
    talk.say("male")
    answer = talk.say("17")
    assert types(answer)[-2:] == ["caution", "refused"]


def test_never_below_the_floor(talk):
    talk.step(person="me", region="metric")
    talk.say("calculate a target")
    for text in ("none of these", "female", "67", "158 cm", "54 kg", "mostly sitting"):
        talk.say(text)
    answer = talk.say("lose 1 kg a week")
    assert answer["events"][0] == {
        "type": "target_set",
        "kcal": 1200.0,
        "protein_g": None,
        "fat_g": None,
        "carbohydrate_g": None,
    }
    assert answer["events"][1]["type"] == "caution"


def test_a_low_target_is_kept_after_a_second_yes_only(talk):
    answer = talk.say("target 1000 kcal")
    assert types(answer) == ["caution", "question"]
    assert types(talk.say("yes")) == ["target_set"]
    assert types(talk.say("target 1200 kcal")) == ["target_set"]


def test_the_floor_follows_the_sex_that_was_told(talk):
    talk.say("I'm a man")
    assert types(talk.say("target 1400 kcal")) == ["caution", "question"]


def test_a_new_target_leaves_earlier_days_alone(talk):
    talk.say("target 2000 kcal", "2026-03-02T08:00")
    talk.say("150 g banana", "2026-03-02T09:00")
    talk.say("target 1800 kcal", "2026-03-04T08:00")
    assert "of 2,000 kcal" in talk.say("on Monday")["replies"][0]["text"]
    assert "of 1,800 kcal" in talk.say("today")["replies"][0]["text"]


@pytest.mark.parametrize(
    ("said", "first"),
    (
        ("target 2100 kcal from Monday", "2026-03-16"),
        ("from next Monday target 2100", "2026-03-16"),
        ("target 2100 kcal from Thursday", None),
        ("from tomorrow target 2100", "2026-03-13"),
        ("starting on Saturday my target is 2100 kcal", "2026-03-14"),
        ("from 1 April target 2100", "2026-04-01"),
        ("target 2100 from 2026-04-01", "2026-04-01"),
        ("target 2100 from the 15th", "2026-03-15"),
        ("target 2100 kcal from next week", "2026-03-16"),
        ("my target is 2100 kcal from May", "2026-05-01"),
        ("in two weeks target 2100", "2026-03-26"),
        ("from 1 March target 2100", None),
        ("target 2100 kcal from last Monday", None),
        ("target 2100 until Saturday", None),
    ),
)
def test_a_target_may_begin_on_a_day_to_come_but_never_on_one_that_is_over(talk, said, first):
    # 12 March 2026 is a Thursday
    talk.say("target 2300 kcal protein 160", "2026-03-01T08:00")
    talk.say("150 g banana", "2026-03-11T08:00")
    (event,) = talk.say(said, "2026-03-12T08:00")["events"]
    assert (event["kcal"], event["protein_g"], event.get("from")) == (2100, 160, first)
    assert "of 2,300 kcal" in talk.say("yesterday")["replies"][0]["text"]
    assert ("of 2,300 kcal" if first else "of 2,100 kcal") in talk.say("today")["replies"][0]["text"]
    if first:
        assert "of 2,100 kcal" in talk.say("today", f"{first}T08:00")["replies"][0]["text"]


def test_the_reply_and_the_list_say_what_stands_and_what_is_coming(talk):
    talk.say("target 2300 kcal", "2026-03-12T08:00")
    answer = talk.say("target 2100 kcal protein 150 from Monday")["replies"][0]["text"]
    assert answer == "Target from Monday 16 March on: 2,100 kcal, protein 150 g. Until then it is 2,300 kcal."
    for said in ("target", "/target", "what is my target?"):
        assert talk.say(said)["replies"][0]["text"].splitlines() == [
            "Your target: 2,300 kcal.",
            "From Monday 16 March on: 2,100 kcal, protein 150 g.",
        ]
    text = talk.say("target 2200 kcal")["replies"][0]["text"]
    assert text.splitlines()[1] == "From Monday 16 March on: 2,100 kcal, protein 150 g, as set before."
    talk.say("undo")
    talk.say("undo")
    assert talk.say("target")["replies"][0]["text"] == "Your target: 2,300 kcal."


def test_a_low_target_to_come_begins_when_it_was_to_also_when_the_yes_comes_first(talk):
    assert types(talk.say("target 1000 kcal from Friday", "2026-03-12T08:00")) == ["caution", "question"]
    assert talk.say("yes")["events"][0]["from"] == "2026-03-13"
    talk.say("target 900 kcal from tomorrow")
    late = talk.say("yes", "2026-03-20T08:00")
    assert "Target from today on: 900 kcal" in late["replies"][0]["text"]


def test_a_computed_target_may_begin_on_a_day_to_come(talk):
    talk.say("compute my target from Monday", "2026-03-12T08:00")
    for text in ("none of these", "female", "45", "5 ft 5", "165.35 lb", "mostly sitting"):
        talk.say(text)
    assert talk.say("keep my weight")["events"][-1]["from"] == "2026-03-16"


def test_a_target_more_than_a_year_ahead_is_refused(talk):
    assert types(talk.say("target 2100 kcal from 2031-01-01")) == ["refused"]


def test_another_message_in_between_is_taken_as_such(talk):
    talk.say("calculate a target")
    talk.say("none of these")
    talk.say("male")
    assert types(talk.say("150 g banana")) == ["weigh_in"]
    assert types(talk.say("34 years")) == ["setting_changed"], "told by itself, and no answer"
    assert talk.say("calculate a target")["events"][-1]["about"] == "target_condition"


@pytest.mark.parametrize(
    ("said", "cm"),
    (
        ("178", "178"), ("178 cm", "178"), ("1.78 m", "178"), ("1,78m", "178"), ("5'10", "177.8"),
        ("5 ft 10 in", "177.8"), ("6 foot", "182.9"), ("70 in", "177.8"), ("70", "177.8"), ("I'm 178 cm tall", "178"),
    ),
)  # fmt: skip
def test_heights_as_people_say_them(talk, said, cm):
    # 1 inch is 2.54 cm exactly (NIST); a bare 70 is inches in the US alone
    talk.step(person="me", region="US")
    talk.say("calculate a target")
    for text in ("none of these", "male", "34"):
        talk.say(text)
    answer = talk.say(said)
    assert answer["events"][0] == {"type": "setting_changed", "name": "height_cm", "value": cm}


def test_a_height_nobody_has_is_asked_again(talk):
    talk.say("calculate a target")
    for text in ("none of these", "male", "34"):
        talk.say(text)
    assert talk.say("17 cm")["events"][-1]["about"] == "target_height"
