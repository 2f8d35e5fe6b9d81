"""The part as it is cut, measured on the solid: sides, lands, recesses, chamfers, dish."""

import math
from pathlib import Path
from typing import Any

import manifold3d
import numpy as np
import pytest

import openwork
from openwork.errors import OpenworkError
from openwork.measure.figures import mass
from openwork.render.accept.acceptance import refused
from openwork.render.accept.read_step import read_step
from openwork.render.shop.printed import ring_mesh
from openwork.render.shop.section import heights
from openwork.render.shop.step import ring_step
from openwork.render.solid.mesh import Mesh
from openwork.ring import Design
from openwork.shape.contour import area, length
from openwork.spec.spec import from_toml, load
from tests._sweep import named, often

ALTERNATING = {"ring.chain": "12-speed", "ring.alternating": {}}
SQUARE = {"ring.sides": "square"}
CHORD = 0.02
WHOLE: dict[str, dict[str, Any]] = {
    "sides": {},
    "straight sides": {"ring.sides": {"relief": 0.5, "angle": 20.0}},
    "alternating": ALTERNATING,
    "alternating, square": {**ALTERNATING, **SQUARE},
    "dished": {"ring.offset": 4.0, "web.rim": 5.0},
    "dished backwards": {"ring.offset": -4.0, "web.rim": 5.0, "edges.step": 0.2},
    "counterbore behind": {
        "mount.counterbore": {"diameter": 12.5, "depth": 1.0, "face": "back"},
        "edges.bolts": 0.2,
    },
    "countersink": {"mount.countersink": {"diameter": 12.5, "angle": 82.0}},
    "chamfers": {"edges.bore": 0.8, "edges.step": 0.4, "edges.bolts": 0.3},
    "chamfered teeth": {"edges.teeth": 0.2, **SQUARE},
    "chamfered turned teeth": {"edges.teeth": 0.2},
    "chamfered straight sides": {
        "edges.teeth": 0.2,
        "ring.sides": {"relief": 0.5, "angle": 20.0},
        "ring.offset": 4.0,
        "web.rim": 5.0,
    },
    "turned, tapped": {"mount.turn": 36.0, "mount.hole": {"tap": "M8x0.75"}},
}
SPEC = """
[ring]
teeth = 28
[mount]
bolts = 4
circle = 64.0
[pattern]
name = "spokes"
count = 20
"""


def made(changes: dict[str, Any]) -> Any:
    return openwork.design(from_toml(SPEC, changes=changes))


def back(design: Design, folder: Path) -> Any:
    path = folder / "ring.step"
    path.write_bytes(ring_step(design))
    return read_step(path, design)


def weighed(design: Design, folder: Path) -> None:
    """Assert that a STEP file passes every check and has the volume of the mass integral."""
    reading = back(design, folder)
    assert refused(reading, design) == {}
    wanted = mass(design) / design.blank.material.density
    assert reading.body.volume == pytest.approx(wanted, rel=5e-8)


@pytest.mark.parametrize(
    "changes",
    named(WHOLE, {"alternating", "dished backwards", "chamfered turned teeth"}),
)
def test_the_step_file_has_the_volume_of_the_mass(changes: dict[str, Any], tmp_path: Path) -> None:
    weighed(made(changes), tmp_path)


MOUNTS = ("harbour", "quay", "breakwater", "lighthouse", "slipway", "buoy", "voronoi", "ferry",
          "jetty")  # fmt: skip


def all_that_goes(name: str) -> tuple[Design, set[str]]:
    """Return a ring on a mount of the gallery with all of WHOLE that its metal bears at once."""
    changes: dict[str, Any] = {"pattern": {"name": "spokes"}, "goal": {}}
    kept = set()
    for what in ("dished", "alternating", "counterbore behind", "chamfers", "straight sides"):
        try:
            openwork.design(load(f"gallery/{name}/spec.toml", {**changes, **WHOLE[what]}))
        except OpenworkError:
            continue
        changes |= WHOLE[what]
        kept.add(what)
    return openwork.design(load(f"gallery/{name}/spec.toml", changes)), kept


