"""What drives the ring."""

from __future__ import annotations

from pydantic import Field

from openwork.table import Table


class Load(Table):
    """The force on one pedal and the crank that turns it into torque."""

    # 1500 N on one pedal: drive-system static test of EN 14766 and ISO 4210-8, from memory.
    force: float = Field(1500.0, ge=1, le=20000, description="force on one pedal, N")
    crank: float = Field(170.0, ge=50, le=400, description="length of the crank, mm")
