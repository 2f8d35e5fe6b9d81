"""Stiffest layout of a share of material: density optimisation with filter and projection.

Densities are smoothed by a cone (B. Bourdin, Filters in topology optimization, Int. J. Numer.
Meth. Engng 50, 2001, 2143), penalised by a power (M. P. Bendsoe and O. Sigmund, Material
interpolation schemes in topology optimization, Arch. Appl. Mech. 69, 1999, 635) and driven to
solid and void by a smooth step; the eroded form is made stiff while the nominal one keeps the
share, so that neither ribs nor openings are finer than the filter (F. Wang, B. S. Lazarov and
O. Sigmund, On projection methods, convergence and robust formulations in topology optimization,
Struct. Multidisc. Optim. 43, 2011, 767). Steps follow the optimality criteria of E. Andreassen,
A. Clausen, M. Schevenels, B. S. Lazarov and O. Sigmund, Efficient topology optimization in MATLAB
using 88 lines of code, Struct. Multidisc. Optim. 43, 2011, 1.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from openwork.shape.contour import Floats

VOID = 1e-6  # modulus of what is open: more would flatter grey
MOVE = 0.2  # of a density in one round
STILL = 0.01  # change of every density below which a stage ends
ALIKE = 1e-4  # of the multiplier: nearer bounds of it are one


@dataclass(frozen=True, slots=True)
class Stage:
    """At most ``rounds`` with one ``penalty`` and a step of one ``sharpness``, 0 for none."""

    penalty: float
    sharpness: float
    rounds: int


@dataclass(frozen=True, slots=True)
class Layout:
    """What may be laid out: elements of ``areas`` (n,), a ``filter`` (n, n) whose rows sum to 1.

    ``energies`` returns the energy over the modulus of each element for moduli (n,).
    """

    areas: Floats
    filter: Any
    energies: Callable[[Floats], Floats]

    def smooth(self, densities: Floats) -> Floats:
        """Return *densities* smoothed."""
        return np.asarray(self.filter @ densities)

    def share(self, densities: Floats) -> float:
        """Return the share of material."""
        return float(self.areas @ densities / self.areas.sum())


@dataclass(frozen=True, slots=True)
class Grown:
    """Densities (n,) of the elements, smoothed, their ``compliance``, and the ``rounds`` it took.

    ``broken`` where a round could not be solved: these are of the last that could.
    """

    smooth: Floats
    compliance: float
    rounds: int
    broken: bool = False


def projected(smooth: Floats, sharpness: float, middle: float = 0.5) -> tuple[Floats, Floats]:
    """Return densities after a smooth step at *middle*, and the slope of the step.

    >>> projected(np.array([0.0, 0.5, 1.0]), 8.0)[0].tolist()
    [0.0, 0.5, 1.0]
    """
    if not sharpness:
        return smooth, np.ones_like(smooth)
    low, high = np.tanh(sharpness * middle), np.tanh(sharpness * (1 - middle))
    step = np.tanh(sharpness * (smooth - middle))
    return (low + step) / (low + high), sharpness * (1 - step**2) / (low + high)


def grown(layout: Layout, share: float, stages: Sequence[Stage], *, margin: float = 0.0) -> Grown:
    """Return the stiffest layout of *share*, stiff even when eroded by *margin* of the step."""
    x = np.full(len(layout.areas), share)
    done, work = 0, float("nan")
    for stage in stages:
        for _ in range(stage.rounds):
            try:
                new, work = _round(layout, x, share, stage, margin)
            except ArithmeticError:
                return Grown(layout.smooth(x), work, done, broken=True)
            change, x, done = np.abs(new - x).max(), new, done + 1
            if change < STILL:
                break
    return Grown(layout.smooth(x), work, done)


def _round(
    layout: Layout, x: Floats, share: float, stage: Stage, margin: float
) -> tuple[Floats, float]:
    """Return the densities after one step from *x*, and the compliance before it."""
    smooth = layout.smooth(x)
    eroded, slope = projected(smooth, stage.sharpness, 0.5 + margin)
    energies = layout.energies(VOID + (1 - VOID) * eroded**stage.penalty)
    if not np.isfinite(energies).all():
        raise ArithmeticError("the energies are not finite")
    work = float(energies @ (VOID + (1 - VOID) * eroded**stage.penalty))
    gain = stage.penalty * eroded ** (stage.penalty - 1) * (1 - VOID) * energies * slope
    cost = layout.areas * projected(smooth, stage.sharpness)[1]
    ratio = (layout.filter.T @ gain).clip(1e-30) / (layout.filter.T @ cost).clip(1e-30)
    return _stepped(layout, x, ratio, share, stage.sharpness), work


def _stepped(layout: Layout, x: Floats, ratio: Floats, share: float, sharpness: float) -> Floats:
    """Return *x* moved by the root of *ratio* so that the share is kept."""
    few, many = ratio.max() * 1e3, ratio.max() * 1e-12
    new = x
    while few / many > 1 + ALIKE:
        multiplier = np.sqrt(few * many)
        new = np.clip(x * np.sqrt(ratio / multiplier), (x - MOVE).clip(0), (x + MOVE).clip(None, 1))
        if layout.share(projected(layout.smooth(new), sharpness)[0]) > share:
            many = multiplier
        else:
            few = multiplier
    return np.asarray(new)
