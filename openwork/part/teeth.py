"""Sprocket teeth after ISO 606: diameters and tooth gaps.

A gap is a concave seat for the roller between two convex flanks. The seat touches the root circle,
so a pin of the roller's diameter in it measures pitch diameter plus pin.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from openwork.errors import RuleError
from openwork.part.arcs import arc
from openwork.part.chain import Chain
from openwork.shape.contour import Contour, as_points

CORNER = 0.3  # mm, fillet of a wide tip's corners; common practice, no source
CROWN = 0.1  # mm, least radius a narrow tip is rounded to
LAND = 0.1  # mm, least land left between two corners; a narrower tip is one round


@dataclass(frozen=True, slots=True, kw_only=True)
class Diameters:
    """Diameters of a sprocket, mm; ``shroud`` is the greatest the full plate may have."""

    pitch: float
    root: float
    tip_least: float
    tip_most: float
    shroud: float
    over_pins: float


def diameters(teeth: int, chain: Chain) -> Diameters:
    """Return the diameters, mm, by ISO 606:2015 clause 5.3 (shroud by GB/T 1243), pins as rollers.

    >>> from openwork.part.chain import CHAINS
    >>> round(diameters(42, CHAINS["082"]).over_pins, 4)
    177.6949
    """
    half = math.pi / teeth
    pitch = chain.pitch / math.sin(half)
    root = pitch - chain.roller
    return Diameters(
        pitch=pitch,
        root=root,
        tip_least=root + chain.pitch * (1 - 1.6 / teeth),
        tip_most=root + 1.25 * chain.pitch,
        shroud=chain.pitch / math.tan(half) - 1.04 * chain.plate_depth - 0.76,
        over_pins=pitch * (math.cos(half / 2) if teeth % 2 else 1.0) + chain.roller,
    )


def tip_diameter(teeth: int, chain: Chain, *, tip: float) -> float:
    """Return the tip diameter, mm, *tip* of the way from the least (0) to the greatest (1)."""
    sizes = diameters(teeth, chain)
    return sizes.tip_least + tip * (sizes.tip_most - sizes.tip_least)


def tooth_width(chain: Chain) -> float:
    """Return the thickness of the tooth band of a single-strand sprocket, mm: 0.93 or 0.95 b1."""
    return (0.93 if chain.pitch <= 12.7 else 0.95) * chain.inner_width


def pointed_diameter(teeth: int, chain: Chain, *, gap: float) -> float:
    """Return the diameter, mm, at which the flanks of a tooth meet."""
    return 2 * _Gap.of(teeth, chain, gap).tip_radius(0.0)


def tooth_outline(teeth: int, chain: Chain, *, gap: float, tip: float) -> Contour:
    """Return the toothed outline (ccw), a gap on +x; the tips end on the tip circle.

    *gap* 0 is the minimum form of ISO 606:2015 clause 5.4, 1 the maximum form. Raises RuleError
    where the flanks meet too soon for the tip to be rounded.
    """
    form = _Gap.of(teeth, chain, gap)
    radius = tip_diameter(teeth, chain, tip=tip) / 2
    if radius > form.tip_radius(CROWN):
        raise RuleError(_too_pointed(teeth, chain, gap, tip))
    points, centres = form.half_tooth(radius)
    turn = cmath.exp(2j * form.half)
    path = points + [point.conjugate() * turn for point in reversed(points)]
    middles = centres + [centre.conjugate() * turn for centre in reversed(centres[:-1])]
    pieces = [arc(form.seat_centre, points[0].conjugate(), points[0], -1)]
    pieces += [arc(c, a, b, 1) for c, (a, b) in zip(middles, pairwise(path), strict=True)]
    starts, bulges = np.array(pieces).T
    z = (turn ** np.arange(teeth)[:, None] * starts).ravel()
    return Contour(as_points(z), np.tile(bulges.real, teeth))


@dataclass(frozen=True, slots=True)
class _Gap:
    """The upper half of the gap on +x: a seat and a flank that touch in ``seat_end``."""

    half: float  # half an angular pitch, where the tooth's centreline lies
    seat_centre: complex
    seat_end: complex
    flank_centre: complex
    flank_radius: float

    @classmethod
    def of(cls, teeth: int, chain: Chain, gap: float) -> _Gap:
        """Return the gap; radii and seating angle run linearly from minimum to maximum form."""
        d1 = chain.roller
        seat = 0.505 * d1 + gap * 0.069 * d1 ** (1 / 3)
        flank_least, flank_most = 0.12 * d1 * (teeth + 2), 0.008 * d1 * (teeth**2 + 180)
        flank = flank_least + gap * (flank_most - flank_least)
        angle = math.radians(140 - 20 * gap - 90 / teeth)
        # The standard draws the seat about the pitch circle; its bottom would miss the root circle.
        centre = complex(diameters(teeth, chain).root / 2 + seat)
        along = -cmath.exp(-0.5j * angle)
        return cls(
            half=math.pi / teeth,
            seat_centre=centre,
            seat_end=centre + seat * along,
            flank_centre=centre + (seat + flank) * along,
            flank_radius=flank,
        )

    def tip_radius(self, crown: float) -> float:
        """Return where a tooth ends that is rounded by *crown* (mm) from flank to flank."""
        across = (self.flank_centre * cmath.exp(-1j * self.half)).imag
        along = (self.flank_centre * cmath.exp(-1j * self.half)).real
        return along + math.sqrt((self.flank_radius - crown) ** 2 - across**2) + crown

    def crown_radius(self, tip: float) -> float:
        """Return the radius that rounds a tooth from flank to flank at the *tip* radius, mm."""
        along = (self.flank_centre * cmath.exp(-1j * self.half)).real
        power = tip**2 - 2 * tip * along + abs(self.flank_centre) ** 2 - self.flank_radius**2
        return power / (2 * (tip - along - self.flank_radius))

    def half_tooth(self, tip: float) -> tuple[list[complex], list[complex]]:
        """Return where the arcs from seat to tip start, and their centres, the one on top last."""
        far = abs(self.flank_centre)
        cosine = ((tip - CORNER) ** 2 + far**2 - (self.flank_radius - CORNER) ** 2) / (
            2 * far * (tip - CORNER)
        )
        angle = cmath.phase(self.flank_centre) - math.acos(min(cosine, 1.0))
        if 2 * tip * (self.half - angle) < LAND:
            top = (tip - self.crown_radius(tip)) * cmath.exp(1j * self.half)
            return [self.seat_end, self._flank_end(top)], [self.flank_centre, top]
        corner = (tip - CORNER) * cmath.exp(1j * angle)
        ends = [self.seat_end, self._flank_end(corner), tip * cmath.exp(1j * angle)]
        return ends, [self.flank_centre, corner, 0j]

    def _flank_end(self, centre: complex) -> complex:
        """Return where a round about *centre* touches the flank from inside the tooth."""
        away = centre - self.flank_centre
        return self.flank_centre + self.flank_radius * away / abs(away)


def _too_pointed(teeth: int, chain: Chain, gap: float, tip: float) -> str:
    """Return what is wrong and what works; the minimum form leaves room for every tip."""
    from scipy.optimize import brentq  # noqa: PLC0415 (slow to import, and seldom needed)

    wanted = tip_diameter(teeth, chain, tip=tip)
    met = pointed_diameter(teeth, chain, gap=gap)
    rounded = 2 * _Gap.of(teeth, chain, gap).tip_radius(CROWN)
    lower = _greatest_tip(teeth, chain, gap)
    tighter = brentq(lambda other: _greatest_tip(teeth, chain, other) - tip, 0.0, gap)
    return (
        f"ring.tip {tip:g}: tip diameter {wanted:.3f} mm, but with ring.gap {gap:g} flanks meet "
        f"at {met:.3f} mm and rounded tips end at {rounded:.3f} mm; "
        f"ring.tip {_down(lower)} or ring.gap {_down(tighter)} works"
    )


def _greatest_tip(teeth: int, chain: Chain, gap: float) -> float:
    """Return the tip, which may lie above 1, whose teeth are round from flank to flank."""
    least, most = (tip_diameter(teeth, chain, tip=end) for end in (0, 1))
    return (2 * _Gap.of(teeth, chain, gap).tip_radius(CROWN) - least) / (most - least)


def _down(value: float) -> str:
    return f"{math.floor(value * 100) / 100:.2f}"
