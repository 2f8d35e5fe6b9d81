"""What may be laid out of a web: its open elements, and what a chain does to them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from openwork.patterns._kit.chain_waves import ChainWaves
from openwork.patterns._kit.density import VOID, Layout
from openwork.patterns._kit.web_grid import WebGrid
from openwork.shape.contour import Floats


@dataclass(frozen=True, slots=True)
class WebLayout(Layout):
    """A layout of the elements of ``grid`` that are ``inside`` the region (rows, columns)."""

    grid: WebGrid
    inside: NDArray[np.bool_]

    def placed(self, smooth: Floats) -> Floats:
        """Return densities (rows, columns), *smooth* where they are ``inside`` and else 1."""
        whole = np.ones(self.inside.shape)
        whole[self.inside] = smooth
        return whole


def web_layout(grid: WebGrid, reach: float) -> WebLayout:
    """Return the layout of *grid*, its densities smoothed over *reach* mm."""
    waves, inside = ChainWaves(grid), grid.open > 0.5
    part = grid.open[inside]
    solid = np.where(grid.metal, 1.0, VOID)

    def energies(moduli: Floats) -> Floats:
        whole = solid.copy()
        whole[inside] = 1 - part + part * moduli
        return np.asarray(waves.energies(whole.ravel())[inside.ravel()] * part)

    cone = _cone(grid, inside, reach)
    return WebLayout(grid.areas[inside] * part, cone, energies, grid, inside)


def _cone(grid: WebGrid, inside: NDArray[np.bool_], reach: float) -> object:
    """Return the filter among elements *inside*, those across the seams counted."""
    from scipy.sparse import coo_array, diags_array  # noqa: PLC0415 (slow to import)

    row, column, apart = grid.near(inside, reach)
    weight = (reach - apart) * grid.areas[inside][column]
    cone = coo_array((weight, (row, column)), shape=(inside.sum(),) * 2).tocsr()
    return (diags_array(1 / cone.sum(axis=1)) @ cone).tocsr()
