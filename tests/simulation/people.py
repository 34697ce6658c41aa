"""Who writes to the bot, and what must be on record of them once everything has been handled."""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Any

from tests.telegram.crowd import Human

from .network import Server

KCAL_PER_100_G = 130.0
"""Rice, white, long-grain, regular, enriched, cooked: USDA FoodData Central 168878 (SR Legacy 20045)."""

FIRST_SPAN, EDIT_SPAN = 300, 300
"""How many different weights each person may say, and correct others to."""


@dataclass
class Weighed:
    """One weight that was said, as it must stand in the end."""

    message_id: int
    first: int
    grams: int
    day: date
    stands: bool = True


@dataclass(frozen=True)
class Awaited:
    """What the reply to a message must contain: all of these parts."""

    parts: tuple[str, ...]
    grams: int | None = None
    """The day's grams so far, whose energy the reply states; counted here from the figures' source."""

    def met_by(self, text: str) -> bool:
        return all(part in text for part in self.parts) and (self.grams is None or self._total_in(text))

    def _total_in(self, text: str) -> bool:
        if not self.grams:
            return "Nothing is on record for today" in text
        found = re.search(r"Today: ([\d,]+) kcal", text)
        return found is not None and abs(int(found[1].replace(",", "")) - self.grams * KCAL_PER_100_G / 100) <= 0.5


class Client(Human):
    """Weighs cooked rice. Each weight that is said belongs to one message only."""

    def __init__(self, server: Server, number: int, now: Callable[[], datetime], chance: random.Random) -> None:
        super().__init__(server, 2000 + number, f"Person {number}")
        self.said: list[Weighed] = []
        self.awaited: list[Awaited] = []
        """What the replies must contain, in the order of the messages."""
        self.corrections = 0
        self.messages: list[int] = []
        """The ids of the messages in words, in order; each has to be handled once."""
        self._now = now
        self._chance = chance
        self._first = 100 + FIRST_SPAN * number
        self._corrected = 1500 + EDIT_SPAN * number
        self._last_was_weight = False
        self.agreed = False

    @property
    def key(self) -> str:
        return str(self.id)

    def acts(self) -> None:
        """Does one of the things that people do."""
        ways = (self.weighs, self.weighs, self.weighs, self.corrects, self.takes_back, self.asks_for_today)
        self._chance.choice((*ways, self.sends_a_photo, self.moves_the_reminder, self.moves_the_reminder))()

    def weighs(self) -> None:
        if len(self.said) >= FIRST_SPAN:
            return
        grams = self._first + len(self.said)
        message_id = self._tells(f"{grams} g cooked rice")
        self.said.append(Weighed(message_id, grams, grams, self._today()))
        self._last_was_weight = True
        self.awaited.append(Awaited((f"#{len(self.said)} ", f"{grams:,} g"), self._total()))

    def corrects(self) -> None:
        standing = [weighed for weighed in self.said if weighed.stands]
        if not standing or self.corrections >= EDIT_SPAN:
            return
        which = self._chance.choice(standing)
        which.grams = self._corrected + self.corrections
        self.corrections += 1
        text = self._texts[which.message_id] | {
            "text": f"{which.grams} g cooked rice",
            "edit_date": int(self._now().timestamp()),
        }
        self.server.deliver("edited_message", text, self.id)
        self._last_was_weight = False
        self.awaited.append(Awaited((f"{which.grams:,} g",)))

    def takes_back(self) -> None:
        if not self._last_was_weight:
            return
        self._tells("undo")
        last = self.said[-1]
        last.stands = False
        self._last_was_weight = False
        self.awaited.append(Awaited((f"#{len(self.said)} ", "taken back")))

    def asks_for_today(self) -> None:
        self._tells("/today")
        self.awaited.append(Awaited((), self._total()))

    def sends_a_photo(self) -> None:
        photo = [{"file_id": "p", "file_unique_id": "p", "width": 90, "height": 90}]
        self.sends(at=self._now().timestamp(), photo=photo)
        self.awaited.append(Awaited(("I can't read photos",)))

    def moves_the_reminder(self) -> None:
        # Soon, but not so late that one day's reminder could come on the next.
        at = self._now() + timedelta(minutes=self._chance.choice((2, 7, 20)))
        clock = f"{min(at.hour, 21):02}:{at.minute:02}"
        self._tells(f"remind me at {clock}")
        self._last_was_weight = False
        self.awaited.append(Awaited((f"set to {clock}",)))

    def agrees(self, code: str) -> None:
        """To being coached."""
        self._tells(f"/start {code}")
        self._tells("yes")
        self.agreed = True
        self._last_was_weight = False

    def ends_coaching(self) -> None:
        self._tells("end coaching")
        self._last_was_weight = False

    def standing(self) -> list[int]:
        """The weights that must be on record in the end, in the order of their numbers."""
        return [weighed.grams for weighed in self.said if weighed.stands]

    def _tells(self, text: str) -> int:
        message_id = self.says(text, at=self._now().timestamp())
        self.messages.append(message_id)
        return message_id

    def _today(self) -> date:
        # The day is that of the message's own second.
        return datetime.fromtimestamp(int(self._now().timestamp()), UTC).date()

    def _total(self) -> int:
        today = self._today()
        return sum(weighed.grams for weighed in self.said if weighed.stands and weighed.day == today)


class Stranger(Human):
    """Is on nobody's list, and is told so once for each message."""

    def __init__(self, server: Server, now: Callable[[], datetime]) -> None:
        super().__init__(server, 3000, "Stranger")
        self.messages: list[int] = []
        self._now = now

    def acts(self) -> None:
        self.messages.append(self.says("hello", at=self._now().timestamp()))


class Coach(Human):
    """Invites a client, and asks for their day again and again, whether or not they agree."""

    def __init__(self, server: Server, client: Client, now: Callable[[], datetime]) -> None:
        super().__init__(server, 4000, "Ines")
        self.client = client
        self._now = now

    @property
    def key(self) -> str:
        return str(self.id)

    def invites(self) -> None:
        self.says("invite Pavel", at=self._now().timestamp())

    def acts(self) -> None:
        self.says("Pavel's day", at=self._now().timestamp())

    def code(self) -> str | None:
        """The invitation's code, once it has arrived."""
        texts = [sent.text for sent in self.server.sent[self.id]]
        found = [match[1] for text in texts if (match := re.search(r"/start (\S+)", text))]
        return found[0] if found else None


def malformed(chance: random.Random) -> dict[str, Any]:
    """The content of a message that makes no sense."""
    return chance.choice(
        (
            {"message_id": "seven", "chat": {"id": 5000, "type": "private"}, "date": 1},
            {"message_id": 7, "chat": {"id": 5000, "type": "private"}, "date": 10**17, "from": {"id": 5}},
            {"chat": {"id": 5000, "type": "private"}},
        )
    )
