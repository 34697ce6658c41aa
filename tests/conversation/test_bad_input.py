"""Whatever comes in: a calm sentence, nothing made up, nothing lost, never longer than the message warrants."""

from collections.abc import Iterator
from itertools import count
from time import process_time
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.app import open_tarebook
from bot.channels.converse import FIRST_MOMENT
from bot.channels.script import Script
from bot.events import WeighInRecorded
from bot.store.delivery.inbox import NewRow, Press

from .chat import Chat, open_door
from .conftest import Meet

CHEDDAR_KCAL = 4.04  # kcal per gram, USDA SR28, 01009

ODD = {
    "empty": "",
    "blanks": " \t\n\r  \n",
    "a stop": ".",
    "stops": "...",
    "marks": "?!?!",
    "a bracket": "(",
    "nul": "\x00\x00",
    "control characters": "\x1b[2J\x07\x08\x7f\x9b31m",
    "binary": "".join(map(chr, range(256))),
    "replacement": "\ufffd\ufffe\uffff",
    "a lone accent": "\u0301",
    "right to left": "\u202e180 \u202d",
    "zero width": "\u200b\u200c\u200d\ufeff",
    "emoji": "🍚🥄👩‍🍳🇬🇧",
    "one emoji": "👍",
    "stacked accents": "e" + "\u0301" * 500,
    "long word": "x" * 3000,
    "only digits": "9" * 3000,
    "only signs": "-" * 3000,
    "braces": "{}" * 500 + "%s %n {0} {who}",
    "another script": "我吃了米饭",
}


@pytest.mark.parametrize("text", ODD.values(), ids=ODD.keys())
def test_odd_text_gets_a_sentence_and_records_nothing(chat: Chat, text: str) -> None:
    chat.given("30 g cheddar")
    said = chat.say(text)
    assert not said.records
    assert any(letter.isalpha() for letter in said.text)
    assert chat.day()["kcal"] == pytest.approx(30 * CHEDDAR_KCAL)


@pytest.mark.parametrize(
    "text",
    (
        "x" * 100_000,
        "180 g cooked rice, " * 5300,
        "1" * 100_000,
        "(" * 100_000,
        "🍚" * 25_000,
        "\n" * 100_000,
        "9**9**9 g " * 10_000,
        "half of " * 12_500,
    ),
    ids=("a word", "weigh-ins", "digits", "brackets", "emoji", "lines", "powers", "halves"),
)
def test_a_hundred_kilobytes_are_answered_at_once_and_record_nothing(chat: Chat, text: str) -> None:
    chat.given("30 g cheddar")
    start = process_time()
    said = chat.say(text)
    assert process_time() - start < 2
    assert not said.records
    assert len(said.text) < 1000
    assert chat.day()["kcal"] == pytest.approx(30 * CHEDDAR_KCAL)


@pytest.mark.parametrize(
    "text",
    (
        "-180 g cooked rice",
        "0 g cooked rice",
        "180 kg cooked rice",
        "99999999999999999999999999 g cooked rice",
        "9**9**9 g cooked rice",
        f"{'9' * 400} g cooked rice",
        f"0.{'0' * 400}1 g cooked rice",
        "-0.5 kg cooked rice",
        "180 tonnes of cooked rice",
        "1000000 eggs",
        "NaN g cooked rice",
        "Infinity g cooked rice",
        "1/0 kg cooked rice",
    ),
)
def test_absurd_amounts_record_nothing(chat: Chat, text: str) -> None:
    assert not chat.say(text).records
    assert chat.day()["kcal"] == 0


