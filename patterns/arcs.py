"""Concentric slots with round ends, staggered from row to row.

All slots of a ring have the same width and the metal between rows is the rib; every slot is bounded
by two arcs and two half circles. A slot that meets a pad ends before it, as round as elsewhere.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Self

import numpy as np
import shapely

from openwork.errors import RuleError
from openwork.fill.fillings import Shapes
from openwork.fill.parameters import param
from openwork.fill.polar import column_angle, unevenness
from openwork.fill.registry import pattern
from openwork.fill.site import CHORD, Site
from openwork.shape.contour import Contour, circle, polygon

WIDTH = 6.0  # mm of a slot wanted
GROWTH = 0.12  # of the web's width added to it
MOST = 18  # slots round the ring
LENGTH = 5.0  # widths of a slot wanted
NARROWEST = 2.4  # cutter radii across a slot
LEAST = 0.4  # of a slot's length: what a pad leaves of it is filled when shorter
SHORTEST = 0.2  # of half a slot's width: how much longer than wide it is at least
STEP = 5e-4  # radians between the places tried for the end of a slot at a pad
CLEAR = 1e-3  # mm between a pad and the slot that ends there: chords stand for both


@pattern
@dataclass(frozen=True, kw_only=True)
class Arcs:
    """Concentric slots with round ends."""

    rows: int = param(2, low=1, high=3, help="slots across the web", suited=True)
    slots: int = param(
        10, low=3, high=MOST, per_bolt=True, help="slots round the ring", suited=True
    )  # fmt: skip
    stagger: float = param(0.5, low=0, high=1, help="share of a slot that rows are shifted by")
    phase: str = param("node", choices=("node", "cell"), help="what stands on the bolt's radius")

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return slots about as wide and as long as wanted."""
        rows = given.get("rows", _rows(site))
        return cls(**{"rows": rows, "slots": _slots(site, rows), **given})

    def __call__(self, site: Site, rng: np.random.Generator) -> Shapes:
        """Return the slots of one sector.

        Raises RuleError where so many rows or slots leave no room for the cutter.
        """
        del rng
        half = _width(site, self.rows) / 2
        if half < site.corner:
            raise RuleError(_too_narrow(site, self.rows))
        angle = column_angle(site, self.slots)
        pads = _pads(site)
        found = []
        for row in range(self.rows):
            radius = site.inner + half + row * (2 * half + site.rib)
            end = np.arcsin(min(1.0, (half + site.rib / 2) / radius))
            first = (self.phase == "cell") / 2 + row * self.stagger
            for slot in first + np.arange(self.slots // site.fold):
                a, b = angle(slot) + end, angle(slot + 1) - end
                least = LEAST * (b - a) - (1 - LEAST) * 2 * half / radius
                for start, stop in _free(float(a), float(b), radius, half, pads, end):
                    if stop - start > max(SHORTEST * half / radius, least):
                        found.append(_slot(start, stop, radius, half))
        if not found:
            raise RuleError(
                f"pattern.slots {self.slots}: none would be longer than its width of "
                f"{2 * half:.1f} mm; fewer slots or more rows make them longer"
            )
        return Shapes(found)


def _width(site: Site, rows: int) -> float:
    return (site.outer - site.inner + site.rib) / rows - site.rib


def _too_narrow(site: Site, rows: int) -> str:
    most = int((site.outer - site.inner + site.rib) / (2 * site.corner + site.rib))
    return (
        f"pattern.rows {rows}: slots would be {max(0.0, _width(site, rows)):.2f} mm wide, the "
        f"cutter is {2 * site.corner:g} mm (twice web.corner); {max(most, 1)} works"
    )


def _rows(site: Site) -> int:
    web = site.outer - site.inner
    wanted = WIDTH + GROWTH * web
    most = max(1, int((web + site.rib) / (NARROWEST * site.corner + site.rib)))
    return min(3, most, max(1, round((web + site.rib) / (wanted + site.rib))))


def _slots(site: Site, rows: int) -> int:
    exact = 2 * np.pi * site.middle / (LENGTH * max(_width(site, rows), site.corner))
    counts = range(site.fold * -(-3 // site.fold), MOST + 1, site.fold)
    return min(counts, key=lambda n: np.log(n / exact) ** 2 + unevenness(site, n) ** 2)


def _pads(site: Site) -> shapely.Geometry:
    """Return the metal round the bolts that stands out of the hem, fillets and all."""
    solid = shapely.union_all([polygon(wall, sagitta=CHORD) for wall in site.walls()[1:]])
    return solid.difference(polygon(circle(site.inner + CLEAR / 2), sagitta=CHORD))


def _free(
    start: float, stop: float, radius: float, half: float, pads: shapely.Geometry, end: float
) -> list[tuple[float, float]]:
    """Return the parts of the arc on which a disc of radius *half* keeps clear of the pads.

    Parts are at least twice *end* apart, so that there is a rib between their discs.
    """
    if stop <= start:
        return []
    angles = np.linspace(start, stop, max(2, int((stop - start) / STEP)))
    places = shapely.points(radius * np.column_stack([np.cos(angles), np.sin(angles)]))
    free = ~shapely.dwithin(places, pads, half + CLEAR)
    edges = np.flatnonzero(np.diff(np.concatenate([[False], free, [False]]).astype(int)))
    parts = angles[edges.reshape(-1, 2) - [0, 1]]
    more = np.maximum(0.0, 2 * end - (parts[1:, 0] - parts[:-1, 1])) / 2
    parts[1:, 0] += more
    parts[:-1, 1] -= more
    return [(float(a), float(b)) for a, b in parts]


def _slot(start: float, stop: float, radius: float, half: float) -> Contour:
    """Return the slot along the arc between two angles, counter-clockwise."""
    radii = radius + half * np.array([1, 1, -1, -1])
    angles = np.array([start, stop, stop, start])
    bend = np.tan((stop - start) / 4)
    points = np.column_stack([radii * np.cos(angles), radii * np.sin(angles)])
    return Contour(points, np.array([bend, 1.0, -bend, 1.0]))
