"""What is said of weigh-ins on record, clause by clause: another amount, food, day or meal, less of it, or none."""

import pytest

from .chat import Chat

RECORDED = (
    "yesterday 90 g grilled cod, 140 g boiled potatoes, 4 dates",
    "40 g swiss cheese",
    "100 g blackberries",
    "3 slices of rye bread",
    "180 g boiled carrots",
)
COD, POTATO, DATES, SWISS, BERRIES, BREAD, CARROTS = range(1, 8)
TUESDAY = "2026-03-03"


@pytest.mark.parametrize(
    ("said", "changes"),
    (
        ("that cod of yesterday was a hundred and ten and the potatoes two hundred", {COD: 110, POTATO: 200}),
        ("the potatoes on sunday were 160 and the cod 75", {COD: 75, POTATO: 160}),
        ("them blackberries were only 85 so they were", {BERRIES: 85}),
        ("hundred and twenty was the blackberries", {BERRIES: 120}),
        ("swapped the digits, swiss 45 and carrots 150", {SWISS: 45, CARROTS: 150}),
        ("got my numbers crossed: the carrots are 140", {CARROTS: 140}),
        ("those carrots came to 130 when I looked at the photo again", {CARROTS: 130}),
        ("regarding the carrots: kindly amend to 150 grams", {CARROTS: 150}),
        ("I'd like to correct the blackberries to 80 grams, if you please", {BERRIES: 80}),
        ("the blackberries ended up at 90 because some rolled off", {BERRIES: 90}),
        ("add 15 to the blackberries", {BERRIES: 115}),
        ("take 10 off the swiss and make the carrots 160", {SWISS: 30, CARROTS: 160}),
        ("oops, fat fingers. 108", {CARROTS: 108}),
        ("the box was still under it, 22 g, so knock that off", {CARROTS: 158}),
        ("I'd not finished them, I only had 120", {CARROTS: 120}),
    ),
)
def test_a_definite_food_on_record_with_its_verb_is_a_change(chat: Chat, said: str, changes: dict[int, float]) -> None:
    chat.given(*RECORDED)
    records = chat.say(said).records
    assert {event["type"] for event in records} == {"weigh_in_changed"}, records
    assert {event["id"]: round(event["as_weighed_g"]) for event in records} == changes


@pytest.mark.parametrize(
    ("said", "foods"),
    (
        ("another 60 g blackberries", {"blackberries": 60}),
        ("more of the carrots, 70 g", {"carrot": 70}),
        ("I had 50 g of the swiss cheese again", {"swiss cheese": 50}),
        ("the carrots are nice, 30 g almonds", {"almonds": 30}),
    ),
)
def test_another_helping_is_no_change(chat: Chat, said: str, foods: dict[str, float]) -> None:
    chat.given(*RECORDED)
    records = chat.say(said).records
    assert [event["type"] for event in records] == ["weigh_in"] * len(foods), records
    assert {event["food"]: event["as_weighed_g"] for event in records} == foods


def test_the_same_food_at_another_meal_is_no_change(chat: Chat) -> None:
    chat.say("120 g cooked rice", at="2026-03-02T12:00:00+00:00")
    said = chat.say("the rice with dinner was 150 g cooked and I had 90 g carrots", at="2026-03-02T19:00:00+00:00")
    assert {event["food"] for event in said.all("weigh_in")} == {"white rice", "carrot"}


@pytest.mark.parametrize(
    ("said", "changed", "new"),
    (
        ("the blackberries were 130 and I had 40 g feta with them", {BERRIES: 130}, {"feta": 40}),
        ("those carrots were 150, plus 20 g butter", {CARROTS: 150}, {"butter": 20}),
        ("I ate 60 g cherries and the swiss was 35", {SWISS: 35}, {"cherry": 60}),
    ),
)
def test_a_change_beside_what_was_eaten_besides(
    chat: Chat, said: str, changed: dict[int, float], new: dict[str, float]
) -> None:
    chat.given(*RECORDED)
    told = chat.say(said)
    assert {e["id"]: e["as_weighed_g"] for e in told.all("weigh_in_changed")} == changed
    assert {e["food"]: e["as_weighed_g"] for e in told.all("weigh_in")} == new


