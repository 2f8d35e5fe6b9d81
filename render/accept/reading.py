"""What an independent reader found in a written file, in the same words for every format."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from openwork.shape.contour import Contour, Points
from openwork.shape.stroke import Stroke

ROLES = ("outline", "bolts", "openings", "pockets")


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """A solid as read: mm, mm3; ``faces`` counts kinds of faces, ``loose`` what is wrong with it.

    ``through`` is its genus, the number of holes that go through; ``heights`` are the lowest and
    the highest metal at each of the design's probes, NaN where there is none.
    """

    volume: float
    centre: Points
    low: float
    high: float
    through: int
    faces: Mapping[str, int] = field(default_factory=dict)
    heights: tuple[tuple[float, float], ...] = ()
    loose: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A file as read: contours in mm about the ring's axis, y up, by what they are.

    ``marks`` are the circles of steps and recesses by name, in flat files, ``lines`` the centre
    lines that are engraved, "engrave" and "engrave back". ``unit`` is what the
    file states, "" where its format cannot. ``round`` counts contours that are stored as circles.
    ``loose`` names what is no closed contour, ``foreign`` all that is no part of the ring and all
    that a reader would have to reckon with. ``chord`` is the greatest distance (mm) of straight
    pieces from the arcs they stand for, 0 where arcs are arcs.
    """

    reader: str
    unit: str
    outline: tuple[Contour, ...]
    bolts: tuple[Contour, ...]
    openings: tuple[Contour, ...]
    pockets: tuple[Contour, ...] = ()
    marks: Mapping[str, tuple[Contour, ...]] = field(default_factory=dict)
    lines: Mapping[str, tuple[Stroke, ...]] = field(default_factory=dict)
    round: int = 0
    loose: tuple[str, ...] = ()
    foreign: tuple[str, ...] = ()
    chord: float = 0.0
    body: Body | None = None

    @property
    def contours(self) -> tuple[Contour, ...]:
        """All contours of what goes through, the outer outline first."""
        return (*self.outline, *self.bolts, *self.openings)


def by_role(
    found: Sequence[tuple[str, Contour]],
) -> dict[str, tuple[Contour, ...]]:
    """Return outlines, bolt holes, openings and pockets of *found*, by the roles they have."""
    return {wanted: tuple(one for role, one in found if role == wanted) for wanted in ROLES}


def lines_in(found: Sequence[tuple[str, Stroke]]) -> dict[str, tuple[Stroke, ...]]:
    """Return the engraved lines of *found*, by name."""
    names = dict.fromkeys(name for name, _ in found)
    return {name: tuple(one for role, one in found if role == name) for name in names}


def marks_in(found: Sequence[tuple[str, Contour]]) -> dict[str, tuple[Contour, ...]]:
    """Return the circles of steps and recesses of *found*, by name."""
    names = dict.fromkeys(role for role, _ in found if role not in ROLES)
    return {name: tuple(one for role, one in found if role == name) for name in names}
