"""Curves of an SVG as chords."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

import numpy as np

from openwork.shape.contour import Complex

MOST = 720  # chords of one curve


def polylines(path: Any, tolerance: float) -> Iterator[tuple[Complex, bool]]:
    """Yield each subpath of a svgelements *path* as points, and whether it is closed.

    Chords are within *tolerance* of Bezier curves (Wang's bound; G. Wang, The subdivision method
    for finding the intersection between two Bezier curves or surfaces, 1984, from memory), and of
    arcs (their sagitta).
    """
    points: list[Complex] = []
    for one in path:
        kind = type(one).__name__
        if kind == "Move":
            if points:
                yield _joined(points), False
            points = [np.array([complex(one.end.x, one.end.y)])]
        elif kind == "Close":
            if points:
                yield _joined(points), True
                points = [points[0]]
        elif not points:
            raise ValueError("an outline without a start")
        else:
            points.append(_chords(one, kind, tolerance))
    if points and len(_joined(points)) > 1:
        yield _joined(points), False


def _joined(points: list[Complex]) -> Complex:
    return np.concatenate(points)


def _chords(one: Any, kind: str, tolerance: float) -> Complex:
    """Return the points of a segment but the first."""
    if kind == "Line":
        return np.array([complex(one.end.x, one.end.y)])
    share = np.linspace(0, 1, _count(one, kind, tolerance) + 1)[1:]
    found = np.asarray(one.npoint(share), dtype=float)
    return np.asarray(found[:, 0] + 1j * found[:, 1])


def _count(one: Any, kind: str, tolerance: float) -> int:
    if kind == "Arc":
        radius = max(one.rx, one.ry)
        bow = min(tolerance / radius, 0.5) if radius else 0.5
        return _bounded(abs(one.sweep) / (2 * math.acos(1 - bow)))
    names = ("start", "control", "end")
    if kind == "CubicBezier":
        names = ("start", "control1", "control2", "end")
    z = np.array([complex(getattr(one, name).x, getattr(one, name).y) for name in names])
    degree = len(z) - 1
    bend = np.abs(z[2:] - 2 * z[1:-1] + z[:-2]).max()
    return _bounded(math.sqrt(degree * (degree - 1) * bend / (8 * tolerance)))


def _bounded(count: float) -> int:
    if not math.isfinite(count):
        raise ValueError("a curve without an end")
    return int(min(max(math.ceil(count), 1), MOST))
