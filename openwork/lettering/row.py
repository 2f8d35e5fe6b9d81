"""Where the signs of a text stand along an arc, each whole, its middle on the base line."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from openwork.lettering.alphabet import CAPITAL
from openwork.lettering.signs import Sign, sign
from openwork.lettering.spacing import LEAST, places
from openwork.lettering.table import Mark


@dataclass(frozen=True, slots=True)
class Put:
    """How a sign comes from its grid to the ring: mirrored, turned and scaled *by*, moved *to*."""

    by: complex
    to: complex
    mirror: bool


@dataclass(frozen=True, slots=True)
class Row:
    """The base line of a mark: an arc of ``radius`` mm, signs at least ``apart`` (mm) on it."""

    mark: Mark
    radius: float
    apart: float = 0.0

    @property
    def scale(self) -> float:
        """Size of the grid, mm."""
        return self.mark.height / CAPITAL

    def span(self, signs: Sequence[str]) -> float:
        """Return the angle, radians, that *signs* cover."""
        return self._places(signs)[-1] * self.scale / self._even_radius

    def put(self, signs: Sequence[str], turn: float) -> Iterator[tuple[Sign, Put]]:
        """Yield each of *signs* but spaces, its middle at x = 0, and how it is put on the ring."""
        mark, starts = self.mark, self._places(signs)
        way = 1 if mark.reads == "outward" else -1
        mirror = mark.face == "back"
        for one, start in zip(signs, starts[:-1], strict=True):
            found = sign(one)
            if found is None:
                continue  # a space
            middle = found.width / 2
            along = (start + middle - starts[-1] / 2) * self.scale / self._even_radius
            angle = math.radians(mark.angle) + turn - way * along * (-1 if mirror else 1)
            # Right of a sign is to the right of its upward direction.
            by = cmath.rect(self.scale, angle) * way * -1j
            back = middle if mirror else -middle
            yield found, Put(by, cmath.rect(self.radius, angle) + back * by, mirror)

    def _places(self, signs: Sequence[str]) -> list[float]:
        return places(signs, max(self.apart / self.scale, LEAST))

    @property
    def _even_radius(self) -> float:
        """Radius, mm, on which signs stand as far apart as on a straight line."""
        half = self.mark.height / 2
        return self.radius + (half if self.mark.reads == "outward" else -half)
