"""Groups: only what is addressed to the bot, and only the kitchen's matters."""

from __future__ import annotations

from bot.conversation.kitchen.rooms import PRIVATE

from .conftest import Run
from .crowd import Human
from .loopback import USERNAME, Loopback, Sent
from .test_talking import PHOTO, RICE, weights

GROUP = -1001


def in_group(server: Loopback, messages: int = 1) -> list[Sent]:
    sent = server.sent[GROUP]
    server.until(lambda: len(sent) >= messages)
    return sent


def test_what_is_not_addressed_to_the_bot_is_passed_over(bot: Run, server: Loopback, mira: Human, joao: Human) -> None:
    mira.asks("hello")
    for text in (RICE, "batch chilli: 800 g raw ground beef 80/20", "/help", "/help@another_bot", f"@{USERNAME}s hi"):
        mira.says(text, chat_id=GROUP)
    mira.sends(GROUP, photo=PHOTO)
    mira.asks("hello again")
    server.until(lambda: server.idle)
    assert server.sent[GROUP] == []
    assert weights(bot, mira) == []


def test_a_batch_is_opened_from_a_group_and_known_in_private(bot: Run, server: Loopback, mira: Human) -> None:
    message = mira.says(f"@{USERNAME} batch chilli: 800 g raw ground beef 80/20", chat_id=GROUP)
    (answer,) = in_group(server)
    assert "800 g" in answer.text
    assert answer.replies_to == message
    assert "chilli" in mira.asks("batches").text


def test_a_command_with_the_bots_name_and_a_reply_to_it_are_addressed(bot: Run, server: Loopback, mira: Human) -> None:
    mira.says(f"/tares@{USERNAME}", chat_id=GROUP)
    (answer,) = in_group(server)
    mira.says("tare blue bowl 412 g", chat_id=GROUP, reply_to=answer)
    assert "412 g" in in_group(server, 2)[1].text


def test_nobodys_own_records_are_shown_or_made_in_a_group(bot: Run, server: Loopback, mira: Human) -> None:
    mira.asks(RICE)
    for number, text in enumerate(("today", "90 g cooked rice", "undo", "200 g rice", "I weigh 82 kg"), start=1):
        mira.says(f"@{USERNAME} {text}", chat_id=GROUP)
        assert in_group(server, number)[-1].text == PRIVATE, text
    assert weights(bot, mira) == [180]


def test_a_private_question_is_not_answered_from_a_group(bot: Run, server: Loopback, mira: Human) -> None:
    question = mira.asks("200 g rice")
    mira.says(f"@{USERNAME} cooked", chat_id=GROUP)
    assert in_group(server)[0].text == PRIVATE
    assert weights(bot, mira) == []
    mira.presses(question, "cooked")
    mira.hears()
    assert weights(bot, mira) == [200]


def test_a_group_that_moves_gets_its_answers_at_its_new_place(bot: Run, server: Loopback, mira: Human) -> None:
    mira.asks("hello")
    new = -100_500
    server.message_id(new)
    with server.lock:
        server.migrated[GROUP] = new
    mira.says(f"/tares@{USERNAME}", chat_id=GROUP)
    server.until(lambda: server.sent[new])
    assert server.sent[GROUP] == []
