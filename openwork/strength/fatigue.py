"""The stress cycle of a turn of the crank, and its fully reversed equal.

Stress at a free edge is uniaxial and signed: a cycle is its highest and lowest value. Long-life
equivalents: Smith, Watson and Topper, J. Materials 5 (1970) 767, found reasonable for aluminium by
Dowling, Calhoun and Arcari, Fatigue Fract. Engng Mater. Struct. 32 (2009) 163, who find Goodman
highly inaccurate; Goodman stays as a cross-check. Both let a place that is only ever compressed
off, where local yield leaves a residual tension: so the plain amplitude counts as well.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np

from openwork.shape.contour import Floats
from openwork.strength.endurance import Range

Doubt: TypeAlias = tuple[float, float]
Kind: TypeAlias = Literal["tension", "compression", "reversing"]

PULSATING = 0.1  # of the larger end of a cycle: a smaller end of the other sign is none
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
class Worst:
    """The governing station of a turn: its cycle (one station), place mm, phase rad."""

    cycle: Cycle
    place: tuple[float, float]
    phase: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Fatigue:
    """A force (N on a pedal) that comes back ``cycles`` times, and how much of the metal it uses.

    ``utilisation`` is (least, likely, greatest) of the equivalent stress over ``strength`` (MPa,
    likely), which ``survival`` % of rings reach; ``smith_watson_topper``, ``goodman`` and
    ``amplitude`` are the reversed stresses by each method, MPa.
    """

    force: float
    cycles: float
    survival: float
    strength: float
    utilisation: tuple[float, float, float]
    place: tuple[float, float]
    kind: Kind
    method: str
    smith_watson_topper: float
    goodman: float
    amplitude: float
    phase: float


def worst(stress: Floats, points: Floats, gaps: Floats, *, phase: float | None) -> Worst:
    """Return the governing station of *stress* (k, gaps), of any unit, at full force.

    *phase* is the right arm's (rad), or None for the worst.
    """
    phases = [phase] if phase is not None else list(np.linspace(0, np.pi, PHASES, endpoint=False))
    cycles = [cycle(stress, gaps, angle) for angle in phases]
    turn = max(range(len(phases)), key=lambda i: float(governing(cycles[i]).max()))
    ends = cycles[turn]
    at = int(np.argmax(governing(ends)))
    return Worst(
        cycle=Cycle(ends.highest[at : at + 1], ends.lowest[at : at + 1]),
        place=(float(points[at, 0]), float(points[at, 1])),
        phase=float(phases[turn]),
    )


def fatigue(
    found: Worst,
    strengths: Range,
    *,
    ultimate: float,
    force: float,
    cycles: float,
    survival: float,
    doubt: Doubt,
) -> Fatigue:
    """Return how much of *strengths* (least, likely, greatest) the cycle *found* uses, MPa.

    *doubt* are the factors (less, more) that mesh and support put on the stress.
    """
    least, likely, greatest = strengths
    ends = found.cycle
    value = float(governing(ends)[0])
    swt, amplitude = float(smith_watson_topper(ends)[0]), float(ends.amplitude[0])
    return Fatigue(
        force=force,
        cycles=cycles,
        survival=survival,
        strength=likely,
        utilisation=(value * doubt[0] / greatest, value / likely, value * doubt[1] / least),
        place=found.place,
        kind=kind(float(ends.highest[0]), float(ends.lowest[0])),
        method="Smith-Watson-Topper" if swt >= amplitude else "amplitude",
        smith_watson_topper=swt,
        goodman=float(goodman(ends, ultimate)[0]),
        amplitude=amplitude,
        phase=found.phase,
    )


def scaled(found: Worst, factor: float) -> Worst:
    """Return *found* at *factor* times its force."""
    ends = found.cycle
    return Worst(
        cycle=Cycle(factor * ends.highest, factor * ends.lowest),
        place=found.place,
        phase=found.phase,
    )
