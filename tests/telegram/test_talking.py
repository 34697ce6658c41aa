"""Conversations in private chats, through the loopback server."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest

from bot.channels.telegram import CHANNEL
from bot.store import invites, weighins
from bot.store.books import Books
from bot.store.delivery import inbox

from .conftest import Run, Start
from .crowd import Human
from .loopback import Loopback

DATABASES = ("sqlite", "postgresql")

RICE = "180 g cooked rice"


def weights(run: Run, person: Human) -> list[float]:
    """What stands on the person's record with its figures, in order."""
    known = run.tarebook.person(CHANNEL, str(person.id))
    assert known is not None
    with run.tarebook.transaction() as conn:
        books = Books(conn, known, 0, datetime.now(UTC))
        found = weighins.between(books, date(2000, 1, 1), date(2100, 1, 1))
        return [
            each.weigh_in.as_weighed_g
            for each in sorted(found, key=lambda each: each.number)
            if each.weigh_in.open is None
        ]


def test_a_weigh_in_is_recorded_and_answered(bot: Run, mira: Human) -> None:
    assert "180 g" in mira.asks(RICE).text
    assert weights(bot, mira) == [180]


def test_a_newcomer_is_asked_once_when_to_be_reminded(bot: Run, mira: Human, joao: Human) -> None:
    assert mira.asks("/start").buttons == []
    asked = mira.asks(RICE)
    assert "What time suits you?" in asked.text
    assert [text for text, _ in asked.buttons] == ["20:30", "19:00", "21:30", "no reminder"]
    assert [text for text, _ in mira.asks("20 g butter").buttons] == ["Undo", "Change"]
    assert mira.asks("today").buttons == []
    assert weights(bot, mira) == [180, 20]
    mira.presses(asked, "19:00")
    assert "set to 19:00" in mira.hears()[0].text
    assert mira.asks("/start").buttons == []
    joao.asks(RICE)
    assert "set to 21:15" in joao.asks("21:15").text
    assert "Evening reminder: 21:15" in joao.asks("/reminders").text


def test_each_person_has_their_own_records(bot: Run, mira: Human, joao: Human) -> None:
    mira.asks(RICE)
    joao.asks("90 g cooked rice")
    assert (weights(bot, mira), weights(bot, joao)) == ([180], [90])


def test_a_question_is_answered_by_its_button(bot: Run, server: Loopback, mira: Human) -> None:
    question = mira.asks("200 g rice")
    assert [text for text, _ in question.buttons] == ["cooked", "dry"]
    tap = mira.presses(question, "dry")
    assert "200 g" in mira.hears()[0].text
    server.until(lambda: tap in server.answered and question.edited)
    assert server.answered[tap] == ""
    assert question.buttons == []
    assert question.text.endswith("Chosen: dry")
    assert weights(bot, mira) == [200]


def test_a_button_holds_nothing_but_a_reference(bot: Run, mira: Human) -> None:
    question = mira.asks("200 g rice")
    for text, data in question.buttons:
        # A reference of 128 random bits takes 22 letters of base64; then a point and the choice's number.
        assert len(data) == 24
        assert text not in data


def test_a_button_pressed_twice_records_once(bot: Run, server: Loopback, mira: Human) -> None:
    question = mira.asks("200 g rice")
    data = dict(question.buttons)["dry"]
    taps = [mira.presses(question, "dry", data) for _ in range(2)]
    server.until(lambda: len(server.answered) == 2)
    assert server.answered[taps[0]] == ""
    assert "settled" in server.answered[taps[1]]
    assert taps[1] in server.alerted
    mira.hears()
    mira.asks("hello")
    assert weights(bot, mira) == [200]


SETTLED_BY = {"typing": "cooked", "its number": "#1 cooked", "a skip": "skip", "undo": "undo", "deleting": "delete #1"}


@pytest.mark.parametrize("how", sorted(SETTLED_BY))
def test_buttons_go_when_the_question_is_settled_otherwise(bot: Run, server: Loopback, mira: Human, how: str) -> None:
    question = mira.asks("200 g rice")
    data = dict(question.buttons)["dry"]
    if how == "its number":
        mira.asks("20 g butter")
        assert question.buttons
    mira.asks(SETTLED_BY[how])
    server.until(lambda: question.buttons == [])
    assert "200 g" in question.text
    if how == "a skip":
        return
    heard = len(server.sent[mira.id])
    tap = mira.presses(question, "dry", data)
    server.until(lambda: tap in server.answered)
    assert "settled" in server.answered[tap]
    assert tap in server.alerted
    mira.asks("hello")
    assert len(server.sent[mira.id]) == heard + 1


def test_buttons_go_when_an_edit_settles_the_question(bot: Run, server: Loopback, mira: Human) -> None:
    message = mira.says("200 g rice")
    question = mira.hears()[0]
    assert question.buttons
    mira.edits(message, "200 g cooked rice")
    mira.hears()
    server.until(lambda: question.buttons == [])
    assert weights(bot, mira) == [200]


