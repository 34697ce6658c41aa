"""Questions, wishes and repeats read by their roles: what is asked, of what and when. A question records nothing."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from .chat import Chat, open_door

SATURDAY, SUNDAY, MONDAY = "2026-03-07", "2026-03-08", "2026-03-09"
NOON = f"{MONDAY}T13:00:00+00:00"
RECORD = (
    (f"{SATURDAY}T07:00:00+00:00", "target 2000 kcal and 100 g protein"),
    (f"{SATURDAY}T07:30:00+00:00", "I weigh 80.0 kg"),
    (f"{SATURDAY}T08:00:00+00:00", "breakfast: 50 g muesli, 200 g whole milk"),
    (f"{SATURDAY}T13:00:00+00:00", "lunch: 90 g rye bread, 40 g brie, 120 g cucumber"),
    (f"{SUNDAY}T08:00:00+00:00", "breakfast: 50 g muesli, 200 g whole milk"),
    (f"{SUNDAY}T13:00:00+00:00", "lunch: 90 g rye bread, 40 g brie, 120 g cucumber"),
    (f"{MONDAY}T08:00:00+00:00", "breakfast: 50 g muesli, 200 g whole milk"),
    (f"{MONDAY}T10:00:00+00:00", "cappuccino 180 g"),
    (f"{MONDAY}T11:00:00+00:00", "new batch dal: 400 g dry lentils, 200 g raw onions, 1000 g water"),
    (f"{MONDAY}T11:40:00+00:00", "the dal came to 1300 g"),
    (f"{MONDAY}T11:41:00+00:00", "new batch goulash: 600 g raw beef chuck, 300 g raw onions, 400 g water"),
    (f"{MONDAY}T12:20:00+00:00", "the goulash came to 1000 g"),
    (f"{MONDAY}T12:21:00+00:00", "put the goulash in 5 boxes"),
    (f"{MONDAY}T12:30:00+00:00", "took 300 g of the dal for lunch"),
)


def told(door_name: str = "me") -> Iterator[Chat]:
    with open_door() as door:
        chat = Chat(door, door_name, timezone="Europe/London", region="UK")
        for at, text in RECORD:
            chat.say(text, at=at)
        yield chat


@pytest.fixture(scope="module")
def asker() -> Iterator[Chat]:
    """Somebody of whose record is only asked."""
    yield from told()


@pytest.fixture
def writer() -> Iterator[Chat]:
    """The same, whose record may change."""
    yield from told()


@pytest.mark.parametrize(
    ("text", "kind", "says"),
    (
        ("what've I racked up today?", "sheet", "Today: "),
        ("gies the tally so far", "sheet", "Today: "),
        ("how much more may I eat before I hit my limit", "answer", "kcal left"),
        ("carbs, fat up to now", "answer", "carbs"),
        ("fibre and protein so far", "answer", "protein"),
        ("have I put the cappuccino in already", "answer", "cappuccino 180 g"),
        ("the heaviest thing today, energy-wise", "answer", "dal"),
        ("which meal had the most carbs", "answer", "lunch"),
        ("which day since Saturday had the most", "answer", "Saturday 7 March"),
        ("how much brie since saturday", "answer", "80 g, "),
        ("average of the last three days?", "sheet", "7 March to 9 March"),
        ("if my goal were 2400 what would I have left", "answer", "2,400 kcal"),
        ("protein left if I want 130?", "answer", "of 130 g"),
        ("say I take 200 g dal for dinner, what does that leave", "answer", "200 g"),
        ("have I any calories left for a beer", "answer", "kcal left"),
        ("how far off my protein am I", "answer", "left"),
        ("dal remaining, report", "answer", "1,000 g"),
        ("goulash boxes left, please", "listing", "5 boxes"),
        ("weight of one box of goulash", "listing", "200 g"),
        ("how many boxes have I and of what", "listing", "goulash"),
    ),
)
def test_a_question_is_answered_by_its_roles(asker: Chat, text: str, kind: str, says: str) -> None:
    said = asker.say(text, at=NOON)
    assert kind in said.kinds, said
    assert says in said.text, said
    assert not said.records, said


@pytest.mark.parametrize(
    ("text", "grams"),
    (
        ("the dal remaining for lunch", 1000.0),
        ("all the dal remaining went into me", 1000.0),
        ("a box of goulash", 200.0),
        ("had 150 g of dal, how nice was that", 150.0),
    ),
)
def test_what_is_eaten_of_a_batch_is_no_question(writer: Chat, text: str, grams: float) -> None:
    assert [each["edible_g"] for each in writer.say(text, at=NOON).all("weigh_in")] == [grams]


@pytest.mark.parametrize(
    ("text", "target"),
    (
        ("New daily limits, please: 1800 kcal, protein 95 g", {"kcal": 1800, "protein_g": 95}),
        ("put us at nineteen hundred a day with ninety grams of protein", {"kcal": 1900, "protein_g": 90}),
        ("from now on 2150 cals and 105 protein", {"kcal": 2150, "protein_g": 105}),
        ("my trainer told me to go for 140 g protein, put that in", {"kcal": 2000, "protein_g": 140}),
        ("aiming for 2300 a day now, protein the same", {"kcal": 2300, "protein_g": 100}),
        ("make my protein goal 1.5 g per kilo", {"kcal": 2000, "protein_g": 120}),
        ("protein target half a gram per pound", {"kcal": 2000, "protein_g": 88.18}),
        ("My new numbers are 2050 calories, 130 protein, 60 fat", {"kcal": 2050, "protein_g": 130, "fat_g": 60}),
    ),
)
def test_a_target_needs_no_word_for_it(writer: Chat, text: str, target: dict[str, float]) -> None:
    said = writer.say(text, at=NOON)
    found = said.one("target_set")
    assert {name: round(found[name], 2) for name in target} == target, said
    assert [event["type"] for event in said.records] == ["target_set"], said


@pytest.mark.parametrize(
    "text",
    (
        "I burn 2200 kcal a day says my watch",
        "a day of 1900 kcal yesterday",
        "he eats 3000 kcal a day",
        "is 2100 a day too much?",
        "120 g chicken breast a day",
        "set of 3 plates",
    ),
)
def test_figures_of_days_are_no_target_by_themselves(asker: Chat, text: str) -> None:
    assert not asker.say(text, at=NOON).all("target_set")


def test_a_target_for_each_kilogram_needs_a_body_weight(chat: Chat) -> None:
    said = chat.say("make my protein goal 1.5 g per kilo")
    assert "refused" in said.kinds
    assert "body weight" in said.text


@pytest.mark.parametrize(
    ("text", "name", "value"),
    (
        ("i'm on nights, don't flip my day at midnight, start it at 3 am", "day_starts", "3"),
        ("my day shouldn't begin before five in the morning", "day_starts", "5"),
        ("night shifts. my day starts 05:00", "day_starts", "5"),
        ("I'm over from the States, US cups please", "region", "US"),
        ("leave the calories out of it, only grams", "energy", "hidden"),
        ("I'm poorly, pause everything until Thursday", "pause", "2026-03-09/2026-03-12"),
    ),
)
def test_a_wish_is_read_by_what_it_holds(writer: Chat, text: str, name: str, value: str) -> None:
    said = writer.say(text, at=NOON)
    found = said.one("setting_changed")
    assert (found["name"], found["value"]) == (name, value), said


@pytest.mark.parametrize(
    "text",
    (
        "started my day at 4 am with 60 g toast",
        "give us cups of tea",
        "what would you say, US cups or UK cups?",
        "my sister is off on holiday till Sunday",
    ),
)
def test_what_only_looks_like_a_wish_sets_nothing(writer: Chat, text: str) -> None:
    assert not writer.say(text, at=NOON).all("setting_changed")


LUNCH = {"rye bread": 90.0, "brie": 40.0, "cucumber": 120.0}


@pytest.mark.parametrize(
    ("text", "eaten"),
    (
        ("had my usual lunch, no surprises there", LUNCH),
        ("my usual lunch today, only no brie in it", {"rye bread": 90.0, "cucumber": 120.0}),
        ("lunch was same as yesterday bar the cucumber", {"rye bread": 90.0, "brie": 40.0}),
        ("me lunch's what it were yesterday, so it is", LUNCH),
        ("normal lunch, nothing fancy", LUNCH),
        ("cappuccino too, same like before", {"cappuccino": 180.0}),
        ("another cappuccino, same size", {"cappuccino": 180.0}),
        ("one more cappuccino like this morning's", {"cappuccino": 180.0}),
        ("usual lunch, as I thought, 60 g brie this time", {**LUNCH, "brie": 60.0}),
        ("my usual rye bread but 70 g", {"rye bread": 70.0}),
    ),
)
def test_what_is_usual_is_repeated_with_what_differs(writer: Chat, text: str, eaten: dict[str, float]) -> None:
    said = writer.say(text, at=NOON)
    assert {each["food"]: each["edible_g"] for each in said.all("weigh_in")} == eaten, said
    assert not {"question", "not_understood"} & set(said.kinds), said


def test_a_usual_meal_is_defined_where_it_is_told_with_its_foods(writer: Chat) -> None:
    said = writer.say("my usual lunch happened, meaning rye bread 80, cheddar 30", at=NOON)
    told_now = [(each["food"], each["edible_g"], each["meal"]) for each in said.all("weigh_in")]
    assert told_now == [("rye bread", 80.0, "lunch"), ("cheddar cheese", 30.0, "lunch")], said
    again = writer.say("usual lunch", at=f"{MONDAY}T13:30:00+00:00")
    assert [each["edible_g"] for each in again.all("weigh_in")] == [80.0, 30.0], again


@pytest.mark.parametrize(
    "text",
    (
        "skipped my usual lunch, no surprises there",
        "should I have my usual lunch?",
        "the usual lunch place was shut",
        "my usual lunch tomorrow",
    ),
)
def test_a_usual_meal_that_was_not_eaten_stays_off_the_record(writer: Chat, text: str) -> None:
    assert not writer.say(text, at=NOON).records


@pytest.mark.parametrize(
    "text",
    (
        "is the ragu still ok to eat on friday",
        "is the ragu still ok?",
        "will the ragu be ok till thursday",
        "the ragu, has that gone off by now?",
        "is that ragu going to make me ill",
    ),
)
def test_whether_a_pot_may_still_be_eaten_is_answered_by_its_age(chat: Chat, text: str) -> None:
    for said in ("ragu: 500 g beef mince 5%, 400 g tinned tomatoes", "cooked 700"):
        chat.say(said)
    answer = chat.say(text)
    assert (answer.one("answer")["about"], answer.records) == ("keeping", [])


@pytest.mark.parametrize("text", ("how much is left?", "what's left", "and how much left now"))
def test_what_is_left_right_after_a_portion_is_of_the_pot_and_of_the_day(chat: Chat, text: str) -> None:
    for said in ("set my target to 2000 kcal", "ragu: 500 g beef mince 5%, 400 g tinned tomatoes", "cooked 700"):
        chat.say(said)
    chat.say("250 g of the ragu")
    answer = chat.say(text).text
    assert "450 g of 700 g" in answer
    assert "kcal left" in answer
    chat.say("120 g pear")
    assert "450 g" not in chat.say(text).text
