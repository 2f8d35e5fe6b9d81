"""Three grades of mesh, and how far the stress each shows may be off."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal, TypeAlias

from openwork.strength.body import Fineness

Quality: TypeAlias = Literal["search", "draw", "final"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Grade:
    """Meshes in plane and across it, and the bias (least, greatest) their stress still has.

    A ``scout`` mesh finds the hot spots round which the mesh in plane is then refined.
    A bias is true value over shown value, measured on rings of sixteen families with ribs of
    2 and 3 mm against a mesh of 0.9 mm, 0.3 mm at the hot spots.
    """

    plane: Fineness
    plate: Fineness
    bias: tuple[float, float]
    scout: Fineness | None = None

    def __str__(self) -> str:
        inner, outer = self.plane, self.plate
        second = ", refined at 6 hot spots" if self.scout else ""
        return (
            f"plane {inner.step:g}/{inner.spacing:g} mm{second}; "
            f"plate {outer.step:g}/{outer.spacing:g} mm"
        )


GRADES: Mapping[Quality, Grade] = MappingProxyType(
    {
        "search": Grade(plane=Fineness(3.0, 2.5), plate=Fineness(3.0, 2.5), bias=(1.0, 1.45)),
        "draw": Grade(plane=Fineness(1.6, 1.3), plate=Fineness(3.0, 2.5), bias=(1.0, 1.25)),
        "final": Grade(
            plane=Fineness(1.3, 1.0),
            plate=Fineness(2.0, 1.6),
            scout=Fineness(2.0, 1.6),
            bias=(0.98, 1.05),
        ),
    }
)
