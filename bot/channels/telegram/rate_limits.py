"""The server's rate limits, shared fairly between chats.

core.telegram.org/bots/faq#my-bot-is-hitting-limits-how-do-i-avoid-this: about 30 messages a second over all, 20 a
minute in a group. A private chat gets its messages at once, and waits only when the server asks for it.
"""

from __future__ import annotations

import asyncio
import heapq

from aiolimiter import AsyncLimiter

OVERALL_A_SECOND = 28
IN_GROUP_A_MINUTE = 20

PLACES_REMEMBERED = 1000
"""Of how many places it is known when something was last sent there; the others count as never."""


class RateLimits:
    """Lets requests through as fast as the server allows."""

    def __init__(self) -> None:
        self._overall = FairLimiter(OVERALL_A_SECOND)
        self._groups: dict[str, AsyncLimiter] = {}

    async def acquire(self, place: str) -> None:
        """Returns when a request for the place may be sent."""
        await self._overall.acquire(place)

    async def acquire_in_group(self, place: str) -> None:
        """Returns when a message may be sent to the group."""
        await self._groups.setdefault(place, AsyncLimiter(IN_GROUP_A_MINUTE, 60)).acquire()


class FairLimiter:
    """Limits requests per second; of those that wait, the place served least recently goes first."""

    def __init__(self, a_second: float) -> None:
        self._limiter = AsyncLimiter(a_second, 1)
        self._let_through: dict[str, int] = {}
        self._count = 0
        self._waiting: list[tuple[int, int, str, asyncio.Future[None]]] = []
        self._opening: asyncio.Task[None] | None = None

    async def acquire(self, place: str) -> None:
        """Returns when it is the place's turn."""
        self._count += 1
        turn: asyncio.Future[None] = asyncio.get_running_loop().create_future()
        heapq.heappush(self._waiting, (self._let_through.get(place, 0), self._count, place, turn))
        if self._opening is None or self._opening.done():
            self._opening = asyncio.create_task(self._let_in())
        await turn

    async def _let_in(self) -> None:
        while self._waiting:
            await self._limiter.acquire()
            *_, place, turn = heapq.heappop(self._waiting)
            if turn.cancelled():
                continue
            turn.set_result(None)
            self._let_through.pop(place, None)
            self._let_through[place] = self._count
            if len(self._let_through) > PLACES_REMEMBERED:
                del self._let_through[next(iter(self._let_through))]
