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

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components
from scipy.spatial import Delaunay, cKDTree

from openwork.errors import RuleError
from openwork.shape.contour import Contour, Floats, Points, reverse
from openwork.strength.sampling import Integers, Sides, Size, sides

CLEAR = 0.6  # of the grid spacing: how far grid nodes stay from edge nodes
DEEPEST = 6  # halvings of the grid
LENIENT = 0.2  # of a halving: grids this much coarser than wanted still do
FOLDED = 0.15  # of a straight triangle's Jacobian: below it a curved side is straightened
SLIVER = 0.05  # quality below which a triangle is no element but a gap closed by rounding
TRIES = 4


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

    @property
    def quality(self) -> Floats:
        """4 sqrt(3) area / sum of squared sides (m,): 1 for an equilateral triangle."""
        return _quality(self.nodes[self.triangles[:, :3]])


@dataclass(frozen=True, slots=True)
class Missing:
    """Why no mesh came out: sides the triangulation left out, or folded elements, and where."""

    count: int
    place: tuple[float, float]


def _twice_area(p: Floats) -> Floats:
    a, b = p[:, 1] - p[:, 0], p[:, 2] - p[:, 0]
    area: Floats = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    return area


def _quality(p: Floats) -> Floats:
    square = ((p - np.roll(p, -1, axis=1)) ** 2).sum(axis=(1, 2))
    result: Floats = 2 * np.sqrt(3) * _twice_area(p) / square
    return result


def _hexagonal(low: Points, high: Points, step: float) -> Points:
    """Return a hexagonal grid of points *step* apart over a box, one on the origin."""
    row = step * np.sqrt(3) / 2
    j = np.arange(np.floor(low[1] / row), np.ceil(high[1] / row) + 1)
    i = np.arange(np.floor(low[0] / step) - 1, np.ceil(high[0] / step) + 1)
    x, y = np.meshgrid(i * step, j * row)
    x = x + (np.abs(j)[:, None] % 2) * step / 2
    return np.column_stack([x.ravel(), y.ravel()])


def _inside(points: Points, boundary: Sides) -> NDArray[np.bool_]:
    """Tell which *points* lie in the metal, from the nearest side; near sides it may err."""
    tree = cKDTree(boundary.middles)
    _, nearest = tree.query(points)
    a = boundary.ends[nearest]
    d = boundary.ends[boundary.following[nearest]] - a
    v = points - a
    left: NDArray[np.bool_] = d[:, 0] * v[:, 1] - d[:, 1] * v[:, 0] > 0
    return left


def _clear(points: Points, boundary: Sides, distance: float) -> NDArray[np.bool_]:
    """Tell which *points* keep *distance* (mm) from the nodes of the sides."""
    tree = cKDTree(np.concatenate([boundary.ends, boundary.middles]))
    away, _ = tree.query(points, distance_upper_bound=distance)
    clear: NDArray[np.bool_] = np.isinf(away)
    return clear


def _grid(boundary: Sides, step: float, size: Size | None, extra: Points) -> Points:
    """Return the nodes inside: grids of halved steps where *size* asks for them, and *extra*."""
    edge_nodes = np.concatenate([boundary.ends, boundary.middles, extra])
    tree = cKDTree(edge_nodes)
    low, high = boundary.ends.min(axis=0), boundary.ends.max(axis=0)
    kept = []
    levels = 1
    if size is not None:
        halvings = np.log2(step / size(boundary.ends).min()) - LENIENT
        levels = 1 + int(np.clip(np.ceil(halvings), 0, DEEPEST))
    for level in range(levels):
        spacing = step / 2**level
        points = _hexagonal(low, high, spacing)
        if size is not None:
            wanted = np.clip(np.ceil(np.log2(step / size(points)) - LENIENT), 0, levels - 1)
            points = points[wanted == level]
        distance, _ = tree.query(points, distance_upper_bound=CLEAR * spacing)
        points = points[np.isinf(distance)]
        kept.append(points[_inside(points, boundary)])
    return np.concatenate(kept)


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


