"""What the chain does to the ring: pull, the force on each tooth, the force across the plane.

The chain is rigid and frictionless, every roller seated on the working flank: R. C. Binder,
Mechanics of the Roller Chain Drive, Prentice-Hall 1956. Tension falls by
sin(phi) / sin(phi + 360/z) from tooth to tooth. Seen from the drive side the ring turns clockwise,
so the tight span leaves counter-clockwise of the first loaded gap and the load dies out clockwise.
"""

from __future__ import annotations

import numpy as np

from openwork.shape.contour import Floats, Points, as_complex
from openwork.strength.meshing.sides import Integers


def pressure_angle(teeth: int, *, worn: bool = False) -> float:
    """Return the pressure angle, radians: 35 - 120/z degrees new, 17 - 64/z worn in.

    Source: common practice of chain makers' handbooks; the force triangle is Binder's (1956).

    >>> round(float(np.degrees(pressure_angle(44))), 2)
    32.27
    """
    return float(np.radians(17 - 64 / teeth if worn else 35 - 120 / teeth))


def tension_ratio(teeth: int, pressure: float) -> float:
    """Return the tension after a tooth over the tension before it."""
    return float(np.sin(pressure) / np.sin(pressure + 2 * np.pi / teeth))


def tooth_forces(teeth: int, pressure: float, *, wrap: int = 0) -> Points:
    """Return the forces (wrap, 2) per unit chain pull on the gaps 0, -1, -2 ... of a ring.

    The first loaded gap lies on +x. *wrap* is the number of engaged gaps, half of all if 0: with
    few of them the slack strand would carry what the ring should.
    """
    count = wrap or teeth // 2
    turn = 2 * np.pi / teeth
    angle = -turn * np.arange(-1, count + 1)
    rollers = np.column_stack([np.cos(angle), np.sin(angle)]) / (2 * np.sin(turn / 2))
    tension = tension_ratio(teeth, pressure) ** np.arange(count + 1)
    tight = (rollers[:-2] - rollers[1:-1]) * tension[:-1, None]
    slack = (rollers[2:] - rollers[1:-1]) * tension[1:, None]
    forces: Points = tight + slack
    return forces


def lever(teeth: int, pitch: float, pressure: float, *, wrap: int = 0) -> float:
    """Return the torque per unit chain pull, N mm/N.

    (1 - r^n) (d/2) cos(180/z), r the tension ratio: the slack strand pulls back a little.

    >>> round(lever(44, 12.7, pressure_angle(44), wrap=22), 8)
    87.56489693
    """
    remainder = tension_ratio(teeth, pressure) ** (wrap or teeth // 2)
    return float((1 - remainder) * pitch / (2 * np.tan(np.pi / teeth)))


def torque(force: float, crank: float, *, below: float = 0.0) -> float:
    """Return the torque, N mm, of a vertical *force* (N) on a *crank* (mm) *below* the horizontal.

    >>> torque(1500.0, 170.0)
    255000.0
    """
    return float(force * crank * np.cos(below))


def side_force(pull: float, *, offset: float, span: float) -> float:
    """Return the force across the ring's plane, N, of a chain that leaves *offset* (mm) aside.

    Equilibrium of the engaged chain: the pull times the sine of its angle to the plane.

    >>> round(side_force(2912.0, offset=20.0, span=415.0))
    140
    """
    return float(pull * offset / np.hypot(offset, span))


def positions(
    teeth: int, pressure: float, *, first: Integers | None = None
) -> tuple[Floats, Floats]:
    """Return x and y forces (gaps, positions) per unit pull, first loaded gap 0, 1, 2 ...

    One column for every gap the tight span may leave from: all crank angles and both legs.
    """
    local = as_complex(tooth_forces(teeth, pressure))
    count = len(local)
    local = local * np.exp(2j * np.pi / teeth * np.arange(count))  # into the frame of each gap
    gap = np.arange(teeth) if first is None else first
    loaded = (gap[None, :] - np.arange(count)[:, None]) % teeth
    force = np.zeros((teeth, len(gap)), dtype=complex)
    column = np.broadcast_to(np.arange(len(gap)), loaded.shape)
    np.add.at(force, (loaded, column), local[:, None] * np.exp(2j * np.pi / teeth * loaded))
    return force.real, force.imag
