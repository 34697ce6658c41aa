"""Energy hidden on request: weights and meals only, in every reply, until it is shown again."""

import re

from hypothesis import given
from hypothesis import strategies as st

from bot.conversation.hiding import without_energy

from .chat import Chat

FIGURE = re.compile(r"kcal|kJ|calories\b(?! again)|give or take|protein \d|fat \d|carbs \d")
WEEK = (
    "180 g cooked rice for lunch", "200 g yogurt", "150 g chicken breast, 90 g feta", "today", "my week",
    "how many calories left?", "how many calories in 100 g oats?", "target 2100 kcal protein 120", "target", "today",
    "new batch stew: 400 g dry lentils, 250 g raw carrots", "batch 1 cooked 1380 g", "took 310 g from batch 1",
    "change last to 280 g", "undo", "I weigh 71.4 kg", "my week", "what did I have for lunch?",
    "label oat bar: serving 40 g, 168 kcal, fat 6, carbs 24, protein 3", "labels", "80 g oat bar", "200 g rice",
)  # fmt: skip


def test_no_reply_shows_a_figure_of_energy(chat: Chat) -> None:
    assert chat.say("no calories please").one("setting_changed")["value"] == "hidden"
    for text in WEEK:
        heard = chat.say(text)
        assert not FIGURE.search(heard.text), (text, heard.text)


def test_weights_and_meals_stay(chat: Chat) -> None:
    chat.say("no calories please")
    assert chat.say("180 g cooked rice for lunch").text == "#1 white rice (cooked), 180 g [lunch]"
    day = chat.say("today").text
    assert "Lunch" in day
    assert "#1 white rice, 180 g" in day


def test_it_is_shown_again_and_undo_hides_it_again(chat: Chat) -> None:
    chat.say("no calories please")
    chat.say("show calories again")
    assert "234 kcal" in chat.say("180 g cooked rice").text
    chat.say("undo")
    chat.say("undo")
    assert "kcal" not in chat.say("180 g cooked rice").text


@given(st.lists(st.sampled_from((
    "#1 oats, 80 g: 303 kcal, protein 11 g, fat 5 g, carbs 54 g", "Today: at least 1,240 kcal, 860 kcal left.",
    "Left in batch 1: 500 g.", "Cooked or dry? (71 or 379 kcal per 100 g)", "Is 71 or 379 kcal right?", "Lunch:",
)), min_size=1))  # fmt: skip
def test_a_figure_never_stays_and_lines_without_one_always_do(lines: list[str]) -> None:
    kept = without_energy("\n".join(lines))
    assert not FIGURE.search(kept)
    for line in lines:
        assert FIGURE.search(line) or line in kept
