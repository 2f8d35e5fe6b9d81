"""A ring under every position of its chain at once, solved on one symmetry sector.

The chain's force is a sum of waves round the ring. Averaged over all its positions, the work that
it does is the sum of the works of the single waves; a wave of order h moves each sector as the
one before, turned by the phase exp(2 pi i h / fold), so a system of one sector gives its work
(D. L. Thomas, Dynamics of rotationally periodic structures, Int. J. Numer. Meth. Engng 14, 1979,
81). Where sectors are mirrored, the even and the odd part of a wave on half a sector do, in real
numbers. Column by column the unknowns make a narrow band.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from openwork.patterns._kit.web_grid import WebGrid
from openwork.shape.contour import Complex, Floats, Numbers

ORDERS = 9  # waves round the ring beside the even pull; those beyond hardly leave the rim
FADES = 1.6  # cot of a new chain's pressure angle: its tension falls by exp(-FADES x angle)
SPRING = (
    10.0,
    10.0,
)  # hold a pad along the arm and the circle, of modulus x thickness


def chain_wave(order: int) -> Complex:
    """Return the radial and the tangential amplitude (2,) of the wave of *order* of a chain.

    The tension exp(-FADES s) at the angle s behind the first tooth, over half a turn, presses
    inwards with itself and pulls along with its fall. A rigid chain without friction: R. C. Binder,
    Mechanics of the Roller Chain Drive, 1956, many teeth.

    >>> bool(np.isclose(2 * np.pi * chain_wave(0)[1].real, 1 - np.exp(-FADES * np.pi)))
    True
    """
    rate = FADES - 1j * order
    share = (1 - np.exp(-rate * np.pi)) / rate / (2 * np.pi)
    return np.asarray(np.array([-1, FADES]) * share)


@dataclass(frozen=True, slots=True)
class Part:
    """Where an element's eight moves stand among the unknowns of a system, and their factors."""

    places: Numbers
    factors: Complex | Floats


@dataclass(frozen=True)
class System:
    """The waves of one phase: ``band`` @ moduli + ``fixed`` is a banded matrix, lower half."""

    band: Any
    fixed: Floats
    loads: Complex | Floats
    parts: tuple[Part, ...]

    def solved(self, moduli: Floats) -> Complex | Floats:
        """Return the moves (unknowns, loads); raises ArithmeticError where there are none."""
        from scipy.linalg import get_lapack_funcs  # noqa: PLC0415 (slow to import)

        size = len(self.loads)
        matrix = (self.band @ moduli + self.fixed).reshape(size, -1).T
        factor, solve = get_lapack_funcs(("pbtrf", "pbtrs"), (matrix, self.loads))
        lower, failed = factor(matrix, lower=1)
        if failed:
            raise ArithmeticError("the web does not hold together")
        return np.asarray(solve(lower, self.loads, lower=1)[0])