@pytest.mark.parametrize(
    "name",
    (
        "Robert'); DROP TABLE weigh_ins;--",
        "' OR '1'='1",
        '"; DELETE FROM people; --',
        "<script>alert(1)</script>",
        "<b>bold</b> & *stars* _lines_ `ticks` [a](b)",
        "{0} %s %(who)s ${HOME}",
        "=cmd|' /C calc'!A0",
        "\x1b[31mred\x1b[0m",
        "ـ" * 50,
    ),
)
def test_markup_and_commands_in_names_are_only_words(chat: Chat, name: str) -> None:
    chat.given("30 g cheddar")
    for text in (f"tare {name} 412 g", f"batch {name}: 500 g dry rice", f"100 g {name}", f"my scoop of {name} is 31 g"):
        chat.say(text)
    for text in (
        f"label {name}: serving 40 g, 161 kcal, protein 3, fat 5, carbs 26",
        "tares",
        "batches",
        "foods",
        "today",
    ):
        chat.say(text)
    assert chat.day()["kcal"] == pytest.approx(30 * CHEDDAR_KCAL)


@pytest.mark.parametrize(
    "name", ("chilli (hot)", "chilli [old]", "mum's chilli", "chilli & beans", "2nd chilli", "*chilli*")
)
def test_a_batch_keeps_its_name_whatever_marks_are_in_it(chat: Chat, name: str) -> None:
    said = chat.say(f"batch {name}: 500 g dry rice")
    assert [event["type"] for event in said.records] == ["batch_opened"]
    assert "chilli" in said.records[0]["name"]


@pytest.mark.parametrize("length", (61, 300, 3000))
def test_long_names_are_kept_short(chat: Chat, length: int) -> None:
    chat.say(f"batch {'x' * length}: 500 g dry rice")
    chat.say(f"tare {'y' * length} bowl 412 g")
    assert len(chat.say("batches").text) < 300
    assert len(chat.say("tares").text) < 300


@pytest.mark.parametrize("number", ("-1", "0", "1.5", str(2**63 - 1), str(2**63), str(2**64 + 1), "9" * 4000))
def test_numbers_of_batches_and_weigh_ins_beyond_all_bounds_are_refused(chat: Chat, number: str) -> None:
    chat.given("30 g cheddar")
    for text in (
        f"took 20 g from batch {number}",
        f"delete #{number}",
        f"batch {number} cooked 900 g",
        f"finished batch {number}",
    ):
        said = chat.say(text)
        assert not said.records, said
        assert len(said.text) < 600
    assert chat.day()["kcal"] == pytest.approx(30 * CHEDDAR_KCAL)


def test_a_button_pressed_twice_records_once(chat: Chat) -> None:
    chat.say("200 g rice").asked()
    assert chat.press("cooked").one("weigh_in")["id"] == 1
    chat.press(1).nothing("settled")
    chat.press(2).nothing("settled")
    assert chat.day()["kcal"] == pytest.approx(260)  # 200 g × 130 kcal (USDA SR28, 20045)


def test_a_press_before_any_question_is_an_error(meet: Meet) -> None:
    chat = meet()
    chat.say("hello")
    assert "no question" in chat.door.error(press=1, who=chat.who)


@pytest.mark.parametrize("ref", ("", "1", "forged", "' OR 1=1 --", "a" * 10_000, "\x00", "%"))
def test_a_forged_button_belongs_to_nobody(ref: str) -> None:
    with open_tarebook("sqlite://") as tarebook:
        script = Script(tarebook, "converse")
        ((_, asked),) = script.say("mira", "200 g rice", FIRST_MOMENT)
        assert asked.replies[-1].question_ref
        tarebook.receive(NewRow("converse", "forged", "eve", Press(ref=ref, choice=0), None, FIRST_MOMENT))
        (turn,) = tarebook.catch_up("converse")
        assert turn.events == ()
        assert "no longer belongs" in turn.replies[0].text
        assert isinstance(script.press("mira", 1, FIRST_MOMENT)[0][1].events[0], WeighInRecorded)


def test_somebody_elses_button_does_nothing() -> None:
    with open_tarebook("sqlite://") as tarebook:
        script = Script(tarebook, "converse")
        ref = script.say("mira", "200 g rice", FIRST_MOMENT)[0][1].replies[-1].question_ref
        assert ref is not None
        tarebook.receive(NewRow("converse", "stolen", "eve", Press(ref=ref, choice=0), None, FIRST_MOMENT))
        (turn,) = tarebook.catch_up("converse")
        assert turn.events == ()
        assert "rice" not in turn.replies[0].text
        recorded = script.press("mira", 1, FIRST_MOMENT)[0][1].events[0]
        assert isinstance(recorded, WeighInRecorded)
        assert recorded.who == "mira"


