"""Where a size of a family departs from the ring that sets the look, in words."""

from __future__ import annotations

import math
from collections.abc import Sequence

from openwork.explore.mass.wider_rim import BY
from openwork.fill.polar import MOST_STRETCH
from openwork.measure.cell import cell, row_count
from openwork.ring import Design

FEWER = 0.12  # share of the openings whose loss shows


def departures(look: Design, ring: Design, missed: Sequence[int | None]) -> tuple[str, ...]:
    """Return in words where *ring* departs from *look*; *missed* row counts miss the mass."""
    base, found = look.spec.ring.teeth, []
    before, now = (row_count(one.pattern) for one in (look, ring))
    if before != now:
        found.append(f"{_counted(now)}, {before} at {base} teeth")
    counts = [len(one.openings) for one in (look, ring)]
    if before == now and abs(counts[1] - counts[0]) > FEWER * counts[0]:
        found.append(f"{counts[1]} openings, {counts[0]} at {base} teeth")
    if look.spec.web.rim != ring.spec.web.rim:
        found.append(f"{BY} {ring.spec.web.rim:.4g} mm: no rib alone gives the mass")
    taller = stretch(look, ring)
    if abs(taller) > MOST_STRETCH:
        way = "higher" if taller > 0 else "lower"
        share = 100 * math.expm1(abs(taller))
        found.append(f"cells {share:.0f} % {way} for their width than at {base} teeth")
    found += [f"with {_counted(rows)} the mass is out of reach" for rows in missed]
    return tuple(found)


def stretch(look: Design, ring: Design) -> float:
    """Return the logarithm of how much higher for their width cells are than those of *look*."""
    return math.log(cell(ring).proportion / cell(look).proportion)


def _counted(rows: int | None) -> str:
    return "1 row" if rows == 1 else f"{rows} rows"
