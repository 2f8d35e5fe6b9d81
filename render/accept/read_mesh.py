"""The meshes as others read them: STL by trimesh, 3MF by the library of the 3MF Consortium.

Both are then judged by trimesh and manifold3d, which know nothing of how they were made.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import lib3mf
import manifold3d
import numpy as np
import trimesh

from openwork.render.accept.probes import probes
from openwork.render.accept.reading import Body, Reading
from openwork.render.accept.sections import edge_in, least_bolts_in, openings_in, outline_in, parted
from openwork.shape.contour import Contour, area, polygon_contour, reverse

if TYPE_CHECKING:
    from openwork.part.hole import Hole
    from openwork.ring import Design

UNITS = {0: "micrometres", 1: "mm", 2: "cm", 3: "inches", 4: "feet", 5: "m"}
SLIVER = 1e-9  # mm2 of a triangle that stands upright, and share of one
HEAD, ROW = 84, 50  # bytes of a binary STL before its triangles, and of each


def read_stl(path: Path, design: Design, *, chord: float) -> Reading:
    """Return the STL at *path* as read; raises ValueError where it is none."""
    data = path.read_bytes()
    count = int.from_bytes(data[80:HEAD], "little")
    if len(data) != HEAD + ROW * count or data.startswith(b"solid"):
        raise ValueError("no binary STL of as many triangles as it says")
    found = trimesh.load_mesh(str(path), file_type="stl")
    spare = any(data[HEAD + ROW - 2 :: ROW]) or any(data[HEAD + ROW - 1 :: ROW])
    foreign = ["attributes of triangles, which some readers take for colours"] if spare else []
    return _reading(found, design, chord, f"trimesh {trimesh.__version__}", "", foreign)


def read_3mf(path: Path, design: Design, *, chord: float) -> Reading:
    """Return the 3MF at *path* as read; raises ValueError where it is none."""
    wrapper = lib3mf.get_wrapper()
    model = wrapper.CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    try:
        reader.ReadFromFile(str(path))
    except lib3mf.ELib3MFException as fault:
        raise ValueError(f"no sound 3MF: {fault}") from fault
    items, foreign = model.GetBuildItems(), []
    objects = model.GetMeshObjects()
    if items.Count() != 1 or objects.Count() != 1:
        foreign.append(f"{objects.Count()} objects in {items.Count()} places")
    while items.MoveNext():
        if items.GetCurrent().HasObjectTransform():
            foreign.append("a transform")
    objects.MoveNext()
    body = objects.GetCurrentMeshObject()
    corners = np.array([list(one.Coordinates) for one in body.GetVertices()], dtype=float)
    triangles = np.array([list(one.Indices) for one in body.GetTriangleIndices()])
    found = trimesh.Trimesh(corners, triangles, process=False)
    version = ".".join(map(str, wrapper.GetLibraryVersion()))
    unit = UNITS[int(model.GetUnit())]
    return _reading(found, design, chord, f"lib3mf {version}", unit, foreign)


def _reading(
    found: Any, design: Design, chord: float, reader: str, unit: str, foreign: Sequence[str] = ()
) -> Reading:
    manifold = manifold3d.Manifold(
        manifold3d.Mesh(found.vertices.astype(np.float32), found.faces.astype(np.uint32))
    )
    blank = design.blank
    low, high = found.bounds[:, 2]
    middle = _slice(manifold, 0.0)
    openings, pockets = _openings(manifold, design, middle)
    return Reading(
        reader=reader,
        unit=unit,
        outline=(*outline_in(_slice(manifold, blank.offset)), *edge_in(middle)),
        bolts=_bolts(manifold, design),
        openings=openings,
        pockets=pockets,
        foreign=tuple(foreign),
        chord=chord,
        body=Body(
            volume=float(found.volume),
            centre=np.array(found.center_mass),
            low=float(low),
            high=float(high),
            through=1 - found.euler_number // 2,
            heights=_heights(found, design),
            loose=tuple(_loose(found, manifold)),
        ),
    )


def _openings(
    manifold: Any, design: Design, middle: Sequence[Contour]
) -> tuple[tuple[Contour, ...], tuple[Contour, ...]]:
    """Return openings and pockets: both are there half-way down a pocket, openings below it too."""
    if not design.floors:
        return openings_in(middle, design), ()
    half, pocket, bevel = design.blank.plate / 2, design.spec.pocket, design.spec.web.widest_bevel
    side = -1 if pocket.faces[0] == "back" else 1
    depth = pocket.depth(2 * half)
    every = openings_in(_holes(manifold, side * (half - (bevel + depth) / 2)), design)
    below = openings_in(_holes(manifold, side * (half - depth - pocket.floor / 2)), design)
    return parted(every, below)


def _bolts(manifold: Any, design: Design) -> tuple[Contour, ...]:
    """Return the bolt holes, each cut half-way down its own wall."""
    levels = {_middle(hole) for hole in design.spec.mount.bolt_holes}
    loops = [loop for level in sorted(levels) for loop in _slice(manifold, level)]
    return least_bolts_in(loops, design)


def _middle(hole: Hole) -> float:
    """Return the height, mm, half-way down the wall that the recesses leave of a hole."""
    sunk = [
        *((one.face, one.depth) for one in [hole.counterbore] if one is not None),
        *((one.face, hole.sink_depth) for one in [hole.countersink] if one is not None),
    ]
    return sum(depth if face == "back" else -depth for face, depth in sunk) / 2


def _heights(found: Any, design: Design) -> tuple[tuple[float, float], ...]:
    """Return the lowest and the highest metal over each probe, from the triangles over it."""
    corners = found.vertices[found.faces]
    z = corners[..., 0] + 1j * corners[..., 1]
    heights = []
    for one in probes(design):
        near = np.flatnonzero(
            (corners[..., 0].min(axis=1) <= one.point.real)
            & (corners[..., 0].max(axis=1) >= one.point.real)
            & (corners[..., 1].min(axis=1) <= one.point.imag)
            & (corners[..., 1].max(axis=1) >= one.point.imag)
        )
        a, b, c = (z[near, k] - one.point for k in range(3))
        parts = np.column_stack([(np.conj(p) * q).imag for p, q in ((b, c), (c, a), (a, b))])
        total = parts.sum(axis=1)
        flat = np.abs(total) > SLIVER
        parts = parts[flat] / total[flat, None]
        over = (parts >= -SLIVER).all(axis=1)
        met = (parts[over] * corners[near][flat][over, :, 2]).sum(axis=1)
        heights.append((float(met.min()), float(met.max())) if len(met) else (np.nan, np.nan))
    return tuple(heights)


def _slice(manifold: Any, height: float) -> list[Contour]:
    polygons = [polygon_contour(one) for one in manifold.slice(height).to_polygons()]
    return [one if area(one) > 0 else reverse(one) for one in polygons]


def _holes(manifold: Any, height: float) -> list[Contour]:
    """Return what is open in a slice, lone teeth left out."""
    polygons = [polygon_contour(one) for one in manifold.slice(height).to_polygons()]
    return [reverse(one) for one in polygons if area(one) < 0]


def _loose(found: Any, manifold: Any) -> Iterator[str]:
    if not found.is_watertight:
        yield "the mesh is not watertight"
    if not found.is_winding_consistent:
        yield "triangles face both ways"
    if found.body_count != 1:
        yield f"the mesh has {found.body_count} bodies"
    if manifold.status() != manifold3d.Error.NoError:
        yield f"the mesh bounds no solid: {manifold.status()}"
    if np.any(found.area_faces <= 0):
        yield "triangles without area"
