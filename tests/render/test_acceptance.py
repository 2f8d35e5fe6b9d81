"""The eleven checks: whole files pass, and a file damaged in each of the eleven ways is refused.

The faults are those that shops name when they send files back (common practice, no standard lists
them): wrong units, open paths, missing contours, split arcs, doubled or touching paths, moved or
scaled shapes, foreign matter, a kerf already put in.
"""

import dataclasses
import io
import re
import zipfile
from pathlib import Path
from typing import Any

import ezdxf
import ezdxf.filemanagement
import numpy as np
import pytest

import openwork
from openwork.render.accept.acceptance import CHECKS, refused
from openwork.render.accept.read_dxf import read_dxf
from openwork.render.accept.read_mesh import read_3mf, read_stl
from openwork.render.accept.read_step import read_step
from openwork.render.accept.read_svg import read_svg
from openwork.render.ring.outline import ring_svg
from openwork.render.shop.dxf import ring_dxf
from openwork.render.shop.printed import loosened, ring_3mf, ring_mesh, ring_stl
from openwork.render.shop.step import ring_step
from openwork.render.solid.mesh import Mesh
from openwork.ring import Design
from openwork.shape.contour import Contour, area, polygon_contour, rotated, sampled
from openwork.spec.spec import from_toml
from tests.measure.narrow import NARROW, narrow, says

CHORD = 0.02
SHIFT = np.array([0.05, 0.0])
FORMATS = ("svg", "dxf", "step", "3mf", "stl")
SPEC = """
title = "Slip 24"
[ring]
teeth = 24
[mount]
bolts = 4
circle = 64.0
bore = 50.0
[web]
bevel = 0.0
[pattern]
name = "spokes"
count = 20
"""


@pytest.fixture(scope="module")
def design() -> Any:
    return openwork.design(from_toml(SPEC))


def written(kind: str, design: Design, mesh: Mesh | None = None) -> Any:
    """Return the file of a kind as bytes."""
    if kind == "svg":
        return ring_svg(design, openwork.figures(design)).encode()
    if kind == "dxf":
        return ring_dxf(design)
    if kind == "step":
        return ring_step(design)
    mesh = mesh or ring_mesh(design, chord=CHORD)
    return (ring_3mf if kind == "3mf" else ring_stl)(mesh, design.spec.title)


def judged(kind: str, data: bytes, design: Design, folder: Path) -> Any:
    """Return the checks that refuse a file, with reasons; "readable" where nobody can read it."""
    path = folder / f"ring.{kind}"
    path.write_bytes(data)
    try:
        if kind in ("3mf", "stl"):
            reading = (read_3mf if kind == "3mf" else read_stl)(path, design, chord=CHORD)
        elif kind == "step":
            reading = read_step(path, design)
        else:
            reading = (read_svg if kind == "svg" else read_dxf)(path)
    except ValueError:
        return {"readable": ()}
    return refused(reading, design)


def once(pattern: bytes, replacement: bytes, data: bytes) -> Any:
    """Return *data* with the last match of *pattern* replaced, which must be there."""
    *_, found = re.finditer(pattern, data, re.DOTALL)
    return data[: found.start()] + found.expand(replacement) + data[found.end() :]


def repacked(data: bytes, pattern: bytes, replacement: bytes) -> Any:
    """Return a 3MF package with its model changed."""
    package = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(package, "w") as new:
        for name in old.namelist():
            part = old.read(name)
            changed = name.endswith(".model")
            new.writestr(name, once(pattern, replacement, part) if changed else part)
    return package.getvalue()


def with_opening(design: Design, opening: Contour) -> Any:
    return dataclasses.replace(design, openings=(opening, *design.openings[1:]))


def in_other_units(kind: str, design: Design) -> Any:
    data = written(kind, design)
    if kind == "svg":
        return once(rb'width="(\d+)mm"', rb'width="\1in"', data)
    if kind == "dxf":
        return once(rb"(\$INSUNITS\s+70\s+)4", rb"\g<1>1", data)
    if kind == "step":
        return once(rb"SI_UNIT\(\.MILLI\.,\.METRE\.\)", rb"SI_UNIT(.CENTI.,.METRE.)", data)
    if kind == "3mf":
        return repacked(data, rb'unit="millimeter"', rb'unit="inch"')
    mesh = ring_mesh(design, chord=CHORD)
    return written(kind, design, Mesh(mesh.corners / 25.4, mesh.triangles))


