"""How the ring is held: bolt circle, holes, pads and bore."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Annotated, Any, Self

import numpy as np
from pydantic import ConfigDict, Field, WithJsonSchema, field_validator, model_validator

from openwork.part.chords import SAME_CIRCLE, angles_of, circle_of, repeated_chords
from openwork.part.hole import Counterbore, Countersink, Hole, checked_thread, tapped
from openwork.shape.contour import Points
from openwork.tables.table import Table

LEAST_BLEND = 1.0  # mm; smaller fillets make pieces too short to cut
WEB = 12.0  # mm from bore to tooth roots that a rim, a hem and an opening of 6 mm take
LEAST_CIRCLE, MOST_CIRCLE = 30, 600  # mm
SHORTEST, LONGEST = 5.0, 600.0  # mm between neighbouring holes
SAME_ANGLE = 1e-6  # degrees within which two angles are one
# A thread may stand for the diameter; it is put into its own key before the number is checked.
OR_TAP = WithJsonSchema(
    {
        "anyOf": [
            {"type": "number", "minimum": 3, "maximum": 20},
            {"type": "object", "properties": {"tap": {"type": "string"}}, "required": ["tap"]},
        ]
    }
)


def _circle_or_chords(schema: dict[str, Any]) -> None:
    """Let a mount have its circle, or the distances of its holes."""
    schema.pop("required", None)
    schema["anyOf"] = [{"required": ["circle"]}, {"required": ["chords"]}]


class Mount(Table):
    """The bolt circle and what is kept round it; lengths in mm, angles in degrees at this door."""

    model_config = ConfigDict(json_schema_extra=_circle_or_chords)

    bolts: int = Field(5, ge=3, le=12, description="number of bolts")
    circle: float = Field(ge=LEAST_CIRCLE, le=MOST_CIRCLE, description="bolt circle diameter, mm")
    chords: Annotated[tuple[float, ...], Field(strict=False)] = Field(
        (), description="distances of neighbouring holes, mm, instead of circle and angles"
    )
    turn: float = Field(0.0, ge=-360, le=360, description="turn of bolts and openings, degrees")
    hole: Annotated[float, OR_TAP] = Field(
        10.1, ge=3, le=20, description='bolt hole diameter, mm, or { tap = "M8x0.75" }'
    )
    tap: str = Field("", description='thread of the bolt holes, as "M8x0.75", ISO 965-6H')
    angles: Annotated[tuple[float, ...], Field(strict=False)] = Field(
        (), description="angles of the bolts, degrees, from 0 upwards; none for even spacing"
    )
    counterbore: Counterbore | None = Field(
        None, description="of the bolt holes, measure your bolt: its head and 0.5 mm of room, mm"
    )
    countersink: Countersink | None = Field(
        None, description="of the bolt holes, measure your bolt: { diameter, angle, face }"
    )
    holes: Annotated[tuple[Hole, ...], Field(strict=False)] = Field(
        (), description="a { hole, tap, counterbore } for each bolt, where they are not alike"
    )
    pad: float = Field(8.5, ge=3, le=30, description="radius kept solid round a bolt, mm")
    bore: float = Field(
        0.0,
        ge=0,
        le=600,
        description="inner diameter between the pads, mm; 0 for circle + 6, less in a small ring",
    )
    blend: float = Field(
        5.0, ge=LEAST_BLEND, le=40, description="fillet radius where a pad meets the inner edge, mm"
    )
    room: float = Field(
        7.0, ge=0, le=50, description="least distance of a bolt's centre from the tooth roots, mm"
    )

    @field_validator("tap")
    @classmethod
    def _thread(cls, name: str) -> str:
        return checked_thread(name)

    @field_validator("angles")
    @classmethod
    def _ascending(cls, angles: tuple[float, ...]) -> tuple[float, ...]:
        if angles and abs(angles[0]) > SAME_ANGLE:
            raise ValueError(f"the first is {angles[0]:g}: a bolt lies on the x axis, start with 0")
        if any(b - a < SAME_ANGLE for a, b in pairwise(angles)) or any(
            a > 360 - SAME_ANGLE for a in angles
        ):
            raise ValueError(f"{list(angles)}: must rise from 0 and stay below 360")
        return angles

    @model_validator(mode="before")
    @classmethod
    def _counted(cls, values: Any) -> Any:
        """Let angles, or chords, alone say how many bolts there are, and a thread its hole."""
        values = _measured(tapped(values))
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
        if self.holes and len(self.holes) != self.bolts:
            raise ValueError(f"holes: {len(self.holes)} holes for {self.bolts} bolts")
        return self

    @property
    def bolt_holes(self) -> tuple[Hole, ...]:
        """How the hole of each bolt is made."""
        alike = Hole(
            hole=self.hole,
            tap=self.tap,
            counterbore=self.counterbore,
            countersink=self.countersink,
        )
        return self.holes or (alike,) * self.bolts

    @property
    def widest_hole(self) -> float:
        """Diameter of the widest bolt hole, mm."""
        return max(one.major for one in self.bolt_holes)

    @property
    def widest(self) -> float:
        """Greatest diameter that is bored for a bolt, mm, recesses counted."""
        return max(one.widest for one in self.bolt_holes)

    def bored(self, root: float) -> Mount:
        """Return the mount with a bore that leaves room for openings inside *root*, mm.

        Only a bore that is left out gets smaller, and the least standard ring of a bolt circle
        draws.

        >>> Mount(circle=104.0).bored(160.0).bore_diameter
        110.0
        >>> Mount(circle=104.0).bored(121.8).bore_diameter
        97.5
        """
        most = math.floor(2 * (root - 2 * WEB)) / 2
        if self.bore or self.circle + 6 <= most:
            return self
        return self.model_copy(update={"bore": most})

    @property
    def bore_diameter(self) -> float:
        """Diameter of the bore between the pads, mm; pads reach inwards as tabs by default."""
        return self.bore or self.circle + 6

    @property
    def arm_angles(self) -> tuple[float, ...]:
        """Angles of the bolts from the first one, radians ccw."""
        if self.angles:
            return tuple(math.radians(angle) for angle in self.angles)
        return tuple(math.tau * k / self.bolts for k in range(self.bolts))

    @property
    def bolt_angles(self) -> tuple[float, ...]:
        """Angles of the bolts, radians ccw from +x, the first at ``turn``."""
        turn = math.radians(self.turn)
        return tuple(angle + turn for angle in self.arm_angles)

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
        angles = np.degrees(self.arm_angles)
        return max(n for n in range(1, self.bolts + 1) if _maps_onto(angles, 360 / n))


def _measured(values: Any) -> Any:
    """Return *values* with circle and angles that their chords say; raises ValueError."""
    chords = values.get("chords") if isinstance(values, dict) else None
    if not isinstance(chords, tuple | list) or not chords or not all(map(_number, chords)):
        return values
    if short := [chord for chord in chords if not SHORTEST <= chord <= LONGEST]:
        raise ValueError(
            f"chords: {short[0]:g} mm is no distance of two holes, "
            f"{SHORTEST:g} to {LONGEST:g} works"
        )
    count = values.get("bolts", {1: 5, 2: 4}.get(len(chords), len(chords)))
    if not isinstance(count, int):
        return values
    try:
        round_ = repeated_chords(chords, count)
        circle = circle_of(round_)
    except ValueError as fault:
        raise ValueError(f"chords: {fault}") from None
    said = values.get("circle", circle)
    if isinstance(said, int | float) and abs(said - circle) > SAME_CIRCLE:
        raise ValueError(
            f"chords: say a circle of {circle:.2f} mm, mount.circle says {said:g}; leave one out"
        )
    even = len(set(chords)) == 1
    angles = () if even else angles_of(round_, circle)
    return {**values, "circle": round(circle, 4), "bolts": count, "angles": angles}


def _number(value: Any) -> bool:
    real = isinstance(value, int | float) and not isinstance(value, bool)
    return real and math.isfinite(value)


def _maps_onto(angles: Points, turn: float) -> bool:
    away = (angles[:, None] + turn - angles + 180) % 360 - 180
    return bool(np.all(np.abs(away).min(axis=1) < SAME_ANGLE))
