"""What a ring does in a drive: chain pull, evenness of running, gear and development."""

from __future__ import annotations

import math
from dataclasses import dataclass

from pydantic import Field

from openwork.part.chain import Chain
from openwork.part.teeth import diameters, tip_diameter
from openwork.tables.figure import figure
from openwork.tables.table import Table


class Drive(Table):
    """What the ring drives; gear and development are told once it is known."""

    cog: int | None = Field(None, ge=9, le=150, description="teeth of the sprocket it drives")
    wheel: float | None = Field(
        None, ge=100, le=1200, description="diameter of the driven wheel over its tyre, mm"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Running:
    """The drive figures of a ring; diameters in mm.

    ``pull`` is that of the tight strand, N; ``ripple`` the share by which the chain's
    speed falls as a tooth takes over; ``even`` whether the teeth are an even number, so that inner
    and outer links always meet the same ones. ``gear`` is turns of the sprocket to one of the
    ring, ``development`` metres run in one turn of the ring; None where the drive is not known.
    """

    pitch: float = figure("mm", "diameter of the pitch circle")
    root: float = figure("mm", "diameter under the rollers")
    tip: float = figure("mm", "diameter over the teeth")
    over_pins: float = figure("mm", "measurement over pins")
    pull: float = figure("N", "pull of the tight strand under the load, the slack one counted")
    ripple: float = figure("1", "share by which the chain's speed falls as a tooth takes over")
    even: bool = figure("", "whether the number of teeth is even")
    gear: float | None = figure("1", "turns of the sprocket to one of the ring")
    development: float | None = figure("m", "run in one turn of the ring")


def running(teeth: int, chain: Chain, *, tip: float, pull: float, drive: Drive) -> Running:
    """Return the drive figures of a ring under a *pull* (N), its tips at *tip* (0 to 1).

    Diameters by ISO 606:2015 clause 5.3. The ripple
    is 1 - cos(180 degrees / z), the chordal action of roller chains: R. C. Binder, Mechanics of the
    Roller Chain Drive, Prentice-Hall 1956 (from memory).

    >>> from openwork.part.chain import CHAINS
    >>> found = running(42, CHAINS["082"], tip=0.5, pull=3053.0, drive=Drive(cog=14, wheel=700))
    >>> found.gear, round(found.development, 2)
    (3.0, 6.6)
    """
    sizes = diameters(teeth, chain)
    gear = None if drive.cog is None else teeth / drive.cog
    wheel = None if drive.wheel is None else math.pi * drive.wheel / 1000
    return Running(
        pitch=sizes.pitch,
        root=sizes.root,
        tip=tip_diameter(teeth, chain, tip=tip),
        over_pins=sizes.over_pins,
        pull=pull,
        ripple=1 - math.cos(math.pi / teeth),
        even=teeth % 2 == 0,
        gear=gear,
        development=None if gear is None or wheel is None else gear * wheel,
    )
