"""Days, weeks, months, and what they say of their own figures."""

import math
import re

import pytest
from sqlalchemy import select

from bot.reports import series
from bot.store.schema import outbox
from domain.table_errors import SPREADS, Likeness


def sheet(answer):
    (event,) = [event for event in answer["events"] if event["type"] == "sheet"]
    return event, answer["replies"][0]["text"]


@pytest.mark.parametrize(
    "said", ("on Friday", "friday", "27 February", "feb 27", "2026-02-27", "what did I eat on Friday?")
)
def test_any_day_can_be_said(talk, said):
    talk.say("150 g banana", "2026-02-27T09:00")
    event, text = sheet(talk.say(said, "2026-03-02T12:00"))
    assert (event["span"], event["day"]) == ("day", "2026-02-27")
    assert "banana" in text


def test_a_day_of_last_year_says_so(talk):
    event, text = sheet(talk.say("3 March", "2026-03-02T12:00"))
    assert event["day"] == "2025-03-03"
    assert "Monday 3 March 2025" in text


def test_the_day_says_how_far_off_it_can_be(talk):
    talk.say("2 bananas", "2026-03-02T09:00")
    _, text = sheet(talk.say("today"))
    counted = int(re.findall(r"give or take (\d+)", text)[0])
    talk.say("delete #1")
    talk.say("236 g banana")
    event, text = sheet(talk.say("today"))
    weighed = int(re.findall(r"give or take (\d+)", text)[0])
    # 68 % of a banana from small to large, even between (a 12th of its square), beside what a row is off by; twice
    # for 95 %, shown to the next 10; by weight the same bananas are off by a gram or so and by their row
    grown = SPREADS[Likeness.GROWN]
    assert counted - 10 < 2 * math.hypot(0.68 / 12**0.5, grown) * event["kcal"] <= counted
    assert weighed - 10 < 2 * grown * event["kcal"] <= weighed


@pytest.mark.parametrize(
    "said",
    (
        "what does give or take mean?",
        "how accurate is today?",
        'why "give or take 110"?',
        "how sure are you of that number",
    ),
)
def test_what_a_day_is_off_by_is_explained_by_its_two_causes(talk, said):
    talk.say("2 bananas", "2026-03-02T09:00")
    answer = talk.say(said)
    (event,) = answer["events"]
    assert (event["type"], event["about"]) == ("answer", "precision")
    both, amounts, tables = (
        int(figure) for figure in re.findall(r"(?:take|pieces\):|alike:) (\d+) kcal", answer["replies"][0]["text"])
    )
    assert max(amounts, tables) < both < amounts + tables


def test_it_is_explained_without_figures_to_whoever_hides_energy(talk):
    talk.say("2 bananas", "2026-03-02T09:00")
    talk.say("hide my calories")
    assert "give or take" not in talk.say("what does give or take mean?")["replies"][0]["text"]


def test_a_weight_without_figures_makes_it_at_least(talk):
    talk.say("150 g banana", "2026-03-02T09:00")
    talk.say("200 g zibbernax")
    talk.say("weight only")
    _, text = sheet(talk.say("today"))
    assert text.startswith("Today: at least 134 kcal")
    _, text = sheet(talk.say("/week"))
    assert "at least" in text
    assert "zibbernax has a weight but no figures" in text


def test_the_week_means_over_the_days_logged(talk):
    talk.say("100 g olive oil", "2026-03-01T09:00")
    talk.say("140 g olive oil", "2026-03-03T09:00")
    event, text = sheet(talk.say("/week", "2026-03-04T09:00"))
    assert (event["span"], event["day"]) == ("week", "2026-03-04")
    assert "2 of 7 days logged" in text
    # SR28 04053: 884 kcal per 100 g
    assert "1,061 kcal" in text
    assert "From 884 to 1,238 kcal" in text
    assert "5 days have nothing on record" in text


@pytest.mark.parametrize(
    ("said", "first", "last"),
    (
        ("last week", "2 March", "8 March"),
        ("how was last week?", "2 March", "8 March"),
        ("the week before last", "23 February", "1 March"),
        ("two weeks ago", "23 February", "1 March"),
        ("week of 25 February", "23 February", "1 March"),
        ("the week of the 2nd of March", "2 March", "8 March"),
        ("week of last Monday", "9 March", "12 March"),
        ("this week so far", "9 March", "12 March"),
        ("how was this week", "6 March", "12 March"),
        ("weekly summary", "6 March", "12 March"),
        ("last 7 days", "6 March", "12 March"),
    ),
)
def test_weeks_of_the_calendar_and_the_last_seven_days(talk, said, first, last):
    # 12 March 2026 is a Thursday
    for day in range(1, 13):
        talk.say("100 g banana", f"2026-03-{day:02d}T09:00")
    event, text = sheet(talk.say(said, "2026-03-12T12:00"))
    assert event["span"] == "week"
    assert text.startswith(f"{first} to {last}, ")
    drawn = last_picture(talk)
    assert drawn.title == f"{first} to {last} 2026"
    ends = [f"{day.day} {day:%B}" for day in (drawn.days[0].day, drawn.days[-1].day)]
    assert ends == [first, last]


