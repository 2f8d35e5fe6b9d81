"""Openings that keep a floor: which of them, how much metal is left, and what the cutter bears."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Literal

import numpy as np
from numpy.typing import NDArray
from pydantic import Field

from openwork.errors import RuleError
from openwork.shape.contour import Contour, Floats, area
from openwork.shape.gauging.integrals import integrals
from openwork.tables.table import Table

if TYPE_CHECKING:
    from openwork.fill.site import Site, Web

Which = Literal["none", "all", "outer", "inner", "every second", "small", "large"]
Face = Literal["both", "front", "back"]

LEAST = 0.4  # mm less than the plate that a floor must lie to be one; common practice, no source
DEEPEST = 4.0  # cutter diameters that a pocket may be deep; common practice, no source
LIKE = 0.02  # share within which areas are one
ROW = 0.12  # of the web's width, within which openings next to each other are of one row
SHARES = np.arange(1, 20) / 20  # tried where a share takes nothing


class Pocket(Table):
    """Openings that are not cut through: a floor of metal stays in them."""

    which: Which = Field(
        "none", description="openings that keep a floor: by place, by size, or every second"
    )
    share: float = Field(
        0.5, gt=0, le=1, description="of the web's width, or of the openings, that which takes"
    )
    floor: float = Field(1.0, ge=0.5, le=20, description="metal left in a pocket, mm")
    face: Face = Field("both", description="cut from both faces, or from one alone")
    radius: float = Field(0.0, ge=0, le=5, description="between wall and floor, mm; 0 for none")

    @property
    def faces(self) -> tuple[str, ...]:
        """The faces that pockets are cut from."""
        return ("back", "front") if self.face == "both" else (self.face,)

    def depth(self, plate: float) -> float:
        """Return how deep a pocket is on each face it is cut from, mm, in a *plate* (mm)."""
        return (plate - self.floor) / len(self.faces)

    def words(self, plate: float) -> str:
        """Return floor and depth in words, as "floor 1 mm, 1.5 mm deep from both faces"."""
        side = "both faces" if self.face == "both" else f"the {self.face}"
        radius = f", radius {self.radius:g} mm at the floor" if self.radius else ""
        return f"floor {self.floor:g} mm, {self.depth(plate):g} mm deep from {side}{radius}"

    def filleted(self, length: float) -> float:
        """Return what the radius at the floor leaves of a pocket with *length* of wall, mm3.

        The integral of Steiner's inner parallel areas over a quarter round, on one face:
        L r^2 (1 - pi/4) - pi r^3 (5/3 - pi/2).
        """
        r = self.radius
        return length * r**2 * (1 - math.pi / 4) - math.pi * r**3 * (5 / 3 - math.pi / 2)


def pocket_faults(pocket: Pocket, web: Web, plate: float) -> list[str]:
    """Return what is impossible about pockets in a *plate* (mm) beside that *web*."""
    if pocket.which == "none":
        return []
    return [f"pocket.{fault}" for fault in _faults(pocket, web, plate)]


def _faults(pocket: Pocket, web: Web, plate: float) -> Iterator[str]:
    floor, radius, depth = pocket.floor, pocket.radius, pocket.depth(plate)
    bevel = web.widest_bevel
    if floor > plate - LEAST + 1e-9:
        yield (
            f"floor {floor:g} mm: a plate of {plate:g} mm has no pocket that shallow; "
            f"{plate - LEAST:g} works"
        )
        return
    if depth > DEEPEST * 2 * web.corner + 1e-9:
        least = plate - len(pocket.faces) * DEEPEST * 2 * web.corner
        yield (
            f"floor {floor:g} mm: {depth:g} mm deep is more than {DEEPEST:g} diameters of a "
            f"cutter for a corner of {web.corner:g} mm; {math.ceil(100 * least) / 100:g} works"
        )
    if radius > web.corner:
        yield (
            f"radius {radius:g} mm: more than the cutter has, web.corner {web.corner:g}; "
            f"{web.corner:g} works"
        )
    if radius and radius + bevel > depth >= bevel:
        yield (
            f"radius {radius:g} mm: with a bevel of {bevel:g} mm more than the pocket is "
            f"deep, {depth:g} mm; {math.floor(100 * (depth - bevel)) / 100:g} works"
        )
    if bevel > depth:
        most = plate - len(pocket.faces) * (bevel + radius)
        yield (
            f"floor {floor:g} mm: the bevel of {bevel:g} mm is more than the pocket is deep, "
            f"{depth:g} mm; {math.floor(100 * most) / 100:g} works"
        )


def floors(openings: Sequence[Contour], site: Site, pocket: Pocket) -> tuple[float, ...]:
    """Return the metal left in each of *openings*, one symmetry sector, mm; 0 where cut through.

    Nothing where there are no pockets. Raises RuleError where *pocket* takes none of them, or
    cannot take every second.
    """
    if pocket.which == "none":
        return ()
    taken = _taken(openings, site, pocket, pocket.share)
    if not taken.any():
        works = (s for s in SHARES if _taken(openings, site, pocket, s).any())
        share = next(works, 1.0)
        raise RuleError(
            f'pocket.which = "{pocket.which}": takes no opening; pocket.share {share:g} works'
        )
    return tuple(pocket.floor if one else 0.0 for one in taken)


def _taken(
    openings: Sequence[Contour], site: Site, pocket: Pocket, share: float
) -> NDArray[np.bool_]:
    """Tell which of *openings* are pockets."""
    middles = integrals(openings).centroids
    place = (np.abs(middles) - site.inner) / (site.outer - site.inner)
    areas = np.array([area(one) for one in openings])
    match pocket.which:
        case "outer":
            return np.asarray(place > 1 - share - 1e-9)
        case "inner":
            return np.asarray(place < share + 1e-9)
        case "small":
            return np.asarray(areas <= _ranked(areas, share) * (1 + LIKE))
        case "large":
            return np.asarray(areas >= -_ranked(-areas, share) * (1 - LIKE))
        case "every second":
            return _every_second(np.angle(middles) % site.sector, place, site)
        case _:
            return np.ones(len(openings), dtype=bool)


def _ranked(values: Floats, share: float) -> float:
    """Return the value that *share* of all do not exceed."""
    return float(np.sort(values)[math.ceil(share * len(values)) - 1])


def _every_second(angles: Floats, places: Floats, site: Site) -> NDArray[np.bool_]:
    """Tell every second opening of each row, from the first bolt on.

    Raises RuleError where a row has an odd number of openings in a sector.
    """
    found = np.zeros(len(places), dtype=bool)
    order = np.argsort(places)
    rows = np.split(order, np.flatnonzero(np.diff(places[order]) > ROW) + 1)
    for row in rows:
        if len(row) % 2:
            count = len(row) * site.fold
            raise RuleError(
                f'pocket.which = "every second": a row of {count} openings has {len(row)} in each '
                f"of the {site.fold} sectors between the bolts, an odd number; rows of "
                f"{count - site.fold or 2 * site.fold} or {count + site.fold} work"
            )
        found[row[np.argsort(angles[row])][::2]] = True
    return found
