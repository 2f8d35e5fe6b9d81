"""The faces of a finished ring: what bounds the solid, told once for every kind of solid model.

z points to the front, 0 is the plate's mid-plane. A ``Loop`` is a contour at a height, a ``Floor``
a plane between loops, a ``Wall`` what stands between two loops: upright, or leaning as a bevel.
Faces that touch share their loops, so that models made of them are closed by construction.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING

from openwork.render.solid.band import Cliff, Height, cells, cliffs, heights
from openwork.render.solid.bevel import Step, bevel, narrowing
from openwork.render.solid.broken import Broken, Strip, broken
from openwork.shape.contour import Contour, Points, circle

if TYPE_CHECKING:
    from openwork.fill.pocket import Pocket
    from openwork.lettering.engraving import Engraving
    from openwork.part.blank import Blank
    from openwork.part.hole import Hole
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
class Patch:
    """A face inside ``outer``, outside ``holes``, plane or turned; metal behind it if ``front``."""

    outer: Contour
    holes: tuple[Loop, ...]
    height: Height
    front: bool


@dataclass(frozen=True, slots=True)
class Wall:
    """The face between two loops; metal lies inside the loops if ``outside``, else round them.

    ``kept`` has, for each piece of ``end``, its number in ``start``; pieces left out shrink to
    points. ``ridges`` has points (m, 2) between start and end of each joint that runs no straight
    line, evenly spaced in height. A wall whose contour changes leans by ``slope``, radians from
    upright.
    """

    start: Loop
    end: Loop
    outside: bool
    kept: tuple[int, ...]
    ridges: tuple[Points | None, ...]
    slope: float = math.pi / 4


@dataclass(frozen=True, slots=True)
class Faces:
    """All faces of a solid."""

    floors: tuple[Floor, ...]
    walls: tuple[Wall, ...]
    patches: tuple[Patch, ...] = ()
    cliffs: tuple[Cliff, ...] = ()
    strips: tuple[Strip, ...] = ()


def faces(design: Design) -> Faces:
    """Return the faces of *design*: plate and tooth band, openings, holes, bore and bevels.

    Raises RuleError where the bevel of an opening meets itself.
    """
    ring, edges, plate = design.blank, design.spec.edges, Range.of(design.blank)
    bolts = [
        _bolt(contour, hole, plate, edges.bolts)
        for contour, hole in zip(ring.bolts, ring.mount.bolt_holes, strict=True)
    ]
    openings = [_opening(one, plate, width) for one, width in _bevelled(design, design.through)]
    sunk = [_pocket(one, plate, design.spec.pocket, width)
            for one, width in _bevelled(design, design.pockets)]  # fmt: skip
    edge = _opening(ring.edge, plate, edges.bore, key="edges.bore")
    through = [edge, *(walls for walls, _ in bolts), *openings]
    floors = [floor for _, found in bolts for floor in found]
    floors += [floor for pocket in sunk for floor in pocket.floors]
    plain = ring.sides is None and ring.alternating is None
    band = list(_band(ring, edges.teeth)) if plain else []
    walls = [*band, *(wall for walls in through for wall in walls)]
    walls += [wall for pocket in sunk for wall in pocket.walls]
    patches: list[Patch] = []
    mapped = Broken((), (), ()) if plain else _mapped(ring, edges.teeth)
    for is_front, height in ((False, plate.back), (True, plate.front)):
        cut = lines(design.engravings, height, is_front=is_front)
        floors += cut.floors
        walls += cut.walls
        holes = (*(_loop_at(height, one) for one in through), *cut.rims)
        holes += tuple(rim for pocket in sunk if (rim := pocket.rims[is_front]) is not None)
        within = _within(ring, is_front, edges.step, holes)
        floors += within.floors
        walls += within.walls
        if plain:
            floors.insert(within.place(floors), Floor(_rim(band, is_front), within.holes, is_front))
            continue
        for k, cell in enumerate(mapped.cells):
            level = heights(ring, cell)[is_front]
            patches.append(Patch(cell.contour, () if k else within.holes, level, is_front))
    return Faces(tuple(floors), tuple(walls), tuple(patches), mapped.cliffs, mapped.strips)


def _mapped(ring: Blank, chamfer: float) -> Broken:
    """Return the band of teeth that are not plain."""
    if chamfer and ring.sides is not None:
        return broken(ring, ring.sides, chamfer)
    found = cells(ring)
    return Broken(found, tuple(cliffs(ring, found)), ())


def _bevelled(design: Design, openings: tuple[Contour, ...]) -> Iterator[tuple[Contour, float]]:
    """Return *openings* with the widths of their bevels."""
    return zip(openings, design.bevels(openings), strict=True)


@dataclass(frozen=True, slots=True)
class Range:
    """Heights of the plate's back and front, mm."""

    back: float
    front: float

    @classmethod
    def of(cls, ring: Blank) -> Range:
        """Return the plate's."""
        return cls(-ring.plate / 2, ring.plate / 2)


