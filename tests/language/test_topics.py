"""Whole sentences that are about no food: settings, targets, body weight, what is kept, what people say of themselves.

Salt from sodium: Regulation (EU) 1169/2011, Annex I (times 2.5). Pounds and stones: the international pound,
0.45359237 kg (NIST SP 811, table 10), 14 to the stone.
"""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from bot.language.asked import Sheet, Skip
from bot.language.fact_meanings import (
    AboutSelf,
    BodyWeight,
    ComputeTarget,
    DayKind,
    SaveHabit,
    SaveLabel,
    SaveTare,
    SetTarget,
)
from bot.language.meanings import Help, Meaning, NotMine
from bot.language.setting_meanings import Export, LocalTime, SetReminder, SetSetting, Snooze
from bot.language.surroundings import Surroundings
from bot.language.told import Item
from bot.language.understand import understand

AROUND = Surroundings(now=datetime(2026, 3, 4, 12, tzinfo=UTC), tares=(("blue pot", 1432.0),))
POUND_KG = 0.45359237


def only(said: str) -> Meaning:
    (meant,) = understand(said, AROUND)
    return meant


@pytest.mark.parametrize(
    ("said", "meant"),
    (
        ("my day starts at 4", SetSetting(name="day_starts", value="4")),
        ("I work nights, my day begins at 6 am", SetSetting(name="day_starts", value="6")),
        ("quiet hours from noon to 2 pm", SetSetting(name="quiet", value="12:00-14:00")),
        ("quiet hours 22 to 7", SetSetting(name="quiet", value="22:00-07:00")),
        ("day message on", SetSetting(name="day_message", value="on")),
        ("keep my day in one message", SetSetting(name="day_message", value="on")),
        ("unpin my day", SetSetting(name="day_message", value="on")),
        ("pin my day", SetSetting(name="day_message", value="pinned")),
        ("pin the day's total on top", SetSetting(name="day_message", value="pinned")),
        ("day message off", SetSetting(name="day_message", value="off")),
        ("stop the day message", SetSetting(name="day_message", value="off")),
        ("short replies please", SetSetting(name="receipts", value="short")),
        ("answer in one line", SetSetting(name="receipts", value="short")),
        ("just react to my messages", SetSetting(name="receipts", value="reaction")),
        ("react instead of replying", SetSetting(name="receipts", value="reaction")),
        ("full replies again", SetSetting(name="receipts", value="full")),
        ("no reactions", SetSetting(name="receipts", value="full")),
        ("no quiet hours", SetSetting(name="quiet", value="off")),
        ("remind me at noon", SetReminder(what="evening", time="12:00")),
        ("remind me at noon to log lunch", SetReminder(what="lunch", time="12:00")),
        ("remind me at quarter to eight in the evening", SetReminder(what="evening", time="19:45")),
        ("weekly summary at 6 pm on Sundays", SetReminder(what="week", time="18:00", weekdays="6")),
        ("digest on weekdays at 7", SetReminder(what="digest", time="07:00", weekdays="01234")),
        ("turn the reminder off", SetReminder(what="evening", time=None)),
        ("remind me again in half an hour", Snooze(minutes=30)),
        ("snooze", Snooze(minutes=60)),
        ("timezone Lisbon", SetSetting(name="timezone", value="Europe/Lisbon")),
        ("it's 19:40 here", LocalTime(clock="19:40")),
        ("units metric", SetSetting(name="region", value="metric")),
        ("no calories please", SetSetting(name="energy", value="hidden")),
        ("keep my messages for two weeks", SetSetting(name="keep_messages_days", value="14")),
        ("send me a copy of all my data", Export()),
        ("settings", Help(topic="settings")),
        ("/cancel", Skip()),
        ("how do I delete an entry?", Help(topic="fixes")),
        ("how do I set a target?", Help(topic="targets")),
        ("I'm 5'11\"", SetSetting(name="height_cm", value="180.3")),
        ("I'm 34 years old", SetSetting(name="born", value="1992")),
        ("last week", Sheet(span="week", day=date(2026, 3, 1), first=date(2026, 2, 23))),
    ),
)
def test_settings_and_what_is_asked_in_a_sentence(said: str, meant: Meaning) -> None:
    assert only(said) == meant


@pytest.mark.parametrize(
    ("said", "meant"),
    (
        (
            "set my target to seventeen hundred calories and one hundred twenty grams of protein",
            SetTarget(kcal=1700, protein_g=120),
        ),
        (
            "target 2000 kcal, 30 g fibre, salt 5 g, sugars 50 g, saturates 20 g",
            SetTarget(kcal=2000, fibre_g=30, salt_g=5, sugars_g=50, saturated_fat_g=20),
        ),
        ("fibre target 30 g", SetTarget(kcal=None, fibre_g=30)),
        ("target alcohol 10 g", SetTarget(kcal=None, alcohol_g=10)),
        ("target 1900 until Friday", SetTarget(kcal=1900, until=date(2026, 3, 6))),
        ("target 1800 kcal in two weeks", SetTarget(kcal=1800, day=date(2026, 3, 18))),
        ("target 1800 kcal from the 15th", SetTarget(kcal=1800, day=date(2026, 3, 15))),
        ("target 2600 kcal on training days", SetTarget(kcal=2600, days="training")),
        ("target 2200 kcal on weekdays", SetTarget(kcal=2200, days="01234")),
        ("today is a rest day", DayKind(kind="rest", day=date(2026, 3, 4))),
        ("compute a target for me to lose half a kilo a week", ComputeTarget(kg_per_week=-0.5)),
    ),
)
def test_targets(said: str, meant: Meaning) -> None:
    assert only(said) == meant


