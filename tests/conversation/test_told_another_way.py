"""What is taken back, put right and set, told in words of other people than those before."""

import pytest

from .chat import Chat


@pytest.mark.parametrize(
    "said",
    (
        "take that last one back, would ya",
        "Heavens, take that one back, I only sniffed at it",
        "could you take my latest entry back please",
        "hey, can you take that one off",
        "kindly take this one back, wrong plate altogether",
    ),
)
def test_the_last_is_taken_back(chat: Chat, said: str) -> None:
    chat.given("90 g hummus", "40 g brie")
    assert [event["id"] for event in chat.say(said).events if event["type"] == "weigh_in_removed"] == [2]


@pytest.mark.parametrize(
    ("said", "gone"),
    (
        ("#1 must go, a gull swooped down on it", [1]),
        ("number 2 has got to go, my flatmate nicked it", [2]),
        ("#1 and #2 have to go", [1, 2]),
        ("#2 was never eaten", [2]),
        ("well forget the brie, the cat licked it", [2]),
        ("oh forget the brie, I was called away before I took a single bite", [2]),
        ("the hummus has to go, it had turned", [1]),
    ),
)
def test_what_has_to_go_is_taken_off(chat: Chat, said: str, gone: list[int]) -> None:
    chat.given("90 g hummus", "40 g brie")
    assert [event["id"] for event in chat.say(said).events if event["type"] == "weigh_in_removed"] == gone


@pytest.mark.parametrize(
    "said",
    (
        "the brie must go back in the fridge",
        "#2 should go on yesterday",
        "take one back to the shop",
        "the hummus can go in the cool box",
    ),
)
def test_what_goes_elsewhere_stays_on_record(chat: Chat, said: str) -> None:
    chat.given("90 g hummus", "40 g brie")
    assert "weigh_in_removed" not in chat.say(said).kinds


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("should have said 48 g on the brie, not 40", 48),
        ("should've put 48 on that brie", 48),
        ("Correction to my latest entry: 48 g. I had transposed the digits", 48),
        ("sorry, for the last one 48 g", 48),
    ),
)
def test_the_right_amount_is_told_afterwards(chat: Chat, said: str, grams: float) -> None:
    chat.given("90 g hummus", "40 g brie")
    changed = chat.say(said).changed()
    assert (changed["id"], changed["as_weighed_g"]) == (2, grams)


@pytest.mark.parametrize(
    ("recorded", "said", "food"),
    (
        ("150 g roasted chicken breast", "nah that was thigh not breast", "chicken thigh skinless"),
        ("180 g cooked white rice", "sorry it was brown not white", "brown rice"),
        ("200 g whole milk", "not whole, skim", "skim milk"),
        ("20 g milk chocolate", "it was dark, not milk", "dark chocolate 70-85%"),
        ("20 g gouda, 30 g brie", "that cheese was edam instead of gouda", "edam"),
    ),
)
def test_another_kind_is_known_by_the_word_that_differs(chat: Chat, recorded: str, said: str, food: str) -> None:
    chat.say(recorded)
    assert chat.say(said).changed()["food"] == food


@pytest.mark.parametrize("said", ("it was lovely, not dry", "not thigh, breast", "that was fast not slow"))
def test_other_words_change_no_food(chat: Chat, said: str) -> None:
    chat.say("150 g roasted chicken breast")
    assert "weigh_in_changed" not in chat.say(said).kinds


@pytest.mark.parametrize(
    ("said", "serving"),
    (
        ("label off the oat bars: 35 g a bar, per 100 g 1750 kJ, protein 8 g, fat 14 g, carbs 60 g", 35),
        ("label oat bars: per 100 g 1750 kJ, protein 8 g, fat 14 g, carbs 60 g, serving 150 g", 150),
        ("label oat bars: 1750 kJ, protein 8 g, fat 14 g, carbs 60 g per 100 g, serving 40 g", 40),
    ),
)
def test_figures_for_100_g_are_not_those_of_the_serving(chat: Chat, said: str, serving: float) -> None:
    """1750 kJ are 418.3 kcal at 4.184 kJ/kcal; 4, 9 and 4 kcal/g come to 398 (Regulation (EU) 1169/2011, annex XIV)."""
    saved = next(event for event in chat.say(said).events if event["type"] == "label_saved")
    assert saved["serving_g"] == serving
    assert (round(saved["kcal"]), round(saved["fat_g"]), round(saved["protein_g"])) == (418, 14, 8)


def test_figures_of_the_serving_stay_so(chat: Chat) -> None:
    said = chat.say("label oat bars: serving 50 g 200 kcal, protein 4 g, fat 7 g, carbs 30 g")
    saved = next(event for event in said.events if event["type"] == "label_saved")
    assert (saved["serving_g"], round(saved["kcal"])) == (50, 400)


@pytest.mark.parametrize(
    "said",
    (
        "The evening reminder may be discontinued",
        "all reminders can be switched off now",
        "the nightly reminder is no longer needed",
        "stop the nagging",
        "quit bugging me",
    ),
)
def test_reminders_end(chat: Chat, said: str) -> None:
    chat.say("remind me every day at 8 pm to log")
    assert "off" in chat.say(said).text


@pytest.mark.parametrize(
    "said", ("bug me every day at 8 pm to log", "poke me at 20:00 each evening", "serenade me every day at 8 pm to log")
)
def test_reminders_are_set_in_any_verb(chat: Chat, said: str) -> None:
    assert "20:00" in chat.say(said).text


def test_judging_is_no_reminder(chat: Chat) -> None:
    assert "reminder_set" not in chat.say("stop judging me").kinds


@pytest.mark.parametrize(
    ("said", "kg"),
    (
        ("My weight this morning, before coffee: 78,3", 78.3),
        ("77.9 kg, slowly getting there", 77.9),
        ("12 stone 4 n a half lb on them scales", 78.2),
    ),
)
def test_a_body_weight_is_heard_beside_remarks(chat: Chat, said: str, kg: float) -> None:
    chat.say("I weigh 78.6 kg")
    weighed = [event for event in chat.say(said).events if event["type"] == "body_weight"]
    assert [round(event["kg"], 1) for event in weighed] == [kg]


def test_a_weight_that_is_aimed_at_is_none(chat: Chat) -> None:
    chat.say("I weigh 78.6 kg")
    assert "body_weight" not in chat.say("77 kg, that's where I want to be").kinds


def test_a_habit_is_put_on_file(chat: Chat) -> None:
    said = chat.say("put it on file I always weigh my white rice cooked")
    assert said.kinds == ["habit_saved"]


def test_pit_and_skin_come_off_the_fruit(chat: Chat) -> None:
    chat.say("82 g avocado")
    assert chat.say("pit + skin off that avo: 31 g").changed()["edible_g"] == 51


@pytest.mark.parametrize("said", ("usual breakfast obvs", "my usual breakfast, what else"))
def test_the_usual_is_heard_beside_small_words(chat: Chat, said: str) -> None:
    chat.given("60 g muesli and 150 g 2% milk for breakfast")
    repeated = chat.say(said, at="2026-03-03T08:00:00+00:00")
    foods = [event["food"] for event in repeated.events if event["type"] == "weigh_in"]
    assert foods == ["muesli", "2% milk"]
