"""A printed prototype to check the fit with: the ring as a closed mesh, as 3MF and as STL.

Arcs become chords whose distance from the arc is chosen in mm. Needs the extra ``print``.
"""

from __future__ import annotations

import io
import zipfile
from dataclasses import replace
from importlib.metadata import version
from typing import TYPE_CHECKING
from xml.sax.saxutils import escape

import numpy as np

from openwork.errors import SpecError
from openwork.render.solid.faces import faces
from openwork.render.solid.mesh import Mesh, meshed

if TYPE_CHECKING:
    from openwork.part.hole import Hole
    from openwork.ring import Design

CHORD = 0.01  # mm, finer than a printer's path
LEAST_WALL = 1.0  # mm of a pad left round an enlarged hole; common practice, no source
DATE = (2000, 1, 1, 0, 0, 0)  # the same ring makes the same bytes
PACKAGE = "http://schemas.openxmlformats.org/package/2006"
CORE = "http://schemas.microsoft.com/3dmanufacturing"
XML = '<?xml version="1.0" encoding="UTF-8"?>\n'
TYPES = (
    f'{XML}<Types xmlns="{PACKAGE}/content-types">'
    '<Default Extension="rels"'
    ' ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="model"'
    ' ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>'
)
PARTS = (
    f'{XML}<Relationships xmlns="{PACKAGE}/relationships"><Relationship Id="ring"'
    f' Target="/3D/3dmodel.model" Type="{CORE}/2013/01/3dmodel"/></Relationships>'
)


def ring_mesh(design: Design, *, chord: float = CHORD) -> Mesh:
    """Return the closed mesh of *design*, its chords at most *chord* (mm) from their arcs.

    Raises RuleError where the bevels cannot be made.
    """
    return meshed(faces(design), chord)


def loosened(design: Design, clearance: float) -> Design:
    """Return *design* with bolt holes, and counterbores, wider by *clearance* (mm).

    Raises SpecError where too little would be left of the pads.
    """
    mount = design.spec.mount
    most = max(2 * (mount.pad - LEAST_WALL) - mount.widest, 0.0)
    if not 0 <= clearance <= most:
        raise SpecError(
            f"--hole-clearance {clearance:g}: must be from 0 to {most:g} mm, which leaves "
            f"{LEAST_WALL:g} mm of the pads"
        )
    if not clearance:
        return design
    holes = tuple(_wider(hole, clearance) for hole in mount.bolt_holes)
    alike = holes[0].model_dump(include={"hole"}) | {
        name: getattr(holes[0], name) for name in ("counterbore", "countersink")
    }
    mount = mount.model_copy(update={"holes": holes} if mount.holes else alike)
    bolts = tuple(hole.contour(point) for hole, point in zip(holes, mount.bolt_points, strict=True))
    return replace(
        design,
        spec=design.spec.model_copy(update={"mount": mount}),
        blank=replace(design.blank, mount=mount, bolts=bolts),
    )


def _wider(hole: Hole, clearance: float) -> Hole:
    """Return *hole*, and what is sunk for its bolt, wider by *clearance* (mm)."""
    sunk = {
        name: one.model_copy(update={"diameter": one.diameter + clearance})
        for name, one in (("counterbore", hole.counterbore), ("countersink", hole.countersink))
        if one is not None
    }
    return hole.model_copy(update={"hole": hole.hole + clearance, **sunk})


def ring_stl(mesh: Mesh, title: str) -> bytes:
    """Return the binary STL of *mesh*; the format knows no units, mm are meant."""
    row = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("spare", "<u2")])
    rows = np.zeros(len(mesh.triangles), row)
    places = mesh.corners[mesh.triangles]
    normals = np.cross(places[:, 1] - places[:, 0], places[:, 2] - places[:, 0])
    rows["corners"] = places
    rows["normal"] = normals / np.linalg.norm(normals, axis=1, keepdims=True)
    head = f"openwork, mm: {title}".encode("ascii", "replace")[:80].ljust(80)
    return head + len(rows).to_bytes(4, "little") + rows.tobytes()


def ring_3mf(mesh: Mesh, title: str) -> bytes:
    """Return the 3MF package of *mesh*, after the 3MF Core Specification, in mm."""
    vertices = "".join(f'<vertex x="{x:.6f}" y="{y:.6f}" z="{z:.6f}"/>' for x, y, z in mesh.corners)
    triangles = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in mesh.triangles)
    model = (
        f'{XML}<model unit="millimeter" xml:lang="en" xmlns="{CORE}/core/2015/02">'
        f'<metadata name="Title">{escape(title)}</metadata>'
        f'<metadata name="Application">openwork {version("openwork")}</metadata>'
        f'<resources><object id="1" type="model" name="ring"><mesh><vertices>{vertices}</vertices>'
        f"<triangles>{triangles}</triangles></mesh></object></resources>"
        '<build><item objectid="1"/></build></model>\n'
    )
    package = io.BytesIO()
    with zipfile.ZipFile(package, "w") as archive:
        for name, text in (
            ("[Content_Types].xml", TYPES),
            ("_rels/.rels", PARTS),
            ("3D/3dmodel.model", model),
        ):
            entry = zipfile.ZipInfo(name, DATE)
            entry.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(entry, text)
    return package.getvalue()
