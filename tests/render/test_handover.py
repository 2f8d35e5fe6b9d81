"""What the shop is told, against the outline measured, and the page that goes with the files."""

import hashlib
import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pypdfium2
import pytest
from click.testing import CliRunner

import openwork
from openwork.cli import main
from openwork.render.shop.dossier import dossier_pdf, rows
from openwork.render.shop.facts import cautions, facts
from openwork.shape.contour import sampled
from openwork.spec.spec import from_toml

WIDE = """
title = "Slip 24"
[ring]
teeth = 24
chain = "12-speed"
alternating = { play = 0.3 }
[mount]
bolts = 4
circle = 64.0
turn = 45.0
hole = { tap = "M8x0.75" }
counterbore = { diameter = 12.5, depth = 1.0, face = "back" }
[edges]
bore = 0.4
step = 0.3
[pattern]
name = "spokes"
"""
UNEVEN = """
title = "Pier 46"
[ring]
teeth = 46
offset = 3.0
sides = { relief = 0.6, angle = 12 }
[mount]
chords = [64.7, 89.0]
holes = [{ hole = 10.1 }, { hole = 8.1 }, { tap = "M8x1" }, { hole = 9, countersink = { diameter = 12 } }]
[web]
rim = 4.5
[clearance]
stay = [[60, -12], [100, -12]]
[load]
surface = "bare"
[pattern]
name = "plain"
"""  # noqa: E501 (a line of TOML)


def told(text: str) -> tuple[Any, Any]:
    design = openwork.design(from_toml(text))
    return design, facts(design, openwork.figures(design))


def words(text: str) -> dict[str, str]:
    design = openwork.design(from_toml(text))
    return dict(rows(design, openwork.figures(design)))


@pytest.mark.parametrize("text", [WIDE, UNEVEN])
def test_diameters_are_those_of_the_outline(text: str) -> None:
    design, found = told(text)
    radii = np.hypot(*sampled(design.blank.outline, 1e-5).T)
    assert found["teeth"]["root_diameter"] == pytest.approx(2 * radii.min(), abs=1e-3)
    assert found["teeth"]["tip_diameter"] == pytest.approx(2 * radii.max(), abs=1e-3)
    assert found["overall"]["diameter"] == found["teeth"]["tip_diameter"]


def test_bolts_lie_where_the_note_says() -> None:
    for text in (WIDE, UNEVEN):
        design, found = told(text)
        holes = found["bolt_holes"]
        for angle, hole in zip(holes["angles"], design.blank.bolts, strict=True):
            middle = hole.points.mean(axis=0)
            assert math.degrees(math.atan2(*middle[::-1])) % 360 == pytest.approx(angle, abs=1e-9)
            assert np.hypot(*middle) == pytest.approx(holes["circle"] / 2)


def test_the_band_begins_where_the_thickness_steps() -> None:
    _, found = told(WIDE)
    # Shroud by GB/T 1243 with the 9.0 mm plates of 11/128: p cot(180/z) - 1.04 h2 - 0.76.
    shroud = 12.7 / math.tan(math.pi / 24) - 1.04 * 9.0 - 0.76
    assert found["thickness"]["band_diameter"] == [pytest.approx(shroud)]
    _, dished = told(UNEVEN)
    shroud = 12.7 / math.tan(math.pi / 46) - 1.04 * 9.91 - 0.76
    assert dished["thickness"]["band_diameter"] == [
        pytest.approx(shroud - 4.0),
        pytest.approx(shroud),
    ]
    assert dished["overall"]["thickness"] == pytest.approx(2.0 + 3.0 + 0.93 * 2.38 / 2)


def test_the_page_says_all_a_shop_asks() -> None:
    said = words(WIDE)
    assert said["Face seen"] == "front: z up, the drive side"
    assert said["Root, tip"].startswith("89.548, ")
    assert said["Over pins"] == "105.048 with pins of 7.75"
    assert said["Tooth band"] == "2.027 narrow, 3.500 wide by turns, begins at diameter 86.35"
    assert said["Bolt holes"] == (
        "4 on 64 at 45, 135, 225, 315°, M8x0.75-6H, ISO 965, counterbore 12.5 x 1 from the back"
    )
    assert said["Edges, 45°"] == "inner edge 0.4, plate step 0.3, openings 0.3"
    assert said["Finish"].endswith("grows 0.008 a face")
    assert said["Tolerances"] == "ISO 2768-m"
    assert said["Mass"].endswith(" g")


def test_unlike_holes_are_told_one_by_one() -> None:
    assert words(UNEVEN)["Bolt holes"] == (
        "4 on 110.032 at 0, 72.03, 180, 252°, 1: 10.1 H11; 2: 8.1 H11; 3: M8x1-6H, ISO 965; "
        "4: 9 H11, countersink 12, 90 degrees from the front"
    )
    assert words(UNEVEN)["Tooth sides"].startswith("12.0 degrees from diameter ")


def test_cautions_go_with_what_the_ring_has() -> None:
    design, _ = told(WIDE)
    said = " ".join(cautions(design))
    assert "patent attorney" in said
    assert "head of 13 mm does not go into a counterbore of 12.5" in said
    assert "An anodic layer grows" in said
    bare, _ = told(UNEVEN)
    said = " ".join(cautions(bare))
    assert "patent" not in said
    assert "anodic" not in said
    assert "outside the plate" in said


@pytest.mark.parametrize(
    ("text", "beside"), [(WIDE, "dashed the chain"), (UNEVEN, "bold the stay as given")]
)
def test_the_page_is_one_and_has_the_checksums(text: str, beside: str) -> None:
    design, _ = told(text)
    files = {"ring.dxf": b"0\nEOF\n", "ring.step": b"ISO-10303-21;"}
    page = pypdfium2.PdfDocument(dossier_pdf(design, openwork.figures(design), files))
    assert len(page) == 1
    said = " ".join(page[0].get_textpage().get_text_range().split())
    for data in files.values():
        assert hashlib.sha256(data).hexdigest() in said
    assert beside in said
    assert "ISO 4210" in said


@pytest.mark.parametrize("command", ["draw", "export --to svg"])
def test_patents_and_heads_are_told_where_files_are_written(command: str, tmp_path: Path) -> None:
    spec = tmp_path / "slip.toml"
    spec.write_text(WIDE)
    result = CliRunner().invoke(main, [*command.split(), str(spec), "--out", str(tmp_path / "out")])
    assert result.exit_code == 0, result.output
    assert "patent attorney" in result.output
    assert "does not go into a counterbore of 12.5" in result.output


def test_the_note_and_the_page_go_together(tmp_path: Path) -> None:
    spec = tmp_path / "slip.toml"
    spec.write_text(WIDE)
    out = tmp_path / "out"
    result = CliRunner().invoke(main, ["export", str(spec), "--to", "pdf,svg", "--out", str(out)])
    assert result.exit_code == 0, result.output
    note = json.loads((out / "handover.json").read_text())
    page = pypdfium2.PdfDocument(out / "handover.pdf")[0].get_textpage().get_text_range()
    for name, one in note["files"].items():
        assert name in page
        assert one["sha256"] in page
