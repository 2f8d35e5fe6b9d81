"""A tooth band beside the middle of the plate: the chain bends the ring as it pulls.

Calculated once as a shell whose middle lies at a height of its own, on a coarse mesh, and once flat
on the same mesh: the ratios of the two make a plane calculation that of the dished ring.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from openwork.shape.contour import Floats
from openwork.strength.body import Body, Fineness, body
from openwork.strength.edge_stress import free_edges
from openwork.strength.element import Factor, elastic, gauss_points, plane_rigidity
from openwork.strength.model import Model
from openwork.strength.plane import chain_loads, rim
from openwork.strength.plate import bending

MESH = Fineness(3.0, 2.5)
POSITIONS = 12  # of the chain, at least, spread over the gaps
LEAST = 1e-3  # mm of height that are told from none


@dataclass(frozen=True, slots=True, kw_only=True)
class Dish:
    """How much softer a ring is, and how much hotter where it is hottest, than the same one flat.

    >>> Dish()
    Dish(softer=1.0, hotter=1.0)
    """

    softer: float = 1.0
    hotter: float = 1.0


FLAT = Dish()


@lru_cache(maxsize=64)
def dish(model: Model, pressure: float) -> Dish:
    """Return what the offset of the tooth band does to *model*, its chain at *pressure* (rad).

    Bolt heads held fast, each face of the plate looked at. Raises RuleError where the ring cannot
    be meshed.
    """
    if model.blank is None or abs(model.blank.offset) < LEAST:
        return FLAT
    made = body(model, MESH)
    turn, stress = _turned(made, middles(made), model.blank.offset, pressure)
    flat_turn, flat_stress = _turned(made, np.zeros_like(made.thickness), 0.0, pressure)
    return Dish(softer=turn / flat_turn, hotter=stress / flat_stress)


def middles(made: Body) -> Floats:
    """Return the heights (m, 3) of the metal's middle at the Gauss points, mm from the plate's."""
    ring = made.model.blank
    radius = np.hypot(*np.moveaxis(gauss_points(made.mesh), -1, 0))
    if ring is None:
        return np.zeros_like(radius)
    found = np.full(radius.shape, ring.offset)
    for zone in reversed(ring.zones):
        found = np.where(radius < zone.outer, (zone.back + zone.front) / 2, found)
    return found


def shell(made: Body, height: Floats) -> Factor:
    """Return the factor of a shell whose middle lies at *height* (m, 3), mm: u, v, w and two turns.

    A strain of the middle is that of the mid-plane of the plate and the height times the curvature,
    so both are coupled; plate as in ``plate``, held under the bolt heads.
    """
    material, weights = made.model.material, made.slopes.areas * made.thickness
    rigidity = plane_rigidity(material.modulus, material.poisson)
    whole = np.zeros((len(weights), 6, 5, 6, 5))
    whole[:, :, :2, :, :2] = elastic(made.slopes, weights, rigidity)
    whole[:, :, 2:, :, 2:] = bending(
        made.slopes, made.thickness, material.modulus, material.poisson
    )
    whole[:, :, 3:, :, 3:] += elastic(made.slopes, weights * height**2, rigidity)
    coupled = elastic(made.slopes, weights * height, rigidity)
    whole[:, :, :2, :, 3:] = coupled
    whole[:, :, 3:, :, :2] = coupled
    return Factor(whole, made.mesh.triangles, np.repeat(made.held[:, None], 5, axis=1))


def at_height(displacement: Floats, z: float) -> Floats:
    """Return the displacements in plane (2 n, columns) at *z* mm above the plate's middle."""
    moved = np.empty((len(displacement) // 5 * 2, displacement.shape[1]))
    for k in (0, 1):
        moved[k::2] = displacement[k::5] + z * displacement[3 + k :: 5]
    return moved


def lifted(loads: Floats, z: float) -> Floats:
    """Return *loads* in plane (2 n, columns), as they bear on a shell at the height *z*."""
    found = np.zeros((len(loads) // 2 * 5, loads.shape[1]))
    for k in (0, 1):
        found[k::5] = loads[k::2]
        found[3 + k :: 5] = z * loads[k::2]
    return found


def _turned(made: Body, height: Floats, band: float, pressure: float) -> tuple[float, float]:
    """Return the mean turn of the rim and the hottest stress, per newton of pull."""
    model = made.model
    first = np.arange(0, model.teeth, max(1, model.teeth // POSITIONS))
    loads = lifted(chain_loads(made, pressure, first=first), band)
    moved = shell(made, height).solve(loads)
    strain, half = free_edges(made).strain, model.plate / 2
    stress = max(float(np.abs(strain @ at_height(moved, z)).max()) for z in (-half, half))
    return float(rim(made, at_height(moved, band))[0].mean()), stress
