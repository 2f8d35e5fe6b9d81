"""The five kinds of filling that a pattern may propose, each one symmetry class."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from openwork.shape.contour import Contour, Floats, Points


@dataclass(frozen=True, slots=True)
class Cells:
    """Polygons (k, 2) that tile the web and may touch; ribs are cut from their borders."""

    polygons: Sequence[Points]


@dataclass(frozen=True, slots=True)
class Net:
    """Centre lines (k, 2) of ribs; ``widths`` multiplies the rib, curve by curve."""

    curves: Sequence[Points]
    widths: Sequence[float] = ()


@dataclass(frozen=True, slots=True)
class Shapes:
    """Closed pockets, disjoint, placed as they are meant to be cut."""

    contours: Sequence[Contour]


@dataclass(frozen=True, slots=True)
class Field:
    """A function of radius and angle (arrays alike) that is above ``level`` inside the openings."""

    value: Callable[[Floats, Floats], Floats]
    level: float
    spacing: float = 0.25


@dataclass(frozen=True, slots=True)
class Drawn:
    """Regions of a drawing, each an outline (k, 2) and islands in it, placed as drawn.

    Islands are held by so many ``ties`` along the radius; with none they are cut out. Where
    regions are nearer than a rib they are trimmed there, or all alike where ``even``.
    """

    regions: Sequence[Sequence[Points]]
    ties: int = 2
    even: bool = False


@dataclass(frozen=True, slots=True)
class Solid:
    """No openings at all."""


Filling: TypeAlias = Cells | Net | Shapes | Field | Drawn | Solid
