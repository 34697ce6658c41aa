"""Over random conversations: a message that names a food, batch or vessel of its own touches nothing that was asked
about before, and no answer is lost.
"""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from .chat import Chat, Said, open_door

ASKING = ("200 g rice", "150 g tuna", "180 g greek yogurt", "90 g zorblax", "120 g lentils", "took 150 g from batch 2")
UNMEASURED = ("cheddar", "12 oz milk", "olive oil")
OF_ITS_OWN = (
    "30 g gouda",
    "pear 190 g",
    "250 g cooked pasta",
    "boneless raw chicken breast 300 g",
    "took 100 g from batch 1",
    "the wok weighs 700 g",
    "slice of pizza",
    "630 g cooked pasta in the green bowl",
    "2 eggs",
    "raw carrots 80 g",
    "batch 1 cooked 760 g",
)
BARE = ("cooked", "dry", "raw", "1", "2", "nonfat", "weight only", "35 g", "250", "yes", "no", "by weight", "in water")
OTHERS = ("hello", "today", "what's open?", "skip", "skip all", "thanks")
ANSWERS = {
    "rice": "cooked",
    "tuna": "canned tuna in water",
    "greek yogurt": "nonfat",
    "lentils": "dry",
    "chicken breast": "other chicken breast",
}
SAYINGS = st.lists(st.sampled_from((*ASKING, *UNMEASURED, *OF_ITS_OWN, *BARE, *OTHERS)), min_size=1, max_size=14)


class Kept:
    """What stands open, by its number, as the events tell it."""

    def __init__(self) -> None:
        self.open: dict[int, tuple[str, float, str]] = {}

    def take(self, said: Said) -> set[int]:
        """Takes in what a step brought about. Returns the numbers that its events are about."""
        touched = set()
        for event in said.events:
            number = event.get("id")
            if number is None:
                continue
            touched.add(number)
            if event["type"] == "weigh_in_open":
                self.open[number] = (event["food"], event["as_weighed_g"], event["day"])
            else:
                self.open.pop(number, None)
        return touched


@settings(max_examples=40, deadline=None, derandomize=True)
@given(SAYINGS)
def test_what_names_something_of_its_own_touches_no_older_question(sayings: list[str]) -> None:
    with open_door() as door:
        chat = Chat(door, "mira", region="US", timezone="Europe/Lisbon")
        chat.given("batch: 1000 g raw chicken breast", "batch 1 cooked 750 g", "batch soup: 900 g raw carrots")
        kept = Kept()
        for text in sayings:
            before = dict(kept.open)
            waiting = chat.day()["waiting"] if text in OF_ITS_OWN else 0
            touched = kept.take(chat.say(text))
            if text in OF_ITS_OWN:
                assert not touched & set(before), (text, before)
                assert chat.day()["waiting"] >= waiting, text


@settings(max_examples=40, deadline=None, derandomize=True)
@given(SAYINGS)
def test_no_open_weigh_in_is_lost_and_each_takes_its_answer(sayings: list[str]) -> None:
    with open_door() as door:
        chat = Chat(door, "mira", region="US", timezone="Europe/Lisbon")
        chat.given("batch: 1000 g raw chicken breast", "batch 1 cooked 750 g", "batch soup: 900 g raw carrots")
        kept = Kept()
        for text in sayings:
            kept.take(chat.say(text))
        for number, (food, grams, day) in list(kept.open.items()):
            if food == "soup":
                continue  # its batch has no cooked weight yet, and its figures come with that
            answers = [ANSWERS[food]] if food in ANSWERS else ["weight only", "cooked"]
            said = next(heard for answer in answers if (heard := chat.say(f"#{number} {answer}")).all("weigh_in"))
            recorded = said.one("weigh_in")
            assert (recorded["id"], recorded["as_weighed_g"], recorded["day"]) == (number, grams, day)


@settings(max_examples=40, deadline=None, derandomize=True)
@given(SAYINGS, st.sampled_from(("cooked", "dry", "nonfat")))
def test_bare_words_go_to_the_question_shown_last_or_are_asked_about(sayings: list[str], answer: str) -> None:
    with open_door() as door:
        chat = Chat(door, "mira", region="US", timezone="Europe/Lisbon")
        chat.given("batch: 1000 g raw chicken breast", "batch 1 cooked 750 g", "batch soup: 900 g raw carrots")
        kept = Kept()
        for text in (*sayings, "30 g butter"):
            kept.take(chat.say(text))
        before = set(kept.open)
        said = chat.say(answer)
        assert not kept.take(said) & before, "the last reply ended with no question"
        assert {event.get("about") for event in said.all("question")} <= {"which_question"}
