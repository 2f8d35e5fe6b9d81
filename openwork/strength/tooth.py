"""One tooth: stress at its root, side load it bears, bearing pressure, wear the flank can take.

The root is calculated on the true outline: five gaps of it on a fine mesh, one loaded. A beam
formula is 5 to 15 % low there above mid-flank and fails at the seat, where the force passes below
any section.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from openwork.part.blank import Blank
from openwork.part.zones import on_lands
from openwork.shape.contour import Contour, Floats, Points, as_complex, sampled
from openwork.strength.body import PATCH
from openwork.strength.chainpull import tooth_forces
from openwork.strength.edge_stress import tangential
from openwork.strength.element import Factor, elastic, gauss_points, plane_rigidity, slopes
from openwork.strength.meshing.mesh import meshed
from openwork.strength.meshing.sides import Integers
from openwork.strength.meshing.triangles import Mesh

GAPS = 5
DEPTH = 1.0  # of the pitch: the metal that is kept below the pitch circle
FINE = 0.25  # mm, elements in the loaded gap
GROWTH = 0.3
SIDE_SHARE = 0.85  # of a beam's side load: what twist and the step to the plate leave of it


def tooth_sector(outline: Contour, teeth: int, inner: float) -> Contour:
    """Return the metal round five gaps about +x, down to the radius *inner* (mm)."""
    half = GAPS * np.pi / teeth
    angle = np.arctan2(outline.points[:, 1], outline.points[:, 0])
    inside = np.abs(angle) <= half + 1e-9
    first = int(np.argmax(inside & ~np.roll(inside, 1)))
    order = (first + np.arange(int(inside.sum()))) % len(outline)
    points, bulges = outline.points[order], outline.bulges[order].copy()
    ends = np.arctan2(points[[-1, 0], 1], points[[-1, 0], 0])
    bulges[-1] = 0.0
    corners = inner * np.column_stack([np.cos(ends), np.sin(ends)])
    back = -np.tan((ends[0] - ends[1]) / 4)
    return Contour(np.concatenate([points, corners]), np.concatenate([bulges, [back, 0.0]]))


@lru_cache(maxsize=64)
def root_coefficient(
    outline: Contour, teeth: int, pitch: float, pressure: float, *, poisson: float = 0.33
) -> float:
    """Return the root's greatest tension per newton of tooth force, times the tooth width, 1/mm.

    The force presses on the seat at the *pressure* angle (rad) of the chain.
    """
    roller = pitch / (2 * np.sin(np.pi / teeth))
    return loaded_tooth(outline, teeth, pitch, poisson, roller + 0j, _push(teeth, pressure))


@lru_cache(maxsize=64)
def wide_coefficient(ring: Blank, pressure: float, *, poisson: float = 0.33) -> float:
    """Return the same for a wide tooth of *ring*, thick on its lands only, by the narrow width."""

    def depth(points: Points) -> Floats:
        return np.where(on_lands(ring, points), ring.wide_width / ring.tooth_width, 1.0)

    pitch, roller = ring.chain.pitch, ring.diameters.pitch / 2 + 0j
    push = _push(ring.teeth, pressure)
    return loaded_tooth(ring.outline, ring.teeth, pitch, poisson, roller, push, depth)


def _push(teeth: int, pressure: float) -> complex:
    """Return the direction in which the roller in the first loaded gap pushes."""
    force = as_complex(tooth_forces(teeth, pressure)[0])
    return complex(force / abs(force))


def _even(points: Points) -> Floats:
    return np.ones(points.shape[:-1])


def loaded_tooth(
    outline: Contour,
    teeth: int,
    pitch: float,
    poisson: float,
    roller: complex,
    direction: complex,
    depth: Callable[[Points], Floats] = _even,
) -> float:
    """Return the same for a *roller* (its centre) that pushes along *direction*.

    *depth* is the thickness at points (..., 2) over the width of the teeth.
    """
    inner = abs(roller) - DEPTH * pitch
    sector = tooth_sector(outline, teeth, inner)

    def size(points: Points) -> Floats:
        away = np.abs(as_complex(points) - roller)
        return np.asarray(FINE + GROWTH * np.maximum(away - 0.5 * pitch, 0))

    mesh = meshed(sector, [], step=4.0, spacing=4.0, size=size)
    free, fixed = _supported(mesh, inner)
    slope = slopes(mesh.nodes, mesh.triangles)
    weights = slope.areas * depth(gauss_points(mesh))
    matrices = elastic(slope, weights, plane_rigidity(1.0, poisson))
    loads, patch = _pressed(mesh, free, roller, direction)
    displacement = Factor(matrices, mesh.triangles, fixed).solve(loads)
    stations = tangential(mesh, free[~patch])
    stress = stations.strain @ displacement
    near = np.abs(as_complex(stations.points) - roller) < 0.5 * pitch
    return float(stress[near].max())


def _supported(mesh: Mesh, inner: float) -> tuple[Integers, NDArray[np.bool_]]:
    """Return the sides of the tooth outline, and the nodes (n, 2) held by the ring beyond."""
    middles = mesh.nodes[mesh.edges[:, 1]]
    angle = np.abs(np.arctan2(middles[:, 1], middles[:, 0]))
    cut = (np.hypot(*middles.T) < inner + 1e-3) | (angle > angle.max() - 1e-6)
    held = np.zeros((len(mesh.nodes), 2), dtype=bool)
    held[mesh.edges[cut].ravel()] = True
    return np.flatnonzero(~cut), held


def _pressed(
    mesh: Mesh, free: Integers, roller: complex, direction: complex
) -> tuple[Floats, NDArray[np.bool_]]:
    """Return nodal loads (2 n,) of a unit force, and which *free* sides lie under it."""
    sides = mesh.edges[free]
    z = as_complex(mesh.nodes) - roller
    length = np.abs(z[sides[:, 2]] - z[sides[:, 0]])
    share = np.zeros(len(z))
    np.add.at(share, sides, length[:, None] * np.array([1, 4, 1]) / 6)
    angle = np.abs(np.angle(z / direction))
    reach = np.abs(z[sides]).min() * 1.3
    weight = share * np.cos(np.pi / 2 * angle / PATCH) ** 2 * (angle < PATCH) * (np.abs(z) < reach)
    weight /= weight.sum()
    patch = (weight[sides] > 0).any(axis=1)
    return np.column_stack([weight * direction.real, weight * direction.imag]).ravel(), patch


def wear_reserve(outline: Contour, teeth: int, pitch: float, roller: float) -> float:
    """Return the growth of the chain's pitch, %, at which its rollers ride over the flanks' ends.

    A roller of a chain grown by e, carried evenly, sits on the flank where its centre is
    (1 + e) pitch radii from the axis. Handbooks allow 200/z % (Diamond Chain), less than this.
    """
    away = np.hypot(*contour_centres(outline).T)
    flank = (outline.bulges > 0) & (away > 1.0) & (outline.radii > roller / 2)
    ends = outline.points, np.roll(outline.points, -1, axis=0)
    outward = np.hypot(*ends[0].T) < np.hypot(*ends[1].T)
    tip = np.where(outward[:, None], ends[1], ends[0])[flank]
    normal = (tip - outline.centres[flank]) / outline.radii[flank, None]
    riding = np.hypot(*(tip + normal * roller / 2).T)
    return float(100 * (riding.min() * 2 * np.sin(np.pi / teeth) / pitch - 1))


def contour_centres(outline: Contour) -> Points:
    """Return the centres (n, 2) of a contour's arcs, the origin for lines."""
    return np.nan_to_num(outline.centres)


def side_stress(
    outline: Contour, teeth: int, width: float, shroud: float, *, upto: float = np.inf
) -> float:
    """Return the bending stress, MPa per newton, of a side load at a tooth's tip.

    A cantilever of the tooth's own outline, *width* mm thick outside the *shroud* radius and as far
    as *upto*, at its worst section there; SIDE_SHARE allows for what the beam leaves out.
    """
    turn = 2 * np.pi / teeth
    points = sampled(outline, 1e-3)
    angle = np.arctan2(points[:, 1], points[:, 0])
    radius = np.hypot(*points.T)
    tooth = (angle > 0) & (angle < turn) & (radius > shroud)
    radius, across = radius[tooth], np.abs(angle[tooth] - turn / 2)
    section = 2 * radius * np.sin(across)
    arm = radius.max() - radius
    solid = (section > 0.5 * width) & (radius < upto)
    return float((6 * arm / np.maximum(section, 1e-9))[solid].max() / width**2 / SIDE_SHARE)
