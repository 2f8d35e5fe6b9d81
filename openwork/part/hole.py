"""How the hole of a bolt is made: drilled or tapped, counterbored or countersunk."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from typing import Any, Literal, TypeAlias

from pydantic import Field, field_validator, model_validator

from openwork.shape.contour import Contour, circle
from openwork.tables.table import Table

Face: TypeAlias = Literal["front", "back"]
THREAD = re.compile(r"M(\d+(?:\.\d+)?)x(\d+(?:\.\d+)?)")
LEAST, MOST = 3, 20  # mm, bolt holes
MINOR = 1.0825  # ISO 724: minor diameter of an internal thread, D - 1.0825 P


class Counterbore(Table):
    """A flat-bottomed recess for the head of a bolt."""

    diameter: float = Field(gt=0, le=40, description="diameter of the counterbore, mm")
    depth: float = Field(gt=0, le=12, description="depth of the counterbore, mm")
    face: Face = Field("front", description="the face it is cut from")


class Countersink(Table):
    """A conical recess for the head of a bolt."""

    diameter: float = Field(gt=0, le=40, description="diameter of the countersink on the face, mm")
    angle: float = Field(90.0, ge=60, le=120, description="angle of the cone, degrees")
    face: Face = Field("front", description="the face it is cut from")


class Hole(Table):
    """The hole of one bolt; lengths in mm."""

    hole: float = Field(10.1, ge=LEAST, le=MOST, description="bolt hole diameter, mm")
    tap: str = Field("", description='thread instead of a plain hole, as "M8x0.75"; ISO 965-6H')
    counterbore: Counterbore | None = Field(None, description="{ diameter, depth, face } in mm")
    countersink: Countersink | None = Field(None, description="{ diameter, angle, face }")

    @model_validator(mode="before")
    @classmethod
    def _tapped(cls, values: Any) -> Any:
        return tapped(values)

    @field_validator("tap")
    @classmethod
    def _thread(cls, name: str) -> str:
        return checked_thread(name)

    @property
    def major(self) -> float:
        """Diameter that the hole takes of the pad, mm: a thread's major one."""
        found = THREAD.fullmatch(self.tap)
        return float(found[1]) if found else self.hole

    @property
    def widest(self) -> float:
        """Greatest diameter that is bored, mm."""
        sunk = (one.diameter for one in (self.counterbore, self.countersink) if one is not None)
        return max(self.major, *sunk, 0.0)

    @property
    def sink_depth(self) -> float:
        """Depth of the countersink, mm; 0 without one."""
        if self.countersink is None:
            return 0.0
        half = math.radians(self.countersink.angle / 2)
        return (self.countersink.diameter - self.hole) / 2 / math.tan(half)

    @property
    def sunk_depth(self) -> float:
        """Depth of what is sunk from either face, mm."""
        return self.sink_depth + (self.counterbore.depth if self.counterbore else 0.0)

    def rim(self, face: str) -> float | None:
        """Return the diameter of the hole's rim in a *face*, mm; None where it is countersunk."""
        if self.countersink is not None and self.countersink.face == face:
            return None
        if self.counterbore is not None and self.counterbore.face == face:
            return self.counterbore.diameter
        return self.hole

    @property
    def sunk(self) -> float:
        """Volume, mm3, that counterbore and countersink take beside the plain hole."""
        radius, taken = self.hole / 2, 0.0
        if self.counterbore is not None:
            outer = self.counterbore.diameter / 2
            taken += math.pi * (outer**2 - radius**2) * self.counterbore.depth
        if self.countersink is not None:
            outer, depth = self.countersink.diameter / 2, self.sink_depth
            taken += math.pi * depth * ((outer**2 + outer * radius + radius**2) / 3 - radius**2)
        return taken

    def contour(self, centre: Any) -> Contour:
        """Return the outline (ccw) of the hole about *centre*."""
        return circle(self.hole / 2, centre)

    def faults(self, key: str, plate: float) -> list[str]:
        """Return what of it cannot be cut from a *plate* (mm), under the name *key*."""
        found = []
        bore, sink = self.counterbore, self.countersink
        if bore is not None and sink is not None and bore.face == sink.face:
            found.append(
                f"{key}.countersink: lies on the face of the counterbore; "
                f'face = "{"back" if sink.face == "front" else "front"}" works'
            )
        if bore is not None and bore.depth > plate - UNDER_HEAD:
            found.append(
                f"{key}.counterbore.depth {bore.depth:g}: leaves less than {UNDER_HEAD:g} mm of "
                f"the plate of {plate:g} mm under the head; {_down(plate - UNDER_HEAD)}"
            )
        if sink is not None and sink.diameter <= self.major:
            found.append(
                f"{key}.countersink.diameter {sink.diameter:g}: not wider than the hole of "
                f"{self.major:g} mm; {self.major + plate:g} works"
            )
        deep = self.sunk_depth
        if sink is not None and deep > plate - LEFT:
            room = plate - LEFT - (bore.depth if bore else 0.0)
            most = self.hole + 2 * room * math.tan(math.radians(sink.angle / 2))
            found.append(
                f"{key}.countersink.diameter {sink.diameter:g}: all that is sunk is {deep:.2f} mm "
                f"deep in a plate of {plate:g} mm, which leaves less than {LEFT:g} mm of the hole; "
                f"{_down(most, over=self.major)}"
            )
        return found


