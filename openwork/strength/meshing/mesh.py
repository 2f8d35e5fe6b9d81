"""A plate meshed: its sides, the nodes inside and the triangles, finer where that must be."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from openwork.errors import RuleError
from openwork.shape.contour import Contour, Floats, Points, reverse
from openwork.strength.meshing.grid import clear_of, grid_nodes, in_metal
from openwork.strength.meshing.sides import Size, sides
from openwork.strength.meshing.triangles import Mesh, Missing, triangulated

TRIES = 4
ASIDE = 0.52  # of a side: a node this far from its middle leaves it a Delaunay edge (Gabriel)


def pieces(mesh: Mesh) -> int:
    """Return the number of separate pieces of metal; touching at a node alone does not join."""
    corners = mesh.triangles[:, 3:]
    n = len(mesh.nodes)
    element = np.repeat(np.arange(len(corners)), 3)
    links = coo_array((np.ones(len(element)), (element, corners.ravel())), shape=(len(corners), n))
    return int(connected_components((links @ links.T).tocsr(), directed=False)[0])


def meshed(
    outer: Contour,
    holes: Sequence[Contour],
    *,
    step: float,
    spacing: float | Floats,
    size: Size | None = None,
    extra: Points | None = None,
) -> Mesh:
    """Return a mesh of *outer* less *holes* (all counter-clockwise, as stored).

    *step* is the grid inside, *spacing* the sides along the edges (mm, one for all contours or
    one each, outer first), *size* what is wanted at a place where that is less, *extra* further
    nodes (k, 2). Finer meshes are tried when the first does not conform.

    Raises RuleError when the plate is in pieces, or too thin somewhere for any of the meshes.
    """
    contours = [outer, *(reverse(hole) for hole in holes)]
    spacings = np.broadcast_to(np.asarray(spacing, dtype=float), (len(contours),))
    result: Mesh | Missing = Missing(0, (0.0, 0.0))
    for attempt in range(TRIES):
        along, inside = 0.75**attempt, 0.85**attempt
        finer = None if size is None else (lambda p, f=along: f * size(p))
        boundary = sides(contours, spacings * along, size=finer)
        more = np.empty((0, 2)) if extra is None else extra
        more = more[
            in_metal(more, boundary) & clear_of(more, boundary, ASIDE * along * spacings.min())
        ]
        grid = grid_nodes(boundary, step * inside, finer, more)
        result = triangulated(boundary, np.concatenate([grid, more]))
        if isinstance(result, Mesh):
            break
    if isinstance(result, Missing):
        x, y = result.place
        raise RuleError(
            f"strength: not meshed, {result.count} sides fail near ({x:.1f}, {y:.1f}) mm even with "
            f"sides of {spacings.min() * along:.2f} mm; metal there is too thin to calculate, "
            f"a rib of {spacings.min():.1f} mm works"
        )
    if (parts := pieces(result)) > 1:
        raise RuleError(
            f"strength: the ring is in {parts} pieces, 1 can be calculated; a wider rib works"
        )
    return result