@dataclass(frozen=True, slots=True)
class Sunk:
    """Floors and walls of a pocket, and the loops it leaves in the back and the front face."""

    floors: tuple[Floor, ...]
    walls: tuple[Wall, ...]
    rims: tuple[Loop | None, Loop | None]


def _pocket(contour: Contour, plate: Range, pocket: Pocket, width: float) -> Sunk:
    """Return the pocket in *contour*: a floor, and upright walls with a bevel, on each face."""
    depth = pocket.depth(plate.front - plate.back)
    steps = bevel(contour, width)
    floors: list[Floor] = []
    walls: list[Wall] = []
    rims: list[Loop | None] = [None, None]
    for face in pocket.faces:
        is_front = face == "front"
        level = plate.front - depth if is_front else plate.back + depth
        edge = plate.front - width if is_front else plate.back + width
        upright = _upright(contour, min(level, edge), max(level, edge))
        foot, start = (upright.start, upright.end) if is_front else (upright.end, upright.start)
        leaning = [*_leaning(start, steps, 1 if is_front else -1)]
        floors.append(Floor(foot, (), is_front))
        walls += [upright, *leaning]
        rims[is_front] = leaning[-1].end if leaning else start
    return Sunk(tuple(floors), tuple(walls), (rims[0], rims[1]))


@dataclass(frozen=True, slots=True)
class Within:
    """What lies inside the shroud on one face, and the holes it leaves the tooth band."""

    floors: tuple[Floor, ...]
    walls: tuple[Wall, ...]
    holes: tuple[Loop, ...]

    def place(self, floors: Sequence[Floor]) -> int:
        """Return where the band's floor goes: before those within."""
        return len(floors) - len(self.floors)


@dataclass(frozen=True, slots=True)
class Lines:
    """Floors and walls of engraved lines in one face, and their rims, holes in that face."""

    floors: tuple[Floor, ...]
    walls: tuple[Wall, ...]
    rims: tuple[Loop, ...]


def lines(engravings: Sequence[Engraving], height: float, *, is_front: bool) -> Lines:
    """Return what *engravings* sink into the face at *height*; faces of their own where 0 deep."""
    floors, walls, rims = [], [], []
    for one in engravings:
        if (one.face == "front") != is_front:
            continue
        level = height - one.depth if is_front else height + one.depth
        for outline, islands in one.pockets:
            rims.append(Loop(outline, height))
            floors.append(Floor(Loop(outline, level), _at(islands, level), is_front))
            floors += [Floor(loop, (), is_front) for loop in _at(islands, height)]
            if one.depth:
                low, high = sorted((height, level))
                walls.append(_upright(outline, low, high))
                walls += [_upright(island, low, high, outside=True) for island in islands]
    return Lines(tuple(floors), tuple(walls), tuple(rims))


def _at(contours: Sequence[Contour], height: float) -> tuple[Loop, ...]:
    return tuple(Loop(one, height) for one in contours)


