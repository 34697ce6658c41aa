"""What is told later of something on record, or beside it: shares, sums, kinds, and pots that are finished."""

import pytest

from .chat import Chat

LASAGNE = (
    "new batch lasagne: 600 g ground beef raw, 250 g dry pasta, 700 g passata, 180 g onion, 300 g ricotta",
    "the lasagne weighs 1700 g cooked",
    "300 g lasagne",
    "my brother took the rest of the lasagne",
)


@pytest.mark.parametrize(
    ("recorded", "said", "grams"),
    (
        ("2 beers, 330 ml each", "only one of those beers was mine", 331.41),
        ("3 boiled eggs, 150 g in all", "just 2 of the eggs were mine", 100),
        ("4 x 30 g saltine crackers", "only three of those crackers were for me", 90),
        ("two shortbreads, 32 g together", "one of those shortbreads, 15 g, went to the dog, so I had only 17 g", 17),
        ("45 g chicken gravy", "the gravy was more like 30 g", 30),
        ("45 g chicken gravy", "the gravy was closer to 35 g", 35),
    ),
)
def test_a_part_or_a_better_figure_changes_the_record(chat: Chat, recorded: str, said: str, grams: float) -> None:
    chat.say(recorded)
    assert chat.say(said).changed()["as_weighed_g"] == pytest.approx(grams, abs=0.01)


def test_a_sum_says_what_is_meant_hours_later(chat: Chat) -> None:
    chat.say("two shortbreads, 32 g together")
    chat.say("banana 100 g", at="2026-03-02T19:00:00+00:00")
    changed = chat.say("one of those shortbreads, 15 g of it, went to the dog after all, so I had only 17 g").changed()
    assert (changed["food"], changed["as_weighed_g"]) == ("shortbread", 17)


def test_the_second_of_two_is_taken_off(chat: Chat) -> None:
    chat.say("coffee 300 g")
    second = chat.say("coffee 250 g").recorded()
    removed = chat.say("I only had one coffee, please take the second one off").one("weigh_in_removed")
    assert removed["id"] == second["id"]


def test_a_few_pieces_are_no_grams(chat: Chat) -> None:
    chat.say("pork sausage 180 g cooked")
    assert not chat.say("two of the sausages were fine").all("weigh_in_changed")


@pytest.mark.parametrize(
    ("said", "raw_g", "basis_g"),
    (
        ("the lasagne only had 200 g ricotta, not 300", 1930, 340.59),
        ("turns out the ricotta in the lasagne was 200 g", 1930, 340.59),
        ("oh, in the lasagne it was 150 g onion not 180", 2000, 352.94),
        ("I never put the onion in the lasagne", 1850, 326.47),
    ),
)
def test_the_contents_of_a_finished_batch_are_put_right(chat: Chat, said: str, raw_g: float, basis_g: float) -> None:
    for line in LASAGNE:
        chat.say(line)
    told = chat.say(said)
    assert told.one("batch_changed")["raw_g"] == pytest.approx(raw_g)
    assert told.one("weigh_in_changed")["basis_g"] == pytest.approx(basis_g, abs=0.01)


@pytest.mark.parametrize(
    "said", ("30 g ricotta", "tomorrow I put 200 g ricotta in a lasagne", "should I put 200 g ricotta in the lasagne?")
)
def test_a_finished_batch_stays_as_it_is_otherwise(chat: Chat, said: str) -> None:
    for line in LASAGNE:
        chat.say(line)
    assert not chat.say(said).all("batch_changed")


@pytest.mark.parametrize(
    ("said", "food", "grams"),
    (
        ("600 g mashed potato between the four of us, a quarter of that was mine", "potato", 150),
        ("lamb shoulder roasted for the 5 of us, 1 kg in all, I had 180 g", "lamb shoulder", 180),
        ("that biscuit at the office earlier was 12 g, a digestive", "digestive biscuit", 12),
        ("30 g cheese, cheddar", "cheddar cheese", 30),
        ("those chips at the game were about an ounce, potato chips", "potato chips", 28.35),
        ("the milk in my tea was about 25 g, whole milk", "whole milk", 25),
        ("the splash in my tea was about 25 g of whole milk", "whole milk", 25),
        ("the butter on my toast was 12 g", "butter", 12),
        ("36 g dry oats, or rather 34 g, now that I look at my note", "oats", 34),
    ),
)
def test_what_is_said_around_a_weight_belongs_to_it(chat: Chat, said: str, food: str, grams: float) -> None:
    recorded = chat.say(said).recorded()
    assert food in recorded["food"]
    assert recorded["as_weighed_g"] == pytest.approx(grams, abs=0.01)


def test_the_rest_of_a_batch_in_a_list_is_all_that_is_left(chat: Chat) -> None:
    chat.say("new batch rice: 300 g dry rice")
    chat.say("the rice weighs 820 g cooked")
    chat.say("420 g from batch 1")
    told = chat.say("190 g cooked chicken breast + the rest of the rice")
    assert [(each["food"], each["as_weighed_g"]) for each in told.all("weigh_in")] == [
        ("chicken breast", 190),
        ("rice", pytest.approx(400)),
    ]


def test_or_without_a_repair_is_asked_about(chat: Chat) -> None:
    assert not chat.say("100 g cheddar or 50 g ham").records
