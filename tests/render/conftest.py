"""Rings to draw, and readers that share nothing with the writers."""

import io
from collections.abc import Callable
from functools import cache
from typing import Any

import numpy as np
import pytest
import resvg_py
import svgelements
from PIL import Image

import openwork
from openwork.measure.figures import Figures
from openwork.ring import Design
from openwork.shape.contour import Points
from openwork.spec.spec import from_toml

HARBOUR = """
title = "Harbour 42"
[ring]
teeth = 42
[mount]
circle = 110.0
[pattern]
"""
SPECS = {
    "honeycomb": HARBOUR + 'name = "honeycomb"',
    "swept spokes": HARBOUR + 'name = "spokes"\ncount = 20\nsweep = 30.0',
    "circles": HARBOUR + 'name = "circles"',
    "four bolts": """
title = "Ferry 48"
[ring]
teeth = 48
[mount]
bolts = 4
circle = 104.0
[pattern]
name = "michell"
""",
}


@cache
def _made(name: str) -> tuple[Design, Figures]:
    ring = openwork.design(from_toml(SPECS[name]))
    return ring, openwork.figures(ring)


@pytest.fixture(params=SPECS)
def ring(request: pytest.FixtureRequest) -> tuple[Design, Figures]:
    """Design and figures of one of several rings."""
    return _made(request.param)


@pytest.fixture
def swept() -> tuple[Design, Figures]:
    """Design and figures of a ring that is no mirror image of itself."""
    return _made("swept spokes")


def _read(text: str) -> Any:
    """Return what an independent reader sees, one unit a mm."""
    return svgelements.SVG.parse(io.StringIO(text), ppi=25.4)


def _outline(shape: Any, parts: int = 64) -> Points:
    """Return points (n, 2) on an element as read, arcs as many chords."""
    if isinstance(shape, svgelements.Circle):
        angle = np.linspace(0, 2 * np.pi, 4096, endpoint=False)
        z = shape.implicit_center
        around = shape.implicit_r * np.column_stack([np.cos(angle), np.sin(angle)])
        return np.asarray(np.array([z.x, z.y]) + around)
    rings = []
    for segment in shape:
        if isinstance(segment, svgelements.Arc):
            rings.append(np.array(segment.npoint(np.arange(parts) / parts)))
        elif isinstance(segment, svgelements.Line | svgelements.Close):
            rings.append(np.array([[segment.start.x, segment.start.y]]))
    return np.concatenate(rings)


def _pixels(text: str, width: int) -> Any:
    """Return the picture (height, width, 4) that an independent renderer makes of *text*."""
    data = bytes(resvg_py.svg_to_bytes(svg_string=text, dpi=96, width=width))
    return np.asarray(Image.open(io.BytesIO(data)).convert("RGBA"))


@pytest.fixture
def read() -> Callable[[str], Any]:
    """Return the function that reads SVG text."""
    return _read


@pytest.fixture
def outline() -> Callable[..., Points]:
    """Return the function that gives points on an element as read."""
    return _outline


@pytest.fixture
def pixels() -> Callable[[str, int], Any]:
    """Return the function that renders SVG text."""
    return _pixels
