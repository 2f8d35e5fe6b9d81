"""What is wanted of the ring and of its family."""

from __future__ import annotations

from itertools import pairwise
from typing import Annotated, Literal, TypeAlias

from pydantic import Field, field_validator

from openwork.tables.table import Table

LEAST, MOST = 1, 5000  # g
Mass: TypeAlias = Annotated[float, Field(ge=LEAST, le=MOST)]
Wanted: TypeAlias = float | tuple[float, float] | None
Teeth: TypeAlias = Annotated[int, Field(ge=9, le=150)]


class Goal(Table):
    """The mass to hit and the tooth counts that will be sold."""

    mass: Mass | tuple[Mass, Mass] | None = Field(
        None, description="mass wanted, g, or the band [least, most]; no goal if left out"
    )
    teeth: tuple[Teeth, ...] = Field(
        (), description="tooth counts of the family: [first, last], or a list of three and more"
    )
    hold: Literal["mass", "rib"] = Field(
        "mass", description="what all sizes of the family share: the mass or the rib"
    )
    per_tooth: float = Field(
        0.0, ge=-50, le=50, description="growth of the mass wanted with each tooth, g"
    )

    @field_validator("mass")
    @classmethod
    def _least_first(
        cls, mass: float | tuple[float, float] | None
    ) -> float | tuple[float, float] | None:
        if isinstance(mass, tuple) and mass[0] > mass[1]:
            raise ValueError(f"the least comes first; [{mass[1]:g}, {mass[0]:g}] works")
        return mass

    @field_validator("teeth")
    @classmethod
    def _rising(cls, teeth: tuple[int, ...]) -> tuple[int, ...]:
        if any(a >= b for a, b in pairwise(teeth)):
            raise ValueError(f"must rise; {sorted(set(teeth))} works")
        return teeth

    @property
    def sizes(self) -> tuple[int, ...]:
        """The tooth counts of the family, one by one.

        >>> Goal(teeth=(38, 41)).sizes, Goal(teeth=(38, 42, 46)).sizes
        ((38, 39, 40, 41), (38, 42, 46))
        """
        if len(self.teeth) == 2:
            return tuple(range(self.teeth[0], self.teeth[1] + 1))
        return self.teeth

    def wanted(self, more: int) -> Wanted:
        """Return the mass, or the band, wanted with *more* teeth; None where the rib is held.

        >>> Goal(mass=100.0, per_tooth=2.0).wanted(-3)
        94.0
        """
        if self.hold == "rib" or self.mass is None:
            return None
        grown = more * self.per_tooth
        if isinstance(self.mass, tuple):
            return self.mass[0] + grown, self.mass[1] + grown
        return self.mass + grown
