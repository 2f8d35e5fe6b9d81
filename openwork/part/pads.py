"""Circles about the origin joined to the round pads of the bolts by fillets, exactly.

A ball of radius *blend* is rolled along the metal from the empty side; where it touches a pad and
the circle at once, its arc is the fillet. Growing circle and pads by a length and taking it off the
fillets leaves the balls where they are, so such an edge is parallel to the first one.
All bolts lie on one circle about the origin.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from openwork.part.arcs import Piece, arc, joined
from openwork.shape.contour import Contour, Points, circle

SLIGHT = 0.02  # mm a pad must stand out of its circle; less would make pieces too short to cut
NARROW = 2e-3  # rad of the circle left between two fillets; less is swallowed by one larger ball
NECK = 1.0  # mm of metal across the bridge to a pad that lies off the circle


def inner_edge(bore_radius: float, bolts: Points, *, pad: float, blend: float) -> Contour:
    """Return the edge (ccw) of the bore: the disc of *bore_radius* less the pads, filleted.

    The metal lies outside. *bolts* (n, 2), *pad* and *blend* radii, mm. A plain circle where the
    pads do not reach into the bore. Raises ValueError where the pads would hang free in it.
    """
    edge = _Edge(bore_radius, np.asarray(bolts, dtype=float), pad, blend, side=-1)
    if edge.distance + pad <= bore_radius:
        raise ValueError(f"pads of radius {pad:g} hang free in the bore of radius {bore_radius:g}")
    if edge.stands_out < SLIGHT:
        return circle(bore_radius - max(edge.stands_out, 0.0))
    return edge.contour()


def padded(radius: float, bolts: Points, *, pad: float, blend: float) -> tuple[Contour, ...]:
    """Return the edges (ccw) of the disc of *radius* united with the pads, filleted.

    The metal lies inside. First comes the edge round the origin, then that of every pad the fillets
    do not reach. *bolts* (n, 2), *pad* and *blend* radii, mm; blend 0 leaves sharp joints.
    """
    edge = _Edge(radius, np.asarray(bolts, dtype=float), pad, blend, side=1)
    if edge.stands_out < SLIGHT:
        return (circle(radius + max(edge.stands_out, 0.0)),)
    if not edge.bridged:
        return (circle(radius), *(circle(pad, bolt) for bolt in edge.bolts))
    return (edge.contour(),)


def largest_blend(bore_radius: float, bolts: Points, *, pad: float) -> float:
    """Return the fillet radius at which the fillets of two neighbours meet on the bore, mm.

    Infinite where the pads do not reach into the bore.
    """
    edge = _Edge(bore_radius, np.asarray(bolts, dtype=float), pad, 0.0, side=-1)
    if edge.stands_out < SLIGHT:
        return math.inf
    return min(edge.filling_ball(gap) for gap in edge.gaps)


def tab_width(bore_radius: float, bolts: Points, *, pad: float, blend: float) -> float:
    """Return the metal across a tab between bolt and bore, mm; at most twice *pad*."""
    edge = _Edge(bore_radius, np.asarray(bolts, dtype=float), pad, blend, side=-1)
    reach, phi = edge.reach, edge.phi
    if edge.stands_out < SLIGHT or reach * math.cos(phi) <= edge.distance:
        return 2 * pad
    return min(2 * pad, 2 * (reach * math.sin(phi) - blend))


@dataclass(frozen=True)
class _Edge:
    """A circle with pads; side 1: metal inside the circle, -1: metal outside it."""

    radius: float
    bolts: Points
    pad: float
    blend: float
    side: int

    @property
    def angles(self) -> list[float]:
        return sorted(math.atan2(y, x) % math.tau for x, y in self.bolts)

    @property
    def gaps(self) -> list[float]:
        angles = self.angles
        return [b - a for a, b in zip(angles, [*angles[1:], angles[0] + math.tau], strict=True)]

    @property
    def distance(self) -> float:
        return float(np.hypot(*self.bolts[0]))

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
        return math.acos(min(max(cosine, -1.0), 1.0))

    @property
    def bridged(self) -> bool:
        """Whether pads and disc hang together: they overlap, or fillets join them by a neck."""
        gap = self.distance - self.radius - self.pad
        if gap >= 2 * self.blend and gap >= 0:
            return False
        necked = self.reach * math.cos(self.phi) < self.distance
        return not necked or self.reach * math.sin(self.phi) - self.blend >= NECK / 2

    def filling_ball(self, gap: float) -> float:
        """Return the radius of the ball that touches the circle and both pads *gap* apart."""
        a, r, c = self.radius, self.distance, math.cos(gap / 2)
        room = 2 * (self.pad + self.side * (r * c - a))
        return (a * a + r * r - 2 * r * a * c - self.pad**2) / room if room > 0 else math.inf

    def contour(self) -> Contour:
        between = [self._between(a, g) for a, g in zip(self.angles, self.gaps, strict=True)]
        pieces: list[Piece] = []
        for angle, before, after in zip(
            self.angles, [between[-1], *between[:-1]], between, strict=True
        ):
            bolt = self.distance * _unit(angle)
            pieces += [arc(bolt, before[-1][0], after[0][0], self.side), *after[:-1]]
        return joined(pieces)

    def _between(self, angle: float, gap: float) -> list[Piece]:
        """Return the pieces from the pad at *angle* to the next, and last the point they end on."""
        a, b = self.distance * _unit(angle), self.distance * _unit(angle + gap)
        if gap - 2 * self.phi < NARROW:
            return self._filled(a, b)
        one, two = self.reach * _unit(angle + self.phi), self.reach * _unit(angle + gap - self.phi)
        leave, land = _towards(a, one, self.pad), _towards(b, two, self.pad)
        start, end = _towards(0j, one, self.radius), _towards(0j, two, self.radius)
        if self.blend <= 0:
            return [arc(0j, start, end, 1), (land, 0.0)]
        return [
            arc(one, leave, start, -self.side),
            arc(0j, start, end, 1),
            arc(two, end, land, -self.side),
            (land, 0.0),
        ]

    def _filled(self, a: complex, b: complex) -> list[Piece]:
        """Return the arc of the ball that touches both pads without dipping into the circle."""
        half = abs(b - a) / 2
        middle = (a + b) / 2
        axis = (b - a) / abs(b - a) * -1j
        ball = max(self.blend, self.filling_ball(2 * math.asin(half / self.distance)))
        offset = math.sqrt(max((self.pad + ball) ** 2 - half**2, 0.0))
        centre = middle + self.side * offset * axis
        leave, land = _towards(a, centre, self.pad), _towards(b, centre, self.pad)
        return [arc(centre, leave, land, -self.side), (land, 0.0)]


def _unit(angle: float) -> complex:
    return complex(math.cos(angle), math.sin(angle))


def _towards(start: complex, end: complex, distance: float) -> complex:
    return start + distance * (end - start) / abs(end - start)
