"""The faces of a finished ring: what bounds the solid, told once for every kind of solid model.

z points to the front, 0 is the plate's mid-plane. A ``Loop`` is a contour at a height, a ``Floor``
a plane between loops, a ``Wall`` what stands between two loops: upright, or leaning as a bevel.
Faces that touch share their loops, so that models made of them are closed by construction.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from openwork.render.solid.bevel import Step, bevel
from openwork.shape.contour import Contour, Points, circle

if TYPE_CHECKING:
    from openwork.part.blank import Blank
    from openwork.part.hole import Counterbore
    from openwork.ring import Design

SAME_HEIGHT = 1e-6  # mm between heights that are one


@dataclass(frozen=True)
class Loop:
    """A contour, ccw seen from the front, at a height (mm)."""

    contour: Contour
    height: float

    @cached_property
    def _hash(self) -> int:
        return hash((self.contour, self.height))

    def __hash__(self) -> int:
        return self._hash


@dataclass(frozen=True, slots=True)
class Floor:
    """A plane face inside ``outer`` and outside ``holes``; metal lies behind it if ``front``."""

    outer: Loop
    holes: tuple[Loop, ...]
    front: bool


@dataclass(frozen=True, slots=True)
class Wall:
    """The face between two loops; metal lies inside the loops if ``outside``, else round them.

    ``kept`` has, for each piece of ``end``, its number in ``start``; pieces left out shrink to
    points. ``ridges`` has points (m, 2) between start and end of each joint that runs no straight
    line, evenly spaced in height.
    """

    start: Loop
    end: Loop
    outside: bool
    kept: tuple[int, ...]
    ridges: tuple[Points | None, ...]


@dataclass(frozen=True, slots=True)
class Faces:
    """All faces of a solid."""

    floors: tuple[Floor, ...]
    walls: tuple[Wall, ...]


def faces(design: Design) -> Faces:
    """Return the faces of *design*: plate and tooth band, openings, holes, bore and bevels.

    Raises RuleError where the bevel of an opening meets itself.
    """
    ring, bore = design.blank, design.spec.mount.counterbore
    back, front = -ring.plate / 2, ring.plate / 2
    bolts = [_bolt(hole, back, front, bore) for hole in ring.bolts]
    openings = [_opening(one, back, front, design.spec.web.bevel) for one in design.openings]
    through = [[_upright(ring.edge, back, front)], *bolts, *openings]
    band = _band(ring)
    floors = [Floor(sunk.start, (hole.end,), True) for hole, *rest in bolts for sunk in rest]
    walls = [band, *(wall for walls in through for wall in walls)]
    shroud = circle(ring.shroud)
    for is_front, height, rim in ((False, back, band.start), (True, front, band.end)):
        holes = tuple(_loop_at(height, one) for one in through)
        if rim.height == height:
            floors.append(Floor(rim, holes, is_front))
            continue
        in_band, in_plate = (Loop(shroud, at) for at in (rim.height, height))
        floors += [Floor(rim, (in_band,), is_front), Floor(in_plate, holes, is_front)]
        low, high = sorted((in_band, in_plate), key=lambda one: one.height)
        walls.append(_between(low, high, outside=(height > rim.height) == is_front))
    return Faces(tuple(floors), tuple(walls))


def _band(ring: Blank) -> Wall:
    """Return the wall round the teeth; faces all but level with the plate's are made level."""
    ends = [ring.offset - ring.tooth_width / 2, ring.offset + ring.tooth_width / 2]
    for k, height in enumerate((-ring.plate / 2, ring.plate / 2)):
        if abs(ends[k] - height) < SAME_HEIGHT:
            ends[k] = height
    return _upright(ring.outline, ends[0], ends[1], outside=True)


def _bolt(hole: Contour, back: float, front: float, bore: Counterbore | None) -> list[Wall]:
    """Return the wall of a bolt hole and of its counterbore from the front."""
    if bore is None:
        return [_upright(hole, back, front)]
    level = front - bore.depth
    sunk = circle(bore.diameter / 2, hole.centres[0])
    return [_upright(hole, back, level), _upright(sunk, level, front)]


def _opening(contour: Contour, back: float, front: float, width: float) -> list[Wall]:
    """Return the walls of an opening: upright between its bevels, if it has any."""
    upright = _upright(contour, back + width, front - width)
    steps = bevel(contour, width)
    return [*_leaning(upright.start, steps, -1), upright, *_leaning(upright.end, steps, 1)]


def _leaning(start: Loop, steps: Sequence[Step], way: int) -> Iterator[Wall]:
    level = start.height
    for step in steps:
        end = Loop(step.contour, level + way * step.distance)
        yield Wall(start, end, False, step.kept, step.ridges)
        start = end


def _upright(contour: Contour, low: float, high: float, *, outside: bool = False) -> Wall:
    return _between(Loop(contour, low), Loop(contour, high), outside=outside)


def _between(start: Loop, end: Loop, *, outside: bool) -> Wall:
    count = len(start.contour)
    return Wall(start, end, outside, tuple(range(count)), (None,) * count)


def _loop_at(height: float, walls: Sequence[Wall]) -> Loop:
    """Return the loop of a hole that lies in the face at *height*."""
    loops = (loop for wall in walls for loop in (wall.start, wall.end))
    return min(loops, key=lambda loop: abs(loop.height - height))
