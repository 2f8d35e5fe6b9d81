"""The ring as it looks: finishes, facets, counterbores, the same in two engines."""

import io
import itertools
import re
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
import resvg_py
import shapely
import svgelements
from PIL import Image

import openwork
from openwork.errors import SpecError
from openwork.measure.figures import Figures
from openwork.render.ring.facets import facets
from openwork.render.ring.part import UNIT
from openwork.render.ring.preview import preview_svg
from openwork.render.ring.tones import LEVELS, tones
from openwork.ring import Design
from openwork.shape.contour import circle, polygon
from openwork.shape.parallel.offset import dilated
from openwork.spec.spec import changed, from_toml
from openwork.tables.finish import FINISHES, Look, colour
from tests._sure import sure
from tests.render._browser import browser_pixels

if TYPE_CHECKING:
    from playwright.sync_api import Browser

BORED = {"mount.counterbore": {"diameter": 13.0, "depth": 1.0}}


def drawn(data: str) -> Any:
    """Return the area that path data encloses as an independent reader sees it, y up, mm."""
    rings = []
    for one in svgelements.Path(data).as_subpaths():
        path = svgelements.Path(one)
        at = [s.point(t) for s in path if not isinstance(s, svgelements.Move)
              for t in np.linspace(0, 1, 8, endpoint=False)]  # fmt: skip
        rings.append(shapely.Polygon([(p.x * UNIT, -p.y * UNIT) for p in at]).buffer(0))
    return shapely.union_all(rings)


def grey(picture: Any) -> Any:
    """Return how light a picture is, 0 to 255, by the weights of ITU-R BT.709."""
    return picture[..., :3].astype(float) @ [0.2126, 0.7152, 0.0722]


