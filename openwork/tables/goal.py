"""What is wanted of the ring and of its family."""

from __future__ import annotations

from itertools import pairwise
from typing import Annotated, Literal, TypeAlias

from pydantic import Field, field_validator

from openwork.tables.table import Table

LEAST, MOST = 1, 5000  # g
Mass: TypeAlias = Annotated[float, Field(ge=LEAST, le=MOST)]
Hold: TypeAlias = Literal["mass", "share", "rib"]
Wanted: TypeAlias = float | tuple[float, float] | None
Teeth: TypeAlias = Annotated[int, Field(ge=9, le=150)]
PerTooth: TypeAlias = Annotated[float, Field(ge=-50, le=50)]
Thickness: TypeAlias = Annotated[float, Field(ge=1, le=12)]


class Goal(Table):
    """The mass to hit and the tooth counts that will be sold."""

    mass: Mass | tuple[Mass, Mass] | None = Field(
        None, description="mass wanted, g, or the band [least, most]; no goal if left out"
    )
    teeth: tuple[Teeth, ...] = Field(
        (), description="tooth counts of the family: [first, last], or a list of three and more"
    )
    hold: Hold | None = Field(
        None,
        description="what all sizes of the family share: the mass, the solid share of the web or "
        "the rib; the mass where it is given, else the share",
    )
    share: float | None = Field(
        None,
        gt=0,
        le=1,
        description="solid share of the web that all sizes hold; the least all bear if left out",
    )
    per_tooth: PerTooth | Literal["auto"] = Field(
        0.0,
        description='growth of the mass wanted with each tooth, g; "auto" for what keeps the share',
    )
    least_rib: float | None = Field(
        None,
        ge=0.5,
        le=30,
        description="rib that a search for the mass may go down to, mm; web.rib if left out",
    )
    plate: tuple[Thickness, Thickness] | None = Field(
        None,
        description="[least, most] thickness of the plate, mm, that a search for the mass may "
        "choose where nothing else reaches it; the plate stays if left out",
    )

    @field_validator("mass", "plate")
    @classmethod
    def _least_first(
        cls, band: float | tuple[float, float] | None
    ) -> float | tuple[float, float] | None:
        if isinstance(band, tuple) and band[0] > band[1]:
            raise ValueError(f"the least comes first; [{band[1]:g}, {band[0]:g}] works")
        return band

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

    @property
    def held(self) -> Hold:
        """What all sizes share.

        >>> Goal().held, Goal(mass=100.0).held, Goal(mass=100.0, hold="rib").held
        ('share', 'mass', 'rib')
        """
        return self.hold or ("share" if self.mass is None else "mass")


def middle(wanted: float | tuple[float, float]) -> float:
    """Return a mass itself, of a band its middle.

    >>> middle(98.0), middle((97.0, 100.0))
    (98.0, 98.5)
    """
    return sum(wanted) / 2 if isinstance(wanted, tuple) else wanted


def shifted(wanted: float | tuple[float, float], by: float) -> float | tuple[float, float]:
    """Return a mass or a band *by* g heavier.

    >>> shifted(98.0, -2.0), shifted((97.0, 100.0), 2.0)
    (96.0, (99.0, 102.0))
    """
    return (wanted[0] + by, wanted[1] + by) if isinstance(wanted, tuple) else wanted + by
