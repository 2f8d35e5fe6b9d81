"""The quadratic shape functions of six-node triangles; Zienkiewicz and Taylor, vol. 1."""

from __future__ import annotations

import numpy as np

from openwork.shape.contour import Floats


def shape_slopes(barycentric: Floats) -> Floats:
    """Return the slopes (g, 6, 2) of the quadratic shape functions along sides 0-1 and 0-2."""
    l0, l1, l2 = barycentric.T
    zero = np.zeros_like(l0)
    along = [1 - 4 * l0, 4 * l1 - 1, zero, 4 * (l0 - l1), 4 * l2, -4 * l2]
    up = [1 - 4 * l0, zero, 4 * l2 - 1, -4 * l1, 4 * l1, 4 * (l0 - l2)]
    return np.stack([np.stack(along, axis=-1), np.stack(up, axis=-1)], axis=-1)


def shapes(barycentric: Floats) -> Floats:
    """Return the quadratic shape functions (g, 6) at barycentric points (g, 3)."""
    l0, l1, l2 = barycentric.T
    corners = [l0 * (2 * l0 - 1), l1 * (2 * l1 - 1), l2 * (2 * l2 - 1)]
    return np.stack([*corners, 4 * l0 * l1, 4 * l1 * l2, 4 * l2 * l0], axis=-1)
