"""Check 11: the engraved lines of a flat file are those of the marks, each where it should be."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

import numpy as np

from openwork.lettering.engraving import engraved
from openwork.render.accept.reading import Reading
from openwork.shape.stroke import Stroke, stroke_length

if TYPE_CHECKING:
    from openwork.ring import Design

OFF = 1e-3  # mm of a line's length, and of its ends and joints


def check_engraved(reading: Reading, design: Design) -> Iterator[str]:
    """Yield where engraved lines are missing, too many, open otherwise or out of place."""
    if reading.body is not None:
        return
    wanted = engraved(design.engravings)
    for name in sorted(wanted.keys() | reading.lines.keys()):
        found, meant = reading.lines.get(name, ()), wanted.get(name, ())
        if len(found) != len(meant):
            yield f"{len(found)} lines {name} where {len(meant)} were meant"
        elif fault := next(_apart(found, meant), ""):
            yield f"{name}: {fault}"


def _bent(one: Stroke, other: Stroke) -> float:
    """Return by how much an arc stands higher over its chord than the other, mm."""
    chords = np.hypot(*np.diff(other.points, axis=0).T)
    return float((np.abs(one.bulges - other.bulges) * chords / 2).max())


def _apart(found: Sequence[Stroke], meant: Sequence[Stroke]) -> Iterator[str]:
    """Yield which line is not the one meant; both are in the order of the text."""
    for k, (one, other) in enumerate(zip(found, meant, strict=True), start=1):
        off = abs(stroke_length(one) - stroke_length(other))
        if len(one) == len(other):
            off = max(off, float(np.abs(one.points - other.points).max()), _bent(one, other))
        else:
            off = max(off, float(np.abs(one.points[[0, -1]] - other.points[[0, -1]]).max()))
        if off > OFF:
            yield f"line {k} is {off:.4f} mm off"
