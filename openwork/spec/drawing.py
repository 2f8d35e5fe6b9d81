"""The file of ``pattern.drawing``, read once and turned into ``pattern.outlines``.

A spec holds the drawing itself, so that it, and every recipe, may move anywhere.
"""

from __future__ import annotations

import stat
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from openwork.drawing.gate import LARGEST
from openwork.drawing.outlines import outlines
from openwork.errors import SpecError

KEY = "pattern.drawing"


def with_outlines(data: Mapping[str, Any], folder: Path, source: str) -> dict[str, Any]:
    """Return the spec's *data* with outlines in place of a drawing's file, looked for in *folder*.

    Raises SpecError, under the name *source*, where it is not in that folder or no drawing.
    """
    table = data.get("pattern")
    if not isinstance(table, dict) or "drawing" not in table:
        return dict(data)
    if "outlines" in table:
        raise SpecError(f"{source}: {KEY} and pattern.outlines: only one of them is taken")
    rest = {key: value for key, value in table.items() if key != "drawing"}
    text = outlines_of(table["drawing"], folder, source)
    return {**data, "pattern": {**rest, "outlines": text}}


def outlines_of(name: object, folder: Path, source: str) -> str:
    """Return the normal form of the drawing in the file *name* in *folder*; raises SpecError."""
    if not isinstance(name, str) or "://" in name:
        raise SpecError(f"{source}: {KEY}: must name an SVG file beside the spec")
    path = (folder / name).resolve()
    if Path(name).is_absolute() or not path.is_relative_to(folder.resolve()):
        raise SpecError(
            f"{source}: {KEY} {name[:80]!r}: must lie in the folder of the spec; "
            "a spec that moves must bring its drawing along"
        )
    return outlines(content(path, name), name)


def content(path: Path, name: str) -> bytes:
    """Return what the regular file *path* holds; raises SpecError under *name*."""
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            raise SpecError(f"{name}: is no regular file; name an SVG file")
        with path.open("rb") as file:
            return file.read(LARGEST + 1)
    except (OSError, ValueError) as error:
        if isinstance(error, SpecError):
            raise
        reason = getattr(error, "strerror", None) or str(error)
        raise SpecError(f"{name[:80]}: cannot be read: {reason}") from None
