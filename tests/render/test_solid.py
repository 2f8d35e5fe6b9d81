"""The printed prototype, judged by trimesh, by manifold3d and by the 3MF Consortium's library."""

import io
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import trimesh

import openwork
from openwork.errors import SpecError
from openwork.measure.figures import Figures, mass
from openwork.render.accept.acceptance import refused
from openwork.render.accept.read_mesh import read_3mf, read_stl
from openwork.render.shop.printed import loosened, ring_3mf, ring_mesh, ring_stl
from openwork.ring import Design
from openwork.spec.spec import from_toml
from tests._sure import sure


def volume(design: Design) -> Any:
    return mass(design) / design.blank.material.density


def test_the_mesh_is_closed_and_one_body(ring: tuple[Design, Figures]) -> None:
    design = ring[0]
    made = ring_mesh(design)
    found = trimesh.Trimesh(made.corners, made.triangles, process=False)
    assert found.is_watertight
    assert found.is_winding_consistent
    assert found.body_count == 1
    through = 1 + len(design.blank.bolts) + len(design.openings)
    assert found.euler_number == 2 - 2 * through  # Euler and Poincare
    assert found.volume == pytest.approx(volume(design), rel=3e-3)


def test_the_volume_converges_with_the_chord(swept: tuple[Design, Figures]) -> None:
    """Chords of sagitta h leave out areas in proportion to h."""
    design = swept[0]
    off = [
        abs(trimesh.Trimesh(made.corners, made.triangles, process=False).volume - volume(design))
        for made in (ring_mesh(design, chord=chord) for chord in (0.04, 0.01, 0.0025))
    ]
    assert off[0] / off[1] == pytest.approx(4, rel=0.35)
    assert off[1] / off[2] == pytest.approx(4, rel=0.35)


@pytest.mark.parametrize("chord", [0.005, 0.05])
def test_both_files_pass(swept: tuple[Design, Figures], chord: float, tmp_path: Path) -> None:
    design = swept[0]
    made = ring_mesh(design, chord=chord)
    for name, write, read in (("a.stl", ring_stl, read_stl), ("a.3mf", ring_3mf, read_3mf)):
        data = write(made, 'Ring <&> "ø"')
        assert data == write(made, 'Ring <&> "ø"')
        (tmp_path / name).write_bytes(data)
        assert refused(read(tmp_path / name, design, chord=chord), design) == {}


def test_an_stl_loads_anywhere(swept: tuple[Design, Figures]) -> None:
    made = ring_mesh(swept[0])
    found: Any = trimesh.load(io.BytesIO(ring_stl(made, "x")), file_type="stl")
    assert len(found.faces) == len(made.triangles)
    assert np.ptp(found.vertices, axis=0).max() == pytest.approx(
        swept[0].blank.tip_diameter, abs=0.2
    )


def test_bolt_holes_can_be_printed_wider(swept: tuple[Design, Figures], tmp_path: Path) -> None:
    design = swept[0]
    loose = loosened(design, 0.3)
    (tmp_path / "a.stl").write_bytes(ring_stl(ring_mesh(loose), "x"))
    assert refused(read_stl(tmp_path / "a.stl", loose, chord=0.01), loose) == {}
    assert "nominal" in refused(read_stl(tmp_path / "a.stl", design, chord=0.01), design)
    hole = design.spec.mount.hole
    taken = np.pi / 4 * ((hole + 0.3) ** 2 - hole**2) * design.blank.plate * len(design.blank.bolts)
    assert volume(design) - volume(loose) == pytest.approx(taken, rel=1e-9)


def test_counterbores_widen_with_their_holes() -> None:
    text = (
        "[ring]\nteeth = 42\n[mount]\ncircle = 110.0\ncounterbore = {diameter = 13.0, depth = 1.0}"
    )
    design = openwork.design(from_toml(f'{text}\n[pattern]\nname = "honeycomb"'))
    mount = loosened(design, 0.5).spec.mount
    assert (mount.hole, sure(mount.counterbore).diameter) == (10.6, 13.5)


@pytest.mark.parametrize("clearance", [-0.1, 9.0, float("nan")])
def test_a_clearance_that_leaves_no_pad_is_refused(
    swept: tuple[Design, Figures], clearance: float
) -> None:
    with pytest.raises(SpecError, match="hole-clearance"):
        loosened(swept[0], clearance)
