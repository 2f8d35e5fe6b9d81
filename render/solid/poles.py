"""Curves of the CAD kernel from points on them."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from openwork.shape.contour import Points


@lru_cache(maxsize=4)
def to_poles(count: int) -> Points:
    """Return what makes poles of a curve's points, so many of them, evenly between its ends."""
    parts, degree = np.linspace(0, 1, count)[:, None], count - 1
    powers = np.arange(count)
    weights = np.array([math.comb(degree, k) for k in range(count)])
    basis = weights * parts**powers * (1 - parts) ** (degree - powers)
    return np.asarray(np.linalg.inv(basis), dtype=float)
