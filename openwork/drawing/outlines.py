"""The normal form of a drawing: its page and its regions as lines and arcs, told as text.

``1000 600;M x y L x y B bulge x y Z M ... Z;...`` in thousandths of the page's width, y up: the
page, then its regions, each an outline and the islands in it. ``B`` leads along an arc, by the
tangent of a quarter of its sweep, to its end.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely

from openwork.drawing.read import Page, page
from openwork.errors import SpecError
from openwork.shape.contour import Contour, as_complex, polygon
from openwork.shape.tracing.trace import traced

LARGEST = 64 << 10  # characters
UNIT = 1000.0  # the page's width
SMALLEST = 2e-4  # of the page's area: a smaller speck is left out
TOLERANCE, LEAST = 0.05, 1.0  # of a thousandth: how near lines and arcs keep, the shortest of them
MOST_RINGS = 400
RING = re.compile(r"M([^MZ]*)Z")
STEP = re.compile(r"([LB]?)((?:\s*-?\d{1,6}(?:\.\d{1,5})?){2,3})")


@dataclass(frozen=True, slots=True)
class Outlines:
    """A page 1000 wide and ``height`` high, and its regions: an outline and then its islands."""

    height: float
    regions: tuple[tuple[Contour, ...], ...]

    @property
    def dark(self) -> shapely.Geometry:
        """The dark region of the page, arcs as chords."""
        return shapely.union_all([polygon(one[0], one[1:], TOLERANCE) for one in self.regions])


def outlines(data: bytes, name: str) -> str:
    """Return the normal form of the SVG *data*; raises SpecError, faults under *name*."""
    return told(page(data, name), name)


def told(found: Page, name: str) -> str:
    """Return the normal form of what a page shows; raises SpecError, faults under *name*."""
    scale = UNIT / found.width
    height = round(found.height * scale, 2)
    dark = shapely.transform(found.dark, lambda p: p * [scale, -scale] + [0.0, height])
    parts = [one for one in shapely.get_parts(dark) if one.area > SMALLEST * UNIT * height]
    regions = sorted(filter(None, map(_region, parts)))
    text = ";".join([f"{_number(UNIT)} {_number(height)}", *regions])
    if fault := outlines_fault(text):
        raise SpecError(f"{name}: {fault}")
    return text


def _region(part: shapely.Polygon) -> str:
    least = SMALLEST * part.area
    inside = [one for one in part.interiors if shapely.Polygon(one).area > least]
    return " ".join(_ring(one) for one in (part.exterior, *inside))


def _ring(ring: shapely.LinearRing) -> str:
    one = traced(shapely.get_coordinates(ring)[:-1], tolerance=TOLERANCE, least=LEAST)
    points, bulges = zip(*_halved(one), strict=True)
    places = [f"{_number(z.real)} {_number(z.imag)}" for z in points]
    ends = places[1:] + places[:1]
    steps = [
        f"L{end}" if bulge == 0 else f"B{_number(bulge, 5)} {end}"
        for bulge, end in zip(bulges, ends, strict=True)
    ]
    return "".join([f"M{places[0]}", *steps, "Z"])


def _halved(one: Contour) -> Iterator[tuple[complex, float]]:
    """Yield starts and bulges of the pieces, arcs over a half circle in two.

    The ends of a nearly full circle, rounded, would not tell its centre.
    """
    z, chords = as_complex(one.points).tolist(), as_complex(one.chords).tolist()
    for start, chord, bulge in zip(z, chords, one.bulges.tolist(), strict=True):
        if abs(bulge) <= 1:
            yield start, bulge
        else:
            half = math.tan(math.atan(bulge) / 2)
            yield start, half
            yield start + chord * (1 - 1j * bulge) / 2, half


def _number(value: float, decimals: int = 2) -> str:
    """Return *value* without the zeros that say nothing.

    >>> _number(1000.0), _number(-0.004), _number(0.125)
    ('1000', '0', '0.12')
    """
    text = f"{value:.{decimals}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def outlines_fault(text: str) -> str:
    """Return what is wrong with *text* as the normal form of a drawing, "" where nothing is."""
    if len(text) > LARGEST:
        return f"over {LARGEST} characters of outline; simplify the drawing"
    try:
        parsed(text)
    except (ValueError, shapely.errors.GEOSException) as error:
        return f"no drawing: {error}; pattern.drawing = a file makes one"
    return ""


@lru_cache(maxsize=32)
def parsed(text: str) -> Outlines:
    """Return the drawing that *text*, a normal form, tells; raises ValueError where it is none."""
    head, *rest = text.split(";")
    size = [float(one) for one in head.split()]
    if len(size) != 2 or size[0] != UNIT or not 10 <= size[1] <= 1e5:
        raise ValueError(f"its page is {head[:40]!r}, not 1000 and a height from 10 to 100000")
    if not rest or text.count("M") > MOST_RINGS:
        raise ValueError(f"it has no region, or over {MOST_RINGS} outlines")
    regions = tuple(_rings(one) for one in rest)
    for outer, *islands in regions:
        if not polygon(outer, islands, TOLERANCE).is_valid:
            raise ValueError("an outline in it crosses itself")
    return Outlines(size[1], regions)


def _rings(text: str) -> tuple[Contour, ...]:
    if not text or RING.sub("", text).strip():
        raise ValueError(f"a region of it is {text[:40]!r}, not M ... Z")
    return tuple(_contour(one) for one in RING.findall(text))


def _contour(text: str) -> Contour:
    points, bulges = [], []
    end = 0
    for step in STEP.finditer(text):
        if step.start() != end or (step[1] == "") != (end == 0):
            raise ValueError(f"an outline of it has {text[end : end + 20]!r}")
        end = step.end()
        *bulge, x, y = (float(one) for one in step[2].split())
        if len(bulge) != (step[1] == "B") or not all(map(math.isfinite, (x, y))):
            raise ValueError(f"an outline of it has {step[0][:20]!r}")
        points.append((x, y))
        bulges.append(bulge[0] if bulge else 0.0)
    if end != len(text) or len(points) < 3 or points[0] != points[-1]:
        raise ValueError(f"an outline of it does not close: {text[-20:]!r}")
    return Contour(np.array(points[:-1]), np.array(bulges[1:]))
