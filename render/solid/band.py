"""The tooth band as a map of cells: each a plane or a turned side, wide or narrow.

The band is mapped in plan. Cells share their edges; where the metal of two is of unlike height, or
where there is no metal beyond, a cliff stands on the edge. Back and front have one map, and are
mirror images in the mid-plane of the band.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from openwork.part.alternate import base_radius, is_wide
from openwork.shape.contour import Contour, as_complex, as_points
from openwork.shape.cut import cut
from openwork.shape.edge import Edge, at, edges, place
from openwork.shape.snap import Snap

if TYPE_CHECKING:
    from openwork.part.blank import Blank
    from openwork.part.sides import Profile

ON = 1e-6  # mm from an arc within which a point lies on it, and between carriers that are one


@dataclass(frozen=True, slots=True)
class Turned:
    """A height that falls back from ``level`` (mm) with the radius, towards the band's middle."""

    level: float
    front: bool
    profile: Profile

    def at(self, radius: float) -> float:
        """Return the height at *radius*, mm."""
        recess = float(self.profile.recess(np.array(radius)))
        return self.level - recess if self.front else self.level + recess


Height: TypeAlias = float | Turned


def height_at(height: Height, point: complex) -> float:
    """Return the height at *point*, mm."""
    return height.at(abs(point)) if isinstance(height, Turned) else height


@dataclass(frozen=True, slots=True)
class Rise:
    """The part of a cliff over one piece of the plan, between two heights."""

    start: complex
    end: complex
    bulge: float
    low: Height
    high: Height


@dataclass(frozen=True, slots=True)
class Cliff:
    """An upright face on one plane or cylinder; metal lies to the left of its pieces."""

    rises: tuple[Rise, ...]


@dataclass(frozen=True, slots=True)
class Cell:
    """A part of the plan (ccw), on a land of wide teeth or not, on a turned side or not."""

    contour: Contour
    wide: bool
    turned: bool


Key: TypeAlias = tuple[int, int, int]  # start, end and middle of a piece, numbered


@dataclass(frozen=True, slots=True)
class Border:
    """A piece of a cell's outline, cell on the left; ``beyond`` is the cell to its right."""

    edge: Edge
    cell: Cell
    beyond: Cell | None


def heights(ring: Blank, cell: Cell) -> tuple[Height, Height]:
    """Return the heights of back and front of a cell."""
    half = (ring.wide_width if cell.wide else ring.tooth_width) / 2
    ends = ring.offset - half, ring.offset + half
    if not cell.turned or ring.sides is None:
        return ends
    return Turned(ends[0], False, ring.sides), Turned(ends[1], True, ring.sides)


def cells(ring: Blank) -> tuple[Cell, ...]:
    """Return the map of the band: the large cell that bounds the plate comes first."""
    parts = _parts(ring)
    found = [_conformed(one, parts) for one in parts]
    plain = [one for one in found if not one.wide and not one.turned]
    if len(plain) == 1:
        return tuple(found)
    rest = [one for one in found if one.wide or one.turned]
    return (Cell(_united(plain), False, False), *rest)


def cliffs(ring: Blank, found: Sequence[Cell]) -> Iterator[Cliff]:
    """Yield the outer wall of the band, and the walls round the lands, back and front."""
    outline: dict[int, tuple[Border, int]] = {}
    inner: dict[int, tuple[Border, int]] = {}
    for (start, end, _), border in _borders(found).items():
        if border.beyond is None:
            outline[start] = border, end
        elif border.cell.wide and not border.beyond.wide:
            inner[start] = border, end
    for run in _runs(outline):
        yield Cliff(tuple(_rise(one, *heights(ring, one.cell)) for one in run))
    for run in _runs(inner):
        for face in (0, 1):
            yield Cliff(tuple(_rise(one, *_steps(ring, one)[face]) for one in run))


def _steps(ring: Blank, one: Border) -> tuple[tuple[Height, Height], tuple[Height, Height]]:
    """Return low and high of the walls that part a land from the narrow band, back and front."""
    assert one.beyond is not None
    wide, narrow = heights(ring, one.cell), heights(ring, one.beyond)
    return (wide[0], narrow[0]), (narrow[1], wide[1])


def _rise(one: Border, low: Height, high: Height) -> Rise:
    bulge = float(np.tan(one.edge.sweep / 4))
    return Rise(one.edge.start, one.edge.end, bulge, low, high)


