"""Open lines of straight pieces and arcs: what the middle of an engraving tool follows."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from openwork.shape.bulge import centre_of, radius_of, sweep_of
from openwork.shape.contour import SAGITTA, Complex, Floats, Path, Points, as_complex, as_points


@dataclass(frozen=True, slots=True, eq=False)
class Stroke(Path):
    """An open line: ``points`` (n, 2), and ``bulges`` (n - 1,) of the pieces that join them."""

    points: Points
    bulges: Floats

    def __post_init__(self) -> None:
        self._keep(1, "stroke")

    def __len__(self) -> int:
        return len(self.bulges)


def stroke_length(stroke: Stroke) -> float:
    """Return the length of *stroke*.

    >>> round(stroke_length(Stroke([[1, 0], [-1, 0], [-1, -2]], [1, 0])), 6)
    5.141593
    """
    chords = np.abs(np.diff(as_complex(stroke.points)))
    half = sweep_of(np.abs(stroke.bulges)) / 2
    return float((chords * np.where(half > 0, half / np.sin(np.maximum(half, 1e-300)), 1.0)).sum())


def stroke_points(stroke: Stroke, sagitta: float = SAGITTA) -> Points:
    """Return points (k, 2) on *stroke*, chords at most *sagitta* from their arcs, both ends in."""
    z, found = as_complex(stroke.points), []
    for start, end, bulge in zip(z[:-1], z[1:], stroke.bulges.tolist(), strict=True):
        found.append(_piece(complex(start), complex(end), bulge, sagitta))
    return as_points(np.concatenate([*found, z[-1:]]))


def _piece(start: complex, end: complex, bulge: float, sagitta: float) -> Complex:
    """Return points along one piece, its end left out."""
    if bulge == 0:
        return np.array([start])
    centre, sweep = centre_of(start, end, bulge), sweep_of(bulge)
    step = 2 * math.acos(max(1 - sagitta / radius_of(abs(end - start), bulge), 0.5))
    count = max(math.ceil(abs(sweep) / step), 2)
    return np.asarray(centre + (start - centre) * np.exp(1j * sweep * np.arange(count) / count))


def placed(stroke: Stroke, by: complex, to: complex, *, mirror: bool = False) -> Stroke:
    """Return *stroke*, mirrored left to right if asked, then turned and scaled *by*, moved *to*."""
    z = as_complex(stroke.points)
    z = -z.conjugate() if mirror else z
    return Stroke(as_points(z * by + to), -stroke.bulges if mirror else stroke.bulges)