@pytest.mark.parametrize("name", often(MOUNTS, "slipway".__eq__))
def test_on_every_mount_of_the_gallery(name: str, tmp_path: Path) -> None:
    """Volume of one STEP file with sides, edges, alternating teeth, counterbores and dish."""
    design, kept = all_that_goes(name)
    assert len(kept) >= 4, kept
    assert back(design, tmp_path).body.volume == pytest.approx(
        mass(design) / design.blank.material.density, rel=5e-8
    )


@pytest.mark.parametrize("changes", WHOLE.values(), ids=WHOLE)
def test_the_mesh_is_closed_and_as_near_as_its_chords(changes: dict[str, Any]) -> None:
    design = made(changes)
    solid = manifold(ring_mesh(design, chord=CHORD))
    assert solid.status() == manifold3d.Error.NoError
    assert len(solid.decompose()) == 1
    ring = design.blank
    outlines = (ring.outline, ring.edge, *ring.bolts, *design.openings)
    lost = 2 / 3 * CHORD * sum(map(length, outlines)) * (ring.heights[1] - ring.heights[0])
    lost += 2 * CHORD * (area(ring.outline) - math.pi * ring.shroud**2)
    wanted = mass(design) / ring.material.density
    assert abs(solid.volume() - wanted) < lost


@pytest.mark.parametrize("changes", WHOLE.values(), ids=WHOLE)
def test_the_section_drawn_is_that_of_the_solid(changes: dict[str, Any]) -> None:
    """Heights of the page's section against the mesh, upright through bolt and tooth."""
    whole = {"pattern.name": "plain", "mount.turn": 360 / 28 / 2}
    design = made({"edges.bolts": 0.2, **changes, **whole})
    ring, mount = design.blank, design.spec.mount
    mesh = ring_mesh(design, chord=0.005)
    way = np.exp(1j * (mount.bolt_angles[0] + 1e-4))  # off the corners of the mesh
    bolt, tip = mount.circle / 2, ring.tip_diameter / 2
    radii = [bolt + away for away in np.linspace(5.1, tip - bolt - 0.03, 40)]
    radii = [one for one in radii if _away_from_steps(design, one)]
    assert len(radii) > 20
    for radius in radii:
        found = upright(mesh, way * radius)
        assert (found.min(), found.max()) == pytest.approx(heights(design, radius), abs=0.012), (
            radius - bolt
        )


def upright(mesh: Mesh, point: complex) -> Any:
    """Return the heights at which an upright line meets a mesh."""
    a, b, c = (mesh.corners[mesh.triangles[:, k]] for k in range(3))
    z = [one[:, 0] + 1j * one[:, 1] - point for one in (a, b, c)]
    parts = np.array([(z[k - 2].conj() * z[k - 1]).imag for k in range(3)])
    whole = parts.sum(axis=0)
    met = (np.abs(whole) > 1e-12) & ((parts * np.sign(whole)) >= 0).all(axis=0)
    share = parts[:, met] / whole[met]
    return sum(share[k] * one[met, 2] for k, one in enumerate((a, b, c)))


def _away_from_steps(design: Design, radius: float) -> bool:
    """Tell whether no height jumps beside a radius."""
    ends = (heights(design, radius - 0.03), heights(design, radius + 0.03))
    return bool(np.abs(np.subtract(*ends)).max() < 0.1)


def manifold(mesh: Mesh) -> Any:
    return manifold3d.Manifold(
        manifold3d.Mesh(mesh.corners.astype(np.float32), mesh.triangles.astype(np.uint32))
    )


def test_square_teeth_without_chamfers_have_two_levels_only() -> None:
    """As before sides were turned: every corner of the band lies on one of two planes."""
    design = made(SQUARE)
    mesh = ring_mesh(design)
    beyond = np.hypot(*mesh.corners[:, :2].T) > design.blank.shroud + 1e-6
    heights = np.unique(mesh.corners[beyond, 2].round(9))
    assert heights == pytest.approx(list(design.blank.band), abs=1e-6)


