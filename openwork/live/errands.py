"""What a page asks for by a button, each answered once: tune, save, keep, export, read again."""

from __future__ import annotations

from collections.abc import Awaitable
from pathlib import Path
from typing import Any

from openwork.live.desk import Desk
from openwork.live.wish import Data, wish_of
from openwork.live.worker import Worker

FORMATS = 12  # at most in one order
KINDS = ("tune", "save", "beside", "keep", "export", "parse", "open")


class Errands:
    """Runs them with the workers and on the desk, those that write one after the other."""

    def __init__(self, desk: Desk, pen: Worker, scale: Worker) -> None:
        self.desk, self._pen, self._scale = desk, pen, scale

    def kind(self, said: Data) -> str:
        """Return which errand the message *said* is; raises ValueError where it is none."""
        for name in KINDS:
            if isinstance(said.get(name), int):
                return name
        raise ValueError("not a message")

    async def run(self, kind: str, said: Data) -> Data:
        """Return the answer to *said*; faults are among it."""
        return await _whole(getattr(self, f"_{kind}")(said))

    async def drawing(self, data: bytes, name: str) -> Data:
        """Return the normal form of the drawing *data*, called *name*, or its faults."""
        return await _whole(self._told(self._pen, "drawing", data, name))

    async def opened(self) -> Data:
        """Return the file as it is now, or its faults."""
        stamp = self.desk.stamp()
        found: Data = await self._pen.ask("read", str(self.desk.path))
        folder = self.desk.path.parent.name
        return {**found, "stamp": stamp, "name": self.desk.target.name, "folder": folder}

    async def _open(self, said: Data) -> Data:
        del said
        return await self.opened()

    async def _tune(self, said: Data) -> Data:
        return await self._told(self._scale, "tune", wish_of(said))

    async def _parse(self, said: Data) -> Data:
        return await self._told(self._pen, "parse", _text(said, "text"))

    async def _save(self, said: Data) -> Data:
        async with self.desk.busy:
            made = await self._worded(said)
            return made if "faults" in made else self.desk.save(made["text"], _text(said, "stamp"))

    async def _beside(self, said: Data) -> Data:
        async with self.desk.busy:
            made = await self._worded(said)
            return made if "faults" in made else self.desk.beside(made["text"])

    async def _keep(self, said: Data) -> Data:
        async with self.desk.busy:
            made = await self._worded(said)
            if "faults" in made:
                return made
            return {**self.desk.keep(made["text"]), "told": made["told"]}

    async def _export(self, said: Data) -> Data:
        names = said.get("formats")
        known = (await self._pen.ask("described"))["formats"]
        if not isinstance(names, list) or not names or len(names) > FORMATS:
            return {"faults": ["choose at least one kind of file"]}
        if wrong := [one for one in names if one not in known]:
            return {"faults": [f"{wrong[0]}: is none of {', '.join(known)}"]}
        made = await self._told(self._scale, "export", wish_of(said), tuple(names))
        return made if "faults" in made else self.desk.export(made["files"])

    async def _worded(self, said: Data) -> Data:
        """Return the text of the file for the wish in *said*, in the words of the file on disk."""
        old = await self._pen.ask("read", str(self._source()))
        return await self._told(self._pen, "text", wish_of(said), old.get("text", ""))

    def _source(self) -> Path:
        return self.desk.target if self.desk.target.exists() else self.desk.path

    async def _told(self, worker: Worker, name: str, *given: Any) -> Data:
        found: Data = await worker.ask(name, *given)
        return found


async def _whole(found: Awaitable[Data]) -> Data:
    """Return what is *found*, or what went wrong on the way."""
    try:
        return await found
    except ValueError:
        return {"faults": ["the page said something that the server does not know"]}
    except (RuntimeError, EOFError) as error:
        return {"faults": [f"something went wrong here, and the files are whole: {error}"]}


def _text(said: Data, key: str) -> str:
    text = said.get(key)
    if not isinstance(text, str):
        raise ValueError(f"no {key}")
    return text
