"""Where a mark may stand: the bands of full thickness, and what a line must keep clear of."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from openwork.fill.site import Site
from openwork.lettering.table import Mark
from openwork.part.blank import Blank
from openwork.part.edges import Edges
from openwork.shape.contour import Contour

CLEAR = 0.3  # mm of flat metal, at least, beside a line; common practice, no source
MOST_SPAN = math.radians(340.0)  # of a text round the ring
THICKEST = 0.2  # of a capital's height, width of a line
DEEPEST = 0.25  # of the plate, depth of a line


@dataclass(frozen=True, slots=True)
class Band:
    """Flat metal between two radii, mm."""

    low: float
    high: float

    @property
    def middle(self) -> float:
        """Radius half way."""
        return (self.low + self.high) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """What marks stand on: a ring, its web, its openings and the edges broken round them."""

    ring: Blank
    site: Site
    openings: Sequence[Contour]
    edges: Edges
    bevel: float


def room_at(mark: Mark, ground: Ground) -> Band:
    """Return the band on which *mark* stands, before it is known what else lies there."""
    ring, site = ground.ring, ground.site
    bands = {
        "panel": Band(site.inner, site.outer),
        "rim": Band(site.outer + ground.bevel, ring.zones[0].outer - ground.edges.step),
        "hem": Band(ring.mount.bore_diameter / 2 + ground.edges.bore, site.inner - ground.bevel),
    }
    if isinstance(mark.at, float):
        up = mark.height if mark.reads == "outward" else -mark.height
        return Band(*sorted((mark.at, mark.at + up)))
    return bands[mark.at]


def base_radius(mark: Mark, band: Band) -> float:
    """Return the radius, mm, of the base line of *mark*, its capitals in the middle of *band*."""
    half = mark.height / 2
    return band.middle + (-half if mark.reads == "outward" else half)


def size_faults(name: str, mark: Mark, span: float, ground: Ground, band: Band) -> Iterator[str]:
    """Yield what is impossible about the size of *mark*, whose text covers *span* radians."""
    ring = ground.ring
    if mark.depth > DEEPEST * ring.plate + 1e-9:
        yield (
            f"mark.{name}.depth {mark.depth:g} mm: at most a quarter of the plate of "
            f"{ring.plate:g} mm; {math.floor(DEEPEST * ring.plate * 100) / 100:g} works"
        )
    cutter = 2 * ground.site.corner
    if mark.how == "cut" and mark.line < cutter - 1e-9:
        yield (
            f"mark.{name}.line {mark.line:g} mm: a cut text is as wide as the cutter, twice "
            f"web.corner; line = {cutter:g} and height = {cutter / THICKEST:g} works"
        )
    if mark.line > THICKEST * mark.height + 1e-9:
        yield (
            f"mark.{name}.line {mark.line:g} mm: at most a fifth of the height of "
            f"{mark.height:g} mm; {math.floor(THICKEST * mark.height * 100) / 100:g} works"
        )
    if span > MOST_SPAN:
        fits = math.floor(mark.height * MOST_SPAN / span * 10) / 10
        yield (
            f"mark.{name}: the text covers {math.degrees(span):.0f} degrees, at most 340; "
            + (f"height = {fits:g} works" if fits >= 2 else "a shorter text works")
        )
    clear = CLEAR if mark.how == "engraved" else 0.0  # a cut text is an opening among others
    need, width = mark.height + mark.line + 2 * clear, band.high - band.low
    if not isinstance(mark.at, float) and need > width + 1e-9:
        yield f"mark.{name}: {_too_high(mark, need, width)}"


def _too_high(mark: Mark, need: float, width: float) -> str:
    fits = math.floor((width - mark.line - 2 * CLEAR) * 10 + 1e-6) / 10
    works = [f"height = {fits:g}"] if fits >= 2 else []
    if mark.at == "panel":
        works += ["a wider web"] if not works else []
    else:
        works += [f"web.{mark.at} wider by {need - width:.1f}, or a [panel]"]
    where = "web" if mark.at == "panel" else f"flat of the {mark.at}"
    return (
        f"the {where} is {max(width, 0):.2f} mm wide, text of {mark.height:g} mm with its line "
        f"needs {need:.2f}; {' or '.join(works)} works"
    )
