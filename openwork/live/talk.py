"""One page's conversation: it says what it wishes, and is told what came of it.

Knows no web framework. One ring is on the pen; of what is wished meanwhile only the newest waits.
Measuring waits for stillness, and gives way to a newer ring.
"""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable, Coroutine
from contextlib import suppress
from typing import Any, TypeAlias

from openwork.live.errands import Errands
from openwork.live.wish import Data, Wish, wish_of
from openwork.live.worker import Worker

Send: TypeAlias = Callable[[Data], Awaitable[None]]
STILL = 0.05  # s without a new ring before its least rib is measured
QUIET = 0.15  # s more before it is weighed


class Talk:
    """What is heard goes to the workers, what they find is sent."""

    def __init__(self, pen: Worker, scale: Worker, errands: Errands, send: Send) -> None:
        self._pen, self._scale, self._errands, self._send = pen, scale, errands, send
        self._newest: tuple[int, Wish] | None = None
        self._wake = asyncio.Event()
        self._behind: asyncio.Task[None] | None = None
        self._thumbs: asyncio.Task[None] | None = None
        self._others: set[asyncio.Task[None]] = set()
        self._blank = ""
        self._drawer = asyncio.create_task(self._draw())

    def hear(self, said: Data) -> None:
        """Take one message of the page; never waits. Raises ValueError for what is none."""
        match said:
            case {"draw": int(n), "spec": dict()}:
                self._newest = n, wish_of(said)
                _cancel(self._behind)
                self._wake.set()
            case {"thumbs": int(n), "spec": dict(), "names": list(names)}:
                _cancel(self._thumbs)
                self._thumbs = self._later(self._picture(n, wish_of(said), names))
            case {"shelf": int(n)}:
                self._later(self._shelf(n))
            case _:
                kind = self._errands.kind(said)
                self._later(self._answer(kind, said))

    def close(self) -> None:
        """Give up what is under way."""
        for task in (self._drawer, self._behind, *self._others):
            _cancel(task)

    def _later(self, doing: Coroutine[Any, Any, None]) -> asyncio.Task[None]:
        task = asyncio.create_task(doing)
        self._others.add(task)
        task.add_done_callback(self._others.discard)
        return task

    async def _answer(self, kind: str, said: Data) -> None:
        await self._tell({kind: said[kind], **await self._errands.run(kind, said)})

    async def _tell(self, said: Data) -> None:
        with suppress(ConnectionError, RuntimeError):  # the page has gone
            await self._send(said)

    async def _draw(self) -> None:
        while True:
            await self._wake.wait()
            self._wake.clear()
            if self._newest is None:
                continue
            (n, wish), self._newest = self._newest, None
            reply = await _asked(self._pen, "draw", wish)
            await self._tell({"ring": n, **self._shorter(reply)})
            if "faults" in reply or await self._newer(STILL):
                continue
            await self._tell({"ribs": n, **await _asked(self._pen, "ribs", wish)})
            if self._newest is None:
                self._behind = asyncio.create_task(self._weigh(n, wish))

    def _shorter(self, reply: Data) -> Data:
        """Return *reply* without the blank that the page has already."""
        blank, self._blank = self._blank, reply.get("blank", self._blank)
        return {k: v for k, v in reply.items() if k != "blank" or v != blank}

    async def _newer(self, within: float) -> bool:
        """Tell whether a newer ring is wished for, waiting a moment: the pen must stay free."""
        with suppress(TimeoutError):
            await asyncio.wait_for(self._wake.wait(), within)
        return self._newest is not None

    async def _weigh(self, n: int, wish: Wish) -> None:
        """Tell what takes longer, coarse first; a newer ring cancels it between the steps."""
        await asyncio.sleep(QUIET)
        for step in (("stiffness", wish, "search"), ("limits", wish), ("stiffness", wish, "final")):
            await self._tell({"weighed": n, **await _asked(self._scale, *step)})

    async def _picture(self, n: int, wish: Wish, names: list[Any]) -> None:
        for name in names:
            await self._tell({"thumb": n, **await _asked(self._scale, "thumb", wish, str(name))})

    async def _shelf(self, n: int) -> None:
        for name, text in list(self._errands.desk.kept()):
            await self._tell({"shelf": n, **await _asked(self._pen, "shelved", name, text)})


async def _asked(worker: Worker, name: str, *given: Any) -> Data:
    """Return what the worker answers; a bug in it is told as a fault, and the page goes on."""
    try:
        found: Data = await worker.ask(name, *given)
    except (RuntimeError, EOFError, OSError) as error:
        return {"faults": [f"something went wrong here, and the spec is as it was: {error}"]}
    return found


def _cancel(task: asyncio.Task[None] | None) -> None:
    if task:
        task.cancel()
