"""Every ring of the gallery passes the eight checks in every format, and the formats agree.

The solids are made without bevels, and the STEP of those rings whose openings have more than a
few hundred pieces is left out: the kernel takes seconds to read and check such a file.
Bevels are tested on small rings in ``test_step.py`` and here on the demo.
"""

from pathlib import Path
from typing import Any

import pytest

import openwork
from openwork.render.accept.acceptance import refused
from openwork.render.accept.read_dxf import read_dxf
from openwork.render.accept.read_mesh import read_3mf, read_stl
from openwork.render.accept.read_step import read_step
from openwork.render.accept.read_svg import read_svg
from openwork.render.ring.outline import ring_svg
from openwork.render.shop.dxf import ring_dxf
from openwork.render.shop.printed import ring_3mf, ring_mesh, ring_stl
from openwork.render.shop.step import ring_step
from openwork.shape.contour import area
from tests._sweep import often

GALLERY = Path(__file__).parents[2] / "gallery"
CHORD = 0.05
SPECS = sorted(GALLERY.glob("*/spec.toml"))
OFTEN = ("harbour", "jetty", "lighter", "lighthouse", "nameplate", "skiff", "slipway", "spokes")
MANY = 600  # pieces of the openings


def name(path: Path) -> str:
    return path.parent.name


def face(reading: Any) -> Any:
    outline, *holes = map(area, reading.contours)
    return outline - sum(holes)


@pytest.mark.parametrize("path", often(SPECS, lambda path: name(path) in OFTEN, name))
def test_every_format_passes_and_all_agree(path: Path, tmp_path: Path) -> None:
    design = openwork.design(openwork.load(path, {"web.bevel": 0.0}))
    mesh = ring_mesh(design, chord=CHORD)
    files = {
        "ring.svg": ring_svg(design, openwork.figures(design)).encode(),
        "ring.dxf": ring_dxf(design),
        "ring.3mf": ring_3mf(mesh, design.spec.title),
        "ring.stl": ring_stl(mesh, design.spec.title),
    }
    for name, data in files.items():
        (tmp_path / name).write_bytes(data)
    readings = {
        "ring.svg": read_svg(tmp_path / "ring.svg"),
        "ring.dxf": read_dxf(tmp_path / "ring.dxf"),
        "ring.3mf": read_3mf(tmp_path / "ring.3mf", design, chord=CHORD),
        "ring.stl": read_stl(tmp_path / "ring.stl", design, chord=CHORD),
    }
    if sum(map(len, design.openings)) <= MANY:
        (tmp_path / "ring.step").write_bytes(ring_step(design))
        readings["ring.step"] = read_step(tmp_path / "ring.step", design)
    assert {name: found for name, one in readings.items() if (found := refused(one, design))} == {}
    faces = {name: face(readings[name]) for name in readings if name[5:] in ("svg", "dxf", "step")}
    assert faces == pytest.approx(dict.fromkeys(faces, faces["ring.dxf"]), rel=1e-5)


def test_the_demo_passes_with_its_bevels(tmp_path: Path) -> None:
    design = openwork.design(openwork.load(GALLERY / "harbour/spec.toml"))
    assert design.spec.web.widest_bevel > 0
    (tmp_path / "ring.step").write_bytes(ring_step(design))
    assert refused(read_step(tmp_path / "ring.step", design), design) == {}