def last_picture(talk):
    with talk.tarebook.transaction() as conn:
        newest = select(outbox.c.picture).where(outbox.c.picture.is_not(None)).order_by(outbox.c.id.desc()).limit(1)
        return series.decode(conn.execute(newest).scalar_one())


def test_a_week_that_has_just_begun_is_measured_by_its_own_days(talk):
    talk.say("100 g banana", "2026-03-09T09:00")
    _, text = sheet(talk.say("week so far"))
    assert text.startswith("9 March, every day logged.")


def test_basis_switches_are_pointed_out(talk):
    for day in (1, 2, 3):
        talk.say("200 g dry rice" if day == 1 else "200 g cooked rice", f"2026-03-0{day}T09:00")
    _, text = sheet(talk.say("/week", "2026-03-04T09:00"))
    assert "weighed raw once and cooked twice" in text


def test_at_most_two_things_worth_fixing(talk):
    talk.say("2 bananas", "2026-03-02T09:00")
    talk.say("200 g zibbernax")
    talk.say("weight only")
    talk.say("200 g chocolate rice")
    _, text = sheet(talk.say("/week"))
    assert text.count("Worth fixing:") == 2


def test_the_picture_comes_with_the_week_and_not_with_the_day(talk):
    talk.say("150 g banana", "2026-03-02T09:00")
    assert talk.say("/week")["replies"][0]["image"]
    assert not talk.say("today")["replies"][0]["image"]


@pytest.mark.parametrize(
    ("said", "day"), (("this month", "2026-03-02"), ("last month", "2026-02-28"), ("february", "2026-02-28"))
)
def test_months(talk, said, day):
    talk.say("150 g banana", "2026-02-27T09:00")
    talk.say("150 g banana", "2026-03-02T09:00")
    event, _ = sheet(talk.say(said))
    assert (event["span"], event["day"]) == ("month", day)
    assert event["kcal"] == pytest.approx(133.5)


def test_body_weight_and_what_it_implies(talk):
    talk.step(person="me", region="metric")
    for day in range(1, 21):
        # half a kilogram a week on 1,768 kcal: 550 kcal a day more are spent
        talk.say(f"I weigh {80 - day / 14:.2f} kg", f"2026-03-{day:02d}T07:00")
        for hour in (12, 13):
            talk.say("100 g olive oil", f"2026-03-{day:02d}T{hour}:00")
    answer = talk.say("how much energy do I burn?", "2026-03-21T12:00")
    assert answer["events"] == [{"type": "answer", "about": "energy_balance"}]
    spent = int(re.findall(r"about ([\d,]+) kcal", answer["replies"][0]["text"])[0].replace(",", ""))
    assert spent == pytest.approx(1768 + 550, abs=5)
    assert "not a measurement" in answer["replies"][0]["text"]


def test_two_weeks_of_both_are_needed(talk):
    talk.say("I weigh 181.6 lb", "2026-03-02T07:00")
    assert "14" in talk.say("energy balance")["replies"][0]["text"]


@pytest.mark.parametrize(
    ("said", "kg"),
    (("82.4 kg this morning", 82.4), ("I'm 181.6 lb", 82.37), ("12 st 13", 82.1), ("I weigh 82.4 kg", 82.4)),
)
def test_body_weights_are_no_food(talk, said, kg):
    # 1 lb is 0.45359237 kg, 1 st is 14 lb (NIST)
    assert talk.say(said)["events"] == [{"type": "body_weight", "kg": kg, "day": "2026-03-02"}]


def test_several_very_low_days_bring_one_calm_word(talk):
    for day in (1, 2, 3, 4):
        talk.say("500 g banana", f"2026-03-0{day}T09:00")
    first = talk.say("today", "2026-03-05T09:00")
    assert {"type": "caution", "kind": "very_low_days"} in first["events"]
    assert "doctor" in first["replies"][0]["text"]
    assert all(event["type"] != "caution" for event in talk.say("today")["events"])


def test_waiting_questions_stand_on_the_sheet(talk):
    talk.say("200 g chocolate rice", "2026-03-02T09:00")
    event, text = sheet(talk.say("today"))
    assert event["waiting"] == 1
    assert "One question is open" in text
    assert "#1 chocolate rice, 200 g: no figures yet, which food?" in text


def test_a_day_with_open_weigh_ins_only_is_logged_and_left_out_of_the_means(talk):
    talk.say("200 g rice", "2026-03-02T12:00")
    _, text = sheet(talk.say("/week", "2026-03-02T13:00"))
    assert text.startswith("24 February to 2 March, 1 of 7 days logged, with open weigh-ins only.")
    talk.say("150 g pasta", "2026-03-03T12:00")
    talk.say("100 g olive oil", "2026-03-04T12:00")
    _, text = sheet(talk.say("/week", "2026-03-04T13:00"))
    assert "3 of 7 days logged, 2 of them with open weigh-ins only." in text
    # SR28 04053: 884 kcal per 100 g
    assert "On average, a day with figures has 884 kcal" in text
    assert "4 days have nothing on record" in text
