"""Whether a file is one that a shop takes without a call: eleven checks on what was read back.

They judge every format alike, by what a reader that shares nothing with the writer found in the
file, against the design. They look for the faults that shops send files back for: wrong units,
open or doubled paths, missing layers, text and blocks, arcs in splinters, a kerf put in twice
(common practice; no standard lists them).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from openwork.part.marks import band_circles, recesses
from openwork.render.accept.apart import check_apart
from openwork.render.accept.engraved import check_engraved
from openwork.render.accept.pieces import check_pieces
from openwork.render.accept.probes import probes
from openwork.render.accept.reading import Reading
from openwork.render.accept.shape import check_nominal, check_shape
from openwork.shape.contour import Contour, area, centroid, is_circle, sampled

if TYPE_CHECKING:
    from openwork.ring import Design

Check: TypeAlias = Callable[[Reading, "Design"], Iterator[str]]

SIZE = 0.02  # mm of the overall size
MARK = 1e-3  # mm of a centre, and share of an area
HEIGHT = 2e-3  # mm
SHOWN = 3  # faults of a check that a message tells


def check_units(reading: Reading, design: Design) -> Iterator[str]:
    """Yield whether the file says mm, and is as large as the ring."""
    if reading.unit not in {"mm", ""}:
        yield f"the file is in {reading.unit}, not in mm"
    if not reading.outline:
        yield "no outline to measure"
        return
    found, wanted = (
        np.ptp(sampled(one), axis=0) for one in (reading.outline[0], design.blank.outline)
    )
    if np.abs(found - wanted).max() > SIZE + 2 * reading.chord:
        sizes = "{:.2f} x {:.2f} mm where {:.2f} x {:.2f}".format(*found, *wanted)
        yield f"the ring measures {sizes} were meant"


def check_closed(reading: Reading, design: Design) -> Iterator[str]:
    """Yield what is no closed contour, and round ones that are no circles; solids are closed."""
    yield from reading.loose
    if reading.body is not None:
        yield from reading.body.loose
        return
    marked = sum(map(len, marks(design).values()))
    wanted = sum(map(is_circle, (*design.contours, *design.pockets))) + marked
    if reading.round != wanted:
        yield f"{reading.round} circles where {wanted} contours are round"


def check_roles(reading: Reading, design: Design) -> Iterator[str]:
    """Yield where contours are missing, too many, or run clockwise."""
    for name, found, wanted in (
        ("outlines", reading.outline, 2),
        ("bolt holes", reading.bolts, len(design.blank.bolts)),
        ("openings", reading.openings, len(design.through)),
        ("pockets", reading.pockets, len(design.pockets)),
    ):
        if len(found) != wanted:
            yield f"{len(found)} {name} where {wanted} were meant"
        if clockwise := sum(area(one) <= 0 for one in found):
            yield f"{clockwise} of the {name} run clockwise"
    through = 1 + len(design.blank.bolts) + len(design.through)
    if reading.body is not None and reading.body.through != through:
        yield f"{reading.body.through} holes go through the solid where {through} were meant"


def check_plain(reading: Reading, design: Design) -> Iterator[str]:
    """Yield what else is in the file, and whatever stands between its numbers and the part."""
    del design
    yield from reading.foreign


def check_marks(reading: Reading, design: Design) -> Iterator[str]:
    """Yield where the circles of the tooth band and of recesses are not as meant, in flat files."""
    if reading.body is not None:
        return
    wanted = marks(design)
    for name in sorted(wanted.keys() | reading.marks.keys()):
        found, meant = reading.marks.get(name, ()), wanted.get(name, ())
        if len(found) != len(meant):
            yield f"{len(found)} circles {name} where {len(meant)} were meant"
            continue
        for one in meant:
            away = [np.abs([*(centroid(other) - centroid(one)), area(other) / area(one) - 1]).max()
                    for other in found]  # fmt: skip
            if min(away) > MARK:
                yield f"a circle {name} of {2 * one.radii[0]:.2f} mm is not where it was meant"


def check_heights(reading: Reading, design: Design) -> Iterator[str]:
    """Yield where sides, steps, recesses and chamfers of a solid are not as high as meant."""
    if reading.body is None:
        return
    slack = HEIGHT + 2 * reading.chord
    for probe, (low, high) in zip(probes(design), reading.body.heights, strict=True):
        if not max(abs(low - probe.low), abs(high - probe.high)) <= slack:
            yield (
                f"{probe.name}: metal from {low:.3f} to {high:.3f} mm where {probe.low:.3f} to "
                f"{probe.high:.3f} were meant"
            )


def marks(design: Design) -> Mapping[str, tuple[Contour, ...]]:
    """Return the circles of steps and recesses that *design* asks for, by name."""
    band = band_circles(design.blank)
    return {**({"band": band} if band else {}), **recesses(design.blank)}


CHECKS: Mapping[str, Check] = {
    "units": check_units,
    "closed": check_closed,
    "roles": check_roles,
    "pieces": check_pieces,
    "apart": check_apart,
    "shape": check_shape,
    "plain": check_plain,
    "nominal": check_nominal,
    "marks": check_marks,
    "heights": check_heights,
    "engraved": check_engraved,
}


@dataclass(frozen=True, slots=True)
class Result:
    """How a file was judged: by what reader, by which checks, and what they refused."""

    reader: str
    checks: tuple[str, ...]
    refused: Mapping[str, tuple[str, ...]]


def judged(reading: Reading, design: Design) -> Result:
    """Return how *reading* was judged by the eleven checks."""
    return Result(reading.reader, tuple(CHECKS), refused(reading, design))


def refused(reading: Reading, design: Design) -> dict[str, tuple[str, ...]]:
    """Return the checks that *reading* does not pass, by name, with what they found."""
    found = {name: tuple(check(reading, design)) for name, check in CHECKS.items()}
    return {name: faults for name, faults in found.items() if faults}
