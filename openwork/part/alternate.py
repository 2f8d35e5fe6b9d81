"""Teeth that are wide and narrow by turns, for a chain that no derailleur holds on the ring.

Inner and outer links of a chain follow each other: a narrow tooth fits between inner plates, a wide
one only between outer plates, and clear of the ends of the inner plates about either pin. So the
chain's own measures say where the wide teeth may be thick: their *lands*.
"""

from __future__ import annotations

import cmath
import math
from functools import lru_cache
from typing import TYPE_CHECKING

from pydantic import Field

from openwork.part.chain import Chain
from openwork.part.teeth import Diameters
from openwork.shape.contour import Contour
from openwork.shape.cut import cut
from openwork.tables.table import Table

if TYPE_CHECKING:
    from openwork.part.blank import Blank

PATENTS = (
    "Patents on teeth of alternating width may stand in some countries; "
    "whether they do is for a patent attorney to say."
)
ABOVE_ROOT = 0.5  # mm over the root circle at which lands end, so that each tooth has its own
NARROWEST = 1.0  # mm of a land between the ends of two inner plates; common practice, no source
STEP = 0.1  # mm by which a wide tooth is wider, either side, to be called so


class Alternating(Table):
    """Wide teeth by turns with narrow ones; their measures follow from the chain."""

    play: float = Field(
        0.3, ge=0.05, le=2, description="of a wide tooth between the outer plates, mm"
    )
    wide: float = Field(
        0.0, ge=0, le=12, description="width of the wide teeth, mm; 0 for what the play leaves"
    )
    clear: float = Field(
        0.3, ge=0.05, le=2, description="of the lands round the ends of the inner plates, mm"
    )

    def width(self, chain: Chain) -> float:
        """Return the width of the wide teeth, mm."""
        return self.wide or chain.outer_width - self.play

    def reach(self, chain: Chain) -> float:
        """Return how near to a pin the lands come, mm."""
        return chain.plate_depth / 2 + self.clear


def alternating_faults(teeth: int, chain: Chain, made: Alternating, narrow: float) -> list[str]:
    """Return what is impossible about teeth that alternate, *narrow* mm the narrow ones."""
    found = []
    if teeth % 2:
        found.append(
            f"ring.alternating: {teeth} teeth are an odd number, and links would meet other teeth "
            f"at every turn; ring.teeth {teeth - 1} or {teeth + 1} works"
        )
    wide = made.width(chain)
    most = chain.outer_width - 0.05
    if not narrow + 2 * STEP <= wide <= most:
        found.append(
            f"ring.alternating: wide teeth of {wide:.2f} mm must be {2 * STEP:g} mm wider than "
            f"the narrow ones of {narrow:.2f} and fit between outer plates {chain.outer_width:g} "
            f"mm apart; wide = {(narrow + chain.outer_width) / 2:.2f} works"
        )
    room = chain.pitch - 2 * made.reach(chain)
    if room < NARROWEST:
        found.append(
            f"ring.alternating: inner plates {chain.plate_depth:g} mm deep leave {room:.2f} mm "
            f"between their ends, less than {NARROWEST:g} mm for a wide tooth; a chain with "
            f"plates = {math.floor((chain.pitch - NARROWEST - 2 * made.clear) * 10) / 10:g} works"
        )
    return found


def lands(ring: Blank) -> tuple[tuple[Contour, ...], ...]:
    """Return by wide tooth where it is thick (one or more contours, ccw); none for equal teeth."""
    if ring.alternating is None:
        return ()
    turn = math.tau / ring.teeth
    return tuple(
        tuple(_turned(one, 2 * k * turn) for one in _land(ring)) for k in range(ring.teeth // 2)
    )


def base_radius(sizes: Diameters) -> float:
    """Return the radius at which lands end below, mm."""
    return sizes.root / 2 + ABOVE_ROOT


def is_wide(teeth: int, point: complex) -> bool:
    """Tell whether *point* lies in the angle of a wide tooth; the first is that after +x."""
    return int(cmath.phase(point) % math.tau // (math.tau / teeth)) % 2 == 0


@lru_cache(maxsize=8)
def _land(ring: Blank) -> tuple[Contour, ...]:
    """Return the land of the first wide tooth."""
    assert ring.alternating is not None
    turn = math.tau / ring.teeth

    def first(point: complex) -> bool:
        return 0 < cmath.phase(point) < turn

    tooth = cut(ring.outline, 0j, base_radius(ring.diameters), only=first).outside
    reach, pitch = ring.alternating.reach(ring.chain), ring.diameters.pitch / 2
    for pin in (complex(pitch), cmath.rect(pitch, turn)):
        tooth = tuple(part for one in tooth for part in cut(one, pin, reach).outside)
    return tooth


def _turned(contour: Contour, angle: float) -> Contour:
    """Return *contour* turned about the axis."""
    c, s = math.cos(angle), math.sin(angle)
    points = contour.points
    return Contour(
        [[c * x - s * y, s * x + c * y] for x, y in points.tolist()],  # type: ignore[arg-type]
        contour.bulges,
    )
