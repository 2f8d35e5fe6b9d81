# ruff: noqa: E501 (drawings stand on a line each)
"""Drawings read as a renderer shows them: its raster against the regions."""

import io

import numpy as np
import pytest
import shapely
from PIL import Image

from openwork.drawing.outlines import outlines, parsed
from openwork.drawing.read import page
from openwork.shape.contour import circle, polygon
from tests.drawing.test_gate import GOOD

resvg_py = pytest.importorskip("resvg_py")

NS = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
BOX = f'<svg {NS} viewBox="0 0 100 80">'
PATH = "M10 10C40 0 60 30 90 10A20 30 20 1 0 70 60Q40 80 30 60T10 40z"
FEATURES = {
    "millimetres": f'<svg {NS} width="80mm" height="60mm" viewBox="0 0 40 30"><rect x="5" y="5" width="12" height="9" rx="3"/></svg>',
    "aspect": f'<svg {NS} width="90" height="60" viewBox="0 0 30 30" preserveAspectRatio="xMinYMid meet"><circle cx="12" cy="12" r="9"/></svg>',
    "curves": f'{BOX}<path d="{PATH}"/></svg>',
    "relative": f'{BOX}<path d="m10 10h30v20s20 0 20 20-10 20-30 10l-20-10z"/></svg>',
    "arcs": f'{BOX}<path d="M20 40a20 20 0 1 1 40 0a10 15 0 0 0 20 0l-10 30z"/></svg>',
    "ellipse": f'{BOX}<ellipse cx="40" cy="40" rx="30" ry="12" transform="rotate(30 40 40)"/></svg>',
    "polygon": f'{BOX}<polygon points="10,10 90,20 50,70"/><polyline points="5,70 20,70 12,60"/></svg>',
    "skew": f'{BOX}<g transform="translate(10 5) skewX(20) scale(.8 .5)"><rect width="60" height="60"/></g></svg>',
    "use": f'{BOX}<defs><rect id="r" width="20" height="20"/></defs><use href="#r" x="10" y="10"/><use xlink:href="#r" x="50" y="40" transform="rotate(9)"/></svg>',
    "styles": f'{BOX}<style>.w{{fill:white}} #q{{fill:none}}</style><rect width="60" height="60"/><rect class="w" x="10" y="10" width="30" height="30"/><rect id="q" x="70" width="20" height="20"/></svg>',
    "hidden": f'{BOX}<rect x="5" y="5" width="30" height="30"/><g display="none"><rect x="50" width="40" height="40"/></g><rect x="50" y="40" width="20" height="20" visibility="hidden"/><rect x="75" y="40" width="20" height="20" opacity="0"/></svg>',
    "even-odd": f'{BOX}<path fill-rule="evenodd" d="M10 10H90V70H10zM30 20H70V60H30z"/></svg>',
    "non-zero": f'{BOX}<path d="M10 10H90V70H10zM30 20V60H70V20zM40 30H60V50H40z"/></svg>',
    "star": f'{BOX}<path fill-rule="evenodd" d="M50 5L75 75L10 30H90L25 75z"/></svg>',
    "strokes": f'{BOX}<path d="M15 65L50 15L85 65" fill="none" stroke="black" stroke-width="9" stroke-linecap="round" stroke-linejoin="round"/></svg>',
    "square caps": f'{BOX}<path d="M15 60L50 30L85 60" fill="none" stroke="black" stroke-width="8" stroke-linecap="square"/></svg>',
    "ring": f'{BOX}<circle cx="50" cy="40" r="25" fill="none" stroke="black" stroke-width="7"/></svg>',
    "white over black": f'{BOX}<rect width="80" height="70"/><circle cx="40" cy="35" r="20" fill="#eee"/><circle cx="40" cy="35" r="9"/></svg>',
    "nested": f'{BOX}<svg x="20" y="10" width="50" height="50" viewBox="0 0 10 10"><rect x="1" y="1" width="8" height="5"/></svg></svg>',
    "all": GOOD,
}  # fmt: skip
SCALE = 800  # pixels across


def overlap(text: str) -> float:
    """Return intersection over union of what a renderer shows dark and the region read."""
    found = page(text.encode(), "drawing")
    shown = resvg_py.svg_to_bytes(svg_string=text, width=SCALE, background="white", dpi=96)
    pixels = np.asarray(Image.open(io.BytesIO(bytes(shown))).convert("L")) < 128
    y, x = np.mgrid[: pixels.shape[0], : pixels.shape[1]] + 0.5
    step = found.width / pixels.shape[1]
    ours = shapely.contains_xy(found.dark, x * step, y * step)
    return float((pixels & ours).sum() / (pixels | ours).sum())


@pytest.mark.parametrize("feature", FEATURES)
def test_a_drawing_is_read_as_a_renderer_shows_it(feature: str) -> None:
    assert overlap(FEATURES[feature]) >= 0.99


@pytest.mark.parametrize("feature", FEATURES)
def test_its_normal_form_is_the_same_region(feature: str) -> None:
    found = page(FEATURES[feature].encode(), "drawing")
    scale = 1000 / found.width
    flipped = shapely.transform(
        found.dark, lambda p: p * [scale, -scale] + [0, found.height * scale]
    )
    told = parsed(outlines(FEATURES[feature].encode(), "drawing"))
    assert told.dark.symmetric_difference(flipped).area < 1e-3 * flipped.area + 1e-7 * 1e6


def test_the_size_of_the_page_does_not_count() -> None:
    small = f'<svg {NS} width="10" height="8" viewBox="0 0 100 80"><path d="{PATH}"/></svg>'
    assert outlines(small.encode(), "a") == outlines(FEATURES["curves"].encode(), "b")


def test_a_circle_is_told_as_two_arcs() -> None:
    text = f'<svg {NS} viewBox="0 0 10 10"><circle cx="5" cy="5" r="3"/></svg>'
    (region,) = parsed(outlines(text.encode(), "a")).regions
    assert len(region[0]) <= 4
    exact = polygon(circle(300, (500, 500)), sagitta=1e-4)
    assert polygon(region[0], sagitta=1e-4).symmetric_difference(exact).area < 1e-4 * exact.area
