"""The outlines of the openings that a layout of densities leaves, as large as a share asks for."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.polygon import orient

from openwork.fill.nearness import crowded
from openwork.fill.site import Site
from openwork.patterns._kit.web_grid import WebGrid
from openwork.shape.contour import Complex, Floats, as_points

PAD = 4  # rows and columns by which the densities are continued
FINE = 8  # samples of the outline in a rib
CRUMB = 0.45  # of the usual opening at its radius: a smaller one looks like a drilled hole
BESIDE = 0.06  # of the radius: openings so near in it are seen side by side
EASY = 1.3  # cutters across the widest place of an opening: what is narrower looks like a slip
BEYOND = 0.75  # ribs by which an opening goes past the walls, there to be cut on their circles
CALM = 1.0  # ribs along an outline over which it is smoothed: elements leave steps
YIELDS = 6  # times that an opening too near another shrinks by a tenth of a rib
LEVELS = (0.1, 0.9)  # of the densities, between which outlines run
STEPS = 14  # halvings of the levels: the share is met to a few ten thousandths


@dataclass(frozen=True)
class Voids:
    """The openings between ``densities`` (rows, columns) on ``grid``."""

    grid: WebGrid
    densities: Floats

    def outlines(self, share: float) -> list[shapely.Polygon]:
        """Return one polygon per opening of a sector that leave *share* of the web solid.

        They go a little past the walls of the region. The level is found by halving.
        """
        low, high = LEVELS
        for _ in range(STEPS):
            level = (low + high) / 2
            if self._solid(self._cores(level)) < share:
                high = level
            else:
                low = level
        return self._grown(self._cores((low + high) / 2), (low + high) / 2)

    def _solid(self, cores: NDArray[np.object_]) -> float:
        """Return the share of the web that stays where a cutter goes all over *cores*."""
        site = self.grid.site
        opened = shapely.area(shapely.buffer(cores, site.corner, quad_segs=16)).sum() * site.fold
        return float(1 - opened / site.room().area)

    def _cores(self, level: float) -> NDArray[np.object_]:
        """Return where the cutter's centre may go, piece by piece, those of one sector."""
        site = self.grid.site
        whole = shapely.buffer(self._polygons(level), -site.corner, quad_segs=16)
        pieces = shapely.get_parts(shapely.intersection(whole, site.room(site.corner)))
        wide = ~shapely.is_empty(shapely.buffer(pieces, -(EASY - 1) * site.corner))
        pieces = pieces[wide]
        return _worthy(np.asarray(pieces[_mine(pieces, self.grid)], dtype=object), site.corner)

    def _polygons(self, level: float) -> NDArray[np.object_]:
        """Return the regions below *level* that are whole in the window, islands filled."""
        import contourpy  # noqa: PLC0415 (only outlines need it)

        angles, levels, heights = self._sampled
        lines: list[Any] = contourpy.contour_generator(
            angles, levels, heights, fill_type=contourpy.FillType.OuterCode
        ).filled(-math.inf, level)[0]
        rings = [
            _calmed(np.exp(line[:, 1] + 1j * line[:, 0]), self.grid.site.rib)
            for line in lines
            if _whole(line, angles)
        ]
        shapes = np.array([shapely.Polygon(as_points(ring)) for ring in rings], dtype=object)
        return np.asarray(shapely.make_valid(shapes), dtype=object)  # a line may touch itself

    @cached_property
    def _sampled(self) -> tuple[Floats, Floats, Floats]:
        """Angles, u, and the densities there, in three sectors; solid at the ends of u."""
        from scipy.interpolate import RectBivariateSpline  # noqa: PLC0415 (slow to import)

        grid, site = self.grid, self.grid.site
        whole = self._whole_sector()
        columns = whole.shape[1]
        padded = np.pad(np.pad(whole, ((0, 0), (PAD, PAD)), "wrap"), ((PAD, PAD), (0, 0)), "edge")
        u = grid.low + grid.height * (np.arange(-PAD, grid.rows + PAD) + 0.5)
        v = grid.start + grid.width * (np.arange(-PAD, columns + PAD) + 0.5)
        spline = RectBivariateSpline(u, v, padded)
        count = 2 * math.ceil(site.sector * site.middle / site.rib * FINE / 2)
        steps = np.arange(-count // 2 * min(2, site.fold), count + count // 2 * min(2, site.fold))
        own = grid.start + site.sector / count * (np.arange(count) + 0.5)
        low, high = math.log(site.inner - site.rib), math.log(site.outer + site.rib)
        levels = np.linspace(low, high, math.ceil((high - low) / (site.sector / count)))
        heights = spline(levels, own)[:, steps % count]
        heights[[0, -1], :] = 1.0
        return own[0] + site.sector / count * steps, levels, np.round(heights, 9)

    def _whole_sector(self) -> Floats:
        """Return the densities of a whole sector, beside the web those of its nearest element."""
        from scipy.spatial import cKDTree  # noqa: PLC0415 (slow to import)

        grid, known = self.grid, self.grid.open > 0.5
        tree = cKDTree(as_points(grid.centres[known]))
        nearest = tree.query(as_points(grid.centres[~known]))[1]
        filled = self.densities.copy()
        filled[~known] = filled[known][nearest]
        return np.hstack([filled, filled[:, ::-1]]) if grid.mirrored else filled

    def _grown(self, cores: NDArray[np.object_], level: float) -> list[shapely.Polygon]:
        """Return what is opened round each of the *cores*, past the walls where it meets them."""
        site = self.grid.site
        reach = shapely.buffer(cores, site.corner + BEYOND * site.rib)
        within = shapely.intersection(reach, shapely.union_all(self._polygons(level)))
        by = site.corner / 2
        for turn in (by, -by, -by, by):  # no point of metal and no nook sharper than that
            within = shapely.buffer(within, turn, quad_segs=32)
        return list(_apart(np.array([_largest(one) for one in within], dtype=object), site))


def _calmed(ring: Complex, rib: float) -> Complex:
    """Return the closed *ring* sampled evenly and smoothed along itself by a bell curve."""
    along = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(ring)))])
    count = max(16, math.ceil(along[-1] / rib * FINE))
    even = np.interp(np.arange(count) * (along[-1] / count), along, ring)
    waves = np.fft.fftfreq(count, along[-1] / count) * CALM * rib
    return np.asarray(np.fft.ifft(np.fft.fft(even) * np.exp(-2 * (np.pi * waves) ** 2)))


