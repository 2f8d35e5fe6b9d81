"""A process that does one thing at a time for this one.

It hangs on a pipe: when this process goes, however it goes, the pipe ends and the worker with it,
busy or not. One that has died is started again at the next question. Workers are started afresh
("spawn"), so that they are the same on every system.
"""

from __future__ import annotations

import asyncio
import multiprocessing
import os
import queue
import signal
import threading
import traceback
from contextlib import suppress
from importlib import import_module
from multiprocessing.connection import Connection
from typing import Any

SPAWN = multiprocessing.get_context("spawn")


class Worker:
    """Asks the methods of an object that lives in a process of its own.

    *home* names its class, "package.module:Class"; *nice* is how far it steps back for others.
    """

    def __init__(self, home: str, nice: int = 0) -> None:
        self._given = home, nice
        self._turn = asyncio.Lock()
        self._begin()

    @property
    def pid(self) -> int:
        """The number of the process."""
        return self._process.pid or 0

    async def ask(self, name: str, *given: Any) -> Any:
        """Return what the method *name* returns there; waits for its turn."""
        await self._turn.acquire()
        asked = asyncio.ensure_future(asyncio.to_thread(self._ask, name, given))
        asked.add_done_callback(self._answered)
        # Who no longer wants the answer goes; it is taken off the pipe before the next question.
        return await asyncio.shield(asked)

    def end(self) -> None:
        """End the process, busy or not."""
        self._process.kill()
        self._process.join(2)
        self._pipe.close()

    def _answered(self, asked: asyncio.Future[Any]) -> None:
        self._turn.release()
        if not asked.cancelled():
            asked.exception()  # seen, whether or not anybody waits for it

    def _begin(self) -> None:
        self._pipe, theirs = SPAWN.Pipe()
        self._process = SPAWN.Process(target=serve, args=(theirs, *self._given), daemon=True)
        self._process.start()
        theirs.close()

    def _ask(self, name: str, given: tuple[Any, ...]) -> Any:
        try:
            return self._asked(name, given)
        except (EOFError, OSError):
            self.end()
            self._begin()
            return self._asked(name, given)

    def _asked(self, name: str, given: tuple[Any, ...]) -> Any:
        self._pipe.send((name, given))
        good, found = self._pipe.recv()
        if not good:
            raise RuntimeError(found)
        return found


def serve(pipe: Connection, home: str, nice: int) -> None:
    """Answer what comes through *pipe*, by the class that *home* names, until it ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the server, whose end is ours
    waiting: queue.SimpleQueue[tuple[str, tuple[Any, ...]]] = queue.SimpleQueue()
    threading.Thread(target=_listen, args=(pipe, waiting), daemon=True).start()
    if hasattr(os, "nice"):
        os.nice(nice)
    module, _, name = home.partition(":")
    there = getattr(import_module(module), name)()
    while True:
        method, given = waiting.get()
        answer = _answer(there, method, given)
        with suppress(OSError):
            pipe.send(answer)


def _listen(pipe: Connection, waiting: queue.SimpleQueue[Any]) -> None:
    """Pass on what comes; at the end of the pipe end the process, whatever it is at."""
    while True:
        try:
            waiting.put(pipe.recv())
        except (EOFError, OSError):
            os.kill(os.getpid(), signal.SIGTERM)
            return


def _answer(there: object, method: str, given: tuple[Any, ...]) -> tuple[bool, Any]:
    try:
        return True, getattr(there, method)(*given)
    except Exception as error:  # a bug is told, and the worker goes on
        traceback.print_exc()
        return False, f"{type(error).__name__}: {error}"
