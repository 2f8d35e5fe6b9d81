"""How the ring is held: bolt circle, holes, pads and bore."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Annotated, Any, Self

import numpy as np
from pydantic import Field, field_validator, model_validator

from openwork.shape.contour import Points
from openwork.tables.table import Table

LEAST_BLEND = 1.0  # mm; smaller fillets make pieces too short to cut
SAME = 1e-6  # degrees within which two angles are one


class Counterbore(Table):
    """A counterbore of every bolt hole, from the front."""

    diameter: float = Field(gt=0, le=40, description="diameter of the counterbore, mm")
    depth: float = Field(gt=0, le=12, description="depth of the counterbore, mm")


class Mount(Table):
    """The bolt circle and what is kept round it; lengths in mm, angles in degrees at this door."""

    bolts: int = Field(5, ge=3, le=12, description="number of bolts")
    circle: float = Field(ge=30, le=600, description="bolt circle diameter, mm")
    hole: float = Field(10.1, ge=3, le=20, description="bolt hole diameter, mm")
    angles: Annotated[tuple[float, ...], Field(strict=False)] = Field(
        (), description="angles of the bolts, degrees, from 0 upwards; none for even spacing"
    )
    counterbore: Counterbore | None = Field(
        None,
        description="counterbore of the bolt holes, { diameter, depth } in mm; none if left out",
    )
    pad: float = Field(8.5, ge=3, le=30, description="radius kept solid round a bolt, mm")
    bore: float = Field(
        0.0, ge=0, le=600, description="inner diameter between the pads, mm; 0 for circle + 6"
    )
    blend: float = Field(
        5.0, ge=LEAST_BLEND, le=40, description="fillet radius where a pad meets the inner edge, mm"
    )
    room: float = Field(
        7.0, ge=0, le=50, description="least distance of a bolt's centre from the tooth roots, mm"
    )

    @field_validator("angles")
    @classmethod
    def _ascending(cls, angles: tuple[float, ...]) -> tuple[float, ...]:
        if angles and abs(angles[0]) > SAME:
            raise ValueError(f"the first is {angles[0]:g}: a bolt lies on the x axis, start with 0")
        if any(b - a < SAME for a, b in pairwise(angles)) or any(a > 360 - SAME for a in angles):
            raise ValueError(f"{list(angles)}: must rise from 0 and stay below 360")
        return angles

    @model_validator(mode="before")
    @classmethod
    def _counted(cls, values: Any) -> Any:
        """Let the angles alone say how many bolts there are."""
        if isinstance(values, dict) and values.get("angles") and "bolts" not in values:
            return {**values, "bolts": len(values["angles"])}
        return values

    @model_validator(mode="after")
    def _as_many_angles_as_bolts(self) -> Self:
        if self.angles and len(self.angles) != self.bolts:
            raise ValueError(
                f"angles: {len(self.angles)} angles for {self.bolts} bolts; "
                f"bolts = {len(self.angles)} works"
            )
        return self

    @property
    def bore_diameter(self) -> float:
        """Diameter of the bore between the pads, mm; pads reach inwards as tabs by default."""
        return self.bore or self.circle + 6

    @property
    def bolt_angles(self) -> tuple[float, ...]:
        """Angles of the bolts, radians ccw from +x, the first 0."""
        if self.angles:
            return tuple(math.radians(angle) for angle in self.angles)
        return tuple(math.tau * k / self.bolts for k in range(self.bolts))

    @property
    def bolt_points(self) -> Points:
        """Centres (n, 2) of the bolt holes, mm."""
        angles = np.array(self.bolt_angles)
        return self.circle / 2 * np.column_stack([np.cos(angles), np.sin(angles)])

    @property
    def fold(self) -> int:
        """Order of rotational symmetry of the bolts.

        >>> Mount(circle=96, angles=[0, 82, 180, 262]).fold
        2
        """
        angles = np.degrees(self.bolt_angles)
        return max(n for n in range(1, self.bolts + 1) if _maps_onto(angles, 360 / n))


def _maps_onto(angles: Points, turn: float) -> bool:
    away = (angles[:, None] + turn - angles + 180) % 360 - 180
    return bool(np.all(np.abs(away).min(axis=1) < SAME))
