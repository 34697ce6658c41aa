"""What people ask: sheets, what is left, what-ifs, lists, help. Answered, and nothing recorded."""

import pytest

from .chat import Chat

RICE_KCAL, CHEDDAR_KCAL = 1.30, 4.04  # kcal per gram, USDA SR28: 20045 white rice boiled, 01009 cheddar


@pytest.mark.parametrize(
    "text", ("today", "/today", "what did I eat today?", "how am I doing", "total", "what is left today")
)
def test_the_day_sheet_adds_up(chat: Chat, text: str) -> None:
    chat.given("180 g cooked rice", "30 g cheddar", "50 g cheddar yesterday")
    said = chat.say(text)
    sheet = said.one("sheet")
    assert (sheet["span"], sheet["day"]) == ("day", "2026-03-02")
    assert sheet["kcal"] == pytest.approx(180 * RICE_KCAL + 30 * CHEDDAR_KCAL)
    said.nothing("355 kcal")


def test_yesterdays_sheet_is_of_yesterday(chat: Chat) -> None:
    chat.given("180 g cooked rice", "50 g cheddar yesterday")
    sheet = chat.say("how was yesterday?").one("sheet")
    assert (sheet["day"], sheet["kcal"]) == ("2026-03-01", pytest.approx(50 * CHEDDAR_KCAL))


def test_the_sheet_says_how_much_of_the_day_was_weighed(chat: Chat) -> None:
    chat.given("100 g cheddar", "1 cup cooked rice")
    # 404 kcal weighed, 158 g × 130 kcal by volume (USDA SR28, 01009 and 20045): 66 %
    assert "66%" in chat.say("today").text.replace(" %", "%")


@pytest.mark.parametrize("text", ("week", "/week", "how was my week?"))
def test_the_week_sheet_spans_the_week(chat: Chat, text: str) -> None:
    chat.given("100 g cheddar", "100 g cheddar yesterday")
    assert chat.say(text).one("sheet")["span"] == "week"


def test_an_empty_day_is_said_to_be_empty(chat: Chat) -> None:
    said = chat.say("today")
    assert said.one("sheet")["kcal"] == 0
    said.nothing("nothing")


@pytest.mark.parametrize(
    ("text", "kcal"),
    (
        ("how much is 200 g dry rice?", "730"),
        ("what would 200 g dry rice be?", "730"),
        ("how many calories in 200 g dry rice?", "730"),
        ("should I eat 100 g cheddar?", "404"),
    ),
)
def test_a_what_if_is_answered_with_figures(chat: Chat, text: str, kcal: str) -> None:
    said = chat.say(text)
    assert said.all("answer")
    said.nothing(kcal)
    assert chat.day()["kcal"] == 0


def test_a_what_if_of_a_batch_leaves_the_batch_alone(chat: Chat) -> None:
    chat.given("batch pilaf: 500 g dry rice", "batch 1 cooked 1400 g")
    said = chat.say("how many calories in 280 g from batch 1?")
    said.nothing("365")  # 280 g × 500/1400 = 100 g dry (USDA SR28, 20044)
    assert "1,400 g" in chat.left(1)


def test_a_what_if_without_a_state_gives_both(chat: Chat) -> None:
    said = chat.say("how many calories in 200 g rice?")
    said.nothing("260", "730")


def test_what_is_left_of_a_batch_is_answered(chat: Chat) -> None:
    chat.given("batch pilaf: 500 g dry rice", "batch 1 cooked 1400 g", "took 200 g from batch 1")
    for text in ("how much is left of batch 1?", "how much pilaf is left?", "what is left of the pilaf"):
        said = chat.say(text)
        assert said.all("answer")
        said.nothing("1,200 g")


@pytest.mark.parametrize(
    ("text", "of"),
    (
        ("batches", "batches"),
        ("/batches", "batches"),
        ("tares", "tares"),
        ("show my tares", "tares"),
        ("foods", "foods"),
    ),
)
def test_an_empty_list_is_a_list_of_none(chat: Chat, text: str, of: str) -> None:
    said = chat.say(text)
    assert said.one("listing") == {"type": "listing", "of": of, "count": 0}
    said.nothing()


@pytest.mark.parametrize("text", ("help", "/help", "help me", "what can you do?"))
def test_help_shows_how_to_say_things(chat: Chat, text: str) -> None:
    said = chat.say(text)
    assert said.all("help")
    said.nothing("180 g cooked rice")