class ChainWaves:
    """All waves of the chain on ``grid``."""

    def __init__(self, grid: WebGrid) -> None:
        self.grid = grid
        self.element = grid.element()
        self.systems = tuple(self._systems())

    def energies(self, moduli: Floats) -> Floats:
        """Return the elastic energy over the modulus of each element, all positions averaged.

        The sum of energies times *moduli* is the work of the chain, but for what the springs
        take. Raises ArithmeticError where the web does not hold.
        """
        energy = np.zeros(len(moduli))
        for system in self.systems:
            moves = system.solved(moduli)
            for part in system.parts:
                own = part.factors[:, :, None] * moves[part.places]
                energy += np.einsum("eik,eik->e", own.conj(), self.element @ own).real
        return energy

    def _systems(self) -> Iterator[System]:
        """Yield one system for each phase that a wave may have."""
        fold = self.grid.site.fold
        orders = np.arange(-ORDERS, ORDERS + 1)
        for phase in range(fold // 2 + 1):
            mine = orders[(orders - phase) % fold == 0]
            if phase in (0, fold / 2):
                mine = mine[mine >= 0]  # those below are the conjugates of these
            if len(mine):
                yield self._system(phase, mine.tolist())

    def _system(self, phase: int, orders: list[int]) -> System:
        places, factors = (
            _mirrored(self.grid, phase) if self.grid.mirrored else _cyclic(self.grid, phase)
        )
        size = int(places.max()) + 1
        waves = np.array([self._wave(order) for order in orders])
        used = np.zeros(size)
        np.add.at(used, places.ravel(), np.abs(factors).ravel())
        loads = np.zeros((size, len(orders)), dtype=complex)
        for here, factor, force in zip(places, factors, np.moveaxis(waves, 0, -1), strict=True):
            np.add.at(loads, here, factor.conj()[..., None] * force)
        if not np.iscomplexobj(factors):
            loads = np.hstack([loads.real, loads.imag])
        parts = tuple(self._part(*pair) for pair in zip(places, factors, strict=True))
        fixed = np.where(used > 0, 0.0, 1.0)
        for here, factor in zip(places, factors, strict=True):
            np.add.at(fixed, here, np.abs(factor) ** 2 * self._springs())
        return _assembled(parts, self.element, fixed, loads)

    def _part(self, places: Numbers, factors: Complex | Floats) -> Part:
        nodes = self.grid.nodes
        return Part(places.reshape(-1, 2)[nodes].reshape(-1, 8),
                    factors.reshape(-1, 2)[nodes].reshape(-1, 8))  # fmt: skip

    def _weights(self) -> Floats:
        """Return the angle that each column of nodes stands for."""
        weights = np.full(self.grid.columns + 1, self.grid.width)
        weights[[0, -1]] /= 2
        return weights

    def _springs(self) -> Floats:
        """Return the stiffness (rows + 1, columns + 1, 2) of what holds the nodes."""
        grid = self.grid
        share = grid.held * self._weights()
        bolts = len(grid.site.bolts) * grid.span / (2 * np.pi)
        return np.asarray(share[..., None] / share.sum() * bolts * np.array(SPRING))

    def _wave(self, order: int) -> Complex:
        """Return the forces (copies, rows + 1, columns + 1, 2) of the wave of *order*, weighted.

        Of a mirrored grid the copies are the even and the odd part.
        """
        grid = self.grid
        radial, along = chain_wave(order) * np.sqrt(1.0 if order == 0 else 2.0)
        angle = order * grid.width * np.arange(grid.columns + 1)
        cos, sin = np.cos(angle) * self._weights(), np.sin(angle) * self._weights()
        if grid.mirrored:
            rims = [[radial * cos, 1j * along * sin], [radial * sin, -1j * along * cos]]
        else:
            rims = [[radial * (cos + 1j * sin), along * (cos + 1j * sin)]]
        forces = np.zeros((len(rims), grid.rows + 1, grid.columns + 1, 2), dtype=complex)
        forces[:, -1] = np.moveaxis(np.array(rims), 1, -1)
        return forces


def _numbers(grid: WebGrid, column: Numbers) -> Numbers:
    """Return the unknowns (rows + 1, columns + 1, 2) of nodes whose columns stand at *column*."""
    node = column[None, :] * (grid.rows + 1) + np.arange(grid.rows + 1)[:, None]
    return np.stack([2 * node, 2 * node + 1], axis=-1)


def _cyclic(grid: WebGrid, phase: int) -> tuple[Numbers, Complex]:
    """Return places and factors (1, rows + 1, columns + 1, 2); the last column is the first.

    Columns are numbered from both ends in turn, so that the band closes.
    """
    column = np.arange(grid.columns + 1) % grid.columns
    folded = np.minimum(2 * column, 2 * (grid.columns - column) - 1)
    places = _numbers(grid, folded)
    factors = np.ones(places.shape, dtype=complex)
    factors[:, -1] = np.exp(1j * phase * grid.site.sector)
    return places[None], factors[None]


def _mirrored(grid: WebGrid, phase: int) -> tuple[Numbers, Floats]:
    """Return places and factors (2, rows + 1, columns + 1, 2) of the even and the odd part.

    A move is the even part plus i times the odd one. On the first line the even part does not
    move along it, the odd one not across; on the last the phase ties both to one unknown.
    """
    last = grid.columns
    column = np.arange(last + 1)
    places = np.array([_numbers(grid, column), _numbers(grid, 2 * last - column)])
    factors = np.ones(places.shape)
    factors[0, :, 0, 1] = factors[1, :, 0, 0] = 0.0
    turn = phase * grid.span
    cos, sin = np.cos(turn).round(12), np.sin(turn).round(12)
    factors[0, :, last] = [cos, -sin]
    factors[1, :, last] = [sin, cos]
    return places, factors


def _assembled(
    parts: tuple[Part, ...], element: Floats, fixed: Floats, loads: Complex | Floats
) -> System:
    """Return the system of *parts*, its matrix as a linear function of the elements' moduli."""
    from scipy.sparse import coo_array  # noqa: PLC0415 (slow to import)

    height = 1 + max(int(np.ptp(part.places, axis=1).max()) for part in parts)
    entries, owners, values = [], [], []
    for part in parts:
        row, column = (np.broadcast_to(one, (len(part.places), 8, 8)) for one in (
            part.places[:, :, None], part.places[:, None, :]))  # fmt: skip
        value = part.factors.conj()[:, :, None] * element * part.factors[:, None, :]
        lower = (row >= column) & (value != 0)
        entries.append((row - column + column * height)[lower])
        owners.append(np.nonzero(lower)[0])
        values.append(value[lower])
    where = (np.concatenate(entries), np.concatenate(owners))
    shape = (height * len(fixed), len(parts[0].places))
    band = coo_array((np.concatenate(values), where), shape=shape).tocsr()
    diagonal = np.zeros((len(fixed), height))
    diagonal[:, 0] = fixed
    return System(band, diagonal.ravel(), loads, parts)
