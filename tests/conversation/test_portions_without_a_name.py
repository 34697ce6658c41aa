"""Portions of a cooked pot told without its name, or with words of their own: who had how much, and what is left."""

import pytest

from .chat import Chat, Said

SOUP = (
    "putting a barley soup on: 200 g pearl barley dry, 300 g carrots, 150 g celery, 1300 g water",
    "soup came to 1900",
)
PIECES = ("cooking turkey meatballs: 900 g ground turkey, 120 g breadcrumbs", "24 meatballs from it, 960 g cooked")
SQUARES = (
    "cooking a veggie lasagne: 700 g courgette, 400 g ricotta, 300 g lasagne sheets dry",
    "lasagne weighs 1400 g, cut into 8 pieces",
)
BOXES = (
    "cooking a fish pie: 800 g cod, 900 g potatoes, 300 g whole milk",
    "fish pie weighs 1900 g",
    "3 boxes of fish pie, 400 g each",
)
ROLL = "dinner roll 62 g"


def told(chat: Chat, *said: str) -> Said:
    """What the last of these brought about."""
    for text in said[:-1]:
        chat.say(text)
    return chat.say(said[-1])


def in_words(said: Said) -> list[str]:
    """What was put on record, each in two words."""
    return sorted(
        f"{'mine' if e['batch'] else 'other'} {e['edible_g']:.0f}"
        if e["type"] == "weigh_in"
        else f"theirs {e['grams']:.0f}"
        if e["type"] == "batch_reduced"
        else f"boxes {e['boxes']} {e['box_g']:.0f}"
        if e["type"] == "batch_boxed"
        else e["type"]
        for e in said.records
    )


@pytest.mark.parametrize(
    ("before", "text", "recorded"),
    (
        (SOUP, "decent bowlful for tea just now, 395", ["mine 395"]),
        ((*SOUP, ROLL), "went back for seconds, 240", ["mine 240"]),
        ((*SOUP, ROLL), "second bowl 310", ["mine 310"]),
        ((*SOUP, ROLL), "husband 420", ["theirs 420"]),
        ((*SOUP, ROLL), "gave my aunt 500 of it", ["theirs 500"]),
        (SOUP, "415 in my bowl, 260 in the little one's", ["mine 415", "theirs 260"]),
        (
            SOUP,
            "me 400 with a 70 g dinner roll, Bea 330, both boys 200 each",
            ["mine 400", "other 70", "theirs 330", "theirs 400"],
        ),
        (
            SOUP,
            "soup for 4 tonight. me 400, Jonas 450, Bea 300",
            ["mine 400", "theirs 300", "theirs 450"],
        ),
        ((*SOUP, ROLL), "everything else goes in 4 tubs for the freezer", ["boxes 4 475"]),
        (SOUP, "Two boxes of the soup going in the freezer, 460 g between them", ["boxes 2 230"]),
        (SOUP, "soup: 310 g in a box, two boxes like this, they go to freezer", ["boxes 2 310"]),
    ),
)
def test_a_pot_spoken_of_last_needs_no_name(
    chat: Chat, before: tuple[str, ...], text: str, recorded: list[str]
) -> None:
    assert in_words(told(chat, *before, text)) == recorded


@pytest.mark.parametrize(
    "text",
    (
        "took 350 g of the soup to the office",
        "carried 350 g of the soup to the office, ate it at my desk",
        "brought 350 g of the soup to work",
    ),
)
def test_what_the_writer_takes_to_work_is_the_writers(chat: Chat, text: str) -> None:
    assert in_words(told(chat, *SOUP, text)) == ["mine 350"]


@pytest.mark.parametrize(
    "text", ("took 350 g of the soup to the office for Bea", "took 350 g soup to the church supper")
)
def test_what_is_taken_to_others_is_theirs(chat: Chat, text: str) -> None:
    assert in_words(told(chat, *SOUP, text)) == ["theirs 350"]


def test_more_than_one_person_eats_is_not_the_writers_lunch(chat: Chat) -> None:
    assert in_words(told(chat, *SOUP, "took 1500 g of the soup to the office")) == ["theirs 1500"]


@pytest.mark.parametrize(
    ("text", "recorded"),
    (
        ("whatever remained of the soup just now", ["batch_closed", "mine 1900"]),
        ("emptied the soup pot, it was all for me", ["batch_closed", "mine 1900"]),
        ("Lunch: finished the soup, every drop", ["batch_closed", "mine 1900"]),
        ("housemate got whatever soup there was left", ["batch_closed"]),
        ("last of that soup is going to Bea next door", ["batch_closed"]),
        ("The soup that remained, I've thrown it away", ["batch_closed"]),
        ("One fifth of all that soup went into my bowl", ["mine 380"]),
    ),
)
def test_all_that_is_left_of_a_pot_in_other_words(chat: Chat, text: str, recorded: list[str]) -> None:
    assert in_words(told(chat, *SOUP, text)) == recorded