def test_a_target_with_a_number_left_over_is_not_set() -> None:
    assert not any(isinstance(meaning, SetTarget) for meaning in understand("target 2100 kcal 160 12", AROUND))


@pytest.mark.parametrize(
    ("said", "kg"),
    (
        ("this morning eighty two point four kilos", 82.4),
        ("83.6 kg it said", 83.6),
        ("my wait this morning is 82.4 kg", 82.4),
        ("11 stone 6", (11 * 14 + 6) * POUND_KG),
        ("I weighed in at 12 stone 13 today", (12 * 14 + 13) * POUND_KG),
        ("bw 181.4 lb", 181.4 * POUND_KG),
    ),
)
def test_body_weight_in_many_words(said: str, kg: float) -> None:
    meant = only(said)
    assert isinstance(meant, BodyWeight)
    assert meant.kg == pytest.approx(kg)


@pytest.mark.parametrize("said", ("lost 0.6 kg", "I want to be 75 kg", "I have taken off 1,5 kg since January"))
def test_a_change_or_an_aim_is_no_weight(said: str) -> None:
    assert only(said) == NotMine(why="body_change")


@pytest.mark.parametrize(
    ("said", "kind"),
    (
        ("I'm pregnant", "pregnant"),
        ("I'm 14 weeks pregnant by the way", "pregnant"),
        ("I take insulin", "insulin"),
        ("I have an eating disorder", "eating_disorder"),
        ("I'm 16", "minor"),
        ("I threw up on purpose", "purging"),
        ("I haven't eaten for three days", "fasting"),
        ("I want to hurt myself", "self_harm"),
        ("I don't want to live any more", "self_harm"),
        ("my blood sugar is 14.2", "blood_sugar"),
    ),
)
def test_what_people_say_about_themselves(said: str, kind: str) -> None:
    meant = only(said)
    assert isinstance(meant, AboutSelf)
    assert meant.kind == kind


@pytest.mark.parametrize(
    "said", ("I'm 34", "I haven't eaten for three hours", "I ate 16 g almonds", "I want 200 g rice")
)
def test_what_is_nothing_of_the_kind(said: str) -> None:
    assert not any(isinstance(meaning, AboutSelf) for meaning in understand(said, AROUND))


def test_a_label_per_100_g_pasted_in_lines() -> None:
    said = """label rye crispbread
per 100 g: Energy 1490 kJ / 354 kcal
Fat 1.6 g of which saturates 0.3 g, carbs 62 g, of which sugars 1.1 g
fibre 16 g, protein 10 g, salt 1.2 g"""
    assert only(said) == SaveLabel(
        food="rye crispbread", serving_g=100, kcal=354, protein_g=10, fat_g=1.6, carbohydrate_g=62, fibre_g=16,
        sugars_g=1.1, saturated_fat_g=0.3, salt_g=1.2,
    )  # fmt: skip


def test_a_labels_figures_may_stand_in_any_order() -> None:
    assert only("rye crackers, protein 10 g, carbs 60 g, fat 3 g, 340 kcal per 100 g") == SaveLabel(
        food="rye crackers", serving_g=100, kcal=340, protein_g=10, fat_g=3, carbohydrate_g=60
    )


def test_kilojoules_sodium_and_sugar_alcohol() -> None:
    soup = only("label soup: per 100 g 200 kJ, protein 2, fat 1.5, carbs 6, sodium 300 mg")
    assert isinstance(soup, SaveLabel)
    assert soup.kcal == pytest.approx(200 / 4.184)
    assert soup.salt_g == pytest.approx(0.75)
    mints = only("label mints: serving 20 g, 48 kcal, carbs 19 g, sugar alcohol 18 g, fat 0 g, protein 0 g")
    assert isinstance(mints, SaveLabel)
    assert (mints.polyols_g, mints.alcohol_g) == (18, None)


@pytest.mark.parametrize(
    ("said", "name", "grams"),
    (
        ("the blue pot weighs 1432 g", "blue pot", 1432),
        ("empty glass dish 1230 g", "glass dish", 1230),
        ("the empty weight of the wok is 1.2 kg", "wok", 1200),
        ("blue pot 1450 g", "blue pot", 1450),
    ),
)
def test_vessels(said: str, name: str, grams: float) -> None:
    meant = only(said)
    assert isinstance(meant, SaveTare)
    assert meant.amount is not None
    assert (meant.name, meant.amount.grams) == (name, grams)


def test_a_vessel_that_nobody_knows_is_no_tare_by_itself() -> None:
    assert not any(isinstance(meaning, SaveTare) for meaning in understand("glass dish 1230 g", AROUND))


@pytest.mark.parametrize(
    "said", ("I always weigh rice dry", "rice is always weighed dry", "the rice I always weigh dry")
)
def test_habits(said: str) -> None:
    meant = only(said)
    assert isinstance(meant, SaveHabit)
    assert (meant.name.foods, str(meant.state)) == (("white rice",), "raw")


def test_a_weigh_in_stays_one() -> None:
    for said in ("18 g peanut butter", "200 g rice with 5 g salt", "alcohol free beer 330 g"):
        assert all(isinstance(meaning, Item) for meaning in understand(said, AROUND)), said