@pytest.mark.parametrize("number", ["081", "082", "11/128", "083", "085"])
def test_ten_sections_of_the_step_are_as_thick_as_the_standard_says(
    number: str, tmp_path: Path
) -> None:
    """ISO 606:2015 clause 5.6, from memory: width 0.93 b1, side radius p, relief 0.06 p."""
    from OCP.gp import gp_Dir, gp_Lin, gp_Pnt
    from OCP.IntCurvesFace import IntCurvesFace_ShapeIntersector
    from OCP.STEPControl import STEPControl_Reader

    design = made({"ring.chain": number})
    path = tmp_path / "ring.step"
    path.write_bytes(ring_step(design))
    reader = STEPControl_Reader()
    reader.ReadFile(str(path))
    reader.TransferRoots()
    finder = IntCurvesFace_ShapeIntersector()
    finder.Load(reader.OneShape(), 1e-7)
    tip = design.blank.tip_diameter / 2
    inner_width = design.blank.chain.inner_width
    depth = math.sqrt(2 * 12.7 * 0.762 - 0.762**2)  # of the side's arc: where it is tangent
    angle = 3 * math.pi / 28
    for radius in np.linspace(design.blank.diameters.root / 2 - 0.4, tip - 0.01, 10):
        x, y = radius * math.cos(angle), radius * math.sin(angle)
        finder.Perform(gp_Lin(gp_Pnt(x, y, -20), gp_Dir(0, 0, 1)), 0, 40)
        met = [finder.WParameter(k) for k in range(1, finder.NbPnt() + 1)]
        off = max(radius - (tip - depth), 0.0)
        wanted = 0.93 * inner_width - 2 * (12.7 - math.sqrt(12.7**2 - off**2))
        assert max(met) - min(met) == pytest.approx(wanted, abs=2e-6)


def plates(ring: Any, inner: float, low: float, high: float) -> Any:
    """Return both plates of every inner, or outer, link on *ring*, from *low* to *high* aside."""
    pitch, deep = ring.diameters.pitch / 2, ring.chain.plate_depth / 2
    found = []
    for k in range(ring.teeth):
        # Where teeth alternate an outer link lies about the first tooth, which is wide.
        if (k % 2 == 0) == inner:
            continue
        for way in (-1, 1):
            z = ring.offset + (low if way > 0 else -high)
            ends = [
                manifold3d.Manifold.cylinder(high - low, deep, circular_segments=64).translate(
                    (pitch * math.cos(a), pitch * math.sin(a), z)
                )
                for a in (math.tau * k / ring.teeth, math.tau * (k + 1) / ring.teeth)
            ]
            found.append(manifold3d.Manifold.batch_hull(ends))
    return manifold3d.Manifold.batch_boolean(found, manifold3d.OpType.Add)


@pytest.mark.parametrize(
    "changes",
    [
        ALTERNATING,
        {**ALTERNATING, **SQUARE},
        {"ring.chain": "081", "ring.alternating": {}},
        {"ring.chain": {"inner": 2.3, "roller": 7.7, "plates": 8.4}, "ring.alternating": {}},
        {"ring.chain": "082"},
        {"ring.chain": "11/128", "ring.offset": 0.5},
    ],
)
def test_a_chain_laid_round_the_ring_touches_nothing(changes: dict[str, Any]) -> None:
    """Rollers and plates from the standard's widths, inner and outer links by turns."""
    design = made(changes)
    ring, size = design.blank, design.blank.chain
    solid = manifold(ring_mesh(design, chord=0.005))
    pitch = ring.diameters.pitch / 2
    rollers = manifold3d.Manifold.batch_boolean(
        [
            manifold3d.Manifold.cylinder(
                size.inner_width, size.roller / 2 - 0.01, circular_segments=128, center=True
            ).translate((pitch * math.cos(a), pitch * math.sin(a), ring.offset))
            for a in math.tau * np.arange(ring.teeth) / ring.teeth
        ],
        manifold3d.OpType.Add,
    )
    inner = plates(ring, True, size.inner_width / 2, size.outer_width / 2 - 0.05)
    outer = plates(ring, False, size.outer_width / 2, size.over_pins / 2)
    for part in (rollers, inner, outer):
        assert part.volume() > 1
        assert (solid ^ part).volume() < 1e-6
    if ring.alternating is not None:  # one link on, a wide tooth stands between inner plates
        wrong = inner.rotate((0, 0, 360 / ring.teeth))
        assert (solid ^ wrong).volume() > 1