def opened(kind: str, design: Design) -> bytes:
    data = written(kind, design)
    if kind == "svg":
        return bytes(once(rb'Z"', rb'"', data))
    if kind == "dxf":
        return bytes(once(rb"(AcDbPolyline\s+90\s+\d+\s+70\s+)1", rb"\g<1>0", data))
    if kind == "step":
        return bytes(once(rb"(CLOSED_SHELL\('',\(#\d+,#\d+),#\d+", rb"\1", data))
    mesh = ring_mesh(design, chord=CHORD)
    return bytes(written(kind, design, Mesh(mesh.corners, mesh.triangles[:-1])))


def without_an_opening(kind: str, design: Design) -> Any:
    return written(kind, dataclasses.replace(design, openings=design.openings[1:]))


def split(kind: str, design: Design) -> Any:
    """An arc in two pieces; a mesh coarser than it says."""
    if kind in ("3mf", "stl"):
        return written(kind, design, ring_mesh(design, chord=10 * CHORD))
    one = design.openings[0]
    k = int(np.argmax(one.bulges))
    middle = one.points[k] + one.chords[k] / 2 + one.bulges[k] / 2 * one.chords[k][::-1] * [1, -1]
    points = np.insert(one.points, k + 1, middle, axis=0)
    bulges = np.insert(one.bulges, k, 0)
    bulges[k : k + 2] = np.tan(np.arctan(one.bulges[k]) / 2)
    halved = Contour(points, bulges)
    assert area(halved) == pytest.approx(area(one), rel=1e-12)
    return written(kind, with_opening(design, halved))


def too_near(kind: str, design: Design) -> Any:
    return written(kind, with_opening(design, rotated(design.openings[0], 0.01)))


def out_of_place(kind: str, design: Design) -> Any:
    one = design.openings[0]
    return written(kind, with_opening(design, Contour(one.points + SHIFT, one.bulges)))


def with_foreign_matter(kind: str, design: Design) -> Any:
    data = written(kind, design)
    if kind == "svg":
        return data.replace(b'<g id="openings"', b'<g transform="scale(1)" id="openings"')
    if kind == "dxf":
        drawing = ezdxf.filemanagement.read(io.StringIO(data.decode()))
        drawing.modelspace().add_text("Slip 24")
        text = io.StringIO()
        drawing.write(text)
        return text.getvalue().encode()
    if kind == "step":
        return once(rb"AUTOMOTIVE_DESIGN \{[^}]*\}", rb"CONFIG_CONTROL_DESIGN", data)
    if kind == "3mf":
        turned = rb'<item objectid="1" transform="1 0 0 0 1 0 0 0 1 5 0 0"'
        return repacked(data, rb'<item objectid="1"', turned)
    return data[:-1] + b"\x80"


def with_kerf(kind: str, design: Design) -> Any:
    return written(kind, loosened(design, 0.2))


def stepped_elsewhere(kind: str, design: Design) -> Any:
    """The plate ends 0.3 mm nearer to the axis."""
    shroud = design.blank.shroud - 0.3
    return written(
        kind, dataclasses.replace(design, blank=dataclasses.replace(design.blank, shroud=shroud))
    )


FLAT, SOLID = {"svg", "dxf"}, {"step", "3mf", "stl"}
APPLIES = {"marks": FLAT, "heights": SOLID}  # the others to every kind
# The lines of marks have damages of their own in tests/lettering.
DAMAGES = dict(
    zip(
        [check for check in CHECKS if check != "engraved"],
        (
            in_other_units,
            opened,
            without_an_opening,
            split,
            too_near,
            out_of_place,
            with_foreign_matter,
            with_kerf,
            stepped_elsewhere,
            stepped_elsewhere,
        ),
        strict=True,
    )
)


@pytest.mark.parametrize("kind", FORMATS)
def test_a_whole_file_passes(kind: str, design: Design, tmp_path: Path) -> None:
    assert judged(kind, written(kind, design), design, tmp_path) == {}


@pytest.mark.parametrize("kind", FORMATS)
@pytest.mark.parametrize("check", DAMAGES)
def test_a_damaged_file_is_refused_by_the_check_of_its_name(
    check: str, kind: str, design: Design, tmp_path: Path
) -> None:
    found = judged(kind, DAMAGES[check](kind, design), design, tmp_path)
    assert (check in found) == (kind in APPLIES.get(check, FORMATS))


