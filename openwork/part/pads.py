"""Circles about the origin joined to the round pads of the bolts by fillets, exactly.

A ball of radius *blend* is rolled along the metal from the empty side; where it touches a pad and
the circle at once, its arc is the fillet. Growing circle and pads by a length and taking it off the
fillets leaves the balls where they are, so such an edge is parallel to the first one.
All bolts lie on one circle about the origin.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from openwork.errors import RuleError
from openwork.part.arcs import arc
from openwork.shape.arc import Piece
from openwork.shape.contour import Contour, Points, circle
from openwork.shape.slivers import contour_of

SLIGHT = 0.03  # mm a pad must stand out of its circle; less would make pieces too short to cut
NECK = 1.0  # mm of metal across the bridge to a pad that lies off the circle
BETWEEN = 0.2  # mm left between the balls of two neighbours
TINY = 1e-6  # mm, above rounding


def inner_edge(bore_radius: float, bolts: Points, *, pad: float, blend: float) -> Contour:
    """Return the edge (ccw) of the bore: the disc of *bore_radius* less the pads, filleted.

    The metal lies outside. *bolts* (n, 2), *pad* and *blend* radii, mm. A plain circle where the
    pads do not reach into the bore. Raises RuleError where the pads hang free in it or are too
    near to each other for the fillets.
    """
    edge = _Edge.of(bore_radius, bolts, pad, blend, side=-1)
    if edge.distance + pad <= bore_radius:
        raise RuleError(
            f"pads of radius {pad:g} mm: hang free in a bore of radius {bore_radius:g} mm; "
            f"a radius below {edge.distance + pad:g} works"
        )
    if edge.stands_out < SLIGHT:
        return circle(bore_radius - max(edge.stands_out, 0.0))
    return edge.contour()


def padded(radius: float, bolts: Points, *, pad: float, blend: float) -> tuple[Contour, ...]:
    """Return the edges (ccw) of the disc of *radius* united with the pads, filleted.

    The metal lies inside. First comes the edge round the origin, then that of every pad the fillets
    do not reach. *bolts* (n, 2), *pad* and *blend* radii, mm; blend 0 leaves sharp joints. Raises
    RuleError where the pads are too near to each other for the fillets.
    """
    edge = _Edge.of(radius, bolts, pad, blend, side=1)
    if edge.stands_out < SLIGHT:
        return (circle(radius + max(edge.stands_out, 0.0)),)
    if not edge.bridged:
        return (circle(radius), *(circle(pad, bolt) for bolt in np.asarray(bolts)))
    return (edge.contour(),)


def largest_blend(bolts: Points, *, pad: float) -> float:
    """Return the largest fillet radius for which the pads are far enough apart, mm.

    >>> round(largest_blend(np.array([(30.0, 0.0), (-30.0, 0.0)]), pad=8.0), 3)
    21.9
    """
    points = np.asarray(bolts, dtype=float)
    points = points[np.argsort(np.arctan2(points[:, 1], points[:, 0]))]
    chords = np.hypot(*(points - np.roll(points, 1, axis=0)).T)
    return float(chords.min() - BETWEEN) / 2 - pad


def tab_width(bore_radius: float, bolts: Points, *, pad: float, blend: float) -> float:
    """Return the metal across a tab between bolt and bore, mm; at most twice *pad*."""
    edge = _Edge.of(bore_radius, bolts, pad, blend, side=-1)
    if edge.stands_out < SLIGHT or not edge.necked:
        return 2 * pad
    return min(2 * pad, edge.neck)


@dataclass(frozen=True, slots=True)
class _Edge:
    """A circle with pads at *angles*; side 1: metal inside the circle, -1: metal outside it."""

    radius: float
    distance: float
    angles: tuple[float, ...]
    pad: float
    blend: float
    side: int

    @classmethod
    def of(cls, radius: float, bolts: Points, pad: float, blend: float, *, side: int) -> _Edge:
        """Return the edge; raises RuleError where neighbours leave no room for their balls."""
        most = largest_blend(bolts, pad=pad)
        if blend > most + TINY:
            raise RuleError(
                f"pads of radius {pad:g} mm: neighbours leave room for fillets of "
                f"{max(most, 0):g} mm, not {blend:g}; smaller pads or a larger bolt circle works"
            )
        angles = tuple(sorted(math.atan2(y, x) % math.tau for x, y in bolts))
        return cls(radius, math.hypot(*bolts[0]), angles, pad, blend, side)

    @property
    def stands_out(self) -> float:
        return self.pad + self.side * (self.distance - self.radius)

    @property
    def reach(self) -> float:
        """Distance of a ball's centre from the origin."""
        return self.radius + self.side * self.blend

    @property
    def phi(self) -> float:
        """Angle at the origin between a bolt and the ball beside it (cosine rule)."""
        far, near = self.distance, self.pad + self.blend
        cosine = (self.reach**2 + far**2 - near**2) / (2 * far * self.reach)
        return math.acos(cosine)

    @property
    def necked(self) -> bool:
        """Whether the balls lie between the circle and the widest part of a pad."""
        return self.side * (self.distance - self.reach * math.cos(self.phi)) > 0

    @property
    def neck(self) -> float:
        """Metal between the two balls beside a pad."""
        return 2 * (self.reach * math.sin(self.phi) - self.blend)

    @property
    def bridged(self) -> bool:
        """Whether pads and disc hang together: they overlap, or fillets join them by a neck."""
        gap = self.distance - self.radius - self.pad
        if gap < 0 or gap > 2 * self.blend - SLIGHT:
            return gap < 0
        return not self.necked or self.neck >= NECK

    def contour(self) -> Contour:
        """Return the edge of circle, pads and fillets; the pads must stand out and be bridged."""
        closed = [*self.angles, self.angles[0] + math.tau]
        return contour_of([piece for a, b in pairwise(closed) for piece in self._from_pad(a, b)])

    def _from_pad(self, angle: float, following: float) -> list[Piece]:
        """Return the pieces from the near end of the pad at *angle* to that of the *following*."""
        here, there = (self.distance * _unit(a) for a in (angle, following))
        before, after, last = (
            self.reach * _unit(a)
            for a in (angle - self.phi, angle + self.phi, following - self.phi)
        )
        land, leave = _towards(here, before, self.pad), _towards(here, after, self.pad)
        start, end = (self.radius * ball / self.reach for ball in (after, last))
        tab, bore = arc(here, land, leave, self.side), arc(0j, start, end, 1)
        if self.blend == 0:
            return [tab, bore]
        return [
            tab,
            arc(after, leave, start, -self.side),
            bore,
            arc(last, end, _towards(there, last, self.pad), -self.side),
        ]


def _unit(angle: float) -> complex:
    return complex(math.cos(angle), math.sin(angle))


def _towards(start: complex, end: complex, distance: float) -> complex:
    return start + distance * (end - start) / abs(end - start)
