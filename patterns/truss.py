"""Ribs along the principal stresses of the solid ring, from the rim into the pads.

Such ribs carry nothing but push and pull (A. G. M. Michell, The limits of economy of material in
frame-structures, Phil. Mag. 1904; K.-M. M. Tam and C. T. Mueller, Stress line generation for
structurally performative architectural design, ACADIA 2015). The directions come from a small
finite-element model; two functions are fitted to them whose whole levels are the ribs, evenly
spaced, as surfaces are parametrised (F. Kaelberer, M. Nieser, K. Polthier, QuadCover, Computer
Graphics Forum 26, 2007).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Self

import numpy as np

from openwork.fill.biarc import Complex, biarcs, without_repeats
from openwork.fill.fillings import Cells
from openwork.fill.lattice import rim_side
from openwork.fill.parameters import param
from openwork.fill.polar import extent, unevenness
from openwork.fill.registry import pattern
from openwork.fill.site import Site
from openwork.patterns._kit.short_cells import Key, with_whole_edges
from openwork.patterns._kit.stress_lines import Levels
from openwork.shape.contour import Points, as_complex, as_points


def _columns(site: Site) -> int:
    """Return ribs so far apart that the half cells at the rim let the cutter in with ease."""
    least = (site.rib / 2 + 1.5 * site.corner) / 0.207
    size = max(least, 10.0 + 0.55 * (site.outer - site.inner))
    counts = [site.fold * k for k in range(1, 61) if 6 <= site.fold * k <= 40]
    return min(
        counts,
        key=lambda n: abs(np.log(2 * np.pi * site.outer / n / size)) + unevenness(site, n),
    )


@pattern
@dataclass(frozen=True, kw_only=True)
class Truss:
    """Ribs along the principal stresses between rim and pads."""

    columns: int = param(
        30, low=6, high=40, per_bolt=True, help="ribs each way that start at the rim", suited=True
    )  # fmt: skip
    phase: str = param("node", choices=("cell", "node"), help="what stands on the bolt's radius")

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return as many ribs as suit the web."""
        return cls(**{"columns": _columns(site), **given})

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        """Return the cells of one sector; those at the rim are cut in half by it."""
        del rng
        levels = Levels.of(site, self.columns)
        start = (self.phase == "cell") / 2
        number, depth = np.mgrid[0 : self.columns // site.fold + 1, 0 : levels.depth()]
        w = levels.crossings(number + start, number - depth + start)
        w.real[:, 0] = extent(site)[1]
        falling, rising = _sides(w, levels)
        cells: dict[Key, Points] = {}
        for j, q in np.ndindex(len(w) - 1, w.shape[1] - 1):
            back = (
                [rising[j, q - 1][::-1], falling[j, q - 1]] if q else [_rim(w[j + 1, 0], w[j, 0])]
            )
            path = np.concatenate([rising[j, q], falling[j + 1, q][::-1], *back])
            if np.isfinite(path).all():
                z = without_repeats(np.exp(path))
                cells[j, q] = as_points(z)
        return Cells(with_whole_edges(cells, site, self.columns // site.fold))


def _rim(start: complex, end: complex) -> Complex:
    """Return the way along the rim, past it."""
    first, last = np.array([[start.real, start.imag], [end.real, end.imag]])
    return as_complex(rim_side(first, last, 1.0, outer=True))


def _sides(w: Complex, levels: Levels) -> tuple[Complex, Complex]:
    """Return the sides from each crossing inwards: to [j, q + 1], and to [j + 1, q + 1]."""
    first, second = levels.directions(w)
    return (
        _curves(w[:, :-1], w[:, 1:], -first[:, :-1], -first[:, 1:]),
        _curves(w[:-1, :-1], w[1:, 1:], second[:-1, :-1], second[1:, 1:]),
    )


def _curves(starts: Complex, ends: Complex, leaving: Complex, arriving: Complex) -> Complex:
    """Return the points (j, q, k) of curves, NaN where an end is not known."""
    known = np.isfinite(starts) & np.isfinite(ends)
    drawn = biarcs(starts[known], ends[known], leaving[known], arriving[known])
    curves = np.full((*known.shape, drawn.shape[1]), np.nan + 0j)
    curves[known] = drawn
    return curves