def _within(ring: Blank, is_front: bool, step: float, holes: tuple[Loop, ...]) -> Within:
    """Return floors and walls of the zones inside the shroud, pierced by *holes*."""
    level = ring.band[is_front]
    stations = [(one.outer, one.front if is_front else one.back) for one in ring.zones]
    floors, walls = [], []
    for (radius, height), beyond in zip(
        stations, [*(high for _, high in stations[1:]), level], strict=True
    ):
        if abs(height - beyond) < SAME_HEIGHT:
            continue
        proud = (height > beyond) == is_front
        circle_ = circle(radius)
        knee = top = Loop(circle_, height)
        if step and proud and radius == ring.shroud:
            knee = Loop(circle_, height - step if is_front else height + step)
            top = Loop(circle(radius - step), height)
        foot = Loop(circle_, beyond)
        floors.append(Floor(top, holes, is_front))
        low, high = sorted((foot, knee), key=lambda one: one.height)
        walls.append(_between(low, high, outside=proud))
        if top is not knee:
            walls.append(_between(knee, top, outside=True))
        holes = (foot,)
    return Within(tuple(floors), tuple(walls), holes)


def _band(ring: Blank, chamfer: float) -> Iterator[Wall]:
    """Yield the walls round square teeth; faces all but level with the plate's are made level."""
    ends = list(ring.band)
    for k, zone in enumerate((ring.zones[-1].back, ring.zones[-1].front)):
        if abs(ends[k] - zone) < SAME_HEIGHT:
            ends[k] = zone
    upright = _upright(ring.outline, ends[0] + chamfer, ends[1] - chamfer, outside=True)
    steps = narrowing(ring.outline, chamfer, key="edges.teeth") if chamfer else ()
    yield from _leaning(upright.start, steps, -1, outside=True)
    yield upright
    yield from _leaning(upright.end, steps, 1, outside=True)


def _rim(band: Sequence[Wall], is_front: bool) -> Loop:
    """Return the loop that bounds the band's face."""
    loops = [loop for wall in band for loop in (wall.start, wall.end)]
    return (max if is_front else min)(loops, key=lambda loop: loop.height)


def _bolt(
    contour: Contour, hole: Hole, plate: Range, chamfer: float
) -> tuple[list[Wall], list[Floor]]:
    """Return walls and floors of a bolt hole, its recesses and chamfers, from back to front."""
    stations = [
        *_sunk(hole, "back", plate.back, 1, chamfer),
        *reversed(_sunk(hole, "front", plate.front, -1, chamfer)),
    ]
    centre = contour.centres[0]
    loops = [
        Loop(contour if radius == hole.hole / 2 else circle(radius, centre), height)
        for radius, height in stations
    ]
    walls, floors = [], []
    for k, (low, high) in enumerate(pairwise(loops)):
        (inner, z), (outer, top) = stations[k], stations[k + 1]
        if abs(top - z) < SAME_HEIGHT:
            wide, narrow = (high, low) if outer > inner else (low, high)
            floors.append(Floor(wide, (narrow,), outer > inner))
        else:
            slope = math.atan2(abs(outer - inner), top - z)
            walls.append(replace(_between(low, high, outside=False), slope=slope))
    return walls, floors


def _sunk(
    hole: Hole, face: str, level: float, way: int, chamfer: float
) -> list[tuple[float, float]]:
    """Return radii and heights (mm) of a hole from a *face* down to its own wall."""
    radius = hole.hole / 2
    sink, bore = hole.countersink, hole.counterbore
    if sink is not None and sink.face == face:
        return [(sink.diameter / 2, level), (radius, level + way * hole.sink_depth)]
    rim = (hole.rim(face) or hole.hole) / 2
    found = [(rim + chamfer, level), (rim, level + way * chamfer)] if chamfer else [(rim, level)]
    if bore is not None and bore.face == face:
        found += [(rim, level + way * bore.depth), (radius, level + way * bore.depth)]
    return found


def _opening(contour: Contour, plate: Range, width: float, *, key: str = "web.bevel") -> list[Wall]:
    """Return the walls of an opening: upright between its bevels, if it has any."""
    upright = _upright(contour, plate.back + width, plate.front - width)
    steps = bevel(contour, width, key=key)
    return [*_leaning(upright.start, steps, -1), upright, *_leaning(upright.end, steps, 1)]


def _leaning(
    start: Loop, steps: Sequence[Step], way: int, *, outside: bool = False
) -> Iterator[Wall]:
    level = start.height
    for step in steps:
        end = Loop(step.contour, level + way * step.distance)
        yield Wall(start, end, outside, step.kept, step.ridges)
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
