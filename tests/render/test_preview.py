"""The filled picture: rendered by resvg, which shares nothing with the writer."""

import math
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
import svgelements
from click.testing import CliRunner

import openwork
from openwork.cli import main
from openwork.measure.figures import Figures
from openwork.render.drawing.path import compact_path
from openwork.render.ring.part import UNIT, face
from openwork.render.ring.preview import preview_svg
from openwork.ring import Design
from openwork.shape.contour import area
from openwork.spec.spec import changed, from_toml
from openwork.tables.recipe import recipe
from tests._sure import sure

SVG = "{http://www.w3.org/2000/svg}"


def test_the_metal_covers_its_area_and_nothing_else(
    ring: tuple[Design, Figures], pixels: Callable[[str, int], Any]
) -> None:
    """Counted in pixels, without bevels, lit sides and the line, which lie over the edges."""
    design, figures = ring
    over = r'<g [^>]*id="(?:bevels|lit)"[^>]*>.*?</g>|<use [^>]*/>'
    text = re.sub(over, "", preview_svg(design), flags=re.S)
    picture = pixels(text, 4800)
    width = float(sure(ElementTree.fromstring(text).get("width")).removesuffix("mm"))
    pixel = width / picture.shape[1]
    covered = picture[..., 3].sum() / 255 * pixel**2
    tenth_of_a_pixel = 0.1 * pixel * figures.machining["cut_length"]
    assert covered == pytest.approx(figures.area, abs=tenth_of_a_pixel)
    assert tenth_of_a_pixel < min(area(one) for one in design.openings)


def test_holes_show_the_ground_and_pads_do_not(
    ring: tuple[Design, Figures], pixels: Callable[[str, int], Any]
) -> None:
    design, _ = ring
    text = preview_svg(design)
    picture = pixels(text, 1200)
    width = float(sure(ElementTree.fromstring(text).get("width")).removesuffix("mm"))
    mount = design.blank.mount

    def alpha(x: float, y: float) -> Any:
        return picture[int((width / 2 - y) / width * 1200), int((x + width / 2) / width * 1200), 3]

    assert alpha(0, 0) == 0
    for x, y in mount.bolt_points:
        assert alpha(x, y) == 0
        beside = (mount.hole / 2 + mount.pad) / 2
        assert alpha(x - beside * np.sign(x), y) == 255


def test_the_face_is_one_path_and_every_contour_is_in_it(ring: tuple[Design, Figures]) -> None:
    design, _ = ring
    root = ElementTree.fromstring(preview_svg(design))
    faces = [e for e in root.iter(f"{SVG}path") if e.get("id") == "face"]
    assert len(faces) == 1
    assert faces[0].get("d") == face(design)
    path = svgelements.Path(face(design))
    assert len([*path.as_subpaths()]) == len(design.contours)


def test_compact_outlines_stay_within_a_hundredth(swept: tuple[Design, Figures]) -> None:
    """Every corner as read is where it was, to the rounding of the grid: nothing drifts."""
    design, _ = swept
    for contour in design.contours:
        path = svgelements.Path(compact_path([contour], UNIT))
        read = np.array([[s.start.x, s.start.y] for s in path if s.start is not None])
        found = read * UNIT * [1, -1]
        away = np.linalg.norm(contour.points[:, None] - found[None], axis=2).min(axis=1)
        assert away.max() < 0.75 * UNIT


def test_a_picture_of_a_hundred_openings_is_under_400_kB(ring: tuple[Design, Figures]) -> None:
    design, _ = ring
    assert len(preview_svg(design)) < 400_000 * max(1.0, len(design.openings) / 100)


def test_a_picture_is_made_again_from_itself(swept: tuple[Design, Figures]) -> None:
    text = preview_svg(swept[0])
    assert preview_svg(openwork.design(from_toml(recipe(text)))) == text


def test_no_bevel_no_strips(swept: tuple[Design, Figures]) -> None:
    design = openwork.design(changed(swept[0].spec, {"web.bevel": 0}))
    root = ElementTree.fromstring(preview_svg(design))
    assert not [g for g in root.iter(f"{SVG}g") if g.get("id") == "bevels"]


def test_a_turned_ring_keeps_the_light(pixels: Callable[[str, int], Any]) -> None:
    """Turned by its own symmetry a ring looks the same, light, shadow and counterbores too."""
    text = """
[ring]
teeth = 40
[mount]
bolts = 5
circle = 110.0
counterbore = { diameter = 14.0, depth = 1.0 }
[web]
bevel = 0.5
[look]
shadow = true
"""
    ring = openwork.design(from_toml(text))
    plain, same, other = (
        pixels(preview_svg(ring, turn=math.radians(turn)), 600).astype(float)
        for turn in (0.0, 72.0, 36.0)
    )
    assert np.abs(plain - same).mean() < 0.5
    assert np.abs(plain - other).mean() > 5
    # Turned with the light, as a disc in one's hand, it would not look the same.
    lit = pixels(re.sub(r"scale\(", "rotate(-72) scale(", preview_svg(ring)), 600)
    assert np.abs(plain - lit).mean() > 1.0


def test_a_picture_of_dots_is_square_and_clear(tmp_path: Path) -> None:
    image = pytest.importorskip("PIL.Image")
    spec = tmp_path / "quay.toml"
    spec.write_text("[ring]\nteeth = 32\n[mount]\ncircle = 80.0\n")
    line = ["draw", str(spec), "--to", "png", "--size", "300", "--out", str(tmp_path / "o")]
    result = CliRunner().invoke(main, line)
    assert result.exit_code == 0, result.output
    assert not (tmp_path / "o/preview.svg").exists()
    picture = image.open(tmp_path / "o/preview.png")
    assert (picture.mode, picture.size) == ("RGBA", (300, 300))
    assert picture.getpixel((150, 150))[3] == 0
    assert picture.getpixel((0, 0))[3] == 0
    assert np.asarray(picture)[..., 3].max() == 255


@pytest.mark.parametrize(
    ("words", "part"),
    [
        (["--size", "500"], "--size 500: is the width of a PNG; add --to png"),
        (["--to", "gif"], '--to "gif": is none of svg, png'),
        (["--to", "png", "--size", "5"], "--size"),
        (["--turn", "400"], "--turn 400: must be from -360 to 360; 18 works"),
        (["--turn", "nan"], "--turn nan: must be from -360 to 360"),
    ],
)
def test_a_wrong_picture_ends_in_2(tmp_path: Path, words: list[str], part: str) -> None:
    spec = tmp_path / "quay.toml"
    spec.write_text("[ring]\nteeth = 32\n[mount]\ncircle = 80.0\n")
    result = CliRunner().invoke(main, ["draw", str(spec), *words, "--out", str(tmp_path / "o")])
    assert result.exit_code == 2, result.output
    assert part in result.output
    assert not (tmp_path / "o").exists()
