"""What is lit on a ring beside its openings: turned sides, lands, chamfers and countersinks.

Everything is a path of one tone, so that any picture can show it: the pictures of the shop and the
page alike.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

import numpy as np

from openwork.part.alternate import lands
from openwork.render.drawing.path import compact_path
from openwork.render.ring.facets import facets, tone_of
from openwork.render.ring.tones import LEVELS, LIGHT, side_tones, tones
from openwork.shape.contour import Contour, circle, reverse, rotated
from openwork.shape.cut import cut

if TYPE_CHECKING:
    from openwork.part.blank import Blank
    from openwork.ring import Design

STRIPS = 2  # of a side, from where it begins to the tip, each of one slope


def lit(design: Design, unit: float, light: complex = LIGHT) -> Iterator[tuple[str, str]]:
    """Yield the tone and the path data, in *unit* mm about the origin, of all that is lit."""
    ring, look = design.blank, design.spec.look
    colours = tones(look)
    if land := [one for parts in lands(ring) for one in parts]:
        yield colours.plate[1], compact_path(land, unit)
    yield from _sides(design, unit, light)
    for width, outlines in _chamfers(design):
        strips = facets(outlines, [width] * len(outlines), unit, light)
        for colour, data in zip(colours.facets, strips, strict=True):
            if data:
                yield colour, data


def land_outlines(design: Design, unit: float) -> str:
    """Return the outlines of the lands of wide teeth as path data, nothing for equal teeth."""
    return compact_path([one for parts in lands(design.blank) for one in parts], unit)


def _sides(design: Design, unit: float, light: complex) -> Iterator[tuple[str, str]]:
    """Yield the turned sides of all teeth: two strips each, lit by where the tooth points."""
    ring = design.blank
    if ring.sides is None:
        return
    turn, start, tip = math.tau / ring.teeth, ring.sides.start, ring.tip_diameter / 2
    rest = cut(_tooth(ring), 0j, start, only=lambda z: 0 < cmath.phase(z) < turn).outside
    for k in range(1, STRIPS + 1):
        if k < STRIPS:
            halves = [cut(one, 0j, start + (tip - start) * k / STRIPS) for one in rest]
            strip = [part for one in halves for part in one.inside]
            rest = tuple(part for one in halves for part in one.outside)
        else:
            strip = list(rest)
        middle = start + (tip - start) * (k - 0.5) / STRIPS
        yield from _round(design, strip, _slope(design, middle), unit, light)


def _tooth(ring: Blank) -> Contour:
    """Return the first tooth above its seats, or the whole outline where sides begin below."""
    count = len(ring.outline) // ring.teeth
    points, bulges = ring.outline.points[1 : count + 1], ring.outline.bulges[1 : count + 1].copy()
    if ring.sides is None or ring.sides.start < np.hypot(*points[0]):
        return ring.outline
    bulges[-1] = 0.0
    return Contour(points, bulges)


def _round(
    design: Design, strip: Sequence[Contour], slope: float, unit: float, light: complex
) -> Iterator[tuple[str, str]]:
    """Yield a strip of one tooth on all of them, by tone."""
    turn = math.tau / design.blank.teeth
    found: list[list[Contour]] = [[] for _ in range(LEVELS)]
    for k in range(design.blank.teeth):
        found[tone_of(cmath.rect(1.0, (k + 0.5) * turn), light)] += [rotated(one, k * turn)
                                                              for one in strip]  # fmt: skip
    for colour, contours in zip(side_tones(design.spec.look, slope), found, strict=True):
        if contours:
            yield colour, compact_path(contours, unit)


def _slope(design: Design, radius: float) -> float:
    """Return how far the sides lean at *radius*, radians."""
    sides = design.blank.sides
    assert sides is not None
    ends = sides.recess(np.array([radius - 0.05, radius + 0.05]))
    return math.atan(float(ends[1] - ends[0]) / 0.1)


def _chamfers(design: Design) -> Iterator[tuple[float, list[Contour]]]:
    """Yield the widths of chamfers and the outlines they run along, metal to the right."""
    ring, edges = design.blank, design.spec.edges
    if edges.bore:
        yield edges.bore, [ring.edge]
    if edges.step and ring.steps[0] > 0:
        yield edges.step, [reverse(circle(ring.shroud))]
    if edges.teeth:
        yield edges.teeth, [reverse(ring.outline)]
    for hole, point in zip(ring.mount.bolt_holes, ring.mount.bolt_points, strict=True):
        rim = hole.rim("front")
        if edges.bolts and rim is not None:
            yield edges.bolts, [circle(rim / 2, point)]
        if hole.countersink is not None and hole.countersink.face == "front":
            yield (hole.countersink.diameter - hole.hole) / 2, [hole.contour(point)]
