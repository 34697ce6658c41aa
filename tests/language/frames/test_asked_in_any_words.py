"""Questions about the day, about who sees or ate what, wishes to let somebody in, and first words."""

from __future__ import annotations

import pytest

from .kitchen import told


@pytest.mark.parametrize(
    "text",
    (
        "how did i do today then",
        "how's my day looking?",
        "so how was today, overall?",
        "how is today going so far",
        "am I doing ok today do you think",
        "right, where do I stand today",
        "how have I done today, be honest",
        "how does the day look?",
        "how did i do on sunday?",
    ),
)
def test_how_the_day_goes_is_answered_with_the_sheet(text: str) -> None:
    assert told("chili", text) == ["Sheet"]


@pytest.mark.parametrize(
    "text",
    (
        "who's had how much of the chili?",
        "who ate what of the chili then",
        "who took chili today?",
        "how much of the chili has my wife had?",
        "how much chili did everyone have",
        "who has been at the chili?",
        "who finished the chili",
    ),
)
def test_who_ate_of_a_batch_is_a_question_of_its_own(text: str) -> None:
    assert told("chili", text) == ["WhoAte"]


@pytest.mark.parametrize(
    "text",
    (
        "does dana see what i eat?",
        "is my coach able to see my weight?",
        "can anyone else see what I log?",
        "can my wife look at my food?",
        "will my flatmate know what I ate?",
        "who gets to see my numbers",
        "do the others see my meals",
        "is it just me or can Bo read my log?",
    ),
)
def test_who_sees_what_is_answered(text: str) -> None:
    assert told("chili", text) == ["WhoSees"]


@pytest.mark.parametrize(
    "text",
    (
        "me and my roommate split a kitchen, can she be on here too?",
        "can my flatmate use this with me?",
        "my wife cooks too, how do i get her on here",
        "is it possible for my husband to use this too?",
        "could my sister join us on here?",
        "my partner does half the cooking, can you let him in?",
    ),
)
def test_a_housemate_may_be_let_into_the_kitchen(text: str) -> None:
    assert told("chili", text) == ["InviteToKitchen"]


@pytest.mark.parametrize(
    "text", ("invite", "an invite please", "invite someone", "can I get an invite link", "send an invitation")
)
def test_a_bare_invitation_says_not_to_what(text: str) -> None:
    assert told("chili", text) == ["AskInvitation"]


@pytest.mark.parametrize(
    "text",
    (
        "morning, someone said you're good for people who batch cook?",
        "hiya, my mate recommended you for weighing food",
        "hello! heard about you from a friend at the gym",
        "a colleague told me about you, said you weigh meals",
        "evening. was told you help with batch cooking?",
    ),
)
def test_who_has_heard_of_it_is_greeted(text: str) -> None:
    assert told("chili", text) == ["Chatter"]


@pytest.mark.parametrize(
    ("text", "meant"),
    (
        ("let me see what i ate today", "Sheet"),
        ("my brother had 300 g of the chili", "give 300 g"),
        ("can my coach join us on here?", "WhoSees"),
        ("my wife is on here too", "Answer"),
        ("someone said you can eat 200 g raw pasta", "NotMine"),
        ("invite Ana", "Invite"),
        ("invite Bo to my kitchen", "InviteToKitchen"),
        ("how was the soup today", "WhatIf"),
    ),
)
def test_what_only_sounds_alike_means_something_else(text: str, meant: str) -> None:
    assert told("chili", text) == [meant]


@pytest.mark.parametrize(
    ("text", "food"),
    (
        ("200 g rice though", "eat 200 g rice"),
        ("30 g cheddar tho, adding it", "eat 30 g cheddar"),
        ("the app showed 120 g chicken breast", "eat 120 g chicken breast"),
        ("45 g granola, it's on the wrapper", "eat 45 g granola"),
        ("250 g lasagne off the menu", "eat 250 g lasagne"),
        ("12 g wonton wrapper", "eat 12 g wonton wrapper"),
        ("wrapper says 45 g", "Bare"),
        ("45 g though", "Bare"),
    ),
)
def test_words_about_a_meal_are_no_part_of_a_foods_name(text: str, food: str) -> None:
    assert told("chili", text) == [food]
