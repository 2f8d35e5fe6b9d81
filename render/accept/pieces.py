"""Check 4: outlines are made of few lines and arcs, none short, none split, none too tight."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
import shapely

from openwork.measure.margins import SLACK
from openwork.render.accept.reading import Body, Reading
from openwork.render.accept.shape import pairs
from openwork.shape.arc import turn
from openwork.shape.contour import Contour, Floats, Points, is_circle, polygon, sampled
from openwork.shape.edge import at, edges

if TYPE_CHECKING:
    from openwork.ring import Design

SHORTEST = 0.049  # mm; what is traced is not shorter than 0.05
USUAL = 0.3  # mm of the median piece; shorter ones cut slowly and leave facets
MANY = 40  # pieces of an opening, or one for each mm of a longer one
FACET = (math.radians(1.0), math.radians(10.0))
FINE = 1e-3  # mm between arcs and the points that are measured on them
ONE = 1e-6  # mm from one arc within which two pieces are one


def check_pieces(reading: Reading, design: Design) -> Iterator[str]:
    """Yield what is wrong with the pieces of the outlines, and with the faces on them."""
    if reading.chord:
        yield from _chords(reading, design)
        return
    if reading.body is not None:
        yield from _faces(reading.body, design)
    cut = (*reading.openings, *reading.pockets)
    lengths = np.concatenate([np.zeros(0), *map(_lengths, cut)])
    if len(lengths) and np.median(lengths) < USUAL:
        yield f"the median piece of the openings is {np.median(lengths):.2f} mm, least {USUAL:g}"
    for contour in (*reading.outline, *cut):
        if (least := _lengths(contour).min()) < SHORTEST:
            yield f"a piece of {least:.4f} mm {_place(contour)}, least {SHORTEST:g}"
        if split := _split(contour):
            where = _place(contour)
            yield f"{split} pieces {where} go on from the one before on the same line or circle"
    for contour in cut:
        yield from _opening(contour, design.spec.web.corner)


def _opening(contour: Contour, corner: float) -> Iterator[str]:
    """Yield where an opening has too many pieces, facets, or too tight a corner."""
    where = _place(contour)
    if len(contour) > max(MANY, _lengths(contour).sum()):
        yield f"{len(contour)} pieces of an opening {where}, most {MANY} or one for each mm"
    if facets := _facets(contour):
        yield f"{facets} joints {where} turn by 1 to 10 degrees, as between facets"
    inside = contour.radii[contour.bulges > 0]
    if len(inside) and inside.min() < corner - SLACK:
        yield f"an inside radius of {inside.min():.3f} mm {where}, least {corner:g}"


def _place(contour: Contour) -> str:
    return "at ({:.1f}, {:.1f})".format(*contour.points[0])


def _chords(reading: Reading, design: Design) -> Iterator[str]:
    """Yield where the chords of a mesh lie farther from their arcs than was asked."""
    limit = reading.chord + SLACK
    for name, found, wanted in pairs(reading, design):
        ring = polygon(found).exterior
        shapely.prepare(ring)
        points = shapely.points(sampled(wanted, FINE))
        if not shapely.dwithin(ring, points, limit).all():
            off = float(shapely.distance(ring, points).max())
            yield f"{name}: chords lie {off:.4f} mm from their arcs, asked {reading.chord:g}"


def _facets(contour: Contour) -> int:
    """Return how many joints turn too much for a smooth edge and too little for a corner."""
    lines = edges(contour)
    turns = np.abs([turn(lines[k - 1].arriving, one.leaving) for k, one in enumerate(lines)])
    return int(np.count_nonzero((turns > FACET[0]) & (turns < FACET[1])))


def _lengths(contour: Contour) -> Floats:
    chord = np.hypot(*contour.chords.T)
    sweep = np.abs(contour.sweeps)
    bend = np.where(sweep == 0, 1, sweep / 2 / np.sin(np.where(sweep == 0, 1, sweep / 2)))
    lengths: Floats = chord * bend
    return lengths


def _split(contour: Contour) -> int:
    """Return how many pieces lie on the line or circle of the one before."""
    if is_circle(contour):
        return 0
    lines = edges(contour)
    found = 0
    for k, one in enumerate(lines):
        last = lines[k - 1]
        if (one.sweep == 0) != (last.sweep == 0) or one.sweep * last.sweep < 0:
            continue
        points = np.array([last.start, at(last, 0.5), one.start, at(one, 0.5), one.end])
        found += _off_circle(points) < ONE
    return found


def _off_circle(points: Points) -> float:
    """Return how far *points* (5 complex) lie off the circle, or line, by ends and middle one."""
    start, *_, end = points
    z = (points - (start + end) / 2) / (end - start) * 2
    side = z[2].imag
    # Circles through -1 and 1 with centre (0, c) have x^2 + y^2 - 2 c y = 1.
    twice = (abs(z[2]) ** 2 - 1) / side if side else np.inf
    if abs(twice) > 1e9:
        return float(np.abs(z.imag).max() * abs(end - start) / 2)
    radius = np.hypot(1, twice / 2)
    off = np.abs(np.abs(z - 1j * twice / 2) - radius)
    return float(off.max() * abs(end - start) / 2)


def _faces(body: Body, design: Design) -> Iterator[str]:
    """Yield where faces are of other kinds than the contours ask for."""
    ring = design.blank
    arcs = sum(int(np.count_nonzero(one.bulges)) for one in design.contours)
    arcs += len(design.spec.pocket.faces) * sum(
        int(np.count_nonzero(one.bulges)) for one in design.pockets
    )
    steps = _steps([*((one.back, one.front) for one in ring.zones), ring.band])
    sunk = sum(one.counterbore is not None for one in ring.mount.bolt_holes)
    lands = 0 if ring.alternating is None else ring.teeth // 2  # base and two flanks, both faces
    cylinders = arcs + 2 * steps + 2 * sunk + 6 * lands + _engraved(design)
    found = body.faces.get("cylinders", 0)
    if found != cylinders:
        yield f"{found} cylinders where the arcs ask for {cylinders}"
    others = body.faces.get("others", 0)
    if ring.sides is not None and design.spec.edges.teeth:
        if not others or others % (2 * ring.teeth):
            yield f"{others} ruled faces, which are no chamfers alike on {ring.teeth} teeth"
    elif others:
        yield f"{others} faces that are no planes, cylinders, cones or tori"
    turned = ring.sides is not None and np.isfinite(ring.sides.radius)
    tori = body.faces.get("tori", 0)
    if (tori >= 2 * ring.teeth) != turned or (tori and not turned):
        yield f"{tori} turned sides where {2 * ring.teeth if turned else 0} were meant"
    edges = design.spec.edges
    leaning = (design.spec.web.widest_bevel, edges.bore, edges.step, edges.teeth, edges.bolts)
    straight = ring.sides is not None and not turned
    sinks = any(one.countersink for one in ring.mount.bolt_holes)
    if not any(leaning) and not straight and not sinks and body.faces.get("cones"):
        yield f"{body.faces['cones']} cones where there is no bevel"


def _engraved(design: Design) -> int:
    """Return how many arcs the lines of the marks have, where they have a depth."""
    return sum(
        int(np.count_nonzero(one.bulges))
        for mark in design.engravings
        if mark.depth
        for outline, islands in mark.pockets
        for one in (outline, *islands)
    )


def _steps(ends: Sequence[tuple[float, float]]) -> int:
    """Return at how many circles a face steps, back and front counted apart."""
    return sum(
        abs(one[side] - other[side]) > SLACK for one, other in pairwise(ends) for side in (0, 1)
    )
