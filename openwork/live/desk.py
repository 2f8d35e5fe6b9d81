"""The spec file on the desk: the only place that writes, and it knows where it may.

Saved is the spec file itself, kept rings go into STEM-kept beside it, files for the shop into one
folder; the page never names a path. Nothing is written over what somebody else has changed.
"""

from __future__ import annotations

import asyncio
import hashlib
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from openwork.files import write_files
from openwork.live.wish import Data

SHELF = 60  # kept rings shown at most, the newest
NAME = re.compile(r"[A-Za-z0-9]{1,20}")


@dataclass(slots=True)
class Desk:
    """A spec file, the folder for what is made of it, and rings brought along by name."""

    path: Path
    out: Path
    brought: Mapping[str, str] = field(default_factory=dict)
    busy: asyncio.Lock = field(default_factory=asyncio.Lock)

    @property
    def target(self) -> Path:
        """Where the spec is saved: its file, or beside the drawing it was read from."""
        return self.path if self._is_spec() else self.path.with_suffix(".toml")

    @property
    def shelf(self) -> Path:
        """The folder of the kept rings."""
        return self.path.parent / f"{self.path.stem}-kept"

    def stamp(self) -> str:
        """Return what tells whether the file is still as it was; nothing where there is none."""
        try:
            return hashlib.sha256(self.target.read_bytes()).hexdigest()
        except OSError:
            return ""

    def save(self, text: str, stamp: str) -> Data:
        """Write *text* if the file is as it was at *stamp*; else say that it is not."""
        if self.stamp() != stamp:
            return {"conflict": self.target.name, "gone": not self.target.exists()}
        found = _written(self.target.parent, {self.target.name: text})
        return found if "faults" in found else {**found, "stamp": self.stamp()}

    def beside(self, text: str) -> Data:
        """Write *text* beside the file, under the first name that is free."""
        name = _free(self.target.parent, f"{self.target.stem}-")
        return _written(self.target.parent, {name: text})

    def keep(self, text: str) -> Data:
        """Write *text* on the shelf, under the first name that is free."""
        name = _free(self.shelf, "ring")
        return {**_written(self.shelf, {name: text}), "name": name.removesuffix(".toml")}

    def kept(self) -> Iterator[tuple[str, str]]:
        """Yield name and text of the rings brought along, then of those on the shelf."""
        yield from self.brought.items()
        found = [one for one in self.shelf.glob("*.toml") if NAME.fullmatch(one.stem)]
        for path in sorted(found, key=lambda one: one.stat().st_mtime)[-SHELF:]:
            try:
                yield path.stem, path.read_text("utf-8")
            except (OSError, ValueError):
                continue

    def export(self, files: Mapping[str, bytes | str]) -> Data:
        """Write *files* for the shop."""
        return _written(self.out, files)

    def _is_spec(self) -> bool:
        return self.path.suffix.lower() != ".svg"


def _written(folder: Path, files: Mapping[str, bytes | str]) -> Data:
    """Write *files* into *folder*; return which were written, or what the disk says against it."""
    try:
        paths = write_files(folder, files)
    except OSError as error:
        where = Path(str(error.filename)).name if error.filename else folder.name
        words = f"{where}: {error.strerror or error}; nothing was written, earlier files are whole"
        return {"faults": [words]}
    return {"written": [f"{path.parent.name}/{path.name}" for path in paths]}


def _free(folder: Path, stem: str) -> str:
    """Return the first name after *stem* that nothing in *folder* has."""
    number = 1
    while (folder / f"{stem}{number}.toml").exists():
        number += 1
    return f"{stem}{number}.toml"
