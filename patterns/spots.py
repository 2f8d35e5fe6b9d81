"""Round cells where a reaction of two substances that spread unevenly makes spots.

Schnakenberg's model of A. M. Turing's mechanism (The chemical basis of morphogenesis, Phil. Trans.
B 237, 1952; J. Schnakenberg, Simple chemical reaction systems with limit cycle behaviour, J. Theor.
Biol. 81, 1979; J. D. Murray, Mathematical Biology II, 3rd ed. 2003) is run from noise in the
log-polar frame, where spots grow with the radius, on one half of a symmetry sector, and mirrored.
The cells are the Voronoi cells of the spots, with round corners.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Self

import numpy as np
from scipy.fft import dct, dst, idct, idst
from scipy.ndimage import maximum_filter

from openwork.fill.fillings import Cells
from openwork.fill.lattice import comfortable
from openwork.fill.parameters import param
from openwork.fill.polar import extent, mapped
from openwork.fill.registry import pattern
from openwork.fill.site import Site
from openwork.patterns._kit.hole_gaps import Mirrors
from openwork.patterns._kit.voronoi import relaxed, rounded, voronoi_cells
from openwork.shape.contour import Floats, Points

FEED, MAKE, SPREAD = 0.1, 0.9, 13.0  # of the model; spots from a SPREAD of 9 to 20
CROWD = 1.16  # how much nearer grown spots stand than the waves that grow fastest; measured
GRID = 7  # points from spot to spot
TIME, STEPS = 0.25, 300  # of one step, in units of the reaction's time, and how many
LLOYD = 10  # steps that even the cells at the rims and where spots lay on pads


def _rows(site: Site) -> int:
    width = site.outer - site.inner
    return min(5, max(1, round(width / max(6.5 + 0.1 * width, comfortable(site)))))


@pattern
@dataclass(frozen=True, kw_only=True)
class Spots:
    """Round cells, spread like the spots of a coat, mirrored at the bolts."""

    rows: int = param(2, low=1, high=5, help="spots across the web", suited=True)
    roundness: float = param(
        0.9, low=0, high=0.95, help="corner radius, of the radius of a cell's inscribed circle"
    )

    @classmethod
    def suited(cls, site: Site, given: Mapping[str, Any]) -> Self:
        """Return as many rows as suit the web."""
        return cls(**{"rows": _rows(site), **given})

    def __call__(self, site: Site, rng: np.random.Generator) -> Cells:
        """Return the cells of the spots of one sector."""
        mirrors = Mirrors.of(site)
        start, stop = mirrors.angles or (0.0, site.sector)
        low, high = extent(site)
        apart = 2 / np.sqrt(3) * (high - low) / self.rows
        sides = np.array([high - low, stop - start])
        u, v = (_peaks(_grown(high - low, stop - start, apart, rng)) * sides).T
        near = apart / 4
        v = np.where(v < near, 0, np.where(v > stop - start - near, stop - start, v))
        seeds = mapped(low + u, start + v)
        pads = np.hypot(*(seeds[:, None] - site.bolt_points).transpose(2, 0, 1)).min(axis=1)
        seeds = seeds[pads > site.pad]
        half = len(seeds)
        even = relaxed(mirrors.both(seeds), site, LLOYD, growth=1.0)[:half]
        return rounded(voronoi_cells(mirrors.both(even), site), self.roundness, site)


def _grown(height: float, width: float, apart: float, rng: np.random.Generator) -> Floats:
    """Return how far the first substance is from rest on a grid of *height* by *width*.

    It stays at rest along the rims and is mirrored at the sides. The space is scaled so that
    waves as long as rows of spots *apart* from each other grow fastest. Each step is explicit in
    the reaction and implicit in the spreading, where sine and cosine waves are independent.
    """
    rows, columns = (max(6, round(GRID * side / apart)) for side in (height, width))
    noise = rng.standard_normal((rows, columns))
    return _settled(height, width, apart, SPREAD, noise.tobytes(), rows)


@lru_cache(maxsize=16)
def _settled(
    height: float, width: float, apart: float, spread: float, noise: bytes, rows: int
) -> Floats:
    """Return what grows of *noise* in so many *rows*; kept, as ribs do not change it."""
    rest, other = FEED + MAKE, MAKE / (FEED + MAKE) ** 2
    start = np.frombuffer(noise).reshape(rows, -1)
    columns = start.shape[1]
    waves = np.add.outer(
        (np.pi * np.arange(1, rows + 1) / height) ** 2, (np.pi * np.arange(columns) / width) ** 2
    )
    waves *= fastest() / (4 * np.pi / np.sqrt(3) / apart / CROWD) ** 2
    slow, fast = 1 / (1 + TIME * waves), 1 / (1 + TIME * spread * waves)
    first, second = 0.01 * start, np.zeros((rows, columns))
    for _ in range(STEPS):
        turned = (rest + first) ** 2 * (other + second)
        first = _spread(first + TIME * (FEED - rest - first + turned), slow)
        second = _spread(second + TIME * (MAKE - turned), fast)
    first.setflags(write=False)
    return first


def _spread(field: Floats, damping: Floats) -> Floats:
    waves = damping * dct(dst(field, axis=0, norm="ortho"), axis=1, norm="ortho")
    return np.asarray(idst(idct(waves, axis=1, norm="ortho"), axis=0, norm="ortho"))


def fastest() -> float:
    """Return the square of the wave number that grows fastest, reaction and slow spreading 1.

    The larger root of the growth rate s of small waves: s^2 - trace(k^2) s + det(k^2) = 0.
    """
    total, square = FEED + MAKE, np.linspace(0.01, 1, 991)
    own, other = (MAKE - FEED) / total - square, -(total**2) - SPREAD * square
    trace, det = own + other, own * other + 2 * MAKE * total
    return float(square[np.argmax(trace + np.sqrt(np.maximum(trace**2 - 4 * det, 0)))])


def _peaks(field: Floats) -> Points:
    """Return where the *field* peaks (k, 2), as shares of its sides: the tops of parabolas."""
    around = np.pad(field, 1, mode="symmetric")
    tops = (maximum_filter(field, 3) == field) & (field > field.max() / 4)
    places = []
    for axis, index in enumerate(np.nonzero(tops)):
        before, after = (np.roll(around, turn, axis)[1:-1, 1:-1][tops] for turn in (1, -1))
        bend = np.minimum(before + after - 2 * field[tops], -1e-12)
        shift = np.clip((before - after) / bend / 2, -0.5, 0.5)
        places.append((index + 0.5 + shift) / field.shape[axis])
    return np.column_stack(places)
