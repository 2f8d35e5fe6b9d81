"""Rings for the checks: the outline of ISO 606 without tip fillets, round it what is simple."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np
from scipy.optimize import brentq

from openwork.part.material import MATERIALS
from openwork.shape.contour import Contour, as_points, circle, polygon_contour
from openwork.strength.body import Body
from openwork.strength.model import Model
from openwork.strength.plane import chain_loads, factored, rim

PITCH, ROLLER, DEPTH = 12.7, 7.75, 9.91


@lru_cache
def gap_form(teeth: int, tip: float = 0.35) -> tuple[complex, complex, float, float, float]:
    """Return seat end, flank centre, flank radius, seat angle and tip radius on +x.

    ISO 606 minimum gap form: ri 0.505 d1, re 0.12 d1 (z + 2), alpha 140 - 90/z degrees.
    """
    d = PITCH / np.sin(np.pi / teeth)
    seat, flank = 0.505 * ROLLER, 0.12 * ROLLER * (teeth + 2)
    alpha = np.radians(140 - 90 / teeth)
    towards = -np.cos(alpha / 2) + 1j * np.sin(alpha / 2)
    least, most = d + PITCH * (1 - 1.6 / teeth) - ROLLER, d + 1.25 * PITCH - ROLLER
    radius = (least + tip * (most - least)) / 2
    return d / 2 + seat * towards, d / 2 + (seat + flank) * towards, flank, alpha, radius


def flank_angles(teeth: int, tip: float = 0.35) -> tuple[float, float]:
    """Return the angles about the flank's centre where it leaves the seat and meets the tip."""
    end, centre, flank, _, radius = gap_form(teeth, tip)
    start = float(np.angle(end - centre))

    def beyond(angle: float) -> float:
        return float(abs(centre + flank * np.exp(1j * angle)) - radius)

    return start, float(brentq(beyond, start, start + 0.5))


def outline(teeth: int, tip: float = 0.35) -> Contour:
    """Return the outline: flank, seat, flank, tip land for every gap."""
    end, centre, flank, alpha, _ = gap_form(teeth, tip)
    start, stop = flank_angles(teeth, tip)
    top = centre + flank * np.exp(1j * stop)
    land = 2 * np.pi / teeth - 2 * np.angle(top)
    turns = np.exp(2j * np.pi / teeth * np.arange(teeth))[:, None]
    z = (turns * np.array([top.conjugate(), end.conjugate(), end, top])).ravel()
    side = np.tan((stop - start) / 4)
    bulges = np.tile([side, -np.tan(alpha / 4), side, np.tan(land / 4)], teeth)
    return Contour(as_points(z), bulges)


def ring(openings: tuple[Contour, ...] = (), *, teeth: int = 44, **changes: Any) -> Model:
    """Return a ring on five bolts of 110 mm, 4 mm plate and 2.1 mm teeth."""
    angles = 2 * np.pi / 5 * np.arange(5)
    bolts = tuple(circle(5.05, (55 * np.cos(a), 55 * np.sin(a))) for a in angles)
    values: dict[str, Any] = {
        "outline": outline(teeth),
        "edge": circle(45.95),
        "bolts": bolts,
        "openings": openings,
        "teeth": teeth,
        "pitch": PITCH,
        "roller": ROLLER,
        "plate": 4.0,
        "tooth_width": 2.1,
        "shroud": (PITCH / np.tan(np.pi / teeth) - 1.04 * DEPTH - 0.76) / 2,
        "material": MATERIALS["7075-T6"],
    }
    return Model(**{**values, **changes})


def holes(per_sector: int = 8, radius: float = 4.2, at: float = 71.0) -> tuple[Contour, ...]:
    """Return a row of round openings."""
    angles = 2 * np.pi / (5 * per_sector) * np.arange(5 * per_sector)
    return tuple(circle(radius, (at * np.cos(a), at * np.sin(a))) for a in angles)


def slots(lean: float, count: int = 20) -> tuple[Contour, ...]:
    """Return leaning slots with rounded ends, so that a mirrored ring differs."""
    found = []
    for k in range(count):
        turn = np.exp(2j * np.pi * k / count)
        low, high = 64 * turn, 78 * turn * np.exp(1j * lean)
        across = 2.5j * (high - low) / abs(high - low)
        z = np.array([low - across, high - across, high + across, low + across])
        found.append(Contour(as_points(z), np.array([0.0, 1.0, 0.0, 1.0])))
    return tuple(found)


def box(width: float, height: float) -> Contour:
    """Return a rectangle about the origin."""
    x, y = width / 2, height / 2
    return polygon_contour([(-x, -y), (x, -y), (x, y), (-x, y)])


def mean_turn(body: Body, pressure: float) -> float:
    """Return the rim's turn (rad) per newton of pull, averaged over the positions, heads held."""
    loads = chain_loads(body, pressure).mean(axis=1)[:, None]
    return float(rim(body, factored(body).solve(loads))[0].mean())
