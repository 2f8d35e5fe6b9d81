"""Reads and words a spec: the file as it is told, what can be said in it, and its new text."""

from __future__ import annotations

import dataclasses
import tomllib
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from openwork.drawing.outlines import outlines
from openwork.errors import OpenworkError, RuleError, SpecError
from openwork.explore.mass.begun import least_rib, plainest
from openwork.fill.catalogue import catalogue
from openwork.fill.registry import patterns
from openwork.live.controls import controls
from openwork.live.pen import Pen, refusal
from openwork.live.remarks import remarks
from openwork.live.wish import Data, Wish
from openwork.render.shop.formats import FORMATS
from openwork.spec.rewrite import rewritten
from openwork.spec.schema import schema
from openwork.spec.spec import Spec, changed, from_data, from_toml
from openwork.tables.caution import CAUTION
from openwork.tables.toml import content
from openwork.tables.wording import printable

NAMED = 80  # characters of a file's name that are told


class Scribe(Pen):
    """A pen that also reads and writes the words of a spec."""

    def read(self, path: str) -> Data:
        """Return the spec file *path*: its text, values, order and comments; or its faults."""
        try:
            text = content(Path(path))
            from_toml(text, source=Path(path).name)
        except SpecError as error:
            return refusal(error)
        return {"text": text, **told(text)}

    def parse(self, text: str) -> Data:
        """Return the TOML value that *text* is, or the fault of it."""
        try:
            return {"value": tomllib.loads(f"value = {text}\n")["value"]}
        except (ValueError, RecursionError):
            return {"faults": [f'{text}: not a value of TOML; 2.5, "word" or [1, 2] works']}

    def drawing(self, data: bytes, name: str) -> Data:
        """Return the normal form of the drawing *data*, or its faults under *name*."""
        try:
            return {"outlines": outlines(data, printable(name)[:NAMED])}
        except SpecError as error:
            return refusal(error)

    def text(self, wish: Wish, old: str) -> Data:
        """Return the spec file *old* told anew for *wish*, comments and order kept."""
        try:
            text = rewritten(old, self.saved(wish))
            return {"text": text, "told": tomllib.loads(text)}
        except OpenworkError as error:
            return {"faults": str(error).splitlines()}

    def saved(self, wish: Wish) -> Spec:
        """Return the spec that, opened again, makes the ring wished for; raises SpecError.

        Written down is the rib that was turned to a mass, and what was held of the pattern where
        it would choose otherwise.
        """
        spec = from_data(wish.spec)
        try:
            ring = self.ring(wish)
        except RuleError:
            return spec  # a spec may be kept whose ring cannot be made yet
        if ring.spec.web.rib != spec.web.rib:
            least = least_rib(spec)
            spec = changed(spec, {"web.rib": ring.spec.web.rib, "goal.least_rib": least})
        return plainest(spec, ring)

    def shelved(self, name: str, text: str) -> Data:
        """Return the spec *text* of a kept ring as values and picture, or its faults."""
        try:
            found = told(text)["told"]
            return {"name": name, "told": found, **self.draw(Wish(found))}
        except (ValueError, RecursionError):
            return {"name": name, "faults": [f"{name}: not TOML"]}

    def described(self) -> Data:
        """Return what controls, thumbnails and exports are made from."""
        return {
            "tables": controls(schema(patterns())),
            "patterns": {one.name: one.summary for one in catalogue()},
            "per_bolt": {name: list(_per_bolt(kind)) for name, kind in patterns().items()},
            "formats": {name: _missing(one.needs) for name, one in FORMATS.items()},
            "caution": CAUTION,
        }


def told(text: str) -> Data:
    """Return the values of the spec *text* as it gives them, and its order and comments."""
    return {"told": tomllib.loads(text), "remarks": remarks(text)}


def _per_bolt(kind: Any) -> Iterator[str]:
    for field in dataclasses.fields(kind):
        if field.metadata["per_bolt"]:
            yield field.name


def _missing(packages: tuple[str, ...]) -> bool:
    return any(find_spec(package) is None for package in packages)