def test_facets_cover_the_strip_beside_an_opening_and_no_more(ring: tuple[Design, Figures]) -> None:
    """The strip is drawn by facets, and again as the outline's exact parallel less itself."""
    design, _ = ring
    width = 0.5
    for opening in design.openings[:: max(1, len(design.openings) // 6)]:
        strip = polygon(dilated(opening, width)) - polygon(opening)
        data = facets([opening], [width], UNIT)
        found = shapely.union_all([drawn(one) for one in data if one])
        assert found.symmetric_difference(strip).area < 0.03 * strip.area
        apart = sum(drawn(one).area for one in data if one)
        assert apart == pytest.approx(found.area, rel=0.01)


def test_a_bevel_of_a_round_hole_is_light_where_it_faces_the_light() -> None:
    data = facets([circle(10.0)], [1.0], UNIT)
    assert all(data)
    dark, light = (drawn(data[k]).centroid for k in (0, -1))
    assert (dark.x < -5, dark.y > 5) == (True, True)
    assert (light.x > 5, light.y < -5) == (True, True)
    assert len({*tones(Look()).facets}) == LEVELS


def test_facets_of_one_tone_are_one_strip() -> None:
    """A round hole turns through every tone twice, but the darkest and the lightest lie whole."""
    data = facets([circle(10.0)], [1.0], UNIT)
    assert [one.count("M") for one in data] == [1, *[2] * (LEVELS - 2), 1]


@pytest.mark.parametrize("finish", [*FINISHES, "white", "#123456", "Teal"])
def test_every_finish_shows_its_relief_without_colour(
    swept: tuple[Design, Figures], finish: str, pixels: Callable[[str, int], Any]
) -> None:
    """What is meant to be a tone darker is so in a grey copy."""
    design = openwork.design(changed(swept[0].spec, {"look.finish": finish}))
    picture = pixels(preview_svg(design), 1000)
    width = 2 * np.ceil(design.blank.tip_diameter / 2 + 1)

    def at(radius: float, angle: float = np.pi / 42) -> Any:
        x, y = radius * np.cos(angle), -radius * np.sin(angle)
        return picture[int((width / 2 + y) / width * 1000), int((width / 2 + x) / width * 1000)]

    plate = at(design.site.outer + 0.5)
    band = at((design.blank.shroud + design.blank.diameters.root / 2) / 2)
    wanted = np.array([int(colour(finish)[k : k + 2], 16) for k in (1, 3, 5)])
    assert np.abs(plate[:3].astype(int) - wanted).max() <= 8
    assert grey(band) < grey(plate) - 6
    lit = [grey(np.array([int(one[k : k + 2], 16) for k in (1, 3, 5)]))
           for one in tones(design.spec.look).facets]  # fmt: skip
    assert all(a < b + 1e-9 for a, b in itertools.pairwise(lit))
    assert lit[0] < lit[-1] - 20


@pytest.mark.parametrize(
    ("finish", "message"),
    [
        ("golden", '"goldenrod" is nearest'),
        ("voilet", '"violet" is nearest'),
        ("#12", '"natural" works'),
        ("", '"natural" works'),
        ("url(#x)", "is nearest"),
    ],
)
def test_what_is_no_colour_is_refused(
    swept: tuple[Design, Figures], finish: str, message: str
) -> None:
    with pytest.raises(SpecError, match=r"look\.finish") as caught:
        changed(swept[0].spec, {"look.finish": finish})
    assert message in str(caught.value)


def test_counterbores_are_drawn_in_the_shade_of_their_walls(
    swept: tuple[Design, Figures], pixels: Callable[[str, int], Any]
) -> None:
    plain = swept[0]
    bored = openwork.design(changed(plain.spec, BORED))
    assert 'id="counterbores"' not in preview_svg(plain)
    text = preview_svg(bored)
    picture = grey(pixels(text, 2000))
    width = 2 * np.ceil(bored.blank.tip_diameter / 2 + 1)
    mount = bored.blank.mount
    between = (mount.hole + sure(mount.counterbore).diameter) / 4
    for x, y in mount.bolt_points:
        at = [
            picture[
                int((width / 2 - y - dy) / width * 2000), int((x + dx + width / 2) / width * 2000)
            ]
            for dx, dy in ((0.71 * between, -0.71 * between), (-0.6 * 6.3, 0.6 * 7.6), (5.4, -5.4))
        ]
        floor, shade, plate = at
        assert shade < floor - 10
        assert floor < plate - 6


def test_the_shadow_is_off_until_asked_for_and_lies_below_the_ring(
    swept: tuple[Design, Figures], pixels: Callable[[str, int], Any]
) -> None:
    design = openwork.design(changed(swept[0].spec, {"look.shadow": True}))
    plain, shaded = preview_svg(swept[0]), preview_svg(design)
    assert "opacity" not in plain
    picture = pixels(shaded, 1000)
    faint = (picture[..., 3] > 0) & (picture[..., 3] < 128)
    assert faint.any()
    assert not faint[:, [0, -1]].any()
    assert not faint[[0, -1]].any()
    down, right = np.argwhere(faint).mean(axis=0) - 500
    assert (down > 10, right > 5) == (True, True)


@pytest.mark.parametrize("teeth", [24, 42, 60])
def test_a_hundred_openings_take_less_than_400_kB(teeth: int) -> None:
    circle_, bore = {24: (64.0, 50.0), 42: (110.0, 0.0), 60: (130.0, 0.0)}[teeth]
    text = f"[ring]\nteeth = {teeth}\n[mount]\ncircle = {circle_}\nbore = {bore}\nbolts = 4\n"
    for name in ("honeycomb", "voronoi", "stars"):
        design = openwork.design(from_toml(text + f'[pattern]\nname = "{name}"'))
        size = len(preview_svg(design).encode())
        assert size < 400_000 * max(1.0, len(design.openings) / 100), name


@pytest.mark.browser
def test_two_engines_draw_the_same_picture(
    ring: tuple[Design, Figures], browser: "Browser"
) -> None:
    """resvg and Chromium share no code; a picture without its bevels must not pass for the same.

    Five pixels a mm, whole in both: resvg rounds the size of a page before it scales it.
    """
    design, _ = ring
    looks = {"look.finish": "gold", "look.shadow": True, **BORED}
    text = preview_svg(openwork.design(changed(design.spec, looks)))
    width = 5 * int(sure(re.search(r'width="(\d+)mm"', text))[1])
    data = resvg_py.svg_to_bytes(svg_string=text, dpi=5 * 25.4, background="white")
    one = np.asarray(Image.open(io.BytesIO(bytes(data))).convert("RGB")).astype(float)
    bare = text.replace('id="bevels"', 'id="bevels" display="none"')
    away, wrong = (np.abs(one - found) for found in browser_pixels(browser, [text, bare], width))
    assert one.shape == (width, width, 3)
    assert away.mean() < 0.75
    assert np.mean(away.max(axis=2) > 40) < 0.002
    assert np.mean(wrong.max(axis=2) > 40) > 0.002