def test_buttons_go_when_a_newer_question_is_asked(bot: Run, server: Loopback, mira: Human) -> None:
    first = mira.asks("200 g rice")
    second = mira.asks("150 g pasta")
    server.until(lambda: first.buttons == [])
    assert second.buttons
    # It is still answered by its number.
    mira.asks("#1 cooked")
    assert weights(bot, mira) == [200]
    mira.presses(second, "cooked")
    mira.hears()
    assert weights(bot, mira) == [200, 150]


def test_the_question_stays_readable_when_the_server_no_longer_shows_it(
    bot: Run, server: Loopback, mira: Human
) -> None:
    question = mira.asks("200 g rice")
    text = question.text
    mira.presses(question, "dry", inaccessible=True)
    mira.hears()
    server.until(lambda: question.edited)
    assert question.text == f"{text}\n\nChosen: dry"


def test_the_last_tap_of_erasing_is_answered(bot: Run, server: Loopback, mira: Human) -> None:
    mira.asks(RICE)
    mira.presses(mira.asks("/privacy"), "yes, erase everything")
    tap = mira.presses(mira.hears()[0], "yes, erase it all")
    assert "erased" in mira.hears()[0].text
    server.until(lambda: tap in server.answered)
    server.until(lambda: not any(sent.buttons for sent in server.sent[mira.id]))


def test_a_foreign_button_does_nothing(bot: Run, server: Loopback, mira: Human, joao: Human) -> None:
    question = mira.asks("200 g rice")
    joao.asks("hello")
    tap = joao.presses(question, "dry")
    server.until(lambda: tap in server.answered)
    assert "somebody else" in server.answered[tap]
    assert question.buttons
    assert weights(bot, mira) == []
    mira.presses(question, "dry")
    mira.hears()
    assert weights(bot, mira) == [200]


@pytest.mark.parametrize(
    "data", ("", "x", "0" * 64, "A" * 22 + ".0", "A" * 22 + ".", "\ud83c", "../../etc", "A" * 22 + ".٣")
)
def test_a_forged_button_is_answered_calmly(bot: Run, server: Loopback, mira: Human, data: str) -> None:
    question = mira.asks("200 g rice")
    tap = mira.presses(question, "dry", data)
    server.until(lambda: tap in server.answered)
    assert server.answered[tap]
    assert weights(bot, mira) == []


def test_an_edited_message_corrects_its_weigh_in(bot: Run, mira: Human) -> None:
    message = mira.says(RICE)
    mira.hears()
    mira.says("90 g cooked rice")
    mira.hears()
    mira.edits(message, "150 g cooked rice")
    assert "150 g" in mira.hears()[0].text
    assert weights(bot, mira) == [150, 90]


def test_an_edit_that_changes_no_word_is_passed_over(bot: Run, server: Loopback, mira: Human) -> None:
    message = mira.says(RICE)
    mira.hears()
    mira.edits(message, RICE)
    assert "90 g" in mira.asks("90 g cooked rice").text
    assert len(server.sent[mira.id]) == 2


def test_two_edits_within_a_second_both_count(bot: Run, mira: Human) -> None:
    message = mira.says(RICE)
    mira.edits(message, "150 g cooked rice")
    mira.edits(message, "140 g cooked rice")
    mira.hears(3)
    assert weights(bot, mira) == [140]


def test_a_reply_to_a_receipt_is_about_that_weigh_in(bot: Run, mira: Human) -> None:
    receipt = mira.asks(RICE)
    mira.asks("90 g cooked pasta")
    answer = mira.asks("it was 150 g", reply_to=receipt)
    assert "150 g" in answer.text
    assert weights(bot, mira) == [150, 90]


@pytest.mark.parametrize("says", ("was 150", "150"))
def test_a_reply_with_little_more_than_a_number_is_about_the_receipt(bot: Run, mira: Human, says: str) -> None:
    receipt = mira.asks(RICE)
    mira.asks("90 g cooked pasta")
    mira.asks(says, reply_to=receipt)
    assert weights(bot, mira) == [150, 90]


@pytest.mark.parametrize("says", ("undo", "delete that"))
def test_a_reply_takes_back_what_the_receipt_is_for(bot: Run, mira: Human, says: str) -> None:
    receipt = mira.asks(RICE)
    mira.asks("90 g cooked pasta")
    mira.asks(says, reply_to=receipt)
    assert weights(bot, mira) == [90]


def test_a_reply_to_somebody_elses_receipt_means_nothing(bot: Run, mira: Human, joao: Human) -> None:
    receipt = mira.asks(RICE)
    joao.asks("90 g cooked pasta")
    joao.asks("it was 80 g", reply_to=receipt)
    assert weights(bot, mira) == [180]
    assert weights(bot, joao) == [80]


def test_a_reply_to_a_question_answers_that_one(bot: Run, mira: Human) -> None:
    rice = mira.asks("200 g rice")
    mira.asks("150 g pasta")
    assert "#1 white rice" in mira.asks("cooked", reply_to=rice).text
    assert weights(bot, mira) == [200]
    assert "#3 butter" in mira.asks("20 g butter", reply_to=rice).text


