r"""Six-node triangles that fill a plate, curved along its true edges.

    2               Corners 0 1 2 counter-clockwise, then the middles of the sides
    |\              0-1, 1-2, 2-0. Along an edge of the plate the middle lies on the
    5  4            true curve.
    |    \
    0--3--1

The method: nodes along the edges, a hexagonal grid inside, a Delaunay triangulation of both.
An edge whose diametral circle holds no other node is a Delaunay edge (Gabriel), so edges appear
as long as sides are shorter than about twice the metal beside them; whether they did is counted.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components
from scipy.spatial import Delaunay

from openwork.shape.contour import Floats, Points
from openwork.strength.meshing.quadratic import shape_slopes
from openwork.strength.meshing.sides import Integers, Sides

FOLDED = 0.15  # of a straight triangle's Jacobian: below it a curved side is straightened
SLIVER = 0.05  # quality below which a triangle is no element but a gap closed by rounding


@dataclass(frozen=True, slots=True, eq=False)
class Mesh:
    """Six-node triangles: ``nodes`` (n, 2) mm, ``triangles`` (m, 6) of node numbers.

    ``edges`` (k, 3) are the start, middle and stop nodes of the sides along contours, metal on
    the left, and ``loops`` (k,) the contour each is of. ``straight`` (k,) marks sides that were
    straightened because their curve would have folded the element; ``owners`` (k,) the element.
    """

    nodes: Points
    triangles: Integers
    edges: Integers
    loops: Integers
    owners: Integers
    straight: NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Missing:
    """Why no mesh came out: sides the triangulation left out, or folded elements, and where."""

    count: int
    place: tuple[float, float]


def _twice_area(p: Floats) -> Floats:
    a, b = p[:, 1] - p[:, 0], p[:, 2] - p[:, 0]
    area: Floats = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    return area


def quality(p: Floats) -> Floats:
    """Return 4 sqrt(3) area / sum of squared sides (m,) of corners (m, 3, 2): 1 if equilateral."""
    square = ((p - np.roll(p, -1, axis=1)) ** 2).sum(axis=(1, 2))
    result: Floats = 2 * np.sqrt(3) * _twice_area(p) / square
    return result


def _lookup(keys: Integers, wanted: Integers) -> tuple[Integers, NDArray[np.bool_]]:
    """Return where *wanted* stand in *keys* (any order), and whether they do at all."""
    order = np.argsort(keys)
    place = np.minimum(np.searchsorted(keys, wanted, sorter=order), len(keys) - 1)
    found = order[place]
    return found, keys[found] == wanted


def _metal(
    corners: Integers, neighbours: Integers, boundary: Sides, base: int
) -> NDArray[np.bool_]:
    """Tell which triangles are metal: those the left of an edge reaches without crossing one."""
    start = corners
    stop = np.roll(corners, -1, axis=1)
    across = np.roll(neighbours, 1, axis=1)  # beyond the side that leaves corner i
    own = np.sort(np.arange(len(boundary.following)) * base + boundary.following)
    back = np.sort(boundary.following * base + np.arange(len(boundary.following)))

    def among(sorted_keys: Integers, keys: Integers) -> NDArray[np.bool_]:
        place = np.minimum(np.searchsorted(sorted_keys, keys), len(sorted_keys) - 1)
        hit: NDArray[np.bool_] = sorted_keys[place] == keys
        return hit

    keys = start * base + stop
    left, right = among(own, keys), among(back, keys)
    element, side = np.nonzero(~left & ~right & (across >= 0))
    n = len(corners)
    links = coo_array((np.ones(len(element)), (element, across[element, side])), shape=(n, n))
    count, label = connected_components(links.tocsr(), directed=False)
    metal = np.zeros(count, dtype=bool)
    metal[label[left.any(axis=1)]] = True
    metal[label[right.any(axis=1)]] = False
    result: NDArray[np.bool_] = metal[label]
    return result


def _jacobians(x: Floats) -> Floats:
    """Return the Jacobian (m, 6) at the corners and middles of elements *x* (m, 6, 2)."""
    b = np.array([[1, 0, 0], [0, 1, 0], [0, 0, 1], [0.5, 0.5, 0], [0, 0.5, 0.5], [0.5, 0, 0.5]])
    d = shape_slopes(b)
    xi = x.transpose(0, 2, 1) @ d[..., 0].T
    eta = x.transpose(0, 2, 1) @ d[..., 1].T
    determinant: Floats = xi[:, 0] * eta[:, 1] - xi[:, 1] * eta[:, 0]
    return determinant


def triangulated(boundary: Sides, inside: Points) -> Mesh | Missing:
    """Join the sides of *boundary* and the nodes *inside* (k, 2) to a mesh of curved elements."""
    points = np.concatenate([boundary.ends, inside])
    delaunay = Delaunay(points)
    corners = delaunay.simplices.astype(np.intp)
    base = len(points)
    wanted = np.arange(len(boundary.ends)) * base + boundary.following
    _, found = _lookup((corners * base + np.roll(corners, -1, axis=1)).ravel(), wanted)
    if not found.all():
        return _missing(boundary, ~found)
    corners = corners[_metal(corners, delaunay.neighbors.astype(np.intp), boundary, base)]
    used = np.unique(corners)
    number = np.full(base, -1)
    number[used] = np.arange(len(used))
    if (number[: len(boundary.ends)] < 0).any():
        return _missing(boundary, number[: len(boundary.ends)] < 0)
    return _curved(points[used], number[corners], number[: len(boundary.ends)], boundary)


def _missing(boundary: Sides, which: NDArray[np.bool_]) -> Missing:
    return Missing(int(which.sum()), _place(boundary.middles[which]))


def _curved(points: Points, corners: Integers, start: Integers, boundary: Sides) -> Mesh | Missing:
    """Return the mesh of *corners* (m, 3) with the sides of *boundary*, from nodes *start*, bent.

    *start* (n,) are the nodes where the sides begin.
    """
    base, stop = len(points), start[boundary.following]
    keys = _keys(corners, np.roll(corners, -1, axis=1), base)
    unique, middle = np.unique(keys.ravel(), return_inverse=True)
    middles = (points[unique // base] + points[unique % base]) / 2
    directed = (corners * base + np.roll(corners, -1, axis=1)).ravel()
    owners, found = _lookup(directed, start * base + stop)
    if not found.all():
        return _missing(boundary, ~found)
    side, _ = _lookup(unique, _keys(start, stop, base))
    middles[side] = boundary.middles
    return _checked(
        Mesh(
            nodes=np.concatenate([points, middles]),
            triangles=np.concatenate([corners, middle.reshape(-1, 3) + base], axis=1),
            edges=np.stack([start, side + base, stop], axis=1),
            loops=boundary.loops,
            owners=owners // 3,
            straight=np.zeros(len(start), dtype=bool),
        )
    )


def _keys(a: Integers, b: Integers, base: int) -> Integers:
    """Return one number for each side, the same from both its ends."""
    result: Integers = np.minimum(a, b) * base + np.maximum(a, b)
    return result


def _checked(mesh: Mesh) -> Mesh | Missing:
    """Return *mesh* unfolded, numbered round the ring, or what stays folded.

    Numbered so, the minimum-degree ordering of the solver fills in a third.
    """
    nodes = mesh.nodes.copy()
    straight = _straighten(nodes, mesh.triangles, mesh.edges, mesh.owners)
    x = nodes[mesh.triangles]
    folded = (_jacobians(x).min(axis=1) <= 0) | (quality(x[:, :3]) < SLIVER)
    if folded.any():
        return Missing(int(folded.sum()), _place(x[folded].mean(axis=1)))
    order = np.argsort(np.arctan2(nodes[:, 1], nodes[:, 0]), kind="stable")
    number = np.empty_like(order)
    number[order] = np.arange(len(order))
    return Mesh(
        nodes[order],
        number[mesh.triangles],
        number[mesh.edges],
        mesh.loops,
        mesh.owners,
        straight,
    )


def _place(points: Points) -> tuple[float, float]:
    x, y = points[0]
    return float(x), float(y)


def _straighten(
    nodes: Points, triangles: Integers, edges: Integers, owners: Integers
) -> NDArray[np.bool_]:
    """Straighten, in place, sides whose curve folds their element; tell which."""
    straight = np.zeros(len(edges), dtype=bool)
    x = nodes[triangles[owners]]
    folded = _jacobians(x).min(axis=1) < FOLDED * _twice_area(x)
    ends = edges[folded]
    nodes[ends[:, 1]] = (nodes[ends[:, 0]] + nodes[ends[:, 2]]) / 2
    straight[folded] = True
    return straight
