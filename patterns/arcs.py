"""Concentric slots with round ends, staggered from row to row.

All slots of a ring have the same width and the metal between rows is the rib; every slot is bounded
by two arcs and two half circles. A slot that meets a pad ends before it, as round as elsewhere.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from openwork.fill.pattern import Shapes, param, pattern
from openwork.fill.polar import column_angle, unevenness
from openwork.fill.site import CHORD, Site
from openwork.shape.contour import Contour, circle, polygon

WIDTH = 6.0  # mm of a slot wanted
GROWTH = 0.12  # of the web's width added to it
LENGTH = 5.0  # widths of a slot wanted
NARROWEST = 2.4  # cutter radii across a slot
LEAST = 0.4  # of a slot's length: what a pad leaves of it is filled when shorter
STEP = 5e-4  # radians between the places tried for the end of a slot at a pad
CLEAR = 1e-3  # mm between a pad and the slot that ends there: chords stand for both


@pattern
@dataclass(frozen=True, kw_only=True)
class Arcs:
    """Concentric slots with round ends."""

    rows: int = param(
        2, low=1, high=12, help="slots across the web", choose=lambda site, _: _rows(site)
    )
    slots: int = param(
        15, low=2, high=90, per_bolt=True, help="slots round the ring",
        choose=lambda site, given: _slots(site, given["rows"]),
    )  # fmt: skip
    stagger: float = param(0.5, low=0, high=1, help="share of a slot that rows are shifted by")
    phase: str = param("node", choices=("node", "cell"), help="what stands on the bolt's radius")

    def __call__(self, site: Site, rng: np.random.Generator) -> Shapes:
        """Return the slots of one sector."""
        del rng
        half = _width(site, self.rows) / 2
        angle = column_angle(site, self.slots)
        pads = _pads(site)
        found = []
        for row in range(self.rows):
            radius = site.inner + half + row * (2 * half + site.rib)
            end = np.arcsin(min(1.0, (half + site.rib / 2) / radius))
            first = (self.phase == "cell") / 2 + row * self.stagger
            for slot in first + np.arange(self.slots // site.fold):
                a, b = angle(slot) + end, angle(slot + 1) - end
                least = LEAST * (b - a + 2 * half / radius) - 2 * half / radius
                for start, stop in _free(float(a), float(b), radius, half, pads):
                    if stop - start > max(0.0, least):
                        found.append(_slot(start, stop, radius, half))
        return Shapes(found)


def _width(site: Site, rows: int) -> float:
    return (site.outer - site.inner + site.rib) / rows - site.rib


def _rows(site: Site) -> int:
    web = site.outer - site.inner
    wanted = max(WIDTH + GROWTH * web, NARROWEST * site.corner)
    return max(1, round((web + site.rib) / (wanted + site.rib)))


def _slots(site: Site, rows: int) -> int:
    exact = 2 * np.pi * site.middle / (LENGTH * _width(site, rows))
    counts = [site.fold * k for k in range(1, 61) if site.fold * k >= 3]
    return min(counts, key=lambda n: np.log(n / exact) ** 2 + unevenness(site, n) ** 2)


def _pads(site: Site) -> shapely.Geometry:
    """Return the metal round the bolts that stands out of the hem, fillets and all."""
    solid = shapely.union_all([polygon(wall, sagitta=CHORD) for wall in site.walls()[1:]])
    return solid.difference(polygon(circle(site.inner + CLEAR / 2), sagitta=CHORD))


def _free(
    start: float, stop: float, radius: float, half: float, pads: shapely.Geometry
) -> Iterator[tuple[float, float]]:
    """Yield the parts of the arc on which a disc of radius *half* keeps clear of the pads."""
    if stop <= start:
        return
    angles = np.linspace(start, stop, max(2, int((stop - start) / STEP)))
    places = shapely.points(radius * np.column_stack([np.cos(angles), np.sin(angles)]))
    free = shapely.distance(places, pads) >= half + CLEAR
    edges = np.flatnonzero(np.diff(np.concatenate([[False], free, [False]]).astype(int)))
    for first, last in edges.reshape(-1, 2):
        yield float(angles[first]), float(angles[last - 1])


def _slot(start: float, stop: float, radius: float, half: float) -> Contour:
    """Return the slot along the arc between two angles, counter-clockwise."""
    radii = radius + half * np.array([1, 1, -1, -1])
    angles = np.array([start, stop, stop, start])
    bend = np.tan((stop - start) / 4)
    points = np.column_stack([radii * np.cos(angles), radii * np.sin(angles)])
    return Contour(points, np.array([bend, 1.0, -bend, 1.0]))