@pytest.mark.parametrize("choice", (-1, 2, 99, 10**6))
def test_a_choice_that_was_not_offered_does_nothing(choice: int) -> None:
    with open_tarebook("sqlite://") as tarebook:
        script = Script(tarebook, "converse")
        ref = script.say("mira", "200 g rice", FIRST_MOMENT)[0][1].replies[-1].question_ref
        assert ref is not None
        tarebook.receive(NewRow("converse", "odd", "mira", Press(ref=ref, choice=choice), None, FIRST_MOMENT))
        (turn,) = tarebook.catch_up("converse")
        assert turn.events == ()
        assert isinstance(script.press("mira", 1, FIRST_MOMENT)[0][1].events[0], WeighInRecorded)


def test_two_people_at_once_keep_their_own_records(meet: Meet) -> None:
    one, other = meet(region="US"), meet(region="UK")
    for grams in (10, 20, 30):
        one.given(f"{grams} g cheddar")
        other.given(f"{grams * 2} g cheddar")
    one.given("batch pilaf: 500 g dry rice", "batch 1 cooked 1400 g")
    other.given("batch stew: 900 g raw ground beef 80/20", "batch 1 cooked 600 g")
    assert one.say("took 200 g from batch 1").recorded()["food"] == "pilaf"
    assert other.say("took 200 g from batch 1").recorded()["food"] == "stew"
    assert one.say("undo").one("weigh_in_removed")["id"] == 4
    assert one.day()["kcal"] == pytest.approx(60 * CHEDDAR_KCAL)
    assert "400 g" in other.left(1)


PIECES = (
    "180 g cooked rice",
    "30 g cheddar",
    "took 200 g from batch 1",
    "batch pilaf: 500 g dry rice",
    "batch 1 cooked 1400 g",
    "undo",
    "delete #1",
    "change last to",
    "#1 was 250 g",
    "same again",
    "another 50 g of that",
    "yes",
    "no",
    "1",
    "2",
    "cooked",
    "weight only",
    "200 g",
    "rice",
    "split batch 1 into 4 boxes",
    "a box from batch 1",
    "finished batch 1",
    "tare bowl 412 g",
    "in the bowl",
    "core 19",
    "apple 204",
    "make that raw",
    "not 200 g, 250 g",
    "it was 30",
    "the cheddar was 35 g",
    "poured off 20 g",
    "today",
    "batches",
    "-5",
    "0",
    ",",
    " and ",
    "\n",
    "x 2",
)
pieces = st.one_of(st.text(max_size=40), st.sampled_from(PIECES))
talks = st.lists(st.lists(pieces, min_size=1, max_size=3).map(" ".join), min_size=1, max_size=6)


@pytest.fixture(scope="module")
def strangers() -> Iterator[Iterator[Chat]]:
    with open_door() as door:
        yield (Chat(door, f"talker {number}") for number in count(1))


@settings(max_examples=25, deadline=None, derandomize=True)
@given(talk=talks)
def test_no_talk_breaks_and_the_sheet_always_adds_up(strangers: Iterator[Chat], talk: list[str]) -> None:
    """Whatever is said in a row: no apology, and the day's energy is that of the weigh-ins that stand."""
    chat = next(strangers)
    for text in talk:
        chat.say(text)
    standing: dict[int, dict[str, Any]] = {}
    for event in chat.events("weigh_in", "weigh_in_changed", "weigh_in_removed"):
        if event["type"] == "weigh_in_removed":
            del standing[event["id"]]
        else:
            standing[event["id"]] = event
    today = [event for event in standing.values() if event["day"] == "2026-03-02"]
    assert chat.day()["kcal"] == pytest.approx(sum(event["kcal"] or 0 for event in today), abs=0.01 * (len(today) + 1))
