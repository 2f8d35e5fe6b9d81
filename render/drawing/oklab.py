"""Colours in OKLab, the space in which even steps look even: B. Ottosson, 2020."""

from __future__ import annotations

import numpy as np

from openwork.shape.contour import Floats

# Roots of the cone responses from lightness and two opponents; linear sRGB from their cubes.
ROOTS = np.array(
    [
        [1.0, 1.0, 1.0],
        [0.3963377774, -0.1055613458, -0.0894841775],
        [0.2158037573, -0.0638541728, -1.2914855480],
    ]
)
LINEAR = np.array(
    [
        [4.0767416621, -1.2684380046, -0.0041960863],
        [-3.3077115913, 2.6097574011, -0.7034186147],
        [0.2309699292, -0.3413193965, 1.7076147010],
    ]
)


def from_oklab(colours: Floats) -> list[str]:
    """Return rows (n, 3) of lightness and two opponents as #rrggbb, cut to what a screen shows."""
    linear = np.clip((colours @ ROOTS) ** 3 @ LINEAR, 0, 1)
    coded = np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - 0.055)
    return ["#" + bytes(np.rint(255 * row).astype(np.uint8).tolist()).hex() for row in coded]


def to_oklab(colour: str) -> Floats:
    """Return lightness and two opponents (3,) of #rrggbb.

    >>> from_oklab(to_oklab("#d0a24b")[None])
    ['#d0a24b']
    """
    coded = np.frombuffer(bytes.fromhex(colour[1:]), np.uint8) / 255
    linear = np.where(coded <= 0.04045, coded / 12.92, ((coded + 0.055) / 1.055) ** 2.4)
    found: Floats = np.cbrt(linear @ np.linalg.inv(LINEAR)) @ np.linalg.inv(ROOTS)
    return found