def _whole(line: Floats, angles: Floats) -> bool:
    return bool(line[:, 0].min() > angles[0] and line[:, 0].max() < angles[-1])


def _mine(pieces: NDArray[np.object_], grid: WebGrid) -> NDArray[np.bool_]:
    """Tell which *pieces* have their middle in the sector that begins at the grid's start."""
    bounds = shapely.centroid(pieces)
    angle = np.arctan2(shapely.get_y(bounds), shapely.get_x(bounds)) - grid.start
    return np.asarray((angle + 1e-7) % (2 * np.pi) < grid.site.sector)


def _worthy(cores: NDArray[np.object_], corner: float) -> NDArray[np.object_]:
    """Return the *cores* whose openings are not much smaller than others at their radius."""
    areas = shapely.area(shapely.buffer(cores, corner, quad_segs=4))
    middle = shapely.centroid(cores)
    radius = np.hypot(shapely.get_x(middle), shapely.get_y(middle))
    beside = np.abs(radius[:, None] / np.maximum(radius, 1e-9) - 1) < BESIDE
    usual = [np.median(areas[row]) for row in beside]
    return np.asarray(cores[areas > CRUMB * np.array(usual)], dtype=object)


def _apart(shapes: NDArray[np.object_], site: Site) -> NDArray[np.object_]:
    """Return *shapes*, those less than a rib from another shrunk until the rib is kept."""
    for _ in range(YIELDS):
        near = crowded(shapes, site, site.rib)
        if not near.any():
            break
        shapes[near] = shapely.buffer(shapes[near], -site.rib / 10)
        shapes = np.array([_largest(one) for one in shapes if not one.is_empty], dtype=object)
    return shapes


def _largest(shape: shapely.Geometry) -> shapely.Polygon:
    return orient(max(shapely.get_parts(shape), key=shapely.area))
