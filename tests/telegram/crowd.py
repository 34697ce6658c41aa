"""People who use a messenger: what they do becomes updates, what they are sent can be looked at."""

from __future__ import annotations

import time
from itertools import count
from typing import Any

from .loopback import PATIENCE, USERNAME, Loopback, Sent

_queries = count(1)


class Human:
    """Somebody with a private chat, and perhaps in groups."""

    def __init__(self, server: Loopback, user_id: int, name: str) -> None:
        self.server = server
        self.id = user_id
        self.name = name
        self.heard = 0
        self._texts: dict[int, dict[str, Any]] = {}

    @property
    def user(self) -> dict[str, Any]:
        return {"id": self.id, "is_bot": False, "first_name": self.name, "language_code": "en"}

    def sends(self, chat_id: int | None = None, at: float | None = None, **content: Any) -> int:
        """A message with any content. Returns its id."""
        place = self.id if chat_id is None else chat_id
        message_id = self.server.message_id(place)
        chat = {"id": place, "type": "private" if place > 0 else "supergroup"}
        chat |= {"first_name": self.name} if place > 0 else {"title": "Kitchen"}
        message = {"message_id": message_id, "from": self.user, "chat": chat, "date": int(at or time.time()), **content}
        self._texts[message_id] = message
        self.server.deliver("message", message, place)
        return message_id

    def says(
        self, text: str, *, reply_to: Sent | None = None, chat_id: int | None = None, at: float | None = None
    ) -> int:
        """A text message. Returns its id."""
        more = {} if reply_to is None else {"reply_to_message": self.server.as_message(reply_to)}
        return self.sends(chat_id, at, text=text, **more)

    def edits(self, message_id: int, text: str) -> None:
        message = self._texts[message_id] | {"text": text, "edit_date": int(time.time())}
        self.server.deliver("edited_message", message, message["chat"]["id"])

    def presses(self, message: Sent, choice: str, data: str | None = None, *, inaccessible: bool = False) -> str:
        """A button of a message of the bot's. Returns the press's id.

        An `inaccessible` message is too old for the server to show (core.telegram.org/bots/api#inaccessiblemessage).
        """
        if data is None:
            data = dict(message.buttons)[choice]
        shown = self.server.as_message(message)
        if inaccessible:
            shown = {"chat": shown["chat"], "message_id": shown["message_id"], "date": 0}
        query_id = f"{self.id}{next(_queries):09}"
        query = {
            "id": query_id,
            "from": self.user,
            "chat_instance": "1",
            "data": data,
            "message": shown,
        }
        self.server.tap(query, message.chat_id)
        return query_id

    def blocks(self, blocks: bool = True) -> None:
        me = {"id": 4200001, "is_bot": True, "first_name": "Tarebook", "username": USERNAME}
        with self.server.lock:
            (self.server.blocked.add if blocks else self.server.blocked.discard)(self.id)
        old, new = ("member", "kicked") if blocks else ("kicked", "member")
        change = {
            "chat": {"id": self.id, "type": "private", "first_name": self.name},
            "from": self.user,
            "date": int(time.time()),
            "old_chat_member": {"user": me, "status": old} | ({"until_date": 0} if old == "kicked" else {}),
            "new_chat_member": {"user": me, "status": new} | ({"until_date": 0} if new == "kicked" else {}),
        }
        self.server.deliver("my_chat_member", change, self.id)

    def hears(self, messages: int = 1, timeout: float = PATIENCE) -> list[Sent]:
        """The next messages of the bot's in the private chat, once there are so many."""
        sent = self.server.sent[self.id]
        self.server.until(lambda: len(sent) >= self.heard + messages, timeout)
        new = sent[self.heard : self.heard + messages]
        self.heard += messages
        return new

    def asks(self, text: str, **how: Any) -> Sent:
        """Says something, and gives the answer."""
        self.says(text, **how)
        return self.hears()[0]