@pytest.mark.parametrize(
    ("before", "text", "recorded"),
    (
        (PIECES, "2 me, 3 kids", ["mine 80", "theirs 120"]),
        (PIECES, "5 to Tim, 4 on my plate, 3 for each of the two girls", ["mine 160", "theirs 200", "theirs 240"]),
        (PIECES, "the girls ate 3 meatballs apiece, there were two of them", ["theirs 240"]),
        (PIECES, "Couldn't leave the pan alone, that's another 2 meatballs in me", ["mine 80"]),
        (SQUARES, "6 squares gone besides mine: 4 to Tim, 1 for each kid", ["theirs 350", "theirs 700"]),
        (SQUARES, "The two kids had one piece each and Tim two, so 4 gone to that lot", ["theirs 350", "theirs 350"]),
        (SQUARES, "There go the final eight lasagne squares, in Tim's work bag", ["batch_closed"]),
    ),
)
def test_pieces_go_to_whom_they_are_told_of(
    chat: Chat, before: tuple[str, ...], text: str, recorded: list[str]
) -> None:
    """The weights are 40 g a meatball and 175 g a square, as told: 960 g in 24 and 1,400 g in 8."""
    assert in_words(told(chat, *before, text)) == recorded


def test_part_of_a_box_is_not_part_of_the_pot(chat: Chat) -> None:
    assert in_words(told(chat, *BOXES, "took a box of fish pie to work")) == ["mine 400"]
    said = chat.say("ate about two thirds of it, gave the rest to Mark")
    assert in_words(said) == ["mine 267", "theirs 133", "weigh_in_removed"]
    assert "2 of 3 boxes" in said.text
    assert in_words(chat.say("another fish pie box, ate the whole thing")) == ["mine 400"]


def test_a_helping_is_put_right_like_any_portion(chat: Chat) -> None:
    told(chat, *SOUP, ROLL, "another bowl, 380")
    changed = chat.say("no scratch that it was 360").changed()
    assert (changed["batch"], changed["edible_g"]) == (1, 360)


def test_of_two_pots_told_of_together_it_asks_which(chat: Chat) -> None:
    told(chat, *SOUP, "cooking a bean stew: 600 g black beans cooked, 200 g onion", "bean stew weighs 700 g")
    said = chat.say("another bowl, 380")
    assert said.one("question")["about"] == "batch"
    assert "mine 380" not in in_words(said)


def test_the_next_day_a_bowl_needs_a_name(chat: Chat) -> None:
    chat.say(SOUP[0], at="2026-03-02T12:00:00+00:00")
    chat.say(SOUP[1], at="2026-03-02T13:00:00+00:00")
    assert not chat.say("another bowl, 380", at="2026-03-03T12:00:00+00:00").records


@pytest.mark.parametrize(
    "text",
    (
        "Tim says he'd eat 500 of the soup",
        "might have another bowl, 380",
        "no second bowl for me",
        "should I have another bowl, 380?",
        "mum had 300 of her own soup",
        "soup for 4 tonight",
        "my sister ran 10 k and her heart rate was 150",
        "will take 400 g of the soup to work tomorrow",
        "walked 430 steps",
        "my dad had 300 for the car",
        "didn't touch the 380 bowl",
        "bowl of something at the cafe tomorrow, 380",
    ),
)
def test_plans_questions_and_other_numbers_take_nothing(chat: Chat, text: str) -> None:
    assert not told(chat, *SOUP, text).records


@pytest.mark.parametrize("text", ("big bowl of cereal for lunch 430", "at the cafe: another bowl of chilli, 380 g"))
def test_a_bowl_of_something_else_is_not_of_the_pot(chat: Chat, text: str) -> None:
    assert not {"mine 430", "mine 380"} & set(in_words(told(chat, *SOUP, text)))


@pytest.mark.parametrize(
    ("text", "recorded"),
    (
        ("Rest of the soup went to Dan, and he ate 2 dinner rolls also", ["batch_closed"]),
        ("gave Dan 300 of the soup. he also ate 60 g bread", ["theirs 300"]),
    ),
)
def test_what_others_ate_with_it_is_not_the_writers(chat: Chat, text: str, recorded: list[str]) -> None:
    assert in_words(told(chat, *SOUP, text)) == recorded