@pytest.mark.parametrize("kind", FORMATS)
@pytest.mark.parametrize("margin", NARROW)
def test_a_margin_too_narrow_is_refused_by_its_own_limit_and_nothing_else(
    margin: Any, kind: str, tmp_path: Path
) -> None:
    ring = narrow(margin)
    found = judged(kind, written(kind, ring), ring, tmp_path)
    assert [*found] == ["apart"]
    (fault,) = found["apart"]
    assert millimetres(fault) == pytest.approx(millimetres(says(margin)), abs=0.002 + 2 * CHORD)
    assert re.sub(r"[\d.]+ mm", "mm", fault) == re.sub(r"[\d.]+ mm", "mm", says(margin))


def millimetres(fault: str) -> Any:
    return [float(found) for found in re.findall(r"([\d.]+) mm", fault)]


def test_there_are_eleven_checks() -> None:
    assert len(CHECKS) == len(DAMAGES) + 1 == 11


@pytest.mark.parametrize("kind", FORMATS)
def test_half_a_file_is_refused(kind: str, design: Design, tmp_path: Path) -> None:
    data = written(kind, design)
    assert judged(kind, data[: len(data) // 2], design, tmp_path)


@pytest.mark.parametrize("kind", ["svg", "dxf"])
@pytest.mark.parametrize("fault", ["doubled", "crossing", "outside"])
def test_openings_in_the_wrong_place_are_refused(
    kind: str, fault: str, design: Design, tmp_path: Path
) -> None:
    one, other = design.openings[:2]
    wrong = {
        "doubled": other,
        "crossing": Contour(one.points[[0, 2, 1, *range(3, len(one))]], one.bulges),
        "outside": Contour(one.points + 4000 * SHIFT, one.bulges),
    }[fault]
    data = written(kind, with_opening(design, wrong))
    assert "apart" in judged(kind, data, design, tmp_path)


def test_an_inside_radius_below_the_cutter_is_refused(design: Design, tmp_path: Path) -> None:
    tight = openwork.design(from_toml(SPEC.replace("bevel = 0.0", "bevel = 0.0\ncorner = 1.2")))
    assert "pieces" in judged("dxf", written("dxf", tight), design, tmp_path)


def test_facets_are_refused(design: Design, tmp_path: Path) -> None:
    """A smooth edge as chords: the arcs of an opening drawn as lines of a few degrees."""
    faceted = polygon_contour(sampled(design.openings[0], 0.001))
    data = written("dxf", with_opening(design, faceted))
    assert "pieces" in judged("dxf", data, design, tmp_path)


RICH = """
title = "Slip 24"
[ring]
teeth = 24
chain = "12-speed"
alternating = { play = 0.3 }
[mount]
bolts = 4
circle = 64.0
bore = 50.0
counterbore = { diameter = 12.5, depth = 1.0, face = "back" }
countersink = { diameter = 12.0 }
[edges]
bore = 0.4
step = 0.3
bolts = 0.2
[pattern]
name = "spokes"
count = 20
"""
LEFT_OUT = {
    "sides": {"ring.sides": "square"},
    "another relief": {"ring.sides": {"relief": 0.7}},
    "a straight side": {"ring.sides": {"relief": 0.75, "angle": 12.0}},
    "wide teeth": {"ring.chain": {"inner": 2.18, "roller": 7.75, "plates": 9.0, "outer": 3.6}},
    "counterbore": {"mount.counterbore": {"diameter": 12.5, "depth": 0.9, "face": "back"}},
    "countersink": {"mount.countersink": {"diameter": 12.0, "angle": 100.0}},
    "chamfer of the bore": {"edges.bore": 0.3},
    "chamfer of the step": {"edges.step": 0.2},
    "chamfer of the bolts": {"edges.bolts": 0.1},
    "thickness of the band": {"ring.tooth_width": 1.9},
    "offset": {"ring.offset": 0.1},
}


@pytest.mark.parametrize("changes", LEFT_OUT.values(), ids=LEFT_OUT)
def test_a_solid_without_what_was_meant_is_refused_for_its_heights(
    changes: dict[str, Any], tmp_path: Path
) -> None:
    meant = openwork.design(from_toml(RICH))
    wrong = openwork.design(from_toml(RICH, changes=changes))
    assert judged("stl", written("stl", meant), meant, tmp_path) == {}
    assert "heights" in judged("stl", written("stl", wrong), meant, tmp_path)


BROKEN = SPEC.replace("bevel = 0.0", "bevel = 0.2") + "[edges]\nteeth = 0.2\n"


@pytest.mark.parametrize("kind", ["stl", "3mf", pytest.param("step", marks=pytest.mark.sweep)])
@pytest.mark.parametrize("given", [0.0, 0.1])
def test_a_solid_without_its_chamfered_teeth_is_refused(
    given: float, kind: str, tmp_path: Path
) -> None:
    meant = openwork.design(from_toml(BROKEN))
    wrong = openwork.design(from_toml(BROKEN, changes={"edges.teeth": given}))
    assert judged(kind, written(kind, meant), meant, tmp_path) == {}
    found = judged(kind, written(kind, wrong), meant, tmp_path)
    assert "heights" in found
    assert ("pieces" in found) == (kind == "step" and not given)


SUNK = (
    RICH.replace("count = 20", "count = 24")
    + """
[pocket]
which = "every second"
floor = 1.2
face = "front"
"""
)
OTHER_POCKETS = {
    "no floor": ("roles", {"pocket.which": "none"}),
    "a floor everywhere": ("roles", {"pocket.which": "all"}),
    "too deep": ("heights", {"pocket.floor": 1.1}),
    "on the wrong face": ("heights", {"pocket.face": "back"}),
    "on both faces": ("heights", {"pocket.face": "both"}),
}


LIGHT = tuple(kind for kind in FORMATS if kind != "step")  # what is written and read at once


@pytest.mark.parametrize("kind", LIGHT)
@pytest.mark.parametrize(("check", "changes"), OTHER_POCKETS.values(), ids=OTHER_POCKETS)
def test_other_pockets_than_were_meant_are_refused(
    kind: str, check: str, changes: dict[str, Any], tmp_path: Path
) -> None:
    """A flat file tells which openings keep a floor, a solid how deep and where from as well."""
    meant = openwork.design(from_toml(SUNK))
    wrong = openwork.design(from_toml(SUNK, changes=changes))
    if check == "roles" or kind in {"3mf", "stl"}:
        assert check in judged(kind, written(kind, wrong), meant, tmp_path)
    else:
        assert check not in judged(kind, written(kind, wrong), meant, tmp_path)


def test_a_step_file_with_other_pockets_is_refused(tmp_path: Path) -> None:
    meant = openwork.design(from_toml(SUNK))
    wrong = openwork.design(from_toml(SUNK, changes={"pocket.face": "back"}))
    data = written("step", meant)
    assert judged("step", data, meant, tmp_path) == {}
    assert "heights" in judged("step", data, wrong, tmp_path)


@pytest.mark.parametrize("kind", LIGHT)
@pytest.mark.parametrize("face", ["both", "front", "back"])
@pytest.mark.parametrize("which", ["all", "every second"])
def test_a_ring_with_pockets_passes(kind: str, face: str, which: str, tmp_path: Path) -> None:
    changes = {"pocket.face": face, "pocket.which": which, "pocket.floor": 0.9}
    ring = openwork.design(from_toml(SUNK, changes=changes))
    assert judged(kind, written(kind, ring), ring, tmp_path) == {}


MARKS = {
    "a narrower counterbore": {
        "mount.counterbore": {"diameter": 12.4, "depth": 1.0, "face": "back"}
    },
    "from the other face": {
        "mount.counterbore": {"diameter": 12.5, "depth": 1.0, "face": "front"},
        "mount.countersink": {"diameter": 12.0, "face": "back"},
    },
    "another band": {"ring.chain": {"inner": 2.18, "roller": 7.75, "plates": 8.9}},
}


@pytest.mark.parametrize("kind", sorted(FLAT))
@pytest.mark.parametrize("changes", MARKS.values(), ids=MARKS)
def test_a_flat_file_with_other_circles_is_refused_for_its_marks(
    kind: str, changes: dict[str, Any], tmp_path: Path
) -> None:
    plain = {"mount.countersink": {"diameter": 12.0, "face": "front"}}
    meant = openwork.design(from_toml(RICH, changes=plain))
    wrong = openwork.design(from_toml(RICH, changes={**plain, **changes}))
    assert judged(kind, written(kind, meant), meant, tmp_path) == {}
    assert "marks" in judged(kind, written(kind, wrong), meant, tmp_path)
