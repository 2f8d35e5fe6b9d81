"""Rim, hem and pads: how much solid metal each leaves, and which leaves less than its limit.

All three are measured on finished contours, those of a design or those read from a file.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from openwork.fill.site import Web
from openwork.part.mount import Mount
from openwork.shape.contour import Contour, centroid, polygon
from openwork.shape.gauging import gauge

SLACK = 1e-3  # mm, within which a measured limit counts as kept
COARSE = 0.02  # mm between arcs and chords that tell what lies in what


@dataclass(frozen=True, slots=True, kw_only=True)
class Margins:
    """The least solid metal, mm; infinite where there is nothing to measure.

    ``rim`` lies between the openings and the circle about the axis that touches the tooth roots,
    ``hem`` between them and the inner edge, ``pad`` between them and the middle of a bolt hole.
    """

    rim: float
    hem: float
    pad: float


def margins(
    outline: Contour, edge: Contour, bolts: Sequence[Contour], openings: Sequence[Contour]
) -> Margins:
    """Return what *openings* leave of a ring; 0 where one swallows a bolt hole or meets the edge.

    >>> from openwork.shape.contour import circle
    >>> opening = circle(4.0, (40.0, 0.0))
    >>> margins(circle(50.0), circle(30.0), [circle(4.0, (0.0, 30.0))], [opening])
    Margins(rim=6.0, hem=6.0, pad=46.0)
    """
    if not openings:
        return Margins(rim=math.inf, hem=math.inf, pad=math.inf)
    shapes = np.array([polygon(one, (), COARSE) for one in openings], dtype=object)
    met = shapely.intersects(polygon(edge, (), COARSE), shapes).any()
    return Margins(
        rim=gauge.reach([outline])[0] - gauge.reach(openings)[1],
        hem=0.0 if met else gauge.least_gap(openings, [edge]).width,
        pad=min((_pad(one, openings, shapes) for one in bolts), default=math.inf),
    )


def _pad(bolt: Contour, openings: Sequence[Contour], shapes: shapely.Geometry) -> float:
    """Return how far the openings, whose polygons are *shapes*, stay off the middle of a hole."""
    x, y = centroid(bolt).tolist()
    return 0.0 if shapely.contains_xy(shapes, x, y).any() else gauge.reach(openings, (x, y))[0]


def too_narrow(found: Margins, web: Web, mount: Mount, slack: float = SLACK) -> Iterator[str]:
    """Yield one message for each margin that is narrower than its limit by more than *slack*."""
    for key, name, width, limit in (
        ("web.rim", "rim", found.rim, web.rim),
        ("web.hem", "hem", found.hem, web.hem),
        ("mount.pad", "pad", found.pad, mount.pad),
    ):
        if not width >= limit - slack:
            yield f"{key}: the {name} measures {width:.3f} mm, the limit is {limit:g} mm"
