"""Bevels of openings as lit facets: strips of one tone along the outline.

A strip runs between the outline and its parallel on the face. Its tone comes from the direction
in which the bevel faces, towards the middle of the opening; arcs are divided where the tone
changes, and neighbours of one tone are one strip. Lines and arcs that meet without a corner have
exact parallels; at corners they are mitred.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from openwork.render.drawing.path import compact_pieces
from openwork.render.ring.tones import LEVELS, LIGHT
from openwork.shape.arc import Piece
from openwork.shape.contour import Contour
from openwork.shape.edge import Edge, edges

SECTOR = math.pi / LEVELS  # angle over which the tone stays
SHARPEST = 0.25  # least cosine of half a corner's turn: longer mitres are cut

Part = tuple[int, Piece, Piece]  # its tone; start and bulge on the outline, and on its parallel


def facets(
    openings: Sequence[Contour], widths: Sequence[float], unit: float, light: complex = LIGHT
) -> list[str]:
    """Return path data of all strips, darkest tone first, in *unit* mm.

    They are *widths* mm wide round each opening. The *light* comes from that direction.
    """
    found: list[list[str]] = [[] for _ in range(LEVELS)]
    for opening, width in zip(openings, widths, strict=True):
        if not width:
            continue
        for tone, ring in _strips([*_parts(opening, width, light)]):
            found[tone].append(compact_pieces(ring, unit))
    return ["".join(one) for one in found]


def _strips(parts: list[Part]) -> Iterator[tuple[int, list[Piece]]]:
    """Yield the tone and the outline of each run of parts of like tone."""
    count = len(parts)
    starts = [k for k in range(count) if parts[k][0] != parts[k - 1][0]]
    for start, stop in zip(starts, [*starts[1:], starts[0] + count], strict=True):
        run = [parts[k % count] for k in range(start, stop)]
        _, (near, _), (far, _) = parts[stop % count]
        inner = [one for _, one, _ in run] + [(near, 0.0)]
        ends = [point for _, _, (point, _) in run[1:]] + [far]
        back = [(end, -bulge) for end, (_, _, (_, bulge)) in zip(ends, run, strict=True)]
        yield run[0][0], [*inner, *reversed(back), (run[0][2][0], 0.0)]


def _parts(contour: Contour, width: float, light: complex) -> Iterator[Part]:
    """Yield the pieces of the outline and their parallels, arcs divided where the tone changes."""
    lines = edges(contour)
    apexes = [_apex(lines[k - 1], one, width) for k, one in enumerate(lines)]
    for k, one in enumerate(lines):
        if one.sweep == 0:
            yield tone_of(1j * one.leaving, light), (one.start, 0.0), (apexes[k], 0.0)
            continue
        outer = one.radius + math.copysign(width, one.sweep)
        cuts = [0.0, *_cuts(one, light), 1.0]
        for begin, end in pairwise(cuts):
            spoke = cmath.rect(1.0, one.sweep * begin) * (one.start - one.centre) / one.radius
            bulge = math.tan(one.sweep * (end - begin) / 4)
            heading = 1j * one.leaving * cmath.rect(1.0, one.sweep * (begin + end) / 2)
            near = one.start if begin == 0 else one.centre + one.radius * spoke
            far = apexes[k] if begin == 0 else one.centre + outer * spoke
            yield tone_of(heading, light), (near, bulge), (far, bulge)


def _apex(last: Edge, one: Edge, width: float) -> complex:
    """Return where the parallels of two neighbours meet."""
    across = last.arriving + one.leaving
    across = across / abs(across) if abs(across) > 1e-9 else one.leaving
    cosine = max(SHARPEST, (across.conjugate() * one.leaving).real)
    return one.start - 1j * across * width / cosine


def tone_of(normal: complex, light: complex = LIGHT) -> int:
    """Return the tone of a bevel that faces *normal*, 0 where it is turned from the *light*."""
    away = math.pi - abs(cmath.phase(normal / light))
    return min(int(away / SECTOR), LEVELS - 1)


def _cuts(one: Edge, light: complex) -> list[float]:
    """Return where along an arc, 0 to 1, its bevel changes tone."""
    first = cmath.phase(1j * one.leaving / light)
    low, high = sorted((first, first + one.sweep))
    steps = range(math.ceil(low / SECTOR + 1e-6), math.floor(high / SECTOR - 1e-6) + 1)
    return sorted((step * SECTOR - first) / one.sweep for step in steps)