def test_what_the_help_shows_works_as_it_stands(chat: Chat) -> None:
    chat.say("help")
    chat.given("180 g cooked rice", "apple 190 with core")
    chat.given("new batch chilli: 800 g raw ground beef 80/20, 400 g canned tomatoes")
    chat.given("batch 1 cooked 1040 g", "took 220 g from batch 1", "tare blue bowl 412 g")
    chat.given("630 g cooked pasta in the blue bowl", "change last to 280 g", "delete #3", "undo")
    for text in ("what is left today", "batches", "help"):
        assert chat.say(text).events


def test_start_says_that_it_gives_no_medical_advice(chat: Chat) -> None:
    said = chat.say("/start")
    said.nothing("medical advice")
    assert "caution" in said.kinds


def test_the_energy_left_is_shown_against_the_target(chat: Chat) -> None:
    chat.given("target 2000 kcal", "100 g cheddar")
    assert "1,596" in chat.say("what is left today").text


@pytest.mark.parametrize("text", ("qwrt zxcv", "blah blah", "the weather is nice today"))
def test_what_is_not_understood_is_said_so_and_nothing_is_recorded(chat: Chat, text: str) -> None:
    chat.say(text).nothing()
    assert chat.day()["kcal"] == 0


def test_answers_take_no_longer_when_the_history_is_longer(chat: Chat) -> None:
    for grams in range(20, 60):
        chat.say(f"{grams} g cheddar")
    assert chat.day()["kcal"] == pytest.approx(sum(range(20, 60)) * CHEDDAR_KCAL, abs=0.01)
    assert len(chat.say("today").text) < 4000


@pytest.fixture
def two_batches(chat: Chat) -> Chat:
    chat.given(
        "new batch lentil soup: 300 g raw red lentils, 200 g raw carrots",
        "new batch slaw: 500 g raw cabbage, 100 g mayonnaise",
    )
    return chat


@pytest.mark.parametrize(
    "text", ("what's in the lentil soup so far?", "what is in batch 1?", "what's in the lentil soup?")
)
def test_what_went_into_a_batch_is_answered(two_batches: Chat, text: str) -> None:
    said = two_batches.say(text)
    assert said.one("answer")["about"] == "contents"
    said.nothing("300 g red lentils", "200 g carrot", "500 g in all")


def test_what_went_into_a_cooked_batch_is_answered_with_what_is_left(two_batches: Chat) -> None:
    two_batches.given("batch 1 cooked 1200 g", "took 200 g from batch 1")
    two_batches.say("what's in the lentil soup?").nothing("300 g red lentils", "1,000 g of 1,200 g left")


@pytest.mark.parametrize("text", ("how much slaw is left?", "how much of the slaw is left?", "how much slaw remains?"))
def test_what_is_left_is_answered_by_a_name_that_a_food_has_too(two_batches: Chat, text: str) -> None:
    # Coleslaw is in the table.
    two_batches.given("batch 2 cooked 590 g", "took 150 g from batch 2")
    said = two_batches.say(text)
    assert said.one("answer")["about"] == "left"
    said.nothing("440 g of 590 g")


def test_what_is_left_of_a_batch_that_was_not_weighed_cooked(two_batches: Chat) -> None:
    two_batches.say("how much slaw is left?").nothing("no cooked weight yet", "600 g went in")


def test_what_is_left_of_something_that_is_no_batch(two_batches: Chat) -> None:
    said = two_batches.say("how much cheese is left?")
    assert said.one("answer")["about"] == "left"
    said.nothing("No batch called “cheese” is open", "batch 1 (lentil soup)")


# Per 100 g cooked chicken breast, USDA SR28 05064: 31.02 g protein, 165 kcal.
def test_the_grams_that_hold_some_protein_are_answered(chat: Chat) -> None:
    said = chat.say("how much cooked chicken breast for 40 g protein?")
    assert said.one("answer")["about"] == "what_if"
    said.nothing(f"{40 / 0.3102:.0f} g contain 40 g protein", f"{40 / 0.3102 * 1.65:.0f} kcal")


# 1,000 g raw chicken breast, USDA SR28 05062: 22.5 g protein in 100 g; all of it is in the 750 g cooked.
def test_the_grams_of_a_batch_that_hold_some_protein_are_answered(chat: Chat) -> None:
    chat.given("new batch shredded chicken: 1000 g raw chicken breast", "batch 1 cooked 750 g")
    chat.say("how much shredded chicken for 40 g protein?").nothing(f"{40 / (225 / 750):.0f} g contain 40 g protein")
    chat.given("took 700 g from batch 1")
    chat.say("how much shredded chicken for 40 g protein?").nothing("Only 50 g is left")


def test_a_batch_without_a_cooked_weight_has_no_figures_yet(two_batches: Chat) -> None:
    two_batches.say("how much lentil soup for 20 g protein?").nothing("no cooked weight yet")
