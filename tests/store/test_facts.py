"""What a person has told for good: the newest that is not undone counts, and nobody else's."""

from datetime import date, timedelta
from typing import Any

import pytest

from bot.kinds import Remembered
from bot.store import aims, days, facts, journal, memory
from bot.store.memory import Memory
from domain.foods import State
from domain.labels import Label
from domain.targets import Target

from .records import MONDAY, Message, share_kitchen

TODAY = MONDAY.date()
WHEY = Label("whey", 31, 120, 24, 1.5, 3, fibre_g=0.5, measure="scoop", measure_count=1, alcohol_g=0, polyols_g=0.1)
CRISPS = Label("crisps", 25, 130, 1.5, 8, 13)

# What is saved, then saved anew, and how it is read: (save, save anew, read, first answer, second answer).
FACTS: dict[str, tuple[Any, ...]] = {
    "tare": (
        lambda books: facts.save_tare(books, "blue bowl", 132),
        lambda books: facts.save_tare(books, "blue bowl", 135.5),
        facts.tares,
        {"blue bowl": 132},
        {"blue bowl": 135.5},
    ),
    "measure": (
        lambda books: facts.save_measure(books, "soup", "ladle", 140),
        lambda books: facts.save_measure(books, "soup", "cup", 260),
        facts.measures,
        {("soup", "ladle"): 140},
        {("soup", "ladle"): 140, ("soup", "cup"): 260},
    ),
    "label": (
        lambda books: facts.save_label(books, WHEY),
        lambda books: facts.save_label(books, CRISPS),
        facts.labels,
        {"whey": WHEY},
        {"whey": WHEY, "crisps": CRISPS},
    ),
    "habit": (
        lambda books: facts.save_habit(books, "rice", State.COOKED),
        lambda books: facts.save_habit(books, "rice", State.RAW),
        facts.habits,
        {"rice": State.COOKED},
        {"rice": State.RAW},
    ),
    "target": (
        lambda books: facts.save_target(books, Target(kcal=2100), TODAY),
        lambda books: facts.save_target(books, Target(kcal=2000, protein_g=140, fat_g=70, carbohydrate_g=200), TODAY),
        lambda books: facts.target(books, TODAY),
        Target(kcal=2100),
        Target(kcal=2000, protein_g=140, fat_g=70, carbohydrate_g=200),
    ),
    "day_kind": (
        lambda books: facts.save_day_kind(books, TODAY, "training"),
        lambda books: facts.save_day_kind(books, TODAY, "rest"),
        lambda books: aims.kinds(books, TODAY, TODAY),
        {TODAY: "training"},
        {TODAY: "rest"},
    ),
    "body_weight": (
        lambda books: facts.save_body_weight(books, 82.4, TODAY),
        lambda books: facts.save_body_weight(books, 82.1, TODAY),
        lambda books: facts.body_weights(books, TODAY, TODAY),
        [(TODAY, 82.4)],
        [(TODAY, 82.1)],
    ),
    "reminder": (
        lambda books: facts.save_reminder(books, "log", "20:30"),
        lambda books: facts.save_reminder(books, "log", None),
        facts.reminders,
        {"log": "20:30"},
        {"log": None},
    ),
    "setting": (
        lambda books: facts.save_setting(books, "units", "oz"),
        lambda books: facts.save_setting(books, "units", "g"),
        facts.settings,
        {"units": "oz"},
        {"units": "g"},
    ),
    "memory": (
        lambda books: memory.keep(books, Remembered.KIND, "Yogurt", "nonfat greek yogurt"),
        lambda books: memory.keep(books, Remembered.KIND, "yogurt", "skyr"),
        memory.everything,
        [Memory(Remembered.KIND, "yogurt", "nonfat greek yogurt")],
        [Memory(Remembered.KIND, "yogurt", "skyr")],
    ),
}


@pytest.mark.parametrize("kind", tuple(FACTS))
def test_the_newest_counts_and_undo_brings_the_older_one_back(message: Message, kind: str) -> None:
    save, save_anew, read, first, second = FACTS[kind]
    with message() as books:
        nothing = read(books)
        assert not nothing
        save(books)
    with message() as books:
        assert read(books) == first
        save_anew(books)
    with message() as books:
        assert read(books) == second
        assert [(undone.kind) for undone in journal.undo(books, journal.last(books))] == [kind]
        assert read(books) == first
    with message() as books:
        journal.undo(books, journal.last(books))
        assert read(books) == nothing


@pytest.mark.parametrize("kind", tuple(FACTS))
def test_what_one_has_told_another_does_not_have(message: Message, kind: str) -> None:
    save, _, read, first, _ = FACTS[kind]
    with message("mira") as books:
        save(books)
    with message("joao") as books:
        assert not read(books)
    share_kitchen(message, "mira", "joao")
    with message("joao") as books:
        # The vessels are the kitchen's; all else stays with the person.
        assert (read(books) == first) is (kind == "tare")


