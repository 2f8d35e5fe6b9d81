"""Checks 6 and 8: every contour is where and what it should be, and nominal."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

import numpy as np
import shapely

from openwork.measure.figures import mass
from openwork.render.accept.reading import Body, Reading
from openwork.shape.contour import Contour, Points, area, centroid, length, moment, polygon

if TYPE_CHECKING:
    from openwork.ring import Design

AREA = 1e-4  # share of the area, and of the volume of what is exact
VOLUME = 1e-3  # share of the volume
PLACE = 0.01  # mm between outlines, and between centres
NOMINAL = 0.002  # mm, mean distance of an outline from the nominal one
LEVEL = 1e-3  # mm of the heights of a solid
FINE = 1e-3  # mm between arcs and the chords that are compared
SEGMENT = 2 / 3  # of chord and sagitta: what a segment of an arc holds


def check_shape(reading: Reading, design: Design) -> Iterator[str]:
    """Yield where areas, centres, outlines or the volume are not those of the design."""
    for name, found, wanted in pairs(reading, design):
        lost = SEGMENT * reading.chord * length(wanted)
        if abs(area(found) - area(wanted)) > AREA * area(wanted) + lost:
            yield f"{name}: {area(found):.4f} mm2 where {area(wanted):.4f} were meant"
        limit = PLACE + reading.chord
        off = math.dist(centroid(found), centroid(wanted))
        apart = _apart(found, wanted, limit)
        if max(off, apart) > limit:
            yield f"{name}: {max(off, apart):.4f} mm out of place"
    yield from _metal(reading, design)
    if reading.body is not None:
        yield from _volume(reading.body, design, reading.chord)


def check_nominal(reading: Reading, design: Design) -> Iterator[str]:
    """Yield where outlines lie aside of the nominal ones, as for a kerf, or heights differ."""
    limit = NOMINAL + reading.chord
    for name, found, wanted in pairs(reading, design):
        aside = (area(found) - area(wanted)) / length(wanted)
        if abs(aside) > limit:
            yield f"{name}: lies {aside:+.4f} mm aside of the nominal, most {limit:g}"
    if reading.body is not None:
        low, high = design.blank.heights
        if max(abs(reading.body.low - low), abs(reading.body.high - high)) > LEVEL:
            reach = f"{reading.body.low:.3f} to {reading.body.high:.3f}"
            yield f"the solid reaches from {reach} mm, not from {low:.3f} to {high:.3f}"


def pairs(reading: Reading, design: Design) -> Iterator[tuple[str, Contour, Contour]]:
    """Yield the contours as read beside those meant, nearest beside nearest, with a name."""
    ring = design.blank
    for name, found, wanted in (
        ("outline", reading.outline[:1], (ring.outline,)),
        ("edge", reading.outline[1:], (ring.edge,)),
        ("bolt", reading.bolts, ring.bolts),
        ("opening", reading.openings, design.through),
        ("pocket", reading.pockets, design.pockets),
    ):
        if len(found) != len(wanted) or not found:
            continue
        centres = _centres(found)
        for k, one in enumerate(wanted):
            nearest = int(np.hypot(*(centres - centroid(one)).T).argmin())
            yield f"{name} {k + 1}", found[nearest], one


def _centres(contours: Sequence[Contour]) -> Points:
    return np.array([centroid(one) for one in contours])


def _apart(one: Contour, other: Contour, limit: float) -> float:
    """Return the Hausdorff distance, mm, exact only where it is more than *limit*."""
    rings = [polygon(contour, (), FINE).exterior for contour in (one, other)]
    shapely.prepare(rings)
    near = [
        shapely.dwithin(ring, shapely.points(beside.coords), limit).all()
        for ring, beside in (rings, rings[::-1])
    ]
    return 0.0 if all(near) else float(shapely.hausdorff_distance(*rings))


def _metal(reading: Reading, design: Design) -> Iterator[str]:
    """Yield where area or centre of the whole face differ: a contour doubled, or none there."""
    found = _face(reading.contours) if reading.outline else np.zeros(3)
    wanted = _face(design.contours)
    lost = SEGMENT * reading.chord * sum(map(length, design.contours))
    if abs(found[0] - wanted[0]) > AREA * wanted[0] + lost:
        yield f"the face has {found[0]:.2f} mm2 where {wanted[0]:.2f} were meant"
    elif math.dist(found[1:] / found[0], wanted[1:] / wanted[0]) > PLACE:
        yield "the centre of the face is out of place"


def _face(contours: Sequence[Contour]) -> Points:
    """Return area and first moments (3,) of a face, the first of *contours* its outline."""
    parts = np.array([[area(one), *moment(one)] for one in contours])
    face: Points = parts[0] - parts[1:].sum(axis=0)
    return face


def _volume(body: Body, design: Design, chord: float) -> Iterator[str]:
    ring = design.blank
    wanted = mass(design) / ring.material.density
    low, high = ring.heights
    walls = (*design.contours, *design.pockets)
    lost = SEGMENT * chord * sum(map(length, walls)) * (high - low)
    if abs(body.volume - wanted) > VOLUME * wanted + lost:
        yield f"{body.volume:.2f} mm3 where the mass asks for {wanted:.2f}"
    if (off := math.hypot(*(body.centre[:2] - _centre(design)))) > PLACE + chord:
        yield f"the centre of mass is {off:.4f} mm out of place"


def _centre(design: Design) -> Points:
    """Return where the centre of mass (2,) lies, chamfers round the axis left out.

    A bevel is taken to have its opening's centre.
    """
    ring = design.blank
    holes = design.contours[1:]
    first = moment(ring.outline) * ring.tooth_width
    first = first - sum((moment(one) for one in holes), np.zeros(2)) * ring.plate
    pocket = design.spec.pocket
    deep = len(pocket.faces) * pocket.depth(ring.plate)
    first = first - sum((moment(one) for one in design.pockets), np.zeros(2)) * deep
    points = zip(ring.mount.bolt_holes, ring.mount.bolt_points, strict=True)
    first = first - sum((hole.sunk * point for hole, point in points), np.zeros(2))
    lost = [*_bevels(design), *((one.volume, _middle(one.region)) for one in design.engravings)]
    first = first - sum((volume * point for volume, point in lost), np.zeros(2))
    centre: Points = first * ring.material.density / mass(design)
    return centre


def _bevels(design: Design) -> Iterator[tuple[float, Points]]:
    """Yield what the bevels of each opening take, mm3 (Steiner's formula), and its centre."""
    faces = len(design.spec.pocket.faces)
    for count, some in ((2, design.through), (faces, design.pockets)):
        for one, bevel in zip(some, design.bevels(some), strict=True):
            taken = length(one) * bevel**2 / 2 + np.pi * bevel**3 / 3
            yield count * taken, centroid(one)


def _middle(region: shapely.Geometry) -> Points:
    return np.array([region.centroid.x, region.centroid.y])
