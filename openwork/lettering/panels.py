"""Panels: parts of the web that stay solid, by leaving out the openings that meet them."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Mapping, Sequence

import numpy as np
import shapely

from openwork.errors import RuleError
from openwork.fill.site import Site
from openwork.lettering.room import Ground
from openwork.lettering.row import Row
from openwork.lettering.table import Mark, Panel, turns
from openwork.shape.contour import Contour
from openwork.shape.gauging.samples import polygons

MEETS = 0.01  # mm from a panel within which an opening is left out
ASIDE = 3.0  # mm that an "auto" panel is wider than its text, on either side
NEAR = math.radians(45.0)  # from the middle of a panel a mark may stand
CHORD = 0.02  # mm; which openings a panel meets needs no finer

Signs = Mapping[str, tuple[str, ...]]


def fold_kept(panels: Iterable[Panel], fold: int) -> int:
    """Return the order of symmetry that *panels* leave of a web of that *fold*."""
    counts = {"once": 1, "opposite": 2, "every sector": fold}
    return math.gcd(fold, *(counts[one.repeat] for one in panels))


def staying(openings: Sequence[Contour], panels: shapely.Geometry, fold: int) -> list[bool]:
    """Tell which of *openings* stay beside the outlines *panels*, all sectors of *fold* alike.

    Raises RuleError where none does.
    """
    first = openings[: len(openings) // fold]
    shapely.prepare(panels)
    met = shapely.dwithin(panels, polygons(first, CHORD), MEETS)
    stay = [not one for one in met.tolist()]
    if not any(stay):
        raise RuleError("panel: no opening is left beside the panels; a smaller width works")
    return stay * fold


def sectors(
    panels: Mapping[str, Panel], rows: Mapping[str, Row], signs: Signs, ground: Ground
) -> shapely.Geometry:
    """Return the outlines of *panels* as one, those of "auto" width as wide as their marks need.

    Raises RuleError for a panel without a mark that says how wide, and a mark without a panel.
    """
    site = ground.site
    needs: dict[str, float] = dict.fromkeys(panels, 0.0)
    faults = []
    for name, row in rows.items():
        mark = row.mark
        if mark.at in ("rim", "hem"):
            continue
        half = row.span(signs[name]) / 2 + row.apart / site.middle
        at, off = _nearest(mark, panels, site.fold)
        if at and off <= NEAR:
            needs[at] = max(needs[at], 2 * (half + off))
        elif mark.at == "panel":
            faults.append(
                f'mark.{name}.at = "panel": no panel stands at {mark.angle:g} degrees; '
                f"panel.{name}.angle = {mark.angle:g} works"
            )
    faults += [
        f'panel.{name}.width = "auto": no mark stands on it; panel.{name}.width = 30.0 works'
        for name, panel in panels.items()
        if panel.width == "auto" and not needs[name]
    ]
    if faults:
        raise RuleError("\n".join(faults))
    return shapely.union_all(
        [
            _sector(math.radians(panel.angle) + turn, _width(panel, needs[name], site), site)
            for name, panel in panels.items()
            for turn in turns(panel.repeat, site.fold)
        ]
    )


def _nearest(mark: Mark, panels: Mapping[str, Panel], fold: int) -> tuple[str, float]:
    """Return the panel nearest to *mark*, and the angle between their middles, radians."""
    offs = [
        (abs(cmath.phase(cmath.rect(1, math.radians(panel.angle - mark.angle) + turn))), name)
        for name, panel in panels.items()
        for turn in turns(panel.repeat, fold)
    ]
    off, name = min(offs, default=(math.inf, ""))
    return name, off


def _width(panel: Panel, need: float, site: Site) -> float:
    if isinstance(panel.width, float):
        return math.radians(panel.width)
    return min(need + 2 * ASIDE / site.middle, 2 * math.pi)


def _sector(angle: float, width: float, site: Site) -> shapely.Polygon:
    angles = angle + np.linspace(-width / 2, width / 2, 91)
    ring = np.column_stack([np.cos(angles), np.sin(angles)])
    return shapely.Polygon(np.concatenate([ring * site.outer, ring[::-1] * site.inner]))