@pytest.mark.parametrize(
    ("said", "food"),
    (
        ("that cheese was provolone instead of swiss", "provolone"),
        ("I beg your pardon, I put swiss when I ought to have put gouda", "gouda"),
        ("swap swiss for gouda please", "gouda"),
        ("scratch the swiss and put feta instead", "feta"),
    ),
)
def test_another_food_takes_the_place_of_the_one_on_record(chat: Chat, said: str, food: str) -> None:
    chat.given(*RECORDED)
    changed = chat.say(said).changed()
    assert (changed["was"], changed["food"], changed["as_weighed_g"]) == (SWISS, food, 40)


def test_a_lone_denial_with_a_food_is_of_what_was_told_alone_just_before(chat: Chat) -> None:
    chat.say("12 g butter")
    assert chat.say("Nope. Margarine.").changed()["food"] == "margarine"


@pytest.mark.parametrize(
    ("said", "number", "day", "meal"),
    (
        ("move the carrots to sunday", CARROTS, "2026-03-01", None),
        ("those blackberries were last night actually", BERRIES, "2026-03-01", None),
        ("put the swiss on yesterday, I only remembered it now", SWISS, "2026-03-01", None),
        ("that goes under breakfast, not lunch", CARROTS, "2026-03-02", "breakfast"),
        ("the blackberries should be under snack", BERRIES, "2026-03-02", "snack"),
    ),
)
def test_what_belongs_to_another_day_or_meal_is_moved(
    chat: Chat, said: str, number: int, day: str, meal: str | None
) -> None:
    chat.given(*RECORDED)
    changed = chat.say(said).changed()
    assert (changed["was"], changed["day"], changed.get("meal")) == (number, day, meal)


@pytest.mark.parametrize(
    ("said", "gone"),
    (
        ("take that off i never ate them", {CARROTS}),
        ("delete", {CARROTS}),
        ("scrub both of those", {BREAD, CARROTS}),
        ("those sunday potatoes need to come off i had the wrong day", {POTATO}),
        ("the cod i logged yesterday take it off my wife ate that", {COD}),
        ("the swiss no longer counts, ended up in the bin", {SWISS}),
        ("that bread, I sent it back", {BREAD}),
    ),
)
def test_what_was_not_eaten_is_taken_off(chat: Chat, said: str, gone: set[int]) -> None:
    chat.given(*RECORDED)
    records = chat.say(said).records
    assert {event["type"] for event in records} == {"weigh_in_removed"}, records
    assert {event["id"] for event in records} == gone


def test_what_was_sent_twice_stands_once(chat: Chat) -> None:
    chat.given("50 g cashews", "50 g cashews")
    assert chat.say("I sent that twice, only one is real").one("weigh_in_removed")["id"] == 2


@pytest.mark.parametrize(
    ("said", "number", "count", "of"),
    (
        ("one of those slices went to the birds", BREAD, 2, 3),
        ("only 2 of the dates went into me yesterday", DATES, 2, 4),
        ("my daughter had one of the dates yesterday", DATES, 3, 4),
    ),
)
def test_so_many_of_those_counted_are_left(chat: Chat, said: str, number: int, count: int, of: int) -> None:
    chat.given(*RECORDED)
    before = {event["id"]: event for heard in chat.heard for event in heard.all("weigh_in")}[number]
    changed = chat.say(said).changed()
    assert changed["was"] == number
    assert changed["edible_g"] == pytest.approx(before["edible_g"] * count / of, abs=0.01)


@pytest.mark.parametrize(
    "said",
    (
        "the carrots I want are 300 g",
        "will the carrots be 200?",
        "the blackberries were great on saturday",
        "take it out of the oven",
        "forget it",
        "I never put the potatoes on yesterday's list, did I?",
    ),
)
def test_what_changes_nothing(chat: Chat, said: str) -> None:
    chat.given(*RECORDED)
    told = chat.say(said)
    assert not told.all("weigh_in_changed")
    assert not told.all("weigh_in_removed")
