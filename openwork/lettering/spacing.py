"""How far signs stand apart: evenly to the eye, not by their boxes, so that AV and LT close up."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from openwork.lettering.alphabet import SPACE
from openwork.lettering.signs import LEVELS, sign
from openwork.shape.contour import Floats

EVEN = 2.8  # mean distance of two signs over the height of a capital, deep bays cut short
DEEPEST = 4.8  # what of a bay counts
LEAST = 2.0  # between the nearest points: nearly a line's width of metal stays
REACH = 3  # levels: a line's width and a half
BODY = (LEVELS >= 0) & (LEVELS <= 10)


def places(text: Sequence[str], apart: float = LEAST) -> list[float]:
    """Return where each sign of *text* begins, on the grid; the last entry is where it ends.

    The nearest points of two signs are at least *apart*.

    >>> places("II")
    [0.0, 2.8, 2.8]
    """
    at, found, last = 0.0, [], ""
    for one in text:
        if one == " ":
            at += SPACE if last else 0.0
        elif last:
            at += _step(last, one) + max(apart - LEAST, 0.0)
        found.append(at)
        last = one if one != " " else last
    return [*found, at + _width(last)]


@lru_cache(maxsize=4096)
def _step(one: str, other: str) -> float:
    """Return the distance from the start of a sign to the start of the next."""
    before, after = sign(one), sign(other)
    assert before is not None
    assert after is not None
    bays = after.left - before.right
    bays = np.where(np.isfinite(bays), bays, np.inf)
    low, high = -10.0, 30.0
    for _ in range(40):
        middle = (low + high) / 2
        mean = np.minimum(bays[BODY] + middle, DEEPEST).mean()
        low, high = (middle, high) if mean < EVEN else (low, middle)
    nearest = _nearest(before.right, after.left)
    return round(max(high, LEAST - nearest), 3)


def _nearest(right: Floats, left: Floats) -> float:
    """Return the least distance of two sides, levels a line's width apart counted as beside."""
    wide = [np.roll(left, k) for k in range(-REACH, REACH + 1)]
    gaps = np.min(wide, axis=0) - right
    return float(gaps[np.isfinite(gaps)].min(initial=0.0))


def _width(one: str) -> float:
    found = sign(one) if one else None
    return found.width if found else 0.0
