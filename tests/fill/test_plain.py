"""The ring without openings: what every look is compared with."""

from pathlib import Path

import pytest
import shapely
from click.testing import CliRunner

from openwork.cli import main
from openwork.errors import SpecError
from openwork.explore.family.family import family
from openwork.explore.strength_of import strength_of
from openwork.fill.registry import patterns
from openwork.measure.figures import figures
from openwork.measure.limits import limits_broken
from openwork.ring import Design, design
from openwork.shape.contour import polygon
from openwork.spec.spec import changed, from_toml
from openwork.tables.plain import as_text
from tests.part.tools import relieved

TEXT = """
title = "Mole 36"
[ring]
teeth = 36
[mount]
bolts = 4
circle = 104.0
[pattern]
name = "plain"
"""


def plain() -> Design:
    return design(from_toml(TEXT))


def test_it_weighs_what_the_blank_does() -> None:
    """Against polygons by another library: plate and band, less what the sides of teeth take."""
    ring = plain()
    blank = ring.blank
    face = polygon(blank.outline, [blank.edge, *blank.bolts], sagitta=1e-4)
    disc = shapely.Point(0, 0).buffer(blank.shroud, quad_segs=2000)
    teeth = face.difference(disc)
    band = teeth.area * blank.tooth_width - relieved(teeth, blank.tip_diameter / 2)
    weight = (face.intersection(disc).area * blank.plate + band) * blank.material.density
    found = figures(ring)
    assert found.mass == pytest.approx(weight, abs=0.02)
    assert (found.openings, found.solid_share, found.mirror) == (0, 1.0, 1.0)
    assert not any(found.defects.values())
    assert limits_broken(ring, found) == ()
    assert '"least": null' in as_text(found.as_dict())


def test_it_is_as_stiff_as_itself() -> None:
    found = strength_of(plain(), quality="search")
    assert found.plane.stiffness_vs_plate == pytest.approx(1, abs=1e-9)
    assert found.aside.lateral_between_vs_plate == pytest.approx(1, abs=1e-9)
    assert found.aside.plain_plate == pytest.approx(4.0, abs=1e-9)


@pytest.mark.parametrize(
    "line",
    [
        ["draw", "--to", "svg,png"],
        ["export", "--to", "svg,dxf,step,3mf,stl,pdf"],
        ["sheet", "--vary", "pattern.name=plain,spokes", "--as-drawn"],
        ["tune", "--mass", "60", "--by", "ring.plate"],
    ],
)
def test_all_that_is_made_of_a_ring_is_made_of_it(line: list[str], tmp_path: Path) -> None:
    spec = tmp_path / "mole.toml"
    spec.write_text(TEXT)
    command, *options = line
    result = CliRunner().invoke(main, [command, str(spec), *options, "--out", str(tmp_path / "o")])
    assert result.exit_code == 0, result.output
    assert "nan" not in result.output
    for path in (tmp_path / "o").glob("*.svg"):
        assert "nan" not in path.read_text().lower(), path


def test_it_is_no_pattern_that_sheets_show_and_has_no_family() -> None:
    assert "plain" not in patterns()
    with pytest.raises(SpecError, match="has no openings to carry over tooth counts"):
        family(changed(from_toml(TEXT), {"goal.teeth": (36, 38)}))
    with pytest.raises(SpecError, match="did you mean 'plain'"):
        from_toml(TEXT.replace("plain", "plan"))
