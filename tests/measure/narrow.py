"""Rings with one margin too narrow, the two others kept: what the least of all three lets pass.

The ring has 24 teeth of 12.7 mm, so its roots lie 44.77 mm from the axis, a bore of 50 mm, and
bolts on 64 mm; four round holes are its openings.
"""

import dataclasses

import numpy as np

import openwork
from openwork.ring import Design
from openwork.shape.contour import circle
from openwork.spec.spec import from_toml

SPEC = """
title = "Slip 24"
[ring]
teeth = 24
[mount]
bolts = 4
circle = 64.0
bore = 50.0
pad = 9.0
[web]
bevel = 0.0
[pattern]
name = "spokes"
count = 20
"""
RADIUS = 1.6  # mm of each opening
ROOT = (
    12.7 / np.sin(np.pi / 24) / 2 - 7.75 / 2
)  # mm; ISO 606, chain 082: pitch circle less the roller
BESIDE = 2 * np.arcsin((8.5 + RADIUS) / 64)  # where a hole on the bolt circle leaves 8.5 mm
# The limits on rim and hem, and where (mm, radians) the holes lie.
NARROW = {
    "rim": ({"rim": 6.0, "hem": 1.0}, ROOT - 3.0 - RADIUS, np.pi / 4),
    "hem": ({"rim": 3.5, "hem": 6.0}, 25.0 + 4.0 + RADIUS, np.pi / 4),
    "pad": ({"rim": 3.5, "hem": 1.0}, 32.0, BESIDE),
}
FOUND = {"rim": (3.0, 6), "hem": (4.0, 6), "pad": (8.5, 9)}  # mm measured, and the limit


def narrow(margin: str) -> Design:
    """Return the ring whose *margin* alone is narrower than its limit."""
    limits, radius, angle = NARROW[margin]
    ring = openwork.design(from_toml(SPEC))
    turns = angle + np.pi / 2 * np.arange(4)
    openings = [circle(RADIUS, (radius * np.cos(t), radius * np.sin(t))) for t in turns]
    web = ring.spec.web.model_copy(update=limits)
    spec = ring.spec.model_copy(update={"web": web})
    return dataclasses.replace(ring, spec=spec, openings=tuple(openings))


def says(margin: str) -> str:
    """Return what a check must say of the ring."""
    key = "mount.pad" if margin == "pad" else f"web.{margin}"
    found, limit = FOUND[margin]
    return f"{key}: the {margin} measures {found:.3f} mm, the limit is {limit} mm"
