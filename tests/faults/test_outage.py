"""The messenger's server is out of reach for an hour, on a simulated clock."""

from __future__ import annotations

import asyncio

import pytest

from bot.app import open_tarebook
from bot.channels.telegram import sending
from bot.channels.telegram.serving import Service, Serving
from bot.settings import TelegramSettings
from tests.telegram.crowd import Human
from tests.telegram.loopback import TOKEN

from .simulated import START, Far, run

BEGINS, ENDS = 60.0, 3660.0


def test_an_hour_without_the_server_is_waited_out(monkeypatch: pytest.MonkeyPatch) -> None:
    with open_tarebook("sqlite://") as tarebook:

        async def an_afternoon(far: Far) -> None:
            stop = asyncio.Event()
            settings = TelegramSettings(TOKEN, "https://example.org", "open", frozenset())
            service = Service(tarebook, settings, Serving(), stop)
            running = asyncio.create_task(service.run())
            people = [Human(far, 1000 + number, "Somebody") for number in range(3)]  # type: ignore[arg-type]
            loop = asyncio.get_running_loop()
            said = 0
            while loop.time() < ENDS - 200:
                # Once a second before it begins, then every five minutes.
                await asyncio.sleep(1 if loop.time() < BEGINS else 300)
                far.goes_down = loop.time() >= BEGINS
                for person in people:
                    person.says(f"{100 + said} g cooked rice", at=START.timestamp() + loop.time())
                said += 1
            assert not service.monitor.well
            await asyncio.sleep(ENDS - loop.time())
            assert far.down
            far.down = far.goes_down = False
            tries = far.tries
            await asyncio.sleep(180)
            assert service.monitor.well
            stop.set()
            await running
            await service.close()

            # It keeps trying and does not hammer: after a while it asks for updates about every half minute, and sends
            # to each of three chats about once a minute.
            assert 120 + 3 * 50 < tries < 140 + 3 * 80
            for person in people:
                heard = far.heard[person.id]
                assert len(heard) == said, "an answer is missing, or came twice"
                assert all(f"{100 + number} g" in text for number, (_, text) in enumerate(heard))
                first = next(at for at, _ in heard if at > BEGINS + 1)
                assert ENDS <= first < ENDS + 75 + sending.LOOKS, "longer than the longest pause"
                assert heard[-1][0] < ENDS + 120

        run(an_afternoon, monkeypatch)
