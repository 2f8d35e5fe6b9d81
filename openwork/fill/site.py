"""The region a pattern may open, with the limits that hold there."""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Annotated, Literal, TypeAlias

import numpy as np
import shapely
from pydantic import Field

from openwork.errors import RuleError
from openwork.part.blank import Blank
from openwork.part.pads import padded
from openwork.shape.contour import Complex, Contour, Floats, Points, circle, polygon
from openwork.tables.table import Table

LAND = 0.05  # mm of flat metal, at least, that bevels leave between them
SAME_LENGTH = 1e-6  # mm between lengths that are one
CHORD = 2e-4  # mm between the room's arcs and the chords that stand for them
FINEST = 3  # decimals of the width of a bevel, mm

Bevel: TypeAlias = Annotated[float, Field(ge=0, le=2)]


class Web(Table):
    """The metal that must stay round and between the openings."""

    rim: float = Field(3.0, ge=0.5, le=60, description="solid band inside the tooth roots, mm")
    hem: float = Field(3.0, ge=0.5, le=60, description="solid band at the inner edge, mm")
    rib: float = Field(2.0, ge=0.5, le=30, description="least metal between two openings, mm")
    corner: float = Field(1.5, ge=0.3, le=20, description="least inside radius: the cutter's, mm")
    taper: float = Field(
        0.0, ge=0, le=1, description="how much ribs thicken towards bolts and rim, 0 to 1"
    )
    taper_by: Literal["place", "force"] = Field(
        "place", description="what ribs thicken by: place, towards bolts and rim; force, its flow"
    )
    bevel: Bevel | tuple[Bevel, Bevel] = Field(
        0.3,
        description="edge bevel of openings, both faces, mm; 0 for none; [hem, rim] for one that "
        "changes from hem to rim",
    )

    @property
    def widest_bevel(self) -> float:
        """The bevel where it is widest, mm."""
        return max(self.bevels)

    @property
    def bevels(self) -> tuple[float, float]:
        """The bevels at hem and rim, mm."""
        return self.bevel if isinstance(self.bevel, tuple) else (self.bevel, self.bevel)

    @property
    def bevel_words(self) -> str:
        """The bevel in words, as "0.3" or "0.2 to 0.8"; nothing without one."""
        ends = [f"{one:g}" for one in dict.fromkeys(self.bevels)]
        return " to ".join(ends) if self.widest_bevel else ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """The annulus between hem and rim less the pads, and its limits.

    ``inner`` and ``outer`` are its radii, ``bore`` and ``root`` those of the metal beyond hem and
    rim, ``circle`` the radius of the bolt circle, ``bolts`` the
    bolt angles from the first bolt, ``fold`` the order of its rotational symmetry; mm and radians.
    What fills it is drawn with that bolt on +x and then turned by ``turn``.
    """

    inner: float
    outer: float
    fold: int
    bolts: tuple[float, ...]
    circle: float
    pad: float
    blend: float
    rib: float
    corner: float
    bore: float
    root: float
    taper: float = 0.0
    turn: float = 0.0

    @property
    def sector(self) -> float:
        """Angle of one symmetry sector, radians."""
        return 2 * math.pi / self.fold

    @property
    def even(self) -> bool:
        """Whether the bolts stand at even distances."""
        return len(self.bolts) == self.fold

    @property
    def middle(self) -> float:
        """Geometric mean radius, mm: the scale of a conformal pattern."""
        return math.sqrt(self.inner * self.outer)

    @property
    def bolt_points(self) -> Points:
        """Bolt centres (n, 2), mm."""
        return self.circle * np.column_stack([np.cos(self.bolts), np.sin(self.bolts)])

    def walls(self, by: float = 0.0) -> tuple[Contour, ...]:
        """Return the outer and the inner boundaries of the region, moved *by* mm into it, exact."""
        blend = max(self.blend - by, 0.0)
        inner = padded(self.inner + by, self.bolt_points, pad=self.pad + by, blend=blend)
        return (circle(self.outer - by), *inner)

    def room(self, by: float = 0.0) -> shapely.Polygon | shapely.MultiPolygon:
        """Return the region shrunk *by* mm, arcs as chords within 0.0002 mm."""
        return _room(dataclasses.replace(self, rib=0.0, corner=0.0, taper=0.0, turn=0.0), by)

    def annulus(self, by: float = 0.0) -> shapely.Polygon:
        """Return the region shrunk *by* mm as if it had no pads."""
        return polygon(circle(self.outer - by), [circle(self.inner + by)], CHORD)


