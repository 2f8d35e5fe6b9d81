"""The tones of a ring in pictures, all made from the one colour of its finish.

Everything is set by lightness, so that a grey copy shows the same relief. One light stands to the
upper left, 50 degrees above the page; matt metal takes it by Lambert's law, and what faces it
gleams.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from openwork.render.drawing.oklab import from_oklab, to_oklab
from openwork.shape.contour import Floats
from openwork.tables.finish import Look

LEVELS = 9  # tones of bevels, from the darkest to the lightest
LIGHT = complex(-1, 1) / math.sqrt(2)  # where it comes from, on the page
HEIGHT = math.radians(50)  # of the light above the page
AMBIENT = 0.35  # share of the light that comes from everywhere
GLEAM = 0.12  # lightness that a bevel right before the light gains
SLOPE = math.pi / 4  # of bevels


@dataclass(frozen=True, slots=True)
class Tones:
    """Colours as #rrggbb: ``plate`` and ``band`` from their inner to their outer rim.

    ``floor`` is the bottom of a counterbore, ``facets`` are bevels by how far they turn from the
    light, the darkest first.
    """

    plate: tuple[str, str]
    band: tuple[str, str]
    line: str
    floor: str
    facets: tuple[str, ...]


def tones(look: Look) -> Tones:
    """Return the tones of a ring of this *look*.

    >>> len(set(tones(Look(finish="gold")).facets)) == LEVELS
    True
    """
    base = to_oklab(look.colour)
    drop = 0.03 + 0.10 * base[0]  # a tone: more in light metal, still some in black
    steps = [0.012, -0.012, -0.93 * drop, -1.2 * drop, -0.42 * base[0], -0.55 * drop]
    found = from_oklab(_turned(base, base[0] + np.array(steps)))
    facets = from_oklab(_turned(base, _lit(base[0])))
    return Tones((found[0], found[1]), (found[2], found[3]), found[4], found[5], tuple(facets))


def side_tones(look: Look, slope: float) -> tuple[str, ...]:
    """Return the tones of a tooth's side that leans by *slope* (radians), as ``facets`` run.

    >>> len(set(side_tones(Look(), 0.2)))
    9
    """
    base = to_oklab(look.colour)
    band = base[0] - 1.05 * (0.03 + 0.10 * base[0])
    return tuple(from_oklab(_turned(base, _lit(band, slope))))


def _lit(lightness: float, slope: float = SLOPE) -> Floats:
    """Return the lightness of what leans by *slope*, from turned away to facing the light."""
    faces = -np.cos(np.pi * (np.arange(LEVELS) + 0.5) / LEVELS)
    direct = math.cos(slope) + math.sin(slope) * faces / math.tan(HEIGHT)
    share = AMBIENT + (1 - AMBIENT) * np.clip(direct, 0, None)
    gleam = GLEAM * np.clip(faces, 0, 1) ** 3 * math.sin(slope) / math.sin(SLOPE)
    found: Floats = lightness * np.cbrt(share) + gleam
    return found


def _turned(base: Floats, lightness: Floats) -> Floats:
    """Return *base* at other values of lightness, darker ones with less colour."""
    chroma = base[1:] * np.minimum(1, lightness / base[0])[:, None]
    return np.column_stack([lightness, chroma])
