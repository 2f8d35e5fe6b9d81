"""A ring made ready to be calculated: its mesh, what the bolts hold, where the chain bears."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from openwork.errors import RuleError
from openwork.shape.contour import Floats, Points, as_complex, as_points
from openwork.strength.element import Slopes, gauss_points, slopes
from openwork.strength.meshing.mesh import meshed
from openwork.strength.meshing.sides import Integers, Size
from openwork.strength.meshing.triangles import Mesh
from openwork.strength.model import Model
from openwork.strength.thickness import thickness

Mask: TypeAlias = NDArray[np.bool_]

PATCH = np.radians(18)  # half the angle of the seat over which a roller presses
TOOTH_SIDES = 2.0  # mm: coarse teeth do, tooth stress has a mesh of its own
HEAD_NODES = 24  # at least, round each bolt head: what is held does not hang on the mesh
HEAD_CLEAR = 0.5  # mm of a head beyond its hole, below which the hole's own nodes do
CLEAR_OF_BOLT = 4.0  # mm from a hole's edge: nearer, clamping and contact decide, not the plate


@dataclass(frozen=True, slots=True)
class Fineness:
    """Element size inside and side length along the edges, mm."""

    step: float
    spacing: float


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """A meshed ring: ``thickness`` (m, 3) at the Gauss points, ``held`` (n,) nodes under bolts."""

    model: Model
    mesh: Mesh
    slopes: Slopes
    thickness: Floats
    held: Mask

    @property
    def volume(self) -> float:
        """Volume, mm3."""
        return float((self.slopes.areas * self.thickness).sum())


def body(model: Model, fineness: Fineness, *, size: Size | None = None) -> Body:
    """Return *model* meshed; RuleError when it is in pieces or too thin to mesh."""
    holes = [model.edge, *model.bolts, *model.openings]
    spacing = np.full(1 + len(holes), fineness.spacing)
    spacing[0] = min(TOOTH_SIDES, fineness.step)

    head, heads = _heads(model, fineness.step)
    extra = np.concatenate([heads, _step(model, fineness.step)])
    mesh = meshed(model.outline, holes, step=fineness.step, spacing=spacing, size=size, extra=extra)
    slope = slopes(mesh.nodes, mesh.triangles)
    thick = thickness(model, gauss_points(mesh), heights(slope))
    return Body(model, mesh, slope, thick, near_bolts(model, mesh.nodes, head + 1e-6))


def heights(slope: Slopes) -> Floats:
    """Return the heights (m,) of equilateral triangles as large as the elements, mm."""
    return np.asarray(np.sqrt(np.sqrt(3) * slope.areas.sum(axis=1)))


def _step(model: Model, step: float) -> Points:
    """Return nodes (n, 2) on the circles where the thickness steps on the way to the teeth."""
    radii = sorted({model.full, model.shroud})
    counts = [int(np.ceil(2 * np.pi * radius / step)) for radius in radii]
    rings = [r * np.exp(2j * np.pi * np.arange(n) / n) for r, n in zip(radii, counts, strict=True)]
    return as_points(np.concatenate(rings))


def _heads(model: Model, step: float) -> tuple[float, Points]:
    """Return the radius (mm) that is held round each bolt, and nodes (n, 2) on its circles.

    The polygon of the nodes is as large as the circle of the head.
    """
    if model.head < model.hole + HEAD_CLEAR:
        return max(model.head, model.hole), np.empty((0, 2))
    count = max(HEAD_NODES, int(np.ceil(2 * np.pi * model.head / step)))
    turn = 2 * np.pi / count
    radius = model.head * np.sqrt(turn / np.sin(turn))
    ring = radius * np.exp(1j * turn * np.arange(count))
    nodes = model.positions[:, None] + as_points(ring)
    return float(radius), nodes.reshape(-1, 2)


def near_bolts(model: Model, points: Points, radius: float) -> Mask:
    """Tell which *points* (n, 2) lie within *radius* (mm) of a bolt's centre."""
    away = points[:, None] - model.positions
    near: Mask = np.any(np.hypot(away[..., 0], away[..., 1]) <= radius, axis=1)
    return near


def _local(model: Model, points: Points) -> tuple[Integers, NDArray[np.complex128]]:
    """Return the nearest gap of each point and the point from its roller, the gap on +x."""
    z = as_complex(points)
    turn = 2 * np.pi / model.teeth
    gap = np.round(np.angle(z) / turn).astype(int)
    return gap % model.teeth, z * np.exp(-1j * turn * gap) - model.pitch_radius


def _outline(mesh: Mesh) -> tuple[Integers, Floats]:
    """Return the nodes of the outline and the length Simpson's rule gives each."""
    sides = mesh.edges[mesh.loops == 0]
    a, m, b = (mesh.nodes[sides[:, i]] for i in range(3))
    along = np.hypot(*(m - a).T) + np.hypot(*(b - m).T)
    share = along[:, None] * np.array([1, 4, 1]) / 6
    nodes, place = np.unique(sides, return_inverse=True)
    length: Floats = np.bincount(place.ravel(), share.ravel()).astype(float)
    return nodes, length


def seats(body: Body, direction: complex, *, half_width: float = PATCH) -> csr_array:
    """Return the shares (nodes, gaps) of a force on each gap, pressing along *direction*.

    *direction* is in the frame of a gap on +x; shares fall off as the squared cosine within
    *half_width* (rad) about it and add up to 1 for every gap.
    """
    model = body.model
    nodes, length = _outline(body.mesh)
    gap, local = _local(model, body.mesh.nodes[nodes])
    angle = np.abs(np.angle(local / direction))
    bearing = (angle < half_width) & (np.abs(local) < 0.6 * model.roller)
    weight = length * np.cos(np.pi / 2 * angle / half_width) ** 2 * bearing
    total = np.bincount(gap, weight, minlength=model.teeth)
    if not np.all(total > 0):
        raise RuleError(
            f"strength: no node of the mesh lies where the roller bears in tooth gap "
            f"{int(np.argmin(total > 0)) + 1}; a finer mesh or a larger roller works"
        )
    shape = (len(body.mesh.nodes), model.teeth)
    return csr_array((weight / total[gap], (nodes, gap)), shape=shape)


def gap_bottoms(body: Body) -> Integers:
    """Return the node (teeth,) at the bottom of each tooth gap."""
    nodes, _ = _outline(body.mesh)
    gap, local = _local(body.model, body.mesh.nodes[nodes])
    order = np.lexsort((np.abs(np.angle(-local)), gap))
    first = np.searchsorted(gap[order], np.arange(body.model.teeth))
    bottoms: Integers = nodes[order[first]]
    return bottoms
