"""What updates say, beside what the library's own classes make of them."""

from datetime import UTC
from typing import Any

import pytest
import telegram

from bot.channels.telegram.reading import BlockChange, Me, Message, Moved, Removed, Tap, read

ME = Me(4200001, "scales_bot")
BOT = {"id": ME.id, "is_bot": True, "first_name": "Scales", "username": ME.username}
MIRA = {"id": 1001, "is_bot": False, "first_name": "Mira", "last_name": "Okafor", "language_code": "en"}
PRIVATE = {"id": 1001, "type": "private", "first_name": "Mira"}
GROUP = {"id": -5005, "type": "group", "title": "Kitchen"}
FILE = {"file_id": "f", "file_unique_id": "u"}
PHOTO = [{**FILE, "width": 90, "height": 60}]
PLACE = {"longitude": 1.5, "latitude": 2.5}


def message(chat: dict[str, Any] = PRIVATE, **more: Any) -> dict[str, Any]:
    return {"message_id": 7, "from": MIRA, "chat": chat, "date": 1_772_452_800, **more}


SAID = message(text="180 g cooked rice")
MESSAGES = {
    "words": SAID,
    "a caption": message(photo=PHOTO, caption="180 g cooked rice", media_group_id="album"),
    "a reply to the bot": message(GROUP, text="175 g", reply_to_message={**message(GROUP, text="Noted."), "from": BOT}),
    "a reply to another": message(GROUP, text="175 g", reply_to_message=message(GROUP, text="180 g")),
    "no last name": message(text="hello") | {"from": {"id": 9, "is_bot": False, "first_name": "Jo"}},
    "a photo": message(photo=PHOTO),
    "a voice message": message(voice={**FILE, "duration": 2}),
    "a moving picture": message(
        animation={**FILE, "width": 1, "height": 1, "duration": 1}, document={**FILE, "file_name": "a.mp4"}
    ),
    "a place": message(location=PLACE, venue={"location": PLACE, "title": "Shop", "address": "1 Road"}),
    "a note of Telegram's own": message(GROUP, new_chat_title="Our kitchen"),
    "a channel's": {"message_id": 7, "chat": GROUP, "date": 1_772_452_800, "sender_chat": GROUP, "text": "180 g rice"},
}


@pytest.mark.parametrize("edited", (False, True))
@pytest.mark.parametrize("raw", MESSAGES.values(), ids=MESSAGES)
def test_a_message_says_what_the_library_sees_in_it(raw: dict[str, Any], edited: bool) -> None:
    kind, more = ("edited_message", {"edit_date": 1_772_452_860}) if edited else ("message", {})
    update = {"update_id": 1, kind: raw | more}
    theirs = telegram.Update.de_json(update, None).effective_message
    assert theirs is not None
    ours = read(update, ME)
    text = theirs.text if theirs.text is not None else theirs.caption
    attached = theirs.effective_attachment
    if theirs.from_user is None or (text is None and (attached is None or edited)):
        assert ours is None
        return
    assert isinstance(ours, Message)
    reply = theirs.reply_to_message
    to_me = reply is not None and reply.from_user is not None and reply.from_user.id == ME.id
    assert (ours.user_id, ours.user_name) == (theirs.from_user.id, theirs.from_user.full_name)
    assert (ours.place, ours.shared) == (str(theirs.chat.id), theirs.chat.type != "private")
    assert (ours.ref, ours.text) == (f"{theirs.chat.id}:{theirs.message_id}", text)
    assert (ours.at, ours.edited_at) == (theirs.date.astimezone(UTC), theirs.edit_date)
    assert (ours.refers, ours.album) == (reply and f"{theirs.chat.id}:{reply.message_id}", theirs.media_group_id)
    assert ours.addressed == (theirs.chat.type == "private" or to_me)
    assert ours.kind == "text" if text is not None else theirs[ours.kind] == attached


@pytest.mark.parametrize(
    ("under", "place", "shown"),
    (
        (SAID, "1001", "180 g cooked rice"),
        ({"message_id": 7, "chat": PRIVATE, "date": 0}, "1001", ""),
        (None, None, ""),
    ),
    ids=("a message", "one that is too old", "none"),
)
def test_a_press_says_where_the_button_was(under: dict[str, Any] | None, place: str | None, shown: str) -> None:
    query = {"id": "55", "from": MIRA, "chat_instance": "1", "data": "ref.0", **({"message": under} if under else {})}
    update = {"update_id": 1, "callback_query": query}
    theirs = telegram.Update.de_json(update, None).callback_query
    assert theirs is not None
    ours = read(update, ME)
    assert isinstance(ours, Tap)
    assert (ours.id, ours.user_id, ours.data) == (theirs.id, theirs.from_user.id, theirs.data)
    assert (ours.place, ours.shown, ours.shared) == (place, shown, False)
    assert ours.message == (theirs.message and f"{theirs.message.chat.id}:{theirs.message.message_id}")


def test_who_left_and_what_moved() -> None:
    def changed(chat: dict[str, Any], status: str) -> object:
        member = {"user": BOT, "status": "member"}
        change = {"chat": chat, "from": MIRA, "date": 1_772_452_800, "old_chat_member": member}
        return read({"update_id": 1, "my_chat_member": {**change, "new_chat_member": member | {"status": status}}}, ME)

    assert changed(PRIVATE, "kicked") == BlockChange(1001, blocked=True)
    assert changed(PRIVATE, "member") == BlockChange(1001, blocked=False)
    assert changed(GROUP, "left") == changed(GROUP, "kicked") == Removed("-5005")
    assert changed(GROUP, "member") is None
    assert read({"update_id": 1, "message": message(GROUP, migrate_to_chat_id=-6006)}, ME) == Moved("-5005", "-6006")
    assert read({"update_id": 1, "poll": {}}, ME) is None
