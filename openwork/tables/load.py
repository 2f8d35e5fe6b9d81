"""The table of the spec that says what pulls at the ring, how often, and how sure one must be."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from openwork.tables.table import Table


class Load(Table):
    """The force on one pedal and the crank that turns it into torque; how the chain pulls."""

    # 1500 N on one pedal: drive-system static test of EN 14766 and ISO 4210-8, from memory.
    force: float = Field(1500.0, ge=1, le=20000, description="force on one pedal, N")
    crank: float = Field(170.0, ge=50, le=400, description="length of the crank, mm")
    rig: Literal["city", "young-adult", "mountain", "racing"] = Field(
        "mountain",
        description="rig of ISO 4210 for cranks: city, young-adult, mountain, racing",
    )
    ride: float = Field(
        800.0, ge=1, le=20000, description="your own force on the pedal in every turn, N"
    )
    life: float = Field(
        1e7, ge=1e3, le=5e8, description="turns of the crank it must last at that force"
    )
    survival: float = Field(
        97.7, ge=50, le=99.9, description="share of such rings that must last, %; 50 for the mean"
    )
    lead: float | Literal["worst"] = Field(
        "worst", description='right crank arm ahead of a tooth gap, degrees; "worst" for any'
    )
    wear: Literal["new", "worn-in"] = Field(
        "new", description="how rollers bear: new low in the seats, worn-in up at their ends"
    )
    # Half a wide cassette over a common chain stay; common practice, no source.
    slant: float = Field(20.0, ge=0, le=60, description="chain's way aside to the sprocket, mm")
    span: float = Field(415.0, ge=100, le=1500, description="length of the tight span, mm")
    surface: Literal["bare", "anodised", "hard-anodised"] = Field(
        "anodised", description="of the metal, which sets the fatigue strength"
    )