def shape_slopes(barycentric: Floats) -> Floats:
    """Return the slopes (g, 6, 2) of the quadratic shape functions along sides 0-1 and 0-2."""
    l0, l1, l2 = barycentric.T
    zero = np.zeros_like(l0)
    along = [1 - 4 * l0, 4 * l1 - 1, zero, 4 * (l0 - l1), 4 * l2, -4 * l2]
    up = [1 - 4 * l0, zero, 4 * l2 - 1, -4 * l1, 4 * l1, 4 * (l0 - l2)]
    return np.stack([np.stack(along, axis=-1), np.stack(up, axis=-1)], axis=-1)


def shapes(barycentric: Floats) -> Floats:
    """Return the quadratic shape functions (g, 6) at barycentric points (g, 3)."""
    l0, l1, l2 = barycentric.T
    corners = [l0 * (2 * l0 - 1), l1 * (2 * l1 - 1), l2 * (2 * l2 - 1)]
    return np.stack([*corners, 4 * l0 * l1, 4 * l1 * l2, 4 * l2 * l0], axis=-1)


def triangulated(boundary: Sides, inside: Points) -> Mesh | Missing:
    """Join the sides of *boundary* and the nodes *inside* (k, 2) to a mesh of curved elements."""
    points = np.concatenate([boundary.ends, inside])
    delaunay = Delaunay(points)
    corners = delaunay.simplices.astype(np.intp)
    base = len(points)
    wanted = np.arange(len(boundary.ends)) * base + boundary.following
    _, found = _lookup((corners * base + np.roll(corners, -1, axis=1)).ravel(), wanted)
    if not found.all():
        return Missing(int((~found).sum()), _place(boundary.middles[~found]))
    corners = corners[_metal(corners, delaunay.neighbors.astype(np.intp), boundary, base)]
    if len(corners) == 0:
        return Missing(len(boundary.ends), _place(boundary.ends))
    used, corners = np.unique(corners, return_inverse=True)
    corners = corners.reshape(-1, 3)
    number = np.full(base, -1)
    number[used] = np.arange(len(used))
    points, base = points[used], len(used)

    start, stop = corners, np.roll(corners, -1, axis=1)
    keys = np.minimum(start, stop) * base + np.maximum(start, stop)
    unique, middle = np.unique(keys.ravel(), return_inverse=True)
    middle = middle.reshape(-1, 3) + base
    middles = (points[unique // base] + points[unique % base]) / 2

    a = number[: len(boundary.ends)]
    b = a[boundary.following]
    owners, found = _lookup((start * base + stop).ravel(), a * base + b)
    found &= (a >= 0) & (b >= 0)
    if not found.all():
        return Missing(int((~found).sum()), _place(boundary.middles[~found]))
    owners //= 3
    side, _ = _lookup(unique, np.minimum(a, b) * base + np.maximum(a, b))
    middles[side] = boundary.middles
    nodes = np.concatenate([points, middles])
    triangles = np.concatenate([corners, middle], axis=1)
    edges = np.stack([a, side + base, b], axis=1)
    straight = _straighten(nodes, triangles, edges, owners)
    x = nodes[triangles]
    folded = (_jacobians(x).min(axis=1) <= 0) | (_quality(x[:, :3]) < SLIVER)
    if folded.any():
        return Missing(int(folded.sum()), _place(x[folded].mean(axis=1)))
    order = np.argsort(np.arctan2(nodes[:, 1], nodes[:, 0]), kind="stable")
    # Numbered round the ring: the minimum-degree ordering of the solver then fills in a third.
    renumbered = np.empty_like(order)
    renumbered[order] = np.arange(len(order))
    return Mesh(
        nodes[order], renumbered[triangles], renumbered[edges], boundary.loops, owners, straight
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
            _inside(more, boundary) & _clear(more, boundary, CLEAR * along * spacings.min())
        ]
        grid = _grid(boundary, step * inside, finer, more)
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
