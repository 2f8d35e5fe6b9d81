"""Element sides along exact contours: their ends and their middles, all on the true curve."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from openwork.shape.contour import Contour, Floats, Points, as_complex, as_points

Integers: TypeAlias = NDArray[np.intp]
Size: TypeAlias = Callable[[Points], Floats]  # wanted element size (mm) at points

CORNER = 0.35  # rad: a sharper turn is a corner of the part and gets a node
FINE = 0.2  # mm between the places where a size that varies is asked for
NOTHING = 0.02  # mm: a shorter piece is left to its neighbours
SMALL = 0.4  # of a side: an arc of less radius is a corner, its node in the arc's middle
TURN = 1.05  # rad, the most a side turns on an arc that gets sides of its own
FEWEST = 6  # sides on a contour that has no corner


@dataclass(frozen=True, slots=True, eq=False)
class Sides:
    """Element sides round several contours, metal on the left.

    ``ends`` (n, 2) where each side starts, ``middles`` (n, 2) on the curve half way along it,
    ``following`` (n,) the side that starts where it stops, ``loops`` (n,) the contour it is of.
    """

    ends: Points
    middles: Points
    following: Integers
    loops: Integers


@dataclass(frozen=True, slots=True, eq=False)
class _Pieces:
    """The pieces of several contours in one row, each contour begun at its first corner."""

    start: NDArray[np.complex128]
    centre: NDArray[np.complex128]
    chord: NDArray[np.complex128]
    sweep: Floats
    length: Floats
    loop: Integers
    breaks: NDArray[np.bool_]  # a node must stand at the start of the piece


def _flat(contours: Sequence[Contour]) -> tuple[NDArray[np.complex128], Floats, Integers]:
    """Return points, bulges and contour numbers of all pieces in one row."""
    chords = np.concatenate([contour.chords for contour in contours])
    kept = np.hypot(chords[:, 0], chords[:, 1]) > NOTHING
    z = as_complex(np.concatenate([contour.points for contour in contours]))
    bulges = np.concatenate([contour.bulges for contour in contours])
    loop = np.repeat(np.arange(len(contours)), [len(contour) for contour in contours])
    return z[kept], bulges[kept], loop[kept]


def _halved(
    z: NDArray[np.complex128], bulges: Floats, loop: Integers, spacing: Floats
) -> tuple[NDArray[np.complex128], Floats, Integers, NDArray[np.bool_]]:
    """Halve the arcs too small for a side of their own and mark the middles as corners."""
    first = np.searchsorted(loop, loop)
    last = np.searchsorted(loop, loop, side="right") - 1
    index: Integers = np.arange(len(z))
    chord = z[np.where(index == last, first, index + 1)] - z
    sweep = 4 * np.arctan(np.abs(bulges))
    radius = np.abs(chord) / np.maximum(2 * np.sin(sweep / 2), 1e-12)
    small = (sweep > CORNER) & (radius < SMALL * spacing)
    source = np.repeat(index, 1 + small)
    second = np.diff(source, prepend=-1) == 0
    middle = z + chord / 2 - 0.5j * chord * bulges
    half = np.tan(np.arctan(bulges) / 2)
    return (
        np.where(second, middle[source], z[source]),
        np.where(small, half, bulges)[source],
        loop[source],
        second,
    )


def _pieces(contours: Sequence[Contour], spacing: Floats, size: Size | None) -> _Pieces:
    z, b, loop = _flat(contours)
    wanted = spacing[loop]
    if size is not None:
        wanted = np.minimum(wanted, size(as_points(z)))
    z, b, loop, corner = _halved(z, b, loop, wanted)
    counts = np.bincount(loop)
    first = np.cumsum(counts) - counts
    place = np.arange(len(loop)) - first[loop]

    def beside(shift: int) -> Integers:
        return np.asarray(first[loop] + (place + shift) % counts[loop], dtype=np.intp)

    chord = z[beside(1)] - z
    sweep = 4 * np.arctan(b)
    turn = np.angle(chord * np.exp(-0.5j * (sweep + sweep[beside(-1)])) / chord[beside(-1)])
    corner |= np.abs(turn) > CORNER
    shift = np.zeros(len(counts), dtype=int)
    where = np.flatnonzero(corner)[::-1]
    shift[loop[where]] = place[where]
    order = first[loop] + (place + shift[loop]) % counts[loop]
    with np.errstate(divide="ignore", invalid="ignore"):
        arc = np.abs(chord) * np.where(b == 0, 1, (sweep / 2) / np.sin(sweep / 2))
        centre = np.where(b == 0, 0, z + chord / 2 + 0.5j * chord * (1 - b * b) / (2 * b))
    return _Pieces(
        start=z[order],
        centre=centre[order],
        chord=chord[order],
        sweep=sweep[order],
        length=arc[order],
        loop=loop,
        breaks=corner[order] | (place == 0),
    )


def _at(pieces: _Pieces, piece: Integers, part: Floats) -> Points:
    """Return the points a *part* (0 to 1) along each *piece*."""
    start, centre, sweep = pieces.start[piece], pieces.centre[piece], pieces.sweep[piece]
    straight = start + pieces.chord[piece] * part
    z = np.where(sweep == 0, straight, centre + (start - centre) * np.exp(1j * sweep * part))
    return as_points(z)


def _resolved(pieces: _Pieces, spacing: Floats) -> Floats:
    """Return the side length (mm) of each piece: shorter where it turns too much for one side."""
    with np.errstate(divide="ignore", invalid="ignore"):
        turning = np.where(pieces.sweep == 0, np.inf, TURN * pieces.length / np.abs(pieces.sweep))
    return np.maximum(np.minimum(spacing, turning), SMALL * spacing)


def _runs(breaks: NDArray[np.bool_], total: Floats) -> tuple[Integers, Floats, Floats]:
    """Return first piece, start and width on the scale *total* (n + 1,) of every run."""
    first = np.flatnonzero(breaks)
    edges = np.append(total[:-1][first], total[-1])
    return first, edges[:-1], np.diff(edges)


@dataclass(frozen=True, slots=True, eq=False)
class _Scale:
    """Lengths along all pieces in a row against the number of sides they hold.

    ``along`` (n + 1,) mm where pieces start, ``marks`` (k + 1,) mm where ``sides`` (k + 1,) were
    counted, ``at`` (n + 1,) the mark at the start of each piece.
    """

    along: Floats
    marks: Floats
    sides: Floats
    at: Integers


def _scaled(pieces: _Pieces, spacing: Floats, size: Size | None) -> _Scale:
    """Return the scale of sides about *spacing* (one per contour) long, less where *size* is."""
    fine = np.ones(len(pieces.length), dtype=int)
    if size is not None:
        fine = np.maximum(np.ceil(pieces.length / FINE).astype(int), 1)
    piece = np.repeat(np.arange(len(fine)), fine)
    part = (_counted(fine) + 0.5) / fine[piece]
    wanted = _resolved(pieces, spacing[pieces.loop])[piece]
    if size is not None:
        wanted = np.minimum(wanted, size(_at(pieces, piece, part)))
    along = np.concatenate([[0.0], np.cumsum(pieces.length)])
    # From the pieces' own starts, not summed up: a rounding error would fall into another contour.
    marks = along[piece] + (part - 0.5 / fine[piece]) * pieces.length[piece]
    return _Scale(
        along=along,
        marks=np.append(marks, along[-1]),
        sides=np.concatenate([[0.0], np.cumsum((pieces.length / fine)[piece] / wanted)]),
        at=np.concatenate([[0], np.cumsum(fine)]),
    )


def _counted(counts: Integers) -> Integers:
    """Return 0, 1, 2 ... anew for each of *counts*."""
    result: Integers = np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts)
    return result


def sides(contours: Sequence[Contour], spacing: Floats, *, size: Size | None = None) -> Sides:
    """Divide *contours* into element sides about *spacing* (one per contour, mm) long.

    Contours run with the metal on their left. Where *size* asks for less, sides are shorter.
    Every run between two corners holds a whole number of sides, in proportion to size.
    """
    pieces = _pieces(contours, spacing, size)
    scale = _scaled(pieces, spacing, size)
    first, begin, width = _runs(pieces.breaks, scale.sides[scale.at])
    loop = pieces.loop[first]
    alone = np.bincount(loop, minlength=len(contours))[loop] == 1
    count = np.maximum(np.ceil(width - 0.05).astype(int), np.where(alone, FEWEST, 1))
    run, step = np.repeat(np.arange(len(count)), count), _counted(count)

    def reached(number: Integers) -> Floats:
        part = begin[run] + width[run] * number / count[run]
        return np.asarray(np.interp(part, scale.sides, scale.marks))

    def placed(s: Floats) -> Points:
        index = np.searchsorted(scale.along, s, side="right") - 1
        index = np.clip(index, 0, len(pieces.length) - 1)
        return _at(pieces, index, (s - scale.along[index]) / pieces.length[index])

    starts, stops = reached(step), reached(step + 1)
    return Sides(placed(starts), placed((starts + stops) / 2), _following(loop[run]), loop[run])


def _following(loops: Integers) -> Integers:
    """Return the number (n,) of the side after each, the first of its contour after the last."""
    following = np.arange(1, len(loops) + 1)
    last = np.flatnonzero(np.diff(loops, append=-1))
    following[last] = np.concatenate([[0], last[:-1] + 1])
    return following
