"""The one place that turns what a pattern proposes into openings that keep every rule.

For each opening it finds the *core*: where the centre of the cutter may go. A core is the proposed
shape shrunk by half a rib and the cutter's radius, cut to the region shrunk by the cutter's
radius; growing it back by that radius gives lines and arcs the cutter can follow, with the ribs
and margins kept exactly. Everything is done on one symmetry class and repeated by rotation.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from openwork.errors import RuleError
from openwork.fill.classes import copies
from openwork.fill.cores import cores, tolerance
from openwork.fill.fillings import Drawn, Filling, Solid
from openwork.fill.nearness import refuse_round_the_centre
from openwork.fill.shrunk import Shapely, eroded, largest, opened_area
from openwork.fill.site import Site
from openwork.fill.widths import Carried
from openwork.shape.contour import Contour, rotated
from openwork.shape.parallel.offset import dilated
from openwork.shape.tracing.trace import traced

MOST = 1500  # cells of a whole ring: beyond this no cutter is fine enough
FRAGMENT = 0.45  # of its uncut area: a smaller remainder of a cell is filled with metal
CUT_OFF = 0.55  # the same of a drawing: its shapes are known, and less looks cut off
NARROWEST = 1.15  # cutter diameters across the widest place: less is a slot no cutter turns in
SPARE = 0.05  # of the cutter by which a neck must be wider to be sure of
FINEST = 0.001  # mm of a piece of a core: shorter ones of the outline go when it is moved
POINT = 0.2  # ribs: radius of a point of metal that sticks out into an opening
SHARP = np.radians(3.0)  # a vertex that turns less is a sample of a curve


@dataclass(frozen=True, slots=True)
class Finished:
    """The openings of one sector, and how many fragments were filled and slivers dropped in it."""

    openings: tuple[Contour, ...]
    filled: int
    dropped: int


def finished(filling: Filling, site: Site, carried: Carried | None = None) -> Finished:
    """Return the openings of one symmetry sector that *filling* makes on *site*.

    Where the site tapers its ribs, they thicken by what they have *carried*, else by place.

    Raises RuleError where nothing is left, or an opening would run right round the ring.
    """
    if isinstance(filling, Solid):
        return Finished(openings=(), filled=0, dropped=0)
    exact, whole = cores(filling, site, carried)
    if isinstance(filling, Drawn):  # what of a drawing no cutter turns in is no opening at all
        whole = whole[_wide(whole, site)]
    within = largest(shapely.intersection(whole, site.room(site.corner)))
    refuse_round_the_centre(within)
    present = ~shapely.is_empty(within)
    remainder = opened_area(within, site.corner) / np.maximum(
        opened_area(whole, site.corner), 1e-12
    )
    complete = remainder >= (CUT_OFF if isinstance(filling, Drawn) else FRAGMENT)
    keep = present & complete & _wide(within, site)
    if (count := (int(keep.sum()) + len(exact)) * site.fold) > MOST:
        raise RuleError(f"{count} openings: at most {MOST} are drawn; fewer columns or rows do")
    openings = _openings(within[keep], site, tolerance(filling))
    if not exact and not openings:
        raise RuleError(_nothing_left(site))
    return Finished(
        openings=tuple(exact + openings),
        filled=int((~complete & ~shapely.is_empty(whole)).sum()),
        dropped=int((complete & ~keep).sum() + shapely.is_empty(whole).sum()),
    )


def _wide(cores: Shapely, site: Site) -> NDArray[np.bool_]:
    """Tell of each core whether a cutter can turn in its opening."""
    left = shapely.buffer(cores, -(NARROWEST - 1) * site.corner)
    return np.asarray(~shapely.is_empty(left))


def surely_open(shapes: Shapely, site: Site) -> float:
    """Return the area, mm2, that a cutter surely opens of *shapes* (n,), margins aside.

    A neck that just lets it pass does not count: in the end it may not.
    """
    cutter = (1 + SPARE) * site.corner
    cores = eroded(shapes, cutter)
    return float(shapely.area(shapely.buffer(cores[_wide(cores, site)], cutter)).sum())


def repeated(openings: Sequence[Contour], site: Site) -> tuple[Contour, ...]:
    """Return the openings of the whole ring, sector by sector."""
    turns = [k * site.sector + site.turn for k in range(site.fold)]
    return tuple(rotated(one, turn) if turn else one for turn in turns for one in openings)


def _nothing_left(site: Site) -> str:
    return (
        f"no opening is left: every cell is narrower than web.rib {site.rib:g} plus "
        f"{NARROWEST:g} cutter diameters (web.corner {site.corner:g}) on a web "
        f"{site.outer - site.inner:.1f} mm wide; fewer columns or rows, a thinner rib or a "
        "smaller cutter makes room"
    )


def _arcs_of(contours: Sequence[Contour]) -> list[tuple[float, float, float]]:
    """Return (x, y, radius) of every circle that *contours* run along."""
    found = {
        (round(x, 9), round(y, 9), round(r, 9))
        for one in contours
        for (x, y), r in zip(one.centres.tolist(), one.radii.tolist(), strict=True)
        if np.isfinite(x)
    }
    return sorted(found)


def _openings(cores: Shapely, site: Site, within: float) -> list[Contour]:
    """Return the openings that grow from *cores*, each kind traced *within* so many mm once."""
    circles = _arcs_of(site.walls(site.corner))
    rings = [shapely.get_coordinates(core.exterior)[:-1] for core in cores]
    made: dict[int, Contour] = {}
    openings = []
    for number, copy in enumerate(copies(rings, circles)):
        if copy.of == number:
            core = traced(rings[number], circles=circles, tolerance=within, least=FINEST)
            made[number] = _grown(core, site)
        openings.append(copy.made(made[copy.of]))
    return openings


def _grown(core: Contour, site: Site) -> Contour:
    """Return the opening that a cutter makes whose centre goes round *core*.

    A point of metal that sticks out into it is rounded: grown by so much more and shrunk again,
    the outline is the same elsewhere. The rib behind a point is thicker there by more than it
    loses.
    """
    if not (core.turns < -SHARP).any():
        return dilated(core, site.corner)
    point = POINT * site.rib
    return dilated(dilated(core, site.corner + point), -point)
