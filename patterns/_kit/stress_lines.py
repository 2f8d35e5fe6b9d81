"""Two functions on the ring whose level lines follow the principal stresses, evenly spaced."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import RectBivariateSpline
from scipy.spatial import cKDTree

from openwork.fill.biarc import Complex
from openwork.fill.polar import column_angle
from openwork.fill.site import Site
from openwork.patterns._kit.stress_field import GAUSS, Mesh, clamped, solved, stresses
from openwork.shape.contour import Floats

EVEN = 0.2  # weight of even spacing against following the stresses
LOOSE = 0.02  # weight of the directions inside the pads, where nothing is opened
EXTRA = 16  # rows of elements inside the hem, for cells that end there
WRAP = 4  # columns of nodes repeated on either side, for the splines
ROUNDS = 6  # of Newton's method
EXACT = 1e-9  # of a level, at a crossing


@dataclass(frozen=True, slots=True)
class Levels:
    """Two functions of w = u + i v; both count the same number of columns along the rim.

    The lines of the first turn forwards on their way in, those of the second backwards.
    """

    mesh: Mesh
    site: Site
    columns: int
    values: Floats  # (2, rows + 1, columns of the mesh)
    splines: tuple[RectBivariateSpline, RectBivariateSpline]  # less the mean growth with v

    @classmethod
    def of(cls, site: Site, columns: int) -> Levels:
        """Return the functions for *columns* lines of each kind round the rim."""
        mesh = Mesh.of(site)
        wide = mesh.extended(EXTRA)
        rate = columns / (2 * math.pi)
        whole = np.arange(columns // site.fold + 1)
        nodes = wide.width * np.arange(wide.columns + 1)
        number = np.interp(nodes, column_angle(site, columns)(whole), whole)
        direction, weight = _directions(site, mesh)
        values, splines = [], []
        for angle in direction:
            fitted = number[:-1] + _fitted(wide, angle, weight, np.diff(number) / wide.width)
            values.append(fitted)
            v = wide.width * np.arange(-WRAP, wide.columns + WRAP + 1)
            periodic = np.pad(fitted - rate * wide.angles, ((0, 0), (WRAP, WRAP + 1)), mode="wrap")
            splines.append(RectBivariateSpline(wide.levels, v, periodic))
        return cls(wide, site, columns, np.array(values), (splines[0], splines[1]))

    def depth(self) -> int:
        """Return how many whole levels the two functions differ by at most."""
        return int(np.ptp(self.values[0] - self.values[1])) + 1

    def at(self, w: Complex) -> tuple[Floats, Floats]:
        """Return both functions (2, n) and their gradients (2, 2, n) by u and v at *w* (n,)."""
        u, v = w.real, w.imag % self.site.sector
        rate = self.columns / (2 * math.pi)
        values = [one(u, v, grid=False) + rate * w.imag for one in self.splines]
        slopes = [
            [one(u, v, dx=1, grid=False), one(u, v, dy=1, grid=False) + rate]
            for one in self.splines
        ]
        return np.array(values), np.array(slopes)

    def directions(self, w: Complex) -> tuple[Complex, Complex]:
        """Return the directions of the first lines, the second rising, and of the second."""
        known = np.isfinite(w)
        (a, b) = self.at(w[known])[1]
        turn = np.sign(a[0] * b[1] - a[1] * b[0])
        first, second = (np.full(w.shape, np.nan + 0j) for _ in range(2))
        first[known] = turn * (-a[1] + 1j * a[0])
        second[known] = turn * (b[1] - 1j * b[0])
        return first, second

    def crossings(self, first: Floats, second: Floats) -> Complex:
        """Return where the functions have the values *first* and *second*; NaN off the mesh."""
        places = np.add.outer(self.mesh.levels, 1j * self.mesh.angles)
        around = [
            (places + 1j * k * self.site.sector, self.values + k * self.columns // self.site.fold)
            for k in (-1, 0, 1)
        ]
        known = np.concatenate([values.reshape(2, -1) for _, values in around], axis=1)
        wanted = np.array([first.ravel(), second.ravel()])
        nearest = cKDTree(known.T).query(wanted.T)[1]
        w = np.concatenate([grid.ravel() for grid, _ in around])[nearest]
        for _ in range(ROUNDS):
            values, slopes = self.at(w)
            steps = np.linalg.solve(slopes.transpose(2, 0, 1), (wanted - values).T[..., None])
            w = w + steps[:, 0, 0] + 1j * steps[:, 1, 0]
        low, high = self.mesh.levels[[0, -1]]
        good = np.abs(self.at(w)[0] - wanted).max(axis=0) < EXACT
        w[~good | (w.real < low) | (w.real > high + EXACT)] = np.nan
        return np.asarray(w.reshape(first.shape))


def _directions(site: Site, mesh: Mesh) -> tuple[Floats, Floats]:
    """Return the angles (2, rows, columns) of the principal stresses from the radius, and weights.

    Of the first, then of the second lines, about 45 and -45 degrees; the rows inside the hem
    repeat the first one there.
    """
    radial, hoop, shear = stresses(site, mesh)
    turned = radial - hoop + 2j * shear
    sense = np.sign(shear.mean())
    middle = math.pi / 4 + np.angle(turned * -1j * sense) / 2
    held = clamped(site, mesh)
    inside = held[:-1] & held[1:]
    inside = inside & np.roll(inside, -1, axis=1)
    beyond = ((EXTRA, 0), (0, 0))
    first = np.pad(np.where(inside, math.pi / 4, middle), beyond, constant_values=math.pi / 4)
    weight = np.pad(np.where(inside, LOOSE, 1.0), beyond, constant_values=LOOSE)
    return np.array([first, first - math.pi / 2]), weight


def _fitted(mesh: Mesh, angle: Floats, weight: Floats, growth: Floats) -> Floats:
    """Return what to add (rows + 1, columns) to a function of v that grows by *growth* (columns,).

    Least squares over the elements: the gradient has no part along the *angle*, and one that
    spaces the level lines evenly across it. Nothing is added on the rim.
    """
    along = np.stack([np.cos(angle), np.sin(angle)], axis=-1).reshape(-1, 2)
    across = np.column_stack([-along[:, 1], along[:, 0]]) * np.sign(along[:, :1])
    base = np.zeros_like(along)
    base[:, 1] = np.tile(growth, mesh.rows)
    metric = along[:, :, None] * along[:, None] + EVEN * across[:, :, None] * across[:, None]
    metric = weight.reshape(-1, 1, 1) * metric + 1e-3 * np.eye(2)
    wanted = EVEN * math.sqrt(2) * base[:, 1:] * across * weight.reshape(-1, 1)
    pull = wanted - (metric @ base[..., None])[..., 0]
    matrices: Floats = np.zeros((len(base), 4, 4))
    loads = np.zeros((len(base), 4))
    for a in GAUSS:
        for b in GAUSS:
            slopes = mesh.shapes(a, b)[1:]
            matrices += slopes.T @ metric @ slopes
            loads += pull @ slopes
    elements = mesh.elements()
    nodes = (mesh.rows + 1) * mesh.columns
    total = np.asarray(np.bincount(elements.ravel(), loads.ravel(), nodes), dtype=float)
    free: NDArray[np.bool_] = np.arange(nodes) < mesh.rows * mesh.columns
    return solved(matrices, total, elements, free).reshape(-1, mesh.columns)
