"""Energy hidden on request: weights and meals only, in every reply, until it is shown again."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.conversation.hiding import LEFT_OUT, blanked, without_energy, words_without_energy

from .chat import Chat, Door
from .test_coaching import eats, guides, person, told

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


def test_what_others_cause_shows_no_energy_either(door: Door) -> None:
    ines, ana, ben = (person(door, name, timezone="UTC") for name in ("Ines", "Ana", "Ben"))
    guides(ines, ana, "Ana")
    guides(ana, ben, "Ben")
    ana.say("no calories please")
    ana.say("300 g cooked rice")
    said = [
        ines.say("target for Ana 1900 kcal protein 110"),
        ines.say("tell Ana: eat 200-300 kcal more, about 30 g protein. Well done on Sunday!"),
        ines.say("comment on Ana's #1: that is 390 kcal, a good lunch"),
        ben.say("reply: I had 500 kcal of cake"),
    ]
    heard = [told(each, "Ana") for each in said]
    for each in heard:
        assert not FIGURE.search(each), each
    assert "Your target is set from today on; its figures are hidden." in heard[0]
    assert "Ines, your coach: eat … more, … protein. Well done on Sunday!" in heard[1]
    assert "on your #1 white rice, 300 g, today: that is …, a good lunch" in heard[2]
    assert "Ben says: I had … of cake" in heard[3]


BARE = (
    ("stay at 1800 today", "stay at … today"), ("about 390, a good lunch", "about …, a good lunch"),
    ("1 800 a day, 1.9k at most", "… a day, … at most"), ("eat 200-300 more", "eat …-… more"),
    ("fifteen hundred is fine, two fifty for lunch", "… is fine, … for lunch"), ("under 1900!", "under …!"),
)  # fmt: skip
OTHER = (
    "walk 8000 steps", "50 minutes of walking", "until 9 March 2026", "see #120 of 18:30", "300 g rice and 250 ml milk",
    "batch 112 is good", "2 eggs and 30 g butter", "a hundred times better",
)  # fmt: skip


@pytest.mark.parametrize(("said", "left"), BARE)
def test_bare_numbers_in_a_coachs_words_are_left_out_and_the_client_is_told(door: Door, said: str, left: str) -> None:
    ines, ana, ben = (person(door, name, timezone="UTC") for name in ("Ines", "Ana", "Ben"))
    guides(ines, ana, "Ana")
    guides(ines, ben, "Ben")
    ana.say("300 g cooked rice")
    ana.say("no calories please")
    for sent in (f"tell Ana: {said}", f"comment on Ana's #1: {said}", f"tell everyone: {said}"):
        answer = ines.say(sent)
        heard = told(answer, "Ana")
        assert heard.splitlines()[0].endswith(f": {left}")
        assert LEFT_OUT in heard
        # What a client has set is the client's own affair (docs/decisions/0011).
        assert "hidden" not in answer.text
    assert told(answer, "Ben").splitlines()[0].endswith(f": {said}")
    assert LEFT_OUT not in told(answer, "Ben")


@pytest.mark.parametrize("said", OTHER)
def test_numbers_of_anything_else_stay(door: Door, said: str) -> None:
    ines, ana = (person(door, name, timezone="UTC") for name in ("Ines", "Ana"))
    guides(ines, ana, "Ana")
    ana.say("no calories please")
    heard = told(ines.say(f"tell Ana: {said}"), "Ana")
    assert said in heard
    assert LEFT_OUT not in heard


def test_a_coach_who_hides_energy_reads_a_clients_words_without_it(door: Door) -> None:
    ines, ana = (person(door, name, timezone="UTC") for name in ("Ines", "Ana"))
    guides(ines, ana, "Ana")
    ines.say("no calories please")
    assert told(ana.say("reply: I had 1750 on Sunday"), "Ines") == f"Ana says: I had … on Sunday\n{LEFT_OUT}"


@given(st.integers(50, 99_999), st.sampled_from(("{}", "{:,}", "about {} today", "({})", "{}!", "so {}, then")))
def test_no_bare_number_of_that_size_stays(number: int, words: str) -> None:
    assert not re.search(r"\d", words_without_energy(words.format(number)))


def test_a_coach_who_has_hidden_energy_gets_a_digest_and_a_roster_without_it(door: Door) -> None:
    ana, ben = person(door, "Ana", timezone="UTC", role="coach"), person(door, "Ben", timezone="UTC")
    guides(ana, ben, "Ben")
    ben.say("target 1500")
    eats(ben, range(2, 5), "1600 g cooked rice")
    ana.say("no calories please")
    texts = [
        door.step(advance_to="2026-03-05T08:00:00+00:00").text,
        *(ana.say(text, at="2026-03-05T09:00:00+00:00").text for text in ("digest", "roster", "how is Ben?")),
    ]
    for text in texts:
        assert not FIGURE.search(text), text
    assert sum("Ben" in text and "… a day over target" in text for text in texts) >= 3


def test_a_target_is_answered_without_its_figures(chat: Chat) -> None:
    chat.say("no calories please")
    assert chat.say("target 2100").text == "Your target is set from today on; its figures are hidden."
    assert chat.say("target 2100 kcal protein 120 on training days").one("target_set")["protein_g"] == 120
    assert "You have a target; its figures are hidden." in chat.say("target").text
    chat.say("show calories again")
    assert "2,100 kcal" in chat.say("target").text


@given(
    st.lists(
        st.sampled_from((
            "eat ", "1,200 kcal", "300-400 calories", "2 100 kJ", "30 g protein", "30 g more protein", "salt 5 g",
            "protein at least 44 g", "1,720 of 2,000 kcal", "give or take 40", " and ", "80% of the energy",
            "about 250 cals", ". ",
        ))
    )
)  # fmt: skip
def test_of_others_words_only_the_figures_are_blanked(words: list[str]) -> None:
    text = " ".join(words)
    left = blanked(text)
    assert not re.search(r"\d", left), left
    assert [word for word in ("eat", "and") if word in text] == [word for word in ("eat", "and") if word in left]


@given(st.lists(st.sampled_from((
    "#1 oats, 80 g: 303 kcal, protein 11 g, fat 5 g, carbs 54 g", "Today: at least 1,240 kcal, 860 kcal left.",
    "Left in batch 1: 500 g.", "Cooked or dry? (71 or 379 kcal per 100 g)", "Is 71 or 379 kcal right?", "Lunch:",
)), min_size=1))  # fmt: skip
def test_a_figure_never_stays_and_lines_without_one_always_do(lines: list[str]) -> None:
    kept = without_energy("\n".join(lines))
    assert not FIGURE.search(kept)
    for line in lines:
        assert FIGURE.search(line) or line in kept