@lru_cache(maxsize=64)  # by what it depends on: a search turns the rib, and the room stays
def _room(site: Site, by: float) -> shapely.Polygon | shapely.MultiPolygon:
    outer, *inner = (polygon(wall, sagitta=CHORD) for wall in site.walls(by))
    room = outer.difference(shapely.union_all(inner))
    shapely.prepare(room)
    return room


def bevel_widths(middles: Complex, site: Site, web: Web) -> Floats:
    """Return the widths (n,) of the bevels, mm, of openings with centroids *middles* (n,).

    They change with the radius, evenly from hem to rim.
    """
    hem, rim = web.bevels
    place = np.clip((np.abs(middles) - site.inner) / (site.outer - site.inner), 0, 1)
    return np.asarray(np.round(hem + (rim - hem) * place, FINEST))


def site(blank: Blank, web: Web) -> Site:
    """Return the site that *web* leaves of *blank*.

    Raises RuleError where the web is too narrow for an opening or reaches into the tooth band, and
    where the bevels of openings would meet each other or another edge.
    """
    mount = blank.mount
    outer = blank.diameters.root / 2 - web.rim
    inner = mount.bore_diameter / 2 + web.hem
    faults = []
    full = blank.zones[0].outer  # out to here the plate is a plate
    if outer > full - web.widest_bevel:
        least = blank.diameters.root / 2 - full + web.widest_bevel
        faults.append(
            f"web.rim {web.rim:g} mm: openings would reach into the tooth band; "
            f"at least {math.ceil(least * 100) / 100:g} mm"
        )
    if outer - inner < 2 * web.corner + 0.5:
        faults.append(
            f"the web is {max(outer - inner, 0):.2f} mm wide between hem and rim (radii "
            f"{inner:.2f} and {outer:.2f} mm): an opening needs at least "
            f"{2 * web.corner + 0.5:g} mm; more teeth, a smaller bore, or a smaller rim, hem or "
            "corner makes room"
        )
    faults += _bevel_faults(blank, web)
    if faults:
        raise RuleError("\n".join(faults))
    return Site(
        inner=inner,
        outer=outer,
        fold=mount.fold,
        bolts=mount.arm_angles,
        turn=math.radians(mount.turn),
        circle=mount.circle / 2,
        pad=mount.pad,
        blend=mount.blend,
        rib=web.rib,
        corner=web.corner,
        bore=mount.bore_diameter / 2,
        root=blank.diameters.root / 2,
        taper=web.taper,
    )


def _bevel_faults(blank: Blank, web: Web) -> list[str]:
    mount, bevel = blank.mount, web.widest_bevel
    room = {
        f"on a rib of {web.rib:g} mm": web.rib / 2,
        f"inside a plate of {blank.plate:g} mm": blank.plate / 2,
        f"the inner edge across a hem of {web.hem:g} mm": web.hem,
        f"what is bored for a bolt in a pad of {mount.pad:g} mm": mount.pad - mount.widest / 2,
    }
    return [
        f"web.bevel {bevel:g} mm: bevels would meet {where}; {_below(most)} works"
        for where, most in room.items()
        if bevel > max(most - LAND, 0) + SAME_LENGTH
    ]


def _below(most: float) -> str:
    return f"{max(math.floor((most - LAND) * 100 + 1e-6) / 100, 0):g}"
