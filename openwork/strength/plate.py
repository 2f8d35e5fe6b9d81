"""The ring across its plane: shear-deformable plate, so that narrow ribs twist as they should.

Reissner-Mindlin quadratic triangles: unknowns w, bx, by at each node, displacement u = z bx,
v = z by; curvature from the slopes of b, shear from grad w + b, shear correction 5/6 (E. Reissner,
J. Appl. Mech. 12 (1945) A69; R. D. Mindlin, ibid. 18 (1951) 31). A thin-plate element would make
a rib as wide as thick twist 2.4 times too stiffly. Elements here are no larger than the thickness,
so shear does not lock.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from openwork.shape.contour import Floats
from openwork.strength.body import Body, seats
from openwork.strength.edge_stress import Edges, free_edges
from openwork.strength.element import GAUSS, Factor, Slopes, elastic, plane_rigidity, products
from openwork.strength.meshing.quadratic import shapes
from openwork.strength.meshing.sides import Integers

SHEAR = 5 / 6
WHOLE_SEAT = np.pi / 2  # rad: the link plates bear on the tooth's side, all round the seat


@dataclass(frozen=True, slots=True, eq=False)
class Plate:
    """Displacements (3 n, gaps) per newton across the plane on one gap each, or on ``spread`` gaps.

    ``compliance`` (gaps,) is the deflection under the force, mm/N; ``stress`` (k, gaps) the signed
    bending stress at the surface along free edges, MPa/N.
    """

    body: Body
    factor: Factor
    displacement: Floats
    compliance: Floats
    edges: Edges
    stress: Floats


def bending(slope: Slopes, thickness: Floats, modulus: float, poisson: float) -> Floats:
    """Return element matrices (m, 6, 3, 6, 3) of a plate, *thickness* (m, 3) at Gauss points."""
    rigidity = plane_rigidity(modulus, poisson)
    shear = slope.areas * thickness * SHEAR * modulus / (2 * (1 + poisson))
    n = np.broadcast_to(shapes(GAUSS), slope.x.shape)
    result = np.zeros((len(n), 6, 3, 6, 3))
    result[:, :, 1:, :, 1:] = elastic(slope, slope.areas * thickness**3 / 12, rigidity)
    bulk = products(n, n, shear)
    result[:, :, 1, :, 1] += bulk
    result[:, :, 2, :, 2] += bulk
    result[:, :, 0, :, 0] = products(slope.x, slope.x, shear) + products(slope.y, slope.y, shear)
    for direction, slopes_ in ((1, slope.x), (2, slope.y)):
        coupling = products(slopes_, n, shear)
        result[:, :, 0, :, direction] = coupling
        result[:, :, direction, :, 0] = coupling.transpose(0, 2, 1)
    return result


def plate_factor(body: Body) -> Factor:
    """Return the factor across the plane, the plate held fast under the bolt heads."""
    material = body.model.material
    matrices = bending(body.slopes, body.thickness, material.modulus, material.poisson)
    fixed = np.repeat(body.held[:, None], 3, axis=1)
    return Factor(matrices, body.mesh.triangles, fixed)


def across(body: Body, *, spread: int = 1, gaps: Integers | None = None) -> Plate:
    """Return the ring under 1 N across its plane on each of *gaps* (all), shared by *spread*."""
    teeth = body.model.teeth
    wanted = np.arange(teeth) if gaps is None else gaps
    share = seats(body, complex(-1), half_width=WHOLE_SEAT)
    where = (wanted[None, :] - np.arange(spread)[:, None]) % teeth
    pattern = np.zeros((teeth, len(wanted)))
    np.add.at(pattern, (where, np.broadcast_to(np.arange(len(wanted)), where.shape)), 1 / spread)
    loads = np.zeros((3 * share.shape[0], len(wanted)))
    loads[0::3] = force = share @ pattern
    factor = plate_factor(body)
    displacement = factor.solve(loads)
    edges = free_edges(body)
    turn = np.empty((2 * share.shape[0], len(wanted)))
    turn[0::2], turn[1::2] = displacement[1::3], displacement[2::3]
    stress = body.model.material.modulus * body.model.plate / 2 * (edges.strain @ turn)
    compliance = (force * displacement[0::3]).sum(axis=0)
    return Plate(body, factor, displacement, compliance, edges, stress)


def bolt_gaps(body: Body) -> tuple[Integers, Integers]:
    """Return the gaps nearest the bolts and nearest the middles between neighbouring bolts."""
    model = body.model
    angles = np.sort(np.arctan2(model.positions[:, 1], model.positions[:, 0]))
    between = angles + np.diff(angles, append=angles[0] + 2 * np.pi) / 2
    turn = 2 * np.pi / model.teeth

    def nearest(angle: Floats) -> Integers:
        return np.unique(np.round(angle / turn).astype(int) % model.teeth)

    return nearest(angles), nearest(between)
