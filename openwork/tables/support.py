"""The tables of the spec that say what the ring hangs on: the arms of a spider and their bolts."""

from __future__ import annotations

from pydantic import Field

from openwork.tables.table import Table


class Spider(Table):
    """How far an arm gives where it holds the ring; a bolt head turns freely on it."""

    # Calculated for a common spider of an assumed shape, 5 to 33 (70 on a small bolt circle) along
    # the circle and 118 to 450 across it; no spider's stiffness is published.
    tangential: float = Field(
        15.0, ge=0.1, le=1e6, description="stiffness of an arm along the bolt circle, kN/mm"
    )
    radial: float = Field(
        200.0, ge=0.1, le=1e6, description="stiffness of an arm along its length, kN/mm"
    )


class Bolts(Table):
    """The bolts that hold the ring on the arms, by friction until a joint slips."""

    # M8 at 10 N m, nut factor 0.2: 6.25 kN (common practice, no source).
    preload: float = Field(
        6.25, ge=0.1, le=100, description="clamping force of a bolt, kN; M8 at 10 to 12 N m: 6 to 8"
    )
    # Dry aluminium on aluminium: machined and degreased 0.08 to 0.15, untreated 0.12 to 0.20.
    friction: float = Field(
        0.15, ge=0.01, le=1.0, description="friction of ring on arm; dry aluminium 0.08 to 0.20"
    )
    # Half a 13 mm bolt head is clamped; common practice, no source.
    head: float = Field(13.0, ge=3, le=40, description="diameter that a bolt head clamps, mm")

    @property
    def slip(self) -> float:
        """Force in the plane at which one joint slips, N; one face of the ring rubs."""
        return 1000 * self.preload * self.friction
