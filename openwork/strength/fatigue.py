"""The stress cycle of a turn of the crank, and its fully reversed equal.

Stress at a free edge is uniaxial and signed: a cycle is its highest and lowest value. Long-life
equivalents: Smith, Watson and Topper, J. Materials 5 (1970) 767, found reasonable for aluminium by
Dowling, Calhoun and Arcari, Fatigue Fract. Engng Mater. Struct. 32 (2009) 163, who find Goodman
highly inaccurate; Goodman stays as a cross-check. Both let a place that is only ever compressed
off, where local yield leaves a residual tension: so the plain amplitude counts as well.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal, TypeAlias

import numpy as np

from openwork.errors import RuleError
from openwork.part.material import Material
from openwork.shape.contour import Floats

Finish: TypeAlias = Literal["bare", "anodised", "hard-anodised"]
Kind: TypeAlias = Literal["tension", "compression", "reversing"]

# Factor on the fatigue strength of polished bars: least, likely, greatest. A judgement within
# data that conflict. Bare: machined, Ra 1.6 to 3.2. Anodised: endurance of 7075-T6 fell from
# about 300 to below 200 MPa (Materials 16 (2023) 1160); 7075-T73 notched lives fell by 60 % on
# average; one study finds thicker coats better (Rev. LatinAm. Metal. Mater. 32 (2012)).
# Hard-anodised: 6061-T6 lost 60 %; MIL-A-8625F 6.10.7, "can be severely reduced".
FINISHES: Mapping[str, tuple[float, float, float]] = MappingProxyType(
    {
        "bare": (0.8, 0.85, 0.95),
        "anodised": (0.5, 0.65, 0.9),
        "hard-anodised": (0.35, 0.45, 0.6),
    }
)
PULSATING = 0.1  # of the larger end of a cycle: a smaller end of the other sign is none
NARROWEST = 0.25  # either side of a likely utilisation: no band is narrower
PHASES = 12  # positions of the ring on the crank that are tried for the worst


@dataclass(frozen=True, slots=True, eq=False)
class Cycle:
    """The highest and lowest stress (k,) of each station over a turn, MPa."""

    highest: Floats
    lowest: Floats

    @property
    def amplitude(self) -> Floats:
        """Half the range."""
        return (self.highest - self.lowest) / 2

    @property
    def mean(self) -> Floats:
        """Mean of the ends."""
        return (self.highest + self.lowest) / 2


def cycle(stress: Floats, gaps: Floats, phase: float) -> Cycle:
    """Return the cycle of *stress* (k, gaps) at full force when the right arm leads by *phase*.

    The arm stands at *phase* (rad, from the gap on +x) at the top; the pull follows the sine of
    the crank angle, right leg and left leg, and the tight span leaves gap after gap.
    """
    share = np.abs(np.sin(gaps - phase))
    history = stress * share
    highest = np.maximum(history.max(axis=1), 0.0)
    return Cycle(highest, np.minimum(history.min(axis=1), 0.0))


def smith_watson_topper(cycle: Cycle) -> Floats:
    """Return sqrt(highest x amplitude), 0 where nothing pulls.

    >>> stress = smith_watson_topper(Cycle(np.array([224.86]), np.array([0.0])))
    >>> round(float(stress[0]), 1)
    159.0
    """
    return np.asarray(np.sqrt(np.maximum(cycle.highest, 0) * cycle.amplitude))


def goodman(cycle: Cycle, ultimate: float) -> Floats:
    """Return amplitude / (1 - mean/ultimate), without credit for a compressive mean."""
    share = np.clip(cycle.mean / ultimate, 0.0, 1.0 - 1e-9)
    return np.asarray(cycle.amplitude / (1 - share))


def governing(cycle: Cycle) -> Floats:
    """Return the larger of Smith-Watson-Topper and amplitude at each station, MPa."""
    return np.maximum(smith_watson_topper(cycle), cycle.amplitude)


def kind(highest: float, lowest: float) -> Kind:
    """Return what a cycle does: pulsating tension, pulsating compression, or reversing."""
    if -lowest <= PULSATING * highest:
        return "tension"
    return "compression" if highest <= -PULSATING * lowest else "reversing"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fatigue:
    """The governing station: equivalent stresses MPa, utilisation as (least, likely, greatest)."""

    utilisation: tuple[float, float, float]
    place: tuple[float, float]
    kind: Kind
    method: str
    smith_watson_topper: float
    goodman: float
    amplitude: float
    phase: float


def fatigue(
    stress: Floats,
    points: Floats,
    gaps: Floats,
    material: Material,
    *,
    finish: Finish,
    phase: float | None,
    doubt: tuple[float, float],
) -> Fatigue:
    """Return the governing station of *stress* (k, gaps), MPa at full force.

    *phase* is the right arm's (rad), or None for the worst; *doubt* are the factors (less, more)
    that mesh and support put on the stress.

    Raises RuleError where no fatigue strength of the material is published, or none of its finish.
    """
    if material.fatigue <= 0:
        raise RuleError(
            f"ring.material {material.name}: no published fatigue strength, so no utilisation in "
            "fatigue; 7075-T6 or 6061-T6 works"
        )
    if finish != "bare" and material.kind != "aluminium":
        raise RuleError(
            f"load.finish {finish}: what it takes off a fatigue strength was measured on "
            f"aluminium, and {material.name} is {material.kind}, so no utilisation in fatigue; "
            "bare works"
        )
    phases = [phase] if phase is not None else list(np.linspace(0, np.pi, PHASES, endpoint=False))
    cycles = [cycle(stress, gaps, angle) for angle in phases]
    worst = max(range(len(phases)), key=lambda i: float(governing(cycles[i]).max()))
    ends = cycles[worst]
    value = governing(ends)
    at = int(np.argmax(value))
    swt, amplitude = float(smith_watson_topper(ends)[at]), float(ends.amplitude[at])
    least, likely, greatest = FINISHES[finish]
    limit = material.fatigue
    usual = float(value[at]) / (limit * likely)
    return Fatigue(
        utilisation=(
            min(value[at] * doubt[0] / (limit * greatest), (1 - NARROWEST) * usual),
            usual,
            max(value[at] * doubt[1] / (limit * least), (1 + NARROWEST) * usual),
        ),
        place=(float(points[at, 0]), float(points[at, 1])),
        kind=kind(float(ends.highest[at]), float(ends.lowest[at])),
        method="Smith-Watson-Topper" if swt >= amplitude else "amplitude",
        smith_watson_topper=swt,
        goodman=float(goodman(ends, material.ultimate)[at]),
        amplitude=amplitude,
        phase=float(phases[worst]),
    )
