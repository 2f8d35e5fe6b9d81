"""The sides of teeth, which stand back towards the tip so that a chain finds its way.

ISO 606:2015 clause 5.6: a side is turned with a radius rx of the pitch, which takes a relief ba off
either face at the tip; ba is 0.06 of the pitch for 081, 083, 084 and 085 and 0.13 for the others of
the standard (from memory). Cycle chains are as narrow as 081, so 0.06 serves them too.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
from pydantic import Field, model_validator

from openwork.part.chain import Chain
from openwork.shape.contour import Floats
from openwork.tables.table import Table

RELIEF = 0.06  # of the pitch
LEAST_TIP = 0.5  # mm of tooth left at the tip between its reliefs; common practice, no source
SEAT = 0.3  # mm over the root circle that stay whole, for the rollers; common practice, no source


class Sides(Table):
    """Sides of one's own: turned with a radius, or a straight chamfer at an angle."""

    relief: float = Field(gt=0, le=3, description="taken off either face at the tip, mm")
    radius: float | None = Field(None, gt=0, le=100, description="side radius, mm")
    angle: float | None = Field(
        None, gt=1, lt=80, description="of a straight chamfer against the face, degrees"
    )

    @model_validator(mode="before")
    @classmethod
    def _one_of(cls, values: Any) -> Any:
        if isinstance(values, dict) and not (values.get("radius") or values.get("angle")):
            return {**values, "radius": 12.7}
        if isinstance(values, dict) and values.get("radius") and values.get("angle"):
            raise ValueError("angle: a side is turned with a radius or straight; leave one out")
        return values


@dataclass(frozen=True, slots=True)
class Profile:
    """How far a side stands back from the band's face: nothing up to the radius ``start``.

    ``radius`` is that of the turned side, infinite for a straight one of ``slope``; mm.
    """

    start: float
    radius: float = math.inf
    slope: float = 0.0

    def recess(self, radius: Floats) -> Floats:
        """Return the relief of one side, mm, at *radius* (mm)."""
        beyond = np.maximum(np.asarray(radius, dtype=float) - self.start, 0.0)
        if math.isinf(self.radius):
            return np.asarray(self.slope * beyond)
        return np.asarray(self.radius - np.sqrt(self.radius**2 - beyond**2))

    def moment(self, radius: Floats) -> Floats:
        """Return the integral of recess(s) s ds up to *radius*, mm3; closed forms of arc and cone.

        >>> float(Profile(80.0, slope=1.0).moment(np.array(83.0)))  # 3^3 / 3 + 80 x 3^2 / 2
        369.0
        """
        u, a = np.maximum(np.asarray(radius, dtype=float) - self.start, 0.0), self.start
        if math.isinf(self.radius):
            return np.asarray(self.slope * (u**3 / 3 + a * u**2 / 2))
        r = self.radius
        rest = np.sqrt(r**2 - u**2)
        first = r * u**2 / 2 + (rest**3 - r**3) / 3
        zeroth = r * u - (u * rest + r**2 * np.arcsin(u / r)) / 2
        return np.asarray(first + a * zeroth)


def profile(
    sides: Literal["auto", "square"] | Sides | str,
    chain: Chain,
    *,
    width: float,
    tip: float,
    root: float,
) -> tuple[Profile | None, list[str]]:
    """Return the profile of teeth *width* thick, None for square ones, and what is wrong with it.

    *tip* and *root* are the radii of the ring, mm.
    """
    if isinstance(sides, str):
        relief = min(RELIEF * chain.pitch, (width - LEAST_TIP) / 2)
        if sides == "square" or relief <= 0.05:
            return None, []
        return _turned(tip, relief, chain.pitch), []
    faults = []
    most = math.floor(((width - LEAST_TIP) / 2) * 100) / 100
    if sides.relief > most + 1e-9:
        works = f"{most:g}" if most > 0 else 'ring.sides = "square"'
        return None, [
            f"ring.sides.relief {sides.relief:g}: the sides would meet at the tip of teeth "
            f"{width:.3f} mm thick, which keeps {LEAST_TIP:g} mm; {works} works"
        ]
    deepest = tip - root - SEAT
    if sides.angle is not None:
        slope = math.tan(math.radians(sides.angle))
        found = Profile(tip - sides.relief / slope, slope=slope)
    else:
        radius = sides.radius or chain.pitch
        if sides.relief > radius:
            faults.append(
                f"ring.sides.radius {radius:g}: a side turned with it stands back {radius:g} mm at "
                f"most, not {sides.relief:g}; {sides.relief:g} works"
            )
        found = _turned(tip, min(sides.relief, radius), radius)
    depth = tip - found.start
    if depth > deepest:
        faults.append(
            f"ring.sides: reach {depth:.2f} mm down from the tip and into the seats of the "
            f"rollers, {deepest:.2f} mm at most; {_shallower(sides, deepest)} works"
        )
    return found, faults


def _turned(tip: float, relief: float, radius: float) -> Profile:
    """Return the profile whose arc of *radius* takes *relief* at the *tip*, mm."""
    return Profile(tip - math.sqrt(2 * radius * relief - relief**2), radius=radius)


def _shallower(sides: Sides, deepest: float) -> str:
    """Return what of the sides would end above the seats."""
    if sides.angle is not None:
        return f"an angle of {math.degrees(math.atan(sides.relief / deepest)) + 0.1:.1f} degrees"
    radius = (deepest**2 + sides.relief**2) / (2 * sides.relief)
    return f"a radius of {math.floor(radius * 100) / 100:g} mm"
