"""Colours whose lightness falls in even steps, so that a grey copy still reads."""

from __future__ import annotations

import numpy as np

LIGHT, DARK = 0.95, 0.30  # lightness of the lowest and the highest step
HUES = (100.0, -40.0)  # degrees: from straw by way of red to plum
CHROMA = 0.115


def shades(count: int) -> list[str]:
    """Return *count* colours as #rrggbb, light to dark in even steps of perceived lightness.

    The space is OKLab, B. Ottosson 2020.

    >>> len(set(shades(8)))
    8
    """
    part = np.linspace(0, 1, count)
    lightness = LIGHT + (DARK - LIGHT) * part
    hue = np.radians(HUES[0] + (HUES[1] - HUES[0]) * part)
    # Light straw and dark plum hold less colour than the middle does.
    chroma = CHROMA * np.minimum(1, 0.55 + 1.6 * part * (1.25 - part))
    a, b = chroma * np.cos(hue), chroma * np.sin(hue)
    roots = lightness[:, None] + np.column_stack([a, b]) @ np.array(
        [[0.3963377774, -0.1055613458, -0.0894841775], [0.2158037573, -0.0638541728, -1.2914855480]]
    )
    linear = roots**3 @ np.array(
        [
            [4.0767416621, -1.2684380046, -0.0041960863],
            [-3.3077115913, 2.6097574011, -0.7034186147],
            [0.2309699292, -0.3413193965, 1.7076147010],
        ]
    )
    linear = np.clip(linear, 0, 1)
    coded = np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - 0.055)
    return ["#" + bytes(np.rint(255 * row).astype(np.uint8).tolist()).hex() for row in coded]
