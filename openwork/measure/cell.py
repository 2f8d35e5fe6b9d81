"""How large the cells of a pattern are and how high for their width, ribs counted in."""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from openwork.fill.polar import extent
from openwork.fill.site import Site
from openwork.ring import Design
from openwork.shape.contour import area, as_complex, centroid, sampled
from openwork.tables.figure import figure

ROWS = "rows"  # what families call their rows across the web
CHORD = 0.005  # mm: extents need be no finer


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """A cell of a pattern."""

    size: float = figure("mm", "side of a square as large as a cell", label="cell size")
    proportion: float = figure("1", "height of a cell over its width", label="cell proportion")


def cell(design: Design) -> Cell:
    """Return the cell of *design*'s pattern, half of each rib round it counted in.

    Of rows and columns it is the row's height and the column's width in the log-polar frame, at
    the middle radius. Other patterns are measured: the extents of the openings along the radius
    and round the ring, large openings counting more; NaN of a ring without openings.
    """
    rows, columns = row_count(design.pattern), column_count(design.pattern)
    if rows is not None and columns is not None:
        width = 2 * math.pi / columns
        height = row_height(design.site, rows)
        size = design.site.middle * math.sqrt(width * height)
        return Cell(size=size, proportion=height / width)
    if not design.openings:
        return Cell(size=math.nan, proportion=math.nan)
    extents = np.array([_extents(one) for one in design.sector]) + design.site.rib
    weights = [area(one) for one in design.sector]
    height, width = np.exp(np.average(np.log(extents), axis=0, weights=weights))
    return Cell(size=math.sqrt(height * width), proportion=float(height / width))


def row_height(site: Site, rows: int) -> float:
    """Return the height of one of *rows* rows in the log-polar frame."""
    low, high = extent(site)
    return (high - low) / rows


def row_count(pattern: Any) -> int | None:
    """Return the rows of *pattern* across the web, where it has such a parameter."""
    known = {field.name for field in dataclasses.fields(pattern)}
    return int(pattern.rows) if ROWS in known else None


def column_count(pattern: Any) -> int | None:
    """Return how often *pattern* repeats round the ring, by its first such parameter."""
    for field in dataclasses.fields(pattern):
        if field.metadata["per_bolt"]:
            return int(getattr(pattern, field.name))
    return None


def _extents(opening: Any) -> tuple[float, float]:
    """Return the extents of *opening* along the radius and round the ring, mm."""
    z = as_complex(sampled(opening, CHORD))
    middle = complex(*centroid(opening))
    radius, angle = np.abs(z), np.angle(z / middle)
    return float(np.ptp(radius)), float(np.ptp(angle)) * abs(middle)