def _parts(ring: Blank) -> list[Cell]:
    """Return the cells as circles cut them: neighbours may share parts of edges only."""

    def wide(point: complex) -> bool:
        return ring.alternating is not None and is_wide(ring.teeth, point)

    start = ring.sides.start if ring.sides else None
    narrow: Contour = ring.outline
    caps: tuple[Contour, ...] = ()
    if start is not None:
        found = cut(ring.outline, 0j, start, only=lambda point: not wide(point))
        (narrow,), caps = found.inside, found.outside
    if ring.alternating is None:
        return [Cell(narrow, False, False), *(Cell(one, False, True) for one in caps)]
    found = cut(narrow, 0j, base_radius(ring.diameters), only=wide)
    parts = [Cell(found.inside[0], False, False), *(Cell(one, False, True) for one in caps)]
    for tooth in found.outside:
        parts += _tooth(ring, tooth)
    return parts


def _tooth(ring: Blank, tooth: Contour) -> Iterator[Cell]:
    """Yield the cells of a wide tooth: its land, and what is narrow about either pin."""
    assert ring.alternating is not None
    turn, pitch = 2 * np.pi / ring.teeth, ring.diameters.pitch / 2
    middle = np.angle(complex(*tooth.points.mean(axis=0)))
    land: tuple[Contour, ...] = (tooth,)
    beside: list[Contour] = []
    for way in (-1, 1):
        pin = complex(pitch * np.exp(1j * (middle + way * turn / 2)))
        divided = [cut(one, pin, ring.alternating.reach(ring.chain)) for one in land]
        beside += [part for one in divided for part in one.inside]
        land = tuple(part for one in divided for part in one.outside)
    for contours, wide in ((land, True), (beside, False)):
        for one in contours:
            if ring.sides is None:
                yield Cell(one, wide, False)
                continue
            halves = cut(one, 0j, ring.sides.start)
            yield from (Cell(part, wide, False) for part in halves.inside)
            yield from (Cell(part, wide, True) for part in halves.outside)


def _conformed(cell: Cell, others: Sequence[Cell]) -> Cell:
    """Return *cell* with corners where those of *others* lie on its arcs about the axis."""
    if cell.wide or cell.turned or len(others) < 2:
        return cell
    corners = np.concatenate([one.contour.points for one in others if one is not cell])
    z = as_complex(corners)
    pieces = []
    for one in edges(cell.contour):
        cuts = [0.0, 1.0]
        if one.sweep and abs(one.centre) < ON:
            near = z[np.abs(np.abs(z) - one.radius) < ON]
            places = (place(one, complex(point)) for point in near)
            inside = sorted(t for t in places if 1e-6 < t < 1 - 1e-6)
            cuts[1:1] = [t for k, t in enumerate(inside) if not k or t - inside[k - 1] > 1e-6]
        pieces += [
            (at(one, low), float(np.tan(one.sweep * (high - low) / 4)))
            for low, high in pairwise(cuts)
        ]
    return Cell(_contour(pieces), False, False)


def _united(parts: Sequence[Cell]) -> Contour:
    """Return the outline of cells of one height that lie side by side."""
    borders = _borders(parts)
    ahead = {start: (one.edge, end) for (start, end, _), one in borders.items() if not one.beyond}
    start = next(iter(ahead))
    pieces, here = [], start
    while True:
        one, there = ahead[here]
        pieces.append((one.start, float(np.tan(one.sweep / 4))))
        here = there
        if here == start:
            return _contour(pieces)


def _borders(found: Sequence[Cell]) -> Mapping[Key, Border]:
    """Return the pieces of all outlines with the cells on either side."""
    snap = Snap()
    known: dict[Key, tuple[Edge, Cell]] = {}
    for cell in found:
        for one in edges(cell.contour):
            middle = at(one, 0.5)
            key = tuple(snap.number((z.real, z.imag)) for z in (one.start, one.end, middle))
            known[key[0], key[1], key[2]] = one, cell
    return {
        (a, b, m): Border(one, cell, known[b, a, m][1] if (b, a, m) in known else None)
        for (a, b, m), (one, cell) in known.items()
    }


def _runs(ahead: Mapping[int, tuple[Border, int]]) -> Iterator[list[Border]]:
    """Yield the borders that follow each other on one line or circle."""
    behind = {end: start for start, (_, end) in ahead.items()}
    heads = {
        start: None
        for start in ahead
        if start not in behind or not _one(ahead[behind[start]][0].edge, ahead[start][0].edge)
    }
    for head in heads:
        run: list[Border] = []
        here = head
        while here in ahead and (not run or here not in heads):
            border, here = ahead[here]
            run.append(border)
        yield run


def _one(last: Edge, one: Edge) -> bool:
    """Tell whether two pieces lie on one line or circle."""
    if (last.sweep == 0) != (one.sweep == 0) or last.sweep * one.sweep < 0:
        return False
    if one.sweep == 0:
        return abs(last.arriving - one.leaving) < ON
    return abs(last.centre - one.centre) < ON and abs(last.radius - one.radius) < ON


def _contour(pieces: Sequence[tuple[complex, float]]) -> Contour:
    points = np.array([start for start, _ in pieces])
    return Contour(as_points(points), np.array([bulge for _, bulge in pieces]))
