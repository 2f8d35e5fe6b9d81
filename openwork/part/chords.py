"""A bolt circle from the distances between its holes, as a caliper gives them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

READ = 0.1  # mm that a distance taken with a caliper is sure to; common practice, no source
SAME_CIRCLE = 0.5  # mm within which two bolt circles are one


@dataclass(frozen=True, slots=True)
class Common:
    """A bolt circle that is in common use: bolts, diameter, bolt hole, and least teeth."""

    bolts: int
    circle: float
    hole: float
    teeth: int | None
    uneven: bool = False


# Chords and smallest rings of public bolt-circle tables (common practice, no standard); holes of
# 10.1 for four and five bolts and 8.1 for three are usual, from memory. 4 x 110 is most often
# uneven. Least teeth are those with at least 7 mm from bolt to tooth roots where none was read.
COMMON = (
    *(Common(5, *row) for row in (
        (151.0, 10.1, 44), (144.0, 10.1, 41), (135.0, 10.1, 39), (130.0, 10.1, 38),
        (128.0, 10.1, 38), (122.0, 10.1, 38), (118.0, 10.1, 36), (110.0, 10.1, 33),
        (94.0, 10.1, 29), (92.0, 10.1, None), (86.0, 10.1, 28), (74.0, 10.1, 24),
        (58.0, 10.1, 20),
    )),
    *(Common(4, *row) for row in (
        (146.0, 10.1, None), (120.0, 10.1, 38), (112.0, 10.1, None), (104.0, 10.1, 32),
        (102.0, 10.1, 32), (96.0, 10.1, 32), (88.0, 10.1, 28), (80.0, 10.1, 26),
        (76.0, 10.1, 28), (68.0, 10.1, 24), (64.0, 10.1, 22),
    )),
    Common(4, 110.0, 10.1, 34, uneven=True),
    Common(3, 86.0, 8.1, None),
)  # fmt: skip


def circle_of(chords: Sequence[float]) -> float:
    """Return the diameter, mm, of the circle on which *chords* (mm) follow each other once round.

    Raises ValueError where they close on no circle about the axis.

    >>> round(circle_of([73.54] * 4), 2)
    104.0
    """
    longest, least = max(chords), min(chords)
    if longest >= sum(chords) - longest or _turned(chords, longest) < math.pi:
        raise ValueError(
            f"{_listed(chords)} mm close on no circle round the axis: the longest, {longest:g}, "
            f"is more than its diameter would be; measure {least:g} to {longest:g} again"
        )
    low, high = longest, sum(chords)
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if _turned(chords, middle) > math.pi else (low, middle)
    return (low + high) / 2


def angles_of(chords: Sequence[float], circle: float) -> tuple[float, ...]:
    """Return the angles, degrees, of the holes that *chords* part, the first at 0."""
    found, angle = [0.0], 0.0
    for chord in chords[:-1]:
        angle += 2 * math.degrees(math.asin(chord / circle))
        found.append(round(angle, 6))
    return tuple(found)


def tolerance(chords: Sequence[float]) -> float:
    """Return how far, mm, the circle may be off when each chord is off by what a caliper reads."""
    wider = circle_of([chord + READ for chord in chords])
    return wider - circle_of(chords)


def common_of(bolts: int, circle: float, *, even: bool) -> Common | None:
    """Return the common circle of as many bolts, even or not, that comes nearest, if there is one.

    >>> common_of(4, 103.9, even=True).circle, common_of(7, 103.9, even=True)
    (104.0, None)
    """
    rows = [one for one in COMMON if one.bolts == bolts and one.uneven != even]
    return min(rows, key=lambda one: abs(one.circle - circle), default=None)


def repeated_chords(chords: Sequence[float], bolts: int) -> tuple[float, ...]:
    """Return *chords* as often as *bolts* ask; raises ValueError where that does not go up."""
    if bolts % len(chords):
        raise ValueError(
            f"{len(chords)} distances do not go round {bolts} bolts in whole turns; "
            f"bolts = {len(chords) * max(1, round(bolts / len(chords)))} works"
        )
    return tuple(chords) * (bolts // len(chords))


def _turned(chords: Sequence[float], circle: float) -> float:
    """Return half the angle, radians, that *chords* span on a circle."""
    return sum(math.asin(min(chord / circle, 1.0)) for chord in chords)


def _listed(chords: Sequence[float]) -> str:
    return ", ".join(f"{chord:g}" for chord in chords)