LEFT = 0.3  # mm of a hole's wall left under a countersink; common practice, no source
UNDER_HEAD = 0.8  # mm of plate left under a counterbored head; common practice, no source


def _down(most: float, over: float = 0.0) -> str:
    """Return that *most* works, or a thicker plate where it is not more than *over*."""
    least = math.floor(most * 100 + 1e-6) / 100
    return f"{least:g} works" if least > over else "a thicker plate works"


def tapped(values: Any) -> Any:
    """Return the values of a hole with the diameter that its thread asks for.

    >>> tapped({"hole": {"tap": "M8x0.75"}})
    {'hole': 7.188, 'tap': 'M8x0.75'}

    Raises ValueError where that is no thread.
    """
    if not isinstance(values, dict):
        return values
    hole = values.get("hole")
    if isinstance(hole, dict) and isinstance(hole.get("tap"), str) and len(hole) == 1:
        if fault := thread_fault(hole["tap"]):
            raise ValueError(f"hole: {fault}")
        values = {**values, "tap": hole["tap"]}
    tap = values.get("tap")
    found = THREAD.fullmatch(tap) if isinstance(tap, str) and not thread_fault(tap) else None
    if found is None:
        return values
    return {**values, "hole": round(float(found[1]) - MINOR * float(found[2]), 3)}


def thread_fault(name: str) -> str:
    """Return what is wrong with *name*, which is no metric thread that a pad can take, or ""."""
    found = THREAD.fullmatch(name)
    if not name:
        return ""
    if found is None or float(found[2]) >= float(found[1]) / 4:
        return f'"{name}" is no metric thread with its pitch; "M8x0.75" works'
    if not LEAST <= float(found[1]) - MINOR * float(found[2]) <= float(found[1]) <= MOST:
        return f'"{name}" lies outside M4 to M{MOST}; "M8x0.75" works'
    return ""


def checked_thread(name: str) -> str:
    """Return *name*; raises ValueError where it is no metric thread that a pad can take."""
    if fault := thread_fault(name):
        raise ValueError(fault)
    return name


def head_caution(holes: Sequence[Hole], head: float, pad: float) -> str:
    """Return what to say of a bolt's *head* (mm across) that does not go with its hole, or "".

    *pad* is the radius kept solid round it, mm.
    """
    measure = "measure your bolt, bolts.head is its width"
    bored = min((one.counterbore.diameter for one in holes if one.counterbore), default=math.inf)
    if head > bored:
        return f"A head of {head:g} mm does not go into a counterbore of {bored:g}: {measure}."
    widest = max(one.major for one in holes)
    if head <= widest:
        return f"A head of {head:g} mm falls through a hole of {widest:g}: {measure}."
    if head > 2 * pad:
        return (
            f"A head of {head:g} mm is wider than its pad of {2 * pad:g}, and clamps openings too: "
            f"{measure}, mount.pad {head / 2:g} is as wide."
        )
    return ""
