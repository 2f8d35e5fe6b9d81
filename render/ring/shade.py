"""Colours whose lightness falls in even steps, so that a grey copy still reads."""

from __future__ import annotations

import numpy as np

from openwork.render.drawing.oklab import from_oklab

LIGHT, DARK = 0.95, 0.30  # lightness of the lowest and the highest step
HUES = (100.0, -40.0)  # degrees: from straw by way of red to plum
CHROMA = 0.115


def shades(count: int) -> list[str]:
    """Return *count* colours as #rrggbb, light to dark in even steps of perceived lightness.

    >>> len(set(shades(8)))
    8
    """
    part = np.linspace(0, 1, count)
    lightness = LIGHT + (DARK - LIGHT) * part
    hue = np.radians(HUES[0] + (HUES[1] - HUES[0]) * part)
    # Light straw and dark plum hold less colour than the middle does.
    chroma = CHROMA * np.minimum(1, 0.55 + 1.6 * part * (1.25 - part))
    return from_oklab(np.column_stack([lightness, chroma * np.cos(hue), chroma * np.sin(hue)]))
