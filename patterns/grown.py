"""Metal left only where the chain's force runs, grown for every position of the chain at once.

The share of metal asked for is laid out for the greatest stiffness between rim and bolts, on one
sector or half of one; the methods and their sources stand in ``density`` and ``chain_waves``.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, ClassVar, Self

import numpy as np
import shapely

from openwork.errors import RuleError
from openwork.fill.fillings import Drawn
from openwork.fill.parameters import param
from openwork.fill.registry import pattern
from openwork.fill.site import Site
from openwork.patterns._kit.density import Stage, grown
from openwork.patterns._kit.void_outlines import Voids
from openwork.patterns._kit.web_grid import WebGrid
from openwork.patterns._kit.web_layout import web_layout

MARGIN = 0.15  # of the projection: what the robust form is eroded by
BIN = 0.05  # shares nearer than half of it share one layout and differ by their level
SHARES = (0.45, 0.5, 0.55, 0.65, 0.38)  # tried in turn where none is given
OPEN = 0.6  # of what a share leaves open: less, and most of the web was no opening at all
REACH = 1.6  # ribs, or what the cutter's radius is if that is more: the filter at full detail
WIDEST = 2.15  # cutter radii of that filter: with wider ones ribs stay half metal and break
SIZE = 0.5  # of the filter's radius: an element
MOST = 3000  # elements of a sector: with more a large ring would take minutes, so it is coarser
ROWS = 12  # elements across the web at least
STAGES = (
    *(Stage(1 + step / 4, 0, 8) for step in range(9)),
    *(Stage(3.0, 2.0**step, 8) for step in range(5)),
)


@pattern
@dataclass(frozen=True, kw_only=True)
class Grown:
    """Metal left only where the force runs, grown for every position of the chain."""

    LEVEL: ClassVar[str] = "share"  # what a search for the mass turns

    share: float = param(
        0.45,
        low=0.35,
        high=0.75,
        help="share of metal between rim, hem and pads",
        suited=True,
    )
    detail: float = param(
        1.0, low=0.3, high=1, help="how fine; 1 is as fine as rib and cutter allow"
    )
    form: str = param(
        "mirrored",
        choices=("mirrored", "turning"),
        help="alike both ways, or for the way it is driven",
    )

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return the lightest web of SHARES that is about as open on *site* as its share says."""
        if "share" in given:
            return cls(**given)
        best, most = cls(share=SHARES[0], **given), 0.0
        for share in SHARES:
            one = cls(share=share, **given)
            opened = sum(outline.area for outline in one.outlines(site))
            part = opened * site.fold / ((1 - share) * site.room().area)
            if part > OPEN:
                return one
            if part > most:
                best, most = one, part
        return best

    def outlines(self, site: Site) -> list[shapely.Polygon]:
        """Return the outlines of the openings of one sector, none where the web is too narrow."""
        binned = round(self.share / BIN) * BIN
        voids = _grown(site, round(binned, 3), self.detail, self.form == "mirrored")
        return list(voids.outlines(self.share))

    def __call__(self, site: Site, rng: np.random.Generator) -> Drawn:
        """Return the openings of one sector."""
        del rng
        outlines = self.outlines(site)
        if not outlines:
            raise RuleError(
                f"pattern.share {self.share:g}: no opening is left that a cutter of web.corner "
                f"{site.corner:g} mm makes; another share or a smaller corner works"
            )
        rings = [np.array(one.exterior.coords)[:-1] for one in outlines]
        return Drawn([[ring] for ring in rings])


@lru_cache(maxsize=64)
def _grown(site: Site, share: float, detail: float, mirrored: bool) -> Voids:
    """Return the openings of a layout; kept, for tuning and sheets ask for it again and again."""
    finest = math.sqrt(site.sector * (site.outer**2 - site.inner**2) / 2 / MOST) / SIZE
    reach = max(min(REACH * max(site.rib, site.corner), WIDEST * site.corner) / detail, finest)
    size = min(SIZE * reach, (site.outer - site.inner) / ROWS)
    grid = WebGrid.of(site, size, mirrored=mirrored)
    layout = web_layout(grid, reach)
    result = grown(layout, share, STAGES, margin=MARGIN)
    if result.broken:
        raise RuleError(
            f"pattern.name grown: the layout of {share:g} metal did not settle, it stopped after "
            f"{result.rounds} rounds; another pattern.share or a coarser pattern.detail may"
        )
    return Voids(grid, layout.placed(result.smooth))