def test_a_target_holds_from_its_day_on(message: Message) -> None:
    with message(at=MONDAY) as books:
        facts.save_target(books, Target(kcal=2100), TODAY)
    with message(at=MONDAY + timedelta(days=7)) as books:
        facts.save_target(books, Target(kcal=2000), books.today)
        assert facts.target(books, TODAY - timedelta(days=1)) is None
        assert facts.target(books, TODAY) == Target(kcal=2100)
        assert facts.target(books, TODAY + timedelta(days=6)) == Target(kcal=2100)
        assert facts.target(books, TODAY + timedelta(days=7)) == Target(kcal=2000)


def test_of_each_nutrient_the_closest_figure_of_a_day_counts(message: Message) -> None:
    tuesday, friday = TODAY + timedelta(days=1), TODAY + timedelta(days=4)
    with message(at=MONDAY) as books:
        facts.save_target(books, Target(kcal=2100, fibre_g=30), TODAY)
        facts.save_target(books, Target(kcal=2200), TODAY, days="01234")
        facts.save_target(books, Target(kcal=2600), TODAY, days="training")
        facts.save_target(books, Target(salt_g=5), TODAY, until=friday)
        facts.save_day_kind(books, tuesday, "training")
        expected = {
            TODAY: Target(kcal=2200, fibre_g=30, salt_g=5),
            tuesday: Target(kcal=2600, fibre_g=30, salt_g=5),
            friday: Target(kcal=2200, fibre_g=30, salt_g=5),
            friday + timedelta(days=1): Target(kcal=2100, fibre_g=30),
        }
        assert days.targets(books, tuple(expected)) == expected
        assert {day: days.so_far(books, day)[2] for day in expected} == {d: t.kcal for d, t in expected.items()}
        assert facts.coming_targets(books, TODAY) == {friday + timedelta(days=1): Target(kcal=2100, fibre_g=30)}


def test_a_target_that_arrives_late_holds_until_the_next_one_did(message: Message) -> None:
    with message(at=MONDAY + timedelta(days=7)) as books:
        facts.save_target(books, Target(kcal=2000), books.today)
    with message(at=MONDAY) as books:
        facts.save_target(books, Target(kcal=2100), TODAY)
        assert facts.target(books, TODAY + timedelta(days=6)) == Target(kcal=2100)
        assert facts.target(books, TODAY + timedelta(days=7)) == Target(kcal=2000)


def test_body_weights_come_by_day_within_the_span(message: Message) -> None:
    days = [date(2026, 2, 28), date(2026, 3, 1), date(2026, 3, 2), date(2026, 3, 3)]
    with message() as books:
        for day, kg in zip(reversed(days), (80.0, 81.0, 82.0, 83.0), strict=True):
            facts.save_body_weight(books, kg, day)
        assert facts.body_weights(books, days[1], days[2]) == [(days[1], 82.0), (days[2], 81.0)]


def test_the_first_time_is_once_for_each_person_and_key(message: Message) -> None:
    with message("mira") as books:
        assert facts.first_time(books, "nudge scoop")
        assert not facts.first_time(books, "nudge scoop")
        assert facts.first_time(books, "nudge basis")
    with message("joao") as books:
        assert facts.first_time(books, "nudge scoop")
    with message("mira") as books:
        assert not facts.first_time(books, "nudge scoop")
        assert journal.last(books) == []


def test_a_remembered_answer_is_forgotten_and_undo_brings_it_back(message: Message) -> None:
    with message() as books:
        assert memory.keep(books, Remembered.DRINK, "coffee", "volume")
        assert not memory.keep(books, Remembered.DRINK, "Coffee", "volume")
        assert memory.recall(books, Remembered.DRINK, "COFFEE") == "volume"
        assert memory.recall(books, Remembered.KIND, "coffee") is None
    with message() as books:
        assert memory.forget(books, Remembered.DRINK, "coffee")
        assert not memory.forget(books, Remembered.DRINK, "coffee")
        assert memory.everything(books) == []
    with message() as books:
        journal.undo(books, journal.last(books))
        assert memory.recall(books, Remembered.DRINK, "coffee") == "volume"


def test_a_remembered_answer_is_told_the_first_time_it_is_used(message: Message) -> None:
    coffee = Memory(Remembered.DRINK, "coffee", "volume")
    with message() as books:
        assert [memory.first_use(books, coffee) for _ in range(2)] == [True, False]
        assert memory.first_use(books, Memory(Remembered.DRINK, "coffee", "weight"))
