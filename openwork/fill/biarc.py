"""Curves drawn as two circular arcs that meet in a tangent, as a cutter follows them best."""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

from openwork.shape.contour import Floats

Complex: TypeAlias = NDArray[np.complex128]

SAGITTA = 5e-4  # mm between an arc and the straight pieces it is handed on as
REACH = 5.0  # mm an arc may be moved outwards, by half a rib and the cutter, as near to them


def biarcs(
    starts: ArrayLike, ends: ArrayLike, leaving: ArrayLike, arriving: ArrayLike,
    *, sagitta: float = SAGITTA,
) -> Complex:  # fmt: skip
    """Return points (k, m) of *k* curves in the frame w = u + i v, u = ln r, v the angle.

    A curve leaves its start and arrives at its end in the directions given (any length). It is two
    arcs, drawn as chords within *sagitta* (mm), whose tangents meet as far from the start as from
    the end (K. M. Bolton, Biarc curves, Computer-Aided Design 7, 1975; from memory). A curve that
    needs fewer points than another repeats them.
    """
    given = [np.asarray(one, dtype=complex) for one in (starts, ends, leaving, arriving)]
    w, sweeps, radii = _arcs(*given)
    bow = np.minimum(sagitta / (radii + REACH), 0.5)
    needed = np.abs(sweeps) / np.arcsin(np.sqrt(bow / 2)) / 4
    parts = np.ceil(np.maximum(needed, 1))[..., None]
    share = np.minimum(np.arange(parts.max(initial=1) + 1) / parts, 1.0)
    both = [_sampled(w[k], w[k + 1], sweeps[k], share[k]) for k in (0, 1)]
    return np.asarray(np.log(np.concatenate(both, axis=1)))


def _arcs(
    starts: Complex, ends: Complex, leaving: Complex, arriving: Complex
) -> tuple[Complex, Floats, Floats]:
    """Return start, joint and end (3, k) in the plane, and the sweeps and radii (2, k)."""
    a, b = np.exp(starts), np.exp(ends)
    out = leaving * a / np.abs(leaving * a)
    back = arriving * b / np.abs(arriving * b)
    span = b - a
    along = (span.conj() * (out + back)).real
    bend = 1 - (out.conj() * back).real
    square = np.abs(span) ** 2
    reach = square / (along + np.sqrt(along**2 + 2 * bend * square))
    joint = (a + b + reach * (out - back)) / 2
    sweeps = 2 * np.array([np.angle((joint - a) / out), np.angle(back / (b - joint))])
    chords = np.abs([joint - a, b - joint])
    radii = chords / 2 / np.maximum(np.abs(np.sin(sweeps / 2)), 1e-12)
    return np.array([a, joint, b]), sweeps, radii


def _sampled(start: Complex, end: Complex, sweep: Floats, share: Floats) -> Complex:
    """Return points of arcs: on the circle through both ends that turns by *sweep*."""
    half = sweep[:, None] / 2
    straight = np.abs(half) < 1e-9
    half = np.where(straight, 1e-9, half)
    along = np.exp(1j * half * (share - 1)) * np.sin(half * share) / np.sin(half)
    return np.asarray(start[:, None] + (end - start)[:, None] * np.where(straight, share, along))


def without_repeats(path: Complex) -> Complex:
    """Return the closed path (n,) with points that repeat the one before left out."""
    return np.asarray(path[np.abs(path - np.roll(path, 1)) > 1e-9])