def test_a_weigh_in_stands_at_the_moment_it_was_sent(bot: Run, mira: Human) -> None:
    mira.says(RICE, at=1_772_452_800)  # 2026-03-02 12:00 UTC (date -d @1772452800)
    mira.hears()
    with bot.tarebook.transaction() as conn:
        first = inbox.find_message(conn, CHANNEL, str(mira.id), f"{mira.id}:1")
    assert first is not None
    assert first.said_at.isoformat() == "2026-03-02T12:00:00+00:00"


def test_a_caption_is_read_like_a_text(bot: Run, mira: Human) -> None:
    mira.sends(photo=PHOTO, caption=RICE)
    assert "180 g" in mira.hears()[0].text
    assert weights(bot, mira) == [180]


PHOTO = [{"file_id": "f", "file_unique_id": "u", "width": 90, "height": 90}]
FILE = {"file_id": "f", "file_unique_id": "u"}
WORDLESS: dict[str, Any] = {
    "photo": PHOTO,
    "voice": FILE | {"duration": 3},
    "sticker": FILE | {"width": 1, "height": 1, "is_animated": False, "is_video": False, "type": "regular"},
    "location": {"latitude": 38.7, "longitude": -9.1},
    "contact": {"phone_number": "1", "first_name": "Ana"},
    "poll": {
        "id": "1",
        "question": "Rice?",
        "options": [{"persistent_id": "0", "text": "yes", "voter_count": 0}],
        "total_voter_count": 0,
        "is_closed": False,
        "is_anonymous": True,
        "type": "regular",
        "allows_multiple_answers": False,
        "allows_revoting": True,
        "members_only": False,
    },
    "document": FILE,
    "video_note": FILE | {"length": 1, "duration": 1},
    "dice": {"emoji": "🎲", "value": 3},
}


@pytest.mark.parametrize("kind", sorted(WORDLESS))
def test_what_has_no_words_gets_one_friendly_line(bot: Run, server: Loopback, mira: Human, kind: str) -> None:
    mira.sends(**{kind: WORDLESS[kind]})
    answer = mira.hears()[0]
    assert "for example: 180 g" in answer.text
    named = {"photo": "photos", "voice": "voice messages", "video_note": "video messages", "document": "files"}
    assert f"can't read {named.get(kind, '')}" in answer.text
    assert "\n" not in answer.text
    mira.asks("hello")
    assert len(server.sent[mira.id]) == 2


def test_an_album_is_answered_once(bot: Run, server: Loopback, mira: Human) -> None:
    for _ in range(4):
        mira.sends(photo=PHOTO, media_group_id="a1")
    mira.sends(photo=PHOTO, media_group_id="a2", caption=RICE)
    for _ in range(3):
        mira.sends(photo=PHOTO, media_group_id="a2")
    first, second = mira.hears(2)
    assert "can't read photos" in first.text
    assert "180 g" in second.text
    mira.asks("hello")
    assert len(server.sent[mira.id]) == 3


def test_a_service_message_is_passed_over(bot: Run, server: Loopback, mira: Human) -> None:
    mira.sends(message_auto_delete_timer_changed={"message_auto_delete_time": 86400})
    mira.asks("hello")
    assert len(server.sent[mira.id]) == 1


def test_commands_are_listed_for_private_chats_and_groups(bot: Run, server: Loopback) -> None:
    server.until(lambda: ("all_group_chats", "es") in server.commands)
    private = server.commands["all_private_chats", ""]
    # core.telegram.org/bots/features#global-commands, and telegram.org/tos/bot-developers for /privacy.
    assert {"help", "settings", "privacy"} <= set(private)
    assert "today" not in server.commands["all_group_chats", ""]
    assert server.commands["all_private_chats", "de"] == private


def test_an_invitation_lets_one_person_in(start: Start, server: Loopback, mira: Human, joao: Human) -> None:
    run = start(access="invite")
    assert "invited" in mira.asks(RICE).text
    assert "invited" in mira.asks("/start").text
    now = datetime.now(UTC)
    with run.tarebook.transaction() as conn:
        code = invites.new(conn, "access", now, now + timedelta(days=1))
        late = invites.new(conn, "access", now - timedelta(days=2), now - timedelta(days=1))
        other = invites.new(conn, "coach", now, now + timedelta(days=1))
    for bad in (late, other, code[:-1], code.swapcase()):
        assert "new one" in mira.asks(f"/start {bad}").text
    assert run.tarebook.person(CHANNEL, str(mira.id)) is None
    assert "Tarebook" in mira.asks(f"/start {code}").text
    assert "180 g" in mira.asks(RICE).text
    assert "new one" in joao.asks(f"/start {code}").text
    assert run.tarebook.person(CHANNEL, str(joao.id)) is None
    run.stop()
    start(access="list", listed=frozenset({joao.id}))
    assert "not on its list" in mira.asks(RICE).text
    assert "180 g" in joao.asks(RICE).text


def test_a_button_after_removal_from_the_list_does_nothing(start: Start, server: Loopback, mira: Human) -> None:
    run = start()
    question = mira.asks("200 g rice")
    run.stop()
    run = start(access="list", listed=frozenset({1}))
    tap = mira.presses(question, "dry")
    server.until(lambda: tap in server.answered)
    assert weights(run, mira) == []
