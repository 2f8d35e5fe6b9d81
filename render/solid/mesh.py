"""The faces of a ring as a closed mesh of triangles.

Each piece of a contour is divided into as many chords in every loop that a stack of walls runs
through, so that neighbours share their corners and the mesh is closed by construction.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeAlias

import manifold3d
import numpy as np
from numpy.typing import NDArray

from openwork.render.solid.faces import Faces, Floor, Loop, Wall
from openwork.render.solid.turned_mesh import TurnedMesh
from openwork.shape.contour import Contour, Points, as_complex, as_points

Integers: TypeAlias = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Mesh:
    """Corners (n, 3) in mm and triangles (m, 3) of their numbers, ccw as seen from outside."""

    corners: Points
    triangles: Integers


def meshed(faces: Faces, chord: float) -> Mesh:
    """Return the closed mesh of *faces*, its chords at most *chord* (mm) from their arcs."""
    counts = _counts(faces, chord)
    numbers: dict[Loop, Integers] = {}
    corners: list[Points] = []
    for loop, count in counts.items():
        first = sum(map(len, corners))
        points = _chords(loop.contour, count)
        corners.append(np.column_stack([points, np.full(len(points), loop.height)]))
        numbers[loop] = np.arange(first, first + len(points))
    everything = np.concatenate(corners)
    triangles = [_wall(wall, counts, numbers) for wall in faces.walls]
    triangles += [_floor(floor, numbers, everything) for floor in faces.floors]
    sides = TurnedMesh(faces, chord, len(everything))
    for cliff in faces.cliffs:
        sides.mark(cliff)
    for patch in faces.patches:
        triangles += sides.patch(patch, [numbers[hole] for hole in patch.holes], everything)
    for cliff in faces.cliffs:
        triangles += sides.cliff(cliff)
    triangles += [sides.strip(strip) for strip in faces.strips]
    more = np.array(sides.snap.points).reshape(-1, 3)
    return Mesh(np.concatenate([everything, more]), np.concatenate(triangles))


def _counts(faces: Faces, chord: float) -> Mapping[Loop, Integers]:
    """Return the number of chords of each piece; pieces that a wall joins have as many."""
    walls = faces.walls
    loops = [loop for wall in walls for loop in (wall.start, wall.end)]
    loops += [loop for floor in faces.floors for loop in (floor.outer, *floor.holes)]
    counts = {loop: _needed(loop.contour, chord) for loop in loops}
    # Along a stack of walls what one loop needs reaches all others, in either direction.
    for wall in (*walls, *reversed(walls)):
        kept = np.array(wall.kept)
        most = np.maximum(counts[wall.start][kept], counts[wall.end])
        counts[wall.start][kept] = counts[wall.end][:] = most
    return counts


def _needed(contour: Contour, chord: float) -> Integers:
    step = 2 * np.arccos(np.clip(1 - chord / contour.radii, 0.5, 1))
    with np.errstate(divide="ignore", invalid="ignore"):
        count = np.ceil(np.abs(contour.sweeps) / step - 1e-9)
    return np.where(contour.bulges == 0, 1, count).astype(np.int64)


def _chords(contour: Contour, counts: Integers) -> Points:
    """Return points (k, 2) that divide each piece evenly into so many chords."""
    piece = np.repeat(np.arange(len(contour)), counts)
    part = (np.arange(len(piece)) - np.repeat(np.cumsum(counts) - counts, counts)) / counts[piece]
    centre = np.where(contour.bulges == 0, 0, as_complex(contour.centres))[piece]
    turned = np.exp(1j * contour.sweeps[piece] * part)
    points = centre + (as_complex(contour.points)[piece] - centre) * turned
    return as_points(points)


def _wall(
    wall: Wall, counts: Mapping[Loop, Integers], numbers: Mapping[Loop, Integers]
) -> Integers:
    """Return the triangles (m, 3) of a wall; a piece that shrinks to a point becomes a fan."""
    start, end = numbers[wall.start], numbers[wall.end]
    count = counts[wall.start]
    goes_on = np.isin(np.arange(len(count)), wall.kept)
    # How many corners of the end lie behind each corner of the start.
    each = np.repeat(goes_on, count).astype(np.int64)
    behind: Integers = np.cumsum(each) - each
    across = end[behind % len(end)]
    a, b, c, d = start, np.roll(start, -1), np.roll(across, -1), across
    triangles = np.concatenate([np.column_stack([a, b, c]), np.column_stack([a, c, d])])
    triangles = triangles[triangles[:, 1] != triangles[:, 2]]
    from_right = (wall.end.height > wall.start.height) == wall.outside
    wound: Integers = triangles if from_right else triangles[:, ::-1]
    return wound


def _floor(floor: Floor, numbers: Mapping[Loop, Integers], corners: Points) -> Integers:
    """Return the triangles (m, 3) of a plane face."""
    rings = [numbers[floor.outer], *(numbers[hole][::-1] for hole in floor.holes)]
    triangles = manifold3d.triangulate([corners[ring, :2] for ring in rings])
    found: Integers = np.concatenate(rings)[triangles]
    return found if floor.front else found[:, ::-1]
